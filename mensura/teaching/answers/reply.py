"""The reply to an answer: right, a slip by its name, or high or low; never the answer itself.

Whatever asks for a number is answered here, a problem of the bank and an exercise of a workbook
alike: each says what it asked (`Asked`). The rules, in this order. What cannot be read, or in two
ways, gets one sentence and another try; so does anything but a whole number where the answer is a
number of a list or a count. A unit of the wrong kind is explained; another unit of the right kind
is converted. Within tolerance: right; if the answer shows far more figures than are asked for,
that is said. Rightly rounded, but so coarsely that half its last place is more than the tolerance:
too coarse, and accused of nothing. Then the causes that the number fits: a slip, cut off instead of
rounded, rounded too early on the way. Fits it two, both are told. Else high or low, and by which
power of ten or about how many times.

Nothing counts for or against where rounding alone can be it: a last figure cut off, or four figures
kept on the way where the problem needs more.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from mensura.teaching.answers.answers import UNITS, AnswerError, Typed, convert, read_answer
from mensura.teaching.answers.counted import read_counted
from mensura.written import minus, rounded

#: Figures beyond those that are asked for which pass without a word.
_SPARE_FIGURES = 2

#: Figures on the way that are asked of nobody: with as many, a right method never counts as wrong.
FIGURES_ON_THE_WAY = 4

_COUNT = "Answer with a whole number, and no unit behind it."
_WAY = "Whether it is more or less, let the sign say: write the number alone, −3 for 3 too little."
_CUT = "Nearly: the last figure looks cut off instead of rounded. Round it, or give one more."


@dataclass(frozen=True)
class Reply:
    """What is said to an answer, a choice or a guess.

    right: whether it counts; rest: plain sentences; opens: the words before them that say how it
    stands, "Right." or ""; slip: name of the slip it shows, or None; readable: False if it could
    not be read, so that nothing counts.

    >>> Reply(True, "Its girth is π times its diameter.", "Right.").message
    'Right. Its girth is π times its diameter.'
    """

    right: bool
    rest: str
    opens: str = ""
    slip: str | None = None
    readable: bool = True

    @property
    def message(self) -> str:
        """All that is said."""
        return " ".join(part for part in (self.opens, self.rest) if part)


@dataclass(frozen=True)
class KnownSlip:
    """A wrong computation that is known by its result.

    value: what it gives, in the answer's unit; says: what went wrong; name: in a word or two, ""
    if it has none; tolerance: how near counts as it, if not the answer's own tolerance.
    """

    value: float
    says: str
    name: str = ""
    tolerance: float = 0.0


@dataclass(frozen=True)
class Early:
    """Where the right method ends if the numbers on the way are rounded too early.

    figures: that are kept; values: in the answer's unit, with every number rounded to them, or only
    those that the worked solution writes down; reach: how far from the answer it can end.
    """

    figures: int
    values: tuple[float, ...]
    reach: float


@dataclass(frozen=True)
class Asked:
    """What was asked, where the answer is one number.

    answer: in `unit`, which is a name of UNITS; not 0 unless exact; tolerance: how far a right one
    may be off; slips: those that are known by their numbers; exact: a count, or a number of a list;
    asks_unit: a number without its unit is not enough; figures: how many are asked for, None if
    that is not told; because: said to a right answer; near: said to a wrong one of the tolerance;
    counts_as: other units, each with how many of `unit` it stands for here, whatever it holds
    elsewhere; early: what rounding on the way does, from the most figures to the fewest, if known.
    """

    answer: float
    unit: str
    tolerance: float
    slips: Sequence[KnownSlip] = ()
    exact: bool = False
    asks_unit: bool = False
    figures: int | None = None
    because: str = ""
    near: str = ""
    counts_as: Mapping[str, float] = field(default_factory=dict)
    early: Sequence[Early] = ()

    @property
    def width(self) -> float:
        """How far a right answer may be off, and no float's last place less."""
        return max(self.tolerance, 1e-9 * abs(self.answer))

    @property
    def figures_on_the_way(self) -> int:
        """How many figures a right method must keep to end within the tolerance; 0 if not known."""
        if not self.early:
            return 0
        enough = [one.figures for one in self.early if one.reach <= self.tolerance]
        return min(enough) if enough else max(one.figures for one in self.early) + 1


class Asks(Protocol):
    """A question that can say what it asks: a problem of the bank, an exercise of a workbook."""

    @property
    def asked(self) -> Asked:
        """What is asked."""


@dataclass(frozen=True)
class _Read:
    """A number in the asked unit, with half its last place; half_round as in Typed."""

    value: float
    half: float
    half_round: float


def reply(question: Asks, text: str) -> Reply:
    """The reply to an answer as it was typed.

    question: what was asked; text: as typed; nothing in it is evaluated.
    """
    asked = question.asked
    counted = read_counted(text) if asked.exact else None
    try:
        typed = read_answer(text if counted is None else str(counted), asked.unit)
    except AnswerError as error:
        return Reply(False, _COUNT if asked.exact else error.says, readable=False)
    if asked.exact and not (typed.unit is None and typed.value.is_integer()):
        return Reply(False, _COUNT, readable=False)
    if typed.way and typed.way * asked.answer < 0 < abs(typed.value):
        return Reply(False, _WAY, readable=False)
    missing = _missing_unit(asked, typed)
    try:
        read = _read(asked, typed, typed.value, as_asked=bool(missing))
    except AnswerError as error:
        return Reply(False, error.says)
    if missing:
        slips = _slips(asked, read.value)
        if not slips and _side_is_wrong(asked, read.value):  # in whatever unit it was meant
            return Reply(False, f"{_off(asked, read)} {missing}")
        if not slips:
            return Reply(False, missing, readable=False)
        return Reply(False, f"{_told(slips)} {missing}", slip=slips[0].name or None)
    if abs(read.value - asked.answer) <= asked.width:
        return Reply(True, _right(asked, typed, read.half), "Right.")
    if asked.exact:
        slips = _slips(asked, read.value)
        said = _told(slips) if slips else _off(asked, read)
        return Reply(False, said, slip=slips[0].name or None if slips else None)
    if typed.other is not None:
        other = _read(asked, typed, typed.other)
        if abs(other.value - asked.answer) <= asked.width:
            return Reply(False, _two_ways(typed), readable=False)
    return _wrong(asked, typed, read)


def _missing_unit(asked: Asked, typed: Typed) -> str:
    """What is said where the unit is missing, or a part of it; "" where nothing is."""
    if typed.unit is None:
        like = f"The unit is missing; write it behind the number, like {asked.unit}."
        return like if asked.asks_unit else ""
    if f"{UNITS[typed.unit].dimension} on ground" == UNITS[asked.unit].dimension:
        return f"On how large an area? Write {asked.unit} behind the number if you mean that."
    return ""


def _side_is_wrong(asked: Asked, value: float) -> bool:
    """Whether a number is on the wrong side of 0 in any unit; degrees have zeros of their own."""
    return value * asked.answer < 0 and UNITS[asked.unit].dimension != "temperature"


def _read(asked: Asked, typed: Typed, value: float, as_asked: bool = False) -> _Read:
    """A reading of what was typed, in the asked unit.

    as_asked: it is taken for a number in the asked unit, whatever unit was typed.
    """
    # read the other way, the same last place counts a thousand times as much
    times = abs(value / typed.value) if typed.value else 1.0
    half, zeros = times * typed.half_step, times * max(typed.half_step, typed.half_round)
    if typed.way < 0:
        value = -abs(value)
    if typed.unit is None or as_asked:
        return _Read(value, half, zeros)
    if typed.unit in asked.counts_as:
        each = asked.counts_as[typed.unit]
        return _Read(each * value, each * half, each * zeros)
    there = convert(value, typed.unit, asked.unit)
    # by the unit's own size: a last place far behind the point is lost in a difference of numbers
    each = abs(convert(1.0, typed.unit, asked.unit) - convert(0.0, typed.unit, asked.unit))
    return _Read(there, each * half, each * zeros)


def _slips(asked: Asked, value: float) -> list[KnownSlip]:
    """The slips that a number shows, the nearest first."""
    fit = [
        slip
        for slip in asked.slips
        if abs(value - slip.value) <= max(slip.tolerance, asked.tolerance, 1e-9 * abs(slip.value))
    ]
    return sorted(fit, key=lambda slip: abs(value - slip.value))


def _told(slips: Sequence[KnownSlip]) -> str:
    """What is said of a slip, or of two that lead to the same number."""
    if len(slips) == 1:
        return slips[0].says
    return f"Two slips lead to about this number. {slips[0].says} Or: {slips[1].says}"


def _wrong(asked: Asked, typed: Typed, read: _Read) -> Reply:
    """The reply to a number that is not right: too coarse, its causes, or high or low."""
    if _is_rounded(asked, read.value, read.half):
        return Reply(False, _coarse(asked))
    slips = _slips(asked, read.value)
    rounding = _rounding(asked, typed, read, seldom=not slips)
    free = rounding == _CUT or _four_figures_reach(asked, read)
    if slips and rounding:
        said = f"Two causes fit. {rounding} Or: {slips[0].says}"
        return Reply(False, said, readable=not free)
    # a slip may be a power of ten itself; typed in too few figures, it may look like one
    if slips and abs(slips[0].value - read.value) <= read.half_round:
        ten = asked.answer * 10.0 ** _tenfold(asked, read, read.half_round)
        if ten != asked.answer and abs(slips[0].value / ten - 1) > 0.005:
            return Reply(False, _off(asked, read))
    if slips:
        return Reply(False, _told(slips), slip=slips[0].name or None)
    if rounding:
        return Reply(False, rounding, readable=not free)
    words = [_off(asked, read)]
    if typed.other:
        words.append("(A comma or point before three figures may be read in two ways.)")
    elif typed.notes:
        words.append(f"({typed.notes[0]})")
    if asked.near:
        words.append(asked.near)
    return Reply(False, " ".join(words), readable=not free)


def _is_rounded(asked: Asked, value: float, half: float) -> bool:
    """Whether a number is the answer, rightly rounded, but too coarsely."""
    size = 10.0 ** math.floor(math.log10(abs(asked.answer)))
    coarse = bool(value) and asked.tolerance < half <= size / 2 * (1 + 1e-9)
    return coarse and abs(value - asked.answer) <= half * (1 + 1e-9)


def _rounding(asked: Asked, typed: Typed, read: _Read, seldom: bool) -> str:
    """What is said where a number is off just as rounding makes it; "" where it is not.

    seldom: whether is looked at what few people do: two figures kept on the way, or given cut off.
    """
    zeros = round(math.log10(read.half_round / read.half))
    places = [read.half * 10.0**count for count in range(zeros + 1)]
    # the zeros at its end may hold their places only
    if any(_is_rounded(asked, read.value, half) for half in places[1:]):
        return _coarse(asked)
    short = abs(asked.answer) - abs(read.value)
    if read.value * asked.answer > 0 and short > 0:
        figures = [typed.digits - at for at, half in enumerate(places) if short < 1.99999 * half]
        if any(count > 2 for count in figures):
            return _CUT
        if seldom and 2 in figures:
            return _coarse(asked)
    for one in asked.early if seldom else asked.early[:-1]:
        for value in one.values:
            off = abs(value - asked.answer) > asked.tolerance
            if off and abs(read.value - value) <= read.half:
                return _too_early(asked, f"rounded to {figures_told(one.figures)}")
    return ""


def _four_figures_reach(asked: Asked, read: _Read) -> bool:
    """Whether a right method that keeps four figures on the way can end here."""
    return any(
        abs(read.value - asked.answer) <= one.reach
        for one in asked.early
        if one.figures >= FIGURES_ON_THE_WAY
    )


def _too_early(asked: Asked, how: str) -> str:
    """That the numbers on the way were rounded too early, and how many figures to keep."""
    keep = figures_told(asked.figures_on_the_way)
    return f"The numbers on the way look {how} too early: keep {keep} until the end."


def figures_told(count: int) -> str:
    """So many figures, in words.

    count: from 2 to 6.

    >>> figures_told(5)
    'five figures'
    """
    return f"{('two', 'three', 'four', 'five', 'six')[count - 2]} figures"


def _two_ways(typed: Typed) -> str:
    unit = f" {typed.unit}" if typed.unit else ""
    one, other = minus(f"{typed.value:.3f}"), minus(f"{typed.other:.0f}")
    return (
        f"This may be read as {one} or as {other}. Write {other}{unit} if you mean that, "
        f"{minus(f'{typed.value:.4f}')}{unit} if you do not."
    )


def _right(asked: Asked, typed: Typed, half_step: float) -> str:
    words = []
    if asked.because:
        words.append(asked.because)
    if asked.figures is not None and not asked.exact:
        if typed.digits > asked.figures + _SPARE_FIGURES:
            told = rounded(asked.answer, asked.figures)
            unit = f" {asked.unit}" if asked.unit else ""
            words.append(
                f"But {typed.digits} figures were written, more than are asked for: "
                f"{told}{unit} is enough."
            )
        elif half_step > asked.tolerance:
            words.append("One figure more would show that it is no lucky rounding.")
    return " ".join(words)


def _coarse(asked: Asked) -> str:
    said = "On the way to the answer, but too coarse"
    if asked.figures is None:
        return f"{said}. {asked.near}".rstrip()
    return f"{said}: give at least {figures_told(asked.figures)}."


def _off(asked: Asked, read: _Read) -> str:
    """High or low, and by about how much, without giving the answer away."""
    answer, value = asked.answer, read.value
    if asked.exact:
        return "Not that number. Work it out once more, one after the other."
    if not value or value * answer < 0:
        wrong = "0 is too small" if not value and answer > 0 else "The sign is the wrong way round"
        if not value and answer < 0:
            wrong = "0 is too large"
        return f"{wrong}. Check what is taken from what."
    ratio = abs(value / answer)
    # below 0, "large" might be taken for either way
    words = ("too large", "too small") if answer > 0 else ("too far from 0", "too near to 0")
    side = words[ratio < 1]
    near = max(2 * asked.tolerance / abs(answer), 0.01)
    if power := _tenfold(asked, read, near * abs(value)):
        return _power_of_ten(asked, read, side, power)
    far = max(ratio, 1 / ratio)
    if far < 1.05:
        said = f"Close, but {side} by more than is allowed here"
        said += ", by less than 2 %." if far < 1.02 else ", by 2 to 5 %."
    elif far < 2:
        by = "5 to 10 %" if far < 1.1 else "less than a quarter" if far < 1.25 else ""
        said = f"It is {side}, by {by or 'less than a factor of 2'}."
    elif far < 10:
        said = f"It is {side}, about {far:.0f} times."
    else:
        said = f"It is {side}, by more than a factor of {10 ** int(math.log10(far))}."
    for one in asked.early:  # three figures, as people keep them
        if one.figures == 3 and asked.tolerance < abs(value - answer) <= one.reach:
            return f"{said} {_too_early(asked, 'perhaps rounded')}"
    return said


def _tenfold(asked: Asked, read: _Read, near: float) -> int:
    """Which power of ten times the answer a number is near; 0 for none."""
    if read.value * asked.answer <= 0:
        return 0
    power = round(math.log10(read.value / asked.answer))
    return power if abs(read.value - asked.answer * 10.0**power) <= near else 0


def _power_of_ten(asked: Asked, read: _Read, side: str, power: int) -> str:
    """That a power of ten is lost, or a slip that so few figures do not tell from it."""
    times = f"10 to the power {abs(power)}" if abs(power) > 3 else f"{10 ** abs(power)}"
    for slip in sorted(asked.slips, key=lambda one: abs(read.value - one.value)):
        if abs(read.value - slip.value) <= read.half_round:
            return (
                f"It is {side} by a factor of about {times}. With so few figures two causes fit: "
                f"look at the units and the point. Or: {slip.says}"
            )
    return f"It is {side} by a factor of {times}: look at the units and the point."
