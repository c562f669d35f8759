"""The menu entries, and for each a choice a maker makes: what is selected, the dialog's fields, and the same command.

A new entry gets one line here; the tests of this folder then hold it to all that every entry promises.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

SAMPLES = Path(__file__).parent.parent.parent / "samples"
OLD, NEW, FIRMER = (str(SAMPLES / f"cloth-{name}.toml") for name in ("drafted-for", "softer", "firmer"))
BODY = str(SAMPLES / "body-size-12.toml")
RULES = str(SAMPLES / "grade-rules.toml")
WIDTHS = str(SAMPLES / "widths.toml")
WORN = ("front-left", "front-right", "back", "waistband")

NOTES = ("--show", "notes")
SHOWN = (*NOTES, "--show", "labels")


class Choice(NamedTuple):
    """One use of a menu entry.

    Where the command writes no drawing with ``-o``, ``IN.svg`` and ``OUT.svg`` stand in it for both drawings; where it
    writes a page, ``IN.svg`` and ``OUT.html`` stand in it for the drawing and the page. ``in_editor`` says whether the
    real editor tries it too, which takes seconds: every entry once or twice.
    """

    action: str
    drawing: str
    selected: tuple[str, ...]
    fields: dict[str, str]
    command: tuple[str, ...]
    in_editor: bool = True

    @property
    def pieces(self) -> tuple[str, ...]:
        """The words by which the command is told its pieces; none where all of the drawing are meant."""
        return () if self.fields.get("whole") == "1" else tuple(w for id in self.selected for w in ("--piece", id))


CHOICES = (
    Choice("name-edges", "bare", ("front",), {"name": "front leg", "edges": "waist side hem inseam", "labels": "1"},
           ("mark", "--name", "front leg", "--edges", "waist side hem inseam", *SHOWN)),
    Choice("mark", "marked", ("front",),
           {"mark": "notch", "notch": "side=50% double; inseam=120mm", "add": "true", "labels": "1"},
           ("mark", "--notch", "side=50% double", "--notch", "inseam=120mm", "--add", *SHOWN)),
    Choice("mark", "marked", ("back",), {"mark": "cut", "cut": "1 on fold side", "outline": "stitch", "labels": "0"},
           ("mark", "--cut", "1 on fold side", "--outline", "stitch", *NOTES)),
    Choice("compare", "trousers", WORN, {"drafted_for": OLD, "fabric": NEW, "body": BODY, "match": "tension"},
           ("fabric", "compare", OLD, NEW, "--pattern", "IN.svg", "--html", "OUT.html", "--body", BODY)),
    Choice("reduce-for-cloth", "trousers", WORN,
           {"drafted_for": OLD, "fabric": NEW, "way": "body", "body": BODY, "match": "pressure", "pressure": "1.1 kPa",
            "opening": "centre", "labels": "1", "before": "1"},
           ("reduce", "--fabric", NEW, "--drafted-for", OLD, "--body", BODY, "--match", "pressure", "--pressure",
            "1.1 kPa", "--opening", "centre", *SHOWN, "--show", "before")),
    Choice("reduce-for-cloth", "traced", ("front-trace",),
           {"drafted_for": OLD, "fabric": FIRMER, "way": "stretch", "by_stretch": "50 %", "labels": "0", "before": "0"},
           ("reduce", "--fabric", FIRMER, "--drafted-for", OLD, "--by-stretch", "50 %", *NOTES), False),
    Choice("reduce", "traced", ("front-trace",), {"by": "7,5 %", "along": "2%", "labels": "1", "before": "1"},
           ("reduce", "--by", "7,5 %", "--along", "2%", *SHOWN, "--show", "before")),
    Choice("mark", "trousers", ("waistband",),
           {"mark": "follow", "follow": "waist=35mm + left front + back + back + right front", "labels": "0"},
           ("mark", "--follow", "waist=35mm + left front + back + back + right front", *NOTES), in_editor=False),
    Choice("mark", "trousers", ("fly-facing",),
           {"mark": "follow", "follow": "waist traces right front to 35mm; centre traces right front/centre from 15mm "
            "before start; zip along outer", "labels": "0"},
           ("mark", "--follow", "waist traces right front to 35mm", "--follow",
            "centre traces right front/centre from 15mm before start", "--follow", "zip along outer", *NOTES),
           in_editor=False),
    Choice("mark", "trousers", ("waistband",),
           {"mark": "closing", "button": "left=50% 15mm by 3mm from 25mm", "buttonhole": "",
            "loop": "waist=25%; waist=75%", "add": "false", "labels": "0"},
           ("mark", "--button", "left=50% 15mm by 3mm from 25mm", "--loop", "waist=25%", "--loop", "waist=75%",
            *NOTES)),
    Choice("mark", "trousers", ("front-right",),
           {"mark": "lines", "crease": "hem=50% to 80%", "topstitch": "centre=40mm", "add": "false", "labels": "0"},
           ("mark", "--crease", "hem=50% to 80%", "--topstitch", "centre=40mm", *NOTES), in_editor=False),
    Choice("mark", "trousers", ("back",), {"mark": "dart", "dart": "", "drill": "15 mm", "add": "true", "labels": "0"},
           ("mark", "--drill", "15 mm", "--add", *NOTES), in_editor=False),
    Choice("take-in", "trousers", ("front-right",),
           {"seam": "side", "at": "waist=0mm; hip=12mm; 60%=10mm; hem=6mm", "body": BODY, "is_girth": "0",
            "shares": "front=40%", "whole": "1", "labels": "1", "before": "1"},
           ("take-in", "--seam", "side", "--at", "waist=0mm", "--at", "hip=12mm", "--at", "60%=10mm", "--at", "hem=6mm",
            "--share", "front=40%", "--body", BODY, *SHOWN, "--show", "before")),
    Choice("take-in", "trousers", ("back",),
           {"seam": "seat", "at": "waist=20mm; 50%=0mm", "body": "", "is_girth": "1", "shares": "", "whole": "0",
            "labels": "0", "before": "0"},
           ("take-in", "--seam", "seat", "--at", "waist=20mm", "--at", "50%=0mm", "--girth", *NOTES), in_editor=False),
    Choice("lengthen", "trousers", ("back",),
           {"by": "-25 mm", "at": "knee", "body": BODY, "keep": "hem-width", "blend": "", "whole": "1", "labels": "0",
            "before": "0"},
           ("lengthen", "--by", "-25 mm", "--at", "knee", "--keep", "hem-width", "--body", BODY, *NOTES)),
    Choice("true", "trousers", ("back",),
           {"seam": "side", "give": "hem", "keep": "front", "ease": "back=4mm between knee and hip", "body": BODY,
            "blend": "6 cm", "whole": "1", "labels": "0", "before": "0"},
           ("true", "--seam", "side", "--give", "hem", "--keep", "front", "--ease", "back=4mm between knee and hip",
            "--body", BODY, "--blend", "6 cm", *NOTES)),
    Choice("true", "trousers", ("back",), {"darts": "1", "blend": "", "whole": "0", "labels": "0", "before": "0"},
           ("true", "--darts", *NOTES), in_editor=False),
    Choice("follow", "trousers", ("waistband",), {"whole": "0", "labels": "1", "before": "0"},
           ("follow", *SHOWN)),
    Choice("allow", "marked", ("front", "back"), {"width": "3/8 in", "edge": "hem=30mm; inseam=0mm", "labels": "0"},
           ("allow", "--width", "3/8 in", "--edge", "hem=30mm", "--edge", "inseam=0mm", *NOTES)),
    Choice("allow", "trousers", ("back", "front-right"),
           {"way": "set", "set": WIDTHS, "class": "seat=seam to fit", "edge": "side=15mm", "labels": "1",
            "corner": "seat/inseam=blunted; hem=mirrored", "press": "waist=start"},
           ("allow", "--set", WIDTHS, "--class", "seat=seam to fit", "--edge", "side=15mm", "--corner",
            "seat/inseam=blunted", "--corner", "hem=mirrored", "--press", "waist=start", *SHOWN)),
    Choice("allow", "trousers", ("back",), {"way": "kept", "edge": "", "labels": "0"},
           ("allow", "--renew", *NOTES), in_editor=False),
    Choice("measure", "marked", ("front",), {"level": "50mm; 120mm"},
           ("measure", "--level", "50mm", "--level", "120mm")),
    Choice("measure", "marked", ("front",), {"into": "page", "level": "50mm"},
           ("measure", "IN.svg", "--page", "OUT.html", "--level", "50mm"), False),
    Choice("check", "trousers", ("front-left", "front-right", "back"), {"not_sewn": "hem; waist", "worn": "0"},
           ("check", "IN.svg", "--mark", "OUT.svg", "--not-sewn", "hem", "--not-sewn", "waist"), False),
    Choice("check", "trousers", WORN, {"worn": "1", "body": BODY, "fabric": NEW, "opening": "centre"},
           ("check", "IN.svg", "--mark", "OUT.svg", "--body", BODY, "--fabric", NEW, "--opening", "centre")),
    Choice("cut", "trousers", ("back",),
           {"whole": "1", "all_copies": "1", "open_folds": "1", "width_of_cloth": "1,5 m", "gap": "25 mm", "size": "10",
            "cloth": "stretch twill", "tape": "waist; side", "efficiency": "80"},
           ("cut", "--beside", "--all", "--open-folds", "--width-of-cloth", "1,5 m", "--width-of-stabiliser", "900 mm",
            "--gap", "25 mm", "--size", "10", "--cloth", "stretch twill", "--tape", "waist", "--tape", "side",
            "--efficiency", "80 %")),
    Choice("cut", "marked", ("front",), {"into": "page", "whole": "0", "garment": "Tights", "gap": ""},
           ("cut", "IN.svg", "--list", "OUT.html", "--width-of-cloth", "1400 mm", "--width-of-stabiliser", "900 mm",
            "--garment", "Tights", "--efficiency", "75 %"), False),
    Choice("grade", "trousers", ("back",),
           {"rules": RULES, "way": "stacked", "sizes": "8-12", "stack_at": "front: waist/centre; back: waist/seat",
            "whole": "1"},
           ("grade", "--rules", RULES, "--stacked", "--sizes", "8-12", "--stack-at", "front: waist/centre",
            "--stack-at", "back: waist/seat")),
    Choice("grade", "trousers", ("back",),
           {"rules": RULES, "way": "size", "size": "12", "whole": "0", "labels": "1", "before": "0"},
           ("grade", "--rules", RULES, "--size", "12", *SHOWN), in_editor=False),
    Choice("grade-to-body", "trousers", ("back",),
           {"rules": RULES, "body": BODY, "whole": "1", "labels": "0", "before": "1"},
           ("grade", "--rules", RULES, "--to-body", BODY, *NOTES, "--show", "before")),
    Choice("sheets", "trousers", ("back", "waistband"),
           {"paper": "roll", "roll": "36 in", "whole": "0", "grain_parallel": "true", "open_folds": "true",
            "overlap": "12 mm", "gap": "15 mm", "garment": "Page", "size": "12", "off": "joins; marks"},
           ("sheets", "IN.svg", "-o", "OUT.html", "--paper", "roll-36 in", "--grain-parallel", "--open-folds",
            "--overlap", "12 mm", "--gap", "15 mm", "--garment", "Page", "--size", "12", "--off", "joins", "--off",
            "marks")),
    Choice("recipe", "marked", (), {}, ("journal", "IN.svg", "-o", "OUT.html")),
)  # fmt: skip

OF_THE_DRAWING = ("recipe",)
"""Entries that look at no piece, and so at no selection."""

NAMES = tuple(dict.fromkeys(choice.action for choice in CHOICES))
