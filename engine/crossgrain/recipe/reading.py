"""Read a recipe and those it includes."""

from __future__ import annotations

import os
import re
import tomllib
from pathlib import Path
from typing import Any, Final

from crossgrain.errors import DocumentError, RecipeError
from crossgrain.files import read_text
from crossgrain.language import _
from crossgrain.recipe.lines import NAME, Table, tables
from crossgrain.recipe.recipe import VARIABLE, Recipe, Step, Value, nearest

_TOP: Final = ("title", "variables", "step")
_DEEPEST: Final = 8
"""Recipes within recipes; nobody finds the way in more."""


def read_recipe(path: Path) -> Recipe:
    """Read a recipe from its file, with those it includes.

    Args:
        path: the file.

    Returns:
        Its steps in order, and the variables of all of them; those of a recipe go before those of what it includes.

    Raises:
        RecipeError: it is no recipe; the message names the file and the line.
    """
    return _read(path, (), [])


def _read(path: Path, within: tuple[Path, ...], files: list[Path]) -> Recipe:
    try:
        text = read_text(path)
    except DocumentError as error:
        raise RecipeError(error.message, advice=error.advice) from error
    files.append(path)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _no_toml(path, text, str(error)) from error
    found = tables(text)
    for key in values:
        if key not in _TOP:
            line = next(
                (one.line if one.name == key else one.keys[key] for one in found if key in (one.name, *one.keys)), 1
            )
            raise _fault(path, line, _("“{key}” is not known.").format(key=key), nearest(key, _TOP))
    variables = _variables(path, values.get("variables", {}), found)
    places = {name: _place(path, name, found) for name in variables}
    title = values.get("title", "")
    if not isinstance(title, str):
        raise _fault(
            path, found[0].keys.get("title", 1), _("“{key}” is no text.").format(key="title"), _("Put it in quotes.")
        )
    raw = values.get("step", [])
    if not isinstance(raw, list) or not all(isinstance(one, dict) for one in raw) or not raw:
        raise _fault(path, 1, _("The recipe has no steps."), _("Write [[step]] above the lines of each."))
    heads = [one for one in found if one.name == "step"] or [Table("step", found[0].keys.get("step", 1))] * len(raw)
    steps: list[Step] = []
    for table, head in zip(raw, heads, strict=False):
        if "include" in table:
            included = _included(path, table, head, within, files)
            variables = dict(included.variables) | variables
            places = dict(included.places) | places
            steps += included.steps
        else:
            steps.append(_step(path, table, head))
    return Recipe(
        steps=tuple(steps),
        title=title,
        variables=tuple(variables.items()),
        files=tuple(dict.fromkeys(files)),
        places=tuple(places.items()),
    )


def _included(path: Path, table: dict[str, Any], head: Table, within: tuple[Path, ...], files: list[Path]) -> Recipe:
    name, line = table["include"], head.keys.get("include", head.line)
    if not isinstance(name, str):
        raise _fault(path, line, _("“{key}” is no text.").format(key="include"), _("Put it in quotes."))
    if len(table) > 1:
        raise _fault(
            path, line, _("A step that includes a recipe says nothing else."), _('Write include = "other.toml".')
        )
    other = path.parent / name
    if "\0" in name:
        raise _fault(path, line, _("no file can have that name"), _('Write include = "other.toml".'))
    if os.path.realpath(other) in (os.path.realpath(one) for one in (*within, path)):
        raise _fault(path, line, _("{file} includes itself.").format(file=name), _("Take one of the two lines out."))
    if len(within) >= _DEEPEST:
        message = _("Recipes include each other more than {most} deep.").format(most=_DEEPEST)
        raise _fault(path, line, message, _("Write some of the steps where they are included."))
    try:
        return _read(other, (*within, path), files)
    except RecipeError as error:
        if other in files:
            raise
        raise _fault(path, line, error.message, error.advice) from error


def _step(path: Path, table: dict[str, Any], head: Table) -> Step:
    do = table.get("do")
    if not isinstance(do, str):
        raise _fault(path, head.line, _("A step does not say what is done."), _('Write do = "reduce".'))
    given = tuple((key, _value(path, key, value, head)) for key, value in table.items() if key != "do")
    return Step(do=do, given=given, file=path, line=head.keys.get("do", head.line), lines=tuple(head.keys.items()))


def _value(path: Path, key: str, value: Any, head: Table) -> Value:
    line = head.keys.get(key, head.line)
    if isinstance(value, bool):
        return value
    parts = value if isinstance(value, list) else [value]
    for part in parts:
        if isinstance(part, float):
            raise _fault(
                path, line, _("“{key}” is {value}, without a unit.").format(key=key, value=part),
                _("Write the unit too, in quotes."),
            )  # fmt: skip
        if not isinstance(part, str | int) or isinstance(part, bool):
            raise _fault(path, line, _("“{key}” is no text.").format(key=key), _("Put it in quotes."))
    return tuple(str(part) for part in parts)


def _variables(path: Path, table: Any, found: list[Table]) -> dict[str, str]:
    head = _head(found)
    if not isinstance(table, dict):
        raise _fault(
            path,
            head.keys.get("variables", head.line),
            _("“{key}” is no table.").format(key="variables"),
            _("Write [{key}] above its lines.").format(key="variables"),
        )
    for key, value in table.items():
        if not VARIABLE.fullmatch(f"{{{key}}}"):
            raise _fault(
                path,
                head.keys.get(key, head.line),
                _("“{key}” cannot name a variable.").format(key=key),
                _("Begin with a letter; letters, figures and dashes may follow."),
            )
        if not isinstance(value, str | int) or isinstance(value, bool):
            raise _fault(
                path, head.keys.get(key, head.line), _("“{key}” is no text.").format(key=key), _("Put it in quotes.")
            )
    return {key: str(value) for key, value in table.items()}


def _head(found: list[Table]) -> Table:
    return next((one for one in found if one.name == "variables"), found[0])


def _place(path: Path, name: str, found: list[Table]) -> tuple[Path, int]:
    head = _head(found)
    return path, head.keys.get(name, head.line)


def _no_toml(path: Path, text: str, reason: str) -> RecipeError:
    """Say what the reader of TOML stumbled over, and on which line."""
    message, _sign, place = reason.rstrip(").").rpartition(" (at ")
    lines = text.splitlines() or [""]
    at = re.match(r"line (\d+)", place)
    line = min(int(at[1]), len(lines)) if at else len(lines)
    twice = NAME.match(lines[line - 1]) if message.startswith(("Cannot overwrite", "Cannot declare")) else None
    if twice:
        return _fault(
            path, line, _("“{key}” stands there twice.").format(key=twice[1]), _("Take one of the two lines out.")
        )
    return _fault(
        path,
        line,
        _("This is no TOML: {reason}.").format(reason=message or reason),
        _('Write each amount as name = "text", or name = ["text", "text"].'),
    )


def _fault(path: Path, line: int, message: str, advice: str = "") -> RecipeError:
    return RecipeError(
        _("{file}, line {line}: {message}").format(file=path.name, line=line, message=message), advice=advice
    )
