"""Readings off what the others agree on: planted faults come back in them, slips do not hide."""

import numpy as np
import pytest

from mensura.estimates.drawn_practical import Planted, drawn_practical, faulty_practical
from mensura.estimates.hand_points import hand_points
from mensura.estimates.hands import judge_hands


def points(practical, name, kind):
    judged = judge_hands(practical.readings)
    every = hand_points(practical.readings, judged)
    return next(one for one in every if (one.judged.name, one.judged.kind) == (name, kind))


def test_a_share_is_level_and_a_constant_falls_with_size():
    """What was planted, on small stems and on large ones, to a third of a per cent."""
    faults = (Planted("Q02", "girth", share_percent=3.0), Planted("Q05", "girth", off_cm=3.0))
    practical = drawn_practical(8, faults)
    for name, adds in (("Q02", lambda girth: 0.03 * girth), ("Q05", lambda girth: 3.0)):
        one = points(practical, name, "girth")
        for half in (one.size_cm < 42, one.size_cm >= 42):
            girth = np.pi * one.size_cm[half]
            expected = np.median(100 * adds(girth) / girth)
            assert np.median(one.off_percent[half]) == pytest.approx(expected, abs=0.35)


def test_an_instruments_points_are_its_own():
    """Calipers off zero are seen in the calipers' points, not in a sound hand's that had them."""
    practical = drawn_practical(8, (Planted("K2", "diameter", off_cm=0.8),))
    jaws = points(practical, "K2", "diameter")
    assert np.median(jaws.off_percent / 100 * jaws.size_cm) == pytest.approx(0.8, abs=0.1)
    for hand in practical.readings.hands:
        assert abs(np.median(points(practical, hand, "diameter").off_percent)) < 0.7


def test_slips_count_for_nothing_and_keep_their_rows():
    """Each slip is a point that counts for nothing; every reading is with one hand."""
    practical = faulty_practical(3)
    judged = judge_hands(practical.readings)
    hands = [one for one in hand_points(practical.readings, judged) if one.is_hand]
    rows = np.concatenate([one.row for one in hands])
    assert np.array_equal(np.sort(rows), practical.readings.row)
    aside = np.concatenate([one.row[~one.counts] for one in hands])
    assert set(practical.slips) <= set(aside.tolist())


def test_nothing_fitted_has_no_points():
    """Readings of nothing."""
    from dataclasses import replace

    readings = drawn_practical(8).readings
    readings = replace(readings, reading_cm=np.zeros(len(readings)))
    assert hand_points(readings, judge_hands(readings)) == ()
