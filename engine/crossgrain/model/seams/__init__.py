"""Seams: which edges are sewn together, stations along them, and what moving or adjusting a side asks for."""
