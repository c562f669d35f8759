"""``crossgrain sheets``: which files it writes, what it says, and what it refuses."""

from __future__ import annotations

from dataclasses import fields
from importlib import import_module
from pathlib import Path

import pytest

from cli.drawings import BARE, write_bare, write_marked
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS
from crossgrain.output.sheets.sheets import Printing
from sheet_reading import layers_of, pages_of, printed_by, text_of

SAMPLES = Path(__file__).parent.parent.parent / "samples"
NAMES = ("34", "36", "38")


@pytest.fixture
def marked(tmp_path, capsys):
    path = write_marked(tmp_path)
    capsys.readouterr()
    return path


@pytest.fixture
def to_cut(marked, tmp_path, capsys):
    target = tmp_path / "legs.svg"
    assert call(capsys, "allow", marked, "-o", target, "--width", "10mm").code == Exit.FINE
    return target


@pytest.fixture
def sizes(to_cut, tmp_path):
    """Three drawings that differ by their names only; what their sizes are is no matter here."""
    paths = [tmp_path / f"legs-size-{name}.svg" for name in NAMES]
    for path in paths:
        path.write_bytes(to_cut.read_bytes())
    return paths


class TestOptions:
    def test_every_field_is_an_option(self):
        options = {one.name: one for one in import_module(COMMANDS["sheets"].module).command.params}
        assert {field.name for field in fields(Printing)} <= set(options)

    def test_an_option_that_is_not_given_leaves_the_default(self):
        command = import_module(COMMANDS["sheets"].module).command
        given = command.make_context("sheets", ["in.svg", "-o", "out.pdf"]).params
        for field in fields(Printing):
            assert given[field.name] in (None, field.default)

    def test_every_option_is_told_on_its_page(self):
        text = (SAMPLES.parent / "docs" / "printing.md").read_text(encoding="utf-8")
        for one in import_module(COMMANDS["sheets"].module).command.params:
            if one.name not in ("sources", "scale", "as_json", "overwrite"):
                assert any(f"{option} " in text or f"{option}`" in text for option in one.opts), one.opts


class TestOneDrawing:
    @pytest.mark.parametrize("pieces", [(), ("front",), ("back", "front"), ("back leg",)])
    def test_those_named_or_all_are_printed(self, capsys, to_cut, tmp_path, pieces):
        target = tmp_path / "sheets.pdf"
        words = [word for name in pieces for word in ("--piece", name)]
        result = call(capsys, "sheets", to_cut, "-o", target, *words)
        assert result.code == Exit.FINE, result.err
        assert result.out == ""
        text = text_of(target)
        for name in ("front", "back"):
            assert (f"{name} leg" in text) is (not pieces or any(name in one for one in pieces))

    def test_it_says_what_it_wrote_and_how_many_pages(self, capsys, to_cut, tmp_path):
        target = tmp_path / "sheets.pdf"
        result = call(capsys, "sheets", to_cut, "-o", target, "--json")
        [data] = result.data["output"]
        assert f"Wrote {target}, {data['pages']} pages." in result.err
        assert data["file"] == str(target)
        assert f"Pages:           {data['pages']}\n" in printed_by("pdfinfo", target)
        assert result.data["input"] == [str(to_cut)]

    def test_title_cloth_and_size_are_on_the_pieces(self, capsys, to_cut, tmp_path):
        target = tmp_path / "sheets.pdf"
        words = ["--garment", "Page's legs", "--size", "38", "--cloth", "blue twill", "--width-of-cloth", "1500mm"]
        assert call(capsys, "sheets", to_cut, "-o", target, *words).code == Exit.FINE
        text = text_of(target)
        assert "Page's legs, size 38" in text
        assert "from blue twill" in text
        assert "1500 mm" in text
        assert "Title: Page's legs" in " ".join(printed_by("pdfinfo", target).split())

    def test_without_another_name_the_title_is_that_of_the_drawing(self, capsys, to_cut, tmp_path):
        target = tmp_path / "sheets.pdf"
        call(capsys, "sheets", to_cut, "-o", target)
        assert "Two legs & a note" in text_of(target, 1, 1)

    def test_names_that_the_typeface_cannot_write_are_told(self, capsys, to_cut, tmp_path):
        target = tmp_path / "sheets.pdf"
        result = call(capsys, "sheets", to_cut, "-o", target, "--garment", "ズボン trousers", "--cloth", "綿")
        assert result.code == Exit.FINDINGS
        said = " ".join(result.err.split())
        assert "These words have letters that the sheets cannot write, printed as question marks: ズボン, 綿." in said
        assert "printed as question marks: ???, ?." in text_of(target, 1, 1)
        result = call(capsys, "sheets", to_cut, "-o", tmp_path / "other.pdf", "--garment", "Žužu Ελλά брюки Œuvre")
        assert (result.code, "question marks" in result.err) == (Exit.FINE, False)

    def test_the_drawing_stays_as_it_is(self, capsys, to_cut, tmp_path):
        before = to_cut.read_bytes()
        call(capsys, "sheets", to_cut, "-o", tmp_path / "sheets.pdf")
        assert to_cut.read_bytes() == before

    def test_a_piece_without_allowance_is_printed_and_said(self, capsys, marked, tmp_path):
        target = tmp_path / "sheets.pdf"
        result = call(capsys, "sheets", marked, "-o", target)
        assert result.code == Exit.FINDINGS
        assert "It has no cut line" in result.err
        assert "It has no cut line" in text_of(target)

    @pytest.mark.parametrize("paper", ["a4", "letter", "a3", "a0", "roll-36in", "projector"])
    def test_every_paper_works(self, capsys, to_cut, tmp_path, paper):
        target = tmp_path / "sheets.pdf"
        assert call(capsys, "sheets", to_cut, "-o", target, "--paper", paper).code == Exit.FINE
        assert pages_of(target.read_bytes())


class TestSizes:
    def test_each_is_a_layer_and_has_a_flat_file_beside(self, capsys, sizes, tmp_path):
        target = tmp_path / "legs.pdf"
        result = call(capsys, "sheets", *sizes, "-o", target, "--off", "36", "--json")
        assert result.code == Exit.FINE
        names, off = layers_of(target.read_bytes())
        assert names[:3] == [f"size {name}" for name in NAMES]
        assert off == ["size 36"]
        beside = [tmp_path / f"legs-{name}.pdf" for name in NAMES]
        assert [one["file"] for one in result.data["output"]] == [str(target), *map(str, beside)]
        for path, name in zip(beside, NAMES, strict=True):
            assert layers_of(path.read_bytes()) == ([], [])
            assert f"size {name}" in text_of(path)
        assert "size 34 to 38" in text_of(target, 1, 1)

    def test_their_names_may_be_given(self, capsys, sizes, tmp_path):
        target = tmp_path / "legs.pdf"
        words = [word for name in ("S", "M", "L/XL") for word in ("--size", name)]
        assert call(capsys, "sheets", *sizes, "-o", target, *words).code == Exit.FINE
        assert layers_of(target.read_bytes())[0][:3] == ["size S", "size M", "size L/XL"]
        assert (tmp_path / "legs-L-XL.pdf").exists()

    def test_a_title_that_says_the_size_says_it_of_none_where_there_are_several(self, capsys, sizes, tmp_path):
        """As graded drawings are titled; the sizes stand beside it."""
        for path, name in zip(sizes, NAMES, strict=True):
            text = path.read_text(encoding="utf-8")
            assert "Two legs &amp; a note" in text
            path.write_text(text.replace("Two legs &amp; a note", f"Two legs, size {name}"), encoding="utf-8")
        target = tmp_path / "legs.pdf"
        assert call(capsys, "sheets", *sizes, "-o", target).code == Exit.FINE
        assert "Title: Two legs " in " ".join(printed_by("pdfinfo", target).split())
        text = text_of(target)
        assert "Two legs size 34 to 38" in text
        assert "size 34, size" not in text
        assert "size 34 to 38, size" not in text
        assert "Two legs size 36" in text_of(tmp_path / "legs-36.pdf")

    def test_too_few_names_are_refused(self, capsys, sizes, tmp_path):
        result = call(capsys, "sheets", *sizes, "-o", tmp_path / "legs.pdf", "--size", "S")
        assert result.code == Exit.USAGE
        assert "There are 3 drawings and 1 sizes." in result.err

    def test_nothing_is_written_where_one_file_is_there_already(self, capsys, sizes, tmp_path):
        (tmp_path / "legs-36.pdf").write_bytes(b"mine")
        target = tmp_path / "legs.pdf"
        result = call(capsys, "sheets", *sizes, "-o", target)
        assert result.code == Exit.REFUSED
        assert "legs-36.pdf is there already. Give another name, or --overwrite." in result.err
        assert not target.exists()
        assert (tmp_path / "legs-36.pdf").read_bytes() == b"mine"
        assert call(capsys, "sheets", *sizes, "-o", target, "--overwrite").code == Exit.FINE
        assert (tmp_path / "legs-36.pdf").read_bytes() != b"mine"


class TestRefusals:
    @pytest.mark.parametrize(
        ("words", "code", "said"),
        [
            (["--paper", "a9"], Exit.REFUSED, "There is no paper a9. There are: a4, letter, a3, a0, roll-914mm"),
            (["--paper", "roll-15mm"], Exit.REFUSED, "too small to draw on with margins of"),
            (["--overlap", "120mm"], Exit.REFUSED, "Pages cannot overlap by 120 mm: 190.0 mm of each is drawn on."),
            (["--gap", "10"], Exit.USAGE, "has no unit"),
            (["--off", "seams"], Exit.REFUSED, "There is no layer seams. There are: stitch-lines, cut-lines"),
            (["--width-of-cloth", "0mm"], Exit.REFUSED, "has no width"),
            (["--scale", "0mm"], Exit.USAGE, "--scale is zero"),
            (["--piece", "brim"], Exit.REFUSED, "brim"),
        ],
    )
    def test_each_slip_gets_one_sentence_and_writes_nothing(self, capsys, to_cut, tmp_path, words, code, said):
        target = tmp_path / "sheets.pdf"
        result = call(capsys, "sheets", to_cut, "-o", target, *words)
        assert (result.code, result.out) == (code, "")
        assert said in " ".join(result.err.split())
        assert not target.exists()

    @pytest.mark.parametrize("name", ["legs.svg", "./legs.svg"])
    def test_the_drawing_is_never_written_over(self, capsys, to_cut, name, monkeypatch):
        monkeypatch.chdir(to_cut.parent)
        before = to_cut.read_bytes()
        result = call(capsys, "sheets", to_cut, "-o", name, "--overwrite")
        assert result.code == Exit.REFUSED
        said = " ".join(result.err.split())
        assert "legs.svg is the drawing itself, which is not changed. Give the sheets another name." in said
        assert to_cut.read_bytes() == before

    def test_a_drawing_is_not_written_over_by_the_sheets_of_a_size_either(self, capsys, to_cut, tmp_path):
        one, two = tmp_path / "legs-34", tmp_path / "other-36"
        for path in (one, two):
            path.write_bytes(to_cut.read_bytes())
        words = ["--size", "34", "--size", "36", "-o", tmp_path / "legs", "--overwrite"]
        result = call(capsys, "sheets", one, two, *words)
        assert result.code == Exit.REFUSED
        assert one.read_bytes() == to_cut.read_bytes()

    @pytest.mark.parametrize("names", [("L/XL", "L-XL"), ("s", "S")])
    def test_two_sizes_whose_files_would_have_one_name_are_refused(self, capsys, sizes, tmp_path, names):
        """Names that differ by capitals only are one file on many machines."""
        words = [word for name in names for word in ("--size", name)]
        result = call(capsys, "sheets", *sizes[:2], "-o", tmp_path / "both.pdf", "--overwrite", *words)
        assert result.code == Exit.REFUSED
        assert f"Size {names[1]} and another would both be written as both-" in " ".join(result.err.split())
        assert not list(tmp_path.glob("both*"))

    def test_a_drawing_without_pieces_is_refused(self, capsys, tmp_path):
        empty = tmp_path / "empty.svg"
        empty.write_text(BARE[: BARE.index("  <defs>")] + "</svg>\n", encoding="utf-8")
        result = call(capsys, "sheets", empty, "-o", tmp_path / "sheets.pdf")
        assert result.code == Exit.REFUSED
        assert "empty.svg has no outlines in it. Draw the pieces as paths." in result.err

    def test_bare_outlines_need_to_be_named(self, capsys, tmp_path):
        bare, target = write_bare(tmp_path), tmp_path / "sheets.pdf"
        assert call(capsys, "sheets", bare, "-o", target).code == Exit.REFUSED
        assert call(capsys, "sheets", bare, "-o", target, "--piece", "front").code == Exit.FINDINGS
        assert target.exists()

    def test_an_outline_that_does_not_close_is_refused(self, capsys, tmp_path):
        result = call(capsys, "sheets", write_bare(tmp_path), "-o", tmp_path / "sheets.pdf", "--piece", "open")
        assert result.code == Exit.REFUSED
        assert not (tmp_path / "sheets.pdf").exists()


def test_other_commands_do_not_load_what_writes_pdf(tmp_path):
    import subprocess
    import sys

    source = (
        "import sys; from crossgrain.cli import main; main(['measure', sys.argv[1]]);"
        " sys.exit('pikepdf' in sys.modules or 'crossgrain.output.sheets.document' in sys.modules)"
    )
    path = write_marked(tmp_path)
    assert subprocess.run([sys.executable, "-c", source, str(path)], capture_output=True, check=False).returncode == 0


def test_no_sheets_are_written_over_a_drawing(to_cut, capsys):
    before = to_cut.read_bytes()
    result = call(capsys, "sheets", to_cut, "-o", to_cut, "--overwrite")
    assert (result.code, "is the drawing itself" in result.err) == (Exit.REFUSED, True)
    assert to_cut.read_bytes() == before
