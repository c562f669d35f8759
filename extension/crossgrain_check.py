# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Check: look the selected pieces over, and mark on the drawing what was found."""

from crossgrain_cloth import body, cloth
from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    worn = [*body(dialog), "--fabric", cloth(dialog)] if dialog.ticked("worn") else []
    return [*dialog.options("--not-sewn", "not_sewn"), *worn, *dialog.option("--opening", "opening")]


if __name__ == "__main__":
    run("check", words, into="--mark")
