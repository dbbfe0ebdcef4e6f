"""The panel on hands and tapes: dots lie where their numbers are; two answers stay apart."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.hands_and_instruments import HandsShown, numbers
from mensura.views.chapters.hands_and_instruments import HANDS_AND_INSTRUMENTS_PANEL as PANEL
from mensura.views.chapters.hands_and_instruments import HandsPicture, readout, status
from mensura.views.kit.live import Live


def shown(**changes: Any) -> HandsShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = HandsPicture()
    Live(made)
    return made


def scale_of(picture: Any) -> float:
    """Half the rows' scale, as its last number says."""
    return float(picture.values.lines[4])


def test_every_reading_is_a_dot_in_two_rows(picture: Any) -> None:
    """By its tape's mark: once in its hand's row, once in its tape's, each where it belongs."""
    n = shown()
    picture.show(n)
    left, _, wide, _ = picture.ROWS_PX
    half = scale_of(picture)
    for tape, dots in enumerate(picture.dots):
        x, y = (np.asarray(one) for one in dots.get_data())
        at = n.tape_of == tape
        assert x.size == 2 * np.count_nonzero(at)
        off = (x - left - wide / 2) / (wide / 2) * half
        expected = np.concatenate([n.hand_off_percent[at], n.tape_off_percent[at]])
        assert off == pytest.approx(expected)
        rows = [np.argmin(np.abs(np.array(picture.rows_px) - up)) for up in y]
        hands = np.broadcast_to(np.arange(6), at.shape)[at]
        assert rows == [*hands.tolist(), *[6 + tape] * hands.size]


def test_medians_stand_at_the_quick_look(picture: Any) -> None:
    """A bar a row."""
    n = shown(tape_percent=3.0)
    picture.show(n)
    left, _, wide, _ = picture.ROWS_PX
    looks = [*n.hand_look_percent, *n.tape_look_percent]
    for segment, one in zip(picture.medians.get_segments(), looks, strict=True):
        x = (segment[0][0] - left - wide / 2) / (wide / 2) * scale_of(picture)
        assert x == pytest.approx(one)


def test_verdicts_stand_only_where_the_model_was_asked(picture: Any) -> None:
    """Bold for whom it accuses; nothing, and the heading says so, while it is not asked."""
    picture.show(shown())
    assert [one.get_text() for one in picture.said] == [""] * 9
    assert picture.model.get_text() == "the model: not asked"
    assert status(shown()).startswith("The model is not asked; farthest off by the quick look is")
    assert readout(shown()).count("not asked") == 9
    n = shown(asked=True)
    picture.show(n)
    assert [one.get_text() for one in picture.said][:3] == ["sound", "sound", "reads high, +1.9 %"]
    assert [one.get_fontweight() for one in picture.said][1:4] == ["normal", "bold", "normal"]
    assert "The model: Q03 reads high, +1.9 % (a share);" in status(n)
    assert "reads high by 1.9 %" in readout(n)


def test_what_cannot_be_told_is_said() -> None:
    """A tape that only two hands had: neither they nor it."""
    n = shown(**PANEL.presets["Each keeps a tape"])
    assert status(n).startswith("The model: nobody is off; it cannot tell of Q02, Q05, T1, T2 and ")
    assert "no hand with another tape had T2: hand and instrument cannot be told" in readout(n)
    few = shown(stem_count=4, repeats=1, asked=True, dealt="each hand keeps one")
    assert "cannot tell" in status(few)


def test_share_climbs_and_constant_is_level(picture: Any) -> None:
    """Both lines in centimetres over the girth, and the dots of whom is looked at."""
    n = shown(looked_at="T2", tape_percent=-3.0)
    picture.show(n)
    _, low, _, high = picture.GIRTH_PX
    half = float(picture.values.lines[9])
    y = np.asarray(picture.share.get_ydata(), float)
    cm = (y - low - high / 2) / (high / 2) * half
    assert cm == pytest.approx(n.share_percent / 100 * np.array(picture.GIRTHS_CM))
    assert len(set(picture.constant.get_ydata())) == 1
    assert len(picture.points.get_xdata()) == n.off_cm.size == 24
    assert picture.heading.get_text().startswith("T2 less the others")
