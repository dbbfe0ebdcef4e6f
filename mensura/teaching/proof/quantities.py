"""Quantities made of half powers of a and b, π, and square roots: exact sums, products, quotients.

With a = x², b = y² and π = q² every half power is a whole one. A root √s of anything else is a
letter r of its own with r² = s, which stands in a quantity at most once and never below a stroke:
so that "is it zero?" has a sure answer. Sums, products and common divisors are sympy's.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any

from mensura.teaching.proof.limits import (
    ANY,
    MOST_NUMBER_ROOTS,
    MOST_PRODUCTS,
    MOST_ROOTS,
    MOST_TERMS,
    TooInvolved,
    Undefined,
)
from mensura.teaching.proof.patience import brace, tick


@lru_cache(maxsize=1)
def _field() -> Any:
    from sympy import QQ
    from sympy.polys.fields import field

    return field([*"xyq", *(f"r{k}" for k in range(MOST_ROOTS + MOST_NUMBER_ROOTS))], QQ)


class Quantities:
    """The quantities of a few lines that are compared with each other.

    region: where they are meant to hold, one of ANY, A_LONGER, B_LONGER.
    """

    def __init__(self, region: str = ANY) -> None:
        self.region = region
        made = _field()
        self.field = made[0]
        self.x, self.y, self.q = made[1:4]
        self.roots = made[4:]
        self.ring = self.field.ring
        self.squares: list[Any] = []  # r_k² as an element of the ring

    def number(self, value: Fraction) -> Any:
        """A rational number as a quantity.

        value: the number.
        """
        from sympy import QQ

        return self.field(QQ(value.numerator, value.denominator))

    # ---- arithmetic ----------------------------------------------------------------------------

    def plus(self, first: Any, second: Any) -> Any:
        """A sum.

        first, second: quantities.
        """
        if _without_stroke(first) and _without_stroke(second):
            return self._tidied(first.numer + second.numer, self.ring.one)
        brace(first.numer, first.denom, second.numer, second.denom)
        above = first.numer * second.denom + second.numer * first.denom
        return self._tidied(above, first.denom * second.denom)

    def times(self, first: Any, second: Any) -> Any:
        """A product.

        first, second: quantities.
        """
        tick(len(first.numer) * len(second.numer))
        if _without_stroke(first) and _without_stroke(second):
            return self._tidied(first.numer * second.numer, self.ring.one)
        brace(first.numer, first.denom, second.numer, second.denom)
        return self._tidied(first.numer * second.numer, first.denom * second.denom)

    def over(self, above: Any, below: Any) -> Any:
        """A quotient.

        above, below: quantities. Raises Undefined if below is nothing but zero.
        """
        if not below:
            raise Undefined("it divides by 0.")
        sizes = [len(part) for one in (above, below) for part in (one.numer, one.denom)]
        if sizes[0] * sizes[3] + sizes[1] * sizes[2] > MOST_PRODUCTS:
            raise TooInvolved("it has too many terms; expected a shorter line.")
        brace(above.numer, above.denom, below.numer, below.denom)
        return self._tidied(above.numer * below.denom, above.denom * below.numer)

    def power(self, base: Any, exponent: int) -> Any:
        """A whole power.

        base: a quantity; exponent: a whole number, which may be negative. Raises Undefined for a
        negative power of zero.
        """
        if exponent < 0:
            return self.power(self.over(self.field.one, base), -exponent)
        result = self.field.one
        for _ in range(exponent):
            result = self.times(result, base)
        return result

    def tidy(self, value: Any) -> Any:
        """The same quantity, with no square of a root letter in it and no such letter below.

        value: the quantity. Raises TooInvolved where that cannot be.
        """
        return self._tidied(value.numer, value.denom)

    def _tidied(self, above: Any, below: Any) -> Any:
        """above/below, of the ring, in the one form that a quantity has."""
        if not self.squares:
            return self._cancelled(above, below)
        above, below = self.reduce(above), self.reduce(below)
        # roots leave the denominator, so that the same quantity is always written the same way
        for k in range(len(self.squares)):
            plain, with_root = self.split(below, k)
            if with_root:
                other = plain - with_root * self.roots[k].numer
                brace(above, below, other)
                above, below = self.reduce(above * other), self.reduce(below * other)
                self._bounded(above, below)
                if not below:
                    raise TooInvolved("roots within roots; expected simpler ones.")
                value = self._cancelled(above, below)
                above, below = value.numer, value.denom
        self._bounded(above, below)
        return self._cancelled(above, below)

    def _cancelled(self, above: Any, below: Any) -> Any:
        """above/below without a common divisor, the first number below 1."""
        if not above:
            return self.field.zero
        if not below.is_ground:
            above, below = self._without_divisor(above, below)
        first = below.LC
        if first != 1:
            above, below = above.quo_ground(first), below.quo_ground(first)
        return self.field.raw_new(above, below)

    def _without_divisor(self, above: Any, below: Any) -> tuple[Any, Any]:
        """Both over their greatest common divisor, which is sought in as few letters as they have.

        If all terms of each are of one degree, √b need not be among them: it is put back after.
        """
        weights = [self._whole_weight(poly) for poly in (above, below)]
        places = sorted(self.letters(above) | self.letters(below))
        alike = None not in weights and places != [1]
        if alike:
            places = [place for place in places if place != 1]
        small = [_slim(poly, places) for poly in (above, below)]
        brace(*small)
        upper, lower = small[0].cancel(small[1])
        parts = [_back(poly, places, self.ring) for poly in (upper, lower)]
        if not alike:
            return parts[0], parts[1]
        lengths = self._weights()
        filled, left = [], []
        for poly, whole in zip(parts, weights, strict=True):
            sizes = {
                powers: sum((n * w for n, w in zip(powers, lengths, strict=False)), Fraction())
                for powers in poly
            }
            most = max(sizes.values())
            filled.append(
                self.ring.from_dict(
                    {
                        (powers[0], int(most - sizes[powers]), *powers[2:]): factor
                        for powers, factor in poly.terms()
                    }
                )
            )
            left.append((whole or Fraction()) - most)
        shift = left[0] - left[1]  # how many √b more stood above than below
        letter = self.y.numer ** abs(int(shift))
        above, below = filled
        return (above * letter, below) if shift > 0 else (above, below * letter)

    def _whole_weight(self, poly: Any) -> Fraction | None:
        """The weight if every term has it, and no letter in it is of mixed degree."""
        return None if self._mixed_letters & self.letters(poly) else self.weight(poly)

    @property
    def _mixed_letters(self) -> set[int]:
        return {place for place, weight in enumerate(self._weights()) if weight < -1000}

    @staticmethod
    def _bounded(above: Any, below: Any) -> None:
        if max(len(above), len(below)) > MOST_TERMS:
            raise TooInvolved("it has too many terms; expected a shorter line.")

    def reduce(self, poly: Any) -> Any:
        """A polynomial in which every root letter stands at most once.

        poly: of the ring.
        """
        for k in reversed(range(len(self.squares))):
            place = 3 + k
            if all(powers[place] < 2 for powers in poly):
                continue
            result = self.ring.zero
            for powers, factor in poly.terms():
                tick()
                twice, once = divmod(powers[place], 2)
                rest = list(powers)
                rest[place] = once
                term = self.ring({tuple(rest): factor})
                result += term * self.squares[k] ** twice
            poly = result
        return poly

    def split(self, poly: Any, k: int) -> tuple[Any, Any]:
        """Plain and root part of a polynomial: poly = plain + with_root · r_k.

        poly: of the ring, reduced; k: which root.
        """
        place = 3 + k
        plain: dict[Any, Any] = {}
        with_root: dict[Any, Any] = {}
        for powers, factor in poly.terms():
            if powers[place]:
                with_root[(*powers[:place], 0, *powers[place + 1 :])] = factor
            else:
                plain[powers] = factor
        return self.ring.from_dict(plain), self.ring.from_dict(with_root)

    # ---- what a quantity is like ---------------------------------------------------------------

    def weight(self, poly: Any) -> Fraction | None:
        """Twice the degree in a and b if all terms share it, else None; of zero, 0.

        poly: of the ring.
        """
        return self._weight(poly, self._weights())

    def _weights(self) -> list[Fraction]:
        """Twice the degree of each letter."""
        weights = [Fraction(1), Fraction(1), Fraction(0)]
        for square in self.squares:
            own = self._weight(square, weights)
            if own is None:
                # a letter of mixed degree: whatever holds it is mixed
                weights.append(Fraction(-(10**6) - len(weights)))
            else:
                weights.append(own / 2)
        return weights

    @staticmethod
    def _weight(poly: Any, weights: list[Fraction]) -> Fraction | None:
        found = {
            sum(
                (power * weight for power, weight in zip(powers, weights, strict=False)), Fraction()
            )
            for powers in poly
        }
        if any(one < -1000 for one in found):
            return None
        return found.pop() if len(found) == 1 else (None if found else Fraction())

    def plain_number(self, poly: Any) -> bool:
        """Whether neither a nor b stands in it, nor in a root in it.

        poly: of the ring.
        """
        return not self.letters(poly) & self.lengths()

    def lengths(self) -> set[int]:
        """The places of the letters that hang on a and b."""
        found = {0, 1}
        for k, square in enumerate(self.squares):
            if self.letters(square) & found:
                found.add(3 + k)
        return found

    def letters(self, poly: Any) -> set[int]:
        """Which variables stand in it, by place: 0 x, 1 y, 2 q, then the roots.

        poly: of the ring.
        """
        return {place for powers in poly for place, power in enumerate(powers) if power}


def _without_stroke(value: Any) -> bool:
    """Whether nothing stands below: then there is no common divisor to be looked for."""
    return bool(value.denom == 1)


@lru_cache(maxsize=64)
def _ring(places: tuple[int, ...]) -> Any:
    from sympy import QQ
    from sympy.polys.rings import ring

    return ring([f"x{place}" for place in places], QQ)[0]


def _slim(poly: Any, places: list[int]) -> Any:
    """A polynomial in the ring of these letters alone; others are 1."""
    terms: dict[Any, Any] = {}
    for powers, factor in poly.terms():
        key = tuple(powers[place] for place in places)
        terms[key] = terms.get(key, 0) + factor
    return _ring(tuple(places)).from_dict(terms)


def _back(poly: Any, places: list[int], whole: Any) -> Any:
    """Such a polynomial in the whole ring again."""
    terms = {}
    for powers, factor in poly.terms():
        key = [0] * whole.ngens
        for place, power in zip(places, powers, strict=True):
            key[place] = power
        terms[tuple(key)] = factor
    return whole.from_dict(terms)


def factors_of(poly: Any) -> tuple[Any, list[tuple[Any, int]]]:
    """Number and factors with their powers, sought in as few letters as there are.

    poly: a polynomial of any ring, other than 0.
    """
    places = sorted({place for powers in poly for place, power in enumerate(powers) if power})
    if not places:
        return poly.LC, []
    small = _slim(poly, places)
    brace(small)
    number, found = small.factor_list()
    return number, [(_back(each, places, poly.ring), power) for each, power in found]


def sqf_part_of(poly: Any) -> Any:
    """The product of its factors, each once, sought in as few letters as there are.

    poly: a polynomial of any ring, other than 0 and not a plain number.
    """
    places = sorted({place for powers in poly for place, power in enumerate(powers) if power})
    small = _slim(poly, places)
    brace(small)
    return _back(small.sqf_part(), places, poly.ring)
