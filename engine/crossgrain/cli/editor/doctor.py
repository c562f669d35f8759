"""``crossgrain editor doctor``: see whether the menus can work, from the editor down to the engine."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import click

from crossgrain.cli.command import Command
from crossgrain.cli.editor import EDITOR_COMMANDS
from crossgrain.cli.editor.places import ENGINE_FILE, FOLDER, MODULE, Editor, editors, profile_option
from crossgrain.cli.exits import Exit
from crossgrain.cli.show import say
from crossgrain.language import _

_OLDEST: Final = (1, 2)
_NEWEST: Final = (1, 4)
_PATIENCE_S: Final = 60
_PROBE: Final = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">'
    '<path id="probe" d="M 10,10 H 90 V 90 H 10 Z"/></svg>'
)
_PROBED: Final = 'd="M13.2,10'
"""How the outline of the probe begins when it has been narrowed by 8 % about its middle."""


@click.command("doctor", cls=Command, example="crossgrain editor doctor", help=EDITOR_COMMANDS["doctor"].summary)
@profile_option
def command(profile: Path | None) -> Exit:
    """Check editor, scripts and engine."""
    found = editors()
    profiles = [profile] if profile is not None else list(dict.fromkeys(editor.profile for editor in found))
    complaints = [*_of_editors(found), *(line for one in profiles for line in _of_menus(one / "extensions"))]
    if not complaints:
        say(_("All is well: the menus reach the engine."))
        return Exit.FINE
    for complaint in complaints:
        say(_("Note: {message}").format(message=complaint))
    return Exit.FINDINGS


def _of_editors(found: tuple[Editor, ...]) -> Iterator[str]:
    if not found:
        yield _("No editor was found on this machine. Install Inkscape 1.2 or later.")
    for editor in found:
        name = " ".join(editor.words)
        if editor.version is None:
            yield _("{editor} does not say which version it is. See that it starts.").format(editor=name)
            continue
        version = ".".join(str(number) for number in editor.version)
        say(_("Found {editor}, version {version}; its user folder is {folder}.").format(
            editor=name, version=version, folder=editor.profile))  # fmt: skip
        if editor.version < _OLDEST:
            yield _("{editor} is version {version}, which is too old. Install 1.2 or later.").format(
                editor=name, version=version
            )
        elif editor.version > _NEWEST:
            yield _("{editor} is version {version}; the menus were tried with 1.2 to 1.4.").format(
                editor=name, version=version
            )
        if editor.sandbox:
            yield _(
                "{editor} runs in a sandbox ({sandbox}) and may not be able to start the engine. Install the editor "
                "from its makers' package or from your distribution instead."
            ).format(editor=name, sandbox=editor.sandbox)


def _of_menus(extensions: Path) -> Iterator[str]:
    folder = extensions / FOLDER
    others = sorted(path.parent for path in extensions.rglob(MODULE) if path.parent != folder)
    if others:
        yield _("There are menus in {folder} too; remove one of the two.").format(folder=others[0])
    if not (folder / MODULE).is_file():
        yield _("There are no menus in {folder}. Run: crossgrain editor install").format(folder=folder)
        return
    try:
        interpreter = (folder / ENGINE_FILE).read_text(encoding="utf-8").strip()
    except (OSError, ValueError):
        yield _("The menus in {folder} do not know where the engine is. Run: crossgrain editor install").format(
            folder=folder
        )
        return
    if os.path.normcase(interpreter) != os.path.normcase(sys.executable):
        say(_("The menus call the engine of {interpreter}.").format(interpreter=interpreter))
    yield from _probe(folder)


def _probe(folder: Path) -> Iterator[str]:
    """Start a menu's script as the editor does, and look at what comes back."""
    python = shutil.which("python3") or sys.executable
    with tempfile.TemporaryDirectory(prefix="crossgrain-") as place:
        drawing = Path(place, "probe.svg")
        drawing.write_text(_PROBE, encoding="utf-8")
        words = [python, str(folder / "crossgrain_reduce.py"), "--id=probe", "--by=8 %", str(drawing)]
        try:
            done = subprocess.run(words, capture_output=True, timeout=_PATIENCE_S, check=False)
        except (OSError, subprocess.TimeoutExpired) as error:
            yield _("The scripts of the menus cannot be started: {reason}").format(reason=error)
            return
    said = os.fsdecode(done.stderr).strip()
    if said or done.returncode:
        yield _("A menu that was tried said: {message}").format(message=said or done.returncode)
    elif _PROBED.encode() not in done.stdout:
        yield _("A menu that was tried gave back another drawing than it should.")
