"""An option that can be given once and is given twice is refused, rather than that the last one wins in silence."""

from __future__ import annotations

from importlib import import_module

import click
import pytest

from cli.program import call
from crossgrain.cli.command import LazyGroup
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS


def commands(table, before=()):
    for name, entry in table.items():
        command = import_module(entry.module).command
        if isinstance(command, LazyGroup):
            yield from commands(command.table, (*before, name))
        else:
            yield (*before, name), command


ONCE = [
    (*words, max(option.opts, key=len))
    for words, command in commands(COMMANDS)
    for option in command.params
    if isinstance(option, click.Option) and not (option.multiple or option.is_flag)
]


def test_there_are_such_options():
    assert ("true", "--seam") in ONCE
    assert ("fitting", "add", "--note") in ONCE


@pytest.mark.parametrize("words", ONCE, ids=" ".join)
def test_it_is_refused(capsys, words):
    *command, option = words
    result = call(capsys, *command, "one", option, "1", option, "2")
    assert (result.code, result.out) == (Exit.USAGE, "")
    assert f"{option} is given twice. It can be given only once." in result.err


def test_two_words_for_one_choice_exclude_each_other(capsys, tmp_path):
    words = ["take-in", "in.svg", "-o", tmp_path / "out.svg", "--seam", "side", "--at", "hip=1mm", "--left", "--right"]
    result = call(capsys, *words)
    assert (result.code, result.out) == (Exit.USAGE, "")
    assert "--left and --right exclude each other. Give one of them." in result.err


def test_a_yes_said_twice_is_a_yes(capsys):
    result = call(capsys, "take-in", "none.svg", "-o", "out.svg", "--seam", "s", "--at", "50%=1mm", "--left", "--left")
    assert result.code == Exit.REFUSED  # there is no such drawing


def test_help_is_given_whatever_stands_beside_it(capsys):
    result = call(capsys, "true", "--seam", "a", "--seam", "b", "--help")
    assert (result.code, result.err) == (Exit.FINE, "")
