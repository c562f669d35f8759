"""``crossgrain allow``: widths from a set and from options, corners kept in the drawing, renewed and stripped."""

import math
from pathlib import Path

import pytest

from cli.drawings import write_bare, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.model import SewnCorner, Width
from crossgrain.svg.names import crossgrain
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing
from outline_widths import apart

SAMPLES = Path(__file__).parents[2] / "samples"
TROUSERS, SET, BODY = (SAMPLES / name for name in ("trousers.svg", "widths.toml", "body-size-10.toml"))
STRETCHING = [word for name in ("left front", "right front", "back") for word in ("--piece", name)]


def pieces_of(path):
    return {piece.name: piece for piece in pattern_of(read_drawing(path)).pieces}


def elements_of(path):
    """Everything in a drawing but its journal, element by element, as text."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line for line in lines if "crossgrain:entry" not in line]


def run(capsys, *words):
    result = call(capsys, *words)
    assert result.code in (Exit.FINE, Exit.FINDINGS), result.err
    return result


@pytest.fixture
def marked(tmp_path):
    return write_marked(tmp_path)


class TestSet:
    def test_classes_give_widths_and_edges_their_classes(self, capsys, tmp_path):
        target = tmp_path / "out.svg"
        run(capsys, "allow", TROUSERS, "-o", target, "--set", SET)
        back, front = pieces_of(target)["back"], pieces_of(target)["right front"]
        assert {edge.name: edge.allowance.start for edge in back.edges} == {
            "waist": 10.0, "seat": 10.0, "inseam": 10.0, "hem": 30.0, "side": 10.0,
        }  # fmt: skip
        assert front.edge("centre").allowance == Width.of(15.0)
        assert SewnCorner(edges=("hem",), way="mirrored", guide="hem") in back.corners

    def test_an_edge_given_by_itself_goes_before_the_set_and_a_class_before_the_sets_edges(self, capsys, tmp_path):
        target = tmp_path / "out.svg"
        words = ["--edge", "seat=10mm to 25mm", "--class", "hem=curved seam", "--piece", "back"]
        run(capsys, "allow", TROUSERS, "-o", target, "--set", SET, *words)
        back = pieces_of(target)["back"]
        assert back.edge("seat").allowance.stations == ((0.0, 10.0), (1.0, 25.0))
        assert (back.edge("hem").allowance, back.edge("hem").sewn_as) == (Width.of(6.0), "curved seam")
        # The class is kept: the next set goes by it.
        again = tmp_path / "again.svg"
        other = tmp_path / "other.toml"
        other.write_text('[widths]\n"curved seam" = "4mm"\nplain = "8mm"\n', encoding="utf-8")
        run(capsys, "allow", target, "-o", again, "--set", other, "--piece", "back")
        assert pieces_of(again)["back"].edge("hem").allowance == Width.of(4.0)
        assert pieces_of(again)["back"].edge("waist").allowance == Width.of(10.0)  # the one it held

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("[widths]\nhem = 30\n", "“hem” is no text"),
            ('[widths]\nhem = "30"\n', "widths.toml, widths: “hem”"),
            ('[edges]\nhem = "hem"\n', "“widths” is missing"),
            ('[widths]\nhem = "3cm"\n[edges]\nside = "plain"\n', "has no class “plain”"),
            ('[widths]\nhem = "3cm"\n[corners]\nhem = "folded"\n', "“hem=folded” is no style of a corner"),
            ('[seams]\nhem = "3cm"\n', "“seams” is not known"),
            ("hem", "cannot be read"),
        ],
    )
    def test_a_set_that_cannot_be_read_says_where(self, capsys, marked, tmp_path, text, said):
        bad = tmp_path / "widths.toml"
        bad.write_text(text, encoding="utf-8")
        result = call(capsys, "allow", marked, "-o", tmp_path / "out.svg", "--set", bad)
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert said in result.err
        assert not (tmp_path / "out.svg").exists()

    def test_the_set_of_the_samples_says_that_it_is_practice(self):
        assert "common practice" in SET.read_text(encoding="utf-8")


class TestRenewing:
    WORDS = ("--set", SET, "--edge", "seat=10mm to 25mm", "--press", "waist=start")

    def test_twice_is_once_to_the_byte(self, capsys, tmp_path):
        once, twice, thrice = (tmp_path / f"{name}.svg" for name in ("once", "twice", "thrice"))
        run(capsys, "allow", TROUSERS, "-o", once, *self.WORDS)
        run(capsys, "allow", once, "-o", twice, "--renew")
        run(capsys, "allow", twice, "-o", thrice, "--renew")
        assert elements_of(once) == elements_of(twice) == elements_of(thrice)

    def test_after_reduce_take_in_and_true_what_did_not_move_is_what_it_was(self, capsys, tmp_path):
        """The cut line is what it would be had it never been drawn before; untouched pieces keep every byte."""
        once = tmp_path / "once.svg"
        run(capsys, "allow", TROUSERS, "-o", once, *self.WORDS)
        steps = {
            "reduced": ("reduce", "--by", "6%", *STRETCHING),
            "taken": ("take-in", "--seam", "side", "--at", "waist=0mm", "--at", "hip=5mm", "--at", "hem=4mm",
                      "--body", BODY),
            "trued": ("true", "--seam", "side"),
        }  # fmt: skip
        drawings = {}
        for begun in (once, TROUSERS):
            at = begun
            for name, (verb, *words) in steps.items():
                target = tmp_path / f"{begun.stem}-{name}.svg"
                run(capsys, verb, at, "-o", target, *words)
                at = target
            drawings[begun] = at
        renewed, fresh = tmp_path / "renewed.svg", tmp_path / "fresh.svg"
        run(capsys, "allow", drawings[once], "-o", renewed, "--renew")
        run(capsys, "allow", drawings[TROUSERS], "-o", fresh, *self.WORDS)
        for name, piece in pieces_of(renewed).items():
            assert apart(piece.counterpart, pieces_of(fresh)[name].counterpart) <= 1e-5, name
            assert piece.corners == pieces_of(fresh)[name].corners
        before, after = read_drawing(once), read_drawing(renewed)
        unmoved = [id for id in ("fly-facing", "fly-guard") if text_of(before, id) == text_of(after, id)]
        assert unmoved
        for id in unmoved:
            assert cut_text(before, id) == cut_text(after, id)

    def test_moving_one_seam_leaves_the_cut_line_of_the_others(self, capsys, tmp_path):
        once, taken, renewed = (tmp_path / f"{name}.svg" for name in ("once", "taken", "renewed"))
        run(capsys, "allow", TROUSERS, "-o", once, *self.WORDS)
        words = ["--seam", "side", "--at", "waist=0mm", "--at", "50%=6mm", "--at", "hem=0mm"]
        run(capsys, "take-in", once, "-o", taken, *words)
        run(capsys, "allow", taken, "-o", renewed, "--renew")
        old, new = (pieces_of(path)["back"] for path in (once, renewed))
        inseam = new.edge("inseam").line
        assert inseam == old.edge("inseam").line
        kept = [one for one in new.counterpart.segments if one in old.counterpart.segments]
        beside = [one for one in old.counterpart.segments if min(math.dist(one.point(0.5), p) for p in dense_of(inseam))
                  < 11.0]  # fmt: skip
        assert beside
        assert all(any(same(one, other) for other in new.counterpart.segments) for one in beside[1:-1])
        assert kept

    def test_a_piece_that_keeps_no_widths_is_left_alone_and_said(self, capsys, marked, tmp_path):
        target = tmp_path / "out.svg"
        before = elements_of(marked)
        result = call(capsys, "allow", marked, "-o", target, "--renew")
        assert result.code == Exit.FINDINGS
        assert "No widths are kept with this piece" in result.out + result.err
        assert [line for line in elements_of(target) if "path" in line] == [line for line in before if "path" in line]

    def test_a_width_may_be_changed_on_the_way(self, capsys, marked, tmp_path):
        once, twice = tmp_path / "once.svg", tmp_path / "twice.svg"
        run(capsys, "allow", marked, "-o", once, "--width", "10mm", "--corner", "hem=mirrored")
        run(capsys, "allow", once, "-o", twice, "--renew", "--edge", "hem=40mm", "--corner", "hem=blunted")
        piece = pieces_of(twice)["front leg"]
        assert (piece.edge("hem").allowance, piece.edge("side").allowance) == (Width.of(40.0), Width.of(10.0))
        assert [corner.way for corner in piece.corners] == ["blunted"]

    def test_another_limit_is_kept(self, capsys, marked, tmp_path):
        once, twice = tmp_path / "once.svg", tmp_path / "twice.svg"
        run(capsys, "allow", marked, "-o", once, "--width", "10mm", "--limit", "1.1")
        run(capsys, "allow", once, "-o", twice, "--renew")
        assert elements_of(once) == elements_of(twice)
        shape = read_drawing(once).shape("front")
        assert shape.element.get(crossgrain("corners-sewn")) == "mitred limit 1.1"

    def test_renew_and_strip_exclude_each_other(self, capsys, marked, tmp_path):
        result = call(capsys, "allow", marked, "-o", tmp_path / "out.svg", "--renew", "--strip")
        assert result.code == Exit.USAGE
        assert "--renew knows by itself" in result.err


class TestCorners:
    def test_styles_are_kept_in_words(self, capsys, marked, tmp_path):
        target = tmp_path / "out.svg"
        words = [
            "--corner",
            "side/hem=mirrored",
            "--corner",
            "waist/side = squared to side",
            "--corner",
            "inseam=blunted",
        ]
        run(capsys, "allow", marked, "-o", target, "--width", "10mm", *words)
        text = read_drawing(target).shape("front").element.get(crossgrain("corners-sewn"))
        assert text == "side/hem=mirrored about hem; waist/side=squared to side; inseam=blunted"

    @pytest.mark.parametrize(
        ("option", "code", "said"),
        [
            (("--corner", "hem=folded"), Exit.USAGE, "no style of a corner"),
            (("--corner", "hem=blunted by 3mm"), Exit.USAGE, "is not understood there"),
            (("--corner", "hem/side=squared to waist"), Exit.USAGE, "by which of its edges"),
            (("--corner", "mirrored"), Exit.USAGE, "by which of its edges"),
            (("--corner", "back=blunted"), Exit.REFUSED, "No piece has an edge named back"),
            (("--corner", "hem=blunted at 2mm"), Exit.REFUSED, "edge side/hem"),
            (("--edge", "hem=3mm at 0%, 5mm"), Exit.USAGE, "where along the edge"),
            (("--edge", "hem=3mm to -5mm"), Exit.USAGE, "below zero"),
            (("--press", "waist=left"), Exit.USAGE, "waist=start"),
            (("--press", "brim=start"), Exit.REFUSED, "No piece has an edge named brim"),
            (("--press", "waist=start"), Exit.REFUSED, "No dart opens on the edge waist"),
            (("--class", "brim=hem"), Exit.REFUSED, "No piece has an edge named brim"),
            (("--class", "hem=hem", "--class", "hem=zip"), Exit.REFUSED, "two classes of seam"),
        ],
    )
    def test_what_cannot_be_is_refused_in_one_sentence(self, capsys, marked, tmp_path, option, code, said):
        result = call(capsys, "allow", marked, "-o", tmp_path / "out.svg", "--width", "10mm", *option)
        assert (result.code, result.out) == (code, ""), result.err
        assert said in result.err
        assert not (tmp_path / "out.svg").exists()

    def test_a_bare_outline_has_no_corners_to_name(self, capsys, tmp_path):
        bare, target = write_bare(tmp_path), tmp_path / "out.svg"
        words = ["--piece", "front", "--width", "10mm", "--corner", "blunted"]
        result = call(capsys, "allow", bare, "-o", target, *words)
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert "Name its edges first" in result.err
        assert not target.exists()


class TestStripping:
    def test_a_bare_outline_as_before(self, capsys, tmp_path):
        bare = write_bare(tmp_path)
        cut = tmp_path / "cut.svg"
        run(capsys, "mark", bare, "-o", cut, "--piece", "front", "--outline", "cut")
        target = tmp_path / "stitch.svg"
        run(capsys, "allow", cut, "-o", target, "--strip", "--width", "5mm", "--piece", "front")
        assert pattern_of(read_drawing(target)).pieces[0].counterpart is not None

    def test_renewing_a_cut_line_renews_its_stitch_line(self, capsys, tmp_path):
        marked = write_marked(tmp_path)
        cut, once, twice = (tmp_path / f"{name}.svg" for name in ("cut", "once", "twice"))
        run(capsys, "mark", marked, "-o", cut, "--piece", "front", "--outline", "cut")
        run(capsys, "allow", cut, "-o", once, "--strip", "--width", "5mm", "--piece", "front")
        run(capsys, "allow", once, "-o", twice, "--renew", "--piece", "front")
        assert elements_of(once) == elements_of(twice)


def text_of(drawing, id):
    return drawing.shape(id).element.get("d")


def cut_text(drawing, id):
    """The path of the cut line beside an outline."""
    return next(
        element.get("d")
        for element in drawing.root.iter()
        if isinstance(element.tag, str) and element.get(crossgrain("of")) == id and element.get(crossgrain("line"))
    )


def dense_of(line):
    return [segment.point(k / 40.0) for segment in line.segments for k in range(41)]


def same(one, other):
    return all(math.dist(p, q) <= 1e-5 for p, q in zip(one.controls, other.controls, strict=True))
