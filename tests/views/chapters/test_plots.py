"""The plots panel's picture: stand and circles to scale, every throw's interval where it is."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.plots import SIDE_M, PlotsShown, numbers
from mensura.views.chapters.plots import PLOTS_PANEL as PANEL
from mensura.views.chapters.plots import PlotsPicture, readout, status
from mensura.views.kit.live import Live


def shown(**changes: Any) -> PlotsShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = PlotsPicture()
    Live(made)
    return made


CHANGES: list[dict[str, Any]] = [
    {}, {"plots": 2}, {"lie": "in clumps", "figure": "stems"}, {"area_m2": 500.0, "plots": 20},
    {"throw": 30, "factor": 6.0},
]  # fmt: skip


@pytest.mark.parametrize("changes", CHANGES)
def test_the_stand_is_to_scale(picture: Any, changes: dict[str, Any]) -> None:
    """Every tree once; circles round their places, those beyond an edge on the other side."""
    n = shown(**changes)
    picture.show(n)
    left, low, side = picture.MAP_PX

    def metres(line: Any) -> Any:
        x, y = (np.asarray(one, float) for one in line.get_data())
        return np.column_stack([x - left, y - low]) / side * SIDE_M

    trees = np.vstack([metres(picture.thin), metres(picture.thick)])
    assert np.sort(trees[:, 0]) == pytest.approx(np.sort(n.trees_m[:, 0]))
    assert len(metres(picture.on_plots)) == n.ways["plots"].counted.sum()
    assert len(metres(picture.by_gauge)) == n.ways["gauge"].counted.sum()
    rings = metres(picture.circles)
    rings = rings[np.isfinite(rings[:, 0])]
    assert len(rings) == 49 * n.plots
    assert np.all((rings >= 0) & (rings <= SIDE_M))
    off = np.abs(rings[:, None, :] - n.places_m[None])
    apart = np.hypot(*np.moveaxis(np.minimum(off, SIDE_M - off), -1, 0))
    own = apart[np.arange(len(rings)), np.repeat(np.arange(n.plots), 49)]
    assert own == pytest.approx(n.radius_m)
    # no line runs across the stand
    steps = np.hypot(*np.diff(metres(picture.circles), axis=0).T)
    assert np.nanmax(steps) < 0.2 * n.radius_m


@pytest.mark.parametrize("changes", CHANGES)
def test_intervals_are_to_scale(picture: Any, changes: dict[str, Any]) -> None:
    """By the chart's own numbers; those that miss the truth are drawn otherwise, and counted."""
    n = shown(**changes)
    picture.show(n)
    scale = float(picture.values.lines[2])
    for way, foot in zip(n.ways, picture.FEET_PX, strict=True):
        one, made = n.ways[way], picture.found[way]
        for name, which in (("holding", one.holds), ("missing", ~one.holds)):
            up = np.asarray(made[name].get_ydata(), float).reshape(-1, 3)[:, :2]
            off = (up - foot) / picture.HIGH_PX * 2 * scale - scale
            ends = (
                np.column_stack([one.lows_per_ha, one.highs_per_ha])[which] / n.true_per_ha * 100
                - 100
            )
            assert off == pytest.approx(np.clip(ends, -scale, scale), abs=1e-6)
        assert made["word"].get_text().startswith(f"{one.holds.sum()} of 30")


def test_it_says_what_a_throw_cannot_know() -> None:
    """Truth and interval in the sentence; few plots are named for what they are."""
    said = status(shown())
    assert "True basal area" in said
    assert said.count("95 % from") == 2
    assert "rests on 1 difference between" in readout(shown(plots=2))
    assert "rests on 3 differences between" in readout(shown(plots=4))
    assert "rests on" not in readout(shown(plots=5))
