"""The real editor with our menus in a profile of its own, without a window and in one.

Every call runs under ``timeout``: whatever a menu's script says opens a dialog, and a run without a window then hangs.
"""

from __future__ import annotations

import math
import os
import re
import shutil
import subprocess
from pathlib import Path
from xml.sax.saxutils import quoteattr

import pytest

from crossgrain.cli import main
from crossgrain.cli.editor.install import install

needs_editor = pytest.mark.skipif(
    shutil.which("inkscape") is None or shutil.which("xvfb-run") is None,
    reason="the editor is not installed: apt-get install inkscape xvfb",
)
needs_window = pytest.mark.skipif(
    any(
        shutil.which(one) is None for one in ("inkscape", "xvfb-run", "openbox", "xdotool", "dbus-run-session", "gdbus")
    ),
    reason="a window is not to be had: apt-get install inkscape xvfb openbox xdotool dbus-daemon libglib2.0-bin",
)

DRIVER = r"""
call="gdbus call --session --dest org.inkscape.Inkscape"
at() {
    object=$1; shift
    $call --object-path "/org/inkscape/Inkscape$object" --method org.gtk.Actions.Activate "$@" '{}' >/dev/null
}
app() { at "" "$1" "${2:-[]}"; }
window() { at /window/1 "$1" "${2:-[]}"; }
picture() { if [ -n "$PICTURES" ]; then sleep 0.7; import -window root "$PICTURES/$1.png"; fi; }
open_dialog() {
    app "$1" &
    dialog=$(xdotool search --sync --onlyvisible --name "^$2" | tail -1)
    xdotool windowactivate --sync $dialog
    sleep 0.5
}
press() { xdotool windowactivate --sync "$1" key --clearmodifiers "$2"; }
keys() {
    xdotool windowactivate --sync "$1"; shift
    for key in "$@"; do xdotool key --clearmodifiers "$key"; sleep 0.1; done
}
main() { xdotool search --onlyvisible --name "Inkscape$" | tail -1; }
settle() { sleep 0.5; while pgrep -f "$INKSCAPE_PROFILE_DIR/extensions" >/dev/null; do sleep 0.1; done; sleep 0.7; }
apply() { press $dialog alt+a; settle; }
close_dialog() { press $dialog ${CLOSE:-alt+c}; sleep 0.7; }
on() { app select-clear; app select-by-id "[<'$1'>]"; sleep 0.3; }
snap() { app export-filename "[<'$FOLDER/$1.svg'>]"; app export-do; }
becomes() {
    for try in $(seq 50); do sleep 0.3; snap "$1"; grep -qF " d=\"$2\"" "$FOLDER/$1.svg" && break; done
}
windows() { xdotool search --onlyvisible --class inkscape | wc -l; }  # a box may come up behind the dialog
quiet() { [ "$(windows)" = 2 ] || echo "$1" >> "$FOLDER/said"; }
complaint() {
    settle  # until then a box without a title says that the script is at work
    active=$(xdotool getactivewindow)
    [ -z "$(xdotool getwindowname $active)" ] && echo "$1" >> "$FOLDER/said"
    picture "$1"; press $active Escape; sleep 0.5
}
quit() { app quit; for try in $(seq 50); do kill -0 $editor 2>/dev/null || break; sleep 0.1; done; }
undo() { press $(main) ctrl+z; sleep 0.7; }
redo() { press $(main) ctrl+shift+z; sleep 0.7; }
save() {
    touch -d '2 minutes ago' "$DRAWING"; was=$(stat -c %y "$DRAWING")
    press $(main) ctrl+s
    for try in $(seq 50); do [ "$(stat -c %y "$DRAWING")" != "$was" ] && break; sleep 0.1; done; sleep 0.3
}
openbox &
manager=$!
inkscape "$DRAWING" &
editor=$!
for try in $(seq 300); do
    $call --object-path /org/inkscape/Inkscape/window/1 --method org.gtk.Actions.List >/dev/null 2>&1 && break
    sleep 0.1
done
xdotool search --sync --onlyvisible --name "Inkscape$" >/dev/null
sleep 1
window canvas-zoom-page
sleep 0.5
"""


THREE_NODES = """
on front-right
window canvas-zoom-selection
window tool-switch "[<'Node'>]"
sleep 0.7
xdotool windowactivate --sync $(main)
xdotool mousemove --window $(main) 660 139 mousedown 1; sleep 0.2
xdotool mousemove --window $(main) 770 545; sleep 0.2; xdotool mousemove --window $(main) 771 546; sleep 0.2
xdotool mouseup 1; sleep 0.5
"""
"""Draws a band round three nodes of the sample's right front: the waist corner, the hip and the knee of its side."""


def profile_in(folder: Path, parameters=None) -> Path:
    """Make a fresh profile with our menus in it, and the dialogs' fields as given."""
    profile = folder / "profil é"
    install(profile / "extensions" / "crossgrain")
    fields = " ".join(f"{name}={quoteattr(value)}" for name, value in (parameters or {}).items())
    (profile / "preferences.xml").write_text(
        f'<inkscape version="1"><group id="extensions" {fields}/></inkscape>', encoding="utf-8"
    )
    return profile


def environment(profile: Path, **more: str) -> dict[str, str]:
    """Return the environment of a run that knows nothing of the tester's own editor."""
    return {
        **os.environ,
        "INKSCAPE_PROFILE_DIR": str(profile),
        "HOME": str(profile.parent),
        "NO_AT_BRIDGE": "1",
        "LANGUAGE": "en",
        "BROWSER": "/bin/true",
        **more,
    }


def act(folder: Path, drawing: Path, action: str, selected, parameters, *, profile=None, unsaved=False) -> Path:
    """Choose a menu entry without a window, and return the drawing as the editor then writes it.

    Args:
        folder: where to work.
        drawing: the drawing.
        action: the menu entry.
        selected: the ids of what is selected.
        parameters: the fields of its dialog.
        profile: a profile that is there already; its fields then stand as they are.
        unsaved: whether the editor gets the drawing without a file, as one that was never saved.
    """
    target = folder / "by-the-editor.svg"
    own = {f"crossgrain.{action}.{name}": value for name, value in parameters.items()}
    select = ";".join(f"select-by-id:{id}" for id in selected)
    done = subprocess.run(
        [
            *("timeout", "90", "xvfb-run", "-a", "inkscape", "-g", "--batch-process"),
            f"--actions={select};crossgrain.{action}.noprefs;export-filename:{target};export-do",
            "--pipe" if unsaved else str(drawing),
        ],
        env=environment(profile or profile_in(folder, own)),
        input=drawing.read_bytes() if unsaved else None,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0, f"a dialog, so something was said: {done.stderr.decode()}"
    return target


def in_a_window(
    folder: Path, drawing: Path, steps: str, *, pictures: Path | None = None, parameters=None, **more: str
) -> list[str]:
    """Open a drawing in a window, do the steps of a shell script there, and return what was said in between.

    ``quiet WORD`` in the steps says ``WORD`` if anything but the dialog has come up; ``complaint WORD`` says it when a
    box with a sentence has come up, and closes that. ``CROSSGRAIN_PICTURES`` names a folder for pictures to look at.
    """
    pictures = pictures or os.environ.get("CROSSGRAIN_PICTURES")
    script = folder / "steps.sh"
    script.write_text(DRIVER + steps + "\nkill $editor $manager\n", encoding="utf-8")
    done = subprocess.run(
        [
            *("timeout", "--kill-after=5", "120", "dbus-run-session", "--"),
            *("xvfb-run", "-a", "-s", "-screen 0 1280x900x24", "bash", str(script)),
        ],
        env=environment(
            profile_in(folder, parameters),
            DRAWING=str(drawing),
            FOLDER=str(folder),
            PICTURES=str(pictures or ""),
            **more,
        ),
        capture_output=True,
        check=False,
    )
    assert done.returncode in (0, 143), done.stderr.decode()
    said = folder / "said"
    return said.read_text().split() if said.exists() else []


def write_many_nodes(folder: Path, count: int) -> Path:
    """Write a drawing with one outline of many nodes, a vertex to each angle, as an automatic tracing has them."""
    turns = (2.0 * math.pi * number / count for number in range(count))
    reach = (1.0 + 0.001 * ((number * 7919) % 5) for number in range(count))
    nodes = " ".join(
        f"{200 + 150 * r * math.cos(turn):.3f},{300 + 250 * r * math.sin(turn):.3f}"
        for turn, r in zip(turns, reach, strict=True)
    )
    path = folder / "many-nodes.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="600mm" viewBox="0 0 400 600">'
        f'<path id="front" d="M {nodes} Z"/></svg>',
        encoding="utf-8",
    )
    return path


def by_command(folder: Path, drawing: Path, *words: str) -> Path:
    """Do the same by the command line, and return the drawing or page it wrote."""
    if "OUT.html" in words:
        target = folder / "by-the-command.html"
        files = {"IN.svg": str(drawing), "OUT.html": str(target)}
        assert main([files.get(word, word) for word in words]) in (0, 1)
        return target
    target = folder / "by-the-command.svg"
    target.unlink(missing_ok=True)
    if "OUT.svg" in words:
        files = {"IN.svg": str(drawing), "OUT.svg": str(target)}
        assert main([files.get(word, word) for word in words]) in (0, 1)
        return target
    assert main([words[0], str(drawing), "-o", str(target), *words[1:]]) in (0, 1)
    return target


def paths(drawing: Path) -> dict[str, str]:
    """Return the ``d`` of every path in a drawing that has an id, as it is written."""
    found = {}
    for tag in re.findall(r"<path\b[^>]*>", drawing.read_text(encoding="utf-8"), re.DOTALL):
        id, d = re.search(r'\sid="([^"]*)"', tag), re.search(r'\sd="([^"]*)"', tag)
        if id and d:
            found[id[1]] = d[1]
    return found
