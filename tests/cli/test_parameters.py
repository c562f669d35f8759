"""The options of a command are the fields of its operation's parameters, in name and in default."""

from __future__ import annotations

from dataclasses import MISSING, fields
from importlib import import_module

import pytest

from crossgrain.cli.job import COMMON
from crossgrain.cli.program import COMMANDS
from crossgrain.operations.allowance import Allowance
from crossgrain.operations.cloth_reduction import ClothReduction
from crossgrain.operations.dart_trueing import DartTrueing
from crossgrain.operations.following import Following
from crossgrain.operations.lengthening import Lengthening
from crossgrain.operations.marking import Marking
from crossgrain.operations.reduction import Reduction
from crossgrain.operations.take_in import TakeIn
from crossgrain.operations.trueing import Trueing

BY_CLOTH = {"fabric", "drafted_for", "body", "match", "pressure", "opening", "accept_pressure"}
"""The options of ``reduce`` by which each level finds its own girth, instead of ``--by``."""


def own_options(name):
    parameters = import_module(COMMANDS[name].module).command.params
    return {parameter.name: parameter for parameter in parameters if parameter.name not in COMMON}


@pytest.mark.parametrize(
    ("name", "definition", "besides"),
    [
        ("reduce", Reduction, BY_CLOTH | {"by_stretch"}),
        ("allow", Allowance, {"strip", "renew"}),
        ("mark", Marking, set()),
    ],
)
class TestOptions:
    def test_every_field_is_an_option_and_every_option_a_field(self, name, definition, besides):
        wanted = {field.name for field in fields(definition)} - {"piece"}  # which piece, the option --piece says
        assert set(own_options(name)) - besides == wanted

    def test_what_has_no_default_must_be_given_and_what_has_one_need_not(self, name, definition, besides):
        options = own_options(name)
        for field in fields(definition):
            if field.name == "piece":
                continue
            has_default = field.default is not MISSING or field.default_factory is not MISSING
            if (name, field.name) != ("reduce", "by"):  # one of three ways; the command itself asks for one
                assert options[field.name].required is not has_default

    def test_an_option_that_is_not_given_leaves_the_default(self, name, definition, besides):
        """What the command gets is None, which it leaves out, or the very default of the field."""
        command = import_module(COMMANDS[name].module).command
        words = ["in.svg", "-o", "out.svg", "--piece", "p", *(["--by", "8%"] if name == "reduce" else [])]
        given = command.make_context(name, words).params
        for field in fields(definition):
            if field.name != "piece" and field.default is not MISSING:
                assert given[field.name] in (None, field.default)


def test_by_cloth_every_field_is_an_option():
    wanted = {field.name for field in fields(ClothReduction)} - {"matching"} | {"match", "pressure"}
    assert wanted == BY_CLOTH


OF_RECORD = {"record", "up_to", "fitted_on"}
"""The options of ``take-in`` by which amounts come from a record of fittings, instead of ``--at``."""


OF_NODES = {"nodes", "by"}
"""The options of ``take-in`` by which chosen nodes become stations."""


def test_taking_in_every_field_is_an_option():
    """What was basted earlier only a record knows; curves are as near as everywhere."""
    wanted = {field.name for field in fields(TakeIn)} - {"earlier", "accuracy"}
    assert set(own_options("take-in")) - OF_RECORD - OF_NODES - {"body"} == wanted


def test_trueing_every_field_is_an_option():
    """A body is another way to say levels; --darts true the darts instead."""
    assert set(own_options("true")) - {"body", "darts"} == {field.name for field in fields(Trueing)}
    assert {field.name for field in fields(DartTrueing)} <= set(own_options("true"))


def test_lengthening_every_field_is_an_option():
    """The one place down a piece that --at takes is the name of a level or a depth."""
    assert set(own_options("lengthen")) - {"body"} == {field.name for field in fields(Lengthening)} - {"depth"}


def test_following_has_no_option_of_its_own():
    """What a piece follows is marked on it; which pieces, the option --piece says."""
    assert set(own_options("follow")) == {field.name for field in fields(Following)} - {"pieces"}


@pytest.mark.parametrize(
    ("name", "words", "definition"),
    [
        ("true", ["--seam", "side"], Trueing),
        ("true", ["--darts"], DartTrueing),
        ("lengthen", ["--at", "knee", "--by", "5mm"], Lengthening),
    ],
)
def test_an_option_of_these_that_is_not_given_leaves_the_default(name, words, definition):
    given = import_module(COMMANDS[name].module).command.make_context(name, ["in.svg", "-o", "out.svg", *words]).params
    for field in fields(definition):
        if field.default is not MISSING and field.name not in ("depth", "at"):
            assert given[field.name] in (None, field.default)
