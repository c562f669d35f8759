"""Cut: lay every piece out as it is cut, with its words, and list what is cut and what else is needed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from crossgrain.errors import CrossgrainError, GeometryError, ParameterError
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.bounds import bounds
from crossgrain.language import _
from crossgrain.model.cutting.cut_lines import CutLines, cut_lines, opened_lines, upright
from crossgrain.model.cutting.cut_plan import ClothNeed, CutPlan, CutRow, Material
from crossgrain.model.cutting.laid_out import Copy, laid_out
from crossgrain.model.cutting.notions import notions
from crossgrain.model.cutting.piece_words import allowance_words, cut_words
from crossgrain.model.cutting.strayed_line import strayed_findings
from crossgrain.model.girths import OPENING
from crossgrain.model.marking.topstitching_line import template
from crossgrain.model.outcome import Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.simple_outline import check_simple
from crossgrain.tolerances import COINCIDENT
from crossgrain.units import format_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How pieces are laid out and listed.

    Args:
        width_of_cloth: mm, above 0. No row of pieces cut from it is wider, but for a single piece that is.
        width_of_stabiliser: mm, above 0; likewise.
        gap: the least distance between two pieces, mm, 0 or more.
        all_copies: lay out every copy of a piece, those in stabiliser too, instead of one that stands for all.
        open_folds: lay out the whole of a piece that is cut on a fold instead of the half that is drawn.
        garment: what the garment is called; empty says nothing.
        size: which size it is; empty says nothing.
        cloth: what the cloth is called; empty says nothing.
        tape: names of edges along which tape is sewn, besides those that hold.
        opening: the name of the edge with the zip.
        efficiency: the share of the cloth that ends in pieces, a ratio above 0 and up to 1.
    """

    width_of_cloth: float = 1400.0
    width_of_stabiliser: float = 900.0
    gap: float = 20.0
    all_copies: bool = False
    open_folds: bool = False
    garment: str = ""
    size: str = ""
    cloth: str = ""
    tape: tuple[str, ...] = ()
    opening: str = OPENING
    efficiency: float = 0.75

    def __post_init__(self) -> None:
        for width in (self.width_of_cloth, self.width_of_stabiliser):
            if not 0.0 < width < math.inf:
                raise ParameterError(
                    _("A cloth of {width:.4g} mm has no width.").format(width=width),
                    advice=_("Give a length above zero."),
                )
        if not 0.0 <= self.gap < math.inf:
            raise ParameterError(
                _("Pieces cannot lie {gap:.4g} mm apart.").format(gap=self.gap), advice=_("Give 0 mm or more.")
            )
        if not 0.0 < self.efficiency <= 1.0:
            raise ParameterError(
                _("{percent:.4g} % of a cloth cannot end in pieces.").format(percent=self.efficiency * 100.0),
                advice=_("Give a share above 0 % and up to 100 %."),
            )


def cut(pattern: Pattern, cutting: Cutting) -> Outcome[CutPlan]:
    """Lay out the pieces of a pattern for cutting, all grains upright, and list them.

    Pieces are moved, turned, and mirrored where a copy is cut the other way round, and nothing else. A stabilised piece
    is cut from the cloth and again from stabiliser.

    Args:
        pattern: pieces with their cut lines drawn. One without is laid out by its stitch line, and a finding says so.
        cutting: how they are laid out.

    Returns:
        The plan. No two pieces, with all that is drawn of them, are nearer than the gap. Areas are exact to rounding.
        Findings: a piece without allowance, a cut line that no longer lies where the drawing's widths say, a piece
        wider than its cloth, a fold that cannot be opened out.

    Raises:
        ParameterError: an edge to be taped that no piece has.
        SelfCrossingError: an outline that crosses itself: no scissors follow it.

    >>> from crossgrain.kernel.path import Path
    >>> from crossgrain.model import CutInstruction, Edge
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> edges = (Edge(name="", line=Path(square.segments)),)
    >>> pocket = Piece(id="pocket", edges=edges, cut=CutInstruction(count=2, mirrored=True), counterpart=square)
    >>> plan = cut(Pattern(pieces=(pocket,)), Cutting(all_copies=True)).value
    >>> [(one.number, one.mirrored) for one in plan.pieces], [(row.count, row.area) for row in plan.rows]
    ([(1, False), (2, True)], [(2, 6000.0)])
    """
    _check_tape(pattern, cutting.tape)
    drawn = [_drawn(piece) for piece in pattern.pieces]
    rows = tuple(row for one in drawn for row in _rows(one))
    copies = [copy for one in drawn for copy in _copies(one, cutting)]
    templates = [copy for piece in pattern.pieces for copy in _templates(piece)]
    cloth = [copy for copy in copies if copy.material == "cloth"]
    stabiliser = [copy for copy in copies if copy.material == "stabiliser"]
    groups = (
        (_("Cut from cloth") if stabiliser or templates else "", cutting.width_of_cloth, cloth),
        (_("Cut from stabiliser"), cutting.width_of_stabiliser, stabiliser),
        (_("Cut from card, to trace along"), cutting.width_of_cloth, templates),
    )
    sheet = laid_out(groups, cutting.gap)
    plan = CutPlan(
        garment=_called(cutting),
        pieces=sheet.pieces,
        width=sheet.width,
        height=sheet.height,
        headings=sheet.headings,
        rows=rows,
        notions=notions(pattern.pieces, cutting.tape, cutting.opening),
        needs=tuple(_needs(rows, cutting)),
    )
    findings = (*(finding for one in drawn for finding in _on_piece(one, cutting)), *_too_wide(rows, cutting))
    return Outcome(value=plan, findings=findings)


def _check_tape(pattern: Pattern, tape: Iterable[str]) -> None:
    there = {name for piece in pattern.pieces for name in piece.edge_names if name}
    for name in tape:
        if name not in there:
            raise ParameterError(
                _("No piece has an edge named {name}.").format(name=name),
                advice=_("There are: {names}.").format(names=listed(sorted(there)) or _("no named edges")),
            )


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A piece's lines as they are drawn, and where it is cut on a fold those of the whole, or why there are none."""

    lines: CutLines
    whole: CutLines | None = None
    fault: GeometryError | None = None

    @classmethod
    def of(cls, piece: Piece) -> _Drawn:
        lines = cut_lines(piece)
        if not piece.cut.on_fold:
            return cls(lines)
        try:
            return cls(lines, opened_lines(piece))
        except GeometryError as error:
            return cls(lines, fault=error)


def _drawn(piece: Piece) -> _Drawn:
    """Return the lines of a piece; a complaint about them names it."""
    try:
        check_simple(piece)
        return _Drawn.of(piece)
    except CrossgrainError as error:
        error.piece = error.piece or piece.label
        raise


def _rows(drawn: _Drawn) -> Iterator[CutRow]:
    """Yield the lines of the cut list for a piece: in cloth, and where it is stabilised in stabiliser too."""
    piece, how = drawn.lines.piece, drawn.lines.piece.cut
    outer = (drawn.whole or drawn.lines).outer
    twice = 2.0 if how.on_fold and drawn.whole is None else 1.0
    box = bounds(outer.mapped(upright(piece)))
    materials: tuple[Material, ...] = ("cloth", "stabiliser") if how.stabilised else ("cloth",)
    for material in materials:
        yield CutRow(
            id=piece.id,
            piece=piece.label,
            material=material,
            count=how.count,
            mirrored=how.mirrored and how.count > 1,
            on_fold=how.on_fold,
            has_allowance=drawn.lines.cut is not None,
            area=twice * abs(signed_area(outer)),
            across=twice * box.width,
            along=box.height,
        )


def _called(cutting: Cutting) -> str:
    """Return what the garment is called, with its size."""
    return listed([cutting.garment, _("size {size}").format(size=cutting.size) if cutting.size else ""])


def _copies(drawn: _Drawn, cutting: Cutting) -> Iterator[Copy]:
    """Yield what is laid out of a piece: one that stands for all, or every copy."""
    piece = drawn.lines.piece
    lines = drawn.whole if cutting.open_folds and drawn.whole is not None else drawn.lines
    how = replace(piece.cut, on_fold="") if lines.opened else piece.cut
    rest = [allowance_words(piece), _("grain along the arrow")]
    garment = _called(cutting)
    names = {"cloth": cutting.cloth or _("cloth"), "stabiliser": _("stabiliser")}
    from_what = _("{cut}, from {material}")
    if not cutting.all_copies:
        own = from_what.format(cut=cut_words(how), material=names["cloth"])
        again = _("{count} more from stabiliser").format(count=how.count) if how.stabilised else ""
        yield Copy(lines=lines, words=_words(piece.label, garment, own, again, *rest))
        return
    kinds: tuple[Material, ...] = ("cloth", "stabiliser") if how.stabilised else ("cloth",)
    for material in kinds:
        for number in range(1, how.count + 1):
            mirrored = how.mirrored and number % 2 == 0
            which = _("{number} of {count}") if how.count > 1 else _("cut {count}")
            on_fold = _("on the fold") if how.on_fold else ""
            how_cut = listed([which.format(number=number, count=how.count), _("mirrored") if mirrored else "", on_fold])
            own = from_what.format(cut=how_cut, material=names[material])
            yield Copy(
                lines=lines,
                words=_words(piece.label, garment, own, *rest),
                number=number,
                copies=how.count,
                mirrored=mirrored,
                material=material,
            )


def _templates(piece: Piece) -> Iterator[Copy]:
    """Yield the cards along which a piece's topstitching is traced."""
    for stitching in piece.topstitching:
        card = template(piece, stitching)
        along = _("topstitching along {edge}").format(edge=stitching.edge)
        words = _words(_("template for {piece}").format(piece=piece.label), along, _("no allowance"))
        yield Copy(lines=CutLines(piece=piece, stitch=None, cut=card, marks=()), words=words, is_template=True)


def _words(*words: str) -> tuple[str, ...]:
    return tuple(word for word in words if word)


def _on_piece(drawn: _Drawn, cutting: Cutting) -> Iterator[Finding]:
    piece = drawn.lines.piece
    if drawn.lines.cut is None:
        yield Finding(
            piece=piece.label,
            message=_("It has no cut line, and is laid out by its stitch line without allowance."),
            advice=_("Draw its seam allowances first (crossgrain allow), or add them on the cloth."),
        )
    yield from strayed_findings(piece)
    if cutting.open_folds and drawn.fault is not None:
        yield Finding(
            piece=piece.label,
            message=_("It is laid out as half. {reason}").format(reason=drawn.fault.message),
            advice=drawn.fault.advice,
            edge=piece.cut.on_fold,
        )


def _too_wide(rows: Sequence[CutRow], cutting: Cutting) -> Iterator[Finding]:
    for row in rows:
        width = cutting.width_of_cloth if row.material == "cloth" else cutting.width_of_stabiliser
        if row.across > width + COINCIDENT:
            sentence = (
                _("It is {across} wide across the grain, and the cloth is {width}.")
                if row.material == "cloth"
                else _("It is {across} wide across the grain, and the stabiliser is {width}.")
            )
            yield Finding(
                piece=row.piece,
                message=sentence.format(across=format_length(row.across), width=format_length(width)),
                advice=_("Take a wider one, or part the piece by a seam."),
                severity="caution",
            )


def _needs(rows: Sequence[CutRow], cutting: Cutting) -> Iterator[ClothNeed]:
    """Yield how much of each material is needed: by area and efficiency, and no less than the longest piece."""
    widths: dict[Material, float] = {"cloth": cutting.width_of_cloth, "stabiliser": cutting.width_of_stabiliser}
    for material, width in widths.items():
        own = [row for row in rows if row.material == material]
        if own:
            area = math.fsum(row.total for row in own)
            by_area = area / (width * cutting.efficiency)
            yield ClothNeed(
                material=material,
                area=area,
                width=width,
                efficiency=cutting.efficiency,
                length=max(by_area, *(row.along for row in own)),
            )
