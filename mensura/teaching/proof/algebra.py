"""Exact arithmetic with what a line may hold: half powers of a and b, π, and square roots.

With a = x², b = y² and π = q² every half power is a whole one. A root √s of anything else becomes a
letter r of its own with r² = s, after everything that is a square has been drawn out, so that the
same quantity is always written the same way and "is it zero?" has a sure answer. Sums, products and
common divisors are sympy's.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import isqrt
from typing import Any

from mensura.teaching.proof.notation import Node

#: Where a line is meant to hold: everywhere, or where one half-axis is the longer.
ANY, A_LONGER, B_LONGER = "a ≠ b", "a > b", "b > a"

#: More letters than this, or higher powers, and an answer would take too long.
MOST_ROOTS = 4
MOST_PRODUCTS = 400
MOST_TERMS = 160
HIGHEST_DEGREE = 24


#: How far a number is taken apart.
_SMALL = {"limit": 2000, "use_rho": False, "use_pm1": False, "use_ecm": False}


class TooInvolved(Exception):
    """A line that would take too long to judge; says: why, in one sentence."""

    def __init__(self, says: str) -> None:
        self.says = says
        super().__init__(says)


class Undefined(Exception):
    """A line with a root of something negative, or a division by zero; says: which."""

    def __init__(self, says: str) -> None:
        self.says = says
        super().__init__(says)


@lru_cache(maxsize=1)
def _field() -> Any:
    from sympy import QQ
    from sympy.polys.fields import field

    return field([*"xyq", *(f"r{k}" for k in range(MOST_ROOTS))], QQ)


class Algebra:
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

    # ---- from a tree -------------------------------------------------------------------------

    def of(self, node: Node) -> Any:
        """The quantity that a tree stands for.

        node: of a line. Raises TooInvolved, or Undefined where it has no value.
        """
        above, below = degrees(node)
        if max(above, below) > HIGHEST_DEGREE:
            raise TooInvolved(
                f"the powers multiply up to {max(above, below)}; expected at most {HIGHEST_DEGREE}."
            )
        return self._of(node)

    def _of(self, node: Node) -> Any:
        kind = node.kind
        if kind == "number":
            value = node.value
            assert isinstance(value, Fraction)
            return self.number(value)
        if kind == "name":
            return self._named(str(node.value))
        if kind == "^":
            exponent = node.value
            assert isinstance(exponent, Fraction)
            base = self._of(node.parts[0])
            if exponent.denominator == 2:
                base, exponent = self.root(base), exponent * 2
            return self.power(base, int(exponent))
        if kind == "√":
            return self.root(self._of(node.parts[0]))
        if kind == "| |":
            return self.size(self._of(node.parts[0]))
        if kind == "minus":
            return -self._of(node.parts[0])
        left, right = (self._of(part) for part in node.parts)
        if kind == "+":
            return self.tidy(left + right)
        if kind == "-":
            return self.tidy(left - right)
        if kind == "*":
            return self.tidy(left * right)
        return self.over(left, right)

    def _named(self, name: str) -> Any:
        a, b, pi = self.x**2, self.y**2, self.q**2
        if name == "G":
            return pi * self.root(2 * a**2 + 2 * b**2)
        return {
            "a": a, "b": b, "π": pi, "A_tape": pi * (a**2 + b**2) / 2, "A_cal": pi * a * b,
        }[name]  # fmt: skip

    def number(self, value: Fraction) -> Any:
        """A rational number as a quantity.

        value: the number.
        """
        from sympy import QQ

        return self.field(QQ(value.numerator, value.denominator))

    # ---- arithmetic ----------------------------------------------------------------------------

    def over(self, above: Any, below: Any) -> Any:
        """A quotient.

        above, below: quantities. Raises Undefined if below is nothing but zero.
        """
        if not below:
            raise Undefined("it divides by 0.")
        sizes = [len(part) for one in (above, below) for part in (one.numer, one.denom)]
        if sizes[0] * sizes[3] + sizes[1] * sizes[2] > MOST_PRODUCTS:
            raise TooInvolved("it has too many terms; expected a shorter line.")
        return self.tidy(above / below)

    def power(self, base: Any, exponent: int) -> Any:
        """A whole power.

        base: a quantity; exponent: a whole number, which may be negative. Raises Undefined for a
        negative power of zero.
        """
        if exponent < 0:
            return self.power(self.over(self.field.one, base), -exponent)
        result = self.field.one
        for _ in range(exponent):
            result = self.tidy(result * base)
        return result

    def tidy(self, value: Any) -> Any:
        """The same quantity, with no square of a root letter in it and no such letter below.

        value: the quantity. Raises TooInvolved where that cannot be.
        """
        if not self.squares:
            return value
        above, below = self.reduce(value.numer), self.reduce(value.denom)
        below_one = self.field(below)
        # roots leave the denominator, so that the same quantity is always written the same way
        for k in range(len(self.squares)):
            plain, with_root = self.split(below_one.numer, k)
            if with_root:
                other = self.field(plain) - self.field(with_root) * self.roots[k]
                above = self.reduce((self.field(above) * other).numer)
                below_one = self.field(self.reduce((below_one * other).numer))
                self._bounded(above, below_one.numer)
                if not below_one:
                    raise TooInvolved("roots within roots; expected simpler ones.")
        self._bounded(above, below_one.numer)
        return self.field(above) / below_one

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

    # ---- roots and sizes -----------------------------------------------------------------------

    def root(self, value: Any) -> Any:
        """The square root.

        value: a quantity. Raises Undefined if it is negative wherever the line should hold.
        """
        if not value:
            return value
        sign, factors = self.factors(value)
        result = self.field.one
        open_ones = self.ring.one  # factors whose sign changes: they stay under one root
        for factor, power in factors:
            half, odd = divmod(power, 2)
            if odd:
                definite = self.sign_of(factor)
                if definite:
                    sign *= definite
                    result = self.tidy(result * self._letter(factor * definite))
                else:
                    open_ones *= factor
            if half:
                size = self._size_of(factor) if half % 2 else self.field(factor)
                result = self.tidy(result * self.power(size, half))
        if sign < 0 and open_ones == self.ring.one:
            raise Undefined("it takes the root of something negative.")
        if open_ones != self.ring.one or sign < 0:
            result = self.tidy(result * self._letter(open_ones * sign))
        return result

    def size(self, value: Any) -> Any:
        """The absolute value.

        value: a quantity.
        """
        if not value:
            return value
        _, factors = self.factors(value)
        result = self.field.one
        for factor, power in factors:
            size = self._size_of(factor) if power % 2 else self.field(factor)
            result = self.tidy(result * self.power(size, power))
        return result

    def factors(self, value: Any) -> tuple[int, list[tuple[Any, int]]]:
        """Sign and factors: value = sign · Π factor^power, primes among the numbers included.

        value: a quantity other than 0.
        """
        from sympy import factorint

        sign, found = 1, []
        for poly, way in ((value.numer, 1), (value.denom, -1)):
            number, parts = poly.factor_list()
            if number < 0:
                sign = -sign
            for part, up in ((abs(number.numerator), 1), (number.denominator, -1)):
                if part > 10**40:
                    raise TooInvolved("its numbers are too long; expected shorter ones.")
                # small primes only: long ones would take too long, and roots of them are rare
                for prime, times in factorint(int(part), **_SMALL).items():
                    root = isqrt(prime)
                    square = root * root == prime
                    found.append(
                        (self.ring(root if square else prime), times * up * way * (1 + square))
                    )
            found += [(factor, power * way) for factor, power in parts]
        return sign, found

    def _size_of(self, factor: Any) -> Any:
        definite = self.sign_of(factor)
        if definite:
            return self.field(factor * definite)
        return self._letter(factor**2)

    def sign_of(self, poly: Any) -> int:
        """+1 or −1 if a polynomial has that sign wherever the line should hold, else 0.

        poly: of the ring.
        """
        from mensura.teaching.proof.signs import definite_sign

        return definite_sign(self, poly)

    def _letter(self, square: Any) -> Any:
        """The letter whose square this is; simple squares need none."""
        if len(square) == 1:
            (powers, factor), *_ = square.terms()
            if factor == 1 and all(power % 2 == 0 for power in powers):
                half = tuple(power // 2 for power in powers)
                return self.field(self.ring({half: factor}))
        for k, known in enumerate(self.squares):
            if known == square:
                return self.roots[k]
        if len(self.squares) == MOST_ROOTS:
            raise TooInvolved(
                f"more than {MOST_ROOTS} different roots in the two lines; expected fewer."
            )
        self.squares.append(square)
        return self.roots[len(self.squares) - 1]

    # ---- what a quantity is like ---------------------------------------------------------------

    def weight(self, poly: Any) -> Fraction | None:
        """Twice the degree in a and b if all terms share it, else None; of zero, 0.

        poly: of the ring.
        """
        weights = [Fraction(1), Fraction(1), Fraction(0)]
        for square in self.squares:
            own = self._weight(square, weights)
            if own is None:
                # a letter of mixed degree: whatever holds it is mixed
                weights.append(Fraction(-(10**6) - len(weights)))
            else:
                weights.append(own / 2)
        return self._weight(poly, weights)

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

    def letters(self, poly: Any) -> set[int]:
        """Which variables stand in it, by place: 0 x, 1 y, 2 q, then the roots.

        poly: of the ring.
        """
        return {place for powers in poly for place, power in enumerate(powers) if power}


def degrees(node: Node) -> tuple[int, int]:
    """Bounds on the degrees of numerator and denominator, before anything is multiplied out.

    node: of a line.
    """
    kind = node.kind
    if kind == "number":
        return 0, 0
    if kind == "name":
        return {"a": 1, "b": 1, "π": 0, "G": 1}.get(str(node.value), 2), 0
    parts = [degrees(part) for part in node.parts]
    if kind == "^":
        assert isinstance(node.value, Fraction)
        times = max(1, -(-abs(node.value.numerator) // node.value.denominator))
        above, below = (part * times for part in parts[0])
        return (above, below) if node.value > 0 else (below, above)
    if kind in ("√", "| |", "minus"):
        return parts[0]
    (n1, d1), (n2, d2) = parts
    if kind == "*":
        return n1 + n2, d1 + d2
    if kind == "/":
        return n1 + d2, d1 + n2
    return max(n1 + d2, n2 + d1), d1 + d2


MIXED = "mixed"


def dimension(node: Node) -> Fraction | str | None:
    """The power of a length: 2 for an area; MIXED if unlike ones are added; None for plain zero.

    node: of a line; numbers have dimension 0.
    """
    kind = node.kind
    if kind == "number":
        return Fraction(0) if node.value else None
    if kind == "name":
        return Fraction({"a": 1, "b": 1, "π": 0, "G": 1}.get(str(node.value), 2))
    parts = [dimension(part) for part in node.parts]
    if MIXED in parts:
        return MIXED
    first, second = parts[0], parts[-1]
    if kind in ("+", "-"):
        if first is None or second is None:
            return second if first is None else first
        return first if first == second else MIXED
    if not isinstance(first, Fraction) or not isinstance(second, Fraction):
        return None
    if kind == "^":
        assert isinstance(node.value, Fraction)
        return first * node.value
    if kind == "√":
        return first / 2
    if kind in ("| |", "minus"):
        return first
    return first + second if kind == "*" else first - second
