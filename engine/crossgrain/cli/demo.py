"""``crossgrain demo``: the whole job on the sample trousers, from the base pattern to the pieces as they are cut."""

from __future__ import annotations

import contextlib
import io
import shlex
import shutil
from pathlib import Path
from typing import Final

import click

from crossgrain.cli.command import Command
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS, program
from crossgrain.cli.samples import sample
from crossgrain.cli.show import say
from crossgrain.errors import DocumentError
from crossgrain.language import _

SIZES: Final = ("8", "10", "12")
CLOTHS: Final = ("cloth-softer.toml", "cloth-firmer.toml")
RECIPE: Final = "recut.toml"
NEEDED: Final = (
    RECIPE,
    "grade-rules.toml",
    "cloth-drafted-for.toml",
    *CLOTHS,
    *(f"body-size-{size}.toml" for size in SIZES),
)
"""What the recipe reads besides the drawing."""


@click.command(
    "demo",
    cls=Command,
    example="crossgrain demo",
    help=COMMANDS["demo"].summary
    + "\n\n"
    + _(
        "It copies the sample trousers and what their recipe reads into the folder, and runs the commands that it "
        "shows. What you have altered there stays as it is."
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
    drawings, results, cloths = folder / "drawings", folder / "recut", folder / "cloths.html"
    _copied("trousers.svg", drawings)
    for name in NEEDED:
        _copied(name, folder)
    old, new, body = (folder / name for name in ("cloth-drafted-for.toml", CLOTHS[0], "body-size-10.toml"))

    say(_("Two cloths that stretch alike, and still the softer one must be cut narrower."))
    pattern = drawings / "trousers.svg"
    _run("fabric", "compare", old, new, "--body", body, "--pattern", pattern, "--html", cloths, "--overwrite")
    say("")
    say(
        _(
            "One recipe for all that follows: the size; the new cloth; what was basted at the fitting; side seams and "
            "inseams trued; band and facings brought up to date; cut lines; every piece laid out, listed, and drawn "
            "for a projector."
        )
    )
    _run("recipe", "check", folder / RECIPE)
    run = ("run", folder / RECIPE, drawings, "-o", results, "--sizes", f"{SIZES[0]}-{SIZES[-1]}")
    code = _run(*run, "--cloths", ",".join(CLOTHS), shows=True)
    say("")
    say(_("Open {page} to see how the cloths differ.").format(page=cloths))
    return Exit.FINE if code == Exit.FINDINGS else code


def _copied(name: str, folder: Path) -> None:
    """Copy a sample, unless it is there already: it may have been altered."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if not (folder / name).exists():
            shutil.copyfile(sample(name), folder / name)
    except OSError as error:
        raise DocumentError(
            _("The folder {folder} cannot be written to: {reason}.").format(folder=folder, reason=error.strerror),
            advice=_("Name another one with --into."),
        ) from error


def _run(*words: str | Path, shows: bool = False) -> Exit:
    """Show a command and run it as if it had been typed, without its table unless that is to be shown."""
    texts = [str(word) for word in words]
    say(f"$ crossgrain {shlex.join(texts)}")
    with (
        contextlib.nullcontext() if shows else contextlib.redirect_stdout(io.StringIO()),
        program.make_context("crossgrain", texts) as context,
    ):
        return Exit(program.invoke(context) or Exit.FINE)
