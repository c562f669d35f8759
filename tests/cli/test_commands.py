"""Every command, with no piece, one and two: what it writes, what it leaves alone, and what it says when it cannot."""

from __future__ import annotations

import os
import pathlib
import shutil
from itertools import product

import pytest

from cli.drawings import BARE, write_bare, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.svg.journal import entries
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

SAMPLES = pathlib.Path(__file__).parent.parent.parent / "samples"

CHANGING = {
    "mark": ["--name", "leg", "--edges", "waist side hem inseam"],
    "reduce": ["--by", "8%"],
    "allow": ["--width", "10mm"],
}
SEWN = {
    "take-in": ["--seam", "side", "--at", "waist=0mm", "--at", "40%=6mm", "--at", "hem=4mm"],
    "true": ["--seam", "side"],
    "lengthen": ["--at", "150mm", "--by", "-6mm"],
}
"""What changes named edges: no bare outline has any."""

SEWN_WORDS = {name: [name, *words] for name, words in SEWN.items()}
GRADED = ["grade", "--rules", str(SAMPLES / "grade-rules.toml"), "--size", "12"]
MARKED = {"true --darts": ["true", "--darts"], "follow": ["follow"], "grade": GRADED}
"""What goes by marks that only whole garments have; tried on the sample."""

READING = {"measure": [], "check": [], "cut": []}
COMMANDS = CHANGING | SEWN | READING


@pytest.fixture
def bare(tmp_path):
    return write_bare(tmp_path)


@pytest.fixture
def marked(tmp_path, capsys):
    path = write_marked(tmp_path)
    capsys.readouterr()
    return path


def words_for(name, source, target, pieces=()):
    words = [name, source, *COMMANDS[name]]
    if name in CHANGING | SEWN:
        words += ["-o", target]
    for piece in pieces:
        words += ["--piece", piece]
    return words


def outline_of(path, id):
    return read_drawing(path).shape(id).element.get("d")


class TestHowManyPieces:
    """Every command × {no piece, one, two}, on marked pieces and on bare outlines."""

    @pytest.mark.parametrize("pieces", [(), ("front",), ("front", "back")], ids=["none", "one", "two"])
    @pytest.mark.parametrize("name", ["reduce", "allow", *SEWN])
    def test_a_change_touches_the_pieces_named_or_all(self, capsys, marked, tmp_path, name, pieces):
        target = tmp_path / "out.svg"
        result = call(capsys, *words_for(name, marked, target, pieces))
        assert result.code == Exit.FINE, result.err
        before, after = pattern_of(read_drawing(marked)), pattern_of(read_drawing(target))
        assert [piece.id for piece in after.pieces] == ["front", "back"]
        touched = [old.id for old, new in zip(before.pieces, after.pieces, strict=True) if old != new]
        assert touched == list(pieces or ("front", "back"))
        assert entries(read_drawing(target))[-1].pieces == tuple(touched)

    @pytest.mark.parametrize("pieces", [("front",), ("back", "front"), ("front", "front")], ids=["one", "two", "twice"])
    @pytest.mark.parametrize("name", ["reduce", "allow"])
    def test_a_bare_outline_needs_only_its_id(self, capsys, bare, tmp_path, name, pieces):
        target = tmp_path / "out.svg"
        result = call(capsys, *words_for(name, bare, target, pieces))
        assert result.code == Exit.FINE, result.err
        assert set(entries(read_drawing(target))[-1].pieces) == set(pieces)

    @pytest.mark.parametrize("name", ["reduce", "allow", "measure", "check", "cut"])
    def test_no_piece_in_a_bare_drawing_is_refused_with_the_ids_there_are(self, capsys, bare, tmp_path, name):
        target = tmp_path / "out.svg"
        result = call(capsys, *words_for(name, bare, target))
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert "--piece" in result.err
        assert "front, back" in result.err
        assert not target.exists()

    @pytest.mark.parametrize("pieces", [("front",), ("front", "back")], ids=["one", "two"])
    @pytest.mark.parametrize(
        ("name", "said"),
        [
            ("take-in", "No piece has an edge named side."),
            ("true", "No piece has an edge named side."),
            ("true --darts", "No piece has a dart."),
            ("follow", "No piece is marked in bare.svg."),
            ("grade", "No piece is marked in bare.svg."),
        ],
    )
    def test_bare_outlines_have_nothing_to_go_by(self, capsys, bare, tmp_path, pieces, name, said):
        target = tmp_path / "out.svg"
        words = [word for piece in pieces for word in ("--piece", piece)]
        result = call(capsys, *(MARKED | SEWN_WORDS)[name], bare, "-o", target, *words)
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert said in result.err
        assert not target.exists()

    def test_mark_takes_one(self, capsys, bare, tmp_path):
        target = tmp_path / "out.svg"
        assert call(capsys, *words_for("mark", bare, target, ["front"])).code == Exit.FINE
        piece = pattern_of(read_drawing(target)).piece("leg")
        assert (piece.id, piece.edge_names) == ("front", ("waist", "side", "hem", "inseam"))

    @pytest.mark.parametrize("pieces", [(), ("front", "back")], ids=["none", "two"])
    def test_mark_takes_neither_none_nor_two(self, capsys, bare, tmp_path, pieces):
        target = tmp_path / "out.svg"
        result = call(capsys, *words_for("mark", bare, target, pieces))
        assert (result.code, result.out) == (Exit.USAGE, "")
        assert "Name exactly one piece." in result.err
        assert not target.exists()

    @pytest.mark.parametrize("pieces", [(), ("front",), ("front", "back")], ids=["none", "one", "two"])
    def test_measure_tells_of_the_pieces_named_or_all(self, capsys, marked, tmp_path, pieces):
        result = call(capsys, *words_for("measure", marked, None, pieces), "--json")
        assert result.code == Exit.FINE, result.err
        assert [piece["id"] for piece in result.data["pieces"]] == list(pieces or ("front", "back"))


class TestWhatIsLeftAlone:
    @pytest.mark.parametrize("name", CHANGING)
    def test_the_drawing_that_is_read_is_not_changed(self, capsys, bare, tmp_path, name):
        before = (bare.read_bytes(), bare.stat().st_mtime_ns)
        assert call(capsys, *words_for(name, bare, tmp_path / "out.svg", ["front"])).code == Exit.FINE
        assert (bare.read_bytes(), bare.stat().st_mtime_ns) == before

    @pytest.mark.parametrize("name", CHANGING)
    def test_every_line_of_the_file_but_the_pieces_own_comes_out_byte_for_byte(self, capsys, bare, tmp_path, name):
        target = tmp_path / "out.svg"
        assert call(capsys, *words_for(name, bare, target, ["front"])).code == Exit.FINE
        written = iter(target.read_text(encoding="utf-8").splitlines())
        for line in BARE.splitlines():
            if 'id="front"' not in line and "<svg " not in line:
                assert line in written, line

    @pytest.mark.parametrize("name", ["mark", "allow"])
    def test_the_outline_itself_is_left_as_it_was_typed(self, capsys, bare, tmp_path, name):
        target = tmp_path / "out.svg"
        assert call(capsys, *words_for(name, bare, target, ["front"])).code == Exit.FINE
        assert outline_of(target, "front") == outline_of(bare, "front")

    @pytest.mark.parametrize("name", CHANGING)
    def test_in_place_writes_what_would_have_been_written_elsewhere(self, capsys, bare, tmp_path, name):
        target, own = tmp_path / "out.svg", tmp_path / "own.svg"
        shutil.copy(bare, own)
        assert call(capsys, *words_for(name, bare, target, ["front"])).code == Exit.FINE
        words = [name, own, *CHANGING[name], "--in-place", "--piece", "front"]
        assert call(capsys, *words).code == Exit.FINE
        assert own.read_bytes() == target.read_bytes() != bare.read_bytes()

    @pytest.mark.parametrize("name", CHANGING)
    def test_the_same_command_writes_the_same_bytes(self, capsys, bare, tmp_path, name):
        first, second = tmp_path / "1.svg", tmp_path / "2.svg"
        for target in (first, second):
            assert call(capsys, *words_for(name, bare, target, ["front"])).code == Exit.FINE
        assert first.read_bytes() == second.read_bytes()


class TestWholeOrAbsent:
    @pytest.mark.parametrize(
        ("name", "piece"),
        [*product(CHANGING, ["open", "t", "layer", "nobody"]), ("allow", "eight")],
    )
    def test_what_cannot_be_done_writes_nothing(self, capsys, bare, tmp_path, name, piece):
        target = tmp_path / "out.svg"
        result = call(capsys, *words_for(name, bare, target, [piece]))
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert result.err.startswith("Error: ")
        assert "Traceback" not in result.err
        assert result.err.count("\n") == 1
        assert os.listdir(tmp_path) == ["bare.svg"]

    @pytest.mark.parametrize("name", ["reduce", "allow"])
    def test_one_bad_piece_of_two_writes_nothing(self, capsys, bare, tmp_path, name):
        assert call(capsys, *words_for(name, bare, tmp_path / "out.svg", ["front", "open"])).code == Exit.REFUSED
        assert os.listdir(tmp_path) == ["bare.svg"]

    @pytest.mark.parametrize("name", CHANGING)
    def test_a_file_that_is_there_stays_unless_it_may_go(self, capsys, bare, tmp_path, name):
        target = tmp_path / "out.svg"
        target.write_text("mine", encoding="utf-8")
        words = words_for(name, bare, target, ["front"])
        result = call(capsys, *words)
        assert (result.code, target.read_text(encoding="utf-8")) == (Exit.REFUSED, "mine")
        assert "is there already" in result.err
        assert call(capsys, *words, "--overwrite").code == Exit.FINE
        assert target.read_text(encoding="utf-8").startswith("<?xml")

    @pytest.mark.parametrize("name", CHANGING)
    @pytest.mark.parametrize("how", ["same", "link"])
    def test_the_drawing_itself_is_not_written_by_another_name(self, capsys, bare, tmp_path, name, how):
        target = bare
        if how == "link":
            target = tmp_path / "link.svg"
            target.symlink_to(bare)
        result = call(capsys, *words_for(name, bare, target, ["front"]), "--overwrite")
        assert result.code == Exit.REFUSED
        assert "--in-place" in result.err
        assert bare.read_text(encoding="utf-8") == BARE

    @pytest.mark.parametrize("name", CHANGING)
    def test_a_folder_that_is_not_there(self, capsys, bare, tmp_path, name):
        result = call(capsys, *words_for(name, bare, tmp_path / "no" / "out.svg", ["front"]))
        assert result.code == Exit.REFUSED
        assert "its folder does not exist" in result.err


class TestUsage:
    @pytest.mark.parametrize("name", CHANGING)
    @pytest.mark.parametrize(
        ("words", "said"),
        [
            ([], "Say where to write: -o OUT.svg, or --in-place"),
            (["-o", "x.svg", "--in-place"], "exclude each other"),
            (["-o", "x.svg", "--scale", "0 mm"], "--scale is zero"),
            (["-o", "x.svg", "--scale", "1"], "“1” has no unit"),
            (["-o", "x.svg", "--scale", "1 px"], "“px”"),
        ],
    )
    def test_common_options(self, capsys, bare, name, words, said):
        result = call(capsys, name, bare, *CHANGING[name], "--piece", "front", *words)
        assert (result.code, result.out) == (Exit.USAGE, "")
        assert said in result.err

    @pytest.mark.parametrize("name", COMMANDS)
    @pytest.mark.parametrize("source", ["nowhere.svg", ".", "n" * 300])
    def test_a_drawing_that_is_not_there(self, capsys, tmp_path, monkeypatch, name, source):
        monkeypatch.chdir(tmp_path)
        result = call(capsys, *words_for(name, source, "out.svg", ["front"]))
        assert (result.code, result.out) == (Exit.REFUSED, "")
        assert result.err.startswith("Error: ")
        assert os.listdir(tmp_path) == []


class TestScale:
    @pytest.mark.parametrize("name", CHANGING)
    def test_where_the_scale_is_in_doubt_it_is_asked_for(self, capsys, tmp_path, name):
        source, target = tmp_path / "in.svg", tmp_path / "out.svg"
        source.write_text(BARE.replace('width="700mm" height="400mm" viewBox="0 0 700 400"', ""), encoding="utf-8")
        result = call(capsys, *words_for(name, source, target, ["front"]))
        assert result.code == Exit.REFUSED
        assert "--scale" in result.err
        assert not target.exists()
        assert call(capsys, *words_for(name, source, target, ["front"]), "--scale", "1mm").code == Exit.FINE


class TestData:
    @pytest.mark.parametrize("name", CHANGING)
    def test_figures_on_standard_output_messages_on_standard_error(self, capsys, bare, tmp_path, name):
        target = tmp_path / "out.svg"
        result = call(capsys, *words_for(name, bare, target, ["front"]), "--json")
        assert result.data["output"] == str(target)
        assert result.data["input"] == str(bare)
        assert result.data["findings"] == []
        assert result.err == f"Wrote {target}.\n"

    @pytest.mark.parametrize("name", ["reduce", "allow"])
    def test_the_table_and_the_json_say_the_same(self, capsys, bare, tmp_path, name):
        table = call(capsys, *words_for(name, bare, tmp_path / "1.svg", ["front"])).out
        data = call(capsys, *words_for(name, bare, tmp_path / "2.svg", ["front"]), "--json").data
        assert data["changes"]
        for change in data["changes"]:
            assert change["what"] in table
            if change["unit"] == "mm":
                assert f"{change['before']:.1f} mm" in table
                assert f"{change['after']:.1f} mm" in table


class TestShares:
    @pytest.mark.parametrize(("by", "factor"), [("8%", 0.92), ("-3 %", 1.03), ("0%", 1.0)])
    def test_a_share_below_zero_makes_wider(self, capsys, bare, tmp_path, by, factor):
        target = tmp_path / "out.svg"
        assert call(capsys, "reduce", bare, "-o", target, "--piece", "front", "--by", by).code == Exit.FINE
        widths = [
            call(capsys, "measure", path, "--piece", "front", "--json").data["pieces"][0]["across"]
            for path in (bare, target)
        ]
        assert widths[1] == pytest.approx(widths[0] * factor, abs=0.01)

    def test_the_journal_keeps_what_was_typed(self, capsys, bare, tmp_path):
        target = tmp_path / "out.svg"
        words = ["allow", bare, "-o", target, "--piece", "front", "--width", "3/8 in", "--limit", "3"]
        assert call(capsys, *words).code == Exit.FINE
        [entry] = entries(read_drawing(target))
        assert (entry.operation, entry.pieces) == ("allow", ("front",))
        assert dict(entry.parameters) == {"width": "3/8 in", "limit": "3.0"}


class TestSeam:
    """What changes named edges, on marked pieces."""

    @pytest.mark.parametrize("name", SEWN)
    def test_lines_of_the_file_but_the_pieces_own_come_out_byte_for_byte(self, capsys, marked, tmp_path, name):
        target = tmp_path / "out.svg"
        assert call(capsys, *words_for(name, marked, target, ["front"])).code == Exit.FINE
        written = target.read_text(encoding="utf-8").splitlines()
        before = marked.read_text(encoding="utf-8").splitlines()
        assert [line for line in before if 'id="back"' in line]
        kept = iter(written)
        for line in before:
            if not any(own in line for own in ('id="front"', 'id="front-marks"', "<svg ")):
                assert line in kept, line
        assert outline_of(target, "back") == outline_of(marked, "back")

    def test_a_zero_fitting_leaves_outlines_as_they_were_typed(self, capsys, marked, tmp_path):
        target = tmp_path / "out.svg"
        words = ["take-in", marked, "-o", target, "--seam", "side", "--at", "waist=0mm", "--at", "hem=0mm"]
        assert call(capsys, *words).code == Exit.FINE
        for piece in ("front", "back"):
            assert outline_of(target, piece) == outline_of(marked, piece)

    @pytest.mark.parametrize("words", [["true", "--seam", "inseam"], ["lengthen", "--at", "hem", "--by", "0mm"]])
    def test_what_has_nothing_to_do_leaves_outlines_as_they_were_typed(self, capsys, marked, tmp_path, words):
        """The inseam has been trued; and by nothing, nothing becomes longer."""
        trued, target = tmp_path / "trued.svg", tmp_path / "out.svg"
        assert call(capsys, "true", marked, "-o", trued, "--seam", "inseam").code == Exit.FINE
        assert call(capsys, words[0], trued, "-o", target, *words[1:]).code == Exit.FINE
        for piece in ("front", "back"):
            assert outline_of(target, piece) == outline_of(trued, piece) != outline_of(marked, piece)

    @pytest.mark.parametrize("name", SEWN)
    def test_the_drawing_that_is_read_is_not_changed_and_the_same_bytes_are_written_again(
        self, capsys, marked, tmp_path, name
    ):
        before = marked.read_bytes()
        targets = [tmp_path / "1.svg", tmp_path / "2.svg"]
        for target in targets:
            assert call(capsys, *words_for(name, marked, target)).code == Exit.FINE
        assert marked.read_bytes() == before
        assert targets[0].read_bytes() == targets[1].read_bytes()

    def test_a_node_is_a_station(self, capsys, marked, tmp_path):
        """Of the front's path, as the editor counts: node 1 is where waist and side meet, 2 where the hem does."""
        by_node, by_name = tmp_path / "node.svg", tmp_path / "name.svg"
        one = ["--seam", "side", "--piece", "front", "--at"]
        words = [*one, "node 1=0mm", "--at", "50%=5mm", "--at", "node 2=3mm"]
        assert call(capsys, "take-in", marked, "-o", by_node, *words).code == Exit.FINE
        words = [*one, "waist=0mm", "--at", "50%=5mm", "--at", "hem=3mm"]
        assert call(capsys, "take-in", marked, "-o", by_name, *words).code == Exit.FINE
        assert outline_of(by_node, "front") == outline_of(by_name, "front")

    @pytest.mark.parametrize(
        ("words", "code", "said"),
        [
            (["--seam", "side"], Exit.USAGE, "Say how much"),
            (["--at", "waist=0mm"], Exit.USAGE, "Say which seam"),
            (["--seam", "side", "--at", "waist=12"], Exit.USAGE, "has no unit"),
            (["--seam", "side", "--at", "waist"], Exit.USAGE, "no amount at a place along a seam"),
            (["--seam", "side", "--at", "waist=0mm", "--share", "front=140%"], Exit.REFUSED, "140 %"),
            (
                ["--seam", "side", "--at", "waist=0mm", "--at", "50%=90mm", "--at", "hem=0mm"],
                Exit.REFUSED,
                "grain line",
            ),
        ],
    )
    def test_each_slip_gets_one_sentence_and_writes_nothing(self, capsys, marked, tmp_path, words, code, said):
        target = tmp_path / "out.svg"
        result = call(capsys, "take-in", marked, "-o", target, *words)
        assert (result.code, result.out) == (code, "")
        assert said in result.err
        assert "Traceback" not in result.err
        assert not target.exists()

    @pytest.mark.parametrize(
        ("words", "code", "said"),
        [
            (["true"], Exit.USAGE, "Say what to true: --seam EDGE, or --darts"),
            (["true", "--seam", "side", "--darts"], Exit.USAGE, "one of the two"),
            (["true", "--darts", "--keep", "front"], Exit.USAGE, "With --darts only --blend and --piece"),
            (["true", "--seam", "side", "--ease", "back=4"], Exit.USAGE, "has no unit"),
            (["true", "--seam", "side", "--blend", "0mm"], Exit.REFUSED, "A blend is a length above zero"),
            (["lengthen", "--by", "5mm"], Exit.USAGE, "--at"),
            (["lengthen", "--at", "150mm"], Exit.USAGE, "--by"),
            (["lengthen", "--at", "150mm", "--by", "5"], Exit.USAGE, "has no unit"),
            (["lengthen", "--at", "knee", "--by", "5mm"], Exit.REFUSED, "There is no level named knee"),
            (["lengthen", "--at", "150mm", "--by", "5mm", "--keep", "waist"], Exit.USAGE, "hem-width"),
        ],
    )
    def test_so_does_each_slip_in_trueing_and_lengthening(self, capsys, marked, tmp_path, words, code, said):
        target = tmp_path / "out.svg"
        result = call(capsys, words[0], marked, "-o", target, *words[1:])
        assert (result.code, result.out) == (code, "")
        assert said in result.err
        assert "Traceback" not in result.err
        assert not target.exists()


class TestMarked:
    """What goes by darts and by what follows what, on the first draft of the sample trousers.

    There the band fits; for it to have something to follow, the darts are trued first, which makes the waist longer.
    """

    @pytest.mark.parametrize(
        ("name", "pieces", "changed"),
        [
            ("true --darts", (), ["back"]),
            ("true --darts", ("back",), ["back"]),
            ("true --darts", ("front-right", "back"), ["back"]),
            ("follow", (), ["waistband"]),
            ("follow", ("waistband",), ["waistband"]),
            ("follow", ("waistband", "back"), ["waistband"]),
            ("grade", ("back",), ["back"]),
            ("grade", ("back", "front-left"), ["front-left", "back"]),
        ],
    )
    def test_only_the_pieces_marked_change_and_the_same_bytes_are_written_again(
        self, capsys, tmp_path, name, pieces, changed
    ):
        source, targets = SAMPLES / "trousers-untrued.svg", [tmp_path / "1.svg", tmp_path / "2.svg"]
        if name == "follow":
            source, draft = tmp_path / "darts.svg", source
            assert call(capsys, "true", "--darts", draft, "-o", source).code == Exit.FINE
        words = [word for piece in pieces for word in ("--piece", piece)]
        for target in targets:
            assert call(capsys, *MARKED[name], source, "-o", target, *words).code == Exit.FINE
        assert targets[0].read_bytes() == targets[1].read_bytes()
        before, after = pattern_of(read_drawing(source)), pattern_of(read_drawing(targets[0]))
        assert [old.id for old, new in zip(before.pieces, after.pieces, strict=True) if old != new] == changed
        for piece in before.pieces:
            assert (outline_of(targets[0], piece.id) == outline_of(source, piece.id)) is (piece.id not in changed)
