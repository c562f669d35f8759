"""A menu entry beside a do-nothing extension of the editor: whole processes, taking turns.

Run as ``python tests/benchmarks/bench_editor.py LIBRARY [PYTHON]``: ``LIBRARY`` is the folder that holds the editor's
own library ``inkex`` (on Debian the editor's ``extensions`` folder), ``PYTHON`` the interpreter the editor uses. Both
are measured with compiled modules kept, as on a maker's machine. The quickest turn counts, and the processor's time
beside the clock's, for a busy machine stretches only the second.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

from crossgrain.cli.editor.install import install
from crossgrain.cli.samples import sample

TURNS = 20
NOTHING = "import inkex\nclass Nothing(inkex.EffectExtension):\n    def effect(self): pass\nNothing().run()\n"


def turn(words: list[str], environment: dict[str, str]) -> tuple[float, float]:
    """Run a process, and return the seconds by the clock and by the processor."""
    begin = time.perf_counter()
    quiet = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
    process = os.posix_spawn(words[0], words, environment, file_actions=quiet)
    _process, status, used = os.wait4(process, 0)
    assert status == 0, words
    return time.perf_counter() - begin, used.ru_utime + used.ru_stime


def main(library: str, python: str = "/usr/bin/python3") -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as place:
        menus, nothing = Path(place, "menus"), Path(place, "nothing.py")
        install(menus)
        nothing.write_text(NOTHING, encoding="utf-8")
        environment = {**os.environ, "PYTHONPATH": library, "PYTHONPYCACHEPREFIX": str(Path(place, "cache"))}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        drawing = ["--id=front", str(sample("bare-front.svg"))]
        script = str(menus / "crossgrain_reduce.py")
        jobs = {
            "do-nothing extension": [python, str(nothing), *drawing],
            "Reduce on the sample front": [python, script, "--by=8 %", "--labels=true", "--before=true", *drawing],
        }
        taken: dict[str, list[tuple[float, float]]] = {name: [] for name in jobs}
        for words in jobs.values():
            turn(words, environment)
        for _turn in range(TURNS):
            for name, words in jobs.items():
                taken[name].append(turn(words, environment))
    (floor, ours) = taken.values()
    for name, turns in taken.items():
        clock, processor = zip(*turns, strict=True)
        print(f"{name}: {1e3 * min(clock):.0f} ms, of which processor {1e3 * min(processor):.0f} ms")
    for column, what in enumerate(("clock", "processor")):
        best = min(one[column] for one in ours) / min(one[column] for one in floor)
        middle = statistics.median(one[column] for one in ours) / statistics.median(one[column] for one in floor)
        print(f"ratio by the {what}: {best:.2f} (median {middle:.2f}; wanted at most 2)")


if __name__ == "__main__":
    main(*sys.argv[1:])
