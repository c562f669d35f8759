# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Measure: a table on the drawing, or a page in the browser."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    return dialog.options("--level", "level")


def page(dialog, drawing, target):
    """Return the command that writes the page, if one is wanted; the field “save” says where to keep it."""
    return ["measure", drawing, "--page", target] if dialog.text("into") == "page" else []


if __name__ == "__main__":
    run("measure", words, page=page)
