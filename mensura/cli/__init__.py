"""The command `mensura`: open the workbooks, compare instruments on one stem, correct a reading.

Thin: words in, words out. Whatever cannot be used is refused in one sentence with exit code 2.
"""

from __future__ import annotations

import json
import math
import os
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from mensura import __version__
from mensura.checks import MeasureError, OutlineError, shown
from mensura.cli.options import (
    BAND,
    JAWS,
    LAY,
    OPTIONS,
    ROUNDING,
    Grouped,
    calipers_of,
    called,
    lay_of,
    parsed_number,
    parsed_whole,
    tape_of,
    with_settings,
)
from mensura.cli.problems import answer_command, problem_command, problems_command
from mensura.cli.proof import proof_command

if TYPE_CHECKING:
    from mensura.disk.layout import LaidOut
    from mensura.stems import Outline, Section

#: Where the workbooks go if no folder is named.
DEFAULT_FOLDER = "mensura-workbooks"

#: Fields of the measuring layers, in this command's words.
_OPTIONS = {
    **OPTIONS,
    "first_cm": "--axes, first diameter,",
    "second_cm": "--axes, second diameter,",
    "ridges": "--ridges",
    "furrow_depth_cm": "--furrow-depth-cm",
    "seed": "--seed",
    "caliper_direction_deg": "--caliper-direction-deg",
    "girth_cm": "the tape's reading on this stem, laid like this,",
    "reading_cm": "the tape's reading on this stem with these faults",
    "readings_cm": "a reading of calipers with these faults",
    "true_cm2": "the area of this stem",
    "estimate_cm2": "an area concluded for this stem",
}

#: What `--json` prints, in this order; other programs rely on exactly these.
_JSON_KEYS = (
    "true_area_cm2",
    "taut_girth_cm",
    "reading_cm",
    "tape_area_cm2",
    "tape_over_percent",
    "classroom_over_percent",
    "breakdown",
    "calipers",
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


main.add_command(proof_command)
main.add_command(problems_command)
main.add_command(problem_command)
main.add_command(answer_command)


@main.command(name="open")
@click.argument("folder", metavar="[FOLDER]", default=DEFAULT_FOLDER)
@click.option("--no-browser", is_flag=True, help="Start JupyterLab without opening a browser.")
@click.option("--port", metavar="N", help="Port to serve on, 0 to 65535; 0 takes any free one.")
def open_command(folder: str, no_browser: bool, port: str | None) -> int:
    """Lay the workbooks out in FOLDER and open them in JupyterLab.

    FOLDER is made if it is missing; the usual one is mensura-workbooks, in the current folder.
    What you have changed there is never overwritten: a fresh copy goes beside it.
    """
    from mensura.disk.lab import first_workbook, lab_command, lab_environment, start
    from mensura.disk.layout import LayoutError, lay_out
    from mensura.places import shipped

    number = None if port is None else parsed_whole("--port", port, at_least=0, at_most=65535)
    if not folder.strip():
        raise click.UsageError("FOLDER is nothing; expected the name of a folder.")
    try:
        source = shipped("workbooks")
    except FileNotFoundError as error:
        raise click.UsageError(str(error)) from None
    try:
        laid = lay_out(source, Path(folder))
    except LayoutError as error:
        raise click.UsageError(f"FOLDER: {error}") from None
    click.echo("\n".join(_told(laid)))
    first = first_workbook(name for name in laid.names if (laid.folder / name).is_file())
    administrator = hasattr(os, "geteuid") and os.geteuid() == 0
    command = lab_command(
        laid.folder, first, browser=not no_browser, port=number, root=administrator
    )
    return start(command, lab_environment(os.environ))


@main.command(name="compare", cls=Grouped)
@click.option("--axes", metavar="AxB", help="An elliptical stem's two diameters in cm: 60x48.")
@click.option(
    "--outline",
    metavar="FILE.csv",
    help="A stem's outline: columns x_cm,y_cm or angle_deg,radius_cm.",
)
@click.option("--ridges", metavar="N", default="0", help="Ridges of rough bark, 3 to 2000.")
@click.option(
    "--furrow-depth-cm", metavar="N", default="0", help="Depth of the furrows between them."
)
@click.option("--seed", metavar="N", default="1", help="Another seed, other bark.")
@click.option(
    "--caliper-direction-deg",
    metavar="N",
    default="0",
    help="Direction of the first width, from the first axis.",
)
@with_settings(*LAY, *BAND, *JAWS, *ROUNDING)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def compare_command(
    axes: str | None,
    outline: str | None,
    ridges: str,
    furrow_depth_cm: str,
    seed: str,
    caliper_direction_deg: str,
    as_json: bool,
    **words: str | None,
) -> None:
    """Compare tape and calipers on one stem: readings, areas, errors.

    Name the stem by --axes or by --outline. Angles are in degrees, anticlockwise from the first
    axis. Instruments are sound and the hand is steady, but for the faults that are given.
    """
    if (axes is None) == (outline is None):
        got = "both" if axes is not None else "neither"
        raise click.UsageError(f"--axes and --outline: {got} given; expected exactly one of them.")
    lay, tape, calipers = lay_of(words), tape_of(words), calipers_of(words)
    turn = parsed_number("--caliper-direction-deg", caliper_direction_deg, "deg")
    stem, told = _stem(axes, outline, ridges, furrow_depth_cm, seed)

    import numpy as np

    from mensura.estimates import compare
    from mensura.views.pages.wording import breakdown_lines, comparison_lines

    jaws = {**_OPTIONS, "press_cm": "--jaw-press-cm"}
    with np.errstate(all="ignore"):  # what overflows is refused below
        with called(_OPTIONS):
            tape.read(stem, lay)  # if this passes, a pressing that is refused is that of the jaws
        with called(jaws):
            result = compare(stem, lay, turn, tape, calipers)
    every = result.to_dict()
    numbers = {key: every[key] for key in _JSON_KEYS}
    _check_finite(numbers)
    if as_json:
        click.echo(json.dumps(numbers, indent=2, allow_nan=False))
    else:
        lines = [*comparison_lines(result, lay, turn), *breakdown_lines(result)]
        click.echo("\n".join([f"Stem: {told}", *lines]))


@main.command(name="correct", cls=Grouped)
@click.option("--reading-cm", metavar="N", help="The girth as the band told it.")
@with_settings(*BAND, *ROUNDING)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def correct_command(reading_cm: str | None, as_json: bool, **words: str | None) -> None:
    """Correct a tape's reading for the band's condition.

    Stretch, worn start, thickness, temperature and pull are undone. How the band lay cannot be
    known from the reading; what that may have done is told, but not undone.
    """
    if reading_cm is None:
        raise click.UsageError("--reading-cm is missing; expected a girth in cm, as it was read.")
    reading = parsed_number("--reading-cm", reading_cm, "cm")
    tape = tape_of(words)

    from mensura.instruments import correct_girth
    from mensura.views.pages.wording import correction_lines

    with called({**OPTIONS, "reading_cm": "--reading-cm"}):
        corrected = correct_girth(reading, tape)
    if as_json:
        parts = corrected.breakdown.items()
        numbers = {**vars(corrected), "breakdown": [{"fault": f, "adds_cm": a} for f, a in parts]}
        click.echo(json.dumps(numbers, indent=2, allow_nan=False))
    else:
        click.echo("\n".join(correction_lines(reading, corrected, tape)))


def _stem(
    axes: str | None, outline: str | None, ridges: str, furrow_depth_cm: str, seed: str
) -> tuple[Section, str]:
    """The stem that was named, and its words."""
    depth = parsed_number("--furrow-depth-cm", furrow_depth_cm, "cm", "a number at least 0")
    bark_seed = parsed_whole("--seed", seed, at_least=0, at_most=10**12)
    count = parsed_whole("--ridges", ridges, at_least=0, at_most=2000)
    if count in (1, 2):
        raise MeasureError("--ridges", count, "", "0 or a whole number from 3 to 2000")
    if depth < 0:
        raise MeasureError("--furrow-depth-cm", depth, "cm", "a finite number at least 0")
    if count and not depth:
        raise click.UsageError(
            f"--furrow-depth-cm is missing; expected a depth above 0 cm beside --ridges {count}."
        )
    if depth and not count:
        raise click.UsageError(
            "--ridges is missing; expected a whole number from 3 to 2000 beside "
            f"--furrow-depth-cm {depth:g}."
        )
    from mensura.stems import Ellipse, with_bark

    base: Ellipse | Outline
    with called(_OPTIONS):
        if axes is not None:
            first, second = _axes(axes)
            base, words = Ellipse(first, second), f"ellipse, {first:g} cm by {second:g} cm"
        else:
            base, words = _outline(str(outline)), f"outline {shown(outline)}"
        if count:
            words += f", with {count} ridges, furrows up to {depth:g} cm deep (seed {bark_seed})"
        return with_bark(base, count, depth, bark_seed), words


def _told(laid: LaidOut) -> list[str]:
    """What `mensura open` says before JupyterLab starts."""
    folder = str(laid.folder)
    lines = [f"Workbooks: {folder if folder.isprintable() else ascii(folder)}"]
    if laid.in_place:
        lines.append("They are opened where they lie; nothing was laid out.")
    else:
        for names, done in ((laid.new, "Laid out"), (laid.renewed, "Renewed, unchanged by you")):
            if names:
                lines.append(f"{done}: {', '.join(names)}.")
        if not laid.names:
            lines.append("This installation holds no workbooks; nothing was laid out.")
        elif not (laid.new or laid.renewed or laid.notes):
            lines.append("All are there already; nothing was laid out.")
        lines.extend(laid.notes)
    lines += [
        "JupyterLab starts now. In the browser choose the menu Run, Run All Cells.",
        "To stop it, press Ctrl-C here and answer y.",
    ]
    return lines


def _axes(text: str) -> tuple[float, float]:
    parts = re.split("[xX×]", text)
    if len(parts) != 2:
        raise MeasureError("--axes", text, "", "two diameters in cm like 60x48")
    wanted = "a finite number above 0 and at most 2000"
    first, second = (
        parsed_number(_OPTIONS[field], part.strip(), "cm", wanted)
        for field, part in zip(("first_cm", "second_cm"), parts, strict=True)
    )
    return first, second


def _outline(name: str) -> Outline:
    from mensura.stems import read_outline

    if not name.strip():
        raise click.UsageError("--outline is nothing; expected the name of a CSV file.")
    path = Path(name)
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise click.UsageError(f"--outline {shown(name)} is no file; expected a CSV file.")
    try:
        return read_outline(path)
    except OutlineError as error:
        unread = error.message.startswith("the file ")  # then it names the file itself
        where = (
            "--outline" if unread and shown(name) in error.message else f"--outline {shown(name)}"
        )
        raise click.UsageError(f"{where}: {error.message}") from None


def _check_finite(value: Any) -> None:
    if isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            _check_finite(each)
    elif isinstance(value, float) and not math.isfinite(value):
        raise click.UsageError(
            "this stem cannot be computed, its sizes are too far apart; "
            "expected diameters of a real stem."
        )


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
