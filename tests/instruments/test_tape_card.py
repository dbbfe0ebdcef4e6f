"""A tape's card: what is planted comes out, the reference is added, and two marks tell no doubt."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress
from scipy.stats import t as student

from mensura.checks import MeasureError
from mensura.instruments import Calipers, Tape, card
from mensura.stems import circle

TRUE = np.array([40.0, 70.0, 100.0, 130.0, 160.0, 190.0])


@given(st.floats(-5, 30), st.floats(-2, 5))
def test_a_condition_is_found_again(apart, worn):
    """Readings without spread: stretch and worn start to the last digits, and the way back."""
    read = TRUE / (1 + apart / 100) + worn
    found = card(TRUE, read, resolution_cm=0)
    assert found.stretch_percent == pytest.approx(apart, abs=1e-9)
    assert found.start_cm == pytest.approx(worn, abs=1e-9)
    assert found.true_cm(read) == pytest.approx(TRUE)


def test_the_card_and_the_tape_are_one_model():
    """A tape with the card's condition reads what the card undoes."""
    old = Tape(stretch_percent=1.2, worn_start_cm=0.7)
    found = card(TRUE, old.marks_cm(TRUE)[0], resolution_cm=0)
    assert found.true_cm(old.marks_cm(125.0)[0]) == pytest.approx(125.0)


def test_calipers_have_a_scale_and_a_zero():
    """reading = reference·(1 + scale) + zero: of our own calipers on round stems, and by hand."""
    faulty = Calipers(zero_error_cm=0.3)
    read = [float(faulty.read(circle(width), [0.0])[0]) for width in TRUE]
    found = card(TRUE, read, kind="calipers", resolution_cm=0)
    assert (found.scale_percent, found.start_cm) == pytest.approx((0, 0.3), abs=1e-9)
    found = card(TRUE, 1.02 * TRUE - 0.1, kind="calipers", resolution_cm=0)
    assert (found.scale_percent, found.start_cm) == pytest.approx((2, -0.1))


def drawn(seed=2, repeats=1, hand=0.15):
    true = np.repeat(TRUE, repeats)
    noise = hand * np.random.default_rng(seed).standard_normal(true.size)
    return true, true / 1.01 + 0.5 + noise


@pytest.mark.parametrize("repeats", [1, 3])
def test_uncertainty_and_interval_of_a_line(repeats):
    """scipy.stats.linregress, and the derivative of 1/rise for the stretch."""
    true, read = drawn(repeats=repeats)
    found, line = card(true, read, resolution_cm=0), linregress(true, read)
    assert found.stretch_u_percent == pytest.approx(100 * line.stderr / line.slope**2)
    assert found.scale_u_percent == pytest.approx(100 * line.stderr)
    assert found.u_start_cm == pytest.approx(line.intercept_stderr)
    factor = student.ppf(0.975, true.size - 2)
    assert found.start_interval_cm == pytest.approx(
        (found.start_cm - factor * found.u_start_cm, found.start_cm + factor * found.u_start_cm)
    )
    low, high = found.stretch_interval_percent
    assert (high - low) / 2 == pytest.approx(factor * found.stretch_u_percent)
    assert found.degrees_of_freedom == true.size - 2
    assert found.residual_sd_cm**2 * (true.size - 2) == pytest.approx(
        ((read - line.slope * true - line.intercept) ** 2).sum()
    )


def test_the_correction_anywhere():
    """By draws of lines from numpy's covariance: the length of a reading, and how it scatters."""
    true, read = drawn()
    found = card(true, read, resolution_cm=0)
    line, spread = np.polyfit(true, read, 1, cov=True)
    lines = np.random.default_rng(0).multivariate_normal(line, spread, 200_000)
    for told in (60.0, 125.0, 240.0):
        lengths = (told - lines[:, 1]) / lines[:, 0]
        assert found.true_cm(told) == pytest.approx(lengths.mean(), abs=1e-3)
        assert found.u_true_cm(told) == pytest.approx(lengths.std(), rel=0.01)
        factor = student.ppf(0.975, true.size - 2)
        assert found.expanded_cm(told) == pytest.approx(factor * found.u_true_cm(told))


def test_the_reference_is_added_and_never_averaged():
    """0.2 cm of the reference moves the start, 0.1 % the stretch; a thousand repeats leave both."""
    for repeats in (1, 1000):
        true, read = drawn(repeats=repeats)
        bare = card(true, read, resolution_cm=0)
        found = card(true, read, resolution_cm=0, reference_u_cm=0.2)
        assert found.u_start_cm == pytest.approx(np.hypot(bare.u_start_cm, 0.2 * found.rise))
        assert found.stretch_u_percent == bare.stretch_u_percent
        assert found.u_true_cm(120.0) == pytest.approx(np.hypot(bare.u_true_cm(120.0), 0.2))
        found = card(true, read, resolution_cm=0, reference_u_percent=0.1)
        assert found.u_start_cm == bare.u_start_cm
        own = np.hypot(bare.stretch_u_percent, 0.1 / bare.rise)
        assert found.stretch_u_percent == pytest.approx(own)
        length = bare.true_cm(120.0)
        own = np.hypot(bare.u_true_cm(120.0), length / 1000)
        assert found.u_true_cm(120.0) == pytest.approx(own)


def test_what_the_reference_brings_has_no_degrees_of_freedom_to_lose():
    """Three marks and a poor reference: Student's 12.7 for the line's part falls to nearly 1.96.

    By Welch and Satterthwaite: 1·(u²/u_line²)² degrees of freedom.
    """
    true, read = [50.0, 100.0, 150.0], [50.02, 100.0, 150.01]
    bare = card(true, read, resolution_cm=0)
    found = card(true, read, resolution_cm=0, reference_u_cm=1.0)
    free = (found.u_start_cm / bare.u_start_cm) ** 4
    assert free > 1000
    half = found.start_interval_cm[1] - found.start_cm
    assert half == pytest.approx(student.ppf(0.975, free) * found.u_start_cm, rel=1e-3)
    assert found.start_degrees_of_freedom == pytest.approx(free)
    assert found.stretch_degrees_of_freedom == found.degrees_of_freedom == 1
    assert bare.start_degrees_of_freedom == bare.degrees_of_freedom_at(100.0) == pytest.approx(1)
    at = (found.u_true_cm(100.0) / bare.u_true_cm(100.0)) ** 4
    assert found.degrees_of_freedom_at(100.0) == pytest.approx(at)
    assert found.stretch_interval_percent == bare.stretch_interval_percent
    assert found.expanded_cm(100.0) == pytest.approx(1.96 * found.u_true_cm(100.0), rel=1e-2)


def test_the_spread_is_never_below_the_step():
    """A check that fits to the last figure still may be off by a step: step/√12 at each mark."""
    read = np.round(TRUE / 1.0, 0)
    found = card(TRUE, read)
    assert found.resolution_cm == 1.0
    assert found.residual_sd_cm == pytest.approx(1 / np.sqrt(12))
    assert found.u_rise >= found.residual_sd_cm / np.sqrt(((TRUE - TRUE.mean()) ** 2).sum())
    assert card(TRUE, read, resolution_cm=0).residual_sd_cm == pytest.approx(0, abs=1e-12)
    assert card(TRUE, read, resolution_cm=5).residual_sd_cm == pytest.approx(5 / np.sqrt(12))


def test_two_marks_have_no_uncertainty():
    """A line always goes through two points, however often they are read."""
    for true, read in (([50, 150], [50.5, 149.8]), ([50, 50, 150], [50.5, 50.6, 149.8])):
        found = card(true, read, reference_u_cm=0.1)
        nothing = (found.u_rise, found.u_start_cm, found.residual_sd_cm, found.correlation)
        assert nothing == (None,) * 4
        assert found.found_correlation is found.stretch_degrees_of_freedom is None
        assert found.start_degrees_of_freedom is found.degrees_of_freedom_at(100.0) is None
        assert found.stretch_interval_percent is found.scale_interval_percent is None
        assert found.start_interval_cm is found.u_true_cm(100.0) is found.expanded_cm(100.0) is None
        assert found.true_cm(100.0) > 0
        assert found.lack_of_fit() is None


def test_where_the_line_is_only_drawn_on():
    """Below the least and above the greatest mark; not at a reading that the check itself has."""
    found = card(TRUE, TRUE / 1.01 + 0.5)
    assert found.drawn_on([20.0, 45.0, 188.0, 195.0]).tolist() == [True, False, False, True]
    assert found.drawn_on(float(TRUE[0] / 1.01 + 0.5)) is False
    assert found.drawn_on(float(TRUE[-1] / 1.01 + 0.5)) is False


def test_temperatures_that_differ_are_brought_to_one():
    """A band read in the cold and in the warm: the same card as at 20 °C."""
    tape = Tape(stretch_percent=0.4, worn_start_cm=0.6)
    degrees = np.array([5.0, 12.0, 20.0, 28.0, 35.0, 8.0])
    read = np.array(
        [
            Tape(
                stretch_percent=0.4, worn_start_cm=0.6, temperature_c=at, material="plastic"
            ).marks_cm(one)[0]
            for one, at in zip(TRUE, degrees, strict=True)
        ]
    )
    found = card(TRUE, read, temperature_c=degrees, material="plastic", resolution_cm=0)
    assert found.stretch_percent == pytest.approx(0.4, abs=1e-6)
    assert found.start_cm == pytest.approx(0.6, abs=1e-6)
    assert (found.temperature_c, found.expansion_per_c) == (20.0, 80e-6)
    plain = card(TRUE, tape.marks_cm(TRUE)[0], resolution_cm=0)
    assert [one.error_cm for one in found.marks] == pytest.approx(
        [one.error_cm for one in plain.marks], abs=1e-6
    )
    with pytest.raises(MeasureError, match="temperature_c is '5 to 35 °C'; expected one temp"):
        card(TRUE, read, temperature_c=degrees)
    assert card(TRUE, read, temperature_c=12.0).temperature_c == 12.0
    assert card(TRUE, read).temperature_c is None
    with pytest.raises(MeasureError, match="no source gives one for cloth"):
        card(TRUE, read, temperature_c=degrees, material="cloth")


@pytest.mark.parametrize(
    ("true", "read", "more", "field"),
    [
        ([50], [50], {}, "reference_cm"),
        ([50, 50], [50, 51], {}, "reference_cm"),
        ([50, 100], [50, 100, 150], {}, "reference_cm"),
        ([50, 100], [0, 100], {}, "reading_cm"),
        ([0, 100], [1, 100], {}, "reference_cm"),
        ([50, 100, 150], [100, 50, 20], {}, "reading_cm"),
        ([50, 100], [50, 100], {"kind": "rod"}, "kind"),
        ([50, 100], [50, 100], {"resolution_cm": -1}, "resolution_cm"),
        ([50, 100], [50, 100], {"reference_u_cm": -0.1}, "reference_u_cm"),
        ([50, 100], [50, 100], {"reference_u_percent": -1}, "reference_u_percent"),
        ([50, 100], [50, 100], {"temperature_c": 2000}, "temperature_c"),
        ([50, 100], [50, 100], {"temperature_c": 20, "material": "stel"}, "material"),
    ],
)
def test_what_is_no_check(true, read, more, field):
    """One mark, one reference, a reading of nought, a line that falls, a negative spread."""
    with pytest.raises(MeasureError, match=rf"^{field}"):
        card(true, read, **more)
