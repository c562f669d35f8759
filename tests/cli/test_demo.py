"""The demo does the whole job on the samples by commands that can be typed, in one recipe."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess

import pytest
from lxml import etree, html

from cli.program import call
from crossgrain.cli.demo import CLOTHS, NEEDED, SIZES
from crossgrain.cli.exits import Exit
from crossgrain.cli.samples import sample
from crossgrain.errors import DocumentError
from crossgrain.fabric.pressure import ESTIMATE
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

RESULTS = [f"recut/{size}/{cloth.removesuffix('.toml')}/trousers.svg" for size in SIZES for cloth in CLOTHS]


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """What one run of the demo says and writes."""
    import os
    from contextlib import redirect_stderr, redirect_stdout
    from io import StringIO

    from crossgrain.cli import main

    folder, before = tmp_path_factory.mktemp("demo"), os.getcwd()
    out, err = StringIO(), StringIO()
    os.chdir(folder)
    try:
        with redirect_stdout(out), redirect_stderr(err):
            code = main(["demo"])
    finally:
        os.chdir(before)
    return folder / "crossgrain-demo", code, out.getvalue(), err.getvalue()


def written(folder):
    return {
        str(path.relative_to(folder))
        for path in folder.rglob("*")
        if path.is_file() and ".crossgrain" not in path.relative_to(folder).parts
    }


def test_it_writes_what_it_read_what_came_out_a_page_for_the_projector_and_two_to_read(demo):
    folder, code, _out, _err = demo
    assert code == Exit.FINE
    pages = {"cloths.html", "recut/report.html", "recut/report.json"}
    sheets = {result.replace(".svg", "-projector.pdf") for result in RESULTS}
    assert written(folder) == {"drawings/trousers.svg", *NEEDED, *RESULTS, *sheets, *pages}


def test_the_drawing_and_what_the_recipe_reads_are_the_samples(demo):
    for name in NEEDED:
        assert (demo[0] / name).read_bytes() == sample(name).read_bytes()
    assert (demo[0] / "drawings" / "trousers.svg").read_bytes() == sample("trousers.svg").read_bytes()


def test_what_it_shows_can_be_typed_and_writes_the_same(demo, capsys, tmp_path, monkeypatch):
    folder, _code, _out, err = demo
    shutil.copytree(folder, tmp_path / "crossgrain-demo", ignore=shutil.ignore_patterns("recut", "*.html"))
    monkeypatch.chdir(tmp_path)
    lines = [line for line in err.splitlines() if line.startswith("$ crossgrain ")]
    assert len(lines) == 3
    for line in lines:
        assert call(capsys, *shlex.split(line)[2:]).code in (Exit.FINE, Exit.FINDINGS)
    assert written(tmp_path / "crossgrain-demo") == written(folder)
    for name in RESULTS:
        assert (tmp_path / "crossgrain-demo" / name).read_bytes() == (folder / name).read_bytes()


def test_every_result_is_every_piece_laid_out_and_listed(demo):
    folder, _code, out, _err = demo
    pieces = pattern_of(read_drawing(sample("trousers.svg"))).pieces
    data = json.loads((folder / "recut" / "report.json").read_text(encoding="utf-8"))
    assert [f"recut/{one['name']}" for one in data["drawings"]] == RESULTS
    for one in data["drawings"]:
        assert one["name"] in out
        sheet = (folder / "recut" / one["name"]).read_text(encoding="utf-8")
        listed = [row[0] for table in one["tables"] for row in table["rows"]]
        for piece in pieces:
            assert f'id="cut-{piece.id}-1"' in sheet
            assert piece.label in listed


def test_a_larger_size_is_wider_and_a_cloth_that_gives_more_easily_narrower(demo):
    data = json.loads((demo[0] / "recut" / "report.json").read_text(encoding="utf-8"))
    hips = {one["name"]: next(g["after"] for g in one["girths"] if g["depth"] == 200.0) for one in data["drawings"]}
    for cloth in ("cloth-softer", "cloth-firmer"):
        assert hips[f"8/{cloth}/trousers.svg"] < hips[f"10/{cloth}/trousers.svg"] < hips[f"12/{cloth}/trousers.svg"]
    for size in SIZES:
        assert hips[f"{size}/cloth-softer/trousers.svg"] < hips[f"{size}/cloth-firmer/trousers.svg"] - 20.0


def test_the_report_reaches_for_nothing_and_names_no_place_on_this_machine(demo):
    text = (demo[0] / "recut" / "report.html").read_text(encoding="utf-8")
    assert not re.search(r"src=|url\(|@import|https?:", text)
    assert all((demo[0] / "recut" / link).exists() for link in re.findall(r'href="([^"#]+)"', text))
    assert str(demo[0]) not in text


def test_what_is_said_of_every_reduction_by_cloth_is_said_once_and_stands_in_the_report(demo):
    folder, _code, _out, err = demo
    run = err[err.index("$ crossgrain run") :]
    assert run.count(ESTIMATE) == 1
    assert ESTIMATE in html.parse(folder / "recut" / "report.html").getroot().text_content()
    assert json.loads((folder / "recut" / "report.json").read_text(encoding="utf-8"))["remarks"] == [ESTIMATE]


def test_every_drawing_on_the_report_is_well_formed_and_has_an_extent(demo):
    text = (demo[0] / "recut" / "report.html").read_text(encoding="utf-8")
    drawings = re.findall(r"<svg role.*?</svg>", text, re.DOTALL)
    assert len(drawings) == 6 * len(RESULTS)
    for drawing in drawings:
        view = [float(part) for part in etree.fromstring(drawing).get("viewBox").split()]
        assert min(view[2:]) > 20.0


def test_run_again_it_keeps_what_was_altered_and_leaves_the_samples_alone(capsys, tmp_path, monkeypatch):
    monkeypatch.setattr("crossgrain.cli.demo.SIZES", ("10",))
    monkeypatch.setattr("crossgrain.cli.demo.CLOTHS", ("cloth-softer.toml",))
    before = {name: sample(name).read_bytes() for name in (*NEEDED, "trousers.svg")}
    assert call(capsys, "demo", "--into", tmp_path / "again").code == Exit.FINE
    altered = sample("recut.toml").read_text(encoding="utf-8").replace("hem=30mm", "hem=40mm")
    (tmp_path / "again" / "recut.toml").write_text(altered, encoding="utf-8")
    result = call(capsys, "demo", "--into", tmp_path / "again")
    assert result.code == Exit.FINE
    assert "up to date" not in result.out
    assert (tmp_path / "again" / "recut.toml").read_text(encoding="utf-8") == altered
    assert "up to date" in call(capsys, "demo", "--into", tmp_path / "again").out
    assert before == {name: sample(name).read_bytes() for name in before}


def test_a_folder_that_cannot_be_made(capsys, tmp_path):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    result = call(capsys, "demo", "--into", tmp_path / "file")
    assert (result.code, result.out) == (Exit.REFUSED, "")
    assert "--into" in result.err


def test_a_sample_that_is_not_there():
    with pytest.raises(DocumentError, match="Install Crossgrain again"):
        sample("no-such.svg")


def test_a_browser_prints_the_report_at_a_fifth_of_true_size(demo, tmp_path):
    """Against Chromium's print: two names of the waistband's edges lie as far apart on paper as the drawing says."""
    browser = shutil.which("chromium")
    if browser is None or shutil.which("pdftotext") is None:
        pytest.skip("needs chromium and poppler-utils")
    page, pdf = demo[0] / "recut" / "report.html", tmp_path / "page.pdf"
    flags = (
        "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
        "--disable-component-update --disable-sync --no-pdf-header-footer"
    )
    words = [browser, *flags.split(), f"--user-data-dir={tmp_path / 'user'}", f"--print-to-pdf={pdf}", page.as_uri()]
    subprocess.run(words, check=True, capture_output=True, timeout=120)
    text = subprocess.run(
        ["pdftotext", "-bbox", pdf, "-"], check=True, capture_output=True, text=True, timeout=60
    ).stdout
    boxes = re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">(right|left)</word>', text)
    # "left" and "right" stand in names of pieces too; those of the last waistband's ends stand last.
    printed = {name: (float(top) + float(bottom)) / 2.0 * 25.4 / 72.0 for top, bottom, name in boxes}
    bands = [svg for svg in html.parse(page).getroot().iter("svg") if svg.findtext("title") == "Piece waistband"]
    drawn = {label.text: float(label.get("y")) for label in bands[-1].iter("text") if label.get("y")}
    assert printed["left"] - printed["right"] == pytest.approx((drawn["left"] - drawn["right"]) / 5.0, abs=0.3)
    assert drawn["left"] - drawn["right"] > 700.0
