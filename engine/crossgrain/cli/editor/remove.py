"""``crossgrain editor remove``: take the menus out of the editor's folder again."""

from __future__ import annotations

import shutil
from pathlib import Path

import click

from crossgrain.cli.command import Command
from crossgrain.cli.editor import EDITOR_COMMANDS
from crossgrain.cli.editor.places import MODULE, failure, own_files, profile_option, targets
from crossgrain.cli.exits import Exit
from crossgrain.cli.show import say
from crossgrain.errors import DocumentError
from crossgrain.language import _


@click.command(
    "remove",
    cls=Command,
    example="crossgrain editor remove",
    help=EDITOR_COMMANDS["remove"].summary + "\n\n" + _("Drawings stay as they are, with all that is marked in them."),
)
@profile_option
def command(profile: Path | None) -> Exit:
    """Remove the menus."""
    for target in targets(profile):
        if not (target / MODULE).is_file():
            say(_("There are no menus of ours in {folder}.").format(folder=target))
            continue
        own = own_files(target)
        if own:
            raise DocumentError(
                _("{file} is yours, and would go with the menus.").format(file=own[0]), advice=_("Move it away first.")
            )
        try:
            shutil.rmtree(target)
        except OSError as error:
            raise failure(error, target) from error
        say(_("The menus are gone from {folder}.").format(folder=target))
    return Exit.FINE
