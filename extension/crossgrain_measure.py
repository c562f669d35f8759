# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Measure: a table on the drawing, or a page in the browser."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    return dialog.options("--level", "level")


if __name__ == "__main__":
    run("measure", words, page=lambda dialog: dialog.text("into") == "page")
