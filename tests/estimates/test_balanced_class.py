"""A class in which every hand reads every stem: its plan, its faults, its numbers."""

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates import Planted, PracticalClass, balanced_class

STILL = PracticalClass(
    sound_hands_percent=0, lay_percent=0, repeat_cm=0, step_cm=1e-6
)  # nothing but what is planted


def test_tapes_go_round_or_stay() -> None:
    """Every hand has each tape on as many stems, or one on all."""
    for go_round, tapes in ((True, 3), (False, 1)):
        readings = balanced_class(3, stem_count=12, repeats=1, go_round=go_round)
        for hand in range(6):
            own = readings.instrument[readings.hand == hand]
            counts = np.bincount(own, minlength=3)
            assert np.count_nonzero(counts) == tapes
            assert set(counts[counts > 0].tolist()) == {12 // tapes}


def test_what_is_planted_is_the_whole_difference() -> None:
    """Reading by reading: a share, a constant, a tape's share; nobody else's change."""
    sound = balanced_class(5, of=STILL)
    faults = (Planted("Q03", "girth", 2.0, 1.5), Planted("T2", "girth", -3.0))
    off = balanced_class(5, faults, of=STILL)
    share = np.where(sound.hand == 2, 2.0, 0.0) + np.where(sound.instrument == 1, -3.0, 0.0)
    constant = np.where(sound.hand == 2, 1.5, 0.0)
    expected = sound.reading_cm * (1 + share / 100) + constant
    assert off.reading_cm == pytest.approx(expected, abs=1e-5)


def test_who_spreads_spreads() -> None:
    """Three times as much, about the same middle."""
    sound = balanced_class(5, stem_count=40, of=PracticalClass(sound_hands_percent=0))
    wide = balanced_class(
        5, (Planted("Q03", "girth", times=3.0),), stem_count=40,
        of=PracticalClass(sound_hands_percent=0),
    )  # fmt: skip
    still = balanced_class(5, stem_count=40, of=STILL).reading_cm
    at = sound.hand == 2
    apart = [(one.reading_cm - still)[at] for one in (sound, wide)]
    assert apart[1] == pytest.approx(3 * apart[0], abs=0.21)
    assert np.array_equal(sound.reading_cm[~at], wide.reading_cm[~at])


def test_one_more_changes_no_other() -> None:
    """A stem, a hand or a repeat more leaves the readings that were there."""
    few = balanced_class(9, hand_count=4, stem_count=6, repeats=1)
    many = balanced_class(9, hand_count=6, stem_count=8, repeats=3)
    at = (many.hand < 4) & (many.stem < 6) & (many.repeat == 1)
    assert np.array_equal(many.reading_cm[at], few.reading_cm)


def test_nonsense_is_refused() -> None:
    """More than there are numbers for, and none."""
    for told in ({"hand_count": 13}, {"stem_count": 1}, {"tape_count": 7}, {"repeats": 0}):
        with pytest.raises(MeasureError, match=next(iter(told))):
            balanced_class(1, **told)
