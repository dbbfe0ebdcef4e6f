"""How numbers are written for people: a real minus sign, no negative zero, figures that count."""

from __future__ import annotations

import math


def signed(value: float, digits: int = 2) -> str:
    """A number with its sign and no negative zero.

    value: any unit; digits: after the point.

    >>> signed(-0.0001), signed(1.876), signed(-20.0)
    ('0.00', '+1.88', '−20.00')
    """
    text = f"{value:+.{digits}f}"
    return f"{0:.{digits}f}" if float(text) == 0 else minus(text)


def apart(value: float, from_value: float, digits: int = 2) -> str:
    """By how much a number is off another, so that it agrees with the two as they are printed.

    value, from_value: in the same unit; digits: after the point, of all three.

    >>> signed(134.8351 - 132.0249), apart(134.8351, 132.0249)
    ('+2.81', '+2.82')
    """
    return signed(round(value, digits) - round(from_value, digits), digits)


def minus(text: str) -> str:
    """A number that is already written, with a real minus for each plain one.

    text: the number alone, without words, since their hyphens would change as well.

    >>> minus("-31.5"), minus("-1e-05"), minus("31.5")
    ('−31.5', '−1e−05', '31.5')
    """
    return text.replace("-", "−")


def digits_of(u: float) -> int:
    """Digits after the point at which two figures of a number are shown.

    u: in any unit, 0 or above.

    >>> digits_of(0.382), digits_of(7.6), digits_of(38.0)
    (2, 1, 0)
    """
    return max(0, 1 - int(f"{u:.1e}".split("e")[1])) if u > 0 else 1


def rounded(value: float, figures: int) -> str:
    """A number to some significant figures, written without a power of ten where that is short.

    value: in any unit; figures: how many.

    >>> rounded(7853.98, 3), rounded(0.0785398, 3), rounded(1.23456e-7, 2)
    ('7850', '0.0785', '1.2e-07')
    """
    if value == 0:
        return "0"
    size = math.floor(math.log10(abs(value)))
    kept = round(value, figures - 1 - size)
    if -5 <= size <= 9:
        return f"{kept:.{max(0, figures - 1 - size)}f}"
    return f"{kept:.{figures - 1}e}"
