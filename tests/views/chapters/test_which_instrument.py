"""The panel on choosing: the line stands at the flip, bars and words say what the plans say."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.which_instrument import ALONG, ENDS, WhichShown, numbers
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


def lines_at(picture: Any) -> list[float]:
    """Where the flips' lines stand, in pixels across."""
    across: list[float] = np.asarray(picture.line.get_xdata(), float).reshape(-1, 4)[:, 0].tolist()
    return across


@pytest.mark.parametrize("along", ALONG)
def test_a_line_stands_at_every_flip(picture: Any, along: str) -> None:
    """Its pixels are the flip's place on the chart's own axis; without a flip there is none."""
    for changes in ({}, {"tape_hand_cm": 1.2}, {"practice": "any directions, mean"}):
        n = shown(along=along, **changes)
        picture.show(n)
        least, most = ENDS[ALONG[along]]
        left, _, width, _ = picture.CHART_PX
        own = [left + (one.at - least) / (most - least) * width for one in n.flips[n.along]]
        assert lines_at(picture) == pytest.approx(own)
    n = shown(practice="right angles, mean")
    picture.show(n)
    assert lines_at(picture) == []
    assert picture.flip_said.get_text() == "no flip: the tape is better"


def test_every_flip_has_its_number(picture: Any) -> None:
    """One is told in words; of several each has a number over its line, from left to right."""
    n = shown(along="stems' diameter")
    picture.show(n)
    numbers = [f"{one.at:.1f}" for one in n.flips["diameter_cm"]]
    assert len(numbers) == 4
    assert picture.flip_said.get_text() == ""
    assert [one for one in picture.numbers.lines if one in numbers][:4] == numbers
    picture.show(shown(along="undergrowth"))
    assert picture.flip_said.get_text() == "flips at 0.39, then tape"


@pytest.mark.parametrize("along", ALONG)
def test_the_band_says_who_is_better(picture: Any, along: str) -> None:
    """From end to end of the chart, each piece as long as that instrument is better there."""
    n = shown(along=along)
    picture.show(n)
    found = n.flips[n.along]
    left, _, width, _ = picture.CHART_PX
    stops = [left, *lines_at(picture), left + width]
    names = [found[0].before, *(one.after for one in found)]
    for name, strip in picture.best.items():
        pieces = np.asarray(strip.get_xdata(), float).reshape(-1, 3)[:, :2]
        own = [pair for pair, who in zip(pairwise(stops), names, strict=True) if who == name]
        assert pieces.tolist() == [pytest.approx(list(pair)) for pair in own]


def test_curves_cross_at_the_line(picture: Any) -> None:
    """As drawn: the tape's lies below the calipers' to the left of it, above to the right."""
    n = shown()
    picture.show(n)
    (at,) = lines_at(picture)
    left, _, width, _ = picture.CHART_PX
    x, tape = picture.curves["tape"].get_data()
    jaws = picture.curves["calipers"].get_ydata()
    assert np.all((np.asarray(tape) < jaws) == (np.asarray(x) < (at - left) / width))
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
    assert "tape to 9.70 %, then calipers." in status(shown())
    assert status(shown(out_of_round_percent=2.0)).startswith("Take the tape, 3 girths a stem: ")
    wide = status(shown(diameter_cm=90))
    assert "the calipers cannot be used: they open to 80 cm only" in wide
    assert status(shown(stem_count=60, time_min=20)) == (
        "Neither can be used: there are 0.33 minutes for a stem, and getting to it takes 1.10 "
        "(tape: there is no time for one reading; calipers: there is no time for one reading)."
    )
    assert "From end to end: neither can be used from 0 to 30 %." in WhichPicture.describe(
        WhichPicture(), shown(stem_count=60, time_min=20)
    )
    slow = status(shown(practice="right angles, mean", undergrowth=0.7))
    assert "there is no time for one pair" in slow
    assert "Stems' diameter: tape to 17.3 cm, calip" in status(shown(along="stems' diameter"))


def test_the_table_has_every_flip_and_says_what_is_assumed() -> None:
    """Three lists of flips, steps named as such, and the minutes called an assumption."""
    text = readout(shown())
    for part in (
        "Out-of-roundness: tape to 9.70 %, then calipers",
        "Stems' diameter: ",
        "Undergrowth: calipers to 0.39 (a step), then tape",
        "Minutes: our assumption",
        "Hollows and ripples are not in it",
    ):
        assert part in text
    mean = readout(shown(practice="right angles, mean"))
    assert "Out-of-roundness: the tape is better all along, from 0 to 30 %." in mean


def test_a_round_stem_and_a_sure_hand_draw_nothing_odd(picture: Any) -> None:
    """At every least the picture has finite bars and a scale above nought."""
    n = shown(out_of_round_percent=0.0, tape_common_cm=0.0, calipers_common_cm=0.0)
    picture.show(n)
    assert all(line != "nan" for line in picture.numbers.lines)
