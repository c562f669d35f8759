# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Reduce: narrow the selected pieces for cloth that stretches."""

from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    by = ["--by", dialog.percent("by", _("Say how much narrower, as 8 %."))]
    along = ["--along", dialog.percent("along")] if dialog.text("along") else []
    return [*by, *along, *dialog.option("--anchor", "anchor"), *dialog.shown()]


if __name__ == "__main__":
    run("reduce", words)
