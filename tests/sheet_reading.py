"""Read a PDF of sheets back by its own numbers: what is stroked on each page, where, and on which layers.

This is a reading of ISO 32000-1 of its own, pikepdf only parts the objects: it shares nothing with what writes sheets.
"""

from __future__ import annotations

import re
import subprocess
from dataclasses import dataclass
from io import BytesIO

import numpy as np
import pikepdf

MM = 25.4 / 72.0


@dataclass(frozen=True)
class Drawn:
    """One line or text as it lies on a page: points in mm from the paper's upper left corner, y down."""

    points: tuple[tuple[float, float], ...]
    kinds: str
    layers: tuple[str, ...]
    width: float
    dashes: tuple[float, ...]
    colour: tuple[float, ...]
    window: tuple[float, float, float, float] | None
    text: str = ""
    filled: bool = False

    @property
    def box(self):
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True)
class ReadPage:
    width: float
    height: float
    drawn: tuple[Drawn, ...]

    def lines(self):
        return [one for one in self.drawn if not one.text and not one.filled]


def opened(data):
    return pikepdf.open(BytesIO(data))


def pages_of(data, *, once=False):
    """Read the pages; once says that what is shown on several is read on the first of them only."""
    seen = set() if once else None
    with opened(data) as pdf:
        return [_page(page, seen) for page in pdf.pages]


def layers_of(data):
    """Return the names of the layers, and of those that are off when the file is opened."""
    with opened(data) as pdf:
        if "/OCProperties" not in pdf.Root:
            return [], []
        groups = pdf.Root.OCProperties
        return [str(one.Name) for one in groups.OCGs], [str(one.Name) for one in groups.D.get("/OFF", [])]


def _page(page, seen):
    left, low, right, high = (float(value) for value in page.mediabox)
    assert (left, low) == (0.0, 0.0)
    # From points with y up to mm from the upper left corner with y down.
    base = np.array([[MM, 0, 0], [0, -MM, 0], [0, high * MM, 1.0]])
    drawn = []
    _read(page, page.Resources, base, drawn, (), None, seen)
    return ReadPage(right * MM, high * MM, tuple(drawn))


def _read(stream, resources, matrix, drawn, layers, window, seen):
    state = {"m": matrix, "w": 1.0, "d": (), "RG": (0.0,), "rg": (0.0,), "clip": window}
    stack, path, kinds, pending = [], [], "", False
    names, letters = list(layers), _letters(resources)
    at = size = None
    for operands, operator in pikepdf.parse_content_stream(stream):
        word = str(operator)
        figures = [float(one) for one in operands if _is_figure(one)]
        match word:
            case "q":
                stack.append(dict(state))
            case "Q":
                state = stack.pop()
            case "cm":
                a, b, c, d, e, f = figures
                state["m"] = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ state["m"]
            case "w":
                state["w"] = figures[0]
            case "d":
                state["d"] = tuple(float(one) for one in operands[0])
            case "RG":
                state["RG"] = tuple(figures)
            case "rg":
                state["rg"] = tuple(figures)
            case "m" | "l" | "c":
                path += [figures[k : k + 2] for k in range(0, len(figures), 2)]
                kinds += word
            case "re":
                x, y, w, h = figures
                path += [[x, y], [x + w, y], [x + w, y + h], [x, y + h]]
                kinds += "re"
            case "W":
                pending = True
            case "n" | "S" | "s" | "f":
                if word in "sf" and path[-1] != path[0]:
                    # ISO 32000-1, 8.5.3: these close the line first.
                    path.append(path[0])
                    kinds += "l"
                points = _moved(path, state["m"])
                if pending:
                    xs, ys = zip(*points, strict=True)
                    state["clip"] = (min(xs), min(ys), max(xs), max(ys))
                elif word != "n":
                    look = (state["w"], state["d"], state["rg" if word == "f" else "RG"], state["clip"])
                    drawn.append(Drawn(points, kinds, tuple(names), *look, filled=word == "f"))
                path, kinds, pending = [], "", False
            case "BDC":
                kind, name = operands
                assert str(kind) == "/OC"
                names.append(str(resources.Properties[str(name)].Name))
            case "EMC":
                names.pop()
            case "Do":
                if seen is not None:
                    if str(operands[0]) in seen:
                        continue
                    seen.add(str(operands[0]))
                form = resources.XObject[str(operands[0])]
                box = [float(value) for value in form.BBox]
                assert box[0] < box[2]
                _read(form, form.Resources, state["m"], drawn, tuple(names), state["clip"], seen)
            case "Tf":
                size = figures[-1]
            case "Tm":
                at = figures
            case "Tj":
                a, b, c, d, e, f = at
                codes = bytes(operands[0]).hex()
                text = "".join(letters[codes[k : k + 4]] for k in range(0, len(codes), 4))
                points = _moved([[e, f], [e + size * c, f + size * d]], state["m"])
                drawn.append(Drawn(points, "T", tuple(names), 0.0, (), (), state["clip"], text))
            case "BT" | "ET" | "j" | "J":
                pass
            case _:
                raise AssertionError(f"operator {word} is not read here")
    assert not stack
    assert names == list(layers)


def _letters(resources):
    """Return which letter each code of the page's font stands for, as the file itself says it to who copies text."""
    [font] = [resources.Font[name] for name in resources.Font.keys()]  # noqa: SIM118 - keys of a PDF object
    pairs = re.findall(r"<([0-9a-f]{4})> <([0-9a-f]+)>", font.ToUnicode.read_bytes().decode("ascii"))
    return {code: bytes.fromhex(letter).decode("utf-16-be") for code, letter in pairs if code != "0000"}


def _is_figure(operand):
    try:
        float(operand)
    except (TypeError, ValueError):
        return False
    return not isinstance(operand, bytes)


def _moved(points, matrix):
    rows = np.column_stack([np.array(points, dtype=float), np.ones(len(points))]) @ matrix
    return tuple((float(x), float(y)) for x, y, _one in rows)


def printed_by(tool, path, *words):
    """Return what a tool of Poppler's says of a file; it may complain of nothing."""
    result = subprocess.run([tool, *words, str(path)], capture_output=True, text=True, check=True)
    assert result.stderr == ""
    return result.stdout


def text_of(path, first=None, last=None):
    words = [*(["-f", str(first)] if first else []), *(["-l", str(last)] if last else [])]
    result = subprocess.run(["pdftotext", *words, str(path), "-"], capture_output=True, text=True, check=True)
    assert result.stderr == ""
    return re.sub(r"\s+", " ", result.stdout)


def rendered(path, page, dpi, colour=False):
    """Return a page as Poppler renders it: grey shares from 0 (black) to 255, or three colours."""
    words = ["pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), *([] if colour else ["-gray"]), str(path)]
    data = subprocess.run(words, capture_output=True, check=True).stdout
    head = re.match(rb"P[56]\s+(\d+)\s+(\d+)\s+255\s", data)
    wide, high = int(head[1]), int(head[2])
    shape = (high, wide, 3) if colour else (high, wide)
    return np.frombuffer(data, dtype=np.uint8, offset=head.end()).reshape(shape)
