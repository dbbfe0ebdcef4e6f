"""Where a line of mixed dimension may fail: its signs decided along lines of the (a, b) plane.

Along b = 1, along a = 4b, close beside a = b the difference of sides hangs on one letter alone, and
there its signs are decided exactly: at its roots, and between them. So a line that fails only for
sections of a kilometre, or at one place, is found out. Nothing here makes a line true.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

from mensura.teaching.proof.limits import TooInvolved
from mensura.teaching.proof.patience import brace, tick
from mensura.teaching.proof.quantities import Quantities
from mensura.teaching.proof.signs import Cell, along

#: √b while a runs, and √a while b runs.
_FIXED = (1, 2, 3, Fraction(1, 2), 10, Fraction(1, 10), 1000)

#: (√a, √b) in proportion while the size runs.
_RAYS = (
    (2, 1), (1, 2), (3, 1), (1, 3), (10, 1), (1, 10), (11, 10), (10, 11), (101, 100), (100, 101),
    (10001, 10000), (10000, 10001),
)  # fmt: skip

#: How near to a = b: so many places behind the point.
_NEAR = (2, 3, 4, 6, 8, 10, 13)

#: The signs with which a line of each kind fails.
_FAILS = {">": {0, -1}, "≥": {-1}, "≠": {0}, "=": {1, -1}}

Place = tuple[Fraction, Fraction]


def places(algebra: Quantities, difference: Any, sign: str) -> Iterator[Place]:
    """Half-axes with which a line may fail, the likeliest first; to be tried by plain numbers.

    algebra, difference: of its sides, and what made it; sign: one of > ≥ ≠ =.
    """
    for start in (_beside_axes, _on_rays, _beside_circle, _at_points):
        try:
            yield from start(algebra, difference, _FAILS[sign])
        except TooInvolved:
            continue


def _beside_axes(algebra: Quantities, value: Any, fails: set[int]) -> Iterator[Place]:
    for side in _FIXED:
        size = Fraction(side)
        for turned in (False, True):
            way = (1, 0) if turned else (0, 1)
            for cell in _cells(algebra, value, _fixed(way, size), fails):
                for ratio in _rounded(cell):
                    yield (size**2, ratio) if turned else (ratio, size**2)


def _on_rays(algebra: Quantities, value: Any, fails: set[int]) -> Iterator[Place]:
    for p, q in _RAYS:
        for cell in _cells(algebra, value, _ray(Fraction(p), Fraction(q)), fails):
            for ratio in _rounded(cell):
                yield p * p * ratio, q * q * ratio


def _beside_circle(algebra: Quantities, value: Any, fails: set[int]) -> Iterator[Place]:
    """On a = b itself, which is not meant; what fails there by something fails beside it too."""
    one = Fraction(1)
    for cell in _cells(algebra, value, _ray(one, one), fails - {0}):
        for digits in _NEAR:
            share = 1 + Fraction(1, 10**digits)
            yield cell.ratio * share, cell.ratio
            yield cell.ratio, cell.ratio * share


def _at_points(algebra: Quantities, value: Any, fails: set[int]) -> Iterator[Place]:
    """Where it vanishes at one point, like (a − 3)² + (b − 5)²: its discriminant knows of it."""
    from sympy import Poly, symbols

    poly = value.numer
    if algebra.letters(poly) != {0, 1} or len(poly) > 12 or max(map(sum, poly)) > 12:
        return
    x, y = symbols("x y")
    whole = Poly.from_dict({powers[:2]: factor for powers, factor in poly.terms()}, x, y)
    if all(power % 2 == 0 for powers in whole.as_dict() for power in powers):
        halved = {(p // 2, q // 2): c for (p, q), c in whole.as_dict().items()}
        whole, squares = Poly.from_dict(halved, x, y), 1
    else:
        squares = 2
    if whole.degree(x) < 2 or whole.degree(y) < 1:
        return
    brace(poly, poly)
    _, factors = Poly(whole.discriminant(), y).factor_list()
    for factor, _ in factors:
        if factor.degree() == 1:
            root = -factor.eval(0) / factor.LC()
            size = Fraction(int(root.p), int(root.q)) ** squares
            if size > 0:
                yield from _line_at(algebra, value, size, fails)


def _line_at(algebra: Quantities, value: Any, size: Fraction, fails: set[int]) -> Iterator[Place]:
    """Along b = size, whose root need not be a fraction, for differences without roots."""
    letters = {p[1] for p in value.numer}
    if any(power % 2 for power in letters):
        return
    change = _fixed((0, 1), size, 2)
    for cell in _cells(algebra, value, change, fails):
        for ratio in _rounded(cell):
            yield ratio, size


# ---- one letter ----------------------------------------------------------------------------------

Change = Callable[[tuple[int, ...], Any], tuple[tuple[int, ...], Any]]


def _fixed(way: tuple[int, int], size: Fraction, root: int = 1) -> Change:
    """√a or √b put in (way says which), the other one running."""

    def change(powers: tuple[int, ...], factor: Any) -> tuple[tuple[int, ...], Any]:
        running = powers[0] if way[1] else powers[1]
        put = powers[1] if way[1] else powers[0]
        return (running, 0, *powers[2:]), factor * _number(size ** (put // root))

    return change


def _ray(p: Fraction, q: Fraction) -> Change:
    """√a = p·x and √b = q·x."""

    def change(powers: tuple[int, ...], factor: Any) -> tuple[tuple[int, ...], Any]:
        times = p ** powers[0] * q ** powers[1]
        return (powers[0] + powers[1], 0, *powers[2:]), factor * _number(times)

    return change


def _number(size: Fraction) -> Any:
    from sympy import QQ

    return QQ(size.numerator, size.denominator)


def _cells(algebra: Quantities, value: Any, change: Change, fails: set[int]) -> list[Cell]:
    """The stretches and places of one line on which the quantity has one of the signs."""
    tick()
    changed = Quantities(algebra.region)
    gone: list[int] = []
    for k, square in enumerate(algebra.squares):
        changed.squares.append(_changed(changed, square, change, gone))
        if not changed.squares[k]:
            gone.append(3 + k)
    above, below = (_changed(changed, part, change, gone) for part in (value.numer, value.denom))
    if not above or not below:
        return []
    found = [cell for cell in along(changed, above, below) if cell.sign in fails]
    return sorted(found, key=lambda cell: (cell.point, cell.ratio.denominator))


def _changed(algebra: Quantities, poly: Any, change: Change, gone: list[int]) -> Any:
    terms: dict[Any, Any] = {}
    for powers, factor in poly.terms():
        if any(powers[place] for place in gone):
            continue
        key, size = change(powers, factor)
        terms[key] = terms.get(key, 0) + size
    return algebra.ring.from_dict({key: factor for key, factor in terms.items() if factor})


def _rounded(cell: Cell) -> Iterator[Fraction]:
    """A ratio; before a long one, the short ones next to it."""
    if cell.point and cell.ratio.denominator > 10**6:
        for most in (100, 10**4, 10**6):
            near = cell.ratio.limit_denominator(most)
            if near > 0:
                yield near
    yield cell.ratio
