# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Compare Two Cloths: on the body, with the selected pieces, as a page in the browser."""

from crossgrain_cloth import body, cloth, drafted_for, match
from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    return [*body(dialog), *match(dialog)]


def page(dialog, drawing, target):
    """Return the command that writes the page; the field “save” says where to keep it."""
    return ["fabric", "compare", drafted_for(dialog), cloth(dialog), "--pattern", drawing, "--html", target]


if __name__ == "__main__":
    run("fabric", words, page=page)
