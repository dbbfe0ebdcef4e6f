"""The command `mensura cut-end`: what tape and calipers would have made of one real section."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import MeasureError
from mensura.cli.options import Option, called, with_options
from mensura.cli.printing import print_json, told_file
from mensura.cli.refusals import Refusing
from mensura.cli.stem import outline_of
from mensura.cli.types import NumberType, parsed_number

if TYPE_CHECKING:
    from mensura.stems import Outline

#: What is known of the section, and how closely the directions are tried.
SETTINGS = (
    Option(
        "--outline",
        click.STRING,
        None,
        "The section's edge: columns x_cm,y_cm or angle_deg,radius_cm.",
        "FILE.csv",
    ),
    Option(
        "--under-bark",
        click.STRING,
        None,
        "The edge of the wood under its bark, in the same layouts and the same place.",
        "FILE.csv",
    ),
    Option("--pith-cm", click.STRING, None, "Where the pith lies in the outline.", "X,Y"),
    Option("--step-deg", NumberType("deg"), 1.0, "Between the directions of the calipers."),
)

#: Fields of the measuring layers, in the words of this command.
NAMES = {
    "step_deg": "--step-deg",
    "pith_cm": "--pith-cm",
    "under_bark": "--under-bark, what of it lies outside the bark,",
}


def _outline(words: Sequence[str], _: dict[str, Any]) -> str:
    """A file that stands alone is most often the outline."""
    text = " ".join(words)
    return f"--outline {text}" if text.casefold().endswith(".csv") else ""


@click.command(name="cut-end", cls=Refusing, stray=_outline)
@with_options(SETTINGS)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def cut_end_command(as_json: bool, **values: Any) -> None:
    """On the outline of one cut: its true area, what a tape makes of it, and what calipers make.

    The outline is taken for the truth. Calipers are begun in every direction, by every practice; a
    tape has no direction. Instruments are sound and the hand is steady.
    """
    if values["outline"] is None:
        raise click.UsageError("--outline is missing; expected the name of a CSV file.")
    outline = outline_of(values["outline"])
    wood = _wood(values["under_bark"])
    pith = _place("--pith-cm", values["pith_cm"])

    from mensura.cli.cut_end_report import cut_end_lines
    from mensura.estimates.cut_end import cut_end
    from mensura.estimates.published_ovals import standings

    with called(NAMES):
        result = cut_end(outline, values["step_deg"], pith, wood)
    among = standings(result.tape_over_percent)
    if as_json:
        inputs = {
            "outline": told_file(values["outline"]),
            "under_bark": None if wood is None else told_file(values["under_bark"]),
            "pith_cm": None if pith is None else list(pith),
            "step_deg": values["step_deg"],
        }
        published = [
            {
                "source": one.published.source,
                "figure": one.published.figure,
                "value_percent": one.value_percent,
                "place": one.place,
            }
            for one in among
        ]
        print_json({**result.to_dict(), "published": published}, inputs)
    else:
        click.echo("\n".join(cut_end_lines(result, among)))


def _wood(name: str | None) -> Outline | None:
    return None if name is None else outline_of(name, "--under-bark")


def _place(option: str, text: str | None) -> tuple[float, float] | None:
    """Two numbers with a comma between them, or a semicolon where the comma is a decimal mark."""
    if text is None:
        return None
    parts = text.split(";" if ";" in text else ",")
    if len(parts) != 2:
        raise MeasureError(option, text, "", "two numbers in cm like 21.5,18")
    wanted = "two numbers in cm like 21.5,18"
    first, second = (parsed_number(option, part.strip(), "cm", wanted) for part in parts)
    return first, second
