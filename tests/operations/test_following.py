"""Laws of following: a band is as long as what it is sewn to, its marks lie at the joints, its width stays."""

import math
from dataclasses import replace
from pathlib import Path as File

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.errors import ParameterError
from crossgrain.kernel.length import path_length
from crossgrain.kernel.path import Path
from crossgrain.model import CutInstruction, Dart, Edge, Notch, Pattern, Piece
from crossgrain.notation.follows import read_followed, read_follows, write_followed, write_follows
from crossgrain.operations.following import Following, follow
from crossgrain.operations.reduction import Reduction, reduce
from crossgrain.operations.trueing import Trueing, true
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = File(__file__).parent.parent.parent / "samples"
INCH = 25.4


def block(id, width, height, names=("waist", "side", "hem", "centre"), **more):
    lines = Path.polygon([(0, 0), (width, 0), (width, height), (0, height)]).segments
    edges = tuple(Edge(name=name, line=Path((line,))) for name, line in zip(names, lines, strict=True))
    return Piece(id=id, name=id, edges=edges, **more)


def band(width, follows, notches=()):
    return block(
        "band",
        width,
        40.0,
        ("waist", "left", "top", "right"),
        cut=CutInstruction(stabilised=True),
        follows=(read_follows(follows),),
        notches=notches,
    )


widths = st.floats(120.0, 400.0).map(lambda width: round(width, 2))


class TestLaws:
    @given(widths, widths, widths, widths, st.floats(5.0, 30.0))
    def test_it_is_as_long_as_what_it_follows_its_notch_at_the_joint(self, one, other, new, then, intake):
        dart = Dart(edge="waist", share=0.5, width=intake, depth=60.0)
        pieces = block("front", one, 900.0), block("back", other + intake, 900.0, darts=(dart,))
        sewn = 35.0 + one + other
        joint = (35.0 + one) / sewn
        old = Pattern(
            pieces=(
                *pieces,
                band(
                    sewn,
                    "waist=35mm + front + back",
                    (Notch(edge="waist", share=joint), Notch(edge="top", share=1.0 - joint)),
                ),
            )
        )
        noted = follow(old, Following()).value
        assert noted.piece("band").edges == old.piece("band").edges
        now = follow(
            noted.with_pieces([block("front", new, 900.0), block("back", then + intake, 900.0, darts=(dart,))]),
            Following(),
        ).value
        fits = now.piece("band")
        total = path_length(fits.edge("waist").line)
        assert total == pytest.approx(35.0 + new + then, abs=1e-6)
        assert path_length(fits.edge("left").line) == pytest.approx(40.0, abs=1e-6)
        assert fits.notches[0].share * total == pytest.approx(35.0 + new, abs=1e-4)
        assert (1.0 - fits.notches[1].share) * total == pytest.approx(35.0 + new, abs=0.02)
        assert follow(now, Following()).value == now
        assert [now.piece(id).edges for id in ("front", "back")] == [
            block("front", new, 900.0).edges,
            block("back", then + intake, 900.0).edges,
        ]

    @given(widths, st.floats(0.02, 0.2))
    def test_reduce_leaves_a_band_and_follow_makes_it_fit(self, width, share):
        pattern = Pattern(pieces=(block("front", width, 900.0), band(width, "waist=front")))
        narrow = reduce(pattern, Reduction(by=share)).value
        assert narrow.piece("band") == pattern.piece("band")
        fits = follow(narrow, Following()).value.piece("band")
        assert path_length(fits.edge("waist").line) == pytest.approx(width * (1.0 - share), abs=1e-6)


class TestOutside:
    def test_the_skirt_band(self):
        """Trade: body 24 in + ease 1 in + overlap 3/4 in make a band of 25 3/4 in."""
        skirt = block("skirt", 25.0 * INCH, 500.0)
        pattern = Pattern(pieces=(skirt, band(24.0 * INCH, "waist=3/4in + skirt")))
        fits = follow(pattern, Following()).value.piece("band")
        assert path_length(fits.edge("waist").line) / INCH == pytest.approx(25.75, abs=1e-7)


class TestSamples:
    def test_after_reducing_and_trueing_the_band_fits(self):
        pattern = pattern_of(read_drawing(SAMPLES / "trousers.svg"))
        marked = [piece for piece in pattern.pieces if piece.follows]
        assert marked
        noted = follow(pattern, Following()).value
        narrow = reduce(noted, Reduction(by=0.12)).value
        trued = true(narrow, Trueing(seam="side", give="waist")).value
        fitted = follow(trued, Following()).value
        for piece in marked:
            new = fitted.piece(piece.id)
            for one in new.follows:
                assert path_length(new.edge(one.edge).line) == pytest.approx(math.fsum(one.was), abs=1e-6)
        for piece in pattern.pieces:
            if not (piece.follows or piece.traces):
                assert fitted.piece(piece.id).edges == trued.piece(piece.id).edges
            if not (piece.follows or piece.traces or piece.zips):
                assert fitted.piece(piece.id) == trued.piece(piece.id)


class TestText:
    @pytest.mark.parametrize(
        "text", ["waist=35mm + left front + back", "top=fly facing/centre", "waist=back + back + 12.5mm"]
    )
    def test_what_is_written_is_read_back(self, text):
        follows = read_follows(text)
        assert write_follows(follows) == text
        noted = replace(follows, was=tuple(10.5 + k for k in range(len(follows.terms))))
        assert read_followed(write_followed(noted)) == (noted.edge, noted.was)

    @pytest.mark.parametrize("text", ["", "waist", "waist=", "waist=front +", "=front + "])
    def test_what_cannot_be_read(self, text):
        with pytest.raises(ParameterError, match="does not say what an edge follows"):
            read_follows(text)


class TestRefusals:
    @pytest.mark.parametrize(
        ("follows", "said"),
        [("waist=nobody", "There is no piece named nobody"), ("waist=front/neck", "There is no edge named neck")],
    )
    def test_what_is_not_there(self, follows, said):
        with pytest.raises(ParameterError, match=said):
            follow(Pattern(pieces=(block("front", 200.0, 900.0), band(200.0, follows))), Following())

    def test_nothing_follows(self):
        with pytest.raises(ParameterError, match="No piece is marked to follow another"):
            follow(Pattern(pieces=(block("front", 200.0, 900.0),)), Following())
