"""The other way round: a fitting where the garment felt right is a measurement of its cloth.

The girth P₂ at which it felt right in the new cloth gives one point of that cloth's curve: T₂(G/P₂ − 1) = T₁(G/P₁ − 1).
"""

from __future__ import annotations

from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.fabric.cloth import Cloth, Learned
from crossgrain.fabric.comparison import Level
from crossgrain.fabric.estimate import Estimate
from crossgrain.language import _


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """What a fitting taught.

    Args:
        learned: the point.
        bench: the strain that the cloth's curve had foreseen for that tension.
    """

    learned: Learned
    bench: Estimate

    @property
    def was_off_by(self) -> float | None:
        """By how much the cloth stretched more than foreseen, a ratio; None where no one figure was foreseen."""
        return None if self.bench.value is None else self.learned.strain - self.bench.value


def learn(drafted_for: Cloth, new: Cloth, level: Level, fitted: float, pattern: str = "") -> Lesson:
    """Learn from a fitting.

    Args:
        drafted_for: the cloth the pattern was drafted for; its firmness is known.
        new: the cloth that was fitted.
        level: the level, with the girth of the pattern in the cloth it was drafted for.
        fitted: the girth of the garment in the new cloth when it felt right, mm, above 0.
        pattern: the name of the pattern.

    Raises:
        ParameterError: the cloth is not stretched there in one of the two, or the first cloth's firmness is unknown.
    """
    if drafted_for.cross.curve is None:
        raise ParameterError(
            _("The firmness of {cloth} is unknown, so nothing can be learned from it.").format(cloth=drafted_for.name),
            advice=_("Test the cloth the pattern was drafted for first."),
        )
    strain = level.body / fitted - 1.0
    for name, value in ((drafted_for.name, level.strain), (new.name, strain)):
        if value <= 0.0:
            raise ParameterError(
                _("In {cloth} the garment hangs loose at the {level}, so nothing can be learned there.").format(
                    cloth=name, level=level.name
                ),
                advice=_("Give a level at which it is smaller than the body."),
            )
    tension = drafted_for.cross.tension(level.strain)
    assert tension.value is not None
    if tension.is_beyond:
        raise ParameterError(
            _("{cloth} was not tested as far as it is stretched at the {level}.").format(
                cloth=drafted_for.name, level=level.name
            ),
            advice=_("Test it with a larger load first."),
        )
    bench = new.cross.strain(tension.value)
    learned = Learned(
        tension=tension.value,
        strain=strain,
        pattern=pattern,
        level=level.name,
        drafted_for=drafted_for.name,
        bench_strain=bench.value,
    )
    return Lesson(learned=learned, bench=bench)
