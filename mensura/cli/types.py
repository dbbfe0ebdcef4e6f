"""Numbers as options take them: read as people type them, refused under the option's own name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import click

from mensura.checks import ChoiceError, MeasureError, TypedError, whole
from mensura.typed import read_number, read_whole


class NumberType(click.ParamType):  # type: ignore[type-arg]
    """A number in some unit.

    unit: for the refusal, as expectation is.
    """

    name = "number"

    def __init__(self, unit: str, expectation: str = "a finite number") -> None:
        self.unit, self.expectation = unit, expectation

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """The number that was typed.

        value: the word, or a start that is a number already; param: the option; ctx: of this run.
        Raises MeasureError under the option's name.
        """
        if not isinstance(value, str):
            return float(value)
        return parsed_number(_called(param), value, self.unit, self.expectation)


class WholeType(click.ParamType):  # type: ignore[type-arg]
    """A whole number within bounds.

    at_least, at_most: the bounds.
    """

    name = "whole number"

    def __init__(self, at_least: int, at_most: int) -> None:
        self.at_least, self.at_most = at_least, at_most

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """The whole number that was typed.

        value: the word, or a start that is a number already; param: the option; ctx: of this run.
        Raises MeasureError under the option's name.
        """
        typed = value if isinstance(value, str) else str(value)
        return parsed_whole(_called(param), typed, at_least=self.at_least, at_most=self.at_most)


def _called(param: click.Parameter | None) -> str:
    return param.opts[0] if param else "number"


def parsed_number(option: str, text: str, unit: str, expectation: str = "a finite number") -> float:
    """A number as it was typed, in any spelling that an answer may have.

    option: its name; text: what was typed, with its unit or without; unit: of the option;
    expectation: for the refusal.
    Raises MeasureError for what is no number.

    >>> parsed_number("--tilt-deg", "−2,5", "deg"), parsed_number("--tilt-deg", "2 1/2°", "deg")
    (-2.5, 2.5)
    """
    try:
        return read_number(_bare(text, unit))
    except TypedError as error:
        known = _in_unit(text, unit)
        if known is not None:
            raise ChoiceError(option, text, [known], asked=[known]) from None
        raise MeasureError(option, text, unit, error.reach or expectation) from None


def _in_unit(text: str, unit: str) -> str | None:
    """A length or the like that was typed in another unit, in the option's; None if it is none."""
    from mensura.teaching.answers.answers import read_answer
    from mensura.teaching.answers.units import UNITS, AnswerError, convert

    if unit not in UNITS:
        return None
    try:
        typed = read_answer(text)
        if typed.unit in (None, unit):
            return None
        return f"{convert(typed.value, typed.unit or '', unit):.6g} {unit}"
    except AnswerError:
        return None


def with_units(args: Sequence[str], parameters: Iterable[click.Parameter]) -> list[str]:
    """Words of a command, with a number and its unit put together where a blank parted them.

    args: the words; parameters: of the command.

    >>> girth = click.Option(["--girth-cm"], type=NumberType("cm"))
    >>> with_units(["--girth-cm", "126.3", "cm", "--json"], [girth])
    ['--girth-cm', '126.3 cm', '--json']
    """
    units = {
        name: one.type.unit
        for one in parameters
        if isinstance(one.type, NumberType)
        for name in one.opts
    }
    joined: list[str] = []
    for word in args:
        unit = units.get(joined[-2], "") if len(joined) > 1 else ""
        if unit and word.casefold() in _spelt(unit) and is_number(joined[-1]):
            joined[-1] += f" {word}"
        else:
            joined.append(word)
    return joined


#: How people write a unit behind a number, where it is not only as we write it.
_SPELT = {"deg": ("degrees", "deg", "°"), "%": ("percent", "per cent", "%"), "°C": ("°C", "C")}


def _bare(text: str, unit: str) -> str:
    """A number without the option's own unit behind it; any other stays, and will be refused."""
    folded = text.rstrip().casefold()
    for word in _spelt(unit):
        if folded.endswith(word):
            return text.rstrip()[: -len(word)]
    return text


def _spelt(unit: str) -> tuple[str, ...]:
    """A unit as people write it, in small letters."""
    return tuple(word.casefold() for word in _SPELT.get(unit, (unit,) if unit else ()))


def is_number(text: str, unit: str = "") -> bool:
    """Whether a word can be read as a number.

    text: as typed; unit: may stand behind it.

    >>> is_number("126,3 cm", "cm"), is_number("126.3 in", "cm"), is_number("wide")
    (True, False, False)
    """
    try:
        read_number(_bare(text, unit))
    except TypedError:
        return False
    return True


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
