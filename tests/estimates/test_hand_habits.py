"""Questions for a hand: found where the habit is, asked of hardly anyone without it."""

import numpy as np
import pytest

from mensura.estimates.drawn_practical import PracticalClass, drawn_practical
from mensura.estimates.hand_habits import habits
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
