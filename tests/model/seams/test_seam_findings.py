"""Where amounts change too steeply for the nodes of a traced bend, that is said, with the figure the judge finds."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.parallels.line_beside import line_beside
from crossgrain.kernel.path import Path
from crossgrain.kernel.profile import Profile
from crossgrain.kernel.segment import Line
from crossgrain.model import Edge, Pattern, Piece
from crossgrain.model.seams.seam import sides_of
from crossgrain.model.seams.seam_findings import steep_at_nodes
from moved_lines import apart, dense_line, mitred
from pieces import traced_pieces, upright_pieces


def kinked(turn, length=60.0):
    """The side of a piece: two lines that turn by some degrees half way down."""
    angle = math.radians(turn)
    corner = (length * math.sin(angle) + 200.0, length + length * math.cos(angle))
    lines = {
        "waist": [Line((0.0, 0.0), (200.0, 0.0))],
        "side": [Line((200.0, 0.0), (200.0, length)), Line((200.0, length), corner)],
        "hem": [Line(corner, (0.0, corner[1]))],
        "inseam": [Line((0.0, corner[1]), (0.0, 0.0))],
    }
    return Piece(id="p", name="p", edges=tuple(Edge(name=name, line=Path(tuple(line))) for name, line in lines.items()))


def said(piece, stations, amounts, seam="side"):
    [side] = sides_of(Pattern(pieces=(piece,)), seam)
    return steep_at_nodes(side, stations, amounts)


@pytest.mark.parametrize(("turn", "amount"), [(3.0, 12.0), (-3.0, 12.0), (2.0, -15.0)])
def test_it_is_said_with_place_and_figure(turn, amount):
    piece = kinked(turn)
    [finding] = said(piece, [30.0, 90.0], [0.0, amount])
    assert (finding.piece, finding.edge, finding.position) == ("p", "side", (200.0, 60.0))
    # Half way up a smooth step the amount is half, and its slope one and a half times the mean.
    aside = abs(amount) / 2.0 * 1.5 * abs(amount) / 60.0 * math.radians(abs(turn))
    assert f"{aside:.2f} mm aside" in finding.message
    assert finding.advice


def test_over_a_longer_stretch_it_is_not():
    assert said(kinked(3.0, 300.0), [100.0, 500.0], [0.0, 12.0]) == []
    assert said(kinked(0.0), [30.0, 90.0], [0.0, 12.0]) == []


@settings(max_examples=20)
@given(upright_pieces(), st.floats(1.0, 12.0))
def test_smooth_seams_have_none(piece, amount):
    assert said(piece, [100.0, 140.0, 180.0], [0.0, amount, 0.0]) == []


@settings(max_examples=15)
@given(traced_pieces(), st.floats(3.0, 9.0), st.floats(150.0, 400.0))
def test_where_nothing_is_said_the_line_is_as_near_as_a_pen_draws(piece, amount, start):
    stations, amounts = [start, start + 35.0, start + 80.0], [0.0, amount, 0.0]
    [side] = sides_of(Pattern(pieces=(piece,)), "side")
    if steep_at_nodes(side, stations, amounts):
        return
    distances = [side.inwards * one for one in amounts]
    blend = Profile(stations, distances)
    new = line_beside(side.line, stations, distances)
    assert apart(mitred(side.line, lambda s: blend(s)[0]), dense_line(new)) <= 0.075
    assert np.isfinite(blend(np.array([0.0]))[0]).all()
