"""Where a line is meant to hold, and what makes it too involved, or leaves it without a value."""

from __future__ import annotations

#: Where a line is meant to hold: everywhere, or where one half-axis is the longer.
ANY, A_LONGER, B_LONGER = "a ≠ b", "a > b", "b > a"

#: More letters than this, or higher powers, and an answer would take too long.
MOST_ROOTS = 4
MOST_NUMBER_ROOTS = 4  # roots of plain numbers, √2 or √π's like, beside them
MOST_PRODUCTS = 400
MOST_TERMS = 160
HIGHEST_DEGREE = 24


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
