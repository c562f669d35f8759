"""Reading and writing a drawing, and starting up, beside inkex: whole processes of an interpreter that has it."""

from __future__ import annotations

import pathlib
import random
import statistics
import subprocess
import sys
import tempfile
import time
import venv
from collections.abc import Callable

from side_by_side import Row, from_times

ROUNDS, TURNS = 9, 9

THEIRS = """
import sys, time
from inkex.elements import load_svg
def tree():
    with open(sys.argv[1], "rb") as file:
        return load_svg(file)
def paths():
    for element in tree().getroot().iter("{http:" + "//www.w3.org/2000/svg}path"):
        element.path
def placed():
    for element in tree().getroot().iter("{http:" + "//www.w3.org/2000/svg}path"):
        element.path.transform(element.composed_transform()).to_superpath()
for job in (tree, paths, placed):
    times = []
    for _ in range(int(sys.argv[2])):
        begin = time.perf_counter(); job(); times.append(time.perf_counter() - begin)
    print(sorted(times)[len(times) // 2])
"""


def interpreter_with_inkex(folder: str) -> str:
    """Make an environment of its own for inkex, which does not share one with the engine."""
    venv.create(folder, with_pip=True)
    python = str(pathlib.Path(folder) / "bin" / "python")
    pip = [python, "-m", "pip", "install", "-q"]
    subprocess.run([*pip, "--no-deps", "inkex"], check=True, timeout=600)
    subprocess.run(
        [*pip, "lxml<6", "numpy", "cssselect", "tinycss2", "packaging", "pyparsing"], check=True, timeout=600
    )
    return python


def drawing_text(size: int = 19_000) -> str:
    """Return a drawing of some 19 KB as the editor writes it: relative cubics of eight digits, in a moved layer."""
    draw = random.Random(3).uniform
    text = (
        '<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n<svg width="600mm" height="1200mm" '
        'viewBox="0 0 600 1200" version="1.1" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
        'inkscape:version="1.2.2" xmlns="http://www.w3.org/2000/svg">\n<defs id="defs2"/>\n'
        '<g inkscape:label="Layer 1" inkscape:groupmode="layer" id="layer1" transform="translate(3.5,2.25)">\n'
    )
    number = 0
    while len(text) < size:
        number += 1
        curves = " ".join(f"{draw(-30, 30):.6f},{draw(-30, 30):.6f}" for _ in range(72))
        text += (
            f'<path style="fill:none;stroke:#000000;stroke-width:0.26458332" id="path{number}" '
            f'd="m {draw(0, 500):.6f},{draw(0, 900):.6f} c {curves} z" transform="rotate({number})"/>\n'
        )
    return text + "</g>\n</svg>\n"


def middle(job: Callable[[], object]) -> float:
    """Return the median of some turns, in seconds."""
    taken = []
    for _ in range(TURNS):
        begin = time.perf_counter()
        job()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def reading_rows(python: str) -> list[Row]:
    """Compare reading and writing, with every line in millimetres, to inkex's reading."""
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.writer import drawing_bytes

    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "drawing.svg"
        file.write_text(drawing_text(), encoding="utf-8")

        def surveyed() -> None:
            drawing = read_drawing(file)
            assert drawing.shapes
            drawing_bytes(drawing)

        def whole() -> None:
            drawing = read_drawing(file)
            assert not drawing.unreadable
            drawing_bytes(drawing)

        mine: list[list[float]] = [[], []]
        theirs: list[list[float]] = [[], [], []]
        for _ in range(ROUNDS):
            for column, job in zip(mine, (surveyed, whole), strict=True):
                column.append(middle(job))
            run = subprocess.run(
                [python, "-c", THEIRS, file, str(TURNS)], stdout=subprocess.PIPE, text=True, check=True, timeout=300
            )
            for column, text in zip(theirs, run.stdout.split(), strict=True):
                column.append(float(text))
    _tree, paths, placed = theirs
    return [
        from_times("read and write a 19 KB drawing, every line in mm", mine[1], paths, 0.35, "inkex's read with paths"),
        from_times("the same", mine[1], placed, None, "inkex's read with paths placed on the page"),
        from_times("read, survey and write it, lines unread", mine[0], paths, None, "inkex's read with paths"),
    ]


def starting_rows(python: str) -> list[Row]:
    """Compare `crossgrain --version` to an import of inkex, as whole processes."""
    ours_words = [str(pathlib.Path(sys.executable).parent / "crossgrain"), "--version"]
    theirs_words = [python, "-c", "import inkex"]
    ours, theirs = [], []
    for turn in range(2 * ROUNDS):
        for words, column in ((ours_words, ours), (theirs_words, theirs)):
            begin = time.perf_counter()
            subprocess.run(words, stdout=subprocess.DEVNULL, check=True, timeout=60)
            if turn:  # the first fills the caches
                column.append(time.perf_counter() - begin)
    return [from_times("`crossgrain --version`", ours, theirs, 0.9, '`python -c "import inkex"`')]


def all_rows(python: str) -> list[Row]:
    """Measure everything about drawings."""
    return [*reading_rows(python), *starting_rows(python)]
