"""From the options ``--match`` and ``--pressure`` to what is to be matched."""

from __future__ import annotations

from typing import cast

from crossgrain.fabric.comparison import Match, Matching


def matching(match: str | None, pressure: float | None) -> Matching:
    """Return what is to be matched; the tension where nothing was said.

    Args:
        match: ``tension``, ``pressure``, ``strain``, or None.
        pressure: the pressure asked for, kPa, or None.

    Raises:
        ParameterError: a pressure without matching pressure.
    """
    return Matching(match=cast(Match, match or "tension"), target=pressure)
