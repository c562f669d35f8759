"""The command line. It is the only door to click and rich.

Data goes to standard output, messages to standard error. The exit code is one of :class:`crossgrain.cli.exits.Exit`.
Each command stands in a module of its own that is loaded when the command is called, so that ``crossgrain --version``
stays cheap.
"""

from __future__ import annotations

from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code: what the script ``crossgrain`` calls.

    Args:
        arguments: the words after the program's name; those of the process where none are given.

    Returns:
        0 fine, 1 findings, 2 usage, 3 bad input or impossible geometry, 4 our own fault.
    """
    from crossgrain.cli.run import run

    return run(arguments)
