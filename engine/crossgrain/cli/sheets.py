"""``crossgrain sheets``: print pieces at true size on paper that is joined without cutting, or project them."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from crossgrain.cli.amounts import LENGTH
from crossgrain.cli.change import Asked
from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS
from crossgrain.cli.show import say, say_findings, show_json
from crossgrain.language import _

if TYPE_CHECKING:
    from crossgrain.model import Finding
    from crossgrain.model.cutting.cut_plan import CutPlan
    from crossgrain.output.sheets.sheets import Printing, Sheets
    from crossgrain.pipeline import View
    from crossgrain.svg.drawing import Drawing

_FILE: Final = click.Path(path_type=Path)


@click.command(
    "sheets",
    cls=Command,
    example="crossgrain sheets to-cut.svg -o sheets.pdf --paper a4",
    help=COMMANDS["sheets"].summary
    + "\n\n"
    + _(
        "Pieces are laid out to save pages. Each sheet is laid over the ones on its left and above it, where the marks "
        "on both run on; nothing is cut off. Page 1 has the squares that prove the scale. Several drawings are several "
        "sizes of one pattern: they lie over each other, a layer for each, and each gets a file of its own beside "
        "OUT.pdf, without layers."
    ),
)
@click.argument("sources", metavar="IN.svg...", nargs=-1, required=True, type=_FILE)
@click.option("-o", "--output", metavar="OUT.pdf", type=_FILE, required=True, help=_("The file to write."))
@click.option("--overwrite", is_flag=True, help=_("Write over files that are there already."))
@click.option(
    "--paper",
    metavar="PAPER",
    help=_("a4 (if not said), letter, a3, a0, roll-914mm or a roll of another width, or projector."),
)
@click.option("--overlap", type=LENGTH, help=_("By how much neighbouring pages overlap: 10mm."))
@click.option("--gap", type=LENGTH, help=_("The least distance between two pieces: 10mm."))
@click.option("--grain-parallel", is_flag=True, help=_("Lay all grains parallel; else pieces may lie across."))
@click.option(
    "--off",
    metavar="LAYER",
    multiple=True,
    help=_(
        "A layer that is off when the file is opened: stitch-lines, cut-lines, marks, labels, joins, or a size; may be "
        "given again."
    ),
)
@click.option(
    "--size", "sizes", metavar="SIZE", multiple=True, help=_("The size of each drawing, in order; else by its name.")
)
@click.option("--all", "all_copies", is_flag=True, help=_("Lay out every copy, those in stabiliser too."))
@click.option("--open-folds", is_flag=True, help=_("Lay out the whole of a piece that is cut on a fold."))
@click.option("--garment", metavar="NAME", help=_("What the garment is called; else as the drawing is."))
@click.option("--width-of-cloth", type=LENGTH, help=_("How wide the cloth is, for the cut list: 1400mm."))
@click.option("--cloth", metavar="NAME", help=_("What the cloth is called on the pieces."))
@click.option("--fabric", metavar="CLOTH.toml", type=_FILE, help=_("The cloth they are cut from, for its name."))
@click.option(
    "--piece", "pieces", metavar="ID", multiple=True, help=_("A piece, by its id or its name; may be given again.")
)
@click.option(
    "--scale",
    type=LENGTH,
    help=_("The length of one user unit, where the drawing does not say it: 1mm, 0.75pt, 1/90in."),
)
@click.option("--json", "as_json", is_flag=True, help=_("Print the data as JSON; lengths in mm."))
def command(
    *,
    sources: tuple[Path, ...],
    output: Path,
    overwrite: bool,
    paper: str | None,
    overlap: float | None,
    gap: float | None,
    grain_parallel: bool,
    off: tuple[str, ...],
    sizes: tuple[str, ...],
    pieces: tuple[str, ...],
    scale: float | None,
    as_json: bool,
    fabric: Path | None,
    **cutting: Any,
) -> Exit:
    """Print pieces."""
    from crossgrain.files import keep_drawing, write_bytes
    from crossgrain.output.sheets.paper import paper_named
    from crossgrain.output.sheets.sheets import Printing, sheets
    from crossgrain.pipeline import Stage
    from crossgrain.svg.reader import read_drawing

    if scale is not None and scale <= 0.0:
        raise click.UsageError(_("--scale is zero. Give the length of one user unit, as 1mm."))
    given: dict[str, Any] = {
        "paper": paper,
        "overlap": overlap,
        "gap": gap,
        "grain_parallel": grain_parallel,
        "off": off,
    }
    printing = Printing(**{name: value for name, value in given.items() if value is not None})
    how = {name: value for name, value in cutting.items() if value or isinstance(value, float)}
    if fabric is not None:
        from crossgrain.files import read_cloth_file

        how.setdefault("cloth", read_cloth_file(fabric).name)
    asked = click.get_current_context().obj
    if isinstance(asked, Asked):
        paper_named(printing.paper)  # refused before anything is done, if there is none of that name
        asked.stage = Stage(name="sheets", pieces=pieces, view=_viewer(printing, pieces, how, sizes, paper))
        return Exit.FINE
    names = _sizes(sources, sizes)
    drawings = [read_drawing(source, unit_mm=scale) for source in sources]
    if len(drawings) > 1:
        how.setdefault("garment", _title_of_all(drawings))
    of_size = [_cut(drawing, pieces, {**how, "size": name}) for drawing, name in zip(drawings, names, strict=True)]
    title, findings = of_size[0][0], _once(finding for _title, _plan, found in of_size for finding in found)
    plans = [(name, plan) for name, (_title, plan, _found) in zip(names, of_size, strict=True)]
    files: list[tuple[Path, Sheets]] = [(output, sheets(title, plans, printing, findings))]
    if len(plans) > 1:
        files += _flat(output, title, plans, [found for _title, _plan, found in of_size], printing)
    _check_free([path for path, _sheets in files], names, sources, overwrite=overwrite)
    for path, made in files:
        keep_drawing(path, *sources)
        write_bytes(path, made.pdf, overwrite=overwrite)
        sentence = _("Wrote {file}, one page.") if made.pages == 1 else _("Wrote {file}, {pages} pages.")
        say(sentence.format(file=path, pages=made.pages))
    if as_json:
        _show_data(sources, files)
    findings = _once((*findings, *(finding for _path, made in files for finding in made.findings)))
    say_findings(findings)
    return Exit.FINDINGS if findings else Exit.FINE


def _sizes(sources: Sequence[Path], sizes: Sequence[str]) -> Sequence[str]:
    """Return the name of each size: as given, or what tells the files' names apart; none for a single drawing."""
    if sizes:
        if len(sizes) != len(sources):
            raise click.UsageError(
                _("There are {drawings} drawings and {sizes} sizes. Give --size once for each drawing.").format(
                    drawings=len(sources), sizes=len(sizes)
                )
            )
        return sizes
    if len(sources) == 1:
        return ("",)
    words = [re.split(r"[-_ .]+", source.stem) for source in sources]
    shared = set(words[0]).intersection(*words)
    return ["-".join(word for word in some if word not in shared) or "-".join(some) for some in words]


def _title_of_all(drawings: Sequence[Drawing]) -> str:
    """Return what the titles of several sizes begin with, without the word before what differs: "size"."""
    from crossgrain.cli.to_cut import title_of

    titles = [title_of(drawing).split() for drawing in drawings]
    shared = [some[0] for some in itertools.takewhile(lambda some: len(set(some)) == 1, zip(*titles, strict=False))]
    if any(len(title) > len(shared) for title in titles) and shared[1:]:
        shared = shared[:-1] if shared[-1].casefold() in ("size", _("size {size}").split()[0].casefold()) else shared
    return " ".join(shared).rstrip(" ,;:.-–(") or " ".join(titles[0])


def _viewer(
    printing: Printing, pieces: tuple[str, ...], how: dict[str, Any], sizes: Sequence[str], paper: str | None
) -> Callable[[Drawing], View]:
    """Return the step of a recipe: the sheets of one drawing, in a file beside the result."""
    from crossgrain.files import file_part
    from crossgrain.output.sheets.sheets import sheets
    from crossgrain.pipeline import View

    if len(sizes) > 1:
        raise click.UsageError(_("In a recipe, each drawing is of one size, and has sheets of its own."))
    ending = f"-{file_part(paper)}.pdf" if paper else ".pdf"

    def view(drawing: Drawing) -> View:
        title, plan, findings = _cut(drawing, pieces, {**how, "size": "".join(sizes)})
        made = sheets(title, [("", plan)], printing, _once(findings))
        return View(findings=_once((*findings, *made.findings)), files=((ending, made.pdf),))

    return view


def _cut(drawing: Drawing, pieces: tuple[str, ...], how: dict[str, Any]) -> tuple[str, CutPlan, tuple[Finding, ...]]:
    from crossgrain.cli.to_cut import size_of, title_of, with_cut_lines
    from crossgrain.operations.cutting import Cutting, cut
    from crossgrain.svg.pattern import pattern_of

    pattern, without = with_cut_lines(pattern_of(drawing, pieces))
    title = how.get("garment") or title_of(drawing)
    size = how.get("size") or size_of(drawing)
    outcome = cut(pattern, Cutting(**{**how, "garment": title, "size": size}))
    return title, outcome.value, (*without, *outcome.findings)


def _once(findings: Any) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys(findings))


def _flat(
    output: Path,
    title: str,
    plans: Sequence[tuple[str, CutPlan]],
    findings: Sequence[Sequence[Finding]],
    printing: Printing,
) -> list[tuple[Path, Sheets]]:
    """Make a file for each size, without layers; all that is drawn is on."""
    from dataclasses import replace

    from crossgrain.files import file_part
    from crossgrain.output.sheets.sheets import sheets

    plain = replace(printing, off=())
    return [
        (
            output.with_name(f"{output.stem}-{file_part(size)}{output.suffix}"),
            sheets(title, [(size, plan)], plain, found, layered=False),
        )
        for (size, plan), found in zip(plans, findings, strict=True)
    ]


def _check_free(paths: Sequence[Path], sizes: Sequence[str], sources: Sequence[Path], *, overwrite: bool) -> None:
    """See that no file is there already, nor written twice, nor a drawing, before any is written."""
    from crossgrain.errors import DocumentError, ParameterError

    # On many machines names that differ by capitals only are those of one file.
    seen = {paths[0].name.casefold()}
    for path, size in zip(paths[1:], sizes, strict=False):
        if path.name.casefold() in seen:
            raise ParameterError(
                _("Size {size} and another would both be written as {file}.").format(size=size, file=path.name),
                advice=_("Name the sizes so that letters and figures tell them apart."),
            )
        seen.add(path.name.casefold())
    for path in paths:
        if path.exists() and any(path.samefile(source) for source in sources):
            raise DocumentError(
                _("{path} is the drawing itself, which is not changed.").format(path=path),
                advice=_("Give the sheets another name."),
            )
        if path.exists() and not overwrite:
            raise DocumentError(
                _("{file} is there already.").format(file=path), advice=_("Give another name, or --overwrite.")
            )


def _show_data(sources: Sequence[Path], files: Sequence[tuple[Path, Sheets]]) -> None:
    show_json(
        {
            "input": [str(source) for source in sources],
            "output": [
                {
                    "file": str(path),
                    "pages": made.pages,
                    "rows": made.rows,
                    "columns": made.columns,
                    "joins": made.joins,
                }
                for path, made in files
            ],
        }
    )
