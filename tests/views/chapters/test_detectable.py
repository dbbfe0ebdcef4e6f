"""The panel on what could be detected: curves, marks and bars are to scale; it says what it is."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.estimates.detectable_formula import SIMULATED
from mensura.teaching.panels.detectable import ENDS, DetectableShown, numbers
from mensura.views.chapters.detectable import DETECTABLE_PANEL as PANEL
from mensura.views.chapters.detectable import DetectablePicture, readout, status
from mensura.views.kit.live import Live


def shown(**changes: Any) -> DetectableShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = DetectablePicture()
    Live(made)
    return made


def in_percent(picture: Any, y: Any) -> Any:
    """Heights on the chart in per cent, by the numbers at its side."""
    _, low, _, high = picture.CHART_PX
    return (np.asarray(y, float) - low) / high * float(picture.values.lines[4])


@pytest.mark.parametrize("along", ["stems", "hands", "readings of a stem"])
def test_curves_and_marks_are_to_scale(picture: Any, along: str) -> None:
    """Both curves, the plan itself, what matters, and every simulated plan that lies on them."""
    n = shown(along=along)
    picture.show(n)
    left, _, wide, _ = picture.CHART_PX
    least, most = ENDS[n.along]
    for name, curve in zip(("hand", "tape"), n.curves_percent, strict=True):
        assert in_percent(picture, picture.curves[name].get_ydata()) == pytest.approx(curve)
        here = in_percent(picture, picture.here[name].get_ydata())
        assert here == pytest.approx([getattr(n, name).size_percent])
        marks = picture.simulated[name]
        sizes = [getattr(one, f"{name}_percent") for one in n.simulated]
        assert len(sizes) > 2
        assert in_percent(picture, marks.get_ydata()) == pytest.approx(sizes)
        places = (np.asarray(marks.get_xdata()) - left) / wide * (most - least) + least
        assert places == pytest.approx([getattr(one, n.along) for one in n.simulated])
    assert in_percent(picture, picture.matters.get_ydata()) == pytest.approx([1, 1])


def test_bars_add_up_to_the_size(picture: Any) -> None:
    """What is asked for and what is needed more, end to end."""
    for changes in ({}, {"stems": 4}, {"lay_percent": 2.0}):
        n = shown(**changes)
        picture.show(n)
        bars = zip(picture.asked.get_segments(), picture.sure.get_segments(), strict=True)
        for (asked, sure), one in zip(bars, (n.hand, n.tape), strict=True):
            assert asked[1][0] == sure[0][0]
            whole, part = sure[1][0] - asked[0][0], asked[1][0] - asked[0][0]
            assert part / whole == pytest.approx(one.asked_percent / one.size_percent)


def test_it_says_that_it_is_an_approximation_and_what_decides() -> None:
    """In the sentence and under the table; by chance with few stems, else by what matters."""
    assert status(shown()).endswith("by the formula, an approximation.")
    assert "By a formula, an approximation" in readout(shown())
    assert "(decided by what matters)" in status(shown())
    assert "(decided by chance)" in status(shown(stems=4))


def test_every_simulated_plan_stands_in_the_table() -> None:
    """With the formula's size beside it."""
    n = shown()
    text = readout(n)
    for one, (hand, tape) in zip(SIMULATED, n.checked_percent, strict=True):
        row = next(
            line
            for line in text.split("<tr>")
            if f">{one.hands}, {one.tapes}, {one.stems}, {one.repeats}, {one.lay_percent:g} %<"
            in line
        )
        for size in (hand, one.hand_percent, tape, one.tape_percent):
            assert f"{size:.2f}" in row
