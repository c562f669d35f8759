"""Do a job again whenever one of the files it reads is saved."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final, NoReturn

from crossgrain.cli.exits import Exit
from crossgrain.cli.show import say
from crossgrain.errors import CrossgrainError
from crossgrain.language import _

_LOOK_EVERY: Final = 0.5
"""Seconds."""


def again_and_again(once: Callable[[], Exit], files: Callable[[], Iterable[Path]]) -> NoReturn:
    """Do a job, and again whenever a file is changed, added or removed, until the maker stops it.

    Args:
        once: the job. What it refuses is said, and waited for to be mended.
        files: what it reads, asked anew each time.
    """
    while True:
        before = _states(files)
        try:
            once()
        except CrossgrainError as error:
            say(_("Error: {message}").format(message=error))
        # It may have learnt what else it reads; of what it knew, a change while it ran counts.
        seen = {**_states(files), **before}
        say(_("Watching; stop with Ctrl+C."))
        while _states(files) == seen:
            time.sleep(_LOOK_EVERY)


def _states(files: Callable[[], Iterable[Path]]) -> dict[Path, tuple[int, int] | None]:
    """Return size and time of each file; none of one that is not there, and nothing where its folder is gone."""
    found: dict[Path, tuple[int, int] | None] = {}
    try:
        named = list(files())
    except CrossgrainError:
        return found
    for file in named:
        try:
            state = os.stat(file)
            found[file] = (state.st_size, state.st_mtime_ns)
        except OSError:
            found[file] = None
    return found
