"""The fitting's amounts on the bare and on the traced front, marked as a maker marks them."""

import math
from pathlib import Path as File

import numpy as np
import pytest
import shapely

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.kernel.length import distance_of, path_length, place_at, point_at
from crossgrain.kernel.meetings.nearest import nearest
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from moved_lines import apart, dense_line, mitred, moved_by
from outline_widths import node_turns

SAMPLES = File(__file__).parents[2] / "samples"
FITTINGS = {
    "side": ("waist=0mm", "20%=12mm", "60%=10mm", "hem=6mm"),
    "inseam": ("crotch=4mm", "40%=8mm", "hem=-6mm"),
    "crotch": ("inseam=0mm", "50%=-6mm", "centre=0mm"),
}


def outside(line, along, amount):
    """The point square to a line at a place, so far to the side to which it is taken in."""
    place = place_at(line, along)
    (x, y), (dx, dy) = point_at(line, place), line.segments[place.index].derivative(place.t)
    return (x - amount * -dy / math.hypot(dx, dy), y - amount * dx / math.hypot(dx, dy))


@pytest.fixture(params=[("bare-front", "front"), ("traced-front", "front-trace")], ids=["bare", "traced"])
def marked(request, tmp_path, capsys):
    name, id = request.param
    path = tmp_path / f"{name}.svg"
    words = ["mark", SAMPLES / f"{name}.svg", "-o", path, "--piece", id, "--name", "front"]
    words += ["--edges", "waist side hem inseam crotch centre", "--corner", "96mm, 209mm"]
    assert call(capsys, *words).code == Exit.FINE
    return path


@pytest.mark.parametrize("seam", FITTINGS)
def test_girth_taken_is_girth_asked_and_nothing_crosses(capsys, marked, tmp_path, seam):
    target = tmp_path / "out.svg"
    words = ["take-in", marked, "-o", target, "--seam", seam]
    for basting in FITTINGS[seam]:
        words += ["--at", basting]
    assert call(capsys, *words).code == Exit.FINE
    [old], [new] = (pattern_of(read_drawing(path)).pieces for path in (marked, target))
    line, there = old.edge(seam).line, new.edge(seam).line
    total = path_length(line)
    turned = seam == "inseam"  # named clockwise, it goes up from the hem; stations are counted from the crotch
    asked = [basting.split("=") for basting in FITTINGS[seam][1:-1]]
    places = [float(place.rstrip("%")) / 100.0 for place, _amount in asked]
    found = moved_by(line, there, [(1.0 - p if turned else p) * total for p in places])
    assert -found == pytest.approx([float(amount.removesuffix("mm")) for _place, amount in asked], abs=0.1)

    stations = [0.0, *((1.0 - p if turned else p) * total for p in places), total]
    amounts = [float(basting.split("=")[1].removesuffix("mm")) for basting in FITTINGS[seam]]
    blend = Profile(sorted(stations), [-a for a in (amounts[::-1] if turned else amounts)])
    if max(amounts) <= 0.0:  # let out: the old line is the true one inside the new, square to that
        outer = [distance_of(there, nearest(there, outside(line, at, -blend(at)[0])).place) for at in sorted(stations)]
        back = Profile(outer, [-blend(at)[0] for at in sorted(stations)])
        assert apart(mitred(there, lambda s: back(s)[0]), dense_line(line)) <= 0.02
    else:  # the ends have slid: what is left of the line lies on the true one or on its continuation
        true = mitred(line, lambda s: blend(s)[0])
        inner = [p for p in there.nodes if math.dist(p, there.start) > 15.0 and math.dist(p, there.end) > 15.0]
        assert shapely.distance(shapely.points(np.array(inner)), true).max() <= 0.02
    assert len(there.segments) <= len(line.segments) + 2 * len(asked) + 4
    assert np.abs(node_turns(there)).max() < 25.0
    assert shapely.Polygon(np.array(dense_line(Path(new.line.segments)).coords)).is_valid


def test_an_amount_where_crotch_runs_on_into_centre_is_refused(capsys, marked, tmp_path):
    target = tmp_path / "out.svg"
    words = ["take-in", marked, "-o", target, "--seam", "crotch", "--at", "inseam=4mm", "--at", "centre=4mm"]
    result = call(capsys, *words)
    assert (result.code, result.out) == (Exit.REFUSED, "")
    assert "run on into one another" in result.err
    assert not target.exists()
