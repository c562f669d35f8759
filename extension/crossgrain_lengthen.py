# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Lengthen or Shorten: open or close pieces along the grain at a level."""

from crossgrain_cloth import levels
from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    by = ["--by", dialog.needed("by", _("Say by how much, as 25 mm or -25 mm."))]
    at = ["--at", dialog.needed("at", _("Say where, as hem, knee or 550 mm."))]
    keep = [*dialog.option("--keep", "keep"), *dialog.option("--blend", "blend")]
    return [*by, *at, *keep, *levels(dialog), *dialog.shown()]


if __name__ == "__main__":
    run("lengthen", words, whole=lambda dialog: dialog.ticked("whole"))
