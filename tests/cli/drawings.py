"""Drawings for the tests of the command line, one element to a line, so that what was not touched can be told."""

from __future__ import annotations

from crossgrain.cli import main

BARE = """<?xml version="1.0" encoding="UTF-8"?>
<!-- drawn by hand -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:mine="urn:mine" width="700mm" height="400mm" viewBox="0 0 700 400">
  <title>Two legs &amp; a note</title>
  <defs><linearGradient id="g"><stop offset="0" stop-color="#fff"/></linearGradient></defs>
  <style>.cloth { fill: none; stroke: #000 }</style>
  <g id="layer" mine:shelf="3" transform="translate(10,20)">
    <path id="front" class="cloth" d="M 20,20 C 60,30 100,30 140,20 L 125,330 H 35 Z"/>
    <path id="back" class="cloth" d="M 220,20 C 270,30 320,30 370,20 L 350,330 H 240 Z"/>
    <path id="open" class="cloth" d="M 420,20 H 480 V 90"/>
    <path id="eight" class="cloth" d="M 520,20 L 580,90 V 20 L 520,90 Z"/>
    <text id="t" x="400" y="300">Do not   <tspan>lose</tspan> me</text>
    <circle id="button" cx="500" cy="200" r="9" mine:colour="red"/>
  </g>
  <!-- the end -->
</svg>
"""


def write_bare(folder):
    """Write a drawing with two bare outlines and other things."""
    path = folder / "bare.svg"
    path.write_text(BARE, encoding="utf-8")
    return path


def write_marked(folder):
    """Write the same drawing with both outlines marked."""
    bare = write_bare(folder)
    half, marked = folder / "half.svg", folder / "marked.svg"
    for source, target, piece in ((bare, half, "front"), (half, marked, "back")):
        words = ["mark", source, "-o", target, "--piece", piece, "--name", f"{piece} leg"]
        words += ["--edges", "waist side hem inseam", "--cut", "2 mirrored"]
        assert main([str(word) for word in words]) == 0
    half.unlink()
    bare.unlink()
    return marked
