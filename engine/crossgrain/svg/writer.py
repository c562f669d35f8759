"""Write a drawing: whole or not at all, and what was not touched as it was."""

from __future__ import annotations

import contextlib
import gzip
import os
import pathlib
import tempfile

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.files import why_not_written
from crossgrain.language import _
from crossgrain.svg.alter import add_group, add_path, set_outline
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.names import CROSSGRAIN

__all__ = ["add_group", "add_path", "bytes_for", "drawing_bytes", "set_outline", "write_drawing"]


def drawing_bytes(drawing: Drawing) -> bytes:
    """Return a drawing as it is written, not packed.

    The encoding and the XML declaration are those it was read with, and so is all else but what XML itself does not
    tell apart: white space between attributes, and the kind of quotes around them.
    """
    coding = drawing.tree.docinfo.encoding or "UTF-8"
    root = drawing.root
    body = _serialised(root, coding)
    if CROSSGRAIN.encode() in body and _declare(root):
        body = _serialised(root, coding)
    if not drawing.before and coding.upper().startswith(("UTF-16", "UCS", "UTF-32")):
        return _bytes(etree.tostring(drawing.tree, encoding=coding, xml_declaration=True))
    parts = [drawing.before, body]
    for sibling in root.itersiblings():
        parts += [b"\n", _serialised(sibling, coding)]
    return b"".join((*parts, drawing.after))


def bytes_for(drawing: Drawing, target: pathlib.Path) -> bytes:
    """Return a drawing as it stands in a file of that name: packed with gzip where it ends in ``.svgz``."""
    data = drawing_bytes(drawing)
    return gzip.compress(data, mtime=0) if target.suffix.lower() == ".svgz" else data


def _serialised(element: etree._Element, coding: str) -> bytes:
    return _bytes(etree.tostring(element, encoding=coding, xml_declaration=False, with_tail=False))


def _bytes(text: str | bytes) -> bytes:
    """Tell the type checker that a stated encoding gives bytes."""
    assert isinstance(text, bytes)
    return text


def _declare(root: etree._Element) -> bool:
    """Declare the namespace of our attributes once, on the root; tell whether that was still to do."""
    if CROSSGRAIN in root.nsmap.values() or "crossgrain" in root.nsmap:
        return False
    ours = f"{{{CROSSGRAIN}}}"
    used = False
    prefixes: set[str] = set()
    for element in root.iter(etree.Element):
        prefixes.update(prefix for prefix in element.nsmap if prefix)
        used = used or any(str(name).startswith(ours) for name in (element.tag, *element.attrib))
    if used:
        etree.cleanup_namespaces(root, top_nsmap={"crossgrain": CROSSGRAIN}, keep_ns_prefixes=sorted(prefixes))
    return used


def write_drawing(
    drawing: Drawing, target: pathlib.Path, *, overwrite: bool | None = None, in_place: bool | None = None
) -> None:
    """Write a drawing to a file, whole or not at all.

    Args:
        drawing: the drawing.
        target: the file; packed with gzip where its name ends in ``.svgz``. The same drawing gives the same bytes.
        overwrite: write over a file that is there already; None where whoever asks cannot say so.
        in_place: write over the file the drawing was read from; None likewise.

    Raises:
        DocumentError: the file is there already, or is the drawing's own, or cannot be written. Nothing is left
            behind then, and what was there before is as it was.
    """
    try:
        place = pathlib.Path(os.path.realpath(target))
    except ValueError as error:
        raise _unwritable(target, _("no file can have that name")) from error
    if drawing.source is not None and _same(drawing.source, place):
        if not in_place:
            raise DocumentError(
                _("{path} is the drawing itself, which is not changed.").format(path=target),
                advice=_("Name another file.") if in_place is None else _("Name another file, or give --in-place."),
            )
    elif os.path.isdir(place):
        raise _unwritable(target, _("it is a folder"))
    elif os.path.exists(place) and not (overwrite or in_place):
        raise DocumentError(
            _("{path} is there already.").format(path=target),
            advice=_("Name another file, or remove it first.")
            if overwrite is None
            else _("Name another file, or give --overwrite."),
        )
    try:
        _replace(place, bytes_for(drawing, place))
    except OSError as error:
        raise _unwritable(target, why_not_written(error)) from error


def _same(source: pathlib.Path, place: pathlib.Path) -> bool:
    try:
        return os.path.samefile(source, place)
    except OSError:
        return False


def _replace(place: pathlib.Path, data: bytes) -> None:
    """Write beside the file and move over it, so that at no moment half a drawing stands there."""
    handle, name = tempfile.mkstemp(prefix=f".{place.name[:40]}.", suffix=".part", dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, _mode(place))
        os.replace(name, place)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise


def _mode(place: pathlib.Path) -> int:
    """Return the rights of the file that is replaced, or those a new file gets."""
    try:
        return place.stat().st_mode & 0o777
    except OSError:
        umask = os.umask(0)
        os.umask(umask)
        return 0o666 & ~umask


def _unwritable(target: pathlib.Path, reason: str) -> DocumentError:
    return DocumentError(
        _("{path} cannot be written: {reason}.").format(path=target, reason=reason),
        advice=_("Choose another place."),
    )
