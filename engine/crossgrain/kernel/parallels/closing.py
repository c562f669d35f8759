"""Join the strands of an outline into one closed line, corner by corner."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from crossgrain.kernel.affine import Point
from crossgrain.kernel.meetings.crossing import path_crossings
from crossgrain.kernel.parallels.joins import JoinStyle, corner_turn, cut_at_crossing, drawn_on, gap, solid, stepped
from crossgrain.kernel.parallels.outline_runs import SNAP_SHARE
from crossgrain.kernel.parallels.parallel import Strand
from crossgrain.kernel.parallels.shaped_corner import Join, shaped
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line, Segment, started_at
from crossgrain.tolerances import COINCIDENT, CORNER_TURN

__all__ = ["Join", "closed"]

Bodies = tuple[tuple[Segment, ...], tuple[Segment, ...], tuple[Segment, ...]]
"""What arrives at a corner, what lies between, what leaves it."""


def closed(
    strands: Sequence[Strand],
    style: JoinStyle,
    limit: float,
    accuracy: float,
    *,
    cut_inside: bool = True,
    joins: Mapping[int, Join] | None = None,
) -> Path:
    """Join strands round the outline into one raw closed path, cut at inside corners where that can be done simply.

    Args:
        strands: the parallels of the outline's runs, in order.
        style: how gaping corners are closed.
        limit: the greatest distance of a mitre's point from the corner, in widths.
        accuracy: ends much nearer than this are one, mm.
        cut_inside: whether inside corners are cut.
        joins: how gaping corners are closed that are closed otherwise, by the number of the strand that leaves.

    Raises:
        CollapseError: a join that cannot be drawn.

    >>> from crossgrain.kernel.parallels.outline_runs import runs_of, strands_of
    >>> square = Path.polygon([(0, 0), (10, 0), (10, 10), (0, 10)])
    >>> strands = strands_of(runs_of(square, [2.0] * 4, 0.01), "mitre", 0.01)
    >>> len(closed(strands, "mitre", 3.0, 0.01, joins={1: Join("blunt")}).segments)
    13
    """
    given = joins or {}
    shaping = {k: join for k, join in given.items() if join.way != "mitre" and _gapes(strands[k - 1], strands[k])}
    limits = {k: join.amount for k, join in given.items() if join.way == "mitre" and join.amount is not None}
    count = len(strands)
    bodies = [strand.segments for strand in strands]
    between: list[tuple[Segment, ...]] = [()] * count
    for k in range(count):
        after = (k + 1) % count
        if after in shaping:
            continue
        a, b = _now(strands[k], bodies[k]), _now(strands[after], bodies[after])
        join = _alone if count == 1 else _joined
        bodies[k], between[k], bodies[after] = join(a, b, style, limits.get(after, limit), accuracy, cut_inside)
    if shaping:
        return _with_shapes(strands, bodies, between, shaping)
    return Path.joined([segment for k in range(count) for segment in (*bodies[k], *between[k])], closed=True)


def _now(strand: Strand, body: tuple[Segment, ...]) -> Strand:
    """Return a strand with its segments as they now are."""
    return strand if body is strand.segments else replace(strand, segments=body)


def _gapes(a: Strand, b: Strand) -> bool:
    """Say whether two strands part at a corner to be shaped: slighter ones run on into each other."""
    widest = max(a.end_distance, b.start_distance, key=abs)
    return corner_turn(a, b) * widest > CORNER_TURN * abs(widest)


def _joined(a: Strand, b: Strand, style: JoinStyle, limit: float, accuracy: float, cut_inside: bool) -> Bodies:
    """Join two strands as they are joined where nothing else is asked."""
    on_a, on_b = a.segments, b.segments
    start, end = on_a[-1].end, on_b[0].start
    if start == end:
        return on_a, (), on_b
    if math.dist(start, end) <= max(SNAP_SHARE * accuracy, COINCIDENT):
        return on_a, (), (started_at(on_b[0], start), *on_b[1:])
    if a.leans[1] or b.leans[0]:
        return _gone_on(on_a, on_b, limit * max(abs(a.end_distance), abs(b.start_distance)))
    turn = corner_turn(a, b)
    widest = max(a.end_distance, b.start_distance, key=abs)
    if math.pi - abs(turn) <= COINCIDENT:
        # Straight back: rounding decides on the sign. Taken as gaping, a false cap lies within the line's loops.
        turn = math.copysign(math.pi, widest)
    same = a.end_distance == b.start_distance
    if turn * widest >= 0.0 or abs(turn) < COINCIDENT:
        wider = a if abs(a.end_distance) > abs(b.start_distance) else b
        cut = drawn_on(turn, a, b, on_a, on_b) if not same else None
        link = Line(cut[0][-1].end, cut[1][0].start) if cut is not None else None
        if cut is None or link is None or _passes_through(link, a.end, wider.beside):
            return on_a, gap(turn, a, b, style, limit), on_b
        return cut[0], (link,), cut[1]
    cut = cut_at_crossing(on_a, on_b, a.end) if cut_inside or not same else None
    if cut is None and not same:
        cut = stepped(a, b, on_a, on_b)
    if cut is None:
        return on_a, tuple(Line(p, q) for p, q in ((start, a.end), (a.end, end)) if math.dist(p, q) > COINCIDENT), on_b
    first, last = cut[0][-1].end, cut[1][0].start
    return cut[0], (Line(first, last),) if first != last else (), cut[1]


def _gone_on(on_a: tuple[Segment, ...], on_b: tuple[Segment, ...], reach: float) -> Bodies:
    """Let two strands that lean against their lines go on straight until they meet, or cut them where they cross."""
    start, end = on_a[-1].end, on_b[0].start
    (ux, uy), (vx, vy) = on_a[-1].end_tangent or (0.0, 0.0), on_b[0].start_tangent or (0.0, 0.0)
    ahead = Line(start, (start[0] + reach * ux, start[1] + reach * uy))
    behind = Line((end[0] - reach * vx, end[1] - reach * vy), end)
    cut = cut_at_crossing(solid((*on_a, ahead)), solid((behind, *on_b)))
    if cut is None or not (solid(cut[0]) and solid(cut[1])):
        return on_a, (Line(start, end),), on_b
    return solid(cut[0]), (), solid(cut[1])


def _alone(a: Strand, _b: Strand, style: JoinStyle, limit: float, accuracy: float, cut_inside: bool) -> Bodies:
    """Join the only strand of an outline with itself."""
    body, turn = a.segments, corner_turn(a, a)
    start, end = body[-1].end, body[0].start
    near = math.dist(start, end) <= max(SNAP_SHARE * accuracy, COINCIDENT)
    if not near and a.end_distance == a.start_distance and turn * a.end_distance < 0.0 and cut_inside:
        body = _cut_at_own_ends(body)
        return body, (), body
    if not near and a.end_distance != a.start_distance:
        return body, gap(turn, a, a, style, limit), body
    first, between, last = _joined(a, a, style, limit, accuracy, cut_inside)
    return first, between, last


def _with_shapes(
    strands: Sequence[Strand],
    bodies: Sequence[tuple[Segment, ...]],
    between: Sequence[tuple[Segment, ...]],
    shaping: Mapping[int, Join],
) -> Path:
    """Close the corners that are shaped, between the chains of strands that are joined already."""
    count = len(strands)
    heads = sorted(shaping)
    chains: list[Strand] = []
    for head, following in zip(heads, [*heads[1:], heads[0] + count], strict=True):
        order = [k % count for k in range(head, following)]
        parts = [part for k in order for part in (*bodies[k], *(between[k] if k != order[-1] else ()))]
        first, last = strands[order[0]], strands[order[-1]]
        chains.append(
            Strand(
                tuple(parts), first.start, last.end, first.start_tangent, last.end_tangent, first.start_distance,
                last.end_distance, tuple(part for k in order for part in strands[k].beside),
            )
        )  # fmt: skip
    joints: list[Join | None] = [shaping[head] for head in heads]
    if len(chains) == 1:
        chains, joints = [*_halved(chains[0])], [joints[0], None]
    fills: list[tuple[Segment, ...]] = []
    for k, join in enumerate(joints):
        if join is None:
            fills.append(())
            continue
        arriving, fill, leaving = shaped(chains[k - 1], chains[k], join)
        chains[k - 1] = replace(chains[k - 1], segments=arriving)
        chains[k] = replace(chains[k], segments=leaving)
        fills.append(fill)
    return Path.joined(
        [part for fill, chain in zip(fills, chains, strict=True) for part in (*fill, *chain.segments)], closed=True
    )


def _halved(chain: Strand) -> tuple[Strand, Strand]:
    """Part the only chain of an outline in its middle, so that its two ends can be shaped apart."""
    parts = chain.segments if len(chain.segments) > 1 else chain.segments[0].split(0.5)
    middle = len(parts) // 2
    beside = chain.beside if len(chain.beside) > 1 else chain.beside[0].split(0.5)
    half = len(beside) // 2
    return (
        replace(chain, segments=tuple(parts[:middle]), beside=tuple(beside[:half])),
        replace(chain, segments=tuple(parts[middle:]), beside=tuple(beside[half:])),
    )


def _passes_through(link: Line, corner: Point, edges: Sequence[Segment]) -> bool:
    """Say whether a line drawn on past a corner cuts into the edges there: one of them bends out before it."""
    crossings = path_crossings(Path((link,)), Path(tuple(edges)))
    return any(math.dist(crossing.point, corner) > 2.0 * COINCIDENT for crossing in crossings)


def _cut_at_own_ends(body: tuple[Segment, ...]) -> tuple[Segment, ...]:
    """Cut the only strand of an outline with one slight corner where its end crosses its start."""
    cut = cut_at_crossing(body[-1:], body[:1]) if len(body) > 1 else None
    if cut is None:
        return (*body, Line(body[-1].end, body[0].start))
    (last,), (first,) = cut
    return (first, *body[1:-1], last)
