"""Read the attributes of an outline one by one, and say which of them cannot be read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final, TypeVar

from lxml import etree

from crossgrain.errors import CrossgrainError, DocumentError, InputError
from crossgrain.kernel.affine import Point
from crossgrain.kernel.found_again.remembering import Remembered
from crossgrain.language import _
from crossgrain.model.dependents.follows import Follows
from crossgrain.model.dependents.traces import Traces
from crossgrain.model.dependents.zips import Zip
from crossgrain.model.piece import listed
from crossgrain.notation.follows import read_dependence, read_followed, write_dependence
from crossgrain.notation.words import read_list
from crossgrain.svg.corner_text import read_corners
from crossgrain.svg.names import crossgrain

T = TypeVar("T")

ATTRIBUTES: Final = (
    "piece",
    "outline",
    "cut",
    "edges",
    "corners",
    "stood",
    "grain",
    "notches",
    "darts",
    "holds",
    "creases",
    "loops",
    "buttons",
    "buttonholes",
    "topstitching",
    "allowances",
    "sewn-as",
    "corners-sewn",
    "follows",
    "followed",
)
"""The names of our attributes on an outline, in the order in which they are written."""


class Facts:
    """The facts of one outline, as they stand on its element: read one by one, and what cannot be read is named."""

    def __init__(self, element: etree._Element, id: str) -> None:
        self.element = element
        self.id = id

    def check_names(self) -> None:
        """Refuse an attribute of our namespace that is not known."""
        prefix = crossgrain("")
        for key in self.element.attrib:
            name = str(key).removeprefix(prefix)
            if str(key).startswith(prefix) and name not in ATTRIBUTES:
                raise DocumentError(
                    _("{id} has an attribute crossgrain:{name}, which is not known.").format(id=self.id, name=name),
                    advice=_("Known are: {names}.").format(names=listed(ATTRIBUTES)),
                    piece=self.id,
                )

    def text(self, name: str) -> str | None:
        """Return an attribute as it stands; None where it is not there."""
        return self.element.get(crossgrain(name))

    def read(self, name: str, read: Callable[[str], T], otherwise: T) -> T:
        """Read an attribute; ``otherwise`` where it is not there."""
        text = self.text(name)
        if text is None:
            return otherwise
        try:
            return read(text)
        except InputError as error:
            raise self.fault(name, error) from error

    def each(self, name: str, read: Callable[[str], T]) -> tuple[T, ...]:
        """Read an attribute that is a list, item by item."""
        return self.read(name, lambda text: read_list(text, read), ())

    def known(self, name: str, used: Iterable[str], names: Sequence[str]) -> None:
        """Refuse an attribute that speaks of an edge which the piece has not."""
        for edge in used:
            if edge not in names:
                raise self.fault(
                    name,
                    InputError(
                        _("There is no edge named {name}.").format(name=edge),
                        advice=_("Its edges are: {names}.").format(names=listed(names) or _("not named yet")),
                    ),
                )

    def remembered(self, count: int) -> Remembered:
        """Read where so many edges begin."""
        remembered = self.read("corners", read_corners, Remembered(shares=(), turns_rad=()))
        if len(remembered.shares) != count:
            raise self.fault(
                "corners",
                InputError(
                    _("{corners} corners are given for {edges} edges.").format(
                        corners=len(remembered.shares), edges=count
                    ),
                    advice=_("Mark the edges of the piece again."),
                ),
            )
        places = self.each("stood", _read_point)
        return Remembered(
            shares=remembered.shares,
            turns_rad=remembered.turns_rad,
            against=remembered.against,
            places=places if len(places) == count else (),
        )

    def dependences(self) -> tuple[Follows | Traces | Zip, ...]:
        """Read what edges depend on, each with the lengths it had when it last was brought up to date."""
        was = dict(self.each("followed", read_followed))

        def noted(one: Follows | Traces | Zip) -> Follows | Traces | Zip:
            if isinstance(one, Follows):
                lengths = was.get(one.edge, ())
                return replace(one, was=lengths) if len(lengths) == len(one.terms) else one
            lengths = was.get(write_dependence(one), ())
            return replace(one, was=lengths[0]) if isinstance(one, Zip) and len(lengths) == 1 else one

        return tuple(noted(one) for one in self.each("follows", read_dependence))

    def fault(self, name: str, error: CrossgrainError) -> DocumentError:
        """Return what is wrong with an attribute as an error that names it and the outline."""
        return DocumentError(
            _("crossgrain:{name} of {id} cannot be read: {message}").format(
                name=name, id=self.id, message=error.message
            ),
            advice=error.advice,
            piece=self.id,
            edge=error.edge,
        )


def _read_point(text: str) -> Point:
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        raise DocumentError(_("“{text}” is no place.").format(text=text), advice=_("Write it as 12.5,30.")) from None
    return (x, y)
