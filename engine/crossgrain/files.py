"""Files of text: read them with a clear sentence where that fails, write them whole or not at all.

The files of cloths, bodies and fittings are read here, above what knows texts only, and below whatever works through
many of them.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from crossgrain.errors import DocumentError
from crossgrain.fabric.body import Body
from crossgrain.fabric.body_text import read_body
from crossgrain.fabric.cloth import Cloth
from crossgrain.fabric.cloth_text import read_cloth
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model.cutting.width_set import WidthSet
    from crossgrain.model.seams.fitting import FittingRecord

_LARGEST = 1_000_000
"""Bytes. No description of a cloth is a hundredth as long; a drawing given by mistake may be longer."""


def read_text(path: Path) -> str:
    """Read a file of text.

    Raises:
        DocumentError: it is not there, or it is no text.
    """
    try:
        with path.open("rb") as file:
            data = file.read(_LARGEST + 1)
        if len(data) > _LARGEST:
            raise DocumentError(_("{file} is too long for what is looked for in it.").format(file=path))
        return data.decode("utf-8-sig")
    except OSError as error:
        raise DocumentError(
            _("{file} cannot be read: {reason}.").format(file=path, reason=_why_not_read(error)),
            advice=_("Look at its name and its folder."),
        ) from error
    except UnicodeDecodeError as error:
        raise DocumentError(
            _("{file} is no text in UTF-8.").format(file=path), advice=_("Save it as UTF-8.")
        ) from error
    except ValueError as error:  # a zero byte
        raise DocumentError(
            _("{file} cannot be read: {reason}.").format(file=repr(str(path)), reason=_("no file can have that name")),
            advice=_("Look at its name and its folder."),
        ) from error


def read_cloth_file(path: Path) -> Cloth:
    """Read the file of a cloth; see :mod:`crossgrain.fabric.cloth_text`."""
    return read_cloth(read_text(path), path.name)


def read_body_file(path: Path) -> Body:
    """Read the file of a body; see :mod:`crossgrain.fabric.body_text`."""
    return read_body(read_text(path), path.name)


def read_record_file(path: Path) -> FittingRecord:
    """Read a record of fittings; see :mod:`crossgrain.notation.fittings`."""
    from crossgrain.notation.fittings import read_record  # it loads geometry, which cloths and bodies do without

    return read_record(read_text(path), path.name)


def read_width_set_file(path: Path) -> WidthSet:
    """Read a set of widths; see :mod:`crossgrain.notation.width_set`."""
    from crossgrain.notation.width_set import read_width_set  # it loads geometry, which cloths and bodies do without

    return read_width_set(read_text(path), path.name)


def write_text(path: Path, text: str, *, overwrite: bool = False) -> None:
    """Write a file of text, whole or not at all.

    Raises:
        DocumentError: a file is there already and may not go, or it cannot be written.
    """
    write_bytes(path, text.encode("utf-8"), overwrite=overwrite)


def write_bytes(path: Path, data: bytes, *, overwrite: bool = False) -> None:
    """Write a file, whole or not at all.

    Raises:
        DocumentError: a file is there already and may not go, or it cannot be written.
    """
    if os.path.exists(path) and not overwrite:  # Path.exists raises on a name that is too long
        raise DocumentError(
            _("{file} is there already.").format(file=path), advice=_("Give another name, or --overwrite.")
        )
    write_parts(path, [data])


def write_parts(path: Path, parts: Iterable[bytes]) -> None:
    """Write a file part by part, whole or not at all, over what stands there.

    A link stays one, and what it leads to is written; a file that was there keeps its rights.

    Raises:
        DocumentError: it cannot be written.
    """
    place = Path(os.path.realpath(path))
    part = place.with_name(f".{place.name}.part")
    try:
        with part.open("wb") as file:
            file.writelines(parts)
            # Else a file that was moved into its place may be found empty there after the power went.
            file.flush()
            os.fsync(file.fileno())
        with contextlib.suppress(FileNotFoundError):
            part.chmod(place.stat().st_mode & 0o777)
        os.replace(part, place)
    except OSError as error:
        with contextlib.suppress(OSError):
            part.unlink()
        raise DocumentError(
            _("{file} cannot be written: {reason}.").format(file=path, reason=why_not_written(error)),
            advice=_("Look at its name and its folder."),
        ) from error


def why_not_written(error: OSError) -> str:
    """Say in a maker's words why a file cannot be written.

    >>> why_not_written(OSError(errno.ENOSPC, "No space left on device"))
    'the disk is full'
    """
    reasons = {
        errno.ENOSPC: _("the disk is full"),
        errno.EDQUOT: _("the disk is full"),
        errno.EACCES: _("you may not write there"),
        errno.EPERM: _("you may not write there"),
        errno.EROFS: _("the disk may not be written to"),
        errno.ENOENT: _("its folder does not exist"),
        errno.ENOTDIR: _("its folder does not exist"),
        errno.ENAMETOOLONG: _("its name is too long"),
        errno.EISDIR: _("it is a folder"),
    }
    return reasons.get(error.errno or 0, error.strerror or str(error))


def _why_not_read(error: OSError) -> str:
    reasons = {
        errno.ENOENT: _("there is no such file"),
        errno.ENOTDIR: _("there is no such file"),
        errno.EACCES: _("you may not read it"),
        errno.EISDIR: _("it is a folder"),
    }
    return reasons.get(error.errno or 0, error.strerror or str(error))


def write_files(folder: Path, files: Mapping[str, bytes], *, overwrite: bool, source: Path) -> None:
    """Write files into a folder, which is made where it is not there: all of them, or none.

    Args:
        folder: the folder.
        files: what is to stand in each, by its name.
        overwrite: whether files that are there already may go.
        source: a file that is never written over.

    Raises:
        DocumentError: one of them is there already, or cannot be written. Then what was there before is as it was,
            unless the disk fails while they are put in place, after all of them were written.
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


def keep_drawing(target: Path, *sources: Path) -> None:
    """See that what is written is none of the drawings that were read, by whatever name.

    Raises:
        DocumentError: it is one of them.
    """
    for source in sources:
        with contextlib.suppress(OSError, ValueError):
            if os.path.samefile(target, source):
                raise DocumentError(
                    _("{path} is the drawing itself, which is not changed.").format(path=target),
                    advice=_("Name another file."),
                )


def file_part(name: str) -> str:
    """Return a name as it can stand within that of a file.

    >>> file_part("38 / long")
    '38-long'
    """
    return re.sub(r"[^\w.+-]+", "-", name)
