"""Questions for a hand: found where the habit is, asked of hardly anyone without it."""

import warnings

import numpy as np
import pytest

from mensura.estimates.drawn_practical import PracticalClass, drawn_practical
from mensura.estimates.hand_habits import _middle_slope, habits
from mensura.estimates.hand_model import fit_hands
from mensura.estimates.readings import Readings


def asked(readings):
    """Hand, kind and habit of each question."""
    return {(one.name, one.kind, one.habit) for one in habits(readings, fit_hands(readings))}


def with_figures(readings, reading_cm):
    """The same readings with other figures."""
    return Readings(**{**vars(readings), "reading_cm": np.round(reading_cm, 6)})


def tapes_of(readings, hand):
    """Places of one hand's girths."""
    return np.flatnonzero(readings.girth & (readings.hand == hand))


def test_hardly_anyone_is_asked_for_nothing():
    """Three kinds of question at 5 % each: over 40 practicals without a habit, few ask."""
    asking = [bool(asked(drawn_practical(seed).readings)) for seed in range(40)]
    assert np.mean(asking) <= 0.12


@pytest.mark.parametrize("percent", [2.0, -2.0])
def test_a_drift_over_the_day(percent):
    """A hand whose girths rise or fall by 2 % from its first stem to its last."""
    readings = drawn_practical(5).readings
    mine, cm = tapes_of(readings, 2), readings.reading_cm.copy()
    cm[mine] *= 1 + np.linspace(0, percent / 100, mine.size)
    readings = with_figures(readings, np.round(cm, 1))
    assert asked(readings) == {("Q03", "girth", "drift")}
    (one,) = habits(readings, fit_hands(readings))
    assert ("higher" if percent > 0 else "lower") in one.question
    assert one.question.endswith("?")


def test_favourite_last_figures():
    """A hand that rounds to half centimetres, mostly to whole ones."""
    readings = drawn_practical(5).readings
    mine, cm = tapes_of(readings, 2), readings.reading_cm.copy()
    cm[mine] = np.round(cm[mine])
    assert ("Q03", "girth", "last-figures") in asked(with_figures(readings, cm))


def test_repeats_too_equal():
    """A hand whose repeats are all its first figure."""
    readings = drawn_practical(5, of=PracticalClass(most_repeats=4)).readings
    mine, cm = tapes_of(readings, 2), readings.reading_cm.copy()
    place = readings.stem[mine] * 10 + readings.instrument[mine]
    _, first, back = np.unique(place, return_index=True, return_inverse=True)
    cm[mine] = cm[mine][first][back]
    found = asked(with_figures(readings, cm))
    assert found == {("Q03", "girth", "too-equal")}
    assert all(one.name not in one.question for one in habits(readings, fit_hands(readings)))


def test_stems_read_at_the_same_time_have_no_slope():
    """No warning, and the slope of those that do differ in time."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        same = _middle_slope(np.array([3.0, 3.0, 3.0]), np.array([1.0, 2.0, 4.0]))
        two = _middle_slope(np.array([1.0, 1.0, 3.0]), np.array([5.0, 7.0, 10.0]))
    assert same == 0.0
    assert two == pytest.approx((2.5 + 1.5) / 2)


def test_of_readings_of_one_kind_that_are_all_equal_nobody_is_asked():
    readings = drawn_practical(5).readings
    cm = np.where(readings.girth, 99.0, np.round(readings.reading_cm))
    kinds = {kind for _, kind, _ in asked(with_figures(readings, cm))}
    assert kinds == {"diameter"}
