# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Mark: what the page says – the grain, marks, what an edge follows, the cutting."""

from crossgrain_editor import run

FIELDS = {"lines": ("crease", "topstitch"), "closing": ("button", "buttonhole", "loop")}
"""The fields of the pages that have several; the others have one of their own name."""

ADDED = ("hold", "notch", "dart", *FIELDS)
"""The pages of marks that may join those the piece has."""


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    page = dialog.text("mark")
    nodes = dialog.nodes_of(pieces[0])
    marks = [*dialog.option("--outline", "outline")] if page == "cut" else []
    if page in ("notch", "dart") and nodes:
        marks += [word for node in nodes for word in (f"--{page}", f"node {node} {dialog.text(page)}".strip())]
    else:
        marks += [word for name in FIELDS.get(page, (page,)) for word in dialog.options(f"--{name}", name)]
    marks += dialog.option("--drill", "drill") if page == "dart" else []
    add = ["--add"] if page in ADDED and dialog.ticked("add") else []
    return [*marks, *add, *dialog.shown()]


if __name__ == "__main__":
    run("mark", words, one_piece=True)
