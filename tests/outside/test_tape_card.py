"""A tape's card against published calibrations: a thermometer's, an ozone monitor's, a real tape's.

The line knows no unit: degrees and parts per million stand here where it says cm.
"""

from pathlib import Path

import numpy as np
import pytest
import scipy.stats

from mensura.instruments import Tape, card, check_class, fit_line

# GUM H.3: a thermometer's readings and the corrections found, m°C, from Table H.6 as it stands in
# the documents of an open library [GUM1995].
THERMOMETER = [
    *(21.521, 22.012, 22.512, 23.003, 23.507, 23.999),
    *(24.513, 25.002, 25.503, 26.010, 26.511),
]
CORRECTIONS = [
    *(-0.171, -0.169, -0.166, -0.159, -0.164, -0.165),
    *(-0.156, -0.157, -0.159, -0.161, -0.160),
]


@pytest.fixture
def thermometer():
    return fit_line(np.array(THERMOMETER) - 20, CORRECTIONS)


def test_a_thermometer(thermometer):
    """y₁ −0.1712(29), y₂ 0.002 18(67), r −0.930, s 0.0035 [GUM1995, example H.3]."""
    assert thermometer.start_cm == pytest.approx(-0.1712, abs=5e-5)
    assert thermometer.u_start_cm == pytest.approx(0.0029, abs=5e-5)
    assert thermometer.rise == pytest.approx(0.00218, abs=5e-6)
    assert thermometer.u_rise == pytest.approx(0.00067, abs=5e-6)
    assert thermometer.correlation == pytest.approx(-0.930, abs=5e-4)
    assert thermometer.spread_cm == pytest.approx(0.0035, abs=5e-5)
    assert thermometer.spread_cm**2 * 9 == pytest.approx(0.000110096583109, rel=1e-10)


def test_a_thermometers_correction_far_off(thermometer):
    """At 30 °C −0.1494(41); without the covariance it would be 0.0073 [GUM1995, example H.3.4]."""
    value = thermometer.start_cm + 10 * thermometer.rise
    assert value == pytest.approx(-0.1494, abs=5e-5)
    assert thermometer.u_line_cm(10.0) == pytest.approx(0.0041, abs=5e-5)
    without = np.hypot(thermometer.u_start_cm, 10 * thermometer.u_rise)
    assert without == pytest.approx(0.00727, abs=1e-5)


def test_a_thermometers_line_about_its_middle():
    """Centred on 24.0085 °C the covariance is nought, u 0.00105 [GUM1995, example H.3.5]."""
    line = fit_line(np.array(THERMOMETER) - np.mean(THERMOMETER), CORRECTIONS)
    assert np.mean(THERMOMETER) == pytest.approx(24.0085, abs=5e-5)
    assert line.correlation == pytest.approx(0, abs=1e-12)
    assert line.u_start_cm == pytest.approx(0.00105, abs=5e-6)


def test_an_error_that_the_standard_brings_to_all(thermometer):
    """0.005 common to all corrections: u(y₁) 0.00577, the slope's unchanged [GUM1995, H.3.6].

    A card adds it so: the same table, as readings of which the reference is off, with the rise near
    one that a tape has.
    """
    bare = card(THERMOMETER, np.array(THERMOMETER) + CORRECTIONS, resolution_cm=0)
    given = card(
        THERMOMETER, np.array(THERMOMETER) + CORRECTIONS, resolution_cm=0, reference_u_cm=0.005
    )
    added = np.sqrt(given.u_start_cm**2 - bare.u_start_cm**2) / given.rise
    assert np.hypot(thermometer.u_start_cm, added) == pytest.approx(0.00576893138, rel=1e-6)
    assert (given.u_rise, bare.u_rise) == pytest.approx((thermometer.u_rise,) * 2)


def test_nist_norris():
    """Calibration of ozone monitors, certified values [NIST-StRD].

    Data and certified values from the file that ships with SciPy's own tests.
    """
    path = Path(scipy.stats.__file__).parent / "tests" / "data" / "nist_linregress" / "Norris.dat"
    read, true = np.loadtxt(path, skiprows=60).T
    line = fit_line(true, read)
    assert true.size == 36
    assert line.start_cm == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.rise == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.u_start_cm == pytest.approx(0.232818234301152, rel=1e-10)
    assert line.u_rise == pytest.approx(0.429796848199937e-03, rel=1e-10)
    assert line.spread_cm == pytest.approx(0.884796396144373, rel=1e-10)
    assert line.degrees_of_freedom == 34


@pytest.mark.parametrize(
    ("accuracy_class", "limits_mm"),
    [("I", (0.3, 0.4, 0.6, 0.9, 1.1)), ("II", (0.7, 0.9, 1.3, 1.9, 2.3)),
     ("III", (1.4, 1.8, 2.6, 3.8, 4.6))],
)  # fmt: skip
def test_limits_of_the_law(accuracy_class, limits_mm):
    """At 2, 3, 5, 8 and 10 m, as trade guides print them (names withheld), after [UKSI2016].

    OIML R 35-1:2007, clause 4, has the same formula (its coefficients from memory).
    """
    lengths = [200.0, 300.0, 500.0, 800.0, 1000.0]
    found = check_class(card(lengths, lengths), accuracy_class)
    assert [10 * one.permissible_cm for one in found] == pytest.approx(limits_mm)


# A report for one steel tape of 100 ft, 1991, as a surveyor quoted it in a forum. α 6.45e-6 per °F
# is that of its two flat lengths at 10 lb; AE 106 982 lb and a weight of 1.27466 lb were fitted to
# its others.
FOOT, LBF, WEIGHT, STIFFNESS = 30.48, 4.4482216152605, 1.27466, 106_982.0


def flat_ft(fahrenheit, pull_lb):
    """The tape's length, flat, from its 100.0045 ft at 68 °F and 10 lb, as our tape has it."""
    tape = Tape(
        temperature_c=(fahrenheit - 32) / 1.8,
        expansion_per_c=6.45e-6 * 1.8,
        pull_n=pull_lb * LBF,
        reference_pull_n=10 * LBF,
        stiffness_n=STIFFNESS * LBF,
    )
    return tape.way_cm(100.0045 * FOOT) / FOOT


@pytest.mark.parametrize(
    ("fahrenheit", "pull_lb", "told_ft"),
    [(68, 10, 100.0045), (61, 10, 100.0000), (54, 15, 100.0002)],
)
def test_a_steel_tapes_report_flat(fahrenheit, pull_lb, told_ft):
    """Warmth and pull, to the report's last figure."""
    assert flat_ft(fahrenheit, pull_lb) == pytest.approx(told_ft, abs=1e-4)


@pytest.mark.parametrize(
    ("pull_lb", "told_ft"), [(10, 99.9368), (15, 99.9791), (20, 99.9969), (25, 100.0077)]
)
def test_a_steel_tapes_report_hung_at_its_ends(pull_lb, told_ft):
    """Sag takes W²L/24P² off: what a tape on a corridor's floor is spared."""
    sag = WEIGHT**2 * 100 / (24 * pull_lb**2)
    assert flat_ft(68, pull_lb) - sag == pytest.approx(told_ft, abs=1e-4)


def test_a_card_from_the_report():
    """Read against a true hundred feet in pieces, the tape's card finds the report's length.

    100.0045 ft between its marks: a stretch of 0.0045 %; at 61 °F brought to 20 °C by α.
    """
    true = np.array([20.0, 40.0, 60.0, 80.0, 100.0]) * FOOT
    cold = Tape(stretch_percent=0.0045, temperature_c=29 / 1.8, expansion_per_c=6.45e-6 * 1.8)
    found = card(
        true, cold.marks_cm(true)[0], resolution_cm=0, temperature_c=29 / 1.8,
        expansion_per_c=6.45e-6 * 1.8,
    )  # fmt: skip
    assert found.true_cm(100 * FOOT) / FOOT == pytest.approx(100.0045, abs=1e-6)
