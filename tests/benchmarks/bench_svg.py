"""Reading and writing a drawing, side by side with inkex reading it.

Run as ``python tests/benchmarks/bench_svg.py OTHER_PYTHON``, where ``OTHER_PYTHON`` is an interpreter that has inkex:
it does not share an environment with the engine. The two take turns, and of each the quickest turn counts.
"""

from __future__ import annotations

import pathlib
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable

ROUNDS, TURNS = 12, 15

THEIRS = """
import sys, time
from inkex.elements import load_svg
def tree():
    with open(sys.argv[1], "rb") as file:
        return load_svg(file)
def paths():
    for element in tree().getroot().iter("{http://www.w3.org/2000/svg}path"):
        element.path
def placed():
    for element in tree().getroot().iter("{http://www.w3.org/2000/svg}path"):
        element.path.transform(element.composed_transform()).to_superpath()
for job in (tree, paths, placed):
    best = 1e9
    for _ in range(int(sys.argv[2])):
        begin = time.perf_counter(); job(); best = min(best, time.perf_counter() - begin)
    print(best)
"""


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


def best(job: Callable[[], object]) -> float:
    """Return the quickest of some turns, in seconds."""
    quickest = float("inf")
    for _ in range(TURNS):
        begin = time.perf_counter()
        job()
        quickest = min(quickest, time.perf_counter() - begin)
    return quickest


def main(other: str) -> None:
    """Print what each takes, and the ratios."""
    from crossgrain.svg.grammar import parse_path
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.writer import drawing_bytes

    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "drawing.svg"
        file.write_text(drawing_text())
        texts = [str(shape.element.get("d")) for shape in read_drawing(file).shapes]
        count = sum(len(path.segments) for text in texts for path in parse_path(text))

        def surveyed() -> None:
            drawing = read_drawing(file)
            assert drawing.shapes
            drawing_bytes(drawing)

        def whole() -> None:
            drawing = read_drawing(file)
            assert not drawing.unreadable
            drawing_bytes(drawing)

        def grammar() -> None:
            for text in texts:
                parse_path(text)

        mine, theirs = [float("inf")] * 3, [float("inf")] * 3
        for _ in range(ROUNDS):
            mine = [min(old, best(job)) for old, job in zip(mine, (surveyed, whole, grammar), strict=True)]
            run = subprocess.run(
                [other, "-c", THEIRS, file, str(TURNS)], capture_output=True, text=True, check=True, timeout=300
            )
            theirs = [min(old, float(new)) for old, new in zip(theirs, run.stdout.split(), strict=True)]
    tree, paths, placed = theirs
    print(f"drawing of {len(drawing_text())} characters, {count} segments")
    print(f"inkex: tree {tree * 1e3:.2f} ms, with paths {paths * 1e3:.2f} ms, placed on the page {placed * 1e3:.2f} ms")
    print(f"read, survey and write: {mine[0] * 1e3:.2f} ms, {mine[0] / paths:.2f} of inkex's read with paths")
    print(f"the same with every line in mm: {mine[1] * 1e3:.2f} ms, {mine[1] / paths:.2f} of inkex's read with paths,")
    print(f"    {mine[1] / placed:.2f} of inkex's read with paths placed on the page")
    print(f"path text alone: {mine[2] / count * 1e6:.2f} µs a segment")


if __name__ == "__main__":
    main(sys.argv[1])
