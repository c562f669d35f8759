"""Where the editor is, where it keeps its extensions, and where ours come from."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import click

import crossgrain
from crossgrain.cli.samples import sample
from crossgrain.errors import DocumentError
from crossgrain.language import _

FOLDER: Final = "crossgrain"
"""The folder of our menus among the editor's extensions."""
MODULE: Final = "crossgrain_editor.py"
"""The file by which that folder is known to be ours."""
ENGINE_FILE: Final = "crossgrain-engine.txt"
"""Holds the path of the interpreter that has the engine."""
_PATIENCE_S: Final = 60

profile_option: Final = click.option(
    "--profile",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help=_("The editor's user folder, where it is not the usual one."),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Editor:
    """An editor that was found on this machine.

    Args:
        words: what starts it.
        version: major and minor number; None where it does not tell.
        sandbox: ``snap`` or ``flatpak`` where it may not start other programs; empty otherwise.
        profile: its user folder.
    """

    words: tuple[str, ...]
    version: tuple[int, int] | None
    sandbox: str
    profile: Path


def editors() -> tuple[Editor, ...]:
    """Find the editors on this machine: on the search path, where installers put them, and in sandboxes."""
    found = []
    seen = set()
    for words, sandbox in _candidates():
        place = os.path.realpath(words[0]) if len(words) == 1 else " ".join(words)
        if place in seen:
            continue
        seen.add(place)
        version = _version(_said([*words, "--version"]))
        profile = _said([*words, "--user-data-directory"]).strip().splitlines()
        found.append(
            Editor(
                words=tuple(words),
                version=version,
                sandbox=sandbox or ("snap" if f"{os.sep}snap{os.sep}" in place else ""),
                profile=Path(profile[-1]) if profile else usual_profile(sandbox),
            )
        )
    return tuple(found)


def usual_profile(sandbox: str = "") -> Path:
    """Return where the editor keeps a user's files unless told otherwise."""
    if "INKSCAPE_PROFILE_DIR" in os.environ:
        return Path(os.environ["INKSCAPE_PROFILE_DIR"])
    home = Path.home()
    if sandbox == "flatpak":
        return home / ".var" / "app" / "org.inkscape.Inkscape" / "config" / "inkscape"
    if sandbox == "snap":
        return home / "snap" / "inkscape" / "current" / ".config" / "inkscape"
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", home)) / "inkscape"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "org.inkscape.Inkscape" / "config" / "inkscape"
    return Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config") / "inkscape"


def targets(profile: Path | None) -> tuple[Path, ...]:
    """Return the folders for our menus: in the profile named, or in that of each editor found.

    Raises:
        DocumentError: no editor was found, and no profile is named.
    """
    profiles = [profile] if profile is not None else [editor.profile for editor in editors()]
    if not profiles:
        raise DocumentError(
            _("No editor was found on this machine."),
            advice=_("Install Inkscape 1.2 or later, or name its user folder with --profile DIR."),
        )
    return tuple(dict.fromkeys(one / "extensions" / FOLDER for one in profiles))


def source() -> Path:
    """Return the folder our menus come from: in the installed package, or beside the engine in a checkout.

    Raises:
        DocumentError: it is in neither place.
    """
    package = Path(crossgrain.__file__).parent
    for folder in (package / "extension", package.parent.parent / "extension"):
        if (folder / MODULE).is_file():
            return folder
    raise DocumentError(_("The files of the menus are not there."), advice=_("Install Crossgrain again."))


def menu_files() -> dict[Path, Path]:
    """Return where each file of our menus goes in their folder, and where it comes from, in one order everywhere.

    The sample cloths and bodies are among them: the fields of the dialogs begin with these.
    """
    folder = source()
    wanted = {
        path.relative_to(folder): path
        for path in folder.rglob("*")
        if path.suffix in (".py", ".inx", ".mo") or path.name == "LICENSE"
    }
    wanted |= {Path("samples", path.name): path for path in sample("cloth-softer.toml").parent.glob("*.toml")}
    return {path: wanted[path] for path in sorted(wanted) if "__pycache__" not in path.parts}


def own_files(target: Path) -> tuple[Path, ...]:
    """Return what a maker put beside the samples in the folder of our menus, where the pickers begin."""
    samples = target / "samples"
    ours = {path.name for path in menu_files() if path.parent.name == "samples"}
    return tuple(path for path in sorted(samples.glob("*")) if path.name not in ours)


def _candidates() -> list[tuple[list[str], str]]:
    words: list[tuple[list[str], str]] = []
    on_path = shutil.which("inkscape")
    if on_path:
        words.append(([on_path], ""))
    usual = [Path("/Applications/Inkscape.app/Contents/MacOS/inkscape")]
    usual += [Path(os.environ[name], "Inkscape", "bin", "inkscape.com") for name in _PROGRAMS if name in os.environ]
    words += [([str(path)], "") for path in usual if path.is_file()]
    if shutil.which("flatpak") and (Path.home() / ".var" / "app" / "org.inkscape.Inkscape").is_dir():
        words.append((["flatpak", "run", "org.inkscape.Inkscape"], "flatpak"))
    return words


_PROGRAMS: Final = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")


def _said(words: Sequence[str]) -> str:
    try:
        done = subprocess.run(
            words,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=_PATIENCE_S,
            check=False,
            env={name: value for name, value in os.environ.items() if name != "DISPLAY"},
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return os.fsdecode(done.stdout)


def _version(said: str) -> tuple[int, int] | None:
    found = re.search(r"Inkscape (\d+)\.(\d+)", said)
    return (int(found[1]), int(found[2])) if found else None


def failure(error: OSError, path: Path) -> DocumentError:
    """Return the complaint for a folder that cannot be written to."""
    facts: dict[str, Any] = {"path": path, "reason": error.strerror or error}
    return DocumentError(
        _("{path} cannot be written: {reason}.").format(**facts),
        advice=_("Close the editor, see that the folder may be written to, and try again."),
    )
