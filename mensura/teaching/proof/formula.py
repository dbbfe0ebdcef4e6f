"""A quantity in ordinary notation, for the reasons that are given to a student."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from mensura.teaching.proof.notation import raised
from mensura.teaching.proof.patience import brace
from mensura.teaching.proof.quantities import Quantities, factors_of

#: Longer than this a formula says less than words do.
_LONGEST = 48


def formula(algebra: Quantities, value: Any) -> str | None:
    """A quantity as a short formula in a, b and π, or None if it is long.

    algebra, value: the quantity and what made it.

    >>> from mensura.teaching.proof.algebra import Algebra
    >>> from mensura.teaching.proof.notation import read_line
    >>> alg = Algebra()
    >>> formula(alg, alg.of(read_line("(a^2 - b^2)/(2ab) > 0").left))
    '(a + b)(a − b)/(2ab)'
    """
    if max(len(value.numer), len(value.denom)) > _LONGEST:
        return None
    value, roots_above, roots_below = _roots_apart(algebra, value)
    above_number, above, _ = _product(algebra, value.numer)
    below_number, below, below_count = _product(algebra, value.denom)
    above, below = above + roots_above, below + "".join(roots_below)
    number = above_number / below_number
    top = (str(abs(number.numerator)) if abs(number.numerator) != 1 or not above else "") + above
    bottom = (str(number.denominator) if number.denominator != 1 else "") + below
    count = below_count + len(roots_below) + (number.denominator != 1)
    if top.count("(") == 1 and top[0] == "(" and top[-1] == ")" and not bottom and number > 0:
        top = top[1:-1]
    text = top if not bottom else f"{top}/({bottom})" if count > 1 else f"{top}/{bottom}"
    text = ("−" if number < 0 else "") + text
    return text if len(text) <= _LONGEST else None


def _roots_apart(algebra: Quantities, value: Any) -> tuple[Any, str, list[str]]:
    """A quantity without the roots that stand before all of it, and those above and below."""
    above, below = [], []
    names = _names(algebra, True)
    for k, square in enumerate(algebra.squares):
        if any(not powers[3 + k] for powers in value.numer):
            continue
        root, name = algebra.roots[k], names[3 + k]
        ends = algebra.x.numer - algebra.y.numer
        if square == ends**2:  # |√a − √b| is told with √a + √b as |a − b|
            square, name = ends**2 * (algebra.x.numer + algebra.y.numer) ** 2, "|a − b|"
            root = root * (algebra.x + algebra.y)
        brace(value.numer, value.denom)
        value = value / root
        shared = (value * square).denom
        if len(square) > 1 and value.denom.rem(square) == 0 and shared != value.denom:
            value = value * square
            below.append(name)
        else:
            above.append(name)
    return value, "".join(above), below


def _product(algebra: Quantities, poly: Any) -> tuple[Fraction, str, int]:
    """Number in front, factors as text, how many there are."""
    whole = _in_axes(poly)
    number, factors = factors_of(poly if whole is None else whole)
    names = _names(algebra, whole is not None)
    texts = []
    for factor, power in sorted(factors, key=lambda one: (len(one[0]), str(one[0]))):
        inner = _terms(factor, names)
        if len(factor) > 1:
            inner = f"({inner})"
        elif power > 1 and inner.startswith("√"):
            inner, power = _power_of(inner[1:], power)
        texts.append(inner + raised(Fraction(power)))
    texts.sort(key=lambda text: (text[:1] in "(√|", text[:1] != "π"))
    return Fraction(int(number.numerator), int(number.denominator)), "".join(texts), len(texts)


def _raised(name: str, power: int) -> str:
    """A letter with its power; of √a the square is a."""
    if len(name) == 2 and name[0] == "√":
        return _power_of(name[1:], power)[0]
    return name + raised(Fraction(power))


def _power_of(name: str, power: int) -> tuple[str, int]:
    whole, odd = divmod(power, 2)
    front = name + raised(Fraction(whole)) if whole else ""
    return front + (f"√{name}" if odd else ""), 1


def _names(algebra: Quantities, whole: bool) -> tuple[str, ...]:
    """How the letters are written; whole: if the first three stand for a, b, π themselves."""
    named = ["a", "b", "π"] if whole else ["√a", "√b", "√π"]
    for square in algebra.squares:
        _, factors = factors_of(square)
        if all(power % 2 == 0 for _, power in factors) and len(square) > 1:
            root = square.ring.one
            for factor, power in factors:
                root *= factor ** (power // 2)
            named.append(f"|{_side(root, named)}|")
        else:
            text = _side(square, named)
            named.append(f"√{text}" if len(text) == 1 else f"√({text})")
    return tuple(named)


def _side(poly: Any, named: list[str]) -> str:
    """A polynomial whose letters are named so far, as a sum."""
    whole = _in_axes(poly)
    start = ["a", "b", "π"] if whole is not None else ["√a", "√b", "√π"]
    return _terms(poly if whole is None else whole, (*start, *named[3:]))


def _in_axes(poly: Any) -> Any:
    """The polynomial in a = x², b = y², π = q², or None if it holds odd powers."""
    if any(power % 2 for powers in poly for power in powers[:3]):
        return None
    halved = {(*(power // 2 for power in powers[:3]), *powers[3:]): c for powers, c in poly.terms()}
    return poly.ring.from_dict(halved)


def _terms(poly: Any, names: tuple[str, ...]) -> str:
    """A sum, highest power of a first."""
    order = (2, 0, 1, *range(3, len(names)))
    text = ""
    for powers, factor in sorted(poly.terms(), reverse=True):
        size = Fraction(int(factor.numerator), int(factor.denominator))
        letters = "".join(_raised(names[place], powers[place]) for place in order if powers[place])
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
    whole = _in_axes(value.numer)
    short = whole is not None and len(whole) <= _LONGEST
    if short and value.denom == 1 and all(each.denominator == 1 for each in whole.values()):
        text = _terms(whole, _names(algebra, True))
        if len(text) <= _LONGEST:
            return text
    return formula(algebra, value)
