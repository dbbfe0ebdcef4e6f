"""Sixty-six lines as students would write them, each with the lecturer's verdict and its reason.

Written from the definitions of the verdicts, before and without the code that judges. Beside each
line stand its two sides once more, as plain Python with every bracket, so that what a line says
about numbers can be checked without the parser. `places` are the positions in an unreadable line
(first character 1) that a reply may point at.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi, sqrt
from typing import NamedTuple

Sides = Callable[[float, float], tuple[float, float]]


class StudentLine(NamedTuple):
    """One line of a student's proof, the line it was written after, and what a lecturer says."""

    after: str
    line: str
    verdict: str
    reason: str
    sign: str = ""
    sides: Sides | None = None
    assume: tuple[str, ...] = ()
    places: tuple[int, ...] = ()


#: The two sides of every line that something was written after: greater first.
LAST_LINES: dict[str, Sides] = {
    "A_tape > A_cal": lambda a, b: (pi * (a * a + b * b) / 2, pi * a * b),
    "A_tape ≥ A_cal": lambda a, b: (pi * (a * a + b * b) / 2, pi * a * b),
    "A_tape > 3ab": lambda a, b: (pi * (a * a + b * b) / 2, 3 * a * b),
    "π(a² + b²)/2 > πab": lambda a, b: (pi * (a * a + b * b) / 2, pi * a * b),
    "√((a² + b²)/2) > √(ab)": lambda a, b: (sqrt((a * a + b * b) / 2), sqrt(a * b)),
    "a^2 + b^2 > 2ab": lambda a, b: (a * a + b * b, 2 * a * b),
    "a² + b² ≥ 2ab": lambda a, b: (a * a + b * b, 2 * a * b),
    "a² + b² > ab": lambda a, b: (a * a + b * b, a * b),
    "a² + b² > 0": lambda a, b: (a * a + b * b, 0.0),
    "(a - b)^2 > 0": lambda a, b: ((a - b) ** 2, 0.0),
    "(a + b)² > 0": lambda a, b: ((a + b) ** 2, 0.0),
    "(a + b)² > 2ab": lambda a, b: ((a + b) ** 2, 2 * a * b),
    "(a + b)² > 4ab": lambda a, b: ((a + b) ** 2, 4 * a * b),
    "a + b > 2√(ab)": lambda a, b: (a + b, 2 * sqrt(a * b)),
    "a + b > √(ab)": lambda a, b: (a + b, sqrt(a * b)),
    "a > b": lambda a, b: (a, b),
    "b > a": lambda a, b: (b, a),
    "2a > b": lambda a, b: (2 * a, b),
    "a ≠ b": lambda a, b: (abs(a - b), 0.0),
}

TAPE, SQUARES, MEANS, DIFFERENCE = (
    "A_tape > A_cal",
    "π(a² + b²)/2 > πab",
    "a^2 + b^2 > 2ab",
    "(a - b)^2 > 0",
)

EQUIVALENT = [
    StudentLine(
        *(TAPE, "pi (a^2 + b^2) / 2 > pi a b", "equivalent"),
        "Both areas are only written out.",
        *(">", lambda a, b: (pi * (a * a + b * b) / 2, pi * a * b)),
    ),
    StudentLine(
        *(SQUARES, "(a² + b²)/2 > ab", "equivalent"),
        "Both sides were divided by π, which is positive.",
        *(">", lambda a, b: ((a * a + b * b) / 2, a * b)),
    ),
    StudentLine(
        *(SQUARES, "2·π·a·b<π·(a²+b²)", "equivalent"),
        "Both sides were doubled and then swapped, with the sign turned round.",
        *("<", lambda a, b: (2 * pi * a * b, pi * (a * a + b * b))),
    ),
    StudentLine(
        *(MEANS, "(a−b)² > 0", "equivalent"),
        "2ab was taken to the left, and the three terms are the square of a − b.",
        *(">", lambda a, b: ((a - b) ** 2, 0.0)),
    ),
    StudentLine(
        *(MEANS, "2ab - a^2 - b^2 < 0", "equivalent"),
        "Everything was taken to the other side, so that the sign turns round.",
        *("<", lambda a, b: (2 * a * b - a * a - b * b, 0.0)),
    ),
    StudentLine(
        *(DIFFERENCE, "0,5a² + 0,5b² > ab", "equivalent"),
        "The square was multiplied out, halved, and ab taken to the right.",
        *(">", lambda a, b: (0.5 * a * a + 0.5 * b * b, a * b)),
    ),
    StudentLine(
        *(MEANS, "a/b + b/a > 2", "equivalent"),
        "Both sides were divided by ab, which is positive.",
        *(">", lambda a, b: (a / b + b / a, 2.0)),
    ),
    StudentLine(
        *(MEANS, "(a + b)^2 > 4 × a × b", "equivalent"),
        "2ab was added to both sides.",
        *(">", lambda a, b: ((a + b) ** 2, 4 * a * b)),
    ),
    StudentLine(
        *("(a + b)² > 4ab", "(a+b)/2 > sqrt(ab)", "equivalent"),
        "Both sides are positive, their roots were taken, and the roots halved.",
        *(">", lambda a, b: ((a + b) / 2, sqrt(a * b))),
    ),
    StudentLine(
        *("√((a² + b²)/2) > √(ab)", "1/2 a² + 1/2 b² > a × b", "equivalent"),
        "Both sides are positive and were squared.",
        *(">", lambda a, b: (a * a / 2 + b * b / 2, a * b)),
    ),
    StudentLine(
        *(DIFFERENCE, "|a − b| > 0", "equivalent"),
        "The root of both sides was taken, and the root of a square is the absolute value.",
        *(">", lambda a, b: (abs(a - b), 0.0)),
    ),
    StudentLine(
        *(TAPE, "A_tape / A_cal > 1", "equivalent"),
        "Both sides were divided by the calipers' area, which is positive.",
        *(">", lambda a, b: ((pi * (a * a + b * b) / 2) / (pi * a * b), 1.0)),
    ),
    StudentLine(
        *(MEANS, "a^3 + b^3 > a^2 b + a b^2", "equivalent"),
        "Both sides times a + b, with a²b + ab² taken off both.",
        *(">", lambda a, b: (a**3 + b**3, a * a * b + a * b * b)),
    ),
    StudentLine(
        *("a² + b² ≥ 2ab", "0 <= (b-a)^2", "equivalent"),
        "The same statement with 2ab moved and the sides swapped; the sign ≥ was kept.",
        *("<=", lambda a, b: (0.0, (b - a) ** 2)),
    ),
    StudentLine(
        *("a² + b² ≥ 2ab", "a² + b² > 2ab", "equivalent"),
        "The two sides are equal only where a = b, and a ≠ b was cited.",
        *(">", lambda a, b: (a * a + b * b, 2 * a * b)),
        assume=("a != b",),
    ),
    StudentLine(
        *("a > b", "a² − b² > 0", "equivalent"),
        "Both sides are positive and were squared, after it was said that a is the longer.",
        *(">", lambda a, b: (a * a - b * b, 0.0)),
        assume=("a > b",),
    ),
    StudentLine(
        *("a > b", "1/b > 1/a", "equivalent"),
        "Both sides were divided by ab, which is positive.",
        *(">", lambda a, b: (1 / b, 1 / a)),
        assume=("a > b",),
    ),
    StudentLine(
        *(MEANS, "1/a + 1/b > 4/(a + b)", "equivalent"),
        "The difference of its sides is (a − b)² over ab(a + b), which is positive.",
        *(">", lambda a, b: (1 / a + 1 / b, 4 / (a + b))),
    ),
    StudentLine(
        *("a ≠ b", "(a - b)² > 0", "equivalent"),
        "The square of a number is positive exactly where the number is not nought.",
        *(">", lambda a, b: ((a - b) ** 2, 0.0)),
    ),
]

WEAKER = [
    StudentLine(
        *(MEANS, "a² + b² ≥ 2ab", "weaker"),
        "> became ≥, which says less.",
        *(">=", lambda a, b: (a * a + b * b, 2 * a * b)),
    ),
    StudentLine(
        *(MEANS, "ab < a^2 + b^2", "weaker"),
        "The greater side lies ab further up than before, and ab is positive.",
        *("<", lambda a, b: (a * b, a * a + b * b)),
    ),
    StudentLine(
        *(DIFFERENCE, "(a + b)² > 0", "weaker"),
        "(a + b)² is (a − b)² and the positive remainder 4ab.",
        *(">", lambda a, b: ((a + b) ** 2, 0.0)),
    ),
    StudentLine(
        *(TAPE, "A_tape > 3ab", "weaker"),
        "3 is less than π, so that (π − 3)ab was given away.",
        *(">", lambda a, b: (pi * (a * a + b * b) / 2, 3 * a * b)),
    ),
    StudentLine(
        *(SQUARES, "a² + b² >= 2ab", "weaker"),
        "Multiplied by 2/π, but > became ≥.",
        *(">=", lambda a, b: (a * a + b * b, 2 * a * b)),
    ),
    StudentLine(
        *(MEANS, "√(ab)·(a² + b²) > ab·√(ab)", "weaker"),
        "Its difference is √(ab) times the last one, and the positive remainder ab√(ab).",
        *(">", lambda a, b: (sqrt(a * b) * (a * a + b * b), a * b * sqrt(a * b))),
    ),
    StudentLine(
        *("a + b > 2√(ab)", "(a+b)/sqrt(ab) > 1", "weaker"),
        "Divided by √(ab) the right side would be 2; 1 is less.",
        *(">", lambda a, b: ((a + b) / sqrt(a * b), 1.0)),
    ),
    StudentLine(
        *(MEANS, "a² + b² + 1 > 2ab", "weaker"),
        "1 was added to the greater side alone (a number beside areas: odd, and not wrong).",
        *(">", lambda a, b: (a * a + b * b + 1, 2 * a * b)),
    ),
    StudentLine(
        *("a > b", "2a > b", "weaker"),
        "The positive remainder a was added to the greater side.",
        *(">", lambda a, b: (2 * a, b)),
        assume=("a > b",),
    ),
]

STRONGER = [
    StudentLine(
        *("a² + b² > ab", "a²+b²>2ab", "stronger"),
        "Its difference is the last one less ab: true, but it does not follow from the last line.",
        *(">", lambda a, b: (a * a + b * b, 2 * a * b)),
    ),
    StudentLine(
        *("a² + b² ≥ 2ab", "a^2 + b^2 > 2*a*b", "stronger"),
        "≥ became >, and a ≠ b was not cited.",
        *(">", lambda a, b: (a * a + b * b, 2 * a * b)),
    ),
    StudentLine(
        *("A_tape > 3ab", "A_tape > A_cal", "stronger"),
        "π is more than 3, so that (π − 3)ab would have to be won.",
        *(">", lambda a, b: (pi * (a * a + b * b) / 2, pi * a * b)),
    ),
    StudentLine(
        *("(a + b)² > 0", "(a−b)² > 0", "stronger"),
        "(a + b)² is (a − b)² and 4ab more; without the 4ab it says more.",
        *(">", lambda a, b: ((a - b) ** 2, 0.0)),
    ),
    StudentLine(
        *("a² + b² > 0", "1/2(a² + b²) > ab", "stronger"),
        "Doubled, its difference is the last one less 2ab.",
        *(">", lambda a, b: ((a * a + b * b) / 2, a * b)),
    ),
    StudentLine(
        *("(a + b)² > 2ab", "4ab < (a+b)^2", "stronger"),
        "The lesser side rose by 2ab: still true, but it says more.",
        *("<", lambda a, b: (4 * a * b, (a + b) ** 2)),
    ),
    StudentLine(
        *("a + b > √(ab)", "(√a − √b)² > 0", "stronger"),
        "Multiplied out it is a + b > 2√(ab), which says √(ab) more than the last line.",
        *(">", lambda a, b: ((sqrt(a) - sqrt(b)) ** 2, 0.0)),
    ),
    StudentLine(
        *("2a > b", "a - b > 0", "stronger"),
        "Its difference is the last one less a; it holds since a was said to be the longer.",
        *(">", lambda a, b: (a - b, 0.0)),
        assume=("a > b",),
    ),
]

LEAP = [
    StudentLine(
        *(MEANS, "√((a²+b²)/2) > (a+b)/2", "leap"),
        "Squared, its difference is a quarter of (a − b)²: that line is to be written first.",
        *(">", lambda a, b: (sqrt((a * a + b * b) / 2), (a + b) / 2)),
    ),
    StudentLine(
        *(MEANS, "G > π(a + b)", "leap"),
        "The girth is 2π√((a² + b²)/2); to get there needs a root, and a square before it.",
        *(">", lambda a, b: (2 * pi * sqrt((a * a + b * b) / 2), pi * (a + b))),
    ),
    StudentLine(
        *("a > b", "A_tape > A_cal", "leap"),
        "The theorem at once: true, and every step of its proof is left out.",
        *(">", lambda a, b: (pi * (a * a + b * b) / 2, pi * a * b)),
        assume=("a > b",),
    ),
    StudentLine(
        *("a ≠ b", "a² + b² > 2ab", "leap"),
        "That the square of a − b is above nought is the step between.",
        *(">", lambda a, b: (a * a + b * b, 2 * a * b)),
    ),
    StudentLine(
        *(TAPE, "|a² − b²| > 0", "leap"),
        "Above nought for the same reason as the theorem, but not made from it by one move.",
        *(">", lambda a, b: (abs(a * a - b * b), 0.0)),
    ),
    StudentLine(
        *(MEANS, "a + b > 2√(ab)", "leap"),
        "2ab is to be added on both sides first; then the root is taken.",
        *(">", lambda a, b: (a + b, 2 * sqrt(a * b))),
    ),
    StudentLine(
        *(DIFFERENCE, "a^6 + b^6 > 2 a^3 b^3", "leap"),
        "It is (a³ − b³)² > 0: true, and it comes from a ≠ b once more, not from the last line.",
        *(">", lambda a, b: (a**6 + b**6, 2 * a**3 * b**3)),
    ),
]

UNRELATED = [
    StudentLine(
        *(MEANS, "a + b > 0", "unrelated"),
        "True of any two lengths, and no sum of a multiple of the last line and a remainder.",
        *(">", lambda a, b: (a + b, 0.0)),
    ),
    StudentLine(
        *(MEANS, "a × b > 0", "unrelated"),
        "True of any two lengths; the last line says nothing about it.",
        *(">", lambda a, b: (a * b, 0.0)),
    ),
    StudentLine(
        *(MEANS, "(a−b)² = a² − 2ab + b²", "unrelated"),
        "An identity, true whatever a and b are, and so no step from the last line.",
        *("=", lambda a, b: ((a - b) ** 2, a * a - 2 * a * b + b * b)),
    ),
    StudentLine(
        *(TAPE, "A_cal = π a b", "unrelated"),
        "What A_cal means; a definition does not follow from the theorem.",
        *("=", lambda a, b: (pi * a * b, pi * a * b)),
    ),
    StudentLine(
        *(DIFFERENCE, "(a+b)³ > a³ + b³", "unrelated"),
        "True since 3ab(a + b) is positive, which has nothing to do with a ≠ b.",
        *(">", lambda a, b: ((a + b) ** 3, a**3 + b**3)),
    ),
    StudentLine(
        *(MEANS, "|a−b| < a + b", "unrelated"),
        "True of any two lengths; it would hold for a = b just as well.",
        *("<", lambda a, b: (abs(a - b), a + b)),
    ),
    StudentLine(
        *(SQUARES, "π > 3", "unrelated"),
        "A true line about π and none about the axes.",
        *(">", lambda a, b: (pi, 3.0)),
    ),
]

FALSE = [
    StudentLine(
        *(MEANS, "a² + b² < 2ab", "false"),
        "The sign was turned round and the sides were not.",
        *("<", lambda a, b: (a * a + b * b, 2 * a * b)),
    ),
    StudentLine(
        *(DIFFERENCE, "a - b > 0", "false"),
        "It needs the sentence that a is the longer half-axis.",
        *(">", lambda a, b: (a - b, 0.0)),
    ),
    StudentLine(
        *("b > a", "a² > b²", "false"),
        "It was said that b is the longer.",
        *(">", lambda a, b: (a * a, b * b)),
        assume=("b > a",),
    ),
    StudentLine(
        *(TAPE, "A_cal > A_tape", "false"),
        "The sides were swapped and the sign was not turned round.",
        *(">", lambda a, b: (pi * a * b, pi * (a * a + b * b) / 2)),
    ),
    StudentLine(
        *(MEANS, "a^2+b^2 > (a+b)^2", "false"),
        "(a + b)² has the term 2ab too.",
        *(">", lambda a, b: (a * a + b * b, (a + b) ** 2)),
    ),
    StudentLine(
        *(MEANS, "(a − b)² = a² − b²", "false"),
        "A square was taken term by term; a² − b² is (a − b)(a + b).",
        *("=", lambda a, b: ((a - b) ** 2, a * a - b * b)),
    ),
    StudentLine(
        *(DIFFERENCE, "(a - b)^2 = 0", "false"),
        "This is so only where a = b, and a ≠ b is given.",
        *("=", lambda a, b: ((a - b) ** 2, 0.0)),
    ),
    StudentLine(
        *("√((a² + b²)/2) > √(ab)", "√(a² + b²) > a + b", "false"),
        "The root of a sum is less than the sum of the roots.",
        *(">", lambda a, b: (sqrt(a * a + b * b), a + b)),
    ),
    StudentLine(
        *(TAPE, "A_tape > 3,15ab", "false"),
        "3.15 is more than π, and for a nearly round section the gain is too small to pay for it.",
        *(">", lambda a, b: (pi * (a * a + b * b) / 2, 3.15 * a * b)),
    ),
    StudentLine(
        *(MEANS, "a² + b² > 2ab + 1", "false"),
        "The square of a small difference is less than 1.",
        *(">", lambda a, b: (a * a + b * b, 2 * a * b + 1)),
    ),
]

UNREADABLE = [
    StudentLine(
        *(MEANS, "(a² + b² > 2ab", "unreadable"),
        "The first bracket is never closed.",
        places=(1, *range(9, 16)),
    ),
    StudentLine(
        *(MEANS, "a² + c² > 2ac", "unreadable"),
        "Nobody has said what c is.",
        places=(6,),
    ),
    StudentLine(
        *(DIFFERENCE, "0 < (a-b)² < a²", "unreadable"),
        "Two relations in one line: one of them at a time.",
        places=(3, 12),
    ),
    StudentLine(
        *(DIFFERENCE, "a² - 2ab + b²", "unreadable"),
        "A line says that one thing is greater than another; here is no sign of relation.",
        places=(*range(1, 15),),
    ),
    StudentLine(
        *(MEANS, "a^2^2 + b^2^2 > 2a^2b^2", "unreadable"),
        "A power of a power can be read in two ways; a bracket would say which.",
        places=(4, 5),
    ),
    StudentLine(
        *(MEANS, "√ab < (a + b)/2", "unreadable"),
        "The root of a alone, or of ab? A bracket would say which.",
        places=(1, 2, 3),
    ),
]

LINES = [*EQUIVALENT, *WEAKER, *STRONGER, *LEAP, *UNRELATED, *FALSE, *UNREADABLE]

#: What a ⇒ step and a ⇐ step need, by verdict.
DIRECTIONS = {
    "equivalent": (True, True),
    "weaker": (True, False),
    "stronger": (False, True),
    "leap": (False, False),
    "unrelated": (False, False),
    "false": (False, False),
    "unreadable": (False, False),
}


def holds(sign: str, left: float, right: float, slack: float = 0.0) -> bool:
    """Whether left and right stand in the relation named by sign; slack is for rounding."""
    return {
        ">": left > right - slack,
        "<": left < right + slack,
        ">=": left >= right - slack,
        "<=": left <= right + slack,
        "=": abs(left - right) <= max(slack, 1e-12 * max(1.0, abs(left), abs(right))),
    }[sign]
