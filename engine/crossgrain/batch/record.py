"""What is known of each drawing a run has written: one small file beside the outputs.

It is written before the result itself is put in place, and says of every file that belongs to it what will stand there
and what stood there until then. Whenever a run is broken off, a file is either the one or the other, and both are known
for ours. A file that is neither was altered by hand.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
from pathlib import Path
from typing import Any, Final

from crossgrain.errors import DocumentError
from crossgrain.files import write_text

FOLDER: Final = ".crossgrain"
"""The folder of records, within the folder of outputs."""


def digest(*parts: bytes) -> str:
    """Return the SHA-256 of several texts, each told from the next.

    >>> digest(b"ab", b"c") == digest(b"a", b"bc")
    False
    """
    whole = hashlib.sha256()
    for part in parts:
        whole.update(len(part).to_bytes(8, "big"))
        whole.update(part)
    return whole.hexdigest()


def digest_of_file(path: Path) -> str | None:
    """Return the SHA-256 of a file; None where it cannot be read."""
    try:
        return digest(path.read_bytes())
    except OSError:
        return None


def read_record(path: Path) -> dict[str, Any]:
    """Return what a record says; nothing where there is none, or none that can be read."""
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return record if isinstance(record, dict) else {}


def write_record(path: Path, record: dict[str, Any]) -> None:
    """Write a record whole."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DocumentError(f"{path.parent}: {error.strerror}") from error
    write_text(path, json.dumps(record, ensure_ascii=False, allow_nan=False), overwrite=True)


def texts(record: dict[str, Any], key: str) -> dict[str, str]:
    """Return what a record says under a key of each file, by its name: ``files`` as written, ``were`` until then."""
    found = record.get(key)
    return found if isinstance(found, dict) else {}


def is_ours(path: Path, record: dict[str, Any]) -> bool:
    """Tell whether what stands in a file is what a run has written there."""
    found = digest_of_file(path)
    return found is not None and found in (texts(record, key).get(path.name) for key in ("files", "were"))


def is_whole(folder: Path, record: dict[str, Any]) -> bool:
    """Tell whether all that a record speaks of stands in a folder as it was written, and nothing that was to go."""
    files, gone = texts(record, "files"), texts(record, "were").keys() - texts(record, "files")
    return (
        bool(files)
        and all(digest_of_file(folder / name) == found for name, found in files.items())
        and not any(is_ours(folder / name, record) for name in gone)
    )


def forget_parts(folder: Path, before: float) -> None:
    """Remove what a run that was broken off had begun to write before a moment, in seconds since the epoch."""
    for part in folder.rglob(".*.part"):
        with contextlib.suppress(OSError):
            if part.stat().st_mtime < before:
                part.unlink()
