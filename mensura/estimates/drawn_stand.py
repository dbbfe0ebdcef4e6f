"""Stands that are drawn, so that the truth is known, and plots thrown on them.

Trees are spread at random, or in clumps about mothers that are spread at random. Where an interval
says 95 %, plots are thrown again and again, and it is counted how often the truth lies within.
Everything is invented: no such wood stands anywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, FloatArray, MeasureError, kept, number, whole
from mensura.estimates.angle_count import limit_m
from mensura.estimates.plots import HECTARE_M2
from mensura.estimates.stand import (
    IntArray,
    Plots,
    Trees,
    mean_per_ha,
    on_plots_per_ha,
    skew_interval,
)
from mensura.estimates.tree_volume import FormFactor

#: Species of the drawn stands, the share of each, and its mean diameter.
_SPECIES = (("birch", 0.25, 19.0), ("oak", 0.35, 30.0), ("pine", 0.40, 26.0))
#: What is done where a plot reaches over the stand's edge.
EDGES = ("none", "inside", "mirrored", "ignored")
#: More trees than any lesson needs.
MOST_TREES = 2_000_000
#: So many strips of a plot tell how much of it lies inside.
_STRIPS = 400


@dataclass(frozen=True)
class DrawnStand:
    """A square stand whose every tree is known.

    side_m: of the square; x_m, y_m: where each tree stands; diameter_cm, height_m, volume_m3: of
    each; species: its place among species_names.
    """

    side_m: float
    x_m: FloatArray
    y_m: FloatArray
    diameter_cm: FloatArray
    height_m: FloatArray
    volume_m3: FloatArray
    species: IntArray
    species_names: tuple[str, ...]

    @property
    def basal_area_m2_per_ha(self) -> float:
        """Truth: basal area a hectare."""
        return float(np.pi / 40000 * np.square(self.diameter_cm).sum() * self._times_per_ha)

    @property
    def stems_per_ha(self) -> float:
        """Truth: stems a hectare."""
        return self.x_m.size * self._times_per_ha

    @property
    def volume_m3_per_ha(self) -> float:
        """Truth: volume a hectare."""
        return float(self.volume_m3.sum() * self._times_per_ha)

    @property
    def truth(self) -> dict[str, float]:
        """All three, by the names of PerHectare."""
        return {
            "basal_area_m2": self.basal_area_m2_per_ha,
            "stems": self.stems_per_ha,
            "volume_m3": self.volume_m3_per_ha,
        }

    @property
    def _times_per_ha(self) -> float:
        return HECTARE_M2 / self.side_m**2


def drawn_stand(
    seed: int,
    side_m: float = 400.0,
    stems_per_ha: float = 450.0,
    clump_stems: float = 0.0,
    clump_radius_m: float = 6.0,
) -> DrawnStand:
    """A stand of trees spread at random, or in clumps, that goes on beyond its edges.

    seed: of the generator; side_m: of the square, from 20 to 5000; stems_per_ha: on average, from 1
    to 20 000; clump_stems: mean number in a clump, 0 for no clumps, at most 1000; clump_radius_m:
    standard deviation of a tree's way from the clump's middle, each way, from 0.1 to 100. In a
    clumped stand the trees of one clump have one species, and a clump that reaches over an edge
    comes in on the other side. Raises MeasureError.

    >>> wood = drawn_stand(7, side_m=200)
    >>> round(wood.stems_per_ha), wood.species_names
    (454, ('birch', 'oak', 'pine'))
    """
    side = number(side_m, "side_m", "m", at_least=20.0, at_most=5000.0)
    per_ha = number(stems_per_ha, "stems_per_ha", "", at_least=1.0, at_most=20_000.0)
    each = number(clump_stems, "clump_stems", "", at_least=0.0, at_most=1000.0)
    reach = number(clump_radius_m, "clump_radius_m", "m", at_least=0.1, at_most=100.0)
    wanted = per_ha * side * side / HECTARE_M2
    if wanted > MOST_TREES:
        raise MeasureError("stems_per_ha", per_ha, "", f"at most {MOST_TREES:,} trees together")
    draws = np.random.default_rng(seed)
    shares = [share for _, share, _ in _SPECIES]
    if each:
        mothers = max(1, draws.poisson(wanted / each))
        sizes = draws.poisson(each, mothers)
        middles = draws.random((mothers, 2)) * side
        places = np.repeat(middles, sizes, axis=0)
        places = (places + draws.normal(0.0, reach, places.shape)) % side
        species = np.repeat(draws.choice(len(_SPECIES), mothers, p=shares), sizes)
    else:
        places = draws.random((draws.poisson(wanted), 2)) * side
        species = draws.choice(len(_SPECIES), places.shape[0], p=shares)
    middle_cm = np.array([thick for *_, thick in _SPECIES])[species]
    diameter = np.maximum(draws.weibull(3.0, species.size) * middle_cm / 0.893, 7.0).round(1)
    height = 1.3 + 28.0 * (1 - np.exp(-0.055 * diameter))
    height = np.maximum(height * draws.normal(1.0, 0.06, species.size), 2.0).round(1)
    return DrawnStand(
        side_m=float(side),
        x_m=kept(places[:, 0].copy()),
        y_m=kept(places[:, 1].copy()),
        diameter_cm=kept(diameter),
        height_m=kept(height),
        volume_m3=kept(np.atleast_1d(FormFactor().volume_m3(diameter, height))),
        species=species.astype(np.int64),
        species_names=tuple(name for name, *_ in _SPECIES),
    )


def thrown_plots(
    wood: DrawnStand,
    plots: int,
    seed: int,
    area_m2: Any = 500.0,
    factor_m2_per_ha: float = 0.0,
    edge: str = "none",
) -> tuple[Plots, Trees]:
    """Plots at random on a drawn stand, and the trees on them.

    wood: the stand; plots: how many, from 1 to 100 000; seed: of the generator; area_m2: of the
    round plots, one for all or one each; factor_m2_per_ha: of an angle gauge, in place of them, 0
    for none; edge: one of EDGES: "none", the stand goes on beyond its edge; "inside", a plot's
    area is what lies inside; "mirrored", trees count again from the plot's images behind the edge;
    "ignored", as if the edge were not there, which is wrong. Raises MeasureError.

    >>> plots, trees = thrown_plots(drawn_stand(7, side_m=200), 3, seed=1)
    >>> np.bincount(trees.plot).tolist()
    [29, 25, 24]
    """
    if edge not in EDGES:
        raise ChoiceError("edge", edge, EDGES)
    count = whole(plots, "plots", at_least=1, at_most=100_000)
    gauge = number(factor_m2_per_ha, "factor_m2_per_ha", "m²/ha", at_least=0.0, at_most=100.0)
    if gauge and edge == "inside":
        raise MeasureError("edge", edge, "", "mirrored, for an angle count has no area")
    # a stream of its own, or plots would follow the trees of a stand of the same seed
    middles = np.random.default_rng((seed, 1)).random((count, 2)) * wood.side_m
    areas = np.broadcast_to(number(area_m2, "area_m2", "m²", above=0.0, at_most=1e6), (count,))
    reach = _reach_m(wood, areas, gauge)
    if reach.max() > wood.side_m / 2:
        raise MeasureError("area_m2", float(areas.max()), "m²", "plots no wider than the stand")
    names = tuple(f"P{place:02d}" for place in range(1, count + 1))
    if edge == "mirrored":
        plot, tree, times = _with_images(wood, middles, reach, gauge)
    else:
        plot, tree = _caught(wood, middles, reach, gauge, wraps=edge == "none")
        times = np.ones(plot.size)
    if edge == "inside":
        areas = _inside_m2(middles, np.sqrt(areas / np.pi), wood.side_m)
    made = (
        Plots(names, factor_m2_per_ha=np.full(count, gauge))
        if gauge
        else Plots(names, area_m2=np.array(areas))
    )
    return made, Trees(
        plot, wood.diameter_cm[tree], wood.height_m[tree], wood.volume_m3[tree],
        wood.species[tree], wood.species_names, times,
    )  # fmt: skip


@dataclass(frozen=True)
class Covered:
    """How often an interval that says so much holds the truth.

    percent: of the samples, by Student; skew_percent: by the interval of :func:`skew_interval`;
    u_percent: standard error of either for want of more samples; samples: how many; relative_se:
    mean standard error over the mean.
    """

    percent: float
    skew_percent: float
    u_percent: float
    samples: int
    relative_se: float


def covered(
    wood: DrawnStand,
    plots: int,
    samples: int,
    seed: int,
    area_m2: Any = 500.0,
    factor_m2_per_ha: float = 0.0,
    what: str = "volume_m3",
) -> Covered:
    """How often 95 % intervals of a drawn stand hold its truth.

    wood: the stand; plots: in each sample, from 2; samples: how often they are thrown, at most
    5000; seed: of the generator; area_m2: of the plots of a sample, one for all or one each;
    factor_m2_per_ha: as for :func:`thrown_plots`; what: basal_area_m2, stems or volume_m3. Raises
    MeasureError.

    >>> covered(drawn_stand(7), plots=8, samples=200, seed=3).percent
    93.0
    """
    truths = wood.truth
    if what not in truths:
        raise ChoiceError("what", what, tuple(truths))
    each = whole(plots, "plots", at_least=2, at_most=1000)
    many = whole(samples, "samples", at_least=1, at_most=5000)
    areas = np.tile(np.broadcast_to(area_m2, (each,)), many)
    laid, trees = thrown_plots(wood, many * each, seed, areas, factor_m2_per_ha)
    counted = {"basal_area_m2": trees.basal_area_m2, "volume_m3": trees.volume_m3}
    summed = counted.get(what, np.ones(trees.plot.size))
    per_ha = on_plots_per_ha(trees, laid, summed).reshape(many, each)
    of_each = None if laid.counted else laid.map_area_m2[:each]
    truth, inside, inside_skew, spread = truths[what], 0, 0, 0.0
    for sample in per_ha:
        found = mean_per_ha(sample, of_each)
        low, high = found.interval
        inside += low <= truth <= high
        low, high = skew_interval(found)
        inside_skew += low <= truth <= high
        spread += found.se / truth
    share = inside / many
    u = 100 * float(np.sqrt(max(share * (1 - share), 0.02) / many))
    return Covered(100 * share, 100 * inside_skew / many, u, many, spread / many)


def _reach_m(wood: DrawnStand, areas: FloatArray, gauge: float) -> FloatArray:
    """How far from a plot's middle a tree may stand: one value a plot, or one a tree."""
    if gauge:
        return np.asarray(limit_m(wood.diameter_cm, gauge))
    return np.sqrt(areas / np.pi)


def _caught(
    wood: DrawnStand, middles: FloatArray, reach: FloatArray, gauge: float, wraps: bool
) -> tuple[IntArray, IntArray]:
    """Every pair of a plot and a tree on it, by plot."""
    from scipy.spatial import cKDTree

    side = wood.side_m
    # what rounds up to the side itself would lie outside of a box that wraps
    places = np.minimum(np.column_stack([wood.x_m, wood.y_m]), np.nextafter(side, 0))
    if not len(places):
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
    among = cKDTree(places, boxsize=side if wraps else None)
    near = among.query_ball_point(middles, reach.max() if gauge else reach, return_sorted=True)
    sizes = np.fromiter(map(len, near), np.int64, len(near))
    plot = np.repeat(np.arange(len(middles)), sizes)
    tree = np.concatenate([np.asarray(one, dtype=np.int64) for one in near])
    if gauge:
        off = np.abs(places[tree] - middles[plot])
        off = np.minimum(off, side - off) if wraps else off
        looks_wider = np.square(off).sum(axis=1) <= np.square(reach[tree])
        plot, tree = plot[looks_wider], tree[looks_wider]
    return plot, tree


def _with_images(
    wood: DrawnStand, middles: FloatArray, reach: FloatArray, gauge: float
) -> tuple[IntArray, IntArray, FloatArray]:
    """The trees on a plot, each counted once for it and once for every image that catches it."""
    count, side = len(middles), wood.side_m
    images = [(0, 0), *((x, y) for x in (-1, 0, 1) for y in (-1, 0, 1) if (x, y) != (0, 0))]
    pairs: list[IntArray] = []
    for x, y in images:
        image = middles.copy()
        for axis, way in enumerate((x, y)):
            if way:
                image[:, axis] = (side + side * way) - image[:, axis]
        plot, tree = _caught(wood, image, reach, gauge, wraps=False)
        pairs.append(plot * wood.x_m.size + tree)
    key, times = np.unique(np.concatenate(pairs), return_counts=True)
    size = max(wood.x_m.size, 1)
    plot = (key // size).astype(np.int64)
    assert plot.size == 0 or plot[-1] < count
    return plot, (key % size).astype(np.int64), times.astype(np.float64)


def _inside_m2(middles: FloatArray, radius_m: FloatArray, side_m: float) -> FloatArray:
    """Area of each circle that lies inside the square, by strips, to one part in ten thousand."""
    off = np.array([middles[:, 0] / radius_m, (middles[:, 0] - side_m) / radius_m])
    first, last = np.arccos(np.clip(off, -1.0, 1.0))[:, :, None]
    step = (last - first) / _STRIPS
    turns = first + step * (np.arange(_STRIPS) + 0.5)  # narrow strips where the circle is steep
    half = radius_m[:, None] * np.sin(turns)
    high = np.minimum(middles[:, 1:] + half, side_m)
    low = np.maximum(middles[:, 1:] - half, 0.0)
    return np.asarray((np.maximum(high - low, 0.0) * half * step).sum(axis=1))
