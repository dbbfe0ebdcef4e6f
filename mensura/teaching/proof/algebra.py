"""What a line says as a quantity: its tree worked out exactly, each root in one form only.

Everything that is a square is drawn out from under a root, so that the same quantity is always
written the same way. What may be drawn out hangs on its sign, which is decided in `signs`.
"""

from __future__ import annotations

from fractions import Fraction
from math import isqrt
from typing import Any

from mensura.teaching.proof.limits import (
    HIGHEST_DEGREE,
    MOST_NUMBER_ROOTS,
    MOST_ROOTS,
    TooInvolved,
    Undefined,
)
from mensura.teaching.proof.notation import Node
from mensura.teaching.proof.quantities import Quantities, factors_of
from mensura.teaching.proof.signs import definite_sign

#: How far a number is taken apart.
_SMALL = {"limit": 2000, "use_rho": False, "use_pm1": False, "use_ecm": False}


class Algebra(Quantities):
    """Quantities that are read from lines.

    region: where the lines are meant to hold, one of ANY, A_LONGER, B_LONGER.
    """

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
            return self.plus(left, right)
        if kind == "-":
            return self.plus(left, -right)
        if kind == "*":
            return self.times(left, right)
        return self.over(left, right)

    def _named(self, name: str) -> Any:
        letter = {"a": self.x, "b": self.y, "π": self.q}.get(name)
        if letter is not None:
            return letter**2
        a, b, pi = self.x**2, self.y**2, self.q**2
        if name == "G":
            return self.times(pi, self.root(2 * a**2 + 2 * b**2))
        return self.tidy({"A_tape": pi * (a**2 + b**2) / 2, "A_cal": pi * a * b}[name])

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
                definite = definite_sign(self, factor)
                if definite:
                    sign *= definite
                    result = self.times(result, self._letter(factor * definite))
                else:
                    open_ones *= factor
            if half:
                size = self._size_of(factor) if half % 2 else self.field(factor)
                result = self.times(result, self.power(size, half))
        if sign < 0 and open_ones == self.ring.one:
            raise Undefined("it takes the root of something negative.")
        if open_ones != self.ring.one or sign < 0:
            result = self.times(result, self._letter(open_ones * sign))
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
            result = self.times(result, self.power(size, power))
        return result

    def factors(self, value: Any) -> tuple[int, list[tuple[Any, int]]]:
        """Sign and factors: value = sign · Π factor^power, primes among the numbers included.

        value: a quantity other than 0.
        """
        from sympy import factorint

        sign, found = 1, []
        for poly, way in ((value.numer, 1), (value.denom, -1)):
            number, parts = factors_of(poly)
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
        definite = definite_sign(self, factor)
        if definite:
            return self.field(factor * definite)
        return self._letter(factor**2)

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
        number = self.plain_number(square)
        most = MOST_NUMBER_ROOTS if number else MOST_ROOTS
        if sum(self.plain_number(known) == number for known in self.squares) == most:
            of = "roots of numbers" if number else "roots"
            raise TooInvolved(f"more than {most} different {of} in the two lines; expected fewer.")
        self.squares.append(square)
        return self.roots[len(self.squares) - 1]


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
