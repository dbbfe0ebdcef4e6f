"""Lines with ≠, and squares: from "a and b differ" to "this square is above zero" and back.

That a − b ≠ 0 gives (a − b)² > 0 is the one place where a ≠ b enters the proof. It counts only
where the square is seen: a reader does not see it in a² − 2ab + b².
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from mensura.teaching.proof.algebra import Algebra
from mensura.teaching.proof.limits import A_LONGER, ANY, TooInvolved, Undefined
from mensura.teaching.proof.moves import named_factor, raised_to
from mensura.teaching.proof.notation import Line, Node
from mensura.teaching.proof.signs import order_at, signs_of
from mensura.teaching.proof.verdict import (
    EQUIVALENT,
    LEAP,
    UNRELATED,
    WEAKER,
    Claim,
    Verdict,
    a_step,
)

#: A line with ≠ that has more terms than this is no step that a student takes.
_MOST_TERMS = 24


def with_unequal(
    algebra: Algebra, before: Claim, claim: Claim, true: bool | None, by_last: bool
) -> Verdict:
    """The verdict where one of the two lines says ≠.

    algebra: which made both; before, claim: the lines; true: whether the new one holds; by_last:
    whether the line before says which half-axis is the longer, and nothing else does.
    """
    for one in (before.difference, claim.difference):
        weights = [algebra.weight(poly) for poly in (one.numer, one.denom)]
        if None in weights or len(one.numer) > _MOST_TERMS:
            return Verdict(
                UNRELATED,
                "No numbers were found with which it fails; but it is not made from the line "
                "above by one move. What is missing: a simpler line, like a − b ≠ 0.",
            )
    if before.sign == claim.sign:
        return _both(algebra, before, claim)
    if claim.sign == "≠":
        return _to_unequal(algebra, before, claim)
    region = algebra.region
    if region != ANY and not by_last:
        said = algebra.over(claim.difference, _axes(algebra, region))
        if said.numer.is_ground and said.denom.is_ground:
            return a_step(EQUIVALENT, f"it is what was said first: {region}")
    if shows_square(claim.line) and _is_square_of(algebra, claim, before):
        if claim.strict:
            return a_step(EQUIVALENT, "the square of what is not zero is above zero")
        return a_step(WEAKER, "A square is never negative; since a ≠ b it is even above zero")
    if true and _vanish_alike(algebra, before, claim):
        return Verdict(
            LEAP,
            "True, and it follows, but a reader does not see it from a ≠ b. Write the steps "
            "between: a square first, like (a − b)² > 0.",
        )
    return Verdict(
        UNRELATED,
        "True, but it does not use that the half-axes differ. What is missing: a line that is a "
        "square, like (a − b)² > 0.",
    )


def _both(algebra: Algebra, before: Claim, claim: Claim) -> Verdict:
    """Both lines say ≠."""
    if before.difference in (claim.difference, -claim.difference):
        return a_step(EQUIVALENT, "the sides differ by the same as before")
    for difference in (claim.difference, -claim.difference):
        if named_factor(algebra, before.difference, difference) is not None:
            return a_step(EQUIVALENT, "one difference is zero exactly where the other is")
    for great, small in ((claim.greater, claim.smaller), (claim.smaller, claim.greater)):
        turned = Claim(claim.line, great - small, "≠", great, small)
        how = raised_to(algebra, before, turned)
        if how is not None:
            return a_step(EQUIVALENT, how)
    if _vanish_alike(algebra, before, claim):
        return Verdict(
            LEAP, "True, and it follows, but by no single move: write the steps between."
        )
    return Verdict(UNRELATED, "It does not say of the same things that they differ.")


def _to_unequal(algebra: Algebra, before: Claim, claim: Claim) -> Verdict:
    if before.strict and shows_square(before.line) and _is_square_of(algebra, before, claim):
        return a_step(EQUIVALENT, "A square is above zero exactly where its root is not zero")
    if before.strict and any(
        named_factor(algebra, before.difference, difference) is not None
        for difference in (claim.difference, -claim.difference)
    ):
        return a_step(WEAKER, "what is above zero is not zero", "It says less: no side.")
    if before.strict and _vanish_alike(algebra, before, claim):
        return Verdict(
            LEAP,
            "True, and it follows; but a reader cannot see it from the line above. Write that line "
            "as a square first, like (a − b)² > 0.",
        )
    return Verdict(UNRELATED, "That they differ does not come from the line above.")


def longer_and_square(
    algebra: Algebra, before: Claim, claim: Claim, by_last: bool
) -> Verdict | None:
    """From a > b to a square that shows at sight, and back where a > b was said; else None.

    algebra: which made both, with a region; before, claim: the lines; by_last: as above.
    """
    if not (before.strict and claim.strict):
        return None
    axes = _axes(algebra, algebra.region)
    for line, square in ((before, claim), (claim, before)):
        if line is claim and by_last:
            return None
        if named_factor(algebra, axes, line.difference) is None or not shows_square(square.line):
            continue
        said = Claim(line.line, axes, "≠", axes, algebra.field.zero)
        if _is_square_of(algebra, square, said):
            how = f"since {algebra.region} the difference is not zero, and its square is above zero"
            return a_step(WEAKER if by_last else EQUIVALENT, how)
    return None


def _is_square_of(algebra: Algebra, square: Claim, unequal: Claim) -> bool:
    """Whether a difference is an even power, or the size, of another or of its sides' roots."""
    bases = [unequal.difference]
    try:
        roots = [algebra.root(side) for side in (unequal.greater, unequal.smaller)]
        bases.append(algebra.plus(roots[0], -roots[1]))
    except (TooInvolved, Undefined):
        pass
    whole = order_at(algebra, square.difference, "equal")
    for base in bases:
        part = order_at(algebra, base, "equal") if base else None
        if not whole or not part or part < 0:
            continue
        times = whole / part
        if times.denominator != 1 or not 0 < times <= _HIGHEST:
            continue
        even = times.numerator % 2 == 0
        power = algebra.power(base if even else algebra.size(base), times.numerator)
        if named_factor(algebra, power, square.difference) is not None:
            return True
    return False


#: The highest power that shows a square.
_HIGHEST = 12


def _axes(algebra: Algebra, region: str) -> Any:
    longer = algebra.x**2 - algebra.y**2
    return longer if region == A_LONGER else -longer


def _vanish_alike(algebra: Algebra, before: Claim, claim: Claim) -> bool:
    """Whether both differences are zero where a = b, and neither anywhere else."""
    for one in (before, claim):
        order = order_at(algebra, one.difference, "equal")
        signs = signs_of(algebra, one.difference)
        if not order or order < 0 or signs is None or signs.taken & {0, 2}:
            return False
    return True


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
