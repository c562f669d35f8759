# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Name the Edges: say once which edge is which."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    option = {"start": "--start", "between": "--between"}.get(dialog.text("nodes"), "--corner")
    nodes = [word for node in dialog.nodes_of(pieces[0]) for word in (option, f"node {node}")]
    return [*dialog.option("--name", "name"), *dialog.option("--edges", "edges"), *nodes, *dialog.shown()]


if __name__ == "__main__":
    run("mark", words, one_piece=True)
