"""The stem of a command, as options: two diameters or an outline's file, and rough bark.

A new option of the stem is a row of STEM and its use in `stem_of`; help, refusals and what JSON
tells of the inputs follow from the row.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import MeasureError, OutlineError, shown
from mensura.cli.options import Option, called, names_of
from mensura.cli.printing import told_file
from mensura.cli.types import NumberType, WholeType, is_number, parsed_number
from mensura.instruments.fault import BAND, LAY, READING

if TYPE_CHECKING:
    from mensura.stems import Outline, Section


#: What names a stem, and its bark.
STEM = (
    Option("--axes", click.STRING, None, "An elliptical stem's two diameters in cm: 60x48.", "AxB"),
    Option(
        "--outline",
        click.STRING,
        None,
        "A stem's outline: columns x_cm,y_cm or angle_deg,radius_cm.",
        "FILE.csv",
    ),
    Option("--ridges", WholeType(0, 2000), 0, "Ridges of rough bark, 3 to 2000."),
    Option("--furrow-depth-cm", NumberType("cm"), 0.0, "Depth of the furrows between them."),
    Option("--seed", WholeType(0, 10**12), 1, "Another seed, other bark."),
)

#: Fields of the measuring layers, in the words of a command with a stem.
CALLED = {
    **names_of(LAY, BAND, READING),
    **{one.name: one.option for one in STEM},
    "first_cm": "--axes, first diameter,",
    "second_cm": "--axes, second diameter,",
    "girth_cm": "the tape's reading on this stem, laid like this,",
    "reading_cm": "the tape's reading on this stem with these faults",
    "readings_cm": "a reading of calipers with these faults",
    "true_cm2": "the area of this stem",
    "estimate_cm2": "an area concluded for this stem",
}


@dataclass(frozen=True)
class NamedStem:
    """A stem as a command was given it.

    section: what is measured; told: it in words; inputs: what it was made from, as JSON tells it.
    """

    section: Section
    told: str
    inputs: Mapping[str, Any]


def check_one_is_named(values: Mapping[str, Any]) -> None:
    """Refuses a stem that is not named, or named twice.

    values: of the options, by name. Raises UsageError.
    """
    given = [one for one in ("axes", "outline") if values.get(one) is not None]
    if len(given) != 1:
        got = "both" if given else "neither"
        raise click.UsageError(f"--axes and --outline: {got} given; expected exactly one of them.")


def stem_of(values: Mapping[str, Any]) -> NamedStem:
    """The stem that was named.

    values: of the options, by name. Raises UsageError or MeasureError under the option's name.
    """
    check_one_is_named(values)
    depth, seed, count = values["furrow_depth_cm"], values["seed"], values["ridges"]
    _check_bark(count, depth)
    from mensura.stems import Ellipse, with_bark

    base: Ellipse | Outline
    with called(CALLED):
        if values["axes"] is not None:
            names = CALLED["first_cm"], CALLED["second_cm"]
            first, second = two_diameters_cm("--axes", values["axes"], names)
            base, told = Ellipse(first, second), f"ellipse, {first:g} cm by {second:g} cm"
            inputs: dict[str, Any] = {"axes_cm": [first, second]}
        else:
            name = values["outline"]
            base, told = outline_of(name), f"outline {shown(name)}"
            inputs = {"outline": told_file(name)}
        if count:
            told += f", with {count} ridges, furrows up to {depth:g} cm deep (seed {seed})"
        inputs |= {"ridges": count, "furrow_depth_cm": depth, "seed": seed}
        return NamedStem(with_bark(base, count, depth, seed), told, inputs)


def _check_bark(count: int, depth: float) -> None:
    """Ridges and the depth between them come together, or not at all."""
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


def likely_axes(text: str) -> str:
    """Two diameters as they are meant, "" if no two numbers are seen.

    text: as typed, with anything between them.

    >>> likely_axes("60,48"), likely_axes("60 by 48.5 cm"), likely_axes("60")
    ('60x48', '60x48.5', '')
    """
    parts = re.split(r"[xX×*;/]|\s+|\bby\b", text.strip().removesuffix("cm"))
    parts = [part for part in parts if part.strip()]
    if len(parts) == 1:
        parts = parts[0].split(",")
    good = len(parts) == 2 and all(is_number(part, "cm") for part in parts)
    return "x".join(part.strip() for part in parts) if good else ""


def two_diameters_cm(option: str, text: str, names: tuple[str, str]) -> tuple[float, float]:
    """Two diameters in cm as an option takes them, like 60x48.

    option: its name; text: as typed; names: of the first and the second, in a refusal.
    Raises UsageError or MeasureError under the option's name.

    >>> two_diameters_cm("--axes", "60x48", ("--axes, first,", "--axes, second,"))
    (60.0, 48.0)
    """
    parts = re.split("[xX×]", text)
    if len(parts) != 2:
        meant = likely_axes(text)
        if meant and "," in text:
            raise click.UsageError(
                f"{option} is {shown(text)}, where a comma is a decimal mark; did you mean {meant}?"
            )
        if meant:
            raise click.UsageError(f"{option} is {shown(text)}; did you mean {meant}?")
        raise MeasureError(option, text, "", "two diameters in cm like 60x48")
    wanted = "a finite number above 0 and at most 2000"
    first, second = (
        parsed_number(name, part.strip(), "cm", wanted)
        for name, part in zip(names, parts, strict=True)
    )
    return first, second


def outline_of(name: str, option: str = "--outline") -> Outline:
    """The outline of a file that an option named.

    name: of the file; option: that named it. Raises UsageError under the option's name.
    """
    from mensura.stems import read_outline

    if not name.strip():
        raise click.UsageError(f"{option} is empty; expected the name of a CSV file.")
    path = Path(name)
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise click.UsageError(f"{option} is {shown(name)}, no file; expected a CSV file.")
    try:
        return read_outline(path)
    except OutlineError as error:
        # what could not be read at all names its file itself
        where = option if error.file else f"{option} {shown(name)}"
        raise click.UsageError(f"{where}: {error.message}") from None
