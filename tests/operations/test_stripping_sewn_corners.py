"""The stitch line comes back from a cut line with shaped corners, whichever edge the shape's lines were named to."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from crossgrain.kernel.path import Path
from crossgrain.model import Edge, Piece, SewnCorner, Width
from crossgrain.operations.allowance import Allowance, allow, strip
from outline_widths import apart
from pieces import one
from sewn_corners import leg

NAMES = ("waist", "side", "hem", "inseam")


def cut_out(piece, corners, widths, splits):
    """The piece as it is traced from cut cloth: its cut line, its edges beginning at the nodes nearest to points."""
    named = tuple((name, Width.of(mm)) for name, mm in widths.items())
    [new] = allow(one(piece), Allowance(edges=named, corners=corners)).value.pieces
    nodes = new.counterpart.nodes
    starts = [min(range(len(nodes)), key=lambda k: math.dist(nodes[k], splits[name])) for name in NAMES]
    segments = new.counterpart.segments
    lines = []
    for a, b in zip(starts, [*starts[1:], starts[0]], strict=True):
        lines.append(segments[a:b] if a < b else segments[a:] + segments[:b])
    edges = tuple(Edge(name=name, line=Path(line)) for name, line in zip(NAMES, lines, strict=True))
    return Piece(id="cut", edges=edges, outline="cut")


def stripped(cut, corners, widths):
    named = tuple((name, Width.of(mm)) for name, mm in widths.items())
    [new] = strip(one(cut), Allowance(edges=named, corners=corners)).value.pieces
    return new.counterpart


def of(text, way, guide="", amount=None):
    return SewnCorner(edges=tuple(text.split("/")), way=way, guide=guide, amount=amount)


@settings(max_examples=25)
@given(
    st.floats(-10.0, 10.0),
    st.floats(6.0, 15.0),
    st.floats(6.0, 15.0),
    st.sampled_from(["squared", "blunted", "stepped", "straight", "mitred"]),
    st.booleans(),
)
def test_the_stitch_line_comes_back(lean, width, side, way, first_end):
    """The shape's own lines count as the waist's or as the side's: the stitch corner is the same."""
    piece = leg(math.radians(lean), math.radians(3.0))
    guide = "side" if way in ("squared", "straight") else ""
    corners = (of("waist/side", way, guide),)
    widths = {"waist": width, "side": side, "hem": 25.0, "inseam": 10.0}
    # The farther node out to the side, or the one above the corner.
    splits = {"waist": (-110.0, -width), "side": (130.0, 0.0) if first_end else (100.0, -40.0)}
    splits |= {"hem": (300.0, 500.0), "inseam": (-300.0, 500.0)}
    cut = cut_out(piece, corners, widths, splits)
    assert apart(stripped(cut, corners, widths), piece.line) <= 0.02


@settings(max_examples=20)
@given(st.floats(-10.0, 10.0), st.floats(6.0, 15.0), st.floats(20.0, 40.0))
def test_a_mirrored_hem_gives_its_fold_back(lean, width, depth):
    piece = leg(math.radians(lean), math.radians(-lean))
    corners = (of("hem", "mirrored", "hem"),)
    widths = {"waist": 10.0, "side": width, "hem": depth, "inseam": width}
    splits = {"waist": (-110.0, -10.0), "side": (110.0, -10.0), "hem": (300.0, 900.0), "inseam": (-300.0, 900.0)}
    cut = cut_out(piece, corners, widths, splits)
    assert apart(stripped(cut, corners, widths), piece.line) <= 0.02


def test_without_the_style_a_squared_end_leaves_a_nick():
    """So the style matters: that some lines are the corner's shape, nobody can see from the line alone."""
    piece = leg(math.radians(8.0), 0.0)
    corners = (of("waist/side", "squared", "side"),)
    widths = {"waist": 10.0, "side": 15.0, "hem": 25.0, "inseam": 10.0}
    splits = {"waist": (-110.0, -10.0), "side": (130.0, 0.0), "hem": (300.0, 500.0), "inseam": (-300.0, 500.0)}
    cut = cut_out(piece, corners, widths, splits)
    assert apart(stripped(cut, corners, widths), piece.line) <= 1e-6
    assert apart(stripped(cut, (), widths), piece.line) > 0.05
