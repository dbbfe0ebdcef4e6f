"""Limits of agreement on drawn practicals: how often their intervals hold the truth."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import stdtrit
from scipy.stats import chi2, linregress, nct

from mensura import MeasureError
from mensura.estimates import (
    difference_trend,
    into_cells,
    limits_from_differences,
    limits_of_agreement,
)
from mensura.estimates.limit_draws import MeanSquare, limit_intervals_cm

K = 1.959963984540054
STEMS, HANDS, PRACTICALS = 20, 7, 2000


def holds(interval, truth):
    return interval[0] <= truth <= interval[1]


@pytest.mark.parametrize(
    ("between_stems", "between_hands", "rest", "missing", "seed"),
    [
        (1.0, 0.2, 0.4, 0.3, 1),  # as classes are, three cells in ten empty
        (1.0, 1.0, 0.3, 0.0, 5),  # stems and hands
    ],
)
def test_coverage_over_drawn_practicals(between_stems, between_hands, rest, missing, seed):
    """20 stems, 7 hands: intervals of either limit and of the mean hold the truth in 93 to 97 of a
    hundred of 2000 practicals. So they do in the corner in which variances recovered from the
    intervals of mean and spread hold it in 98: hands as far apart as stems, and little else."""
    rng = np.random.default_rng(seed)
    truth = K * (between_stems**2 + between_hands**2 + rest**2) ** 0.5
    stem, hand = np.indices((STEMS, HANDS)).reshape(2, -1)
    held = np.zeros((PRACTICALS, 3))
    for practical in range(PRACTICALS):
        away = rng.normal(size=STEMS)[stem] * between_stems + rng.normal(size=stem.size) * rest
        away += rng.normal(size=HANDS)[hand] * between_hands
        keep = rng.random(stem.size) >= missing
        found = limits_from_differences(stem[keep], away[keep], hand[keep])
        held[practical] = (
            holds(found.lower_interval_cm, -truth),
            holds(found.upper_interval_cm, truth),
            holds(found.mean_interval_cm, 0.0),
        )
    assert (100 * held.mean(axis=0)).round(1).tolist() == pytest.approx([95] * 3, abs=2)


@pytest.mark.parametrize("degrees", [4, 6, 19, 200])
def test_one_mean_square_is_exact(degrees):
    """The spread's interval by chi squared, the limit's by Student's noncentral t, by SciPy."""
    count = degrees + 1
    one = MeanSquare(4.0, degrees, 1.0, 1 / count)
    for confidence in (0.5, 0.95):
        ends = np.array([1 - confidence, 1 + confidence]) / 2
        spread, limit = limit_intervals_cm([one], K, confidence)
        assert spread == pytest.approx(2 * (degrees / chi2.ppf(ends[::-1], degrees)) ** 0.5, 0.01)
        away = 2 * nct.ppf(ends, degrees, K * count**0.5) / count**0.5
        assert limit == pytest.approx(away, rel=0.01)


def test_coverage_with_unequal_repeats():
    """One to three repeats by either way, a spread of .3 and .5 each: still 93 to 97 of a hundred,
    of 500 practicals (within the luck of so few), and the spread without a bias."""
    rng = np.random.default_rng(5)
    parts = np.array([0.8, 0.1, 0.2, 0.3, 0.5])
    truth = K * (parts**2).sum() ** 0.5
    stem, hand = np.indices((STEMS, HANDS)).reshape(2, -1)
    held, squares = [], []
    for _ in range(500):
        away = rng.normal(size=STEMS)[stem] * parts[0] + rng.normal(size=HANDS)[hand] * parts[1]
        away += rng.normal(size=stem.size) * parts[2]
        ways = []
        for shift, spread in ((away, parts[3]), (0 * away, parts[4])):
            row = np.repeat(np.arange(stem.size), rng.integers(1, 4, stem.size))
            read = 40 + shift[row] + rng.normal(size=row.size) * spread
            ways.append(into_cells(hand[row], stem[row], read))
        found = limits_of_agreement(*ways)
        held.append([holds(found.lower_interval_cm, -truth), holds(found.upper_interval_cm, truth)])
        squares.append(found.spread_cm**2)
    assert (100 * np.mean(held, axis=0)).tolist() == pytest.approx([95, 95], abs=3)
    error = np.std(squares) / 500**0.5
    assert np.mean(squares) == pytest.approx((parts**2).sum(), abs=4 * error)


def test_pretending_that_readings_are_independent_would_miss():
    """The stem is the unit: taking 140 differences for independent ones makes the mean's interval
    so short that it misses in more than a quarter of all practicals."""
    rng = np.random.default_rng(7)
    stem = np.repeat(np.arange(STEMS), HANDS)
    missed = 0
    for _ in range(300):
        away = rng.normal(size=STEMS)[stem] + rng.normal(size=stem.size) * 0.4
        found = limits_from_differences(np.arange(stem.size), away)
        missed += not holds(found.mean_interval_cm, 0.0)
    assert missed > 75


def test_one_hand_is_the_plain_formula():
    """A difference a stem: mean ± 1.96·s, Student's interval of the mean."""
    away = np.array([0.3, -0.2, 0.5, 0.1, 0.9, -0.4])
    found = limits_from_differences(range(6), away)
    assert found.mean_cm == pytest.approx(away.mean())
    assert found.spread_cm == pytest.approx(away.std(ddof=1))
    assert found.upper_cm == pytest.approx(away.mean() + K * away.std(ddof=1))
    reach = 2.570582 * away.std(ddof=1) / 6**0.5  # Student, 5 degrees of freedom
    assert found.mean_interval_cm[1] - found.mean_cm == pytest.approx(reach, rel=1e-6)
    assert not found.hands_told


def test_equal_repeats_are_the_one_way_formula():
    """Three differences on each of four stems: s² = MSB/3 + (1 − 1/3)·MSW [BlandAltman2007]."""
    rng = np.random.default_rng(1)
    away = rng.normal(size=(4, 1)) * 2 + rng.normal(size=(4, 3))
    found = limits_from_differences(np.repeat(range(4), 3), away.ravel())
    between, within = 3 * away.mean(axis=1).var(ddof=1), away.var(axis=1, ddof=1).mean()
    assert found.spread_cm**2 == pytest.approx(between / 3 + (1 - 1 / 3) * within)
    assert found.mean_interval_cm[1] - found.mean_cm == pytest.approx(
        3.182446 * (between / 12) ** 0.5, rel=0.05
    )


@settings(deadline=None, max_examples=60)
@given(
    st.lists(
        st.tuples(st.integers(0, 6), st.integers(0, 3), st.integers(-30, 30)),
        min_size=2,
        max_size=30,
    ),
    st.floats(0.5, 4),
    st.booleans(),
)
def test_any_practical_goes_through(rows, times, by_hands):
    """Whatever cells are filled: limits lie in their intervals, in order; a shift moves them all,
    a scale stretches them all."""
    stem, hand, away = (np.array(one) for one in zip(*rows, strict=True))
    given_hand = hand if by_hands else None
    if np.unique(stem).size < 2:
        with pytest.raises(MeasureError, match="two stems"):
            limits_from_differences(stem, away, given_hand)
        return
    found = limits_from_differences(stem, away, given_hand)
    assert found.lower_interval_cm[0] <= found.lower_cm <= found.lower_interval_cm[1]
    assert found.upper_interval_cm[0] <= found.upper_cm <= found.upper_interval_cm[1]
    assert found.mean_interval_cm[0] <= found.mean_cm <= found.mean_interval_cm[1]
    assert found.lower_cm <= found.upper_cm
    moved = limits_from_differences(stem, times * away + 5, given_hand)
    for name in ("lower_cm", "upper_cm", "mean_cm"):
        expected = times * getattr(found, name) + 5
        assert getattr(moved, name) == pytest.approx(expected, abs=1e-6)


def test_cells_without_the_other_way_are_left_out():
    """Only what a hand measured both ways counts; nothing in common is refused."""
    tape = into_cells([0, 0, 0, 1], [0, 1, 2, 2], [30.0, 40.0, 50.0, 51.0])
    caliper = into_cells([0, 0, 1], [0, 1, 3], [29.0, 39.4, 60.0])
    found = limits_of_agreement(tape, caliper)
    assert (found.cells, found.stems, found.hands) == (2, 2, 1)
    assert found.mean_cm == pytest.approx(0.8)
    with pytest.raises(MeasureError, match="both ways"):
        limits_of_agreement(tape, into_cells([2], [0], [30.0]))


def test_a_narrower_demand_gives_narrower_intervals():
    """Confidence and coverage factor do what they say, and are checked."""
    rng = np.random.default_rng(3)
    stem, hand = np.indices((10, 4)).reshape(2, -1)
    away = rng.normal(size=10)[stem] + rng.normal(size=40) * 0.3
    wide = limits_from_differences(stem, away, hand)
    narrow = limits_from_differences(stem, away, hand, confidence=0.5)
    assert np.diff(narrow.upper_interval_cm) < np.diff(wide.upper_interval_cm)
    two = limits_from_differences(stem, away, hand, coverage_factor=2.0)
    assert two.upper_cm - two.mean_cm == pytest.approx(2 * wide.spread_cm)
    for wrong in ({"confidence": 1.0}, {"coverage_factor": 0.0}):
        with pytest.raises(MeasureError):
            limits_from_differences(stem, away, hand, **wrong)


def test_differences_that_grow_with_size():
    """By hand: 1 % of 20 to 50 cm is a rise of .01. Of 500 drawn classes that do not grow, five
    in a hundred are said to; of repeated readings on a stem only their mean counts, as SciPy's
    line through the means."""
    exact = difference_trend([0, 1, 2, 3], [0.2, 0.3, 0.4, 0.5], [20, 30, 40, 50])
    assert (exact.rise, exact.start_cm) == pytest.approx((0.01, 0.0), abs=1e-12)
    rng = np.random.default_rng(9)
    stem, size = np.repeat(range(15), 4), np.repeat(np.linspace(20, 80, 15), 4)
    grown = 0
    for _ in range(500):
        away = rng.normal(size=15)[stem] + rng.normal(size=60) * 0.3
        grown += difference_trend(stem, away, size).grows
    assert 12 <= grown <= 40
    found = difference_trend(stem, away + 0.05 * size, size)
    means = (away + 0.05 * size).reshape(15, 4).mean(axis=1)
    line = linregress(size[::4], means)
    assert (found.rise, found.start_cm) == pytest.approx((line.slope, line.intercept))
    assert np.diff(found.rise_interval)[0] / 2 == pytest.approx(2.160369 * line.stderr, rel=1e-6)
    assert found.grows
    assert difference_trend([0, 1], [0.1, 0.2], [20, 30]) is None
    assert difference_trend([0, 1, 2], [0.1, 0.2, 0.3], [20, 20, 20]) is None
    with pytest.raises(MeasureError, match="one for each difference"):
        difference_trend([0, 1], [0.1, 0.2], [20])


def test_unequal_repeats_by_hand():
    """One and three readings by the first way, of a spread of 1: on the average 1/n is 2/3, so
    that means hide a third of the repeats' variance; the stem counts, not how often it was read."""
    first = into_cells([0] * 4, [0, 1, 1, 1], [30.0, 40, 41, 42])
    found = limits_of_agreement(first, into_cells([0, 0], [0, 1], [29.0, 40.0]))
    assert found.spread_cm**2 == pytest.approx(1 / 3)
    uneven = limits_from_differences([0, 0, 0, 1], [1.0, 2.0, 3.0, 6.0])
    assert uneven.mean_cm == pytest.approx(4.0)


def test_the_means_interval_of_a_full_table():
    """Variance of the mean, by the textbook's squares of a full table: (MS_stems + MS_hands −
    MS_rest)/cells, where hands differ; where they do not, that of the stems' means alone."""
    rng = np.random.default_rng(4)
    stem, hand = np.indices((STEMS, HANDS)).reshape(2, -1)
    table = rng.normal(size=(STEMS, 1)) + rng.normal(size=(STEMS, HANDS)) * 0.5
    level = table - table.mean(axis=0)
    found = limits_from_differences(stem, level.ravel(), hand)
    means = level.mean(axis=1)
    assert found.freedom == pytest.approx(STEMS - 1)
    reach = 2.093024 * means.std(ddof=1) / STEMS**0.5  # Student, 19 degrees of freedom
    assert found.mean_interval_cm[1] - found.mean_cm == pytest.approx(reach, rel=1e-6)
    apart = table + rng.normal(size=HANDS)
    found = limits_from_differences(stem, apart.ravel(), hand)
    stems = HANDS * apart.mean(axis=1).var(ddof=1)
    hands = STEMS * apart.mean(axis=0).var(ddof=1)
    left = apart - apart.mean(axis=0) - apart.mean(axis=1, keepdims=True) + apart.mean()
    rest = (left**2).sum() / ((STEMS - 1) * (HANDS - 1))
    variance = (stems + hands - rest) / (STEMS * HANDS)
    reach = found.mean_interval_cm[1] - found.mean_cm
    assert reach == pytest.approx(stdtrit(found.freedom, 0.975) * variance**0.5, rel=1e-9)
    assert 6 < found.freedom < 25
