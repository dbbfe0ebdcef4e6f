"""The moves after which a line says just what it said before; each can be undone, and is named.

Both sides times something positive that has a name: a number, π, powers of a, b and a + b, or a
whole side. Both sides squared, or their roots; their reciprocals. The same terms, regrouped. What
needs two of these at once is no move: the line between is to be written.

Whether a move fits is first asked of a few numbers, which may say no; yes is said by exact algebra.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

from mensura.teaching.proof.algebra import Algebra
from mensura.teaching.proof.formula import formula
from mensura.teaching.proof.limits import B_LONGER
from mensura.teaching.proof.notation import Node, raised, written
from mensura.teaching.proof.patience import tick
from mensura.teaching.proof.signs import signs_of, value_at
from mensura.teaching.proof.verdict import Claim

#: Powers to which both sides may be raised in one move, and what each is called.
POWERS = {
    Fraction(2): "squared",
    Fraction(1, 2): "replaced by their square roots",
    Fraction(3): "raised to the power 3",
    Fraction(1, 3): "replaced by their third roots",
    Fraction(4): "raised to the power 4",
    Fraction(1, 4): "replaced by their fourth roots",
}

#: √a and √b of the numbers that are tried, a the longer; no two quantities agree there by chance.
_POINTS = ((1.9, 1.3), (3.7, 1.1), (2.3, 0.7), (1.7, 1.1), (5.3, 2.9), (1.31, 1.27))
_DIGITS = 60


def named_move(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    """The one move between two lines that both say > or ≥, as a clause; None if there is none.

    algebra: which made both; before, claim: the lines.
    """
    if claim.difference == before.difference:
        if claim.line.sides_read == before.line.sides_read:
            return "it is the last line again"
        return "both lines have the same difference of sides: it was rearranged"
    return (
        _reciprocals(algebra, before, claim)
        or raised_to(algebra, before, claim)
        or _times_named(algebra, before, claim)
        or _times_alike(algebra, before, claim)
        or _times_side(algebra, before, claim)
        or _times_factor(algebra, before, claim)
    )


# ---- numbers that may say no ---------------------------------------------------------------------


def _points(algebra: Algebra) -> list[tuple[float, float]]:
    turned = algebra.region == B_LONGER
    return [(y, x) if turned else (x, y) for x, y in _POINTS]


def _sizes(algebra: Algebra, value: Any) -> list[Any] | None:
    """The quantity at the points, or None where it has no value or is zero."""
    tick()
    found = [value_at(algebra, value, x, y) for x, y in _points(algebra)]
    return None if any(size is None or not size for size in found) else found


def _of_sides(algebra: Algebra, before: Claim, claim: Claim) -> list[list[Any]] | None:
    """Sizes of the last line's greater and smaller side, and of the new one's; None without all."""
    from mpmath import mp

    sides = (before.greater, before.smaller, claim.greater, claim.smaller)
    if not all(sides):
        return None
    with mp.workdps(_DIGITS):
        found = [_sizes(algebra, side) for side in sides]
    sizes = [size for size in found if size is not None]
    return sizes if len(sizes) == len(sides) else None


def _alike(first: list[Any], second: list[Any]) -> bool:
    from mpmath import mp

    near = mp.mpf(10) ** -(_DIGITS // 2)
    return all(
        abs(one - other) <= near * abs(other) for one, other in zip(first, second, strict=True)
    )


# ---- both sides times a product of powers --------------------------------------------------------


def named_factor(algebra: Algebra, before: Any, after: Any) -> Any:
    """after/before, if that is a positive number times powers of a, b and a + b; else None.

    algebra: which made both; before, after: quantities other than 0.
    """
    from mpmath import mp

    with mp.workdps(_DIGITS):
        first, second = _sizes(algebra, before), _sizes(algebra, after)
        if first is None or second is None:
            return None
        ratios = [two / one for one, two in zip(first, second, strict=True)]
        if min(ratios) <= 0:
            return None
        rows = [
            [mp.mpf(1), mp.log(x), mp.log(y), mp.log(mp.mpf(x) ** 2 + mp.mpf(y) ** 2)]
            for x, y in _points(algebra)
        ]
        logs = [mp.log(ratio) for ratio in ratios]
        found = mp.lu_solve(mp.matrix(rows[:4]), mp.matrix(logs[:4]))
        powers = [Fraction(int(mp.nint(2 * each)), 2) for each in found[1:]]
        if max(map(abs, powers)) > 24:
            return None
        base = []
        for log, row in zip(logs, rows, strict=True):
            for power, each in zip(powers, row[1:], strict=True):
                log -= power.numerator * each / power.denominator
            base.append(log)
        if max(abs(each - base[0]) for each in base) > mp.mpf(10) ** -(_DIGITS // 2):
            return None
    product = algebra.field.one
    for letter, power in zip(
        (algebra.x, algebra.y, algebra.x**2 + algebra.y**2), powers, strict=True
    ):
        if power.denominator == 2:
            letter, power = algebra.root(letter), power * 2
        product = algebra.times(product, algebra.power(letter, int(power)))
    number = algebra.over(after, algebra.times(before, product))
    if not algebra.plain_number(number.numer) or not algebra.plain_number(number.denom):
        return None
    return algebra.times(product, number)


def _times_named(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    factor = named_factor(algebra, before.difference, claim.difference)
    if factor is None:
        return None
    if not before.smaller and not claim.smaller and factor.numer != 1 and factor.denom != 1:
        # from a > 0 to b > 0: no product and no quotient, one side in the other's place
        number = algebra.plain_number(factor.numer) or algebra.plain_number(factor.denom)
        if not number and _is_named(algebra, before.greater):
            return None
    return _told(formula(algebra, factor))


def _is_named(algebra: Algebra, value: Any) -> bool:
    return named_factor(algebra, algebra.field.one, value) is not None


def _told(text: str | None) -> str | None:
    if text is None:
        return None
    return f"the difference of the sides is {text} times the last line's, and {text} is positive"


# ---- both sides alike ----------------------------------------------------------------------------


def _reciprocals(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    from mpmath import mp

    sizes = _of_sides(algebra, before, claim)
    if sizes is None:
        return None
    great, small, greater, smaller = sizes
    with mp.workdps(_DIGITS):
        ones = [mp.mpf(1)] * len(great)
        if not (
            _alike([p * q for p, q in zip(great, smaller, strict=True)], ones)
            and _alike([p * q for p, q in zip(small, greater, strict=True)], ones)
        ):
            return None
    if algebra.times(before.greater, claim.smaller) != algebra.field.one:
        return None
    if algebra.times(before.smaller, claim.greater) != algebra.field.one:
        return None
    if not (_positive(algebra, before.greater) and _positive(algebra, before.smaller)):
        return None
    return (
        "the reciprocals of both sides were taken; both are positive, and then the greater side "
        "has the smaller reciprocal"
    )


def raised_to(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    """The clause if new sides = number · (last sides)^p, none of them negative; else None.

    algebra: which made both; before, claim: the lines. Beside a zero the number must be 1.
    """
    power = _power_between(algebra, before, claim)
    if power is None:
        return None
    sides = (before.greater, before.smaller, claim.greater, claim.smaller)
    if not all(not side or _not_negative(algebra, side) for side in sides):
        return None
    return (
        f"both sides were {POWERS[power]}; neither is negative, and then the greater side stays "
        "the greater"
    )


def _power_between(algebra: Algebra, before: Claim, claim: Claim) -> Fraction | None:
    from mpmath import mp

    if not before.greater or not claim.greater or bool(before.smaller) != bool(claim.smaller):
        return None
    with mp.workdps(_DIGITS):
        last, new = _sizes(algebra, before.greater), _sizes(algebra, claim.greater)
        if last is None or new is None or min(last) < 0 or min(new) < 0:
            return None
        if before.smaller:
            below, under = _sizes(algebra, before.smaller), _sizes(algebra, claim.smaller)
            if below is None or under is None or min(below) < 0 or min(under) < 0:
                return None
            last = [p / q for p, q in zip(last, below, strict=True)]
            new = [p / q for p, q in zip(new, under, strict=True)]
        powers = [
            power
            for power in POWERS
            if _alike([one ** (mp.mpf(power.numerator) / power.denominator) for one in last], new)
        ]
    for power in powers:
        up, root = power.numerator, power.denominator
        great, greater = algebra.power(before.greater, up), algebra.power(claim.greater, root)
        if not before.smaller:
            if greater == great:
                return power
            continue
        small, smaller = algebra.power(before.smaller, up), algebra.power(claim.smaller, root)
        if algebra.times(greater, small) != algebra.times(great, smaller):
            continue
        number = algebra.over(greater, great)
        if algebra.plain_number(number.numer) and algebra.plain_number(number.denom):
            return power
    return None


def _times_alike(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    """Both sides times the same quantity, whatever it is, seen on both sides; neither is zero."""
    from mpmath import mp

    sizes = _of_sides(algebra, before, claim)
    if sizes is None:
        return None
    great, small, greater, smaller = sizes
    with mp.workdps(_DIGITS):
        if not _alike(
            [p / q for p, q in zip(greater, great, strict=True)],
            [p / q for p, q in zip(smaller, small, strict=True)],
        ):
            return None
    if algebra.times(claim.greater, before.smaller) != algebra.times(claim.smaller, before.greater):
        return None
    factor = algebra.over(claim.greater, before.greater)
    if not _positive(algebra, factor):
        return None
    text = formula(algebra, factor)
    if text is not None:
        return f"both sides were multiplied by {text}, which is positive"
    for side, which in ((claim.greater, "greater"), (claim.smaller, "smaller")):
        if side == algebra.field.one:
            return f"both sides were divided by the {which} one, which is positive"
    return None


def _times_side(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    """Both sides times, or over, a whole side of one of the lines, and rearranged."""
    from mpmath import mp

    if not (before.greater and before.smaller) and not (claim.greater and claim.smaller):
        return None
    with mp.workdps(_DIGITS):
        first, second = (_sizes(algebra, each.difference) for each in (before, claim))
    if first is None or second is None:
        return None
    ratios = [two / one for one, two in zip(first, second, strict=True)]
    for line in (before, claim):
        if not (line.greater and line.smaller):
            continue
        for side in (line.greater, line.smaller):
            if algebra.plain_number(side.numer) and algebra.plain_number(side.denom):
                continue
            if not plainly_positive(algebra, side):
                continue
            with mp.workdps(_DIGITS):
                sizes = _sizes(algebra, side)
            if sizes is None:
                continue
            for way in (1, -1):
                number = [ratio / size**way for ratio, size in zip(ratios, sizes, strict=True)]
                if not _alike(number, [number[0]] * len(number)) or number[0] < 0:
                    continue
                factor = algebra.over(claim.difference, before.difference)
                rest = algebra.over(factor, algebra.power(side, way))
                if algebra.plain_number(rest.numer) and algebra.plain_number(rest.denom):
                    return _told(formula(algebra, factor))
    return None


def _times_factor(algebra: Algebra, before: Claim, claim: Claim) -> str | None:
    """Beside a zero: the other side has some factors more, or less, than it had."""
    if before.smaller or claim.smaller or not before.greater or not claim.greater:
        return None
    last, new = (_factors_of(_greater_side(each)) for each in (before, claim))
    kept = last & new
    if not any(not _number_text(text) for text in kept):
        return None
    if kept not in (last, new):
        return None
    factor = algebra.over(claim.greater, before.greater)
    if not _positive(algebra, factor):
        return None
    text = formula(algebra, factor)
    return None if text is None else f"both sides were multiplied by {text}, which is positive"


def _greater_side(claim: Claim) -> Node:
    return claim.line.right if claim.line.sign in "<≤" else claim.line.left


def _factors_of(node: Node) -> Counter[str]:
    """The factors of a product as they are written."""
    if node.kind == "*":
        return _factors_of(node.parts[0]) + _factors_of(node.parts[1])
    if node.kind == "^" and isinstance(node.value, Fraction):
        if node.value.denominator == 1 and node.value > 1:
            return Counter({written(node.parts[0]): int(node.value)})
        return Counter({written(node.parts[0]) + raised(node.value): 1})
    return Counter({written(node): 1})


def _number_text(text: str) -> bool:
    return not set(text) & set("abAG")


# ---- signs at sight, else decided ----------------------------------------------------------------


def plainly_positive(algebra: Algebra, value: Any) -> bool:
    """Whether a quantity is positive at sight: nothing but plus signs between positive terms.

    algebra: which made it; value: the quantity.
    """
    if not value:
        return False
    ways = {_one_way(algebra, poly) for poly in (value.numer, value.denom)}
    return len(ways) == 1 and ways != {0}


def _one_way(algebra: Algebra, poly: Any) -> int:
    """1 or −1 if all its terms have that sign, numbers with π or roots worked out; else 0."""
    lengths = algebra.lengths()
    parts: dict[Any, dict[Any, Any]] = {}
    for powers, factor in poly.terms():
        key = tuple(power if place in lengths else 0 for place, power in enumerate(powers))
        rest = tuple(0 if place in lengths else power for place, power in enumerate(powers))
        parts.setdefault(key, {})[rest] = factor
    ways = set()
    for terms in parts.values():
        if all(factor > 0 for factor in terms.values()):
            ways.add(1)
        elif all(factor < 0 for factor in terms.values()):
            ways.add(-1)
        else:
            number = algebra.field.raw_new(algebra.ring.from_dict(terms), algebra.ring.one)
            size = _sizes(algebra, number)
            ways.add(0 if size is None else 1 if size[0] > 0 else -1)
    return ways.pop() if len(ways) == 1 else 0


def _positive(algebra: Algebra, value: Any) -> bool:
    if plainly_positive(algebra, value):
        return True
    signs = signs_of(algebra, value)
    return signs is not None and signs.positive


def _not_negative(algebra: Algebra, value: Any) -> bool:
    if plainly_positive(algebra, value):
        return True
    signs = signs_of(algebra, value)
    return signs is not None and signs.not_negative
