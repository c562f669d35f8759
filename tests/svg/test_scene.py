"""What a drawing draws: groups, clones, symbols, what is hidden, and what is no outline."""

import pytest

from crossgrain.errors import DocumentError
from crossgrain.svg.limits import NESTING
from svg_text import drawing_of

BAR = '<path id="bar" d="M0 0H10"/>'


def seen(drawing):
    return {shape.id: [path.nodes for path in shape.paths] for shape in drawing.shapes}


def test_shapes_stand_in_document_order_with_their_place_on_the_page():
    drawing = drawing_of(
        '<g transform="translate(10,20)"><g transform="scale(2)"><path id="a" d="M1 1H2"/></g>'
        '<path id="b" d="M0 0V1" transform="rotate(90)"/></g><rect id="c" width="1" height="1"/>'
    )
    assert [shape.id for shape in drawing.shapes] == ["a", "b", "c"]
    assert [shape.tag for shape in drawing.shapes] == ["path", "path", "rect"]
    assert seen(drawing)["a"] == [((12, 22), (14, 22))]
    assert seen(drawing)["b"] == [((10, 20), (9, 20))]


@pytest.mark.parametrize("tag", ["defs", "clipPath", "mask", "marker", "pattern", "symbol", "foreignObject", "unknown"])
def test_what_is_only_defined_is_not_drawn(tag):
    assert drawing_of(f"<{tag}>{BAR}</{tag}>").shapes == ()


def test_a_foreign_element_and_what_is_in_it_is_not_drawn():
    assert drawing_of(f'<x:g xmlns:x="urn:x">{BAR}</x:g>').shapes == ()


def test_links_are_groups():
    assert list(seen(drawing_of(f'<a transform="translate(5)">{BAR}</a>')).values()) == [[((5, 0), (15, 0))]]


def test_a_switch_draws_its_first_child_that_needs_nothing_special():
    drawing = drawing_of(
        '<switch><foreignObject requiredExtensions="urn:x"/><g><path id="one" d="M0 0H1"/></g>'
        '<path id="two" d="M0 0H1"/></switch>'
    )
    assert [shape.id for shape in drawing.shapes] == ["one"]


# ---- Hidden


@pytest.mark.parametrize(
    "body",
    [
        '<path d="M0 0H1" display="none"/>',
        '<path d="M0 0H1" style="stroke:#000; display : none"/>',
        '<path d="M0 0H1" display="inline" style="display:none"/>',
        '<g display="none"><path d="M0 0H1" display="inline"/></g>',
        '<g inkscape:groupmode="layer" style="display:none"><g><path d="M0 0H1"/></g></g>',
        '<path d="M0 0H1" visibility="hidden"/>',
        '<g visibility="collapse"><path d="M0 0H1"/></g>',
        '<style>.draft{display:none}</style><g class="old draft"><path d="M0 0H1"/></g>',
        "<style>/* .x{} */ g > path, #y {visibility:hidden !important}</style><g><path d='M0 0H1'/></g>",
        "<style>a > g g > path{display:none}</style><g><a><g><g><g><path d='M0 0H1'/></g></g></g></a></g>",
        "<style>@import 'x.css'; #old {display:none}</style><path id='old' d='M0 0H1'/>",
    ],
)
def test_what_is_hidden_is_found_and_marked(body):
    [shape] = drawing_of(body).shapes
    assert shape.hidden
    assert shape.paths


@pytest.mark.parametrize(
    "body",
    [
        '<path d="M0 0H1" display="none" style="display:inline"/>',
        '<g visibility="hidden"><path d="M0 0H1" visibility="visible"/></g>',
        '<g visibility="hidden"><g style="visibility:visible"><path d="M0 0H1"/></g></g>',
        '<path d="M0 0H1" style="display:inline;visibility:inherit"/>',
        '<style>.a{display:none}</style><path class="ab" d="M0 0H1"/>',
        '<style>.a{display:none}</style><path class="a" style="display:inline" d="M0 0H1"/>',
        '<style>.a{display:none} path.a{display:inline}</style><path class="a" d="M0 0H1"/>',
        '<style>path.a{display:inline} .a{display:none}</style><path class="a" d="M0 0H1"/>',
        '<style>#p{display:inline} path.a.b{display:none}</style><path id="p" class="a b" d="M0 0H1"/>',
        '<style>.a{display:none} .a{display:inline}</style><path class="a" d="M0 0H1"/>',
        "<style>a g > path{display:none}</style><g><g><path d='M0 0H1'/></g></g>",
        "<style>a > g path{display:none}</style><a><a><a><g/></a></a><g/></a><g><path d='M0 0H1'/></g>",
        "<style>a > path{display:none}</style><a><g><path d='M0 0H1'/></g></a>",
        "<style>path:hover{display:none}</style><path d='M0 0H1'/>",
    ],
)
def test_what_is_seen_is_not_marked(body):
    [shape] = drawing_of(body).shapes
    assert not shape.hidden


def test_a_style_sheet_of_many_steps_is_followed_without_trying_every_way():
    # Tried one way after another there would be some five thousand million.
    sheet = "<style>q" + " g" * 12 + " .z{display:none}</style>"
    [shape] = drawing_of(sheet + "<g>" * 40 + '<path class="z" d="M0 0H1"/>' + "</g>" * 40).shapes
    assert not shape.hidden


def test_a_style_sheet_of_rules_without_end_is_refused():
    drawing = drawing_of("<style>" + ".x{display:none}" * 3000 + "</style>" + BAR * 1000)
    with pytest.raises(DocumentError, match="too many rules"):
        drawing.shapes  # noqa: B018


def test_a_style_sheet_that_moves_objects_is_reported():
    drawing = drawing_of("<style>path{transform:scale(2)}</style>" + BAR)
    assert any("style sheet moves" in sentence for _id, sentence in drawing.unreadable)


# ---- Clones and symbols


def test_a_clone_draws_its_original_moved_and_is_marked():
    drawing = drawing_of(f'<defs>{BAR}</defs><use id="copy" href="#bar" x="5" y="6" transform="scale(2)"/>')
    [shape] = drawing.shapes
    assert (shape.id, shape.cloned) == ("copy", True)
    assert shape.paths[0].nodes == ((10, 12), (30, 12))


def test_a_clone_of_a_group_names_each_shape_in_it():
    drawing = drawing_of(f'<g id="pair" transform="translate(1)">{BAR}<rect id="r" width="1" height="1"/></g>'
                         '<use id="copy" xlink:href="#pair" transform="translate(0,10)"/>')  # fmt: skip
    assert [shape.id for shape in drawing.shapes] == ["bar", "r", "copy/bar", "copy/r"]
    assert seen(drawing)["copy/bar"] == [((1, 10), (11, 10))]


def test_a_clone_of_a_clone_is_followed():
    drawing = drawing_of(f'{BAR}<use id="one" href="#bar" x="5"/><use id="two" href="#one" y="7"/>')
    assert seen(drawing)["one"] == [((5, 0), (15, 0))]
    assert seen(drawing)["two/one"] == [((5, 7), (15, 7))]


def test_href_wins_over_the_older_spelling():
    # SVG 2, section 16.1.1.
    drawing = drawing_of(f'{BAR}<path id="no" d="M9 9H8"/><use id="copy" href="#bar" xlink:href="#no"/>')
    assert seen(drawing)["copy"] == [((0, 0), (10, 0))]


@pytest.mark.parametrize(
    ("size", "end"),
    [('width="20" height="20"', (22, 3)), ('width="20"', (22, 43)), ("", (152, 3))],
)
def test_a_symbol_is_fitted_into_the_size_its_clone_gives(size, end):
    drawing = drawing_of(
        '<symbol id="s" viewBox="0 0 10 10"><path id="p" d="M0 0L10 0"/></symbol>'
        f'<use id="u" href="#s" x="2" y="3" {size}/>'
    )
    # Without a size 100 % of the page, 200 × 100: a square of 100 in its middle.
    assert seen(drawing)["u/p"][0][1] == pytest.approx(end)


def test_a_clone_gives_a_nested_drawing_its_size():
    drawing = drawing_of('<defs><svg id="s" width="10" height="10" viewBox="0 0 10 10"><path id="p" d="M0 0H10"/></svg>'
                         '</defs><use id="u" href="#s" width="30" height="30"/>')  # fmt: skip
    assert seen(drawing)["u/p"] == [((0, 0), (30, 0))]


@pytest.mark.parametrize(
    ("body", "sentence"),
    [
        ('<use id="u" href="#u"/>', "contains itself"),
        ('<g id="g"><path id="x" d="M0 0H1"/><use id="u" href="#g"/></g>', "contains itself"),
        ('<g id="a"><use id="u" href="#b"/></g><defs><g id="b"><use id="v" href="#a"/></g></defs>', "contains itself"),
        (
            '<g id="a"><path id="x" d="M0 0H1"/><use id="u" href="#b"/></g>'
            '<defs><g id="b"><use id="v" href="#a"/></g></defs>',
            "contains itself",
        ),
        ('<use id="u" href="#nothing"/>', "#nothing, which is not in the drawing"),
        ('<use id="u" href="other.svg#bar"/>', "another file"),
        ('<use id="u"/>', "another file"),
    ],
)
def test_a_clone_that_cannot_be_followed_is_left_out_and_reported(body, sentence):
    drawing = drawing_of(BAR + body)
    assert [shape.id for shape in drawing.shapes if shape.id != "x"] == ["bar"]
    assert any(sentence in text for _id, text in drawing.unreadable)


def test_clones_of_clones_without_end_are_refused():
    levels = "".join(f'<g id="l{i}">' + f'<use href="#l{i - 1}"/>' * 10 + "</g>" for i in range(1, 10))
    drawing = drawing_of(f'<defs><g id="l0"><path d="M0 0H1"/></g>{levels}</defs><use href="#l9"/>')
    with pytest.raises(DocumentError, match="draws more than"):
        drawing.shapes  # noqa: B018


def test_groups_nested_without_end_are_refused():
    # The parser itself stops at 256.
    depth = NESTING + 20
    drawing = drawing_of("<g>" * depth + BAR + "</g>" * depth)
    with pytest.raises(DocumentError, match="nests groups"):
        drawing.shapes  # noqa: B018


# ---- Broken things spoil only themselves


def test_one_broken_path_leaves_the_others_whole():
    drawing = drawing_of(f'<path id="torn" d="M0,0 L10,xx20"/>{BAR}')
    assert drawing.shape("bar").paths
    with pytest.raises(DocumentError, match=r"'x' at character 10.*torn"):
        drawing.shape("torn").paths  # noqa: B018
    [(id, sentence)] = drawing.unreadable
    assert id == "torn"
    assert "'x' at character 10" in sentence


def test_a_broken_group_transform_spoils_what_is_in_it_and_is_named():
    drawing = drawing_of(f'<g id="box" transform="spin(3)"><path id="in" d="M0 0H1"/></g>{BAR}')
    assert drawing.shape("bar").paths
    with pytest.raises(DocumentError, match=r"spin\(3\).*box"):
        drawing.shape("in").paths  # noqa: B018


def test_a_drawing_without_fault_has_nothing_unreadable():
    assert drawing_of(BAR).unreadable == ()


# ---- Looking up


LOOKED_UP = drawing_of(
    f"""{BAR}<path id="front" inkscape:label="Front" d="M0 0H1"/><path id="back" d="M0 0H1"/>
    <g id="group"><path id="inner" d="M0 0H1"/></g><g id="empty"/>
    <g id="layer" inkscape:groupmode="layer"><path id="layered" d="M0 0H1"/></g>
    <use id="clone" href="#group"/><use id="lost" href="#nowhere"/>
    <text id="words">x</text><image id="scan"/><defs><path id="kept" d="M0 0H1"/><clipPath id="clip"/></defs>
    <use id="copy" href="#kept"/><path id="twin" d="M0 0H1"/><path id="twin" d="M0 0H2"/>"""
)


@pytest.mark.parametrize(
    ("id", "sentence"),
    [
        ("frnt", r"no object frnt in test.svg\. It has: front"),
        ("Front", "the label of front"),
        ("group", "a group, not an outline. Name one of the paths in it: inner"),
        ("layer", "a layer, not an outline. Name one of the paths in it: layered"),
        ("empty", "It has no paths"),
        ("clone", "a clone of a group. Name one of the shapes in it: clone/inner"),
        ("lost", "a clone that draws nothing"),
        ("words", "is text"),
        ("scan", "a picture made of dots"),
        ("kept", "drawn only through clones. Name the clone: copy"),
        ("clip", "is a <clipPath>"),
        ("twin", "2 objects of test.svg have the same id"),
    ],
)
def test_what_is_no_outline_is_named_for_what_it_is(id, sentence):
    with pytest.raises(DocumentError, match=sentence):
        LOOKED_UP.shape(id)


def test_a_shape_is_found_by_its_id():
    assert LOOKED_UP.shape("front").label == "Front"
    assert LOOKED_UP.shape("copy").cloned


def test_a_shape_without_an_id_gets_a_name_that_is_free():
    drawing = drawing_of('<path d="M0 0H1"/><path id="path-2" d="M0 0H2"/><path d="M0 0H3"/><rect/><title>t</title>')
    assert [shape.id for shape in drawing.shapes] == ["path-1", "path-2", "path-3", "rect-1"]
    assert drawing.shape("path-3").paths[0].end == (3, 0)
    assert drawing.element("path-3") is None


def test_a_label_may_be_a_title():
    assert drawing_of('<path d="M0 0H1"><title>Cap peak</title></path>').shapes[0].label == "Cap peak"


def test_an_empty_drawing_says_so():
    with pytest.raises(DocumentError, match="no paths or shapes at all"):
        drawing_of().shape("x")


def test_a_free_id_is_free():
    assert LOOKED_UP.free_id("sleeve") == "sleeve"
    assert LOOKED_UP.free_id("front") == "front-2"


def test_the_result_of_a_live_effect_counts():
    drawing = drawing_of('<path id="p" d="M0 0H2" inkscape:original-d="M0 0H1" inkscape:path-effect="#e"/>')
    assert drawing.shape("p").paths[0].end == (2, 0)
