# SPDX-License-Identifier: GPL-2.0-or-later
"""What a maker is told: sentences in the reader's language, and the one that stops a menu entry."""

from __future__ import annotations

import os

HERE = os.path.dirname(os.path.abspath(__file__))
DOMAIN = "crossgrain-menus"


class RefusalError(Exception):
    """One sentence that says what stands in the way and what to do next; the drawing stays as it was."""


def _(message):
    """Return a sentence in the reader's language."""
    import gettext

    return gettext.translation(DOMAIN, os.path.join(HERE, "locale"), fallback=True).gettext(message)
