"""What the exit code of the program tells a script."""

from __future__ import annotations

from enum import IntEnum


class Exit(IntEnum):
    """The exit codes, in rising order of trouble."""

    FINE = 0
    """Done, nothing to look at."""
    FINDINGS = 1
    """Done, and there is something to look at."""
    USAGE = 2
    """The command was not written as it must be. Nothing was done."""
    REFUSED = 3
    """The drawing or an amount cannot be used, or what was asked cannot be drawn. Nothing was written."""
    FAULT = 4
    """A fault of ours. Nothing was written."""
    STOPPED = 130
    """Stopped from the keyboard, as shells number it."""
    NO_READER = 141
    """Whoever read the output has gone, as shells number it."""
