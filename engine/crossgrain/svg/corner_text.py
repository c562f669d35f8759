"""Where the edges of a piece begin, as text: a share of the outline and the turn there, edge by edge."""

from __future__ import annotations

from typing import Final

from crossgrain.errors import DocumentError
from crossgrain.kernel.found_again.remembering import Remembered
from crossgrain.language import _
from crossgrain.notation.words import read_list, write_angle, write_list, write_share
from crossgrain.units import parse_angle, parse_share

_AGAINST: Final = "against:"


def read_corners(text: str) -> Remembered:
    """Read where the edges begin: shares of the outline, each with the turn there.

    >>> read_corners("0% 90°; 50% 90°").shares
    (0.0, 0.5)
    """
    against = text.strip().startswith(_AGAINST)
    items = read_list(text.strip().removeprefix(_AGAINST), _read_corner)
    shares = tuple(share % 1.0 for share, _turn in items)
    drops = sum(after <= before for before, after in zip(shares, shares[1:] + shares[:1], strict=True))
    if drops != 1 and items:
        raise DocumentError(
            _("The shares do not follow one another once round the outline."),
            advice=_("Write them rising from edge to edge, with “against:” before edges that run against the line."),
        )
    return Remembered(shares=shares, turns_rad=tuple(turn for _share, turn in items), against=against)


def write_corners(remembered: Remembered) -> str:
    """Write where the edges begin; read by :func:`read_corners`.

    >>> write_corners(Remembered(shares=(0.0, 0.5), turns_rad=(0.5, 0.25), against=True))
    'against: 0% 28.65°; 50% 14.32°'
    """
    text = write_list(
        f"{write_share(share)} {write_angle(turn, digits=2)}"
        for share, turn in zip(remembered.shares, remembered.turns_rad, strict=True)
    )
    return f"{_AGAINST} {text}" if remembered.against else text


def _read_corner(text: str) -> tuple[float, float]:
    share, sign, turn = text.partition("%")
    return parse_share(share + sign), parse_angle(turn.strip()) if turn.strip() else 0.0
