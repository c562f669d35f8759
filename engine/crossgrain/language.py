"""The one place through which every sentence for a person passes, and the decimal mark of every printed figure.

Messages are written in English with named fields, ``_("Piece {piece} has no grain.")``, and filled
with :meth:`str.format` afterwards, so that a translator sees the whole sentence.

The reader's language is the first of the environment's ``LANGUAGE``, ``LC_ALL``, ``LC_MESSAGES`` and ``LANG`` that is
set. A language is a file: ``locale/fr/LC_MESSAGES/crossgrain.mo`` beside this one. English needs none, and costs
nothing.
"""

from __future__ import annotations

import os
from functools import cache, reduce
from pathlib import Path
from string import Formatter
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from gettext import GNUTranslations

_LOCALE: Final = Path(__file__).parent / "locale"
_DOMAIN: Final = "crossgrain"


def _(message: str) -> str:
    """Return ``message`` in the reader's language.

    Args:
        message: an English sentence, with fields in braces left unfilled.

    Returns:
        The sentence, its fields still unfilled; in English where no catalogue has it. Filled in a language that writes
        a decimal comma, it writes one in its figures too.

    >>> _("Piece {piece} has no grain.").format(piece="front")
    'Piece front has no grain.'
    """
    found = _catalogue()
    return message if found is None else _Sentence(found.gettext(message))


def language() -> str:
    """Return the code of the language sentences come in, as ``en`` or ``fr``.

    >>> language()
    'en'
    """
    found = _catalogue()
    return "en" if found is None else found.info().get("language", "en")


def level_word(name: str) -> str:
    """Return what a level of the body is called in the reader's language; any other name as it is.

    Sentences with a field ``level`` say it so of themselves.

    >>> level_word("hip"), level_word("crotch line")
    ('hip', 'crotch line')
    """
    return _level_words().get(name, name)


def level_key(word: str) -> str:
    """Return the name of the level that a maker calls by its word; any other word as it is.

    >>> level_key("hip")
    'hip'
    """
    return next((name for name, own in _level_words().items() if own.casefold() == word.casefold()), word)


def _level_words() -> dict[str, str]:
    return {
        "waist": str(_("waist")),
        "hip": str(_("hip")),
        "thigh": str(_("thigh")),
        "knee": str(_("knee")),
        "calf": str(_("calf")),
        "ankle": str(_("ankle")),
        "hem": str(_("hem")),
    }


def in_figures(text: str) -> str:
    """Return a printed number with the decimal mark of the reader's language.

    >>> in_figures("12.5")
    '12.5'
    """
    return text if _catalogue() is None else text.replace(".", ",")


def headed(*parts: str) -> str:
    """Return what is said behind its headings, with the colon of the reader's language; empty ones are left out.

    >>> headed("Note", "", "Look at the hem.")
    'Note: Look at the hem.'
    """
    some = [part for part in parts if part]
    return reduce(lambda head, said: str(_("{head}: {said}").format(head=head, said=said)), some) if some else ""


class _Sentence(str):
    """A translated sentence that fills in figures with a decimal comma, and levels by their words."""

    def format(self, *args: Any, **fields: Any) -> str:
        if isinstance(fields.get("level"), str):
            fields["level"] = level_word(fields["level"])
        return _WithComma().vformat(self, args, fields)


class _WithComma(Formatter):
    def format_field(self, value: Any, spec: str) -> str:
        text = str(super().format_field(value, spec))
        return text.replace(".", ",") if isinstance(value, float) else text


@cache
def _catalogue() -> GNUTranslations | None:
    wanted = next(
        (value for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG") if (value := os.environ.get(name))), ""
    )
    for code in wanted.split(":"):
        place = code.partition(".")[0].partition("@")[0]
        for name in dict.fromkeys((place, place.partition("_")[0])):
            if name in ("en", "C", "POSIX"):
                return None
            file = _LOCALE / name / "LC_MESSAGES" / f"{_DOMAIN}.mo"
            if name and name.isidentifier() and file.is_file():
                from gettext import GNUTranslations

                with file.open("rb") as catalogue:
                    return GNUTranslations(catalogue)
    return None
