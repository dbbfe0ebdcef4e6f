"""A quantity in ordinary notation, for the reasons that are given to a student."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from mensura.teaching.proof.notation import raised
from mensura.teaching.proof.quantities import Quantities

#: Longer than this a formula says less than words do.
_LONGEST = 48


def formula(algebra: Quantities, value: Any) -> str | None:
    """A quantity as a short formula in a, b and π, or None if it is long or holds other roots.

    algebra, value: the quantity and what made it.

    >>> from mensura.teaching.proof.algebra import Algebra
    >>> from mensura.teaching.proof.notation import read_line
    >>> alg = Algebra()
    >>> formula(alg, alg.of(read_line("(a^2 - b^2)/(2ab) > 0").left))
    '(a + b)(a − b)/(2ab)'
    """
    letters = algebra.letters(value.numer) | algebra.letters(value.denom)
    if any(place > 2 for place in letters):
        return None
    above_number, above, _ = _product(algebra, value.numer)
    below_number, below, below_count = _product(algebra, value.denom)
    number = above_number / below_number
    top = (str(abs(number.numerator)) if abs(number.numerator) != 1 or not above else "") + above
    bottom = (str(number.denominator) if number.denominator != 1 else "") + below
    count = below_count + (number.denominator != 1)
    if top.count("(") == 1 and top[0] == "(" and top[-1] == ")" and not bottom and number > 0:
        top = top[1:-1]
    text = top if not bottom else f"{top}/({bottom})" if count > 1 else f"{top}/{bottom}"
    text = ("−" if number < 0 else "") + text
    return text if len(text) <= _LONGEST else None


def _product(algebra: Quantities, poly: Any) -> tuple[Fraction, str, int]:
    """Number in front, factors as text, how many there are."""
    whole = _in_axes(poly)
    number, factors = whole.factor_list() if whole is not None else poly.factor_list()
    names = ("a", "b", "π") if whole is not None else ("√a", "√b", "√π")
    texts = []
    for factor, power in sorted(factors, key=lambda one: (len(one[0]), str(one[0]))):
        inner = _terms(factor, names)
        if len(factor) > 1:
            inner = f"({inner})"
        elif power > 1 and inner.startswith("√"):
            inner, power = _power_of(inner[1:], power)
        texts.append(inner + raised(Fraction(power)))
    texts.sort(key=lambda text: (text[:1] == "(", text[:1] != "π"))
    return Fraction(int(number.numerator), int(number.denominator)), "".join(texts), len(texts)


def _power_of(name: str, power: int) -> tuple[str, int]:
    whole, odd = divmod(power, 2)
    front = name + raised(Fraction(whole)) if whole else ""
    return front + (f"√{name}" if odd else ""), 1


def _in_axes(poly: Any) -> Any:
    """The polynomial in a = x², b = y², π = q², or None if it holds odd powers."""
    if any(power % 2 for powers in poly for power in powers[:3]):
        return None
    halved = {(*(power // 2 for power in powers[:3]), *powers[3:]): c for powers, c in poly.terms()}
    return poly.ring.from_dict(halved)


def _terms(poly: Any, names: tuple[str, ...]) -> str:
    """A sum, highest power of a first."""
    text = ""
    for powers, factor in sorted(poly.terms(), reverse=True):
        size = Fraction(int(factor.numerator), int(factor.denominator))
        letters = "".join(
            name + raised(Fraction(powers[place]))
            for place, name in ((2, names[2]), (0, names[0]), (1, names[1]))
            if powers[place]
        )
        number = str(abs(size)) if abs(size) != 1 or not letters else ""
        sign = "−" if size < 0 else "+"
        text += (
            f" {sign} {number}{letters}" if text else ("−" if size < 0 else "") + number + letters
        )
    return text


def expanded(algebra: Quantities, value: Any) -> str | None:
    """A quantity multiplied out if it is a short sum, else as :func:`formula` writes it.

    algebra, value: the quantity and what made it.
    """
    letters = algebra.letters(value.numer)
    whole = _in_axes(value.numer)
    if not any(place > 2 for place in letters) and value.denom == 1 and whole is not None:
        text = _terms(whole, ("a", "b", "π"))
        if len(text) <= _LONGEST:
            return text
    return formula(algebra, value)
