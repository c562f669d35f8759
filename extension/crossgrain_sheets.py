# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Print Sheets: the pieces at true size, as a PDF that is opened."""

from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    paper = dialog.text("paper") or "a4"
    if paper == "roll":
        width = dialog.needed("roll", _("Say how wide the roll is, as 914 mm."))
        paper = "roll-" + width
    out = ["--paper", paper]
    out += ["--grain-parallel"] if dialog.ticked("grain_parallel") else []
    out += ["--all"] if dialog.ticked("all_copies") else []
    out += ["--open-folds"] if dialog.ticked("open_folds") else []
    for field in ("overlap", "gap", "garment", "size", "cloth"):
        out += dialog.option("--" + field, field)
    return [*out, *dialog.options("--off", "off")]


def page(dialog, drawing, target):
    """Return the command that writes the sheets; the field “save” says where to keep them."""
    return ["sheets", drawing, "-o", target]


if __name__ == "__main__":
    run("sheets", words, page=page, whole=lambda dialog: dialog.ticked("whole"), kind="pdf")
