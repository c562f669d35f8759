"""Every sentence has its translation, every field survives it, and figures are written as the language writes them."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import translations
from cli.program import call
from crossgrain import language
from crossgrain.cli.exits import Exit
from crossgrain.units import format_length, parse_length

ROOT = Path(__file__).parent.parent
FIELD = re.compile(r"\{[^}]*\}")
CATALOGUES = [(domain, path) for domain in translations.DOMAINS for path in translations.catalogues(domain)]


@pytest.mark.parametrize(("domain", "path"), CATALOGUES, ids=lambda value: getattr(value, "stem", value))
class TestCatalogue:
    def test_no_sentence_is_left_out(self, domain, path):
        done = {message.id for message in translations.read(path) if message.id and message.string}
        assert sorted(set(translations.sentences(domain)) - done) == []

    def test_every_field_is_in_the_translation(self, domain, path):
        for message in translations.read(path):
            if message.id and message.string:
                assert sorted(FIELD.findall(message.id)) == sorted(FIELD.findall(message.string)), message.id

    def test_white_space_at_its_ends_is_kept(self, domain, path):
        for message in translations.read(path):
            if message.id and message.string:
                assert (message.id[0] == " ", message.id[-1] == " ") == (
                    message.string[0] == " ",
                    message.string[-1] == " ",
                ), message.id

    def test_what_programs_read_is_what_translators_wrote(self, domain, path):
        assert path.with_suffix(".mo").read_bytes() == translations.compiled(path)


def test_there_is_french_for_both():
    assert {(domain, path.parent.parent.name) for domain, path in CATALOGUES} >= {
        ("crossgrain", "fr"),
        ("crossgrain-menus", "fr"),
    }


@pytest.fixture
def reading(monkeypatch):
    """Read as someone does whose environment says so."""

    def read(**environment):
        for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
            monkeypatch.delenv(name, raising=False)
        for name, value in environment.items():
            monkeypatch.setenv(name, value)
        language._catalogue.cache_clear()

    yield read
    monkeypatch.undo()
    language._catalogue.cache_clear()


@pytest.mark.parametrize(
    ("environment", "code"),
    [
        ({}, "en"),
        ({"LANG": "C.UTF-8"}, "en"),
        ({"LANG": "fr_FR.UTF-8"}, "fr"),
        ({"LANG": "fr_CA.UTF-8", "LC_ALL": "en_GB.UTF-8"}, "en"),
        ({"LANG": "en_GB.UTF-8", "LANGUAGE": "fr"}, "fr"),
        ({"LANGUAGE": "xx:fr:en"}, "fr"),
        ({"LANGUAGE": "en:fr"}, "en"),
        ({"LANGUAGE": "../../etc"}, "en"),
        ({"LANG": "xx_XX"}, "en"),
    ],
)
def test_the_environment_says_the_language(reading, environment, code):
    reading(**environment)
    assert language.language() == code


def test_figures_have_a_decimal_comma_in_french_and_words_keep_their_points(reading):
    reading(LANGUAGE="fr")
    sentence = language._("at x {x:.1f} mm, y {y:.1f} mm").format(x=12.5, y=40.0)
    assert "12,5" in sentence
    assert "40,0" in sentence
    assert "a.svg" in language._("Wrote {file}.").format(file="a.svg")
    reading()
    assert language._("at x {x:.1f} mm, y {y:.1f} mm").format(x=12.5, y=40.0) == "at x 12.5 mm, y 40.0 mm"


def test_english_loads_nothing():
    source = "import sys; from crossgrain.language import _; _('Wrote {file}.'); sys.exit('gettext' in sys.modules)"
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("LANG", "LC_"))}
    assert subprocess.run([sys.executable, "-c", source], env=environment, check=False).returncode == 0


def test_a_printed_length_is_read_again_in_french(reading):
    reading(LANGUAGE="fr")
    assert format_length(12.5) == "12,5 mm"
    assert parse_length(format_length(12.5)) == 12.5


def test_levels_are_said_by_their_words_and_read_by_both(reading):
    reading(LANGUAGE="fr")
    assert [language.level_word(name) for name in ("waist", "hip", "knee", "yoke")] == [
        "taille",
        "hanches",
        "genou",
        "yoke",
    ]
    assert [language.level_key(word) for word in ("Hanches", "hip", "empiècement")] == ["hip", "hip", "empiècement"]
    said = language._("Where the {level} lies is not known, so it is left out.").format(level="hip")
    assert "niveau hanches" in said
    reading(LANGUAGE="en")
    assert language.level_word("hip") == "hip"


def test_ends_of_a_seam_and_the_hem_are_read_by_their_words(reading, capsys, tmp_path):
    """What the tables call *taille* and *ourlet* may be typed so."""
    trousers = ROOT / "samples" / "trousers-untrued.svg"
    reading(LANGUAGE="fr")
    for words in (("true", "--seam", "side", "--give", "taille"), ("lengthen", "--at", "ourlet", "--by", "10mm")):
        assert call(capsys, words[0], trousers, "-o", tmp_path / f"{words[0]}.svg", *words[1:]).code == Exit.FINE
