"""Handing work to an executor: every task has one result, whatever the executor does."""

from __future__ import annotations

import os
import signal
import sys
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crossgrain.batch import running
from crossgrain.batch.running import Here, QuietContext, leave_with_parent, run
from crossgrain.batch.work import Result


@dataclass(frozen=True)
class Named:
    name: str


def named(task):
    return Result(name=task.name, state="done")


def tasks(count):
    return [Named(f"{number}.svg") for number in range(count)]


@pytest.fixture(autouse=True)
def _no_drawings(monkeypatch):
    monkeypatch.setattr(running, "do", named)


class Dies(Executor):
    """An executor whose workers die at the nth task."""

    def __init__(self, at):
        self.left = at

    def submit(self, fn, /, *args, **kwargs):
        future = Future()
        if self.left < 0:
            raise BrokenExecutor
        self.left -= 1
        if self.left < 0:
            future.set_exception(BrokenExecutor())
        else:
            future.set_result(fn(*args, **kwargs))
        return future


@given(count=st.integers(0, 30), ahead=st.integers(1, 9), threads=st.integers(0, 3))
def test_every_task_has_one_result(count, ahead, threads):
    with ThreadPoolExecutor(threads) if threads else Here() as executor:
        results = list(run(tasks(count), executor, ahead=ahead))
    assert sorted(result.name for result in results) == sorted(task.name for task in tasks(count))
    assert all(result.state == "done" for result in results)


@given(count=st.integers(0, 30), ahead=st.integers(1, 9), at=st.integers(0, 40))
def test_what_an_executor_that_dies_has_not_done_is_lost_and_nothing_else(count, ahead, at):
    results = list(run(tasks(count), Dies(at), ahead=ahead))
    assert sorted(result.name for result in results) == sorted(task.name for task in tasks(count))
    assert sum(result.state == "done" for result in results) == min(at, count)
    assert all(result.state in ("done", "lost") for result in results)


@given(ahead=st.integers(1, 9))
def test_no_more_is_taken_than_is_to_be_under_way(ahead):
    taken, given_back = [], []

    def counted():
        for task in tasks(30):
            taken.append(task)
            assert len(taken) - len(given_back) <= ahead
            yield task

    for number, _result in enumerate(run(counted(), Here(), ahead=ahead)):
        given_back.append(number)


def test_who_stops_taking_results_leaves_nothing_waiting():
    class Waits(Executor):
        def __init__(self):
            self.futures = []

        def submit(self, fn, /, *args, **kwargs):
            self.futures.append(Future())
            if len(self.futures) == 1:
                self.futures[0].set_result(fn(*args, **kwargs))
            return self.futures[-1]

    executor = Waits()
    results = run(tasks(9), executor, ahead=4)
    next(results)
    results.close()
    assert [future.cancelled() for future in executor.futures] == [False, True, True, True]


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal")
def test_a_worker_does_not_hear_what_stops_its_parent(monkeypatch):
    with ProcessPoolExecutor(1, QuietContext(), leave_with_parent) as pool:
        assert pool.submit(signal.getsignal, signal.SIGINT).result() == signal.SIG_IGN
    assert signal.getsignal(signal.SIGINT) != signal.SIG_IGN


def _die(_task):
    os._exit(3)


def test_a_worker_that_really_dies_loses_its_task_only_with_its_pool(monkeypatch):
    monkeypatch.setattr(running, "do", _die)
    with ProcessPoolExecutor(1, get_context("fork"), leave_with_parent) as pool:
        assert {result.state for result in run(tasks(3), pool)} == {"lost"}


def test_a_mistake_in_a_task_of_the_executor_is_not_hidden(monkeypatch):
    def wrong(_task):
        raise ValueError("ours")

    monkeypatch.setattr(running, "do", wrong)
    with pytest.raises(ValueError, match="ours"):
        list(run(tasks(1), Here()))
