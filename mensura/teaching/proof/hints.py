"""Hints towards a next line of a student's proof, and a line that would do there.

The lines are those of a proof that a lecturer might write, from what is given to the theorem. They
are used for hints, never for a verdict; the judge is asked which of them may stand next.
"""

from __future__ import annotations

from typing import NamedTuple

from mensura.teaching.proof.algebra import Algebra
from mensura.teaching.proof.judge import judge, shows_square
from mensura.teaching.proof.limits import ANY, TooInvolved, Undefined
from mensura.teaching.proof.notation import Unreadable, read_line
from mensura.teaching.proof.verdict import EQUIVALENT

THEOREM = "A_tape > A_cal"
GIVEN = "a ≠ b"

#: The two areas by their names.
_AREAS = {"A_tape", "A_cal"}


class Expected(NamedTuple):
    """A line, and two hints each: the move to it from the line below it, and from the one above.

    upwards, downwards: of what kind the move is, and where to look.
    """

    line: str
    upwards: tuple[str, str]
    downwards: tuple[str, str]


#: The two areas by their names.
_AREAS = {"A_tape", "A_cal"}

#: A proof that a lecturer might write, from what is given to the theorem. With each line the move
#: that makes it from the line below, and the move that leads to it from the line above: of what
#: kind it is, and where to look. Used for hints, never for a verdict.
_EXPECTED = (
    Expected(GIVEN, ("", ""), ("", "")),
    Expected(
        "(a - b)² > 0",
        (
            "turn a ≠ b into a statement about something that is never negative.",
            "What do you know about the square of a number that is not zero? Take a − b.",
        ),
        (
            "three terms stand on one side: do they make a square?",
            "Compare a² − 2ab + b² with (a − b)(a − b).",
        ),
    ),
    Expected(
        "a² - 2ab + b² > 0",
        ("multiply the square out.", "(a − b)² has three terms; the middle one is −2ab."),
        (
            "bring everything to one side.",
            "Take the smaller side from both sides, so that 0 is left there.",
        ),
    ),
    Expected(
        "a² + b² > 2ab",
        ("move a term to the other side.", "Bring the term with the minus sign over."),
        ("divide both sides by something positive.", "Both sides hold π and a half: times 2/π."),
    ),
    Expected(
        "π(a² + b²)/2 > πab",
        (
            "multiply both sides by something positive.",
            "Both areas hold the factor π; the tape's is divided by 2. So: times π/2.",
        ),
        (
            "write both areas out.",
            "The tape's girth is G = 2π√((a² + b²)/2), its area G²/(4π); the calipers' is πab.",
        ),
    ),
    Expected(
        THEOREM,
        ("give both sides their names.", "Which area is π(a² + b²)/2, and which is πab?"),
        ("", ""),
    ),
)

#: Lines that help where none of those is a single move away, the lowest first: roots and
#: their squares.
_BRIDGES = (
    Expected(
        "(√a - √b)² > 0",
        ("turn a ≠ b into a square that is above zero.", "Take √a − √b."),
        ("bring everything to one side.", "a − 2√(ab) + b: do three terms make a square?"),
    ),
    Expected(
        "a + b > 2√(ab)",
        ("multiply the square out.", "(√a − √b)² has three terms; the middle one is −2√(ab)."),
        ("take the root of both sides.", "(a + b)² and 4ab are positive, and so are their roots."),
    ),
    Expected(
        "(a + b)² > 4ab",
        ("square both sides.", "Both are positive; the square of 2√(ab) is 4ab."),
        ("square both sides.", "Both are positive; the square of 2√(ab) is 4ab."),
    ),
    Expected(
        "(a² + b²)/2 > (a + b)²/4",
        ("square both sides.", "Both are positive; what are their squares?"),
        ("square both sides.", "Both are positive; what are their squares?"),
    ),
)


def next_line(text: str, down: bool, longer_axis: bool) -> Expected:
    """A line that would do next, with its hints.

    text: the line to go on from; down: whether what is enough to show it is wanted, not what
    follows; longer_axis: whether "let a be the longer half-axis" was said.
    """
    region = "a > b" if longer_axis else ANY
    assumed = (["a > b"] if longer_axis else []) + (["a ≠ b"] if text == GIVEN else [])
    at = _standing(text, down, longer_axis)
    first = max(at - 1, 1) if down else min(at + 1, len(_EXPECTED) - 1)
    order = [first, *(range(first + 1, 5) if down else range(first - 1, 0, -1))]
    tried = [_EXPECTED[place] for place in order]
    for each in (*tried, *(_BRIDGES if down else _BRIDGES[::-1])):
        if same_sides(each.line, text, region) and each is not tried[0]:
            continue
        verdict = judge(each.line, text, assumed)
        if verdict.backwards if down else verdict.forwards:
            return each
    return tried[0]


def _standing(text: str, down: bool, longer_axis: bool) -> int:
    """The expected line that a line amounts to: the same sides, or the nearest in form."""
    region = "a > b" if longer_axis else ANY
    found = [place for place, one in enumerate(_EXPECTED) if same_sides(text, one.line, region)]
    line = read_line(text)
    if found == [1, 2]:  # the same sides, once as a square and once multiplied out
        return 1 if shows_square(line) else 2
    if found == [4, 5]:  # the same areas, once written out and once by name
        return 5 if line.names & _AREAS else 4
    if found:
        return found[0]
    if line.sign == "≠" or (longer_axis and judge(text, "a > b", ["a > b"]).forwards
                            and not judge(text, "(a - b)² > 0").forwards):  # fmt: skip
        return 0
    if shows_square(line):
        return 1
    smaller = line.left if line.sign in "<≤" else line.right
    zero = smaller.kind == "number" and smaller.value == 0
    scaled = judge(text, "a² + b² > 2ab", ["a > b"] if longer_axis else [])
    times_pi = bool(line.names & {"π", *_AREAS})
    if zero:
        return 3 if down and times_pi else 2
    return 4 if down and times_pi and scaled.verdict == EQUIVALENT else 3


def same_sides(first: str, second: str, region: str) -> bool:
    """Whether two lines have the same two sides and the same sign between them.

    first, second: the lines; region: where they are meant to hold.
    """
    try:
        algebra = Algebra(region)
        one, other = read_line(first), read_line(second)
        if one.read_as == other.read_as:
            return True
        sides = []
        for line in (one, other):
            left, right = algebra.of(line.left), algebra.of(line.right)
            turned = line.sign in "<≤"
            sign = {"<": ">", "≤": "≥"}.get(line.sign, line.sign)
            sides.append((right, left, sign) if turned else (left, right, sign))
    except (Unreadable, TooInvolved, Undefined):
        return False
    return sides[0] == sides[1]
