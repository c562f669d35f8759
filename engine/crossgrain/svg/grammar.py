"""The path grammar of SVG 2, chapter 9: text to lines and back.

Strict: a browser draws what it could read up to a mistake and leaves the rest out. On a pattern that is a piece
with a bite out of it, so here a mistake is an error that says where it stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from crossgrain.errors import DocumentError, GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment
from crossgrain.language import _
from crossgrain.svg.limits import PATH_SIGNS
from crossgrain.svg.path_format import format_path, meets
from crossgrain.svg.path_mistake import path_error
from crossgrain.svg.path_tokens import COMMAND, TAKES, arcs_or_none, numbers_or_none
from crossgrain.svg.transforms import largest_scale

__all__ = ["Raw", "arc", "format_path", "lines", "parse_outline", "parse_path"]

Raw = tuple[Point, ...]
"""The ends of a line, or the four control points of a cubic."""

_WHITE: Final = " \t\n\r\f"


def parse_path(d: str) -> tuple[Path, ...]:
    """Read path data.

    Args:
        d: the text of a ``d`` attribute.

    Returns:
        One path per subpath, in the numbers of the text. Quadratics become cubics exactly, elliptical arcs within
        ``ARC_ACCURACY`` of a unit. A subpath that only moves draws nothing and is left out; so is the closing line
        of a closed one whose ends already meet but for the rounding of the text.

    Raises:
        DocumentError: text that is not path data; the message names the character and its place, counted from 1.

    >>> parse_path("M0 0h10v5z")[0].nodes
    ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0))
    """
    return parse_outline(d, None)


def parse_outline(d: str, affine: Affine | None) -> tuple[Path, ...]:
    """Read path data and map it, as ``parse_path`` followed by ``Path.mapped``, in one pass.

    Args:
        d: the text of a ``d`` attribute.
        affine: the map, or none. Arcs keep to ``ARC_ACCURACY`` after the map.

    Raises:
        DocumentError: as ``parse_path``, and a text longer than ``limits`` allows.
    """
    if len(d) > PATH_SIGNS:
        raise DocumentError(
            _("The path is {count} signs long; no more than {limit} are read.").format(count=len(d), limit=PATH_SIGNS),
            advice=_("Simplify it in the editor."),
        )
    unit = largest_scale(affine) if affine is not None else 1.0
    return lines(_subpaths(d, unit), affine)


def lines(subpaths: Iterable[tuple[Sequence[Raw], bool]], affine: Affine | None) -> tuple[Path, ...]:
    """Return paths from runs of control points, mapped.

    Raises:
        DocumentError: a point beyond the reach of floating point.
    """
    try:
        if affine is None:
            return tuple([Path(tuple([_segment(raw) for raw in run]), closed) for run, closed in subpaths])
        return tuple([Path(tuple(_mapped(run, affine)), closed) for run, closed in subpaths])
    except GeometryError as error:
        raise _too_large() from error


def _mapped(run: Sequence[Raw], affine: Affine) -> Iterator[Segment]:
    a, b, c, d, e, f = affine.a, affine.b, affine.c, affine.d, affine.e, affine.f
    here = affine.of(run[0][0])
    for raw in run:
        x, y = raw[-1]
        there = (a * x + c * y + e, b * x + d * y + f)
        if len(raw) == 2:
            yield _segment((here, there))
        else:
            (p, q), (r, s) = raw[1], raw[2]
            yield _segment(
                (here, (a * p + c * q + e, b * p + d * q + f), (a * r + c * s + e, b * r + d * s + f), there)
            )
        here = there


# A frozen dataclass sets each field through a call that costs more than all the rest of reading a segment. These set
# the same slots, and nothing else is done on construction.
_new: Final = object.__new__
_line_start: Final[Any] = Line.__dict__["start"].__set__
_line_end: Final[Any] = Line.__dict__["end"].__set__
_start: Final[Any] = Cubic.__dict__["start"].__set__
_control1: Final[Any] = Cubic.__dict__["control1"].__set__
_control2: Final[Any] = Cubic.__dict__["control2"].__set__
_end: Final[Any] = Cubic.__dict__["end"].__set__


def _segment(raw: Raw) -> Segment:
    if len(raw) == 2:
        line = _new(Line)
        _line_start(line, raw[0])
        _line_end(line, raw[1])
        return line
    cubic = _new(Cubic)
    start, control1, control2, end = raw
    _start(cubic, start)
    _control1(cubic, control1)
    _control2(cubic, control2)
    _end(cubic, end)
    return cubic


def _too_large() -> DocumentError:
    return DocumentError(_("It has a coordinate too large to reckon with."), advice=_("Draw the line again."))


def _subpaths(d: str, unit: float) -> Iterator[tuple[list[Raw], bool]]:
    """Yield each subpath that draws something, with whether it is closed."""
    pieces = COMMAND.split(d)
    if pieces[0].strip(_WHITE):
        if d.strip(_WHITE) == "none":
            return
        raise path_error(d)
    if len(pieces) > 1 and pieces[1] not in "Mm":
        raise path_error(d)
    x = y = start_x = start_y = 0.0
    run: list[Raw] = []
    control_x = control_y = 0.0
    before = ""
    for index in range(1, len(pieces), 2):
        command, text = pieces[index], pieces[index + 1]
        kind = command.upper()
        relative = command != kind
        if kind == "Z":
            if text and text.strip(_WHITE):
                raise path_error(d)
            if run:
                yield _close(run, (x, y), (start_x, start_y)), True
                run = []
            x, y = start_x, start_y
            before = "Z"
            continue
        numbers = _numbers(d, kind, text)
        if kind == "M":
            if run:
                yield run, False
                run = []
            if relative:
                x, y = x + numbers[0], y + numbers[1]
            else:
                x, y = numbers[0], numbers[1]
            start_x, start_y = x, y
            numbers = numbers[2:]
            kind = "L"
        here = (x, y)
        if kind == "L":
            for i in range(0, len(numbers), 2):
                x, y = (x + numbers[i], y + numbers[i + 1]) if relative else (numbers[i], numbers[i + 1])
                there = (x, y)
                run.append((here, there))
                here = there
        elif kind == "C":
            for i in range(0, len(numbers), 6):
                a, b, p, q, u, v = numbers[i : i + 6]
                if relative:
                    a, b, p, q, u, v = x + a, y + b, x + p, y + q, x + u, y + v
                x, y, control_x, control_y = u, v, p, q
                there = (u, v)
                run.append((here, (a, b), (p, q), there))
                here = there
        elif kind == "S":
            if before not in "CS":
                control_x, control_y = x, y
            for i in range(0, len(numbers), 4):
                p, q, u, v = numbers[i : i + 4]
                if relative:
                    p, q, u, v = x + p, y + q, x + u, y + v
                there = (u, v)
                run.append((here, (2 * x - control_x, 2 * y - control_y), (p, q), there))
                x, y, control_x, control_y = u, v, p, q
                here = there
        elif kind == "Q":
            for i in range(0, len(numbers), 4):
                p, q, u, v = numbers[i : i + 4]
                if relative:
                    p, q, u, v = x + p, y + q, x + u, y + v
                there = (u, v)
                run.append(Cubic.from_quadratic(here, (p, q), there).controls)
                x, y, control_x, control_y = u, v, p, q
                here = there
        elif kind == "T":
            if before not in "QT":
                control_x, control_y = x, y
            for i in range(0, len(numbers), 2):
                u, v = numbers[i : i + 2]
                if relative:
                    u, v = x + u, y + v
                control_x, control_y = 2 * x - control_x, 2 * y - control_y
                there = (u, v)
                run.append(Cubic.from_quadratic(here, (control_x, control_y), there).controls)
                x, y = u, v
                here = there
        elif kind == "H":
            for number in numbers:
                x = x + number if relative else number
                run.append((here, (x, y)))
                here = (x, y)
        elif kind == "V":
            for number in numbers:
                y = y + number if relative else number
                run.append((here, (x, y)))
                here = (x, y)
        else:
            for i in range(0, len(numbers), 7):
                rx, ry, turn, large, sweep, u, v = numbers[i : i + 7]
                if relative:
                    u, v = x + u, y + v
                run.extend(arc((x, y), rx, ry, math.radians(turn), large != 0.0, sweep != 0.0, (u, v), unit))
                x, y = u, v
        before = kind
    if run:
        yield run, False


def arc(
    start: Point, rx: float, ry: float, turn_rad: float, large: bool, sweep: bool, end: Point, unit: float = 1.0
) -> list[Raw]:
    """Return the control points of the segments that follow an elliptical arc.

    Args:
        start: where it starts.
        rx: half its width; 0 makes a straight line, as SVG asks.
        ry: half its height.
        turn_rad: the turn of the ellipse.
        large: whether it is the larger of the two arcs.
        sweep: whether it runs clockwise as seen on the page.
        end: where it ends.
        unit: how many mm a unit is at most, so that the accuracy holds in mm.
    """
    from crossgrain.kernel.arc import arc_cubics

    if start == end:
        return []
    k = unit if unit > 0.0 and math.isfinite(unit) else 1.0
    try:
        segments = arc_cubics(
            (start[0] * k, start[1] * k), rx * k, ry * k, turn_rad, large, sweep, (end[0] * k, end[1] * k)
        )
    except GeometryError as error:
        raise _too_large() from error
    runs: list[Raw] = []
    for segment in segments:
        points = (segment.start, segment.end) if isinstance(segment, Line) else segment.controls
        runs.append(tuple([(x / k, y / k) for x, y in points]))
    if runs:
        runs[0] = (start, *runs[0][1:])
        runs[-1] = (*runs[-1][:-1], end)
    return runs


def _close(run: list[Raw], here: Point, start: Point) -> list[Raw]:
    """Bring a run back to its start: by a line, or where only the text's rounding is left, by moving the last end."""
    if here == start:
        return run
    if meets(here, start):
        return [*run[:-1], (*run[-1][:-1], start)]
    return [*run, (here, start)]


def _numbers(d: str, kind: str, text: str) -> list[float]:
    """Return the numbers a command takes; the text has been cut at the commands."""
    numbers = arcs_or_none(text) if kind == "A" else numbers_or_none(text)
    if numbers is None or len(numbers) % TAKES[kind] or not math.isfinite(sum(numbers)):
        raise path_error(d)
    return numbers
