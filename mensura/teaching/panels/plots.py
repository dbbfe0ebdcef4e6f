"""The plots panel's numbers: one made-up stand, thirty throws of plots on it, and the truth.

Every tree of the stand is known, so each throw's interval can be held against what is there. Plots
of fixed area and angle counts stand at the same places. The stand goes on beyond an edge as at the
opposite one, so that no plot is cut and none counts too little there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, kept
from mensura.draws import uniforms
from mensura.estimates.plot_means import PlotMean, mean_of_plots
from mensura.estimates.plots import HECTARE_M2, circular_plot_radius_m
from mensura.estimates.propagation import coverage_factor
from mensura.teaching.controls import Choice, Control, State, starting

#: Side of the square stand, in m, and its area in hectares.
SIDE_M = 160.0
STAND_HA = SIDE_M**2 / HECTARE_M2
#: Throws that are shown, and places of each.
THROWS, MOST_PLOTS = 30, 20
_DENSEST = 600

STANDS = ("at random", "in clumps", "in a planted grid")
CONTROLS = (
    Control("stems_per_ha", "stems a hectare", "", 100, _DENSEST, 25, 300, "Stand", whole=True),
    Control("plots", "plots", "", 2, MOST_PLOTS, 1, 8, "Sample", whole=True),
    Control("area_m2", "area of a plot", "m²", 50, 500, 10, 200, "Sample"),
    Control("factor", "gauge's factor", "", 1, 6, 0.5, 2, "Sample"),
    Control("throw", "throw", "", 1, THROWS, 1, 4, "Sample", whole=True),
)
CHOICES = (
    Choice("lie", "trees stand", "Stand", STANDS),
    Choice("figure", "a hectare's", "Sample", ("basal area", "stems")),
)
UNITS = MappingProxyType({"basal area": "m²/ha", "stems": "stems/ha"})
#: The two ways, as they are called.
WAYS = ("plots", "gauge")


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, CHOICES) | changes


PRESETS = MappingProxyType(
    {
        "Two plots": whole_state(plots=2),
        "Twenty plots": whole_state(plots=20),
        "Clumps": whole_state(lie="in clumps"),
        "A planted grid": whole_state(lie="in a planted grid"),
        "Large plots, few": whole_state(plots=3, area_m2=400.0),
        "Small plots, many": whole_state(plots=12, area_m2=100.0),
    }
)


@dataclass(frozen=True, eq=False)
class _Stand:
    """Trees in the order in which a denser stand would get them, and who is near which place.

    trees_m: east and north, shape (trees, 2); diameter_cm: of each; places_m: of all throws' plots;
    place, tree: of each pair that may count; apart_m2: the square of their distance.
    """

    trees_m: FloatArray
    diameter_cm: FloatArray
    places_m: FloatArray
    place: NDArray[np.int64]
    tree: NDArray[np.int64]
    apart_m2: FloatArray


def _normals(count: int, *key: object) -> FloatArray:
    """Normal numbers of mean 0 and spread 1 from keyed draws, by the polar form of Box and Muller.

    count: how many; key: names the draw.
    """
    first = uniforms(count, *key, "length")
    turn = uniforms(count, *key, "turn")
    return np.asarray(np.sqrt(-2 * np.log1p(-first)) * np.cos(2 * np.pi * turn))


@lru_cache(maxsize=len(STANDS))
def _stand(lie: str) -> _Stand:
    """The stand of one kind, drawn once: the same on every machine.

    lie: one of STANDS.
    """
    count = round(_DENSEST * STAND_HA)
    if lie == "at random":
        trees = SIDE_M * uniforms(2 * count, "plots panel", lie).reshape(-1, 2)
    elif lie == "in clumps":
        # forty middles; round each the trees scatter by 7 m
        middles = SIDE_M * uniforms(80, "plots panel", "middles").reshape(-1, 2)
        which = (40 * uniforms(count, "plots panel", "which")).astype(int)
        trees = middles[which] + 7.0 * _normals(2 * count, "plots panel", "round").reshape(-1, 2)
    else:
        # a grid of 4 m, half a metre off by chance, thinned by chance
        step = 4.0
        line = (np.arange(SIDE_M / step) + 0.5) * step
        grid = np.stack(np.meshgrid(line, line), axis=-1).reshape(-1, 2)
        order = np.argsort(uniforms(len(grid), "plots panel", "thinned"))[:count]
        trees = grid[order] + 0.5 * _normals(2 * count, "plots panel", "planted").reshape(-1, 2)
    trees = np.mod(trees, SIDE_M)
    thick = np.clip(30.0 * np.exp(0.3 * _normals(count, "plots panel", "thick") - 0.045), 12, 60)
    places = SIDE_M * uniforms(2 * THROWS * MOST_PLOTS, "plots panel", "places").reshape(-1, 2)
    across, up = (np.abs(places[:, None, k] - trees[None, :, k]) for k in (0, 1))
    apart = np.minimum(across, SIDE_M - across) ** 2 + np.minimum(up, SIDE_M - up) ** 2
    area, factor = (next(c for c in CONTROLS if c.name == one) for one in ("area_m2", "factor"))
    farthest = np.maximum(area.greatest / np.pi, (thick / 200) ** 2 * (HECTARE_M2 / factor.least))
    place, tree = np.nonzero(apart < farthest)
    return _Stand(
        kept(trees), kept(thick), kept(places), kept(place), kept(tree), kept(apart[place, tree])
    )


@dataclass(frozen=True, eq=False)
class Way:
    """What one way of counting found.

    each_per_ha: of the shown throw's plots; found: their mean, standard error and interval;
    trees: how many trees were counted, over all its plots; counted: which trees of the stand;
    means_per_ha, lows_per_ha, highs_per_ha: of every throw; holds: whether each one's interval
    holds the truth.
    """

    each_per_ha: FloatArray
    found: PlotMean
    trees: int
    counted: NDArray[np.bool_]
    means_per_ha: FloatArray
    lows_per_ha: FloatArray
    highs_per_ha: FloatArray
    holds: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class PlotsShown:
    """All that the panel shows of one stand and its throws.

    lie: one of STANDS; stems_per_ha: of the stand; trees_m, diameter_cm: its trees; figure: what is
    asked for; true_per_ha: of the whole stand; area_m2, radius_m: of a plot; factor: of the gauge,
    in m² a hectare; throw: the one shown, from 1; places_m: of its plots; ways: what each found.
    """

    lie: str
    stems_per_ha: int
    trees_m: FloatArray
    diameter_cm: FloatArray
    figure: str
    true_per_ha: float
    area_m2: float
    radius_m: float
    factor: float
    throw: int
    places_m: FloatArray
    ways: dict[str, Way]

    @property
    def plots(self) -> int:
        """Plots of a throw."""
        return len(self.places_m)

    @property
    def unit(self) -> str:
        """Of the figure."""
        return UNITS[self.figure]


def numbers(
    stems_per_ha: int,
    plots: int,
    area_m2: float,
    factor: float,
    throw: int,
    lie: str,
    figure: str,
) -> PlotsShown:
    """What the panel shows for a state of its controls.

    stems_per_ha: of the stand; plots: of each throw; area_m2: of a plot of fixed area; factor: of
    the gauge, in m² a hectare; throw: from 1 to THROWS; lie: one of STANDS; figure: one of UNITS.

    >>> shown = numbers(**whole_state())
    >>> round(shown.true_per_ha, 1), [int(way.holds.sum()) for way in shown.ways.values()]
    (23.1, [29, 28])
    """
    stand = _stand(lie)
    count = round(stems_per_ha * STAND_HA)
    basal_m2 = np.pi / 40000 * np.square(stand.diameter_cm)
    there = (stand.tree < count) & (stand.place % MOST_PLOTS < plots)
    place, tree, apart = stand.place[there], stand.tree[there], stand.apart_m2[there]
    basal = figure == "basal area"
    true = float(basal_m2[:count].sum()) / STAND_HA if basal else count / STAND_HA
    on = apart < area_m2 / np.pi
    by = apart < np.square(stand.diameter_cm[tree] / 200) * (HECTARE_M2 / factor)
    per_tree = {
        "plots": (basal_m2 if basal else np.ones_like(basal_m2)) * (HECTARE_M2 / area_m2),
        "gauge": factor * (np.ones_like(basal_m2) if basal else 1 / basal_m2),
    }
    own = place // MOST_PLOTS == throw - 1
    ways = {}
    for name, inside in (("plots", on), ("gauge", by)):
        weights = per_tree[name][tree[inside]]
        sums = np.bincount(place[inside], weights, minlength=THROWS * MOST_PLOTS).astype(np.float64)
        counted = np.zeros(count, dtype=bool)
        mine = tree[inside & own]
        counted[mine] = True
        ways[name] = _way(
            sums.reshape(THROWS, MOST_PLOTS)[:, :plots], throw - 1, true, counted, len(mine)
        )
    return PlotsShown(
        lie=lie,
        stems_per_ha=stems_per_ha,
        trees_m=stand.trees_m[:count],
        diameter_cm=stand.diameter_cm[:count],
        figure=figure,
        true_per_ha=true,
        area_m2=area_m2,
        radius_m=float(circular_plot_radius_m(area_m2)),
        factor=factor,
        throw=throw,
        places_m=stand.places_m.reshape(THROWS, MOST_PLOTS, 2)[throw - 1, :plots],
        ways=ways,
    )


def _way(
    each_per_ha: FloatArray, row: int, true: float, counted: NDArray[np.bool_], trees: int
) -> Way:
    """Means and intervals of all throws at once, as :func:`mean_of_plots` has them of one."""
    plots = each_per_ha.shape[1]
    means = each_per_ha.mean(axis=1)
    reach = each_per_ha.std(axis=1, ddof=1) / np.sqrt(plots) * coverage_factor(plots - 1)
    return Way(
        each_per_ha=each_per_ha[row],
        found=mean_of_plots(each_per_ha[row]),
        trees=trees,
        counted=counted,
        means_per_ha=means,
        lows_per_ha=means - reach,
        highs_per_ha=means + reach,
        holds=(means - reach <= true) & (true <= means + reach),
    )
