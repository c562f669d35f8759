"""``crossgrain check OUTDIR``: every seam in every size of a folder, in one table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from crossgrain.cli.exits import Exit
from crossgrain.cli.job import Job
from crossgrain.cli.show import say, say_findings, show_json, show_table
from crossgrain.errors import CrossgrainError, DocumentError
from crossgrain.language import _
from crossgrain.model import Finding, Pattern
from crossgrain.units import format_length

if TYPE_CHECKING:
    from crossgrain.checks.eased import SeamEase

_ENDINGS: Final = (".svg", ".svgz")


def check_folder(job: Job, not_sewn: Sequence[str]) -> Exit:
    """Walk the seams of all drawings in a folder.

    Args:
        job: its source is the folder.
        not_sewn: names of edges that are not sewn to each other.

    Raises:
        DocumentError: no drawing with marked pieces in it.
    """
    from crossgrain.checks.sizes import check_sizes

    sizes, eases, unread, broken = _sizes(job)
    rows, checked = check_sizes(sizes, not_sewn, eases)
    checked = replace(checked, findings=(*broken, *checked.findings))
    if job.as_json:
        show_json(
            {
                "input": str(job.source),
                "sizes": list(sizes),
                "seams": [
                    {"seam": row.seam, "sides": [row.first, row.second], "differences": dict(row.differences)}
                    for row in rows
                ],
                "findings": [
                    {"piece": one.piece, "edge": one.edge, "message": one.message} for one in checked.findings
                ],
                "unchecked": [*unread, *checked.unchecked],
            }
        )
    else:
        show_table(
            (_("seam"), _("sides"), *sizes),
            [
                (
                    row.seam,
                    f"{row.first} – {row.second}",
                    *(_figure(row.differences[size]) if size in row.differences else "" for size in sizes),
                )
                for row in rows
            ],
            title=_("By how much the second side is longer, mm"),
        )
    for sentence in (*unread, *checked.unchecked):
        say(_("Not checked: {sentence}").format(sentence=sentence))
    say_findings(checked.findings)
    if not checked.findings:
        say(_("Nothing was found."))
    return Exit.FINDINGS if checked.findings else Exit.FINE


def _figure(mm: float) -> str:
    return format_length(mm, digits=2).removesuffix(" mm")


def _sizes(job: Job) -> tuple[dict[str, Pattern], dict[str, tuple[SeamEase, ...]], list[str], list[Finding]]:
    """Return the patterns of a folder's drawings by what tells their names apart, in the order of sizes.

    With them what ease is meant in each, what drawings hold no pieces, and which cannot be read though they do.
    """
    from crossgrain.cli.meant_eases import meant_eases
    from crossgrain.model.sizes.grade_rules import size_rank
    from crossgrain.svg.markup import is_marked
    from crossgrain.svg.pattern import pattern_of
    from crossgrain.svg.reader import read_drawing
    from crossgrain.svg.stacked import shows_sizes

    found: dict[Path, Pattern] = {}
    meant: dict[Path, tuple[SeamEase, ...]] = {}
    unread: list[str] = []
    broken: list[Finding] = []
    for path in _drawings(job.source):
        drawing = None
        try:
            drawing = read_drawing(path, unit_mm=job.unit_mm)
            found[path] = pattern_of(drawing, job.pieces)
            meant[path], lost = meant_eases(drawing)
            unread += [f"{path.name}: {sentence}" for sentence in lost]
        except CrossgrainError as error:
            if drawing is None or any(is_marked(shape.element) for shape in drawing.shapes):
                said = _("It cannot be checked: {reason}").format(reason=error)
                broken.append(Finding(piece=path.name, message=said))
            # The drawing of all sizes on top of each other holds no pieces.
            elif not shows_sizes(drawing):
                unread.append(f"{path.name}: {error}")
    if not found:
        raise DocumentError(
            _("{path} is a folder without drawings of pieces.").format(path=job.source),
            advice=_("Name a drawing, or the folder that crossgrain grade has written."),
        )
    named = _named(list(found), job.source)
    order = sorted(named, key=lambda name: (size_rank(name) or (2, 0.0, 0.0), name))
    return (
        {name: found[named[name]] for name in order},
        {name: meant[named[name]] for name in order},
        unread,
        broken,
    )


def _drawings(folder: Path) -> list[Path]:
    """Return the drawings in a folder, or where it has none those in the folders within it, as a recipe leaves them."""
    inside = [[path for path in folder.glob(pattern) if path.suffix.lower() in _ENDINGS] for pattern in ("*", "*/*")]
    return sorted(inside[0] or inside[1])


def _named(paths: Sequence[Path], folder: Path) -> dict[str, Path]:
    """Name drawings by what tells them apart."""
    if all(path.parent == folder for path in paths):
        shared = _shared([path.stem for path in paths])
        return {path.stem[shared:] or path.stem: path for path in paths}
    if len({path.parent for path in paths}) == len(paths):
        return {path.parent.name: path for path in paths}
    return {f"{path.parent.name}/{path.stem}": path for path in paths}


def _shared(names: Sequence[str]) -> int:
    """Return how many signs at their beginning names have in common, up to a dash: the name of the drawing."""
    first, last = min(names), max(names)
    count = next((k for k, (one, other) in enumerate(zip(first, last, strict=False)) if one != other), 0)
    return first.rfind("-", 0, count) + 1
