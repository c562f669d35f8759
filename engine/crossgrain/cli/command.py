"""Commands whose help begins with an example, and a group that loads them when they are called."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module
from typing import Any, NamedTuple

import click

from crossgrain.language import _


class Command(click.Command):
    """One command; its help shows first how it is called.

    Args:
        example: a whole command line that works.
    """

    def __init__(self, *args: Any, example: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.example = example

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the command line, in which nothing that is said once may be said twice: the last would win unseen."""
        if not ctx.resilient_parsing:
            _values, _rest, order = self.make_parser(ctx).parse_args(args=list(args))
            _refuse_twice(ctx, order)
        return super().parse_args(ctx, args)

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the example, then what click writes."""
        write_example(formatter, self.example)
        super().format_help(ctx, formatter)


def _refuse_twice(ctx: click.Context, order: Sequence[click.Parameter]) -> None:
    """Refuse options that were given more often than once and can be given only once.

    Args:
        ctx: the context of the command.
        order: the parameters in the order in which they stand on the command line, each as often as it stands there.
    """
    given = [option for option in order if isinstance(option, click.Option) and not option.multiple]
    if any(option.is_eager for option in given):
        return  # the help is wanted, whatever else is said
    seen: dict[str, click.Option] = {}
    for option in given:
        first = seen.setdefault(str(option.name), option)
        if first is not option:
            ctx.fail(
                _("{first} and {second} exclude each other. Give one of them.").format(
                    first=_word(first), second=_word(option)
                )
            )
    for option in seen.values():
        if not option.is_flag and given.count(option) > 1:
            ctx.fail(_("{option} is given twice. It can be given only once.").format(option=_word(option)))


def _word(option: click.Option) -> str:
    """Return the word an option is known by."""
    return max(option.opts, key=len)


class Entry(NamedTuple):
    """Where a command is found, and the sentence the list of commands shows without loading it."""

    module: str
    summary: str


class LazyGroup(click.Group):
    """A group of commands, each in a module of its own that is loaded when it is called.

    Args:
        table: the commands by name. Module ``m`` holds the command as ``m.command``.
        example: a whole command line that works.
    """

    def __init__(self, *args: Any, table: Mapping[str, Entry], example: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.table = table
        self.example = example

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names, in the order of the work."""
        return list(self.table)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load a command by its name."""
        entry = self.table.get(cmd_name)
        if entry is None:
            return None
        command: click.Command = import_module(entry.module).command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say which ones there are."""
        if args and args[0] not in self.table and not args[0].startswith("-"):
            ctx.fail(
                _("There is no command {name}. The commands are: {names}.").format(
                    name=args[0], names=", ".join(self.table)
                )
            )
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands from the table."""
        with formatter.section(_("Commands")):
            formatter.write_dl([(name, entry.summary) for name, entry in self.table.items()])

    def format_help(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the example, then what click writes."""
        write_example(formatter, self.example)
        super().format_help(ctx, formatter)


def write_example(formatter: click.HelpFormatter, example: str) -> None:
    """Write a command line that works, on one line so that it can be copied."""
    formatter.write(_("Example: {command}").format(command=example) + "\n\n")
