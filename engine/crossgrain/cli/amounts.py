"""Amounts as options take them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import click

from crossgrain.errors import UnitError
from crossgrain.language import _
from crossgrain.units import parse_angle, parse_length, parse_share


class Amount(click.ParamType):  # type: ignore[type-arg]  # generic only in later versions of click
    """An amount with its unit.

    Args:
        name: what the help shows in its place, as ``LENGTH``.
        read: reads the text or raises :class:`UnitError`.
    """

    def __init__(self, name: str, read: Callable[[str], float]) -> None:
        self.name = name
        self.read = read

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Return the amount in mm, radians or as a ratio."""
        if isinstance(value, float):
            return value
        try:
            return self.read(value)
        except UnitError as error:
            self.fail(str(error), param, ctx)


class NamedAmount(click.ParamType):  # type: ignore[type-arg]  # as above
    """An amount for something named, as ``hem=30mm``.

    Args:
        name: what the help shows in its place, as ``EDGE=LENGTH``.
        amount: how the part after the sign is read.
        example: what to write, for the message.
    """

    def __init__(self, name: str, amount: Amount, example: str) -> None:
        self.name = name
        self.amount = amount
        self.example = example

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[str, float]:
        """Return the name and the amount."""
        if isinstance(value, tuple):
            return value
        named, sign, text = value.partition("=")
        if not named.strip() or not sign:
            self.fail(
                _("“{text}” does not name what it is for. Write it as {example}.").format(
                    text=value, example=self.example
                ),
                param,
                ctx,
            )
        return named.strip(), self.amount.convert(text, param, ctx)


LENGTH: Final = Amount("LENGTH", parse_length)
SHARE: Final = Amount("SHARE", parse_share)
ANGLE: Final = Amount("ANGLE", parse_angle)
EDGE_LENGTH: Final = NamedAmount("EDGE=LENGTH", LENGTH, "hem=30mm")
