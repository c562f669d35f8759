"""The pages on a folder: every drawing with its pictures, on pages a browser can bear, each leading to the others."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html

from crossgrain.output import folder_report as report
from crossgrain.output.folder_report import A_PAGE, PAGE, Reported, folder_report, page_number

RECORD = {
    "files": {"a#1 ü.pdf": "…", "legs.svg": "…"},
    "pictures": ["<figure><svg></svg></figure>"],
    "girths": [{"depth": 100.0, "before": 900.0, "after": None}],
}


def drawings(count, **more):
    return [Reported(name=f"sub/{number}/legs.svg", state="done", **more) for number in range(count)]


def pages(count, record=RECORD, **more):
    found = folder_report("Legs", ["All."], drawings(count, **more), lambda one: record)
    return {name: html.fromstring("".join(parts)) for name, parts in found}


def shown(page):
    return [heading.text for heading in page.iter("h2")]


@given(count=st.integers(0, 31), most=st.integers(1, 10))
def test_every_drawing_is_shown_once_with_its_pictures_and_every_link_finds_it(count, most):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(report, "A_PAGE", most)
        found = pages(count)
    assert [name for page in found.values() for name in shown(page)] == [one.name for one in drawings(count)]
    assert sum(len(page.findall(".//figure")) for page in found.values()) == count
    assert all(len(shown(page)) <= most for page in found.values())
    assert [*found][-1] == PAGE
    rows = found[PAGE].findall(".//td[@class='name']/a")
    assert [row.text for row in rows] == [one.name for one in drawings(count)]
    for name, page in found.items():
        for link in page.findall(".//a"):
            file, sign, place = link.get("href").partition("#")
            if sign:
                [heading] = [h for h in found[file or name].iter("h2") if h.get("id") == place]
                assert heading.text == link.text
            elif file.startswith("report"):
                assert file in found


def test_up_to_a_hundred_stand_on_one_page():
    assert A_PAGE == 100
    assert list(pages(100)) == [PAGE]
    assert list(pages(101)) == ["report-1.html", "report-2.html", PAGE]


def test_it_leads_to_the_files_of_each_result_whatever_their_names():
    links = [link.get("href") for link in pages(1)[PAGE].findall(".//a")]
    assert links == ["#d1", "sub/0/a%231%20%C3%BC.pdf", "sub/0/legs.svg"]


def test_nothing_is_asked_of_the_network():
    for count in (1, 201):
        for _name, parts in folder_report("Legs", [], drawings(count), lambda one: RECORD):
            text = "".join(parts)
            assert not re.search(r"src=|url\(|@import|https?:|<script|<img|<link", text)
            assert all(":" not in link and not link.startswith("/") for link in re.findall(r'href="([^"]*)"', text))


def test_no_page_is_made_before_the_one_before_it_was_taken():
    asked = []
    made = folder_report("Legs", [], drawings(250), lambda one: asked.append(one.name) or {})
    for number, (_name, parts) in enumerate(made):
        assert len(asked) == min(100 * number, 250)
        for _part in parts:
            pass


def test_what_is_wrong_is_said_in_a_line_and_a_traceback_in_its_own():
    [page] = pages(1, {}, message="It is <empty>.").values()
    assert "done: It is <empty>." in page.text_content()
    [page] = pages(1, {}, message="Traceback:\n  one\n").values()
    assert page.find(".//pre").text == "Traceback:\n  one\n"


def test_a_page_is_known_by_its_name():
    assert [page_number(name) for name in ("report-1.html", "report-12.html")] == [1, 12]
    for name in ("report.html", "report-0.html", "report-01.html", "report-1.html.bak", "my-report-1.html"):
        assert page_number(name) is None
