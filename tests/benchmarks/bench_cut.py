"""``crossgrain cut`` beside ``crossgrain measure`` on the sample trousers: whole processes, taking turns.

Run as ``python tests/benchmarks/bench_cut.py``. The processor's time stands beside the clock's, for a busy machine
stretches only the second. Compiled modules are kept, as on a maker's machine.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
from pathlib import Path

from bench_editor import turn

from crossgrain.cli import main as crossgrain
from crossgrain.cli.samples import sample

TURNS = 12


def main() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as place:
        drawing, sheet = Path(place, "to-cut.svg"), Path(place, "pieces.svg")
        crossgrain(["allow", str(sample("trousers.svg")), "-o", str(drawing), "--width", "10mm"])
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(Path(place, "cache"))}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        engine = [sys.executable, "-m", "crossgrain.cli"]
        jobs = (
            [*engine, "measure", str(drawing)],
            [*engine, "cut", str(drawing), "-o", str(sheet), "--list", str(Path(place, "list.html")), "--overwrite"],
        )
        for words in jobs:
            turn(words, environment)
        taken = [tuple(turn(words, environment) for words in jobs) for _turn in range(TURNS)]
    for column, what in enumerate(("clock", "processor")):
        ratios = [cut[column] / measure[column] for measure, cut in taken]
        print(f"cut ÷ measure by the {what}: {statistics.median(ratios):.2f} (wanted at most 3)")


if __name__ == "__main__":
    main()
