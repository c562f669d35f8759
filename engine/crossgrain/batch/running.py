"""Hand the drawings to an executor and take the results as they come."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from itertools import islice
from multiprocessing import parent_process
from multiprocessing.connection import wait as wait_for
from multiprocessing.context import SpawnContext, SpawnProcess

from crossgrain.batch.tasks import Task
from crossgrain.batch.work import Result, do


def run(tasks: Iterable[Task], executor: Executor, *, ahead: int = 8) -> Iterator[Result]:
    """Do tasks, in any order, and return what became of each.

    Args:
        tasks: taken one by one, so that their number costs no memory.
        executor: any of :mod:`concurrent.futures`, or one of its form that leads to other machines.
        ahead: how many tasks the executor is given at a time; twice its workers keeps them all at work.

    Returns:
        The results as they come. Where a worker dies, its executor does no more: every task that was with it, and every
        one after, comes back as ``lost``.
    """
    waiting = iter(tasks)
    under_way: dict[Future[Result], Task] = {}
    broken = False
    try:
        while True:
            for task in islice(waiting, ahead - len(under_way)):
                try:
                    if broken:
                        raise BrokenExecutor
                    under_way[executor.submit(do, task)] = task
                except BrokenExecutor:
                    broken = True
                    yield Result(name=task.name, state="lost")
            if not under_way:
                if not broken:
                    return
                for task in waiting:
                    yield Result(name=task.name, state="lost")
                return
            finished, _unfinished = wait(under_way, return_when=FIRST_COMPLETED)
            for future in finished:
                task = under_way.pop(future)
                try:
                    yield future.result()
                except BrokenExecutor:
                    broken = True
                    yield Result(name=task.name, state="lost")
    finally:
        for future in under_way:  # as after Ctrl+C: what has not begun need not
            future.cancel()


class Here(Executor):
    """An executor that does each task where and when it is given."""

    def submit(self, fn, /, *args, **kwargs):  # type: ignore[no-untyped-def]
        """Do a task now."""
        future: Future[object] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except BaseException as error:
            future.set_exception(error)
            if not isinstance(error, Exception):
                raise
        return future


class QuietProcess(SpawnProcess):
    """A worker process that Ctrl+C does not reach: whoever started it is told, and tells it.

    It is deaf from its first moment, not only once its own code runs: a process inherits what its parent ignores.
    """

    def start(self) -> None:
        """Start the process."""
        if threading.current_thread() is not threading.main_thread():
            super().start()
            return
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
        try:
            super().start()
        finally:
            signal.signal(signal.SIGINT, before)


class QuietContext(SpawnContext):
    """Starts workers as :class:`QuietProcess`.

    They are spawned, not forked: a fork would carry along the threads of its parent, halted as they stand.
    """

    Process = QuietProcess


def leave_with_parent() -> None:
    """End this process when the one that started it has ended, however that came, and not by Ctrl+C before it.

    To be called first in each worker process.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # where it is not inherited
    parent = parent_process()
    if parent is None:
        return

    def watch() -> None:
        wait_for([parent.sentinel])
        os._exit(0)

    threading.Thread(target=watch, daemon=True).start()
