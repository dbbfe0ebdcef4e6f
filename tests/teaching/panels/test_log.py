"""The log panel's numbers: its closed volume by other ways, and the rules where they are exact."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from mensura.estimates.solids import SOLIDS, frustum_m3, rule_over_percent
from mensura.teaching.controls import State
from mensura.teaching.panels.log import (
    CHOICES,
    CONTROLS,
    FLARE_FADES_M,
    POWERS,
    RULES,
    numbers,
    whole_state,
)

STATES: list[State] = [
    whole_state(**{one.name: end}) for one in (*CONTROLS, *CHOICES) for end in one.ends
]
PLAIN = {"flare_percent": 0.0, "lowest_m": 0.0}


@pytest.mark.parametrize("state", STATES)
def test_the_true_volume_is_the_area_integrated(state: State) -> None:
    """Numerically, of the area written out anew, flare and all."""

    def area_m2(z: float) -> float:
        butt = np.pi / 4 * (state["butt_cm"] / 100) ** 2
        flare = butt * ((1 + state["flare_percent"] / 100) ** 2 - 1)
        solid = butt * (1 - z / state["tip_m"]) ** state["power"]
        return float(solid + flare * np.exp(-z / FLARE_FADES_M))

    shown = numbers(**state)
    assert shown.true_m3 == pytest.approx(quad(area_m2, 0, state["length_m"])[0], rel=1e-9)
    assert shown.areas_m2 == pytest.approx([area_m2(z) for z in shown.places_m])


@pytest.mark.parametrize("name", list(SOLIDS))
def test_without_a_flare_it_is_the_known_solid(name: str) -> None:
    """Volume and each rule's error as the solids' own closed forms have them."""
    shown = numbers(**whole_state(power=SOLIDS[name], **PLAIN))
    butt, _, top = shown.read_cm
    assert shown.form == name
    assert shown.true_m3 == pytest.approx(frustum_m3(name, butt, top, shown.length_m))
    for rule in ("Huber", "Smalian", "Newton"):
        known = rule_over_percent(rule.lower(), name, butt, top)
        assert shown.over_percent[rule] == pytest.approx(known, abs=1e-9)


def test_whole_solids_err_as_the_textbooks_say() -> None:
    """Huber −25 and −50 %, Smalian +50 and +100 % (theorems); Newton not at all."""
    for power, huber, smalian in ((2.0, -25.0, 50.0), (3.0, -50.0, 100.0)):
        state = whole_state(power=power, tip_m=12.0, length_m=12.0, **PLAIN)
        off = numbers(**state).over_percent
        found = [off[rule] for rule in ("Huber", "Smalian", "Newton")]
        assert found == pytest.approx([huber, smalian, 0.0], abs=1e-9)


@pytest.mark.parametrize("state", STATES)
def test_the_curves_go_through_the_bars(state: State) -> None:
    """At the log's own form the chart over all forms says what the bars say."""
    shown = numbers(**state)
    at = int(np.argmin(np.abs(POWERS - shown.power)))
    for rule in RULES:
        assert shown.forms_percent[rule][at] == pytest.approx(shown.over_percent[rule], abs=1e-9)
        assert np.all(np.isfinite(shown.forms_percent[rule]))


def test_sections_come_to_the_truth() -> None:
    """One section is the rule itself; twelve are nearer, with either rule in them."""
    for way in ("Smalian", "Huber"):
        one = numbers(**whole_state(sections=1, within=way, lowest_m=0.0)).over_percent
        many = numbers(**whole_state(sections=12, within=way, lowest_m=0.0)).over_percent
        assert one["by sections"] == pytest.approx(one[way])
        assert abs(many["by sections"]) < abs(one["by sections"]) / 8


def test_the_line_in_the_chart_holds_the_sections_volume() -> None:
    """The area under what is drawn is what the bar says."""
    for way in ("Smalian", "Huber"):
        shown = numbers(**whole_state(within=way, sections=5, lowest_m=0.4))
        under = np.trapezoid(shown.sections_m2, shown.sections_m)
        assert under == pytest.approx(shown.volumes_m3["by sections"])


def test_the_quarter_girth_is_its_share_of_huber() -> None:
    """π/4, whatever the log."""
    for state in STATES:
        shown = numbers(**state)
        assert shown.quarter_girth_m3 == pytest.approx(np.pi / 4 * shown.volumes_m3["Huber"])
