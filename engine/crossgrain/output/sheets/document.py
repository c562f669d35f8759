"""Write pages as PDF, with layers that viewers switch: optional content groups (ISO 32000-1, 8.11).

Each block is written once, and shown on every page through that page's window. A line is on two layers, that of its
size and that of what it is, and is seen where both are on.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, Final

import crossgrain
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.bounds import Box
from crossgrain.language import _, language
from crossgrain.output.sheets.content import FONT, POINT, Part, Writer, figure, matrix, purpose_tag, size_tag
from crossgrain.output.sheets.ink import PURPOSES, Ink, Purpose
from crossgrain.output.sheets.tiles import Placed
from crossgrain.output.sheets.typeface import Typeface, typeface

if TYPE_CHECKING:
    import pikepdf

_BEYOND: Final = 2.0
"""Kept around a block for the width of its lines, mm."""

_FACE: Final = "CRSGRN+Roboto-Regular"


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page.

    Args:
        width: mm.
        height: mm.
        window: what of the layout it shows, mm; its upper left corner is ``left`` and ``top`` from the paper's.
        left: the margin on the left, mm.
        top: the margin above, mm.
        blocks: the numbers of the blocks that are seen through the window.
        ink: what else is seen through it, mm of the layout; a part that several pages have is written once.
        beside: what stands outside of it in the margins, mm of the layout.
    """

    width: float
    height: float
    window: Box
    left: float
    top: float
    blocks: Sequence[int] = ()
    ink: tuple[Part, ...] = ()
    beside: tuple[Ink, ...] = ()


def document(
    placed: Sequence[Placed],
    pages: Sequence[Page],
    *,
    title: str,
    sizes: Sequence[str] = (),
    off: Collection[str] = (),
    layered: bool = True,
) -> bytes:
    """Write a PDF.

    Args:
        placed: the blocks in their places.
        pages: at least one.
        title: of the document.
        sizes: names of the sizes that have a layer each, in order.
        off: the layers that are off when it is opened: purposes and names of sizes.
        layered: whether it has layers at all.

    Returns:
        The file. The same content gives the same bytes.
    """
    import pikepdf
    from pikepdf import Array, Dictionary

    face = typeface()
    writer = Writer(face=face, sizes=sizes, layered=layered)
    pdf = pikepdf.new()
    resources = pdf.make_indirect(Dictionary())
    shown = sorted({number for page in pages for number in page.blocks})
    forms = {f"/B{number}": _form(pdf, writer, placed[number], resources) for number in shown}
    shows = {number: f"q {matrix(placed[number].place)} /B{number} Do Q".encode("ascii") for number in shown}
    # All in one node of the tree of pages (ISO 32000-1, 7.7.3): the library looks for a place for each page again.
    tree, leaves = pdf.Root.Pages, []
    for page in pages:
        one = _said("<< /Type /Page /MediaBox [0 0 {} {}] >>", page.width * POINT, page.height * POINT)
        one.Parent, one.Resources = tree, resources
        one.Contents = pdf.make_stream(_page_content(page, shows, writer))
        leaves.append(pdf.make_indirect(one))
    tree.Kids, tree.Count = Array(leaves), len(leaves)
    resources.Font = Dictionary({f"/{FONT}": _font(pdf, face, writer.letters)})
    resources.XObject = Dictionary(forms)
    if layered:
        _layers(pdf, resources, sizes, off)
    pdf.Root.Lang = pikepdf.String(language())
    pdf.docinfo = pdf.make_indirect(Dictionary(Title=title, Creator=f"Crossgrain {crossgrain.__version__}"))
    out = BytesIO()
    pdf.save(out, min_version="1.5", deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def layer_name(purpose: Purpose) -> str:
    """Return what a layer is called in the reader's language."""
    return {
        "stitch-lines": _("stitch lines"),
        "cut-lines": _("cut lines"),
        "marks": _("marks"),
        "labels": _("labels"),
        "joins": _("joins of the sheets"),
    }[purpose]


def _form(pdf: pikepdf.Pdf, writer: Writer, placed: Placed, resources: pikepdf.Object) -> pikepdf.Object:
    box = placed.block.box.grown(_BEYOND)
    about = _said("<< /Type /XObject /Subtype /Form /BBox [{} {} {} {}] >>", box.left, box.top, box.right, box.bottom)
    form = pdf.make_stream(writer.written(placed.block.ink), about)
    form.Resources = resources
    return form


def _page_content(page: Page, shows: Mapping[int, bytes], writer: Writer) -> bytes:
    """Write the matrix from mm to points, the window, and what is seen through it and beside it."""
    box = page.window
    to_points = Affine(
        POINT, 0.0, 0.0, -POINT, POINT * (page.left - box.left), POINT * (page.height - page.top + box.top)
    )
    window = " ".join(figure(value, 6) for value in (box.left, box.top, box.width, box.height))
    parts = [f"q {matrix(to_points)} 1 j q {window} re W n".encode("ascii")]
    parts += [shows[number] for number in page.blocks]
    parts += [*map(writer.part, page.ink), b"Q", writer.written(page.beside), b"Q"]
    return b"\n".join(part for part in parts if part)


def _layers(pdf: pikepdf.Pdf, resources: pikepdf.Object, sizes: Sequence[str], off: Collection[str]) -> None:
    from pikepdf import Array, Dictionary, Name, String

    def group(name: str) -> pikepdf.Object:
        return pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name)))

    of_sizes = {size: group(_("size {size}").format(size=size)) for size in sizes}
    of_purposes = {purpose: group(layer_name(purpose)) for purpose in PURPOSES}
    groups: dict[str, pikepdf.Object] = {str(purpose): one for purpose, one in of_purposes.items()} | of_sizes
    order = [Array([String(_("Lines and words")), *of_purposes.values()])]
    if sizes:
        order.insert(0, Array([String(_("Sizes")), *of_sizes.values()]))
    resources.Properties = Dictionary(
        {f"/{size_tag(k)}": one for k, one in enumerate(of_sizes.values())}
        | {f"/{purpose_tag(purpose)}": one for purpose, one in of_purposes.items()}
    )
    pdf.Root.OCProperties = Dictionary(
        OCGs=Array([*of_sizes.values(), *of_purposes.values()]),
        D=Dictionary(
            Name=String(_("Layers")),
            BaseState=Name.ON,
            Order=Array(order),
            OFF=Array([groups[name] for name in groups if name in off]),
            ListMode=Name.AllPages,
        ),
    )


def _font(pdf: pikepdf.Pdf, face: Typeface, letters: dict[int, str]) -> pikepdf.Object:
    """Embed the letters that were used, told by the numbers of their glyphs (ISO 32000-1, 9.7)."""
    outlines = face.cut_down(frozenset(letters))
    descriptor = _said(
        "<< /Type /FontDescriptor /FontName /{} /Flags 32 /FontBBox [{} {} {} {}] /Ascent {} /Descent {} "
        "/ItalicAngle 0 /CapHeight 711 /StemV 80 >>",
        _FACE,
        *face.box,
        face.ascent,
        face.descent,
    )
    descriptor.FontFile2 = pdf.make_stream(outlines, _said("<< /Length1 {} >>", len(outlines)))
    widths = " ".join(f"{number} [{figure(face.advance(number), 4)}]" for number in sorted(letters))
    descendant = _said(
        "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{} /CIDToGIDMap /Identity /DW 0 /W [{}] "
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> >>",
        _FACE,
        widths,
    )
    descendant.FontDescriptor = pdf.make_indirect(descriptor)
    font = _said("<< /Type /Font /Subtype /Type0 /BaseFont /{} /Encoding /Identity-H /DescendantFonts [] >>", _FACE)
    font.DescendantFonts.append(pdf.make_indirect(descendant))
    font.ToUnicode = pdf.make_stream(_to_unicode(letters))
    return pdf.make_indirect(font)


def _to_unicode(letters: dict[int, str]) -> bytes:
    """Say which letter each glyph stands for, so that words can be searched and copied."""
    pairs = [f"<{number:04x}> <{letter.encode('utf-16-be').hex()}>" for number, letter in sorted(letters.items())]
    blocks = []
    for start in range(0, len(pairs), 100):
        some = pairs[start : start + 100]
        blocks.append(f"{len(some)} beginbfchar\n" + "\n".join(some) + "\nendbfchar")
    return (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
        "1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n"
        + "\n".join(blocks)
        + "\nendcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    ).encode("ascii")


def _said(text: str, *words: float | str) -> pikepdf.Object:
    """Return what a text says in the words of PDF, figures to a ten-thousandth: sooner done than entry by entry."""
    from pikepdf import Object

    return Object.parse(text.format(*(word if isinstance(word, str) else figure(word, 4) for word in words)).encode())
