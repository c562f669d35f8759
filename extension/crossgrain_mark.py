# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Mark: grain, hold, notch, dart, what an edge follows or the cutting, as the page says."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    page = dialog.text("mark")
    nodes = dialog.nodes_of(pieces[0])
    marks = [*dialog.option("--outline", "outline")] if page == "cut" else []
    if page in ("notch", "dart") and nodes:
        marks += [word for node in nodes for word in (f"--{page}", f"node {node} {dialog.text(page)}".strip())]
    else:
        marks += dialog.options(f"--{page}", page)
    add = ["--add"] if page in ("hold", "notch", "dart") and dialog.ticked("add") else []
    return [*marks, *add, *dialog.shown()]


if __name__ == "__main__":
    run("mark", words, one_piece=True)
