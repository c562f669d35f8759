"""Lines beside lines: parallels of one distance or many, their corners joined and their loops cut out."""
