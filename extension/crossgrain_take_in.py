# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Take In or Let Out: move a seam by what was basted at the fitting."""

from crossgrain_cloth import levels
from crossgrain_editor import run
from crossgrain_words import RefusalError, _


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    rest = [*dialog.options("--share", "shares"), *levels(dialog), *dialog.shown()]
    girth = ["--girth"] if dialog.ticked("is_girth") else []
    owners = dialog.owners()
    if len(owners) > 1:
        raise RefusalError(_("Nodes of several pieces are selected. Select nodes of one edge."))
    if owners:
        nodes = " ".join(str(number) for number in dialog.nodes_of(owners[0]))
        by = dialog.needed("by", _("Say by how much, as 10 mm."))
        return ["--nodes", f"{nodes} of {owners[0]}", "--by", by, *girth, *rest]
    seam = dialog.needed("seam", _("Say which seam, as side, or select nodes of it with the Node tool."))
    if not dialog.text("at"):
        raise RefusalError(_("Say how much along the seam, as waist=0mm; hip=12mm; hem=6mm."))
    return ["--seam", seam, *dialog.options("--at", "at"), *girth, *rest]


if __name__ == "__main__":
    run("take-in", words, whole=lambda dialog: dialog.ticked("whole"))
