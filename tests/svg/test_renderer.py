"""Shapes stand where others draw them: resvg, from the package registry, and the editor itself."""

import os
import pathlib
import shutil
import subprocess
import sysconfig

import pytest

from crossgrain.svg.extent import extent
from crossgrain.svg.reader import read_drawing
from svg_text import MILLIMETRES, svg_text

RESVG = pathlib.Path(sysconfig.get_path("scripts")) / "resvg"
MIXED = pathlib.Path(__file__).parents[2] / "samples" / "mixed-features.svg"
MM_PER_PX = 25.4 / 96

# It prints a thousandth of a pixel, and reckons in single precision.
PRINTED = 0.001
# It follows arcs within a tenth of a pixel; we are nearer, as the tests of the grammar show.
ARC = 0.03


def boxes_of_resvg(file):
    """Return the box of each object with an id, mm."""
    run = subprocess.run([RESVG, "--query-all", file], capture_output=True, text=True, check=True, timeout=60)
    boxes = {}
    for row in run.stdout.splitlines():
        id, *numbers = row.rsplit(",", 4)
        boxes[id] = [float(number) * MM_PER_PX for number in numbers]
    return boxes


def boxes_of_inkscape(file, folder):
    """Return the box of each object with an id, mm."""
    run = subprocess.run(
        ["inkscape", "--query-all", file],
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
        env={**os.environ, "INKSCAPE_PROFILE_DIR": str(folder / "profile")},
    )
    rows = [row.rsplit(",", 4) for row in run.stdout.splitlines()]
    return {id: [float(number) * MM_PER_PX for number in numbers] for id, *numbers in rows}


def assert_boxes_agree(file, within, least):
    theirs = boxes_of_resvg(file)
    compared = 0
    for shape in read_drawing(file).shapes:
        if shape.id in theirs and not shape.hidden:
            assert extent(shape.paths) == pytest.approx(theirs[shape.id], abs=within), shape.id
            compared += 1
    assert compared >= least


def test_the_drawing_of_mixed_features_stands_where_it_is_drawn():
    assert_boxes_agree(MIXED, ARC, least=14)


@pytest.mark.skipif(shutil.which("inkscape") is None, reason="Inkscape is not installed")
def test_the_drawing_of_mixed_features_stands_where_the_editor_has_it(tmp_path):
    # Its boxes take in strokes and arrow heads, so none are compared. Of transform-origin it knows nothing.
    text = MIXED.read_text().replace("stroke-width", "data-width").replace('stroke="#222"', "")
    file = tmp_path / "bare.svg"
    file.write_text(text)
    theirs = boxes_of_inkscape(file, tmp_path)
    shapes = [shape for shape in read_drawing(file).shapes if not (shape.hidden or shape.cloned)]
    shapes = [shape for shape in shapes if not {"transform-origin", "marker-end"} & set(shape.element.attrib)]
    assert len(shapes) == 12
    for shape in shapes:
        # Six digits of some thousand pixels.
        assert extent(shape.paths) == pytest.approx(theirs[shape.id], abs=0.005), shape.id


@pytest.mark.parametrize(
    "page",
    [
        MILLIMETRES,
        'width="8in" height="3in" viewBox="-10 -5 40 30"',
        'width="288pt" height="24pc" viewBox="0 0 40 30" preserveAspectRatio="xMaxYMin slice"',
        'width="80mm" height="3cm" viewBox="0 0 40 30" preserveAspectRatio="none"',
        'width="400px" height="700px" viewBox="5 5 40 30" preserveAspectRatio="xMinYMax meet"',
        'width="400px" height="700px"',
        'width="120mm" height="70mm"',
    ],
)
def test_every_page_is_fitted_as_it_is_drawn(page, tmp_path):
    file = tmp_path / "page.svg"
    file.write_bytes(
        svg_text('<path id="p" d="M1 2L30 7 12 25z"/><rect id="r" x="1mm" y="2" width="1pc" height="4"/>', page)
    )
    assert_boxes_agree(file, PRINTED, least=2)


ASPECTS = [f"x{x}Y{y} {fit}" for x in ("Min", "Mid", "Max") for y in ("Min", "Mid", "Max") for fit in ("meet", "slice")]


def test_every_aspect_of_a_nested_drawing_is_fitted_as_it_is_drawn(tmp_path):
    body = "".join(
        f'<svg x="{5 * i}" y="{i}" width="{10 + i}" height="{25 - i}" viewBox="-1 -2 10 8" overflow="visible" '
        f'preserveAspectRatio="{aspect}"><path id="p{i}" d="M0 0L7 1 3 5z"/></svg>'
        for i, aspect in enumerate([*ASPECTS, "none"])
    )
    file = tmp_path / "nested.svg"
    file.write_bytes(svg_text(body))
    assert_boxes_agree(file, PRINTED, least=19)


TRANSFORMS = [
    "translate(3)",
    "translate(3,-4)",
    "scale(2)",
    "scale(-1 .5)",
    "rotate(33)",
    "rotate(-120 5 6)",
    "skewX(20)",
    "skewY(-35)",
    "matrix(.8 .3 -.2 1.1 5 6)",
    "translate(50 20) rotate(10),scale(1.5)\n skewX(-5) translate(-3 -4)",
]


@pytest.mark.parametrize("origin", ["", 'transform-origin="7 8"', 'transform-origin="right 25%"'])
def test_every_transform_moves_a_shape_where_it_is_drawn(origin, tmp_path):
    body = "".join(
        f'<g transform="translate(60,40) rotate({7 * i})"><path id="p{i}" transform="{transform}" {origin} '
        'd="M0 0C9 3 12 5 8 14Q3 9 4 3z"/></g>'
        for i, transform in enumerate(TRANSFORMS)
    )
    file = tmp_path / "moved.svg"
    file.write_bytes(svg_text(body))
    assert_boxes_agree(file, PRINTED, least=len(TRANSFORMS))


def test_every_basic_shape_and_command_stands_where_it_is_drawn(tmp_path):
    file = tmp_path / "shapes.svg"
    file.write_bytes(
        svg_text(
            """<rect id="a" x="10%" y="5" width="3cm" height="20%"/><rect id="b" x="5" width="30" height="40" rx="12"/>
            <circle id="c" cx="50%" cy="40" r="12"/><ellipse id="d" cx="20" cy="30" rx="9" ry="17"/>
            <line id="e" x1="3" y1="4" x2="1in" y2="6"/><polyline id="f" points="1,2 30-4 5.5.5"/>
            <polygon id="g" points="1 2,3 40 25 7"/><path id="h" d="M10 10h5v7l-3 4H2V3zm3 3l9 9-5 1"/>
            <path id="i" d="m10 10c0 9 12 11 14 2s9-20 11-3S60 40 20 45"/>
            <path id="j" d="M5 5q9 20 18 3t10 4T60 60t-20-5"/>
            <path id="k" d="M20 20a15 8 30 1010 5 9 9 0 01-9 9A4 30-70 0050 60z"/>"""
        )
    )
    assert_boxes_agree(file, ARC, least=11)
