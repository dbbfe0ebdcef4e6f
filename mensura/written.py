"""How numbers are written for people: a real minus sign, and no negative zero."""

from __future__ import annotations


def signed(value: float, digits: int = 2) -> str:
    """A number with its sign and no negative zero.

    value: any unit; digits: after the point.

    >>> signed(-0.0001), signed(1.876), signed(-20.0)
    ('0.00', '+1.88', '−20.00')
    """
    text = f"{value:+.{digits}f}"
    return f"{0:.{digits}f}" if float(text) == 0 else text.replace("-", "−")
