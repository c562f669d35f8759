"""Hems that do not lie flat when they are turned up are found, and no others."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.checks.allowances import check_allowances
from crossgrain.model import SewnCorner, Width
from crossgrain.operations.allowance import Allowance, allow
from pieces import one
from sewn_corners import leg, legs

MIRRORED = SewnCorner(edges=("hem",), way="mirrored", guide="hem")


def allowed(piece, *corners, hem=40.0):
    given_width = (("hem", Width.of(hem)),)
    [new] = allow(one(piece), Allowance(width=10.0, edges=given_width, corners=corners)).value.pieces
    return new


@settings(max_examples=20)
@given(legs(), st.floats(20.0, 40.0))
def test_a_mirrored_hem_has_no_finding(piece, depth):
    assert check_allowances(allowed(piece, MIRRORED, hem=depth)).findings == ()


@pytest.mark.parametrize("lean", [-8.0, 8.0])
def test_a_mitred_hem_on_a_leaning_leg_is_off_by_twice_the_lean(lean):
    """40 mm down a mitre runs on by 40 tan(8°), the leg runs back by as much: 2 · 5.62 mm, across its edge. Derived."""
    piece = allowed(leg(math.radians(lean), 0.0))
    [finding] = check_allowances(piece).findings
    assert (finding.edge, finding.position) == ("hem", piece.edge("hem").line.start)
    off = float(finding.message.split("mm is ")[1].split(" mm")[0])
    across = 2.0 * 40.0 * math.tan(math.radians(abs(lean)))
    assert off == pytest.approx(across * math.cos(math.radians(lean)), abs=0.1)
    assert "--renew --corner hem=mirrored" in finding.advice


def test_what_was_said_of_the_corner_counts_and_so_does_a_leg_that_falls_straight():
    assert check_allowances(allowed(leg())).findings == ()
    blunted = SewnCorner(edges=("hem",), way="stepped")
    assert check_allowances(allowed(leg(math.radians(8.0), 0.0), blunted)).findings == ()
    assert check_allowances(allowed(leg(math.radians(8.0), 0.0), hem=0.0)).findings == ()
