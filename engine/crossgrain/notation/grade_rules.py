"""The written form of a set of rules for grading, in TOML::

    name = "Slim trousers"
    sizes = ["34", "36", "38", "40", "42"]    # from the smallest
    base = "38"                               # the size that the drawing is
    stays = ["fly facing"]                    # pieces that are the same in every size

    [levels]                                  # below the waist of the body, in the base
    hip = "200 mm"

    [moves]                                   # along: down; across: towards the side; from one size to the next
    "front: waist/side" = { across = "5 mm", along = "-2 mm" }
    "front: side at hip" = { across = "36-40: 5 mm, 42: 7.5 mm" }
    "back: waist/side" = { across = ["-10 mm", "-5 mm", "0 mm", "5 mm", "12 mm"] }    # from the base

    [toward]                                  # pieces that do not go by waist, side and hem
    sleeve = { across = "back-seam", along = "wrist" }

    [measures]                                # of the body in each size, by the names of ISO 8559-1
    hip_girth = ["940 mm", "980 mm", "1020 mm", "1060 mm", "1110 mm"]

    [edges]                                   # girths that run along edges rather than straight across
    waist_girth = "waist"

    [[match]]                                 # for one body: the corner slides along the seam until its sides agree
    seam = "side"
    at = "back: waist/side"

A point may have several moves in a list, which add up; ``by = "hip_girth"`` says which measure one follows when a
single body is graded to, and ``by`` at the top which the others do.
"""

from __future__ import annotations

import json
from typing import Final

from crossgrain.errors import DocumentError, InputError
from crossgrain.fabric.toml_table import Table, read_table
from crossgrain.language import _
from crossgrain.model.sizes.grade_point import GradePoint
from crossgrain.model.sizes.grade_rules import GradeRule, GradeRules, Toward
from crossgrain.model.sizes.seam_match import SeamMatch
from crossgrain.notation.grade_points import read_grade_point, read_steps, write_grade_point, write_steps
from crossgrain.notation.words import read_name, write_length
from crossgrain.units import parse_length

_KEYS: Final = ("name", "sizes", "base", "by", "stays", "levels", "moves", "toward", "measures", "edges", "match")


def read_grade_rules(text: str, name: str) -> GradeRules:
    """Read a set of rules.

    Args:
        text: the text of the file.
        name: what messages call it.

    Raises:
        DocumentError: it cannot be read; the message says where.

    >>> text = 'sizes = ["S", "M"]\\nbase = "S"\\n[moves]\\n"front: waist/side" = { across = "5 mm" }'
    >>> read_grade_rules(text, "rules.toml").rules[0].across
    (0.0, 5.0)
    """
    table = read_table(text, name)
    table.only(_KEYS)
    sizes, base = table.texts("sizes"), _base(table)
    moves = table.table("moves")
    found: list[GradeRule] = []
    measures = _measures(table, sizes)
    if base not in sizes:  # said here, before steps are counted from it
        table.made(lambda: GradeRules(sizes=sizes, base=base))
    for key in moves.keys():  # noqa: SIM118  # a table is no mapping
        point = _point(moves, key)
        if moves.is_text(key):
            raise moves.fault(
                _("“{key}” does not say in which direction.").format(key=key),
                _("Write it as {example}, with across or along or both.").format(example='{ across = "5 mm" }'),
            )
        parts = moves.tables(key) if moves.is_list(key) else (moves.table(key),)
        found += [_rule(one, point, sizes, sizes.index(base)) for one in parts]
    return table.made(
        lambda: GradeRules(
            name=table.text("name", ""),
            sizes=sizes,
            base=base,
            rules=tuple(found),
            levels=_levels(table),
            toward=read_toward(table),
            stays=table.texts("stays", none=True),
            measures=measures,
            by=table.text("by", ""),
            edges=_edges(table),
            matches=tuple(read_match(one) for one in table.tables("match")),
        )
    )


def write_grade_rules(rules: GradeRules, remarks: tuple[str, ...] = ()) -> str:
    """Write a set of rules; read by :func:`read_grade_rules`, every length to a ten thousandth of a millimetre.

    Args:
        rules: the rules.
        remarks: lines that stand above them.
    """
    lines = [f"# {line}" for line in remarks]
    lines += [f"name = {_quoted(rules.name)}"] if rules.name else []
    lines += [f"sizes = {_list(rules.sizes)}", f"base = {_quoted(rules.base)}"]
    lines += [f"by = {_quoted(rules.by)}"] if rules.by else []
    lines += [f"stays = {_list(rules.stays)}"] if rules.stays else []
    if rules.levels:
        lines += ["", "[levels]", *(f"{level} = {_quoted(write_length(depth))}" for level, depth in rules.levels)]
    lines += ["", _("# Along: down; across: towards the side. One amount: from size to size; a list: from the base.")]
    lines.append("[moves]")
    grouped: dict[GradePoint, list[GradeRule]] = {}
    for rule in rules.rules:
        grouped.setdefault(rule.point, []).append(rule)
    for point, own in grouped.items():
        said = [rule for rule in own if any((*rule.along, *rule.across))] or own[:1]
        texts = [_written(rule, rules.sizes) for rule in said]
        value = texts[0] if len(texts) == 1 else "[\n" + "".join(f"  {text},\n" for text in texts) + "]"
        lines.append(f"{_quoted(write_grade_point(point))} = {value}")
    if rules.toward:
        lines += ["", "[toward]"]
        for one in rules.toward:
            ways = {"across": one.across, "along": one.along}
            inner = ", ".join(f"{key} = {_quoted(edge)}" for key, edge in ways.items() if edge)
            lines.append(f"{_quoted(one.piece)} = {{ {inner} }}")
    if rules.measures:
        lines += ["", "[measures]"]
        lines += [f"{measure} = {_list(write_length(v) for v in values)}" for measure, values in rules.measures]
    if rules.edges:
        lines += ["", "[edges]", *(f"{measure} = {_quoted(name)}" for measure, name in rules.edges)]
    for match in rules.matches:
        lines += ["", "[[match]]", f"seam = {_quoted(match.seam)}", f"at = {_quoted(write_grade_point(match.at))}"]
    return "\n".join(lines) + "\n"


def _base(table: Table) -> str:
    if table.is_list("base"):
        raise table.fault(_("Two bases are named."), _("The drawing is one size: name that one, as base = “38”."))
    return table.text("base")


def _point(table: Table, key: str) -> GradePoint:
    try:
        return read_grade_point(key)
    except InputError as error:
        raise table.fault(error.message, error.advice) from error


def _rule(table: Table, point: GradePoint, sizes: tuple[str, ...], base: int) -> GradeRule:
    table.only(("along", "across", "by"))
    return GradeRule(
        point=point,
        along=_moves(table, "along", sizes, base),
        across=_moves(table, "across", sizes, base),
        by=table.text("by", ""),
    )


def _moves(table: Table, key: str, sizes: tuple[str, ...], base: int) -> tuple[float, ...]:
    if key not in table:
        return (0.0,) * len(sizes)
    if not table.is_list(key):
        return tuple(table.amount(key, lambda text: read_steps(text, sizes, base)))  # type: ignore[arg-type,return-value]
    texts = table.texts(key)
    if len(texts) != len(sizes):
        raise table.fault(
            _("“{key}” lists {count} moves for {sizes} sizes.").format(key=key, count=len(texts), sizes=len(sizes)),
            _("Give one for each size, that of the base 0 mm."),
        )
    out = []
    for text in texts:
        try:
            out.append(parse_length(text, signed=True))
        except InputError as error:
            raise table.fault(f"“{key}”: {error.message}", error.advice) from error
    if out[base] != 0.0:
        raise table.fault(
            _("“{key}” moves in the base size {base}.").format(key=key, base=sizes[base]),
            _("The base is the drawing as it is: write 0 mm for it."),
        )
    return tuple(out)


def _levels(table: Table) -> tuple[tuple[str, float], ...]:
    if "levels" not in table:
        return ()
    levels = table.table("levels")
    return tuple((read_name(key), levels.amount(key, parse_length)) for key in levels.keys())  # noqa: SIM118


def _edges(table: Table) -> tuple[tuple[str, str], ...]:
    if "edges" not in table:
        return ()
    edges = table.table("edges")
    return tuple((key, read_name(edges.text(key))) for key in edges.keys())  # noqa: SIM118


def read_match(table: Table) -> SeamMatch:
    """Read a seam whose sides are to agree."""
    table.only(("seam", "at"))
    return table.made(lambda: SeamMatch(seam=read_name(table.text("seam")), at=read_grade_point(table.text("at"))))


def read_toward(table: Table) -> tuple[Toward, ...]:
    """Read towards which edges moves count; nothing where nothing is said."""
    if "toward" not in table:
        return ()
    pieces = table.table("toward")
    out = []
    for piece in pieces.keys():  # noqa: SIM118
        one = pieces.table(piece)
        one.only(("across", "along"))
        out.append(Toward(piece=piece, across=one.text("across", ""), along=one.text("along", "")))
    return tuple(out)


def _measures(table: Table, sizes: tuple[str, ...]) -> tuple[tuple[str, tuple[float, ...]], ...]:
    if "measures" not in table:
        return ()
    measures = table.table("measures")
    out = []
    for key in measures.keys():  # noqa: SIM118
        texts = measures.texts(key)
        if len(texts) != len(sizes):
            raise measures.fault(
                _("“{key}” lists {count} figures for {sizes} sizes.").format(
                    key=key, count=len(texts), sizes=len(sizes)
                ),
                _("Give one for each size."),
            )
        try:
            out.append((key, tuple(parse_length(text) for text in texts)))
        except InputError as error:
            raise DocumentError(f"{measures.where}: “{key}”: {error.message}", advice=error.advice) from error
    return tuple(out)


def _written(rule: GradeRule, sizes: tuple[str, ...]) -> str:
    said = {"across": rule.across, "along": rule.along}
    parts = [f"{key} = {json.dumps(write_steps(moves, sizes))}" for key, moves in said.items() if any(moves)]
    parts += [f"by = {_quoted(rule.by)}"] if rule.by and parts else []
    return "{ " + ", ".join(parts) + " }" if parts else "{}"


def _list(texts: object) -> str:
    return "[" + ", ".join(_quoted(str(text)) for text in texts) + "]"  # type: ignore[attr-defined]


def _quoted(text: str) -> str:
    """Write a text as a basic string of TOML, whose escapes are those of JSON."""
    return json.dumps(text, ensure_ascii=False)
