"""The report as files: its further pages come and go with the number of drawings, and what is not ours stays."""

from __future__ import annotations

import json

import pytest

from crossgrain.batch.reporting import check_reports, write_reports
from crossgrain.batch.work import Result
from crossgrain.errors import DocumentError


def results(count):
    return [Result(name=f"{number}.svg", state="done") for number in range(count)]


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_further_pages_go_when_there_are_fewer_drawings(tmp_path):
    write_reports(tmp_path, "Legs", results(201))
    assert names(tmp_path) == ["report-1.html", "report-2.html", "report-3.html", "report.html", "report.json"]
    write_reports(tmp_path, "Legs", results(101))
    assert names(tmp_path) == ["report-1.html", "report-2.html", "report.html", "report.json"]
    write_reports(tmp_path, "Legs", results(1))
    assert names(tmp_path) == ["report.html", "report.json"]


def test_a_page_of_the_makers_own_stays(tmp_path):
    (tmp_path / "report-7.html").write_text("mine")
    write_reports(tmp_path, "Legs", results(1))
    assert (tmp_path / "report-7.html").read_text() == "mine"


@pytest.mark.parametrize("name", ["report.json", "report.html", "report-2.html"])
def test_what_the_maker_has_there_or_a_link_is_known_before_anything_runs(tmp_path, name):
    outputs = tmp_path / "out"
    outputs.mkdir()
    check_reports(outputs, 201)
    write_reports(outputs, "Legs", results(201))
    check_reports(outputs, 201)
    (outputs / name).write_text("mine")
    with pytest.raises(DocumentError, match="no run has written it"):
        check_reports(outputs, 201)
    check_reports(outputs, 201, overwrite=True)
    if name == "report-2.html":
        check_reports(outputs, 100)
    (outputs / name).rename(tmp_path / "elsewhere")
    (outputs / name).symlink_to(tmp_path / "elsewhere")
    with pytest.raises(DocumentError, match="is a link and leads elsewhere"):
        check_reports(outputs, 201, overwrite=True)


def test_the_data_hold_every_drawing(tmp_path):
    write_reports(tmp_path, "Legs", results(201), ["a remark"])
    data = json.loads((tmp_path / "report.json").read_text(encoding="utf-8"))
    assert [one["name"] for one in data["drawings"]] == [f"{number}.svg" for number in range(201)]
    assert data["remarks"] == ["a remark"]
