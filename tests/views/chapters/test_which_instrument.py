"""The panel on choosing: the line stands at the flip, bars and words say what the plans say."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.which_instrument import WhichShown, numbers
from mensura.views.chapters.which_instrument import WHICH_INSTRUMENT_PANEL as PANEL
from mensura.views.chapters.which_instrument import WhichPicture, readout, status
from mensura.views.kit.live import Live


def shown(**changes: Any) -> WhichShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = WhichPicture()
    Live(made)
    return made


def test_the_line_stands_at_every_flip(picture: Any) -> None:
    """Its pixels are the flip's place on the chart's own axis; without a flip there is none."""
    for changes in ({}, {"tape_hand_cm": 1.2}, {"practice": "any directions, mean"}):
        n = shown(**changes)
        picture.show(n)
        found = n.flips["out_of_round_percent"]
        across = np.asarray(picture.line.get_xdata(), float).reshape(-1, 3)[:, 0]
        left, _, width, _ = picture.CHART_PX
        assert across.tolist() == pytest.approx([left + one.at / 30 * width for one in found])
    n = shown(practice="right angles, mean")
    picture.show(n)
    assert len(picture.line.get_xdata()) == 0
    assert picture.flip_said.get_text() == "no flip from 0 to 30 %: tape"


def test_curves_cross_at_the_line(picture: Any) -> None:
    """As drawn: the tape's lies below the calipers' to the left of it, above to the right."""
    n = shown()
    picture.show(n)
    (one,) = n.flips["out_of_round_percent"]
    x, tape = picture.curves["tape"].get_data()
    jaws = picture.curves["calipers"].get_ydata()
    assert np.all((np.asarray(tape) < jaws) == (np.asarray(x) < one.at))
    assert 0.4 < np.nanmax([tape, jaws]) <= 1.0


def test_bars_show_readings_and_minutes(picture: Any) -> None:
    """One piece a reading, the last of them ending at the minutes that the plan needs."""
    n = shown(time_min=120.0)
    picture.show(n)
    left, _, across, _ = picture.MINUTES_PX
    scale = next(one for one in picture.SCALES_MIN if one >= n.morning.a_stem_min)
    for name, plan in n.plans.items():
        assert plan is not None
        x = np.asarray(picture.read[name].get_xdata()).reshape(-1, 3)
        assert len(x) == plan.reading_count
        minutes = float(plan.needed_min) / n.morning.stem_count
        assert x[-1, 1] == pytest.approx(left + minutes / scale * across)
    assert picture.there_is.get_xdata()[0] == pytest.approx(
        left + n.morning.a_stem_min / scale * across
    )


def test_parts_of_the_errors_are_told(picture: Any) -> None:
    """What is over, what is either way, and the root of their squares, beside their bars."""
    n = shown()
    picture.show(n)
    said = picture.numbers.lines[-6:]
    for plan, three in zip(n.plans.values(), (said[:3], said[3:]), strict=True):
        assert plan is not None
        parts = plan.bias_percent, plan.spread_percent, plan.error_percent
        assert three == [f"{float(one):.2f}" for one in parts]
        assert float(three[2]) == pytest.approx(np.hypot(*map(float, three[:2])), abs=0.01)


def test_the_sentence_says_which_how_often_and_where() -> None:
    """For the calipers, for the tape, and where one or both cannot be used."""
    assert status(shown()).startswith("Take the calipers, 1 pair (product) a stem: error 0.45 %")
    assert "tape to 9.7 %, then calipers." in status(shown())
    assert status(shown(out_of_round_percent=2.0)).startswith("Take the tape, 3 girths a stem: ")
    wide = status(shown(diameter_cm=90))
    assert "the calipers cannot be used: opens to 80 cm only" in wide
    assert status(shown(stem_count=60, time_min=20)).startswith("Neither can be used: for each")
    slow = status(shown(practice="right angles, mean", undergrowth=0.7))
    assert "no time for one pair" in slow


def test_the_table_has_every_flip_and_says_what_is_assumed() -> None:
    """Three lists of flips, steps named as such, and the minutes called an assumption."""
    text = readout(shown())
    for part in (
        "Out-of-roundness: tape to 9.7 %, then calipers",
        "Stems' diameter: ",
        "Undergrowth: calipers to 0.39 (a step), then tape",
        "Minutes: our assumption",
        "Hollows and ripples are not in it",
    ):
        assert part in text
    assert "no flip from 0 to 30 %" in readout(shown(practice="right angles, mean"))


def test_a_round_stem_and_a_sure_hand_draw_nothing_odd(picture: Any) -> None:
    """At every least the picture has finite bars and a scale above nought."""
    n = shown(out_of_round_percent=0.0, tape_common_cm=0.0, calipers_common_cm=0.0)
    picture.show(n)
    assert all(line != "nan" for line in picture.numbers.lines)
