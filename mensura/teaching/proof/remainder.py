"""One difference of sides as a positive multiple of another, plus a remainder never negative.

The multiple is a number times a monomial in a and b, half powers allowed. Where to look is found by
numbers: how both differences grow for small and large a tells the monomial, the least ratio tells
the number. What is found counts only when the remainder is certainly not negative; and as a step
only when that is seen at sight: positive terms, or a square beside the last line times a number.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Any

from mensura.teaching.proof.algebra import Algebra
from mensura.teaching.proof.formula import expanded, formula
from mensura.teaching.proof.moves import plainly_positive
from mensura.teaching.proof.quantities import factors_of
from mensura.teaching.proof.signs import inside, order_at, signs_of, value_at

_TRIED = (
    (2.0, 1.0), (1.0, 2.0), (1.01, 1.0), (1.0, 1.01), (30.0, 24.0), (24.0, 30.0), (0.1, 0.2),
    (0.2, 0.1), (1e3, 1.0), (1.0, 1e3), (1e-3, 1e-5), (1e-5, 1e-3), (1e5, 1e3), (1e3, 1e5),
)  # fmt: skip


#: Of what is not seen at sight so many are decided, the simplest first.
_MOST_DECIDED = 6


_MOST_SHOWN = 15


@dataclass(frozen=True)
class Remainder:
    """after = factor · before + rest, with the rest never negative.

    factor, words: both as they are read; positive: whether the rest is above 0 everywhere.
    """

    factor: str
    words: str
    positive: bool


def seen_remainder(algebra: Algebra, before: Any, after: Any) -> Remainder | None:
    """How `after` is made up of `before` and what is seen to be positive, or None.

    algebra: which made both; before, after: differences of sides.
    """
    meet = all((order_at(algebra, one, "equal") or 0) > 0 for one in (before, after))
    for factor, rest in _left_over(algebra, before, after, meet):
        if plainly_positive(algebra, rest):
            roots = algebra.lengths() - {0, 1}
            never_zero = any(not any(powers[k] for k in roots) for powers in rest.numer)
            return _told(algebra, factor, rest, never_zero)
        if factor == algebra.field.one and _square(algebra, rest):
            return _told(algebra, factor, rest, False)
    return None


def find_remainder(algebra: Algebra, before: Any, after: Any) -> Remainder | None:
    """How `after` is made up of `before` and what is never negative, if seldom at sight, or None.

    algebra: which made both; before, after: differences of sides.
    """
    count = 0
    for factor, rest in _left_over(algebra, before, after):
        if _fails_somewhere(algebra, rest):
            continue
        count += 1
        if count > _MOST_DECIDED:
            return None
        signs = signs_of(algebra, rest)
        if signs is not None and signs.not_negative:
            return _told(algebra, factor, rest, signs.positive)
    return None


def _left_over(
    algebra: Algebra, before: Any, after: Any, meet: bool = False
) -> Iterator[tuple[Any, Any]]:
    """Multiples, and what they leave over.

    meet: whether both differences vanish where a = b: then so does what is left over, and only the
    simplest multiples can leave something that is seen to be positive, like |a − b|.
    """
    for factor in _factors(algebra, before, after, meet):
        rest = algebra.plus(after, -algebra.times(factor, before))
        if rest:
            yield factor, rest


def _told(algebra: Algebra, factor: Any, rest: Any, positive: bool) -> Remainder:
    words = expanded(algebra, rest) or "a remainder of many terms"
    return Remainder(formula(algebra, factor) or "a positive multiple", words, positive)


def _square(algebra: Algebra, value: Any) -> bool:
    """Whether a quantity is a positive number times squares, and short enough to show it."""
    if len(value.numer) > _MOST_SHOWN or _fails_somewhere(algebra, value):
        return False
    for poly in (value.numer, value.denom):
        number, factors = factors_of(poly)
        if number < 0 or any(
            power % 2 and not plainly_positive(algebra, algebra.field(factor))
            for factor, power in factors
        ):
            return False
    return True


def _fails_somewhere(algebra: Algebra, rest: Any) -> bool:
    """Whether plain numbers show the remainder to be negative: then nothing need be decided."""
    for a, b in _TRIED:
        here = inside(algebra.region, a / b)
        size = value_at(algebra, rest, a**0.5, b**0.5) if here else 0.0
        if size is None or size < 0:
            return True
    return False


def _factors(algebra: Algebra, before: Any, after: Any, meet: bool) -> Iterator[Any]:
    """Positive multiples worth a try, simple ones first."""
    yield algebra.field.one
    pi = algebra.q**2
    weights = [
        algebra.weight(poly)
        for value in (before, after)
        for poly in (value.numer, value.denom)
    ]  # fmt: skip
    if any(weight is None for weight in weights):
        kept = _kept(before, after)
        simple = [Fraction(times) for times in (2, 4, 3)]
        yield from map(algebra.number, (*kept, *simple, *(1 / one for one in simple)))
        for monomial in _mixed_monomials(algebra, before, after):
            for number in (1, 2, Fraction(1, 2)):
                yield monomial * algebra.number(Fraction(number))
        return
    above_1, below_1, above_2, below_2 = (weight or Fraction() for weight in weights)
    degree = (above_2 - below_2) - (above_1 - below_1)
    if degree.denominator != 1:
        return
    if meet:
        if not degree:
            yield from map(algebra.number, _kept(before, after))
        return
    samples = _samples(algebra, before, after)
    slopes = [
        (order_at(algebra, before, where), order_at(algebra, after, where))
        for where in ("large", "small")
    ]
    (large_1, large_2), (small_1, small_2) = slopes
    if large_1 is None or large_2 is None or small_1 is None or small_2 is None:
        return
    highest, lowest = large_2 - large_1, small_2 - small_1
    if algebra.region == "a > b":
        lowest = highest - 4
    elif algebra.region == "b > a":
        highest = lowest + 4
    powers = [Fraction(power) for power in range(floor(lowest), ceil(highest) + 1)]
    powers = [power for power in powers if lowest <= power <= highest][:24]
    middle = degree / 2
    for power in sorted(powers, key=lambda one: (abs(one - middle), one % 2)):
        other = degree - power
        monomial = algebra.power(algebra.x, int(power)) * algebra.power(algebra.y, int(other))
        shares = (algebra.field.one, pi, algebra.over(algebra.field.one, pi))
        has_pi = [2 in algebra.letters(one.numer) | algebra.letters(one.denom) for one in
                  (before, after)]  # fmt: skip
        share = shares[0] if has_pi[0] == has_pi[1] else shares[1] if has_pi[1] else shares[2]
        for multiple in dict.fromkeys((monomial, algebra.tidy(monomial * share))):
            part = (math.pi if share == pi else 1 / math.pi) if multiple != monomial else 1.0
            least = _least(samples, int(power), part)
            if least is not None and least <= 1e-9:
                continue
            kept = _kept(algebra.times(before, multiple), after)
            fits = [one for one in kept if least is None or one <= least * (1 + 1e-9)]
            for number in dict.fromkeys((*fits, *_numbers(least))):
                yield algebra.times(multiple, algebra.number(number))


def _kept(before: Any, after: Any) -> list[Fraction]:
    """How often each term of the one difference stands in the other: what was added left them."""
    if before.denom != after.denom:
        return []
    found = [after.numer[powers] / factor for powers, factor in before.numer.terms()
             if powers in after.numer]  # fmt: skip
    ratios = Counter(Fraction(int(one.numerator), int(one.denominator)) for one in found)
    return [ratio for ratio, _ in ratios.most_common(3) if ratio > 0]


def _samples(algebra: Algebra, before: Any, after: Any) -> list[tuple[float, float]]:
    """after / before at places √(a/b) where before is positive, as plain numbers."""
    from mpmath import mp

    found = []
    with mp.workdps(30):
        for step in range(-60, 61):
            x = mp.mpf(2) ** (mp.mpf(step) / 12) * (1 + mp.mpf(10) ** -6)
            if (algebra.region == "a > b" and x <= 1) or (algebra.region == "b > a" and x >= 1):
                continue
            first, second = value_at(algebra, before, x), value_at(algebra, after, x)
            if first is not None and second is not None and first > 0:
                found.append((float(x), float(second / first)))
    return found


def _least(samples: list[tuple[float, float]], power: int, part: float) -> float | None:
    """The least ratio after / (before · part · √(a/b)^power) that was seen."""
    return min((ratio / (part * x**power) for x, ratio in samples), default=None)


def _numbers(least: float | None) -> list[Fraction]:
    """Simple numbers not above the least ratio."""
    if least is None:
        return [Fraction(1)]
    near = Fraction(least).limit_denominator(24)
    found = [near] if near and abs(near - Fraction(least)) < Fraction(1, 1000) * near else []
    simple = [Fraction(1), Fraction(2), Fraction(1, 2), Fraction(4), Fraction(1, 4)]
    found += [one for one in simple if one <= Fraction(least)]
    below = Fraction(least * 0.9).limit_denominator(100)
    found += [below] if below > 0 else []
    return list(dict.fromkeys(found))[:5]


def _mixed_monomials(algebra: Algebra, before: Any, after: Any) -> Iterator[Any]:
    """Monomials that carry the highest term of one line to a term of the other."""
    if before.denom != 1 or after.denom != 1:
        return
    seen: set[Any] = set()
    for first in before.numer:
        for second in after.numer:
            if first[3:] != second[3:]:
                continue
            shift = tuple(two - one for one, two in zip(first[:3], second[:3], strict=True))
            if shift not in seen and len(seen) < 6 and any(shift):
                seen.add(shift)
                yield (
                    algebra.power(algebra.x, shift[0])
                    * algebra.power(algebra.y, shift[1])
                    * algebra.power(algebra.q, shift[2])
                )
