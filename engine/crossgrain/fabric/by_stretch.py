"""Reduce by a share of the stretch: common practice among makers, where nothing else is known.

With a stretch S and a share s of it that is to be used, a width becomes 1/(1 + s·S) of itself. Where the pattern was
drafted for a cloth of stretch S₁ by the same practice, (1 + s·S₁)/(1 + s·S₂). It takes no account of how firm a
cloth is.
"""

from __future__ import annotations

from crossgrain.errors import ParameterError
from crossgrain.fabric.cloth import Cloth
from crossgrain.language import _


def share_by_stretch(share: float, new: Cloth, drafted_for: Cloth | None = None) -> float:
    """Return the share of the width that is taken away.

    Args:
        share: of the stretch that is used, a ratio above 0 and at most 1; makers take a half or less.
        new: the cloth it is to be cut from.
        drafted_for: the cloth the pattern was drafted for; none for a pattern that is as large as the body.

    Returns:
        A ratio; below 0 where the piece becomes wider.

    >>> from crossgrain.fabric.bench import Pull
    >>> from crossgrain.fabric.cloth import Direction
    >>> cloth = Cloth(name="remnant", cross=Direction(test=Pull(gauge=100.0, length=120.0)))
    >>> round(share_by_stretch(0.5, cloth), 4)
    0.0909
    """
    if not 0.0 < share <= 1.0:
        raise ParameterError(
            _("A share of {share:.4g} % of the stretch cannot be used.").format(share=share * 100.0),
            advice=_("Give more than 0 % and at most 100 %; a half is much."),
        )
    before = 0.0 if drafted_for is None else drafted_for.cross.stretch
    return 1.0 - (1.0 + share * before) / (1.0 + share * new.cross.stretch)
