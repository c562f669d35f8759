"""What the tests of runs have in common: the samples, and what a folder holds."""

from __future__ import annotations

from pathlib import Path

SAMPLES = Path(__file__).parents[2] / "samples"


def contents(folder):
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
