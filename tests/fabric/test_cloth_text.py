"""Files of cloths and bodies: read as a maker writes them, or refused in one sentence; added to without a loss."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import DocumentError
from crossgrain.fabric.bench import Pull, Strip
from crossgrain.fabric.body_text import read_body
from crossgrain.fabric.cloth import Learned
from crossgrain.fabric.cloth_text import read_cloth, with_learned

GOOD = """
# my notes
name = "Twill"
composition = "97 % cotton, 3 % elastane"

[cross]
strip_width = "5 cm"
gauge = "100 mm"   # two marks
readings = [
  { load = "300 g", length = "103,9 mm" },
  { load = "0.75 l", length = "107.1 mm", width = "48 mm" },
  { load = "15 N", length = "111 mm" },
]
released = "101.5 mm"
rested = "100.5 mm"

[along]
pulled = { gauge = "4 in", length = "4 1/8 in" }
"""


def changed(old, new):
    assert old in GOOD
    return GOOD.replace(old, new)


def test_a_file_as_a_maker_writes_it():
    cloth = read_cloth(GOOD, "twill.toml")
    assert (cloth.name, cloth.composition) == ("Twill", "97 % cotton, 3 % elastane")
    strip = cloth.cross.test
    assert isinstance(strip, Strip)
    assert strip.points[0] == (pytest.approx(0.3 * 9.80665 / 5.0), pytest.approx(0.039))
    assert strip.readings[1].load == pytest.approx(0.75 * 9.80665)
    assert strip.readings[1].width == 48.0
    assert strip.growth == pytest.approx(0.005)
    assert isinstance(cloth.along.test, Pull)
    assert cloth.along.stretch == pytest.approx(1.0 / 32.0)
    assert cloth.bias is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name = ", "twill.toml cannot be read"),
        ('name = "x"', "not tested across the grain"),
        (changed('"5 cm"', "5"), "twill.toml, cross: “strip_width” is 5, without a unit. Write the unit"),
        (changed('"5 cm"', '"5"'), "“strip_width”: “5” has no unit"),
        (changed('"300 g"', "300"), "cross, readings 1: “load” is 300, without a unit"),
        (changed('"300 g"', '"300 mm"'), "readings 1: “load”: “300 mm” ends in “mm”"),
        (changed('"100 mm"   # two marks', "true"), "“gauge” is no amount"),
        (changed('gauge = "100 mm"   # two marks', ""), "“gauge” is missing"),
        (changed('length = "111 mm"', 'length = "104 mm"'), "shorter under 3 N/cm than under a smaller load"),
        (changed('length = "111 mm"', 'lenght = "111 mm"'), "“lenght” is not known. Known are: load, length, width"),
        (changed('"15 N"', '"1500 N"'), "more than cloth bears"),
        (changed('width = "48 mm"', 'width = "58 mm"'), "wider"),
        (changed("[along]", "[across]"), "“across” is not known"),
        (changed('"4 1/8 in"', '"3 in"'), "along, pulled: 101.6 mm of cloth cannot have been pulled"),
        (changed('name = "Twill"', "name = 3"), "“name” is no text"),
        ('cross = "x"', "“cross” is no table"),
        (GOOD.replace("[cross]", '[cross]\nlearned = "x"'), "“learned” is no list of tables"),
        ('[cross]\nstrip_width="5 cm"\ngauge="10 cm"\nreadings=[{load="1 kg",length="11 cm"}]', "one reading only"),
    ],
)
def test_what_cannot_be_used_is_said_in_one_sentence_with_its_place(text, said):
    with pytest.raises(DocumentError) as caught:
        read_cloth(text, "twill.toml")
    assert said in str(caught.value)
    assert str(caught.value).startswith("twill.toml")
    assert "\n" not in str(caught.value).strip()


@given(st.text(max_size=60))
def test_any_text_at_all_is_read_or_refused(text):
    for read in (read_cloth, read_body):
        with pytest.raises(DocumentError, match=r"x\.toml"):  # so short a text is never a whole file
            read(text, "x.toml")


words = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=12)


@given(st.floats(0.01, 9.0), st.floats(0.001, 0.5), words, words)
def test_a_learned_point_is_added_and_all_else_stays(tension, strain, pattern, cloth):
    learned = Learned(
        tension=tension, strain=strain, pattern=pattern, level="hip", drafted_for=cloth, bench_strain=strain / 2.0
    )
    text = with_learned(GOOD, learned)
    assert text.startswith(GOOD.rstrip("\n"))
    [found] = read_cloth(text, "twill.toml").cross.learned
    assert (found.tension, found.strain) == (pytest.approx(tension, abs=1e-6), pytest.approx(strain, abs=1e-7))
    assert (found.pattern, found.level, found.drafted_for) == (pattern, "hip", cloth)
    again = with_learned(text, learned)
    assert len(read_cloth(again, "twill.toml").cross.learned) == 2


BODY = """
name = "Size 12"
waist_girth = "30 3/4 in"
hip_girth = "1018 mm"
waist_height = "1.06 m"
hip_height = "86 cm"
thigh_height = "757 mm"
hem_height = "2 cm"
"""


def test_a_body_in_any_unit():
    body = read_body(BODY, "body.toml")
    assert body.level("waist").girth == pytest.approx(781.05)
    assert [(level.name, level.depth) for level in body.levels] == [
        ("waist", 0.0), ("hip", pytest.approx(200.0)), ("thigh", pytest.approx(303.0)), ("hem", pytest.approx(1040.0)),
    ]  # fmt: skip
    assert (body.level("hip").limbs, body.level("thigh").limbs) == (1, 2)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (BODY.replace('waist_height = "1.06 m"', ""), "“waist_height” is missing"),
        (BODY.replace('"86 cm"', '"50 cm"'), "The thigh does not lie below the hip"),
        (BODY.replace('"86 cm"', '"126 cm"'), "lies above the waist"),
        (BODY + 'nose_girth = "3 cm"', "“nose_girth” is not known"),
        (BODY.replace('"1018 mm"', "1018"), "without a unit"),
        ('waist_height = "1 m"', "No girth is given"),
        (BODY.replace('"1018 mm"', '"0 mm"'), "not above zero"),
    ],
)
def test_what_is_no_body(text, said):
    with pytest.raises(DocumentError, match=said):
        read_body(text, "body.toml")
