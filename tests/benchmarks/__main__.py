"""Run all comparisons side by side and write ``docs/benchmarks.md``.

Run as ``python tests/benchmarks``. It makes an environment for inkex in a temporary folder; ``--inkex PYTHON`` uses an
interpreter that has it. ``--only cubics outlines`` runs some groups, prints them and writes nothing.
"""

from __future__ import annotations

import argparse
import datetime
import platform
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from side_by_side import TURNS, Row  # noqa: E402

PAGE = HERE.parents[1] / "docs" / "benchmarks.md"
PACKAGES = ("numpy", "kurbopy", "shapely", "svgpathtools", "lxml")

HEAD = """# Benchmarks

Written by `python tests/benchmarks`; never edited by hand, never asserted in a test.

Each line compares two ways of doing one thing within one run. The two take turns, {turns} times unless the job is long;
every pair of turns gives a ratio, and the table tells the median of the ratios with its quartiles. A busy machine
slows both alike. A ratio is ours to theirs: below 1 we take less. Times are those of this one run and only
show the size.

Run on {date} with Python {python} on {machine}; {packages}.

"""

TAIL = """
## What was compared

* **Uniform cubics**: the four control points drawn evenly from a square of 300 mm, seed 120; parallels at 10 mm to
  either side in turn. Many have loops, and curvature radii under 10 mm, so that the parallel has cusps.
* **Pattern-like cubics**: 50 to 600 mm long, leaving and arriving within some 15° of the chord, handles of 0.25 to
  0.42 of it; seed 120.
* **Segments** counts all cubics of a parallel, cusps and all. kurbo strays beyond its accuracy in some of them; the
  line below counts only those in which it does not.
* **Time of the parallels, from segments to segments**: both begin with our segments and end with them; of kurbo that
  includes making its points and reading its path. **The bare fit**: ours from an array of control points to an array,
  without asking kurbo first; theirs the call alone, its result unread.
* **The worst error** is taken over seven families (uniform, pattern-like, S-curves, loops, near cusps, handles drawn
  in, arcs), distances of 2 to 80 mm to either side, at 0.05, 0.01 and 0.002 mm; seeds are the families' names. It is
  judged by `tests/beside.py`, which samples the definition and shares nothing with the engine, in both directions; what
  it calls beyond in ours it judges again forty times finer, which would take a quarter of an hour for kurbo's.
* **Varying distance**: 4 mm at both ends, 15 mm in the middle, blended. kurbo's fit asks a Python object for points and
  derivatives, computed with plain complex numbers; arc lengths come from a table made beforehand. kurbo is asked
  for the accuracy at which it makes about as many segments as we do.
* **Outlines**: the right front and the back of the sample trousers. shapely buffers a polyline of 0.01 mm, with as many
  chords in its arcs. It is given the polyline ready-made; the line below includes making it.
* **Lengths**: asked to 1e-9 mm of both; errors against mpmath's quadrature at 30 digits. svgpathtools knows the
  length beforehand where the inverse is asked. Batches are compared per curve.
* **Drawings**: 19 KB as the editor writes it, in whole processes of an interpreter of its own for inkex.
* **Whole commands** on the sample trousers: the processor's time of one process to that of another, compiled modules
  kept as on a maker's machine.
* **A folder**: the sample trousers, each turned and moved a little; `--drawings 1000` looks at more of them, for some
  ten minutes. One drawing is read, put through the steps and written within one process, by the processor's time.
"""


def table(title: str, rows: list[Row]) -> str:
    """Return a group of rows as a table."""
    lines = [
        f"## {title}",
        "",
        "| what | ratio | quartiles | target | met | ours | theirs |",
        "|---|---|---|---|---|---|---|",
    ]
    for row in rows:
        spread = "–" if row.low == row.high else f"{row.low:.3g} – {row.high:.3g}"
        target = "–" if row.target is None else f"≤ {row.target:.3g}"
        met = "–" if row.target is None else "yes" if row.ratio <= row.target else "**no**"
        lines.append(f"| {row.what} | {row.ratio:.3g} | {spread} | {target} | {met} | {row.ours} | {row.theirs} |")
    return "\n".join(lines) + "\n"


def measured(name: str, inkex: str, count: int) -> list[Row]:
    """Measure one group."""
    import commands
    import cubics
    import folders
    import lengths
    import outlines

    import drawings

    jobs = {
        "cubics": cubics.all_rows,
        "outlines": outlines.all_rows,
        "lengths": lengths.all_rows,
        "drawings": lambda: drawings.all_rows(inkex),
        "commands": lambda: commands.all_rows(inkex),
        "folders": lambda: folders.all_rows(inkex, count),
    }
    print(f"{name} …", file=sys.stderr, flush=True)
    return jobs[name]()


GROUPS = {
    "cubics": "Parallels of cubics",
    "outlines": "Whole outlines",
    "lengths": "Lengths",
    "drawings": "Drawings and starting up",
    "commands": "Whole commands",
    "folders": "A folder of drawings",
}
WITH_INKEX = {"drawings", "commands", "folders"}


def main() -> None:
    """Measure, and write the page."""
    parser = argparse.ArgumentParser(prog="python tests/benchmarks", description=__doc__)
    parser.add_argument("--inkex", metavar="PYTHON", help="an interpreter that has inkex")
    parser.add_argument("--only", nargs="+", choices=GROUPS, default=[])
    parser.add_argument("--drawings", type=int, default=200, help="how many the large folder holds")
    options = parser.parse_args()
    names = [name for name in GROUPS if not options.only or name in options.only]
    with tempfile.TemporaryDirectory() as folder:
        inkex = options.inkex
        if not inkex and WITH_INKEX & set(names):
            from drawings import interpreter_with_inkex

            inkex = interpreter_with_inkex(folder)
        tables = []
        for name in names:
            tables.append(table(GROUPS[name], measured(name, inkex or "", options.drawings)))
            print(tables[-1], flush=True)
    text = "\n".join(tables)
    if not options.only:
        head = HEAD.format(
            turns=TURNS,
            date=datetime.date.today().isoformat(),
            python=platform.python_version(),
            machine=f"{platform.system()} {platform.machine()}",
            packages=", ".join(f"{name} {version(name)}" for name in PACKAGES),
        )
        PAGE.write_text(head + text + TAIL, encoding="utf-8")


if __name__ == "__main__":
    main()
