"""The menu entries as the editor reads them: its own library's schema, one script each, and the engine's defaults."""

from __future__ import annotations

import ast
import subprocess
import sys
from dataclasses import fields
from importlib import import_module

import click
import pytest
from lxml import etree

from crossgrain.cli.command import LazyGroup
from crossgrain.cli.program import COMMANDS
from crossgrain.fabric.comparison import MATCHES, Matching
from crossgrain.operations.allowance import Allowance
from crossgrain.operations.cloth_reduction import ClothReduction
from crossgrain.operations.reduction import Reduction
from extension.actions import CHOICES, NAMES
from extension.conftest import EXTENSION

INX = "{http://www.inkscape.org/namespace/inkscape/extension}"
ENTRIES = sorted(EXTENSION.glob("*.inx"))
SCRIPTS = sorted(EXTENSION.glob("*.py"))
SHARED = {f"crossgrain_{name}.py" for name in ("cloth", "editor", "engine", "selection", "words")}


@pytest.fixture(scope="session")
def schema(tmp_path_factory):
    """The schema of the editor's library, version 1.4.1, from the package registry."""
    folder = tmp_path_factory.mktemp("inkex")
    command = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(folder), "inkex==1.4.1"]
    subprocess.run(command, check=True, capture_output=True)
    return etree.RelaxNG(etree.parse(folder / "inkex" / "tester" / "inkscape.extension.rng"))


def params(entry):
    return {param.get("name"): param for param in etree.parse(entry).iter(INX + "param")}


def default(param):
    return param[0].get("value") if param.get("type") == "optiongroup" else (param.text or "")


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.stem)
class TestEntry:
    def test_the_editors_schema_takes_it(self, entry, schema):
        assert schema.validate(etree.parse(entry)), schema.error_log

    def test_it_has_a_script_a_place_in_the_menu_and_a_line_in_the_table(self, entry):
        tree = etree.parse(entry)
        assert tree.findtext(f".//{INX}command") == f"{entry.stem}.py"
        assert (EXTENSION / f"{entry.stem}.py").is_file()
        assert tree.find(f".//{INX}submenu").get("name") == "Crossgrain"
        assert tree.getroot().get("translationdomain") == "crossgrain-menus"
        assert tree.findtext(f"{INX}id") == "crossgrain." + entry.stem.removeprefix("crossgrain_").replace("_", "-")
        assert tree.findtext(f"{INX}id").removeprefix("crossgrain.") in NAMES

    def test_every_field_is_read_by_its_script_and_every_field_read_is_there(self, entry):
        source = (EXTENSION / f"{entry.stem}.py").read_text(encoding="utf-8")
        tree = ast.parse(source)
        if "crossgrain_cloth" in source:
            tree.body += ast.parse((EXTENSION / "crossgrain_cloth.py").read_text(encoding="utf-8")).body
        words = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant)}
        names = set(params(entry)) - {"labels", "before"}
        if "save" in names:
            names.remove("save")
            assert "page=page" in source
        if entry.stem != "crossgrain_mark":  # whose fields are named as its pages
            assert names <= words
        if names & {"labels", "before"}:
            assert "shown" in source

    def test_a_field_is_text_so_that_lengths_carry_their_unit(self, entry):
        for param in params(entry).values():
            assert param.get("type") in ("string", "bool", "optiongroup", "notebook", "path")

    def test_a_file_is_chosen_with_a_picker_that_begins_at_a_sample(self, entry):
        for name, param in params(entry).items():
            if param.get("type") == "path" and name != "save":
                assert (param.get("mode"), param.get("filetypes")) == ("file", "toml")
                folder, _sign, file = param.text.partition("/")
                assert folder == "samples"
                assert (EXTENSION.parent / "samples" / file).is_file()


def test_there_are_as_many_entries_as_scripts():
    assert {script.stem for script in SCRIPTS if script.name not in SHARED} == {entry.stem for entry in ENTRIES}
    assert {choice.action for choice in CHOICES} == set(NAMES)


@pytest.mark.parametrize(
    ("entry", "definition", "example"),
    [("reduce", Reduction, {"by": "8 %"}), ("allow", Allowance, {"width": "10 mm", "edge": ""})],
)
def test_a_field_starts_with_the_default_of_the_engine_or_its_example(entry, definition, example):
    """What the engine has a default for is empty in the dialog, so that the engine's own holds."""
    found = params(EXTENSION / f"crossgrain_{entry}.inx")
    names = {field.name for field in fields(definition)}
    for name, param in found.items():
        if name in example:
            assert default(param) == example[name]
        elif name in names:
            assert default(param) == ""


def test_what_is_matched_and_accepted_starts_as_in_the_engine():
    for entry in ("compare", "reduce_for_cloth"):
        found = params(EXTENSION / f"crossgrain_{entry}.inx")
        assert default(found["match"]) == Matching().match
        assert {option.get("value") for option in found["match"]} == set(MATCHES)
        assert default(found["pressure"]) == ""
    standing = {field.name: field.default for field in fields(ClothReduction)}
    assert (default(found["accept_pressure"]) == "true") is standing["accept_pressure"]
    assert default(found["opening"]) == ""


@pytest.mark.parametrize("choice", CHOICES, ids=lambda choice: choice.action)
def test_the_options_a_script_gives_are_options_of_the_command(choice):
    command = import_module(COMMANDS[choice.command[0]].module).command
    if isinstance(command, LazyGroup):
        command = command.get_command(click.Context(command), choice.command[1])
    options = {option for parameter in command.params for option in parameter.opts}
    assert {word for word in choice.command if word.startswith("--")} <= options


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda script: script.stem)
class TestScript:
    def test_it_asks_for_nothing_but_the_standard_library(self, script):
        for node in ast.walk(ast.parse(script.read_text(encoding="utf-8"))):
            names = [node.module] if isinstance(node, ast.ImportFrom) else []
            names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                top = str(name).partition(".")[0]
                assert top in sys.stdlib_module_names or f"{top}.py" in SHARED

    def test_it_says_its_licence_first(self, script):
        assert script.read_text(encoding="utf-8").startswith("# SPDX-License-Identifier: GPL-2.0-or-later\n")

    def test_one_entry_is_short(self, script):
        if script.name not in SHARED:
            assert len(script.read_text(encoding="utf-8").splitlines()) <= 40
