"""Where a file cannot be written, the advice names options that the command has, and none that it has not."""

from __future__ import annotations

import pathlib
import re
import shutil
from importlib import import_module

import pytest

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS

SAMPLES = pathlib.Path(__file__).parent.parent.parent / "samples"
WRITING = {
    "take-in": ("-o", "--seam", "side", "--at", "waist=0mm", "--at", "50%=2mm", "--at", "hem=0mm"),
    "true": ("-o", "--seam", "side"),
    "lengthen": ("-o", "--at", "hem", "--by", "10mm"),
    "follow": ("-o",),
    "check": ("--mark",),
    "measure": ("-o",),
    "cut": ("-o",),
}


def refused(capsys, name, drawing, target):
    option, *others = WRITING[name]
    result = call(capsys, name, drawing, option, target, *others)
    assert result.code == Exit.REFUSED
    [error] = [line for line in result.err.splitlines() if line.startswith("Error: ")]
    return re.findall(r"--[a-z-]+", error)


@pytest.fixture(params=WRITING)
def name(request):
    return request.param


@pytest.fixture
def own(tmp_path):
    shutil.copy(SAMPLES / "trousers.svg", tmp_path / "own.svg")
    return tmp_path / "own.svg"


def options(name):
    return {word for option in import_module(COMMANDS[name].module).command.params for word in option.opts}


def test_over_the_drawing_itself(capsys, name, own):
    assert refused(capsys, name, own, own) == (["--in-place"] if "--in-place" in options(name) else [])


def test_over_a_file_that_is_there(capsys, name, own, tmp_path):
    (tmp_path / "there.svg").write_text("mine", encoding="utf-8")
    assert refused(capsys, name, own, tmp_path / "there.svg") == (
        ["--overwrite"] if "--overwrite" in options(name) else []
    )
