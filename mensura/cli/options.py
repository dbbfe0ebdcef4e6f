"""The instruments' settings as options of a command, as the list of faults has them.

An option is named as the field that it sets, so that a refusal can name the option; where two
instruments have a field of one name, the row says how the option is spelt. An option starts where
the instrument itself does. What a number may be is for the instruments to say.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, TypeVar

import click

from mensura.checks import MeasureError
from mensura.cli.refusals import Refusing
from mensura.cli.types import NumberType, WholeType
from mensura.instruments import Calipers, Lay, Tape
from mensura.instruments.fault import BAND, JAWS, LAY, READING, Setting
from mensura.instruments.faults import settings_of


@dataclass(frozen=True)
class Option:
    """One option of a command.

    option: as it is typed; kind: what it takes; start: what it is if it is not given, None for
    nothing at all; words: its help; mark: stands for its value in the help.
    """

    option: str
    kind: click.ParamType  # type: ignore[type-arg]
    start: Any
    words: str
    mark: str = "N"

    @property
    def name(self) -> str:
        """What it is called in the command and in JSON: tilt_deg for --tilt-deg."""
        return self.option.removeprefix("--").replace("-", "_")


def option_of(setting: Setting, owner: type) -> Option:
    """The option of an instrument's setting.

    setting: a row's; owner: Lay, Tape or Calipers.

    >>> option_of(settings_of(LAY)[0], Lay).option
    '--height-off-m'
    """
    start = None if setting.beside else inspect.signature(owner).parameters[setting.field].default
    if setting.kind == "word":
        return Option(setting.option, click.STRING, start, setting.words, "WORD")
    if setting.kind == "count":
        least, most = (int(setting.bounds[name]) for name in ("at_least", "at_most"))
        return Option(setting.option, WholeType(least, most), start, setting.words)
    return Option(setting.option, NumberType(setting.unit), start, setting.words)


T = TypeVar("T")

_OWNERS: dict[str, type] = {LAY: Lay, BAND: Tape, JAWS: Calipers, READING: Tape}
_HEADINGS = {
    LAY: "How the tape lies",
    BAND: "The band's condition",
    JAWS: "The calipers' faults",
    READING: "Readings are rounded",
}


def options_of(*kinds: str) -> tuple[Option, ...]:
    """The options of some kinds of fault, in their order.

    kinds: LAY, BAND, JAWS, READING.

    >>> [one.name for one in options_of(JAWS)][:2]
    ['jaw_press_cm', 'jaw_lean_deg']
    """
    return tuple(option_of(one, _OWNERS[kind]) for kind in kinds for one in settings_of(kind))


def names_of(*kinds: str) -> dict[str, str]:
    """What the fields of an instrument are called in a command.

    kinds: LAY, BAND, JAWS, READING, of one instrument.

    >>> names_of(JAWS)["press_cm"]
    '--jaw-press-cm'
    """
    return {one.field: one.option for one in settings_of(*kinds)}


class Grouped(Refusing):
    """A command whose help shows its options by what they describe."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Writes the options, those of each kind of fault under their heading.

        ctx: of this run; formatter: of the help.
        """
        home = {one.name: title for kind, title in _HEADINGS.items() for one in options_of(kind)}
        rows: dict[str, list[tuple[str, str]]] = {"Options": []}
        for parameter in self.get_params(ctx):
            record = parameter.get_help_record(ctx)
            if record is not None:
                rows.setdefault(home.get(parameter.name or "", "Options"), []).append(record)
        for title, records in rows.items():
            with formatter.section(title):
                formatter.write_dl(records)


def with_options(options: Sequence[Option]) -> Callable[[Any], Any]:
    """Decorator that gives a command these options, in this order; each arrives as its value.

    options: in the order of the help.
    """

    def give(command: Any) -> Any:
        for one in reversed(options):
            option = click.option(
                one.option, one.name, type=one.kind, default=one.start, metavar=one.mark,
                help=one.words,
            )  # fmt: skip
            command = option(command)
        return command

    return give


def lay_of(values: Mapping[str, Any]) -> Lay:
    """How the tape lies.

    values: of the options, by name. Raises MeasureError or UsageError under the option's name.
    """
    return _made(Lay, values, LAY)


def tape_of(values: Mapping[str, Any]) -> Tape:
    """The tape in its condition.

    values: of the options, by name. Raises MeasureError or UsageError under the option's name.
    """
    if values["temperature_c"] is not None and not (
        values["material"] or values["expansion_per_c"] is not None
    ):
        raise MeasureError(
            "--material",
            values["material"],
            "",
            "a material, or --expansion-per-c, beside --temperature-c",
        )
    return _made(Tape, values, BAND, READING)


def calipers_of(values: Mapping[str, Any]) -> Calipers:
    """The calipers with their faults.

    values: of the options, by name. Raises UsageError under the option's name.
    """
    return _made(Calipers, values, JAWS, READING)


def _made(owner: type[T], values: Mapping[str, Any], *kinds: str) -> T:
    """An instrument from the options that were given, its refusals under their names."""
    fields: dict[str, Any] = {}
    settings = settings_of(*kinds)
    for one in settings:
        fields[one.field] = values[option_of(one, owner).name]
    for one in settings:
        if one.beside and fields[one.field] is None and fields[one.beside]:
            beside = next(other.option for other in settings if other.field == one.beside)
            what = one.field.partition("_")[0]
            raise MeasureError(one.option, None, "", f"a {what} beside {beside}")
    with called(names_of(*kinds)):
        return owner(**{name: value for name, value in fields.items() if value is not None})


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
