"""Which numbers of a family are given out, and what can be told apart on them.

Two rules that must not be mixed up. What is *given out* is decided by a rule that is frozen, since
the numbers of a log or of a paper must come again for ever: `fits`, the answer and the slips of the
first edition, kept apart by GIVEN_OUT_APART at a tolerance of at least GIVEN_OUT_LEAST_PERCENT.
Later editions only pass over more draws. What is *said* to an answer may be bettered at any time:
it follows LEAST_TOLERANCE_PERCENT and APART as they are today, knows the slips of every edition,
and leaves out those that cannot be told apart from the answer on these numbers. Two slips that
cannot be told apart from each other stay both, and a reply names both.
"""

from __future__ import annotations

import math

from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.problems.family import LEAST_TOLERANCE_PERCENT, Family, Given, Slip

#: Frozen: intervals round answer and slips keep this share of their widths apart, or no such
#: numbers are given out.
GIVEN_OUT_APART = 1.2

#: Frozen: the least tolerance, in per cent, for which they must lie apart.
GIVEN_OUT_LEAST_PERCENT = 0.5

#: Today's: a slip whose interval comes nearer than this share of the widths is not named.
APART = 1.2


def work(
    family: Family, numbers: dict[str, float], edition: int | None = None
) -> tuple[float, float, tuple[KnownSlip, ...]] | None:
    """Answer, tolerance and slips for some numbers; None if an edition does not give them out.

    family: which method; numbers: name → number; edition: from 1, the newest unless it is named.
    """
    given = Given(numbers)
    if not family.fits(given):
        return None
    answer = float(family.answer(given))
    if not math.isfinite(answer) or (answer == 0 and not family.exact):
        return None
    moves = 0.0 if family.exact else _moves(family, given, answer)
    values = {slip.name: _value(slip, given) for slip in family.slips}
    newest = family.edition if edition is None else edition
    if not _given_out(family, given, answer, moves, values, newest):
        return None
    tolerance = _tolerance(family, answer, moves, LEAST_TOLERANCE_PERCENT)
    return answer, tolerance, _told_apart(family, answer, tolerance, values)


def tolerance_of(family: Family, given: Given, answer: float) -> float:
    """How far the answer moves if each number is off by half its step, all the worst way.

    family: which method; given: the numbers; answer: in the family's unit. At least
    LEAST_TOLERANCE_PERCENT of the answer, since people round on the way. Rounded up to two figures;
    0 if the answer must be met exactly.
    """
    moves = 0.0 if family.exact else _moves(family, given, answer)
    return _tolerance(family, answer, moves, LEAST_TOLERANCE_PERCENT)


def _given_out(
    family: Family,
    given: Given,
    answer: float,
    moves: float,
    values: dict[str, float],
    edition: int,
) -> bool:
    """Whether an edition gives these numbers out: the first edition's rule, then what came later.

    The first edition's slips are looked at alike whether they are named still or retired.
    """
    tolerance = _tolerance(family, answer, moves, GIVEN_OUT_LEAST_PERCENT)
    marks = [(answer, tolerance)]
    for slip in family.slips:
        if slip.since == 1:
            value = values[slip.name]
            if not math.isfinite(value):
                return False
            marks.append((value, _width(answer, tolerance, value)))
    for index, mark in enumerate(marks):
        if not all(_apart(answer, mark, other, GIVEN_OUT_APART) for other in marks[index + 1 :]):
            return False
    if not all(fits(given) for since, fits in family.fits_since.items() if since <= edition):
        return False
    for slip in family.slips:
        if slip.apart_since is not None and slip.apart_since <= edition:
            value = values[slip.name]
            mark = (value, _width(answer, tolerance, value))
            if math.isfinite(value) and not _apart(answer, marks[0], mark, GIVEN_OUT_APART):
                return False
    return True


def _told_apart(
    family: Family, answer: float, tolerance: float, values: dict[str, float]
) -> tuple[KnownSlip, ...]:
    """The slips that can be told apart from the answer on these numbers.

    In a list or a count two slips may be one and the same number: then the older one stays.
    """
    found: dict[str, KnownSlip] = {}
    for slip in sorted(family.slips, key=lambda one: one.since):
        value = values[slip.name]
        if slip.retired or not math.isfinite(value):
            continue
        if family.exact and any(value == other.value for other in found.values()):
            continue
        mark = (value, _width(answer, tolerance, value))
        if _apart(answer, mark, (answer, tolerance), APART):
            found[slip.name] = KnownSlip(value, slip.says, slip.name, mark[1])
    return tuple(found[slip.name] for slip in family.slips if slip.name in found)


def _value(slip: Slip, given: Given) -> float:
    """A slip's number; nan where there is none, as for a later slip that was made for others."""
    try:
        return float(slip.compute(given))
    except (ValueError, ArithmeticError):
        return math.nan


def _apart(
    answer: float, one: tuple[float, float], other: tuple[float, float], share: float
) -> bool:
    """Whether two numbers with their tolerances lie further apart than a share of both."""
    least = 1e-9 * max(1.0, abs(answer))
    return abs(one[0] - other[0]) > max(share * (one[1] + other[1]), least)


def _width(answer: float, tolerance: float, value: float) -> float:
    """How near counts as a slip: as the answer's tolerance, in units or as a share."""
    share = tolerance / abs(answer) if answer else 0.0
    return max(tolerance, share * abs(value))


def _moves(family: Family, given: Given, answer: float) -> float:
    """Sum of the answer's moves, each number that is no count off by half its step."""
    total = 0.0
    for quantity in family.given:
        if quantity.exact:
            continue
        moved = [
            abs(float(family.answer(given.moved(quantity.name, way * quantity.step / 2))) - answer)
            for way in (-1, 1)
        ]
        total += max(moved)
    return total


def _tolerance(family: Family, answer: float, moves: float, least_percent: float) -> float:
    """The larger of both, rounded up to two figures; 0 for an answer that must be met exactly."""
    if family.exact:
        return 0.0
    wanted = max(moves, least_percent / 100 * abs(answer))
    percent = 100 * wanted / abs(answer)
    step = 10.0 ** (math.floor(math.log10(percent)) - 1)
    return math.ceil(round(percent / step, 9)) * step / 100 * abs(answer)
