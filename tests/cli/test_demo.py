"""The demo does the main job on the samples by commands that can be typed, and shows it on one page."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess

import pytest
from lxml import etree, html

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.samples import sample
from crossgrain.errors import DocumentError
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

DRAWINGS = [
    "pieces.svg",
    "front-marked.svg",
    "front-narrower.svg",
    "front-to-cut.svg",
    "trousers-by-cloth.svg",
    "trousers-fitted-whole.svg",
    "trousers-fitted.svg",
    "trousers-lengthened.svg",
    "trousers-narrower.svg",
    "trousers-to-cut.svg",
    "trousers-trued.svg",
    "trousers-whole-to-cut.svg",
]
PAGES = ["cloths.html", "cut-list.html", "demo.html"]


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


def test_it_writes_its_drawings_and_one_page(demo):
    folder, code, _out, _err = demo
    assert code == Exit.FINE
    assert sorted(path.name for path in folder.iterdir()) == sorted([*DRAWINGS, *PAGES])


def test_progress_on_standard_error_and_the_widths_on_standard_output(demo):
    _folder, _code, out, err = demo
    assert err.count("$ crossgrain ") == 14
    assert "before" in out
    for label in ("traced front", "left front", "right front", "back"):
        row = next(line for line in out.splitlines() if line.strip().startswith(label) and "widest" in line)
        assert "-8.0 %" in row


def test_what_it_shows_can_be_typed_and_writes_the_same(demo, capsys, tmp_path, monkeypatch):
    folder, _code, _out, err = demo
    monkeypatch.chdir(tmp_path)
    (tmp_path / "crossgrain-demo").mkdir()
    for line in err.splitlines():
        if line.startswith("$ crossgrain "):
            assert call(capsys, *shlex.split(line)[2:]).code == Exit.FINE
    for name in DRAWINGS:
        assert (tmp_path / "crossgrain-demo" / name).read_bytes() == (folder / name).read_bytes()


def test_the_widths_shrink_by_the_share_and_what_is_stabilised_stays(demo):
    folder = demo[0]
    before = pattern_of(read_drawing(sample("trousers.svg")))
    after = pattern_of(read_drawing(folder / "trousers-to-cut.svg"))
    for piece in before.pieces:
        same = after.piece(piece.id).line == piece.line
        assert same is piece.cut.stabilised
        assert after.piece(piece.id).counterpart is not None


def test_the_page_shows_every_piece_before_and_after(demo):
    tree = html.parse(demo[0] / "demo.html").getroot()
    captions = [figure.find("figcaption/b").text for figure in tree.iter("figure")]
    assert captions == ["traced front", "left front", "right front", "back", "waistband", "fly facing", "fly guard"]
    for figure in tree.iter("figure"):
        classes = [path.get("class") for path in figure.iter("path")]
        assert {"before", "after", "other"} <= set(classes)


def test_the_page_reaches_for_nothing_and_names_no_place_on_this_machine(demo):
    text = (demo[0] / "demo.html").read_text(encoding="utf-8")
    assert not re.search(r"(src|href)=|url\(|@import|https?:", text)
    assert str(demo[0]) not in text


def test_every_drawing_on_the_page_is_well_formed_and_has_an_extent(demo):
    text = (demo[0] / "demo.html").read_text(encoding="utf-8")
    drawings = re.findall(r"<svg role.*?</svg>", text, re.DOTALL)
    assert len(drawings) == 7
    for drawing in drawings:
        view = [float(part) for part in etree.fromstring(drawing).get("viewBox").split()]
        assert min(view[2:]) > 20.0


def test_it_may_be_run_again_and_leaves_the_samples_alone(capsys, tmp_path):
    samples = {name: sample(name).read_bytes() for name in ("traced-front.svg", "trousers.svg")}
    for _time in range(2):
        assert call(capsys, "demo", "--into", tmp_path / "again").code == Exit.FINE
    assert samples == {name: sample(name).read_bytes() for name in samples}


def test_a_folder_that_cannot_be_made(capsys, tmp_path):
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    result = call(capsys, "demo", "--into", tmp_path / "file")
    assert (result.code, result.out) == (Exit.REFUSED, "")
    assert "--into" in result.err


def test_a_sample_that_is_not_there():
    with pytest.raises(DocumentError, match="Install Crossgrain again"):
        sample("no-such.svg")


def test_a_browser_prints_the_page_at_a_fifth_of_true_size(demo, tmp_path):
    """Against Chromium's print: two names of the waistband's edges lie as far apart on paper as the drawing says."""
    browser = shutil.which("chromium")
    if browser is None or shutil.which("pdftotext") is None:
        pytest.skip("needs chromium and poppler-utils")
    page, pdf = demo[0] / "demo.html", tmp_path / "page.pdf"
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
    printed = {name: (float(top) + float(bottom)) / 2.0 * 25.4 / 72.0 for top, bottom, name in boxes if name == "left"}
    # "left" and "right" stand in names of pieces too; those of the waistband's ends stand last.
    printed["right"] = next(
        (float(top) + float(bottom)) / 2.0 * 25.4 / 72.0 for top, bottom, name in reversed(boxes) if name == "right"
    )
    svg = next(svg for svg in html.parse(page).getroot().iter("svg") if svg.findtext("title") == "Piece waistband")
    drawn = {label.text: float(label.get("y")) for label in svg.iter("text") if label.get("y")}
    assert printed["left"] - printed["right"] == pytest.approx((drawn["left"] - drawn["right"]) / 5.0, abs=0.3)
    assert drawn["left"] - drawn["right"] > 700.0


def test_a_page_that_cannot_be_written_leaves_nothing_behind(capsys, tmp_path):
    (tmp_path / "demo.html").mkdir()
    result = call(capsys, "demo", "--into", tmp_path)
    assert result.code == Exit.REFUSED
    assert "demo.html cannot be written" in result.err
    assert not [path.name for path in tmp_path.iterdir() if path.name.startswith(".")]


def test_it_ends_with_every_piece_laid_out_and_listed(demo):
    folder, _code, _out, err = demo
    assert err.splitlines()[-1].endswith("for the cut list.")
    sheet = (folder / "pieces.svg").read_text(encoding="utf-8")
    page = (folder / "cut-list.html").read_text(encoding="utf-8")
    for piece in pattern_of(read_drawing(folder / "trousers-whole-to-cut.svg")).pieces:
        assert f'id="cut-{piece.id}-1"' in sheet
        assert f"<td>{piece.label}</td>" in page
    assert sheet.count(">no allowance<") == 1, "on the card alone"
