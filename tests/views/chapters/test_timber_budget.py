"""The timber budget's picture: bars, floor and plan are to scale; what is sold is cautioned."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from mensura.teaching.panels.timber_budget import COUNTS, TimberShown, numbers
from mensura.views.chapters.timber_budget import TIMBER_BUDGET_PANEL as PANEL
from mensura.views.chapters.timber_budget import TimberPicture, readout, status
from mensura.views.kit import look
from mensura.views.kit.live import Live

CHANGES: list[dict[str, Any]] = [
    {}, {"plots": 2, "differ_percent": 50}, {"form_percent": 15.0}, {"hours": 0},
    {"differ_percent": 5, "hours": 40, "hand_percent": 5.0},
]  # fmt: skip


def shown(**changes: Any) -> TimberShown:
    return numbers(**PANEL.state(changes))


@pytest.fixture(scope="module")
def picture() -> Any:
    """A picture, made once."""
    made = TimberPicture()
    Live(made)
    return made


@pytest.mark.parametrize("changes", CHANGES)
def test_bars_are_to_scale_and_in_their_group(picture: Any, changes: dict[str, Any]) -> None:
    """By the scale's own numbers; vermilion stays, blue gets smaller."""
    n = shown(**changes)
    picture.show(n)
    left, wide, _, _ = picture.BARS_PX
    rows = len(picture.rows_px)
    scale = float(picture.values.lines[2 * rows + 2])
    brings = {row: part for row, (part, _) in n.rows.items()} | {"together": n.budget.u_percent}
    for row, bar in zip(picture.rows_px, picture.bars.get_segments(), strict=True):
        assert (bar[1][0] - left) / wide * scale == pytest.approx(brings[row])
    from matplotlib.colors import to_hex

    inks = [to_hex(one).upper() for one in picture.bars.get_colors()]
    assert inks == [look.CALIPERS] * 5 + [look.TAPE] * 4 + [look.TRUTH]


@pytest.mark.parametrize("changes", CHANGES)
def test_curve_floor_and_mark_are_to_scale(picture: Any, changes: dict[str, Any]) -> None:
    """The mark lies on the curve, at the plots there are, and the curve above its floor."""
    n = shown(**changes)
    picture.show(n)
    left, low, wide, high = picture.CHART_PX
    scale = look.first_scale(1.1 * n.budget.u_percent, picture.SCALES_PERCENT)

    def percent(line: Any) -> Any:
        return (np.asarray(line.get_ydata(), float) - low) / high * scale

    assert percent(picture.floor) == pytest.approx([n.common_percent] * 2)
    assert percent(picture.here) == pytest.approx([n.budget.u_percent])
    plots = (np.asarray(picture.curve.get_xdata(), float) - left) / wide * picture.MOST_PLOTS
    known = np.interp(plots, COUNTS, n.curve_percent)
    assert percent(picture.curve) == pytest.approx(known)
    at = (picture.here.get_xdata()[0] - left) / wide * picture.MOST_PLOTS
    assert at == pytest.approx(n.budget.plots)


@pytest.mark.parametrize("changes", CHANGES)
def test_the_plan_is_told(picture: Any, changes: dict[str, Any]) -> None:
    """Each step in a row of its own, what does not fit counted, the hours spent as a line."""
    n = shown(**changes)
    picture.show(n)
    words = [word.get_text() for word in picture.steps]
    if n.steps:
        assert words[: len(n.steps)][:4] == [name for name, _, _ in n.steps][:4]
        assert words[4] == (f"and {len(n.steps) - 4} more, to" if len(n.steps) > 4 else "")
    else:
        assert words[0] == "nothing that gains fits into them"
    left, wide, _ = picture.LINE_PX
    spent = (picture.spent.get_xdata()[1] - left) / wide * picture.MOST_HOURS
    assert spent == pytest.approx(sum(hours for _, hours, _ in n.steps))
    there = (picture.there.get_xdata()[0] - left) / wide * picture.MOST_HOURS
    assert there == pytest.approx(n.hours)


def test_it_says_what_averages_out_and_cautions() -> None:
    """In the sentence, and below the tables."""
    assert "sampling, 66 % of u², and averages out" in status(shown())
    assert "form factor" in status(shown(form_percent=15.0))
    assert "and does not average out" in status(shown(form_percent=15.0))
    assert "licensed scalers come first" in readout(shown())
    assert "Hours and effects of the remedies are invented" in readout(shown())
