"""The instruments' settings as options of a command: one table says name, unit, start and help.

An option is named as the field that it sets, so that a refusal can name the option. Words are read
as numbers here and nowhere else; what a number may be is for the instruments to say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import MeasureError, TypedError, whole
from mensura.typed import read_number, read_whole

if TYPE_CHECKING:
    from mensura.instruments import Calipers, Lay, Tape


@dataclass(frozen=True)
class Setting:
    """One option.

    field: the field that it sets; unit: of its number, "whole" for a count from 1 to 50, "word"
    for a name; start: what it is if it is not given, None for nothing at all; words: its help.
    """

    field: str
    unit: str
    start: str | None
    words: str

    @property
    def option(self) -> str:
        """As it is typed: --tilt-deg for tilt_deg."""
        return "--" + self.field.replace("_", "-")

    def value(self, text: str | None) -> Any:
        """What was typed, as a number, a count or a name.

        text: the word, None if it was not given.
        """
        if text is None or self.unit == "word":
            return text
        if self.unit == "whole":
            return parsed_whole(self.option, text, at_least=1, at_most=50)
        return parsed_number(self.option, text, self.unit)


#: How the tape lies: the fields of Lay.
LAY = (
    Setting("tilt_deg", "deg", "0", "How far the tape is tilted."),
    Setting("tilt_direction_deg", "deg", "0", "Where it rises steepest, from the first axis."),
    Setting("wander_cm", "cm", "0", "How far it goes up and down, from crest to trough."),
    Setting("wander_waves", "whole", "2", "In how many waves, 1 to 50; 2 if not given."),
    Setting("overlap_offset_cm", "cm", "0", "How far its two ends miss each other."),
    Setting("slack_cm", "cm", "0", "Band that hangs loose."),
    Setting("twist_lift_cm", "cm", "0", "Stand-off of the band where it is twisted."),
    Setting("knot_cm", "cm", "0", "Height of a knot under the band."),
    Setting("climber_cm", "cm", "0", "Diameter of a climber caught under the band."),
    Setting("climber_direction_deg", "deg", "0", "Where it stands, from the first axis."),
    Setting("press_cm", "cm", "0", "How deep the band is pressed into soft bark."),
    Setting("height_off_m", "m", "0", "How far above breast height; below 0 is lower."),
    Setting("taper_cm_per_m", "cm/m", None, "By how much the diameter falls with each metre."),
)

#: The band's condition: fields of Tape.
BAND = (
    Setting("stretch_percent", "%", "0", "By how much its marks have moved apart."),
    Setting("worn_start_cm", "cm", "0", "How much of its start is worn off."),
    Setting("thickness_cm", "cm", "0", "Thickness of the band."),
    Setting("temperature_c", "°C", None, "Temperature of the band."),
    Setting("reference_c", "°C", "20", "Temperature at which its length holds; 20 if not given."),
    Setting("material", "word", None, "What it is made of: steel, fibreglass, ..."),
    Setting("expansion_per_c", "per °C", None, "Its expansion, if not the material's."),
    Setting("pull_n", "N", None, "How hard it is pulled, in newtons."),
    Setting("reference_pull_n", "N", "50", "Pull at which its length holds; 50 if not given."),
    Setting("stiffness_n", "N", None, "Pull that would double its length if it could."),
)

#: The calipers' faults: fields of Calipers, but for the pressing, which the tape has too.
JAWS = (
    Setting("zero_error_cm", "cm", "0", "What they read when closed."),
    Setting("jaw_lean_deg", "deg", "0", "How far play lets the sliding jaw lean outwards."),
    Setting("beam_slope_deg", "deg", "0", "How far the beam slopes."),
    Setting("jaw_press_cm", "cm", "0", "How deep each jaw is pressed into soft bark."),
    Setting("opening_cm", "cm", None, "The widest they open; as wide as needed if not given."),
)

#: How a reading is written down, whatever was read.
ROUNDING = (
    Setting("resolution_cm", "cm", "0", "Smallest step that is read; 0 for no rounding."),
    Setting("rounding", "word", "nearest", "To the nearest step, or down."),
)

_GROUPS = {
    "How the tape lies": LAY,
    "The band's condition": BAND,
    "The calipers' faults": JAWS,
    "Readings are rounded": ROUNDING,
}

#: Every field that has an option, and the option.
OPTIONS = {one.field: one.option for group in _GROUPS.values() for one in group}


class Grouped(click.Command):
    """A command whose help shows its options by what they describe."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Writes the options, those of each group under its heading.

        ctx: of this run; formatter: of the help.
        """
        home = {one.field: title for title, group in _GROUPS.items() for one in group}
        rows: dict[str, list[tuple[str, str]]] = {"Options": []}
        for parameter in self.get_params(ctx):
            record = parameter.get_help_record(ctx)
            if record is not None:
                rows.setdefault(home.get(parameter.name or "", "Options"), []).append(record)
        for title, records in rows.items():
            with formatter.section(title):
                formatter.write_dl(records)


def with_settings(*settings: Setting) -> Callable[[Any], Any]:
    """Decorator that gives a command these options, in this order; each arrives as it was typed.

    settings: those of the groups above.
    """

    def give(command: Any) -> Any:
        for one in reversed(settings):
            mark = "WORD" if one.unit == "word" else "N"
            option = click.option(one.option, one.field, metavar=mark, help=one.words)
            command = option(command)
        return command

    return give


def lay_of(words: Mapping[str, str | None]) -> Lay:
    """How the tape lies, from what was typed.

    words: by field. Raises MeasureError under the option's name.
    """
    from mensura.instruments import Lay

    values = _values(words, LAY)
    if values["taper_cm_per_m"] is None:
        if values["height_off_m"]:
            raise MeasureError("--taper-cm-per-m", None, "", "a taper beside --height-off-m")
        del values["taper_cm_per_m"]
    with called(OPTIONS):
        return Lay(**values)


def tape_of(words: Mapping[str, str | None]) -> Tape:
    """The tape in its condition, from what was typed.

    words: by field. Raises MeasureError under the option's name.
    """
    from mensura.instruments import Tape

    values = _values(words, (*BAND, *ROUNDING))
    if values["temperature_c"] is not None and not (
        values["material"] or values["expansion_per_c"] is not None
    ):
        raise MeasureError(
            "--material",
            values["material"],
            "",
            "a material, or --expansion-per-c, beside --temperature-c",
        )
    with called(OPTIONS):
        return Tape(**values)


def calipers_of(words: Mapping[str, str | None]) -> Calipers:
    """The calipers with their faults, from what was typed.

    words: by field. Raises MeasureError under the option's name.
    """
    from mensura.instruments import Calipers

    values = _values(words, (*JAWS, *ROUNDING))
    values["press_cm"] = values.pop("jaw_press_cm")
    with called({**OPTIONS, "press_cm": "--jaw-press-cm"}):
        return Calipers(**values)


@contextmanager
def called(names: Mapping[str, str]) -> Iterator[None]:
    """Refusals inside are raised again under the names that the user knows.

    names: from a field to what it is called.
    """
    try:
        yield
    except MeasureError as error:
        name = names.get(error.field, error.field)
        raise click.UsageError(error.sentence(name)) from None


def parsed_number(option: str, text: str, unit: str, expectation: str = "a finite number") -> float:
    """A number as it was typed, in any spelling that an answer may have.

    option: its name; text: what was typed; unit: for the refusal, as expectation is.
    Raises MeasureError for what is no number.

    >>> parsed_number("--tilt-deg", "−2,5", "deg"), parsed_number("--tilt-deg", "2 1/2", "deg")
    (-2.5, 2.5)
    """
    try:
        return read_number(text)
    except TypedError as error:
        raise MeasureError(option, text, unit, error.reach or expectation) from None


def parsed_whole(option: str, text: str, *, at_least: int, at_most: int) -> int:
    """A whole number as it was typed.

    option: its name; text: what was typed; at_least, at_most: its bounds.
    Raises MeasureError for anything else.

    >>> parsed_whole("--ridges", "28", at_least=0, at_most=2000)
    28
    """
    return whole(_integer(text), option, at_least=at_least, at_most=at_most)


def _integer(text: str) -> int | str:
    """The whole number that was typed, or the word itself, which will be refused."""
    try:
        return read_whole(text)
    except TypedError:
        return text


def _values(words: Mapping[str, str | None], settings: Sequence[Setting]) -> dict[str, Any]:
    """Each field's value, its start where nothing was typed."""
    typed = {one: words.get(one.field) for one in settings}
    return {
        one.field: one.value(one.start if text is None else text) for one, text in typed.items()
    }
