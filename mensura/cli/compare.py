"""The command `mensura compare`: what tape and calipers make of one stem."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import click

from mensura.cli.options import (
    Grouped,
    Option,
    calipers_of,
    called,
    lay_of,
    names_of,
    options_of,
    tape_of,
    with_options,
)
from mensura.cli.printing import print_json
from mensura.cli.stem import CALLED, STEM, check_one_is_named, likely_axes, stem_of
from mensura.cli.types import NumberType
from mensura.instruments.fault import BAND, JAWS, LAY, READING

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


#: Where the calipers begin; the option that belongs to no instrument and to no stem.
TURN = Option(
    "--caliper-direction-deg",
    NumberType("deg"),
    0.0,
    "Direction of the first width, from the first axis.",
)

#: All that is said of instruments and hands.
SETTINGS = (TURN, *options_of(LAY, BAND, JAWS, READING))


def _stem(words: Sequence[str], values: dict[str, Any]) -> str:
    """What stands alone is most often the stem: two diameters, or the name of a file."""
    text = " ".join(words)
    both = f"{values.get('axes') or ''} {text}"
    if axes := likely_axes(both):
        return f"--axes {axes}"
    return f"--outline {text}" if text.casefold().endswith(".csv") else ""


@click.command(name="compare", cls=Grouped, stray=_stem)
@with_options((*STEM, *SETTINGS))
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def compare_command(as_json: bool, **values: Any) -> None:
    """Compare tape and calipers on one stem: readings, areas, errors.

    Name the stem by --axes or by --outline. Angles are in degrees, anticlockwise from the first
    axis. Instruments are sound and the hand is steady, but for the faults that are given.
    """
    check_one_is_named(values)
    lay, tape, calipers = lay_of(values), tape_of(values), calipers_of(values)
    turn = values[TURN.name]
    named = stem_of(values)
    stem = named.section

    import numpy as np

    from mensura.cli.report import breakdown_lines, comparison_lines
    from mensura.estimates import compare

    names = {**CALLED, TURN.name: TURN.option}
    with np.errstate(all="ignore"):  # what overflows is refused below
        with called(names):
            tape.read(stem, lay)  # if this passes, a pressing that is refused is that of the jaws
        with called({**names, **names_of(JAWS)}):
            result = compare(stem, lay, turn, tape, calipers)
    every = result.to_dict()
    numbers = {key: every[key] for key in _JSON_KEYS}
    _check_finite(numbers)
    if as_json:
        print_json(numbers, {**named.inputs, **{one.name: values[one.name] for one in SETTINGS}})
    else:
        lines = [*comparison_lines(result, lay, turn), *breakdown_lines(result)]
        click.echo("\n".join([f"Stem: {named.told}", *lines]))


def _check_finite(value: Any) -> None:
    if isinstance(value, dict | list):
        for each in value.values() if isinstance(value, dict) else value:
            _check_finite(each)
    elif isinstance(value, float) and not math.isfinite(value):
        raise click.UsageError(
            "this stem cannot be computed, its sizes are too far apart; "
            "expected diameters of a real stem."
        )
