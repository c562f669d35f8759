"""Whatever is done to the sample trousers, every mark is still on its edge, and is still what it was."""

from dataclasses import fields, replace
from pathlib import Path as File

import pytest

from crossgrain.checks.marks import check_marks
from crossgrain.kernel.length import path_length
from crossgrain.model import Pattern
from crossgrain.model.marking.mark_lines import mark_lines
from crossgrain.model.piece import MARKS
from crossgrain.notation.stations import read_basting
from crossgrain.operations.allowance import Allowance, allow
from crossgrain.operations.dart_trueing import DartTrueing, true_darts
from crossgrain.operations.following import Following, follow
from crossgrain.operations.lengthening import Lengthening, lengthen
from crossgrain.operations.reduction import Reduction, reduce
from crossgrain.operations.take_in import Basting, TakeIn, take_in
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = File(__file__).parent.parent.parent / "samples"
LEGS = ("front-left", "front-right", "back")
PLACED = {"share", "start", "end", "depth", "lean_rad", "width"}
"""What an operation may change: where a mark lies, and how its dart is shaped. All else is what the mark is."""


def sample(name="trousers.svg"):
    """The trousers, their side notches V and the inseam's T."""
    pattern = pattern_of(read_drawing(SAMPLES / name))
    return pattern.with_pieces([kinds_of_notches(piece) for piece in pattern.pieces])


def kinds_of_notches(piece):
    kinds = {"side": "V", "inseam": "T"}
    return replace(piece, notches=tuple(replace(notch, kind=kinds.get(notch.edge, "slit")) for notch in piece.notches))


def reduced(pattern):
    legs = Pattern(pieces=tuple(pattern.piece(id) for id in LEGS))
    return pattern.with_pieces(reduce(legs, Reduction(by=0.08)).value.pieces)


def taken_in(pattern):
    at = tuple(Basting(station=station, amount=mm) for station, mm in map(read_basting, ("waist=3mm", "hem=6mm")))
    return take_in(pattern, TakeIn(seam="side", at=at)).value


DONE = {
    "reduced": lambda: reduced(sample()),
    "taken in": lambda: taken_in(sample()),
    "lengthened": lambda: lengthen(sample(), Lengthening(by=20.0, at="knee", levels=(("knee", 600.0),))).value,
    "trued": lambda: true(sample("trousers-untrued.svg"), Trueing(seam="side")).value,
    "darts trued": lambda: true_darts(sample("trousers-untrued.svg"), DartTrueing()).value,
    "brought up to date": lambda: follow(reduced(sample()), Following(pieces=("waistband",))).value,
    "with cut lines": lambda: allow(sample(), Allowance(width=10.0)).value,
}


@pytest.mark.parametrize("what", DONE)
def test_every_mark_is_still_there_and_what_it_was(what):
    before, after = sample(), DONE[what]()
    for old, new in zip(before.pieces, after.pieces, strict=True):
        for kind in MARKS:
            for mine, theirs in zip(getattr(new, kind), getattr(old, kind), strict=True):
                for field in fields(mine):
                    if field.name not in PLACED or (field.name == "width" and kind != "darts"):
                        assert getattr(mine, field.name) == getattr(theirs, field.name), (old.id, kind, field.name)
        drawn = [{mark.kind for mark in mark_lines(piece)} for piece in (old, new)]
        assert drawn[0] == drawn[1]
        assert check_marks(new).findings == ()


def test_the_creases_stay_in_the_middle():
    for what in ("reduced", "taken in", "lengthened"):
        for piece in DONE[what]().pieces:
            assert [crease.share for crease in piece.creases] == [0.5] * len(piece.creases)


def test_on_a_band_brought_up_to_date_loops_stay_at_the_seams_and_the_button_on_the_underlap():
    before, after = (pattern.piece("waistband") for pattern in (sample(), DONE["brought up to date"]()))
    lengths = [path_length(piece.edge("waist").line) for piece in (before, after)]
    assert lengths[1] < 0.95 * lengths[0]
    notches = {round(notch.share, 6) for notch in after.notches}
    assert len({round(loop.share, 6) for loop in after.loops} & notches) == 3
    for kind in ("buttons", "buttonholes"):
        [old], [new] = getattr(before, kind), getattr(after, kind)
        assert replace(new, share=old.share) == old
        assert new.share == pytest.approx(old.share, abs=1e-9)
