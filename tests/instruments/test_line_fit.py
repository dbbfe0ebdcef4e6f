"""The one line of least squares: as other programs draw it, and honest about the reading's step."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import f as fisher
from scipy.stats import linregress, norm
from scipy.stats import t as student

from mensura.instruments import (
    fit_line,
    lack_of_fit,
    resolution_of_cm,
    student_factor,
)
from mensura.instruments.line_fit import plain_floor_cm, shared_variance

DRAWN = 2000


def tapes(marks, *, repeats=1, hand=0.1, step=0.0, even=True, seed=5):
    """Readings of 2,000 drawn tapes at the same marks, with what was planted in them."""
    rng = np.random.default_rng(seed)
    places = np.linspace(20, 200, marks) if even else np.sort(rng.uniform(20, 200, marks))
    true = np.repeat(places, repeats)
    stretch, worn = rng.uniform(-0.5, 1.5, DRAWN), rng.uniform(-0.3, 2.0, DRAWN)
    read = true / (1 + stretch[:, None] / 100) + worn[:, None]
    read += hand * rng.standard_normal(read.shape)
    return true, (np.round(read / step) * step if step else read), stretch, worn


def covered(true, read, stretch, worn, step):
    """Shares of intervals of 95 % that hold what was planted: of stretch, of worn start."""
    line = fit_line(true, read, step)
    factor = student.ppf(0.975, true.size - 2)
    u_stretch = 100 * line.u_rise / line.rise**2
    return (
        np.mean(np.abs(100 * (1 / line.rise - 1) - stretch) <= factor * u_stretch),
        np.mean(np.abs(line.start_cm - worn) <= factor * line.u_start_cm),
    )


@pytest.mark.parametrize("repeats", [1, 3])
@pytest.mark.parametrize("marks", [3, 4, 10, 20])
def test_intervals_cover_what_they_say(marks, repeats):
    """Unrounded readings: between 93 and 97 of 100 intervals hold the truth."""
    drawn = tapes(marks, repeats=repeats)
    for share in covered(*drawn, 0.0):
        assert 0.93 <= share <= 0.97


@pytest.mark.parametrize("repeats", [1, 3])
@pytest.mark.parametrize("step", [0.1, 0.5, 1.0])
@pytest.mark.parametrize("marks", [3, 4, 10, 20])
def test_intervals_cover_rounded_readings(marks, step, repeats):
    """At least 93 of 100, whether the hand moves by nothing, by a part of the step or by more."""
    for hand, even in ((0.05 * step, True), (0.3 * step, False), (step, True)):
        drawn = tapes(marks, repeats=repeats, hand=hand, step=step, even=even)
        shares = covered(*drawn, step)
        assert min(shares) >= 0.93, (hand, even, shares)


def test_marks_that_share_their_rounding():
    """A sound tape, worn by 0.4, read to whole cm at whole cm: every reading is 0.4 too small.

    The line finds no worn start at all and no spread either. Taken as independent errors, twenty
    marks would have u = 0.13 cm, and an interval that leaves out the truth.
    """
    true = np.arange(10.0, 201.0, 10.0)
    line = fit_line(true, np.round(true + 0.4), 1.0)
    independent = np.sqrt(1 / 12) * np.sqrt(1 / 20 + true.mean() ** 2 / line.among_cm2)
    assert line.start_cm == pytest.approx(0, abs=1e-9)
    assert student.ppf(0.975, 18) * independent < 0.4
    assert student.ppf(0.975, 18) * line.u_start_cm > 0.4


@given(st.lists(st.integers(10, 300), min_size=3, max_size=12, unique=True), st.floats(0.5, 3))
def test_never_surer_than_independent_steps(marks, step):
    """Whatever the marks: at least what step/√12 at each of them gives, by the textbook's line."""
    true = np.sort(np.array(marks, dtype=float))
    line = fit_line(true, np.round(true * 0.99 / step) * step, step)
    least = step / np.sqrt(12) * (1 - 1e-9)
    off = true.mean() ** 2 / ((true - true.mean()) ** 2).sum()
    assert line.u_rise >= least / np.sqrt(((true - true.mean()) ** 2).sum())
    assert line.u_start_cm >= least * np.sqrt(1 / true.size + off)


def test_repeats_in_one_step_do_not_rid_it():
    """The same reading a hundred times is worth one: u stays what the marks alone give."""
    true, read = np.array([40.0, 90.0, 150.0, 200.0]), np.array([40.2, 90.1, 149.7, 199.6])
    single = fit_line(true, read, 0.1)
    many = fit_line(np.repeat(true, 100), np.repeat(read, 100), 0.1)
    least = 0.1 / np.sqrt(12)
    assert many.u_rise >= least / np.sqrt(single.among_cm2) * 0.999
    assert many.u_start_cm >= 0.999 * least * np.sqrt(1 / 4 + true.mean() ** 2 / single.among_cm2)
    assert fit_line(np.repeat(true, 100), np.repeat(read, 100)).u_rise < 0.2 * many.u_rise


@pytest.mark.parametrize("repeats", [3, 400])
def test_repeats_that_scatter_do_not_rid_it_either(repeats):
    """A hand that moves by three steps: the line's own u, but each mark's mean keeps step/√12."""
    rng = np.random.default_rng(3)
    places = np.linspace(20, 200, 6)
    true = np.repeat(places, repeats)
    read = np.round(true + 0.3 * rng.standard_normal(true.size), 1)
    line = fit_line(true, read, 0.1)
    by_hand = max(line.spread_cm, np.sqrt(repeats) * 0.1 / np.sqrt(12))
    assert line.taken_cm == pytest.approx(by_hand, rel=1e-9)
    assert plain_floor_cm([repeats] * 6, places, 0.1) == pytest.approx(np.sqrt(repeats / 1200))
    # by another way: a line through the means, each of them step/√12 off
    _, spread = np.polyfit(places, places, 1, w=np.full(6, np.sqrt(1200)), cov="unscaled")
    if repeats == 400:
        assert line.u_rise == pytest.approx(np.sqrt(spread[0, 0]))
        assert line.u_start_cm == pytest.approx(np.sqrt(spread[1, 1]))


def test_the_floor_of_marks_read_unequally_often():
    """Each mean keeps step/√12, whatever it counts in the line: by the sum over the marks."""
    places, counts = np.array([40.0, 90.0, 200.0]), np.array([1, 5, 30])
    true = np.repeat(places, counts)
    unit = [np.polyfit(true, np.repeat(one, counts), 1) for one in np.eye(3)]
    rise, start = np.sqrt((np.square(unit).sum(axis=0)) / 12)
    bare = fit_line(true, true + np.random.default_rng(1).standard_normal(true.size))
    shares = bare.u_rise / bare.taken_cm, bare.u_start_cm / bare.taken_cm
    least = max(rise / shares[0], start / shares[1])
    assert plain_floor_cm(counts, places, 1.0) == pytest.approx(least)


@given(
    st.lists(st.floats(1, 500), min_size=3, max_size=30, unique=True),
    st.floats(0.5, 2),
    st.floats(-5, 5),
    st.integers(0, 10**6),
)
def test_the_line_as_other_programs_draw_it(true, rise, start, seed):
    """scipy.stats.linregress: slope, intercept and both standard errors."""
    true = np.array(true)
    if np.ptp(true) < 1:
        return
    read = rise * true + start + np.random.default_rng(seed).standard_normal(true.size)
    line, other = fit_line(true, read), linregress(true, read)
    assert line.rise == pytest.approx(other.slope, rel=1e-9)
    assert line.start_cm == pytest.approx(other.intercept, rel=1e-7, abs=1e-7)
    assert line.u_rise == pytest.approx(other.stderr, rel=1e-6)
    assert line.u_start_cm == pytest.approx(other.intercept_stderr, rel=1e-6)


def test_the_line_anywhere_from_the_whole_covariance():
    """numpy's polyfit: its covariance, carried to a place, is the line's own uncertainty there."""
    true = np.array([50.0, 50.0, 100.0, 150.0, 175.0])
    read = np.array([51.3, 51.1, 100.7, 150.3, 175.4])
    _, spread = np.polyfit(true, read, 1, cov=True)
    line = fit_line(true, read)
    for place in (0.0, 80.0, 240.0):
        across = np.array([place, 1.0])
        assert line.u_line_cm(place) == pytest.approx(np.sqrt(across @ spread @ across))
    pair = line.correlation * line.u_rise * line.u_start_cm
    assert pair == pytest.approx(spread[0, 1])


def test_many_tapes_at_once_are_each_by_itself():
    """A row of the many is the one, its step and its repeats included."""
    true, read, _, _ = tapes(5, repeats=3, hand=0.05, step=0.1)
    many = fit_line(true, read, 0.1)
    for row in (0, 7, 1999):
        one = fit_line(true, read[row], 0.1)
        assert one.rise == pytest.approx(many.rise[row])
        assert one.taken_cm == pytest.approx(many.taken_cm[row])


def test_lack_of_fit_against_two_models():
    """F of the line against a mean for each mark, by the sums of squares of two fits."""
    rng = np.random.default_rng(8)
    true = np.repeat([30.0, 80.0, 120.0, 190.0], [2, 3, 4, 2])
    read = true * 1.01 + 0.4 + 0.2 * rng.standard_normal(true.size)
    line = np.polyfit(true, read, 1)
    about = ((read - np.polyval(line, true)) ** 2).sum()
    own = sum(((read[true == one] - read[true == one].mean()) ** 2).sum() for one in set(true))
    ratio = (about - own) / 2 / (own / 7)
    found = lack_of_fit(true, read)
    assert (found.between, found.within) == (2, 7)
    assert found.f == pytest.approx(ratio)
    assert found.p == pytest.approx(fisher.sf(ratio, 2, 7))


def test_lack_of_fit_has_its_rate_of_false_alarms():
    """Straight tapes are called crooked five times in a hundred, rounded ones not more often."""
    for step, least, most in ((0.0, 0.03, 0.07), (0.5, 0.0, 0.07)):
        true, read, _, _ = tapes(5, repeats=3, hand=0.1, step=step)
        tests = [lack_of_fit(true, one, step) for one in read[:600]]
        share = np.mean([one is not None and not one.will_do for one in tests])
        assert least <= share <= most, step


def test_a_bent_tape_is_found():
    """A kink of 1 cm in the middle, beside repeats that agree to 0.1 cm."""
    true = np.repeat([50.0, 100.0, 150.0], 3)
    read = true + np.where(true == 100, 1.0, 0.0) + np.tile([-0.1, 0.0, 0.1], 3)
    assert not lack_of_fit(true, read, 0.1).will_do
    assert lack_of_fit([50, 100, 150], [50, 100, 150]) is None
    assert lack_of_fit([50, 50, 100], [50, 50.1, 100]) is None
    assert lack_of_fit([50, 50, 100, 150], [50, 50, 100, 150]) is None


@pytest.mark.parametrize("hand", [0.05, 0.1, 0.2, 0.3, 0.5])
def test_what_repeats_keep_in_common(hand):
    """Variance, over places in a step, of the mean rounded reading: by the normal integral."""
    place = (np.arange(400) + 0.5) / 400
    steps = np.arange(-6, 8)
    edges = norm.cdf((steps[None, :] + 0.5 - place[:, None]) / hand)
    shares = np.diff(edges, axis=1)
    bias = shares @ steps[1:] - place
    assert shared_variance(hand) == pytest.approx((bias**2).mean(), abs=1e-5)


@pytest.mark.parametrize(
    ("readings", "step"),
    [
        ([51.3, 100.7, 150.2], 0.1),
        ([51.0, 100.5, 150.0], 0.5),
        ([51, 101, 150], 1.0),
        ([51.25, 100.7], 0.05),
        ([51.27, 100.7], 0.01),
        ([51.3, 100 / 3], 0.0),
        ([100.0], 1.0),
    ],
)
def test_the_step_from_the_figures(readings, step):
    """Tenths, halves, whole ones; noughts at the end count for nothing; computed ones have none."""
    assert resolution_of_cm(readings) == pytest.approx(step)


def test_student_against_scipy_and_a_table():
    """12.706, 2.228 and 1.960 stand in every table (from memory); scipy.stats has the rest."""
    assert student_factor(1) == pytest.approx(12.706, abs=5e-4)
    assert student_factor(10) == pytest.approx(2.228, abs=5e-4)
    assert student_factor(np.inf) == pytest.approx(1.95996, abs=5e-6)
    for free in (1, 2, 3.5, 17, 400):
        assert student_factor(free) == pytest.approx(student.ppf(0.975, free))
