"""Small drawings written out in tests."""

from crossgrain.svg.drawing import Drawing
from crossgrain.svg.reader import parse_drawing

NAMESPACES = (
    'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"'
)
MILLIMETRES = 'width="200mm" height="100mm" viewBox="0 0 200 100"'


def svg_text(body: str = "", page: str = MILLIMETRES) -> bytes:
    """Return the bytes of a drawing with this inside, one user unit to the millimetre unless the page says else."""
    return f"<svg {NAMESPACES} {page}>{body}</svg>".encode()


def drawing_of(body: str = "", page: str = MILLIMETRES, unit_mm: float | None = None) -> Drawing:
    """Return the drawing with this inside."""
    return parse_drawing(svg_text(body, page), name="test.svg", unit_mm=unit_mm)
