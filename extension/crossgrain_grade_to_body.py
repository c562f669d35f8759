# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Grade to a Body: the pieces for one body, its measures each by itself."""

from crossgrain_editor import run
from crossgrain_words import _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    rules = ["--rules", dialog.needed("rules", _("Choose the file of the rules."))]
    body = ["--to-body", dialog.needed("body", _("Choose the file of the body that is to wear it."))]
    return [*rules, *body, *dialog.shown()]


if __name__ == "__main__":
    run("grade", words, whole=lambda dialog: dialog.ticked("whole"))
