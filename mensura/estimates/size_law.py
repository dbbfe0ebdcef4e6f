"""Whether a standard deviation grows with what is measured: constant, in proportion, or by a line.

All three are s = a + b·m, with b = 0 or a = 0 or neither. Each is fitted by the greatest
likelihood of the stems' own standard deviations (each with its degrees of freedom, a chi-square),
never below nought between the smallest and the largest stem. The rule for choosing: s is constant
unless a line fits better than chance gives in five of a hundred (twice the logarithm of the
likelihoods' quotient above 3.84) and rises; then it is in proportion to the size unless the same
test speaks against that; then it is the line. The simplest that the readings do not speak against.
ISO 5725-2 asks for the same three kinds of relation and leaves the choice to the statistician
[ISO5725, clause 7.5, from memory].
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import FloatArray, plain

#: The upper 5 % point of chi-square with one degree of freedom.
BEYOND_CHANCE = 3.841458820694124


@dataclass(frozen=True)
class SizeLaw:
    """s = start + rise·size, within the sizes it was fitted to.

    kind: "constant", "proportional" or "line"; start_cm: a; rise: b, cm for each cm of size;
    least_cm, greatest_cm: sizes of the smallest and the largest stem; stems: how many told;
    against_constant, against_proportional: twice the logarithm of the likelihoods' quotient of
    the line and each of the others; above 3.84 is beyond chance.
    """

    kind: str
    start_cm: float
    rise: float
    least_cm: float
    greatest_cm: float
    stems: int
    against_constant: float
    against_proportional: float

    def at_cm(self, size_cm: ArrayLike) -> Any:
        """The standard deviation on a stem of a size, cm.

        size_cm: girth or diameter, whichever it was fitted to, cm.
        """
        return plain(self.start_cm + self.rise * np.asarray(size_cm, dtype=np.float64))


def fit_size_law(size_cm: ArrayLike, spread_cm: ArrayLike, freedom: ArrayLike) -> SizeLaw | None:
    """How standard deviations go with size.

    size_cm: of each stem, above 0, cm; spread_cm: its standard deviation, cm, nan where it has
    none; freedom: its degrees of freedom, whole or not. None with fewer than three stems of two
    sizes that have one, or where nothing spreads. Source: this module's rule.

    >>> grows = fit_size_law([20, 40, 60, 80], [0.1, 0.2, 0.3, 0.4], [30] * 4)
    >>> grows.kind, round(grows.rise, 6)
    ('proportional', 0.005)
    >>> fit_size_law([20, 40, 60, 80], [0.2, 0.19, 0.21, 0.2], [30] * 4).kind
    'constant'
    """
    size, spread = np.asarray(size_cm, dtype=np.float64), np.asarray(spread_cm, dtype=np.float64)
    free = np.asarray(freedom, dtype=np.float64)
    told = np.isfinite(spread) & np.isfinite(size) & (size > 0) & (free > 0)
    size, square, free = size[told], np.square(spread[told]), free[told]
    if size.size < 3 or np.ptp(size) <= 1e-9 * size.max() or not square.any():
        return None
    constant = np.sqrt((free * square).sum() / free.sum())
    share = np.sqrt((free * square / size**2).sum() / free.sum())
    ends = _line(size, square, free, constant, share)
    least, greatest = float(size.min()), float(size.max())
    rise = (ends[1] - ends[0]) / (greatest - least)
    start = ends[0] - rise * least
    line = _misfit(start + rise * size, square, free)
    one = max(_misfit(np.full_like(size, constant), square, free) - line, 0.0)
    two = max(_misfit(share * size, square, free) - line, 0.0)
    kind, start_cm, slope = "constant", float(constant), 0.0
    if one > BEYOND_CHANCE and rise > 0:
        kind, start_cm, slope = "proportional", 0.0, float(share)
        if two > BEYOND_CHANCE:
            kind, start_cm, slope = "line", float(start), float(rise)
    return SizeLaw(kind, start_cm, slope, least, greatest, int(size.size), float(one), float(two))


def _misfit(law: FloatArray, square: FloatArray, free: FloatArray) -> float:
    """Twice the likelihood's logarithm, other sign, but for what no law changes."""
    return float((free * (square / law**2 + 2 * np.log(law))).sum())


def _line(
    size: FloatArray, square: FloatArray, free: FloatArray, constant: float, share: float
) -> FloatArray:
    """Heights of the best line at the smallest and the largest size, both above nought."""
    along = (size - size.min()) / np.ptp(size)
    floor = np.log(1e-6 * max(constant, share * float(size.max())))
    best, lowest = np.zeros(2), np.inf
    for low, high in ((constant, constant), (share * size.min(), share * size.max())):
        ends = np.log([low, high])
        here = _misfit(np.exp(ends[0]) * (1 - along) + np.exp(ends[1]) * along, square, free)
        # Fisher's scoring, a step halved until it betters
        for _ in range(100):
            each = np.stack([np.exp(ends[0]) * (1 - along), np.exp(ends[1]) * along])
            law = each.sum(axis=0)
            slope = each @ (2 * free / law * (1 - square / law**2))
            bend = (each * (4 * free / law**2)) @ each.T
            step = np.linalg.solve(bend + 1e-12 * np.trace(bend) * np.eye(2), slope)
            size_of_step, better = 1.0, False
            while size_of_step > 1e-6 and not better:
                tried = np.maximum(ends - size_of_step * step, floor)
                now = _misfit(
                    np.exp(tried[0]) * (1 - along) + np.exp(tried[1]) * along, square, free
                )
                better, size_of_step = now < here, size_of_step / 2
            if not better:
                break
            gained, ends, here = here - now, tried, now
            if gained < 1e-10 * (1 + abs(here)):
                break
        if here < lowest:
            best, lowest = ends, here
    return np.asarray(np.exp(best), dtype=np.float64)
