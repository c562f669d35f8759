"""A piece as it is cut: widths and corners of its allowance, its lines, words and list."""
