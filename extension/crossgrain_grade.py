# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Grade: one size instead of the pieces, or all sizes over them."""

from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    rules = ["--rules", dialog.needed("rules", _("Choose the file of the rules."))]
    if dialog.text("way") == "size":
        return [*rules, "--size", dialog.needed("size", _("Say which size, as 12.")), *dialog.shown()]
    return [*rules, "--stacked", *dialog.option("--sizes", "sizes"), *dialog.options("--stack-at", "stack_at")]


if __name__ == "__main__":
    run("grade", words, whole=lambda dialog: dialog.ticked("whole"))
