"""Corners of a closed line, noted and found again after somebody has edited it."""
