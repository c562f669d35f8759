"""Options whose texts are read by one function, and the texts as they were written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from crossgrain.errors import InputError


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
