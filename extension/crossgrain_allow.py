# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Seam Allowances: draw the cut line of the selected pieces."""

from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    way = dialog.text("way")
    if way == "kept":
        first = ["--renew"]
    else:
        first = ["--strip"] if dialog.ticked("strip") else []
        if way == "set":
            file = dialog.needed("set", _("Choose the file of a set of widths."))
            first += ["--set", file, *dialog.options("--class", "class")]
        else:
            first += dialog.option("--width", "width")
    corners = [*dialog.options("--corner", "corner"), *dialog.options("--press", "press")]
    return [*first, *dialog.options("--edge", "edge"), *corners, *dialog.shown()]


if __name__ == "__main__":
    run("allow", words)
