"""The commands that the readme and the pages show work as they stand, on the samples, one after the other."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS

ROOT = Path(__file__).parent.parent
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]


def commands_of(page):
    blocks = re.findall(r"```sh\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)
    lines = "".join(blocks).replace("\\\n", " ").splitlines()
    return [shlex.split(line) for line in lines if line.startswith(("crossgrain ", "mkdir ", "cp "))]


SHOWING = [page for page in PAGES if commands_of(page)]


def test_every_command_of_the_main_job_is_shown_in_the_readme_and_has_a_page():
    shown = {words[1] for words in commands_of(ROOT / "README.md")}
    for name in ("mark", "reduce", "take-in", "allow", "measure", "check"):
        assert name in shown
        assert commands_of(ROOT / "docs" / f"{name}.md")[0][:2] == ["crossgrain", name]


@pytest.mark.parametrize("page", SHOWING, ids=lambda page: page.stem)
def test_the_commands_of_a_page_work_one_after_the_other(page, capsys, tmp_path, monkeypatch):
    for kind in ("*.svg", "*.toml", "*.csv"):
        for sample in (ROOT / "samples").glob(kind):
            shutil.copy(sample, tmp_path)
    monkeypatch.chdir(tmp_path)
    for program, *words in commands_of(page):
        if program != "crossgrain":
            subprocess.run([program, *words], check=True)
            continue
        assert words[0] in COMMANDS
        if words[0] == "editor":
            continue  # it writes into the editor's own folder; tests/extension does that in one made for it
        result = call(capsys, *words)
        assert result.code in (Exit.FINE, Exit.FINDINGS), f"{shlex.join(words)}: {result.err}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_what_a_page_points_to_is_there(page):
    for target in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), target


@pytest.mark.parametrize("name", ["mark", "reduce", "take-in", "allow", "measure", "check", "grade"])
def test_every_option_of_a_command_is_told_on_its_page_or_is_common_to_all(name):
    from importlib import import_module

    from crossgrain.cli.job import COMMON

    text = (ROOT / "docs" / f"{name}.md").read_text(encoding="utf-8")
    for parameter in import_module(COMMANDS[name].module).command.params:
        if parameter.name not in COMMON:
            assert any(option in text for option in parameter.opts), parameter.opts
