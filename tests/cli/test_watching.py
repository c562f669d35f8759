"""Watching: what is saved is done again, whatever becomes of the files meanwhile, until the maker stops it."""

from __future__ import annotations

import pytest

from crossgrain.cli import watching
from crossgrain.errors import DocumentError


class StoppedError(BaseException):
    """The maker's Ctrl+C."""


@pytest.fixture
def watched(tmp_path, monkeypatch):
    """Run ``again_and_again`` over a scene: what happens between one look and the next."""

    def play(once, files, *events):
        waiting = iter(events)

        def between(_seconds):
            event = next(waiting, None)
            if event is None:
                raise StoppedError
            event()

        monkeypatch.setattr(watching.time, "sleep", between)
        with pytest.raises(StoppedError):
            watching.again_and_again(once, files)

    return play


def nothing():
    pass


def test_it_is_done_once_and_again_when_a_file_is_changed_added_or_removed(tmp_path, watched):
    done = []
    (tmp_path / "a.svg").write_text("1")
    watched(
        lambda: done.append(sorted(path.name for path in tmp_path.iterdir())),
        lambda: tmp_path.glob("*.svg"),
        nothing,
        lambda: (tmp_path / "a.svg").write_text("12"),
        nothing,
        lambda: (tmp_path / "b.svg").write_text("1"),
        (tmp_path / "a.svg").unlink,
        nothing,
    )
    assert done == [["a.svg"], ["a.svg"], ["a.svg", "b.svg"], ["b.svg"]]


def test_what_is_saved_while_it_is_done_is_done_again(tmp_path, watched):
    drawing = tmp_path / "a.svg"
    drawing.write_text("1")
    done = []

    def once():
        done.append(drawing.read_text())
        if len(done) == 1:
            drawing.write_text("saved meanwhile")

    watched(once, lambda: [drawing], nothing)
    assert done == ["1", "saved meanwhile"]


def test_what_is_refused_is_said_and_waited_for(tmp_path, watched, capsys):
    drawing = tmp_path / "a.svg"

    def once():
        if not drawing.exists():
            raise DocumentError("It is not there.")

    watched(once, lambda: [drawing], nothing, lambda: drawing.write_text("1"))
    said = capsys.readouterr().err.splitlines()
    assert [line for line in said if line.startswith("Error")] == ["Error: It is not there."]
    assert sum(line.startswith("Watching") for line in said) == 2


def test_a_folder_that_is_gone_for_a_while_ends_nothing(tmp_path, watched):
    folder, done = tmp_path / "in", []

    def files():
        if not folder.exists():
            raise DocumentError("There is no folder.")
        return folder.glob("*.svg")

    def back():
        folder.mkdir()
        (folder / "a.svg").write_text("1")

    watched(lambda: done.append(folder.exists()), files, nothing, back, nothing)
    assert done == [False, True]
