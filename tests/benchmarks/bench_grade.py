"""``crossgrain grade`` beside ``crossgrain measure`` on the sample trousers: whole processes, taking turns.

Run as ``python tests/benchmarks/bench_grade.py``. Twelve sizes with their stacked drawing, and six of them, to see
that the time grows evenly. The processor's time stands beside the clock's, for a busy machine stretches only the
second. Compiled modules are kept, as on a maker's machine.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from crossgrain.cli.samples import sample

TURNS = 8


def turn(words: list[str], environment: dict[str, str]) -> tuple[float, float]:
    """Return what one process took by the clock and by the processor, s; findings are no failure."""
    began = time.perf_counter()
    process = subprocess.Popen(words, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _process, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode in (0, 1), words
    return time.perf_counter() - began, used.ru_utime + used.ru_stime


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as place:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(Path(place, "cache"))}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        engine = [sys.executable, "-m", "crossgrain.cli"]
        drawing, rules = str(sample("trousers.svg")), str(sample("grade-rules.toml"))
        grade = [*engine, "grade", drawing, "--rules", rules, "--overwrite", "-o"]
        jobs = (
            [*engine, "measure", drawing],
            [*grade, str(Path(place, "six")), "--sizes", "4-14"],
            [*grade, str(Path(place, "twelve"))],
        )
        for words in jobs:
            turn(words, environment)
        taken = [tuple(turn(words, environment) for words in jobs) for _turn in range(TURNS)]
    for column, what in enumerate(("clock", "processor")):
        six, twelve = (statistics.median(one[number][column] / one[0][column] for one in taken) for number in (1, 2))
        print(f"grade ÷ measure by the {what}: twelve sizes {twelve:.2f} (wanted at most 6), six sizes {six:.2f}")


if __name__ == "__main__":
    main()
