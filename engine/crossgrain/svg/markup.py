"""A piece's facts as attributes on the element that is its outline.

All are in the namespace ``urn:crossgrain:1``, in text that a person can read and write:

=============  ============================================================================================
piece          the piece's name
outline        ``stitch`` or ``cut``: which line it is; ``stitch`` where not said
cut            how many are cut, and how: ``2 mirrored``
edges          the names of the edges in order: ``waist side hem inseam crotch centre``
corners        where each edge begins, as a share of the outline from its start, and the turn there, positive
               outwards: ``0% 92°; 18.2% 85°; …``; after ``against:`` the edges run against the line
stood          where these corners stood in the drawing, mm: ``12,30; 200,31; …``. A hint, which may be missing
grain          its turn from the chords of edges, the steadiest first: ``0.4° from centre; 91° from hem``
notches        ``side=50%; inseam=40% double V``
darts          ``waist=45% width 20mm depth 110mm drill 10mm``
holds          ``centre=5mm from 0% to 80%``
creases        ``hem=50% to 80%``: from an edge along the grain, so much of the way to the other side
loops          ``waist=25% width 10mm``
buttons        ``waist=95% 15mm by 3mm from 12mm``: diameter, thickness, distance from the edge
buttonholes    ``right=50% 15mm by 3mm from 12mm``: for a button of that size
topstitching   ``centre=35mm from 100% to 5%``: distance from the edge, where it begins and curves to the edge
allowances     ``hem=30mm; centre=10mm to 25mm; seat=10mm at 0%, 10mm at 60%, 25mm at 100%``
sewn-as        ``side=plain seam; hem=hem``: the class of each seam in a set of widths
corners-sewn   ``hem=mirrored; waist/side=squared to side``: how the corners of the cut line are shaped
follows        what its edges are as long as, in order from their start: ``waist=35mm + left front + back + right
               front``; what they are drawn after: ``centre traces front/centre to 80%``; ``zip along centre``
followed       how long each stretch was when it last did, and a zip: ``waist=35mm + 200.65mm + 177.65mm + 195.65mm``
=============  ============================================================================================

Nothing here is a direction or a place on the page (but for ``stood``, which only ever breaks a tie), so that the facts
hold when the piece is moved, turned or mirrored. **Lengths are true millimetres and stay so when the piece is scaled:**
a zip needs its 5 mm in every size. Shares scale with the piece.
"""

from __future__ import annotations

from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError, GeometryError
from crossgrain.kernel.found_again.matching import find
from crossgrain.kernel.found_again.remembering import remember
from crossgrain.kernel.length import Place
from crossgrain.kernel.path import Path
from crossgrain.language import _
from crossgrain.model.dependents.follows import Follows
from crossgrain.model.dependents.traces import Traces
from crossgrain.model.dependents.zips import Zip
from crossgrain.model.grain import GrainTurn, grain_from, grain_turns
from crossgrain.model.piece import CutInstruction, Edge, OutlineKind, Piece
from crossgrain.notation.corners import read_corner, write_corner
from crossgrain.notation.cutting import read_cut, read_grain_turn, write_cut, write_grain_turn
from crossgrain.notation.follows import write_dependence, write_followed
from crossgrain.notation.widths import read_edge_class, read_edge_width, write_edge_class, write_edge_width
from crossgrain.notation.words import read_names, write_list
from crossgrain.svg.corner_text import write_corners
from crossgrain.svg.facts import ATTRIBUTES, Facts
from crossgrain.svg.mark_facts import with_marks_read, written_marks
from crossgrain.svg.names import crossgrain

_NAMELESS: Final = "outline"
"""What the grain of a piece without named edges is counted from: the chord from the outline's start to its middle."""


def is_marked(element: etree._Element) -> bool:
    """Tell whether an element is an outline with facts of a piece."""
    return any(element.get(crossgrain(name)) is not None for name in ATTRIBUTES)


def states_grain(element: etree._Element) -> bool:
    """Tell whether an outline says how it lies on the cloth; if not, its grain is taken to run down the page."""
    return element.get(crossgrain("grain")) is not None


def read_piece(element: etree._Element, id: str, line: Path, counterpart: Path | None = None) -> Piece:
    """Read the piece whose outline an element is.

    Args:
        element: the element, with or without our attributes.
        id: the id of the shape.
        line: its closed line in mm of the page, as it is drawn.
        counterpart: the cut line of a stitch line, or the reverse, where it is drawn.

    Returns:
        The piece. Without attributes it has one nameless edge, and its grain runs up and down the page.

    Raises:
        DocumentError: an attribute that cannot be read; the message names it and the element.
        GeometryError: a corner that cannot be found again.
    """
    reader = Facts(element, id)
    reader.check_names()
    name = reader.text("piece") or ""
    none: tuple[str, ...] = ()
    names = reader.read("edges", read_names, none)
    remembered = reader.remembered(len(names))
    widths = dict(reader.each("allowances", read_edge_width))
    classes = dict(reader.each("sewn-as", read_edge_class))
    if names:
        try:
            runs = find(line, remembered, names).runs()
        except GeometryError as error:
            raise type(error)(
                error.message, advice=error.advice, piece=name or id, edge=error.edge, position=error.position
            ) from error
        edges = tuple(
            Edge(name=edge, line=run, allowance=widths.get(edge), sewn_as=classes.get(edge, ""))
            for edge, run in zip(names, runs, strict=True)
        )
    else:
        edges = (Edge(name="", line=Path(line.segments)),)
    reader.known("allowances", widths, names)
    reader.known("sewn-as", classes, names)
    stitch: OutlineKind = "stitch"
    outline = reader.read("outline", _read_kind, stitch)
    cut = reader.read("cut", read_cut, CutInstruction())
    reader.known("cut", (cut.on_fold,) if cut.on_fold else (), names)
    turns = reader.each("grain", read_grain_turn)
    reader.known("grain", [turn.edge for turn in turns], names or (_NAMELESS,))
    if not names:
        turns = tuple(GrainTurn(edge="", turn_rad=turn.turn_rad) for turn in turns)
    corners = reader.each("corners-sewn", read_corner)
    reader.known("corners-sewn", [name for corner in corners for name in corner.edges], names)
    depends = reader.dependences()
    piece = Piece(
        id=id,
        name=name,
        edges=edges,
        outline=outline,
        grain=grain_from(turns, edges) if turns else (0.0, 1.0),
        cut=cut,
        follows=tuple(one for one in depends if isinstance(one, Follows)),
        traces=tuple(one for one in depends if isinstance(one, Traces)),
        zips=tuple(one for one in depends if isinstance(one, Zip)),
        corners=corners,
        counterpart=counterpart,
    )
    return with_marks_read(reader, piece)


def write_piece(element: etree._Element, piece: Piece, line: Path, places: tuple[Place, ...], *, against: bool) -> None:
    """Write a piece's facts onto the element that is its outline. Only attributes that differ are touched.

    Args:
        element: the element.
        piece: the piece.
        line: its outline in mm, travelled in the order of the edges, from the point where the drawn line starts.
        places: where the edges start on ``line``.
        against: whether that is against the direction in which it is drawn.
    """
    facts = dict.fromkeys(ATTRIBUTES, "")
    facts["piece"] = piece.name
    facts["outline"] = piece.outline
    facts["cut"] = write_cut(piece.cut) if piece.cut != CutInstruction() else ""
    turns = grain_turns(piece.grain, piece.edges)
    if piece.edge_names == ("",):
        turns = tuple(GrainTurn(edge=_NAMELESS, turn_rad=turn.turn_rad) for turn in turns)
    else:
        remembered = remember(line, places, against=against)
        facts["edges"] = " ".join(piece.edge_names)
        facts["corners"] = write_corners(remembered)
        facts["stood"] = write_list(f"{_short(x)},{_short(y)}" for x, y in remembered.places)
    facts["grain"] = write_list(write_grain_turn(turn) for turn in turns)
    facts |= written_marks(piece)
    facts["allowances"] = write_list(
        write_edge_width(edge.name, edge.allowance) for edge in piece.edges if edge.name and edge.allowance is not None
    )
    facts["sewn-as"] = write_list(write_edge_class(edge.name, edge.sewn_as) for edge in piece.edges if edge.sewn_as)
    facts["corners-sewn"] = write_list(write_corner(corner) for corner in piece.corners)
    depends: tuple[Follows | Traces | Zip, ...] = (*piece.follows, *piece.traces, *piece.zips)
    followed: tuple[Follows | Zip, ...] = (*piece.follows, *piece.zips)
    facts["follows"] = write_list(write_dependence(one) for one in depends)
    facts["followed"] = write_list(write_followed(one) for one in followed if one.was)
    for name, text in facts.items():
        if text and element.get(crossgrain(name)) != text:
            element.set(crossgrain(name), text)
        elif not text and crossgrain(name) in element.attrib:
            del element.attrib[crossgrain(name)]


def _read_kind(text: str) -> OutlineKind:
    match text.strip():
        case "stitch":
            return "stitch"
        case "cut":
            return "cut"
    raise DocumentError(_("“{text}” is no kind of outline.").format(text=text), advice=_("Write stitch or cut."))


def _short(mm: float) -> str:
    text = f"{mm:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
