"""Two runs never work in one folder at a time, and one that was killed is in nobody's way."""

from __future__ import annotations

import errno
import signal
import subprocess
import sys
import threading

import pytest

from crossgrain.batch import hold
from crossgrain.batch.hold import BusyError, held
from crossgrain.errors import DocumentError

HOLDS = """
import sys, time
from pathlib import Path
from crossgrain.batch.hold import held
with held(Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(600)
"""


def another_process(folder):
    process = subprocess.Popen([sys.executable, "-c", HOLDS, folder], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline() == "held\n"
    return process


def test_a_folder_is_held_by_one_and_free_when_that_has_done(tmp_path):
    with held(tmp_path / "out"), pytest.raises(BusyError, match="Another run is at work in"), held(tmp_path / "out"):
        raise AssertionError("held twice")
    with held(tmp_path / "out"):
        pass


def test_two_folders_are_held_at_once(tmp_path):
    with held(tmp_path / "one"), held(tmp_path / "two"):
        pass


def test_whatever_goes_wrong_sets_it_free(tmp_path):
    with pytest.raises(ZeroDivisionError), held(tmp_path):
        raise ZeroDivisionError
    with held(tmp_path):
        pass


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal")
def test_another_process_holds_it_until_it_is_killed(tmp_path):
    process = another_process(tmp_path)
    try:
        with pytest.raises(BusyError), held(tmp_path):
            raise AssertionError("held twice")
    finally:
        process.send_signal(signal.SIGKILL)
        process.communicate()
    assert (tmp_path / ".crossgrain" / hold.NAME).exists()
    with held(tmp_path):
        pass


def test_who_is_patient_gets_it_when_the_other_has_done(tmp_path, monkeypatch):
    monkeypatch.setattr(hold, "_LOOK_EVERY", 0.01)
    order = []

    def other():
        with held(tmp_path, patient=True):
            order.append("second")

    with held(tmp_path):
        waiting = threading.Thread(target=other)
        waiting.start()
        waiting.join(0.1)
        order.append("first")
    waiting.join(60)
    assert order == ["first", "second"]


def test_a_file_in_the_place_of_the_folder_is_refused(tmp_path):
    (tmp_path / "out").touch()
    with (
        pytest.raises(DocumentError, match=r"Results cannot be written into .*out: it is a file"),
        held(tmp_path / "out"),
    ):
        raise AssertionError("held a file")


@pytest.mark.skipif(sys.platform == "win32", reason="locks are another library's there")
@pytest.mark.parametrize("number", [errno.ENOLCK, errno.ENOTSUP, errno.EIO])
def test_a_disk_that_knows_no_locks_is_worked_on_without(tmp_path, monkeypatch, number):
    def refused(*_words):
        raise OSError(number, "no")

    monkeypatch.setattr(hold.fcntl, "flock", refused)
    if number == errno.EIO:
        with pytest.raises(DocumentError, match=r"cannot be written into .*: no"), held(tmp_path):
            raise AssertionError("held")
    else:
        with held(tmp_path):
            pass
