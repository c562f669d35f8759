# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Write the Recipe: what was done to the drawing, to be done again to others."""

from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds: it has none."""
    dialog.needed("save", _("Say where to keep the recipe: a file that ends in .toml."))
    return []


def page(dialog, drawing, target):
    """Return the command that writes the recipe; the field “save” says where to keep it."""
    return ["journal", drawing, "-o", target]


if __name__ == "__main__":
    run("journal", words, page=page, opens=False, whole=lambda dialog: True)
