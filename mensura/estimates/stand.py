"""From plots of trees to a hectare: basal area, stems and volume, each with its interval.

A tree on a plot of fixed area stands for as many trees as the plot goes into a hectare. A tree
that an angle gauge counts stands for the gauge's factor of basal area, however thick it is. All
that stands on one plot is one number: trees of a plot are neighbours, so plots are what is counted
in the standard error, and a plot without trees is a zero and counts like any other.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import nan

import numpy as np
from numpy.typing import NDArray

from mensura.checks import LARGEST_CM, FloatArray, MeasureError, number
from mensura.estimates.angle_count import LARGEST_FACTOR, LEAST_FACTOR
from mensura.estimates.plot_means import PlotMean, mean_of_plots, ratio_of_plots
from mensura.estimates.plots import HECTARE_M2, STEEPEST_DEG
from mensura.estimates.propagation import coverage_factor
from mensura.estimates.tree_volume import TALLEST_M

IntArray = NDArray[np.int64]

#: Below so many plots the output says what an interval rests on.
FEW_PLOTS = 5


@dataclass(frozen=True)
class Plots:
    """The plots of a stand: of fixed areas or of angle counts, never both.

    names: one a plot; area_m2: of each, as laid out, none for angle counts; factor_m2_per_ha: of
    each one's gauge, none for fixed areas; slope_deg: of the ground, 0 where the area is that of
    the map already. A plot laid out along a slope covers less on the map, by the slope's cosine,
    and so each tree stands for more: on plots of fixed area and through a gauge alike
    [Kleinn2007]. Raises MeasureError.
    """

    names: tuple[str, ...]
    area_m2: FloatArray = field(default_factory=lambda: np.empty(0))
    factor_m2_per_ha: FloatArray = field(default_factory=lambda: np.empty(0))
    slope_deg: FloatArray = field(default_factory=lambda: np.zeros(1))

    def __post_init__(self) -> None:
        if not self.names:
            raise MeasureError("names", None, "", "at least one plot")
        given = [one for one in ("area_m2", "factor_m2_per_ha") if np.size(getattr(self, one))]
        if len(given) != 1:
            raise MeasureError(
                "area_m2", None, "m²", "an area or a gauge's factor for all plots, and not both"
            )
        bounds: dict[str, tuple[str, dict[str, float]]] = {
            "area_m2": ("m²", {"above": 0.0, "at_most": 1e7}),
            "factor_m2_per_ha": ("m²/ha", {"at_least": LEAST_FACTOR, "at_most": LARGEST_FACTOR}),
            "slope_deg": ("deg", {"at_least": 0.0, "at_most": STEEPEST_DEG}),
        }
        for name in (*given, "slope_deg"):
            unit, within = bounds[name]
            each = number(np.asarray(getattr(self, name)), name, unit, **within)
            object.__setattr__(self, name, np.broadcast_to(each, (len(self.names),)))

    @property
    def counted(self) -> bool:
        """Whether the trees were counted through an angle gauge."""
        return self.area_m2.size == 0

    @property
    def map_area_m2(self) -> FloatArray:
        """Area of each plot on the map; none for angle counts."""
        if self.counted:
            return self.area_m2
        return np.asarray(self.area_m2 * np.cos(np.radians(self.slope_deg)))

    @property
    def map_factor_m2_per_ha(self) -> FloatArray:
        """What each counted tree stands for on the map; none for plots of fixed area."""
        if not self.counted:
            return self.factor_m2_per_ha
        return np.asarray(self.factor_m2_per_ha / np.cos(np.radians(self.slope_deg)))


@dataclass(frozen=True)
class Trees:
    """The trees of all plots, one after the other; every array has one value a tree.

    plot: its place among the plots; diameter_cm: at breast height; height_m: of the whole tree;
    volume_m3: of the whole tree; species: its place among species_names; times: how often it
    counts, 2 where it counts again from a plot mirrored at the stand's edge. Raises MeasureError.
    """

    plot: IntArray
    diameter_cm: FloatArray
    height_m: FloatArray
    volume_m3: FloatArray
    species: IntArray
    species_names: tuple[str, ...] = ("",)
    times: FloatArray = field(default_factory=lambda: np.ones(1))

    def __post_init__(self) -> None:
        bounds: dict[str, tuple[str, dict[str, float]]] = {
            "diameter_cm": ("cm", {"above": 0.0, "at_most": LARGEST_CM}),
            "height_m": ("m", {"above": 0.0, "at_most": TALLEST_M}),
            "volume_m3": ("m³", {"at_least": 0.0}),
            "times": ("", {"at_least": 1.0}),
        }
        size = np.asarray(self.plot).size
        for name, (unit, within) in bounds.items():
            each = np.atleast_1d(number(np.asarray(getattr(self, name)), name, unit, **within))
            if each.shape not in ((size,), (1,)):
                raise MeasureError(name, each.size, "", f"one value for each of {size} trees")
            object.__setattr__(self, name, np.broadcast_to(each, (size,)))

    @property
    def basal_area_m2(self) -> FloatArray:
        """Of each tree, taken for a circle."""
        return np.asarray(np.pi / 40000 * np.square(self.diameter_cm))


@dataclass(frozen=True)
class PerHectare:
    """What stands on a hectare, each with its standard error and interval from plot to plot.

    basal_area_m2, stems, volume_m3: a hectare.
    """

    basal_area_m2: PlotMean
    stems: PlotMean
    volume_m3: PlotMean


@dataclass(frozen=True)
class Stand:
    """A stand, from its plots.

    per_hectare: of all trees; by_species: the same of each species, in the order of their names;
    plots: how many; trees: how many, each once; empty: names of the plots without trees;
    counted: whether through an angle gauge; by_ratio: whether the plots' areas on the map differ.
    """

    per_hectare: PerHectare
    by_species: tuple[tuple[str, PerHectare], ...]
    plots: int
    trees: int
    empty: tuple[str, ...]
    counted: bool
    by_ratio: bool


def each_tree_stands_for(trees: Trees, plots: Plots) -> FloatArray:
    """How many trees a hectare each tree stands for, on its own plot alone.

    trees, plots: of one stand. Times the tree's basal area, 1 or its volume and summed over a plot
    this is what that plot says of a hectare.
    """
    if plots.counted:
        return trees.times * plots.map_factor_m2_per_ha[trees.plot] / trees.basal_area_m2
    return trees.times * HECTARE_M2 / plots.map_area_m2[trees.plot]


def on_plots_per_ha(trees: Trees, plots: Plots, each: FloatArray) -> FloatArray:
    """What each plot alone says of a hectare, zero for a plot without trees; shape (plots,).

    trees, plots: of one stand; each: what is summed, one a tree: its basal area, 1, its volume.
    """
    weight = each_tree_stands_for(trees, plots) * each
    return np.bincount(trees.plot, weight, minlength=len(plots.names)).astype(np.float64)


def stand(trees: Trees, plots: Plots, coverage_percent: float = 95.0) -> Stand:
    """Basal area, stems and volume a hectare, together and of each species.

    trees, plots: of one stand; coverage_percent: of the intervals, by Student on plots − 1. Plots
    of unequal areas on the map by the ratio, Σ of all trees over Σ of all areas. Assumes that the
    plots lie at random and are few against the stand. Raises MeasureError.

    >>> plots = Plots(("A", "B", "C"), area_m2=np.array([500.0, 500.0, 500.0]))
    >>> trees = Trees(np.array([0, 0, 1]), np.array([30.0, 40.0, 35.0]), np.array([22.0, 25, 24]),
    ...               np.array([0.7, 1.4, 1.0]), np.array([0, 0, 0]))
    >>> found = stand(trees, plots)
    >>> round(found.per_hectare.stems.value, 6), found.empty
    (20.0, ('C',))
    """
    here = np.bincount(trees.plot, minlength=len(plots.names))
    area = plots.map_area_m2

    def of(chosen: NDArray[np.bool_]) -> PerHectare:
        return PerHectare(
            *(
                mean_per_ha(on_plots_per_ha(trees, plots, one * chosen), area, coverage_percent)
                for one in (trees.basal_area_m2, np.ones(trees.plot.size), trees.volume_m3)
            )
        )

    return Stand(
        per_hectare=of(np.ones(trees.plot.size, dtype=np.bool_)),
        by_species=tuple(
            (name, of(trees.species == place)) for place, name in enumerate(trees.species_names)
        ),
        plots=len(plots.names),
        trees=int(trees.plot.size),
        empty=tuple(name for name, some in zip(plots.names, here, strict=True) if not some),
        counted=plots.counted,
        by_ratio=_differ(area),
    )


def skew_interval(mean: PlotMean, coverage_percent: float = 95.0) -> tuple[float, float]:
    """An interval as far above the mean as below it in times, not in steps: m·e^(±t·se/m).

    mean: of two plots or more, above 0; coverage_percent: by Student on plots − 1. Where trees
    stand in clumps a few plots have most of them, and a sample without one of those has both a
    mean and a standard error that are too small: Student's interval then ends too low. This one
    never goes below 0. The delta method on the logarithm, from memory; an approximation. Where
    the mean is 0, or of one plot, nothing can be said, and it has no ends.

    >>> from mensura.estimates.plot_means import mean_of_plots
    >>> [round(end, 1) for end in skew_interval(mean_of_plots([20.0, 0.0, 17.0, 30.0]))]
    [5.1, 54.8]
    """
    if mean.plots < 2 or mean.value <= 0:
        return (nan, nan)
    reach = coverage_factor(mean.plots - 1, coverage_percent) * mean.se / mean.value
    with np.errstate(over="ignore"):
        return float(mean.value * np.exp(-reach)), float(mean.value * np.exp(reach))


def mean_per_ha(
    each_per_ha: FloatArray, map_area_m2: FloatArray | None, coverage_percent: float = 95.0
) -> PlotMean:
    """The mean a hectare of what each plot says: by the ratio where the plots' areas differ.

    each_per_ha: of :func:`on_plots_per_ha`; map_area_m2: of each plot, None or empty for angle
    counts; coverage_percent: of the interval.
    """
    if map_area_m2 is not None and _differ(map_area_m2):
        on_each = each_per_ha * map_area_m2 / HECTARE_M2
        return ratio_of_plots(on_each, map_area_m2, coverage_percent)
    return mean_of_plots(each_per_ha, coverage_percent)


def _differ(map_area_m2: FloatArray) -> bool:
    return bool(map_area_m2.size and np.ptp(map_area_m2) > 1e-9 * map_area_m2.max())
