"""What an operation gives back: the new value, what it changed, what to look at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, Literal, TypeVar

from crossgrain.kernel.affine import Point
from crossgrain.language import _
from crossgrain.model.piece import Piece

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One figure that an operation changed, in words a maker reads.

    Args:
        piece: the piece's label.
        what: what was changed, as ``width at the widest``.
        before: the old figure.
        after: the new figure.
        unit: ``mm``, ``mm2``, ``nodes`` or ``ratio``.
        edge: the edge concerned, or none.
    """

    piece: str
    what: str
    before: float
    after: float
    unit: Literal["mm", "mm2", "nodes", "ratio"] = "mm"
    edge: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing to look at. It stops nothing and mends nothing.

    Args:
        piece: the piece's label.
        message: what is wrong or worth a look, one sentence.
        advice: what to do next, one sentence.
        edge: the edge concerned, or none.
        position: the place in the drawing, mm, where one is known.
        severity: ``caution`` for what can hurt a body or spoil cloth, ``note`` for the rest.
        answered_by: the step that does what is advised, where one does: ``follow``, ``allow``, ``true side`` with the
            seam, ``true darts``.
    """

    piece: str
    message: str
    advice: str = ""
    edge: str = ""
    position: Point | None = None
    severity: Literal["caution", "note"] = "note"
    answered_by: str = ""

    @property
    def kind(self) -> str:
        """The word that stands before it."""
        return _("Caution") if self.severity == "caution" else _("Note")

    @property
    def where(self) -> str:
        """The piece and the edge in words; empty where neither is concerned."""
        return ", ".join(part for part in (self.piece, self.edge) if part)

    @property
    def said(self) -> str:
        """The message and the advice, one after the other."""
        return " ".join(part for part in (self.message, self.advice) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome(Generic[T]):
    """A new value with what was changed and what to look at."""

    value: T
    changes: tuple[Change, ...] = ()
    findings: tuple[Finding, ...] = ()

    def then(self, later: Outcome[T]) -> Outcome[T]:
        """Return what came of this and of something done to its value afterwards."""
        return Outcome(
            value=later.value,
            changes=(*self.changes, *later.changes),
            findings=(*self.findings, *later.findings),
        )


def counterpart_gone(piece: Piece) -> tuple[Finding, ...]:
    """Return what to say of a piece whose other line was drawn before its outline changed; nothing where none was."""
    if piece.counterpart is None:
        return ()
    return (
        Finding(
            piece=piece.label,
            message=_("The other line beside the outline no longer fits and was taken away."),
            advice=_("Draw the allowance again: crossgrain allow IN.svg -o OUT.svg --renew."),
            answered_by="allow",
        ),
    )
