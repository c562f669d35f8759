"""In a window of the real editor: the dialog opens, Apply does what the command does, and one undo takes it back."""

from __future__ import annotations

import re
import shutil

import pytest

from extension.editor import by_command, in_a_window, needs_window, paths

pytestmark = needs_window

STEPS = """
app select-by-id "[<'front'>]"
sleep 0.3
{select}
open_dialog crossgrain.{action} "{title}"
apply
close_dialog
undo
app export-filename "[<'$DRAWING.undone.svg'>]"
app export-do
redo
save
"""


@pytest.mark.parametrize(
    ("action", "title", "name", "words"),
    [
        (
            "reduce",
            "3. Reduce",
            "bare",
            ("reduce", "--by", "8 %", "--show", "notes", "--show", "labels", "--show", "before"),
        ),
        ("allow", "4. Seam Allowances", "marked", ("allow", "--width", "10 mm", "--show", "notes", "--show", "labels")),
    ],
)
def test_apply_and_undo(tmp_path, drawing, action, title, name, words):
    source = drawing(name)
    was = paths(source)
    wanted = paths(by_command(tmp_path, source, *words, "--piece", "front"))
    in_a_window(tmp_path, source, STEPS.format(action=action, title=title, select=""))
    after, undone = paths(source), paths(source.with_name(source.name + ".undone.svg"))
    assert {id: after.get(id) for id in wanted} == wanted != was
    assert {id: undone.get(id) for id in was} == was
    assert not (set(wanted) - set(was)) & set(undone)


def test_the_selected_nodes_are_the_corners(tmp_path, drawing):
    """A line that hardly turns at its fifth node: with all five selected, it is a corner too."""
    source = drawing("bare")
    text = source.read_text(encoding="utf-8").replace("L 125,330 H 35 Z", "L 134,144 L 125,330 H 35 Z")
    source.write_text(text, encoding="utf-8")
    first = tmp_path / "first.svg"
    shutil.copy(source, first)
    names = "waist upper lower hem inseam"
    in_a_window(
        tmp_path,
        source,
        STEPS.format(
            action="name-edges",
            title="1. Name the Edges",
            select="""
window tool-switch "[<'Node'>]"
sleep 0.5
main=$(xdotool search --onlyvisible --name "Inkscape$" | tail -1)
xdotool windowactivate --sync $main key ctrl+a
sleep 0.5
""",
        ),
        parameters={"crossgrain.name-edges.edges": names, "crossgrain.name-edges.name": "front leg"},
    )
    corners = [word for node in range(5) for word in ("--corner", f"node {node}")]
    words = ("mark", "--name", "front leg", "--edges", names, *corners, "--show", "notes", "--show", "labels")
    wanted = by_command(tmp_path, first, *words, "--piece", "front")
    undone = source.with_name(source.name + ".undone.svg")
    assert edges_of(source) == edges_of(wanted) != ""
    assert paths(source)["front"] == paths(first)["front"]
    assert (edges_of(undone), paths(undone)["front"]) == ("", paths(first)["front"])


def edges_of(drawing):
    found = re.search(r'crossgrain:edges="([^"]*)"', drawing.read_text(encoding="utf-8"))
    return found[1] if found else ""
