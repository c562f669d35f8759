"""Run the program inside the test's own process, and keep what it wrote and said."""

from __future__ import annotations

import json
from typing import NamedTuple

from crossgrain.cli import main


class Result(NamedTuple):
    code: int
    out: str
    err: str

    @property
    def data(self):
        return json.loads(self.out)


def call(capsys, *words):
    capsys.readouterr()
    code = main([str(word) for word in words])
    return Result(int(code), *capsys.readouterr())
