"""The manners of the program as a whole: help, versions, exit codes, and what stands on which stream."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import import_module

import click
import pytest

import crossgrain
from cli.program import call
from crossgrain.cli.exits import Exit
from crossgrain.cli.program import COMMANDS, program
from crossgrain.errors import CollapseError, DocumentError, UnitError


def run(*words, **more):
    return subprocess.run(
        [sys.executable, "-m", "crossgrain.cli", *words], capture_output=True, text=True, check=False, **more
    )


class TestHelp:
    @pytest.mark.parametrize("words", [["--help"], ["-h"], *[[name, "--help"] for name in COMMANDS]], ids=" ".join)
    def test_help_begins_with_an_example(self, capsys, words):
        result = call(capsys, *words)
        assert result.code == Exit.FINE
        assert result.out.startswith("Example: crossgrain ")
        assert result.err == ""
        if words[0] in COMMANDS:
            assert result.out.startswith(f"Example: crossgrain {words[0]}")

    @pytest.mark.parametrize("name", COMMANDS)
    def test_every_option_says_what_it_is_for(self, name):
        for parameter in import_module(COMMANDS[name].module).command.params:
            if isinstance(parameter, click.Option):
                assert parameter.help, parameter.name

    @pytest.mark.parametrize("name", COMMANDS)
    def test_the_list_and_the_command_say_the_same(self, name):
        command = import_module(COMMANDS[name].module).command
        assert command.name == name
        assert command.help.startswith(COMMANDS[name].summary)

    def test_without_a_command_the_help_is_an_error(self, capsys):
        result = call(capsys)
        assert (result.code, result.out) == (Exit.USAGE, "")
        assert "measure" in result.err

    def test_the_exit_codes_are_told(self, capsys):
        text = " ".join(call(capsys, "--help").out.split())
        assert "0 fine, 1 something to look at, 2 the command is not written as it must be, 3" in text


class TestUsage:
    @pytest.mark.parametrize(
        ("words", "said"),
        [
            (["wash"], f"There is no command wash. The commands are: {', '.join(COMMANDS)}."),
            (["--nonsense"], "No such option '--nonsense'"),
            (["measure"], "IN.svg"),
        ],
    )
    def test_what_is_not_written_as_it_must_be_is_said_on_standard_error(self, capsys, words, said):
        result = call(capsys, *words)
        assert (result.code, result.out) == (Exit.USAGE, "")
        assert said in result.err
        assert "--help" in result.err


class TestVersion:
    def test_the_version_is_data(self, capsys):
        assert call(capsys, "--version") == (Exit.FINE, f"crossgrain {crossgrain.__version__}\n", "")

    @pytest.mark.parametrize("words", [["--version"], ["--help"]])
    def test_it_loads_neither_commands_nor_heavy_libraries(self, words):
        source = (
            "import sys\n"
            "from crossgrain.cli import main\n"
            f"main({words!r})\n"
            "heavy = {'numpy', 'lxml', 'shapely', 'pint', 'rich', 'kurbopy', 'crossgrain.units', 'crossgrain.model'}\n"
            "sys.exit(' '.join(heavy & set(sys.modules)) or 0)"
        )
        result = subprocess.run([sys.executable, "-c", source], capture_output=True, text=True, check=False)
        assert (result.returncode, result.stderr) == (0, "")

    def test_the_installed_program_answers(self):
        script = os.path.join(os.path.dirname(sys.executable), "crossgrain")
        result = subprocess.run([script, "--version"], capture_output=True, text=True, check=False)
        assert (result.returncode, result.stdout) == (0, f"crossgrain {crossgrain.__version__}\n")


class TestExitCodes:
    @pytest.fixture
    def raising(self, monkeypatch):
        """Make the program raise, whatever it is asked."""

        def arrange(error):
            def invoke(_context):
                raise error

            monkeypatch.setattr(program, "invoke", invoke)

        return arrange

    @pytest.mark.parametrize(
        "error",
        [
            UnitError("“8” has no unit.", advice="Write it as 8 %."),
            DocumentError("There is no file x.svg.", advice="Check the name."),
            CollapseError("Nothing is left.", piece="front", edge="hem", advice="Ask for less."),
        ],
    )
    def test_what_the_maker_can_mend_is_one_sentence_without_a_traceback(self, capsys, raising, error):
        raising(error)
        assert call(capsys, "measure", "x.svg") == (Exit.REFUSED, "", f"Error: {error}\n")

    def test_a_fault_of_ours_keeps_its_traceback_and_asks_to_report_it(self, capsys, raising):
        raising(ZeroDivisionError("by our own hand"))
        result = call(capsys, "measure", "x.svg")
        assert (result.code, result.out) == (Exit.FAULT, "")
        assert "Traceback" in result.err
        assert "ZeroDivisionError: by our own hand" in result.err
        assert result.err.rstrip().endswith(
            "Please report it with the lines above, the command and, if you may, the drawing."
        )

    @pytest.mark.parametrize("error", [KeyboardInterrupt(), click.Abort()])
    def test_stopped_from_the_keyboard(self, capsys, raising, error):
        raising(error)
        assert call(capsys, "measure", "x.svg") == (Exit.STOPPED, "", "Stopped.\n")

    def test_a_reader_that_leaves_early_is_no_fault(self):
        read, write = os.pipe()
        os.close(read)
        with os.fdopen(write, "w") as closed:
            result = subprocess.run(
                [sys.executable, "-m", "crossgrain.cli", "--version"],
                stdout=closed,
                stderr=subprocess.PIPE,
                text=True,
                check=False,
            )
        assert (result.returncode, result.stderr) == (Exit.NO_READER, "")

    def test_the_codes_are_those_of_the_manual(self):
        assert [Exit.FINE, Exit.FINDINGS, Exit.USAGE, Exit.REFUSED, Exit.FAULT] == [0, 1, 2, 3, 4]

    def test_the_process_ends_with_the_code(self):
        assert run("wash").returncode == Exit.USAGE

    def test_a_terminal_of_few_signs_gets_no_traceback(self):
        result = run("measure", "“.svg", env=os.environ | {"PYTHONIOENCODING": "ascii"})
        assert result.returncode == Exit.REFUSED
        assert "Traceback" not in result.stderr
