"""The scripts of the menus by themselves: what they print, what they refuse, and in what words."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import crossgrain_engine
import pytest
from crossgrain_words import RefusalError

from cli.drawings import BARE
from crossgrain.cli.editor.install import install
from extension.actions import BODY, CHOICES, NAMES, NEW, NOTES, OF_THE_DRAWING, OLD, WORN
from extension.editor import by_command, write_many_nodes

LAYERS = """<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
  xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" xmlns:crossgrain="urn:crossgrain:1"
  xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd" sodipodi:docname="Ärmel/../..\\mine.svgz"
  width="100mm" height="100mm" viewBox="0 0 100 100">
  <g id="shut" inkscape:groupmode="layer" inkscape:label="paper" sodipodi:insensitive="true"><path id="in-shut" d="M0 0H9V9Z"/></g>
  <path id="fixed" sodipodi:insensitive="true" d="M0 0H9V9Z"/>
  <g id="bare-group"><path id="in-group" d="M0 0H9V9Z"/></g>
  <g id="layer" inkscape:groupmode="layer" inkscape:label="empty one"/>
  <g id="piece-group"><path id="front" crossgrain:piece="front" d="M 10,10 H 60 V 90 H 10 Z"/>
    <g id="front-marks" crossgrain:of="front"><path id="front-grain" d="M 20,20 V 70"/></g></g>
  <g id="crossgrain-labels" crossgrain:layer="labels"><g id="said" crossgrain:about="front"><text id="girth">hip</text></g></g>
  <use id="clone" xlink:href="#front"/>
  <text id="words" inkscape:label="a note">hello</text>
  <image id="photo" width="5" height="5"/>
  <rect id="band" x="5" y="5" width="60" height="20"/>
</svg>"""  # noqa: E501  # one object to a line


@pytest.fixture
def menus(tmp_path):
    """The menus as they are installed, in a folder with a blank and a letter beyond ASCII."""
    folder = tmp_path / "profil é" / "extensions" / "crossgrain"
    install(folder)
    return folder


@pytest.fixture
def layers(tmp_path):
    path = tmp_path / "ink_ext_XXXXXX.svgABCDEF"
    path.write_text(LAYERS, encoding="utf-8")
    return path


ON_PIECES = [name for name in NAMES if name not in OF_THE_DRAWING]


def choose(menus, name, drawing, *arguments, **more):
    """Start a script as the editor does."""
    return subprocess.run(
        [sys.executable, str(menus / f"crossgrain_{name.replace('-', '_')}.py"), *arguments, str(drawing)],
        env={**os.environ, "LANGUAGE": "en", "BROWSER": "/bin/true", "PYTHONPATH": str(menus), **more},
        capture_output=True,
        check=False,
    )


def refusal(done) -> str:
    """Return what a script said that left the drawing alone: one sentence or two on one line, and no drawing."""
    assert (done.returncode, done.stdout) == (1, b"")
    said = done.stderr.decode("utf-8")
    assert said.count("\n") == 1, said
    assert "Traceback" not in said
    return said.strip()


@pytest.mark.parametrize("choice", CHOICES, ids=lambda choice: f"{choice.action}-{'-'.join(choice.selected)}")
def test_a_script_prints_the_drawing_the_command_writes_and_nothing_else(menus, tmp_path, drawing, choice):
    source = drawing(choice.drawing)
    truth = {"1": "true", "0": "false"}
    fields = [f"--{name}={truth.get(value, value)}" for name, value in choice.fields.items()]
    kept = tmp_path / "kept é.html"
    ids = [f"--id={id}" for id in choice.selected]
    done = choose(menus, choice.action, source, *ids, *fields, f"--save={kept}")
    assert (done.returncode, done.stderr) == (0, b"")
    if "OUT.html" in choice.command:
        assert done.stdout == source.read_bytes()
        source = source.rename(tmp_path / "drawing.svg")  # what a drawing is called that does not say so itself
        assert kept.read_bytes() == by_command(tmp_path, source, *choice.command, *choice.pieces).read_bytes()
    else:
        assert done.stdout == by_command(tmp_path, source, *choice.command, *choice.pieces).read_bytes()
        assert not kept.exists()


class TestPage:
    """The page of the figures, opened and kept."""

    FIELDS = ("--id=front", "--into=page")

    def test_a_page_of_ours_is_replaced_and_anything_else_is_not(self, menus, layers, tmp_path):
        mine, page = tmp_path / "mine.html", tmp_path / "page.html"
        mine.write_text("<p>mine</p>", encoding="utf-8")
        assert "mine.html is there already" in refusal(choose(menus, "measure", layers, *self.FIELDS, f"--save={mine}"))
        assert mine.read_text(encoding="utf-8") == "<p>mine</p>"
        for _turn in range(2):
            assert choose(menus, "measure", layers, *self.FIELDS, f"--save={page}").stderr == b""
        assert b"<html" in page.read_bytes()

    def test_the_browser_is_given_the_page(self, menus, layers, tmp_path):
        browser = tmp_path / "browser"
        browser.write_text(f'#!/bin/sh\necho "$1" > {tmp_path}/opened\n')
        browser.chmod(0o755)
        assert choose(menus, "measure", layers, *self.FIELDS, BROWSER=str(browser)).stderr == b""
        address = (tmp_path / "opened").read_text().strip()
        assert address.startswith("file:///")
        assert address.endswith("/page.html")

    def test_sheets_are_opened_as_pdf_and_no_file_of_another_is_replaced(self, menus, drawing, tmp_path):
        browser, kept = tmp_path / "browser", tmp_path / "mine.pdf"
        browser.write_text(f'#!/bin/sh\necho "$1" > {tmp_path}/opened\n')
        browser.chmod(0o755)
        fields = ("--id=front", f"--save={kept}")
        source = drawing("marked")
        assert choose(menus, "sheets", source, *fields, BROWSER=str(browser)).stderr == b""
        assert (tmp_path / "opened").read_text().strip().endswith("/page.pdf")
        assert kept.read_bytes().startswith(b"%PDF-")
        assert "mine.pdf is there already" in refusal(choose(menus, "sheets", source, *fields))

    def test_two_dialogs_at_once_have_a_page_each_and_old_pages_go(self, menus, layers, tmp_path):
        places, browser = tmp_path / "temporary", tmp_path / "browser"
        places.mkdir()
        browser.write_text(f'#!/bin/sh\necho "$1" >> {tmp_path}/opened\n')
        browser.chmod(0o755)
        surroundings = {"BROWSER": str(browser), "TMPDIR": str(places)}
        for _dialog in range(2):
            assert choose(menus, "measure", layers, *self.FIELDS, **surroundings).stderr == b""
        first, second = (tmp_path / "opened").read_text().split()
        pages = sorted(places.glob("crossgrain-page-*/*"))
        assert sorted(page.as_uri() for page in pages) == sorted([first, second])
        assert first != second
        [old] = [page.parent for page in pages if page.as_uri() == first]
        os.utime(old, (1, 1))
        (places / "crossgrain-page-mine").write_text("no folder")
        assert choose(menus, "measure", layers, *self.FIELDS, **surroundings).stderr == b""
        assert not old.exists()
        assert len(list(places.glob("crossgrain-page-*/page.html"))) == 2
        assert (places / "crossgrain-page-mine").exists()

    def test_a_page_that_is_refused_leaves_nothing(self, menus, layers, drawing, tmp_path):
        places = tmp_path / "temporary"
        places.mkdir()
        refusal(choose(menus, "measure", layers, *self.FIELDS, f"--save={tmp_path}/nowhere/x.html", TMPDIR=str(places)))
        kept = f"--save={tmp_path}/kept.toml"
        assert choose(menus, "recipe", drawing("marked"), kept, TMPDIR=str(places)).stderr == b""
        assert list(places.iterdir()) == []

    def test_a_roll_without_width(self, menus, drawing):
        said = refusal(choose(menus, "sheets", drawing("marked"), "--id=front", "--paper=roll"))
        assert said == "Say how wide the roll is, as 914 mm."

    def test_no_browser(self, menus, layers, tmp_path):
        said = refusal(choose(menus, "measure", layers, *self.FIELDS, BROWSER="/bin/false", PATH="", DISPLAY=""))
        assert said.startswith("No browser could be opened. The page is here: ")

    def test_a_folder_that_is_not_there(self, menus, layers, tmp_path):
        save = f"--save={tmp_path}/nowhere/page.html"
        said = refusal(choose(menus, "measure", layers, *self.FIELDS, save))
        assert said.startswith("The page could not be written: No such file or directory.")


class TestRecipe:
    """The recipe of a drawing, kept where the maker says and nowhere else."""

    def test_it_is_kept_and_nothing_is_replaced(self, menus, drawing, tmp_path):
        kept, marked = tmp_path / "recipe.toml", drawing("marked")
        done = choose(menus, "recipe", marked, f"--save={kept}", BROWSER="/bin/false")
        assert (done.returncode, done.stdout, done.stderr) == (0, marked.read_bytes(), b"")
        assert 'do = "mark"' in kept.read_text(encoding="utf-8")
        assert "recipe.toml is there already" in refusal(choose(menus, "recipe", marked, f"--save={kept}"))

    def test_no_place_is_asked_for(self, menus, layers):
        assert refusal(choose(menus, "recipe", layers)).startswith("Say where to keep the recipe")

    def test_a_drawing_to_which_nothing_was_done(self, menus, drawing, tmp_path):
        said = refusal(choose(menus, "recipe", drawing("traced"), f"--save={tmp_path}/recipe.toml"))
        assert "nothing was done to it yet" in said
        assert not (tmp_path / "recipe.toml").exists()


class TestCloth:
    """The entries on cloth say in the dialog's words what is missing in it."""

    @pytest.mark.parametrize("name", ["compare", "reduce-for-cloth"])
    @pytest.mark.parametrize(
        ("left_out", "said"),
        [
            ("fabric", "Choose the file of the cloth you cut from."),
            ("drafted_for", "Choose the file of the cloth the pattern was drafted for."),
            ("body", "Choose the file of the body that is to wear it."),
            ("pressure", "Say which pressure you want, as 1.0 kPa."),
        ],
    )
    def test_a_field_left_empty(self, menus, layers, name, left_out, said):
        fields = {"fabric": NEW, "drafted_for": OLD, "body": BODY, "match": "pressure", "pressure": "1 kPa"}
        given = [f"--{field}={value}" for field, value in fields.items() if field != left_out]
        assert refusal(choose(menus, name, layers, "--id=front", *given)) == said

    @pytest.mark.parametrize("name", ["compare", "reduce-for-cloth"])
    def test_a_front_alone_is_no_garment(self, menus, drawing, name):
        given = (f"--fabric={NEW}", f"--drafted_for={OLD}", f"--body={BODY}")
        said = refusal(choose(menus, name, drawing("trousers"), "--id=front-right", *given))
        assert said.startswith("The pieces make up 196 mm at the waist, where the body has 781 mm: some are missing.")

    def test_a_pressure_that_nobody_accepted_names_the_box_to_tick(self, menus, drawing):
        worn = [f"--id={id}" for id in WORN]
        given = (f"--fabric={NEW}", f"--drafted_for={OLD}", f"--body={BODY}", "--match=pressure", "--pressure=3.5 kPa")
        source = drawing("trousers")
        said = refusal(choose(menus, "reduce-for-cloth", source, *worn, *given))
        assert said.endswith("if you answer for it, give “Go on above 3.3 kPa”.")
        done = choose(menus, "reduce-for-cloth", source, *worn, *given, "--accept_pressure=true")
        assert (done.returncode, done.stderr) == (0, b"")
        assert b"critical even in shapewear" in done.stdout, "the caution is to be read in the drawing"

    def test_advice_for_a_terminal_is_left_out(self, menus, drawing):
        worn = [f"--id={id}" for id in WORN]
        given = (f"--fabric={NEW}", f"--drafted_for={OLD}", f"--body={BODY}", "--match=pressure", "--pressure=0 kPa")
        said = refusal(choose(menus, "reduce-for-cloth", drawing("trousers"), *worn, *given))
        assert said == "A target is a pressure above zero, and goes with matching pressure."

    def test_a_file_that_is_no_cloth(self, menus, layers):
        given = (f"--fabric={BODY}", f"--drafted_for={OLD}", f"--body={BODY}")
        assert "body-size-12.toml" in refusal(choose(menus, "reduce-for-cloth", layers, "--id=front", *given))


class TestSelection:
    @pytest.mark.parametrize("name", ON_PIECES)
    def test_nothing_selected(self, menus, layers, name):
        assert refusal(choose(menus, name, layers)).startswith("Nothing is selected. Select the outline of a piece")

    @pytest.mark.parametrize(
        ("id", "said"),
        [
            ("in-shut", "in-shut lies in the locked layer “paper”. Unlock the layer first."),
            ("fixed", "fixed is locked. Unlock it first (Object ▸ Unlock All)."),
            ("bare-group", "bare-group is a group. Enter it with a double click, and select the outline of the piece."),
            ("layer", "empty one is a layer without a marked piece in it. Select the outline of a piece."),
            ("clone", "clone is a clone. Unlink it (Edit ▸ Clone ▸ Unlink Clone), or select the original."),
            ("words", "a note is text. Select the outline of a piece."),
            ("photo", "photo is a picture. Trace it first, then select the traced outline."),
            ("gone", "The selected object gone is not in the drawing. Select the piece anew."),
        ],
    )
    @pytest.mark.parametrize("name", ON_PIECES)
    def test_what_is_no_outline_is_said_in_a_sentence(self, menus, layers, name, id, said):
        assert refusal(choose(menus, name, layers, f"--id={id}", "--by=8 %")) == said

    def test_marking_takes_one_piece(self, menus, layers):
        done = choose(menus, "mark", layers, "--id=front", "--id=band", "--mark=grain", "--grain=vertical")
        assert refusal(done) == "2 outlines are selected. Select one, then choose this again."

    @pytest.mark.parametrize("id", ["front", "front-marks", "front-grain", "piece-group", "said", "girth"])
    def test_a_piece_is_meant_by_its_outline_its_marks_its_labels_or_the_group_around_it(self, menus, layers, id):
        done = choose(menus, "reduce", layers, f"--id={id}", "--by=10 %")
        assert b'd="M12.5,10' in done.stdout

    def test_a_shape_becomes_a_path(self, menus, layers):
        done = choose(menus, "reduce", layers, "--id=band", "--by=10 %")
        assert b'<path id="band" d="M8,5' in done.stdout


class TestEngine:
    @pytest.mark.parametrize("written", [None, "", "\n"])
    def test_no_one_said_where_it_is(self, menus, layers, written):
        where = menus / "crossgrain-engine.txt"
        where.unlink() if written is None else where.write_text(written)
        said = refusal(choose(menus, "reduce", layers, "--id=front", "--by=8 %", PATH=""))
        assert said.endswith("do not know where its engine is. In a terminal, run: crossgrain editor install")

    @pytest.mark.parametrize(
        ("program", "said"),
        [
            (None, "cannot be started (No such file or directory)"),
            ("not a program", "cannot be started (Exec format error)"),
            ("#!/bin/sh\nkill -SEGV $$\n", "stopped without an answer (code -11). In a terminal, run"),
            ("#!/bin/sh\nexit 0\n", "stopped without an answer (code 0)"),
            ("#!/bin/sh\necho 'Unknown option: -P' >&2; exit 2\n", "Unknown option: -P"),
            ("#!/bin/sh\necho 'No module named crossgrain' >&2; exit 1\n", "engine is no longer where it was"),
        ],
    )
    def test_an_interpreter_that_is_not_there_or_broken_or_dies(self, menus, layers, tmp_path, program, said):
        interpreter = tmp_path / "python é"
        if program is not None:
            interpreter.write_text(program)
            interpreter.chmod(0o755)
        (menus / "crossgrain-engine.txt").write_text(str(interpreter), encoding="utf-8")
        assert said in refusal(choose(menus, "reduce", layers, "--id=front", "--by=8 %"))

    def test_one_that_does_not_answer(self, tmp_path, monkeypatch):
        interpreter = tmp_path / "python"
        interpreter.write_text("#!/bin/sh\nexec sleep 60\n")
        interpreter.chmod(0o755)
        monkeypatch.setattr(crossgrain_engine, "engine", lambda: [str(interpreter)])
        monkeypatch.setattr(crossgrain_engine, "PATIENCE_S", 0.2)
        with pytest.raises(RefusalError, match="did not answer within"):
            crossgrain_engine.ask(["reduce"], str(tmp_path / "target"))

    def test_a_fault_of_ours_keeps_its_traceback(self, menus, layers, tmp_path):
        interpreter = tmp_path / "python"
        interpreter.write_text("#!/bin/sh\nprintf 'Traceback\\nZeroDivisionError\\nPlease report it.\\n' >&2; exit 4\n")
        interpreter.chmod(0o755)
        (menus / "crossgrain-engine.txt").write_text(str(interpreter))
        done = choose(menus, "reduce", layers, "--id=front", "--by=8 %")
        assert (done.returncode, done.stdout) == (1, b"")
        assert "ZeroDivisionError" in done.stderr.decode()

    def test_what_the_engine_refuses_is_said_in_its_words(self, menus, layers):
        said = refusal(choose(menus, "allow", layers, "--id=front", "--width=8"))
        assert said == "“8” has no unit. Write it as 12.5 mm, 1.2 cm or 1 1/2 in."
        said = refusal(choose(menus, "reduce", layers, "--id=front", "--by=8 mm"))
        assert said.startswith("“8 mm” ")
        said = refusal(choose(menus, "reduce", layers, "--id=front", "--by=300 %"))
        assert said.startswith("A piece cannot be reduced by 300 %")

    def test_a_scale_in_doubt_is_asked_for_in_the_editors_words(self, menus, tmp_path):
        path = tmp_path / "doc.svg"
        path.write_text(BARE.replace('width="700mm" height="400mm" viewBox="0 0 700 400"', ""), encoding="utf-8")
        said = refusal(choose(menus, "reduce", path, "--id=front", "--by=8 %"))
        assert "--" not in said
        assert said.endswith("under File ▸ Document Properties.")


class TestDrawing:
    def test_a_drawing_that_was_never_saved_has_a_name_all_the_same(self, menus, tmp_path):
        path = tmp_path / "ink_ext_XXXXXX.svgQWERTZ"
        path.write_text(BARE, encoding="utf-8")
        done = choose(menus, "reduce", path, "--id=front", "--by=8 %")
        assert (done.returncode, done.stderr) == (0, b"")
        assert "drawing.svg has no outlines" not in refusal(choose(menus, "reduce", path, "--id=open", "--by=8 %"))

    def test_a_path_of_ten_thousand_nodes(self, menus, tmp_path):
        path = write_many_nodes(tmp_path, 10_000)
        done = choose(menus, "reduce", path, "--id=front", "--by=8 %")
        assert (done.returncode, done.stderr) == (0, b"")
        assert (
            done.stdout == by_command(tmp_path, path, "reduce", "--by", "8 %", "--piece", "front", *NOTES).read_bytes()
        )

    def test_no_drawing_at_all(self, menus, tmp_path):
        assert "cannot be read" in refusal(choose(menus, "reduce", tmp_path / "none.svg", "--id=front"))

    @pytest.mark.parametrize("name", NAMES)
    def test_options_that_are_unknown_or_missing_are_no_reason_to_crash(self, menus, layers, name):
        done = choose(menus, name, layers, "--id=front", "--what=ever", "--bare", "--selected-nodes=odd")
        assert done.returncode == 0 or refusal(done)

    def test_nothing_is_left_behind(self, menus, layers):
        before = set(layers.parent.iterdir())
        for by in ("8 %", "much"):
            choose(menus, "reduce", layers, "--id=front", f"--by={by}")
        assert set(layers.parent.iterdir()) == before
        assert layers.read_text(encoding="utf-8") == LAYERS


class TestPercent:
    @pytest.mark.parametrize("text", ["8", "8,", "8.", "8,0", "8.0", "+8", "8%", "8 %"])
    @pytest.mark.parametrize("field", ["by", "along"])
    def test_a_bare_figure_is_meant_in_percent_as_it_is_while_it_is_typed(self, menus, layers, tmp_path, field, text):
        fields = {"by": "5 %", field: text}
        done = choose(menus, "reduce", layers, "--id=front", *(f"--{name}={value}" for name, value in fields.items()))
        assert done.stderr == b""
        wanted = {**fields, field: "8 %"}
        options = [word for name, value in wanted.items() for word in (f"--{name}", value)]
        by_hand = by_command(tmp_path, named(layers), "reduce", *options, *NOTES, "--piece", "front")
        assert outline(done.stdout) == outline(by_hand.read_bytes())

    @pytest.mark.parametrize("text", ["8 mm", "-", "1/2", "8 8", "8,5,5"])
    def test_anything_else_is_left_to_the_engine(self, menus, layers, text):
        assert refusal(choose(menus, "reduce", layers, "--id=front", f"--by={text}")).startswith(f"“{text}” ")

    def test_nothing_is_asked_for(self, menus, layers):
        assert refusal(choose(menus, "reduce", layers, "--id=front")) == "Say how much narrower, as 8 %."
        fields = (f"--fabric={NEW}", f"--drafted_for={OLD}", "--way=stretch")
        said = refusal(choose(menus, "reduce-for-cloth", layers, "--id=front", *fields))
        assert said == "Say which share of its stretch to use, as 50 %."


class TestNodes:
    @pytest.mark.parametrize(
        ("arguments", "wanted"),
        [
            (["--edges=a b c d"], ("--edges", "a b c d", *(w for n in range(4) for w in ("--corner", f"node {n}")))),
            (["--edges=b", "--nodes=between"], ("--edges", "b", "--between", "node 1", "--between", "node 2")),
            (["--edges=a b c d", "--nodes=start"], ("--edges", "a b c d", "--start", "node 2")),
        ],
    )
    def test_selected_nodes_say_which_corners(self, menus, layers, tmp_path, arguments, wanted):
        numbers = sorted(int(word[5:]) for word in wanted if word.startswith("node "))
        nodes = [f"--selected-nodes=front:0:{number}" for number in numbers]
        done = choose(menus, "name-edges", layers, "--id=front", *nodes, *arguments)
        assert done.stderr == b""
        words = ("mark", *wanted, "--show", "notes", "--piece", "front")
        assert done.stdout == by_command(tmp_path, named(layers), *words).read_bytes()

    @pytest.mark.parametrize(
        ("fields", "options"),
        [
            (["--whole=true"], ()),
            (["--whole=false"], ("--piece", "front-right")),
            (["--whole=true", "--is_girth=true"], ("--girth",)),
        ],
    )
    def test_selected_nodes_say_where_to_take_in(self, menus, drawing, tmp_path, fields, options):
        source = drawing("trousers")
        nodes = [f"--selected-nodes=front-right:0:{number}" for number in (3, 1, 2)]
        done = choose(menus, "take-in", source, "--id=front-right", *nodes, "--by=12,5 mm", "--seam=hem", *fields)
        assert done.stderr == b""
        words = ("take-in", "--nodes", "1 2 3 of front-right", "--by", "12,5 mm", *options, *NOTES)
        assert done.stdout == by_command(tmp_path, source, *words).read_bytes()

    def test_nodes_of_two_pieces_do_not_say_where_to_take_in(self, menus, drawing):
        nodes = [f"--selected-nodes={id}:0:2" for id in ("front-right", "back")]
        done = choose(menus, "take-in", drawing("trousers"), "--id=back", *nodes, "--by=5 mm", "--whole=true")
        assert refusal(done) == "Nodes of several pieces are selected. Select nodes of one edge."

    @pytest.mark.parametrize(
        ("name", "fields", "sentence"),
        [
            ("take-in", ["--at=hip=5mm"], "Say which seam, as side, or select nodes of it with the Node tool."),
            ("take-in", ["--seam=side"], "Say how much along the seam, as waist=0mm; hip=12mm; hem=6mm."),
            ("lengthen", ["--at=hem"], "Say by how much, as 25 mm or -25 mm."),
            ("lengthen", ["--by=5 mm"], "Say where, as hem, knee or 550 mm."),
            ("true", [], "Say which seam, as side."),
        ],
    )
    def test_what_a_fitting_needs_is_asked_for(self, menus, drawing, name, fields, sentence):
        assert refusal(choose(menus, name, drawing("trousers"), "--id=back", "--whole=true", *fields)) == sentence

    def test_a_selected_node_becomes_a_notch(self, menus, layers, tmp_path):
        whole = choose(menus, "name-edges", layers, "--id=front", "--edges=a b c d").stdout
        layers.write_bytes(whole.replace(b"V 90", b"V 30 V 90"))
        arguments = ("--id=front", "--selected-nodes=front:0:2", "--mark=notch", "--notch=double", "--add=true")
        done = choose(menus, "mark", layers, *arguments)
        assert done.stderr == b""
        assert b'crossgrain:notches="b=25% double"' in done.stdout


def outline(drawing: bytes) -> str:
    return re.search(r'<path id="front"[^>]* d="([^"]*)"', drawing.decode())[1]


def named(drawing: Path) -> Path:
    """Return the drawing under a name the command line may be given."""
    path = drawing.with_suffix(".svg")
    path.write_bytes(drawing.read_bytes())
    return path
