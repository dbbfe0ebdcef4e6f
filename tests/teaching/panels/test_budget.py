"""The budget panel's numbers: its few fixed draws against a million, and what its controls do."""

from __future__ import annotations

from math import hypot, pi
from typing import Any

import numpy as np
import pytest

from mensura.estimates.budget import girth_budget
from mensura.teaching.controls import starting
from mensura.teaching.panels.budget import CONTROLS, numbers

START = starting(CONTROLS)
NOTHING = {"hand_cm": 0.0, "tilt_deg": 0.0, "card_cm": 0.0, "warm_c": 0.0}


def full(state: dict[str, Any]) -> Any:
    """The same state by the full budget; a card's uncertainty goes in as that of a bark of none."""
    return girth_budget(
        state["girth_cm"],
        resolution_cm=state["step_cm"],
        hand_sd_cm=state["hand_cm"],
        readings=state["readings"],
        bark_u_cm=state["card_cm"] / (2 * pi),
        tilt_up_to_deg=state["tilt_deg"],
        temperature_range_c=(20 - state["warm_c"], 20 + state["warm_c"]),
        material="steel",
    )


@pytest.mark.parametrize(
    "change",
    [
        {},
        {"tilt_deg": 20.0},
        {"hand_cm": 2.0, "readings": 1, "step_cm": 0.1},
        {"step_cm": 2.0, **NOTHING},
        {"step_cm": 0.1, **NOTHING, "tilt_deg": 20.0},
        {"readings": 10},
        {"step_cm": 2.0, "readings": 4},
        {"step_cm": 0.5, "hand_cm": 0.15, "card_cm": 0.16, "tilt_deg": 8.0},
        {one.name: one.greatest for one in CONTROLS},
        {one.name: one.least for one in CONTROLS},
    ],
)
def test_the_fixed_draws_against_a_million(change: dict[str, Any]) -> None:
    """u within 1 %, the mean within 0.5 % of u, both ends within 3 % of it, as the page says."""
    state = START | change
    shown, whole = numbers(**state), full(state)
    assert shown.law.u == pytest.approx(whole["girth_cm"].gum.u, rel=1e-9)
    for name, one in shown.figures.items():
        drawn = whole[name].drawn
        assert one.u == pytest.approx(drawn.u, rel=0.01)
        assert one.value == pytest.approx(drawn.value, abs=5e-3 * drawn.u)
        assert one.interval == pytest.approx(drawn.interval, abs=0.03 * drawn.u)


def test_the_few_draws_never_gainsay_a_million() -> None:
    """Over made-up states: where they tell whether the two ways agree, a million tells the same;
    every answer comes up."""
    g = np.random.default_rng(5)
    seen = set()
    for tilt, hand, step, readings in zip(
        g.uniform(0, 12, 12), g.uniform(0.02, 1, 12), g.uniform(0.1, 1, 12), [1, 2, 8] * 4,
        strict=True,
    ):  # fmt: skip
        change = {"tilt_deg": tilt, "hand_cm": hand, "step_cm": step, "readings": readings}
        state = START | change
        few, many = numbers(**state).agree, full(state)["girth_cm"].agree
        seen.add(few)
        assert few is None or many is None or few == many
    assert seen == {True, False, None}


def test_squares_add_up() -> None:
    """The shares of the square are a hundred per cent together, whatever the controls say."""
    for change in ({}, {"tilt_deg": 20.0}, NOTHING):
        shown = numbers(**START | change)
        assert sum(shown.shares_percent.values()) == pytest.approx(100)


def test_averaging_and_levelling() -> None:
    """Sixteen readings quarter the hand's part, and the step's but for what all of them share; the
    others stay. A hand that never moves leaves the step's as it was."""
    first, last = (numbers(**START | {"readings": count}) for count in (1, 16))
    one, many = first.contributions_cm, last.contributions_cm
    assert many["hand"] == pytest.approx(one["hand"] / 4)
    assert one["resolution"] / 4 < many["resolution"] < one["resolution"] / 3
    assert many["resolution"] == hypot(last.step_stays_cm, last.step_averages_cm)
    assert (first.step_stays_cm, first.step_averages_cm) == (one["resolution"], 0)
    for name in ("tilt", "card", "temperature"):
        assert many[name] == pytest.approx(one[name])
    still = numbers(**START | {"readings": 16, "hand_cm": 0.0})
    assert still.contributions_cm["resolution"] == pytest.approx(one["resolution"])
    assert numbers(**START | {"tilt_deg": 0.0}).shift_cm == 0
    assert numbers(**START).shift_cm > 0.1
