"""Propagation: intervals from a stream, correlated draws, refusals; books' examples are outside."""

from __future__ import annotations

import tracemalloc
from math import inf, isnan, sqrt
from typing import Any

import numpy as np
import pytest
from scipy.stats import norm, t

from mensura.checks import MeasureError
from mensura.estimates.distributions import DISTRIBUTIONS, standard
from mensura.estimates.interval_stream import IntervalStream, MissedError, ranks
from mensura.estimates.propagation import (
    CHUNK,
    InputQuantity,
    agreement,
    coverage_factor,
    draw_figures,
    propagate,
    propagate_draws,
)


def total(*values: Any) -> Any:
    return sum(values)


@pytest.mark.parametrize("count", [101, 5000, 300_000])
def test_a_stream_is_as_good_as_a_sorted_list(count: int) -> None:
    """Mean, spread and both ends are those of all numbers, though few of them are kept."""
    numbers = np.random.default_rng(3).gamma(2.0, size=count)
    stream = IntervalStream(count, 95.0, first=20_000)
    for start in range(0, count, 7777):
        stream.add(numbers[start : start + 7777])
    low, high = ranks(count, 95.0)
    ordered = np.sort(numbers)
    assert stream.interval() == (ordered[low], ordered[high])
    assert stream.mean == pytest.approx(numbers.mean(), rel=1e-12)
    assert stream.u == pytest.approx(numbers.std(ddof=1), rel=1e-10)
    assert high - low == round(0.95 * count)
    assert count < 300_000 or stream.kept < count / 8


def test_an_end_outside_its_window_is_said_and_found_again() -> None:
    """Windows that are far too narrow miss; the draws are then gone through again with wider ones,
    and the ends are the same."""
    numbers = np.random.default_rng(4).normal(size=300_000)
    stream = IntervalStream(300_000, 95.0, first=1000, within=0.0)
    for start in range(0, 300_000, 10_000):
        stream.add(numbers[start : start + 10_000])
    with pytest.raises(MissedError):
        stream.interval()
    one = [InputQuantity("x", "", 0.0, 1.0)]
    narrow, wide = (
        draw_figures(lambda x: (x,), one, draws=1_000_000, within=within)[0]
        for within in (0.0, 8.0)
    )
    assert narrow == wide


def test_the_errors_of_the_ends() -> None:
    """As often as they should be, a hundred repetitions' ends lie within them of the truth."""
    one = [InputQuantity("x", "", 0.0, 1.0)]
    found = [propagate_draws(total, one, draws=20_000, seed=seed) for seed in range(60)]
    ends = np.array([each.interval for each in found])
    errors = np.array([each.interval_errors for each in found])
    assert ends.std(axis=0) == pytest.approx(errors.mean(axis=0), rel=0.35)
    share = np.mean(np.abs(ends - [-norm.ppf(0.975), norm.ppf(0.975)]) < errors)
    assert 0.55 < share < 0.8


def test_memory_stays_flat() -> None:
    """Eight times the draws take hardly more memory."""
    inputs = [InputQuantity("x", "", 0.0, 1.0), InputQuantity("y", "", 0.0, 1.0, "rectangular")]
    peaks = []
    for draws in (1_000_000, 8_000_000):
        tracemalloc.start()
        propagate_draws(total, inputs, draws=draws)
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < 1.5 * peaks[0]
    assert peaks[1] < 8 * 8_000_000 / 4


@pytest.mark.parametrize("distribution", DISTRIBUTIONS)
def test_every_distribution_has_its_spread(distribution: str) -> None:
    """Mean and deviation of the draws are what was said; a tilt starts at its estimate, a Student
    is wider than its standard uncertainty."""
    free = 6.0
    one = InputQuantity("x", "cm", 5.0, 0.3, distribution, free)
    found = propagate_draws(total, [one], draws=400_000)
    wider = sqrt(free / (free - 2)) if distribution == "student" else 1.0
    middle = 5.0 + (0.3 * sqrt(3) if distribution == "tilt" else 0.0)
    assert found.u == pytest.approx(0.3 * wider, rel=0.01)
    assert found.value == pytest.approx(middle, abs=4 * 0.3 * wider / sqrt(400_000))
    even = standard(distribution, (np.arange(200_000) + 0.5) / 200_000, free)
    ends = 5.0 + 0.3 * np.quantile(even, [0.025, 0.975])
    for end, exact, error in zip(found.interval, ends, found.interval_errors, strict=True):
        assert end == pytest.approx(exact, abs=5 * error)


@pytest.mark.parametrize(
    "kinds", [("normal",) * 2, ("rectangular",) * 2, ("normal", "rectangular")]
)
@pytest.mark.parametrize("r", [-0.8, 0.3, 0.9])
def test_correlated_draws_are_correlated_as_was_said(kinds: tuple[str, str], r: float) -> None:
    """The variance of a sum is that of the law of propagation, whatever they are taken for."""
    inputs = [InputQuantity(n, "", 1.0, u, k) for n, u, k in zip("ab", (1, 2), kinds, strict=True)]
    matrix = np.array([[1, r], [r, 1]])
    found = propagate_draws(total, inputs, matrix, draws=300_000)
    law = propagate(total, inputs, matrix)
    assert law.u == pytest.approx(sqrt(1 + 4 + 4 * r), rel=1e-9)
    assert found.u == pytest.approx(law.u, rel=0.01)


def test_one_series_of_readings_keeps_its_degrees_of_freedom() -> None:
    """Of two means from the same five sets the sum has four degrees of freedom, as its own five
    sums have; of two independent ones it has more."""
    inputs = [InputQuantity(name, "", 1.0, 0.1, "normal", 4) for name in "ab"]
    joined = propagate(total, inputs, np.array([[1, 0.5], [0.5, 1]]))
    assert joined.degrees_of_freedom == pytest.approx(4)
    assert joined.k == pytest.approx(t.ppf(0.975, 4))
    assert propagate(total, inputs).degrees_of_freedom == pytest.approx(8)


def test_a_factor_is_students() -> None:
    """Against SciPy's distribution, cut to whole degrees of freedom."""
    for free in (1.0, 3.9, 16.7, 200.0):
        assert coverage_factor(free, 99) == pytest.approx(t.ppf(0.995, int(free)), rel=1e-9)
    assert coverage_factor(inf) == pytest.approx(norm.ppf(0.975), rel=1e-12)


def test_draws_without_a_standard_deviation() -> None:
    """With two degrees of freedom there is none, and none is printed; the interval is there."""
    one = [InputQuantity("card", "cm", 10.0, 1.0, "student", 2)]
    found = propagate_draws(total, one, draws=200_000)
    assert isnan(found.u)
    assert found.value == 10.0
    ends = [10 + t.ppf(p, 2) for p in (0.025, 0.975)]
    assert found.interval == pytest.approx(ends, rel=0.05)
    assert not agreement(propagate(total, one), found)[0]


def test_the_same_seed_gives_the_same() -> None:
    """And another seed another; a count that fills no chunk is drawn to the last."""
    one = [InputQuantity("x", "cm", 10.0, 1.0)]
    draws = 3 * CHUNK + 17
    first, again, other = (propagate_draws(total, one, draws=draws, seed=s) for s in (1, 1, 2))
    assert first == again
    assert first.interval != other.interval
    assert first.draws == draws


@pytest.mark.parametrize(
    ("words", "work"),
    [
        ("x, uncertainty is -1 cm", lambda: InputQuantity("x", "cm", 0, -1)),
        ("distribution is 'even'", lambda: InputQuantity("x", "cm", 0, 1, "even")),
        ("degrees of freedom is 0", lambda: InputQuantity("x", "cm", 0, 1, "student", 0)),
        ("draws is 50000001", lambda: propagate_draws(total, ONE, draws=50_000_001)),
        ("2 rows of 2 numbers", lambda: propagate(total, ONE * 2, np.eye(3))),
        ("is 'unlike across", lambda: propagate(total, ONE * 2, np.array([[1, 0], [0.5, 1]]))),
        ("is 'impossible'", lambda: propagate(total, ONE * 3, np.where(np.eye(3) > 0, 1, -0.9))),
        (
            "expected normal or rectangular",
            lambda: propagate_draws(
                total, [*ONE, InputQuantity("y", "", 0, 1, "arcsine")], np.full((2, 2), 1.0)
            ),
        ),
    ],
)
def test_what_cannot_be_is_refused(words: str, work: Any) -> None:
    with pytest.raises(MeasureError) as caught:
        work()
    assert words in str(caught.value)


ONE = [InputQuantity("x", "cm", 1.0, 0.1)]
