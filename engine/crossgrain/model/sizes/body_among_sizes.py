"""Where one body falls among the sizes of a range: each of its measures by itself, for waist and hip seldom agree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from crossgrain.errors import ParameterError
from crossgrain.language import _
from crossgrain.model.outcome import Finding
from crossgrain.model.piece import listed
from crossgrain.model.sizes.grade_rules import GradeRules, place_among
from crossgrain.tolerances import SEAM_MATCH


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyAmongSizes:
    """Where a body falls.

    Args:
        places: for each measure that rules follow, where among the sizes, counted from 0; between two sizes part of
            the way, beyond the last as the last step goes on.
        findings: measures that could not be followed, and those that lie beyond the sizes.
    """

    places: Mapping[str, float]
    findings: tuple[Finding, ...] = ()


def body_among_sizes(rules: GradeRules, body: Mapping[str, float]) -> BodyAmongSizes:
    """Find where the measures of a body fall among the sizes.

    Args:
        rules: the rules of the range, with the measures of each size.
        body: measures of the body, mm, by the same names.

    Raises:
        ParameterError: the rules say no measures, a rule follows none, the body lacks a girth, or a girth does not grow
            from size to size.

    >>> rules = GradeRules(sizes=("S", "M"), base="S", by="hip_girth", measures=(("hip_girth", (900.0, 960.0)),))
    >>> body_among_sizes(rules, {"hip_girth": 930.0}).places
    {}
    """
    known = dict(rules.measures)
    names = list(dict.fromkeys(rule.by or rules.by for rule in rules.rules))
    if names and not known:
        raise ParameterError(
            _("The rules do not say for what measures of the body their sizes are."),
            advice=_("Add [measures], as hip_girth = [“…”, …] with one figure for each size."),
        )
    if "" in names:
        raise ParameterError(
            _("A rule does not say which measure it follows."),
            advice=_("Write by = “hip_girth” at the top of the rules, or beside the rule."),
        )
    places: dict[str, float] = {}
    findings = []
    for name in names:
        if name not in known:
            raise ParameterError(
                _("The rules do not say what {measure} is in each size.").format(measure=name),
                advice=_("Add it under [measures]."),
            )
        if name not in body:
            if name.endswith("_girth"):
                raise ParameterError(
                    _("The body has no {measure}, which the rules follow.").format(measure=name),
                    advice=_("Take it and add it to the body's file. The rules follow: {names}.").format(
                        names=listed(names)
                    ),
                )
            findings.append(_kept(name, _("The body has no {measure}: that of the base is kept.").format(measure=name)))
            places[name] = float(rules.base_index)
            continue
        values = known[name]
        place = place_among(values, body[name])
        if place is None and name.endswith("_girth"):
            raise ParameterError(
                _("{measure} does not grow from size to size.").format(measure=name),
                advice=_("Look at [measures] again."),
            )
        if place is None:
            findings += _untold(rules, name, body[name])
        places[name] = float(rules.base_index) if place is None else place
        if place is not None and (beyond := _beyond(rules, name, body[name])) is not None:
            findings.append(beyond)
    for name in known:
        if name not in names and name in body:
            findings += _untold(rules, name, body[name])
    return BodyAmongSizes(places=places, findings=tuple(findings))


def _untold(rules: GradeRules, name: str, value: float) -> list[Finding]:
    """Say that a body differs from the base in a measure that is alike in all sizes, or that no rule follows."""
    if abs(value - dict(rules.measures)[name][rules.base_index]) <= SEAM_MATCH:
        return []
    said = _("{measure} is {body:.0f} mm, and the sizes do not tell how to follow it.")
    return [_kept(name, said.format(measure=name, body=value))]


def _beyond(rules: GradeRules, name: str, value: float) -> Finding | None:
    """Say that a measure lies beyond the sizes; nothing where it does not."""
    values = dict(rules.measures)[name]
    for at, off in ((0, values[0] - value), (-1, value - values[-1])):
        if off > SEAM_MATCH:
            return Finding(
                piece="",
                message=_(
                    "{measure} is {body:.0f} mm, beyond size {size} with {last:.0f} mm: its step goes on."
                ).format(measure=name, body=value, size=rules.sizes[at], last=values[at]),
                advice=_("Try it on the body: the farther beyond the sizes, the less the rules know."),
            )
    return None


def _kept(_name: str, message: str) -> Finding:
    return Finding(piece="", message=message, advice=_("Lengthen or shorten by hand: crossgrain lengthen."))
