"""A piece's facts as attributes: written and read they are the same, and they move with the piece."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from crossgrain.errors import DocumentError, GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.length import Place, run
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Hold, Notch, Piece, Width
from crossgrain.svg.corner_text import read_corners, write_corners
from crossgrain.svg.facts import ATTRIBUTES
from crossgrain.svg.markup import is_marked, read_piece, write_piece
from crossgrain.svg.names import crossgrain
from edited_outlines import RIGID, Labelled, mapped, outline

randoms = st.randoms(use_true_random=False)
angles = st.floats(-math.pi, math.pi)
NAMES = ["waist", "side", "hem", "inseam", "crotch", "centre", "facing", "placket", "band"]


def places_of(drawn: Labelled) -> tuple[Place, ...]:
    return tuple(Place(drawn.labels.index(number), 0.0) for number in range(drawn.count))


widths = st.one_of(
    st.floats(0.0, 60.0).map(lambda mm: Width.of(round(mm, 2))),
    st.tuples(st.floats(0.0, 30.0), st.floats(31.0, 60.0), st.floats(0.1, 0.9)).map(
        lambda drawn: Width(stations=((0.0, round(drawn[0], 2)), (round(drawn[2], 3), round(drawn[1], 2)), (1.0, 9.0)))
    ),
)


@st.composite
def pieces(draw):
    """Draw a piece with some of every mark, its line as it is drawn, and where its edges start on that."""
    drawn = outline(draw(randoms))
    places = places_of(drawn)
    names = NAMES[: len(places)]
    ends = [*places[1:], places[0]]
    allowances = st.one_of(st.none(), widths)
    edges = tuple(
        Edge(name=name, line=run(drawn.line, start, end), allowance=draw(allowances))
        for name, start, end in zip(names, places, ends, strict=True)
    )
    some = st.sampled_from(names)
    shares = st.floats(0.2, 0.8)
    turn = draw(angles)
    piece = Piece(
        id="path1",
        name=draw(st.sampled_from(["front", "back", "fly guard", "Vorderteil"])),
        edges=edges,
        outline=draw(st.sampled_from(["stitch", "cut"])),
        grain=(math.cos(turn), math.sin(turn)),
        cut=CutInstruction(
            count=draw(st.integers(1, 4)),
            mirrored=draw(st.booleans()),
            on_fold=draw(st.sampled_from(["", names[0]])),
            stabilised=draw(st.booleans()),
        ),
        notches=tuple(
            draw(st.lists(st.builds(Notch, edge=some, share=shares, count=st.sampled_from([1, 2, 3])), max_size=3))
        ),
        darts=tuple(
            draw(
                st.lists(
                    st.builds(
                        Dart,
                        edge=some,
                        share=shares,
                        width=st.floats(1.0, 5.0),
                        depth=st.floats(10.0, 60.0),
                        lean_rad=st.floats(-0.3, 0.3),
                    ),
                    max_size=2,
                )
            )
        ),
        holds=tuple(
            draw(
                st.lists(
                    st.builds(
                        Hold, edge=some, width=st.floats(1.0, 40.0), start=st.floats(0.0, 0.4), end=st.floats(0.6, 1.0)
                    ),
                    max_size=2,
                )
            )
        ),
    )
    return drawn, piece


def element_of(drawn, piece, *, against=False):
    element = etree.Element("{http://www.w3.org/2000/svg}path", id="path1")
    write_piece(element, piece, drawn.line, places_of(drawn), against=against)
    return element


def assert_same_facts(one, other):
    assert (one.name, one.outline, one.cut, one.edge_names) == (other.name, other.outline, other.cut, other.edge_names)
    assert [edge.allowance for edge in one.edges] == [edge.allowance for edge in other.edges]
    for kind in ("notches", "darts", "holds"):
        for mine, theirs in zip(getattr(one, kind), getattr(other, kind), strict=True):
            for field in type(mine).__slots__:
                expected = getattr(theirs, field)
                if isinstance(expected, float):
                    expected = pytest.approx(expected, abs=1e-4)
                assert getattr(mine, field) == expected


# --- Laws --------------------------------------------------------------------------------------------------------


@given(pieces())
@settings(max_examples=40)
def test_what_is_written_is_read_again(drawn_and_piece):
    drawn, piece = drawn_and_piece
    read = read_piece(element_of(drawn, piece), "path1", drawn.line)
    assert_same_facts(read, piece)
    assert read.grain == pytest.approx(piece.grain, abs=1e-6)
    assert [edge.line for edge in read.edges] == [edge.line for edge in piece.edges]


@given(pieces())
@settings(max_examples=20)
def test_writing_what_was_read_changes_no_attribute(drawn_and_piece):
    drawn, piece = drawn_and_piece
    element = element_of(drawn, piece)
    before = dict(element.attrib)
    write_piece(element, read_piece(element, "path1", drawn.line), drawn.line, places_of(drawn), against=False)
    assert {name: text for name, text in element.attrib.items() if name != crossgrain("grain")} == {
        name: text for name, text in before.items() if name != crossgrain("grain")
    }


@given(pieces(), st.lists(st.sampled_from(RIGID), max_size=4), randoms)
@settings(max_examples=40)
def test_facts_survive_what_keeps_the_shape(drawn_and_piece, edits, rng):
    drawn, piece = drawn_and_piece
    element = element_of(drawn, piece)
    for edit in edits:
        drawn = edit(rng, drawn)
    read = read_piece(element, "path1", drawn.line)
    assert_same_facts(read, piece)
    assert [edge.line.start for edge in read.edges] == [drawn.node_of(number) for number in range(drawn.count)]


@given(pieces(), angles, st.booleans(), st.floats(0.5, 2.0))
@settings(max_examples=40)
def test_the_grain_turns_mirrors_and_reverses_with_the_piece(drawn_and_piece, angle, mirrored, factor):
    drawn, piece = drawn_and_piece
    element = element_of(drawn, piece)
    affine = Affine.rotation(angle).then(Affine.scaling(-factor if mirrored else factor, factor))
    x, y = affine.of_vector(piece.grain)
    expected = (x / factor, y / factor)
    for line in (mapped(drawn, affine).line, mapped(drawn, affine).line.reversed()):
        assert read_piece(element, "path1", line).grain == pytest.approx(expected, abs=1e-5)


def trousers():
    points = [(0.0, 0.0), (230.0, -12.0), (215.0, 1000.0), (40.0, 1000.0), (-55.0, 270.0), (0.0, 190.0)]
    drawn = Labelled(Path.polygon(points).segments, tuple(range(6)))
    places = places_of(drawn)
    edges = tuple(
        Edge(name=name, line=run(drawn.line, start, end))
        for name, start, end in zip(NAMES, places, [*places[1:], places[0]], strict=False)
    )
    return drawn, Piece(id="path1", name="front", edges=edges)


@pytest.mark.parametrize("corner", range(6))
def test_a_corner_that_was_moved_does_not_tilt_the_grain(corner):
    drawn, piece = trousers()
    element = element_of(drawn, piece)
    points = [*drawn.line.nodes]
    points[corner] = (points[corner][0] + 20.0, points[corner][1] + 8.0)
    assert read_piece(element, "path1", Path.polygon(points)).grain == pytest.approx((0.0, 1.0), abs=1e-6)


@given(st.floats(0.8, 1.25))
def test_a_piece_made_narrower_across_the_grain_keeps_it_nearly(across):
    drawn, piece = trousers()
    element = element_of(drawn, piece)
    x, y = read_piece(element, "path1", mapped(drawn, Affine.scaling(across, 1.0)).line).grain
    assert abs(math.degrees(math.atan2(x, y))) < 0.5


def test_lengths_are_true_millimetres_and_stay_when_the_piece_is_scaled():
    drawn, piece = trousers()
    piece = Piece(
        id=piece.id,
        name=piece.name,
        edges=piece.edges,
        holds=(Hold(edge="centre", width=5.0),),
        notches=(Notch(edge="side", share=0.25),),
    )
    element = element_of(drawn, piece)
    read = read_piece(element, "path1", mapped(drawn, Affine.scaling(1.5, 1.5)).line)
    assert read.holds[0].width == 5.0
    assert read.notches[0].share == 0.25


@given(
    st.lists(st.tuples(st.floats(0.0, 0.999), st.floats(-3.0, 3.0)), min_size=1, max_size=8, unique_by=lambda c: c[0])
)
def test_corners_written_are_read_again(corners):
    shares = sorted({round(share, 6) for share, _turn in corners})
    turns = [round(turn, 3) for _share, turn in corners][: len(shares)]
    text = "; ".join(f"{share * 100:.4f}% {math.degrees(turn):.3f}°" for share, turn in zip(shares, turns, strict=True))
    for prefix in ("", "against: "):
        read = read_corners(prefix + text)
        assert read.shares == pytest.approx(shares, abs=1e-9)
        assert read.against is bool(prefix)
        assert read_corners(write_corners(read)).shares == pytest.approx(read.shares, abs=1e-9)


# --- Written by hand, and wrongly --------------------------------------------------------------------------------

BY_HAND = {
    "piece": "front",
    "edges": "waist side hem inseam crotch centre",
    "corners": "0% 92°; 8.9% 90°; 48.2%; 55% 85°; 83% 60°; 92.4% 30°",
}


def handwritten(**changed):
    element = etree.Element("{http://www.w3.org/2000/svg}path", id="path1")
    for name, text in {**BY_HAND, **changed}.items():
        if text is not None:
            element.set(crossgrain(name), text)
    return element


def test_text_written_by_hand_is_read():
    drawn, _piece = trousers()
    element = handwritten(
        grain="180° from centre",
        notches="side = 50 %; inseam=12 cm double",
        darts="waist=50% width 1/2 in depth 11cm lean -2°",
        holds="centre=5 mm to 80%",
        allowances="hem=3cm; side=3/8 in",
        cut="2 mirrored stabilised",
        outline="cut",
    )
    piece = read_piece(element, "path1", drawn.line)
    assert piece.edge("hem").allowance == Width.of(30.0)
    assert piece.edge("side").allowance.start == pytest.approx(9.525)
    assert piece.notches[0] == Notch(edge="side", share=0.5)
    assert piece.notches[1].count == 2
    assert piece.notches[1].share == pytest.approx(120.0 / math.dist((40.0, 1000.0), (-55.0, 270.0)))
    assert piece.darts[0].width == pytest.approx(12.7)
    assert piece.holds[0] == Hold(edge="centre", width=5.0, end=0.8)
    assert piece.cut == CutInstruction(count=2, mirrored=True, stabilised=True)
    assert piece.outline == "cut"
    assert piece.grain == pytest.approx((0.0, 1.0))


@pytest.mark.parametrize(
    ("changed", "attribute", "said"),
    [
        ({"notch": "side=50%"}, "notch", "not known"),
        ({"outline": "seam"}, "outline", "no kind of outline"),
        ({"cut": "mirrored"}, "cut", "how many"),
        ({"cut": "2 mirrord"}, "cut", "mirrord"),
        ({"cut": "1 on fold back"}, "cut", "no edge named back"),
        ({"edges": "waist side side hem crotch centre"}, "edges", "both named side"),
        ({"edges": "waist side"}, "corners", "6 corners are given for 2 edges"),
        ({"edges": "waist 2side hem inseam crotch centre"}, "edges", "2side"),
        ({"corners": None}, "corners", "0 corners are given for 6 edges"),
        ({"corners": "0%; 9%; 9%; 55%; 80%; 90%"}, "corners", "do not follow one another"),
        ({"corners": "0; 9%; 48%; 55%; 80%; 90%"}, "corners", "no unit"),
        ({"corners": "0% 90; 9%; 48%; 55%; 80%; 90%"}, "corners", "no unit"),
        ({"stood": "1,2; three,4"}, "stood", "is no place"),
        ({"grain": "3° from back"}, "grain", "no edge named back"),
        ({"grain": "vertical"}, "grain", "no grain against an edge"),
        ({"notches": "side=150%"}, "notches", "150"),
        ({"notches": "side=5"}, "notches", "no unit"),
        ({"notches": "side=2000mm"}, "notches", "lies off the edge"),
        ({"notches": "back=50%"}, "notches", "no edge named back"),
        ({"darts": "waist=50% width 20mm"}, "darts", "no width or no depth"),
        ({"darts": "waist=1% width 20mm depth 90mm"}, "darts", "beyond the edge"),
        ({"holds": "centre=5mm from 80% to 20%"}, "holds", "ends before it begins"),
        ({"holds": "centre=0mm"}, "holds", "no width"),
        ({"holds": "centre=5mm from 0% from 2%"}, "holds", "twice"),
        ({"allowances": "back=5mm"}, "allowances", "no edge named back"),
        ({"allowances": "side=-5mm"}, "allowances", "below zero"),
    ],
)
def test_what_cannot_be_read_is_an_error_that_names_element_and_attribute(changed, attribute, said):
    drawn, _piece = trousers()
    with pytest.raises(DocumentError) as caught:
        read_piece(handwritten(**changed), "path1", drawn.line)
    assert "path1" in caught.value.message
    assert f"crossgrain:{attribute}" in caught.value.message
    assert said in caught.value.message
    assert caught.value.piece == "path1"
    assert caught.value.advice or said in ("no width", "ends before it begins")


def test_a_lost_corner_names_the_piece():
    square = Path.polygon([(0.0, 0.0), (500.0, 0.0), (500.0, 500.0), (0.0, 500.0)])
    with pytest.raises(GeometryError, match="cannot be found") as caught:
        read_piece(handwritten(), "path1", square)
    assert caught.value.piece == "front"


def test_a_bare_outline_is_one_nameless_edge_with_upright_grain():
    drawn, _piece = trousers()
    element = etree.Element("{http://www.w3.org/2000/svg}path")
    assert not is_marked(element)
    piece = read_piece(element, "path9", drawn.line)
    assert (piece.id, piece.name, piece.edge_names, piece.grain) == ("path9", "", ("",), (0.0, 1.0))
    assert piece.line == drawn.line


@given(angles, st.sampled_from([Affine(), Affine.rotation(0.7), Affine.scaling(-1.0, 1.0)]), st.booleans())
def test_the_grain_of_an_outline_without_named_edges_moves_with_it(turn, affine, reversed_too):
    drawn, _named = trousers()
    grain = (math.cos(turn), math.sin(turn))
    piece = Piece(id="path1", name="scrap", edges=(Edge(name="", line=Path(drawn.segments)),), grain=grain)
    element = etree.Element("{http://www.w3.org/2000/svg}path")
    write_piece(element, piece, drawn.line, (Place(0, 0.0),), against=False)
    line = drawn.line.mapped(affine)
    read = read_piece(element, "path1", line.reversed() if reversed_too else line)
    assert read.grain == pytest.approx(affine.of_vector(grain), abs=1e-6)


def test_facts_that_are_no_more_are_taken_off_and_others_attributes_stay():
    drawn, piece = trousers()
    element = element_of(
        drawn, Piece(id="path1", name="front", edges=piece.edges, notches=(Notch(edge="hem", share=0.5),))
    )
    element.set("style", "fill:none")
    write_piece(element, piece, drawn.line, places_of(drawn), against=False)
    assert element.get(crossgrain("notches")) is None
    assert element.get("style") == "fill:none"
    assert {etree.QName(name).localname for name in element.attrib} <= {*ATTRIBUTES, "id", "style"}
