"""A stand from its plots: closed forms, sums by hand, and what must not change it."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.stand import Plots, Trees, on_plots_per_ha, skew_interval, stand
from mensura.estimates.stand_words import stand_notes
from mensura.estimates.tree_volume import FormFactor


def trees_of(plot, diameter_cm, height_m=20.0, species=None, times=1.0) -> Trees:
    plot = np.asarray(plot, dtype=np.int64)
    thick = np.broadcast_to(np.asarray(diameter_cm, dtype=float), plot.shape)
    tall = np.broadcast_to(np.asarray(height_m, dtype=float), plot.shape)
    which = np.zeros(plot.size, dtype=np.int64) if species is None else np.asarray(species)
    names = ("oak", "pine") if species is not None else ("",)
    volume = np.atleast_1d(FormFactor(0.5).volume_m3(thick, tall)) if plot.size else np.zeros(0)
    counts = np.broadcast_to(np.asarray(times, dtype=float), plot.shape)
    return Trees(plot, thick, tall, volume, which, names, counts)


def areas(*area_m2: float, slope_deg=0.0) -> Plots:
    names = tuple("ABCDEFGHIJ"[: len(area_m2)])
    return Plots(names, area_m2=np.array(area_m2), slope_deg=np.atleast_1d(slope_deg))


def test_equal_plots_of_equal_trees_in_closed_form():
    """Ten trees of 40 cm on each of three plots of 500 m²: 200 stems, 8π m², half of that by 20."""
    found = stand(trees_of(np.repeat([0, 1, 2], 10), 40.0), areas(500, 500, 500)).per_hectare
    assert found.stems.value == pytest.approx(200, rel=1e-12)
    assert found.basal_area_m2.value == pytest.approx(8 * np.pi, rel=1e-12)
    assert found.volume_m3.value == pytest.approx(80 * np.pi, rel=1e-12)
    assert found.volume_m3.se == pytest.approx(0, abs=1e-9)


def test_standard_error_of_two_plots_by_hand():
    """10 and 20 trees on 500 m²: 200 and 400, mean 300, standard error 100, Student 12.706."""
    found = stand(trees_of(np.repeat([0, 1], [10, 20]), 30.0), areas(500, 500)).per_hectare.stems
    assert (found.value, found.se) == pytest.approx((300, 100), rel=1e-12)
    assert found.interval == pytest.approx((300 - 1270.62, 300 + 1270.62), abs=0.01)


def test_unequal_plots_by_the_ratio_by_hand():
    """4 trees on 100 m² and 5 on 300: 9 on 400, and not the mean of 400 and 167 a hectare."""
    found = stand(trees_of(np.repeat([0, 1], [4, 5]), 30.0), areas(100, 300))
    assert found.by_ratio
    assert found.per_hectare.stems.value == pytest.approx(225, rel=1e-12)
    # residuals 4 - 2.25 and 5 - 6.75, so s² = 2·1.75²; over n and the mean area of 200 m²
    assert found.per_hectare.stems.se == pytest.approx(1.75 / 200 * 1e4, rel=1e-12)


def test_areas_along_a_slope_count_times_its_cosine():
    """At 60° twice as much stands on a hectare of the map; half the plots steep is a ratio."""
    level = stand(trees_of([0, 0, 1], 30.0), areas(500, 500))
    steep = stand(trees_of([0, 0, 1], 30.0), areas(500, 500, slope_deg=[60.0, 60.0]))
    mixed = stand(trees_of([0, 0, 1], 30.0), areas(500, 500, slope_deg=[60.0, 0.0]))
    assert steep.per_hectare.stems.value == pytest.approx(2 * level.per_hectare.stems.value)
    assert not steep.by_ratio
    assert mixed.by_ratio
    assert mixed.per_hectare.stems.value == pytest.approx(3 / 750 * 1e4)


def test_an_angle_count_needs_no_diameter_for_the_basal_area():
    """3 and 5 trees at factor 2, whatever they are: 6 and 10 m²; on a slope over its cosine."""
    plots = Plots(("A", "B"), factor_m2_per_ha=np.array([2.0, 2.0]))
    for thick in (10.0, np.linspace(8, 77, 8)):
        found = stand(trees_of(np.repeat([0, 1], [3, 5]), thick), plots).per_hectare
        assert found.basal_area_m2.value == pytest.approx(8, rel=1e-12)
        assert found.basal_area_m2.se == pytest.approx(2, rel=1e-12)
    steep = Plots(("A", "B"), np.empty(0), np.array([2.0, 2.0]), np.array([60.0, 60.0]))
    found = stand(trees_of(np.repeat([0, 1], [3, 5]), 20.0), steep).per_hectare
    assert found.basal_area_m2.value == pytest.approx(16, rel=1e-12)


def test_volume_of_an_angle_count_by_hand():
    """A counted tree brings factor times its form height, f·h, whatever its diameter."""
    plots = Plots(("A",), factor_m2_per_ha=np.array([4.0]))
    found = stand(trees_of([0, 0], [20.0, 50.0], [16.0, 30.0]), plots).per_hectare
    assert found.volume_m3.value == pytest.approx(4 * 0.5 * (16 + 30), rel=1e-12)


def test_an_empty_plot_is_a_zero():
    """It draws the mean down and the standard error up, and is named."""
    two = stand(trees_of([0, 0, 1, 1], 30.0), areas(500, 500)).per_hectare.stems
    three = stand(trees_of([0, 0, 1, 1], 30.0), areas(500, 500, 500))
    assert three.empty == ("C",)
    assert three.per_hectare.stems.value == pytest.approx(two.value * 2 / 3)
    assert three.per_hectare.stems.se > two.se == 0
    assert any("C: it counts as zero" in one for one in stand_notes(three, areas(500, 500, 500)))


def test_no_tree_at_all():
    """All is nought, and what chance may have missed is told: 3 in all that was searched."""
    found = stand(trees_of([], 30.0), areas(500, 500))
    assert found.per_hectare.volume_m3.value == 0
    assert found.empty == ("A", "B")
    told = " ".join(stand_notes(found, areas(500, 500)))
    assert f"up to {-np.log(0.05) / 0.1:.3g} a hectare" in told


@pytest.mark.parametrize(("plots", "said"), [(1, "One plot"), (2, "1 degree of"), (4, "3 degrees")])
def test_below_five_plots_the_words_say_what_the_intervals_rest_on(plots, said):
    laid = areas(*[500.0] * plots)
    found = stand(trees_of(np.arange(plots), 30.0), laid)
    assert said in stand_notes(found, laid)[0]
    assert np.isfinite(found.per_hectare.stems.se) == (plots > 1)


def test_five_plots_need_no_such_words():
    laid = areas(*[500.0] * 5)
    told = " ".join(stand_notes(stand(trees_of([0, 0, 1, 2, 3, 4], 30.0), laid), laid))
    assert "degrees" not in told


def test_species_add_up_and_rows_may_be_shuffled():
    draws = np.random.default_rng(4)
    plot, kind = draws.integers(0, 5, 60), draws.integers(0, 2, 60)
    thick, tall = draws.uniform(10, 60, 60), draws.uniform(8, 30, 60)
    laid = areas(500, 300, 500, 400, 500)
    found = stand(trees_of(plot, thick, tall, kind), laid)
    for what in ("basal_area_m2", "stems", "volume_m3"):
        parts = [getattr(one, what).value for _, one in found.by_species]
        assert sum(parts) == pytest.approx(getattr(found.per_hectare, what).value, rel=1e-12)
    new = draws.permutation(60)
    again = stand(trees_of(plot[new], thick[new], tall[new], kind[new]), laid)
    assert again.per_hectare.volume_m3.se == pytest.approx(found.per_hectare.volume_m3.se)


def test_a_tree_that_counts_twice_is_two_trees():
    twice = stand(trees_of([0, 0, 1], 30.0, times=[2.0, 1.0, 1.0]), areas(500, 500))
    two = stand(trees_of([0, 0, 0, 1], 30.0), areas(500, 500))
    assert twice.per_hectare == two.per_hectare
    assert (twice.trees, two.trees) == (3, 4)
    points = Plots(("A", "B"), factor_m2_per_ha=np.array([2.0, 2.0]))
    counted = stand(trees_of([0, 0, 1], 30.0, times=[2.0, 1.0, 1.0]), points)
    assert counted.per_hectare.basal_area_m2.value == pytest.approx(4, rel=1e-12)


def test_what_one_plot_says():
    laid = areas(500, 250)
    trees = trees_of([0, 1, 1], 30.0)
    assert on_plots_per_ha(trees, laid, np.ones(3)).tolist() == [20.0, 80.0]


def test_the_skew_interval_is_even_in_times():
    found = stand(trees_of(np.repeat([0, 1, 2], [2, 9, 30]), 30.0), areas(500, 500, 500))
    stems = found.per_hectare.stems
    low, high = skew_interval(stems)
    assert 0 < low < stems.value < high
    assert low * high == pytest.approx(stems.value**2, rel=1e-12)
    # Student for 95 % on two degrees of freedom, by any table
    assert np.log(high / stems.value) * stems.value / stems.se == pytest.approx(4.303, abs=5e-4)
    assert high > stems.interval[1]
    assert np.isnan(skew_interval(stand(trees_of([0], 30.0), areas(500)).per_hectare.stems)[0])


@pytest.mark.parametrize(
    "made",
    [
        lambda: Plots(()),
        lambda: Plots(("A",)),
        lambda: Plots(("A",), np.array([500.0]), np.array([2.0])),
        lambda: areas(0.0),
        lambda: areas(500, slope_deg=80.0),
        lambda: Plots(("A",), factor_m2_per_ha=np.array([0.01])),
        lambda: trees_of([0], 0.0),
        lambda: trees_of([0], 30.0, height_m=200.0),
        lambda: trees_of([0], 30.0, times=0.0),
        lambda: Trees(np.array([0, 1]), np.ones(3), np.ones(3), np.ones(3), np.array([0, 0])),
    ],
)
def test_what_cannot_be_a_stand_is_refused(made):
    with pytest.raises(MeasureError):
        made()
