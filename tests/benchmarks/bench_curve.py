"""How near curves drawn through few readings come to curves of published shapes.

Run as ``python tests/benchmarks/bench_curve.py [RUNS]``. For each family and number of loads it prints the share of
runs within the figure asked, the 95th percentile of the error in percentage points of strain, and how often the band
held the truth. ``LOOKED_AT`` were looked at while the way of drawing was chosen, ``HELD_BACK`` it is judged on.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from cloths import HELD_BACK, LOOKED_AT, THREE_LOADS
from fabric.test_curve import EIGHT_LOADS, errors

FIVE_LOADS = (0.1, 0.2, 0.4, 0.7, 1.0)


def main(runs: int) -> None:
    """Print the table."""
    print(f"{runs} runs each; strain at a tension between 10 and 100 % of the largest")
    for title, families in (("held back", HELD_BACK), ("looked at", LOOKED_AT)):
        for family in families:
            for loads in (THREE_LOADS, FIVE_LOADS, EIGHT_LOADS):
                cells = []
                for reading_error, limit in ((0.0, 0.15), (0.003, 0.6)):
                    off, held = errors(family, loads, reading_error, runs)
                    within = sum(one <= limit for one in off) / runs
                    cells.append(
                        f"within {limit:.2f}: {within:6.1%}  95 %: {off[int(runs * 0.95)]:.3f}  band holds: {held:6.1%}"
                    )
                print(f"{title}  {family.__name__:18} {len(loads)} loads | " + " | with 0.3 mm: ".join(cells))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
