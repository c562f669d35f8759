"""A folder of drawings through a recipe: losses, memory, two jobs beside one, a second run beside the first.

Run as ``python tests/benchmarks/bench_folder.py [DRAWINGS]``; 1,000 where no number is given, which takes a quarter of
an hour. The drawings are the sample trousers, each turned a little and put elsewhere on the page, so that none is
another's.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from crossgrain.cli.samples import sample

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


def drawings(folder: Path, count: int) -> None:
    """Write so many drawings, each with all pieces in a group that is turned and moved."""
    text = sample("trousers.svg").read_text(encoding="utf-8")
    head, body = text.split("</title>", 1)
    body = body.rsplit("</svg>", 1)[0]
    for number in range(count):
        lay = f"translate({number % 97} {number % 89}) rotate({number % 360 / 10:.1f})"
        place = folder / f"{number // 100:02d}" / f"trousers-{number:04d}.svg"
        place.parent.mkdir(exist_ok=True)
        place.write_text(f'{head}</title><g transform="{lay}">{body}</g></svg>\n', encoding="utf-8")


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


def run(folder: Path, inside: Path, out: str, jobs: int) -> tuple[float, float, dict[int, int]]:
    """Run the recipe; return the seconds by the clock and by the processor, and the memory after so many drawings."""
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
    _process, status, used = os.wait4(process.pid, 0)
    assert os.waitstatus_to_exitcode(status) in (0, 1)
    return time.perf_counter() - begin, used.ru_utime + used.ru_stime, memory


def main(count: int = 1000) -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "r.toml").write_text(RECIPE, encoding="utf-8")
        few, many = folder / "few", folder / "many"
        for inside, number in ((few, 40), (many, count)):
            inside.mkdir()
            drawings(inside, number)
        clock = {jobs: run(folder, few, f"few-{jobs}", jobs) for jobs in (1, 2)}
        print(f"two jobs beside one, 40 drawings: {clock[1][0] / clock[2][0]:.2f} times as fast (wanted 1.7)")
        print(f"processor time a drawing: {1e3 * clock[1][1] / 40:.0f} ms with the report")
        first, _used, memory = run(folder, many, "many-out", 2)
        second, _used, _memory = run(folder, many, "many-out", 2)
        done = len(list((folder / "many-out").rglob("trousers-*.svg")))
        print(f"{count} drawings: {done} results, {first:.0f} s")
        print(f"run again: {second:.1f} s, {second / first:.3f} of the first (wanted 0.1)")
        print("memory of all processes, MB:", {number: round(kb / 1024) for number, kb in memory.items()})


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
