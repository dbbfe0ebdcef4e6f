"""A card as commands take it: its file, or a folder of cards and whose card is meant."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.options import called
from mensura.cli.printing import told_file

if TYPE_CHECKING:
    from mensura.instruments import Card


def with_card(command: Callable[..., Any]) -> Any:
    """Decorator that gives a command --card, --cards and --instrument.

    command: what takes them, under the names card, cards and instrument.
    """
    for option in (
        click.option("--instrument", metavar="CODE", help="Whose card is meant, like T3."),
        click.option("--cards", metavar="DIR", help="A folder of cards, with --instrument."),
        click.option(
            "--card", metavar="FILE", help="The tape's card, as `mensura tape-card` saved it."
        ),
    ):
        command = option(command)
    return command


def card_of(values: Mapping[str, Any]) -> Card | None:
    """The card that was named, of the instrument that was used; None if none was.

    values: of the options, by name. Raises UsageError or MeasureError under the option's name.
    """
    from mensura.disk.card_file import card_in, code_of, read_card

    file, folder, code = values["card"], values["cards"], values["instrument"]
    if file is not None and folder is not None:
        raise click.UsageError("--card and --cards were both given; expected one of them.")
    if file is None and folder is None:
        if code is not None:
            raise click.UsageError("--card is missing; expected it, or --cards, by --instrument.")
        return None
    with called({"instrument": "--instrument", "folder": "--cards"}):
        whose = code_of(code) if code is not None else ""
        if file is not None:
            return read_card(file, whose)
        if not whose:
            raise click.UsageError("--instrument is missing; expected a code like T3 by --cards.")
        return card_in(folder, whose)


def card_inputs(values: Mapping[str, Any]) -> dict[str, Any]:
    """What was said of the card, for JSON: a file by its name and content.

    values: of the options, by name.
    """
    named = {name: values[name] for name in ("card", "cards", "instrument")}
    return named | ({"card": told_file(values["card"])} if values["card"] else {})
