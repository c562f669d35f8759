"""Words that name the size: what says “size 38” follows, what may mean it is said with its place, the rest stays."""

import re

import pytest

from crossgrain.svg.reader import parse_drawing
from crossgrain.svg.size_words import SizeWords, rewrite_size
from crossgrain.svg.writer import drawing_bytes

MEASURES = (("waist_girth", 736.6, 781.05), ("hip_girth", 985.1, 1018.2), ("knee_height", 451.3, 451.3))


def drawn(*texts, more=""):
    inner = "".join(f'<text x="{40 + k}" y="{50 + k}">{text}</text>' for k, text in enumerate(texts))
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'
    return parse_drawing(f"{head}{more}{inner}</svg>".encode(), name="d.svg")


def written(drawing):
    return [re.sub(r"<[^>]*>", "", text) for text in re.findall(r"<text.*?</text>", drawing_bytes(drawing).decode())]


def rewritten(*texts, base="38", size="42", body="", measures=MEASURES):
    drawing = drawn(*texts)
    findings = rewrite_size(drawing, SizeWords(base=base, size=size, body=body, measures=measures))
    return written(drawing), findings


@pytest.mark.parametrize(
    ("text", "now"),
    [
        ("front, size 38, cut 2", "front, size 42, cut 2"),
        ("Size: 38", "Size: 42"),
        ("SIZE 38", "SIZE 42"),
        ("size&#160;38", "size\u00a042"),
        ("Taille 38", "Taille 42"),
        ("<tspan>left front</tspan><tspan>size 38</tspan>", "left frontsize 42"),
        ("Slim trousers, base size", "Slim trousers, size 42"),
        ("Base size", "Size 42"),
        ("Base size 38", "Size 42"),
        ("base size: 38", "size: 42"),
    ],
)
def test_what_says_the_size_of_the_base_says_the_new_one(text, now):
    assert rewritten(text) == ([now], ())


@pytest.mark.parametrize(
    "text",
    [
        "size 380",
        "sizes",
        "38 mm from the fold",
        "width 38.5",
        "0,38",
        "3/8 in",
        "38%",
        "oversize 3",
        "basement",
        "1:38",
    ],
)
def test_other_words_stay_without_a_word(text):
    assert rewritten(text) == ([text], ())


@pytest.mark.parametrize("text", ["front 38", "38", "T38 / 38", "sizes 36-38", "size 38-40", "M (38)"])
def test_a_bare_name_of_the_base_is_said_with_its_place(text):
    now, (finding,) = rewritten("other words", text)
    assert now[1] == text
    assert f"“{text}”" in finding.message
    assert finding.position == pytest.approx((41.0, 51.0))
    assert finding.advice


def test_the_size_and_its_word_in_two_parts_are_said():
    (now,), (finding,) = rewritten("<tspan>size</tspan> <tspan>38</tspan>")
    assert now == "size 38"
    assert "size 38" in finding.message


@pytest.mark.parametrize("text", ["waist 737 mm, hip 985 mm", "hip 98.5 cm", "waist 29 in", "hip 98,5 cm"])
def test_a_measure_of_the_base_is_said(text):
    (now,), (finding,) = rewritten(text)
    assert now == text
    assert "base" in finding.message


@pytest.mark.parametrize("text", ["knee 451.3 mm", "100 mm", "985 g"])
def test_a_measure_that_is_the_same_in_both_sizes_is_not(text):
    assert rewritten(text) == ([text], ())


def test_a_line_of_a_text_is_said_with_its_own_place():
    lines = '<tspan x="5" y="6">front</tspan><tspan x="7" y="8">top 38</tspan>'
    (finding,) = rewritten(lines)[1]
    assert "“top 38”" in finding.message
    assert finding.position == pytest.approx((7.0, 8.0))


def test_letters_are_sizes_too():
    assert rewritten("Size M, cut 2", base="M", size="XL") == (["Size XL, cut 2"], ())
    assert rewritten("made in m", base="M", size="XL") == (["made in m"], ())
    assert len(rewritten("front M", base="M", size="XL")[1]) == 1


@pytest.mark.parametrize(("body", "now"), [("Ada", "front, Ada"), ("", "front, made to measure")])
def test_for_one_body_its_name_stands_there(body, now):
    assert rewritten("front, size 38", size="", body=body) == ([now], ())


def test_a_place_in_moved_groups_is_that_on_the_page_in_mm():
    text = '<g transform="translate(10,20)"><g transform="scale(2)"><text x="3" y="4">top 38</text></g></g>'
    (finding,) = rewrite_size(drawn(more=text), SizeWords(base="38", size="42"))
    assert finding.position == pytest.approx((16.0, 28.0))


def test_titles_follow_and_our_own_layers_stay():
    layer = '<g xmlns:c="urn:crossgrain:1" c:layer="labels"><text x="1" y="1">size 38</text></g>'
    drawing = drawn(more=f"<title>Trousers, size 38</title>{layer}")
    assert rewrite_size(drawing, SizeWords(base="38", size="42")) == ()
    data = drawing_bytes(drawing).decode()
    assert "<title>Trousers, size 42</title>" in data
    assert ">size 38</text>" in data


def test_the_name_of_a_piece_is_said_and_stays():
    more = '<path xmlns:c="urn:crossgrain:1" c:piece="front 38" d="M0,0 H9 V9 Z"/>'
    drawing = drawn(more=more)
    (finding,) = rewrite_size(drawing, SizeWords(base="38", size="42"))
    assert finding.piece == "front 38"
    assert 'crossgrain:piece="front 38"' in drawing_bytes(drawing).decode()
