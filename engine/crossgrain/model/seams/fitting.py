"""A record of fittings: what was basted, on whom, in which cloth, one after the other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

from crossgrain.errors import ParameterError
from crossgrain.language import _, level_key
from crossgrain.model.seams.station import Station

Measured = Literal["inside", "seam girth", "garment girth"]

MEASURED: Final[tuple[Measured, ...]] = ("inside", "seam girth", "garment girth")
"""What an amount was measured as: a distance stitched inside the old line, the girth that one seam takes, or the girth
that all seams of the garment take together."""

LAYERS: Final = 2
"""A seam takes what is stitched inside the old line from two layers of cloth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Basted:
    """What was basted at one seam in one go.

    Args:
        seam: the name of the seam's edges.
        at: stations with their amounts, mm; negative amounts let out.
        measured: what the amounts are.
        seams: how many such seams the garment has; 2 side seams, 1 centre back.
        cloth: what it was sewn in.
        note: what else is to be remembered.
    """

    seam: str
    at: tuple[tuple[Station, float], ...]
    measured: Measured = "inside"
    seams: int = 2
    cloth: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if not self.at:
            raise ParameterError(_("Nothing was basted."), advice=_("Give an amount at each station."))
        if self.measured not in MEASURED:
            raise ParameterError(
                _("Amounts are not measured as “{what}”.").format(what=self.measured),
                advice=_("They are: {names}.").format(names=", ".join(MEASURED)),
            )
        if self.seams < 1:
            raise ParameterError(_("A garment has one such seam at least."))

    @property
    def inside(self) -> tuple[tuple[Station, float], ...]:
        """The amounts as distances stitched inside the old line, mm.

        >>> basted = Basted(seam="side", at=((Station(name="hip"), 48.0),), measured="garment girth")
        >>> basted.inside[0][1]
        12.0
        """
        parts = {"inside": 1, "seam girth": LAYERS, "garment girth": LAYERS * self.seams}[self.measured]
        return tuple((station, amount / parts) for station, amount in self.at)


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingRecord:
    """All that was basted on one person's garment, in order.

    Args:
        person: for whom.
        garment: which garment.
        bastings: what was basted, the first fitting first.
    """

    person: str = ""
    garment: str = ""
    bastings: tuple[Basted, ...] = ()

    def up_to(self, count: int | None) -> FittingRecord:
        """Return the record as it stood after so many bastings; as it is where no number is given.

        Raises:
            ParameterError: it never had so many.
        """
        if count is None:
            return self
        if not 0 <= count <= len(self.bastings):
            raise ParameterError(
                _("The record has {count} bastings.").format(count=len(self.bastings)),
                advice=_("Give a number from 0 to that."),
            )
        return FittingRecord(person=self.person, garment=self.garment, bastings=self.bastings[:count])

    def of_seam(self, seam: str) -> tuple[Basted, ...]:
        """Return what was basted at one seam.

        Raises:
            ParameterError: nothing was.
        """
        found = tuple(basted for basted in self.bastings if basted.seam == seam)
        if not found:
            raise ParameterError(
                _("Nothing was basted at {seam}.").format(seam=seam),
                advice=_("The record has: {names}.").format(
                    names=", ".join(dict.fromkeys(basted.seam for basted in self.bastings)) or _("nothing")
                ),
            )
        return found


def for_another_size(record: FittingRecord, fitted: Mapping[str, float], now: Mapping[str, float]) -> FittingRecord:
    """Return a record with its amounts scaled by the girths of two bodies.

    An amount at a level is scaled by the girths there; at another station by those of the hip, which is where trousers
    are fitted.

    Args:
        record: what was basted on the first body.
        fitted: its girths by level, mm.
        now: those of the second.

    Raises:
        ParameterError: neither the level's girths nor those of the hip are known of both.

    >>> basted = Basted(seam="side", at=((Station(name="hip"), 10.0),))
    >>> record = for_another_size(FittingRecord(bastings=(basted,)), {"hip": 1000.0}, {"hip": 1040.0})
    >>> record.bastings[0].at[0][1]
    10.4
    """

    def ratio(station: Station) -> float:
        for level in (level_key(station.name), _HIP):
            if level in fitted and level in now:
                return now[level] / fitted[level]
        raise ParameterError(
            _("The hip girths of both bodies are not known, so nothing can be scaled by them."),
            advice=_("Add hip_girth to both body files."),
        )

    return replace(
        record,
        bastings=tuple(
            replace(basted, at=tuple((station, amount * ratio(station)) for station, amount in basted.at))
            for basted in record.bastings
        ),
    )


_HIP: Final = "hip"
