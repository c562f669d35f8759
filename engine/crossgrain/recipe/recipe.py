"""A recipe and its steps, as values."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Final

from crossgrain.errors import RecipeError
from crossgrain.language import _

_VARIABLE: Final = re.compile(r"\{([A-Za-z][\w-]*)\}")

Value = tuple[str, ...] | bool
"""What a step says of one amount: one text or several, or that it holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a recipe.

    Args:
        do: the verb, as the command is named.
        given: its amounts by name, as they are written.
        file: the recipe that it stands in.
        line: where it begins there, from 1.
        lines: where each of its amounts stands.
    """

    do: str
    given: tuple[tuple[str, Value], ...] = ()
    file: Path = Path()
    line: int = 0
    lines: tuple[tuple[str, int], ...] = ()

    def fault(self, message: str, *, advice: str = "", at: str = "do") -> RecipeError:
        """Return an error that says where in the recipe it is; ``at`` names the amount concerned."""
        line = dict(self.lines).get(at, self.line)
        return RecipeError(
            _("{file}, line {line}: {message}").format(file=self.file.name, line=line, message=message), advice=advice
        )

    @property
    def variables(self) -> frozenset[str]:
        """The names of the variables that its amounts speak of."""
        return frozenset(
            name for _key, value in self.given if not isinstance(value, bool) for text in value
            for name in _VARIABLE.findall(text)
        )  # fmt: skip

    def filled(self, variables: Mapping[str, str]) -> Step:
        """Return the step with variables replaced by what they stand for.

        Raises:
            RecipeError: a variable that stands for nothing.

        >>> Step(do="reduce", given=(("by", ("{share}",)),)).filled({"share": "8%"}).given
        (('by', ('8%',)),)
        """
        return replace(
            self,
            given=tuple(
                (key, value if isinstance(value, bool) else tuple(self._filled(key, text, variables) for text in value))
                for key, value in self.given
            ),
        )

    def _filled(self, key: str, text: str, variables: Mapping[str, str]) -> str:
        def found(match: re.Match[str]) -> str:
            name = match[1]
            if name not in variables:
                raise self.fault(
                    _("The variable {name} is not known.").format(name=f"{{{name}}}"),
                    advice=nearest(name, variables, _("Write it under [variables], or give it with --with.")),
                    at=key,
                )
            return variables[name]

        return _VARIABLE.sub(found, text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """Steps in order.

    Args:
        steps: those of included recipes stand where these are included.
        title: what the maker calls it.
        variables: what each variable stands for unless something else is said.
        files: the recipe, and those it includes.
    """

    steps: tuple[Step, ...]
    title: str = ""
    variables: tuple[tuple[str, str], ...] = ()
    files: tuple[Path, ...] = ()

    def filled(self, given: Mapping[str, str]) -> tuple[Step, ...]:
        """Return the steps with every variable replaced; what is given goes before what the recipe says.

        Raises:
            RecipeError: a variable that stands for nothing, or one that is given and in no step.
        """
        used = frozenset(name for step in self.steps for name in step.variables)
        for name in given:
            if name not in used:
                raise RecipeError(
                    _("No step of the recipe uses the variable {name}.").format(name=f"{{{name}}}"),
                    advice=nearest(name, used, _("Write it into the step that it is for.")),
                )
        known = dict(self.variables) | dict(given)
        return tuple(step.filled(known) for step in self.steps)


def nearest(word: str, known: object, otherwise: str = "") -> str:
    """Return advice on a word that is not known: the nearest that is, or all of them.

    >>> nearest("redcue", ["reduce", "allow"])
    'Did you mean reduce?'
    """
    words = sorted(known)  # type: ignore[call-overload]
    near = get_close_matches(word, words, n=1)
    if near:
        return _("Did you mean {word}?").format(word=near[0])
    if otherwise or not words:
        return otherwise
    return _("There are: {names}.").format(names=", ".join(words))
