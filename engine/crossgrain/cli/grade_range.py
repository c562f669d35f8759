"""Several sizes at once: a folder with a drawing for each, or all of them on top of each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from crossgrain.cli.change import parameters
from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job
from crossgrain.cli.show import say, say_findings, show_json, show_table
from crossgrain.errors import ParameterError
from crossgrain.files import file_part, write_files
from crossgrain.language import _
from crossgrain.units import format_length

if TYPE_CHECKING:
    from crossgrain.model import Finding, Outcome, Pattern
    from crossgrain.model.sizes.grade_point import GradePoint
    from crossgrain.model.sizes.grade_rules import GradeRules


def write_range(job: Job, rules: GradeRules, sizes: str | None, at: Sequence[GradePoint]) -> Exit:
    """Write a drawing for each size into a folder, and one with all of them; every file or none."""
    from crossgrain.cli.grade import size_words
    from crossgrain.model.sizes.size_look import size_look
    from crossgrain.model.sizes.stacked_sizes import stacked
    from crossgrain.svg.beyond_page import beyond_page
    from crossgrain.svg.journal import Entry, append
    from crossgrain.svg.pattern import pattern_of, update
    from crossgrain.svg.reader import file_bytes, parse_drawing
    from crossgrain.svg.size_words import rewrite_size
    from crossgrain.svg.stacked import stacked_drawing
    from crossgrain.svg.writer import drawing_bytes

    assert job.target is not None
    data = file_bytes(job.source)
    base = parse_drawing(data, name=job.source.name, source=job.source, unit_mm=job.unit_mm)
    pattern = pattern_of(base)
    graded = _graded(pattern, rules, sizes, job.pieces)
    stem, ending = job.source.stem, job.source.suffix
    files: dict[str, bytes] = {}
    given = tuple(one for one in parameters(click.get_current_context()) if one[0] in ("rules",))
    for size, outcome in list(graded.items()):
        name = f"{stem}-{file_part(size)}{ending}"
        if name in files:
            raise ParameterError(
                _("Size {size} and another would both be written as {file}.").format(size=size, file=name),
                advice=_("Name the sizes so that letters and figures tell them apart."),
            )
        if size == rules.base:
            files[name] = data
            continue
        drawing = parse_drawing(data, name=job.source.name, source=job.source, unit_mm=job.unit_mm)
        update(drawing, pattern, outcome.value)
        ids = tuple(piece.id for piece in pattern.pieces)
        append(drawing, Entry(operation="grade", pieces=ids, parameters=(*given, ("size", size))))
        # A drawing of which only some pieces are graded is of no one size.
        words = () if job.pieces else rewrite_size(drawing, size_words(rules, size))
        beyond = beyond_page(base.page, pattern, outcome.value)
        graded[size] = replace(outcome, findings=(*outcome.findings, *beyond, *words))
        files[name] = _packed(drawing_bytes(drawing), ending)
    if graded:
        stack = stacked(
            {size: outcome.value for size, outcome in graded.items()}, rules.base, at, apart=True, rules=rules
        )
        looks = [size_look(one.from_base) for one in stack]
        name = f"{stem}-{_('all-sizes')}.svg"
        files[name] = drawing_bytes(stacked_drawing(stack, looks, name))
    write_files(job.target, files, overwrite=job.overwrite, source=job.source)
    for name in files:
        say(_("Wrote {file}.").format(file=job.target / name))
    return _show(job, pattern, graded)


def draw_stacked(job: Job, rules: GradeRules, sizes: str | None, at: Sequence[GradePoint]) -> Exit:
    """Write the drawing with all sizes over its pieces, a layer for each."""
    from crossgrain.model.sizes.size_look import size_look
    from crossgrain.model.sizes.stacked_sizes import StackedSize, stacked
    from crossgrain.svg.pattern import pattern_of
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.stacked import draw_sizes
    from crossgrain.svg.writer import write_drawing

    assert job.target is not None
    drawing = read_drawing(job.source, unit_mm=job.unit_mm)
    pattern = pattern_of(drawing)
    graded = _graded(pattern, rules, sizes, job.pieces)
    shown = {size: outcome.value for size, outcome in graded.items()}
    stack = stacked(shown, rules.base, at, rules=rules)
    if job.pieces:
        ids = {pattern.piece(name).id for name in job.pieces}
        stack = tuple(
            StackedSize(
                name=one.name,
                from_base=one.from_base,
                pieces=tuple(piece for piece in one.pieces if piece.id in ids),
            )
            for one in stack
        )
    draw_sizes(drawing, stack, [size_look(one.from_base) for one in stack])
    write_drawing(drawing, job.target, overwrite=job.overwrite, in_place=job.in_place)
    say(_("Wrote {file}.").format(file=job.target))
    return _show(job, pattern, graded)


def _graded(
    pattern: Pattern, rules: GradeRules, sizes: str | None, pieces: tuple[str, ...]
) -> dict[str, Outcome[Pattern]]:
    from crossgrain.cli.grade import with_dependents
    from crossgrain.notation.grade_points import read_sizes
    from crossgrain.operations.grading import grade_sizes

    wanted = rules.sizes if sizes is None else read_sizes(sizes, rules.sizes)
    out = {}
    for size, outcome in grade_sizes(pattern, rules, wanted, pieces).items():
        out[size] = outcome if size == rules.base else with_dependents(outcome, pieces)
    return out


def _show(job: Job, pattern: Pattern, graded: dict[str, Outcome[Pattern]]) -> Exit:
    """Print each edge's length in each size, and what to look at, once."""
    from crossgrain.kernel.length import path_length

    lengths = {
        size: {
            (piece.label, edge.name): path_length(edge.line) for piece in outcome.value.pieces for edge in piece.edges
        }
        for size, outcome in graded.items()
    }
    edges = [(piece.label, edge.name) for piece in pattern.pieces for edge in piece.edges]
    findings = _once(graded, [size for size, outcome in graded.items() if outcome.value != pattern])
    if job.as_json:
        show_json(
            {
                "input": str(job.source),
                "output": str(job.target),
                "sizes": {
                    size: [{"piece": piece, "edge": edge, "length": length} for (piece, edge), length in found.items()]
                    for size, found in lengths.items()
                },
                "findings": [{"piece": one.piece, "message": one.message} for one in findings],
            }
        )
    else:
        show_table(
            (_("piece"), _("edge"), *lengths),
            [
                (piece, edge, *(format_length(found[piece, edge]).removesuffix(" mm") for found in lengths.values()))
                for piece, edge in edges
            ],
            title=_("Lengths in each size, mm"),
        )
    say_findings(findings)
    return Exit.FINDINGS if findings else Exit.FINE


def _once(graded: dict[str, Outcome[Pattern]], altered: Sequence[str]) -> list[Finding]:
    """Return what is found in several sizes once, naming them where it is not so in all that differ from the base."""
    from crossgrain.model.piece import listed

    found: dict[tuple[str, str, str], tuple[Finding, list[str]]] = {}
    for size, outcome in graded.items():
        for finding in outcome.findings:
            _first, sizes = found.setdefault((finding.piece, finding.edge, finding.message), (finding, []))
            sizes.extend([] if size in sizes else [size])
    return [
        first
        if set(sizes) >= set(altered)
        else replace(first, message=_("Size {size}: {message}").format(size=listed(sizes), message=first.message))
        for first, sizes in found.values()
    ]


def _packed(data: bytes, ending: str) -> bytes:
    import gzip

    return gzip.compress(data, mtime=0) if ending.lower() == ".svgz" else data
