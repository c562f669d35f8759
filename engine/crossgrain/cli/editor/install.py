"""``crossgrain editor install``: copy the menus into the editor's folder, and tell them where the engine is."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.editor import EDITOR_COMMANDS
from crossgrain.cli.editor.places import ENGINE_FILE, MODULE, failure, menu_files, own_files, profile_option, targets
from crossgrain.cli.exits import Exit
from crossgrain.cli.show import say
from crossgrain.errors import DocumentError
from crossgrain.language import _


@click.command(
    "install",
    cls=Command,
    example="crossgrain editor install",
    help=EDITOR_COMMANDS["install"].summary
    + "\n\n"
    + _("Each editor found on this machine gets them. Menus that were installed before are replaced."),
)
@profile_option
def command(profile: Path | None) -> Exit:
    """Install the menus."""
    for target in targets(profile):
        install(target)
        say(_("The menus are in {folder}.").format(folder=target))
    say(_("Close the editor and start it again; then look under Extensions ▸ Crossgrain."))
    return Exit.FINE


def install(target: Path) -> None:
    """Copy the menus into a folder, whole or not at all.

    Args:
        target: the folder; what we put there before is replaced, what a maker put beside the samples is kept.

    Raises:
        DocumentError: the folder is not ours, or cannot be written to.
    """
    if target.exists() and not (target / MODULE).is_file() and any(target.iterdir()):
        raise DocumentError(
            _("{folder} is there already, and is not ours.").format(folder=target), advice=_("Move it away first.")
        )
    # Beside the folder of extensions, so that the editor never finds half of it.
    part, old = (target.parent.parent / f".crossgrain-{name}" for name in ("part", "old"))
    try:
        for folder in (part, old):
            shutil.rmtree(folder, ignore_errors=True)
        for file, origin in menu_files().items():
            (part / file).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(origin, part / file)
        for own in own_files(target):
            copy = shutil.copytree if own.is_dir() else shutil.copy2
            copy(own, part / "samples" / own.name)
        (part / ENGINE_FILE).write_text(sys.executable + "\n", encoding="utf-8")
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists():
            target.rename(old)
        part.rename(target)
        shutil.rmtree(old, ignore_errors=True)
    except OSError as error:
        if old.exists() and not target.exists():
            old.rename(target)
        shutil.rmtree(part, ignore_errors=True)
        raise failure(error, target) from error
