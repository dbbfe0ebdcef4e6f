"""The positive roots of a polynomial in one letter: apart from each other, as near as wanted."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from mensura.teaching.proof.patience import brace, tick

#: At a root, what is smaller than 10 to the minus this, beside its own terms, is zero.
NOTHING = 40


def isolated(poly: Any) -> list[tuple[Fraction, Fraction]]:
    """Intervals with one positive root each, apart from each other; a rational root is a point.

    poly: without double roots.
    """
    found = [
        (Fraction(int(low.p), int(low.q)), Fraction(int(high.p), int(high.q)))
        for (low, high), _ in poly.intervals(inf=0)
    ]
    found = [(low, high) for low, high in sorted(found) if high > 0]
    apart: list[tuple[Fraction, Fraction]] = []
    numbers = _whole(poly)
    for low, high in found:
        while (low == 0 or (apart and apart[-1][1] >= low)) and low != high:
            low, high = _narrowed(poly, numbers, low, high)
        while apart and apart[-1][1] >= low:
            apart[-1] = _narrowed(poly, numbers, *apart[-1])
        apart.append((low, high))
    return apart


def _refined(poly: Any, low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    from sympy import Rational

    brace(terms_of(poly), times=10)
    bounds = [Rational(each.numerator, each.denominator) for each in (low, high)]
    s, t = poly.refine_root(*bounds, steps=2)
    return Fraction(int(s.p), int(s.q)), Fraction(int(t.p), int(t.q))


def _narrowed(
    poly: Any, numbers: list[int], low: Fraction, high: Fraction
) -> tuple[Fraction, Fraction]:
    """Nearer bounds of the one root between two bounds; from 0 on in great strides.

    numbers: of the polynomial, as whole ones.
    """
    tick(len(numbers))
    start, end = _sign_of(numbers, low), _sign_of(numbers, high)
    if not start * end:
        return _refined(poly, low, high)
    middle = (low + high) / 2 if low else high / 2**16
    sign = _sign_of(numbers, middle)
    if not sign:
        return middle, middle
    return (middle, high) if sign == start else (low, middle)


def near(poly: Any, low: Fraction, high: Fraction) -> Fraction:
    """The root between two bounds, to far more digits than it is looked at with: by halving.

    poly: which has one root between them; low, high: the bounds.
    """
    numbers = _whole(poly)
    while low != high and (high - low) * 10 ** (NOTHING * 2) > low:
        low, high = _narrowed(poly, numbers, low, high)
    return (low + high) / 2


def _whole(poly: Any) -> list[int]:
    """The numbers of a polynomial as whole ones, that of the highest power first."""
    return [int(each) for each in poly.clear_denoms(convert=True)[1].all_coeffs()]


def _sign_of(numbers: list[int], x: Fraction) -> int:
    """The sign of a polynomial at a fraction; numbers: whole ones, of the highest power first."""
    total, scale = 0, 1
    for number in numbers:
        total = total * x.numerator + number * scale
        scale *= x.denominator
    return (total > 0) - (total < 0)


def simplest(low: Fraction, high: Fraction | None) -> Fraction:
    """The fraction with the smallest numbers strictly between two bounds; None: no upper one.

    low, high: the bounds.

    >>> simplest(Fraction(1, 3), Fraction(1)), simplest(Fraction(7, 3), None)
    (Fraction(1, 2), Fraction(3, 1))
    """
    whole = low.numerator // low.denominator
    if high is None or whole + 1 < high:
        return Fraction(whole + 1)
    low, high = low - whole, high - whole
    inner = simplest(1 / high, 1 / low if low else None)
    return whole + 1 / inner


def terms_of(poly: Any) -> dict[Any, Any]:
    """Powers and numbers of a polynomial in x.

    poly: of sympy.
    """
    return dict(poly.as_dict(native=True))
