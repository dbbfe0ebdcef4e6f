"""Every ignored rule of the place on one scale: its mark, its range, its words."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from mensura.checks import MeasureError
from mensura.estimates.place_costs import place_costs
from mensura.views.kit.live import Live
from mensura.views.stills.place_costs import PlaceCostsPicture, place_costs_on_one_scale


def test_costs_and_ranges_are_drawn(letters: Any) -> None:
    """Each mark stands at its cost and points its way, on a line from the least to the most that it
    may cost, where that is not all one; nothing overlaps, none lies outside the scale."""
    costs = place_costs()
    picture = PlaceCostsPicture(costs)
    live = Live(picture)
    live.paint(costs)
    chart = live.figure.axes[0]
    marks = [line for line in chart.lines if line.get_marker() in ("^", "v")]
    ranges = {
        line.get_ydata()[0]: line.get_xdata() for line in chart.lines if len(line.get_xdata()) == 2
    }
    assert len(marks) == len(costs)
    for row, (line, one) in enumerate(zip(marks, costs, strict=True)):
        assert line.get_xdata()[0] == pytest.approx(abs(one.area_percent))
        assert (line.get_marker() == "^") == (one.area_percent > 0)
        ends = sorted(map(abs, (one.area_least_percent, one.area_most_percent)))
        assert picture.LEAST < ends[0] <= ends[1] < picture.MOST
        assert (row in ranges) == (ends[1] - ends[0] > 0.02 * abs(one.area_percent))
        if row in ranges:
            assert sorted(ranges[row]) == pytest.approx(ends)
    assert 5 < len(ranges) < len(costs)
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    assert letters.too_small(live.figure) == []
    live.close()


def test_no_words_lie_on_a_range(letters: Any) -> None:
    """Names and values stand beside the ends of the line, never on it."""
    costs = place_costs()
    live = Live(PlaceCostsPicture(costs))
    live.paint(costs)
    chart = live.figure.axes[0]
    renderer = live.figure.canvas.get_renderer()
    for line in chart.lines:
        if len(line.get_xdata()) != 2:
            continue
        box = line.get_window_extent(renderer)
        for text in chart.texts:
            words = text.get_window_extent(renderer)
            apart = words.x1 < box.x0 or box.x1 < words.x0
            assert apart or words.y1 < box.y0 or box.y1 < words.y0, text.get_text()
    live.close()


def test_words_say_cost_and_range() -> None:
    """With real minus signs and three figures; no range where size and taper have no hold."""
    alt = place_costs_on_one_scale().alt
    for part in (
        "from downhill, slope 20° +0.73 (+0.36 to +1.83)",
        "band level, lean 10° +1.55;",
        "on a swelling of 8 % +16.6;",
        "10 cm above the mark −0.50 (−0.12 to −2.48)",
    ):
        assert part in alt


def test_another_usual_stem(letters: Any) -> None:
    """A thick stem of strong taper: the key and the words say so, and there is room for all."""
    costs = place_costs(70.0, 1.5, amounts={"downhill": 30.0})
    live = Live(PlaceCostsPicture(costs))
    live.paint(costs)
    assert any(
        "70 cm that tapers by 1.5 cm" in words for words, _ in letters.lettering(live.figure)
    )
    assert "70 cm that loses 1.5 cm" in live.picture.describe(costs)
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    live.close()


def test_a_name_without_room_is_refused() -> None:
    """By name, and not drawn over others."""
    long = replace(place_costs()[0], words="from where the stem was said to begin " * 3)
    with pytest.raises(MeasureError, match="a name that has room beside its mark"):
        Live(PlaceCostsPicture((long,)))
