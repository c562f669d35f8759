# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Measure: a table on the drawing, or a page in the browser."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    page = ["--open"] if dialog.text("into") == "page" else []
    return [*dialog.options("--level", "level"), *page]


if __name__ == "__main__":
    run("measure", words)
