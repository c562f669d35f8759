"""Stations are found where a maker would measure them, on every side of a seam."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain import language
from crossgrain.errors import ParameterError
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import Edge, Notch, Pattern, Piece
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.seams.seam import sides_of
from crossgrain.model.seams.station import Station, station_places
from moved_lines import Walked
from pieces import against, one, turned, upright_pieces

FEW = settings(max_examples=25)


def placed(pattern, seam, *stations, **depths):
    sides = sides_of(pattern, seam)
    return station_places(sides, stations, depths), [Walked(side.line).total for side in sides]


@given(turned(upright_pieces()), st.floats(0.0, 1.0), st.floats(1.0, 400.0))
def test_ends_shares_and_distances_are_measured_from_the_end_that_is_named(piece, share, along):
    stations = (
        Station(name="waist"),
        Station(name="hem"),
        Station(share=share),
        Station(share=share, start="hem"),
        Station(along=along),
        Station(along=along, start="hem"),
    )
    [found], [total] = placed(one(piece), "side", *stations)
    expected = [0.0, total, share * total, (1.0 - share) * total, along, total - along]
    assert found == pytest.approx(expected, abs=1e-4)


@FEW
@given(turned(upright_pieces()), st.floats(20.0, 500.0))
def test_a_level_lies_so_deep_below_the_waist_at_the_side(piece, depth):
    [[along]], _totals = placed(one(piece), "side", Station(name="hip"), hip=depth)
    [side] = sides_of(one(piece), "side")
    [here], _normals = Walked(side.line).frames([along])
    way = here - complex(*side.line.start)
    gx, gy = piece.grain
    assert abs(way.real * gx + way.imag * gy) == pytest.approx(depth, abs=1e-3)


@given(upright_pieces(), st.lists(st.integers(1, 99), min_size=1, max_size=4, unique=True))
def test_notches_are_counted_from_the_end_that_is_named(piece, places):
    shares = sorted(place / 100.0 for place in places)
    for drawn in (piece, against(piece)):
        is_against = drawn is not piece
        notches = tuple(Notch(edge="side", share=1.0 - share if is_against else share) for share in reversed(shares))
        drawn = replace(drawn, notches=notches)
        counted = [Station(notch=k + 1) for k in range(len(shares))]
        from_hem = [Station(notch=k + 1, start="hem") for k in range(len(shares))]
        [found], [total] = placed(one(drawn), "side", *counted, *from_hem)
        assert np.array(found[: len(shares)]) / total == pytest.approx(shares, abs=1e-6)
        assert np.array(found[len(shares) :]) / total == pytest.approx(shares[::-1], abs=1e-6)


@FEW
@given(turned(upright_pieces()), turned(upright_pieces()))
def test_a_place_on_one_piece_is_the_same_share_of_the_seam_on_the_others(front, back):
    pattern = Pattern(pieces=(replace(front, id="front"), replace(back, id="back")))
    point = front.edge("side").line.nodes[1]
    found, totals = placed(pattern, "side", Station(spot=OutlineSpot(point=point), piece="front"))
    assert found[0][0] / totals[0] == pytest.approx(found[1][0] / totals[1], abs=1e-9)
    [side, _back] = sides_of(pattern, "side")
    [here], _normals = Walked(side.line).frames([found[0][0]])
    assert here == pytest.approx(complex(*point), abs=1e-3)


@given(turned(upright_pieces()))
def test_corners_of_the_seam_are_its_ends(piece):
    [side] = sides_of(one(piece), "side")
    ends = [Station(spot=OutlineSpot(point=end), piece="leg") for end in (side.line.start, side.line.end)]
    [found], [total] = placed(one(piece), "side", *ends)
    assert found == pytest.approx((0.0, total), abs=1e-4)


@pytest.mark.parametrize("code", ["en", "fr"])
def test_ends_are_called_as_the_tables_call_them(code, monkeypatch):
    """In French the waist is *taille* and the hem *ourlet*; the names in the drawing go, too."""
    monkeypatch.setenv("LANGUAGE", code)
    language._catalogue.cache_clear()
    words = ("taille", "ourlet") if code == "fr" else ("waist", "hem")
    try:
        for first, last in (words, ("waist", "hem")):
            stations = Station(name=first), Station(name=last), Station(along=1.0, start=last)
            [places], [total] = placed(one(hooked()), "side", *stations)
            assert places == pytest.approx((0.0, total, total - 1.0))
        with pytest.raises(ParameterError) as caught:
            placed(one(hooked()), "side", Station(name="knee"), waist=0.0, hip=200.0)
        assert f"{words[0]}, " in caught.value.advice
        assert caught.value.advice.count(words[0]) == 1
    finally:
        monkeypatch.undo()
        language._catalogue.cache_clear()


def hooked():
    """A piece whose side goes down, up again and down: a level there is crossed three times."""
    side = Path((Cubic((100.0, 0.0), (100.0, 600.0), (60.0, -300.0), (60.0, 300.0)),))
    lines = {
        "waist": Path((Line((0.0, 0.0), (100.0, 0.0)),)),
        "side": side,
        "hem": Path((Line((60.0, 300.0), (0.0, 300.0)),)),
        "centre": Path((Line((0.0, 300.0), (0.0, 0.0)),)),
    }
    return Piece(id="p", name="p", edges=tuple(Edge(name=name, line=line) for name, line in lines.items()))


@pytest.mark.parametrize(("depth", "count"), [(150.0, 3), (400.0, 0)])
def test_a_level_that_the_seam_crosses_never_or_several_times_is_refused_with_the_count(depth, count):
    with pytest.raises(ParameterError, match=f"{count} times") as caught:
        placed(one(hooked()), "side", Station(name="hip"), hip=depth)
    assert "share" in caught.value.advice
    assert (caught.value.piece, caught.value.edge) == ("p", "side")


@pytest.mark.parametrize(
    ("station", "said"),
    [
        (Station(name="knee"), "no end and no level named knee"),
        (Station(share=0.5, start="knee"), "no end and no level named knee"),
        (Station(along=5000.0), "lies off the seam"),
        (Station(along=-5.0), "lies off the seam"),
        (Station(notch=1), "no notch 1"),
        (Station(spot=OutlineSpot(point=(0.0, 150.0))), "lies on the edge centre"),
        (Station(spot=OutlineSpot(point=(0.0, 150.0)), piece="sleeve"), "not said to be one of a piece"),
    ],
)
def test_each_slip_gets_one_sentence(station, said):
    with pytest.raises(ParameterError, match=said) as caught:
        placed(one(hooked()), "side", station)
    assert caught.value.advice
