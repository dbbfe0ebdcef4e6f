"""The numbers of the panel on choosing: the estimates' own, at the start and at every end."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mensura.estimates import Morning, best_plan, flips
from mensura.estimates.which_instrument import CALIPERS, TAPE
from mensura.teaching.controls import State, starting
from mensura.teaching.panels.which_instrument import (
    ALONG,
    CHOICES,
    CONTROLS,
    ENDS,
    OVAL_OAKS,
    PRACTICES,
    numbers,
)

START = starting(CONTROLS, CHOICES)
STATES: list[State] = [
    START | {one.name: end} for one in (*CONTROLS, *CHOICES) for end in (one.ends[0], one.ends[-1])
]


@pytest.mark.parametrize("along", ALONG)
@pytest.mark.parametrize("state", STATES)
def test_plans_flips_and_curves_agree(state: State, along: str) -> None:
    """The plans are the best of each kit, and the curves pass through them; between the flips along
    what is charted the curves lie as they say, at every place."""
    shown = numbers(**state | {"along": along})
    assert shown.along == ALONG[along]
    ways = PRACTICES[state["practice"]]
    for kit, plan, curve in zip(
        shown.kits, shown.plans.values(), shown.curves_percent, strict=True
    ):
        best = best_plan(shown.morning, (kit,), ways)
        assert (plan is None) == (best is None)
        if plan and best:
            assert plan.error_percent == best.error_percent
            here = np.interp(state[shown.along], shown.places, curve)
            if np.isfinite(here):
                assert here == pytest.approx(float(plan.error_percent), rel=0.02, abs=0.01)
    tape, jaws = (np.nan_to_num(curve, nan=np.inf) for curve in shown.curves_percent)
    marks = np.array([one.at for one in shown.flips[shown.along]])
    for at, place in enumerate(shown.places):
        if marks.size and np.abs(marks - place).min() < 1e-9:
            continue
        leads = {-1: "tape", 1: "calipers", 0: "neither"}
        with np.errstate(invalid="ignore"):
            lead = 0 if np.isinf([tape[at], jaws[at]]).all() else np.sign(tape[at] - jaws[at])
        before = int((marks < place).sum())
        own = shown.flips[shown.along]
        said = shown.better if not own else own[before - 1].after if before else own[0].before
        assert leads[int(lead)] == said


def test_curves_are_worked_out_beside_every_step() -> None:
    """Two places a hair apart at each sudden flip, so that a jump stands upright at its line."""
    for along in ("stems' diameter", "undergrowth"):
        shown = numbers(**START | {"along": along})
        jumps = [one.at for one in shown.flips[shown.along] if one.sudden]
        assert jumps
        for at in jumps:
            beside = shown.places[np.abs(shown.places - at) < 1e-4]
            assert beside[0] < at < beside[-1]


def test_presets_are_whole_states() -> None:
    """Each sets everything, so that it shows the same whatever was moved before."""
    names = [one.name for one in (*CONTROLS, *CHOICES)]
    assert list(OVAL_OAKS) == names


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
    """Places of the curves are read only, and two states do not touch each other."""
    first = numbers(**START)
    numbers(**START | {"practice": "right angles, mean"})
    again = numbers(**START)
    assert np.array_equal(first.curves_percent[1], again.curves_percent[1])
    assert replace(first.morning) == again.morning
    with pytest.raises(ValueError, match="read-only"):
        again.places[0] = 1.0


def test_it_starts_where_the_estimates_do() -> None:
    """Plot, tape and calipers are those that hold where nobody says other."""
    shown = numbers(**START)
    assert shown.morning == Morning()
    assert shown.kits == (TAPE, CALIPERS)
