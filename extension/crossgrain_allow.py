# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Seam Allowances: draw the cut line of the selected pieces."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    strip = ["--strip"] if dialog.ticked("strip") else []
    return [*dialog.option("--width", "width"), *dialog.options("--edge", "edge"), *strip, *dialog.shown()]


if __name__ == "__main__":
    run("allow", words)
