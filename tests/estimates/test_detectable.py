"""The size that is announced as found in nine of ten, planted in practicals of the same plan."""

from __future__ import annotations

import pytest

from mensura.estimates.detectable import (
    Detectable,
    detectable,
    draws_for,
    expected_class,
    found,
    planted_of,
)
from mensura.estimates.drawn_practical import Planted, PracticalClass, drawn_practical
from mensura.estimates.field_design import field_design

HANDS = tuple(f"Q{one:02d}" for one in range(1, 6))
PLAN = field_design(HANDS, 12, ("T1", "T2", "T3"), 1, "alder")


@pytest.fixture(scope="module")
def announced() -> tuple[Detectable, ...]:
    told: list[float] = []
    answers = detectable(PLAN, draws=60, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1
    return answers


def test_what_is_announced_is_found_in_nine_of_ten(announced: tuple[Detectable, ...]) -> None:
    """40 practicals of other seeds each. By chance alone one kind's share goes 6 % off either way
    (60 draws, 40 practicals), the mean of four 3 %: 2.5 times that is allowed. With all draws and
    200 practicals each, 16 sizes of two plans were found in 86 to 92.5 %.
    """
    of = expected_class(PLAN)
    shares = []
    for one in announced:
        assert one.size is not None
        seeds = range(40)
        hits = [
            found(PLAN, planted_of(PLAN, one.who, one.kind, one.form, one.size, seed), seed, of)
            for seed in seeds
        ]
        shares.append(sum(hits) / len(hits))
    assert 0.825 <= sum(shares) / len(shares) <= 0.975
    assert min(shares) > 0.72


def test_every_kind_of_bias_is_told(announced: tuple[Detectable, ...]) -> None:
    kinds = [(one.who, one.kind, one.form, one.unit) for one in announced]
    assert kinds == [
        ("hand", "girth", "share", "%"),
        ("hand", "girth", "constant", "cm"),
        ("instrument", "girth", "share", "%"),
        ("instrument", "girth", "constant", "cm"),
    ]
    for one in announced:
        assert one.size is not None
        assert one.interval is not None
        assert one.interval[0] < one.size < one.interval[1]
        assert one.draws == 60
    # what matters is 1 %, so nothing smaller is told nine times of ten
    assert announced[0].size > 1.0


def test_hands_that_spread_more_find_less(announced: tuple[Detectable, ...]) -> None:
    """Three times the spread: a larger bias is needed."""
    rough = PracticalClass(lay_percent=1.2, repeat_cm=0.8, sound_hands_percent=0.6)
    found_by_rough = detectable(PLAN, rough, draws=25)[0].size
    assert announced[0].size is not None
    assert found_by_rough is None or found_by_rough > 1.25 * announced[0].size


def test_what_no_practical_can_find_is_told_as_nothing() -> None:
    """Two hands: where they differ, nothing tells which of them is off."""
    two = field_design(("Q01", "Q02"), 6, ("T1", "T2"), 1, "alder")
    hand = detectable(two, draws=40)[0]
    assert (hand.who, hand.size, hand.interval) == ("hand", None, None)


def test_a_plan_is_walked_to_its_end() -> None:
    """A drawn practical of a plan has its very readings, and what is planted in them."""
    plan = field_design(HANDS, 4, ("T1", "K1"), 2, "alder", marked=False)
    exact = PracticalClass(lay_percent=0, jaws_percent=0, repeat_cm=0, jaws_repeat_cm=0,
                           sound_hands_percent=0, turned_deg=0, step_cm=1e-6)  # fmt: skip
    sound = drawn_practical(3, of=exact, design=plan).readings
    off = drawn_practical(3, (Planted("Q02", "girth", off_cm=2.0),), of=exact, design=plan).readings
    turns = [turn for hand in plan.hands for turn in plan.turns[hand]]
    assert [sound.stems[one] for one in sound.stem] == [turn.stem for turn in turns]
    assert [sound.instruments[one] for one in sound.instrument] == [t.instrument for t in turns]
    gap = off.reading_cm - sound.reading_cm
    planted = [2.0 if (t.hand, t.kind) == ("Q02", "girth") else 0.0 for t in turns]
    assert gap == pytest.approx(planted, abs=1e-5)


def test_unmarked_stems_spread_more_and_tell_no_direction() -> None:
    bare = field_design(HANDS, 4, ("K1", "K2"), 1, "alder", marked=False)
    assert expected_class(bare).jaws_percent > expected_class(PLAN).jaws_percent
    readings = drawn_practical(3, design=bare).readings
    assert all(direction != direction for direction in readings.direction_deg)
    # two widths at right angles of an oval stem are not the same
    widths = readings.reading_cm.reshape(-1, 2)
    assert abs(widths[:, 0] - widths[:, 1]).max() > 1


def test_larger_plans_are_simulated_less_often() -> None:
    large = field_design(tuple(f"Q{n}" for n in range(40)), 60, ("T1", "K1"), 2, "alder")
    assert 60 <= draws_for(large) < draws_for(PLAN) <= 400
