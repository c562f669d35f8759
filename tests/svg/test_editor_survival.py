"""The real editor, not our idea of it: what it does to a marked piece, and the edges found again afterwards.

Every call runs under ``timeout`` and with a profile of its own: the editor keeps preferences, and a dialog would
hang it.
"""

import math
import os
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from crossgrain.errors import GeometryError
from crossgrain.kernel.length import path_length
from crossgrain.model import CutInstruction, Dart, Hold, Notch
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from crossgrain.model.piece import MARKS
from crossgrain.notation.words import read_outline_spot
from crossgrain.operations.marking import Marking, mark
from crossgrain.svg.names import crossgrain
from crossgrain.svg.pattern import pattern_of, readable_pattern, update
from crossgrain.svg.reader import parse_drawing, read_drawing
from crossgrain.svg.writer import drawing_bytes
from extension.editor import act, by_command, in_a_window, needs_window, paths

pytestmark = pytest.mark.skipif(
    shutil.which("inkscape") is None, reason="the editor is not installed: apt-get install inkscape xvfb"
)

EDGES = ("waist", "side", "hem", "inseam", "crotch", "centre")
FRONT = "M 100 30 L 330 18 C 350 300 330 700 315 1030 L 140 1030 C 140 700 110 480 45 300 C 80 298 98 270 100 220 Z"
# What is done to each piece in one session; the outline alone is selected, as a maker would click it.
DONE = {
    "nothing": "",
    "moved": "transform-translate:30,40",
    "turned": "transform-rotate:37",
    "turned-quarter": "object-rotate-90-cw",
    "flipped": "object-flip-horizontal",
    "flipped-down": "object-flip-vertical",
    "grown": "transform-grow:20",
    "grouped-and-turned": "selection-group;transform-rotate:-61",
    "grouped-and-flipped": "selection-group;object-flip-horizontal;transform-rotate:15",
    "copied": "duplicate;transform-translate:-70,15;object-flip-horizontal",
    "simplified": "path-simplify",
}

BUTTON = {"edge": "waist", "share": 0.125, "diameter": 15.0, "thickness": 3.0, "inset": 12.0}
MARKED = {
    "holds": (Hold(edge="centre", width=5.0),),
    "notches": (Notch(edge="side", share=0.25, count=2, kind="V"),),
    "darts": (Dart(edge="waist", share=0.5, width=20.0, depth=90.0, drill=10.0),),
    "creases": (Crease(edge="hem", share=0.5, reach=0.75),),
    "loops": (Loop(edge="waist", share=0.75, length=60.0),),
    "buttons": (Button(**BUTTON),),
    "buttonholes": (Buttonhole(**BUTTON, lie="along"),),
    "topstitching": (Topstitching(edge="centre", width=30.0, start=1.0, end=0.125),),
}


def marked(path: Path, groups: dict[str, str], line: str = FRONT, smooth: int = 5) -> None:
    """Write a drawing in px with a marked front for each thing that is done.

    Args:
        path: the file.
        groups: by what is done, the opening tag of the group in which its front lies.
        line: the outline.
        smooth: the node where crotch meets centre, which no turn tells.
    """
    bodies = "\n".join(
        f'{group}<path id="{id}" d="{line}" style="fill:none;stroke:#000000"/></g>' for id, group in groups.items()
    )
    drawing = parse_drawing(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="594mm" viewBox="0 0 1587.4 2245.04">'
        f'<g id="layer">{bodies}</g></svg>'.encode(),
        name="fronts.svg",
    )
    before = pattern_of(drawing, list(groups))
    after = before
    for id in groups:
        marking = Marking(
            piece=id,
            name=f"front {id}",
            edges=EDGES,
            corners=(read_outline_spot(f"node {smooth}"),),
            cut=CutInstruction(count=2, mirrored=True),
        )
        after = mark(after, marking).value
        piece = after.piece(id)
        after = after.with_pieces([replace(piece, **MARKED)])
    update(drawing, before, after)
    path.write_bytes(drawing_bytes(drawing))


def environment(tmp_path: Path) -> dict[str, str]:
    profile = tmp_path / "profile"
    profile.mkdir()
    return {**os.environ, "INKSCAPE_PROFILE_DIR": str(profile), "HOME": str(tmp_path), "NO_AT_BRIDGE": "1"}


def edit(tmp_path: Path, source: Path, target: Path, actions: str) -> None:
    result = subprocess.run(
        [
            *("timeout", "120", "xvfb-run", "-a", "inkscape", "-g", "--batch-process"),
            f"--actions={actions};export-filename:{target};export-do",
            str(source),
        ],
        env=environment(tmp_path),
        capture_output=True,
        check=False,
    )
    assert target.exists(), result.stderr.decode()


def lengths(piece) -> list[float]:
    return [path_length(edge.line) for edge in piece.edges]


def turn_from_centre(piece) -> float:
    """The grain as a turn from the centre edge towards the inside: what has to stay whatever is done."""
    line = piece.edge("centre").line
    waist = piece.edge("waist").line
    cx, cy = line.end[0] - line.start[0], line.end[1] - line.start[1]
    wx, wy = waist.end[0] - waist.start[0], waist.end[1] - waist.start[1]
    gx, gy = piece.grain
    side = math.copysign(1.0, cx * wy - cy * wx)
    return math.atan2(side * (cx * gy - cy * gx), cx * gx + cy * gy)


@pytest.fixture(scope="module")
def edited(tmp_path_factory):
    """The pieces before, and after editing them, saving, opening again and saving once more."""
    folder = tmp_path_factory.mktemp("editor")
    first, second, third = (folder / name for name in ("marked.svg", "edited.svg", "reopened.svg"))
    places = (
        f'<g transform="translate({40 * number},{25 * number}) scale({0.5 + 0.1 * number})">'
        for number in range(len(DONE))
    )
    marked(first, dict(zip(DONE, places, strict=True)))
    actions = ";".join(f"select-clear;select-by-id:{id};{done}" for id, done in DONE.items() if done)
    edit(folder, first, second, actions)
    (folder / "profile").rename(folder / "profile-1")
    edit(folder, second, third, "select-clear")
    return pattern_of(read_drawing(first)), read_drawing(third)


@pytest.mark.parametrize("id", [id for id in DONE if id != "simplified"])
def test_edges_marks_and_grain_are_found_again(edited, id):
    before, drawing = edited
    old, new = before.piece(id), pattern_of(drawing).piece(id)
    assert new.edge_names == EDGES
    factor = path_length(new.line) / path_length(old.line)
    assert lengths(new) == pytest.approx([length * factor for length in lengths(old)], rel=1e-5)
    assert (factor == pytest.approx(1.0, abs=1e-5)) is (id != "grown")
    assert turn_from_centre(new) == pytest.approx(turn_from_centre(old), abs=1e-4)
    assert (new.cut, new.name) == (old.cut, old.name)
    for kind in MARKS:
        assert getattr(new, kind) == getattr(old, kind) != ()


@pytest.mark.parametrize("id", ["moved", "turned", "turned-quarter", "flipped", "flipped-down", "grouped-and-flipped"])
def test_the_editor_did_what_this_test_believes(edited, id):
    before, drawing = edited
    old, new = before.piece(id), pattern_of(drawing).piece(id)
    assert math.dist(old.edge("hem").line.start, new.edge("hem").line.start) > 5.0


def test_a_copy_is_a_piece_of_its_own(edited):
    before, drawing = edited
    old = before.piece("copied")
    copies = [piece for piece in pattern_of(drawing).pieces if piece.name == "front copied"]
    assert len(copies) == 2
    for copy in copies:
        assert lengths(copy) == pytest.approx(lengths(old), rel=1e-5)
        assert turn_from_centre(copy) == pytest.approx(turn_from_centre(old), abs=1e-4)


def test_simplifying_moves_the_corners_a_little_but_not_the_edges(edited):
    before, drawing = edited
    old, new = before.piece("simplified"), pattern_of(drawing).piece("simplified")
    for name in EDGES[:5]:
        assert math.dist(old.edge(name).line.start, new.edge(name).line.start) < 8.0
    assert math.dist(old.edge("centre").line.start, new.edge("centre").line.start) < 15.0


def test_what_the_editor_wrote_can_be_written_again(edited):
    _before, drawing = edited
    drawing = parse_drawing(drawing_bytes(drawing), name=drawing.name)
    pattern = pattern_of(drawing)
    after = pattern.with_pieces([replace(piece, notches=()) for piece in pattern.pieces])
    update(drawing, pattern, after)
    again = pattern_of(parse_drawing(drawing_bytes(drawing), name=drawing.name))
    assert [lengths(piece) for piece in again.pieces] == [
        pytest.approx(lengths(piece), rel=1e-5) for piece in pattern.pieces
    ]
    groups = [element for element in drawing.root.iter() if element.get(crossgrain("of"))]
    assert len(groups) >= len(pattern.pieces)


# A front with a node half way down the side and one half way along the hem, which are corners of nothing. The Node tool
# counts from the upper left: the tabulator takes the first node, then the next.
NODES = (
    "M 100 30 L 330 18 C 344 200 344 350 338 500 C 332 690 323 860 315 1030 L 230 1030 L 140 1030 "
    "C 140 700 110 480 45 300 C 80 298 98 270 100 220 Z"
)
BY_HAND = ("moved", "added", "deleted", "cornerless", "reversed", "pasted")
STEPS = """
window canvas-zoom-drawing
window tool-switch "[<'Node'>]"
sleep 0.3
on moved; keys $(main) Tab Tab Tab shift+Right shift+Right
on added; keys $(main) ctrl+a Insert
on deleted; keys $(main) Tab Tab Tab Delete
on cornerless; keys $(main) Tab Tab Delete
on reversed; window path-reverse
picture nodes
window tool-switch "[<'Select'>]"
on pasted; keys $(main) ctrl+c ctrl+alt+v
picture pasted
save
"""


@pytest.fixture(scope="module")
def by_hand(tmp_path_factory):
    """The pieces before, and the drawing saved after editing nodes, reversing, copying and pasting in a window."""
    folder = tmp_path_factory.mktemp("window")
    source, target = folder / "before.svg", folder / "by-hand.svg"
    marked(source, {id: f'<g transform="translate({400 * number},25)">' for number, id in enumerate(BY_HAND)}, NODES, 7)
    shutil.copy(source, target)
    assert in_a_window(folder, target, STEPS) == []
    return pattern_of(read_drawing(source)), read_drawing(target), target


@needs_window
class TestByHand:
    """What is done with the Node tool and the clipboard, which only a window has."""

    @pytest.mark.parametrize("id", [id for id in BY_HAND if id != "cornerless"])
    def test_edges_marks_and_grain_are_found_again(self, by_hand, id):
        before, drawing, _target = by_hand
        old, new = before.piece(id), pattern_of(drawing, [id]).pieces[0]
        assert new.edge_names == EDGES
        for name in EDGES:
            now, was = new.edge(name).line, old.edge(name).line
            near = 1e-2 if name == "side" and id in ("moved", "deleted") else 1e-5
            assert path_length(now) == pytest.approx(path_length(was), rel=near), name
            assert now.start == pytest.approx(was.start, abs=1e-3), name
        assert turn_from_centre(new) == pytest.approx(turn_from_centre(old), abs=1e-4)
        assert (new.cut, new.name) == (old.cut, old.name)
        for kind in MARKS:
            assert getattr(new, kind) == getattr(old, kind) != ()

    def test_a_corner_that_is_gone_is_named(self, by_hand):
        _before, drawing, _target = by_hand
        with pytest.raises(GeometryError, match="corner where waist meets side cannot be found") as caught:
            pattern_of(drawing, ["cornerless"])
        assert caught.value.piece == "front cornerless"
        assert caught.value.advice.startswith("Put the corner's node back")

    def test_the_pasted_copy_is_a_piece_of_its_own(self, by_hand):
        before, drawing, _target = by_hand
        pattern, _unread = readable_pattern(drawing)
        copies = [piece for piece in pattern.pieces if piece.name == "front pasted"]
        assert len(copies) == 2
        for copy in copies:
            assert lengths(copy) == pytest.approx(lengths(before.piece("pasted")), rel=1e-5)

    def test_the_editor_did_what_this_test_believes(self, by_hand):
        before, drawing, _target = by_hand
        count = len(before.piece("added").line.segments)
        now = {id: drawing.shape(id).paths[0].segments for id in BY_HAND}
        assert {id: len(segments) for id, segments in now.items()} == {
            **dict.fromkeys(BY_HAND, count),
            "added": 2 * count,
            "deleted": count - 1,
            "cornerless": count - 1,
        }
        assert math.dist(now["moved"][1].end, before.piece("moved").line.segments[1].end) > 4.0
        was = before.piece("reversed").line
        assert now["reversed"][0].start == pytest.approx(was.segments[-1].start, abs=1e-3)

    def test_saved_and_opened_again_the_menu_finds_the_edges(self, by_hand, tmp_path):
        """One more run of the editor opens what it saved; the entry needs the edge and does what the command does."""
        _before, _drawing, saved = by_hand
        ids = ["deleted", "reversed"]
        fields = {"width": "10 mm", "edge": "hem=30mm", "labels": "0"}
        pieces = [word for id in ids for word in ("--piece", id)]
        words = ("allow", "--width", "10 mm", "--edge", "hem=30mm", "--show", "notes", *pieces)
        wanted = paths(by_command(tmp_path, saved, *words))
        got = paths(act(tmp_path, saved, "allow", ids, fields))
        assert {id: got.get(id) for id in wanted} == wanted
        assert len(wanted) > len(paths(saved))
