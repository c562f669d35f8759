"""Altering shapes: the new line stands where it was asked for, and nothing else is touched."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from crossgrain.errors import DocumentError, GeometryError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.svg.alter import add_group, add_path, set_outline
from crossgrain.svg.names import crossgrain, svg
from crossgrain.svg.reader import parse_drawing
from crossgrain.svg.transforms import format_matrix
from crossgrain.svg.writer import drawing_bytes
from strategies import affines, paths
from svg_text import drawing_of

SQUARE = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])


def again(drawing):
    return parse_drawing(drawing_bytes(drawing), name="again.svg")


def assert_lines(read, wanted, within):
    for one, other in zip(read, wanted, strict=True):
        for p, q in zip(one.segments, other.segments, strict=True):
            for mine, theirs in zip(p.controls, q.controls, strict=True):
                assert mine == pytest.approx(theirs, abs=within)


@given(st.lists(paths(), min_size=1, max_size=2), affines(), affines())
def test_new_lines_stand_where_they_were_asked_for_under_any_transform(lines, outer, inner):
    drawing = drawing_of(
        f'<g transform="{format_matrix(outer)}"><rect id="r" width="1" height="1" transform="{format_matrix(inner)}"/>'
        "</g>"
    )
    set_outline(drawing.shape("r"), lines)
    # Closing may pull a last point by its share of the rounding of the text, here of metre-sized coordinates.
    assert_lines(drawing.shape("r").paths, lines, 0.01)
    assert_lines(again(drawing).shape("r").paths, lines, 0.01)


@given(affines(), st.integers(0, 3))
def test_a_corner_comes_back_to_a_millionth(affine, corner):
    drawing = drawing_of(f'<path id="p" d="M0 0H1" transform="{format_matrix(affine)}"/>')
    square = SQUARE.mapped(Affine.translation(50.0, 40.0))
    set_outline(drawing.shape("p"), [square])
    [read] = again(drawing).shape("p").paths
    assert read.nodes[corner] == pytest.approx(square.nodes[corner], abs=2e-6)


def test_a_basic_shape_becomes_a_path_and_keeps_all_else():
    body = (
        '<!-- before --><rect id="flap" class="x" x="1" y="2" width="3" height="4" rx="1" style="fill:red" '
        'transform="translate(1)" xmlns:q="urn:q" q:sewn="yes" inkscape:label="Flap"><title>T</title>'
        "<desc>D</desc></rect>after<g/>"
    )
    drawing = drawing_of(body)
    assert set_outline(drawing.shape("flap"), [SQUARE]) is False
    element = drawing.element("flap")
    assert element.tag == svg("path")
    assert dict(element.attrib) == {
        "id": "flap",
        "class": "x",
        "style": "fill:red",
        "transform": "translate(1)",
        "{urn:q}sewn": "yes",
        "{http://www.inkscape.org/namespaces/inkscape}label": "Flap",
        "d": "M-1,0 L9,0 L9,10 L-1,10 Z",
    }
    assert [child.text for child in element] == ["T", "D"]
    assert element.tail == "after"
    assert element.getprevious().text == " before "
    assert drawing.shape("flap").tag == "path"


def test_what_would_draw_the_old_line_again_is_taken_off():
    drawing = drawing_of(
        '<path id="p" d="M0 0H2V2Z" sodipodi:type="arc" sodipodi:cx="1" sodipodi:cy="1" sodipodi:rx="1" '
        'sodipodi:ry="1" sodipodi:start="0" sodipodi:end="2" sodipodi:arc-type="slice" inkscape:path-effect="#e" '
        'inkscape:original-d="M0 0H1" inkscape:connector-curvature="0" sodipodi:nodetypes="cccc" '
        'inkscape:label="kept" sodipodi:insensitive="true"/>'
    )
    assert set_outline(drawing.shape("p"), [SQUARE]) is True
    names = {etree.QName(name).localname for name in drawing.element("p").attrib}
    assert names == {"id", "d", "label", "insensitive"}


def test_node_kinds_stay_where_the_nodes_do():
    drawing = drawing_of('<path id="p" d="M0 0H2V2H0Z" sodipodi:nodetypes="ccccc"/>')
    set_outline(drawing.shape("p"), [SQUARE])
    assert drawing.element("p").get("{http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd}nodetypes") == "ccccc"


def test_a_broken_path_can_be_given_a_new_line():
    drawing = drawing_of('<path id="p" d="M0,0 L10,xx20"/>')
    set_outline(drawing.shape("p"), [SQUARE])
    assert drawing.shape("p").paths == (SQUARE,)


def test_a_shape_without_an_id_gets_the_one_it_was_called_by():
    drawing = drawing_of('<path d="M0 0H1"/><path d="M0 0H2"/>')
    set_outline(drawing.shape("path-2"), [SQUARE])
    assert again(drawing).shape("path-2").paths == (SQUARE,)


def test_a_transform_about_the_shapes_own_box_is_written_out():
    drawing = drawing_of(
        '<rect id="r" x="10" width="20" height="20" '
        'style="fill:none;transform:rotate(90deg);transform-box:fill-box;transform-origin:center"/>'
    )
    big = SQUARE.mapped(Affine.scaling(5.0, 2.0))
    set_outline(drawing.shape("r"), [big])
    assert_lines(again(drawing).shape("r").paths, [big], 1e-6)
    assert drawing.element("r").get("style") == "fill:none"


def test_a_clone_is_not_altered():
    drawing = drawing_of('<path id="p" d="M0 0H1"/><use id="u" href="#p"/>')
    before = drawing_bytes(drawing)
    with pytest.raises(DocumentError, match="u is a clone"):
        set_outline(drawing.shape("u"), [SQUARE])
    with pytest.raises(DocumentError, match="u, which is a clone"):
        add_path(drawing, drawing.shape("u"), [SQUARE], id="new")
    assert drawing_bytes(drawing) == before


def test_a_flattened_shape_is_not_altered():
    drawing = drawing_of('<path id="p" d="M0 0H1" transform="scale(0,1)"/>')
    before = drawing_bytes(drawing)
    with pytest.raises(GeometryError, match="flattens") as caught:
        set_outline(drawing.shape("p"), [SQUARE])
    assert caught.value.piece == "p"
    assert drawing_bytes(drawing) == before


# ---- Beside a shape


@given(affines(), affines())
def test_a_new_path_stands_where_it_was_asked_for(outer, inner):
    drawing = drawing_of(
        f'<g transform="{format_matrix(outer)}"><path id="p" d="M0 0H1" transform="{format_matrix(inner)}"/></g>'
    )
    add_path(drawing, drawing.shape("p"), [SQUARE], id="cut", style="fill:none")
    assert_lines(again(drawing).shape("cut").paths, [SQUARE], 2e-6)


def test_a_new_path_comes_right_after_with_the_same_white_space():
    drawing = drawing_of('<g>\n  <path id="p" d="M0 0H1"/>\n  <path id="q" d="M0 0H1"/>\n</g>')
    add_path(drawing, drawing.shape("p"), [SQUARE], id="cut", attributes={crossgrain("of"): "p"})
    assert (
        '<path id="p" d="M0 0H1"/>\n  <path id="cut" crossgrain:of="p" d="M0,0 L10,0 L10,10 L0,10 Z"/>\n  <path id="q"'
        in drawing_bytes(drawing).decode()
    )
    assert [shape.id for shape in drawing.shapes] == ["p", "cut", "q"]


def test_text_after_a_shape_stays_after_it():
    drawing = drawing_of('<path id="p" d="M0 0H1"/>words')
    add_path(drawing, drawing.shape("p"), [SQUARE], id="cut")
    assert drawing.element("p").tail == "words"
    assert drawing.element("cut").tail is None


def test_paths_go_into_a_group_beside_the_shape():
    drawing = drawing_of('<g transform="scale(2)"><path id="p" d="M0 0H1"/></g>')
    shape = drawing.shape("p")
    group = add_group(drawing, shape, id="marks", attributes={"class": "m"})
    add_path(drawing, shape, [SQUARE], id="one", into=group)
    add_path(drawing, shape, [SQUARE], id="two", into=group)
    assert [child.get("id") for child in drawing.element("marks")] == ["one", "two"]
    assert drawing.element("marks").getprevious().get("id") == "p"
    assert drawing.shape("two").paths == (SQUARE,)


def test_an_id_that_is_taken_is_refused():
    drawing = drawing_of('<path id="p" d="M0 0H1"/>')
    with pytest.raises(DocumentError, match="already has an object p"):
        add_group(drawing, drawing.shape("p"), id="p")
