"""The class check: within or not only where the error's own uncertainty leaves no doubt."""

import numpy as np
import pytest
from scipy.stats import t as student

from mensura.checks import MeasureError
from mensura.instruments import card, check_class

TRUE = [50.0, 99.0, 100.0, 101.0, 200.0, 250.0]


def test_limits_by_whole_metres_upwards():
    """Class II: 0.3 + 0.2·L mm, L = 1, 1, 1, 2, 2, 3; a hook has 0.2 mm more [UKSI2016]."""
    found = check_class(card(TRUE, TRUE), "II")
    limits = [0.05, 0.05, 0.05, 0.07, 0.07, 0.09]
    assert [one.permissible_cm for one in found] == pytest.approx(limits)
    hooked = check_class(card(TRUE, TRUE), "II", end_surface=True)
    assert [one.permissible_cm for one in hooked] == pytest.approx([one + 0.02 for one in limits])


def test_errors_are_reading_less_reference():
    """The mean of a mark's readings counts."""
    found = check_class(card([50, 50, 100, 150], [50.1, 50.3, 99.5, 150]), None)
    assert [one.error_cm for one in found] == pytest.approx([0.2, -0.5, 0])
    assert {(one.permissible_cm, one.within) for one in found} == {(None, None)}


def test_decided_only_where_there_is_no_doubt():
    """Three repeats at each of four marks; hand 0.002 cm, so that U is some 0.002 cm.

    Limits are 0.05 cm: errors of 0.03 lie within, of 0.07 not, of 0.0501 in doubt.
    """
    true = np.repeat([30.0, 50.0, 70.0, 90.0], 3)
    wiggle = np.tile([-0.002, 0.0, 0.002], 4)
    off = np.repeat([0.03, 0.0501, -0.07, -0.03], 3)
    found = check_class(card(true, true + off + wiggle, resolution_cm=0), "II")
    assert [one.within for one in found] == [True, None, False, True]
    expanded = student.ppf(0.975, 8) * 0.002 / np.sqrt(3)
    assert [one.expanded_cm for one in found] == pytest.approx([expanded] * 4)


def test_a_coarse_step_decides_nothing_however_often_it_is_read():
    """Read to 1 mm, always alike: ±1.96·1/√12 mm, more than the limit of 0.5 mm."""
    true = np.repeat([30.0, 50.0, 70.0], 50)
    found = check_class(card(true, true, resolution_cm=0.1), "II")
    assert [one.within for one in found] == [None] * 3
    assert found[0].expanded_cm == pytest.approx(1.96 * 0.1 / np.sqrt(12), rel=1e-4)


def test_single_readings_take_the_spread_about_the_line():
    """No repeats: the readings' spread, with the line's degrees of freedom."""
    made = card(TRUE, [50.01, 99.0, 99.99, 101.02, 200.0, 250.0], resolution_cm=0)
    one = check_class(made, "III")[0]
    assert one.expanded_cm == pytest.approx(student.ppf(0.975, 4) * made.residual_sd_cm)


def test_the_reference_is_in_the_errors_doubt():
    """u of 0.1 cm leaves a limit of 0.05 cm open."""
    true = np.repeat([30.0, 50.0, 70.0], 20)
    read = true + np.tile([0.001, -0.001], 30)
    assert {one.within for one in check_class(card(true, read), "II")} == {True}
    found = check_class(card(true, read, reference_u_cm=0.1), "II")
    assert {one.within for one in found} == {None}
    assert found[0].expanded_cm == pytest.approx(1.96 * 0.1, rel=1e-3)
    found = check_class(card(true, read, reference_u_percent=0.2), "II")
    assert found[-1].expanded_cm == pytest.approx(1.96 * 0.002 * 70, rel=1e-3)


def test_two_single_readings_decide_nothing():
    """No spread is seen, so nothing is known of it, not even where the error is gross."""
    assert {one.within for one in check_class(card([50, 100], [55, 110]), "II")} == {None}


def test_another_temperature_is_allowed_for():
    """At 10 °C a band of any material: 180 millionths per °C [most of our table], 0.18 mm at 1 m.

    With its material named, errors are brought to 20 °C and nothing is left open by warmth.
    """
    true = np.repeat([50.0, 100.0, 150.0], 6)
    read = true + np.tile([0.001, -0.001], 9)
    cold = check_class(card(true, read, temperature_c=10.0, resolution_cm=0), "II")
    assert [one.warmth_cm for one in cold] == pytest.approx([0.09, 0.18, 0.27])
    assert {one.within for one in cold} == {None}
    steel = card(true, read, temperature_c=10.0, material="steel", resolution_cm=0)
    found = check_class(steel, "II")
    assert [one.within for one in found] == [True] * 3
    # a band that read true in the cold is longer at 20 °C, and reads too little there
    warmer = [-one * 11.6e-6 * 10 for one in (50, 100, 150)]
    assert [one.error_cm for one in found] == pytest.approx(warmer, rel=1e-2, abs=1e-4)
    assert {one.warmth_cm for one in found} == {0.0}
    gross = check_class(card(true, read + 1.0, temperature_c=10.0, resolution_cm=0), "II")
    assert {one.within for one in gross} == {False}


def test_what_has_no_class():
    """A class that there is not, and calipers."""
    with pytest.raises(MeasureError, match="accuracy_class is 'IV'; expected one of: I, II, III"):
        check_class(card(TRUE, TRUE), "IV")
    with pytest.raises(MeasureError, match="accuracy_class is 'II'; expected none"):
        check_class(card(TRUE, TRUE, kind="calipers"), "II")
