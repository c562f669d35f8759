"""The menus are installed whole, replaced, removed and packed, whatever the user's folder is called."""

from __future__ import annotations

import sys
import zipfile

import pytest

from cli.program import call
from crossgrain.cli.editor import doctor, places
from crossgrain.cli.editor.install import install
from crossgrain.cli.exits import Exit

ENTRIES = {"allow", "check", "compare", "mark", "measure", "name_edges", "reduce", "reduce_for_cloth"}


@pytest.fixture(params=["profile", "mein Profil é 文"])
def profile(tmp_path, request):
    folder = tmp_path / request.param
    folder.mkdir()
    return folder


@pytest.fixture
def menus(profile):
    return profile / "extensions" / "crossgrain"


class TestInstall:
    def test_all_that_is_needed_is_there(self, capsys, profile, menus):
        result = call(capsys, "editor", "install", "--profile", profile)
        assert (result.code, result.out) == (Exit.FINE, "")
        assert str(menus) in result.err
        assert {path.stem.removeprefix("crossgrain_") for path in menus.glob("*.inx")} >= ENTRIES
        assert (menus / "crossgrain-engine.txt").read_text(encoding="utf-8").strip() == sys.executable
        assert (menus / "locale" / "fr" / "LC_MESSAGES" / "crossgrain-menus.mo").is_file()
        assert (menus / "samples" / "cloth-softer.toml").is_file()
        assert not [path for path in menus.rglob("*") if path.suffix in (".pyc", ".po")]
        assert {path.name for path in profile.iterdir()} == {"extensions"}

    def test_again_replaces_what_was_there(self, capsys, profile, menus):
        call(capsys, "editor", "install", "--profile", profile)
        (menus / "crossgrain_old.py").write_text("")
        assert call(capsys, "editor", "install", "--profile", profile).code == Exit.FINE
        assert not (menus / "crossgrain_old.py").exists()

    def test_a_cloth_of_the_makers_own_beside_the_samples_is_kept(self, capsys, profile, menus):
        install(menus)
        mine = menus / "samples" / "my-cloth.toml"
        mine.write_text("mine", encoding="utf-8")
        install(menus)
        assert mine.read_text(encoding="utf-8") == "mine"
        result = call(capsys, "editor", "remove", "--profile", profile)
        assert result.code == Exit.REFUSED
        assert "my-cloth.toml is yours" in result.err
        assert mine.is_file()

    def test_a_folder_of_someone_else_is_left_alone(self, capsys, profile, menus):
        menus.mkdir(parents=True)
        (menus / "mine.txt").write_text("mine")
        result = call(capsys, "editor", "install", "--profile", profile)
        assert result.code == Exit.REFUSED
        assert "is not ours" in result.err
        assert [path.name for path in menus.iterdir()] == ["mine.txt"]

    def test_a_profile_that_cannot_be_written_to(self, capsys, tmp_path):
        (tmp_path / "file").write_text("")
        result = call(capsys, "editor", "install", "--profile", tmp_path / "file")
        assert result.code == Exit.REFUSED
        assert "cannot be written" in result.err

    def test_no_editor_on_this_machine(self, capsys, monkeypatch):
        monkeypatch.setattr(places, "_candidates", list)
        result = call(capsys, "editor", "install")
        assert result.code == Exit.REFUSED
        assert "No editor was found" in result.err


class TestRemove:
    def test_nothing_of_ours_stays(self, capsys, profile, menus):
        install(menus)
        assert call(capsys, "editor", "remove", "--profile", profile).code == Exit.FINE
        assert list((profile / "extensions").iterdir()) == []
        assert "no menus of ours" in call(capsys, "editor", "remove", "--profile", profile).err


class TestDoctor:
    @pytest.fixture(autouse=True)
    def one_editor(self, monkeypatch, tmp_path):
        self.editor = {"words": ("inkscape",), "version": (1, 3), "sandbox": "", "profile": tmp_path}
        monkeypatch.setattr(doctor, "editors", lambda: (places.Editor(**self.editor),))

    def test_all_is_well(self, capsys, profile, menus):
        install(menus)
        result = call(capsys, "editor", "doctor", "--profile", profile)
        assert (result.code, result.err.splitlines()[-1]) == (Exit.FINE, "All is well: the menus reach the engine.")

    @pytest.mark.parametrize(
        ("facts", "said"),
        [
            ({"version": (1, 0)}, "too old"),
            ({"version": (2, 0)}, "tried with 1.2 to 1.4"),
            ({"version": None}, "does not say which version"),
            ({"sandbox": "snap"}, "sandbox (snap)"),
        ],
    )
    def test_an_editor_that_may_not_do(self, capsys, profile, menus, facts, said):
        self.editor |= facts
        install(menus)
        result = call(capsys, "editor", "doctor", "--profile", profile)
        assert result.code == Exit.FINDINGS
        assert said in result.err

    def test_menus_that_are_not_there_or_reach_no_engine(self, capsys, profile, menus):
        assert "There are no menus" in call(capsys, "editor", "doctor", "--profile", profile).err
        install(menus)
        (menus / "crossgrain-engine.txt").write_text("/nowhere/python", encoding="utf-8")
        result = call(capsys, "editor", "doctor", "--profile", profile)
        assert result.code == Exit.FINDINGS
        assert "cannot be started" in result.err
        (menus / "crossgrain-engine.txt").unlink()
        assert "do not know where the engine is" in call(capsys, "editor", "doctor", "--profile", profile).err

    def test_menus_in_two_places(self, capsys, profile, menus):
        install(menus)
        install(profile / "extensions" / "from-the-manager")
        assert "from-the-manager too" in call(capsys, "editor", "doctor", "--profile", profile).err


def test_the_zip_holds_the_menus_beside_one_another_and_is_the_same_each_time(capsys, tmp_path):
    first, second = tmp_path / "1.zip", tmp_path / "2.zip"
    for target in (first, second):
        assert call(capsys, "editor", "zip", "-o", target).code == Exit.FINE
    assert first.read_bytes() == second.read_bytes()
    names = zipfile.ZipFile(first).namelist()
    assert {name.split("/")[0] for name in names} == {"crossgrain"}
    assert "crossgrain/crossgrain_reduce.inx" in names
    assert not [name for name in names if name.endswith((".pyc", ".so", ".po", "crossgrain-engine.txt"))]
