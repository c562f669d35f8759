"""Drawings and scripts for the tests of the menus."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from cli.drawings import write_bare, write_marked

ROOT = Path(__file__).parent.parent.parent
EXTENSION = ROOT / "extension"

sys.path.append(str(EXTENSION))


@pytest.fixture
def drawing(tmp_path, capsys):
    """Return a function that writes one of the drawings of the tests, by its name."""

    def write(name):
        if name in ("traced", "trousers"):
            original = {"traced": "traced-front.svg"}.get(name, f"{name}.svg")
            return Path(shutil.copy(ROOT / "samples" / original, tmp_path / f"{name}.svg"))
        path = (write_bare if name == "bare" else write_marked)(tmp_path)
        capsys.readouterr()
        return path

    return write
