"""A table of bodies: measures of the body in each size of a range."""

from __future__ import annotations

from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.piece import listed
from crossgrain.model.sizes.grade_rules import check_order


@dataclass(frozen=True, slots=True, kw_only=True)
class BodySizes:
    """Measures of the body, size by size.

    Args:
        sizes: the names of the sizes, from the smallest.
        measures: by their names in ISO 8559-1, as ``hip_girth``; mm, one for each size.

    >>> BodySizes(sizes=("S", "M"), measures=(("hip_girth", (900.0, 960.0)),)).steps("hip_girth", "S")
    (0.0, 60.0)
    """

    sizes: tuple[str, ...]
    measures: tuple[tuple[str, tuple[float, ...]], ...]

    def __post_init__(self) -> None:
        check_order(self.sizes)

    def measure(self, name: str) -> tuple[float, ...]:
        """Return a measure in each size, mm.

        Raises:
            ParameterError: the table has no such column.
        """
        for measure, values in self.measures:
            if measure == name:
                return values
        raise ParameterError(
            _("The table of bodies has no column {name}.").format(name=name),
            advice=_("Its columns are: {names}.").format(names=listed(measure for measure, _values in self.measures)),
        )

    def steps(self, name: str, base: str) -> tuple[float, ...]:
        """Return by how much a measure differs from that of a size, mm, for each size.

        Raises:
            ParameterError: no such column, or no such size.
        """
        if base not in self.sizes:
            raise ParameterError(
                _("There is no size {name}.").format(name=base),
                advice=_("The sizes are: {names}.").format(names=listed(self.sizes)),
            )
        values = self.measure(name)
        return tuple(value - values[self.sizes.index(base)] for value in values)
