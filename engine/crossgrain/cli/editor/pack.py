"""``crossgrain editor zip``: the one file that the editor's extension manager takes."""

from __future__ import annotations

import zipfile
from io import BytesIO
from pathlib import Path
from typing import Final

import click

from crossgrain.cli.command import Command
from crossgrain.cli.editor import EDITOR_COMMANDS
from crossgrain.cli.editor.places import FOLDER, failure, menu_files
from crossgrain.cli.exits import Exit
from crossgrain.cli.show import say
from crossgrain.language import _

_EARLIEST: Final = (1980, 1, 1, 0, 0, 0)
"""The date of every file in it, so that the same menus make the same bytes."""


@click.command(
    "zip",
    cls=Command,
    example="crossgrain editor zip -o crossgrain-menus.zip",
    help=EDITOR_COMMANDS["zip"].summary
    + "\n\n"
    + _("Whoever installs it from there also needs the engine, and runs crossgrain editor install once."),
)
@click.option(
    "-o",
    "--output",
    metavar="OUT.zip",
    type=click.Path(path_type=Path),
    default="crossgrain-menus.zip",
    show_default=True,
    help=_("The file to write."),
)
def command(output: Path) -> Exit:
    """Pack the menus."""
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for file, origin in menu_files().items():
            entry = zipfile.ZipInfo(f"{FOLDER}/{file.as_posix()}", _EARLIEST)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, origin.read_bytes())
    try:
        output.write_bytes(packed.getvalue())
    except OSError as error:
        raise failure(error, output) from error
    say(_("Wrote {file}.").format(file=output))
    return Exit.FINE
