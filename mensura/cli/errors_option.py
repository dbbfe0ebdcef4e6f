"""The options by which a command is told how unsure each input is, and from where that is known.

--errors names a file; --errors-new writes one, to be changed and given again; --card and
--practical put what was found out in the place of what was only supposed, in the file that is
written as in the one that is read.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.printing import told_file
from mensura.cli.types import WholeType

if TYPE_CHECKING:
    from mensura.estimates.input_errors import InputError
    from mensura.estimates.remedies import Remedy

#: Where --errors-new writes if --errors names no file.
NEW_NAME = "errors.toml"

#: What stands beside figures whose errors nobody told.
SUPPOSED = (
    "How unsure each input is was not told: sizes of our own are taken. --errors-new writes them "
    "to a file, to be changed and given to --errors."
)


@dataclass(frozen=True)
class Told:
    """What a command was told of errors.

    errors: of the inputs; supposed: whether nobody told any; remedies: what could be done better,
    as the file of errors has it; saved: the file that was written, or None; inputs: for the JSON
    that a command prints.
    """

    errors: tuple[InputError, ...]
    supposed: bool
    remedies: tuple[Remedy, ...] = ()
    saved: Path | None = None
    inputs: dict[str, Any] = field(default_factory=dict)


def with_errors(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options --errors, --errors-new, --card, --practical, --hands; for :func:`errors_told`.

    command: that takes them, as errors, errors_new, card, practical and hands.
    """
    for option in (
        click.option(
            "--hands", type=WholeType(1, 1000), default=1, show_default=True, metavar="N",
            help="How many hands shared the trees evenly, beside --practical.",
        ),
        click.option(
            "--practical", metavar="FILE.json",
            help="The hands' errors from what `mensura practical --json` printed.",
        ),
        click.option(
            "--card", metavar="FILE.json", multiple=True,
            help="The instrument's error from its card; once for each that was used.",
        ),
        click.option(
            "--errors-new", is_flag=True,
            help=f"Write a new file of errors: --errors FILE.toml, else {NEW_NAME}.",
        ),
        click.option(
            "--errors", metavar="FILE.toml", help="How unsure each input is; else sizes of our own."
        ),
    ):  # fmt: skip
        command = option(command)
    return command


def errors_told(
    errors: str | None,
    errors_new: bool,
    card: tuple[str, ...],
    practical: str | None,
    kind: str,
    diameter_cm: float,
    hands: int = 1,
) -> Told:
    """The errors that the options tell, a new file written where that was asked for.

    errors, errors_new, card, practical: as the command takes them; kind: "girth" or "diameter", as
    the trees were measured; diameter_cm: of a stem as thick as those that count most, above 0;
    hands: that shared the trees. Raises MeasureError, in one sentence with file, line and key, and
    UsageError.
    """
    from mensura.disk.errors_file import read_errors, write_errors
    from mensura.disk.errors_filled import errors_of_cards, errors_of_practical, filled_errors
    from mensura.disk.remedies_file import read_remedies, written_remedies
    from mensura.estimates.input_errors import DEFAULTS
    from mensura.estimates.remedies import REMEDIES

    for name, given in (("--errors", errors), ("--practical", practical), *_named(card)):
        if given is not None and not given.strip():
            raise click.UsageError(f"{name} is empty; expected the name of a file.")
    base, remedies = DEFAULTS, REMEDIES
    if errors is not None and not errors_new:
        base, remedies = read_errors(errors), read_remedies(errors)
    found = [errors_of_cards(card, diameter_cm)]
    if practical is not None:
        found.append(errors_of_practical(practical, kind, hands=hands))
    used = filled_errors(base, *found)
    saved = None
    if errors_new:
        saved = write_errors(errors or NEW_NAME, used, below=written_remedies())
    return Told(
        used,
        supposed=errors is None and not card and practical is None,
        remedies=remedies,
        saved=saved,
        inputs={
            "errors": None if errors is None or errors_new else told_file(errors),
            "errors_new": errors_new,
            "card": [told_file(one) for one in card],
            "practical": None if practical is None else told_file(practical),
            "hands": hands,
        },
    )


def _named(card: tuple[str, ...]) -> list[tuple[str, str]]:
    return [("--card", one) for one in card]
