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
notches        ``side=50%; inseam=40% double``
darts          ``waist=45% width 20mm depth 110mm``
holds          ``centre=5mm from 0% to 80%``
allowances     ``hem=30mm; centre=0mm``
follows        what its edges follow, in order from their start: ``waist=35mm + left front + back + right front``
followed       how long each stretch was when it last did: ``waist=35mm + 200.65mm + 177.65mm + 195.65mm``
=============  ============================================================================================

Nothing here is a direction or a place on the page (but for ``stood``, which only ever breaks a tie), so that the facts
hold when the piece is moved, turned or mirrored. **Lengths are true millimetres and stay so when the piece is scaled:**
a zip needs its 5 mm in every size. Shares scale with the piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final, TypeVar

from lxml import etree

from crossgrain.errors import CrossgrainError, DocumentError, GeometryError, InputError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.length import Place
from crossgrain.kernel.matching import find
from crossgrain.kernel.path import Path
from crossgrain.kernel.remembering import Remembered, remember
from crossgrain.language import _
from crossgrain.model.follows import Follows
from crossgrain.model.grain import GrainTurn, grain_from, grain_turns
from crossgrain.model.piece import CutInstruction, Edge, OutlineKind, Piece, listed
from crossgrain.notation.follows import read_followed, read_follows, write_followed, write_follows
from crossgrain.notation.marks import (
    read_cut,
    read_dart,
    read_grain_turn,
    read_hold,
    read_list,
    read_names,
    read_notch,
    read_width,
    write_angle,
    write_cut,
    write_dart,
    write_grain_turn,
    write_hold,
    write_list,
    write_notch,
    write_share,
    write_width,
)
from crossgrain.svg.names import crossgrain
from crossgrain.units import parse_angle, parse_share

T = TypeVar("T")

ATTRIBUTES: Final = (
    "piece",
    "outline",
    "cut",
    "edges",
    "corners",
    "stood",
    "grain",
    "notches",
    "darts",
    "holds",
    "allowances",
    "follows",
    "followed",
)
"""The names of our attributes on an outline, in the order in which they are written."""

_AGAINST: Final = "against:"
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
    reader = _Reader(element, id)
    reader.check_names()
    name = reader.text("piece") or ""
    none: tuple[str, ...] = ()
    names = reader.read("edges", read_names, none)
    remembered = reader.remembered(len(names))
    widths = dict(reader.each("allowances", read_width))
    if names:
        try:
            runs = find(line, remembered, names).runs()
        except GeometryError as error:
            raise type(error)(
                error.message, advice=error.advice, piece=name or id, edge=error.edge, position=error.position
            ) from error
        edges = tuple(
            Edge(name=edge, line=run, allowance=widths.get(edge)) for edge, run in zip(names, runs, strict=True)
        )
    else:
        edges = (Edge(name="", line=Path(line.segments)),)
    reader.known("allowances", widths, names)
    bare = Piece(id=id, name=name, edges=edges, outline=reader.read("outline", _read_kind, "stitch"))
    cut = reader.read("cut", read_cut, CutInstruction())
    reader.known("cut", (cut.on_fold,) if cut.on_fold else (), names)
    turns = reader.each("grain", read_grain_turn)
    reader.known("grain", [turn.edge for turn in turns], names or (_NAMELESS,))
    if not names:
        turns = tuple(GrainTurn(edge="", turn_rad=turn.turn_rad) for turn in turns)
    return Piece(
        id=id,
        name=name,
        edges=edges,
        outline=bare.outline,
        grain=grain_from(turns, edges) if turns else (0.0, 1.0),
        cut=cut,
        notches=reader.each("notches", lambda text: read_notch(text).on(bare)),
        darts=reader.each("darts", lambda text: read_dart(text).on(bare)),
        holds=reader.each("holds", lambda text: read_hold(text).on(bare)),
        follows=reader.follows(),
        counterpart=counterpart,
    )


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
    facts["notches"] = write_list(write_notch(notch) for notch in piece.notches)
    facts["darts"] = write_list(write_dart(dart) for dart in piece.darts)
    facts["holds"] = write_list(write_hold(hold) for hold in piece.holds)
    facts["allowances"] = write_list(
        write_width(edge.name, edge.allowance) for edge in piece.edges if edge.name and edge.allowance is not None
    )
    facts["follows"] = write_list(write_follows(one) for one in piece.follows)
    facts["followed"] = write_list(write_followed(one) for one in piece.follows if one.was)
    for name, text in facts.items():
        if text and element.get(crossgrain(name)) != text:
            element.set(crossgrain(name), text)
        elif not text and crossgrain(name) in element.attrib:
            del element.attrib[crossgrain(name)]


def read_corners(text: str) -> Remembered:
    """Read where the edges begin: shares of the outline, each with the turn there.

    >>> read_corners("0% 90°; 50% 90°").shares
    (0.0, 0.5)
    """
    against = text.strip().startswith(_AGAINST)
    items = read_list(text.strip().removeprefix(_AGAINST), _read_corner)
    shares = tuple(share % 1.0 for share, _turn in items)
    drops = sum(after <= before for before, after in zip(shares, shares[1:] + shares[:1], strict=True))
    if drops != 1 and items:
        raise DocumentError(
            _("The shares do not follow one another once round the outline."),
            advice=_("Write them rising from edge to edge, with “against:” before edges that run against the line."),
        )
    return Remembered(shares=shares, turns_rad=tuple(turn for _share, turn in items), against=against)


def write_corners(remembered: Remembered) -> str:
    """Write where the edges begin; read by :func:`read_corners`.

    >>> write_corners(Remembered(shares=(0.0, 0.5), turns_rad=(0.5, 0.25), against=True))
    'against: 0% 28.65°; 50% 14.32°'
    """
    text = write_list(
        f"{write_share(share)} {write_angle(turn, digits=2)}"
        for share, turn in zip(remembered.shares, remembered.turns_rad, strict=True)
    )
    return f"{_AGAINST} {text}" if remembered.against else text


def _read_corner(text: str) -> tuple[float, float]:
    share, sign, turn = text.partition("%")
    return parse_share(share + sign), parse_angle(turn.strip()) if turn.strip() else 0.0


def _read_kind(text: str) -> OutlineKind:
    match text.strip():
        case "stitch":
            return "stitch"
        case "cut":
            return "cut"
    raise DocumentError(_("“{text}” is no kind of outline.").format(text=text), advice=_("Write stitch or cut."))


def _read_point(text: str) -> Point:
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise DocumentError(_("“{text}” is no place.").format(text=text), advice=_("Write it as 12.5,30.")) from None
    return (x, y)


def _short(mm: float) -> str:
    text = f"{mm:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class _Reader:
    """Reads our attributes of one element, and says which could not be read."""

    def __init__(self, element: etree._Element, id: str) -> None:
        self.element = element
        self.id = id

    def check_names(self) -> None:
        prefix = crossgrain("")
        for key in self.element.attrib:
            name = str(key).removeprefix(prefix)
            if str(key).startswith(prefix) and name not in ATTRIBUTES:
                raise DocumentError(
                    _("{id} has an attribute crossgrain:{name}, which is not known.").format(id=self.id, name=name),
                    advice=_("Known are: {names}.").format(names=listed(ATTRIBUTES)),
                    piece=self.id,
                )

    def text(self, name: str) -> str | None:
        return self.element.get(crossgrain(name))

    def read(self, name: str, read: Callable[[str], T], otherwise: T) -> T:
        text = self.text(name)
        if text is None:
            return otherwise
        try:
            return read(text)
        except InputError as error:
            raise self.fault(name, error) from error

    def each(self, name: str, read: Callable[[str], T]) -> tuple[T, ...]:
        return self.read(name, lambda text: read_list(text, read), ())

    def known(self, name: str, used: Iterable[str], names: Sequence[str]) -> None:
        for edge in used:
            if edge not in names:
                raise self.fault(
                    name,
                    InputError(
                        _("There is no edge named {name}.").format(name=edge),
                        advice=_("Its edges are: {names}.").format(names=listed(names) or _("not named yet")),
                    ),
                )

    def remembered(self, count: int) -> Remembered:
        remembered = self.read("corners", read_corners, Remembered(shares=(), turns_rad=()))
        if len(remembered.shares) != count:
            raise self.fault(
                "corners",
                InputError(
                    _("{corners} corners are given for {edges} edges.").format(
                        corners=len(remembered.shares), edges=count
                    ),
                    advice=_("Mark the edges of the piece again."),
                ),
            )
        places = self.each("stood", _read_point)
        return Remembered(
            shares=remembered.shares,
            turns_rad=remembered.turns_rad,
            against=remembered.against,
            places=places if len(places) == count else (),
        )

    def follows(self) -> tuple[Follows, ...]:
        was = dict(self.each("followed", read_followed))
        return tuple(
            replace(one, was=was[one.edge]) if len(was.get(one.edge, ())) == len(one.terms) else one
            for one in self.each("follows", read_follows)
        )

    def fault(self, name: str, error: CrossgrainError) -> DocumentError:
        return DocumentError(
            _("crossgrain:{name} of {id} cannot be read: {message}").format(
                name=name, id=self.id, message=error.message
            ),
            advice=error.advice,
            piece=self.id,
            edge=error.edge,
        )
