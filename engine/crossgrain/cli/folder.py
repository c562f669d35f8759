"""``crossgrain run``: put every drawing of a folder through a recipe."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from crossgrain.cli.amounts import LENGTH
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, show_json, show_table
from crossgrain.errors import ParameterError
from crossgrain.language import _

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from crossgrain.batch.tasks import Task, Way
    from crossgrain.batch.work import Result
    from crossgrain.recipe import Recipe

_FILE: Final = click.Path(path_type=Path)
_WORST: Final = {
    "done": Exit.FINE,
    "kept": Exit.FINE,
    "found": Exit.FINDINGS,
    "refused": Exit.REFUSED,
    "lost": Exit.FAULT,
    "fault": Exit.FAULT,
}


def _listed(_context: click.Context, _option: click.Parameter, text: str | None) -> tuple[str, ...]:
    """Return the names in a list; none where the option is not given, but never of one that is."""
    names = tuple(dict.fromkeys(part.strip() for part in (text or "").split(",") if part.strip()))
    if text is not None and not names:
        raise click.BadParameter(_("It is empty. Name at least one, or leave the option out."))
    return names


def _pairs(_context: click.Context, _option: click.Parameter, texts: tuple[str, ...]) -> dict[str, str]:
    pairs = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign or not name.strip() or not value.strip():
            raise click.BadParameter(_("Write it as body=size-12.toml."))
        if name.strip() in pairs:
            raise click.BadParameter(_("{name} is given twice.").format(name=name.strip()))
        pairs[name.strip()] = value.strip()
    return pairs


@click.command(
    "run",
    cls=Command,
    example="crossgrain run recut.toml drawings -o recut --cloths softer.toml,firmer.toml",
    help=COMMANDS["run"].summary
    + "\n\n"
    + _(
        "Every .svg and .svgz in the folder and the folders within it goes through all steps; its result appears under "
        "the same name when it is whole. One that cannot be done stops none of the others. A run that was broken off "
        "goes on where it stopped, and what is up to date is not done again. The drawings themselves are never "
        "changed."
    ),
)
@click.argument("recipe", metavar="RECIPE.toml", type=_FILE)
@click.argument("folder", metavar="FOLDER", type=_FILE)
@click.option("-o", "--output", "outputs", metavar="OUTDIR", type=_FILE, required=True, help=_("Where results go."))
@click.option(
    "--sizes", metavar="SIZES", callback=_listed, help=_("Do it for each size: {size} of the recipe: 8-14, or 8, 12.")
)
@click.option(
    "--cloths", metavar="LIST", callback=_listed, help=_("Do it for each cloth: {cloth} of the recipe, a.toml,b.toml.")
)
@click.option(
    "--with", "given", metavar="NAME=TEXT", multiple=True, callback=_pairs, help=_("What another variable stands for.")
)
@click.option("--jobs", type=click.IntRange(1), help=_("How many drawings at a time; as many as there are cores."))
@click.option("--overwrite", is_flag=True, help=_("Write over results that were altered by hand, too."))
@click.option("--watch", is_flag=True, help=_("Stay, and do again what depends on a file whenever it is saved."))
@click.option("--scale", type=LENGTH, help=_("The length of one user unit, where drawings do not say it."))
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON."))
def command(
    recipe: Path,
    folder: Path,
    outputs: Path,
    *,
    sizes: tuple[str, ...],
    cloths: tuple[str, ...],
    given: dict[str, str],
    jobs: int | None,
    overwrite: bool,
    watch: bool,
    scale: float | None,
    as_json: bool,
) -> Exit:
    """Run a recipe over a folder."""
    if scale is not None and scale <= 0.0:
        raise click.UsageError(_("--scale is zero. Give the length of one user unit, as 1mm."))
    from crossgrain.batch.reporting import check_reports
    from crossgrain.batch.tasks import drawings_in, tasks
    from crossgrain.recipe import read_recipe

    reads = {recipe}

    def once() -> Exit:
        read = read_recipe(recipe)
        reads.update(read.files)
        ways = list(_ways(read, sizes, cloths, given, scale))
        reads.update(file for way in ways for file in way.files)
        drawings = drawings_in(folder, outputs)
        if not drawings:
            say(_("There are no drawings in {folder}.").format(folder=folder))
            return Exit.FINDINGS
        todo = list(tasks(folder, outputs, ways, drawings, overwrite=overwrite))
        with _alone(outputs, patient=watch):
            check_reports(outputs, len(todo), overwrite=overwrite)
            return _run(read.title or recipe.stem, outputs, ways, todo, jobs or os.cpu_count() or 1, as_json)

    if not watch:
        return once()
    from crossgrain.cli.watching import again_and_again

    return again_and_again(once, lambda: [*reads, *(folder / drawing for drawing in drawings_in(folder, outputs))])


def _ways(
    recipe: Recipe, sizes: Sequence[str], cloths: Sequence[str], given: dict[str, str], scale: float | None
) -> Iterator[Way]:
    """Return one way for each choice of size and cloth."""
    from crossgrain.batch.tasks import way
    from crossgrain.cli.steps import check_order, named_sizes, stage_of

    check_order(recipe.steps)
    folder = recipe.files[0].parent
    names: set[str] = set()
    for size, cloth in product(named_sizes(recipe, ", ".join(sizes), given) if sizes else (None,), cloths or (None,)):
        chosen = dict(given)
        if size is not None:
            chosen["size"] = size
        if cloth is not None:
            chosen["cloth"] = cloth
        name = _folder_name(size, cloth and Path(cloth).stem)
        if name in names:
            raise ParameterError(
                _("Two choices would both be written into the folder {name}.").format(name=name),
                advice=_("Give the files of the cloths names that differ."),
            )
        names.add(name)
        yield way(recipe.filled(chosen), name=name, folder=folder, make=stage_of, unit_mm=scale)


def _folder_name(*parts: str | None) -> str:
    """Return the folder for one choice of size and cloth, within that of the results."""
    for part in parts:
        if part and (part in (".", "..") or "/" in part or "\\" in part):
            raise ParameterError(
                _("No folder can be named after {name}.").format(name=part), advice=_("Give it a plain name.")
            )
    return "/".join(part for part in parts if part)


@contextmanager
def _alone(outputs: Path, *, patient: bool) -> Iterator[None]:
    """Keep other runs out of the folder of outputs; who watches waits for one that is at work there."""
    from crossgrain.batch.hold import BusyError, held

    with ExitStack() as stack:
        try:
            stack.enter_context(held(outputs))
        except BusyError as error:
            if not patient:
                raise
            say(" ".join((error.message, _("Waiting for it to end."))))
            stack.enter_context(held(outputs, patient=True))
        yield


def _run(title: str, outputs: Path, ways: Sequence[Way], todo: Sequence[Task], jobs: int, as_json: bool) -> Exit:
    from crossgrain.batch.record import forget_parts
    from crossgrain.batch.reporting import record_of, write_reports
    from crossgrain.output.folder_report import PAGE

    began = time.time()
    remarks = tuple(dict.fromkeys(remark for way in ways for remark in way.remarks))
    for remark in remarks:
        say(remark)
    results = {result.name: result for result in _results(todo, outputs, jobs)}
    ordered = [results[task.name] for task in todo]
    forget_parts(outputs, began)
    if as_json:
        show_json([{"name": one.name, "state": one.state, "findings": one.findings, "message": one.message}
                   for one in ordered])  # fmt: skip
    else:
        _show(ordered)
    for one in (one for one in ordered if one.findings):
        for caution in (f for f in record_of(outputs, one).get("findings", ()) if f["severity"] == "caution"):
            say(_("Caution: {name}: {message}").format(name=one.name, message=caution["message"]))
    # Last: what became of each is told also where the disk has no room for the report.
    write_reports(outputs, title, ordered, remarks)
    say(_("Open {page} to see every drawing before and after.").format(page=outputs / PAGE))
    return max(Exit.FINDINGS if one.state == "kept" and one.findings else _WORST[one.state] for one in ordered)


def _show(results: Sequence[Result]) -> None:
    from crossgrain.batch.reporting import state_in_words

    show_table(
        (_("drawing"), _("state"), _("to look at")),
        [(one.name, state_in_words(one.state), str(one.findings or "")) for one in results],
    )
    for one in results:
        if one.message:
            say(one.message if one.message.startswith(Path(one.name).name) else f"{one.name}: {one.message}")


def _results(todo: Sequence[Task], outputs: Path, jobs: int) -> Iterator[Result]:
    """Do everything and show how far it is; what was lost with a worker is tried once more, each by itself."""
    from crossgrain.batch.running import Here, run
    from crossgrain.batch.tasks import twins
    from crossgrain.batch.work import Result, kept
    from crossgrain.cli.progress import progress

    stale = {}
    hidden = {task.name: other for task, other in twins(todo, outputs)}
    for task in todo:
        if task.name in hidden:
            message = _("This disk does not tell its name from {other}. Rename one of the two.")
            yield Result(name=task.name, state="refused", message=message.format(other=hidden[task.name]))
        elif (result := kept(task)) is None:
            stale[task.name] = task
        else:
            yield result
    with progress(len(stale)) as said:
        lost = []
        with Here() if jobs == 1 or len(stale) <= 1 else _pool(jobs) as executor:
            for result in run(stale.values(), executor, ahead=2 * jobs):
                if result.state == "lost":
                    lost.append(stale[result.name])
                    continue
                said(result.name)
                yield result
        for task in lost:
            with _pool(1) as executor:
                [result] = run([task], executor)
            if result.state == "lost":
                result = replace(result, message=_("The process that worked on it ended. Is there memory enough?"))
            said(result.name)
            yield result


def _pool(jobs: int) -> Executor:
    from concurrent.futures import ProcessPoolExecutor

    from crossgrain.batch.running import QuietContext, leave_with_parent

    return ProcessPoolExecutor(jobs, QuietContext(), leave_with_parent)
