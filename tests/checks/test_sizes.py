"""Every seam in every size: one row and at most one finding for each seam, whatever the number of sizes."""

import pytest

from crossgrain.checks.sizes import check_sizes
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Pattern, Piece
from crossgrain.model.seams.ease import Ease
from pieces import moved


def gore(name, depth):
    corners = [(0.0, 0.0), (180.0, 0.0), (180.0, depth), (0.0, depth)]
    named = zip(("waist", "side", "hem", "centre"), Path.polygon(corners).segments, strict=True)
    edges = tuple(Edge(name=edge, line=Path((line,))) for edge, line in named)
    return Piece(id=name, name=name, edges=edges, cut=CutInstruction(on_fold="centre"))


def skirt(front, back):
    return Pattern(pieces=(gore("front", front), moved(gore("back", back), Affine.translation(400.0, 0.0))))


def test_what_matches_has_a_row_and_no_finding():
    rows, checked = check_sizes({"S": skirt(600.0, 600.0), "M": skirt(610.0, 610.4)})
    assert [(row.seam, row.first, row.second) for row in rows] == [("side", "front", "back")]
    assert rows[0].differences == pytest.approx({"S": 0.0, "M": 0.4})
    assert checked.findings == ()


def test_one_finding_names_the_sizes_of_a_seam_that_do_not_match():
    sizes = {"S": skirt(600.0, 602.0), "M": skirt(610.0, 610.0), "L": skirt(620.0, 623.0), "XL": skirt(630.0, 625.0)}
    messages = [finding.message for finding in check_sizes(sizes)[1].findings]
    assert messages == [
        "In size S, L it is up to 3.0 mm longer on back than on front.",
        "In size XL it is up to 5.0 mm longer on front than on back.",
    ]


def test_what_is_so_in_every_size_is_said_to_be():
    sizes = {"S": skirt(600.0, 602.0), "M": skirt(610.0, 612.1)}
    (finding,) = check_sizes(sizes)[1].findings
    assert finding.message == "In every size it is up to 2.1 mm longer on back than on front."
    assert "base" in finding.advice


def test_ease_that_is_meant_is_none():
    sizes = {"S": skirt(600.0, 602.0), "M": skirt(610.0, 612.1), "L": skirt(620.0, 620.0)}
    eases = dict.fromkeys(sizes, (("side", Ease(piece="back", amount=2.0)),))
    (finding,) = check_sizes(sizes, eases=eases)[1].findings
    assert finding.message == "In size L it is up to 2.0 mm longer on front than is meant."


def test_a_size_in_which_the_seam_is_not_there_is_found():
    alone = Pattern(pieces=(gore("front", 600.0),))
    rows, checked = check_sizes({"S": skirt(600.0, 600.0), "M": alone})
    assert list(rows[0].differences) == ["S"]
    (finding,) = checked.findings
    assert finding.message == "In size M it is not there: front or back is missing, or an edge is called otherwise."
