"""Numbers with which a line fails: a and b plugged in on both sides.

The tree of the line is worked out directly with many digits; nothing of the algebra that judges
lines is used, so that a counterexample stands on its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from mensura.teaching.proof.algebra import MIXED, dimension
from mensura.teaching.proof.notation import Line, Node
from mensura.teaching.proof.patience import tick
from mensura.teaching.proof.signs import Signs, inside

#: Half-axes tried first: small ones that a student can work out, then some near each other and far.
_TRIED = (
    (2, 1), (1, 2), (3, 2), (2, 3), (3, 1), (1, 3), (4, 1), (1, 4), (5, 4), (4, 5), (9, 4), (4, 9),
    (10, 1), (1, 10), (11, 10), (10, 11), (100, 1), (1, 100), (101, 100), (100, 101),
    (Fraction(1, 2), Fraction(1, 4)), (Fraction(1, 4), Fraction(1, 2)),
    (Fraction(1, 10), Fraction(1, 20)), (Fraction(1, 20), Fraction(1, 10)), (20, 10), (10, 20),
    (1000, 1), (1, 1000), (1, Fraction(1, 1000)), (Fraction(1, 1000), 1), (30, 24), (24, 30),
)  # fmt: skip

_DIGITS = 50


def counterexample(
    line: Line, region: str, signs: Signs | None = None
) -> tuple[Fraction, Fraction] | None:
    """Half-axes a ≠ b of the region with which a line fails, or None if none was found.

    line: as read; region: "a ≠ b", "a > b" or "b > a"; signs: of its difference of sides, which
    tell where to look if the usual numbers do not make it fail.
    """
    pairs = [(Fraction(a), Fraction(b)) for a, b in _TRIED]
    if signs is not None:
        cells = sorted(signs.cells, key=lambda cell: (cell.point, cell.ratio.denominator))
        for cell in cells:
            ratio = cell.ratio
            small = ratio.denominator < 10**6
            pairs.append(
                (Fraction(ratio.numerator), Fraction(ratio.denominator))
                if small
                else (ratio, Fraction(1))
            )
    if mixed(line):
        pairs += _scales(line)
    for a, b in pairs:
        if not inside(region, a / b) or _plainly_holds(line, float(a), float(b)):
            continue
        if holds(line, a, b) is not True:
            return a, b
    return None


def counterexample_among(
    line: Line, region: str, pairs: Iterable[tuple[Fraction, Fraction]]
) -> tuple[Fraction, Fraction] | None:
    """The first of these half-axes with which a line fails, or None.

    line: as read; region: as above; pairs: half-axes above 0.
    """
    for a, b in pairs:
        if a > 0 and b > 0 and inside(region, a / b) and max(map(_size, (a, b))) < _LARGEST:
            tick()
            if holds(line, a, b) is not True:
                return a, b
    return None


#: Half-axes beyond this, or below one over it, cannot be told as plain numbers.
_LARGEST = 10**290


def _size(number: Fraction) -> Fraction:
    return max(number, 1 / number)


def mixed(line: Line) -> bool:
    """Whether unlike dimensions are added or compared: then the scale matters.

    line: as read.
    """
    return MIXED in (dimension(line.left), dimension(line.right)) or _differ(line)


def _differ(line: Line) -> bool:
    """Whether the sides have unlike dimensions: then the scale matters, not the ratio alone."""
    first, second = dimension(line.left), dimension(line.right)
    return None not in (first, second) and first != second


def _scales(line: Line) -> list[tuple[Fraction, Fraction]]:
    """Half-axes from 0.0001 to 5000 that plain numbers show to be worth a look, a few of them."""
    steps = [
        Fraction(digit * 10 ** (power + 4), 10**4) for power in range(-4, 4) for digit in (1, 2, 5)
    ]
    found = []
    for a in steps:
        for b in steps:
            if a != b and _plain_difference(line, float(a), float(b)) <= 0:
                found.append((a, b))
    found.sort(key=lambda pair: max(abs(math.log(pair[0])), abs(math.log(pair[1]))))
    return found[:6]


def _plain_difference(line: Line, a: float, b: float) -> float:
    """Greater side less smaller side in plain numbers, 1 where they have none."""
    try:
        left, right = (_plain(side, a, b) for side in (line.left, line.right))
        difference = right - left if line.sign in "<≤" else left - right
        return abs(difference) if line.sign == "≠" else float(difference)
    except (ArithmeticError, ValueError, TypeError):
        return 1.0


def _plain(node: Node, a: float, b: float) -> float:
    kind = node.kind
    if kind == "number":
        assert isinstance(node.value, Fraction)
        return float(node.value)
    if kind == "name":
        named = {
            "a": a, "b": b, "π": math.pi, "A_tape": math.pi * (a * a + b * b) / 2,
            "A_cal": math.pi * a * b, "G": 2 * math.pi * math.sqrt((a * a + b * b) / 2),
        }  # fmt: skip
        return named[str(node.value)]
    parts = [_plain(part, a, b) for part in node.parts]
    first, second = parts[0], parts[-1]
    if kind == "^":
        assert isinstance(node.value, Fraction)
        return float(first ** float(node.value))
    return {
        "minus": lambda: -first,
        "| |": lambda: abs(first),
        "√": lambda: math.sqrt(first),
        "+": lambda: first + second,
        "-": lambda: first - second,
        "*": lambda: first * second,
        "/": lambda: first / second,
    }[kind]()


#: How far a plain number may be off after one operation, as a share of it; rather too much.
_OFF = 2.0**-50


def _plainly_holds(line: Line, a: float, b: float) -> bool:
    """Whether a line certainly holds, by plain numbers and bounds on how far they may be off.

    False says nothing: then many digits decide.
    """
    try:
        (left, off_left), (right, off_right) = (
            _bounded(side, a, b) for side in (line.left, line.right)
        )
    except (ArithmeticError, ValueError):
        return False
    apart = right - left if line.sign in "<≤" else left - right
    if line.sign == "≠":
        apart = abs(apart)
    return line.sign != "=" and math.isfinite(apart) and apart > 2 * (off_left + off_right) + 1e-60


def _bounded(node: Node, a: float, b: float) -> tuple[float, float]:
    """Value in plain numbers, and how far it may be off.

    Raises ArithmeticError or ValueError where the value is not certain to be there.
    """
    kind = node.kind
    if kind in ("number", "name"):
        value = _plain(node, a, b)
        return value, 8 * _OFF * abs(value)
    parts = [_bounded(part, a, b) for part in node.parts]
    (first, off), (second, other) = parts[0], parts[-1]
    if kind in ("minus", "| |"):
        return (-first if kind == "minus" else abs(first)), off
    if kind in ("+", "-"):
        value, moved = (first + second if kind == "+" else first - second), off + other
    elif kind == "*":
        value = first * second
        moved = abs(first) * other + abs(second) * off + off * other
    elif kind == "/":
        least = abs(second) - other
        if least <= 0:
            raise ZeroDivisionError
        value = first / second
        moved = (off + abs(value) * other) / least
    else:
        power = Fraction(1, 2) if kind == "√" else node.value
        assert isinstance(power, Fraction)
        share = off / abs(first)
        if share > 1e-6 or (power.denominator == 2 and first <= 0):
            raise ValueError("not certain")
        value = (
            float(first ** float(power)) if power.denominator == 2 else float(first ** int(power))
        )
        moved = abs(value) * (1 + abs(power)) * (2 * share + 8 * _OFF)
    if not math.isfinite(value):
        raise OverflowError
    return value, float(moved) + _OFF * abs(value)


def holds(line: Line, a: Fraction, b: Fraction) -> bool | None:
    """Whether a line holds with these half-axes; None if a side has no value.

    line: as read; a, b: above 0.

    >>> from mensura.teaching.proof.notation import read_line
    >>> holds(read_line("a^2 > b"), Fraction(1), Fraction(2))
    False
    """
    sides = values(line, a, b)
    if sides is None:
        return None
    left, right, equal = sides
    return {
        ">": left > right and not equal,
        "<": left < right and not equal,
        "≥": left > right or equal,
        "≤": left < right or equal,
        "=": equal,
        "≠": not equal,
    }[line.sign]


def values(line: Line, a: Fraction, b: Fraction) -> tuple[Any, Any, bool] | None:
    """Both sides with these half-axes, and whether they are equal; None if one has no value.

    line: as read; a, b: above 0.
    """
    from mpmath import mp, mpf

    with mp.workdps(_DIGITS):
        numbers = {"a": mpf(a.numerator) / a.denominator, "b": mpf(b.numerator) / b.denominator}
        left, right = _value(line.left, numbers), _value(line.right, numbers)
        if left is None or right is None:
            return None
        near = mpf(10) ** -(_DIGITS - 15) * max(abs(left), abs(right))
        equal = bool(abs(left - right) <= near)
    if equal and max(a.denominator, b.denominator, a.numerator, b.numerator) < _SHORT:
        exact = [_exact(side, {"a": a, "b": b}) for side in (line.left, line.right)]
        if exact[0] is not None and exact[1] is not None and exact[0] != exact[1]:
            return exact[0], exact[1], False
    return left, right, equal


#: Half-axes of no more digits than this are exact, and longer ones may stand for a root.
_SHORT = 10**30


def _exact(node: Node, numbers: dict[str, Fraction]) -> Fraction | None:
    """The value as a fraction, or None if there is π or a root in it, or no value."""
    kind = node.kind
    if kind == "number":
        assert isinstance(node.value, Fraction)
        return node.value
    if kind == "name":
        return numbers.get(str(node.value))
    parts = [_exact(part, numbers) for part in node.parts]
    first, second = parts[0], parts[-1]
    if first is None or second is None or kind == "√":
        return None
    if kind == "^":
        assert isinstance(node.value, Fraction)
        whole = node.value.denominator == 1 and (first or node.value > 0)
        return Fraction(first ** int(node.value)) if whole else None
    if kind == "/":
        return first / second if second else None
    return {
        "minus": -first, "| |": abs(first), "+": first + second, "-": first - second,
        "*": first * second,
    }[kind]  # fmt: skip


def sides_at(line: Line, a: Fraction, b: Fraction) -> str:
    """A sentence that plugs the half-axes in and says what is not so.

    line: as read; a, b: with which it fails.
    """
    one, other = _shown(a), _shown(b)
    if one == other:
        one, other = f"{float(a):.16g}", f"{float(b):.16g}"
    where = f"With a = {one} and b = {other}"
    sides = values(line, a, b)
    if sides is None:
        return f"{where} a side has no value: a root of something negative, or a division by 0."
    left, right, equal = sides
    words = {
        ">": "greater than", "<": "less than", "≥": "at least", "≤": "at most", "=": "equal to",
        "≠": "different from",
    }[line.sign]  # fmt: skip
    one, other = _told(left), _told(right)
    if one == other and not equal:
        from mpmath import mp

        one, other = (mp.nstr(_many(side), 17).removesuffix(".0") for side in (left, right))
    return (
        f"{where} the left side is {one} and the right side {other}; {one} is not {words} {other}."
    )


def _value(node: Node, numbers: dict[str, Any]) -> Any:
    from mpmath import mp, mpf

    kind = node.kind
    if kind == "number":
        value = node.value
        assert isinstance(value, Fraction)
        return mpf(value.numerator) / value.denominator
    if kind == "name":
        a, b = numbers["a"], numbers["b"]
        return {
            "a": a,
            "b": b,
            "π": +mp.pi,
            "A_tape": mp.pi * (a * a + b * b) / 2,
            "A_cal": mp.pi * a * b,
            "G": 2 * mp.pi * mp.sqrt((a * a + b * b) / 2),
        }[str(node.value)]
    parts = [_value(part, numbers) for part in node.parts]
    if any(part is None for part in parts):
        return None
    first = parts[0]
    if kind == "minus":
        return -first
    if kind == "| |":
        return abs(first)
    if kind == "√" or kind == "^":
        power = Fraction(1, 2) if kind == "√" else node.value
        assert isinstance(power, Fraction)
        if (power.denominator == 2 and first < 0) or (power < 0 and not first):
            return None
        return mp.sqrt(first) ** power.numerator if power.denominator == 2 else first ** int(power)
    second = parts[1]
    if kind in ("+", "-"):
        # what cancels to the last digits is zero
        rest = first + second if kind == "+" else first - second
        return rest if abs(rest) > abs(first) * mpf(10) ** -(_DIGITS - 10) else mpf(0)
    if kind == "*":
        return first * second
    return first / second if second else None


def _shown(number: Fraction) -> str:
    whole = number.denominator == 1 and number < 10**12
    return str(number) if whole else f"{float(number):.10g}"


def _told(value: Any) -> str:
    from mpmath import mp, mpf

    size = _many(value)
    short = abs(size) < mpf(10) ** 300
    return (f"{float(size):.6g}" if short else mp.nstr(size, 6)).replace("-", "−")


def _many(value: Any) -> Any:
    """A number of mpmath, also of a fraction."""
    from mpmath import mpf

    return mpf(value.numerator) / value.denominator if isinstance(value, Fraction) else value
