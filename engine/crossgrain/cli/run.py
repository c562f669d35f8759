"""Run the program once and turn what happens into messages and an exit code."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

import click

from crossgrain.cli.exits import Exit
from crossgrain.cli.program import program
from crossgrain.errors import CrossgrainError
from crossgrain.language import _


def run(arguments: Sequence[str] | None = None) -> Exit:
    """Run the program.

    Args:
        arguments: the words after the program's name; those of the process where none are given.

    Returns:
        The exit code. Every message has been written to standard error.
    """
    _never_fail_on_a_sign()
    words = sys.argv[1:] if arguments is None else list(arguments)
    try:
        with program.make_context("crossgrain", words) as context:
            code = Exit(program.invoke(context) or Exit.FINE)
        sys.stdout.flush()
    except click.exceptions.Exit as stop:
        return Exit(stop.exit_code)
    except click.ClickException as error:
        error.show()
        return Exit.USAGE
    except CrossgrainError as error:
        _say(_("Error: {message}").format(message=error))
        return Exit.REFUSED
    except (click.Abort, KeyboardInterrupt):
        _say(_("Stopped."))
        return Exit.STOPPED
    except BrokenPipeError:
        # The interpreter flushes standard output once more on its way out; give it somewhere to go.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.NO_READER
    except Exception:
        sys.excepthook(*sys.exc_info())
        _say(
            _(
                "This is a fault of Crossgrain {version}, not of your drawing. Please report it with the lines above, "
                "the command and, if you may, the drawing."
            ).format(version=_version())
        )
        return Exit.FAULT
    return code


def _say(message: str) -> None:
    click.echo(message, err=True)


def _version() -> str:
    from crossgrain import __version__

    return __version__


def _never_fail_on_a_sign() -> None:
    # A terminal that cannot show ² or ° gets a question mark, not a traceback.
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
