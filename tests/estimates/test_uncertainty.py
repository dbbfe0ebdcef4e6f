"""How sure a figure is: each rule of propagation against derivatives, moments and many draws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    allowed_u_girth_cm,
    area_from_girth_cm2,
    diameter_from_girth_cm,
    expanded_uncertainty,
    huber_from_girth_m3,
    huber_m3,
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

girths = st.floats(20, 600)
ratios = st.floats(1e-4, 0.2)

#: Nodes that integrate a polynomial against the normal curve exactly (Gauss and Hermite).
NODES, WEIGHTS = np.polynomial.hermite_e.hermegauss(12)
WEIGHTS = WEIGHTS / WEIGHTS.sum()


def moments(function, value, u):
    """Mean and standard deviation of a function of a normally spread reading."""
    results = function(value + u * NODES)
    mean = WEIGHTS @ results
    return mean, np.sqrt(WEIGHTS @ (results - mean) ** 2)


@given(girths, ratios)
def test_first_order_is_slope_times_doubt(girth, ratio):
    """A numeric derivative of the area, times u, over the area."""
    u, step = ratio * girth, 1e-4 * girth
    slope = (area_from_girth_cm2(girth + step) - area_from_girth_cm2(girth - step)) / (2 * step)
    said = 100 * slope * u / area_from_girth_cm2(girth)
    assert u_area_percent(girth, u) == pytest.approx(said, rel=1e-7)


@given(girths, ratios)
def test_exact_and_too_large_on_average(girth, ratio):
    """Gauss-Hermite quadrature of the area gives the exact spread and the mean's excess."""
    u, area = ratio * girth, area_from_girth_cm2(girth)
    mean, spread = moments(lambda g: np.square(g) / (4 * np.pi), girth, u)
    assert u_area_exact_percent(girth, u) == pytest.approx(100 * spread / area, rel=1e-8)
    assert scatter_over_percent(girth, u) == pytest.approx(100 * (mean / area - 1), abs=1e-8)


@given(girths, ratios)
def test_the_second_order_matters_little(girth, ratio):
    """First order is never too large, and short by less than a quarter of the ratio's square."""
    first, exact = u_area_percent(girth, ratio * girth), u_area_exact_percent(girth, ratio * girth)
    assert 1 <= exact / first <= 1 + ratio**2 / 4 + 1e-12


@given(girths, ratios)
def test_girth_and_diameter_leave_the_same_doubt(girth, ratio):
    """The tape's diameter is as unsure, relatively, as its girth."""
    u = ratio * girth
    across, doubt = diameter_from_girth_cm(girth), u_diameter_from_girth_cm(u)
    assert doubt / across == pytest.approx(ratio, rel=1e-12)
    assert u_area_from_diameter_percent(across, doubt) == pytest.approx(
        u_area_percent(girth, u), rel=1e-12
    )


@given(girths, st.floats(0.01, 20))
def test_allowed_doubt_is_the_doubt_allowed(girth, percent):
    """It undoes the rule for the area."""
    assert u_area_percent(girth, allowed_u_girth_cm(girth, percent)) == pytest.approx(
        percent, rel=1e-12
    )


@given(st.floats(5, 150), ratios, st.floats(1, 20), ratios)
def test_volume_from_two_slopes(across, ratio, length, length_ratio):
    """Numeric derivatives of Huber's volume, each times its doubt, squared and summed."""
    u, v = ratio * across, length_ratio * length
    by_d = (huber_m3(across * 1.0001, length) - huber_m3(across * 0.9999, length)) / 0.0002 * ratio
    by_l = (huber_m3(across, length * 1.0001) - huber_m3(across, length * 0.9999)) / 0.0002
    said = 100 * np.sqrt(by_d**2 + (by_l * length_ratio) ** 2) / huber_m3(across, length)
    assert u_volume_percent(across, u, length, v) == pytest.approx(said, rel=1e-7)
    girth = np.pi * across
    assert u_volume_from_girth_percent(girth, np.pi * u, length, v) == pytest.approx(said, rel=1e-7)


def test_volume_by_many_draws():
    """200 000 drawn readings of girth and length (seed 5) spread as the rule says, within 1 %."""
    rng = np.random.default_rng(5)
    drawn = huber_from_girth_m3(rng.normal(120, 0.9, 200_000), rng.normal(5, 0.1, 200_000))
    said = u_volume_from_girth_percent(120, 0.9, 5, 0.1)
    assert 100 * drawn.std() / huber_from_girth_m3(120, 5) == pytest.approx(said, rel=0.01)


@given(st.floats(0, 5), st.floats(0, 5))
def test_one_doubt_alone(first, second):
    """With one of the two absent the volume is as unsure as the other makes it."""
    assert u_volume_percent(40, first, 5, 0) == pytest.approx(5 * first, rel=1e-12)
    assert u_volume_percent(40, 0, 5, second) == pytest.approx(20 * second, rel=1e-12)
    both = u_volume_percent(40, first, 5, second)
    assert max(5 * first, 20 * second) <= both * (1 + 1e-12)
    assert both <= (5 * first + 20 * second) * (1 + 1e-12)


@given(st.floats(0.001, 10))
def test_resolution_is_the_spread_of_an_even_step(step):
    """The standard deviation of a uniform spread over one step, by Gauss-Legendre quadrature."""
    nodes, weights = np.polynomial.legendre.leggauss(4)
    spread = np.sqrt((weights / 2) @ (step / 2 * nodes) ** 2)
    assert u_resolution_cm(step) == pytest.approx(spread, rel=1e-12)


@given(st.floats(0.01, 5), st.integers(1, 10_000), st.floats(0, 5))
def test_a_mean_of_many(spread, count, common):
    """Four times the readings halve the spread, but never what they share."""
    alone = u_mean_cm(spread, count)
    assert u_mean_cm(spread, 4 * count) == pytest.approx(alone / 2, rel=1e-12)
    together = u_mean_cm(spread, count, common)
    assert together >= max(alone, common) * (1 - 1e-12)
    assert together**2 == pytest.approx(alone**2 + common**2, rel=1e-9)


@given(st.lists(st.floats(100, 110), min_size=2, max_size=30))
def test_from_the_readings_themselves(readings):
    """SciPy's standard error of the mean, and the same however the zero is shifted."""
    from scipy.stats import sem

    assert u_mean_of_readings_cm(readings) == pytest.approx(sem(readings), rel=1e-9, abs=1e-12)
    shifted = [reading + 3 for reading in readings]
    assert u_mean_of_readings_cm(shifted) == pytest.approx(sem(readings), rel=1e-6, abs=1e-9)


def test_expanded():
    """k times u, 2 unless said."""
    assert expanded_uncertainty(0.8) == 1.6
    assert expanded_uncertainty([0.5, 1.0], 3).tolist() == [1.5, 3.0]


@given(st.floats(0.05, 3), st.floats(0, 0.4), st.floats(0.41, 1))
def test_readings_beside_what_is_shared(spread, common, allowed):
    """Put back into the mean's doubt, whole numbers on either side lie on either side."""
    needed = readings_beside_common(spread, common, allowed)
    above = int(np.ceil(needed * (1 + 1e-9))) or 1
    assert u_mean_cm(spread, above, common) <= allowed * (1 + 1e-9)
    below = int(np.floor(needed * (1 - 1e-9)))
    if below:
        assert u_mean_cm(spread, below, common) >= allowed * (1 - 1e-9)


def test_stems_that_outweigh_by_draws():
    """Two hundred thousand drawn plots of 12 and of 20 stems, where the change is at 16: the sum of
    areas errs less by the way with the common error on 12, by the other on 20."""
    flip = stems_that_outweigh(1.0, 3.0, 5.0)
    generator = np.random.default_rng(3)
    for count, common_is_better in ((12, True), (20, False)):
        assert (count < flip) is common_is_better
        tape = 1.0 + generator.normal(0, 3.0, (200_000, count)).mean(axis=1)
        calipers = generator.normal(0, 5.0, (200_000, count)).mean(axis=1)
        assert bool(np.mean(tape**2) < np.mean(calipers**2)) is common_is_better


def test_many_in_one_call():
    """Arrays broadcast; rows of readings give one doubt each."""
    assert u_area_percent([100, 125], [[0.5], [1.0]]).tolist() == [[1.0, 0.8], [2.0, 1.6]]
    assert u_mean_of_readings_cm([[1, 2, 3], [5, 5, 5]]).tolist() == pytest.approx(
        [1 / np.sqrt(3), 0]
    )
    assert u_mean_cm(0.6, [1, 4, 9]).tolist() == pytest.approx([0.6, 0.3, 0.2])


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: u_area_percent(0, 1), "girth_cm is 0 cm"),
        (lambda: u_area_percent(100, -1), "u_girth_cm is -1 cm"),
        (lambda: u_area_exact_percent(100, np.nan), "u_girth_cm is nan"),
        (lambda: scatter_over_percent("100", 1), "girth_cm is '100'"),
        (lambda: u_area_from_diameter_percent(40, -1), "u_diameter_cm is -1 cm"),
        (lambda: u_diameter_from_girth_cm(-0.1), "u_girth_cm is -0.1 cm"),
        (lambda: allowed_u_girth_cm(100, -1), "allowed_percent is -1 %"),
        (lambda: u_volume_percent(40, 0.3, 0, 0.1), "log_length_m is 0 m"),
        (lambda: u_volume_percent(40, 0.3, 5, -0.1), "u_length_m is -0.1 m"),
        (lambda: u_resolution_cm(-1), "resolution_cm is -1 cm"),
        (lambda: u_mean_cm(0.5, 0), "reading_count is 0"),
        (lambda: u_mean_cm(0.5, 2.5), "reading_count is 2.5; expected a whole number"),
        (lambda: u_mean_cm(0.5, 4, -1), "u_common_cm is -1 cm"),
        (lambda: u_mean_of_readings_cm([125.0]), "readings_cm is 1; expected two readings or more"),
        (lambda: readings_beside_common(0.8, 0.5, 0.5), "allowed_u_cm is 0.5 cm"),
        (lambda: readings_beside_common(-1, 0.1, 0.5), "u_reading_cm is -1 cm"),
        (lambda: stems_that_outweigh(0, 3, 5), "common_percent is 0 %"),
        (lambda: stems_that_outweigh(1, 5, 5), "other_spread_percent is 5 %"),
        (lambda: expanded_uncertainty(-1), "standard_uncertainty is -1"),
        (lambda: expanded_uncertainty(1, 0), "coverage_factor is 0"),
    ],
)
def test_refusals(call, said):
    """Each names the argument, its value and what is expected."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        call()
