"""Drawn stands: their truth, who is caught, and how often 95 % intervals hold the truth."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import shapely

from mensura.checks import MeasureError
from mensura.estimates.drawn_stand import (
    Covered,
    DrawnStand,
    covered,
    drawn_stand,
    thrown_plots,
)
from mensura.estimates.stand import stand
from mensura.estimates.stand_words import SKEW_FROM


@cache
def wood_of(seed: int, clump_stems: float = 0.0, clump_radius_m: float = 6.0) -> DrawnStand:
    return drawn_stand(seed, clump_stems=clump_stems, clump_radius_m=clump_radius_m)


def together(*found: Covered) -> tuple[float, float, float, float]:
    """Student's and the skew interval's coverage, their standard error, and the relative error."""
    many = [(one.percent, one.skew_percent, one.relative_se) for one in found]
    percent, skew, relative = np.mean(many, axis=0)
    return (
        percent,
        skew,
        float(np.hypot.reduce([one.u_percent for one in found])) / len(found),
        relative,
    )


SOME = [300.0, 500.0, 800.0]


@pytest.mark.parametrize(
    ("plots", "laid"),
    [
        (5, {"area_m2": 500.0}),
        (5, {"area_m2": 300.0, "what": "stems"}),
        (6, {"area_m2": SOME * 2, "what": "basal_area_m2"}),
        (8, {"factor_m2_per_ha": 2.0}),
        (20, {"area_m2": 200.0}),
    ],
    ids=str,
)
def test_intervals_of_trees_at_random_cover_93_to_97_percent(plots, laid):
    """Three stands, 1,000 samples each, Student on plots − 1; and so does the skew interval."""
    found = [covered(wood_of(seed), plots, 1000, seed + 11, **laid) for seed in (1, 2, 3)]
    percent, skew, u, _ = together(*found)
    assert u < 0.5
    assert 93 <= percent <= 97
    assert 93 <= skew <= 97


@pytest.mark.parametrize("clump", [(10.0, 6.0), (20.0, 6.0)], ids=str)
def test_intervals_of_twenty_plots_in_clumps_cover_92_to_97_percent(clump):
    found = [covered(wood_of(seed, *clump), 20, 700, seed + 5) for seed in (4, 5, 6)]
    percent, skew, u, relative = together(*found)
    assert u < 0.6
    assert relative < SKEW_FROM
    assert 92 <= percent <= 97
    assert 92 <= skew <= 97


def test_in_dense_clumps_student_falls_short_and_the_skew_interval_does_not():
    """Why there is a second one: a sample that misses the clumps has a small standard error too."""
    stands = [drawn_stand(seed, 400, 300, 30, 4) for seed in (7, 8, 9)]
    found = [covered(one, 20, 700, at, area_m2=200.0) for at, one in enumerate(stands)]
    percent, skew, u, relative = together(*found)
    assert relative > SKEW_FROM
    assert percent + 2 * u < 92 < skew < 97


def test_the_truth_is_the_sum_of_all_trees():
    wood = wood_of(1)
    assert wood.stems_per_ha == wood.x_m.size / 16
    assert wood.truth["basal_area_m2"] == pytest.approx(
        sum(np.pi / 40000 * one**2 for one in wood.diameter_cm.tolist()) / 16
    )
    assert wood.truth["volume_m3"] == pytest.approx(wood.volume_m3.sum() / 16)


def test_trees_at_random_are_as_even_as_chance_and_clumps_are_not():
    """Variance over mean of the counts in 100 squares: 1 for trees at random."""

    def over(wood: DrawnStand) -> float:
        counts = np.histogram2d(wood.x_m, wood.y_m, bins=10, range=[[0, 400], [0, 400]])[0]
        return float(counts.var(ddof=1) / counts.mean())

    assert np.mean([over(wood_of(seed)) for seed in range(1, 4)]) == pytest.approx(1, abs=0.25)
    assert min(over(wood_of(seed, 20.0)) for seed in (4, 5, 6)) > 5


@pytest.mark.parametrize("laid", [{"area_m2": 700.0}, {"factor_m2_per_ha": 1.0}], ids=str)
@pytest.mark.parametrize("edge", ["none", "mirrored", "ignored"])
def test_who_is_caught_is_found_one_by_one_as_well(laid, edge):
    """Every tree against every plot, and every image of it, by its distance alone."""
    wood = drawn_stand(12, side_m=80.0, stems_per_ha=300)
    _, found = thrown_plots(wood, 25, 3, edge=edge, **laid)
    middles = np.random.default_rng((3, 1)).random((25, 2)) * 80
    radius = wood.diameter_cm / 2 if "factor_m2_per_ha" in laid else np.sqrt(700 / np.pi)
    counts = np.zeros((25, wood.x_m.size))
    for x in (-1, 0, 1):
        for y in (-1, 0, 1):
            if edge == "ignored" and (x, y) != (0, 0):
                continue
            image = middles.copy()
            if edge == "none":
                image += [80 * x, 80 * y]
            else:
                for axis, way in enumerate((x, y)):
                    if way:
                        image[:, axis] = (160 if way == 1 else 0) - image[:, axis]
            off = np.hypot(image[:, :1] - wood.x_m, image[:, 1:] - wood.y_m)
            counts += off <= radius
    told = np.zeros_like(counts)
    for plot in range(25):
        mine = found.plot == plot
        # trees by what they are: no two are alike in both
        for thick, tall, times in zip(
            found.diameter_cm[mine], found.height_m[mine], found.times[mine], strict=True
        ):
            same = (wood.diameter_cm == thick) & (wood.height_m == tall)
            told[plot, same] += times
    alike = np.array(
        [
            np.sum((wood.diameter_cm == thick) & (wood.height_m == tall)) == 1
            for thick, tall in zip(wood.diameter_cm, wood.height_m, strict=True)
        ]
    )
    assert alike.mean() > 0.9
    assert np.array_equal(told[:, alike], counts[:, alike])
    assert (counts.max() > 1) == (edge == "mirrored")


def test_area_inside_is_that_of_geos():
    """Circles cut by a square, to a part in ten thousand of GEOS's polygons."""
    wood = drawn_stand(12, side_m=80.0)
    plots, _ = thrown_plots(wood, 60, 3, area_m2=900.0, edge="inside")
    middles = np.random.default_rng((3, 1)).random((60, 2)) * 80
    circles = shapely.buffer(shapely.points(middles), np.sqrt(900 / np.pi), quad_segs=200)
    inside = shapely.area(shapely.intersection(circles, shapely.box(0, 0, 80, 80)))
    assert inside.min() < 700
    assert plots.map_area_m2 == pytest.approx(inside, rel=1e-4)


def test_the_stated_rules_for_edges_against_ignoring_them():
    """2,000 plots in each of three small stands, where every second plot meets an edge.

    Mirrored plots are exact; with the area inside, trees at the edge are caught less often than
    others, which is a per cent or three of such small stands, to either side.
    """
    off: dict[str, list[float]] = {"inside": [], "mirrored": [], "ignored": []}
    for seed in (21, 22, 23):
        wood = drawn_stand(seed, side_m=120.0)
        for edge, found in off.items():
            plots, trees = thrown_plots(wood, 2000, seed, area_m2=800.0, edge=edge)
            volume = stand(trees, plots).per_hectare.volume_m3
            found.append(100 * (volume.value / wood.volume_m3_per_ha - 1))
    assert max(map(abs, off["inside"])) < 4
    assert abs(np.mean(off["mirrored"])) < 1
    assert max(off["ignored"]) < -7


@pytest.mark.parametrize(
    "made",
    [
        lambda: drawn_stand(1, side_m=10),
        lambda: drawn_stand(1, side_m=5000, stems_per_ha=20000),
        lambda: thrown_plots(wood_of(1), 3, 1, edge="moved"),
        lambda: thrown_plots(wood_of(1), 3, 1, factor_m2_per_ha=2, edge="inside"),
        lambda: thrown_plots(wood_of(1), 0, 1),
        lambda: thrown_plots(wood_of(1), 3, 1, area_m2=2e5),
        lambda: covered(wood_of(1), 1, 10, 1),
        lambda: covered(wood_of(1), 5, 10, 1, what="weight"),
    ],
)
def test_what_cannot_be_drawn_is_refused(made):
    with pytest.raises(MeasureError):
        made()
