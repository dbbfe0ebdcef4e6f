"""The numbers of the panel on choosing: the estimates' own, at the start and at every end."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mensura.estimates import best_plan, flips
from mensura.teaching.controls import State, starting
from mensura.teaching.panels.which_instrument import (
    CHOICES,
    CONTROLS,
    CURVE_PERCENT,
    ENDS,
    PRACTICES,
    numbers,
)

START = starting(CONTROLS, CHOICES)
STATES: list[State] = [
    START | {one.name: end} for one in (*CONTROLS, *CHOICES) for end in (one.ends[0], one.ends[-1])
]


@pytest.mark.parametrize("state", STATES)
def test_plans_flips_and_curves_agree(state: State) -> None:
    """The plans are the best of each kit, and the curves pass through them; on either side of
    every flip along out-of-roundness the curves lie as it says."""
    shown = numbers(**state)
    ways = PRACTICES[state["practice"]]
    for kit, plan, curve in zip(
        shown.kits, shown.plans.values(), shown.curves_percent, strict=True
    ):
        best = best_plan(shown.morning, (kit,), ways)
        assert (plan is None) == (best is None)
        if plan and best:
            assert plan.error_percent == best.error_percent
            here = np.interp(state["out_of_round_percent"], CURVE_PERCENT, curve)
            if np.isfinite(here):
                assert here == pytest.approx(float(plan.error_percent), rel=0.02, abs=0.01)
    tape, jaws = shown.curves_percent
    for one in shown.flips["out_of_round_percent"]:
        below = int(np.searchsorted(CURVE_PERCENT, one.at)) - 1
        if one.sudden or not 0 < below < CURVE_PERCENT.size - 2:
            continue
        lower, upper = (tape - jaws)[[below, below + 1]]
        assert (lower < 0) == (one.before == "tape")
        assert lower * upper <= 0


def test_flips_go_to_the_ends_of_their_controls() -> None:
    """Along each of the three that are moved, the estimates' own flips."""
    shown = numbers(**START)
    tape, jaws = shown.kits
    for name, ends in ENDS.items():
        own = flips(shown.morning, name, *ends, tape=tape, calipers=jaws)
        assert shown.flips[name] == own
    assert set(ENDS) == {"out_of_round_percent", "diameter_cm", "undergrowth"}


def test_who_is_better() -> None:
    """The smaller error; the other if one cannot; neither if none can."""
    assert numbers(**START).better == "calipers"
    assert numbers(**START | {"out_of_round_percent": 3.0}).better == "tape"
    assert numbers(**START | {"tape_min": 2.0, "stem_count": 30}).better == "calipers"
    assert numbers(**START | {"stem_count": 60, "time_min": 20}).better == "neither"


def test_minutes_are_those_of_the_stem_it_was_tried_on() -> None:
    """As set, on a stem of 40 cm on clear ground."""
    shown = numbers(**START | {"tape_min": 1.3, "calipers_min": 0.4})
    minutes = [kit.minutes_a_reading_min(40, 0) for kit in shown.kits]
    assert minutes == pytest.approx([1.3, 0.4])


def test_no_state_changes_what_all_share() -> None:
    """The grid of the curves is read only, and two states do not touch each other."""
    with pytest.raises(ValueError, match="read-only"):
        CURVE_PERCENT[0] = 1.0
    first = numbers(**START)
    numbers(**START | {"practice": "right angles, mean"})
    again = numbers(**START)
    assert np.array_equal(first.curves_percent[1], again.curves_percent[1])
    assert replace(first.morning) == again.morning
