"""Words in a drawing that name its size: a piece that still says the base's is cut for the wrong body.

What says it plainly, as “size 38” or “base size”, is written anew. What only may mean it – the bare name of the base, a
measure of its body – is left as the maker wrote it and said, with its place.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from lxml import etree

from crossgrain.errors import CrossgrainError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.names import crossgrain, svg
from crossgrain.svg.redraw import LAYER
from crossgrain.svg.transforms import parse_transform
from crossgrain.units import parse_length

_WORDED: Final = (svg("text"), svg("title"), svg("desc"))
_SIZE: Final = r"(?:size|taille)"
_BASE_SIZE: Final = re.compile(r"\b(?:base\s+(?P<word>size)|(?P<mot>taille)\s+de\s+base)\b", re.IGNORECASE)
_LENGTH: Final = re.compile(r"(?<![\w.,])\d+(?:[.,]\d+)?\s*(?:mm|cm|in)\b")
_NO_MORE: Final = r"(?![\w%]|[.,:/–-]\d|\s*(?:mm|cm|in|g)\b|\s*[x×]\s*\d)"
"""What may not follow the name of a size: more of a word or a number, a range, a unit, a second side."""
_NO_COUNT: Final = r"(?<!(?i:cut) )(?<!(?i:couper) )"
"""How many are cut is no size."""
_ROUNDED: Final = 0.6
"""A measure as it is written on a pattern is rounded to whole millimetres."""
_MOST_SHOWN: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeWords:
    """Which size a drawing was, and which it is now.

    Args:
        base: the name of the base.
        size: the name of the new size; empty where it is made for one body.
        body: the name of that body; empty where it has none.
        measures: names of measures of the body, with what they are in the base and now, mm.
    """

    base: str
    size: str = ""
    body: str = ""
    measures: tuple[tuple[str, float, float], ...] = ()


def rewrite_size(drawing: Drawing, words: SizeWords) -> tuple[Finding, ...]:
    """Let the words of a drawing name its new size.

    Args:
        drawing: altered in place; layers of our own are left.
        words: what it was and what it is.

    Returns:
        A finding for each text that may still mean the base, and for each piece whose name does.
    """
    findings = []
    base = re.escape(words.base)
    bare = re.compile(rf"(?:{_NO_COUNT}(?<![\w.,:/–-])|(?<=\d[–-])){base}{_NO_MORE}")
    worded = re.compile(rf"\b(?i:{_SIZE})\W{{0,3}}{base}\b(?!\.\d)")
    texts = list(_texts(drawing))
    for element in texts:
        _rewrite(element, words)
    for element in (line for text in texts for line in _lines(text)):
        text = " ".join("".join(map(str, element.itertext())).split())
        shown = text if len(text) <= _MOST_SHOWN else text[: _MOST_SHOWN - 1] + "…"
        at = _place(drawing, element)
        # Names may run on into a range, as size 38-40: that names the base too.
        if bare.search(text) or worded.search(text):
            if words.size != words.base:
                findings.append(
                    Finding(
                        piece="",
                        message=_("The drawing says “{text}”, as the base of size {base} did.").format(
                            text=shown, base=words.base
                        ),
                        advice=_("Write the size anew where that is meant; “size {base}” is altered by itself.").format(
                            base=words.base
                        ),
                        position=at,
                    )
                )
        elif measure := _measure_in(text, words):
            findings.append(
                Finding(
                    piece="",
                    message=_("The drawing says “{text}”: {measure} is that of the base.").format(
                        text=shown, measure=measure
                    ),
                    advice=_("Write the measure of this size, or take it away."),
                    position=at,
                )
            )
    for element in drawing.root.iter(etree.Element):
        name = element.get(crossgrain("piece"), "")
        if bare.search(name):
            findings.append(
                Finding(
                    piece=name,
                    message=_("The name of the piece has the size of the base in it."),
                    advice=_("Name it anew: crossgrain mark --name."),
                )
            )
    return tuple(findings)


def _texts(drawing: Drawing) -> Iterator[etree._Element]:
    for element in drawing.root.iter(*_WORDED):
        if not any(above.get(LAYER) for above in element.iterancestors()):
            yield element


def _lines(text: etree._Element) -> list[etree._Element]:
    """Return the lines of a text: its parts that have places of their own, or the whole."""
    return [part for part in text.iter(svg("tspan")) if part.get("x") and part.get("y")] or [text]


def _rewrite(element: etree._Element, words: SizeWords) -> None:
    for part in element.iter(etree.Element):
        if part.text:
            part.text = _renamed(part.text, words)
        if part is not element and part.tail:
            part.tail = _renamed(part.tail, words)


def _renamed(text: str, words: SizeWords) -> str:
    called = words.size or words.body or _("made to measure")

    def named(found: re.Match[str]) -> str:
        return f"{found['word']}{found['between']}{called}" if words.size else called

    def of_base(found: re.Match[str]) -> str:
        word = found["word"] or found["mot"]
        word = word.capitalize() if found[0][0].isupper() else word.lower()
        return f"{word} {called}" if words.size else called

    # “Base size 38” names it twice.
    base = re.escape(words.base)
    text = re.sub(rf"({_BASE_SIZE.pattern})(?=\s*[:.]?\s*{base}{_NO_MORE})", _without_base, text, flags=re.IGNORECASE)
    plain = re.compile(rf"(?<!\w)(?P<word>(?i:{_SIZE}))(?P<between>\s*[:.]?\s*){base}{_NO_MORE}")
    return _BASE_SIZE.sub(of_base, plain.sub(named, text))


def _without_base(found: re.Match[str]) -> str:
    word = found["word"] or found["mot"]
    return word.capitalize() if found[0][0].isupper() else word.lower()


def _measure_in(text: str, words: SizeWords) -> str:
    """Return the first measure of the base that a text gives and that is another one now."""
    for found in _LENGTH.finditer(text):
        length = parse_length(found[0])
        for name, was, now in words.measures:
            if abs(length - was) <= _ROUNDED < abs(now - was):
                return f"{name} {found[0]}"
    return ""


def _place(drawing: Drawing, element: etree._Element) -> Point | None:
    """Return where a text begins, mm; None where that cannot be told."""
    holder = next((part for part in element.iter(etree.Element) if part.get("x") and part.get("y")), None)
    if holder is None:
        return None
    try:
        x, y = (float(holder.get(axis, "").split()[0]) for axis in ("x", "y"))
        to_root = Affine.scaling(1.0, 1.0)
        for above in (holder, *holder.iterancestors()):
            if above is not drawing.root and above.get("transform"):
                to_root = to_root.then(parse_transform(above.get("transform", "")))
    except (ValueError, CrossgrainError):
        return None
    return drawing.page.to_mm.of(to_root.of((x, y)))
