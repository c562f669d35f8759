"""Draw the pictures of the page on printing: ``python tests/sheet_pictures.py``.

They are pages of the sample trousers as Poppler renders them, and two of them laid over each other as a maker does it.
"""

from __future__ import annotations

import pathlib
import tempfile

import numpy as np
from PIL import Image, ImageOps

from crossgrain.cli import main
from sheet_reading import rendered

ROOT = pathlib.Path(__file__).parent.parent
SAMPLES = ROOT / "samples"
PICTURES = ROOT / "docs" / "pictures"

GREY = (196, 194, 188)


def run(*words: object) -> None:
    """Run a command of ours that must come out well."""
    assert main([str(word) for word in words]) in (0, 1)


def page_of(path: pathlib.Path, number: int, dpi: int) -> Image.Image:
    """Return a page as a picture."""
    return Image.fromarray(np.array(rendered(path, number, dpi, colour=True)))


def on_table(pages: list[Image.Image], name: str) -> None:
    """Show pages side by side on a grey table."""
    framed = [ImageOps.expand(page, border=12, fill=GREY) for page in pages]
    whole = Image.new("RGB", (sum(one.width for one in framed), max(one.height for one in framed)), GREY)
    left = 0
    for one in framed:
        whole.paste(one, (left, 0))
        left += one.width
    save(whole, name)


def save(picture: Image.Image, name: str) -> None:
    """Keep a picture small: few colours are in it."""
    picture.quantize(64).save(PICTURES / f"{name}.png", optimize=True)


def joined(path: pathlib.Path, first: int, dpi: int) -> Image.Image:
    """Lay a page over the one on its left: 180 mm farther on, and its paper hides what lies beneath."""
    scale = dpi / 25.4
    lower, upper = page_of(path, first, dpi), page_of(path, first + 1, dpi)
    step = round(180.0 * scale)
    whole = Image.new("RGB", (step + upper.width, upper.height), GREY)
    whole.paste(lower, (0, 0))
    whole.paste(ImageOps.expand(upper.crop((1, 0, upper.width, upper.height)), border=0), (step + 1, 0))
    # The edge of the paper on top.
    whole.paste((150, 148, 142), (step, 0, step + 2, upper.height))
    return whole


def draw() -> None:
    """Draw all pictures."""
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        cut, one, range_of = folder / "with-cut-lines.svg", folder / "trousers.pdf", folder / "range.pdf"
        run("allow", SAMPLES / "trousers.svg", "-o", cut, "--width", "10mm", "--edge", "hem=30mm")
        run("sheets", cut, "-o", one, "--garment", "Slim trousers")
        on_table([page_of(one, number, 62) for number in (1, 3, 4)], "printing-pages")
        picture = joined(one, 3, 110)
        save(picture.crop((picture.width // 4, 30, picture.width * 4 // 5, picture.height // 2)), "printing-join")
        run("grade", cut, "--rules", SAMPLES / "grade-rules.toml", "-o", folder / "sizes", "--sizes", "8-14")
        drawings = [folder / "sizes" / f"with-cut-lines-{size}.svg" for size in (8, 10, 12, 14)]
        run("sheets", *drawings, "-o", range_of, "--garment", "Slim trousers")
        coloured = page_of(range_of, 3, 80)
        on_table([coloured, ImageOps.grayscale(coloured).convert("RGB")], "printing-sizes")


if __name__ == "__main__":
    draw()
