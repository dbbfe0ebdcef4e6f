"""Refusals in one sentence: no usage block, no traceback, exit code 2.

All speak alike: where it is and what is wrong with it; then "expected" and what would do, or "did
you mean" and the one word that was nearly typed.
What click has to complain of is told apart by its classes and their fields, never by its English,
which changes with its version and with the user's language.
"""

from __future__ import annotations

import codecs
import sys
from collections.abc import Callable, Sequence
from typing import Any, NoReturn

import click

from mensura.checks import MeasureError, alike, shown
from mensura.cli.types import with_units

#: Says what words that stand alone were perhaps meant as, "" if it does not know: takes the words,
#: and the values of the options by name.
Stray = Callable[[Sequence[str], dict[str, Any]], str]

#: How a signs that a console lacks is written there.
PLAIN = {
    **{"−": "-", "–": "-", "×": "x", "·": "*", "±": "+/-", "√": "sqrt", "π": "pi", "∂": "d"},
    **{"≤": "<=", "≥": ">=", "≠": "!=", "≈": "~", "⇒": "==>", "⇐": "<==", "…": "...", "′": "'"},
    **{"²": "^2", "³": "^3", "⁴": "^4", "½": "1/2", "¼": "1/4", "¾": "3/4", "°": " deg"},
}


def _plain_signs(error: UnicodeError) -> tuple[str, int]:
    """For an encoder: our signs in plain letters, "?" for any other that it cannot write."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    text = error.object[error.start : error.end]
    return "".join(PLAIN.get(one, "?") for one in text), error.end


codecs.register_error("mensura.plain", _plain_signs)


class Refusing(click.Command):
    """A command that says in our words which of the words it was given are too many.

    stray: says what they were perhaps meant as; named, more: as click.Command takes them.
    """

    def __init__(self, *named: Any, stray: Stray | None = None, **more: Any) -> None:
        super().__init__(*named, **more)
        self._stray = stray

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Reads the words into the context, and returns those left over.

        ctx: of this run; args: the words. Raises UsageError if any are left.
        """
        ctx.allow_extra_args = True  # so that it is not click who refuses them
        args = with_units(args, self.params)
        try:
            left = super().parse_args(ctx, args)
        except click.UsageError as error:
            error.ctx = error.ctx or ctx  # some are raised without it
            raise
        if left and not ctx.resilient_parsing:
            meant = self._stray(left, ctx.params) if self._stray else ""
            flags = [one for one in self.params if isinstance(one, click.Option) and one.is_flag]
            like = flags[-1].opts[0] if flags else "--help"
            rest = f"did you mean {meant}?" if meant else f"expected options only, like {like}."
            raise click.UsageError(f"{shown(' '.join(left))} was not understood; {rest}", ctx)
        return left


class OneSentence(click.Group):
    """A group of commands that refuses in one sentence."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = False,
        **extra: Any,
    ) -> Any:
        """Runs the command and leaves with its exit code.

        args: the words after the command's name, those it was started with if None; prog_name:
        its name; complete_var: as for click; standalone_mode: False lets errors through to the
        caller; windows_expand_args: whether to take words for patterns of file names on Windows:
        not here, where a word may be the line of a proof; extra: for the context.
        """
        group: Any = super()
        if not standalone_mode:
            return group.main(args, prog_name, complete_var, False, windows_expand_args, **extra)
        for stream in (sys.stdout, sys.stderr):
            # a console without "²" or "π" shows "^2" and "pi", and not a traceback
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="mensura.plain")
        try:
            code = group.main(
                args, prog_name or "mensura", complete_var, False, windows_expand_args, **extra
            )
        except (click.Abort, KeyboardInterrupt):
            leave("stopped.", 130)
        except click.ClickException as error:
            leave(plain(error), 2)
        except MeasureError as error:
            leave(error.sentence(error.field), 2)
        except OSError as error:
            name = shown(str(error.filename)) if error.filename else "a file or folder"
            why = (error.strerror or str(error)).lower()
            leave(f"{name} cannot be used: {why}; expected one that can be read and written.", 2)
        sys.exit(code if isinstance(code, int) else 0)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names.

        ctx: of this run; args: the words. Raises UsageError, naming the commands there are.
        """
        if args and not args[0].startswith("-") and self.get_command(ctx, args[0]) is None:
            known = self.list_commands(ctx)
            asks = args[0].casefold() in ("help", "?")
            meant = "did you mean --help?" if asks else _meant(args[0], known)
            raise click.UsageError(f"there is no command {shown(args[0])}; {meant}")
        return super().resolve_command(ctx, args)


def plain(error: click.ClickException) -> str:
    """One sentence for what click itself has to complain about.

    error: what it raised.

    >>> plain(click.BadOptionUsage("--axes", "Die Option braucht einen Wert."))
    '--axes is alone; expected a value after it.'
    """
    command = error.ctx.command if isinstance(error, click.UsageError) and error.ctx else None
    parameters = command.params if command else []
    if isinstance(error, click.NoSuchOption):
        names = [name for one in parameters for name in one.opts if name[:2] == "--"]
        many = "one that --help lists" if len(names) > 8 else ""
        owner = _owner(command, error.option_name)
        if owner:
            return f"{error.option_name} stands before its command; expected it after {owner}."
        meant = _meant(error.option_name, [*names, "--help"], many)
        return f"there is no option {shown(error.option_name)} here; {meant}"
    if isinstance(error, click.BadOptionUsage):
        named = next((one for one in parameters if error.option_name in one.opts), None)
        if isinstance(named, click.Option) and named.is_flag:
            return f"{error.option_name} takes no value; expected it alone."
        return f"{error.option_name} is alone; expected a value after it."
    if isinstance(error, click.MissingParameter) and error.param is not None:
        option = isinstance(error.param, click.Option)
        name = error.param.opts[0] if option else error.param.metavar or error.param.opts[0]
        return f"{name} is missing; expected it, as --help shows."
    return error.format_message()


def _owner(group: click.Command | None, option: str) -> str:
    """The commands of a group that take an option, which was given before any of them; or ""."""
    if not isinstance(group, click.Group):
        return ""
    return " or ".join(
        name for name, one in group.commands.items() if any(option in p.opts for p in one.params)
    )


def _meant(word: str, known: Sequence[str], many: str = "") -> str:
    """What was meant by a word that is none of those known, or what could have been.

    word: as typed; known: the words there are; many: stands for them if they are too many.
    """
    near = alike(word, known)
    if near:
        return f"did you mean {' or '.join(near)}?"
    return f"expected {many or 'one of: ' + ', '.join(known)}."


def leave(message: str, code: int) -> NoReturn:
    """Says one sentence on one line of stderr and ends the program.

    message: the sentence; code: the exit code.
    """
    text = " ".join(message.split())
    text = "".join(c if c.isprintable() else ascii(c)[1:-1] for c in text)
    text = text if len(text) <= 600 else text[:599] + "…"
    click.echo(text if text.endswith((".", "…", "?")) else text + ".", err=True)
    sys.exit(code)
