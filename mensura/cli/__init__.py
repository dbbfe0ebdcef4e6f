"""The command `mensura`: open the workbooks, compare instruments on one stem, correct a reading.

Thin: words in, words out. Whatever cannot be used is refused in one sentence with exit code 2. A
new command is a module of this folder and a place in COMMANDS.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Any, NoReturn

import click

from mensura import __version__
from mensura.checks import MeasureError, shown
from mensura.cli.compare import compare_command
from mensura.cli.correct import correct_command
from mensura.cli.open import open_command
from mensura.cli.problems import answer_command, problem_command, problems_command
from mensura.cli.proof import proof_command

#: All there are, in the order in which a lesson meets them.
COMMANDS: tuple[click.Command, ...] = (
    open_command,
    compare_command,
    correct_command,
    proof_command,
    problems_command,
    problem_command,
    answer_command,
)


class _OneSentence(click.Group):
    """A group of commands that refuses in one sentence: no usage block and no traceback."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = True,
        **extra: Any,
    ) -> Any:
        """Runs the command and leaves with its exit code.

        args: the words after the command's name, those it was started with if None; prog_name:
        its name; complete_var: as for click; standalone_mode: False lets errors through to the
        caller; windows_expand_args: whether to expand patterns on Windows; extra: for the context.
        """

        group: Any = super()
        if not standalone_mode:
            return group.main(args, prog_name, complete_var, False, windows_expand_args, **extra)
        for stream in (sys.stdout, sys.stderr):
            # a terminal without "²" or "π" shows "?" and not a traceback
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="replace")
        try:
            code = group.main(
                args, prog_name or "mensura", complete_var, False, windows_expand_args, **extra
            )
        except (click.Abort, KeyboardInterrupt):
            _leave("stopped.", 130)
        except click.ClickException as error:
            _leave(_plain(error), 2)
        except MeasureError as error:
            _leave(error.sentence(error.field), 2)
        except OSError as error:
            name = f"{shown(str(error.filename))}: " if error.filename else ""
            _leave(f"{name}{(error.strerror or str(error)).lower()}", 2)
        sys.exit(code if isinstance(code, int) else 0)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names.

        ctx: of this run; args: the words. Raises UsageError, naming the commands there are.
        """
        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            known = " or ".join(self.list_commands(ctx))
            raise click.UsageError(f"there is no command {shown(args[0])}; expected {known}.")
        return super().resolve_command(ctx, args)


@click.group(
    name="mensura",
    cls=_OneSentence,
    invoke_without_command=True,
    context_settings={"help_option_names": ["--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="mensura", message="%(prog)s %(version)s")
@click.pass_context
def main(ctx: click.Context) -> None:
    """Girth tapes and calipers on stems: how far can each reading be trusted?"""
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


for _one in COMMANDS:
    main.add_command(_one)


def _plain(error: click.ClickException) -> str:
    """One sentence for what click itself has to complain about."""
    if isinstance(error, click.NoSuchOption):
        command = error.ctx.command if error.ctx else main
        names = [name for option in command.params for name in option.opts if name[:2] == "--"]
        if len(names) > 8:  # too many for a sentence: those that are spelt like it
            names = [name for name in error.possibilities or () if name != "--help"]
        known = "one of " + ", ".join([*names, "--help"]) if names else "one that --help lists"
        return f"there is no option {shown(error.option_name)} here; expected {known}."
    if isinstance(error, click.BadOptionUsage):
        return f"{error.option_name} is nothing; expected a value after it."
    message = error.format_message()
    if message.startswith("Got unexpected extra argument"):
        extra = shown(message.partition("(")[2].rstrip(")"))
        return f"{extra} was not understood; expected options only, like --json."
    return message


def _leave(message: str, code: int) -> NoReturn:
    """Says one sentence on one line of stderr and ends the program."""
    text = " ".join(message.split())
    text = "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text)
    text = text if len(text) <= 600 else text[:599] + "…"
    click.echo(text if text.endswith((".", "…", "?")) else text + ".", err=True)
    sys.exit(code)
