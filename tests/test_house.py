"""The house stands as the design says: what lies where, who imports whom, and what is written how."""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ENGINE = ROOT / "engine" / "crossgrain"
MODULES = sorted(ENGINE.rglob("*.py"))

TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "engine", "extension", "tests", "samples", "docs",
}  # fmt: skip
MADE_HERE = {"crossgrain-demo", "dist"}
"""What a run leaves beside them; git ignores both."""

NAMESPACES = (
    "http://www.w3.org/", "http://www.inkscape.org/namespaces/", "http://sodipodi.sourceforge.net/DTD/",
    "http://www.inkscape.org/namespace/", "http://ns.adobe.com/",
    "http://purl.org/dc/", "http://creativecommons.org/ns", "http://web.resource.org/cc/",
)  # fmt: skip
"""Names that look like addresses: those of XML."""
NOWHERE = ".invalid/"
"""RFC 2606 keeps this name free of hosts."""


def run(*command):
    return subprocess.run(
        command,
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT / "engine")},
        capture_output=True,
        text=True,
        check=False,
    )


def tree_of(module):
    return ast.parse(module.read_text(encoding="utf-8"))


def our_files():
    for folder, folders, files in os.walk(ROOT):
        folders[:] = [
            name
            for name in folders
            if name not in MADE_HERE | {"__pycache__"} and (not name.startswith(".") or name == ".ci")
        ]
        yield from (Path(folder, name) for name in files)


def test_the_top_level_holds_what_the_design_names_and_no_more():
    found = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    assert found - MADE_HERE == TOP_LEVEL


class TestTools:
    def test_imports_point_down_and_doors_are_used(self):
        result = run(
            sys.executable, "-c", "from importlinter.cli import lint_imports_command as run; run()", "--no-cache"
        )
        assert result.returncode == 0, result.stdout + result.stderr

    def test_every_layer_of_the_design_stands_in_the_contract(self):
        config = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
        layers = next(
            contract["layers"] for contract in config["tool"]["importlinter"]["contracts"] if contract["id"] == "down"
        )
        assert [layer.replace("(", "").replace(")", "") for layer in layers] == [
            "cli", "batch", "pipeline", "recipe", "output | svg | operations | checks", "files", "notation",
            "model | fabric", "units | kernel", "tolerances | errors", "language",
        ]  # fmt: skip

    @pytest.mark.parametrize("what", [("check",), ("format", "--check")])
    def test_ruff_finds_nothing(self, what):
        result = run(sys.executable, "-m", "ruff", *what, "--no-cache", ".")
        assert result.returncode == 0, result.stdout + result.stderr

    def test_mypy_strict_finds_nothing(self):
        result = run(sys.executable, "-m", "mypy")
        assert result.returncode == 0, result.stdout + result.stderr


class TestFiles:
    def test_there_are_files_to_look_at(self):
        assert len(MODULES) > 20

    @pytest.mark.parametrize("module", MODULES, ids=lambda module: module.relative_to(ENGINE).as_posix())
    def test_a_module_is_written_as_the_house_asks(self, module):
        tree = tree_of(module)
        assert not list(undocumented(tree))
        assert not list(printed(tree))
        if module.name != "tolerances.py":
            assert not list(epsilons(tree)), "an epsilon stands in tolerances.py, with its reason"
        assert len(module.read_text(encoding="utf-8").splitlines()) <= 400, "ask what this file mixes"
        assert module.stem not in {"utils", "util", "common", "helpers", "helper", "manager", "misc"}

    def test_the_median_module_is_one_page(self):
        lengths = sorted(len(module.read_text(encoding="utf-8").splitlines()) for module in MODULES)
        assert lengths[len(lengths) // 2] <= 160

    def test_no_file_names_a_place_on_one_machine_or_the_address_of_a_host(self):
        places = re.compile("/(?:wo" + "rk|ro" + "ot|ho" + r"me)/|ht" + r"tps?://[^\s\"'<>)\]]+")
        found = []
        for path in our_files():
            if path.name == "LICENSE":
                continue  # the licences' own text
            try:
                text = path.read_text(encoding="utf-8")
            except UnicodeDecodeError:
                continue
            found += [
                f"{path.relative_to(ROOT)}: {place}"
                for place in places.findall(text)
                if not place.startswith(NAMESPACES) and NOWHERE not in place
            ]
        assert not found

    def test_a_public_thing_without_a_sentence_is_seen(self):
        tree = ast.parse('"""M."""\nclass A:\n    "A."\n    def b(self): ...\ndef _c(): ...\nx = 1e-7\nprint(x)\n')
        assert list(undocumented(tree)) == ["b"]
        assert list(epsilons(tree)) == [1e-7]
        assert list(printed(tree)) == [7]


class TestSetUp:
    TEST = "python3 -m venv .venv && .venv/bin/pip install -q '.[test]' && .venv/bin/python -m pytest -q -n auto"
    DEMO = "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/crossgrain demo"

    def test_the_readme_gives_both_commands(self):
        lines = (ROOT / "README.md").read_text(encoding="utf-8").splitlines()
        assert self.TEST in lines
        assert self.DEMO in lines

    def test_ci_runs_the_command_of_the_readme(self):
        script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
        assert script.splitlines()[-1] == self.TEST
        assert "set -euo pipefail" in script
        assert os.access(ROOT / ".ci" / "run", os.X_OK)

    def test_no_file_records_download_addresses(self):
        assert not [path.name for path in our_files() if re.search(r"\.lock$|^lock|-lock\.", path.name)]

    @pytest.mark.parametrize(("ci", "code"), [("true", 1), ("", 0)])
    @pytest.mark.parametrize("skip", ["pytest.skip('no', allow_module_level=True)", "def test_x(): pytest.skip('no')"])
    def test_a_skipped_test_fails_where_every_test_must_run(self, tmp_path, ci, code, skip):
        (tmp_path / "conftest.py").write_text((ROOT / "tests" / "conftest.py").read_text(encoding="utf-8"))
        (tmp_path / "test_x.py").write_text(f"import pytest\ndef test_y(): pass\n{skip}\n")
        result = subprocess.run(
            [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "test_x.py"],
            cwd=tmp_path,
            env=os.environ | {"CI": ci},
            capture_output=True,
            text=True,
            check=False,
        )
        expected = code if code or "allow_module_level" not in skip else pytest.ExitCode.NO_TESTS_COLLECTED
        if code:
            assert result.returncode in (1, 2), result.stdout
            assert "was skipped" in result.stdout
        else:
            assert result.returncode == expected, result.stdout


def undocumented(tree):
    nodes = [tree]
    for node in nodes:
        if not isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            continue
        name = getattr(node, "name", "module")
        if name.startswith("_") and name != "__init__":
            continue
        if name != "__init__" and not ast.get_docstring(node):
            yield name
        if not isinstance(node, ast.FunctionDef):
            nodes += node.body


def printed(tree):
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print":
            yield node.lineno


def epsilons(tree):
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, float) and 0.0 < abs(node.value) < 1e-3:
            yield node.value
