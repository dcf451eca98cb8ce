"""How calls are understood, and what is said of those that are not."""

from pathlib import Path
from typing import Any

import click

from sinkside.cli import near, streams
from sinkside.cli.answer import WRONG
from sinkside.cli.spellings import printable
from sinkside.faults import Fault, NotUnderstood

CODE = "call"


class Command(click.Command):
    """A command that takes each option once: of two values one would be lost in silence."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Parse what was given."""
        try:
            if not ctx.resilient_parsing:
                self._refuse_twice(ctx, self.make_parser(ctx).parse_args(args=list(args))[2])
            return super().parse_args(ctx, args)
        except click.UsageError as error:
            error.ctx = error.ctx or ctx  # not every one says which command it is about
            raise

    def _refuse_twice(self, ctx: click.Context, given: list[click.Parameter]) -> None:
        for option in given:
            once = isinstance(option, click.Option) and not (option.is_flag or option.multiple)
            if once and given.count(option) > 1:
                wrong = f"Option {option.get_error_hint(ctx)} is given twice"
                raise NotUnderstood(wrong, "give it once", code=CODE)


class Commands(click.Group):
    """The commands by name; an unknown one is told with what was meant."""

    command_class = Command

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Parse what was given; without anything the help is shown, and the call is wrong."""
        if not args and not ctx.resilient_parsing:
            streams.put_err(f"{ctx.get_help()}\n")
            ctx.exit(WRONG)
        return super().parse_args(ctx, args)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command that was named."""
        name = args[0]
        if name not in self.commands and not name.startswith("-"):
            raise NotUnderstood(f"No such command {name!r}", self._instead(name), code=CODE)
        return super().resolve_command(ctx, args)

    def _instead(self, name: str) -> str:
        if Path(name).suffix in (".yaml", ".yml"):
            return f"did you mean 'plan {name}'?"
        return near.suggestion(name, [*sorted(self.commands), "--help", "--version"])


def text(value: str) -> str:
    """Take a text that can be written down again: bytes that are no text are refused."""
    try:
        value.encode()
    except UnicodeEncodeError:
        raise click.BadParameter(f"'{printable(value)}' is not UTF-8") from None
    return value


class Name(click.Path):
    """The name of a file or a folder; `-` stays as it is, and so does `./-`."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Take a name as it was given, unless it is empty."""
        if not str(value):
            self.fail("the name is empty", param, ctx)
        return super().convert(value, param, ctx)


def fault(error: click.ClickException) -> Fault:
    """What is wrong with a call, with what would be right or where that is told."""
    if isinstance(error, click.NoSuchOption):
        close = error.possibilities
        wrong = f"No such option {error.option_name!r}"
        return Fault(code=CODE, wrong=wrong, right=_meant(close) if close else _help(error))
    wrong = error.format_message().removesuffix(".")
    told = isinstance(error, click.BadParameter) and not isinstance(error, click.MissingParameter)
    return Fault(code=CODE, wrong=wrong, right="" if told else _help(error))


def _meant(close: list[str]) -> str:
    return f"did you mean {' or '.join(repr(name) for name in close)}?"


def _help(error: click.ClickException) -> str:
    ctx = error.ctx if isinstance(error, click.UsageError) else None
    return f"{ctx.command_path} --help tells more" if ctx else ""
