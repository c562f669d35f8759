"""Marks of a piece: what they are, how they are asked for, carried along and drawn."""
