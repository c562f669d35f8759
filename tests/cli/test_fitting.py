"""The record of fittings at the command line: begun, added to, shown, applied."""

from __future__ import annotations

import stat

import pytest

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.samples import sample
from crossgrain.kernel.length import path_length
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

FIRST = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=10mm", "--at", "hem=4mm", "--seam-girth"]
SECOND = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=7mm", "--at", "hem=5mm", "--cloth", "the softer twill"]


@pytest.fixture
def record(capsys, tmp_path):
    path = tmp_path / "record.toml"
    assert call(capsys, "fitting", "add", path, *FIRST, "--person", "form 2").code == Exit.FINE
    assert call(capsys, "fitting", "add", path, *SECOND).code == Exit.FINE
    return path


def test_it_shows_what_was_basted_and_what_it_adds_up_to(capsys, record):
    """10 mm of girth and 7 mm inside are 12 mm inside, 24 mm at the seam, 48 mm over both (trade; derived)."""
    data = call(capsys, "fitting", "show", record, "--json").data
    assert (data["person"], [one["number"] for one in data["bastings"]]) == ("form 2", [1, 2])
    totals = {one["station"]: (one["inside"], one["seam_girth"], one["garment_girth"]) for one in data["totals"]}
    assert totals == {"waist": (0.0, 0.0, 0.0), "20%": (12.0, 24.0, 48.0), "hem": (7.0, 14.0, 28.0)}
    shown = call(capsys, "fitting", "show", record)
    assert "the softer twill" in shown.out
    assert "48.0 mm" in shown.out


def test_a_station_that_one_fitting_leaves_out_has_no_total(capsys, record):
    """Between its stations the first fitting took something at 60 %, too: 5 mm is not what it adds up to there."""
    more = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=1mm", "--at", "60%=5mm", "--at", "hem=0mm"]
    assert call(capsys, "fitting", "add", record, *more).code == Exit.FINE
    shown = call(capsys, "fitting", "show", record)
    totals = {one["station"]: one for one in call(capsys, "fitting", "show", record, "--json").data["totals"]}
    assert {name: one["inside"] for name, one in totals.items()} == {"waist": 0.0, "20%": 13.0, "hem": 7.0, "60%": None}
    assert (totals["60%"]["seam_girth"], totals["60%"]["garment_girth"]) == (None, None)
    assert "60%" in shown.out.split("Added up")[0]
    assert "60%" not in shown.out.split("Added up")[1]
    assert "side, 60%: not every fitting of this seam has an amount there" in shown.err
    assert "crossgrain take-in IN.svg -o OUT.svg --from record.toml" in shown.err


def test_over_how_many_seams_it_adds_up_is_said(capsys, tmp_path):
    path = tmp_path / "record.toml"
    words = ["--seam", "seat", "--at", "waist=10mm", "--at", "50%=0mm"]
    assert call(capsys, "fitting", "add", path, *words, "--seams", "1").code == Exit.FINE
    [total, _none] = call(capsys, "fitting", "show", path, "--json").data["totals"]
    assert (total["seams"], total["seam_girth"], total["garment_girth"]) == (1, 20.0, 20.0)
    assert "1 seam" in call(capsys, "fitting", "show", path).out


def test_girth_of_another_number_of_seams_than_the_drawing_has_is_said(capsys, tmp_path):
    """The trousers have one seat seam; 20 mm of the garment's girth, shared among two, would take only 10 mm of it."""
    path, trousers = tmp_path / "record.toml", sample("trousers.svg")
    words = ["--seam", "seat", "--at", "waist=20mm", "--at", "50%=0mm", "--garment-girth"]
    assert call(capsys, "fitting", "add", path, *words).code == Exit.FINE
    result = call(capsys, "take-in", trousers, "-o", tmp_path / "two.svg", "--from", path)
    assert result.code == Exit.FINDINGS
    assert "The record shares the garment's girth among 2 such seams, the drawing has 1." in result.err
    path.unlink()
    assert call(capsys, "fitting", "add", path, *words, "--seams", "1").code == Exit.FINE
    result = call(capsys, "take-in", trousers, "-o", tmp_path / "one.svg", "--from", path, "--json")
    assert "shares the garment's girth" not in result.err
    assert result.data["changes"][0]["after"] == pytest.approx(-20.0)


def test_of_a_dart_one_place_is_enough(capsys, tmp_path):
    path = tmp_path / "record.toml"
    assert call(capsys, "fitting", "add", path, "--seam", "dart", "--at", "waist=3mm").code == Exit.FINE
    taken = call(capsys, "take-in", sample("trousers.svg"), "-o", tmp_path / "out.svg", "--from", path)
    assert taken.code == Exit.FINE


def test_a_link_to_a_record_stays_a_link_and_the_record_keeps_its_rights(capsys, record, tmp_path):
    record.chmod(0o640)
    link = tmp_path / "of the play.toml"
    link.symlink_to(record.name)
    assert call(capsys, "fitting", "add", link, *SECOND).code == Exit.FINE
    assert link.is_symlink()
    assert len(call(capsys, "fitting", "show", record, "--json").data["bastings"]) == 3
    assert stat.S_IMODE(record.stat().st_mode) == 0o640


def test_an_earlier_version_is_shown_and_the_file_stays(capsys, record):
    before = record.read_bytes()
    data = call(capsys, "fitting", "show", record, "--up-to", "1", "--json").data
    assert [one["inside"] for one in data["totals"]] == [0.0, 5.0, 2.0]
    assert record.read_bytes() == before


def test_taking_in_from_it_is_taking_in_by_the_total(capsys, record, tmp_path):
    trousers, one, other = sample("trousers.svg"), tmp_path / "1.svg", tmp_path / "2.svg"
    total = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=12mm", "--at", "hem=7mm"]
    assert call(capsys, "take-in", trousers, "-o", one, "--from", record).code in (Exit.FINE, Exit.FINDINGS)
    assert call(capsys, "take-in", trousers, "-o", other, *total).code in (Exit.FINE, Exit.FINDINGS)
    for piece, same in zip(pattern_of(read_drawing(one)).pieces, pattern_of(read_drawing(other)).pieces, strict=True):
        assert piece.line == same.line


def test_undo_is_replay_without_the_last_line(capsys, record, tmp_path):
    trousers, one, other = sample("trousers.svg"), tmp_path / "1.svg", tmp_path / "2.svg"
    first = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=5mm", "--at", "hem=2mm"]
    call(capsys, "take-in", trousers, "-o", one, "--from", record, "--up-to", "1")
    call(capsys, "take-in", trousers, "-o", other, *first)
    assert [p.line for p in pattern_of(read_drawing(one)).pieces] == [
        p.line for p in pattern_of(read_drawing(other)).pieces
    ]


def test_a_fitting_and_its_reverse_in_the_record_leave_the_outline_as_it_was(capsys, tmp_path):
    path, target, trousers = tmp_path / "r.toml", tmp_path / "out.svg", sample("trousers.svg")
    for sign in ("", "-"):
        words = ["--seam", "side", "--at", "waist=0mm", "--at", f"20%={sign}12mm", "--at", f"hem={sign}6mm"]
        assert call(capsys, "fitting", "add", path, *words).code == Exit.FINE
    assert call(capsys, "take-in", trousers, "-o", target, "--from", path).code == Exit.FINE
    before, after = pattern_of(read_drawing(trousers)), pattern_of(read_drawing(target))
    assert [piece.line for piece in after.pieces] == [piece.line for piece in before.pieces]


def test_on_another_body_amounts_are_scaled_by_the_girths(capsys, record, tmp_path):
    target, trousers = tmp_path / "out.svg", sample("trousers.svg")
    bodies = ["--fitted-on", sample("body-size-10.toml"), "--body", sample("body-size-12.toml")]
    assert call(capsys, "take-in", trousers, "-o", target, "--from", record, *bodies).code in (0, 1)
    hem = [path_length(pattern_of(read_drawing(file)).piece("back").edge("hem").line) for file in (trousers, target)]
    assert hem[0] - hem[1] == pytest.approx(7.0 * 1018.2 / 985.1, abs=1e-4)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["fitting", "add", "r.toml", "--seam", "side"], "--at"),
        (["fitting", "add", "r.toml", *FIRST, "--garment-girth"], "exclude each other"),
        (["fitting", "add", "r.toml", "--seam", "side", "--at", "hip=7mm"], "what the seam does at its ends"),
        (["fitting", "add", "RECORD", *FIRST, "--person", "another"], "already"),
        (["fitting", "show", "RECORD", "--up-to", "3"], "2 bastings"),
        (["fitting", "show", "none.toml"], "none.toml"),
        (["take-in", "IN", "-o", "out.svg", "--from", "RECORD", "--at", "hip=1mm"], "--from"),
        (["take-in", "IN", "-o", "out.svg", "--from", "RECORD", "--girth"], "--girth"),
        (["take-in", "IN", "-o", "out.svg", "--from", "RECORD", "--seam", "inseam"], "Nothing was basted at inseam"),
        (["take-in", "IN", "-o", "out.svg", "--from", "RECORD", "--fitted-on", "BODY"], "--body"),
        (["take-in", "IN", "-o", "out.svg", "--seam", "side", "--at", "20%=1mm", "--up-to", "1"], "--from"),
        (["take-in", "IN", "-o", "out.svg", "--seam", "side", "--at", "20%=1mm", "--fitted-on", "BODY"], "--from"),
        (["fitting", "add", "RECORD", "--seam", "side", "--at", "hip=1mm", "--at", "hip=2mm"], "hip is given twice"),
        (["fitting", "add", "r.toml", "--seam", "side", "--at", "60%=1mm", "--at", "60 %=2mm"], "60% is given twice"),
        (["take-in", "IN", "-o", "out.svg", "--at", "hip=1mm"], "--seam"),
        (["take-in", "IN", "-o", "out.svg", "--seam", "side"], "--at"),
    ],
)
def test_what_does_not_go_together_is_one_sentence_and_nothing_is_written(
    capsys, record, tmp_path, monkeypatch, words, sentence
):
    monkeypatch.chdir(tmp_path)
    before = record.read_bytes()
    known = {"RECORD": record, "IN": sample("trousers.svg"), "BODY": sample("body-size-10.toml")}
    result = call(capsys, *(known.get(word, word) for word in words))
    assert result.code in (Exit.USAGE, Exit.REFUSED)
    assert sentence in result.err
    assert record.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["record.toml"]


def test_one_side_only_makes_two_of_a_mirrored_piece_and_leaves_the_other_side(capsys, tmp_path):
    target, trousers = tmp_path / "out.svg", sample("trousers.svg")
    words = ["--seam", "side", "--at", "waist=0mm", "--at", "20%=8mm", "--at", "hem=0mm"]
    assert call(capsys, "take-in", trousers, "-o", target, *words, "--left").code in (Exit.FINE, Exit.FINDINGS)
    before, after = pattern_of(read_drawing(trousers)), pattern_of(read_drawing(target))
    assert [piece.name for piece in after.pieces[:4]] == ["left front", "right front", "right back", "left back"]
    for name, old in (("right front", "right front"), ("right back", "back")):
        assert after.piece(name).line == before.piece(old).line
    for name in ("left front", "left back"):
        assert path_length(after.piece(name).edge("side").line) < 1046.0
    trued, followed = tmp_path / "trued.svg", tmp_path / "followed.svg"
    assert call(capsys, "true", target, "-o", trued, "--seam", "side").code == Exit.FINE
    assert call(capsys, "follow", trued, "-o", followed).code == Exit.FINE
    assert call(capsys, "check", followed).code == Exit.FINE


def test_a_dart_taken_in_is_trued_and_followed(capsys, tmp_path):
    """Both backs' darts 3 mm wider on either leg: the band is 12 mm shorter, and nothing is left to look at."""
    taken, trued, done = (tmp_path / f"{name}.svg" for name in ("taken", "trued", "done"))
    words = ["--seam", "dart", "--at", "waist=3mm", "--at", "tip=0mm"]
    assert call(capsys, "take-in", sample("trousers.svg"), "-o", taken, *words).code == Exit.FINE
    assert call(capsys, "true", taken, "-o", trued, "--darts").code == Exit.FINE
    assert call(capsys, "follow", trued, "-o", done).code == Exit.FINE
    assert call(capsys, "check", done).code == Exit.FINE
    before, after = (pattern_of(read_drawing(file)).piece("waistband") for file in (sample("trousers.svg"), done))
    assert path_length(before.edge("waist").line) - path_length(after.edge("waist").line) == pytest.approx(
        12.0, abs=0.3
    )
    refused = call(capsys, "take-in", sample("trousers.svg"), "-o", tmp_path / "no.svg", *words, "--share", "back=40%")
    assert refused.code == Exit.USAGE
    assert "--share" in refused.err
