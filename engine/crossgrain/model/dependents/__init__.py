"""Pieces that depend on others: bands that follow, facings that trace, zips that close."""
