"""A whole outline with joins and trimming, beside shapely's buffer of its polyline: the sample trousers."""

from __future__ import annotations

import sys
from pathlib import Path as File

import shapely
from side_by_side import Row, counted, timed

from crossgrain.kernel.flatten import flatten
from crossgrain.kernel.parallels.outline_parallel import parallel_of_outline
from crossgrain.kernel.path import Path

SHAPELY = "shapely's `buffer`"
ACCURACY = 0.01


def pieces() -> list[tuple[str, Path, list[float]]]:
    """Return the sample front and back with 10 mm all round and 30 mm at the hem."""
    sys.path.insert(0, str(File(__file__).parents[2] / "samples"))
    from drafting.trousers import trousers

    out = []
    for piece in trousers().pieces:
        if piece.id.endswith(("front-right", "back")):
            widths = [30.0 if edge.name == "hem" else 10.0 for edge in piece.edges for _segment in edge.line.segments]
            out.append((piece.id, piece.line, widths))
    return out


def all_rows() -> list[Row]:
    """Measure each piece with one width all round, as buffer has it, and ours with the hem's own width too."""
    out = []
    for name, outline, widths in pieces():
        same = [10.0] * len(widths)
        for style, join in (("mitre", "mitre"), ("round", "round")):
            polygon = shapely.Polygon(flatten(outline, ACCURACY).points)

            def ours(outline: Path = outline, same: list[float] = same, style: str = style) -> object:
                return parallel_of_outline(outline, same, style=style, accuracy=ACCURACY)

            def theirs(outline: Path = outline, join: str = join) -> object:
                polygon = shapely.Polygon(flatten(outline, ACCURACY).points)
                return shapely.buffer(polygon, 10.0, quad_segs=QUARTER, join_style=join, mitre_limit=3.0)

            def theirs_bare(polygon: shapely.Polygon = polygon, join: str = join) -> object:
                return shapely.buffer(polygon, 10.0, quad_segs=QUARTER, join_style=join, mitre_limit=3.0)

            line = ours()
            buffered = shapely.get_num_coordinates(theirs_bare()) - 1
            out.append(
                timed(f"{name}, 10 mm, {style} corners", ours, theirs_bare, 10.0, f"{SHAPELY} of the ready polyline")
            )
            out.append(
                timed(f"{name}, the same from the path", ours, theirs, None, f"{SHAPELY} with making the polyline")
            )
            out.append(
                counted(f"{name}, nodes, {style} corners", len(line.segments), buffered, 1.0 / 13.0, "nodes", SHAPELY)
            )

        def with_hem(outline: Path = outline, widths: list[float] = widths) -> object:
            return parallel_of_outline(outline, widths, accuracy=ACCURACY)

        out.append(
            timed(f"{name}, 10 mm and 30 mm at the hem", with_hem, theirs_bare, None, f"{SHAPELY}, 10 mm all round")
        )
    return out


QUARTER = 18
"""Chords in a quarter turn of 10 mm: with 18 they stray from it by 0.0095 mm, as the polyline may."""
