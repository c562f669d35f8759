"""The errors that a maker can cause and mend.

::

    CrossgrainError
    ├── InputError              what was given cannot be used
    │   ├── UnitError           a length, share, load … that cannot be read
    │   ├── DocumentError       a drawing that cannot be read, or whose scale is in doubt
    │   ├── ParameterError      an option out of range, a name that is not there
    │   └── RecipeError         a recipe that cannot be followed
    └── GeometryError           what was asked cannot be drawn
        ├── OpenOutlineError    an outline that does not close
        ├── SelfCrossingError   a line that crosses itself
        ├── CollapseError       an allowance or a reduction that leaves nothing of an edge
        └── AccuracyError       a curve that could not be drawn as true as was asked

Anything else that is raised is a fault of ours and keeps its traceback.
"""

from __future__ import annotations


class CrossgrainError(Exception):
    """Say what is wrong, where, and what to do next.

    Args:
        message: what is wrong, one sentence.
        advice: what to do next, one sentence.
        piece: the name or id of the piece, where one is concerned.
        edge: the name of the edge, where one is concerned.
        position: the place in the drawing, in mm, where one is known.

    >>> print(GeometryError("The outline crosses itself.", piece="front", position=(12.0, 40.25),
    ...                     advice="Move the nodes apart."))
    The outline crosses itself. (piece front, at x 12.0 mm, y 40.2 mm) Move the nodes apart.
    """

    def __init__(
        self,
        message: str,
        *,
        advice: str = "",
        piece: str | None = None,
        edge: str | None = None,
        position: tuple[float, float] | None = None,
    ) -> None:
        super().__init__(message)
        self.message = message
        self.advice = advice
        self.piece = piece
        self.edge = edge
        self.position = position

    def __str__(self) -> str:
        from crossgrain.language import _

        where = []
        if self.piece:
            where.append(_("piece {piece}").format(piece=self.piece))
        if self.edge:
            where.append(_("edge {edge}").format(edge=self.edge))
        if self.position is not None:
            x, y = self.position
            where.append(_("at x {x:.1f} mm, y {y:.1f} mm").format(x=x, y=y))
        parts = [self.message, f"({', '.join(where)})" if where else "", self.advice]
        return " ".join(part for part in parts if part)


class InputError(CrossgrainError):
    """What was given cannot be used."""


class UnitError(InputError):
    """A length, share or load that cannot be read."""


class DocumentError(InputError):
    """A drawing that cannot be read, or whose scale is in doubt."""


class ParameterError(InputError):
    """An option out of range, or a name that is not there."""


class RecipeError(InputError):
    """A recipe that cannot be followed."""


class GeometryError(CrossgrainError):
    """What was asked cannot be drawn."""


class OpenOutlineError(GeometryError):
    """An outline that does not close."""


class SelfCrossingError(GeometryError):
    """A line that crosses itself."""


class CollapseError(GeometryError):
    """An allowance or a reduction that leaves nothing of an edge."""


class AccuracyError(GeometryError):
    """A curve that could not be drawn as true as was asked."""
