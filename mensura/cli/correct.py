"""The command `mensura correct`: from a tape's reading back to the girth, by a card or without."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from mensura.cli.cards import card_inputs, card_of, with_card
from mensura.cli.options import Grouped, Option, called, names_of, options_of, tape_of, with_options
from mensura.cli.printing import print_json
from mensura.cli.types import NumberType, is_number
from mensura.instruments.fault import BAND, READING

if TYPE_CHECKING:
    from mensura.instruments import Card

#: What was read, and all that is said of the band.
SETTINGS = (
    Option("--reading-cm", NumberType("cm"), None, "The girth as the band told it."),
    *options_of(BAND, READING),
)


def _reading(words: Sequence[str], _: dict[str, Any]) -> str:
    """A number that stands alone is most often the reading."""
    text = " ".join(words)
    return f"--reading-cm {text}" if is_number(text, "cm") else ""


@click.command(name="correct", cls=Grouped, stray=_reading)
@with_options(SETTINGS)
@with_card
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def correct_command(as_json: bool, **values: Any) -> None:
    """Correct a tape's reading for the band's condition.

    Stretch, shrinking, worn start, thickness, temperature and pull are undone, each taken as the
    same all along the band. How the band lay cannot be known from the reading; what that may have
    done is told, but not undone. A card stands for stretch and worn start, and brings its own
    uncertainty.
    """
    reading = values["reading_cm"]
    if reading is None:
        raise click.UsageError("--reading-cm is missing; expected a girth in cm, as it was read.")
    card = card_of(values)
    if card is not None:
        _by_card(reading, card, as_json, values)
        return
    tape = tape_of(values)

    from mensura.cli.report import correction_lines
    from mensura.instruments import correct_girth

    with called({**names_of(BAND, READING), "reading_cm": "--reading-cm"}):
        corrected = correct_girth(reading, tape)
    if as_json:
        parts = corrected.breakdown.items()
        numbers = {**vars(corrected), "breakdown": [{"fault": f, "adds_cm": a} for f, a in parts]}
        print_json(numbers, _inputs(values))
    else:
        click.echo("\n".join(correction_lines(reading, corrected, tape)))


def _inputs(values: dict[str, Any]) -> dict[str, Any]:
    """Every option in effect; a card by its name and content."""
    inputs = {one.name: values[one.name] for one in SETTINGS}
    return inputs | card_inputs(values)


def _by_card(reading: float, card: Card, as_json: bool, values: dict[str, Any]) -> None:
    from mensura.cli.card_report import card_correction_lines
    from mensura.estimates.card_rows import card_slips
    from mensura.instruments import correct_by_card

    ctx = click.get_current_context()
    for field, holds, unit in (
        ("reference_c", card.temperature_c, "°C"),
        ("reference_pull_n", card.pull_n, "N"),
    ):
        if holds is None:
            continue
        typed = ctx.get_parameter_source(field) is not click.core.ParameterSource.DEFAULT
        if typed and values[field] != holds:
            name = "--" + field.replace("_", "-")
            raise click.UsageError(
                f"{name} is {values[field]:g} {unit}; expected {holds:g} {unit}, at which the card "
                "holds."
            )
        values[field] = holds
    tape = tape_of(values)
    with called({**names_of(BAND, READING), "reading_cm": "--reading-cm", "card": "--card"}):
        found = correct_by_card(reading, card, tape)
    if as_json:
        parts = found.breakdown.items()
        numbers = {**vars(found), "breakdown": [{"fault": f, "adds_cm": a} for f, a in parts]}
        told = {"temperature_c": card.temperature_c, "pull_n": card.pull_n}
        whose = {"instrument": card.instrument, **told}
        print_json({**numbers, "card": whose, "warnings": card_slips(card)}, _inputs(values))
    else:
        click.echo("\n".join(card_correction_lines(reading, found, card)))
