"""Lines with ≠, and squares: from "a and b differ" to "this square is above zero" and back.

That a − b ≠ 0 gives (a − b)² > 0 is the one place where a ≠ b enters the proof. It counts only
where the square is seen: a reader does not see it in a² − 2ab + b².
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from mensura.teaching.proof.algebra import Algebra
from mensura.teaching.proof.bounds import A_LONGER, ANY
from mensura.teaching.proof.notation import Line, Node
from mensura.teaching.proof.signs import order_at, signs_of
from mensura.teaching.proof.verdict import EQUIVALENT, UNRELATED, WEAKER, Claim, Verdict, a_step

#: A line with ≠ that has more terms than this is no step that a student takes.
_MOST_TERMS = 24


def with_unequal(algebra: Algebra, before: Claim, claim: Claim, region: str) -> Verdict:
    """The verdict where one of the two lines says ≠.

    algebra: which made both; before, claim: the lines; region: where they are meant to hold.
    """
    for one in (before.difference, claim.difference):
        weights = [algebra.weight(poly) for poly in (one.numer, one.denom)]
        if None in weights or len(one.numer) > _MOST_TERMS:
            return Verdict(
                UNRELATED,
                "No numbers were found with which it fails; but it is not made from the line "
                "above by one move. What is missing: a simpler line, like a − b ≠ 0.",
            )
    ratio = algebra.over(claim.difference, before.difference)
    signs = signs_of(algebra, ratio)
    if before.sign == claim.sign:
        if (
            signs is not None
            and not signs.taken & {0, 2}
            and vanish_alike(algebra, before.difference, claim.difference)
        ):
            return a_step(EQUIVALENT, "one difference is zero exactly where the other is")
        return Verdict(UNRELATED, "It does not say of the same things that they differ.")
    if claim.sign == "≠":
        squared = algebra.over(before.difference, algebra.power(claim.difference, 2))
        square_signs = signs_of(algebra, squared)
        if before.strict and square_signs is not None and square_signs.positive:
            if not shows_square(before.line):
                return Verdict(
                    UNRELATED,
                    "True; but a reader cannot see it from the line above. What is missing: that "
                    "line written as a square, like (a − b)² > 0.",
                )
            return a_step(EQUIVALENT, "A square is above zero exactly where its root is not zero")
        apart = signs is not None and signs.taken <= {1, -1}
        if before.strict and apart and vanish_alike(algebra, before.difference, claim.difference):
            return a_step(WEAKER, "what is above zero is not zero", "It says less: no side.")
        return Verdict(UNRELATED, "That they differ does not come from the line above.")
    if region != ANY and algebra.over(claim.difference, _axes(algebra, region)).numer.is_ground:
        return a_step(EQUIVALENT, f"it is what was said first: {region}")
    squared = algebra.over(claim.difference, algebra.power(before.difference, 2))
    square_signs = signs_of(algebra, squared)
    first, second = (order_at(algebra, c.difference, "equal") for c in (before, claim))
    if square_signs is not None and square_signs.positive and first and second:
        if not shows_square(claim.line):
            return Verdict(
                UNRELATED,
                "True; but a reader cannot see it from a ≠ b. What is missing: write it as a "
                "square first, like (a − b)² > 0.",
            )
        if claim.strict:
            return a_step(EQUIVALENT, "the square of what is not zero is above zero")
        return a_step(WEAKER, "A square is never negative; since a ≠ b it is even above zero")
    return Verdict(
        UNRELATED,
        "True, but it does not use that the half-axes differ. What is missing: a line that is a "
        "square, like (a − b)² > 0.",
    )


def _axes(algebra: Algebra, region: str) -> Any:
    longer = algebra.x**2 - algebra.y**2
    return longer if region == A_LONGER else -longer


def shows_square(line: Line) -> bool:
    """Whether a line shows at sight that it holds: a square, or a size, above (or at least) zero.

    line: as read.

    >>> from mensura.teaching.proof.notation import read_line
    >>> shows_square(read_line("0 < 2(a - b)^2")), shows_square(read_line("a² + b² > 2ab"))
    (True, False)
    """
    left, sign, right = line.left, line.sign, line.right
    if sign in "<≤":
        left, right = right, left
    if right.kind != "number" or right.value != 0 or sign in "=≠":
        return False
    return _even(left)


def _even(node: Node) -> bool:
    """A product of squares, sizes and what is positive at sight, at least one of the first two."""
    if node.kind == "| |":
        return True
    if node.kind == "^":
        value = node.value
        assert isinstance(value, Fraction)
        return value.denominator == 1 and value % 2 == 0 and value > 0 and not node.constant
    if node.kind in ("*", "/"):
        return any(_even(part) for part in node.parts) and all(
            _even(part) or _plainly_positive(part) for part in node.parts
        )
    return False


def _plainly_positive(node: Node) -> bool:
    return all(
        each.kind not in ("-", "minus") and not (each.kind == "number" and not each.value)
        for each in node.walk()
    )


def vanish_alike(algebra: Algebra, before: Any, after: Any) -> bool:
    """Whether neither difference is zero where a = b, or both are.

    algebra: which made both; before, after: differences of sides.
    """
    first, second = (order_at(algebra, one, "equal") for one in (before, after))
    return first == second or bool(first and second and first > 0 and second > 0)
