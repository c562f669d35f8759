"""A piece's marks as attributes: one for each kind, all of them lists."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final, Protocol

from crossgrain.model.piece import Piece
from crossgrain.notation.marks import read_dart, read_hold, read_notch, write_dart, write_hold, write_notch
from crossgrain.notation.sewing_marks import (
    read_button,
    read_buttonhole,
    read_crease,
    read_loop,
    read_topstitching,
    write_button,
    write_buttonhole,
    write_crease,
    write_loop,
    write_topstitching,
)
from crossgrain.notation.words import write_list
from crossgrain.svg.facts import Facts


class _Wanted(Protocol):
    """A mark that is not placed on a piece yet."""

    def on(self, piece: Piece) -> Any:
        """Place it on a piece."""


_FORMS: Final[dict[str, tuple[Callable[[str], _Wanted], Callable[[Any], str]]]] = {
    "notches": (read_notch, write_notch),
    "darts": (read_dart, write_dart),
    "holds": (read_hold, write_hold),
    "creases": (read_crease, write_crease),  # after the darts, at which they may end
    "loops": (read_loop, write_loop),
    "buttons": (read_button, write_button),
    "buttonholes": (read_buttonhole, write_buttonhole),
    "topstitching": (read_topstitching, write_topstitching),
}


def with_marks_read(reader: Facts, piece: Piece) -> Piece:
    """Return a piece with the marks that stand on its outline.

    Raises:
        DocumentError: an attribute that cannot be read; the message names it and the element.
    """
    for name, (read, _write) in _FORMS.items():
        bare = piece
        marks: dict[str, Any] = {name: reader.each(name, lambda text, read=read, bare=bare: read(text).on(bare))}  # type: ignore[misc]
        if marks[name]:
            piece = replace(piece, **marks)
    return piece


def written_marks(piece: Piece) -> dict[str, str]:
    """Return the text of each kind of marks of a piece, empty where it has none."""
    return {name: write_list(map(write, getattr(piece, name))) for name, (_read, write) in _FORMS.items()}
