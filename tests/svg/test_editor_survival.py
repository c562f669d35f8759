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

from crossgrain.kernel.length import path_length
from crossgrain.model import CutInstruction, Hold, Notch
from crossgrain.notation import read_outline_spot
from crossgrain.operations.marking import Marking, mark
from crossgrain.svg.names import crossgrain
from crossgrain.svg.pattern import pattern_of, update
from crossgrain.svg.reader import parse_drawing, read_drawing
from crossgrain.svg.writer import drawing_bytes

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


def marked(path: Path) -> None:
    """Write a drawing in px, in transformed groups, with a marked front for each thing that is done."""
    bodies = "\n".join(
        f'<g transform="translate({40 * number},{25 * number}) scale({0.5 + 0.1 * number})">'
        f'<path id="{id}" d="{FRONT}" style="fill:none;stroke:#000000"/></g>'
        for number, id in enumerate(DONE)
    )
    drawing = parse_drawing(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="594mm" viewBox="0 0 1587.4 2245.04">'
        f'<g id="layer">{bodies}</g></svg>'.encode(),
        name="fronts.svg",
    )
    before = pattern_of(drawing, list(DONE))
    after = before
    for id in DONE:
        marking = Marking(
            piece=id,
            name=f"front {id}",
            edges=EDGES,
            corners=(read_outline_spot("node 5"),),
            cut=CutInstruction(count=2, mirrored=True),
        )
        after = mark(after, marking).value
        piece = after.piece(id)
        holds, notches = (Hold(edge="centre", width=5.0),), (Notch(edge="side", share=0.25, count=2),)
        after = after.with_pieces([replace(piece, holds=holds, notches=notches)])
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
    marked(first)
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
    assert (new.cut, new.holds, new.notches, new.name) == (old.cut, old.holds, old.notches, old.name)


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


@pytest.mark.skipif(
    shutil.which("dbus-run-session") is None or shutil.which("gdbus") is None,
    reason="reversing a path needs a window and a bus: apt-get install dbus libglib2.0-bin",
)
def test_a_path_reversed_in_a_window_keeps_its_edges(tmp_path):
    source, target = tmp_path / "marked.svg", tmp_path / "reversed.svg"
    marked(source)
    script = tmp_path / "session.sh"
    # Reversing is an action of the window, which only a window's own bus answers to.
    script.write_text(
        f"""
        inkscape {source} &
        editor=$!
        call="gdbus call --session --dest org.inkscape.Inkscape"
        for try in $(seq 200); do
            $call --object-path /org/inkscape/Inkscape/window/1 --method org.gtk.Actions.List && break
            sleep 0.2
        done
        app="$call --object-path /org/inkscape/Inkscape --method org.gtk.Actions.Activate"
        $app select-by-id "[<'nothing'>]" '{{}}'
        $call --object-path /org/inkscape/Inkscape/window/1 --method org.gtk.Actions.Activate path-reverse "[]" '{{}}'
        $app export-filename "[<'{target}'>]" '{{}}'
        $app export-do "[]" '{{}}'
        for try in $(seq 100); do test -s {target} && break; sleep 0.2; done
        kill $editor
        """
    )
    subprocess.run(
        ["timeout", "120", "dbus-run-session", "--", "xvfb-run", "-a", "bash", str(script)],
        env=environment(tmp_path),
        capture_output=True,
        check=False,
    )
    old, drawing = pattern_of(read_drawing(source)).piece("nothing"), read_drawing(target)
    was, now = read_drawing(source).shape("nothing").paths[0], drawing.shape("nothing").paths[0]
    assert now.segments[0].end == pytest.approx(was.segments[-1].start, abs=1e-4), "the editor did not reverse it"
    new = pattern_of(drawing).piece("nothing")
    assert lengths(new) == pytest.approx(lengths(old), rel=1e-5)
    assert [edge.line.start for edge in new.edges] == [pytest.approx(edge.line.start, abs=1e-3) for edge in old.edges]
    assert new.grain == pytest.approx(old.grain, abs=1e-5)
