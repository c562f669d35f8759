"""Outlines with known corners, and what a person does to them in a drawing editor.

Every function takes a :class:`random.Random`, so that hypothesis and a count over many pieces share them. Corners are
carried along as labels on the nodes: the label says which corner the node is, whatever is done to the line.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from random import Random

from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.corners import corners
from crossgrain.kernel.found_again.remembering import Remembered, remember
from crossgrain.kernel.length import Place
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment


@dataclass(frozen=True)
class Labelled:
    """A closed line whose corner nodes carry numbers; ``labels[i]`` belongs to the start of segment ``i``."""

    segments: tuple[Segment, ...]
    labels: tuple[int | None, ...]

    @property
    def line(self) -> Path:
        return Path(self.segments, True)

    def node_of(self, label: int) -> Point:
        return self.segments[self.labels.index(label)].start

    @property
    def count(self) -> int:
        return sum(label is not None for label in self.labels)


def bent_side(rng: Random, start: Point, end: Point) -> list[Segment]:
    """Draw a straight or gently curved side with up to three nodes between its ends."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    bulge = rng.choice([0.0, rng.uniform(-0.06, 0.06)])
    count = rng.randint(1, 4)

    def point(t: float) -> Point:
        height = 4.0 * bulge * t * (1.0 - t)
        return (start[0] + dx * t - dy * height, start[1] + dy * t + dx * height)

    def velocity(t: float) -> Point:
        slope = 4.0 * bulge * (1.0 - 2.0 * t)
        return (dx - dy * slope, dy + dx * slope)

    out: list[Segment] = []
    for number in range(count):
        a, b = number / count, (number + 1) / count
        p, q = start if number == 0 else point(a), end if number == count - 1 else point(b)
        if bulge == 0.0:
            out.append(Line(p, q))
        else:
            third = (b - a) / 3.0
            u, v = velocity(a), velocity(b)
            out.append(
                Cubic(
                    p,
                    (p[0] + u[0] * third, p[1] + u[1] * third),
                    (q[0] - v[0] * third, q[1] - v[1] * third),
                    q,
                )
            )
    return out


def outline(rng: Random) -> Labelled:
    """Draw a closed outline of some 0.3 to 1 m with a vertex per angular sector, so that it never crosses itself.

    Its corners are the vertices that turn enough, and sometimes one smooth node between two of them.
    """
    count = rng.randint(4, 8)
    wide, tall = rng.uniform(120.0, 300.0), rng.uniform(200.0, 550.0)
    points = []
    for number in range(count):
        angle = (number + rng.uniform(0.2, 0.8)) * math.tau / count
        # Winding inwards, so that no outline looks like its own mirror image or like itself turned.
        radius = 1.0 - 0.35 * number / count - rng.uniform(0.0, 0.05)
        points.append((wide * radius * math.cos(angle), tall * radius * math.sin(angle)))
    segments = [
        segment for p, q in zip(points, points[1:] + points[:1], strict=True) for segment in bent_side(rng, p, q)
    ]
    line = Path(tuple(segments), True)
    at = sorted(corner.node for corner in corners(line))
    smooth = [node for node in range(len(segments)) if node not in at and node - 1 not in at and node + 1 not in at]
    if smooth and rng.random() < 0.4:
        at = sorted([*at, rng.choice(smooth)])
    first = rng.randrange(len(at))
    order = at[first:] + at[:first]
    labels = [order.index(node) if node in order else None for node in range(len(segments))]
    drawn = Labelled(tuple(segments), tuple(labels))
    return new_start(rng, drawn)


def known(drawn: Labelled) -> Remembered:
    """Remember the labelled corners of a line whose labels follow its direction."""
    return remember(drawn.line, [Place(drawn.labels.index(number), 0.0) for number in range(drawn.count)])


def mapped(drawn: Labelled, affine: Affine) -> Labelled:
    """Bake an affine map into the line, with eight digits as the editor writes them."""

    def rounded(point: Point) -> Point:
        x, y = affine.of(point)
        return (float(f"{x:.8g}"), float(f"{y:.8g}"))

    segments = tuple(type(segment)(*map(rounded, _controls(segment))) for segment in drawn.segments)
    return replace(drawn, segments=segments)


def _controls(segment: Segment) -> tuple[Point, ...]:
    return (segment.start, segment.end) if isinstance(segment, Line) else segment.controls


def turn(rng: Random, drawn: Labelled) -> Labelled:
    centre = (rng.uniform(-500.0, 500.0), rng.uniform(-500.0, 500.0))
    return mapped(drawn, Affine.rotation(rng.uniform(-math.pi, math.pi), centre))


def mirror(rng: Random, drawn: Labelled) -> Labelled:
    about = (rng.uniform(-500.0, 500.0), rng.uniform(-500.0, 500.0))
    return mapped(drawn, Affine.scaling(*rng.choice([(-1.0, 1.0), (1.0, -1.0)]), about))


def drag(rng: Random, drawn: Labelled) -> Labelled:
    return mapped(drawn, Affine.translation(rng.uniform(-900.0, 900.0), rng.uniform(-900.0, 900.0)))


def scale(rng: Random, drawn: Labelled) -> Labelled:
    factor = rng.uniform(0.5, 2.0)
    return mapped(drawn, Affine.scaling(factor, factor))


def stretch(rng: Random, drawn: Labelled) -> Labelled:
    return mapped(drawn, Affine.scaling(rng.uniform(0.75, 1.3), rng.uniform(0.75, 1.3)))


def reverse(rng: Random, drawn: Labelled) -> Labelled:
    labels = drawn.labels[:1] + drawn.labels[:0:-1]
    return Labelled(drawn.line.reversed().segments, labels)


def new_start(rng: Random, drawn: Labelled) -> Labelled:
    at = rng.randrange(len(drawn.segments))
    return Labelled(drawn.segments[at:] + drawn.segments[:at], drawn.labels[at:] + drawn.labels[:at])


def add_nodes(rng: Random, drawn: Labelled) -> Labelled:
    segments: list[Segment] = []
    labels: list[int | None] = []
    for segment, label in zip(drawn.segments, drawn.labels, strict=True):
        parts = segment.split(rng.uniform(0.2, 0.8)) if rng.random() < 0.3 else (segment,)
        segments += parts
        labels += [label, None][: len(parts)]
    return Labelled(tuple(segments), tuple(labels))


def delete_node(rng: Random, drawn: Labelled) -> Labelled:
    """Delete one node that is no corner (also the start node), keeping the handles beyond it, as the editor does."""
    free = [number for number, label in enumerate(drawn.labels) if label is None]
    if not free:
        return drawn
    at = rng.choice(free)
    before, after = drawn.segments[at - 1], drawn.segments[at]
    joined = _join(before, after)
    segments, labels = list(drawn.segments), list(drawn.labels)
    segments[at - 1] = joined
    del segments[at], labels[at]
    return Labelled(tuple(segments), tuple(labels))


def _join(before: Segment, after: Segment) -> Segment:
    if isinstance(before, Line) and isinstance(after, Line):
        return Line(before.start, after.end)
    p, q = before.controls, after.controls
    stretch = [(p[0][k] + 2.0 * (p[1][k] - p[0][k]), q[3][k] + 2.0 * (q[2][k] - q[3][k])) for k in (0, 1)]
    return Cubic(p[0], (stretch[0][0], stretch[1][0]), (stretch[0][1], stretch[1][1]), q[3])


def _moved_node(drawn: Labelled, at: int, dx: float, dy: float) -> Labelled:
    def moved(point: Point) -> Point:
        return (point[0] + dx, point[1] + dy)

    segments = list(drawn.segments)
    target = moved(segments[at].start)
    last, first = segments[at - 1], segments[at]
    segments[at - 1] = (
        Line(last.start, target)
        if isinstance(last, Line)
        else Cubic(last.start, last.control1, moved(last.control2), target)
    )
    first = segments[at]
    segments[at] = (
        Line(target, first.end)
        if isinstance(first, Line)
        else Cubic(target, moved(first.control1), first.control2, first.end)
    )
    return replace(drawn, segments=tuple(segments))


def drag_corner(rng: Random, drawn: Labelled) -> Labelled:
    """Drag one corner by up to 50 mm, its handles with it."""
    labelled = [number for number, label in enumerate(drawn.labels) if label is not None]
    angle, reach = rng.uniform(0.0, math.tau), rng.uniform(0.0, 50.0)
    return _moved_node(drawn, rng.choice(labelled), reach * math.cos(angle), reach * math.sin(angle))


def move_nodes(rng: Random, drawn: Labelled) -> Labelled:
    """Move up to five nodes by up to 5 mm."""
    for _ in range(rng.randint(1, 5)):
        drawn = _moved_node(drawn, rng.randrange(len(drawn.segments)), rng.uniform(-4.0, 4.0), rng.uniform(-4.0, 4.0))
    return drawn


Edit = Callable[[Random, Labelled], Labelled]

RIGID: tuple[Edit, ...] = (drag, turn, mirror, scale, reverse, new_start, add_nodes)
"""Edits that keep the shape; after any number of them every corner must be found."""

SHAPING: tuple[Edit, ...] = (stretch, drag_corner, move_nodes, delete_node)
"""Edits that change the shape."""
