"""Is a student's line a step from the line before it? Seven verdicts, each with its reason.

A line is *equivalent* only if one move that can be undone leads to it, and the reply names the move
(:mod:`moves`). It is *weaker* or *stronger* if such a multiple of the one difference of sides and
something seen to be positive make up the other. What is true and follows, but by no single move, is
a *leap*: it proves nothing until the steps between are written. Since a ≠ b makes all of them true,
bare logic would call any true line a step.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction

from mensura.checks import MeasureError
from mensura.teaching.proof.algebra import MIXED, Algebra, dimension
from mensura.teaching.proof.examples import counterexample, counterexample_among, mixed, sides_at
from mensura.teaching.proof.limits import A_LONGER, ANY, B_LONGER, TooInvolved, Undefined
from mensura.teaching.proof.moves import named_factor, named_move
from mensura.teaching.proof.notation import Line, Unreadable, read_line
from mensura.teaching.proof.patience import OutOfTime, deciding
from mensura.teaching.proof.probes import places
from mensura.teaching.proof.remainder import Remainder, find_remainder, seen_remainder
from mensura.teaching.proof.signs import Signs, order_at, signs_of
from mensura.teaching.proof.unequal import longer_and_square, shows_square, with_unequal
from mensura.teaching.proof.verdict import (
    EQUIVALENT,
    FALSE,
    LEAP,
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
    cited = cited or new.cites_unequal
    try:
        with deciding():
            said = _said(last) if region == ANY else ANY
            found = _judged(last, new, region if said == ANY else said, cited, said != ANY)
            if found.verdict == WEAKER and said == ANY and counterexample(last, region):
                remark = f"{remark} Mind that the line before is itself not true.".strip()
            if said != ANY and found.verdict != FALSE:
                remark = f"{remark} {_GRANTED.format(said)}".strip()
    except TooInvolved as error:
        found = Verdict(UNREADABLE, f"Place 1: the line is too involved: {error.says}", place=1)
    except OutOfTime:
        found = Verdict(UNREADABLE, _NOT_IN_TIME, place=1)
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


_GRANTED = "This goes on from {0}, which holds only if it was said first."

_NOT_IN_TIME = (
    "Place 1: the line is too involved: it could not be decided in time; expected a shorter one, "
    "with lower powers or fewer roots."
)


def _said(last: Line) -> str:
    """The region that the line before says itself: after a > b, a is the longer half-axis."""
    if last.sign not in "<>" or not {"a", "b"} <= last.names:
        return ANY
    algebra = Algebra()
    try:
        difference = _claim(algebra, last).difference
        if not difference:
            return ANY
        axes = algebra.x**2 - algebra.y**2
        for region, longer in ((A_LONGER, axes), (B_LONGER, -axes)):
            if named_factor(algebra, longer, difference) is not None:
                return region
    except (TooInvolved, Undefined):
        pass
    return ANY


# ---- one line after another ----------------------------------------------------------------------


def _judged(last: Line, new: Line, region: str, cited: bool, by_last: bool) -> Verdict:
    """by_last: whether it is the line before that says the region, and nothing else does."""
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
    if true is not True and mixed(new) and claim.difference:
        pair = counterexample_among(new, region, places(algebra, claim.difference, claim.sign))
        if pair is not None:
            return _false(new, region, pair)
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
    if _says_nothing(algebra, before, claim):
        return Verdict(UNRELATED, _OF_NUMBERS)
    if "≠" in (claim.sign, before.sign):
        return with_unequal(algebra, before, claim, true, by_last)
    if region != ANY:
        found = longer_and_square(algebra, before, claim, by_last)
        if found is not None:
            return found
    return _compared(algebra, before, claim, true, cited)


_OF_NUMBERS = (
    "A line whose sides differ by a plain number says nothing about a and b: it leads nowhere, and "
    "it needs no line before it. What is missing: a move from the last line to this one."
)


def _says_nothing(algebra: Algebra, before: Claim, claim: Claim) -> bool:
    """Whether one of two different lines compares nothing but numbers: 1 > 0, π > 3."""
    if before.line.read_as == claim.line.read_as:
        return False
    return any(
        algebra.plain_number(one.difference.numer) and algebra.plain_number(one.difference.denom)
        for one in (before, claim)
    )


def _claim(algebra: Algebra, line: Line) -> Claim:
    left, right = algebra.of(line.left), algebra.of(line.right)
    if line.sign in "<≤":
        left, right = right, left
    sign = {"<": ">", "≤": "≥"}.get(line.sign, line.sign)
    return Claim(line, algebra.plus(left, -right), sign, left, right)


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
    return None if pair is None else _false(line, region, pair)


def _false(line: Line, region: str, pair: tuple[Fraction, Fraction]) -> Verdict:
    why = sides_at(line, *pair)
    with suppress(OutOfTime):  # then it is false without a word on what would hold
        why += _would_hold(line, region)
    return Verdict(FALSE, why, counterexample={"a": float(pair[0]), "b": float(pair[1])})


def _would_hold(line: Line, region: str) -> str:
    """A sentence on a line much like the false one that holds, or ""."""
    if line.sign in "<>" and _holds(_with_sign(line, "≤" if line.sign == "<" else "≥"), region):
        return f" With {'≤' if line.sign == '<' else '≥'} in place of {line.sign} it would hold."
    if region == ANY:
        for other, sentence in ((A_LONGER, LONGER), (B_LONGER, "let b be the longer half-axis")):
            if counterexample(line, other) is None and _holds(line, other):
                return (
                    f" It would hold after the sentence ‘{sentence}’ ({other}), which is missing: "
                    "say it first."
                )
    return ""


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
    how = named_move(algebra, before, claim)
    if how is not None:
        return _same(before, claim, how, cited)
    added = seen_remainder(algebra, before.difference, claim.difference)
    if added is not None and _carries(before, claim, added, cited):
        return a_step(
            WEAKER,
            f"the difference of the sides is {_times(added)}the last line's, plus {added.words}, "
            "which is never negative",
            "So it follows from the last line; but it says less, and is not enough to show it.",
        )
    taken = seen_remainder(algebra, claim.difference, before.difference) if true else None
    if taken is not None and _carries(claim, before, taken, False):
        return a_step(
            STRONGER,
            f"the last line's difference of sides is {_times(taken)}this one's, plus "
            f"{taken.words}, which is never negative",
            "So it is enough to show the last line; but it says more, and does not follow from it.",
        )
    if not true:
        return Verdict(UNRELATED, _UNDECIDED)
    first, second = (order_at(algebra, one.difference, "equal") for one in (before, claim))
    if first and second and first > 0 and second > 0 and _true(algebra, before):
        return Verdict(LEAP, f"{_TRUE_BUT} {_between(algebra, before, claim)}".strip())
    added = find_remainder(algebra, before.difference, claim.difference)
    if added is not None and _carries(before, claim, added, cited):
        return Verdict(
            LEAP,
            f"{_TRUE_BUT} The difference of the sides is {_times(added)}the last line's, plus "
            f"{added.words}; that this is never negative is not seen at sight.",
        )
    return Verdict(UNRELATED, _missing(first, second))


_TRUE_BUT = "True, and it follows, but write the steps between: no single move leads here."


def _between(algebra: Algebra, before: Claim, claim: Claim) -> str:
    """A line that may stand between two, if squares on one of them would join them."""
    for one, other, which in ((claim, before, "this line"), (before, claim, "the last line")):
        if not one.greater or not one.smaller:
            continue
        squares = [algebra.power(side, 2) for side in (one.greater, one.smaller)]
        square = algebra.plus(squares[0], -squares[1])
        if square and named_factor(algebra, other.difference, square) is not None:
            return f"One of them is {which} with both sides squared."
    return ""


def _same(before: Claim, claim: Claim, how: str, cited: bool) -> Verdict:
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


def _carries(from_line: Claim, to_line: Claim, rest: Remainder, cited: bool) -> bool:
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


_UNDECIDED = (
    "No numbers were found with which it fails, but it could not be shown to hold for all a and b "
    "either, nor to come from the last line. What is missing: a line whose terms have one "
    "dimension, made from the last line by one move."
)


def _missing(first: Fraction | None, second: Fraction | None) -> str:
    """What an unrelated line lacks; first, second: how both lines' differences vanish at a = b."""
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
    if first == second == 0:
        return (
            "True, but of any two lengths, equal ones too, as the last line is: neither leads to "
            "the other. What is missing: a move from the last line to this one."
        )
    return (
        "True, but its difference of sides is no positive multiple of the last line's, with or "
        "without something positive added. What is missing: the steps between."
    )
