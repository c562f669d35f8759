"""How the sizes of a pattern are told apart where they lie over each other: a dash and a colour for each.

The dashes differ for twelve sizes, so that they hold in black and white. The colours are those of Okabe and Ito, *Color
Universal Design* (2008), made to be told apart by people who see colours otherwise too; their yellow, too pale for a
thin line on paper, is left out, and they begin again after the seventh.
"""

from __future__ import annotations

from typing import Final

from crossgrain.model.line_looks import LineLook

COLOURS: Final = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#000000", "#56b4e9", "#e69f00")
"""Blue, vermilion, bluish green, reddish purple, black, sky blue, orange."""

_DASHES: Final[tuple[tuple[float, ...], ...]] = (
    (),
    (9.0, 3.0),
    (3.0, 2.0),
    (9.0, 2.0, 2.0, 2.0),
    (16.0, 3.0),
    (1.0, 1.5),
    (9.0, 2.0, 1.0, 2.0, 1.0, 2.0),
    (16.0, 3.0, 4.0, 3.0),
    (5.0, 5.0),
    (12.0, 2.0, 3.0, 2.0, 3.0, 2.0),
    (4.0, 1.5, 1.0, 1.5),
    (20.0, 6.0),
)

CUT_WIDTH: Final = 0.6
STITCH_WIDTH: Final = 0.25


def size_look(number: int, *, is_cut: bool) -> LineLook:
    """Return how the outline of a size is drawn among others.

    Args:
        number: of the size, from 0.
        is_cut: whether it is the cut line, the wider of the two.

    >>> size_look(0, is_cut=True)
    LineLook(width=0.6, dashes=(), colour='#0072b2')
    """
    width = CUT_WIDTH if is_cut else STITCH_WIDTH
    # After the twelfth the dashes begin again, and are wider by half.
    width *= 1.0 + 0.5 * (number // len(_DASHES))
    return LineLook(width, _DASHES[number % len(_DASHES)], COLOURS[number % len(COLOURS)])
