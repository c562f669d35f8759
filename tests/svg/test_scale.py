"""True scale: certain, or asked for."""

import pytest

from crossgrain.errors import DocumentError
from crossgrain.svg.reader import parse_drawing
from svg_text import NAMESPACES, drawing_of, svg_text

PX = 25.4 / 96


@pytest.mark.parametrize(
    ("page", "size", "unit"),
    [
        # Units after CSS Values 4, section 6.2: 1 in = 2.54 cm = 25.4 mm = 101.6 Q = 72 pt = 6 pc = 96 px.
        ('width="200mm" height="100mm" viewBox="0 0 200 100"', (200, 100), 1.0),
        ('width="20cm" height="10cm" viewBox="0 0 400 200"', (200, 100), 0.5),
        ('width="800Q" height="400q" viewBox="0 0 200 100"', (200, 100), 1.0),
        ('width="4in" height="2in" viewBox="0 0 4 2"', (101.6, 50.8), 25.4),
        ('width="288pt" height="144pt" viewBox="0 0 288 144"', (101.6, 50.8), 25.4 / 72),
        ('width="24pc" height="12pc" viewBox="0 0 24 12"', (101.6, 50.8), 25.4 / 6),
        ('width="384px" height="192px" viewBox="0 0 384 192"', (101.6, 50.8), PX),
        ('width="384" height="192" viewBox="0 0 384 192"', (101.6, 50.8), PX),
        ('width="384px" height="192px"', (101.6, 50.8), PX),
        ('width="200mm" height="100mm"', (200, 100), PX),
        ('width="210mm" height="297mm" viewBox="0 0 793.7008 1122.51969"', (210, 297), PX),
        # One size alone: the other follows from the viewBox.
        ('width="200mm" viewBox="0 0 400 100"', (200, 50), 0.5),
        ('height="100mm" width="auto" viewBox="0 0 400 100"', (400, 100), 1.0),
        # An old editor, but true units and a viewBox leave no doubt.
        ('width="210mm" height="297mm" viewBox="0 0 744.09 1052.36" inkscape:version="0.91 r13725"', (210, 297), None),
        # A new editor with pixels: 96 to the inch.
        ('width="800" height="600" viewBox="0 0 800 600" inkscape:version="0.92.4"', (800 * PX, 600 * PX), PX),
        ('width="800" height="600" viewBox="0 0 800 600" inkscape:version="1.2.2"', (800 * PX, 600 * PX), PX),
    ],
)
def test_a_drawing_that_states_its_size_has_a_true_scale(page, size, unit):
    drawing = drawing_of('<path d="M0 0H1"/>', page)
    assert (drawing.page.width, drawing.page.height) == pytest.approx(size)
    if unit is not None:
        [path] = drawing.shapes[0].paths
        assert path.end[0] - path.start[0] == pytest.approx(unit, rel=1e-6)


@pytest.mark.parametrize(
    ("page", "seen"),
    [
        ("", "does not say how large"),
        ('viewBox="0 0 200 100"', "does not say how large"),
        ('width="100%" height="100%" viewBox="0 0 200 100"', "does not say how large"),
        ('width="800" height="600"', "800 × 600 has no unit"),
        ('width="800px" height="600"', "800px × 600 has no unit"),
        ('width="80mm"', "only one of width and height"),
        # ISO 216 A4 and US Letter at 72 and at 90 to the inch, exact and rounded, upright and lying.
        ('width="595.276" height="841.89" viewBox="0 0 595.276 841.89"', "A4 at 72 pixels"),
        ('width="595px" height="842px"', "A4 at 72 pixels"),
        ('width="842px" height="595px" viewBox="0 0 842 595"', "A4 at 72 pixels"),
        ('width="744.09448" height="1052.3622" viewBox="0 0 744.09448 1052.3622"', "A4 at 90 pixels"),
        ('width="612" height="792" viewBox="0 0 612 792"', "Letter at 72 pixels"),
        ('width="765px" height="990px"', "Letter at 90 pixels"),
        ('width="800px" height="600px" inkscape:version="0.48.4 r9939"', "Inkscape 0.48, which drew 90"),
        ('width="800" height="600" viewBox="0 0 800 600" inkscape:version="0.91 r1"', "Inkscape 0.91, which drew 90"),
        ('width="210mm" height="297mm" inkscape:version="0.48.4"', "Inkscape 0.48, which drew 90"),
        ('width="800px" height="600px" xmlns:x="http://ns.adobe.com/Extensibility/1.0/"', "72 to the inch"),
    ],
)
def test_where_the_scale_is_in_doubt_it_is_asked_for_with_what_was_seen(page, seen):
    with pytest.raises(DocumentError, match=r"scale of the drawing is in doubt") as caught:
        drawing_of(page=page)
    assert seen in caught.value.message
    assert "--scale" in caught.value.advice


@pytest.mark.parametrize("place", ["before", "inside"])
def test_a_generator_that_signs_with_72_to_the_inch_is_seen(place):
    comment = b"<!-- Generator: Adobe Illustrator 26.0.1, SVG Export Plug-In -->"
    page = 'width="800px" height="600px" viewBox="0 0 800 600"'
    data = comment + svg_text("", page) if place == "before" else svg_text(comment.decode(), page)
    with pytest.raises(DocumentError, match="72 to the inch"):
        parse_drawing(data, name="t.svg")
    assert parse_drawing(comment + svg_text(), name="t.svg").page.width == 200.0


def test_the_question_offers_the_three_likely_answers():
    with pytest.raises(DocumentError) as caught:
        drawing_of(page='width="595px" height="842px"')
    assert "0.264583" in caught.value.advice
    assert "0.282222" in caught.value.advice
    assert "0.352778" in caught.value.advice


@pytest.mark.parametrize(
    ("page", "nodes"),
    [
        ("", [(0, 0), (5, 5)]),
        ('width="595px" height="842px"', [(0, 0), (5, 5)]),
        ('viewBox="-10 -20 200 100"', [(5, 10), (10, 15)]),
        ('width="1in" height="1in" viewBox="0 0 10 10"', [(0, 0), (5, 5)]),
        # The drawing is stretched four times as much upright: so it stays.
        ('width="10" height="40" viewBox="0 0 10 10" preserveAspectRatio="none"', [(0, 0), (5, 20)]),
    ],
)
def test_a_scale_that_is_given_counts(page, nodes):
    [shape] = drawing_of('<path d="M0 0L10 10"/>', page, unit_mm=0.5).shapes
    assert shape.paths[0].nodes == tuple(pytest.approx(node) for node in nodes)


@pytest.mark.parametrize("unit", [0.0, -1.0, float("nan"), float("inf")])
def test_a_scale_that_is_none_is_refused(unit):
    with pytest.raises(DocumentError, match="not above zero"):
        drawing_of(unit_mm=unit)


def test_a_scale_that_differs_both_ways_is_kept_exactly():
    page = 'width="100mm" height="400mm" viewBox="0 0 100 100" preserveAspectRatio="none"'
    [shape] = drawing_of('<path d="M0 0L10 10"/>', page).shapes
    assert shape.paths[0].end == (10.0, 40.0)


@pytest.mark.parametrize(
    ("page", "complaint"),
    [
        ('width="10em" height="10em" viewBox="0 0 1 1"', "given in em, which is no fixed length"),
        ('width="10vw" height="10vh" viewBox="0 0 1 1"', "given in vw"),
        ('width="ten" height="10mm"', "width is no length: ten"),
        ('width="12,5mm" height="10mm"', "width is no length"),
        ('width="0" height="10mm" viewBox="0 0 1 1"', "leaves nothing to see"),
        ('width="-5mm" height="10mm" viewBox="0 0 1 1"', "leaves nothing to see"),
        ('width="5mm" height="10mm" viewBox="0 0 0 1"', "viewBox cannot be used"),
        ('width="nanmm" height="10mm"', "no length"),
    ],
)
def test_a_page_that_cannot_be_read_is_refused(page, complaint):
    with pytest.raises(DocumentError, match=complaint) as caught:
        drawing_of(page=page)
    assert "test.svg" in str(caught.value)


def test_a_transform_of_the_whole_drawing_puts_its_scale_in_doubt():
    with pytest.raises(DocumentError, match="the whole drawing has a transform"):
        drawing_of(page='width="1in" height="1in" viewBox="0 0 9 9" transform="scale(2)"')


def test_the_root_may_be_prefixed():
    data = f'<s:svg xmlns:s="http://www.w3.org/2000/svg" {NAMESPACES.split(" ", 1)[1]} width="1cm" height="1cm"/>'
    assert parse_drawing(data.encode(), name="t.svg").page.width == 10.0
