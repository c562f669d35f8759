"""Read a drawing from a file, safely: no entities, no network, nothing larger than ``limits`` allows."""

from __future__ import annotations

import pathlib
import re
import zlib
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.limits import FILE_BYTES, PLAIN_BYTES
from crossgrain.svg.names import SVG, svg
from crossgrain.svg.scale import page_of

_GZIP: Final = b"\x1f\x8b"
_KINDS: Final = (
    (b"%PDF", "PDF"),
    (b"\x89PNG", "PNG"),
    (b"\xff\xd8\xff", "JPEG"),
    (b"GIF8", "GIF"),
    (b"PK\x03\x04", "ZIP"),
    (b"%!PS", "PostScript"),
)
_BEFORE_ROOT: Final = re.compile(
    rb"(?s)(?:\xef\xbb\xbf)?(?:\s++|<\?.*?\?>|<!--.*?-->|<!DOCTYPE[^\[>]*(?:\[.*?\]\s*)?>)*+"
)
"""White space, declarations, comments and a DTD without entities; it matches anything, if only nothing."""
_CODING: Final = re.compile(rb"<\?xml[^>]*?encoding\s*=\s*[\"']([A-Za-z0-9._-]+)")
_KNOWN_CODINGS: Final = re.compile(rb"(?i)utf-?8|us-ascii|iso-8859-\d+|latin-?\d|windows-125\d|cp125\d")


def read_drawing(source: pathlib.Path, *, unit_mm: float | None = None) -> Drawing:
    """Read a drawing.

    Args:
        source: an SVG file, plain or packed with gzip; which of them is told by its content.
        unit_mm: the mm of one user unit inside the outermost ``svg``, overriding what the drawing says.

    Returns:
        The drawing. Its shapes are read when asked for.

    Raises:
        DocumentError: a file that cannot be read or is no safe SVG, or a scale that is in doubt.
    """
    return parse_drawing(file_bytes(source), name=source.name, source=source, unit_mm=unit_mm)


def parse_drawing(
    data: bytes, *, name: str, source: pathlib.Path | None = None, unit_mm: float | None = None
) -> Drawing:
    """Read a drawing from its bytes, plain or packed, as ``read_drawing``; ``name`` is what messages call it."""
    data = _unpacked(data, name)
    _refuse_other_kinds(data, name)
    _refuse_entities(data, name)
    tree = _tree(data, name)
    root = tree.getroot()
    if root.tag != svg("svg"):
        raise _not_svg(root, name)
    remarks = [node.text or "" for node in root.itersiblings(preceding=True) if isinstance(node, etree._Comment)]
    first = next((child for child in root if isinstance(child, etree._Comment)), None)
    if first is not None:
        remarks.append(first.text or "")
    if root.get("transform") or "transform" in root.get("style", ""):
        raise DocumentError(
            _("The scale of {name} is in doubt: the whole drawing has a transform.").format(name=name),
            advice=_("Put the transform on a group inside it."),
        )
    try:
        page = page_of(root, unit_mm=unit_mm, remarks=remarks)
    except DocumentError as error:
        raise DocumentError(error.message, advice=error.advice, piece=error.piece or name) from error
    return Drawing(
        tree=tree,
        name=name,
        page=page,
        source=source,
        before=b"" if _wide(data) else _BEFORE_ROOT.match(data).group(),  # type: ignore[union-attr]
        after=data[len(data.rstrip()) :],
    )


def file_bytes(source: pathlib.Path) -> bytes:
    """Return what stands in the file of a drawing, and not much more than the largest that is read.

    Raises:
        DocumentError: it cannot be read; the message says why.
    """
    try:
        with source.open("rb") as file:
            data = file.read(FILE_BYTES + 1)
    except FileNotFoundError as error:
        raise DocumentError(
            _("There is no file {path}.").format(path=source), advice=_("Check the name and the folder.")
        ) from error
    except IsADirectoryError as error:
        raise DocumentError(
            _("{path} is a folder, not a drawing.").format(path=source), advice=_("Name the SVG file in it.")
        ) from error
    except PermissionError as error:
        # On Windows opening a folder is refused in the same way.
        if source.is_dir():
            raise DocumentError(
                _("{path} is a folder, not a drawing.").format(path=source), advice=_("Name the SVG file in it.")
            ) from error
        raise DocumentError(
            _("{path} may not be read.").format(path=source), advice=_("Ask for the right to read it.")
        ) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise DocumentError(
            _("{path} cannot be read: {reason}.").format(path=source, reason=reason),
            advice=_("Check the name and the disk."),
        ) from error
    return data


def _unpacked(data: bytes, name: str) -> bytes:
    if data.startswith(_GZIP):
        unpacker = zlib.decompressobj(wbits=31)
        try:
            data = unpacker.decompress(data, FILE_BYTES + 1)
        except zlib.error as error:
            raise DocumentError(
                _("{name} is packed, and damaged.").format(name=name), advice=_("Save it again in the editor.")
            ) from error
        if len(data) <= FILE_BYTES and not unpacker.eof:
            raise DocumentError(
                _("{name} is packed, and cut short.").format(name=name), advice=_("Copy or save it again.")
            )
    if len(data) > FILE_BYTES:
        raise DocumentError(
            _("{name} is larger than {size} MB.").format(name=name, size=FILE_BYTES // 2**20),
            advice=_("Take the pictures out of it."),
        )
    if not data.strip():
        raise DocumentError(_("{name} is empty.").format(name=name), advice=_("Save the drawing again."))
    return data


def _refuse_other_kinds(data: bytes, name: str) -> None:
    for magic, kind in _KINDS:
        if data.startswith(magic):
            raise DocumentError(
                _("{name} is a {kind} file, not an SVG drawing.").format(name=name, kind=kind),
                advice=_("Open it in the editor and save it as SVG."),
            )
    head = data[:1024].lower()
    if b"<!doctype html" in head or b"<html" in head:
        raise _web_page(name)


def _web_page(name: str) -> DocumentError:
    return DocumentError(
        _("{name} is a web page, not a drawing.").format(name=name),
        advice=_("Save the drawing in it as an SVG file of its own."),
    )


def _wide(data: bytes) -> bool:
    return data[:2] in (b"\xff\xfe", b"\xfe\xff") or data[:2] in (b"<\x00", b"\x00<")


def _refuse_entities(data: bytes, name: str) -> None:
    """Refuse a DTD that declares entities before any of them can be followed or grow."""
    text = data.replace(b"\0", b"") if _wide(data) else data
    start = text.find(b"<!DOCTYPE")
    if start >= 0 and b"<!ENTITY" in text[start:]:
        raise _entities(name)


def _entities(name: str) -> DocumentError:
    return DocumentError(
        _("{name} declares XML entities, which are not followed.").format(name=name),
        advice=_("Open it in the editor and save it as plain SVG."),
    )


def _tree(data: bytes, name: str) -> etree._ElementTree:
    coding = _CODING.search(data[:256])
    plain = _wide(data) or coding is None or bool(_KNOWN_CODINGS.fullmatch(coding[1]))
    parser = etree.XMLParser(
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        strip_cdata=False,
        # Only where the search for entities above could not be fooled by the encoding.
        huge_tree=len(data) > PLAIN_BYTES and plain and b"<!DOCTYPE" not in data[:4096],
    )
    try:
        tree = etree.ElementTree(etree.fromstring(data, parser))
    except etree.XMLSyntaxError as error:
        raise _malformed(error, data, name) from error
    except (LookupError, ValueError) as error:
        raise DocumentError(
            _("{name} is in an encoding that is not known here.").format(name=name),
            advice=_("Save it as UTF-8."),
        ) from error
    dtd = tree.docinfo.internalDTD
    # The stubs of lxml do not know this method.
    if dtd is not None and any(True for _entity in dtd.iterentities()):  # type: ignore[attr-defined]
        raise _entities(name)
    return tree


def _malformed(error: etree.XMLSyntaxError, data: bytes, name: str) -> DocumentError:
    line, column = error.position
    reason = str(error.msg or "").split(", line ")[0]
    if b"<" not in data:
        return DocumentError(
            _("{name} is not an SVG drawing.").format(name=name), advice=_("Name a file saved by the editor.")
        )
    if "epth" in reason:
        return DocumentError(
            _("{name} nests its elements too deep.").format(name=name), advice=_("Ungroup it in the editor.")
        )
    if "ncoding" in reason or "not proper UTF-8" in reason or "nput is not proper" in reason:
        return DocumentError(
            _("{name} is not in the encoding it states, at line {line}.").format(name=name, line=line),
            advice=_("Save it as UTF-8."),
        )
    if b"</svg" not in data[-4096:].replace(b"\0", b"") and b"svg" in data[:4096].replace(b"\0", b""):
        return DocumentError(
            _("{name} is cut short at line {line}.").format(name=name, line=line),
            advice=_("Copy or save it again."),
        )
    return DocumentError(
        _("{name} is not well-formed XML, at line {line}, character {column}: {reason}.").format(
            name=name, line=line, column=column, reason=reason
        ),
        advice=_("Correct it there, or save it again in the editor."),
    )


def _not_svg(root: etree._Element, name: str) -> DocumentError:
    tag = etree.QName(root)
    if tag.localname.lower() == "html":
        return _web_page(name)
    if tag.localname == "svg":
        return DocumentError(
            _("{name} does not declare the SVG namespace.").format(name=name),
            advice=_('Add xmlns="{uri}" to its svg element, or save it in the editor.').format(uri=SVG),
        )
    return DocumentError(
        _("{name} is XML, but no SVG drawing: it begins with <{tag}>.").format(name=name, tag=tag.localname),
        advice=_("Name a file saved by the editor."),
    )
