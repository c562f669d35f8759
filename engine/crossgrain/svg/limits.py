"""How much of a drawing is taken in before we call it a mistake or an attack, each with its reason."""

from __future__ import annotations

from typing import Final

FILE_BYTES: Final = 128 * 1024 * 1024
"""The largest drawing, unpacked. A pattern is some 20 KB; with a few scanned pages embedded it reaches some 50 MB."""

PLAIN_BYTES: Final = 8 * 1024 * 1024
"""Up to here the XML parser keeps its own limits (10 MB an attribute). Above it they are lifted, as an embedded scan
is one huge attribute, but only for a drawing without a DTD, whose text cannot grow."""

NESTING: Final = 200
"""Groups, symbols and clones inside each other. The editor's deepest drawings stay under 30; 200 leaves Python's own
stack of 1,000 calls well alone."""

RULE_STEPS: Final = 2_000_000
"""Rules of a style sheet held against elements. Software that writes style sheets has some dozens of rules for some
hundreds of shapes, of which the few that hide something are tried; two million take some seconds."""

STEPS: Final = 100_000
"""Shapes and groups drawn, clones counted each time. A pattern has some hundreds. Ten clones of ten clones, eight
deep, would be a hundred million and never end."""

PATH_SIGNS: Final = 2_000_000
"""Signs in the data of one path. A traced outline that nobody has simplified has some 100,000; two million take a
second or two to read, and no person could edit what they draw."""
