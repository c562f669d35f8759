"""Which drawings a folder holds, and what is up to date."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from crossgrain.batch.record import FOLDER, digest, digest_of_file, forget_parts, is_ours, is_whole, write_record
from crossgrain.batch.tasks import drawings_in, is_up_to_date, key_of, tasks, twins, way
from crossgrain.errors import DocumentError
from crossgrain.pipeline import Stage
from crossgrain.recipe import Step


def made(step, folder):
    files = tuple(folder / text for key, texts in step.given if key == "fabric" for text in texts)
    return Stage(name=step.do, deed=lambda drawing, pattern: None, files=files)


def one_way(folder, by="8%", **more):
    steps = (Step(do="reduce", given=(("by", (by,)), ("fabric", ("cloth.toml",)))),)
    return way(steps, name="", folder=folder, make=made, **more)


class TestFolder:
    def test_every_drawing_is_found_once_in_the_order_of_names(self, tmp_path):
        for name in ("b.svg", "a.svgz", "sub/deep/c.SVG", "notes.txt", ".hidden.svg", ".git/d.svg"):
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).touch()
        assert [str(path) for path in drawings_in(tmp_path, tmp_path / "out")] == ["a.svgz", "b.svg", "sub/deep/c.SVG"]

    def test_results_within_the_folder_are_no_drawings(self, tmp_path):
        for name in ("a.svg", "out/a.svg", "out/.crossgrain/a.svg", "out-too/a.svg"):
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).touch()
        assert [str(path) for path in drawings_in(tmp_path, tmp_path / "out")] == ["a.svg", "out-too/a.svg"]

    def test_nor_are_those_of_another_run_into_another_folder(self, tmp_path):
        for name in ("a.svg", "earlier/a.svg", f"earlier/{FOLDER}/a.svg.json", "sub/b.svg"):
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).touch()
        assert [str(path) for path in drawings_in(tmp_path, tmp_path / "out")] == ["a.svg", "sub/b.svg"]
        assert [str(path) for path in drawings_in(tmp_path / "earlier", tmp_path / "out")] == ["a.svg"]

    def test_links_to_files_are_followed_and_links_to_folders_are_not(self, tmp_path):
        (tmp_path / "in").mkdir()
        (tmp_path / "elsewhere.svg").touch()
        (tmp_path / "in" / "link.svg").symlink_to(tmp_path / "elsewhere.svg")
        (tmp_path / "in" / "round").symlink_to(tmp_path / "in")
        assert [str(path) for path in drawings_in(tmp_path / "in", tmp_path / "out")] == ["link.svg"]

    @pytest.mark.skipif(sys.platform == "win32", reason="there are no pipes among files")
    def test_what_is_neither_file_nor_link_is_no_drawing(self, tmp_path):
        os.mkfifo(tmp_path / "pipe.svg")
        (tmp_path / "to-pipe.svg").symlink_to(tmp_path / "pipe.svg")
        (tmp_path / "folder.svg").mkdir()
        (tmp_path / "broken.svg").symlink_to(tmp_path / "nowhere.svg")
        assert [str(path) for path in drawings_in(tmp_path, tmp_path / "out")] == ["broken.svg"]

    def test_a_folder_that_may_not_be_read_is_named_itself(self, tmp_path, monkeypatch):
        for name in ("a.svg", "closed/b.svg", "open/c.svg"):
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).touch()
        scan = os.scandir

        def refused(place):
            if Path(place).name == "closed":
                raise PermissionError(13, "Permission denied", str(place))
            return scan(place)

        monkeypatch.setattr(os, "scandir", refused)
        found = [path.as_posix() for path in drawings_in(tmp_path, tmp_path / "out")]
        assert found == ["a.svg", "closed", "open/c.svg"]

    @pytest.mark.parametrize("outputs", [".", "..", "../in"])
    def test_results_may_not_be_written_over_drawings(self, tmp_path, outputs):
        (tmp_path / "in").mkdir()
        with pytest.raises(DocumentError, match="could be written over the drawings"):
            drawings_in(tmp_path / "in", tmp_path / "in" / outputs)

    def test_a_folder_that_is_not_there_is_refused(self, tmp_path):
        with pytest.raises(DocumentError, match="There is no folder"):
            drawings_in(tmp_path / "gone", tmp_path / "out")


class TestTwins:
    """Two names that a disk takes for one, as most memory sticks and some computers do."""

    NAMES = ("a/legs.svg", "a/Legs.svg", "A/legs.svg", "legs.svg", "l\u00e9gs.svg", "le\u0301gs.svg")

    def names(self, tmp_path, **more):
        found = tasks(tmp_path, tmp_path / "out", [one_way(tmp_path)], [Path(name) for name in self.NAMES])
        return {task.name: rest for task, rest in twins(list(found), tmp_path / "out")}

    def test_where_the_disk_tells_them_apart_there_are_none(self, tmp_path):
        (tmp_path / "cloth.toml").touch()
        (tmp_path / "out" / FOLDER).mkdir(parents=True)
        assert self.names(tmp_path) == {}

    def test_where_it_does_not_each_but_the_first_is_one(self, tmp_path):
        (tmp_path / "cloth.toml").touch()
        # A disk that tells no capitals apart finds the folder under both names.
        (tmp_path / "out" / FOLDER).mkdir(parents=True)
        (tmp_path / "out" / FOLDER.upper()).mkdir()
        assert self.names(tmp_path) == {
            "a/Legs.svg": "a/legs.svg",
            "A/legs.svg": "a/legs.svg",
            "le\u0301gs.svg": "l\u00e9gs.svg",
        }


class TestUpToDate:
    @pytest.fixture
    def task(self, tmp_path):
        (tmp_path / "in").mkdir()
        (tmp_path / "in" / "a.svg").write_text("drawing")
        (tmp_path / "cloth.toml").write_text("cloth")
        return self.task_of(tmp_path)

    def task_of(self, tmp_path, **more):
        [task] = tasks(tmp_path / "in", tmp_path / "out", [one_way(tmp_path, **more)], [Path("a.svg")])
        return task

    def finish(self, task):
        write_record(
            task.record, {"key": key_of(task, task.source.read_bytes()), "files": {"a.svg": digest(b"result")}}
        )
        task.target.parent.mkdir(exist_ok=True)
        task.target.write_bytes(b"result")

    def test_what_was_finished_is(self, tmp_path, task):
        assert not is_up_to_date(task)
        self.finish(task)
        assert is_up_to_date(task)
        assert is_up_to_date(self.task_of(tmp_path))

    @pytest.mark.parametrize("name", ["in/a.svg", "cloth.toml", "out/a.svg"])
    def test_a_changed_drawing_cloth_or_result_is_not(self, tmp_path, task, name):
        self.finish(task)
        (tmp_path / name).write_text("another")
        assert not is_up_to_date(self.task_of(tmp_path))

    def test_a_new_time_alone_changes_nothing(self, tmp_path, task):
        self.finish(task)
        os.utime(task.source, (1, 1))
        assert is_up_to_date(self.task_of(tmp_path))

    def test_another_amount_scale_or_engine_is_not(self, tmp_path, task, monkeypatch):
        self.finish(task)
        assert not is_up_to_date(self.task_of(tmp_path, by="9%"))
        assert not is_up_to_date(self.task_of(tmp_path, unit_mm=0.5))
        monkeypatch.setattr("crossgrain.batch.tasks.__version__", "0")
        assert not is_up_to_date(self.task_of(tmp_path))

    def test_a_drawing_that_vanished_is_not(self, task):
        self.finish(task)
        task.source.unlink()
        assert not is_up_to_date(task)

    @pytest.mark.parametrize("text", ["", "{", "[]", '"x"', "\x00"])
    def test_a_damaged_record_is_none(self, task, text):
        self.finish(task)
        task.record.write_text(text)
        assert not is_up_to_date(task)


class TestOurs:
    def test_a_result_is_ours_before_and_after_it_is_replaced(self, tmp_path):
        target = tmp_path / "a.svg"
        record = {"files": {"a.svg": digest(b"new")}, "were": {"a.svg": digest(b"old")}}
        for content, ours in ((b"old", True), (b"new", True), (b"by hand", False)):
            target.write_bytes(content)
            assert is_ours(target, record) is ours

    def test_all_that_was_written_must_stand_there_and_what_was_to_go_must_not(self, tmp_path):
        record = {
            "files": {"a.svg": digest(b"new"), "a.pdf": digest(b"pages")},
            "were": {"a.svg": digest(b"old"), "a-a0.pdf": digest(b"gone")},
        }
        assert not is_whole(tmp_path, record)
        (tmp_path / "a.svg").write_bytes(b"new")
        assert not is_whole(tmp_path, record)
        (tmp_path / "a.pdf").write_bytes(b"pages")
        assert is_whole(tmp_path, record)
        (tmp_path / "a-a0.pdf").write_bytes(b"gone")
        assert not is_whole(tmp_path, record)
        (tmp_path / "a-a0.pdf").write_bytes(b"by hand")
        assert is_whole(tmp_path, record)
        assert not is_whole(tmp_path, {})

    def test_a_file_without_a_record_is_not(self, tmp_path):
        (tmp_path / "a.svg").touch()
        assert not is_ours(tmp_path / "a.svg", {})
        assert digest_of_file(tmp_path / "gone.svg") is None


def test_parts_of_a_run_that_was_broken_off_go_and_new_ones_stay(tmp_path):
    (tmp_path / FOLDER).mkdir()
    old, new = tmp_path / FOLDER / ".a.svg.json.part", tmp_path / ".b.svg.xyz.part"
    for path in (old, new):
        path.touch()
    os.utime(old, (1, 1))
    forget_parts(tmp_path, 1000.0)
    assert not old.exists()
    assert new.exists()
