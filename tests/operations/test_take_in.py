"""Taking in: the girth taken is the girth asked, where nothing is asked nothing moves, what cannot be is refused."""

import math
from dataclasses import replace
from pathlib import Path as File

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.errors import CollapseError, CrossgrainError, GeometryError, ParameterError, SelfCrossingError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.area import winding
from crossgrain.kernel.drawn_on import drawn_on_at_end, drawn_on_at_start
from crossgrain.kernel.length import path_length, point_at_share
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Pattern, Piece
from crossgrain.model.marking.dart_lines import dart_points
from crossgrain.model.seams.station import Station
from crossgrain.notation.stations import read_basting
from crossgrain.operations.take_in import Basting, TakeIn, take_in
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from moved_lines import apart, dense_line, moved_by
from outline_widths import widths
from pieces import against, moved, one, traced_pieces, turned, upright_pieces
from strategies import rigid_motions

SAMPLES = File(__file__).parents[2] / "samples"
FEW = settings(max_examples=25)
ENDS = {"side": ("waist", "hem"), "inseam": ("centre", "hem")}
TWICE = CutInstruction(count=2, mirrored=True)

amounts = st.one_of(st.just(0.0), st.floats(-10.0, 12.0).map(lambda value: round(value, 2)))


def basted(*texts):
    return tuple(Basting(station=station, amount=amount) for station, amount in map(read_basting, texts))


def taken(pattern, seam, at, **how):
    return take_in(pattern, TakeIn(seam=seam, at=at, **how))


def in_shares(seam, inner, first=0.0, last=0.0):
    """Amounts at the ends of a seam and at shares of its length between them."""
    start, end = ENDS[seam]
    stations = [Station(name=start), *(Station(share=share) for share, _d in inner), Station(name=end)]
    values = [first, *(d for _share, d in inner), last]
    return tuple(Basting(station=s, amount=d) for s, d in zip(stations, values, strict=True))


@st.composite
def fittings(draw, seam):
    """Draw amounts at stations along a seam, at least a sixth of it apart."""
    count = draw(st.integers(0, 3))
    places = [(k + 1 + draw(st.floats(-0.15, 0.15))) / (count + 1) for k in range(count)]
    inner = [(round(place, 4), draw(amounts)) for place in places]
    # The inseam may run smoothly on into the centre, where no corner could slide.
    return in_shares(seam, inner, draw(amounts) if seam == "side" else 0.0, draw(amounts))


@st.composite
def fitted(draw, pieces=None, seams=("side", "inseam")):
    piece = draw(turned(upright_pieces(notches=True)) if pieces is None else pieces)
    seam = draw(st.sampled_from(seams))
    return piece, seam, draw(fittings(seam))


def inwards(piece):
    """What a distance along the normals of a piece's lines is multiplied by to be one into it, 1 or -1."""
    ring = shapely.LinearRing(np.array(dense_line(Path(piece.line.segments)).coords))
    return -1.0 if ring.is_ccw else 1.0  # with y down, shapely takes for counter-clockwise what runs clockwise


def measured(old, new, seam, at):
    """How far inside the old line the new one lies at stations given by shares, by the judge."""
    line = old.edge(seam).line
    total = path_length(line)
    start = {"side": "waist", "inseam": "centre"}[seam]
    names = old.edge_names
    is_turned = names[names.index(seam) - 1] != start
    shares = [1.0 - b.station.share if is_turned else b.station.share for b in at if b.station.share is not None]
    return inwards(old) * moved_by(line, new.edge(seam).line, [share * total for share in shares])


# --- the law ------------------------------------------------------------------------------------------------------


@settings(max_examples=500)
@given(fitted())
def test_at_every_station_as_much_is_taken_as_was_asked(case):
    piece, seam, at = case
    [new] = taken(one(piece), seam, at).value.pieces
    asked = [basting.amount for basting in at if basting.station.share is not None]
    assert measured(piece, new, seam, at) == pytest.approx(asked, abs=0.01)


@FEW
@given(fitted(turned(traced_pieces())))
def test_on_traced_pieces_too(case):
    piece, seam, at = case
    [new] = taken(one(piece), seam, at).value.pieces
    asked = [basting.amount for basting in at if basting.station.share is not None]
    assert measured(piece, new, seam, at) == pytest.approx(asked, abs=0.1)


@FEW
@given(upright_pieces(), st.floats(1.0, 12.0))
def test_a_piece_is_narrower_at_the_hip_by_the_distance_taken_there(piece, amount):
    """Its side stands upright there, so that across the grain is square to the seam."""
    side = piece.edge("side").line
    hip = side.segments[0].end
    share = path_length(Path(side.segments[:1])) / path_length(side)
    [new] = taken(one(piece), "side", in_shares("side", [(share, amount)])).value.pieces
    assert widths(piece, [hip[1]]) - widths(new, [hip[1]]) == pytest.approx([amount], abs=0.01)


@given(fitted())
def test_other_edges_than_the_seam_and_its_neighbours_are_what_they_were(case):
    piece, seam, at = case
    [new] = taken(one(piece), seam, at).value.pieces
    names = piece.edge_names
    k = names.index(seam)
    for name in set(names) - {seam, names[k - 1], names[(k + 1) % len(names)]}:
        assert new.edge(name) == piece.edge(name)
    assert new.edge_names == names
    for before, after in zip(new.edges, [*new.edges[1:], new.edges[0]], strict=True):
        assert before.line.end == after.line.start


@given(fitted())
def test_an_end_where_nothing_is_taken_stays_and_so_does_its_neighbour(case):
    piece, seam, at = case
    [new] = taken(one(piece), seam, at).value.pieces
    for basting in (at[0], at[-1]):
        if basting.amount == 0.0:
            assert new.edge(basting.station.name).line == piece.edge(basting.station.name).line


@given(fitted())
def test_new_corners_lie_on_the_old_neighbours_or_on_their_continuations(case):
    piece, seam, at = case
    [new] = taken(one(piece), seam, at).value.pieces
    for name in ENDS[seam]:
        whole = drawn_on_at_start(drawn_on_at_end(piece.edge(name).line, 40.0), 40.0)
        points = shapely.points(np.array(dense_line(new.edge(name).line).coords))
        assert shapely.distance(points, dense_line(whole, 0.1)).max() <= 2e-3


# --- zero ---------------------------------------------------------------------------------------------------------


@given(turned(upright_pieces(notches=True)), st.sampled_from(["side", "inseam"]))
def test_nothing_taken_is_the_pattern_itself(piece, seam):
    pattern = one(piece)
    outcome = taken(pattern, seam, in_shares(seam, [(0.5, 0.0)]))
    assert outcome.value.pieces[0] is piece
    assert not outcome.findings


@given(upright_pieces(), amounts)
def test_pieces_without_the_seam_are_the_same_objects(piece, amount):
    other = replace(piece, id="band", edges=tuple(replace(e, name=f"band {e.name}") for e in piece.edges))
    value = taken(Pattern(pieces=(piece, other)), "side", in_shares("side", [(0.5, amount)])).value
    assert value.pieces[1] is other


@given(turned(upright_pieces()), st.floats(1.0, 10.0))
def test_outside_the_stations_segments_are_the_old_ones(piece, amount):
    at = tuple(Basting(station=Station(share=share), amount=d) for share, d in [(0.6, 0.0), (0.8, amount), (0.9, 0.0)])
    [new] = taken(one(piece), "side", at).value.pieces
    old, line = piece.edge("side").line, new.edge("side").line
    assert [new.edge(name) for name in ("waist", "hem")] == [piece.edge(name) for name in ("waist", "hem")]
    if piece.edge_names[piece.edge_names.index("side") - 1] == "waist":
        assert line.segments[0] == old.segments[0]
    else:
        assert line.segments[-1] == old.segments[-1]


# --- there and back -----------------------------------------------------------------------------------------------


def there_and_back(piece, seam, at):
    """The piece taken in, and let out again by the same amounts at the same stations along the new line."""
    pattern = taken(one(piece), seam, at).value
    return taken(pattern, seam, tuple(replace(b, amount=-b.amount) for b in at)).value.pieces[0]


@FEW
@given(
    turned(upright_pieces()),
    st.floats(0.3, 0.7),
    st.one_of(st.floats(1.0, 12.0), st.floats(-12.0, -1.0)),
    st.floats(-6.0, 6.0),
)
def test_a_fitting_and_its_reverse_give_back_the_outline(piece, share, amount, at_hem):
    """At a notch, which goes with the seam, it is the same station both times. What is let out is measured square to
    the new line, as what is taken in is to the old one: so each undoes the other, where the seam leans and bends too.
    """
    piece = replace(piece, notches=(Notch(edge="side", share=share),))
    at = basted("waist=0mm", f"notch 1={amount:.3f}mm", f"hem={at_hem:.3f}mm")
    back = there_and_back(piece, "side", at)
    assert apart(dense_line(Path(back.line.segments)), dense_line(Path(piece.line.segments))) <= 0.02
    assert back.notches[0].share == pytest.approx(share, abs=1e-4)


@FEW
@given(upright_pieces(), st.floats(1.0, 12.0))
def test_a_seam_moved_alike_all_along_and_back_is_the_old_one(piece, amount):
    back = there_and_back(piece, "side", in_shares("side", [], amount, amount))
    assert apart(dense_line(back.edge("side").line), dense_line(piece.edge("side").line)) <= 0.02


@FEW
@given(upright_pieces(), st.floats(1.0, 12.0))
def test_edges_that_were_cut_and_drawn_on_again_are_the_old_ones(piece, amount):
    back = there_and_back(piece, "side", in_shares("side", [], amount, amount))
    for name in ("waist", "hem"):
        assert len(back.edge(name).line.segments) == len(piece.edge(name).line.segments)
    assert path_length(back.edge("hem").line) == pytest.approx(path_length(piece.edge("hem").line), abs=0.02)


# --- seen otherwise -----------------------------------------------------------------------------------------------


@FEW
@given(fitted(upright_pieces(notches=True)), rigid_motions(), st.booleans())
def test_a_piece_turned_moved_or_mirrored_gives_the_same(case, motion, mirror):
    piece, seam, at = case
    motion = Affine.scaling(-1.0 if mirror else 1.0, 1.0).then(motion)
    [one_way] = taken(one(piece), seam, at).value.pieces
    [other] = taken(one(moved(piece, motion)), seam, at).value.pieces
    for edge in piece.edge_names:
        here = dense_line(one_way.edge(edge).line.mapped(motion))
        assert apart(here, dense_line(other.edge(edge).line)) <= 0.02
    assert [n.share for n in other.notches] == pytest.approx([n.share for n in one_way.notches], abs=1e-4)


@FEW
@given(fitted(upright_pieces(notches=True)))
def test_a_piece_drawn_the_other_way_round_gives_the_same(case):
    piece, seam, at = case
    [one_way] = taken(one(piece), seam, at).value.pieces
    [other] = taken(one(against(piece)), seam, at).value.pieces
    for edge in piece.edge_names:
        assert apart(dense_line(one_way.edge(edge).line), dense_line(other.edge(edge).line)) <= 0.02
    assert [1.0 - n.share for n in other.notches] == pytest.approx([n.share for n in one_way.notches], abs=1e-4)


# --- marks --------------------------------------------------------------------------------------------------------


@FEW
@given(fitted(turned(upright_pieces(notches=True, darts=True))))
def test_notches_on_the_seam_move_square_with_it_and_others_stay(case):
    piece, seam, at = case
    outcome = taken(one(piece), seam, at)
    [new] = outcome.value.pieces
    lost = sum("notch" in finding.message for finding in outcome.findings)
    for before, after in zip(piece.notches, new.notches, strict=True):
        was, line = piece.edge(before.edge).line, new.edge(after.edge).line
        here, there = point_at_share(was, before.share), point_at_share(line, after.share)
        if before.edge == seam:
            if not 0.0 < after.share < 1.0:
                continue
            step = complex(*there) - complex(*here)
            [d] = moved_by(was, line, [before.share * path_length(was)])
            assert abs(step) == pytest.approx(abs(d), abs=0.02)
        elif 0.0 < after.share < 1.0 or not lost:
            assert there == pytest.approx(here, abs=1e-3)
    [old_dart], [dart] = piece.darts, new.darts
    for before, after in zip(dart_points(piece, old_dart), dart_points(new, dart), strict=True):
        assert after == pytest.approx(before, abs=1e-3)
    assert new.grain == piece.grain
    assert (dart.width, dart.edge) == (old_dart.width, old_dart.edge)


# --- box: plain arithmetic ----------------------------------------------------------------------------------------


def box(width=200.0, height=900.0, **facts):
    """Waist, side, hem, inseam, clockwise."""
    corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    edges = tuple(
        Edge(name=name, line=Path((Line(corners[k], corners[(k + 1) % 4]),)))
        for k, name in enumerate(("waist", "side", "hem", "inseam"))
    )
    return Piece(**({"id": "front", "edges": edges} | facts))


def pair(count=1, **facts):
    cut = CutInstruction(count=count, mirrored=count > 1)
    return Pattern(pieces=(box(cut=cut, **facts), box(id="back", cut=cut, **facts)))


def all_round(pattern):
    """The girth of boxes at half height, by shapely."""
    return sum(float(widths(piece, [450.0])[0]) * piece.cut.count for piece in pattern.pieces)


@pytest.mark.parametrize(
    ("count", "asked", "girth"),
    [(1, (7.0,), 14.0), (1, (7.0, 5.0), 24.0), (2, (7.0, 5.0), 48.0)],
    ids=["7 mm inside takes 14", "10 and 14 make 24", "two seams 48"],
)
def test_stitched_inside_takes_twice_from_each_seam(count, asked, girth):
    """Trade: 7 mm inside, both layers, takes 14 mm; with 10 mm of girth from before 24 mm; over two seams 48 mm."""
    before = after = pair(count)
    for amount in asked:
        after = taken(after, "side", basted(f"waist={amount}mm", f"hem={amount}mm")).value
    assert all_round(before) - all_round(after) == pytest.approx(girth, abs=1e-6)


@pytest.mark.parametrize("count", [1, 2])
def test_girth_is_the_inverse_of_distance(count):
    """Trade: girth ÷ 2 per seam, ÷ 2n for n."""
    before = pair(count)
    outcome = taken(before, "side", basted("waist=24mm", "hem=24mm"), is_girth=True)
    assert all_round(before) - all_round(outcome.value) == pytest.approx(24.0, abs=1e-6)
    by_distance = taken(before, "side", basted(f"waist={12 / count}mm", f"hem={12 / count}mm")).value
    assert outcome.value == by_distance
    assert [change.after for change in outcome.changes if "girth" in change.what] == pytest.approx([-24.0, -24.0])


def test_quartering():
    """Trade: 1 in of girth is 1/4 in on each half front and half back."""
    before = pair(2)
    after = taken(before, "side", basted("waist=1in", "hem=1in"), is_girth=True).value
    for old, new in zip(before.pieces, after.pieces, strict=True):
        assert widths(old, [450.0]) - widths(new, [450.0]) == pytest.approx([25.4 / 4.0], abs=1e-6)


def test_a_gored_skirt_let_out_from_25_to_26_inches():
    """The Practical Designer (1918), lesson 120, p. 223: waist 25 to 26 in: the half pattern grows by 1/2 in, 1/4 in on
    each of two gores all the way down, the front gore by nothing."""
    front, side, back = (
        box(id=name, width=25.0 * 25.4 / 6.0, cut=TWICE) for name in ("front gore", "side gore", "back gore")
    )
    side, back = (
        replace(gore, edges=tuple(replace(e, name="gore seam" if e.name == "side" else e.name) for e in gore.edges))
        for gore in (side, back)
    )
    before = Pattern(pieces=(front, side, back))
    assert all_round(before) == pytest.approx(25.0 * 25.4)
    after = taken(before, "gore seam", basted("waist=-1/4 in", "hem=-1/4 in")).value
    assert after.pieces[0] is front
    grown = [
        widths(new, [50.0, 850.0]) - widths(old, [50.0, 850.0])
        for old, new in zip(before.pieces, after.pieces, strict=True)
    ]
    assert grown[1:] == [pytest.approx([6.35, 6.35])] * 2
    assert all_round(after) == pytest.approx(26.0 * 25.4)


@pytest.mark.parametrize("share", [0.0, 0.25, 0.4, 1.0])
def test_a_share_moves_the_seam_and_keeps_the_sum(share):
    before = pair(2)
    after = taken(before, "side", basted("waist=10mm", "hem=10mm"), shares=(("front", share),)).value
    taken_from = [
        float((widths(old, [450.0]) - widths(new, [450.0]))[0])
        for old, new in zip(before.pieces, after.pieces, strict=True)
    ]
    assert taken_from == pytest.approx([20.0 * share, 20.0 * (1.0 - share)], abs=1e-6)


def test_a_share_of_no_piece_is_refused_with_the_names():
    with pytest.raises(ParameterError, match="called sleeve") as caught:
        taken(pair(), "side", basted("waist=10mm", "hem=10mm"), shares=(("sleeve", 0.4),))
    assert "front, back" in caught.value.advice


# --- what is in the way -------------------------------------------------------------------------------------------


def possible(error):
    """How much the advice says is possible, mm."""
    [number] = [word for word in error.value.advice.split() if word.replace(".", "").isdigit()]
    return float(number)


@pytest.mark.parametrize(
    ("facts", "what", "free"),
    [
        ({}, "the grain line", 100.0),
        ({"holds": (Hold(edge="inseam", width=130.0),)}, "a hold", 70.0),
        ({"darts": (Dart(edge="waist", share=0.8, width=20.0, depth=110.0),)}, "a dart", 30.0),
    ],
    ids=["grain", "hold", "dart"],
)
def test_an_amount_that_reaches_a_mark_is_refused_and_just_under_it_is_not(facts, what, free):
    """A box 200 wide: the grain in its middle, a hold 130 from the other side, a dart's mouth at 150 to 170."""
    pattern = one(box(**facts))
    with pytest.raises(CollapseError, match=what) as caught:
        taken(pattern, "side", basted(f"waist={free + 2}mm", f"hem={free + 2}mm"))
    assert possible(caught) == pytest.approx(free, abs=0.1)
    assert caught.value.piece == "front"
    assert caught.value.edge == "side"
    assert caught.value.position is not None
    [new] = taken(pattern, "side", basted(f"waist={free - 0.2}mm", f"hem={free - 0.2}mm")).value.pieces
    assert widths(new, [450.0]) == pytest.approx([200.0 - free + 0.2])


def test_the_other_side_is_in_the_way():
    """The grain lies far down; near the waist there is nothing between the sides."""
    pattern = one(box())
    with pytest.raises(CollapseError, match="the edge inseam") as caught:
        taken(pattern, "side", basted("waist=0mm", "50mm from waist=203mm", "100mm from waist=0mm"))
    assert possible(caught) == pytest.approx(200.0, abs=0.1)


def test_letting_out_is_in_nobody_s_way():
    [new] = taken(one(box()), "side", basted("waist=-150mm", "hem=-150mm")).value.pieces
    assert widths(new, [450.0]) == pytest.approx([350.0])


# --- corners ------------------------------------------------------------------------------------------------------


def leaning(angle, length=300.0):
    """A piece whose waist meets the side at an angle, degrees, inside the piece."""
    lean = math.radians(angle)
    top, bottom = (0.0, 0.0), (0.0, 600.0)
    waist_start = (-length * math.sin(lean), length * math.cos(lean))
    corners = [waist_start, top, bottom, (-300.0, 600.0)]
    names = ("waist", "side", "hem", "inseam")
    edges = tuple(Edge(name=name, line=Path((Line(corners[k], corners[(k + 1) % 4]),))) for k, name in enumerate(names))
    return Piece(id="p", edges=edges)


@pytest.mark.parametrize("angle", [20.0, 45.0, 90.0, 135.0, 160.0])
@pytest.mark.parametrize("amount", [-6.0, 6.0])
def test_whatever_angle_the_neighbour_meets_at_the_corner_slides_along_it(angle, amount):
    """Along the waist the corner moves by d / sin(angle)."""
    piece = leaning(angle)
    [new] = taken(one(piece), "side", basted(f"waist={amount}mm", f"hem={amount}mm")).value.pieces
    moved_along = path_length(piece.edge("waist").line) - path_length(new.edge("waist").line)
    assert moved_along == pytest.approx(amount / math.sin(math.radians(angle)), abs=1e-6)
    assert len(new.line.segments) == 4
    assert winding(new.line) == winding(piece.line)


def test_an_amount_that_leaves_nothing_of_a_short_neighbour_is_refused():
    piece = leaning(90.0, length=10.0)
    with pytest.raises(GeometryError) as caught:
        taken(one(piece), "side", basted("waist=12mm", "hem=12mm"))
    assert caught.value.advice
    assert caught.value.position is not None


def crotch_front():
    """A front whose crotch runs smoothly on into its centre line."""
    crotch = Cubic((-60.0, 280.0), (-20.0, 275.0), (0.0, 240.0), (0.0, 180.0))
    lines = {
        "crotch": (crotch,),
        "centre": (Line((0.0, 180.0), (0.0, 0.0)),),
        "waist": (Line((0.0, 0.0), (180.0, 0.0)),),
        "side": (Line((180.0, 0.0), (180.0, 900.0)),),
        "hem": (Line((180.0, 900.0), (0.0, 900.0)),),
        "inseam": (Line((0.0, 900.0), (-60.0, 280.0)),),
    }
    return Piece(id="front", edges=tuple(Edge(name=name, line=Path(line)) for name, line in lines.items()))


def test_where_two_edges_run_smoothly_on_an_amount_there_is_refused_and_zero_is_not():
    pattern = one(crotch_front())
    with pytest.raises(GeometryError, match="run on into one another") as caught:
        taken(pattern, "crotch", basted("inseam=4mm", "centre=4mm"))
    assert "0 mm" in caught.value.advice
    [new] = taken(pattern, "crotch", basted("inseam=4mm", "centre=0mm")).value.pieces
    assert new.edge("centre") == pattern.pieces[0].edge("centre")


def test_a_crotch_curve_bends_too_tightly_for_the_amount():
    """Deepening a crotch goes into the piece, away from its bend; letting it out turns back within the radius."""
    tight = Cubic((-25.0, 205.0), (-10.0, 205.0), (0.0, 200.0), (0.0, 180.0))
    front = crotch_front()
    lines = {edge.name: edge.line for edge in front.edges}
    lines["crotch"] = Path((tight,))
    lines["inseam"] = Path((Line((0.0, 900.0), (-25.0, 205.0)),))
    front = replace(front, edges=tuple(replace(edge, line=lines[edge.name]) for edge in front.edges))
    with pytest.raises(CollapseError, match="bends with a radius") as caught:
        taken(one(front), "crotch", basted("inseam=0mm", "50%=-25mm", "centre=0mm"))
    assert (caught.value.piece, caught.value.edge) == ("front", "crotch")
    assert caught.value.position is not None
    [new] = taken(one(front), "crotch", basted("inseam=0mm", "50%=6mm", "centre=0mm")).value.pieces
    assert moved_by(lines["crotch"], new.edge("crotch").line, [path_length(lines["crotch"]) / 2.0]) == pytest.approx(
        [-6.0], abs=0.01
    )


def test_letting_out_across_another_edge_is_refused():
    """A piece like a U: its inner side let out meets the other leg of the U."""
    corners = [(0, 0), (60, 0), (60, 300), (90, 300), (90, 0), (150, 0), (150, 400), (0, 400)]
    names = ("left-top", "inner-left", "bottom", "inner-right", "right-top", "right", "hem", "left")
    edges = tuple(
        Edge(name=name, line=Path((Line(tuple(map(float, corners[k])), tuple(map(float, corners[(k + 1) % 8]))),)))
        for k, name in enumerate(names)
    )
    piece = Piece(id="u", edges=edges)
    with pytest.raises(SelfCrossingError) as caught:
        taken(one(piece), "inner-left", basted("left-top=0mm", "50%=-40mm", "bottom=0mm"))
    assert caught.value.edge == "inner-left"
    assert caught.value.position is not None
    taken(one(piece), "inner-left", basted("left-top=0mm", "50%=-25mm", "bottom=0mm"))


def test_an_edge_that_goes_on_from_piece_to_piece_is_no_seam_and_takes_no_girth():
    """The waist of one piece may be lowered; over several its ends have different names, and nothing is sewn there."""
    outcome = taken(one(box()), "waist", basted("inseam=5mm", "side=8mm"))
    assert {change.what for change in outcome.changes} == {"length"}
    trousers = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
    with pytest.raises(
        ParameterError, match="waist go on from piece to piece and are not sewn to each other"
    ) as caught:
        taken(trousers, "waist", basted("centre=5mm", "side=8mm"))
    assert "left front, right front, back" in caught.value.piece
    lowered = taken(trousers, "waist", basted("centre=5mm", "side=5mm"))
    assert {change.what for change in lowered.changes} == {"length"}
    with pytest.raises(ParameterError, match="not sewn to each other"):
        take_in(one(box()), TakeIn(seam="waist", at=basted("inseam=5mm", "side=8mm"), is_girth=True))


def test_a_fold_edge_is_a_neighbour_like_others_and_no_seam():
    piece = box(cut=CutInstruction(on_fold="inseam"))
    [new] = taken(one(piece), "waist", basted("inseam=5mm", "side=8mm")).value.pieces
    assert path_length(new.edge("inseam").line) == pytest.approx(895.0)
    assert path_length(new.edge("side").line) == pytest.approx(892.0)
    with pytest.raises(ParameterError, match="fold"):
        taken(one(piece), "inseam", basted("waist=5mm", "hem=5mm"))


def test_of_a_bare_outline_the_next_step_is_to_name_its_edges():
    bare = Piece(id="bare", edges=(Edge(name="", line=Path(box().line.segments)),))
    with pytest.raises(ParameterError, match="No piece has an edge named side") as caught:
        taken(one(bare), "side", basted("waist=5mm", "hem=5mm"))
    assert "crossgrain mark" in caught.value.advice


# --- bad input ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("seam", "at", "said"),
    [
        ("sleeve", ["waist=5mm"], "No piece has an edge named sleeve"),
        ("side", ["waist=0mm", "knee=5mm"], "no end and no level named knee"),
        ("side", ["waist=0mm", "50%=5mm"], "between hem and the next station"),
        ("side", ["50%=5mm", "hem=0mm"], "between waist and the next station"),
        ("side", ["waist=0mm", "50%=5mm", "50% from hem=6mm", "hem=0mm"], "Two stations lie at the same place"),
        ("side", ["waist=0mm", "2m from waist=5mm"], "lies off the seam"),
        ("side", ["waist=0mm", "notch 1=5mm", "hem=0mm"], "There is no notch 1"),
        ("side", ["20% from knee=5mm"], "no end and no level named knee"),
    ],
)
def test_each_slip_gets_one_sentence(seam, at, said):
    with pytest.raises(ParameterError, match=said) as caught:
        taken(pair(), seam, basted(*at))
    assert caught.value.advice


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ({"at": ()}, "No amount"),
        ({"shares": (("front", 1.4),)}, "140 %"),
        ({"accuracy": 0.0}, "accuracy"),
    ],
)
def test_parameters_check_themselves(how, said):
    with pytest.raises(ParameterError, match=said):
        TakeIn(**({"seam": "side", "at": basted("waist=5mm")} | how))


@pytest.mark.parametrize("amount", [math.nan, math.inf])
def test_an_amount_is_a_number(amount):
    with pytest.raises(ParameterError, match="not a number"):
        Basting(station=Station(name="hip"), amount=amount)


@FEW
@given(fitted(turned(upright_pieces(notches=True)), seams=("side",)), st.floats(5.0, 40.0))
def test_large_amounts_are_done_or_refused_in_a_sentence(case, factor):
    piece, seam, at = case
    at = tuple(replace(b, amount=b.amount * factor) for b in at)
    refused = None
    try:
        [new] = taken(one(piece), seam, at).value.pieces
    except CrossgrainError as error:
        refused = error
    if refused is None:
        assert shapely.Polygon(np.array(dense_line(Path(new.line.segments)).coords)).is_valid
    else:
        assert (refused.piece, refused.edge) == ("leg", seam)
        assert refused.advice


# --- the samples --------------------------------------------------------------------------------------------------

LEVELS = (("hip", 200.0), ("knee", 602.0))


@pytest.fixture(scope="module")
def trousers():
    return pattern_of(read_drawing(SAMPLES / "trousers.svg"))


@pytest.mark.parametrize(("seam", "top"), [("side", "waist"), ("inseam", "crotch")])
def test_on_the_sample_trousers_girth_taken_is_girth_asked(trousers, seam, top):
    stations = [(0.2, 12.0), (0.6, 10.0)]
    at = basted(f"{top}=0mm", *(f"{share:.0%}={d}mm" for share, d in stations), "hem=6mm")
    value = taken(trousers, seam, at).value
    for old, new in zip(trousers.pieces, value.pieces, strict=True):
        if seam not in old.edge_names:
            assert new is old
            continue
        names = old.edge_names
        is_turned = names[(names.index(seam) + 1) % len(names)] != "hem"
        line = old.edge(seam).line
        places = [(1.0 - share if is_turned else share) * path_length(line) for share, _d in stations]
        found = moved_by(line, new.edge(seam).line, places)
        assert np.abs(found) == pytest.approx([12.0, 10.0], abs=0.01), old.id
        hem = path_length(old.edge("hem").line) - path_length(new.edge("hem").line)
        assert hem == pytest.approx(6.0, abs=0.1)
        assert new.edge(top if top in names else "seat") == old.edge(top if top in names else "seat")


def test_levels_are_found_on_the_sample(trousers):
    value = taken(trousers, "side", basted("waist=0mm", "hip=12mm", "knee=10mm", "hem=6mm"), levels=LEVELS).value
    for name in ("front-left", "front-right", "back"):
        assert value.piece(name) != trousers.piece(name)
    assert value.piece("waistband") is trousers.piece("waistband")


@pytest.mark.parametrize(
    ("seam", "at"),
    [
        ("side", ("waist=0mm", "notch 1=12mm", "notch 2=6mm", "hem=6mm")),
        ("side", ("waist=0mm", "hip=12mm", "knee=10mm", "hem=6mm")),
        ("side", ("waist=0mm", "hip=12mm", "60%=10mm", "hem=6mm")),
        ("side", ("waist=4mm", "notch 1=-12mm", "notch 2=-3mm", "hem=-6mm")),
        ("inseam", ("crotch=6mm", "knee=8mm", "hem=2mm")),
    ],
    ids=["at notches", "at levels", "at a share", "out and in", "inseam"],
)
def test_a_fitting_of_the_sample_and_its_reverse(trousers, seam, at):
    """12 mm over some 210 mm. A level or a share is not quite the same place on a seam that has moved."""
    value = taken(trousers, seam, basted(*at), levels=LEVELS).value
    back = tuple(replace(b, amount=-b.amount) for b in basted(*at))
    value = taken(value, seam, back, levels=LEVELS).value
    for old, new in zip(trousers.pieces, value.pieces, strict=True):
        here, there = (dense_line(Path(piece.line.segments)) for piece in (old, new))
        assert apart(here, there) <= 0.02, old.id


@pytest.mark.parametrize("amount", [6.0, 12.0, -12.0, 40.0, -40.0])
def test_a_straight_seam_comes_back_even_from_a_steep_fitting(amount):
    """40 mm over 450 mm leans by 7°; measured square to the seam each time it would come back 0.3 mm aside."""
    piece = box(notches=(Notch(edge="side", share=0.5),))
    at = basted("waist=0mm", f"notch 1={amount}mm", "hem=0mm")
    back = there_and_back(piece, "side", at)
    assert apart(dense_line(back.edge("side").line), dense_line(piece.edge("side").line)) <= 0.02
