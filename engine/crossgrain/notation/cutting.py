"""The written form of how a piece lies on the cloth and how many of it are cut."""

from __future__ import annotations

import math
import re

from crossgrain.errors import ParameterError, UnitError
from crossgrain.language import _
from crossgrain.model.grain import GrainTurn
from crossgrain.model.marking.wanted import WantedGrain
from crossgrain.model.piece import CutInstruction
from crossgrain.notation.words import read_name, write_angle
from crossgrain.units import parse_angle


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
