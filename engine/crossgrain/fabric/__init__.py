"""Cloth: from a bench test to the strain, the tension and the pressure in wear.

Tension is force per width in N/cm, pressure is in kPa, lengths are in mm, strain and shares are ratios. Nothing here
reads or writes a file; :mod:`crossgrain.fabric.cloth_text` and :mod:`crossgrain.fabric.body_text` read texts.
"""
