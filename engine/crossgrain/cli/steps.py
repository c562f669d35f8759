"""Make a step of a recipe ready: it is read by the options of the command of its name, and by nothing else."""

from __future__ import annotations

import contextlib
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from crossgrain.cli.change import Asked
from crossgrain.cli.job import COMMON
from crossgrain.cli.program import COMMANDS
from crossgrain.errors import CrossgrainError, ParameterError, RecipeError
from crossgrain.language import _
from crossgrain.recipe.recipe import Recipe, Step, Value, nearest

if TYPE_CHECKING:
    from crossgrain.model import Outcome, Pattern
    from crossgrain.pipeline import Deed, Stage
    from crossgrain.svg.drawing import Drawing
    from crossgrain.svg.journal import Entry

VERBS: Final = ("mark", "grade", "reduce", "take-in", "true", "lengthen", "follow", "allow", "check", "cut", "sheets")
"""The commands that are steps of recipes, in the order of the work."""
_LAYS_OUT: Final = "cut"
"""Makes a sheet of the drawing, in its place."""
_LOOKS: Final = ("check", "sheets")
"""Leave the drawing as it is, and so may stand anywhere."""

_PIECE: Final = "piece"


def stage_of(step: Step, folder: Path) -> Stage:
    """Make a step ready.

    Args:
        step: a step without variables.
        folder: that of the recipe which is run; files are looked for beside the step's own recipe, then there, then in
            the working folder.

    Raises:
        RecipeError: what the step says is not what its command takes.
    """
    if faults := mistakes(step):
        raise faults[0]
    command = _command(step)
    asked = Asked()
    said = io.StringIO()
    try:
        with (
            contextlib.redirect_stderr(said),
            command.make_context(step.do, _words(command, step, folder), obj=asked) as context,
        ):
            command.invoke(context)
    except click.UsageError as error:
        raise step.fault(error.message) from error
    except CrossgrainError as error:
        # It may be about what stands in a file: then the line that names it.
        named = (key for key, file in _files(command, step, folder) if file.name in error.message)
        raise step.fault(error.message, advice=error.advice, at=next(named, "do")) from error
    assert asked.stage is not None, f"{step.do} changes no drawing"
    return replace(
        asked.stage,
        deed=asked.stage.deed and _as_a_step(asked.stage.deed),
        # As the recipe says it: where its files lie on this machine is nothing to whoever opens the drawing.
        given=tuple((key, _written(value)) for key, value in step.given if key != _PIECE and value),
        files=tuple(file for _key, file in _files(command, step, folder)),
        place=step.place,
        remarks=tuple(line for line in said.getvalue().splitlines() if line),
    )


def _as_a_step(deed: Deed) -> Deed:
    """Return a deed whose complaints about its options, which need the drawing to be found, are those of a step."""

    def done(drawing: Drawing, pattern: Pattern) -> Outcome[Pattern]:
        try:
            return deed(drawing, pattern)
        except click.UsageError as error:
            raise ParameterError(error.message) from error

    return done


def _written(value: Value) -> str:
    return "yes" if isinstance(value, bool) else "; ".join(value)


def mistakes(step: Step) -> list[RecipeError]:
    """Return what is wrong with the words of a step: a verb or an amount that is not known, or cannot be read."""
    if step.do not in VERBS:
        return [step.fault(_("There is no step {name}.").format(name=step.do), advice=nearest(step.do, VERBS))]
    options = _options(_command(step))
    found = []
    for key, value in step.given:
        if key not in options:
            message = _("{step} does not know “{key}”.").format(step=step.do, key=key)
            found.append(step.fault(message, advice=nearest(key, options), at=key))
        elif wrong := _misread(options[key], value):
            found.append(step.fault(f"“{key}”: {wrong}", at=key))
    return found


def _misread(option: click.Option, value: Value) -> str:
    """Say what is wrong with a value of an option; nothing where it can be read."""
    if isinstance(value, bool):
        return _("it wants an amount, in quotes.") if _takes_text(option) else ""
    if not _takes_text(option):
        return _("it is said by true, or left out.")
    if len(value) > 1 and not option.multiple:
        return _("it can be given only once.")
    if any("{" in text for text in value):
        return ""
    for text in value:
        if isinstance(option.type, click.Path):
            # Where it is looked for is found out later; it need not be the working folder.
            if not text.strip():
                return _("it names no file.")
            if "\0" in text:
                return _("no file can have that name")
            continue
        try:
            option.type.convert(text, option, None)
        except click.BadParameter as error:
            return error.message
    return ""


def _takes_text(option: click.Option) -> bool:
    return not option.is_flag


def _command(step: Step) -> click.Command:
    command: click.Command = import_module(COMMANDS[step.do].module).command
    return command


def _options(command: click.Command) -> dict[str, click.Option]:
    """Return the options a recipe may give, by their words without the dashes."""
    return {
        word.removeprefix("--"): option
        for option in command.params
        if isinstance(option, click.Option)
        for word in option.opts
        if word.startswith("--") and (option.name not in COMMON or word == f"--{_PIECE}")
    }


def _words(command: click.Command, step: Step, folder: Path) -> list[str]:
    """Return the command line that says what a step does; the drawings stand for any."""
    options = _options(command)
    words = ["IN.svg"]
    if any("--output" in option.opts for option in command.params):
        words += ["--output", "OUT.svg"]
    for key, value in step.given:
        if isinstance(value, bool):
            words += [f"--{key}"] if value else []
        elif isinstance(options[key].type, click.Path):
            words += [f"--{key}={_found(text, step, folder)}" for text in value]
        else:
            words += [f"--{key}={text}" for text in value]
    return words


def _files(command: click.Command, step: Step, folder: Path) -> Iterator[tuple[str, Path]]:
    """Return the files that a step names, each with the amount that names it."""
    options = _options(command)
    for key, value in step.given:
        if isinstance(options[key].type, click.Path) and not isinstance(value, bool):
            yield from ((key, _found(text, step, folder)) for text in value)


def _found(text: str, step: Step, folder: Path) -> Path:
    places = [step.file.parent / text, folder / text, Path(text)]
    return next((place for place in places if place.exists()), places[0])


def named_sizes(recipe: Recipe, text: str, given: Mapping[str, str]) -> tuple[str, ...]:
    """Return the sizes that a text names: those of the rules by which the recipe grades, or each as it is written.

    Raises:
        CrossgrainError: rules that cannot be read, or a size they have not.
    """
    known = {**given, "size": ""}
    for step in recipe.steps:
        if step.do == "grade" and "rules" in dict(step.given) and recipe.knows(step, known):
            from crossgrain.files import read_text
            from crossgrain.notation.grade_points import read_sizes
            from crossgrain.notation.grade_rules import read_grade_rules

            _key, path = next(_files(_command(step), recipe.fill(step, known), recipe.files[0].parent))
            try:
                rules = read_grade_rules(read_text(path), path.name)
            except CrossgrainError as error:
                raise step.fault(error.message, advice=error.advice, at="rules") from error
            return read_sizes(text, rules.sizes)
    return tuple(dict.fromkeys(part.strip() for part in text.split(",") if part.strip()))


def check_order(steps: Sequence[Step]) -> None:
    """Refuse steps that can never be done one after another, whatever the drawing is.

    After one that makes a sheet there is no pattern any more to which something could be done; and two that print on
    the same paper would write one file.

    Raises:
        RecipeError: the first such step.
    """
    laid_out, papers = False, set()
    for step in steps:
        if laid_out and step.do not in _LOOKS:
            raise step.fault(
                _("Nothing can be done after {step}: it makes a sheet of the pieces.").format(step=_LAYS_OUT),
                advice=_("Move that step to the end."),
            )
        laid_out = laid_out or step.do == _LAYS_OUT
        if step.do == "sheets":
            paper = dict(step.given).get("paper")
            if paper in papers:
                raise step.fault(
                    _("Two steps would print into one file beside each drawing."),
                    advice=_("Take one of them out, or give it another paper."),
                )
            papers.add(paper)


def all_mistakes(recipe: Recipe) -> Iterator[RecipeError]:
    """Return everything that is wrong with a recipe, before any of it is done."""
    yield from recipe.unused()
    try:
        check_order(recipe.steps)
    except RecipeError as error:
        yield error
    for step in recipe.steps:
        if faults := mistakes(step):
            yield from faults
        elif recipe.knows(step):
            try:
                stage_of(recipe.fill(step, {}), recipe.files[0].parent)
            except RecipeError as error:
                yield error


def step_of_entry(entry: Entry, pieces: frozenset[str]) -> Step:
    """Return the step that does again what a line of a journal says.

    Args:
        entry: the line.
        pieces: the ids of all pieces of the drawing; what was done to all of them is done to all of another one.
    """
    options = _options(_command(Step(do=entry.operation))) if entry.operation in VERBS else {}
    given: list[tuple[str, Value]] = [(_PIECE, entry.pieces)] if not pieces <= set(entry.pieces) else []
    for key, text in entry.parameters:
        option = options.get(key)
        if option is not None and not _takes_text(option):
            given.append((key, True))
        elif option is not None and option.multiple:
            given.append((key, tuple(part.strip() for part in text.split(";") if part.strip())))
        else:
            given.append((key, (text,)))
    return Step(do=entry.operation, given=tuple(given))
