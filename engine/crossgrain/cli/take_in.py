"""``crossgrain take-in``: move a seam by what was basted at the fitting."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from crossgrain.cli.amounts import BASTING, NODES, SIDE_SHARE, SIGNED_LENGTH
from crossgrain.cli.change import change_drawing
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.levels import BODY, LEVEL, levels_of
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from crossgrain.model import Finding, Outcome, Pattern
    from crossgrain.model.seams.fitting import Basted
    from crossgrain.model.seams.handed import Hand
    from crossgrain.model.seams.station import Station
    from crossgrain.svg.drawing import Drawing

    Amounts = tuple[tuple[Station, float], ...]


@click.command(
    "take-in",
    cls=Command,
    example="crossgrain take-in trousers.svg -o fitted.svg --seam side --at waist=0mm --at 20%=12mm --at hem=6mm",
    help=COMMANDS["take-in"].summary
    + "\n\n"
    + _(
        "A seam is found by its name on every piece that has it. Amounts are distances stitched inside the old line; "
        "negative ones let out. A station is an end, by the edge that the seam meets there; a level, with --body or "
        "--level; a share of the seam; a distance from an end; or a notch. Between stations amounts are blended "
        "without overshoot; where they are zero nothing moves. The ends slide along the edges beside the seam. With "
        "--seam dart the darts that are marked are taken in at their mouths: --at waist=3mm."
    ),
)
@changes_drawing
@click.option("--seam", metavar="EDGE", help=_("The name of the edges that are sewn together there."))
@click.option(
    "--from",
    "record",
    metavar="RECORD.toml",
    type=click.Path(path_type=Path),
    help=_("Apply what a record of fittings adds up to; every seam of it, or the one named."),
)
@click.option("--up-to", type=click.IntRange(1), help=_("Only the record's first so many bastings."))
@click.option(
    "--fitted-on",
    metavar="OLD.toml",
    type=click.Path(path_type=Path),
    help=_("The body that was fitted, where --body is another: amounts are scaled by the girths of both."),
)
@click.option(
    "--at",
    type=BASTING,
    multiple=True,
    help=_("An amount at a station: waist=0mm, hip=12mm, 60%=10mm, 120mm from waist=6mm, notch 2=5mm; several."),
)
@click.option(
    "--nodes",
    type=NODES,
    help=_("Take in at nodes of a piece by --by: 3 5 9 of front; from three on, nothing moves at the outermost two."),
)
@click.option("--by", type=SIGNED_LENGTH, help=_("How much at the nodes between; to nothing at both ends."))
@click.option(
    "--girth", "is_girth", is_flag=True, help=_("The amounts are what the whole garment is to lose in girth there.")
)
@click.option(
    "--share",
    "shares",
    type=SIDE_SHARE,
    multiple=True,
    help=_("What share of both sides together a side takes: front=40% moves the seam; half each if not said."),
)
@click.option("--left", "only", flag_value="left", help=_("Only on the left; a piece cut mirrored becomes two."))
@click.option("--right", "only", flag_value="right", help=_("Only on the right; a piece cut mirrored becomes two."))
@LEVEL
@BODY
def command(
    job: Job,
    *,
    seam: str | None,
    at: tuple[tuple[Station, float], ...],
    is_girth: bool,
    shares: tuple[tuple[str, float], ...],
    levels: tuple[tuple[str, float], ...],
    body: Path | None,
    record: Path | None,
    nodes: tuple[tuple[int, ...], str] | None,
    by: float | None,
    only: Hand | None,
    **of_record: Any,
) -> Exit:
    """Move a seam."""
    from crossgrain.model.outcome import Outcome as Done
    from crossgrain.model.outline_spot import OutlineSpot
    from crossgrain.model.seams.chosen_places import at_chosen
    from crossgrain.operations.dart_taking_in import DartTakeIn, are_darts, take_in_darts
    from crossgrain.operations.take_in import Basting, TakeIn, take_in
    from crossgrain.svg.nodes import spot_at_node, station_at_node

    if sum((bool(at), record is not None, nodes is not None)) != 1:
        raise click.UsageError(
            _("Say how much in one way: --at hip=12mm at each station, --nodes with --by, or --from RECORD.toml.")
        )
    if (nodes is None) != (by is None):
        raise click.UsageError(_("--nodes and --by go together: where, and how much."))
    if at and seam is None:
        raise click.UsageError(_("Say which seam: --seam side."))
    if record is None and any(value is not None for value in of_record.values()):
        raise click.UsageError(_("--up-to and --fitted-on go with --from RECORD.toml."))
    if record is not None and is_girth:
        raise click.UsageError(_("--girth does not go with --from: the record says what its amounts are."))
    fittings: dict[str, tuple[Amounts, ...]] = {str(seam): (at,)}
    recorded: dict[str, tuple[Basted, ...]] = {}
    if record is not None:
        recorded = _recorded(record, seam, body, **of_record)
        fittings = {name: tuple(basted.inside for basted in bastings) for name, bastings in recorded.items()}

    def wanted_of(drawing: Drawing, pattern: Pattern) -> dict[str, tuple[Amounts, ...]]:
        if nodes is None or by is None:
            return fittings
        numbers, name = nodes
        if not name and len(pattern.pieces) != 1:
            raise click.UsageError(_("Say which piece has the nodes: --nodes “3 5 9 of front”."))
        piece = pattern.piece(name) if name else pattern.pieces[0]
        points = [spot_at_node(drawing, piece.id, OutlineSpot(node=number)).point for number in numbers]
        found, amounts = at_chosen(piece, [point for point in points if point is not None], by, seam or "")
        return {found: (amounts,)}

    def taken_in(drawing: Drawing, pattern: Pattern) -> Outcome[Pattern]:
        def basted(one: Amounts) -> tuple[Basting, ...]:
            return tuple(
                Basting(station=station_at_node(drawing, pattern, station), amount=amount) for station, amount in one
            )

        outcome: Outcome[Pattern] = Done(value=pattern)
        for name, (*earlier, last) in wanted_of(drawing, pattern).items():
            if are_darts(outcome.value, name):
                if shares:
                    raise click.UsageError(_("--share does not go with darts: both legs take alike."))
                darts = DartTakeIn(at=last, earlier=tuple(earlier), is_girth=is_girth, only=only)
                outcome = outcome.then(take_in_darts(outcome.value, darts))
                continue
            wanted = TakeIn(
                seam=name,
                at=basted(last),
                earlier=tuple(basted(one) for one in earlier),
                is_girth=is_girth,
                shares=shares,
                only=only,
                levels=levels_of(body, levels),
            )
            outcome = outcome.then(take_in(outcome.value, wanted))
        if not job.pieces:
            outcome = replace(outcome, findings=(*outcome.findings, *_miscounted(pattern, recorded)))
        return outcome

    return change_drawing(job, taken_in)


def _recorded(
    record: Path, seam: str | None, body: Path | None, *, up_to: int | None, fitted_on: Path | None
) -> dict[str, tuple[Basted, ...]]:
    """Return what a record holds for one seam or for all of them, fitting by fitting."""
    from crossgrain.files import read_body_file, read_record_file
    from crossgrain.model.seams.fitting import for_another_size

    read = read_record_file(record).up_to(up_to)
    if fitted_on is not None:
        if body is None:
            raise click.UsageError(_("--fitted-on needs the body it is for now: add --body BODY.toml."))
        girths = [
            {level.name: level.girth for level in read_body_file(file).levels if level.girth is not None}
            for file in (fitted_on, body)
        ]
        read = for_another_size(read, *girths)
    seams = dict.fromkeys(basted.seam for basted in read.bastings) if seam is None else (seam,)
    return {name: read.of_seam(name) for name in seams}


def _miscounted(pattern: Pattern, recorded: Mapping[str, Sequence[Basted]]) -> Iterator[Finding]:
    """Return what to say of girth of the garment that was shared among another number of seams than it has."""
    from crossgrain.model.seams.seam import sides_of
    from crossgrain.model.seams.seam_findings import other_count
    from crossgrain.operations.dart_taking_in import are_darts

    for name, bastings in recorded.items():
        for said in dict.fromkeys(one.seams for one in bastings if one.measured == "garment girth"):
            if not are_darts(pattern, name):
                yield from other_count(sides_of(pattern, name), said)
