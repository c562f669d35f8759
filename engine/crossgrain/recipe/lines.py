"""Find on which line of a recipe something stands: the reader of TOML does not say."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

_TABLE: Final = re.compile(r"\s*\[(\[?)\s*([A-Za-z][\w-]*)\s*\]")
_KEY: Final = re.compile(r"\s*(?:\"([^\"]*)\"|'([^']*)'|([\w-]+))\s*=")

NAME: Final = re.compile(r"\s*[\[\s\"']*([A-Za-z][\w-]*)")
"""What a line begins with: the name of a table or of a key."""


@dataclass(slots=True)
class Table:
    """One table: its name, the line of its head, and the lines of its keys."""

    name: str
    line: int
    keys: dict[str, int] = field(default_factory=dict)


def tables(text: str) -> list[Table]:
    """Return the tables of a TOML text in order; the first is the nameless one at its top.

    Texts that run over several lines may hold what looks like a head or a key; a recipe has no use for such texts.

    >>> [(table.name, table.line, table.keys) for table in tables('title = "x"\\n\\n[[step]]\\ndo = "allow"\\n')]
    [('', 1, {'title': 1}), ('step', 3, {'do': 4})]
    """
    found = [Table("", 1)]
    for number, line in enumerate(text.splitlines(), 1):
        if head := _TABLE.match(line):
            found.append(Table(head[2], number))
        elif key := _KEY.match(line):
            found[-1].keys.setdefault(next(name for name in key.groups() if name is not None), number)
    return found
