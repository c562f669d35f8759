"""``crossgrain run``: a folder of drawings, good and bad, through a recipe; broken off anywhere and begun again."""

from __future__ import annotations

import gzip
import json
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cli.drawings import write_marked
from cli.program import call
from crossgrain.batch.hold import held
from crossgrain.cli.exits import Exit

RECIPE = """
[variables]
share = "8%"

[[step]]
do = "reduce"
by = "{share}"

[[step]]
do = "allow"
width = "10mm"
"""
KILLS = int(os.environ.get("CROSSGRAIN_KILLS", "8"))
"""How often the run is killed; 100 were, once, with ``CROSSGRAIN_KILLS=100 pytest tests/cli/test_run.py -k kill``."""


@pytest.fixture
def folder(tmp_path, capsys):
    """A folder with three drawings, one of them packed, and a recipe beside it."""
    inside = tmp_path / "in"
    (inside / "sub").mkdir(parents=True)
    marked = write_marked(tmp_path)
    shutil.copy(marked, inside / "legs.svg")
    shutil.copy(marked, inside / "sub" / "legs.svg")
    (inside / "packed.svgz").write_bytes(gzip.compress(marked.read_bytes()))
    marked.unlink()
    (tmp_path / "r.toml").write_text(RECIPE, encoding="utf-8")
    return tmp_path


def run(capsys, folder, *words, jobs="1"):
    return call(capsys, "run", folder / "r.toml", folder / "in", "-o", folder / "out", "--jobs", jobs, *words)


def contents(folder):
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def outputs(folder):
    return {name for name in contents(folder) if not name.startswith(".crossgrain")}


class TestRun:
    def test_every_drawing_appears_under_its_name_and_is_what_the_commands_give(self, folder, capsys):
        before = contents(folder / "in")
        result = run(capsys, folder)
        assert result.code == Exit.FINE, result.err
        assert outputs(folder / "out") == {"legs.svg", "packed.svgz", "sub/legs.svg", "report.json", "report.html"}
        assert contents(folder / "in") == before
        narrower, to_cut = folder / "narrower.svg", folder / "to-cut.svg"
        call(capsys, "reduce", folder / "in" / "legs.svg", "-o", narrower, "--by", "8%")
        call(capsys, "allow", narrower, "-o", to_cut, "--width", "10mm")
        by_hand = to_cut.read_bytes()
        assert (folder / "out" / "legs.svg").read_bytes() == by_hand
        assert gzip.decompress((folder / "out" / "packed.svgz").read_bytes()) == by_hand

    def test_two_jobs_give_what_one_gives(self, folder, capsys):
        run(capsys, folder)
        one = contents(folder / "out")
        shutil.rmtree(folder / "out")
        run(capsys, folder, jobs="2")
        assert contents(folder / "out") == one

    def test_a_second_run_does_nothing_and_changes_nothing(self, folder, capsys):
        run(capsys, folder)
        once = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in (folder / "out").rglob("*legs.svg*")}
        result = run(capsys, folder, "--json")
        assert [one["state"] for one in result.data] == ["kept"] * 3
        assert {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in once} == once

    def test_only_what_depends_on_a_change_is_done_again(self, folder, capsys):
        run(capsys, folder)
        text = (folder / "in" / "legs.svg").read_text(encoding="utf-8")
        (folder / "in" / "legs.svg").write_text(text.replace("Two legs", "Two other legs"), encoding="utf-8")
        states = {one["name"]: one["state"] for one in run(capsys, folder, "--json").data}
        assert states == {"legs.svg": "done", "packed.svgz": "kept", "sub/legs.svg": "kept"}

    def test_a_variable_has_what_is_given(self, folder, capsys):
        run(capsys, folder, "--with", "share=4%")
        [entry] = [e for e in (folder / "out" / "legs.svg").read_text().splitlines() if 'operation="reduce"' in e]
        assert 'by="4%"' in entry

    def test_sizes_and_cloths_have_folders_of_their_own(self, folder, capsys):
        (folder / "r.toml").write_text('[[step]]\ndo = "reduce"\nby = "{size}"\nanchor = "{cloth}"\n')
        result = run(capsys, folder, "--sizes", "4%,8%", "--cloths", "side, inseam")
        assert result.code == Exit.FINE, result.err
        found = {name for name in outputs(folder / "out") if name.endswith("sub/legs.svg")}
        assert found == {f"{size}/{cloth}/sub/legs.svg" for size in ("4%", "8%") for cloth in ("side", "inseam")}

    def test_the_last_step_may_lay_the_pieces_out(self, folder, capsys):
        with (folder / "r.toml").open("a") as recipe:
            recipe.write('[[step]]\ndo = "cut"\ngarment = "Tights"\nwidth-of-cloth = "1.4m"\n')
        result = run(capsys, folder)
        assert result.code in (Exit.FINE, Exit.FINDINGS), result.err
        narrower, to_cut, sheet = (folder / f"{name}.svg" for name in ("narrower", "to-cut", "sheet"))
        call(capsys, "reduce", folder / "in" / "legs.svg", "-o", narrower, "--by", "8%")
        call(capsys, "allow", narrower, "-o", to_cut, "--width", "10mm")
        call(capsys, "cut", to_cut, "-o", sheet, "--garment", "Tights", "--width-of-cloth", "1.4m")
        assert (folder / "out" / "legs.svg").read_bytes() == sheet.read_bytes()
        data = json.loads((folder / "out" / "report.json").read_text(encoding="utf-8"))
        listed = [row[0] for table in data["drawings"][0]["tables"] for row in table["rows"]]
        assert {"front leg", "back leg"} <= set(listed)

    def test_the_report_tells_of_each_drawing(self, folder, capsys):
        (folder / "in" / "bad.svg").write_text("no drawing")
        run(capsys, folder)
        data = json.loads((folder / "out" / "report.json").read_text(encoding="utf-8"))
        assert [(one["name"], one["state"]) for one in data["drawings"]] == [
            ("bad.svg", "refused"),
            ("legs.svg", "done"),
            ("packed.svgz", "done"),
            ("sub/legs.svg", "done"),
        ]
        girths = data["drawings"][1]["girths"]
        assert girths
        assert all(abs(one["after"] / one["before"] - 0.92) < 1e-6 for one in girths)
        page = (folder / "out" / "report.html").read_text(encoding="utf-8")
        assert page.count("<h2 ") == 4
        assert page.count("<svg role") == 6
        assert "not an SVG drawing" in page


def test_a_browser_prints_the_report_on_a4_and_asks_for_nothing(folder, capsys):
    run(capsys, folder)
    page, pdf = folder / "out" / "report.html", folder / "page.pdf"
    assert not re.search(r"src=|url\(|@import|https?:|<script", page.read_text(encoding="utf-8"))
    flags = "--headless --no-sandbox --disable-gpu --no-first-run --no-pdf-header-footer --enable-logging=stderr"
    words = ["chromium", *flags.split(), f"--user-data-dir={folder / 'user'}", f"--print-to-pdf={pdf}", page.as_uri()]
    said = subprocess.run(words, check=True, capture_output=True, text=True, timeout=120).stderr
    assert "CONSOLE" not in said
    about = subprocess.run(["pdfinfo", pdf], check=True, capture_output=True, text=True).stdout
    width, height = (float(part) for part in re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", about).groups())
    assert (width, height) == (pytest.approx(595.3, abs=1.0), pytest.approx(841.9, abs=1.0))
    boxes = subprocess.run(["pdftotext", "-bbox", pdf, "-"], check=True, capture_output=True, text=True).stdout
    right = [float(edge) for edge in re.findall(r'xMax="([\d.]+)"', boxes)]
    assert len(right) > 50
    assert max(right) < width


class TestFaults:
    BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'

    def test_bad_files_are_reported_and_the_rest_is_done(self, folder, capsys):
        inside = folder / "in"
        good = (inside / "legs.svg").read_bytes()
        (inside / "empty.svg").touch()
        (inside / "cut-short.svg").write_bytes(good[: len(good) // 2])
        (inside / "other.svg").write_bytes(b"%PDF-1.4")
        (inside / "bomb.svg").write_text(self.BOMB)
        (inside / "coding.svg").write_bytes(good.replace(b"UTF-8", b"UTF-16", 1))
        (inside / "unmarked.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>')
        long = b"M0,0 " + b"L1,1 2,2 " * 1_200_000 + b"Z"
        (inside / "long.svg").write_bytes(good.replace(b'd="M 20,20', b'd="' + long + b" M 20,20", 1))
        (inside / "gone.svg").symlink_to(folder / "nowhere.svg")
        result = run(capsys, folder, "--json")
        states = {one["name"]: one["state"] for one in result.data}
        assert {name for name, state in states.items() if state == "done"} == {
            "legs.svg",
            "packed.svgz",
            "sub/legs.svg",
        }
        bad = set(states) - {"legs.svg", "packed.svgz", "sub/legs.svg"}
        assert bad == {
            f"{name}.svg" for name in ("empty", "cut-short", "other", "bomb", "coding", "unmarked", "long", "gone")
        }
        assert {states[name] for name in bad} == {"refused"}
        assert all(one["message"] for one in result.data if one["name"] in bad)
        assert result.code == Exit.REFUSED
        assert not any((folder / "out" / name).exists() for name in bad)

    def test_one_that_may_not_be_read_is_reported(self, folder, capsys, monkeypatch):
        from crossgrain.svg import reader

        read = reader.file_bytes

        def refused(source):
            if source.name == "legs.svg" and source.parent.name == "in":
                with pytest.MonkeyPatch.context() as patch:
                    patch.setattr(Path, "open", _may_not)
                    return read(source)
            return read(source)

        monkeypatch.setattr(reader, "file_bytes", refused)
        result = run(capsys, folder, "--json")
        assert [(one["state"], "may not be read" in one["message"]) for one in result.data] == [
            ("refused", True),
            ("done", False),
            ("done", False),
        ]

    def test_a_folder_that_may_not_be_read_is_reported(self, folder, capsys, monkeypatch):
        scan = os.scandir

        def refused(place):
            if Path(place) == folder / "in" / "sub":
                raise PermissionError(13, "Permission denied", str(place))
            return scan(place)

        monkeypatch.setattr(os, "scandir", refused)
        result = run(capsys, folder, "--json")
        assert [(one["name"], one["state"]) for one in result.data] == [
            ("legs.svg", "done"),
            ("packed.svgz", "done"),
            ("sub", "refused"),
        ]
        assert "sub may not be read" in result.data[2]["message"]

    def test_a_result_altered_by_hand_is_kept(self, folder, capsys):
        run(capsys, folder)
        (folder / "out" / "legs.svg").write_text("by hand")
        result = run(capsys, folder, "--with", "share=4%", "--json")
        assert [one["state"] for one in result.data] == ["refused", "done", "done"]
        assert "was altered since it was written" in result.data[0]["message"]
        assert (folder / "out" / "legs.svg").read_text() == "by hand"
        assert run(capsys, folder, "--with", "share=4%", "--overwrite").code == Exit.FINE
        assert (folder / "out" / "legs.svg").read_text() != "by hand"

    def test_a_fault_of_ours_is_told_with_its_traceback_and_stops_nothing(self, folder, capsys, monkeypatch):
        from crossgrain.operations import reduction

        def broken(pattern, _wanted):
            raise ZeroDivisionError("ours")

        monkeypatch.setattr(reduction, "reduce", broken)
        result = run(capsys, folder)
        assert result.code == Exit.FAULT
        assert result.err.count("ZeroDivisionError: ours") == 3

    def test_a_result_that_is_no_longer_the_drawings_is_said(self, folder, capsys):
        run(capsys, folder)
        whole = (folder / "out" / "legs.svg").read_bytes()
        (folder / "in" / "legs.svg").write_text("spoilt")
        (folder / "in" / "new.svg").write_text("spoilt")
        said = {one["name"]: one["message"] for one in run(capsys, folder, "--json").data}
        assert said["legs.svg"].endswith(" What stands there under its name is the result of an earlier run.")
        assert "earlier run" not in said["new.svg"]
        assert (folder / "out" / "legs.svg").read_bytes() == whole
        (folder / "out" / "legs.svg").write_text("by hand")
        assert "earlier run" not in run(capsys, folder, "--json").data[0]["message"]

    def test_a_folder_without_drawings_is_said(self, tmp_path, capsys):
        (tmp_path / "in").mkdir()
        (tmp_path / "r.toml").write_text(RECIPE)
        result = run(capsys, tmp_path)
        assert (result.code, "no drawings" in result.err) == (Exit.FINDINGS, True)

    def test_a_second_run_into_the_same_folder_is_refused_while_the_first_is_at_work(self, folder, capsys):
        with held(folder / "out"):
            before = contents(folder / "out")
            result = run(capsys, folder)
            assert (result.code, "Another run is at work in" in result.err) == (Exit.REFUSED, True)
            assert len(result.err.splitlines()) == 1
            assert contents(folder / "out") == before
        assert run(capsys, folder).code == Exit.FINE

    @pytest.mark.parametrize("name", ["report.html", "report.json"])
    def test_a_report_that_no_run_has_written_stays(self, folder, capsys, name):
        (folder / "out").mkdir()
        (folder / "out" / name).write_text("mine")
        result = run(capsys, folder)
        assert (result.code, f"{name} is there already, and no run has written it" in result.err) == (3, True)
        assert outputs(folder / "out") == {name}
        assert run(capsys, folder, "--overwrite").code == run(capsys, folder).code == Exit.FINE

    def test_a_scale_of_zero_is_refused_at_once(self, folder, capsys):
        result = run(capsys, folder, "--scale", "0mm")
        assert (result.code, "--scale is zero" in result.err, (folder / "out").exists()) == (Exit.USAGE, True, False)

    def test_rules_that_are_not_there_have_their_line(self, folder, capsys):
        (folder / "r.toml").write_text('[[step]]\ndo = "grade"\nrules = "gone.toml"\nsize = "{size}"\n')
        result = run(capsys, folder, "--sizes", "8-12")
        assert (result.code, "r.toml, line 3: " in result.err, "gone.toml" in result.err) == (Exit.REFUSED, True, True)

    @pytest.mark.parametrize("ending", ["", '[[step]]\ndo = "cut"\n'], ids=["drawing", "sheet"])
    @pytest.mark.parametrize("overwrite", [(), ("--overwrite",)], ids=["", "overwrite"])
    def test_no_link_among_the_results_leads_to_a_drawing(self, folder, capsys, overwrite, ending):
        with (folder / "r.toml").open("a") as recipe:
            recipe.write(ending)
        (folder / "out").mkdir()
        (folder / "out" / "sub").symlink_to(folder / "in" / "sub")
        (folder / "out" / "packed.svgz").symlink_to(folder / "in" / "legs.svg")
        before = contents(folder / "in")
        result = run(capsys, folder, "--json", *overwrite)
        assert contents(folder / "in") == before
        states = {one["name"]: one["message"] for one in result.data if one["state"] == "refused"}
        assert list(states) == ["packed.svgz", "sub/legs.svg"]
        assert all("is a link and leads elsewhere" in message for message in states.values())

    @pytest.mark.skipif(sys.platform != "linux", reason="names are text there")
    def test_names_that_are_no_text_or_too_long_are_reported_and_the_rest_is_done(self, folder, capsys):
        good = (folder / "in" / "legs.svg").read_bytes()
        (folder / "in" / os.fsdecode(b"\xff.svg")).write_bytes(good)
        (folder / "in" / f"{'x' * 249}.svg").write_bytes(good)
        result = run(capsys, folder, "--json")
        states = {one["name"]: one["state"] for one in result.data}
        assert states == {
            "legs.svg": "done",
            "packed.svgz": "done",
            "sub/legs.svg": "done",
            f"{'x' * 249}.svg": "refused",
            "\\udcff.svg": "refused",
        }
        said = {one["name"]: one["message"] for one in result.data}
        assert said["\\udcff.svg"] == "Its name is no text in UTF-8. Rename it."
        assert "its name is too long" in said[f"{'x' * 249}.svg"]
        assert "udcff" in (folder / "out" / "report.html").read_text(encoding="utf-8")

    def test_two_cloths_of_one_name_are_refused_before_one_hides_the_other(self, folder, capsys):
        (folder / "r.toml").write_text('[[step]]\ndo = "reduce"\nby = "8%"\nanchor = "{cloth}"\n')
        result = run(capsys, folder, "--cloths", "a/soft.toml,b/soft.toml")
        assert (result.code, "both be written into the folder soft" in result.err) == (Exit.REFUSED, True)
        assert not (folder / "out").exists()

    @pytest.mark.parametrize("size", ["..", "a/b", "a\\b"])
    def test_no_size_leads_out_of_the_folder_of_results(self, folder, capsys, size):
        (folder / "r.toml").write_text('[[step]]\ndo = "reduce"\nby = "8%"\nanchor = "{size}"\n')
        result = run(capsys, folder, "--sizes", size)
        assert (result.code, "No folder can be named after" in result.err) == (Exit.REFUSED, True)
        assert set(folder.iterdir()) == {folder / "r.toml", folder / "in"}

    def test_what_a_maker_can_mend_while_a_drawing_is_done_is_no_fault_of_ours(self, folder, capsys):
        dart = ("mark", folder / "in" / "legs.svg", "--in-place", "--piece", "back", "--dart")
        call(capsys, *dart, "waist=50% width 20mm depth 80mm")
        (folder / "r.toml").write_text(
            '[[step]]\ndo = "take-in"\nseam = "dart"\nat = "waist=3mm"\nshare = "front=40%"\n', encoding="utf-8"
        )
        result = run(capsys, folder, "--json")
        said = {one["name"]: (one["state"], one["message"]) for one in result.data}
        assert said["legs.svg"] == ("refused", "r.toml, line 2: --share does not go with darts: both legs take alike.")

    @pytest.mark.parametrize(
        ("step", "said"),
        [
            ('do = "take-in"\nseam = "sied"\nat = "waist=3mm"', "r.toml, line 4: No piece has an edge named sied."),
            ('do = "reduce"\nby = "8%"\npiece = "font leg"', "r.toml, line 4: "),
            ('do = "true"\nseam = "sied"', "r.toml, line 4: "),
            ('do = "check"\npiece = "font leg"', "r.toml, line 4: "),
            ('do = "sheets"\noff = "sied"', "r.toml, line 4: "),
        ],
    )
    def test_what_a_step_cannot_do_to_a_drawing_has_its_line(self, folder, capsys, step, said):
        (folder / "r.toml").write_text(f"# one\n\n[[step]]\n{step}\n", encoding="utf-8")
        result = run(capsys, folder, "--json")
        assert {one["state"] for one in result.data} == {"refused"}
        assert all(one["message"].startswith(said) for one in result.data)

    def test_what_is_wrong_with_the_drawing_itself_has_none(self, folder, capsys):
        (folder / "in" / "bare.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>')
        [bare, *_rest] = run(capsys, folder, "--json").data
        assert (bare["state"], "r.toml" in bare["message"]) == ("refused", False)

    @pytest.mark.parametrize(
        ("words", "said"),
        [
            (("--with", "cloth=x"), "No step of the recipe uses the variable {cloth}"),
            (("--with", "cloth"), "Write it as body=size-12.toml"),
            (("--sizes", "40"), "No step of the recipe uses the variable {size}"),
        ],
    )
    def test_what_the_recipe_has_no_use_for_is_refused(self, folder, capsys, words, said):
        result = run(capsys, folder, *words)
        assert result.code in (Exit.REFUSED, Exit.USAGE)
        assert said in result.err
        assert not (folder / "out").exists()


def _may_not(*_arguments, **_more):
    raise PermissionError(13, "Permission denied")


def test_killed_at_any_moment_and_begun_again_nothing_is_lost(folder, capsys):
    for number in range(9):
        shutil.copy(folder / "in" / "legs.svg", folder / "in" / f"legs-{number}.svg")
    before = contents(folder / "in")
    call(capsys, "run", folder / "r.toml", folder / "in", "-o", folder / "whole")
    words = [sys.executable, "-m", "crossgrain.cli", "run", "r.toml", "in", "-o", "out", "--jobs", "2"]
    chance = random.Random(8)
    last = time.monotonic()
    killed = 0
    for _attempt in range(KILLS):
        process = subprocess.Popen(words, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            process.wait(chance.uniform(0.2, 2.0))
        except subprocess.TimeoutExpired:
            process.send_signal(signal.SIGKILL)
            killed += process.wait() == -signal.SIGKILL
    assert killed, f"every run ended within {time.monotonic() - last} s"
    subprocess.run(words, cwd=folder, check=True, capture_output=True)
    assert outputs(folder / "out") == outputs(folder / "whole")
    whole, again = contents(folder / "whole"), contents(folder / "out")
    drawings = {name for name in outputs(folder / "whole") if not name.startswith("report.")}
    assert len(drawings) == 12
    assert {name: again[name] for name in drawings} == {name: whole[name] for name in drawings}
    assert contents(folder / "in") == before


def test_watching_does_again_what_is_saved(folder):
    words = [sys.executable, "-m", "crossgrain.cli", "run", "r.toml", "in", "-o", "out", "--jobs", "1", "--watch"]
    process = subprocess.Popen(words, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
    try:
        for line in process.stderr:
            if line.startswith("Watching"):
                break
        first = (folder / "out" / "legs.svg").read_bytes()
        (folder / "r.toml").write_text(RECIPE.replace("10mm", "12mm"), encoding="utf-8")
        for line in process.stderr:
            if line.startswith("Watching"):
                break
        assert (folder / "out" / "legs.svg").read_bytes() != first
    finally:
        process.kill()
        process.communicate()
