"""How numbers are written for people: a real minus sign, and no negative zero."""

from __future__ import annotations


def signed(value: float, digits: int = 2) -> str:
    """A number with its sign and no negative zero.

    value: any unit; digits: after the point.

    >>> signed(-0.0001), signed(1.876), signed(-20.0)
    ('0.00', '+1.88', '−20.00')
    """
    text = f"{value:+.{digits}f}"
    return f"{0:.{digits}f}" if float(text) == 0 else minus(text)


def minus(text: str) -> str:
    """A number that is already written, with a real minus for each plain one.

    text: the number alone, without words, since their hyphens would change as well.

    >>> minus("-31.5"), minus("-1e-05"), minus("31.5")
    ('−31.5', '−1e−05', '31.5')
    """
    return text.replace("-", "−")
