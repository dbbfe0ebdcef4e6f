"""The panel on tape against calipers: dots, limits and bars to scale, and words that say so."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.differences import DifferencesShown, numbers
from mensura.views.chapters.differences import DIFFERENCES_PANEL as PANEL
from mensura.views.chapters.differences import DifferencesPicture, readout, status
from mensura.views.chapters.differences.words import PARTS
from mensura.views.kit.live import Live
from mensura.written import signed


def shown(**changes: Any) -> DifferencesShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = DifferencesPicture()
    Live(made)
    return made


def in_cm(picture: Any, y: Any) -> Any:
    """Heights on the left chart in cm, by the numbers at its side."""
    _, low, _, high = picture.MEANS_PX
    half = float(picture.values.lines[7])
    return (np.asarray(y, float) - low - high / 2) / (high / 2) * half


@pytest.mark.parametrize("preset", PANEL.presets)
def test_dots_and_limits_are_to_scale(picture: Any, preset: str) -> None:
    """Every difference, the mean, both limits, and the three intervals."""
    n = shown(**PANEL.presets[preset])
    picture.show(n)
    one = n.agreement
    assert in_cm(picture, picture.points.get_ydata()) == pytest.approx(n.difference_cm)
    assert in_cm(picture, picture.mean.get_ydata()) == pytest.approx([one.mean_cm] * 2)
    ends = in_cm(picture, picture.limits.get_ydata())[[0, 4]]
    assert ends == pytest.approx([one.lower_cm, one.upper_cm])
    spans = [in_cm(picture, segment[:, 1]) for segment in picture.reach.get_segments()]
    assert spans[0] == pytest.approx(one.lower_interval_cm)
    assert spans[1] == pytest.approx(one.mean_interval_cm)
    assert spans[2] == pytest.approx(one.upper_interval_cm)
    said = picture.values.lines[:3]
    assert said == [signed(x, 2) for x in (one.lower_cm, one.mean_cm, one.upper_cm)]


def test_bars_are_the_parts_of_the_spread(picture: Any) -> None:
    """To scale, with their numbers."""
    n = shown()
    picture.show(n)
    parts = [getattr(n.agreement, key) for key in PARTS]
    long = [segment[1][0] - segment[0][0] for segment in picture.bars.get_segments()]
    assert np.array(long) / long[-1] == pytest.approx(np.array(parts) / parts[-1])
    assert picture.values.lines[-4:] == [f"{one:.2f}" for one in parts]


def test_the_curve_is_the_oval_s_alone(picture: Any) -> None:
    """From the longest way below nought to the shortest above, flat where the oval is out."""
    _, low, _, high = picture.TURN_PX
    for changes, flat in (({}, False), ({"jaws": "means of pairs"}, True)):
        n = shown(**changes)
        picture.show(n)
        y = np.asarray(picture.oval.get_ydata()) - low - high / 2
        assert (np.ptp(y) == 0) == flat
        if not flat:
            assert y[0] == y.min() == pytest.approx(-y.max())
            assert y.argmax() == 30


def test_words_say_what_of_the_oval_is_in_them() -> None:
    """Left in, taken out, unknown since all hold alike, and a pair's mean."""
    assert "the oval's part is left in" in status(shown())
    out = shown(oval="taken out")
    assert "the oval's part is taken out" in status(out)
    assert f"of {np.count_nonzero(out.known)} of 100 differences" in readout(out)
    path = shown(oval="taken out", directions="all from the path")
    assert "the oval's part is not known and stays in" in status(path)
    assert "all hold the calipers alike" in readout(path)
    two = shown(oval="taken out", hand_count=2)
    assert "too few other hands" in readout(two)
    assert "nearly free of the oval" in status(shown(jaws="means of pairs"))


def test_growing_differences_are_told() -> None:
    """Of a stretched tape in per cent of the size; of sound ones nothing."""
    assert "They change with the stems' size, by −2." in readout(
        shown(**PANEL.presets["A stretched tape"])
    )
    assert "They change" not in readout(shown(jaws="means of pairs"))
