"""Several files into one folder: all of them, or none."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Mapping
from pathlib import Path

from crossgrain.errors import DocumentError
from crossgrain.language import _


def write_files(folder: Path, files: Mapping[str, bytes], *, overwrite: bool, source: Path) -> None:
    """Write files into a folder, which is made where it is not there: all of them, or none.

    Args:
        folder: the folder.
        files: what is to stand in each, by its name.
        overwrite: whether files that are there already may go.
        source: a file that is never written over.

    Raises:
        DocumentError: one of them is there already, or cannot be written. What was there before is as it was.
    """
    if folder.exists() and not folder.is_dir():
        raise DocumentError(
            _("{file} is no folder.").format(file=folder), advice=_("Several sizes are written into a folder.")
        )
    for name in files:
        place = folder / name
        if place.exists() and source.exists() and place.samefile(source):
            raise DocumentError(
                _("{path} is the drawing itself, which is not changed.").format(path=place),
                advice=_("Name another folder."),
            )
        if place.exists() and not overwrite:
            raise DocumentError(
                _("{file} is there already.").format(file=place), advice=_("Name another folder, or give --overwrite.")
            )
    parts: list[Path] = []
    made = not folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            parts.append(folder / f".{name}.part")
            parts[-1].write_bytes(data)
        for name, part in zip(files, parts, strict=True):
            os.replace(part, folder / name)
    except OSError as error:
        for part in parts:
            with contextlib.suppress(OSError):
                part.unlink()
        if made:
            with contextlib.suppress(OSError):
                folder.rmdir()
        raise DocumentError(
            _("{file} cannot be written: {reason}.").format(file=folder, reason=error.strerror or error),
            advice=_("Look at its name and its folder."),
        ) from error
