"""The written form of what a maker types and of what stands in drawings and files; both directions side by side.

================  ==========================================================
``marks``         amounts, names, notches, darts, holds, grain, cutting
``stations``      places along a seam, and what was basted or eased there
``sewing_marks``  what is pressed, stitched and closed
``follows``       what an edge is as long as
``fittings``      the record of fittings, in TOML
================  ==========================================================
"""
