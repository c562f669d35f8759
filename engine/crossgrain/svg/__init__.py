"""The only door to lxml: drawings in, drawings out, at true scale, what was not touched left as it was."""

from crossgrain.svg.alter import add_group, add_path, set_outline
from crossgrain.svg.build import new_drawing
from crossgrain.svg.drawing import Drawing
from crossgrain.svg.grammar import format_path, parse_path
from crossgrain.svg.reader import read_drawing
from crossgrain.svg.shape import Shape
from crossgrain.svg.writer import write_drawing

__all__ = [
    "Drawing",
    "Shape",
    "add_group",
    "add_path",
    "format_path",
    "new_drawing",
    "parse_path",
    "read_drawing",
    "set_outline",
    "write_drawing",
]
