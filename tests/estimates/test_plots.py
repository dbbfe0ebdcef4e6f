"""From a plot to a hectare, on level ground and on a slope."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    basal_area_from_girths_m2_per_ha,
    basal_area_m2,
    basal_area_m2_per_ha,
    circular_plot_area_m2,
    circular_plot_radius_m,
    mapped_area_m2,
    quadratic_mean_diameter_cm,
    slope_distance_m,
    slope_plot_radius_m,
    stems_per_ha,
)

radii = st.floats(0.5, 500)
slopes = st.floats(0, 75)
areas = st.floats(1, 1e5)
stands = st.lists(st.floats(1, 200), min_size=1, max_size=40)


@given(radii)
def test_radius_and_area_undo_each_other(radius):
    """There and back."""
    back = circular_plot_radius_m(circular_plot_area_m2(radius))
    assert back == pytest.approx(radius, rel=1e-14)


@given(radii, slopes)
def test_the_map_of_a_corrected_plot_has_the_wanted_area(radius, slope):
    """A circle laid on the ground, seen from above by GEOS, is an ellipse of the level area."""
    on_ground = slope_plot_radius_m(radius, slope)
    turn = np.linspace(0, 2 * np.pi, 4001)[:-1]
    seen = np.column_stack([np.cos(turn), np.cos(np.radians(slope)) * np.sin(turn)]) * on_ground
    assert shapely.Polygon(seen).area == pytest.approx(circular_plot_area_m2(radius), rel=1e-5)
    assert mapped_area_m2(circular_plot_area_m2(on_ground), slope) == pytest.approx(
        circular_plot_area_m2(radius), rel=1e-12
    )


@given(st.floats(0.5, 500), slopes)
def test_taping_up_and_along(distance, slope):
    """The corrected circle lies between the level radius and the full correction, as their mean."""
    up = slope_distance_m(distance, slope)
    assert up**2 == pytest.approx(
        distance**2 + (distance * np.tan(np.radians(slope))) ** 2, rel=1e-10
    )
    assert slope_plot_radius_m(distance, slope) == pytest.approx(np.sqrt(distance * up), rel=1e-12)


def test_level_ground_needs_no_correction():
    """At 0° all three leave a length and an area alone."""
    assert slope_plot_radius_m(12.6, 0) == slope_distance_m(12.6, 0) == 12.6
    assert mapped_area_m2(500, 0) == 500


@given(stands, areas)
def test_basal_area_is_summed_stem_by_stem(stand, area):
    """One stem after the other, from diameters and from girths; spread over the plot's share."""
    by_hand = sum(basal_area_m2(d) for d in stand) / (area / 10_000)
    assert basal_area_m2_per_ha(stand, area) == pytest.approx(by_hand, rel=1e-12)
    taped = [np.pi * d for d in stand]
    assert basal_area_from_girths_m2_per_ha(taped, area) == pytest.approx(by_hand, rel=1e-12)


@given(stands, areas)
def test_the_mean_stem_times_the_number_is_the_basal_area(stand, area):
    """Quadratic mean diameter and stems per hectare give the basal area back."""
    mean = quadratic_mean_diameter_cm(stand)
    per_ha = stems_per_ha(len(stand), area) * basal_area_m2(mean)
    assert per_ha == pytest.approx(basal_area_m2_per_ha(stand, area), rel=1e-12)


@given(stands)
def test_quadratic_mean_is_not_below_the_arithmetic(stand):
    """It exceeds the mean by the variance, squared: d_g² = d̄² + s²."""
    mean = quadratic_mean_diameter_cm(stand)
    assert mean**2 == pytest.approx(np.mean(stand) ** 2 + np.var(stand), rel=1e-9)
    assert mean >= np.mean(stand) * (1 - 1e-12)


@given(stands, areas, st.floats(1.5, 9))
def test_a_plot_twice_as_large_says_half(stand, area, times):
    """The same stems on a larger plot make a thinner wood."""
    assert basal_area_m2_per_ha(stand, times * area) == pytest.approx(
        basal_area_m2_per_ha(stand, area) / times, rel=1e-12
    )


def test_an_empty_plot_counts_as_nothing():
    """No stems, no basal area; but no mean stem either."""
    assert basal_area_m2_per_ha([], 500) == basal_area_from_girths_m2_per_ha([], 500) == 0
    assert stems_per_ha(0, 500) == 0
    with pytest.raises(MeasureError, match="diameters_cm is missing; expected at least one stem"):
        quadratic_mean_diameter_cm([])


def test_many_plots_in_one_call():
    """Rows are plots; a single stem may stand alone."""
    rows = [[20, 30], [25, 25], [40, 10]]
    assert basal_area_m2_per_ha(rows, [100, 200, 300]).shape == (3,)
    assert quadratic_mean_diameter_cm(rows).tolist() == pytest.approx(
        [np.sqrt(650), 25, np.sqrt(850)]
    )
    assert basal_area_m2_per_ha(40, 100) == pytest.approx(4 * np.pi, rel=1e-13)
    assert stems_per_ha([3, 4], [[100], [200]]).tolist() == [[300, 400], [150, 200]]


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: circular_plot_area_m2(0), "plot_radius_m is 0 m"),
        (lambda: circular_plot_radius_m(-5), "plot_area_m2 is -5 m²"),
        (lambda: circular_plot_radius_m(np.inf), "plot_area_m2 is inf m²"),
        (lambda: slope_plot_radius_m(12, 76), "slope_deg is 76 deg"),
        (lambda: slope_plot_radius_m(12, -1), "slope_deg is -1 deg"),
        (lambda: slope_distance_m("12", 5), "horizontal_m is '12'"),
        (lambda: mapped_area_m2(0, 5), "ground_area_m2 is 0 m²"),
        (lambda: stems_per_ha(-1, 500), "stem_count is -1"),
        (lambda: stems_per_ha([3, 2.5], 500), "stem_count is 2.5; expected a whole number"),
        (lambda: stems_per_ha(3, 0), "plot_area_m2 is 0 m²"),
        (lambda: basal_area_m2_per_ha([30, 0], 500), r"diameters_cm \(item 2\) is 0 cm"),
        (lambda: basal_area_from_girths_m2_per_ha([np.nan], 500), r"girths_cm \(item 1\) is nan"),
    ],
)
def test_refusals(call, said):
    """Each names the argument, its value and what is expected."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        call()
