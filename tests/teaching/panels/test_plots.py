"""The plots panel's numbers: counted anew tree by tree, and thirty throws that are honest."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.estimates.angle_count import counted_stems_per_ha, limit_m
from mensura.estimates.plot_means import mean_of_plots
from mensura.estimates.plots import basal_area_m2_per_ha, stems_per_ha
from mensura.teaching.controls import State
from mensura.teaching.panels.plots import (
    CHOICES,
    CONTROLS,
    SIDE_M,
    STAND_HA,
    STANDS,
    THROWS,
    numbers,
    whole_state,
)

STATES: list[State] = [
    whole_state(**{one.name: end}) for one in (*CONTROLS, *CHOICES) for end in one.ends
]


@pytest.mark.parametrize("state", STATES)
def test_a_throw_is_what_a_slow_count_finds(state: State) -> None:
    """Tree by tree, with the public formulas, and the stand laid nine times round itself."""
    n = numbers(**state)
    around = [SIDE_M * np.array([i, j]) for i in (-1, 0, 1) for j in (-1, 0, 1)]
    plots, gauge, counts = [], [], [0, 0]
    for place in n.places_m:
        apart = np.min([np.hypot(*(n.trees_m + shift - place).T) for shift in around], axis=0)
        on = n.diameter_cm[apart < np.sqrt(n.area_m2 / np.pi)]
        by = n.diameter_cm[apart < limit_m(n.diameter_cm, n.factor)]
        counts = [counts[0] + on.size, counts[1] + by.size]
        if n.figure == "stems":
            plots.append(stems_per_ha(on.size, n.area_m2))
            gauge.append(sum(np.atleast_1d(counted_stems_per_ha(by, n.factor))) if by.size else 0.0)
        else:
            plots.append(basal_area_m2_per_ha(on, n.area_m2) if on.size else 0.0)
            gauge.append(n.factor * by.size)
    for way, each, count in zip(n.ways.values(), (plots, gauge), counts, strict=True):
        assert way.each_per_ha == pytest.approx(each)
        assert way.trees == count
        found, row = mean_of_plots(each), n.throw - 1
        assert (
            way.means_per_ha[row],
            way.lows_per_ha[row],
            way.highs_per_ha[row],
        ) == pytest.approx((found.value, *found.interval))


@pytest.mark.parametrize("lie", STANDS)
def test_the_truth_is_all_trees(lie: str) -> None:
    """And a denser stand has the same trees and more."""
    few, many = (numbers(**whole_state(lie=lie, stems_per_ha=n)) for n in (200, 400))
    assert len(few.trees_m) == 200 * STAND_HA
    assert np.array_equal(many.trees_m[: len(few.trees_m)], few.trees_m)
    assert few.true_per_ha == pytest.approx(
        basal_area_m2_per_ha(few.diameter_cm, STAND_HA * 10_000)
    )
    assert numbers(**whole_state(lie=lie, figure="stems")).true_per_ha == pytest.approx(300)
    assert np.all((many.trees_m >= 0) & (many.trees_m <= SIDE_M))


def test_about_nineteen_throws_in_twenty_hold_the_truth() -> None:
    """Over many settings; in clumps fewer do, and none of the settings holds less than half."""
    shares = {}
    for lie in STANDS:
        held = [
            way.holds.mean()
            for plots in (5, 10, 20)
            for figure in ("basal area", "stems")
            for way in numbers(**whole_state(lie=lie, plots=plots, figure=figure)).ways.values()
        ]
        shares[lie] = float(np.mean(held))
        assert min(held) > 0.5
    assert 0.91 < shares["at random"] < 0.99
    assert 0.85 < shares["in clumps"] < shares["at random"]


def test_more_plots_and_larger_ones_shorten_the_interval() -> None:
    """By four times the plots the interval is half as long and less, over all throws."""

    def length(**changes: object) -> float:
        way = numbers(**whole_state(**changes)).ways["plots"]
        return float(np.mean(way.highs_per_ha - way.lows_per_ha))

    assert length(plots=20) < length(plots=5) / 2
    assert length(area_m2=400.0) < 0.8 * length(area_m2=100.0)
    assert length(lie="in clumps") > 1.3 * length(lie="at random")


def test_throws_differ_and_their_plots_are_the_same_for_both_ways() -> None:
    """Each has places of its own; with more plots the first ones stay."""
    firsts = [numbers(**whole_state(throw=k)).places_m[0].tolist() for k in range(1, THROWS + 1)]
    assert len({tuple(one) for one in firsts}) == THROWS
    few, many = (numbers(**whole_state(plots=n)).places_m for n in (3, 9))
    assert np.array_equal(few, many[:3])
