"""Uncertainty against the GUM's own example, the normal curve and field studies."""

import pytest
from scipy.stats import norm

from mensura.estimates import (
    allowed_u_girth_cm,
    expanded_uncertainty,
    readings_beside_common,
    scatter_over_percent,
    stems_that_outweigh,
    u_area_exact_percent,
    u_area_from_diameter_percent,
    u_area_percent,
    u_diameter_from_girth_cm,
    u_mean_cm,
    u_mean_of_readings_cm,
    u_resolution_cm,
    u_volume_from_girth_percent,
    u_volume_percent,
)


@pytest.mark.parametrize(
    ("readings", "printed", "half_a_digit"),
    [
        ([5.007, 4.994, 5.005, 4.990, 4.999], 0.0032, 5e-5),
        ([19.663, 19.639, 19.640, 19.685, 19.678], 0.0095, 5e-5),
        ([1.0456, 1.0438, 1.0468, 1.0428, 1.0433], 0.00075, 5e-6),
    ],
)
def test_means_of_five(readings, printed, half_a_digit):
    """Example H.2 of the GUM: five readings of voltage, current and phase, and the standard
    uncertainty of each mean (Table H.2 as quoted in the documents of an open library, read; the
    readings themselves from memory) [GUM1995, example H.2]."""
    assert u_mean_of_readings_cm(readings) == pytest.approx(printed, abs=half_a_digit)


def test_coverage():
    """k = 2 covers 95.45 % of a normal spread, k = 3 99.73 % [TaylorKuyatt1994, section 6.2]."""
    for k, printed in {1: 68.27, 2: 95.45, 3: 99.73}.items():
        reach = expanded_uncertainty(1.0, k)
        assert 100 * (norm.cdf(reach) - norm.cdf(-reach)) == pytest.approx(printed, abs=5e-3)
    assert expanded_uncertainty(1.0) == expanded_uncertainty(1.0, 2)


def test_repeated_diameters_of_a_field_study():
    """Diameters of the same stems by four people with calipers spread by 0.3 cm or 1.5 %
    [Luoma2017, abstract]: both fit stems of 20 cm, whose area is then unsure by 3 %, by hand."""
    assert u_area_from_diameter_percent(20, 0.3) == pytest.approx(2 * 1.5, rel=1e-12)


def test_the_rules_by_hand():
    """Round numbers: 1 % of the girth is 2 % of the area; 3 and 4 make 5; nine readings a third;
    a half width over √3; 355/113 for π (from memory)."""
    assert u_area_percent(100, 1) == pytest.approx(2, rel=1e-14)
    assert allowed_u_girth_cm(100, 2) == pytest.approx(1, rel=1e-14)
    assert u_diameter_from_girth_cm(3.55) == pytest.approx(1.13, rel=1e-7)
    assert u_volume_percent(100, 1.5, 100, 4) == pytest.approx(5, rel=1e-14)
    assert u_volume_from_girth_percent(100, 1.5, 100, 4) == pytest.approx(5, rel=1e-14)
    assert u_mean_cm(0.9, 9) == pytest.approx(0.3, rel=1e-14)
    assert u_mean_cm(0.9, 9, 0.4) == pytest.approx(0.5, rel=1e-14)
    assert u_resolution_cm(2) == pytest.approx(1 / 3**0.5, rel=1e-14)


def test_the_note_on_the_second_order():
    """The note to clause 5.1.2 of [GUM1995] adds half the square of the second derivative times
    u⁴ (the form of the term from memory): for G² at 10 with u = 1 that is 400 + ½·2²·1 = 402."""
    assert u_area_exact_percent(10, 1) == pytest.approx(402**0.5, rel=1e-12)
    assert scatter_over_percent(10, 1) == pytest.approx(1, rel=1e-12)


def test_how_many_are_enough_by_hand():
    """3, 4 and 5: of 0.5 cm, 0.3 cm are shared, so 0.4 cm are left, and 0.8 cm need four readings.
    An error of 1 % on all stems beside a spread of 3 % is as large as a spread of 5 % on sixteen
    stems: 1² + 9/16 = 25/16 (by hand)."""
    assert readings_beside_common(0.8, 0.3, 0.5) == pytest.approx(4, rel=1e-12)
    assert u_mean_cm(0.8, 4, 0.3) == pytest.approx(0.5, rel=1e-14)
    assert stems_that_outweigh(1, 3, 5) == pytest.approx(16, rel=1e-14)
