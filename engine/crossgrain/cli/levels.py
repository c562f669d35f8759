"""Where the levels of a body lie, for commands that find places by them."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import click

from crossgrain.cli.amounts import EDGE_LENGTH
from crossgrain.language import _

LEVEL: Final = click.option(
    "--level", "levels", type=EDGE_LENGTH, multiple=True, help=_("A level's depth below the waist: hip=200mm.")
)
BODY: Final = click.option(
    "--body", metavar="BODY.toml", type=click.Path(path_type=Path), help=_("A body whose levels count.")
)


def levels_of(body: Path | None, given: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
    """Return the depths of levels below the waist, mm: those of a body file, and those given one by one before them."""
    depths: dict[str, float] = {}
    if body is not None:
        from crossgrain.files import read_body_file

        depths = {level.name: level.depth for level in read_body_file(body).levels if level.depth is not None}
    return tuple((depths | dict(given)).items())
