"""Figures of cloths as texts for a table and as values for JSON."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import asdict, is_dataclass
from typing import Any

from crossgrain.fabric.estimate import Estimate


def estimate_text(estimate: Estimate, write: Callable[[float], str]) -> str:
    """Write an estimate: the figure, or the range where only that is known; ``> …`` where nothing was tested.

    >>> estimate_text(Estimate(value=None, low=1.0, high=2.0), lambda x: f"{x:.1f} N/cm")
    '1.0 … 2.0 N/cm'
    """
    if estimate.value is not None:
        return write(estimate.value) + (" ?" if estimate.is_beyond else "")
    if not math.isfinite(estimate.high):
        return f"> {write(estimate.low)}"
    first, last = write(estimate.low), write(estimate.high)
    unit = last[last.index(" ") :] if " " in last else ""
    return f"{first.removesuffix(unit)} … {last}"


def range_text(estimate: Estimate, write: Callable[[float], str]) -> str:
    """Write the range of an estimate."""
    return estimate_text(Estimate(value=None, low=estimate.low, high=estimate.high), write)


def data_of(value: Any) -> Any:
    """Return a value as JSON holds it: what is endless becomes null."""
    if is_dataclass(value) and not isinstance(value, type):
        return {name: data_of(part) for name, part in asdict(value).items()}
    if isinstance(value, dict):
        return {name: data_of(part) for name, part in value.items()}
    if isinstance(value, list | tuple):
        return [data_of(part) for part in value]
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
