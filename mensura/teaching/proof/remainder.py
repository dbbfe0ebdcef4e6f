"""One difference of sides as a positive multiple of another, plus a remainder never negative.

The multiple is a number times a monomial in a and b, half powers allowed. Where to look is found by
numbers: how both differences grow for small and large a tells the monomial, the least ratio tells
the number. What is found counts only when the remainder is certainly not negative.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Any

from mensura.teaching.proof.formula import expanded, formula
from mensura.teaching.proof.quantities import Quantities
from mensura.teaching.proof.signs import inside, order_at, signs_of, value_at

_TRIED = (
    (2.0, 1.0), (1.0, 2.0), (1.01, 1.0), (1.0, 1.01), (30.0, 24.0), (24.0, 30.0), (0.1, 0.2),
    (0.2, 0.1), (1e3, 1.0), (1.0, 1e3), (1e-3, 1e-5), (1e-5, 1e-3), (1e5, 1e3), (1e3, 1e5),
)  # fmt: skip


@dataclass(frozen=True)
class Remainder:
    """after = factor · before + rest, with the rest never negative.

    factor, words: both as they are read; positive: whether the rest is above 0 everywhere.
    """

    factor: str
    words: str
    positive: bool


def find_remainder(algebra: Quantities, before: Any, after: Any) -> Remainder | None:
    """How `after` is made up of `before`, or None if it is not.

    algebra: which made both; before, after: differences of sides.
    """
    for factor in _factors(algebra, before, after):
        rest = algebra.tidy(after - factor * before)
        if _fails_somewhere(algebra, rest):
            continue
        signs = signs_of(algebra, rest)
        if signs is not None and signs.not_negative:
            words = expanded(algebra, rest) or "a remainder"
            return Remainder(
                formula(algebra, factor) or "a positive multiple", words, signs.positive
            )
    return None


def _fails_somewhere(algebra: Quantities, rest: Any) -> bool:
    """Whether plain numbers show the remainder to be negative: then nothing need be decided."""
    for a, b in _TRIED:
        here = inside(algebra.region, a / b)
        size = value_at(algebra, rest, a**0.5, b**0.5) if here else 0.0
        if size is None or size < 0:
            return True
    return False


def disagree(algebra: Quantities, first: Any, second: Any) -> bool:
    """Whether plain numbers show two quantities to differ in sign, so that no more need be asked.

    algebra: which made both; first, second: the quantities.
    """
    for a, b in _TRIED:
        if inside(algebra.region, a / b):
            one, other = (value_at(algebra, each, a**0.5, b**0.5) for each in (first, second))
            if one is None or other is None or one * other < 0:
                return True
    return False


def _factors(algebra: Quantities, before: Any, after: Any) -> Iterator[Any]:
    """Positive multiples worth a try, simple ones first."""
    yield algebra.field.one
    pi = algebra.q**2
    weights = [
        algebra.weight(poly)
        for value in (before, after)
        for poly in (value.numer, value.denom)
    ]  # fmt: skip
    if any(weight is None for weight in weights):
        for number in (2, Fraction(1, 2), 4, Fraction(1, 4), 3, Fraction(1, 3)):
            yield algebra.number(Fraction(number))
        for monomial in _mixed_monomials(algebra, before, after):
            for number in (1, 2, Fraction(1, 2)):
                yield monomial * algebra.number(Fraction(number))
        return
    above_1, below_1, above_2, below_2 = (weight or Fraction() for weight in weights)
    degree = (above_2 - below_2) - (above_1 - below_1)
    if degree.denominator != 1:
        return
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
        multiple = algebra.tidy(monomial * share)
        for number in _numbers(algebra, before * multiple, after):
            yield algebra.tidy(multiple * algebra.number(number))


def _numbers(algebra: Quantities, before: Any, after: Any) -> list[Fraction]:
    """Numbers not above the least ratio after / before, where before is positive."""
    from mpmath import mp

    least = None
    with mp.workdps(30):
        for step in range(-60, 61):
            x = mp.mpf(2) ** (mp.mpf(step) / 12) * (1 + mp.mpf(10) ** -6)
            if (algebra.region == "a > b" and x <= 1) or (algebra.region == "b > a" and x >= 1):
                continue
            first, second = value_at(algebra, before, x), value_at(algebra, after, x)
            if first is None or second is None or first <= 0:
                continue
            ratio = float(second / first)
            least = ratio if least is None else min(least, ratio)
    if least is None:
        return [Fraction(1)]
    if least <= 1e-9:
        return []
    near = Fraction(least).limit_denominator(24)
    found = [near] if near and abs(near - Fraction(least)) < Fraction(1, 1000) * near else []
    simple = [Fraction(1), Fraction(2), Fraction(1, 2), Fraction(4), Fraction(1, 4)]
    found += [one for one in simple if one <= Fraction(least)]
    below = Fraction(least * 0.9).limit_denominator(100)
    found += [below] if below > 0 else []
    return list(dict.fromkeys(found))[:5]


def _mixed_monomials(algebra: Quantities, before: Any, after: Any) -> Iterator[Any]:
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
