"""The command `mensura correct`: from a tape's reading back to the girth."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from mensura.cli.options import Grouped, Option, called, names_of, options_of, tape_of, with_options
from mensura.cli.printing import print_json
from mensura.cli.types import NumberType, is_number
from mensura.instruments.fault import BAND, READING

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
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def correct_command(as_json: bool, **values: Any) -> None:
    """Correct a tape's reading for the band's condition.

    Stretch, shrinking, worn start, thickness, temperature and pull are undone, each taken as the
    same all along the band. How the band lay cannot be known from the reading; what that may have
    done is told, but not undone.
    """
    reading = values["reading_cm"]
    if reading is None:
        raise click.UsageError("--reading-cm is missing; expected a girth in cm, as it was read.")
    tape = tape_of(values)

    from mensura.cli.report import correction_lines
    from mensura.instruments import correct_girth

    with called({**names_of(BAND, READING), "reading_cm": "--reading-cm"}):
        corrected = correct_girth(reading, tape)
    if as_json:
        parts = corrected.breakdown.items()
        numbers = {**vars(corrected), "breakdown": [{"fault": f, "adds_cm": a} for f, a in parts]}
        print_json(numbers, {one.name: values[one.name] for one in SETTINGS})
    else:
        click.echo("\n".join(correction_lines(reading, corrected, tape)))
