"""What parallels of outlines once lost, or gave where nothing was: each is drawn right since its cause was mended."""

import itertools
import math

import numpy as np
import pytest
import shapely

from beside import Drawn, how_far, rows, stray
from crossgrain.errors import AccuracyError
from crossgrain.kernel.area import signed_area
from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.meetings.crossing import is_simple
from crossgrain.kernel.parallels import outline_runs
from crossgrain.kernel.parallels.outline_parallel import parallel_of_outline
from crossgrain.kernel.parallels.parallel import parallels
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line

ACCURACY = 0.01


def beside(outline, distance, style="round", accuracy=ACCURACY):
    return parallel_of_outline(outline, [distance] * len(outline.segments), style=style, accuracy=accuracy)


def out_again_beside_a_bend():
    """A corner whose second parallel has been out beyond the first before it crosses that again, inwards."""
    ends = [(40.0 * math.cos(turn), 40.0 * math.sin(turn)) for turn in np.radians(range(0, 300, 40))]
    bend = Cubic((15.32, -12.86), (34.64, -20.0), (19.7, -3.47), (40.0, 0.0))
    return Path((*(Line(p, q) for p, q in itertools.pairwise([*ends, bend.start])), bend), True)


@pytest.mark.parametrize("accuracy", [0.05, 0.01])
def test_a_crossing_inwards_cuts_off_no_part_of_the_line(accuracy):
    """Hypothesis found it: the line once came as near as 56.81 mm, for what lay out there had been cut off."""
    outline = out_again_beside_a_bend()
    line = beside(outline, 60.0, accuracy=accuracy)
    assert is_simple(line)
    assert how_far(line, outline).min() >= 60.0 - accuracy


@pytest.mark.parametrize("style", ["round", "mitre"])
def test_a_slight_corner_between_bends_tighter_than_the_width(style):
    """Beside such bends the parallels run backwards: their way to the mitre's point once went there backwards too."""
    bends = [Cubic((17.0, 2.8), (15.3, 5.4), (13.5, 8.3), (13.2, 11.5)),
             Cubic((13.2, 11.5), (11.7, 20.8), (21.4, 35.1), (13.3, 39.9))]  # fmt: skip
    ends = [(13.3, 39.9), (-45.0, 39.9), (-45.0, -30.0), (35.0, -30.0), (35.0, -21.0), (17.0, 2.8)]
    outline = Path((*bends, *(Line(p, q) for p, q in itertools.pairwise(ends))), True)
    line = beside(outline, 15.0, style)
    assert is_simple(line)
    assert how_far(line, outline, 0.5).min() >= 15.0 - ACCURACY


def test_a_way_on_that_cannot_be_followed_with_its_curve_is_a_line_of_its_own(monkeypatch):
    """One in ten thousand is such; which, is a matter of the last digit."""
    bends = [Cubic((0.0, 0.0), (30.0, -20.0), (70.0, -20.0), (100.0, 0.0)),
             Cubic((100.0, 0.0), (112.0, 12.0), (110.0, 60.0), (90.0, 80.0))]  # fmt: skip
    slight = Cubic((90.0, 80.0), (60.0, 105.0), (20.0, 90.0), (0.0, 0.0))
    outline = Path((*bends, slight), True)
    usual = beside(outline, 10.0, "mitre")

    def unless_they_go_on(runs, widths, accuracy, going_on=None):
        if going_on is not None:
            raise AccuracyError("no")
        return parallels(runs, widths, accuracy)

    monkeypatch.setattr(outline_runs, "parallels", unless_they_go_on)
    line = beside(outline, 10.0, "mitre")
    assert len(line.segments) > len(usual.segments)
    assert max(stray(Drawn(rows(line.segments)), Drawn(rows(usual.segments)), 2.0)) <= 2.0 * ACCURACY


def test_loops_of_a_hundredth_of_a_millimetre_leave_a_line():
    """Three of them cross each other at the corner on the right; once it was said that nothing is left of the piece."""
    ends = [(25.4, 28.3), (-1.3, 81.4), (-13.0, 93.2), (-45.0, 38.7), (-65.6, -14.4), (15.1, -71.6), (76.8, -22.2)]
    bends = [Cubic((87.6, -4.7), (84.3, 6.1), (34.6, 21.8), ends[0]),
             Cubic(ends[-1], (84.1, -14.9), (89.7, -7.7), (87.6, -4.7))]  # fmt: skip
    outline = Path((bends[0], *(Line(p, q) for p, q in itertools.pairwise(ends)), bends[1]), True)
    line = beside(outline, -5.9, "mitre")
    inside = shapely.buffer(shapely.Polygon(flatten(outline, 0.001).points), -5.9, join_style="mitre")
    assert is_simple(line)
    assert how_far(line, outline).min() >= 5.9 - ACCURACY
    assert signed_area(line) == pytest.approx(inside.area, abs=2.0)
