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
from mensura.cli.options import OPTIONS, Setting, called, parsed_number, parsed_whole

if TYPE_CHECKING:
    from mensura.stems import Outline, Section


@dataclass(frozen=True)
class StemSetting(Setting):
    """One option of the stem; unit "count" is a whole number from 0.

    mark: stands for its value in the help; most: the largest count.
    """

    mark: str = "N"
    most: int = 0

    def value(self, text: str | None) -> Any:
        """What was typed, as a number, a count or a word.

        text: the word, None if it was not given.
        """
        if text is None or self.unit != "count":
            return super().value(text)
        return parsed_whole(self.option, text, at_least=0, at_most=self.most)


#: What names a stem, and its bark.
STEM = (
    StemSetting(
        "axes", "word", None, "An elliptical stem's two diameters in cm: 60x48.", mark="AxB"
    ),
    StemSetting(
        "outline",
        "word",
        None,
        "A stem's outline: columns x_cm,y_cm or angle_deg,radius_cm.",
        mark="FILE.csv",
    ),
    StemSetting("ridges", "count", "0", "Ridges of rough bark, 3 to 2000.", most=2000),
    StemSetting("furrow_depth_cm", "cm", "0", "Depth of the furrows between them."),
    StemSetting("seed", "count", "1", "Another seed, other bark.", most=10**12),
)

#: Fields of the measuring layers, in the words of a command with a stem.
CALLED = {
    **OPTIONS,
    **{one.field: one.option for one in STEM},
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

    section: what is measured; told: it in words.
    """

    section: Section
    told: str


def with_stem(command: Any) -> Any:
    """Gives a command the options of the stem; each arrives as it was typed.

    command: to be decorated.
    """
    for one in reversed(STEM):
        command = click.option(one.option, one.field, metavar=one.mark, help=one.words)(command)
    return command


def check_one_is_named(words: Mapping[str, str | None]) -> None:
    """Refuses a stem that is not named, or named twice.

    words: by field. Raises UsageError.
    """
    given = [one for one in ("axes", "outline") if words.get(one) is not None]
    if len(given) != 1:
        got = "both" if given else "neither"
        raise click.UsageError(f"--axes and --outline: {got} given; expected exactly one of them.")


def stem_of(words: Mapping[str, str | None]) -> NamedStem:
    """The stem that was named.

    words: by field. Raises UsageError or MeasureError under the option's name.
    """
    check_one_is_named(words)
    rows = {one.field: one for one in STEM}
    depth, seed, count = (
        rows[field].value(rows[field].start if words.get(field) is None else words[field])
        for field in ("furrow_depth_cm", "seed", "ridges")
    )
    _check_bark(count, depth)
    from mensura.stems import Ellipse, with_bark

    base: Ellipse | Outline
    with called(CALLED):
        if words.get("axes") is not None:
            first, second = _axes(str(words["axes"]))
            base, told = Ellipse(first, second), f"ellipse, {first:g} cm by {second:g} cm"
        else:
            name = str(words["outline"])
            base, told = _outline(name), f"outline {shown(name)}"
        if count:
            told += f", with {count} ridges, furrows up to {depth:g} cm deep (seed {seed})"
        return NamedStem(with_bark(base, count, depth, seed), told)


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


def _axes(text: str) -> tuple[float, float]:
    parts = re.split("[xX×]", text)
    if len(parts) != 2:
        raise MeasureError("--axes", text, "", "two diameters in cm like 60x48")
    wanted = "a finite number above 0 and at most 2000"
    first, second = (
        parsed_number(CALLED[field], part.strip(), "cm", wanted)
        for field, part in zip(("first_cm", "second_cm"), parts, strict=True)
    )
    return first, second


def _outline(name: str) -> Outline:
    from mensura.stems import read_outline

    if not name.strip():
        raise click.UsageError("--outline is nothing; expected the name of a CSV file.")
    path = Path(name)
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise click.UsageError(f"--outline {shown(name)} is no file; expected a CSV file.")
    try:
        return read_outline(path)
    except OutlineError as error:
        # what could not be read at all names its file itself
        where = "--outline" if error.file else f"--outline {shown(name)}"
        raise click.UsageError(f"{where}: {error.message}") from None
