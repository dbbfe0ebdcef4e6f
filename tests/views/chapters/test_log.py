"""The log panel's picture: side, area, bars and curves are to scale; what is sold is cautioned."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.log import RULES, LogShown, numbers
from mensura.views.chapters.log import LOG_PANEL as PANEL
from mensura.views.chapters.log import LogPicture, readout, status
from mensura.views.kit.live import Live


def shown(**changes: Any) -> LogShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = LogPicture()
    Live(made)
    return made


CHANGES: list[dict[str, Any]] = [
    {}, {"length_m": 2.0}, {"power": 3.0, "length_m": 12.0, "tip_m": 12.0}, {"within": "Huber"},
    {"flare_percent": 40.0, "butt_cm": 100.0}, {"mid_percent": 70.0},
]  # fmt: skip


def number(text: str) -> float:
    return float(text.replace("−", "-"))


@pytest.mark.parametrize("changes", CHANGES)
def test_areas_under_the_lines_are_the_volumes(picture: Any, changes: dict[str, Any]) -> None:
    """Each rule's line holds its own volume, by the numbers at both sides of the chart."""
    n = shown(**changes)
    picture.show(n)
    left, wide, _ = picture.LOG_PX
    low, high = picture.CHART_PX
    top_m2 = float(picture.values.lines[2])
    volumes = {**n.volumes_m3, "true": n.true_m3}
    for rule, line in picture.lines.items():
        z = (np.asarray(line.get_xdata(), float) - left) / wide * n.length_m
        area = (np.asarray(line.get_ydata(), float) - low) / high * top_m2
        assert np.trapezoid(area, z) == pytest.approx(volumes[rule], rel=2e-3), rule


@pytest.mark.parametrize("changes", CHANGES)
def test_the_side_is_as_thick_as_it_was_read(picture: Any, changes: dict[str, Any]) -> None:
    """Every reading's band crosses the log from bark to bark, where it was read."""
    n = shown(**changes)
    picture.show(n)
    left, wide, _ = picture.LOG_PX
    for band, place, across in zip(picture.bands.get_segments(), n.read_m, n.read_cm, strict=True):
        assert band[0][0] == pytest.approx(left + place / n.length_m * wide)
        assert band[1][1] - band[0][1] == pytest.approx(across / 100 * picture.PX_PER_M)
    outline = picture.wood.get_xy()
    assert np.ptp(outline[:, 1]) == pytest.approx(
        2 * np.sqrt(n.areas_m2.max() / np.pi) * picture.PX_PER_M
    )


@pytest.mark.parametrize("changes", CHANGES)
def test_bars_and_curves_are_to_scale(picture: Any, changes: dict[str, Any]) -> None:
    """By the scales' own numbers; the dotted line stands at the log's form."""
    n = shown(**changes)
    picture.show(n)
    zero, reach, _, _ = picture.BARS_PX
    lines = picture.values.lines
    bars, curves = number(lines[-4]), number(lines[-1])
    assert [number(one) for one in lines[-10:-6]] == pytest.approx(
        list(n.over_percent.values()), abs=0.005001
    )
    for rule, bar in zip(RULES, picture.bars.get_segments(), strict=True):
        assert bar[0][0] == zero
        assert (bar[1][0] - zero) / reach * bars == pytest.approx(n.over_percent[rule])
        low, high = picture.CHART_PX
        up = np.asarray(picture.curves[rule].get_ydata(), float)
        assert (up - low - high / 2) / (high / 2) * curves == pytest.approx(n.forms_percent[rule])
    left, wide = picture.FORMS_PX
    assert picture.here.get_xdata()[0] == pytest.approx(left + n.power / 3 * wide)


def test_the_caution_stands_beside_the_volume() -> None:
    """And the sentence says the form and every rule."""
    assert "licensed scalers come first" in readout(shown())
    for rule in ("Huber", "Smalian", "Newton", "4 sections, Smalian in each"):
        assert rule in status(shown())
    assert "(neiloid)" in status(shown(power=3.0))
