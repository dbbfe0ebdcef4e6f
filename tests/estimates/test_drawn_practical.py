"""The drawn practical: the same for the same seed, and off by what was planted and nothing else."""

import numpy as np
import pytest

from mensura.estimates.drawn_practical import (
    SLIPS,
    Planted,
    PracticalClass,
    drawn_practical,
    faulty_practical,
)

COLUMNS = ("stem", "hand", "instrument", "girth", "direction_deg", "repeat", "reading_cm", "row")


def test_a_seed_is_a_practical():
    """The same seed the same readings, another seed others."""
    first, again, other = (drawn_practical(seed).readings for seed in (5, 5, 6))
    for name in COLUMNS:
        assert np.array_equal(getattr(first, name), getattr(again, name), equal_nan=True)
    assert len(first) != len(other) or np.any(first.reading_cm != other.reading_cm)


@pytest.mark.parametrize(
    ("fault", "adds"),
    [
        (Planted("T2", "girth", share_percent=-2.5), lambda cm: -0.025 * cm),
        (Planted("K1", "diameter", off_cm=0.8), lambda cm: 0.8),
    ],
)
def test_a_fault_adds_what_it_says_and_there_only(fault, adds):
    """To the step of the readings, and to no other reading."""
    sound, off = drawn_practical(3).readings, drawn_practical(3, (fault,)).readings
    mine = sound.instrument == sound.instruments.index(fault.who)
    assert np.array_equal(sound.reading_cm[~mine], off.reading_cm[~mine])
    gap = off.reading_cm[mine] - sound.reading_cm[mine]
    assert np.max(np.abs(gap - adds(sound.reading_cm[mine]))) <= 0.1 + 1e-9


def test_a_planted_hand_has_no_other_bias():
    """It is off by what is planted, and by nothing of its own."""
    of = PracticalClass(sound_hands_percent=3.0, lay_percent=0.0, repeat_cm=0.0, step_cm=1e-6)
    readings = drawn_practical(3, (Planted("Q02", "girth", off_cm=1.8),), of=of).readings
    exact = PracticalClass(sound_hands_percent=0.0, lay_percent=0.0, repeat_cm=0.0, step_cm=1e-6)
    true = drawn_practical(3, of=exact).readings.reading_cm
    mine = readings.girth & (readings.hand == 1)
    assert readings.reading_cm[mine] - true[mine] == pytest.approx(1.8, abs=1e-5)


def test_slips_are_told_with_what_stood_there():
    """Three rows, each with its slip and the figure before it; all others as without slips."""
    clean, slipped = drawn_practical(9), drawn_practical(9, slips=SLIPS)
    assert sorted(slipped.slips.values()) == sorted(SLIPS)
    changed = clean.readings.reading_cm != slipped.readings.reading_cm
    assert set(clean.readings.row[changed].tolist()) == set(slipped.slips)
    for row, was in slipped.would_be_cm.items():
        at = row - 2
        assert clean.readings.reading_cm[at] == was
        now = slipped.readings.reading_cm[at]
        if slipped.slips[row] == "slipped-point":
            assert now == pytest.approx(10 * was, abs=0.1) or now == pytest.approx(
                was / 10, abs=0.1
            )
        elif slipped.slips[row] == "diameter-for-girth":
            assert now == pytest.approx(was / np.pi, abs=0.06)
        else:
            assert sorted(f"{now:.1f}".zfill(5)) == sorted(f"{was:.1f}".zfill(5))


def test_calipers_widths_turn_about_girth_over_pi():
    """On a stem of exact readings, pairs at right angles average to the tape's diameter."""
    of = PracticalClass(
        sound_hands_percent=0, lay_percent=0, jaws_percent=0, repeat_cm=0, jaws_repeat_cm=0,
        turned_deg=0, ripple_percent=0, step_cm=1e-6,
    )  # fmt: skip
    readings = drawn_practical(2, of=of).readings
    jaws = ~readings.girth
    for stem in range(len(readings.stems)):
        mine = readings.stem == stem
        diameter = np.unique(np.round(readings.reading_cm[mine & ~jaws] / np.pi, 4))
        assert diameter.size == 1
        widths = readings.reading_cm[mine & jaws]
        # the oval of 2 to 18 %: pairs differ by its square at most
        assert np.mean(widths) == pytest.approx(diameter[0], rel=0.003)
        assert np.ptp(widths) / diameter[0] < 0.19


def test_the_class_is_unbalanced_and_connected():
    """Hands miss stems, instruments are read unevenly, and every hand has had most instruments."""
    readings = drawn_practical(1).readings
    visits = np.unique(readings.stem * 7 + readings.hand).size
    assert 0.6 * 140 < visits < 0.95 * 140
    counts = np.bincount(readings.instrument)
    assert counts.min() < 0.85 * counts.max()
    pairs = np.unique(readings.hand * 6 + readings.instrument).size
    assert pairs >= 36


def test_faulty_practicals_vary():
    """Over seeds, hands off by a share and by a constant, either way, and three slips."""
    drawn = [faulty_practical(seed) for seed in range(12)]
    hands = [one.planted[0] for one in drawn]
    assert {bool(hand.off_cm) for hand in hands} == {True, False}
    assert len({hand.who for hand in hands}) > 3
    assert {np.sign(hand.off_cm + hand.share_percent) for hand in hands} == {-1.0, 1.0}
    assert all(len(one.slips) == 3 for one in drawn)
