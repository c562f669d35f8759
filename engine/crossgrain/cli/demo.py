"""``crossgrain demo``: recut the sample trousers by the program's own commands, and show them before and after."""

from __future__ import annotations

import contextlib
import io
import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.measure import level_name
from crossgrain.cli.page import write_page
from crossgrain.cli.program import COMMANDS, program
from crossgrain.cli.samples import sample
from crossgrain.cli.show import say, show_table
from crossgrain.errors import DocumentError
from crossgrain.language import _
from crossgrain.model import Change, Pattern
from crossgrain.units import format_both, format_share

BY: Final = "8%"
WIDTHS: Final = ("--width", "10mm", "--edge", "hem=30mm", "--edge", "centre=15mm")
CORNERS: Final = ("--corner", "hem=mirrored", "--corner", "waist/side=squared to side")
PRESSED: Final = ("--press", "waist=end")
"""The back's dart is pressed to the centre, where its waist ends."""
STRETCHING: Final = ("left front", "right front", "back")
"""The pieces of the sample trousers that are cut in stretch cloth; the others are stabilised."""


@click.command(
    "demo",
    cls=Command,
    example="crossgrain demo",
    help=COMMANDS["demo"].summary
    + "\n\n"
    + _(
        "It runs the commands that it shows, and writes into the folder what they write. The samples stay as they are."
    ),
)
@click.option(
    "--into",
    "folder",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    default="crossgrain-demo",
    show_default=True,
    help=_("Where to write."),
)
def command(folder: Path) -> Exit:
    """Run the main job on the samples."""
    traced, trousers = sample("traced-front.svg"), sample("trousers.svg")
    _make(folder)
    marked, narrower, to_cut = (folder / f"front-{name}.svg" for name in ("marked", "narrower", "to-cut"))
    all_narrower, all_to_cut = (folder / f"trousers-{name}.svg" for name in ("narrower", "to-cut"))
    pieces = [word for name in STRETCHING for word in ("--piece", name)]

    say(_("A front as it was traced from paper: name its edges, narrow it, draw its cut line."))
    # The crotch curve runs smoothly into the centre: where one ends and the other begins, no turn tells.
    edges = ("--edges", "waist side hem inseam crotch centre", "--corner", "88.1mm, 206.6mm")
    _run("mark", traced, "-o", marked, "--piece", "front-trace", "--name", "traced front", *edges)
    _run("reduce", marked, "-o", narrower, "--by", BY)
    _run("allow", narrower, "-o", to_cut, *WIDTHS, *CORNERS)
    say("")
    say(_("The whole trousers, marked already: the zip extension keeps its width, what is stabilised stays."))
    _run("reduce", trousers, "-o", all_narrower, "--by", BY, *pieces)
    _run("allow", all_narrower, "-o", all_to_cut, *WIDTHS, *CORNERS, *PRESSED)
    say("")
    say(
        _(
            "Two cloths that stretch alike, and still the softer one must be cut narrower: compare, then reduce "
            "by cloth."
        )
    )
    old, new, body = (sample(f"{name}.toml") for name in ("cloth-drafted-for", "cloth-softer", "body-size-10"))
    _run("fabric", "compare", old, new, "--body", body, "--pattern", trousers, "--html", folder / "cloths.html")
    by_cloth = folder / "trousers-by-cloth.svg"
    _run("reduce", trousers, "-o", by_cloth, "--fabric", new, "--drafted-for", old, "--body", body)
    say("")
    say(
        _("At the fitting the legs were basted narrower; the waist was right. Front and back, notches and band follow.")
    )
    fitted, trued, lengthened, whole = (
        folder / f"trousers-{name}.svg" for name in ("fitted", "trued", "lengthened", "fitted-whole")
    )
    stations = ("--at", "waist=0mm", "--at", "hip=5mm", "--at", "60%=8mm", "--at", "hem=6mm")
    _run("take-in", trousers, "-o", fitted, "--seam", "side", *stations, "--body", body)
    _run("true", fitted, "-o", trued, "--seam", "side")
    _run("lengthen", trued, "-o", lengthened, "--at", "knee", "--by", "-25mm", "--body", body)
    _run("follow", lengthened, "-o", whole)
    _run("check", whole)
    say("")
    say(_("What was fitted, ready for the scissors: cut lines, then every piece laid out, labelled and listed."))
    whole_to_cut, sheet, listed = folder / "trousers-whole-to-cut.svg", folder / "pieces.svg", folder / "cut-list.html"
    _run("allow", whole, "-o", whole_to_cut, *WIDTHS, *CORNERS, *PRESSED)
    _run("cut", whole_to_cut, "-o", sheet, "--list", listed, "--garment", _("Slim trousers"))
    say("")

    before, after = _patterns(marked, trousers), _patterns(to_cut, all_to_cut)
    widths = _widths(before, after)
    page = folder / "demo.html"
    write_page(page, _page(before, after, widths))
    show_table(
        (_("piece"), _("width"), _("before"), _("after"), _("change")),
        [
            (one.piece, one.what, format_both(one.before), format_both(one.after),
             format_share(one.after / one.before - 1.0))
            for one in widths
        ],
    )  # fmt: skip
    say(_("Open {page} to see every piece before and after.").format(page=page))
    say(_("Open {sheet} to see the pieces to cut, and {page} for the cut list.").format(sheet=sheet, page=listed))
    return Exit.FINE


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise DocumentError(
            _("The folder {folder} cannot be made: {reason}.").format(folder=folder, reason=error.strerror),
            advice=_("Name another one with --into."),
        ) from error


def _run(*words: str | Path) -> None:
    """Show a command and run it as if it had been typed, but for its table."""
    texts = [str(word) for word in words]
    say(f"$ crossgrain {shlex.join(texts)}")
    overwriting = [*texts, "--overwrite"]
    with (
        contextlib.redirect_stdout(io.StringIO()),
        program.make_context("crossgrain", overwriting) as context,
    ):
        program.invoke(context)


def _patterns(*drawings: Path) -> Pattern:
    from crossgrain.svg.pattern import pattern_of
    from crossgrain.svg.reader import read_drawing

    return Pattern(pieces=tuple(piece for drawing in drawings for piece in pattern_of(read_drawing(drawing)).pieces))


def _widths(before: Pattern, after: Pattern) -> list[Change]:
    """Compare the widths across the grain of the pieces that became narrower."""
    from crossgrain.operations.measuring import measure

    changes = []
    for old, new in zip(measure(before).pieces, measure(after).pieces, strict=True):
        for was, is_now in zip(old.widths, new.widths, strict=True):
            if old.perimeter != new.perimeter:
                label = before.piece(old.id).label
                changes.append(Change(piece=label, what=level_name(was), before=was.width, after=is_now.width))
    return changes


def _page(before: Pattern, after: Pattern, widths: Sequence[Change]) -> str:
    from crossgrain.output.report import report

    return report(
        _("Slim trousers, recut for a cloth that stretches more"),
        before,
        after,
        lead=_(
            "An amateur theatre's wardrobe group narrows its pattern by {share} along the cross grain. The zip "
            "extension and the dart keep their width, and nothing moves lengthways. Around each stitch line stands the "
            "cut line: 10 mm, 15 mm at the centre, 30 mm at the hem."
        ).format(share=BY),
        changes=widths,
    )
