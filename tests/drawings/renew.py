"""Write the drawings after anew, and with ``--before`` those before: see README.md in this folder."""

from __future__ import annotations

import pathlib
import sys

TESTS = pathlib.Path(__file__).parents[1]
sys.path[:0] = [str(TESTS.parent / "samples"), str(TESTS)]

# ruff: noqa: E402 (the draft and the scenes are found on the path set above)
from draft import marked
from drafting.sheet import Sheet, moved
from drafting.trousers import trousers

from crossgrain.kernel.bounds import bounds
from drawing_scenes import PIECES, SCENES, done, file


def drafted(name: str) -> bytes:
    """Lay the pieces of a scene side by side on a sheet as small as they allow."""
    x, pieces = 40.0, []
    for id in PIECES[name]:
        pieces.append(moved(trousers().piece(id), x, 40.0))
        x = round(bounds(pieces[-1].line).right) + 40.0
    height = round(max(bounds(piece.line).bottom for piece in pieces) + 40.0)
    sheet = Sheet(width=round(x), height=height, title=(), pieces=tuple(pieces), labels={})
    return marked(sheet, file(name, "before").name)


def main() -> None:
    for name in SCENES:
        if "--before" in sys.argv[1:]:
            file(name, "before").write_bytes(drafted(name))
        file(name, "after").write_bytes(done(name))


if __name__ == "__main__":
    main()
