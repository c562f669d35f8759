"""``crossgrain reduce``: narrow pieces along the cross grain, for cloth that stretches."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from crossgrain.cli.amounts import PRESSURE, SHARE
from crossgrain.cli.change import change
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Outcome, Pattern

_FILE = click.Path(path_type=Path)


@click.command(
    "reduce",
    cls=Command,
    example="crossgrain reduce front.svg -o narrower.svg --by 8%",
    help=COMMANDS["reduce"].summary
    + "\n\n"
    + _(
        "Holds keep their width and the piece still narrows by the share asked: the free part takes it up. Lengthways "
        "nothing moves, unless --along says so. Without --piece, all marked pieces are narrowed.\n\n"
        "How much is said by --by; or by --by-stretch, as a share of the stretch of --fabric; or by --fabric, "
        "--drafted-for and --body, which give each level of the body the girth at which the new cloth pulls as hard as "
        "the old one did."
    ),
)
@changes_drawing
@click.option("--by", type=SHARE, help=_("The share of the width to take away: 8%; -3% adds to it."))
@click.option("--along", type=SHARE, help=_("The share of the length to take away, for stretch both ways."))
@click.option("--anchor", metavar="EDGE", help=_("The edge that stays where it is, instead of the grain line or fold."))
@click.option("--fabric", metavar="NEW.toml", type=_FILE, help=_("The cloth it is to be cut from."))
@click.option("--drafted-for", metavar="OLD.toml", type=_FILE, help=_("The cloth it was drafted for."))
@click.option("--body", metavar="BODY.toml", type=_FILE, help=_("The body that is to wear it."))
@click.option(
    "--match",
    type=click.Choice(["tension", "pressure", "strain"]),
    help=_("What is to be the same in the new cloth; the tension where not said."),
)
@click.option("--pressure", type=PRESSURE, help=_("With --match pressure: the pressure wanted at each level: 1.0kPa."))
@click.option("--opening", metavar="EDGE", help=_("The edge whose holds lie under the other side; centre if not said."))
@click.option("--accept-pressure", is_flag=True, help=_("Go on above 3.3 kPa; you answer for it."))
@click.option("--by-stretch", type=SHARE, help=_("The share of the stretch of --fabric to use: 50%."))
def command(job: Job, *, by: float | None, by_stretch: float | None, **given: Any) -> Exit:
    """Narrow pieces."""
    ways = [by is not None, by_stretch is not None, given["body"] is not None]
    if sum(ways) != 1:
        raise click.UsageError(
            _(
                "Say how much in one way: --by 8%, or --by-stretch 50% with --fabric, or --fabric with --drafted-for "
                "and --body."
            )
        )
    even = {name: given.pop(name) for name in ("along", "anchor")}
    if given["body"] is not None:
        _none_of(even, "--body")
        return change(job, _by_cloth(**given))
    if by is not None:
        _none_of(given, "--by")
        return change(job, _by_share(by, even))
    drafted_for, fabric = given.pop("drafted_for"), given.pop("fabric")
    _none_of(given, "--by-stretch")
    return change(job, _by_share(_share(by_stretch, fabric, drafted_for), even))


def _none_of(given: dict[str, Any], way: str) -> None:
    """Refuse options that mean nothing in the way chosen."""
    for name, value in given.items():
        if value:
            raise click.UsageError(
                _("--{option} does not go with {way}.").format(option=name.replace("_", "-"), way=way)
            )


def _share(by_stretch: float | None, fabric: Path | None, drafted_for: Path | None) -> float:
    from crossgrain.fabric.by_stretch import share_by_stretch
    from crossgrain.files import read_cloth_file

    if fabric is None or by_stretch is None:
        raise click.UsageError(_("--by-stretch needs the stretch of a cloth: add --fabric NEW.toml."))
    old = None if drafted_for is None else read_cloth_file(drafted_for)
    return share_by_stretch(by_stretch, read_cloth_file(fabric), old)


def _by_share(by: float, even: dict[str, Any]) -> Callable[[Pattern], Outcome[Pattern]]:
    from crossgrain.operations.reduction import Reduction, reduce

    reduction = Reduction(by=by, **{name: value for name, value in even.items() if value is not None})
    return lambda pattern: reduce(pattern, reduction)


def _by_cloth(
    *,
    fabric: Path | None,
    drafted_for: Path | None,
    body: Path,
    match: str | None,
    pressure: float | None,
    **given: Any,
) -> Callable[[Pattern], Outcome[Pattern]]:
    from crossgrain.cli.fabric.matching import matching
    from crossgrain.fabric.pressure import ESTIMATE
    from crossgrain.files import read_body_file, read_cloth_file
    from crossgrain.operations.cloth_reduction import ClothReduction, reduce_by_cloth

    if fabric is None or drafted_for is None:
        raise click.UsageError(_("--body goes with two cloths: --fabric NEW.toml and --drafted-for OLD.toml."))
    reduction = ClothReduction(
        fabric=read_cloth_file(fabric),
        drafted_for=read_cloth_file(drafted_for),
        body=read_body_file(body),
        matching=matching(match, pressure),
        **{name: value for name, value in given.items() if value is not None},
    )
    say(ESTIMATE)
    return lambda pattern: reduce_by_cloth(pattern, reduction)
