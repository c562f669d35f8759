"""``crossgrain grade``: make the other sizes from the base."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from crossgrain.cli.amounts import GRADE_POINT
from crossgrain.cli.change import Asked, change_drawing
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job, changes_drawing
from crossgrain.cli.program import COMMANDS
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Finding, Outcome, Pattern
    from crossgrain.model.sizes.grade_point import GradePoint
    from crossgrain.model.sizes.grade_rules import GradeRules
    from crossgrain.svg.drawing import Drawing
    from crossgrain.svg.size_words import SizeWords

_FILE: Final = click.Path(path_type=Path)


@click.command(
    "grade",
    cls=Command,
    example="crossgrain grade trousers.svg --rules grade-rules.toml -o sizes --sizes 8-14",
    help=COMMANDS["grade"].summary
    + "\n\n"
    + _(
        "Writes into the folder OUTDIR a drawing for each size, and one with all sizes on top of each other, a layer "
        "for each. With --size or --to-body it writes one size or one body's size as OUT.svg instead; with --stacked "
        "the drawing as it is with all sizes over it. What follows other pieces is brought up to date in each size."
    ),
)
@changes_drawing
@click.option(
    "--rules", metavar="R.toml", type=_FILE, required=True, help=_("The rules; crossgrain grade-rules makes them.")
)
@click.option("--sizes", metavar="SIZES", help=_("Only these: 8-14, or 8, 12. All if not said."))
@click.option("--size", metavar="SIZE", help=_("Only this one, in the drawing OUT.svg."))
@click.option(
    "--to-body",
    metavar="BODY.toml",
    type=_FILE,
    help=_("For one body: each of its measures falls where it does among the sizes, or beyond them."),
)
@click.option("--stacked", is_flag=True, help=_("Draw all sizes over the pieces, a layer for each, and leave these."))
@click.option(
    "--stack-at",
    type=GRADE_POINT,
    multiple=True,
    help=_("Where sizes lie on one another: “front: waist/centre”; may be given again for other pieces."),
)
def command(
    job: Job,
    *,
    rules: Path,
    sizes: str | None,
    size: str | None,
    to_body: Path | None,
    stacked: bool,
    stack_at: tuple[GradePoint, ...],
) -> Exit:
    """Grade a pattern."""
    from crossgrain.files import read_text
    from crossgrain.notation.grade_rules import read_grade_rules

    if sum((size is not None, to_body is not None, stacked)) > 1:
        raise click.UsageError(_("--size, --to-body and --stacked exclude each other. Give one of them."))
    single = size is not None or to_body is not None
    if single and (sizes is not None or stack_at):
        raise click.UsageError(_("--sizes and --stack-at go with several sizes, not with --size or --to-body."))
    read = read_grade_rules(read_text(rules), rules.name)
    if single:
        return _one(job, read, size, to_body)
    if isinstance(click.get_current_context().obj, Asked):
        raise click.UsageError(_("One drawing comes out of a step: give size or to-body with grade."))
    from crossgrain.cli.grade_range import draw_stacked, write_range

    if stacked:
        return draw_stacked(job, read, sizes, stack_at)
    if job.in_place:
        raise click.UsageError(_("Several sizes do not go into one drawing. Give -o OUTDIR, --size or --stacked."))
    return write_range(job, read, sizes, stack_at)


def _one(job: Job, rules: GradeRules, size: str | None, to_body: Path | None) -> Exit:
    """Write one size, or that of one body, as the drawing."""
    from crossgrain.operations.grading import grade_sizes, grade_to_body

    wanted = job.pieces

    def sized(drawing: Drawing, pattern: Pattern) -> Outcome[Pattern]:
        from crossgrain.svg.beyond_page import beyond_page

        if size is not None:
            outcome = grade_sizes(pattern, rules, [size], wanted)[size]
        else:
            from crossgrain.files import read_text
            from crossgrain.notation.measures import read_measures

            assert to_body is not None
            outcome = grade_to_body(pattern, rules, read_measures(read_text(to_body), to_body.name), wanted)
        outcome = with_dependents(outcome, wanted)
        return replace(outcome, findings=(*outcome.findings, *beyond_page(drawing.page, pattern, outcome.value)))

    def worded(drawing: Drawing) -> tuple[Finding, ...]:
        from crossgrain.svg.size_words import rewrite_size

        # A drawing of which only some pieces are graded is of no one size.
        if size == rules.base or wanted:
            return ()
        if size is not None:
            return rewrite_size(drawing, size_words(rules, size))
        from crossgrain.files import read_text
        from crossgrain.notation.measures import read_measures, read_name_of_body

        assert to_body is not None
        text = read_text(to_body)
        measures = read_measures(text, to_body.name)
        return rewrite_size(drawing, size_words(rules, body=read_name_of_body(text, to_body.name), measures=measures))

    # Levels go by all pieces, and what follows must find what it follows.
    return change_drawing(replace(job, pieces=()), sized, worded)


def with_dependents(outcome: Outcome[Pattern], pieces: Sequence[str] = ()) -> Outcome[Pattern]:
    """Bring up to date what follows the pieces that were graded.

    Args:
        outcome: the graded pattern.
        pieces: ids or names of the only pieces that may change; none means all.
    """
    from crossgrain.operations.following import Following, follow

    pattern = outcome.value
    allowed = {pattern.piece(name).id for name in pieces}
    dependents = tuple(
        piece.id
        for piece in pattern.pieces
        if (piece.follows or piece.traces or piece.zips) and (not allowed or piece.id in allowed)
    )
    return outcome.then(follow(pattern, Following(pieces=dependents))) if dependents else outcome


def size_words(
    rules: GradeRules, size: str = "", body: str = "", measures: Mapping[str, float] | None = None
) -> SizeWords:
    """Say which size a drawing was and which it is now.

    Args:
        rules: the rules of the range.
        size: the size it is now; empty where it is graded to a body.
        body: the name of the body.
        measures: those of the body, mm.
    """
    from crossgrain.svg.size_words import SizeWords

    now = measures or {}
    if size:
        now = {name: values[rules.index(size)] for name, values in rules.measures}
    return SizeWords(
        base=rules.base,
        size=size,
        body=body,
        measures=tuple((name, values[rules.base_index], now[name]) for name, values in rules.measures if name in now),
    )
