"""Which signs a quantity takes, decided exactly and not by trying numbers.

A homogeneous quantity depends on one ratio only. Its sign can change only where its numerator or
denominator vanishes; conjugates turn that into a polynomial without roots, and sympy isolates the
real roots of a polynomial with certainty. Between two neighbours the sign is that of any one point.
What is not homogeneous is taken apart by degree, each part decided on its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any

from mensura.teaching.proof.limits import A_LONGER, B_LONGER, TooInvolved
from mensura.teaching.proof.patience import brace, tick
from mensura.teaching.proof.quantities import Quantities, factors_of, sqf_part_of
from mensura.teaching.proof.real_roots import NOTHING, isolated, near, simplest, terms_of

#: Decimal digits in which a sign is read at a point where it cannot be zero.
_DIGITS = 90

UNDEFINED = 2

#: More terms than this, or higher powers, are left undecided: the answer would take too long.
_MOST_MIXED_TERMS = 20
_HIGHEST_MIXED = 40
_MOST_TERMS = 700
_HIGHEST = 200


@dataclass(frozen=True)
class Cell:
    """A stretch of the ratio on which the sign stays the same, or a single point.

    ratio: a/b at one place of it; sign: −1, 0, 1 or UNDEFINED; point: whether it is a single point.
    """

    ratio: Fraction
    sign: int
    point: bool = False


@dataclass(frozen=True)
class Signs:
    """The signs a quantity takes where the line should hold.

    taken: among −1, 0, 1 and UNDEFINED; cells: where, if it depends on the ratio alone.
    """

    taken: frozenset[int]
    cells: tuple[Cell, ...] = ()

    @property
    def positive(self) -> bool:
        """Above 0 everywhere."""
        return self.taken == {1}

    @property
    def not_negative(self) -> bool:
        """At least 0 everywhere."""
        return self.taken <= {0, 1}


def signs_of(algebra: Quantities, value: Any) -> Signs | None:
    """The signs of a quantity, or None if they could not be decided.

    algebra: which made it; value: the quantity.
    """
    if not value:
        return Signs(frozenset({0}))
    above, below = algebra.weight(value.numer), algebra.weight(value.denom)
    if above is not None and below is not None:
        return _by_ratio(algebra, value.numer, value.denom)
    parts = [_mixed(algebra, poly) for poly in (value.numer, value.denom)]
    top, bottom = parts
    if top is None or bottom is None:
        return None
    if 0 in bottom or UNDEFINED in bottom | top:
        return None
    return Signs(frozenset(first * second for first in top for second in bottom))


def definite_sign(algebra: Quantities, poly: Any) -> int:
    """+1 or −1 if a polynomial has that sign wherever the line should hold, else 0.

    algebra: whose letters it holds; poly: the polynomial.
    """
    plain = all(place < 3 for place in algebra.letters(poly))
    factors = list(poly.values())
    if plain and (all(f > 0 for f in factors) or all(f < 0 for f in factors)):
        return 1 if factors[0] > 0 else -1
    if algebra.weight(poly) is None:
        taken = _mixed(algebra, poly)
    else:
        taken = _by_ratio(algebra, poly, algebra.ring.one).taken
    return next(iter(taken)) if taken is not None and taken in ({1}, {-1}) else 0


def order_at(algebra: Quantities, value: Any, where: str) -> Fraction | None:
    """The power of √a, or of |a − b|, as which a quantity goes towards a place.

    algebra, value: as above; where: "equal" (a = b, the power of |a − b|), "small" (a → 0) or
    "large" (a → ∞). Read off as a slope with 900 digits, so near that only one power fits; what is
    found with it in :mod:`remainder` is then decided exactly.
    """
    from mpmath import mp, mpf

    with mp.workdps(900):
        near, nearer = mpf(10) ** -30, mpf(10) ** -60
        if where == "equal":
            side = -1 if algebra.region == B_LONGER else 1
            points = [1 + side * near, 1 + side * nearer]
        elif where == "small":
            points = [near, nearer]
        else:
            points = [1 / near, 1 / nearer]
        other = 1 if algebra.weight(value.numer) is not None else mpf("1.37")
        sizes = [value_at(algebra, value, point * other, other) for point in points]
        if any(size is None or not size for size in sizes):
            return None
        slope = mp.log10(abs(sizes[0] / sizes[1])) / 30
        power = Fraction(round(float(slope) * 4), 4)
    return -power if where == "large" else power


# ---- one ratio -----------------------------------------------------------------------------------


def _by_ratio(algebra: Quantities, above: Any, below: Any, everywhere: bool = False) -> Signs:
    """The signs of above/below, both homogeneous, as a/b = x² runs over the region (y = 1).

    everywhere: over all x above 0 instead, for polynomials that hold no other letter.
    """
    from sympy import Poly

    ones = _critical(algebra, above, below)
    symbol = _x()
    product = Poly(1, symbol)
    for one in ones:
        brace(terms_of(product), terms_of(one), times=10)
        product = (product * one).sqf_part()
    even = all(power % 2 == 0 for (power,) in product.as_dict())
    if even:
        product = Poly.from_dict({(p // 2,): c for (p,), c in product.as_dict().items()}, symbol)
    brace(terms_of(product), times=10)
    edges = isolated(Poly.from_dict({(1,): 1, (0,): -1}, symbol).lcm(product).sqf_part())
    cells = []
    for index, (low, high) in enumerate(edges):
        before = edges[index - 1][1] if index else Fraction(0)
        cells.append((simplest(before, low), False))
        if everywhere or not low == high == 1:
            cells.append((near(product, low, high), True))
    cells.append((simplest(edges[-1][1], None), False))
    found = []
    value = algebra.field.raw_new(above, below)
    for z, point in cells:
        if everywhere or inside(algebra.region, z):
            ratio = z if even else z * z
            sign = _sign_at(algebra, value, z, even)
            found.append(Cell(ratio, sign, point))
    return Signs(frozenset(cell.sign for cell in found), tuple(found))


def along(algebra: Quantities, above: Any, below: Any) -> tuple[Cell, ...]:
    """The signs of above/below for all x above 0, with ratio x² at one place of each stretch.

    algebra: whose letters they hold; above, below: polynomials in which of a and b only √a = x is.
    """
    return _by_ratio(algebra, above, below, everywhere=True).cells


def inside(region: str, ratio: Any) -> bool:
    """Whether a ratio a/b, or a power of it, belongs to a region.

    region: ANY, A_LONGER or B_LONGER; ratio: above 0.
    """
    if region == A_LONGER:
        return bool(ratio > 1)
    return bool(ratio < 1 if region == B_LONGER else ratio != 1)


def _critical(algebra: Quantities, above: Any, below: Any) -> list[Any]:
    """Polynomials in x whose positive roots hold every place where the sign may change."""
    wanted = algebra.letters(above) | algebra.letters(below)
    polys = [above, below]
    for k in reversed(range(len(algebra.squares))):
        if 3 + k in wanted:
            polys.append(algebra.squares[k])
            wanted |= algebra.letters(algebra.squares[k])
    return [found for poly in polys if (found := _without_roots(algebra, poly)) is not None]


def _without_roots(algebra: Quantities, poly: Any) -> Any:
    """A polynomial in x alone that vanishes wherever this one does; None if that is nowhere."""
    from sympy import QQ, Poly

    for k in reversed(range(len(algebra.squares))):
        plain, with_root = algebra.split(poly, k)
        if with_root:
            _bounded(plain, with_root)
            brace(plain, with_root)
            poly = algebra.reduce(plain**2 - with_root**2 * algebra.squares[k])
    if not poly:
        raise TooInvolved("roots within roots; expected simpler ones.")
    ring = algebra.ring
    flat = ring.from_dict(_summed(poly))
    least_q = min(powers[2] for powers in flat)
    least_x = min(powers[0] for powers in flat)
    flat = ring.from_dict(
        {(p[0] - least_x, p[1], p[2] - least_q, *p[3:]): c for p, c in flat.terms()}
    )
    if len(flat) == 1:
        return None
    if any(powers[2] for powers in flat):  # with π in it, before its digits are put in
        flat = sqf_part_of(flat)
    root_of_pi = _root_of_pi()
    coefficients: dict[tuple[int], Any] = {}
    for powers, factor in flat.terms():
        size = factor * (QQ(root_of_pi.numerator, root_of_pi.denominator) ** powers[2])
        coefficients[(powers[0],)] = coefficients.get((powers[0],), 0) + size
    found = Poly.from_dict(coefficients, _x(), domain=QQ)
    brace(coefficients, times=10)
    return found.sqf_part() if found.degree() > 0 else None


def _bounded(plain: Any, with_root: Any) -> None:
    """Raises TooInvolved for polynomials whose squares would take too long."""
    terms = max(len(plain), len(with_root))
    highest = max(max(map(sum, part), default=0) for part in (plain, with_root))
    if terms * terms > _MOST_TERMS or highest > _HIGHEST // 2:
        raise TooInvolved("its roots lead to too many terms; expected a simpler line.")


def _summed(poly: Any) -> dict[Any, Any]:
    """The terms of a polynomial with y = 1."""
    terms: dict[Any, Any] = {}
    for powers, factor in poly.terms():
        key = (powers[0], 0, *powers[2:])
        terms[key] = terms.get(key, 0) + factor
    return {key: factor for key, factor in terms.items() if factor}


def _sign_at(algebra: Quantities, value: Any, z: Fraction, even: bool) -> int:
    from mpmath import mp, mpf

    with mp.workdps(_DIGITS + 2 * NOTHING):
        x = mpf(z.numerator) / mpf(z.denominator)
        if even:
            x = mp.sqrt(x)
        size = value_at(algebra, value, x)
        if size is None:
            return UNDEFINED
        return 0 if not size else (1 if size > 0 else -1)


def value_at(algebra: Quantities, value: Any, x: Any, y: Any = 1) -> Any:
    """The value at √a = x, √b = y in mpmath's present precision; None where there is none.

    algebra, value: as above; x, y: above 0. What cancels to its last digits is 0.
    """
    from mpmath import mp

    letters = [_Powers(mp.mpf(x)), _Powers(mp.mpf(y)), _Powers(mp.sqrt(mp.pi))]
    wanted = algebra.letters(value.numer) | algebra.letters(value.denom)
    for k in reversed(range(len(algebra.squares))):
        if 3 + k in wanted:
            wanted |= algebra.letters(algebra.squares[k])
    for k, square in enumerate(algebra.squares):
        size = _polynomial_at(square, letters) if 3 + k in wanted else mp.mpf(0)
        if size < 0:
            return None
        letters.append(_Powers(mp.sqrt(size)))
    below = _polynomial_at(value.denom, letters)
    return _polynomial_at(value.numer, letters) / below if below else None


class _Powers(dict[int, Any]):
    """The powers of a number, each worked out once."""

    def __init__(self, base: Any) -> None:
        self.base = base

    def __missing__(self, power: int) -> Any:
        self[power] = size = self.base**power
        return size


def _polynomial_at(poly: Any, letters: list[_Powers]) -> Any:
    from mpmath import mp

    total, sizes = mp.mpf(0), mp.mpf(0)
    tick(len(poly))
    for powers, factor in poly.terms():
        term = mp.mpf(int(factor.numerator))
        if factor.denominator != 1:
            term /= int(factor.denominator)
        for power, letter in zip(powers, letters, strict=False):
            if power:
                term *= letter[power]
        total += term
        sizes += abs(term)
    spared = mp.mpf(10) ** -(NOTHING if mp.dps > NOTHING else mp.dps - 4)
    return total if abs(total) > sizes * spared or mp.dps > 500 else mp.mpf(0)


@lru_cache(maxsize=1)
def _root_of_pi() -> Fraction:
    """√π as a fraction, right to 60 digits: to isolate roots, π is as good as that."""
    from mpmath import mp

    with mp.workdps(80):
        return Fraction(int(mp.floor(mp.sqrt(mp.pi) * mp.mpf(10) ** 60)), 10**60)


@lru_cache(maxsize=1)
def _x() -> Any:
    from sympy import Symbol

    return Symbol("x")


# ---- several degrees -----------------------------------------------------------------------------


def _mixed(algebra: Quantities, poly: Any) -> frozenset[int] | None:
    """Signs of a polynomial whose terms differ in degree (a set that holds them), or None."""
    roots = sum(place > 2 for place in algebra.letters(poly))
    if len(poly) > _MOST_MIXED_TERMS >> roots or max(map(sum, poly)) > _HIGHEST_MIXED:
        return None
    return _by_parts(algebra, poly) or _by_one_letter(algebra, poly) or _by_factors(algebra, poly)


def _by_parts(algebra: Quantities, poly: Any) -> frozenset[int] | None:
    """Each degree on its own, if all parts agree in sign."""
    parts: dict[Any, dict[Any, Any]] = {}
    for powers, factor in poly.terms():
        weight = algebra.weight(algebra.ring.from_dict({powers: factor}))
        if weight is None:
            return None
        parts.setdefault(weight, {})[powers] = factor
    taken: set[int] = set()
    each = []
    for terms in parts.values():
        signs = _by_ratio(algebra, algebra.ring.from_dict(terms), algebra.ring.one).taken
        each.append(signs)
        taken |= signs
    if UNDEFINED in taken or not (taken <= {0, 1} or taken <= {0, -1}):
        return None
    if any(0 not in signs for signs in each):
        taken -= {0}  # one part never vanishes
    return frozenset(taken)


def _by_one_letter(algebra: Quantities, poly: Any) -> frozenset[int] | None:
    """Only a, or only b, stands in it: then it is decided on the whole half line."""
    letters = algebra.letters(poly) & algebra.lengths()
    if letters <= {1}:
        poly = algebra.ring.from_dict({(p[1], 0, *p[2:]): c for p, c in poly.terms()})
    elif letters != {0}:
        return None
    return _by_ratio(algebra, poly, algebra.ring.one, everywhere=True).taken


def _by_factors(algebra: Quantities, poly: Any) -> frozenset[int] | None:
    """Every factor has one sign, or stands in an even power."""
    number, factors = factors_of(poly)
    taken = {1 if number > 0 else -1}
    if len(factors) == 1 and factors[0][1] == 1:
        return None
    for factor, power in factors:
        definite = definite_sign(algebra, factor)
        if definite:
            signs = frozenset({definite})
        elif power % 2 == 0:
            signs = frozenset({0, 1})
        else:
            return None
        taken = {first * second**power for first in taken for second in signs}
    return frozenset(taken)
