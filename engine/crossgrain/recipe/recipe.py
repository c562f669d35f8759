"""A recipe and its steps, as values."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Final

from crossgrain.errors import RecipeError
from crossgrain.language import _

VARIABLE: Final = re.compile(r"\{([A-Za-z][\w-]*)\}")
"""How a variable stands in a text."""

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
    def place(self) -> str:
        """Where it is written, for sentences."""
        return _("{file}, line {line}").format(file=self.file.name, line=self.line)

    @property
    def variables(self) -> frozenset[str]:
        """The names of the variables that its amounts speak of."""
        return frozenset(
            name for _key, value in self.given if not isinstance(value, bool) for text in value
            for name in VARIABLE.findall(text)
        )  # fmt: skip

    def filled(self, variables: Mapping[str, str], known: Collection[str] = ()) -> Step:
        """Return the step with variables replaced by what they stand for; ``known`` are the names there are.

        Raises:
            RecipeError: a variable that stands for nothing.

        >>> Step(do="reduce", given=(("by", ("{share}",)),)).filled({"share": "8%"}).given
        (('by', ('8%',)),)
        """
        return replace(
            self,
            given=tuple(
                (
                    key,
                    value
                    if isinstance(value, bool)
                    else tuple(self._filled(key, text, variables, known or variables) for text in value),
                )
                for key, value in self.given
            ),
        )

    def _filled(self, key: str, text: str, variables: Mapping[str, str], known: Collection[str]) -> str:
        def found(match: re.Match[str]) -> str:
            name = match[1]
            if name not in variables:
                raise self.fault(
                    _("The variable {name} is not known.").format(name=f"{{{name}}}"),
                    advice=nearest(name, known, _("Write it under [variables], or give it with --with.")),
                    at=key,
                )
            return variables[name]

        return VARIABLE.sub(found, text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """Steps in order.

    Args:
        steps: those of included recipes stand where these are included.
        title: what the maker calls it.
        variables: what each variable stands for unless something else is said.
        files: the recipe, and those it includes.
        places: in which file and on which line each variable is given its text.
    """

    steps: tuple[Step, ...]
    title: str = ""
    variables: tuple[tuple[str, str], ...] = ()
    files: tuple[Path, ...] = ()
    places: tuple[tuple[str, tuple[Path, int]], ...] = ()

    def filled(self, given: Mapping[str, str]) -> tuple[Step, ...]:
        """Return the steps with every variable replaced; what is given goes before what the recipe says.

        Raises:
            RecipeError: a variable that stands for nothing or for itself, or one that is given and in no step.
        """
        used = self._used(given)
        for name in given:
            if name not in used:
                raise RecipeError(
                    _("No step of the recipe uses the variable {name}.").format(name=f"{{{name}}}"),
                    advice=nearest(name, used, _("Write it into the step that it is for.")),
                )
        return tuple(self.fill(step, given) for step in self.steps)

    def fill(self, step: Step, given: Mapping[str, str]) -> Step:
        """Return one of the steps with every variable replaced, as :meth:`filled`."""
        known = dict(self.variables) | dict(given)
        return step.filled({name: self._text(name, known, ()) for name in known if name in step.variables}, known)

    def knows(self, step: Step, given: Collection[str] = ()) -> bool:
        """Tell whether every variable that a step speaks of stands for something, if only for itself."""
        known = dict.fromkeys(given, "") | dict(self.variables)
        return self._reached(step.variables, known) <= known.keys()

    def unused(self) -> tuple[RecipeError, ...]:
        """Return what to say of the variables that the recipe gives a text and no step speaks of."""
        used = self._used({})
        return tuple(
            self._fault(
                name,
                _("No step of the recipe uses the variable {name}.").format(name=f"{{{name}}}"),
                nearest(name, used, _("Take it out.")),
            )
            for name, _text in self.variables
            if name not in used
        )

    def _used(self, given: Mapping[str, str]) -> frozenset[str]:
        """Return the names that the steps speak of, also through what other variables stand for."""
        names = frozenset(name for step in self.steps for name in step.variables)
        return self._reached(names, dict(self.variables) | dict(given))

    @staticmethod
    def _reached(names: frozenset[str], known: Mapping[str, str]) -> frozenset[str]:
        used: frozenset[str] = frozenset()
        while names:
            used |= names
            names = frozenset(name for one in names for name in VARIABLE.findall(known.get(one, ""))) - used
        return used

    def _text(self, name: str, known: Mapping[str, str], within: tuple[str, ...]) -> str:
        """Return what a variable stands for, with the variables in it replaced."""
        if name in within:
            message = _("The variable {name} stands for itself.").format(name=f"{{{name}}}")
            raise self._fault(name, message, _("Write what it is meant to stand for."))

        def found(match: re.Match[str]) -> str:
            if match[1] in known:
                return self._text(match[1], known, (*within, name))
            message = _("The variable {name} is not known.").format(name=match[0])
            advice = _("Write it under [variables], or give it with --with.")
            raise self._fault(name, message, nearest(match[1], known, advice))

        return VARIABLE.sub(found, known[name])

    def _fault(self, variable: str, message: str, advice: str) -> RecipeError:
        """Return an error that says where a variable is given its text, where the recipe says it."""
        place = dict(self.places).get(variable)
        if place is not None:
            message = _("{file}, line {line}: {message}").format(file=place[0].name, line=place[1], message=message)
        return RecipeError(message, advice=advice)


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
