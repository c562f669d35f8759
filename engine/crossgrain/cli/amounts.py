"""What options take: amounts with their units, and marks in the written form of :mod:`crossgrain.notation`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import click

from crossgrain.errors import InputError
from crossgrain.notation import (
    read_cut,
    read_dart,
    read_grain,
    read_hold,
    read_names,
    read_notch,
    read_outline_spot,
    read_width,
)
from crossgrain.units import parse_length, parse_load, parse_pressure, parse_share


class Written(click.ParamType):  # type: ignore[type-arg]  # generic only in later versions of click
    """A text that is read by one function.

    Args:
        name: what the help shows in its place, as ``LENGTH``.
        read: reads the text, or raises :class:`InputError`.
    """

    def __init__(self, name: str, read: Callable[[str], object]) -> None:
        self.name = name
        self.read = read

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return what was read, or say on the command line's own terms why it cannot be."""
        if not isinstance(value, str):
            return value
        try:
            read = self.read(value)
        except InputError as error:
            self.fail(str(error), param, ctx)
        if ctx is not None and param is not None and param.name is not None:
            written(ctx).setdefault(param.name, []).append(value)
        return read


def written(context: click.Context) -> dict[str, list[str]]:
    """Return the texts that were read so far, as the maker wrote them, by the name of the option."""
    texts: dict[str, list[str]] = context.meta.setdefault("crossgrain.written", {})
    return texts


LENGTH: Final = Written("LENGTH", parse_length)
SHARE: Final = Written("SHARE", lambda text: parse_share(text, signed=True))
LOAD: Final = Written("LOAD", parse_load)
PRESSURE: Final = Written("PRESSURE", parse_pressure)
EDGE_LENGTH: Final = Written("EDGE=LENGTH", read_width)
EDGES: Final = Written("NAMES", read_names)
SPOT: Final = Written("SPOT", read_outline_spot)
GRAIN: Final = Written("GRAIN", read_grain)
NOTCH: Final = Written("EDGE=SPOT", read_notch)
DART: Final = Written("EDGE=SPOT …", read_dart)
HOLD: Final = Written("EDGE=LENGTH …", read_hold)
CUT: Final = Written("CUT", read_cut)
GIRTH: Final = Written("LEVEL=LENGTH", read_width)
