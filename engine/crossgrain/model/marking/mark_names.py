"""What marks are called, as in the legend of a sheet."""

from __future__ import annotations

from crossgrain.language import _
from crossgrain.model.marking.mark_lines import MarkKind


def mark_names() -> dict[MarkKind, str]:
    """Return what each kind of mark is called, in the order in which a legend lists them.

    >>> mark_names()["drill"]
    'drill hole'
    """
    return {
        "grain": _("grain"),
        "notch": _("notch"),
        "dart": _("dart"),
        "drill": _("drill hole"),
        "hold": _("strip that is held"),
        "fold": _("fold of the cloth"),
        "crease": _("crease"),
        "loop": _("belt loop"),
        "button": _("button"),
        "buttonhole": _("buttonhole"),
        "topstitch": _("topstitching"),
    }
