"""The written form of marks: what a maker types, and what stands in a drawing's attributes.

=============  ==========================================================================
a notch        ``side=50%``, ``side=120mm double``, ``node 12``
a dart         ``waist=45% width 20mm depth 110mm``, ``… lean 3°``, ``node 12 width 20mm depth 110mm``
a hold         ``centre=5mm``, ``centre=5mm from 0% to 80%``
a width        ``hem=30mm``
the grain      ``vertical``, ``horizontal``, ``15°``, ``along centre``, ``2° from centre``
a cut          ``2 mirrored``, ``1 on fold centre``, ``1 stabilised``
a spot         ``37.5%``, ``120mm``
=============  ==========================================================================

A place on an edge is a share of it or a length from its start; several marks are parted by semicolons. What is written
here is read here: both directions stand side by side.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Sequence
from typing import Final, Literal, TypeVar

from crossgrain.errors import ParameterError, UnitError
from crossgrain.language import _
from crossgrain.model.grain import GrainTurn
from crossgrain.model.marks import Dart, Hold, Notch
from crossgrain.model.outline_spot import OutlineSpot
from crossgrain.model.piece import CutInstruction
from crossgrain.model.wanted import END, START, Spot, WantedDart, WantedGrain, WantedHold, WantedNotch
from crossgrain.units import parse_angle, parse_length, parse_share

T = TypeVar("T")

_NAME: Final = re.compile(r"[^\W\d_][\w-]*")
_COUNTS: Final[dict[str, Literal[1, 2, 3]]] = {"single": 1, "double": 2, "triple": 3}


# --- Names -----------------------------------------------------------------------------------------------------


def read_name(text: str) -> str:
    """Read the name of an edge: a letter, then letters, digits, ``-`` and ``_``.

    >>> read_name("side-back")
    'side-back'
    """
    if not _NAME.fullmatch(text):
        raise ParameterError(
            _("“{text}” cannot be the name of an edge.").format(text=text),
            advice=_("Begin it with a letter, and use letters, digits, - and _ without a space."),
        )
    return text


def read_names(text: str) -> tuple[str, ...]:
    """Read names of edges parted by blanks.

    >>> read_names("waist side hem")
    ('waist', 'side', 'hem')
    """
    names = tuple(read_name(word) for word in text.split())
    for name in names:
        if names.count(name) > 1:
            raise ParameterError(
                _("Two edges are both named {name}.").format(name=name), advice=_("Give each edge a name of its own.")
            )
    return names


def read_list(text: str, read: Callable[[str], T]) -> tuple[T, ...]:
    """Read several marks parted by semicolons.

    >>> read_list("hem=30mm; side=10mm", read_width)
    (('hem', 30.0), ('side', 10.0))
    """
    return tuple(read(part) for part in text.split(";") if part.strip())


def write_list(texts: Iterable[str]) -> str:
    """Part several marks by semicolons; read by :func:`read_list`."""
    return "; ".join(texts)


# --- Amounts ---------------------------------------------------------------------------------------------------


def write_length(mm: float) -> str:
    """Write a length to a ten thousandth of a millimetre, without idle zeros.

    >>> write_length(12.5)
    '12.5mm'
    """
    return f"{_plain(mm, 4)}mm"


def write_share(share: float) -> str:
    """Write a share to a millionth of a percent, without idle zeros.

    >>> write_share(1 / 3)
    '33.333333%'
    """
    return f"{_plain(share * 100.0, 6)}%"


def write_angle(angle_rad: float, *, digits: int = 6) -> str:
    """Write an angle in degrees with so many digits after the point, without idle zeros.

    >>> write_angle(0.05)
    '2.864789°'
    """
    return f"{_plain(math.degrees(angle_rad), digits)}°"


def _plain(amount: float, digits: int) -> str:
    text = f"{amount:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def read_spot(text: str) -> Spot:
    """Read a place on a line: ``37.5%`` of it, or ``120mm`` from its start.

    >>> read_spot("120 mm")
    Spot(share=None, along=120.0)
    """
    return Spot(share=parse_share(text)) if text.rstrip().endswith("%") else Spot(along=parse_length(text))


# --- Marks -----------------------------------------------------------------------------------------------------


def read_notch(text: str) -> WantedNotch:
    """Read a notch: an edge, a place on it, and ``double`` or ``triple`` where it is.

    >>> read_notch("side=50% double")
    WantedNotch(edge='side', at=Spot(share=0.5, along=None), count=2)
    >>> read_notch("node 12").at.node
    12
    """
    edge, rest = _place_and_rest(text, _("side=50% or side=120mm double"))
    words = rest.rsplit(None, 1)
    count: Literal[1, 2, 3] = 1
    if len(words) == 2 and words[1] in _COUNTS:
        rest, count = words[0], _COUNTS[words[1]]
    return WantedNotch(edge=edge, at=read_spot(rest) if edge else read_outline_spot(rest), count=count)


def write_notch(notch: Notch) -> str:
    """Write a notch; read by :func:`read_notch`.

    >>> write_notch(Notch(edge="side", share=0.5, count=2))
    'side=50% double'
    """
    count = {number: f" {word}" for word, number in _COUNTS.items()}
    return f"{notch.edge}={write_share(notch.share)}{count[notch.count] if notch.count > 1 else ''}"


def read_dart(text: str) -> WantedDart:
    """Read a dart: an edge, where the middle of its mouth lies on it, its width, its depth and how it leans.

    >>> read_dart("waist=45% width 20mm depth 110mm").depth
    110.0
    """
    example = _("waist=45% width 20mm depth 110mm")
    edge, rest = _place_and_rest(text, example)
    at, given = _keyed(rest, ("width", "depth", "lean"))
    if "width" not in given or "depth" not in given:
        raise ParameterError(
            _("“{text}” gives a dart no width or no depth.").format(text=text.strip()),
            advice=_("Write it as {example}.").format(example=example),
        )
    return WantedDart(
        edge=edge,
        at=read_spot(at) if edge else read_outline_spot(at),
        width=parse_length(given["width"]),
        depth=parse_length(given["depth"]),
        lean_rad=parse_angle(given["lean"]) if "lean" in given else 0.0,
    )


def write_dart(dart: Dart) -> str:
    """Write a dart; read by :func:`read_dart`.

    >>> write_dart(Dart(edge="waist", share=0.45, width=20.0, depth=110.0))
    'waist=45% width 20mm depth 110mm'
    """
    leaning = write_angle(dart.lean_rad)
    lean = f" lean {leaning}" if leaning != write_angle(0.0) else ""
    return (
        f"{dart.edge}={write_share(dart.share)} width {write_length(dart.width)} depth {write_length(dart.depth)}{lean}"
    )


def read_hold(text: str) -> WantedHold:
    """Read a hold: an edge, its width inwards and, where it is not the whole edge, from where to where.

    >>> read_hold("centre=5mm to 80%").end
    Spot(share=0.8, along=None)
    """
    edge, rest = _edge_and_rest(text, _("centre=5mm or centre=5mm from 0% to 80%"))
    width, given = _keyed(rest, ("from", "to"))
    return WantedHold(
        edge=edge,
        width=parse_length(width),
        start=read_spot(given["from"]) if "from" in given else START,
        end=read_spot(given["to"]) if "to" in given else END,
    )


def write_hold(hold: Hold) -> str:
    """Write a hold; read by :func:`read_hold`.

    >>> write_hold(Hold(edge="centre", width=5.0, end=0.8))
    'centre=5mm from 0% to 80%'
    """
    whole = (hold.start, hold.end) == (0.0, 1.0)
    part = "" if whole else f" from {write_share(hold.start)} to {write_share(hold.end)}"
    return f"{hold.edge}={write_length(hold.width)}{part}"


def read_width(text: str) -> tuple[str, float]:
    """Read a width for an edge, in mm.

    >>> read_width("hem = 3 cm")
    ('hem', 30.0)
    """
    edge, rest = _edge_and_rest(text, _("hem=30mm"))
    return edge, parse_length(rest)


def write_width(edge: str, mm: float) -> str:
    """Write a width for an edge; read by :func:`read_width`."""
    return f"{edge}={write_length(mm)}"


# --- Grain and cutting -----------------------------------------------------------------------------------------


def read_grain(text: str) -> WantedGrain:
    """Read the grain: by the page, or by the chord of an edge.

    >>> read_grain("along centre")
    WantedGrain(turn_rad=0.0, edge='centre')
    """
    words = text.split()
    if words == ["vertical"]:
        return WantedGrain()
    if words == ["horizontal"]:
        return WantedGrain(turn_rad=-math.pi / 2.0)
    if len(words) == 2 and words[0] == "along":
        return WantedGrain(edge=read_name(words[1]))
    if "from" in words:
        turn = read_grain_turn(text)
        return WantedGrain(turn_rad=turn.turn_rad, edge=turn.edge)
    try:
        return WantedGrain(turn_rad=parse_angle(text))
    except UnitError as error:
        raise ParameterError(error.message, advice=_grain_advice()) from error


def _grain_advice() -> str:
    return _("Write vertical, horizontal, an angle as 15°, along centre or 2° from centre.")


def read_grain_turn(text: str) -> GrainTurn:
    """Read the grain against the chord of an edge: ``2° from centre``.

    >>> read_grain_turn("0° from centre")
    GrainTurn(edge='centre', turn_rad=0.0)
    """
    angle, between, edge = text.partition(" from ")
    if not between:
        raise ParameterError(
            _("“{text}” is no grain against an edge.").format(text=text.strip()),
            advice=_("Write it as 2° from centre."),
        )
    return GrainTurn(edge=read_name(edge.strip()), turn_rad=parse_angle(angle))


def write_grain_turn(turn: GrainTurn) -> str:
    """Write the grain against the chord of an edge; read by :func:`read_grain_turn`.

    >>> write_grain_turn(GrainTurn(edge="centre", turn_rad=0.05))
    '2.864789° from centre'
    """
    return f"{write_angle(turn.turn_rad)} from {turn.edge}"


def read_cut(text: str) -> CutInstruction:
    """Read how many are cut, and how: ``2 mirrored``, ``1 on fold centre``, ``2 mirrored stabilised``.

    >>> read_cut("2 mirrored")
    CutInstruction(count=2, mirrored=True, on_fold='', stabilised=False)
    """
    words = text.split()
    advice = _("Write it as 2 mirrored, 1 on fold centre or 1 stabilised.")
    if not words or not re.fullmatch(r"[0-9]{1,3}", words[0]):
        raise ParameterError(
            _("“{text}” does not begin with how many are cut.").format(text=text.strip()), advice=advice
        )
    rest = words[1:]
    mirrored = stabilised = False
    fold = ""
    while rest:
        if rest[0] == "mirrored" and not mirrored:
            mirrored, rest = True, rest[1:]
        elif rest[0] == "stabilised" and not stabilised:
            stabilised, rest = True, rest[1:]
        elif rest[:2] == ["on", "fold"] and len(rest) > 2 and not fold:
            fold, rest = read_name(rest[2]), rest[3:]
        else:
            raise ParameterError(
                _("“{text}”: {word} is not understood there.").format(text=text.strip(), word=rest[0]), advice=advice
            )
    return CutInstruction(count=int(words[0]), mirrored=mirrored, on_fold=fold, stabilised=stabilised)


def write_cut(cut: CutInstruction) -> str:
    """Write how many are cut, and how; read by :func:`read_cut`.

    >>> write_cut(CutInstruction(count=1, on_fold="centre"))
    '1 on fold centre'
    """
    words = [str(cut.count)]
    if cut.mirrored:
        words.append("mirrored")
    if cut.on_fold:
        words.append(f"on fold {cut.on_fold}")
    if cut.stabilised:
        words.append("stabilised")
    return " ".join(words)


def _place_and_rest(text: str, example: str) -> tuple[str, str]:
    """Split a mark into the name of its edge and the rest; a node tells its edge itself."""
    return ("", text.strip()) if re.match(r"\s*node\s", text) else _edge_and_rest(text, example)


def _edge_and_rest(text: str, example: str) -> tuple[str, str]:
    edge, sign, rest = text.partition("=")
    if not sign or not rest.strip():
        raise ParameterError(
            _("“{text}” does not name an edge and an amount.").format(text=text.strip()),
            advice=_("Write it as {example}.").format(example=example),
        )
    return read_name(edge.strip()), rest.strip()


def _keyed(text: str, keys: Sequence[str]) -> tuple[str, dict[str, str]]:
    """Split ``20mm from 0% to 80%`` at its key words: what stands before them, and what follows each."""
    parts = re.split(rf"(?:^|\s)({'|'.join(keys)})(?:\s|$)", text)
    given: dict[str, str] = {}
    for key, value in zip(parts[1::2], parts[2::2], strict=True):
        if key in given:
            raise ParameterError(
                _("“{text}” says {word} twice.").format(text=text, word=key), advice=_("Keep one of them.")
            )
        given[key] = value.strip()
    return parts[0].strip(), given


def read_outline_spot(text: str) -> OutlineSpot:
    """Read a place on a bare outline: a node, a share from its start, or a point in the drawing.

    >>> read_outline_spot("node 12").node, read_outline_spot("120mm, 45mm").point
    (12, (120.0, 45.0))
    """
    words = text.split()
    if len(words) == 2 and words[0] == "node" and re.fullmatch(r"[0-9]{1,6}", words[1]):
        return OutlineSpot(node=int(words[1]))
    if text.rstrip().endswith("%"):
        return OutlineSpot(share=parse_share(text))
    # A comma after a unit parts the two; one inside a number is a decimal comma.
    parts = re.split(r"(?<=[^\W\d])\s*,\s*|(?<=[^\W\d])\s+(?=[-+0-9.])", text.strip())
    if len(parts) != 2:
        raise ParameterError(
            _("“{text}” is no place on an outline.").format(text=text.strip()),
            advice=_("Write it as 120mm, 45mm, as 37.5% or as node 12."),
        )
    return OutlineSpot(point=(parse_length(parts[0], signed=True), parse_length(parts[1], signed=True)))
