"""Is a student's line a step from the line before it? Six verdicts, each with its reason.

A line counts as a step only if its *difference of sides* hangs together with the last one's: a
positive multiple of it (equivalent), such a multiple with something not negative added (weaker), or
the other way round (stronger). That both lines are true is not enough: since a ≠ b makes all of
them true, bare logic would call any true line a step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from mensura.checks import MeasureError
from mensura.teaching.proof.algebra import MIXED, Algebra, dimension
from mensura.teaching.proof.bounds import A_LONGER, ANY, B_LONGER, TooInvolved, Undefined
from mensura.teaching.proof.examples import counterexample, sides_at
from mensura.teaching.proof.formula import formula
from mensura.teaching.proof.notation import Line, Unreadable, read_line
from mensura.teaching.proof.remainder import Remainder, disagree, find_remainder
from mensura.teaching.proof.signs import Signs, order_at, signs_of
from mensura.teaching.proof.unequal import shows_square, vanish_alike, with_unequal
from mensura.teaching.proof.verdict import (
    EQUIVALENT,
    FALSE,
    LONGER,
    STRONGER,
    UNREADABLE,
    UNRELATED,
    VERDICTS,
    WEAKER,
    Claim,
    Verdict,
    a_step,
)

__all__ = ["VERDICTS", "Verdict", "judge", "read_assumptions", "shows_square"]


def judge(line: str, after: str, assume: Sequence[str] = ()) -> Verdict:
    """The verdict on a line that stands after another one, for a > 0, b > 0, a ≠ b.

    line, after: as they were typed; assume: what was said first: "a > b" or "b > a" (which
    half-axis is the longer), "a ≠ b" (its use is cited, so that ≥ may become >).
    Raises MeasureError for another assumption; a line that cannot be read is a verdict.

    >>> judge("a^2 + b^2 > 2ab", "(a-b)^2 > 0").verdict
    'equivalent'
    >>> judge("a > b", "(a-b)^2 > 0").counterexample
    {'a': 1.0, 'b': 2.0}
    """
    region, cited = read_assumptions(assume)
    try:
        last = read_line(after)
    except Unreadable as error:
        return Verdict(UNREADABLE, f"The line before cannot be read. {_sentence(error)}")
    try:
        new = read_line(line)
    except Unreadable as error:
        return Verdict(UNREADABLE, _sentence(error), place=error.place)
    remark = _remark(new)
    try:
        found = _judged(last, new, region, cited)
        if found.verdict == WEAKER and counterexample(last, region) is not None:
            remark = f"{remark} Mind that the line before is itself not true.".strip()
    except TooInvolved as error:
        found = Verdict(UNREADABLE, f"Place 1: the line is too involved: {error.says}", place=1)
    return replace(found, remark=remark, read_as=new.read_as)


def read_assumptions(assume: Sequence[str]) -> tuple[str, bool]:
    """Where the lines are meant to hold, and whether a ≠ b is cited.

    assume: the assumptions as typed. Raises MeasureError for one that is not known.

    >>> read_assumptions(["b < a", "a != b"])
    ('a > b', True)
    """
    region, cited = ANY, False
    for text in assume:
        try:
            line = read_line(text)
        except Unreadable:
            line = None
        sides = (line.left.value, line.sign, line.right.value) if line else ()
        if sides in (("a", ">", "b"), ("b", "<", "a")):
            this = A_LONGER
        elif sides in (("b", ">", "a"), ("a", "<", "b")):
            this = B_LONGER
        elif sides in (("a", "≠", "b"), ("b", "≠", "a")):
            cited = True
            continue
        elif sides in (("a", ">", Fraction(0)), ("b", ">", Fraction(0))):
            continue
        else:
            raise MeasureError("assume", text, "", "one of: a > b, b > a, a ≠ b")
        if region not in (ANY, this):
            raise MeasureError("assume", text, "", "one longer half-axis, not both")
        region = this
    return region, cited


# ---- one line after another ----------------------------------------------------------------------


def _judged(last: Line, new: Line, region: str, cited: bool) -> Verdict:
    wrong = _found_false(new, region)
    if wrong:
        return wrong
    algebra = Algebra(region)
    try:
        claim = _claim(algebra, new)
    except Undefined as error:
        return Verdict(
            FALSE, f"The line has no value: {error.says}", counterexample={"a": 2.0, "b": 1.0}
        )
    try:
        before = _claim(algebra, last)
    except Undefined as error:
        return Verdict(UNRELATED, f"The line before has no value: {error.says}")
    true = _true(algebra, claim)
    if true is False:
        wrong = _found_false(new, region, signs_of(algebra, claim.difference))
        if wrong:
            return wrong
    if claim.sign == "=":
        return Verdict(
            UNRELATED,
            "Both sides are the same for all a and b. Such an identity helps to rewrite a line; it "
            "is no step of its own. What is missing: the line above, rewritten with it.",
        )
    if not claim.difference:
        return Verdict(UNRELATED, "Both sides are the same, so the line says nothing.")
    if before.sign == "=" or not before.difference:
        return Verdict(
            UNRELATED,
            "The line before says nothing about which side is the greater, so nothing follows "
            "from it. What is missing: a line with > to start from.",
        )
    if "≠" in (claim.sign, before.sign):
        return with_unequal(algebra, before, claim, region)
    return _compared(algebra, before, claim, true, cited)


def _claim(algebra: Algebra, line: Line) -> Claim:
    left, right = algebra.of(line.left), algebra.of(line.right)
    if line.sign in "<≤":
        left, right = right, left
    sign = {"<": ">", "≤": "≥"}.get(line.sign, line.sign)
    return Claim(line, algebra.plus(left, -right), sign)


def _true(algebra: Algebra, claim: Claim) -> bool | None:
    """Whether a claim holds wherever it should; None if that could not be decided."""
    signs = signs_of(algebra, claim.difference)
    if signs is None:
        return None
    if claim.sign == "=":
        return signs.taken == {0}
    allowed = {">": {1}, "≥": {0, 1}, "≠": {-1, 1}}[claim.sign]
    if signs.taken <= allowed:
        return True
    return False if signs.cells else None


def _found_false(line: Line, region: str, signs: Signs | None = None) -> Verdict | None:
    """The verdict on a line that fails, with numbers, or None if no numbers were found."""
    pair = counterexample(line, region, signs)
    if pair is None:
        return None
    why = sides_at(line, *pair)
    if line.sign in "<>" and _holds(_with_sign(line, "≤" if line.sign == "<" else "≥"), region):
        why += f" With {'≤' if line.sign == '<' else '≥'} in place of {line.sign} it would hold."
    elif region == ANY:
        for other, sentence in ((A_LONGER, LONGER), (B_LONGER, "let b be the longer half-axis")):
            if counterexample(line, other) is None and _holds(line, other):
                why += (
                    f" It would hold after the sentence ‘{sentence}’ ({other}), which is missing: "
                    "say it first."
                )
                break
    return Verdict(FALSE, why, counterexample={"a": float(pair[0]), "b": float(pair[1])})


def _holds(line: Line, region: str) -> bool:
    try:
        algebra = Algebra(region)
        return _true(algebra, _claim(algebra, line)) is True
    except (TooInvolved, Undefined):
        return False


def _with_sign(line: Line, sign: str) -> Line:
    return Line(line.left, sign, line.right)


def _compared(
    algebra: Algebra, before: Claim, claim: Claim, true: bool | None, cited: bool
) -> Verdict:
    """Both lines say > or ≥."""
    share = _share(algebra, before.difference, claim.difference)
    if share is not None:
        return _same(algebra, before, claim, share, cited)
    added = find_remainder(algebra, before.difference, claim.difference)
    if added is not None and _carries(algebra, before, claim, added, cited):
        return a_step(
            WEAKER,
            f"the difference of the sides is {_times(added)}the last line's, plus {added.words}, "
            "which is never negative",
            "So it follows from the last line; but it says less, and is not enough to show it.",
        )
    taken = find_remainder(algebra, claim.difference, before.difference)
    if taken is not None and true and _carries(algebra, claim, before, taken, False):
        return a_step(
            STRONGER,
            f"the last line's difference of sides is {_times(taken)}this one's, plus "
            f"{taken.words}, which is never negative",
            "So it is enough to show the last line; but it says more, and does not follow from it.",
        )
    return Verdict(UNRELATED, _missing(algebra, before, claim, true))


def _share(algebra: Algebra, before: Any, after: Any) -> Any:
    """after / before if that is certainly positive, and both vanish alike where a = b."""
    if not vanish_alike(algebra, before, after) or disagree(algebra, before, after):
        return None
    share = algebra.over(after, before)
    signs = signs_of(algebra, share)
    return share if signs is not None and signs.positive else None


def _same(algebra: Algebra, before: Claim, claim: Claim, share: Any, cited: bool) -> Verdict:
    how = _how(algebra, before, claim, share)
    if before.strict == claim.strict:
        return a_step(EQUIVALENT, how)
    if before.strict:
        less = "But > became ≥: that follows, and says less, since it allows equality."
        return a_step(WEAKER, how, less)
    if cited:
        return a_step(EQUIVALENT, how, "The sides are equal only where a = b; you cite a ≠ b.")
    return a_step(
        STRONGER,
        how,
        "But ≥ became >: that needs a ≠ b. Cite it, and the line follows; without it the line is "
        "only enough to show the last one.",
        lacks_unequal=True,
    )


def _how(algebra: Algebra, before: Claim, claim: Claim, share: Any) -> str:
    """How a line came from the one before it, as a clause."""
    if share == algebra.field.one:
        if claim.line.sides_read == before.line.sides_read:
            return "it is the last line again"
        return "both lines have the same difference of sides: it was rearranged"
    power = _power_between(algebra, before.line, claim.line)
    if power is not None:
        name = {
            Fraction(2): "squared", Fraction(1, 2): "replaced by their square roots",
        }.get(power, f"raised to the power {power}")  # fmt: skip
        return (
            f"both sides were {name}; neither is negative, and then the greater side stays the "
            "greater"
        )
    text = formula(algebra, share)
    if text is None:
        return (
            "the difference of the sides is the last line's times a quantity that is positive for "
            "all a and b"
        )
    return f"the difference of the sides is {text} times the last line's, and {text} is positive"


def _power_between(algebra: Algebra, last: Line, new: Line) -> Fraction | None:
    """The power p, other than 1, with new sides = factor · (last sides)^p, if there is one."""
    ordered = []
    for line in (last, new):
        sides = [algebra.of(line.left), algebra.of(line.right)]
        ordered.append(sides if line.sign in ">≥" else sides[::-1])
    (great, small), (greater, smaller) = ordered
    if not (great and greater):
        return None
    for power in (Fraction(2), Fraction(1, 2), Fraction(3), Fraction(4), Fraction(1, 4)):
        up, root = power.numerator, power.denominator
        if not small and not smaller:
            ratio = algebra.over(algebra.power(greater, root), algebra.power(great, up))
            if not algebra.letters(ratio.numer) | algebra.letters(ratio.denom):
                return power
        elif small and smaller:
            first = algebra.power(algebra.over(greater, smaller), root)
            if first == algebra.power(algebra.over(great, small), up):
                return power
    return None


def _carries(
    algebra: Algebra, from_line: Claim, to_line: Claim, rest: Remainder, cited: bool
) -> bool:
    """Whether from_line gives to_line when its multiple and a remainder make it up."""
    if from_line.strict or not to_line.strict:
        return True
    # from ≥ to >: the remainder must be above 0 itself, or a ≠ b must be cited
    return cited or rest.positive


def _times(rest: Remainder) -> str:
    return "" if rest.factor == "1" else f"{rest.factor} times "


# ---- words ---------------------------------------------------------------------------------------


def _sentence(error: Unreadable) -> str:
    return f"Place {error.place}: {error.says}" if error.place else error.says


def _remark(line: Line) -> str:
    first, second = dimension(line.left), dimension(line.right)
    odd = MIXED in (first, second) or (None not in (first, second) and first != second)
    if not odd:
        return ""
    return (
        "The terms have different dimensions (a length, an area, a plain number): odd for a line "
        "about areas, since it would change with the unit."
    )


def _missing(algebra: Algebra, before: Claim, claim: Claim, true: bool | None) -> str:
    """What an unrelated line lacks."""
    if true is None:
        return (
            "No numbers were found with which it fails, but it could not be shown to hold for all "
            "a and b either, nor to come from the last line. What is missing: a line whose "
            "terms have one dimension, made from the last line by one move."
        )
    first, second = (order_at(algebra, one.difference, "equal") for one in (before, claim))
    if first and second == 0:
        return (
            "True, but true where a = b as well: it does not carry what the last line says. What "
            "is missing: a move from the last line to this one (both sides times something "
            "positive, the same added to both, roots or squares of both)."
        )
    if second and first == 0:
        return (
            "True, but it needs that a and b differ, and the last line does not say so. What is "
            "missing: where a ≠ b comes in."
        )
    return (
        "True, but its difference of sides is no positive multiple of the last line's, with or "
        "without something positive added. What is missing: the steps between."
    )
