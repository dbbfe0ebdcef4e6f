"""The command `mensura correct`: from a tape's reading back to the girth."""

from __future__ import annotations

import json

import click

from mensura.cli.options import (
    BAND,
    OPTIONS,
    ROUNDING,
    Grouped,
    called,
    parsed_number,
    tape_of,
    with_settings,
)


@click.command(name="correct", cls=Grouped)
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
