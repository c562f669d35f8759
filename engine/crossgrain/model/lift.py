"""Make an operation on a piece into one on a pattern: in this one place."""

from __future__ import annotations

from collections.abc import Callable

from crossgrain.errors import CrossgrainError
from crossgrain.model.outcome import Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import Piece


def on_each_piece(pattern: Pattern, operation: Callable[[Piece], Outcome[Piece]]) -> Outcome[Pattern]:
    """Do an operation on every piece of a pattern.

    Args:
        pattern: the pattern.
        operation: what to do with one piece.

    Returns:
        The pattern of the new pieces, with all their changes and findings in order.

    Raises:
        CrossgrainError: what the operation raised, with the piece named in it.

    >>> from crossgrain.model import Edge
    >>> from crossgrain.kernel.path import Path
    >>> square = Path.polygon([(0, 0), (100, 0), (100, 60), (0, 60)])
    >>> pattern = Pattern(pieces=(Piece(id="band", edges=(Edge(name="", line=Path(square.segments)),)),))
    >>> on_each_piece(pattern, lambda piece: Outcome(value=piece)).value == pattern
    True
    """
    outcomes = []
    for piece in pattern.pieces:
        try:
            outcomes.append(operation(piece))
        except CrossgrainError as error:
            error.piece = error.piece or piece.label
            raise
    return Outcome(
        value=Pattern(pieces=tuple(outcome.value for outcome in outcomes)),
        changes=tuple(change for outcome in outcomes for change in outcome.changes),
        findings=tuple(finding for outcome in outcomes for finding in outcome.findings),
    )
