"""Where the levels of a body lie, for commands that find places by them."""

from __future__ import annotations

from pathlib import Path


def depths_of_levels(body: Path | None, given: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float], ...]:
    """Return the depths of levels below the waist, mm: those of a body file, and those given one by one before them."""
    depths: dict[str, float] = {}
    if body is not None:
        from crossgrain.files import read_body_file

        depths = {level.name: level.depth for level in read_body_file(body).levels if level.depth is not None}
    return tuple((depths | dict(given)).items())
