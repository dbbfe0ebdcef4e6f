"""From some plots to the mean of a hectare, and how far chance alone may have moved it.

Plots of one area: their mean. Plots of unequal areas: the sum of what stands on them over the sum
of their areas, the ratio estimator, since a small plot must not weigh as much as a large one. Both
leave n − 1 degrees of freedom, and Student's factor makes the interval.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, nan, sqrt

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number
from mensura.estimates.plots import HECTARE_M2


@dataclass(frozen=True)
class PlotMean:
    """A mean a hectare, in the unit of what was counted, a hectare.

    value: the mean; se: its standard error from plot to plot, not a number for one plot;
    interval: 95 %, or whatever was asked for, without an end for one plot; plots: how many.
    """

    value: float
    se: float
    interval: tuple[float, float]
    plots: int


def mean_of_plots(each_per_ha: ArrayLike, coverage_percent: float = 95.0) -> PlotMean:
    """The mean of plots of one area, or of angle counts, and its standard error, s/√n.

    each_per_ha: one a plot, shape (plots,), at least one, at least 0, in any unit a hectare;
    coverage_percent: of the interval, by Student on n − 1. Assumes that the plots were laid out at
    random and are few against the stand. Textbook formula, from memory [Husch2003]. Raises
    MeasureError.

    >>> found = mean_of_plots([24.0, 31.0, 28.0, 33.0])
    >>> found.value, round(found.se, 4), [round(end, 2) for end in found.interval]
    (29.0, 1.9579, [22.77, 35.23])
    """
    each = _each(each_per_ha, "each_per_ha", 0.0)
    return _found(float(each.mean()), each - each.mean(), 1.0, coverage_percent)


def ratio_of_plots(
    on_each: ArrayLike, plot_area_m2: ArrayLike, coverage_percent: float = 95.0
) -> PlotMean:
    """The mean of plots of unequal areas by the ratio estimator, Σy/ΣA·10 000.

    on_each: what stands on each plot, shape (plots,), at least 0, in any unit; plot_area_m2: of the
    map, shape (plots,), above 0; coverage_percent: of the interval, by Student on n − 1. The
    standard error is that of the residuals y − R·A over the mean area [Cochran1977], from memory:
    an approximation, good from some ten plots on. For plots of one area it is that of their mean.
    Raises MeasureError.

    >>> found = ratio_of_plots([1.2, 0.9, 2.6], [400, 300, 800])
    >>> round(found.value, 3), round(found.se, 3)
    (31.333, 0.937)
    """
    each = _each(on_each, "on_each", 0.0)
    areas = _each(plot_area_m2, "plot_area_m2", None)
    if each.shape != areas.shape:
        raise MeasureError("plot_area_m2", areas.size, "", f"as many areas as plots, {each.size}")
    ratio = float(each.sum() / areas.sum())
    return _found(
        ratio * HECTARE_M2, each - ratio * areas, HECTARE_M2 / float(areas.mean()), coverage_percent
    )


def _each(value: ArrayLike, field: str, at_least: float | None) -> np.ndarray:
    bound = {"above": 0.0} if at_least is None else {"at_least": at_least}
    each = np.atleast_1d(number(value, field, "", **bound))
    if each.ndim != 1 or each.size == 0:
        raise MeasureError(field, each.shape, "", "one number a plot, and at least one plot")
    return each


def _found(value: float, left: np.ndarray, scale: float, coverage_percent: float) -> PlotMean:
    from mensura.estimates.propagation import coverage_factor

    plots = int(left.size)
    if plots == 1:
        return PlotMean(value, nan, (-inf, inf), 1)
    se = sqrt(float(np.square(left).sum()) / (plots - 1) / plots) * scale
    reach = coverage_factor(plots - 1, coverage_percent) * se
    return PlotMean(value, se, (value - reach, value + reach), plots)
