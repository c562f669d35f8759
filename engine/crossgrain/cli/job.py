"""What every command on a drawing is asked: which drawing, at what scale, which pieces, where to write."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import Any, Final, TypeVar

import click

from crossgrain.cli.amounts import LENGTH
from crossgrain.language import _

COMMON: Final = frozenset({"source", "output", "in_place", "overwrite", "pieces", "scale", "as_json", "show"})
"""The names of the options that say which drawing and which pieces, rather than what to do with them."""

F = TypeVar("F", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One call of a command on one drawing.

    Args:
        source: the drawing to read.
        target: the drawing to write; None for a command that only reads.
        in_place: whether that is to be the drawing read.
        overwrite: whether a file that stands where ``target`` is to be may go.
        unit_mm: the length of one user unit as stated by the maker, mm; None where the drawing itself says it.
        pieces: names or ids of the pieces meant; none means all.
        as_json: whether the data is printed as JSON.
        show: what to draw beside the pieces, of ``labels``, ``notes`` and ``before``.
    """

    source: Path
    target: Path | None = None
    in_place: bool = False
    overwrite: bool = False
    unit_mm: float | None = None
    pieces: tuple[str, ...] = ()
    as_json: bool = False
    show: frozenset[str] = frozenset()


def reads_drawing(function: F) -> F:
    """Give a command a drawing to read; the command gets a :class:`Job`."""
    return _with_options(function, _source, _pieces, _scale, _json)


def changes_drawing(function: F) -> F:
    """Give a command a drawing to read and one to write; the command gets a :class:`Job`."""
    return _with_options(function, _source, _output, _in_place, _overwrite, _pieces, _show, _scale, _json)


def changes_piece(function: F) -> F:
    """Give a command a drawing to read and one to write, and exactly one piece in it."""
    return _with_options(function, _source, _output, _in_place, _overwrite, _piece, _show, _scale, _json)


_source = click.argument("source", metavar="IN.svg", type=click.Path(path_type=Path))
_output = click.option(
    "-o", "--output", metavar="OUT.svg", type=click.Path(path_type=Path), help=_("The drawing to write.")
)
_in_place = click.option("--in-place", is_flag=True, help=_("Change IN.svg itself instead."))
_overwrite = click.option("--overwrite", is_flag=True, help=_("Write over OUT.svg where it is there already."))
_pieces = click.option(
    "--piece", "pieces", metavar="ID", multiple=True, help=_("A piece, by its id or its name; may be given again.")
)


def _one(context: click.Context, parameter: click.Parameter, pieces: tuple[str, ...]) -> tuple[str, ...]:
    if len(set(pieces)) != 1:
        raise click.BadParameter(_("Name exactly one piece."), context, parameter)
    return pieces


_piece = click.option(
    "--piece", "pieces", metavar="ID", multiple=True, callback=_one, help=_("The id of the path to mark. Required.")
)
_scale = click.option(
    "--scale",
    type=LENGTH,
    help=_("The length of one user unit, where the drawing does not say it: 1mm, 0.75pt, 1/90in."),
)
_show = click.option(
    "--show",
    type=click.Choice(["labels", "notes", "before"]),
    multiple=True,
    help=_(
        "Draw on a layer of its own: the edges' names with what changed, what to look at, or the outline before; "
        "may be given again."
    ),
)
_json = click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON; lengths in mm."))


def _with_options(function: F, *options: Callable[[Any], Any]) -> F:
    writes = _output in options

    @wraps(function)
    def with_job(**given: Any) -> Any:
        source: Path = given.pop("source")
        in_place = given.pop("in_place", False)
        job = Job(
            source=source,
            target=_target(source, given.pop("output"), in_place) if writes else None,
            in_place=in_place,
            overwrite=given.pop("overwrite", False),
            unit_mm=_unit(given.pop("scale")),
            pieces=tuple(dict.fromkeys(given.pop("pieces"))),
            as_json=given.pop("as_json"),
            show=frozenset(given.pop("show", ())),
        )
        return function(job, **given)

    wrapped: Any = with_job
    for option in reversed(options):
        wrapped = option(wrapped)
    result: F = wrapped
    return result


def _target(source: Path, output: Path | None, in_place: bool) -> Path:
    if in_place and output is not None:
        raise click.UsageError(_("-o and --in-place exclude each other. Give one of them."))
    if in_place:
        return source
    if output is None:
        raise click.UsageError(_("Say where to write: -o OUT.svg, or --in-place to change IN.svg itself."))
    return output


def _unit(scale: float | None) -> float | None:
    if scale is not None and scale <= 0.0:
        raise click.UsageError(_("--scale is zero. Give the length of one user unit, as 1mm."))
    return scale
