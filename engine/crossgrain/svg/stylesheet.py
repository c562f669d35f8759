"""Style sheets in the drawing, as far as they decide what is seen.

Software other than the editor hides objects by class. Read are rules whose selectors name elements by tag, id and
class, also inside one another; what else CSS can select is passed over. Source: CSS Selectors Level 3, CSS Cascade 4.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.svg.limits import RULE_STEPS
from crossgrain.svg.names import svg
from crossgrain.svg.style import declarations, declared

_COMMENT: Final = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE: Final = re.compile(r"([^{}]*)\{([^{}]*)\}")
_SIMPLE: Final = re.compile(r"(\*|[A-Za-z][\w-]*)?((?:[.#][\w-]+)*)")
_SEEN: Final[tuple[str, ...]] = ("display", "visibility")
_MOVED: Final = ("transform", "transform-origin", "transform-box", "translate", "rotate", "scale", "d")


@dataclass(frozen=True, slots=True)
class _Simple:
    tag: str
    id: str
    classes: frozenset[str]

    def fits(self, element: etree._Element) -> bool:
        return (
            (not self.tag or etree.QName(element).localname == self.tag)
            and (not self.id or element.get("id") == self.id)
            and self.classes <= set((element.get("class") or "").split())
        )


@dataclass(frozen=True, slots=True)
class _Rule:
    # From the element itself outwards; whether each is the direct parent of the one before it.
    chain: tuple[tuple[_Simple, bool], ...]
    weight: tuple[int, int, int, int]
    values: dict[str, str]

    def fits(self, element: etree._Element) -> bool:
        return self.chain[0][0].fits(element) and _around(element, self.chain[1:])


def _around(element: etree._Element, chain: tuple[tuple[_Simple, bool], ...]) -> bool:
    """Tell whether the ancestors fit the rest of a selector; each simple one is tried once on each ancestor."""
    ancestors = list(element.iterancestors(etree.Element))
    # Where the part of the selector that has been matched may have ended; -1 is the element itself.
    ends = {-1}
    for simple, direct in chain:
        nearest = min(ends)
        ends = {
            place
            for place in range(nearest + 1, len(ancestors))
            if (place - 1 in ends or not direct) and simple.fits(ancestors[place])
        }
        if not ends:
            return False
    return True


class StyleSheet:
    """The rules of a drawing that decide what is seen.

    Args:
        root: the outermost ``svg``.
    """

    def __init__(self, root: etree._Element) -> None:
        self.rules: list[_Rule] = []
        self.moves = False
        self.steps = 0
        for element in root.iter(svg("style")):
            if element.get("type") in (None, "", "text/css"):
                self._read(_COMMENT.sub(" ", str(element.xpath("string()"))))
        self.rules.sort(key=lambda rule: rule.weight)

    def _read(self, text: str) -> None:
        for found in _RULE.finditer(text):
            values = declarations(found[2])
            self.moves = self.moves or any(name in values for name in _MOVED)
            seen: dict[str, str] = {name: values[name] for name in _SEEN if name in values}
            if not seen:
                continue
            for selector in found[1].rpartition(";")[2].split(","):
                chain = _chain(selector)
                if chain:
                    simples = [simple for simple, _direct in chain]
                    weight = (
                        sum(bool(simple.id) for simple in simples),
                        sum(len(simple.classes) for simple in simples),
                        sum(bool(simple.tag) for simple in simples),
                        len(self.rules),
                    )
                    self.rules.append(_Rule(chain, weight, seen))

    def value(self, element: etree._Element, name: str) -> str | None:
        """Return what an element is declared to be: by its style, else by a rule, else by its attribute.

        Args:
            element: the element.
            name: ``display`` or ``visibility``.

        Raises:
            DocumentError: more rules have been tried on more elements than ``limits`` allows.
        """
        if not self.rules:
            return declared(element, name)
        own = declarations(element.get("style") or "").get(name)
        if own is not None:
            return own
        self.steps += len(self.rules)
        if self.steps > RULE_STEPS:
            raise DocumentError(
                _("The style sheet has too many rules for so many objects."),
                advice=_("Open the drawing in the editor and save it as plain SVG."),
            )
        for rule in reversed(self.rules):
            if name in rule.values and rule.fits(element):
                return rule.values[name]
        return element.get(name)


def _chain(selector: str) -> tuple[tuple[_Simple, bool], ...]:
    """Read one selector, from the element outwards; empty for one that is not read here."""
    words = selector.replace(">", " > ").split()
    chain: list[tuple[_Simple, bool]] = []
    direct = False
    for word in reversed(words):
        if word == ">":
            if direct or not chain:
                return ()
            direct = True
            continue
        simple = _simple(word)
        if simple is None:
            return ()
        chain.append((simple, direct))
        direct = False
    return () if direct else tuple(chain)


def _simple(word: str) -> _Simple | None:
    found = _SIMPLE.fullmatch(word)
    if not found or not word:
        return None
    ids = list(_named(found[2], "#"))
    if len(set(ids)) > 1:
        return None
    return _Simple("" if found[1] in (None, "*") else found[1], ids[0] if ids else "", frozenset(_named(found[2], ".")))


def _named(text: str, mark: str) -> Iterator[str]:
    return (name[1:] for name in re.findall(r"[.#][\w-]+", text) if name[0] == mark)
