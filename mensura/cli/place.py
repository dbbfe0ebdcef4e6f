"""The command `mensura place`: where to measure one stem, and what it costs to do otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from mensura.cli.options import Option, called, with_options
from mensura.cli.printing import print_json
from mensura.cli.refusals import Refusing
from mensura.cli.stem import two_diameters_cm
from mensura.cli.types import NumberType, is_number

#: What is told of a stem, its ground and the height that is asked for.
SETTINGS = (
    Option(
        "--diameter-cm", NumberType("cm"), None,
        "At the right place, square to the stem; if it forks below that, just below the fork.",
    ),
    Option("--lean-deg", NumberType("deg"), 0.0, "Of the stem from plumb."),
    Option("--lean-towards", click.STRING, "downhill", "downhill, across or uphill.", "WORD"),
    Option("--slope-deg", NumberType("deg"), 0.0, "Of the ground."),
    Option(
        "--side", click.STRING, None,
        "From which --height-m is told: uphill, downhill, middle, upper or under (of a lean); "
        "the rule's if not given.", "WORD",
    ),
    Option(
        "--height-m", NumberType("m"), None,
        "A height to be tried, along the stem from the ground; breast height if not given.",
    ),
    Option("--taper-cm-per-m", NumberType("cm/m"), 0.0, "Diameter lost with each m of height."),
    Option("--fork-at-m", NumberType("m"), None, "Where it forks, above the ground."),
    Option("--leg-diameters-cm", click.STRING, None, "Of both legs: 25x22.", "AxB"),
    Option("--leg-gap-cm", NumberType("cm"), 0.0, "Between the legs."),
    Option("--swelling-percent", NumberType("%"), 0.0, "By how much it is thicker at a swelling."),
    Option(
        "--swelling-at-m", NumberType("m"), None,
        "Its middle above the ground; breast height if not given.",
    ),
    Option("--swelling-reach-m", NumberType("m"), 0.25, "How far up and down it goes."),
    Option("--litter-cm", NumberType("cm"), 0.0, "Litter on the soil."),
    Option("--moss-cm", NumberType("cm"), 0.0, "Moss or loose bark all round the stem."),
    Option("--climber-cm", NumberType("cm"), 0.0, "Diameter of a climber on the stem."),
    Option("--breast-height-m", NumberType("m"), 1.3, "As the survey states it."),
)  # fmt: skip

#: Fields of the measuring layers, in the words of this command.
NAMES = {
    **{one.name: one.option for one in SETTINGS},
    "first_cm": "--lean-deg, the level cut that it makes,",
    "second_cm": "--diameter-cm, the stem at --height-m,",
}
_LEGS = ("--leg-diameters-cm, first diameter,", "--leg-diameters-cm, second diameter,")


def _diameter(words: Sequence[str], _: dict[str, Any]) -> str:
    """A number that stands alone is most often the diameter."""
    text = " ".join(words)
    return f"--diameter-cm {text}" if is_number(text, "cm") else ""


@click.command(name="place", cls=Refusing, stray=_diameter)
@with_options(SETTINGS)
@click.option("--plumb", is_flag=True, help="--height-m is told upright, not along the stem.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def place_command(as_json: bool, **values: Any) -> None:
    """Where to measure a standing stem, and what each rule costs if it is ignored.

    The girth is told by the rules, square to the stem. A level band and level calipers are told at
    --height-m on the same stem, which may be another place. A cost is the sectional area with one
    rule ignored, less that by the rules, in per cent of the latter.
    """
    if values["diameter_cm"] is None:
        raise click.UsageError("--diameter-cm is missing; expected a diameter in cm, as in 40.")
    from mensura.cli.place_report import place_lines
    from mensura.estimates.asked_stem import AskedStem
    from mensura.estimates.place import place_on

    given = dict(values)
    for name in ("side", "lean_towards"):
        if given[name] is not None:
            given[name] = given[name].strip().casefold()
    with called(NAMES):
        if given["leg_diameters_cm"] is not None:
            legs = two_diameters_cm("--leg-diameters-cm", given["leg_diameters_cm"], _LEGS)
            given["leg_diameters_cm"] = legs
        found = place_on(AskedStem(**given))
    if as_json:
        print_json(found.to_dict(), values)
    else:
        click.echo("\n".join(place_lines(found)))
