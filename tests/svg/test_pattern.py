"""Pieces out of a drawing and back: what is marked, what is bare, what is written, and what stays untouched."""

from dataclasses import replace

import pytest
from lxml import etree

from crossgrain.errors import DocumentError, GeometryError, OpenOutlineError, ParameterError
from crossgrain.kernel.affine import Affine
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Edge, Hold, Notch, Pattern
from crossgrain.notation.words import read_outline_spot
from crossgrain.operations.marking import Marking, mark
from crossgrain.svg.journal import Entry, append, entries
from crossgrain.svg.names import crossgrain, svg
from crossgrain.svg.pattern import pattern_of, readable_pattern, update
from crossgrain.svg.reader import parse_drawing
from crossgrain.svg.writer import drawing_bytes

FRONT = "M 100 30 L 330 18 L 315 1030 L 140 1030 L 45 300 C 80 298 98 270 100 220 Z"
BACK = "M 500 0 L 740 30 L 730 1030 L 500 1030 L 400 300 Z"


def drawn(*outlines: str, extra: str = "", group: str = ""):
    body = "\n    ".join(
        f'<path id="p{number}" d="{d}" style="fill:none;stroke:#000"/>' for number, d in enumerate(outlines)
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="1100mm" viewBox="0 0 900 1100">\n'
        f"  <!-- kept -->\n  <g{group}>\n    {body}\n  </g>{extra}\n</svg>\n"
    )


def parsed(text, name="trousers.svg"):
    return parse_drawing(text.encode() if isinstance(text, str) else text, name=name)


FRONT_MARKING = Marking(
    piece="p0",
    name="front",
    edges=("waist", "side", "hem", "inseam", "crotch", "centre"),
    corners=(read_outline_spot("node 5"),),
    cut=CutInstruction(count=2, mirrored=True),
)


def marked(*outlines, group=""):
    """A drawing with its first outline marked as a trouser front."""
    drawing = parsed(drawn(*outlines, group=group))
    before = pattern_of(drawing, ["p0"])
    update(drawing, before, mark(before, FRONT_MARKING).value)
    return parsed(drawing_bytes(drawing))


def line_of(drawing, id):
    """The text of the line on which an element stands."""
    [line] = [line for line in drawing_bytes(drawing).decode().splitlines() if f'id="{id}"' in line]
    return line


# --- Reading -----------------------------------------------------------------------------------------------------


def test_a_named_bare_path_is_a_piece_with_one_nameless_edge():
    [piece] = pattern_of(parsed(drawn(FRONT)), ["p0"]).pieces
    assert (piece.id, piece.edge_names, piece.grain, piece.outline) == ("p0", ("",), (0.0, 1.0), "stitch")
    assert piece.line.start == pytest.approx((100.0, 30.0))


def test_without_ids_every_marked_outline_is_read_and_no_other():
    drawing = marked(FRONT, BACK)
    assert [piece.name for piece in pattern_of(drawing).pieces] == ["front"]


def test_pieces_stand_in_the_order_of_the_drawing():
    drawing = parsed(drawn(FRONT, BACK))
    assert [piece.id for piece in pattern_of(drawing, ["p1", "p0", "p1"]).pieces] == ["p0", "p1"]


def test_a_marked_piece_is_found_by_its_name_too():
    assert pattern_of(marked(FRONT), ["front"]).pieces[0].id == "p0"


def test_with_nothing_marked_the_error_names_the_outlines():
    with pytest.raises(DocumentError, match=r"No piece is marked in trousers\.svg") as caught:
        pattern_of(parsed(drawn(FRONT, BACK)))
    assert "--piece" in caught.value.advice
    assert "p0, p1" in caught.value.advice


def test_a_drawing_without_any_outline_says_so():
    with pytest.raises(DocumentError, match="no outlines"):
        pattern_of(parsed(drawn()))


@pytest.mark.parametrize(
    ("d", "error", "said", "position"),
    [
        ("M 0 0 L 100 0 L 100 80 L 0 80", OpenOutlineError, "80.00 mm apart", (0.0, 80.0)),
        ("M 0 0 L 100 0 L 100 80 Z M 200 200 L 300 200 L 300 300 Z", DocumentError, "2 separate lines", (200.0, 200.0)),
        ("M 0 0", DocumentError, "draws no line", None),
    ],
)
def test_what_is_no_single_closed_line_is_refused_with_the_place(d, error, said, position):
    with pytest.raises(error, match=said) as caught:
        pattern_of(parsed(drawn(d)), ["p0"])
    assert caught.value.position == (pytest.approx(position) if position else None)
    assert "p0" in str(caught.value)
    assert caught.value.advice


@pytest.mark.parametrize("end", ["L 0 0.04", "L 0.03 0.03 Z", "L 0 0", "L 0 0 Z"])
def test_a_tiny_gap_is_closed(end):
    [piece] = pattern_of(parsed(drawn(f"M 0 0 L 100 0 L 100 80 L 0 80 {end}")), ["p0"]).pieces
    assert piece.line.closed
    assert len(piece.line.segments) == 4


def test_a_point_drawn_twice_is_one_node():
    [piece] = pattern_of(parsed(drawn("M 0 0 L 100 0 L 100 0 L 100 80 L 0 80 Z")), ["p0"]).pieces
    assert len(piece.line.segments) == 4


def test_an_error_in_one_piece_does_not_stop_another():
    drawing = parsed(drawn(FRONT, "M 0 0 L 10,xx"))
    assert len(pattern_of(drawing, ["p0"]).pieces) == 1
    with pytest.raises(DocumentError, match="p1"):
        pattern_of(drawing, ["p1"])


def test_what_can_be_read_is_read_and_the_rest_is_told():
    drawing = parsed(drawn(FRONT, "M 0 0 L 10,xx", "M 0 0 L 100 0 L 100 80"))
    pattern, findings = readable_pattern(drawing, ["p0", "p1", "p2"])
    assert [piece.id for piece in pattern.pieces] == ["p0"]
    assert [finding.piece for finding in findings] == ["p1", "p2"]
    assert "open" in findings[1].message
    assert findings[1].position == pytest.approx((100.0, 80.0))
    with pytest.raises(DocumentError, match="no object p9"):
        readable_pattern(drawing, ["p9"])


def test_hidden_and_cloned_outlines_are_read_only_when_named():
    text = drawing_bytes(marked(FRONT)).decode().replace("</svg>", '<use href="#p0" id="u" x="20"/></svg>')
    assert [piece.id for piece in pattern_of(parsed(text)).pieces] == ["p0"]
    [clone] = pattern_of(parsed(text), ["u"]).pieces
    assert clone.edge("hem").line.start == pytest.approx((335.0, 1030.0))
    hidden = text.replace("<g>", '<g style="display:none">')
    with pytest.raises(DocumentError, match="No piece is marked"):
        pattern_of(parsed(hidden))
    assert pattern_of(parsed(hidden), ["p0"]).pieces[0].name == "front"


# --- Writing -----------------------------------------------------------------------------------------------------


def test_marking_changes_neither_the_path_nor_anything_else():
    text = drawn(FRONT, BACK, extra="<text>kept</text>")
    drawing = parsed(text)
    before = pattern_of(drawing, ["p0"])
    update(drawing, before, mark(before, FRONT_MARKING).value)
    out = drawing_bytes(drawing).decode()
    assert drawing.element("p0").get("d") == FRONT
    assert line_of(parsed(text), "p1") in out
    for group in list(drawing.root.iter(svg("g"))):
        if group.get(crossgrain("of")):
            group.getparent().remove(group)
    element = drawing.element("p0")
    for name in list(element.attrib):
        if name.startswith(crossgrain("")):
            del element.attrib[name]
    etree.cleanup_namespaces(drawing.tree)
    assert drawing_bytes(drawing).decode() == text


def test_a_pattern_that_did_not_change_leaves_the_drawing_byte_for_byte():
    drawing = marked(FRONT, BACK)
    before = drawing_bytes(drawing)
    pattern = pattern_of(drawing)
    update(drawing, pattern, pattern)
    assert drawing_bytes(drawing) == before


def test_an_untouched_piece_stays_byte_for_byte_when_another_changes():
    drawing = parsed(drawn(FRONT, BACK))
    pattern = pattern_of(drawing, ["p0", "p1"])
    line = line_of(drawing, "p1")
    update(drawing, pattern, narrowed(pattern, "p0"))
    assert line_of(drawing, "p1") == line
    assert drawing.element("p0").get("d") != FRONT


def narrowed(pattern, name, by=0.9):
    """Every point of one piece nearer to x = 0."""
    piece = pattern.piece(name)
    affine = Affine.scaling(by, 1.0)
    edges = tuple(replace(edge, line=edge.line.mapped(affine)) for edge in piece.edges)
    return pattern.with_pieces([replace(piece, edges=edges)])


def flat(line):
    return [value for node in line.nodes for value in node]


@pytest.mark.parametrize("group", ["", ' transform="matrix(0.3 0.1 -0.2 0.5 10 20)"', ' transform="scale(-1,1)"'])
def test_what_is_written_is_read_again(group):
    drawing = marked(FRONT, group=group)
    pattern = pattern_of(drawing)
    piece = replace(
        pattern.pieces[0],
        notches=(Notch(edge="side", share=0.5, count=2),),
        holds=(Hold(edge="centre", width=5.0),),
        counterpart=pattern.pieces[0].line.mapped(Affine.scaling(1.1, 1.1)),
    )
    after = narrowed(pattern.with_pieces([piece]), "front")
    update(drawing, pattern, after)
    [read] = pattern_of(parsed(drawing_bytes(drawing))).pieces
    wanted = after.pieces[0]
    assert read.edge_names == wanted.edge_names
    for one, other in zip(read.edges, wanted.edges, strict=True):
        assert flat(one.line) == pytest.approx(flat(other.line), abs=1e-4)
    assert read.grain == pytest.approx(wanted.grain, abs=1e-6)
    assert (read.holds, read.cut, read.outline) == (wanted.holds, wanted.cut, wanted.outline)
    assert read.notches[0].share == pytest.approx(0.5)
    assert flat(read.counterpart) == pytest.approx(flat(wanted.counterpart), abs=1e-4)


def test_a_bare_outline_stays_bare_when_it_is_changed():
    drawing = parsed(drawn(FRONT))
    pattern = pattern_of(drawing, ["p0"])
    update(drawing, pattern, narrowed(pattern, "p0"))
    assert {etree.QName(name).localname for name in drawing.element("p0").attrib} == {"id", "d", "style"}
    assert crossgrain("of").encode() not in drawing_bytes(drawing)
    assert len(drawing.shapes) == 1


def test_the_counterpart_line_is_replaced_and_taken_away_and_never_a_piece():
    drawing = parsed(drawn(FRONT, BACK))
    pattern = pattern_of(drawing, ["p0"])
    without = drawing_bytes(drawing)
    for scale in (1.1, 1.2):
        piece = pattern.pieces[0]
        after = pattern.with_pieces([replace(piece, counterpart=piece.line.mapped(Affine.scaling(scale, scale)))])
        update(drawing, pattern, after)
        lines = [shape for shape in drawing.shapes if shape.element.get(crossgrain("line")) == "cut"]
        assert len(lines) == 1
        assert drawing.element("p0").getnext() is lines[0].element
        pattern = pattern_of(parsed(drawing_bytes(drawing)), ["p0"])
        assert pattern.pieces[0].counterpart.start == pytest.approx((100.0 * scale, 30.0 * scale))
        with pytest.raises(DocumentError, match="only shows what belongs"):
            pattern_of(drawing, [lines[0].id])
    update(drawing, pattern, pattern.with_pieces([replace(pattern.pieces[0], counterpart=None)]))
    assert drawing_bytes(drawing).replace(b' xmlns:crossgrain="urn:crossgrain:1"', b"") == without


def test_marks_are_drawn_again_on_the_outline_where_that_was_moved_alone():
    text = drawing_bytes(marked(FRONT)).decode().replace('id="p0"', 'id="p0" transform="translate(300,0) scale(-1,1)"')
    drawing = parsed(text)
    pattern = pattern_of(drawing)
    assert pattern.pieces[0].edge("side").line.start == pytest.approx((300.0 - 330.0, 18.0))
    notched = replace(pattern.pieces[0], notches=(Notch(edge="side", share=0.0),))
    update(drawing, pattern, pattern.with_pieces([notched]))
    [mark_line] = [shape for shape in drawing.shapes if shape.id.startswith("p0-notch")]
    assert mark_line.paths[0].start == pytest.approx((-30.0, 18.0), abs=1e-4)
    # Inwards is to the right here: the side seam of the mirrored piece is on its left.
    assert mark_line.paths[0].end[0] > -30.0
    groups = [group for group in drawing.root.iter(svg("g")) if group.get(crossgrain("of")) == "p0"]
    assert len(groups) == 1


def test_a_copy_made_in_the_editor_has_marks_and_lines_of_its_own():
    drawing = marked(FRONT)
    pattern = pattern_of(drawing)
    piece = pattern.pieces[0]
    update(drawing, pattern, pattern.with_pieces([replace(piece, counterpart=piece.line)]))
    body = drawing_bytes(drawing).decode()
    group = drawing.root.find(svg("g"))
    copies = "".join(etree.tostring(child, with_tail=False).decode() for child in group)
    copies = copies.replace('id="', 'id="copy-')
    both = parsed(body.replace("</svg>", f'<g transform="translate(400,0)">{copies}</g></svg>'))
    pattern = pattern_of(both)
    assert [piece.id for piece in pattern.pieces] == ["p0", "copy-p0"]
    assert pattern.pieces[1].counterpart.start == pytest.approx((500.0, 30.0))
    count = len(both.shapes)
    update(both, pattern, pattern.with_pieces([replace(pattern.pieces[0], counterpart=None)]))
    assert len(both.shapes) == count - 1
    again = pattern_of(both)
    assert again.pieces[0].counterpart is None
    assert again.pieces[1].counterpart is not None
    update(both, again, narrowed(again, "copy-p0"))
    assert sum(shape.element.get(crossgrain("line")) == "cut" for shape in both.shapes) == 1


def test_marks_are_told_apart_without_colour():
    drawing = marked(FRONT)
    pattern = pattern_of(drawing)
    piece = replace(
        pattern.pieces[0],
        notches=(Notch(edge="side", share=0.5),),
        holds=(Hold(edge="centre", width=5.0),),
        counterpart=pattern.pieces[0].line,
    )
    update(drawing, pattern, pattern.with_pieces([piece]))
    looks = {}
    for shape in drawing.shapes:
        if shape.id.startswith("p0-"):
            declared = dict(part.split(":") for part in shape.element.get("style").split(";"))
            assert declared["fill"] == "none"
            looks.setdefault((declared["stroke-width"], declared["stroke-dasharray"]), set()).add(
                shape.id.split("-")[1]
            )
    assert sorted(map(sorted, looks.values())) == [["cut"], ["grain"], ["hold"], ["notch"]]


def test_a_clone_is_not_written():
    text = drawn(FRONT).replace("</svg>", '<use href="#p0" id="u" x="20"/></svg>')
    drawing = parsed(text)
    pattern = pattern_of(drawing, ["u"])
    with pytest.raises(DocumentError, match="clone"):
        update(drawing, pattern, narrowed(pattern, "u"))
    assert drawing_bytes(drawing).decode() == text


def test_a_piece_that_is_not_in_the_drawing_is_an_error():
    drawing = parsed(drawn(FRONT))
    square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    stray = narrowed(
        Pattern(
            pieces=(
                replace(
                    pattern_of(drawing, ["p0"]).pieces[0], id="x", edges=(Edge(name="", line=Path(square.segments)),)
                ),
            )
        ),
        "x",
    )
    with pytest.raises(DocumentError, match="no object x"):
        update(drawing, Pattern(), stray)


def test_a_lost_corner_is_told_with_piece_and_edges():
    drawing = marked(FRONT)
    text = drawing_bytes(drawing).decode().replace("L 330 18 L 315 1030", "C 330 18 315 1030 315 1030")
    with pytest.raises(GeometryError, match=r"waist meets side|side meets hem") as caught:
        pattern_of(
            parsed(
                text.replace("M 100 30 C 330 18 315 1030 315 1030 L 140 1030", "M 100 30 C 400 300 400 700 140 1030")
            )
        )
    assert caught.value.piece == "front"


def test_the_pattern_refuses_a_name_it_does_not_have():
    with pytest.raises(ParameterError, match="no piece named back"):
        pattern_of(marked(FRONT)).piece("back")


# --- Journal -----------------------------------------------------------------------------------------------------

REDUCE = Entry(operation="reduce", pieces=("p0", "p1"), parameters=(("by", "8%"), ("anchor", "centre")))
ALLOW = Entry(operation="allow", pieces=("p0",), parameters=(("edge", "hem=30mm; side=10mm"),))


def test_the_journal_keeps_what_was_done_in_order():
    drawing = parsed(drawn(FRONT))
    assert entries(drawing) == ()
    append(drawing, REDUCE)
    append(drawing, ALLOW)
    assert entries(parsed(drawing_bytes(drawing))) == (REDUCE, ALLOW)
    assert drawing_bytes(drawing).decode().count("crossgrain:entry") == 2


def test_the_journal_stands_in_the_metadata_that_is_there():
    text = drawn(FRONT).replace("  <!-- kept -->", "  <metadata id='m'><a xmlns='urn:x'/></metadata>")
    drawing = parsed(text)
    append(drawing, REDUCE)
    assert len(list(drawing.root.iter(svg("metadata")))) == 1
    assert drawing.root.find(svg("metadata")).get("id") == "m"


@pytest.mark.parametrize(
    "wrong",
    [
        {"operation": ""},
        {"operation": "Reduce it"},
        {"operation": "reduce", "pieces": ("a b",)},
        {"operation": "reduce", "parameters": (("pieces", "x"),)},
        {"operation": "reduce", "parameters": (("by", "1%"), ("by", "2%"))},
    ],
)
def test_an_entry_checks_itself(wrong):
    with pytest.raises(ParameterError):
        Entry(**wrong)


def test_a_broken_line_of_the_journal_is_told_by_its_number():
    drawing = parsed(drawn(FRONT))
    append(drawing, REDUCE)
    text = drawing_bytes(drawing).decode().replace(' operation="reduce"', "")
    with pytest.raises(DocumentError, match="Line 1"):
        entries(parsed(text))
