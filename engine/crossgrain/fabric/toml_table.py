"""Read a table of a TOML text with sentences that name the key, what stands there, and what ought to."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from typing import Any, Final, TypeVar

from crossgrain.errors import DocumentError, InputError
from crossgrain.language import _

T = TypeVar("T")


_TWICE: Final = re.compile(r"Cannot (?:overwrite a value|declare .* twice) \(at (?:line (\d+)|end of)")
_HEAD: Final = re.compile(r"\s*\[\[\s*\"?([\w.-]+)\"?\s*\]\]")
_KEY: Final = re.compile(r"\s*(?:\[+\s*)?(\"[^\"]*\"|[\w.-]+)\s*(?:=|\])")


def read_table(text: str, name: str) -> Table:
    """Read a whole TOML text.

    Args:
        text: the text.
        name: what messages call it, as the file's name.

    Raises:
        DocumentError: it is not TOML.
    """
    try:
        return Table(tomllib.loads(text), name, _heads(text))
    except tomllib.TOMLDecodeError as error:
        if twice := _TWICE.search(str(error)):
            # The line is that at which the value ends.
            line, key = next(
                (number, found[1].strip('"'))
                for number in range(int(twice[1] or len(text.splitlines())), 0, -1)
                if (found := _KEY.match(text.splitlines()[number - 1]))
            )
            raise DocumentError(
                _("{file}, line {line}: “{key}” is said a second time.").format(file=name, line=line, key=key),
                advice=_("Keep one of them."),
            ) from error
        raise DocumentError(
            _("{file} cannot be read: {reason}.").format(file=name, reason=str(error).rstrip(".")),
            advice=_('Write each line as key = "amount unit".'),
        ) from error


def _heads(text: str) -> dict[str, list[int]]:
    """Return the lines at which the tables of each list begin."""
    heads: dict[str, list[int]] = {}
    for number, line in enumerate(text.splitlines(), 1):
        if found := _HEAD.match(line):
            heads.setdefault(found[1], []).append(number)
    return heads


class Table:
    """One table, and where it stands.

    Args:
        values: what stands in it.
        where: the file, and the keys that lead to it.
        heads: of a whole text, the lines at which the tables of each list begin.
    """

    def __init__(self, values: dict[str, Any], where: str, heads: Mapping[str, Sequence[int]] | None = None) -> None:
        self._values = values
        self.where = where
        self._heads = heads or {}

    def __contains__(self, key: str) -> bool:
        return key in self._values

    def keys(self) -> tuple[str, ...]:
        """Return its keys, in order."""
        return tuple(self._values)

    def is_list(self, key: str) -> bool:
        """Tell whether a list stands at a key."""
        return isinstance(self._values.get(key), list)

    def is_text(self, key: str) -> bool:
        """Tell whether a text stands at a key."""
        return isinstance(self._values.get(key), str)

    def only(self, known: Collection[str]) -> None:
        """Refuse keys that mean nothing."""
        for key in self._values:
            if key not in known:
                raise self.fault(
                    _("“{key}” is not known.").format(key=key),
                    _("Known are: {names}.").format(names=", ".join(known)),
                )

    def text(self, key: str, otherwise: str | None = None) -> str:
        """Return a text, or what is taken where there is none."""
        value = self._values.get(key, otherwise)
        if value is None:
            raise self.fault(_("“{key}” is missing.").format(key=key), _("Add it."))
        if not isinstance(value, str):
            raise self.fault(_("“{key}” is no text.").format(key=key), _("Put it in quotes."))
        return value

    def texts(self, key: str, *, none: bool = False) -> tuple[str, ...]:
        """Return a list of texts that is not empty; with ``none``, one that may be empty or not there."""
        value = self._values.get(key, [] if none else None)
        if not isinstance(value, list) or not (value or none) or not all(isinstance(one, str) for one in value):
            raise self.fault(_("“{key}” is no list of texts.").format(key=key), _('Write it as ["…", "…"].'))
        return tuple(value)

    def count(self, key: str, otherwise: int) -> int:
        """Return a whole number, or what is taken where there is none."""
        value = self._values.get(key, otherwise)
        if not isinstance(value, int) or isinstance(value, bool):
            raise self.fault(_("“{key}” is no whole number.").format(key=key), _("Write it without quotes, as 2."))
        return value

    def amount(self, key: str, read: Callable[[str], float]) -> float:
        """Return an amount with its unit."""
        value = self._values.get(key)
        if value is None:
            raise self.fault(_("“{key}” is missing.").format(key=key), _("Add it, with its unit."))
        if isinstance(value, int | float) and not isinstance(value, bool):
            raise self.fault(
                _("“{key}” is {value}, without a unit.").format(key=key, value=value),
                _("Write the unit too, in quotes."),
            )
        if not isinstance(value, str):
            raise self.fault(_("“{key}” is no amount.").format(key=key), _("Write a number and a unit, in quotes."))
        try:
            return read(value)
        except InputError as error:
            raise self.fault(f"“{key}”: {error.message}", error.advice) from error

    def amount_or_none(self, key: str, read: Callable[[str], float]) -> float | None:
        """Return an amount with its unit, or None where there is none."""
        return self.amount(key, read) if key in self else None

    def table(self, key: str) -> Table:
        """Return a table within this one."""
        value = self._values.get(key)
        if not isinstance(value, dict):
            raise self.fault(
                _("“{key}” is no table.").format(key=key), _("Write [{key}] above its lines.").format(key=key)
            )
        return Table(value, f"{self.where}, {key}")

    def tables(self, key: str) -> Iterable[Table]:
        """Return the tables of a list within this one, numbered from 1; none where there is no list."""
        value = self._values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            raise self.fault(_("“{key}” is no list of tables.").format(key=key), _("Write it as [{ … }, { … }]."))
        lines = self._heads.get(key, ())
        places = [self.where] * len(value)
        if len(lines) == len(value):  # else one of them stands in a text of several lines
            places = [_("{file}, line {line}").format(file=self.where, line=line) for line in lines]
        return [Table(one, f"{place}, {key} {n}") for n, (one, place) in enumerate(zip(value, places, strict=True), 1)]

    def made(self, make: Callable[[], T]) -> T:
        """Make a value from what was read; what it refuses is said with the place."""
        try:
            return make()
        except InputError as error:
            if isinstance(error, DocumentError):
                raise
            raise self.fault(error.message, error.advice) from error

    def fault(self, message: str, advice: str = "") -> DocumentError:
        """Return an error that says where."""
        return DocumentError(f"{self.where}: {message}", advice=advice)
