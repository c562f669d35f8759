"""Sheets of paper: writing them beside reportlab, which draws the same pages; and how large twelve sizes are.

Run as ``python tests/benchmarks/bench_sheets.py``. Both sides begin with the same pieces in their places on the same
pages and end with the bytes of a PDF whose streams are packed and whose font is embedded. reportlab draws on each page
what is seen there, through a clipping rectangle, as is usual; once more with each piece written once as a form, as we
do it, which its users must see to themselves. It writes no layers.
"""

from __future__ import annotations

import sys
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from typing import Any
from unittest import mock

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from reportlab.pdfbase import pdfmetrics  # noqa: E402
from reportlab.pdfbase.ttfonts import TTFont  # noqa: E402
from reportlab.pdfgen.canvas import Canvas  # noqa: E402
from side_by_side import seconds, timed  # noqa: E402

from crossgrain.cli.samples import sample  # noqa: E402
from crossgrain.files import read_text  # noqa: E402
from crossgrain.kernel.segment import Line  # noqa: E402
from crossgrain.notation.grade_rules import read_grade_rules  # noqa: E402
from crossgrain.operations.allowance import Allowance, allow  # noqa: E402
from crossgrain.operations.cutting import Cutting, cut  # noqa: E402
from crossgrain.operations.grading import grade_sizes  # noqa: E402
from crossgrain.output.sheets import sheets as whole  # noqa: E402
from crossgrain.output.sheets.document import Page, document  # noqa: E402
from crossgrain.output.sheets.ink import Ink, Lettering  # noqa: E402
from crossgrain.svg.pattern import pattern_of  # noqa: E402
from crossgrain.svg.reader import read_drawing  # noqa: E402

POINT = 72.0 / 25.4
Captured = tuple[tuple[Any, ...], dict[str, Any]]


def twelve_sizes() -> list[tuple[str, Any]]:
    """Return the sample trousers in all sizes of their range, with 10 mm of allowance, laid out for cutting."""
    pattern = pattern_of(read_drawing(sample("trousers.svg")))
    rules = read_grade_rules(read_text(sample("grade-rules.toml")), "grade-rules.toml")
    plans = []
    for size, outcome in grade_sizes(pattern, rules, rules.sizes).items():
        ready = allow(outcome.value, Allowance(width=10.0)).value
        plans.append((size, cut(ready, Cutting(garment="Slim trousers", size=size)).value))
    return plans


def captured(plans: list[tuple[str, Any]], *, paper: str = "a4") -> Captured:
    """Return what is given to the writer of the document."""
    with mock.patch.object(whole, "document", return_value=b"") as writer:
        whole.sheets("Slim trousers", plans, whole.Printing(paper=paper))
    return tuple(writer.call_args.args), dict(writer.call_args.kwargs)


def by_reportlab(placed: list[Any], pages: list[Page], *, forms: bool) -> bytes:
    """Draw the same pages with reportlab."""
    out = BytesIO()
    canvas = Canvas(out, pageCompression=1)
    pdfmetrics.registerFont(TTFont("Roboto", BytesIO(_face())))
    written: set[int] = set()
    for page in pages:
        canvas.setPageSize((page.width * POINT, page.height * POINT))
        if forms:
            for number in page.blocks:
                if number not in written:
                    written.add(number)
                    box = placed[number].block.box
                    canvas.beginForm(f"B{number}", box.left - 2, box.top - 2, box.right + 2, box.bottom + 2)
                    _ink(canvas, placed[number].block.ink)
                    canvas.endForm()
        canvas.saveState()
        box = page.window
        right, up = POINT * (page.left - box.left), POINT * (page.height - page.top + box.top)
        canvas.transform(POINT, 0, 0, -POINT, right, up)
        canvas.saveState()
        window = canvas.beginPath()
        window.rect(box.left, box.top, box.width, box.height)
        canvas.clipPath(window, stroke=0, fill=0)
        for number in page.blocks:
            canvas.saveState()
            place = placed[number].place
            canvas.transform(place.a, place.b, place.c, place.d, place.e, place.f)
            if forms:
                canvas.doForm(f"B{number}")
            else:
                _ink(canvas, placed[number].block.ink)
            canvas.restoreState()
        for part in page.ink:
            _ink(canvas, part)
        canvas.restoreState()
        _ink(canvas, page.beside)
        canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _face() -> bytes:
    return files("crossgrain.output.sheets").joinpath("font", "roboto.ttf").read_bytes()


def _ink(canvas: Canvas, ink: tuple[Ink, ...]) -> None:
    for one in ink:
        if isinstance(one, Lettering):
            canvas.saveState()
            canvas.setFillColor(one.colour)
            canvas.setFont("Roboto", one.height)
            canvas.translate(*one.at)
            canvas.rotate(57.29577951308232 * one.angle_rad)
            canvas.scale(1, -1)
            (canvas.drawCentredString if one.middle else canvas.drawString)(0, 0, one.text)
            canvas.restoreState()
            continue
        canvas.setLineWidth(one.look.width)
        canvas.setDash(list(one.look.dashes))
        canvas.setStrokeColor(one.look.colour)
        path = canvas.beginPath()
        path.moveTo(*one.line.start)
        for segment in one.line.segments:
            if isinstance(segment, Line):
                path.lineTo(*segment.end)
            else:
                first, second, last = segment.controls[1:]
                path.curveTo(*first, *second, *last)
        canvas.drawPath(path, stroke=1, fill=0)


def main() -> None:
    """Print the figures."""
    plans = twelve_sizes()
    for what, some in (("one size", plans[5:6]), ("twelve sizes", plans)):
        args, how = captured(some)
        pages = args[1]

        def ours(args: tuple[Any, ...] = args, how: dict[str, Any] = how) -> bytes:
            return document(*args, **how)

        for forms, them in ((False, "reportlab"), (True, "reportlab with forms")):

            def theirs(args: tuple[Any, ...] = args, forms: bool = forms) -> bytes:
                return by_reportlab(args[0], args[1], forms=forms)

            row = timed(f"{what}, {len(pages)} pages of A4", ours, theirs, 0.1, them)
            print(f"{row.what}: {row.ratio:.3f} ({row.low:.3f} to {row.high:.3f}; wanted 0.1) "
                  f"of {them}: {row.ours} to {row.theirs}; {len(ours())} and {len(theirs())} bytes")  # fmt: skip
    import time

    begin = time.perf_counter()
    made = whole.sheets("Slim trousers", plans, whole.Printing())
    print(f"all of it, laying out too: {seconds(time.perf_counter() - begin)}, {len(made.pdf)} bytes (wanted 1e6)")


if __name__ == "__main__":
    main()
