"""How the lines of each size look: told apart by dash and width alone, so that they hold in grey; colour helps.

The colours are four of those that Masataka Okabe and Kei Ito proposed for all kinds of colour vision ("Color Universal
Design", 2008): the ones that stand out from white paper at 3 : 1 or more, as lines must (WCAG 2.1, criterion 1.4.11).
Neighbouring sizes have neither dash nor colour in common.
"""

from __future__ import annotations

from typing import Final

from crossgrain.model.cutting.line_looks import LineLook

COLOURS: Final = ("#0072b2", "#d55e00", "#009e73", "#cc79a7")
"""Blue, vermilion, bluish green, reddish purple."""

BASE_COLOUR: Final = "#000000"

_DASHES: Final = (
    (8.0, 2.0),
    (2.0, 2.0),
    (8.0, 2.0, 2.0, 2.0),
    (14.0, 3.0),
    (5.0, 1.5, 1.0, 1.5, 1.0, 1.5),
    (1.0, 1.5),
    (12.0, 2.0, 4.0, 2.0),
)
_WIDTHS: Final = (0.6, 0.4)
"""Of the seven sizes next above the base and of the seven next below it, then the other way round: so a dash comes with
each width once among 14 sizes beside the base."""
_BASE_WIDTH: Final = 0.9


def size_look(from_base: int) -> LineLook:
    """Return how a size looks.

    Args:
        from_base: how many sizes it lies from the base, below 0 for smaller ones. The base is drawn through, black and
            widest. Of 15 sizes no two have one dash and one width in common, of 28 no two one look.

    >>> size_look(0).dashes, size_look(1).colour
    ((), '#0072b2')
    """
    if from_base == 0:
        return LineLook(width=_BASE_WIDTH, dashes=(), colour=BASE_COLOUR)
    # Sizes below the base take what those farthest above it would: 4 colours and 7 dashes have no factor in common, so
    # 28 sizes pass before both come again.
    away = abs(from_base) - 1
    order = away if from_base > 0 else 27 - away
    return LineLook(
        width=_WIDTHS[(away // 7 + (from_base < 0) + away // 28) % 2],
        dashes=_DASHES[order % len(_DASHES)],
        colour=COLOURS[order % len(COLOURS)],
    )
