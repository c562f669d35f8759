"""The path grammar of SVG 2, chapter 9: text to lines and back.

Strict: a browser draws what it could read up to a mistake and leaves the rest out. On a pattern that is a piece
with a bite out of it, so here a mistake is an error that says where it stands.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NoReturn

from crossgrain.errors import DocumentError, GeometryError
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Cubic, Line, Segment
from crossgrain.language import _
from crossgrain.svg.transforms import largest_scale
from crossgrain.tolerances import COINCIDENT, PATH_ROUND_OFF, PATH_TEXT

_SPACE: Final = r"[ \t\n\r\f]"
_NUMBER: Final = r"[+-]?(?>[0-9]++(?:\.[0-9]*+)?|\.[0-9]++)(?:[eE][+-]?[0-9]++)?"
_SEPARATOR: Final = rf"(?>{_SPACE}*+(?:,{_SPACE}*+)?)"

# One number list, and one list of arcs, whose two flags are single digits that may touch what follows.
_NUMBERS: Final = re.compile(rf"{_SPACE}*+{_NUMBER}(?:{_SEPARATOR}{_NUMBER})*+{_SPACE}*+")
_ARC: Final = (
    rf"({_NUMBER}){_SEPARATOR}({_NUMBER}){_SEPARATOR}({_NUMBER}){_SEPARATOR}"
    rf"([01]){_SEPARATOR}([01]){_SEPARATOR}({_NUMBER}){_SEPARATOR}({_NUMBER})"
)
_ARCS: Final = re.compile(rf"{_SPACE}*+{_ARC}(?:{_SEPARATOR}{_ARC})*+{_SPACE}*+")

_ONE_NUMBER: Final = re.compile(_NUMBER)
_ONE_ARC: Final = re.compile(_ARC)
_FLAG: Final = re.compile("[01]")
_ARC_PARTS: Final = (_ONE_NUMBER,) * 3 + (_FLAG,) * 2 + (_ONE_NUMBER,) * 2
_BLANK: Final = re.compile(f"{_SPACE}*")
_GAP: Final = re.compile(_SEPARATOR)
_COMMAND: Final = re.compile(r"([MmZzLlHhVvCcSsQqTtAa])")
_TAKES: Final = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}

# A line is its two ends, a cubic its four control points.
Raw = tuple[Point, ...]


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
    """
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
        of = affine.of
        return tuple(
            [Path(tuple([_segment([of(point) for point in raw]) for raw in run]), closed) for run, closed in subpaths]
        )
    except GeometryError as error:
        raise _too_large() from error


def _too_large() -> DocumentError:
    return DocumentError(_("It has a coordinate too large to reckon with."), advice=_("Draw the line again."))


def _segment(raw: Sequence[Point]) -> Segment:
    return Line(*raw) if len(raw) == 2 else Cubic(*raw)


def _subpaths(d: str, unit: float) -> Iterator[tuple[list[Raw], bool]]:
    """Yield each subpath that draws something, with whether it is closed."""
    pieces = _COMMAND.split(d)
    if pieces[0].strip(" \t\n\r\f"):
        if d.strip() == "none":
            return
        _complain(d)
    if len(pieces) > 1 and pieces[1] not in "Mm":
        _complain(d)
    x = y = start_x = start_y = 0.0
    run: list[Raw] = []
    control_x = control_y = 0.0
    before = ""
    for index in range(1, len(pieces), 2):
        command, text = pieces[index], pieces[index + 1]
        kind = command.upper()
        relative = command != kind
        if kind == "Z":
            if text and text.strip(" \t\n\r\f"):
                _complain(d)
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


def meets(here: Point, start: Point) -> bool:
    """Tell whether two points of a text are one, but for the digits it was rounded to."""
    gap = max(abs(here[0] - start[0]), abs(here[1] - start[1]))
    return gap <= max(COINCIDENT, PATH_ROUND_OFF * max(map(abs, (*here, *start))))


def _numbers(d: str, kind: str, text: str) -> list[float]:
    """Return the numbers a command takes; the text has been cut at the commands."""
    takes = _TAKES[kind]
    if kind == "A":
        if not _ARCS.fullmatch(text):
            _complain(d)
        return [float(number) for found in _ONE_ARC.findall(text) for number in found]
    if not _NUMBERS.fullmatch(text):
        _complain(d)
    numbers = [*map(float, _ONE_NUMBER.findall(text))]
    if len(numbers) % takes or not math.isfinite(sum(numbers)):
        _complain(d)
    return numbers


def _complain(d: str) -> NoReturn:
    """Read again, slowly, up to the mistake, and say where it stands."""
    place, expected = _mistake(d)
    if place >= len(d):
        message = _("Its path data ends at character {place}, where {expected} should follow.")
    else:
        message = _("Its path data has {character} at character {place}, where {expected} should stand.")
    raise DocumentError(
        message.format(character=_shown(d[place : place + 1]), place=place + 1, expected=expected),
        advice=_("Correct the d attribute, or draw the line again."),
    )


def _shown(character: str) -> str:
    return f"'{character}'" if character.isprintable() else f"U+{ord(character):04X}"


def _skip(pattern: re.Pattern[str], d: str, at: int) -> int:
    found = pattern.match(d, at)
    return found.end() if found else at


def _mistake(d: str) -> tuple[int, str]:
    """Return where the first mistake stands, from 0, and what should stand there."""
    at = _skip(_BLANK, d, 0)
    if d[at : at + 1] not in ("M", "m"):
        return at, _("the command M")
    while at < len(d):
        if not _COMMAND.match(d, at):
            return at, _("a number or a command")
        kind = d[at].upper()
        at = _skip(_BLANK, d, at + 1)
        if kind == "Z":
            continue
        parts = _ARC_PARTS if kind == "A" else (_ONE_NUMBER,) * _TAKES[kind]
        first = True
        while True:
            for index, part in enumerate(parts):
                begin = at
                if not (first and index == 0):
                    begin = _skip(_GAP, d, at)
                found = part.match(d, begin)
                if not found:
                    if index == 0 and not first and "," not in d[at:begin]:
                        break
                    return begin, _("the flag 0 or 1") if part is _FLAG else _("a number")
                if not math.isfinite(float(found.group())):
                    return begin, _("a number of a size that can be drawn")
                at = found.end()
            else:
                first = False
                continue
            break
        at = _skip(_BLANK, d, at)
    return len(d), _("a number")


def format_path(paths: Sequence[Path], *, unit_mm: float = 1.0) -> str:
    """Write lines as path data: absolute, straight lines as L, cubics as C, closed ones with Z.

    The same lines give the same text. A straight closing line is left to Z.

    Args:
        paths: the lines, in the numbers to be written.
        unit_mm: how many mm a unit is. Six decimals are written, or as many as keep the rounding of each number
            below ``PATH_TEXT`` mm.

    Returns:
        The text; empty for no lines. Reading it gives the same lines within that rounding.

    >>> format_path(parse_path("m1 1 h10v5.5z"))
    'M1,1 L11,1 L11,6.5 Z'
    """
    places = min(max(6, math.ceil(math.log10(0.5 * unit_mm / PATH_TEXT))), 15)
    words: list[str] = []

    def text(point: Point) -> str:
        return f"{_number(point[0], places)},{_number(point[1], places)}"

    for path in paths:
        start = text(path.start)
        words.append("M" + start)
        segments = path.segments
        if path.closed and isinstance(segments[-1], Line) and len(segments) > 1:
            last = segments[-1].start
            if not meets(_rounded(last, places), _rounded(path.start, places)):
                segments = segments[:-1]
        for segment in segments:
            if isinstance(segment, Line):
                words.append("L" + text(segment.end))
            else:
                words.append("C" + " ".join([text(point) for point in segment.controls[1:]]))
        if path.closed:
            words.append("Z")
    return " ".join(words)


def _rounded(point: Point, places: int) -> Point:
    return (round(point[0], places), round(point[1], places))


def _number(value: float, places: int) -> str:
    """Write a number without needless zeros; never ``-0``."""
    word = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if word == "-0" else word
