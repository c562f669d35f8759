"""Say how far a long job is: by a bar on a terminal, by a line for each thing done elsewhere."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from crossgrain.cli.show import say
from crossgrain.language import _


@contextmanager
def progress(total: int) -> Iterator[Callable[[str], None]]:
    """Show on standard error how far a job is while it runs.

    Args:
        total: how many things are to be done.

    Returns:
        A function to be called with the name of each thing that is done.
    """
    from rich.console import Console

    console = Console(stderr=True)
    if console.is_terminal:
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

        columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), TextColumn("{task.description}"))
        with Progress(*columns, console=console, transient=True) as bar:
            task = bar.add_task("", total=total)
            yield lambda name: bar.update(task, advance=1, description=name)
        return
    began, count = time.monotonic(), 0

    def said(name: str) -> None:
        nonlocal count
        count += 1
        left = (time.monotonic() - began) / count * (total - count)
        sentence = _("{count} of {total}, {left:.0f} s left: {name}")
        say(sentence.format(count=count, total=total, left=left, name=name))

    yield said
