"""Draw the pictures of the pages on checking and fitting: ``python tests/pictures.py``.

They are the sample trousers, worked on by the commands that the pages name, and rendered by resvg from the package
registry. Drag lines are sketched on them at the places that the page speaks of.
"""

from __future__ import annotations

import math
import pathlib
import re
import subprocess
import sysconfig
import tempfile
from dataclasses import dataclass

from crossgrain.cli import main
from crossgrain.kernel.affine import Affine, Point
from crossgrain.kernel.bounds import Box
from crossgrain.kernel.length import path_length, place_at, point_at
from crossgrain.kernel.path import Path
from crossgrain.kernel.segment import Line
from crossgrain.model import Edge, Notch, Pattern, Piece
from crossgrain.model.marking.mark_lines import mark_lines
from crossgrain.output.path_text import number_text, path_text
from crossgrain.svg.looks import line_style
from crossgrain.svg.pattern import pattern_of
from crossgrain.svg.reader import read_drawing

ROOT = pathlib.Path(__file__).parent.parent
SAMPLES = ROOT / "samples"
PICTURES = ROOT / "docs" / "pictures"
RESVG = pathlib.Path(sysconfig.get_path("scripts")) / "resvg"
FONT = "DejaVu Sans"

BESIDE = 490.0
"""How far to the right of the view the piece lies, mm."""

INK, DRAG, NEW = "#221f1a", "#9c3b1b", "#1f3a5f"


def rendered(svg: pathlib.Path, png: pathlib.Path, width: int) -> None:
    """Render a drawing to a picture on white."""
    words = [RESVG, "--background", "white", "--sans-serif-family", FONT, "-w", str(width), svg, png]
    subprocess.run([str(word) for word in words], check=True, capture_output=True)


def page(name: str, box: Box, parts: list[str], width: int, folder: pathlib.Path) -> None:
    """Render parts of a drawing in mm."""
    view = " ".join(number_text(value) for value in (box.left, box.top, box.width, box.height))
    size = f'width="{number_text(box.width)}mm" height="{number_text(box.height)}mm"'
    head = f'<svg xmlns="{"http"}://www.w3.org/2000/svg" {size} viewBox="{view}">'
    drawing = folder / f"{name}.svg"
    drawing.write_text("\n".join([head, *parts, "</svg>"]), encoding="utf-8")
    rendered(drawing, PICTURES / f"{name}.png", width)


def checked(folder: pathlib.Path) -> None:
    """The first draft with its findings, from the waist to below the knee."""
    drawing = folder / "check.svg"
    main(["check", str(SAMPLES / "trousers-untrued.svg"), "--mark", str(drawing)])
    text = drawing.read_text(encoding="utf-8")
    whole = 'width="1356mm" height="1232mm" viewBox="0 0 1356 1232"'
    assert whole in text
    drawing.write_text(text.replace(whole, 'width="1066mm" height="570mm" viewBox="100 70 1066 570"'), encoding="utf-8")
    rendered(drawing, PICTURES / "check.png", 1500)


@dataclass(frozen=True)
class Sketch:
    """One picture of the guide.

    Args:
        name: of the picture.
        view: ``front`` or ``back``.
        drags: drag lines, each a start, a bend and an end, in the view's mm.
        seam: the seam that is taken in or let out.
        stations: what is said of it: station and amount.
        more: further words of the command.
    """

    name: str
    view: str
    drags: tuple[tuple[Point, Point, Point], ...]
    seam: str
    stations: tuple[tuple[str, str], ...]
    more: tuple[str, ...] = ()

    @property
    def words(self) -> list[str]:
        """The command that answers it, without its drawings."""
        at = [word for station, amount in self.stations for word in ("--at", f"{station}={amount}")]
        return ["take-in", "--seam", self.seam, *at, *self.more]


BODY = ("--body", str(SAMPLES / "body-size-10.toml"))


def taken_in(folder: pathlib.Path) -> None:
    """The right front and the back with their side seam taken in at the legs and not at the waist; before, dashed."""
    drawing = folder / "take-in.svg"
    stations = [word for at in ("waist=0mm", "hip=12mm", "60%=10mm", "hem=6mm") for word in ("--at", at)]
    words = ["--seam", "side", *stations, "--body", str(SAMPLES / "body-size-10.toml"), "--show", "before"]
    main(["take-in", str(SAMPLES / "trousers.svg"), "-o", str(drawing), *words])
    text = drawing.read_text(encoding="utf-8")
    whole = 'width="1356mm" height="1232mm" viewBox="0 0 1356 1232"'
    assert whole in text
    drawing.write_text(
        text.replace(whole, 'width="720mm" height="1110mm" viewBox="430 110 720 1110"'), encoding="utf-8"
    )
    rendered(drawing, PICTURES / "take-in.png", 720)


def trued(folder: pathlib.Path) -> None:
    """Side and waist of the first draft, the back laid to the right front as sewn: before, dashed, and after true."""
    drawing = folder / "trued.svg"
    main(["true", str(SAMPLES / "trousers-untrued.svg"), "-o", str(drawing), "--seam", "side", "--give", "waist"])
    parts, colours = [], {"front-right": NEW, "back": DRAG}
    before, after = (pattern_of(read_drawing(path)) for path in (SAMPLES / "trousers-untrued.svg", drawing))
    for id, colour in colours.items():
        # Each is laid by its trued side: the waist corner in the origin, the line from there down upright.
        line = after.piece(id).edge("side").line
        line = line if line.start[1] < line.end[1] else line.reversed()
        (x, y), (u, v) = line.start, point_at(line, place_at(line, LAID_BY))
        lay = Affine.translation(-x, -y).then(Affine.rotation(math.pi / 2.0 - math.atan2(v - y, u - x)))
        for pattern, how in ((before, 'stroke-dasharray="4 3" stroke-width="0.7"'), (after, 'stroke-width="1.1"')):
            text = path_text(pattern.piece(id).line.mapped(lay))
            ink = INK if pattern is before else colour
            parts.append(f'<path d="{text}" fill="none" stroke="{ink}" {how}/>')
    for x, word, colour in ((-70.0, "front", NEW), (55.0, "back", DRAG)):
        parts.append(f'<text x="{x}" y="30" fill="{colour}" font-family="sans-serif" font-size="9">{word}</text>')
    page("true", Box(-140.0, -25.0, 280.0, 80.0), parts, 1000, folder)


LAID_BY = 60.0
"""So much of a side, from the waist down, is laid upright, mm."""


def reported(folder: pathlib.Path) -> None:
    """The beginning of the report on a folder, as Chromium shows it."""
    drawings, out = folder / "drawings", folder / "recut"
    drawings.mkdir()
    (drawings / "trousers.svg").write_bytes((SAMPLES / "trousers.svg").read_bytes())
    words = ["run", SAMPLES / "recut.toml", drawings, "-o", out, "--cloths", "cloth-softer.toml,cloth-firmer.toml"]
    main([str(word) for word in (*words, "--jobs", "1")])
    flags = "--headless --no-sandbox --disable-gpu --hide-scrollbars --window-size=820,970"
    shot = f"--screenshot={PICTURES / 'run.png'}"
    subprocess.run(["chromium", *flags.split(), shot, (out / "report.html").as_uri()], check=True, capture_output=True)


def marks_shown(folder: pathlib.Path) -> None:
    """The upper ends of band, fronts and back with their cut lines and all their marks."""
    drawing = folder / "marks.svg"
    widths = ("--width", "10mm", "--edge", "hem=30mm", "--edge", "seat=25mm")
    main(["allow", str(SAMPLES / "trousers.svg"), "-o", str(drawing), *widths])
    text = drawing.read_text(encoding="utf-8")
    whole = 'width="1356mm" height="1232mm" viewBox="0 0 1356 1232"'
    assert whole in text
    view = 'width="1140mm" height="380mm" viewBox="15 75 1140 380"'
    drawing.write_text(text.replace(whole, view), encoding="utf-8")
    rendered(drawing, PICTURES / "marks.png", 1400)


def notch_kinds(folder: pathlib.Path) -> None:
    """Every kind of notch in an allowance of 10 mm, and what becomes of a slit in narrower ones."""
    parts: list[str] = []
    for row, (kind, width) in enumerate([("slit", 10.0), ("V", 10.0), ("T", 10.0), ("slit", 6.0), ("slit", 4.0)]):
        top = 30.0 * row
        corners = ((0.0, top), (170.0, top), (170.0, top + 60.0), (0.0, top + 60.0))
        line = Path.polygon(corners)
        cut = Path.polygon([(-width, top - width), (170.0 + width, top - width), *corners[2:]])
        counts = (1, 2, 3) if row < 3 else (1,)
        piece = Piece(
            id="strip",
            edges=(Edge(name="", line=Path(line.segments)),),
            counterpart=cut,
            notches=tuple(
                Notch(edge="", share=(30.0 + 50.0 * at) / path_length(line), count=count, kind=kind)
                for at, count in enumerate(counts)
            ),
        )
        for look, ends in (("scissors", cut.segments[0]), ("stitch", line.segments[0])):
            path = path_text(Path((Line((0.0, ends.start[1]), (170.0, ends.end[1])),)))
            parts.append(f'<path d="{path}" style="{line_style(look)}"/>')
        parts += [
            f'<path d="{path_text(mark.line)}" style="{line_style(mark.kind)}"/>'
            for mark in mark_lines(piece, ("notch",))
        ]
        word = f"{kind}, allowance {width:g} mm"
        at = f'x="176" y="{number_text(top - width / 2.0 + 2.0)}"'
        parts.append(f'<text {at} fill="{INK}" font-family="sans-serif" font-size="6">{word}</text>')
    page("notches", Box(-6.0, -16.0, 260.0, 148.0), parts, 1000, folder)


def mirrored(lines: tuple[tuple[Point, Point, Point], ...]) -> tuple[tuple[Point, Point, Point], ...]:
    """The lines and their mirror images about the middle of a view, which is at x = 0."""
    return (*lines, *(tuple((-x, y) for x, y in line) for line in lines))  # type: ignore[arg-type]


# Half a front is 196 wide at the waist, 231 at the hip (y = 195), its crotch lies at y = 265; half a back is 251 wide
# at the hip (y = 224), its crotch lies at y = 308.
SKETCHES = (
    Sketch(
        name="fitting-front-crotch",
        view="front",
        drags=mirrored(
            (
                ((8, 262), (55, 232), (120, 196)),
                ((12, 272), (60, 258), (140, 240)),
                ((14, 284), (60, 286), (130, 300)),
            )
        ),
        seam="inseam",
        stations=(("crotch", "-8mm"), ("knee", "0mm")),
        more=("--share", "front=100%", *BODY),
    ),
    Sketch(
        name="fitting-under-seat",
        view="back",
        drags=mirrored(
            (
                ((40, 320), (110, 350), (190, 318)),
                ((48, 346), (112, 376), (186, 344)),
                ((58, 374), (116, 402), (180, 372)),
            )
        ),
        seam="inseam",
        stations=(("seat", "10mm"), ("knee", "0mm")),
        more=("--share", "back=100%", *BODY),
    ),
    Sketch(
        name="fitting-side",
        view="front",
        drags=mirrored(
            (
                ((218, 160), (165, 164), (90, 150)),
                ((226, 195), (165, 199), (80, 195)),
                ((224, 230), (165, 232), (95, 244)),
            )
        ),
        seam="side",
        stations=(("waist", "0mm"), ("hip", "-8mm"), ("knee", "0mm")),
        more=BODY,
    ),
    Sketch(
        name="fitting-back-waist",
        view="back",
        drags=(
            ((-70, 2), (0, 34), (70, 2)),
            ((-50, 22), (0, 50), (50, 22)),
        ),
        seam="seat",
        stations=(("waist", "10mm"), ("50%", "0mm")),
    ),
)


def view_of(pattern: Pattern, view: str) -> tuple[Piece, Affine]:
    """The piece of a view, and how it is laid: the middle of the waist in the origin, the side to the right."""
    if view == "front":
        piece = pattern.piece("front-right")
        x, y = piece.edge("waist").line.start
        return piece, Affine.translation(-x, -y)
    piece = pattern.piece("back")
    x, y = piece.edge("waist").line.end
    return piece, Affine.translation(-x, -y).then(Affine.scaling(-1.0, 1.0))


def worn(piece: Piece, lay: Affine) -> list[Point]:
    """Half a view of the trousers as worn: its middle set upright, its fork gone between the legs."""
    middle = piece.edge("seat" if "seat" in piece.edge_names else "crotch").line.mapped(lay)
    tip = max(middle.nodes, key=lambda node: node[1])
    bend = max((node for node in middle.nodes if node != tip), key=lambda node: node[1])
    hem = max(node[1] for node in piece.line.mapped(lay).nodes)

    def set_upright(point: Point) -> Point:
        x, y = point
        return (x - bend[0] * min(max(y / bend[1], 0.0), 1.0), y)

    fork = set_upright(tip)[0]

    def inner(point: Point) -> Point:
        x, y = set_upright(point)
        return (x - (fork - 2.0) * (1.0 - min((y - tip[1]) / (hem - tip[1]), 1.0)) ** 2, y)

    lines = {edge.name: edge.line.mapped(lay) for edge in piece.edges}
    across = lines["waist"] if abs(lines["waist"].start[0]) < abs(lines["waist"].end[0]) else lines["waist"].reversed()
    down = lines["side"] if lines["side"].start[1] < lines["side"].end[1] else lines["side"].reversed()
    up = lines["inseam"] if lines["inseam"].start[1] > lines["inseam"].end[1] else lines["inseam"].reversed()
    return [
        where(segment.point(k / 24))
        for line, where in ((across, set_upright), (down, set_upright), (up, inner))
        for segment in line.segments
        for k in range(25)
    ]


def sketched(one: Sketch, folder: pathlib.Path) -> None:
    """What is seen at the fitting on the left, and what the command makes of the piece on the right."""
    fitted = folder / f"{one.name}-fitted.svg"
    verb, *rest = one.words
    code = main([verb, str(SAMPLES / "trousers.svg"), "-o", str(fitted), *rest])
    assert code in (0, 1), one.name
    before, after = (pattern_of(read_drawing(path)) for path in (SAMPLES / "trousers.svg", fitted))
    piece, lay = view_of(before, one.view)
    half = worn(piece, lay)
    parts = [
        f'<path d="{path_text(Path.polygon(side))}" fill="#efe8d8" stroke="{INK}" stroke-width="1.6"/>'
        for side in (half, [(-x, y) for x, y in half])
    ]
    for (x0, y0), (x1, y1), (x2, y2) in one.drags:
        parts.append(
            f'<path d="M{x0} {y0}Q{x1} {y1} {x2} {y2}" fill="none" stroke="{DRAG}" stroke-width="3.4" '
            f'stroke-linecap="round"/>'
        )
    beside = Affine.translation(BESIDE, 0.0)
    lay = lay.then(beside)
    dashed = 'stroke-dasharray="9 6" stroke-width="1.6"'
    parts.append(f'<path d="{path_text(piece.line.mapped(lay))}" fill="none" stroke="{INK}" {dashed}/>')
    now = after.piece(piece.id)
    parts.append(f'<path d="{path_text(now.line.mapped(lay))}" fill="none" stroke="{NEW}" stroke-width="2.6"/>')
    parts += amounts(one, piece, now, lay)
    box = Box(-265.0, -60.0, 1080.0, 680.0)
    page(one.name, box, parts, 900, folder)


def amounts(one: Sketch, piece: Piece, now: Piece, lay: Affine) -> list[str]:
    """Dots on the old seam at the stations, with what was said of each."""
    line = piece.edge(one.seam).line
    parts = []
    for station, amount in one.stations:
        x, y = lay.of(point_at(line, place_at(line, along_of(station, one.seam, piece, line))))
        left = x < BESIDE + 60.0
        anchor, away = ("end", -9.0) if left else ("start", 9.0)
        parts.append(f'<circle cx="{number_text(x)}" cy="{number_text(y)}" r="4" fill="{DRAG}"/>')
        parts.append(
            f'<text x="{number_text(x + away)}" y="{number_text(y - 7.0)}" text-anchor="{anchor}" fill="{DRAG}" '
            f'font-family="sans-serif" font-size="19">{station}={amount}</text>'
        )
    return parts


def along_of(station: str, seam: str, piece: Piece, line: Path) -> float:
    """Where a station of the sketches lies on a seam, mm from the start of its edge."""
    total = path_length(line)
    names = piece.edge_names
    at = names.index(seam)
    ends = {names[at - 1]: 0.0, names[(at + 1) % len(names)]: total}
    if station in ends:
        return ends[station]
    if station.endswith("%"):
        return float(station[:-1]) / 100.0 * total
    notches = sorted(notch.share for notch in piece.notches if notch.edge == seam)
    is_knee = station == "knee"
    order = notches if names[(at + 1) % len(names)] == "hem" else notches[::-1]
    return (order[-1] if is_knee else order[0]) * total


def cut_out(folder: pathlib.Path) -> None:
    """The sample trousers laid out for cutting: the whole sheet, and band, facing and guard near by."""
    allowed, sheet = folder / "to-cut.svg", folder / "sheet.svg"
    widths = ("--width", "10mm", "--edge", "hem=30mm", "--edge", "centre=15mm")
    main(["allow", str(SAMPLES / "trousers.svg"), "-o", str(allowed), *widths])
    main(["cut", str(allowed), "-o", str(sheet), "--garment", "Slim trousers", "--size", "10", "--cloth", "twill"])
    rendered(sheet, PICTURES / "cut-sheet.png", 1300)
    text = sheet.read_text(encoding="utf-8")
    head = re.search(r'width="[0-9.]+mm" height="[0-9.]+mm" viewBox="0 0 [0-9.]+ [0-9.]+"', text)
    assert head is not None
    part = 'width="180mm" height="170mm" viewBox="1030 197 180 170"'
    near = folder / "near.svg"
    near.write_text(text.replace(head.group(), part), encoding="utf-8")
    rendered(near, PICTURES / "cut-sheet-near.png", 900)


if __name__ == "__main__":
    from corner_pictures import cornered
    from follow_picture import followed
    from grade_picture import graded

    with tempfile.TemporaryDirectory() as made:
        checked(pathlib.Path(made))
        cut_out(pathlib.Path(made))
        taken_in(pathlib.Path(made))
        trued(pathlib.Path(made))
        followed(pathlib.Path(made))
        cornered(pathlib.Path(made))
        graded(pathlib.Path(made))
        marks_shown(pathlib.Path(made))
        notch_kinds(pathlib.Path(made))
        reported(pathlib.Path(made))
        for sketch in SKETCHES:
            sketched(sketch, pathlib.Path(made))
