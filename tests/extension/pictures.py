"""Take the pictures of the guide in the real editor: ``python tests/extension/pictures.py``.

English pictures go to ``docs/pictures``, French ones beside them with ``.fr`` in their names.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

TESTS = Path(__file__).parent.parent
sys.path.insert(0, str(TESTS))

from crossgrain.cli import main as crossgrain  # noqa: E402
from extension.editor import THREE_NODES, in_a_window  # noqa: E402  # the folder of the tests is on no path before

PICTURES = TESTS.parent / "docs" / "pictures"

CLOTH = """
for id in front-left front-right back waistband; do app select-by-id "[<'$id'>]"; done
window canvas-zoom-drawing
sleep 0.3
open_dialog crossgrain.reduce-for-cloth "{cloth}"
picture cloth
apply
close_dialog
app select-clear; for id in front-left-hold front-left-notch front-left-notch-2; do app select-by-id "[<'$id'>]"; done
window canvas-zoom-selection
app select-clear
picture for-cloth
"""
TAKING_IN = (
    THREE_NODES
    + """
open_dialog crossgrain.take-in "{take_in}"
apply
xdotool windowmove $dialog 40 190; sleep 0.5
picture take-in
close_dialog
"""
)
CUTTING = """
app select-by-id "[<'back'>]"
open_dialog crossgrain.cut "{cut}"
apply
close_dialog
app select-clear
window canvas-zoom-drawing
sleep 1
picture cut
"""
PRINTING = """
window canvas-zoom-drawing
sleep 0.5
open_dialog crossgrain.sheets "{sheets}"
xdotool windowmove $dialog 40 120; sleep 0.5
picture print
close_dialog
"""
GRADING = """
app select-by-id "[<'front-right'>]"
window canvas-zoom-selection
open_dialog crossgrain.grade "{grade}"
apply
sleep 3
xdotool windowmove $dialog 20 330; sleep 0.5
picture grade
close_dialog
"""
STEPS = """
app select-by-id "[<'front'>]"
window canvas-zoom-drawing
sleep 0.5
main_window=$(main)
xdotool mousemove --window $main_window {extensions} 16 click 1
sleep 0.7
xdotool key {downs} Right
sleep 0.5
picture menu
xdotool key Escape Escape Escape
sleep 0.3
app select-by-id "[<'front'>]"
sleep 0.3
open_dialog crossgrain.name-edges "{name}"
picture name-edges
apply
close_dialog
open_dialog crossgrain.reduce "{reduce}"
picture reduce
apply
close_dialog
open_dialog crossgrain.allow "{allow}"
apply
picture allow
close_dialog
app select-clear
picture done
"""

WORDS = {
    "en": {
        "name": "1. Name the Edges",
        "reduce": "5. Reduce",
        "allow": "1. Seam Allowances",
        "cloth": "4. Reduce for a Cloth",
        "take_in": "1. Take In or Let Out",
        "cut": "2. Cut Pieces",
        "sheets": "3. Print Sheets",
        "grade": "1. Grade",
        "extensions": 425,
        "downs": "Down Down Down Down Down",
    },
    "fr": {
        "name": "1. Nommer les bords",
        "reduce": "5. Réduire",
        "allow": "1. Marges de couture",
        "cloth": "4. Réduire selon le tissu",
        "take_in": "1. Reprendre ou relâcher",
        "cut": "2. Pièces à couper",
        "sheets": "3. Imprimer",
        "grade": "1. Grader",
        "extensions": 525,
        "downs": "Down Down Down Down",
    },
}
EDGES = {"en": "waist side hem inseam crotch", "fr": "taille côté ourlet entrejambe enfourchure"}
FIELDS = {"en": ("trouser front", "hem=30mm", "hem=mirrored"), "fr": ("devant", "ourlet=30mm", "ourlet=mirrored")}


TO_CUT = "to-cut.svg"


def drawing(sample: str, folder: Path) -> Path:
    """Put a drawing into a folder: a sample, or the trousers with their cut lines."""
    if sample != TO_CUT:
        return Path(shutil.copy(TESTS.parent / "samples" / sample, folder / sample))
    widths = ("--width", "10mm", "--edge", "hem=30mm", "--edge", "centre=15mm")
    crossgrain(["allow", str(TESTS.parent / "samples" / "trousers.svg"), "-o", str(folder / sample), *widths])
    return folder / sample


def take(language: str) -> None:
    """Take the pictures in one language."""
    with tempfile.TemporaryDirectory(prefix="guide-") as place:
        folder = Path(place)
        taken = folder / "taken"
        taken.mkdir()
        name, widths, corners = FIELDS[language]
        parameters = {
            "crossgrain.name-edges.edges": EDGES[language],
            "crossgrain.name-edges.name": name,
            "crossgrain.allow.edge": widths,
            "crossgrain.allow.corner": corners,
        }
        locale = {"en": "C.UTF-8", "fr": "fr_FR.UTF-8"}[language]
        for sample, steps in (
            ("bare-front.svg", STEPS),
            ("trousers.svg", CLOTH),
            ("trousers.svg", TAKING_IN),
            (TO_CUT, CUTTING),
            (TO_CUT, PRINTING),
            ("trousers.svg", GRADING),
        ):
            in_a_window(
                folder,
                drawing(sample, folder),
                steps.format(**WORDS[language]),
                pictures=taken,
                parameters=parameters,
                LANGUAGE=language,
                CLOSE={"en": "alt+c", "fr": "alt+f"}[language],
                LANG=locale,
                LC_ALL=locale,
            )
        PICTURES.mkdir(exist_ok=True)
        for picture in sorted(taken.glob("*.png")):
            target = PICTURES / f"editor-{picture.stem}{'' if language == 'en' else '.' + language}.png"
            command = ["convert", str(picture), "-resize", "1000x", "-colors", "96", "-strip", f"PNG8:{target}"]
            subprocess.run(command, check=True)


if __name__ == "__main__":
    for language in sys.argv[1:] or WORDS:
        take(language)
