"""Collect every sentence for people into the catalogues of translators, and compile these.

``python tests/translations.py`` brings ``*.po`` up to date with the sources and writes the ``*.mo`` beside each. A new
language is a file: copy a ``.po`` under its code, translate, run this.
"""

from __future__ import annotations

import ast
import struct
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po
from lxml import etree

ROOT = Path(__file__).parent.parent
DOMAINS = {
    "crossgrain": ROOT / "engine" / "crossgrain",
    "crossgrain-menus": ROOT / "extension",
}
INX = "{http://www.inkscape.org/namespace/inkscape/extension}"
SHOWN = ("name", "label", "menu-tip", "option")
"""Elements of a menu entry whose text the editor translates."""


def sentences(domain: str) -> dict[str, list[str]]:
    """Return every sentence of a domain, and the files it stands in."""
    found: dict[str, list[str]] = {}
    root = DOMAINS[domain]
    for path in sorted(root.rglob("*.py")):
        for sentence in in_python(ast.parse(path.read_text(encoding="utf-8"))):
            found.setdefault(sentence, []).append(path.relative_to(ROOT).as_posix())
    for path in sorted(root.rglob("*.inx")):
        for sentence in in_entry(etree.parse(path)):
            found.setdefault(sentence, []).append(path.relative_to(ROOT).as_posix())
    return found


def in_python(tree: ast.AST) -> Iterator[str]:
    """Yield what is passed to ``_``, once the compiler has joined its parts."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "_" and node.args:
            argument = node.args[0]
            if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                yield argument.value


def in_entry(tree: etree._ElementTree) -> Iterator[str]:
    """Yield the texts of a menu entry that the editor looks up in the catalogue."""
    for element in tree.iter(etree.Element):
        if element.tag.removeprefix(INX) in SHOWN and (element.text or "").strip():
            yield element.text
        if element.get("gui-text"):
            yield element.get("gui-text")


def catalogues(domain: str) -> list[Path]:
    """Return the files of translators, one for each language."""
    return sorted(DOMAINS[domain].glob(f"locale/*/LC_MESSAGES/{domain}.po"))


def read(path: Path) -> Catalog:
    """Read a catalogue."""
    with path.open("rb") as file:
        return read_po(file, locale=path.parent.parent.name)


def updated(path: Path, domain: str) -> bytes:
    """Return a catalogue as it is to be written: the sentences there are now, with the translations it had."""
    old = read(path)
    new = Catalog(locale=old.locale, project=domain, fuzzy=False)
    for sentence, files in sorted(sentences(domain).items()):
        had = old.get(sentence)
        new.add(sentence, had.string if had else "", locations=[(file, None) for file in dict.fromkeys(files)])
    text = BytesIO()
    write_po(text, new, width=118, omit_header=True, ignore_obsolete=True)
    head = (
        f'msgid ""\nmsgstr ""\n"Language: {path.parent.parent.name}\\n"\n'
        '"Content-Type: text/plain; charset=utf-8\\n"\n"Content-Transfer-Encoding: 8bit\\n"\n\n'
    )
    return head.encode() + text.getvalue()


def compiled(path: Path) -> bytes:
    """Return a catalogue as programs read it, by the format in the manual of GNU gettext.

    No date is in it, so that the same words make the same bytes.
    """
    head = f"Language: {path.parent.parent.name}\nContent-Type: text/plain; charset=utf-8\n"
    pairs = [(b"", head.encode())]
    pairs += sorted(
        (message.id.encode(), message.string.encode()) for message in read(path) if message.id and message.string
    )
    count, start = len(pairs), 28 + 16 * len(pairs)
    tables, text = [b"", b""], b""
    for column in (0, 1):
        for pair in pairs:
            tables[column] += struct.pack("<II", len(pair[column]), start + len(text))
            text += pair[column] + b"\0"
    magic = 0x950412DE
    return struct.pack("<7I", magic, 0, count, 28, 28 + 8 * count, 0, start) + tables[0] + tables[1] + text


def main() -> int:
    """Bring every catalogue up to date, and say which sentences are still to translate."""
    missing = 0
    for domain in DOMAINS:
        for path in catalogues(domain):
            path.write_bytes(updated(path, domain))
            path.with_suffix(".mo").write_bytes(compiled(path))
            left = [message.id for message in read(path) if message.id and not message.string]
            missing += len(left)
            for sentence in left:
                sys.stdout.write(f"{path.relative_to(ROOT)}: {sentence!r}\n")
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
