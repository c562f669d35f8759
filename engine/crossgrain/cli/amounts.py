"""What options take: amounts with their units, and marks in the written form of :mod:`crossgrain.notation.marks`."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Final

from crossgrain.cli.written import Written
from crossgrain.notation.cutting import read_cut, read_grain
from crossgrain.notation.marks import read_dart, read_hold, read_notch, read_width
from crossgrain.notation.widths import read_edge_class, read_edge_width
from crossgrain.notation.words import read_names, read_outline_spot
from crossgrain.units import parse_length, parse_pressure, parse_share


def _when_used(module: str, name: str) -> Callable[[str], object]:
    """Return a reader whose module is loaded when the option is given: most commands have no use for it."""
    return lambda text: getattr(import_module(f"crossgrain.{module}"), name)(text)


LENGTH: Final = Written("LENGTH", parse_length)
SHARE: Final = Written("SHARE", lambda text: parse_share(text, signed=True))
RATIO: Final = Written("SHARE", parse_share)
PRESSURE: Final = Written("PRESSURE", parse_pressure)
EDGE_LENGTH: Final = Written("EDGE=LENGTH", read_width)
EDGE_WIDTH: Final = Written("EDGE=WIDTH", read_edge_width)
EDGE_CLASS: Final = Written("EDGE=CLASS", read_edge_class)
CORNER: Final = Written("CORNER=STYLE", _when_used("notation.corners", "read_corner"))
PRESSED: Final = Written("EDGE=END", _when_used("notation.corners", "read_pressed"))
EDGES: Final = Written("NAMES", read_names)
SPOT: Final = Written("SPOT", read_outline_spot)
GRAIN: Final = Written("GRAIN", read_grain)
NOTCH: Final = Written("EDGE=SPOT", read_notch)
DART: Final = Written("EDGE=SPOT …", read_dart)
HOLD: Final = Written("EDGE=LENGTH …", read_hold)
CREASE: Final = Written("EDGE=SPOT …", _when_used("notation.sewing_marks", "read_crease"))
LOOP: Final = Written("EDGE=SPOT …", _when_used("notation.sewing_marks", "read_loop"))
BUTTON: Final = Written("EDGE=SPOT LENGTH by LENGTH …", _when_used("notation.sewing_marks", "read_button"))
BUTTONHOLE: Final = Written("EDGE=SPOT LENGTH by LENGTH …", _when_used("notation.sewing_marks", "read_buttonhole"))
TOPSTITCHING: Final = Written("EDGE=LENGTH …", _when_used("notation.sewing_marks", "read_topstitching"))
CUT: Final = Written("CUT", read_cut)
BASTING: Final = Written("STATION=LENGTH", _when_used("notation.stations", "read_basting"))
SIDE_SHARE: Final = Written("PIECE=SHARE", _when_used("notation.stations", "read_side_share"))
EASE: Final = Written("PIECE=LENGTH …", _when_used("notation.stations", "read_ease"))
FOLLOWS: Final = Written("EDGE=…", _when_used("notation.follows", "read_dependence"))
SIGNED_LENGTH: Final = Written("LENGTH", lambda text: parse_length(text, signed=True))
GRADE_POINT: Final = Written("PIECE: POINT", _when_used("notation.grade_points", "read_grade_point"))
PLACE_DOWN: Final = Written("LEVEL", _when_used("notation.stations", "read_depth"))
NODES: Final = Written("NODES", _when_used("notation.stations", "read_nodes"))
