# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ True a Seam: make its sides agree."""

from crossgrain_cloth import levels
from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    if dialog.ticked("darts"):
        return ["--darts", *dialog.option("--blend", "blend"), *dialog.shown()]
    seam = ["--seam", dialog.needed("seam", _("Say which seam, as side."))]
    how = [*dialog.option("--give", "give"), *dialog.options("--keep", "keep"), *dialog.option("--blend", "blend")]
    return [*seam, *how, *dialog.options("--ease", "ease"), *levels(dialog), *dialog.shown()]


if __name__ == "__main__":
    run("true", words, whole=lambda dialog: dialog.ticked("whole"))
