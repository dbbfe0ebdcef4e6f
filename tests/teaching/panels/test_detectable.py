"""The panel on what could be detected: the formula's own numbers, and marks where they belong."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.estimates import detectable_hand_percent, detectable_tape_percent
from mensura.estimates.detectable_formula import SIMULATED
from mensura.teaching.controls import State
from mensura.teaching.panels.detectable import (
    ALONG,
    CHOICES,
    CONTROLS,
    checked_percent,
    numbers,
    whole_state,
)

STATES: list[State] = [
    whole_state(**{one.name: end}) for one in (*CONTROLS, *CHOICES) for end in one.ends
]


@pytest.mark.parametrize("along", ALONG)
@pytest.mark.parametrize("state", STATES)
def test_curves_go_through_what_is_told(state: State, along: str) -> None:
    """At its own place the curve has the size that the sentence says; every size is finite."""
    shown = numbers(**state | {"along": along})
    at = shown.places.tolist().index(shown.here)
    hand, tape = shown.curves_percent
    assert hand[at] == pytest.approx(shown.hand.size_percent)
    assert tape[at] == pytest.approx(shown.tape.size_percent)
    assert np.all(np.isfinite([hand, tape]))
    assert shown.reading_count == state["hands"] * state["stems"] * state["repeats"]


def test_marks_stand_only_where_the_plan_is_theirs() -> None:
    """Simulated plans that differ by nothing but what the chart goes along."""
    shown = numbers(**whole_state())
    assert [one.stems for one in shown.simulated] == [12, 5, 24, 40]
    hands = numbers(**whole_state(along="hands"))
    assert sorted(one.hands for one in hands.simulated) == [4, 6, 10]
    repeats = numbers(**whole_state(along="readings of a stem"))
    assert sorted(one.repeats for one in repeats.simulated) == [1, 2, 4]
    for other in ({"matters_percent": 2.0}, {"repeat_cm": 0.4}, {"sound_hands_percent": 0.0}):
        assert numbers(**whole_state(**other)).simulated == ()
    assert all(one.lay_percent == 0.8 for one in numbers(**whole_state(lay_percent=0.8)).simulated)


def test_the_check_is_the_formula_of_every_plan() -> None:
    """In the order of the simulated ones."""
    for one, both in zip(SIMULATED, checked_percent(), strict=True):
        plan = (one.hands, one.stems, one.tapes, one.repeats, one.lay_percent)
        own = (
            detectable_hand_percent(*plan).size_percent,
            detectable_tape_percent(*plan).size_percent,
        )
        assert both == pytest.approx(own)
