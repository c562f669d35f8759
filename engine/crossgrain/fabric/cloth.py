"""A cloth: what is known of it in each direction, and what that says of strain and tension."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.fabric.bench import Pull, Strip
from crossgrain.fabric.curve import Curve, pooled
from crossgrain.fabric.estimate import Estimate
from crossgrain.language import _

DirectionName = Literal["cross", "along", "bias"]
DIRECTIONS: Final[tuple[DirectionName, ...]] = ("cross", "along", "bias")

FIRMNESS_AT: Final = (0.05, 0.10, 0.15, 0.20)
"""The strains at which firmness is stated."""

_HAND: Final = (0.98, 6.0)
"""Between these tensions, N/cm, a hand pulls: from the largest load of the FAST laboratory test (100 gf/cm) to that
of EN 14704-1 on woven strips (6 N/cm). How hard one person pulls is not known any better."""

_SHAPES: Final = (0.5, 1.0)
"""Slopes of strain against tension in logarithms, from cloth that stiffens as the square to cloth that does not."""

_TAUGHT_ERROR: Final = 0.003
"""How truly a fitting tells a strain, a ratio: a girth of a metre is known to some 3 mm."""

_CLEARLY: Final = 1.01
"""A reading whose strain is within this factor of a learned one says nothing against or for it."""

_NEAR: Final = 1.25
"""A learned point stands in for readings within this factor of its tension: on a body a fitting is nearer the truth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What a fitting taught: at this tension the cloth stretched so far.

    Args:
        tension: N/cm, above 0.
        strain: a ratio, above 0.
        pattern: the pattern that was fitted.
        level: where on the body.
        drafted_for: the cloth in which the tension was known.
        bench_strain: what the bench test had said for that tension; None where it said no one figure.
    """

    tension: float
    strain: float
    pattern: str = ""
    level: str = ""
    drafted_for: str = ""
    bench_strain: float | None = None

    def __post_init__(self) -> None:
        for value in (self.tension, self.strain):
            if not (math.isfinite(value) and value > 0.0):
                raise ParameterError(
                    _("A fitting teaches nothing where the cloth is not stretched."),
                    advice=_("Give a level at which the garment is smaller than the body."),
                )


@dataclass(frozen=True, slots=True, kw_only=True)
class Direction:
    """What is known of a cloth in one direction.

    Args:
        test: a strip hung with loads, or a length pulled by hand.
        learned: what fittings taught.
        curve: the curve, where there are two points to draw it through; None where only the stretch is known.
    """

    test: Strip | Pull
    learned: tuple[Learned, ...] = ()
    curve: Curve | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "curve", self._drawn())

    def _drawn(self) -> Curve | None:
        taught = tuple((one.tension, one.strain) for one in self.learned)
        if isinstance(self.test, Pull):
            return Curve(taught) if len(pooled(taught, _TAUGHT_ERROR)) > 1 else None
        error = self.test.reading_error / self.test.gauge
        kept = tuple(
            point for point in self.test.points if all(not 1 / _NEAR < point[0] / t < _NEAR for t, _e in taught)
        )
        # Learned points stand though readings say otherwise: those that would have to fall are left out.
        for t, e in taught:
            kept = tuple(point for point in kept if _rise(point, (t, e)))
        if len(pooled(kept + taught, error)) < 2 and taught:
            # A fitting that stands in for every reading says by how much the bench was off; the shape it saw stays.
            t, e = taught[-1]
            share = e / Curve(self.test.points, error).strain_at(t)
            return Curve(tuple((s, f * share) for s, f in self.test.points), error * share)
        return Curve(kept + taught, error)

    @property
    def stretch(self) -> float:
        """The strain under the largest load, or by hand where that is all that is known, a ratio."""
        return self.curve.stretch if self.curve else self._pulled

    @property
    def growth(self) -> float | None:
        """The growth after release, where it was read."""
        return self.test.growth if isinstance(self.test, Strip) else None

    @property
    def _pulled(self) -> float:
        assert isinstance(self.test, Pull)
        return self.test.stretch

    def strain(self, tension: float) -> Estimate:
        """Return the strain under a tension, N/cm; a range alone where the firmness is unknown."""
        if self.curve is not None:
            return self.curve.strain(tension)
        if tension <= 0.0:
            return Estimate(value=0.0, low=0.0, high=0.0)
        found = [at * (tension / pull) ** shape for pull, at in self._anchors() for shape in _SHAPES]
        return Estimate(value=None, low=min(found), high=max(found), is_beyond=min(found) > self.stretch)

    def tension(self, strain: float) -> Estimate:
        """Return the tension at a strain; a range alone where the firmness is unknown."""
        if self.curve is not None:
            return self.curve.tension(strain)
        if strain <= 0.0:
            return Estimate(value=0.0, low=0.0, high=0.0)
        found = [pull * (strain / at) ** (1.0 / shape) for pull, at in self._anchors() for shape in _SHAPES]
        return Estimate(value=None, low=min(found), high=max(found), is_beyond=strain > self.stretch)

    def _anchors(self) -> list[tuple[float, float]]:
        if self.learned:
            return [(one.tension, one.strain) for one in self.learned]
        return [(pull, self._pulled) for pull in _HAND]

    def matching(self, other: Direction, strain: float) -> Estimate:
        """Return the strain at which this cloth pulls as hard as another does at a strain.

        Args:
            other: the other cloth, for instance the one a pattern was drafted for.
            strain: its strain, a ratio.

        Returns:
            The strain; where either firmness is unknown, a range alone. The same cloth gives the same strain.
        """
        if strain <= 0.0 or self == other:
            return Estimate(value=strain, low=strain, high=strain, is_beyond=strain > self.stretch)
        tension = other.tension(strain)
        ends = [self.strain(tension.low), self.strain(tension.high if math.isfinite(tension.high) else tension.middle)]
        middle = None if tension.value is None else self.strain(tension.value)
        return Estimate(
            value=None if middle is None else middle.value,
            low=ends[0].low,
            high=ends[1].high,
            is_beyond=tension.is_beyond or (ends[0] if middle is None else middle).is_beyond,
        )


def _rise(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Tell whether of two points the one of more tension has clearly more strain."""
    (_t0, low), (_t1, high) = sorted((one, other))
    return low * _CLEARLY < high


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """A cloth as its file describes it.

    Args:
        name: what the maker calls it.
        composition: what it is made of, in free words. Nothing is worked out from it: stretch does not follow from the
            share of elastane.
        cross: across the grain, where most stretch lies.
        along: along the grain; None where it was not tested.
        bias: on the bias; None where it was not tested.
    """

    name: str
    cross: Direction
    composition: str = ""
    along: Direction | None = None
    bias: Direction | None = None

    def direction(self, name: DirectionName) -> Direction:
        """Return what is known in a direction.

        Raises:
            ParameterError: it was not tested.
        """
        found: Direction | None = getattr(self, name)
        if found is None:
            raise ParameterError(
                _("{cloth} was not tested in the direction “{direction}”.").format(cloth=self.name, direction=name),
                advice=_("Cut a strip in that direction and test it."),
            )
        return found

    @property
    def along_to_cross(self) -> float | None:
        """How far it stretches along the grain for each share across it, both under the same tension where known."""
        if self.along is None:
            return None
        one, other = self.along.curve, self.cross.curve
        if one is None or other is None:
            return self.along.stretch / self.cross.stretch
        tension = min(one.largest_tension, other.largest_tension)
        return one.strain_at(tension) / other.strain_at(tension)

    def having_learned(self, learned: Learned, direction: DirectionName = "cross") -> Cloth:
        """Return the cloth with one more learned point."""
        old = self.direction(direction)
        new = Direction(test=old.test, learned=(*old.learned, learned))
        return replace(self, **{direction: new})  # type: ignore[arg-type]  # the name of a field
