# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Reduce for a Cloth: narrow the selected pieces until the new cloth pulls like the old."""

from crossgrain_cloth import body, cloth, drafted_for, match
from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds: the open page says how much."""
    cloths = ["--fabric", cloth(dialog), "--drafted-for", drafted_for(dialog)]
    if dialog.text("way") == "stretch":
        how = ["--by-stretch", dialog.percent("by_stretch", _("Say which share of its stretch to use, as 50 %."))]
    else:
        accept = ["--accept-pressure"] if dialog.ticked("accept_pressure") else []
        how = [*body(dialog), *match(dialog), *dialog.option("--opening", "opening"), *accept]
    return [*cloths, *how, *dialog.shown()]


if __name__ == "__main__":
    run("reduce", words)
