"""A figure with the range it may lie in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A figure, and the range that the readings leave open.

    Args:
        value: the figure; None where only the range is known.
        low: the lower end of the range.
        high: the upper end; may be endless.
        is_beyond: whether it lies beyond what was tested.
    """

    value: float | None
    low: float
    high: float
    is_beyond: bool = False

    def mapped(self, change: Callable[[float], float]) -> Estimate:
        """Return the estimate of what follows from it by a law that only rises or only falls.

        >>> Estimate(value=2.0, low=1.0, high=4.0).mapped(lambda x: 1.0 / x)
        Estimate(value=0.5, low=0.25, high=1.0, is_beyond=False)
        """
        ends = sorted((change(self.low), change(self.high)))
        return Estimate(
            value=None if self.value is None else change(self.value),
            low=ends[0],
            high=ends[1],
            is_beyond=self.is_beyond,
        )

    @property
    def middle(self) -> float:
        """The figure, or the middle of the range where only that is known."""
        return (self.low + self.high) / 2.0 if self.value is None else self.value

    @property
    def worst(self) -> float:
        """The figure, or the upper end of the range where only that is known: what a caution goes by."""
        return self.high if self.value is None else self.value
