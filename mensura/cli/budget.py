"""The command `mensura budget`: how sure a girth is, and the diameter and the area from it."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from math import inf, isfinite
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import MeasureError
from mensura.cli.cards import card_inputs, card_of, with_card
from mensura.cli.options import Option, called, with_options
from mensura.cli.printing import print_json
from mensura.cli.refusals import Refusing
from mensura.cli.types import NumberType, WholeType, is_number

if TYPE_CHECKING:
    from mensura.estimates.budget import FigureBudget

#: What was read, and what is unsure in it.
SETTINGS = (
    Option("--girth-cm", NumberType("cm"), None, "The girth as it was read."),
    Option("--resolution-cm", NumberType("cm"), 0.0, "Step in which it was read."),
    Option("--tilt-up-to-deg", NumberType("deg"), 0.0, "The tape lay level or tilted up to this."),
    Option(
        "--hand-sd-cm", NumberType("cm"), 0.0, "Spread of one reading by the hand, before rounding."
    ),
    Option("--hand-readings", WholeType(2, 1000), None, "From how many readings that is known."),
    Option("--readings", WholeType(1, 1000), 1, "How many readings were averaged."),
)
BAND = (
    Option("--material", click.STRING, None, "Of the band, for its expansion.", "WORD"),
    Option("--expansion-per-c", NumberType("per °C"), None, "Of the band, in place of a material."),
    Option("--thickness-cm", NumberType("cm"), 0.0, "Of the band."),
    Option("--thickness-u-cm", NumberType("cm"), 0.0, "Standard uncertainty of that."),
    Option("--bark-cm", NumberType("cm"), 0.0, "Bark to be taken off, for figures under bark."),
    Option("--bark-u-cm", NumberType("cm"), 0.0, "Standard uncertainty of that."),
)
DRAWS = (
    Option("--draws", WholeType(1000, 50_000_000), 1_000_000, "How many draws."),
    Option("--seed", WholeType(0, 2**31 - 1), 1, "Of the draws: the same seed, the same figures."),
)

#: Progress is told after so many seconds, and again after as many.
PATIENCE_S = 2.0


def _girth(words: Sequence[str], _: dict[str, Any]) -> str:
    """A number that stands alone is most often the girth."""
    text = " ".join(words)
    return f"--girth-cm {text}" if is_number(text, "cm") else ""


@click.command(name="budget", cls=Refusing, stray=_girth)
@with_options(SETTINGS)
@with_card
@click.option(
    "--temperature-range-c",
    nargs=2,
    type=NumberType("°C"),
    metavar="LOW HIGH",
    help="Between which temperatures the band lay.",
)
@with_options(BAND)
@click.option(
    "--correlation",
    "correlations",
    nargs=3,
    multiple=True,
    type=(click.STRING, click.STRING, NumberType("")),
    metavar="INPUT INPUT N",
    help="Of two inputs that know of each other, like hand temperature 0.5.",
)
@with_options(DRAWS)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def budget_command(
    temperature_range_c: tuple[float, float] | None,
    correlations: Sequence[tuple[str, str, float]],
    as_json: bool,
    **values: Any,
) -> None:
    """How sure a girth by a tape is, and the diameter and the area that follow from it.

    Every input is listed with what it is taken for and what it brings. Two ways put them together:
    the law of propagation of uncertainty, and draws; the command says whether they agree.
    """
    if values["girth_cm"] is None:
        raise click.UsageError("--girth-cm is missing; expected a girth in cm, as it was read.")
    if temperature_range_c is not None and not (
        values["material"] or values["expansion_per_c"] is not None
    ):
        wanted = "a material, or --expansion-per-c, beside --temperature-range-c"
        raise MeasureError("--material", values["material"], "", wanted)
    card = card_of(values)

    from mensura.cli.budget_table import budget_lines
    from mensura.cli.card_report import warning_lines
    from mensura.estimates.budget import girth_budget
    from mensura.estimates.card_rows import card_slips

    unsure = {one.name: values[one.name] for one in (*SETTINGS, *BAND, *DRAWS)}
    known_from = unsure.pop("hand_readings")
    names = {one.name: one.option for one in (*SETTINGS, *BAND, *DRAWS)}
    names |= {"card": "--card" if values["card"] else "--cards", "correlation": "--correlation"}
    names |= {"temperature_range_c": "--temperature-range-c"}
    joined = {(one, other): value for one, other, value in correlations}
    with called(names):
        figures = girth_budget(
            **unsure,
            hand_degrees_of_freedom=known_from - 1 if known_from else inf,
            card=card,
            temperature_range_c=temperature_range_c,
            correlations=joined,
            told=_progress(values["draws"]),
        )
    if as_json:
        inputs = {one.name: values[one.name] for one in (*SETTINGS, *BAND, *DRAWS)}
        inputs |= card_inputs(values)
        inputs |= {"temperature_range_c": list(temperature_range_c or ()) or None}
        inputs |= {"correlations": [list(one) for one in correlations]}
        answer: dict[str, Any] = {name: _told(one) for name, one in figures.items()}
        if card is not None:
            answer["drawn_on"] = bool(card.drawn_on(values["girth_cm"]))
            answer["warnings"] = card_slips(card)
        print_json(answer, inputs)
    else:
        slips = warning_lines(card_slips(card)) if card is not None else []
        lines = budget_lines(values["girth_cm"], figures, card, joined, values["readings"])
        click.echo("\n".join([*slips, *lines]))


def _told(one: FigureBudget) -> dict[str, Any]:
    """One figure as JSON has it; what is no number is null."""
    law, drawn = one.gum, one.drawn
    return {
        "value": drawn.value,
        "u": _finite(drawn.u),
        "interval": list(drawn.interval),
        "as_read": one.as_read,
        "shift": one.shift,
        "gum": {
            "value": law.value,
            "u": law.u,
            "degrees_of_freedom": _finite(law.degrees_of_freedom),
            "k": law.k,
            "expanded": law.expanded,
        },
        "agree": one.agree,
        "tolerance": one.tolerance,
        "inputs": [
            {
                "name": line.input.name,
                "distribution": line.input.distribution,
                "estimate": line.input.estimate,
                "u": line.input.standard_uncertainty,
                "unit": line.input.unit,
                "degrees_of_freedom": _finite(line.input.degrees_of_freedom),
                "sensitivity": line.sensitivity,
                "contribution": line.contribution,
                "shift": line.shift,
            }
            for line in one.lines
        ],
    }


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None


def _progress(draws: int) -> Callable[[int], None]:
    """Says on stderr how far the draws have come, if they take long."""
    last = time.monotonic()
    said = False

    def told(done: int) -> None:
        nonlocal last, said
        now = time.monotonic()
        if now - last < PATIENCE_S and not (said and done == draws):
            return
        last, said = now, True
        click.echo(f"{done / 1e6:.1f} of {draws / 1e6:.1f} million draws", file=sys.stderr)

    return told
