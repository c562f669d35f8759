"""What is pressed, stitched and closed, as attributes: it stays with its edges whatever is done to the piece."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from crossgrain.errors import DocumentError
from crossgrain.kernel.length import Place, run
from crossgrain.kernel.path import Path
from crossgrain.model import Dart, Edge, Notch, Piece
from crossgrain.model.marking.marks import NOTCH_KINDS
from crossgrain.model.marking.sewing_marks import Button, Buttonhole, Crease, Loop, Topstitching
from crossgrain.model.piece import MARKS
from crossgrain.svg.facts import ATTRIBUTES
from crossgrain.svg.markup import read_piece, write_piece
from crossgrain.svg.names import crossgrain
from edited_outlines import RIGID, outline

randoms = st.randoms(use_true_random=False)
NAMES = ["waist", "side", "hem", "inseam", "crotch", "centre", "facing", "placket", "band"]
shares = st.floats(0.05, 0.95)
sizes = st.floats(1.0, 40.0)


@st.composite
def dressed(draw):
    """Draw an outline as it is drawn, and a piece with a mark of every kind on it."""
    drawn = outline(draw(randoms))
    places = tuple(Place(drawn.labels.index(number), 0.0) for number in range(drawn.count))
    names = NAMES[: len(places)]
    edges = tuple(
        Edge(name=name, line=run(drawn.line, start, end))
        for name, start, end in zip(names, places, [*places[1:], places[0]], strict=True)
    )
    on = {"edge": draw(st.sampled_from(names)), "share": draw(shares)}
    button = {**on, "diameter": draw(sizes), "thickness": draw(sizes), "inset": draw(sizes)}
    start, end = draw(st.permutations([0.0, draw(st.floats(0.3, 1.0))]))
    piece = Piece(
        id="path1",
        name="band",
        edges=edges,
        notches=(Notch(**on, count=2, kind=draw(st.sampled_from(NOTCH_KINDS))),),
        darts=(Dart(**on, width=2.0, depth=60.0, drill=draw(st.sampled_from([0.0, 10.0]))),),
        creases=(Crease(**on, reach=draw(st.sampled_from([1.0, 0.8]))),),
        loops=(Loop(**on, width=draw(sizes), length=draw(st.one_of(st.none(), sizes))),),
        buttons=(Button(**button),),
        buttonholes=(Buttonhole(**button, lie=draw(st.sampled_from(["across", "along"]))),),
        topstitching=(Topstitching(edge=on["edge"], width=draw(sizes), start=start, end=end),),
    )
    return drawn, piece, places


def written(drawn, piece, places):
    element = etree.Element("{http://www.w3.org/2000/svg}path", id="path1")
    write_piece(element, piece, drawn.line, places, against=False)
    return element


@given(dressed(), st.lists(st.sampled_from(RIGID), max_size=4), randoms)
@settings(max_examples=30)
def test_marks_keep_their_edge_their_share_and_their_lengths(dressed_piece, edits, rng):
    drawn, piece, places = dressed_piece
    element = written(drawn, piece, places)
    for edit in edits:
        drawn = edit(rng, drawn)
    read = read_piece(element, "path1", drawn.line)
    for kind in MARKS:
        for mine, theirs in zip(getattr(read, kind), getattr(piece, kind), strict=True):
            for field in type(mine).__slots__:
                value = getattr(theirs, field)
                assert getattr(mine, field) == (pytest.approx(value, abs=1e-4) if isinstance(value, float) else value)


@given(dressed())
@settings(max_examples=10)
def test_writing_what_was_read_changes_no_attribute_of_a_mark(dressed_piece):
    drawn, piece, places = dressed_piece
    element = written(drawn, piece, places)
    before = dict(element.attrib)
    write_piece(element, read_piece(element, "path1", drawn.line), drawn.line, places, against=False)
    for kind in MARKS:
        assert element.get(crossgrain(kind)) == before.get(crossgrain(kind))


def test_every_kind_of_mark_is_an_attribute():
    assert set(MARKS) <= set(ATTRIBUTES)


@pytest.mark.parametrize(
    ("kind", "text", "said"),
    [
        ("loops", "cuff=25%", "cuff"),
        ("buttons", "waist=95%", "no width or no thickness"),
        ("buttonholes", "waist=950mm 15mm by 3mm", "lies off the edge"),
        ("creases", "waist=50% to 120%", "lies off it"),
        ("topstitching", "waist=35mm from 20% to 20%", "ends where it begins"),
    ],
)
def test_what_cannot_be_read_names_the_attribute(kind, text, said):
    line = Path.polygon([(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)])
    places = tuple(Place(number, 0.0) for number in range(4))
    edges = tuple(Edge(name=name, line=Path((one,))) for name, one in zip(NAMES, line.segments, strict=False))
    piece = Piece(id="path1", edges=edges, grain=(math.sin(0.1), math.cos(0.1)))
    element = etree.Element("{http://www.w3.org/2000/svg}path", id="path1")
    write_piece(element, piece, line, places, against=False)
    element.set(crossgrain(kind), text)
    with pytest.raises(DocumentError) as caught:
        read_piece(element, "path1", line)
    assert f"crossgrain:{kind}" in caught.value.message
    assert said in caught.value.message
