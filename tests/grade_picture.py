"""Draw the picture of the page on grading; ``python tests/pictures.py`` calls it."""

from __future__ import annotations

import pathlib
import re

from crossgrain.cli import main
from pictures import SAMPLES, rendered

PICTURE = pathlib.Path(__file__).parent.parent / "docs" / "pictures" / "grade.png"


def graded(folder: pathlib.Path) -> None:
    """Draw the samples in seven sizes on top of each other, from the key down to below the crotch."""
    rules, sizes = str(SAMPLES / "grade-rules.toml"), folder / "sizes"
    at = ("front: waist/centre", "back: waist/seat")
    words = ["--sizes", "4-16", *(word for point in at for word in ("--stack-at", point))]
    code = main(["grade", str(SAMPLES / "trousers.svg"), "--rules", rules, "-o", str(sizes), *words])
    assert code in (0, 1)
    drawing = sizes / "trousers-all-sizes.svg"
    text = drawing.read_text(encoding="utf-8")
    whole = re.search(r'width="(\d+)mm" height="(\d+)mm" viewBox="0 0 \1 \2"', text)
    assert whole is not None
    height = 660
    part = f'width="{whole[1]}mm" height="{height}mm" viewBox="0 0 {whole[1]} {height}"'
    # Lines and words are drawn larger than on paper, for a screen shows a third of a pattern's size.
    text = text.replace(whole[0], part).replace("font-size:5px", "font-size:8px")
    text = text.replace("font-size:4px", "font-size:7px").replace('y="1.44"', 'y="2.5"')
    for width in ("0.9", "0.6", "0.4"):
        text = text.replace(f"stroke-width:{width};", f"stroke-width:{2.0 * float(width):g};")
    drawing.write_text(text, encoding="utf-8")
    rendered(drawing, PICTURE, 1600)
