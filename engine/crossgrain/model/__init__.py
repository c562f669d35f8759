"""The frozen vocabulary of sewing: pieces with their edges and marks, patterns, and what an operation reports.

Everything here is a value: nothing is changed in place, and two values with the same content are equal.
"""

from crossgrain.model.cutting.sewn_corner import SewnCorner
from crossgrain.model.cutting.width import Width
from crossgrain.model.marking.marks import Dart, Hold, Notch
from crossgrain.model.outcome import Change, Finding, Outcome
from crossgrain.model.pattern import Pattern
from crossgrain.model.piece import CutInstruction, Edge, OutlineKind, Piece

__all__ = [
    "Change",
    "CutInstruction",
    "Dart",
    "Edge",
    "Finding",
    "Hold",
    "Notch",
    "Outcome",
    "OutlineKind",
    "Pattern",
    "Piece",
    "SewnCorner",
    "Width",
]
