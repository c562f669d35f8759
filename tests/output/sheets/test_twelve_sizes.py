"""The sample trousers in all twelve sizes of their range, on A4: how large the file is, and what is in it."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

from crossgrain.kernel.length import path_length
from crossgrain.notation.grade_rules import read_grade_rules
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.operations.cutting import Cutting, cut
from crossgrain.operations.grading import grade_sizes
from crossgrain.output.sheets.sheets import Printing, sheets
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from sheet_reading import layers_of, pages_of

SAMPLES = Path(__file__).parent.parent.parent.parent / "samples"


def test_twelve_sizes_of_trousers_take_less_than_a_megabyte_and_are_true_to_size():
    rules = read_grade_rules((SAMPLES / "grade-rules.toml").read_text(encoding="utf-8"), "grade-rules.toml")
    pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
    graded = {
        size: allow(outcome.value, Allowance(width=10.0)).value
        for size, outcome in grade_sizes(pattern, rules, rules.sizes).items()
    }
    assert len(graded) == 12
    plans = [(size, cut(pieces, Cutting(size=size)).value) for size, pieces in graded.items()]
    made = sheets("Slim trousers", plans, Printing())
    assert len(made.pdf) < 1_000_000
    assert layers_of(made.pdf)[0][:12] == [f"size {size}" for size in rules.sizes]
    # Every piece of every size is there, each line as long as it is in its drawing: chords of the same nodes.
    seen = {}
    for page in pages_of(made.pdf, once=True):
        for one in page.lines():
            if "stitch lines" in one.layers:
                seen.setdefault(one.layers[0], set()).add(round(_chain(one.points, one.kinds), 1))
    for size, pieces in graded.items():
        for piece in pieces.pieces:
            nodes = [*piece.line.nodes, piece.line.start]
            wanted = _chain(nodes, "m" + "l" * (len(nodes) - 1))
            assert path_length(piece.line) >= wanted - 1e-6
            assert min(abs(length - wanted) for length in seen[f"size {size}"]) <= 0.11, (size, piece.label)


def _chain(points, kinds):
    """The length of the chords from node to node; handles are passed over."""
    nodes, at = [], 0
    for kind in kinds:
        at += 3 if kind == "c" else 1
        nodes.append(points[at - 1])
    return sum(math.dist(p, q) for p, q in pairwise(nodes))
