"""Check a whole pattern: every check, in the order in which a maker looks things over."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from crossgrain.checks.alike import with_alike_once
from crossgrain.checks.allowances import check_allowances
from crossgrain.checks.checked import Checked, together
from crossgrain.checks.darts import check_darts
from crossgrain.checks.dependents import check_dependents
from crossgrain.checks.eased import SeamEase
from crossgrain.checks.grain import check_grain
from crossgrain.checks.holds import check_holds
from crossgrain.checks.joins import check_joins
from crossgrain.checks.lengths import check_lengths
from crossgrain.checks.marks import check_marks
from crossgrain.checks.notches import check_notches
from crossgrain.checks.outlines import check_outline
from crossgrain.language import _
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece, listed
from crossgrain.model.seams.pairing import pair_edges
from crossgrain.model.seams.walking import walk


@dataclass(frozen=True, slots=True, kw_only=True)
class Looking:
    """What a check is told besides the pattern.

    Args:
        going_on: names, besides waist, hem, neck and armhole, of edges that are not sewn to each other.
        eases: what ease is meant on seams.
        without_grain: the ids of the pieces whose grain the drawing does not state.
    """

    going_on: tuple[str, ...] = ()
    eases: tuple[SeamEase, ...] = ()
    without_grain: frozenset[str] = frozenset()


def check_pattern(pattern: Pattern, looking: Looking | None = None) -> Checked:
    """Look over the pieces of a pattern and the seams between them.

    Args:
        pattern: the pattern.
        looking: what else is known.

    Returns:
        The findings, those on single pieces first, and what could not be checked.

    >>> check_pattern(Pattern()).findings
    ()
    """
    looking = looking or Looking()
    outlines = [(piece, check_outline(piece)) for piece in pattern.pieces]
    sound = [piece for piece, checked in outlines if not checked.findings]
    named = [piece for piece in sound if piece.edge_names != ("",)]
    return together(
        [
            *(checked for _piece, checked in outlines),
            *(_one(piece, looking.without_grain) for piece in sound),
            _bare([piece for piece in sound if piece not in named]),
            _seams(Pattern(pieces=tuple(named)), looking),
            check_dependents(pattern),
        ]
    )


def _one(piece: Piece, without_grain: Collection[str]) -> Checked:
    return together(
        [
            check_grain(piece, without_grain),
            check_darts(piece),
            check_holds(piece),
            check_allowances(piece),
            check_marks(piece),
        ]
    )


def _bare(pieces: list[Piece]) -> Checked:
    if not pieces:
        return Checked()
    sentence = _("Seams of {pieces}: the edges have no names yet; crossgrain mark names them.")
    return Checked(unchecked=(sentence.format(pieces=listed(piece.label for piece in pieces)),))


def _seams(pattern: Pattern, looking: Looking) -> Checked:
    pairs = pair_edges(pattern, looking.going_on)
    walks = with_alike_once((walk(pair) for pair in pairs.pairs), looking.eases)
    return together(
        [
            check_lengths(walks, looking.eases),
            check_notches(walks, looking.eases),
            check_joins(walks, pairs, pattern.pieces),
            Checked(unchecked=pairs.unchecked),
        ]
    )
