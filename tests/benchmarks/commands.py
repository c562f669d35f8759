"""Whole commands beside ``crossgrain measure``, ``import numpy`` or the editor's own do-nothing: one process each.

Compiled modules are kept, as on a maker's machine. The processor's time is compared, not the clock's, which a busy
machine stretches.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from side_by_side import Row, from_times

TURNS = 9
OURS = [sys.executable, "-m", "crossgrain.cli"]
NOTHING = "import inkex\nclass Nothing(inkex.EffectExtension):\n    def effect(self): pass\nNothing().run()\n"

Words = Sequence[str]


def spent(words: Words, environment: dict[str, str]) -> float:
    """Run a process, and return the processor's seconds; findings are no failure."""
    process = subprocess.Popen(words, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _process, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode in (0, 1), words
    return used.ru_utime + used.ru_stime


def compared(
    what: str, ours: Sequence[Words], theirs: Words, target: float, them: str, environment: dict[str, str]
) -> Row:
    """Compare some commands together to another one, in turns."""
    for words in (*ours, theirs):
        spent(words, environment)  # the first fills the caches
    taken = [(sum(spent(words, environment) for words in ours), spent(theirs, environment)) for _turn in range(TURNS)]
    mine, other = zip(*taken, strict=True)
    return from_times(what, mine, other, target, them)


@contextmanager
def compiled() -> Iterator[tuple[Path, dict[str, str]]]:
    """Give a folder to write into, and an environment in which compiled modules are kept there."""
    with tempfile.TemporaryDirectory() as place:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(Path(place, "cache"))}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        yield Path(place), environment


def engine_rows() -> list[Row]:
    """Compare the engine's commands on the sample trousers."""
    from crossgrain.cli.samples import sample

    drawing, rules = str(sample("trousers.svg")), str(sample("grade-rules.toml"))
    old, new, body = (
        str(sample(name)) for name in ("cloth-drafted-for.toml", "cloth-softer.toml", "body-size-10.toml")
    )
    with compiled() as (place, environment):
        to_cut, moved, trued, sheet = (str(place / f"{name}.svg") for name in ("to-cut", "moved", "trued", "pieces"))
        spent([*OURS, "allow", drawing, "-o", to_cut, "--width", "10mm"], environment)
        stations = [word for at in ("waist=0mm", "20%=5mm", "60%=8mm", "hem=6mm") for word in ("--at", at)]
        fitting = [
            [*OURS, "take-in", drawing, "-o", moved, "--seam", "side", *stations, "--overwrite"],
            [*OURS, "true", moved, "-o", trued, "--seam", "side", "--overwrite"],
        ]
        cutting = [*OURS, "cut", to_cut, "-o", sheet, "--list", str(place / "list.html"), "--overwrite"]
        grade = [*OURS, "grade", drawing, "--rules", rules, "--overwrite", "-o", str(place / "sizes")]
        measure, them = [*OURS, "measure", drawing], "`crossgrain measure`"
        numpy = [sys.executable, "-c", "import numpy"]
        compare = [*OURS, "fabric", "compare", old, new]
        return [
            compared("`take-in` and `true`, together", fitting, measure, 3.0, them, environment),
            compared("`cut` with its list", [cutting], [*OURS, "measure", to_cut], 3.0, them, environment),
            compared("`grade`, twelve sizes and the stacked drawing", [grade], measure, 6.0, them, environment),
            compared("`grade`, six of them", [[*grade, "--sizes", "4-14"]], measure, 6.0, them, environment),
            compared("`fabric compare`", [compare], numpy, 3.0, "`import numpy`", environment),
            compared(
                "`fabric compare` on a body and a pattern",
                [[*compare, "--body", body, "--pattern", drawing]],
                numpy,
                3.0,
                "`import numpy`",
                environment,
            ),
        ]


def menu_rows(python: str) -> list[Row]:
    """Compare a menu entry to an extension that does nothing; ``python`` is an interpreter that has inkex."""
    from crossgrain.cli.editor.install import install
    from crossgrain.cli.samples import sample

    with compiled() as (place, environment):
        menus, nothing = place / "menus", place / "nothing.py"
        install(menus)
        nothing.write_text(NOTHING, encoding="utf-8")
        front = ["--id=front", str(sample("bare-front.svg"))]
        entry = [python, str(menus / "crossgrain_reduce.py"), "--by=8 %", "--labels=true", "--before=true", *front]
        what = "the menu entry Reduce on the sample front"
        them = "an extension that does nothing"
        return [compared(what, [entry], [python, str(nothing), *front], 2.0, them, environment)]


def all_rows(python: str) -> list[Row]:
    """Measure whole commands."""
    return [*engine_rows(), *menu_rows(python)]
