"""Crossgrain: a geometry engine for flat garment pieces drawn as SVG.

Importing the package loads nothing else, so that asking for the version stays cheap.
"""

__version__ = "0.1.0"
