"""What depends on the sample trousers, from marking to checking, by the commands alone."""

from __future__ import annotations

import math
import pathlib
import re

import pytest

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.kernel.length import path_length
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = pathlib.Path(__file__).parent.parent.parent / "samples"
TROUSERS = SAMPLES / "trousers.svg"
FLY = ("fly-facing", "fly-guard")
FINE = (Exit.FINE, Exit.FINDINGS)


def pieces(drawing):
    return pattern_of(read_drawing(drawing))


def edges_of(drawing, id):
    return {edge.name: edge.line for edge in pieces(drawing).piece(id).edges}


@pytest.fixture
def longer(capsys, tmp_path):
    """The trousers lengthened by 12 mm about 90 mm below the waist, where the zip is."""
    target = tmp_path / "longer.svg"
    words = ["--at", "90mm", "--by", "12mm"]
    assert call(capsys, "lengthen", TROUSERS, "-o", target, *words).code in FINE
    return target


@pytest.mark.parametrize(
    ("words", "left"),
    [
        (("lengthen", "--at", "90mm", "--by", "12mm"), "the zip of left front, fly facing, fly guard"),
        (("take-in", "--seam", "seat", "--at", "waist=6mm", "--at", "50%=0mm"), "waistband"),
        (("take-in", "--seam", "seat", "--at", "waist=6mm", "--at", "50%=0mm", "--piece", "back"), "waistband"),
        (("take-in", "--seam", "side", "--at", "waist=5mm", "--at", "40%=0mm", "--left"), "waistband"),
        (("take-in", "--seam", "side", "--at", "waist=5mm", "--at", "40%=0mm"), "waistband"),
        (("take-in", "--seam", "dart", "--at", "waist=3mm", "--at", "tip=0mm"), "waistband"),
        (("take-in", "--seam", "side", "--at", "waist=0mm", "--at", "20%=6mm", "--at", "hem=0mm"), ""),
        (("true", "--seam", "side"), ""),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value),
)
def test_what_follows_a_changed_edge_and_was_left_is_said_with_the_next_step(capsys, tmp_path, words, left):
    target = tmp_path / "changed.svg"
    result = call(capsys, words[0], TROUSERS, "-o", target, *words[1:])
    assert result.code in FINE
    said = f"They follow what was changed, and were left: {left}. Next: crossgrain follow {target} -o OUT.svg."
    assert (said in result.err) is bool(left)
    assert ("were left" in result.err) is bool(left)
    followed = call(capsys, "follow", target, "-o", tmp_path / "followed.svg")
    assert "were left" not in followed.err


def test_of_a_bare_outline_and_of_a_hidden_piece_nothing_follows(capsys, tmp_path):
    bare = tmp_path / "bare.svg"
    result = call(capsys, "reduce", SAMPLES / "bare-front.svg", "-o", bare, "--by", "8%", "--piece", "front")
    assert (result.code in FINE, bare.exists(), "were left" in result.err) == (True, True, False)
    alone, hidden = tmp_path / "alone.svg", tmp_path / "hidden.svg"
    assert (
        call(capsys, "mark", SAMPLES / "bare-front.svg", "-o", alone, "--piece", "front", "--name", "front").code == 0
    )
    alone.write_text(alone.read_text("utf-8").replace('id="front"', 'id="front" display="none"', 1), encoding="utf-8")
    result = call(capsys, "reduce", alone, "-o", hidden, "--by", "8%", "--piece", "front")
    assert (result.code in FINE, hidden.exists()) == (True, True)


def test_the_fly_and_the_zip_follow_a_longer_opening(capsys, longer, tmp_path):
    found = call(capsys, "check", longer, "--json")
    assert found.code == Exit.FINDINGS
    said = {(one["piece"], one["edge"]): one["message"] for one in found.data["findings"]}
    # Opened over so short a length, the back's dart leans as well: that is another matter.
    assert set(said) - {("back", "waist")} == {
        ("fly facing", "centre"), ("fly guard", "centre"), ("left front", "centre"),
    }  # fmt: skip
    was, now = 155.0, path_length(edges_of(longer, "front-left")["centre"])
    assert now == pytest.approx(was + 12.0, abs=0.3)
    assert f"was {was:.1f} mm long, and is {now:.1f} mm now" in said["left front", "centre"]
    assert f"It is {was + 15.0:.1f} mm long" in said["fly guard", "centre"]
    assert f"that it traces {now + 15.0:.1f} mm" in said["fly guard", "centre"]

    target = tmp_path / "followed.svg"
    followed = call(capsys, "follow", longer, "-o", target, "--json")
    assert followed.code == Exit.FINE
    [zip] = [change for change in followed.data["changes"] if "zip" in change["what"]]
    assert zip["what"] == f"opening, for a zip of {now:.0f} mm, or the next longer one, shortened"
    assert (zip["before"], zip["after"]) == (pytest.approx(was, abs=1e-3), pytest.approx(now, abs=1e-5))
    for id in FLY:
        assert path_length(edges_of(target, id)["centre"]) == pytest.approx(now + 15.0, abs=1e-4)
    assert {one["piece"] for one in call(capsys, "check", target, "--json").data["findings"]} <= {"back"}

    again = tmp_path / "again.svg"
    twice = call(capsys, "follow", target, "-o", again, "--json").data["changes"]
    # The band goes after what is written of its stretches, to a ten thousandth of a millimetre.
    assert {change["piece"] for change in twice} <= {"waistband"}
    assert [change["after"] for change in twice] == pytest.approx([change["before"] for change in twice], abs=1e-4)
    for id in FLY:
        assert edges_of(again, id) == edges_of(target, id)


def test_only_the_piece_named_follows(capsys, longer, tmp_path):
    target = tmp_path / "followed.svg"
    assert call(capsys, "follow", longer, "-o", target, "--piece", "fly-guard").code == Exit.FINE
    assert edges_of(target, "fly-guard") != edges_of(longer, "fly-guard")
    assert edges_of(target, "fly-facing") == edges_of(longer, "fly-facing")


def test_marked_by_hand_it_follows_as_in_the_sample(capsys, longer, tmp_path):
    """What the sample says of its fly, said again by the command, is written as it stands there."""
    bare, marked = tmp_path / "bare.svg", tmp_path / "marked.svg"
    text = TROUSERS.read_text(encoding="utf-8")
    taken = re.sub(r' crossgrain:(?:follows|followed)="(?:centre|waist traces|zip)[^"]*"', "", text)
    assert len(taken) < len(text)
    bare.write_text(taken, encoding="utf-8")
    words = {
        "fly-facing": ["waist traces right front to 35mm", "centre traces right front/centre from 15 mm before start"],
        "fly-guard": ["centre traces left front from 1.5cm before start"],
        "front-left": ["zip along centre"],
    }
    for id, said in words.items():
        options = [word for one in said for word in ("--follow", one)]
        into = [marked, "--in-place"] if marked.exists() else [bare, "-o", marked]
        assert call(capsys, "mark", *into, "--piece", id, *options).code == Exit.FINE
    for id in words:
        one, other = pieces(marked).piece(id), pieces(TROUSERS).piece(id)
        assert one.traces == other.traces
        assert [zip.edge for zip in one.zips] == [zip.edge for zip in other.zips]
        assert [zip.was for zip in one.zips] == pytest.approx([zip.was for zip in other.zips], abs=1e-3)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--follow", "centre traces nobody"], "There is no object nobody"),
        (["--follow", "centre traces left front/neck"], "There is no edge named neck"),
        (["--follow", "neck traces left front/centre"], "There is no edge named neck"),
        (["--follow", "zip along neck"], "There is no edge named neck"),
        (["--follow", "centre trace left front"], "does not say what an edge follows"),
        (["--follow", "centre=left front", "--follow", "centre traces left front"], "is to follow two things"),
    ],
)
def test_what_cannot_be_marked(capsys, tmp_path, words, said):
    target = tmp_path / "out.svg"
    result = call(capsys, "mark", TROUSERS, "-o", target, "--piece", "fly-guard", *words)
    assert result.code in (Exit.USAGE, Exit.REFUSED)
    assert said in result.err
    assert "Traceback" not in result.err
    assert not target.exists()


def test_one_that_does_not_match_is_said_when_it_is_marked(capsys, tmp_path):
    words = ["--piece", "fly-guard", "--follow", "centre traces left front from 40mm before start"]
    result = call(capsys, "mark", TROUSERS, "-o", tmp_path / "out.svg", *words)
    assert result.code == Exit.FINDINGS
    assert "It is 170.0 mm long, and what it traces 195.0 mm" in result.err


def test_a_facing_of_the_cloth_itself_goes_round_no_body_and_is_left_to_follow(capsys, tmp_path):
    """Not stabilised, it still lies on the front that it faces: girths, levels and seams are those without it."""
    soft = tmp_path / "soft.svg"
    text = TROUSERS.read_text(encoding="utf-8")
    assert 'crossgrain:cut="1 stabilised" crossgrain:edges="waist outer centre"' in text
    soft.write_text(
        text.replace(
            'crossgrain:cut="1 stabilised" crossgrain:edges="waist outer',
            'crossgrain:cut="1" crossgrain:edges="waist outer',
        ),
        encoding="utf-8",
    )
    cloths = ["--fabric", SAMPLES / "cloth-softer.toml", "--drafted-for", SAMPLES / "cloth-drafted-for.toml"]
    body = ["--body", SAMPLES / "body-size-10.toml"]
    done = {}
    for source in (TROUSERS, soft):
        targets = [tmp_path / f"{source.stem}-{name}.svg" for name in ("cloth", "share", "long")]
        assert call(capsys, "reduce", source, "-o", targets[0], *cloths, *body).code in FINE
        assert call(capsys, "reduce", source, "-o", targets[1], "--by", "8%").code in FINE
        assert call(capsys, "lengthen", source, "-o", targets[2], "--at", "90mm", "--by", "12mm").code in FINE
        done[source] = [pieces(target) for target in targets]
        checked = call(capsys, "check", source, *body, "--fabric", SAMPLES / "cloth-drafted-for.toml", "--json")
        done[source].append([one["message"] for one in checked.data["findings"]])
    for one, other in zip(*(patterns[:3] for patterns in done.values()), strict=True):
        assert [piece.line for piece in one.pieces] == [piece.line for piece in other.pieces]
        assert one.piece("fly-facing").line == pieces(TROUSERS).piece("fly-facing").line
    assert done[TROUSERS][3] == done[soft][3]


BAND = """<svg xmlns="{svg}" xmlns:crossgrain="urn:crossgrain:1" version="1.1" width="900mm" height="600mm"
     viewBox="0 0 900 600">
  <path id="skirt" style="fill:none;stroke:#000" d="M 40,300 H {right:.6f} V 560 H 40 Z"/>
  <path id="band" style="fill:none;stroke:#000"
        d="M {0},{1} A 400 400 0 0 1 {2},{1} L {3},{4} A 350 350 0 0 0 {5},{4} Z"/>
</svg>
"""
"""A skirt front with a straight waist, and a shaped band of the same length: a ring's part between 350 and 400 mm."""


def test_a_shaped_band_follows_and_keeps_its_width(capsys, tmp_path):
    """A skirt's waist of 600 mm becomes 552 mm; the band's other edge is 400/350 of it, before and after."""
    drawing, marked, cut, target = (tmp_path / name for name in ("band.svg", "marked.svg", "cut.svg", "fits.svg"))
    angle = 600.0 / 350.0
    outer, inner = (
        (450.0 - r * math.sin(angle / 2.0), 450.0 - r * math.cos(angle / 2.0), 450.0 + r * math.sin(angle / 2.0))
        for r in (400.0, 350.0)
    )
    places = [outer[0], outer[1], outer[2], inner[2], inner[1], inner[0]]
    svg = "http" + "://www.w3.org/2000/svg"
    drawing.write_text(BAND.format(*(round(x, 6) for x in places), svg=svg, right=640.0), encoding="utf-8")
    steps = [
        ["mark", drawing, "-o", marked, "--piece", "skirt", "--name", "skirt", "--edges", "waist side hem centre"],
        ["mark", marked, "-o", cut, "--piece", "band", "--name", "band", "--edges", "top right waist left", "--cut",
         "1 stabilised", "--follow", "waist=skirt"],
        ["reduce", cut, "--in-place", "--piece", "skirt", "--by", "8%"],
    ]  # fmt: skip
    for words in steps:
        assert call(capsys, *words).code == Exit.FINE
    found = call(capsys, "check", cut, "--json").data["findings"]
    assert [one["message"] for one in found if one["piece"] == "band"] == [
        "It is 600.0 mm long, and what it is sewn to comes to 552.0 mm: skirt 552.0. It is stabilised, and is not to "
        "be stretched to fit."
    ]
    assert call(capsys, "follow", cut, "-o", target).code == Exit.FINE
    band = edges_of(target, "band")
    assert path_length(band["waist"]) == pytest.approx(552.0, abs=1e-4)
    assert path_length(band["top"]) == pytest.approx(552.0 * 400.0 / 350.0, abs=0.01)
    assert [path_length(band[end]) for end in ("left", "right")] == pytest.approx([50.0, 50.0], abs=1e-3)
