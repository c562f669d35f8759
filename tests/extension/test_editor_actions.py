"""Every menu entry in the real editor gives what the same command gives, byte for byte, and says nothing."""

from __future__ import annotations

import pytest

from extension.actions import CHOICES, NAMES
from extension.editor import act, by_command, needs_editor, paths, write_many_nodes

pytestmark = needs_editor


@pytest.mark.parametrize(
    "choice",
    [choice for choice in CHOICES if choice.in_editor],
    ids=lambda choice: f"{choice.action}-{'-'.join(choice.selected)}",
)
def test_the_menu_and_the_command_draw_the_same(tmp_path, drawing, choice):
    source = drawing(choice.drawing)
    before = source.read_bytes()
    written = by_command(tmp_path, source, *choice.command, *choice.pieces)
    if written.suffix == ".html":
        page = tmp_path / "kept é.html"
        act(tmp_path, source, choice.action, choice.selected, {**choice.fields, "save": str(page)})
        assert page.read_bytes() == written.read_bytes()
        assert source.read_bytes() == before
        return
    wanted = paths(written)
    got = paths(act(tmp_path, source, choice.action, choice.selected, choice.fields))
    assert {id: got.get(id) for id in wanted} == wanted
    assert source.read_bytes() == before
    if choice.action in ("reduce", "reduce-for-cloth", "allow"):
        assert wanted != paths(source), "the command changed nothing, so this compares nothing"


def test_every_entry_is_tried():
    assert {choice.action for choice in CHOICES if choice.in_editor} == set(NAMES)


REDUCED = {"by": "10 %", "labels": "0", "before": "0"}
REDUCE = ("reduce", "--by", "10 %", "--piece", "front", "--show", "notes")


@pytest.mark.parametrize("unsaved", [False, True], ids=["saved", "never saved"])
def test_a_drawing_in_inches(tmp_path, unsaved):
    source = tmp_path / "inches.svg"
    source.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="10in" viewBox="0 0 10 10">'
        '<path id="front" d="M 1,1 H 5 V 9 H 1 Z"/></svg>',
        encoding="utf-8",
    )
    wanted = paths(by_command(tmp_path, source, *REDUCE))
    got = paths(act(tmp_path, source, "reduce", ("front",), REDUCED, unsaved=unsaved))
    assert got["front"] == wanted["front"]
    assert got["front"].startswith("M1.2,1 ")


def test_a_path_of_ten_thousand_nodes(tmp_path):
    source = write_many_nodes(tmp_path, 10_000)
    wanted = paths(by_command(tmp_path, source, *REDUCE))
    got = paths(act(tmp_path, source, "reduce", ("front",), REDUCED))
    assert got["front"] == wanted["front"] != paths(source)["front"]
