"""A folder of drawings through a recipe: two jobs beside one, a second run beside the first, memory, and each drawing.

The drawings are the sample trousers, each turned a little and put elsewhere on the page, so that none is another's.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from side_by_side import Row, counted

from drawings import THEIRS

RECIPE = """
[[step]]
do = "reduce"
by = "8%"
piece = ["left front", "right front", "back"]

[[step]]
do = "take-in"
seam = "side"
at = ["waist=0mm", "20%=5mm", "60%=8mm", "hem=6mm"]

[[step]]
do = "true"
seam = "side"

[[step]]
do = "allow"
width = "10mm"
"""

FEW, MANY = 100, 200
TURNS = 9


def drawings(folder: Path, count: int) -> list[Path]:
    """Write so many drawings, each with all pieces in a group that is turned and moved."""
    from crossgrain.cli.samples import sample

    text = sample("trousers.svg").read_text(encoding="utf-8")
    head, body = text.split("</title>", 1)
    body = body.rsplit("</svg>", 1)[0]
    places = []
    for number in range(count):
        lay = f"translate({number % 97} {number % 89}) rotate({number % 360 / 10:.1f})"
        place = folder / f"{number // 100:02d}" / f"trousers-{number:04d}.svg"
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(f'{head}</title><g transform="{lay}">{body}</g></svg>\n', encoding="utf-8")
        places.append(place)
    return places


def resident(group: int) -> int:
    """Return the memory in use by the processes of a group, in KB."""
    total = 0
    for place in Path("/proc").glob("[0-9]*"):
        try:
            if os.getpgid(int(place.name)) == group:
                text = (place / "status").read_text()
                total += int(next(line.split()[1] for line in text.splitlines() if line.startswith("VmRSS")))
        except (OSError, StopIteration):
            continue
    return total


def run(folder: Path, inside: Path, out: str, jobs: int) -> tuple[float, dict[int, int]]:
    """Run the recipe; return the seconds by the clock, and the memory in KB after so many drawings."""
    words = [sys.executable, "-m", "crossgrain.cli", "run", folder / "r.toml", inside, "-o", folder / out]
    begin, memory = time.perf_counter(), {}
    process = subprocess.Popen(
        [str(word) for word in (*words, "--jobs", jobs)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        process_group=0,
    )
    assert process.stderr is not None
    for line in process.stderr:
        count = line.split(" ", 1)[0]
        if count.isdigit() and int(count) % 100 == 0:
            memory[int(count)] = resident(process.pid)
    assert process.wait() in (0, 1)
    return time.perf_counter() - begin, memory


def a_drawing(folder: Path, places: list[Path], python: str) -> list[Row]:
    """Compare the processor's time of all four steps on one drawing to inkex's reading of it with its paths."""
    from crossgrain.cli.steps import stage_of
    from crossgrain.pipeline import put_through
    from crossgrain.recipe import read_recipe
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.writer import drawing_bytes

    stages = [stage_of(step, folder) for step in read_recipe(folder / "r.toml").steps]

    def altered(place: Path) -> float:
        begin = time.process_time()
        drawing_bytes(put_through(read_drawing(place), stages).drawing)
        return time.process_time() - begin

    altered(places[0])
    ours = sorted(altered(place) for place in places[:TURNS])[TURNS // 2]
    command = [python, "-c", THEIRS, str(places[0]), str(TURNS)]
    told = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True, timeout=300).stdout.split()
    theirs = float(told[1])
    them = "inkex's read with paths"
    return [
        counted("`reduce`, `take-in`, `true` and `allow` on one drawing", 1e3 * ours, 1e3 * theirs, 10.0, "ms", them)
    ]


def all_rows(python: str, count: int = MANY) -> list[Row]:
    """Measure a folder; ``count`` drawings of it are looked at for losses and memory."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "r.toml").write_text(RECIPE, encoding="utf-8")
        few, many = folder / "few", folder / "many"
        rows = a_drawing(folder, drawings(few, FEW), python)
        drawings(many, count)
        (one, _one), (two, _two) = (run(folder, few, f"few-{jobs}", jobs) for jobs in (1, 2))
        first, memory = run(folder, many, "many-out", 2)
        second, _memory = run(folder, many, "many-out", 2)
        done = len(list((folder / "many-out").rglob("trousers-*.svg")))
        early, late = memory[min(memory)], memory[max(memory)]
        return [
            *rows,
            counted(f"two jobs, {FEW} drawings", two, one, 1.0 / 1.7, "s", "one job"),
            counted(f"the second run, {count} drawings", second, first, 0.1, "s", "the first"),
            counted(f"results of {count} drawings", count, done, 1.0, "drawings", "results"),
            counted(
                f"memory of all processes after {max(memory)} drawings",
                late / 1024,
                early / 1024,
                1.1,
                "MB",
                f"after {min(memory)}",
            ),
        ]
