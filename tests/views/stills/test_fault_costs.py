"""All faults on one scale: each mark at its cost, each number of stems beside it."""

from __future__ import annotations

from typing import Any

import pytest

from mensura.checks import MeasureError
from mensura.estimates.fault_costs import FaultCost, fault_costs
from mensura.views.kit.live import Live
from mensura.views.stills.fault_costs import CostsPicture, faults_on_one_scale


def test_costs_are_drawn_and_printed(letters: Any) -> None:
    """Each mark stands at its cost inside the chart and points its way; nothing overlaps."""
    costs = fault_costs()
    picture = CostsPicture(costs)
    live = Live(picture)
    live.paint(costs)
    chart = live.figure.axes[0]
    marks = [line for line in chart.lines if line.get_marker() in ("^", "v")]
    assert len(marks) == len(costs)
    for line, one in zip(marks, costs, strict=True):
        assert line.get_xdata()[0] == pytest.approx(abs(one.area_percent))
        assert (line.get_marker() == "^") == (one.area_percent > 0)
        assert picture.LEAST < abs(one.area_percent) < picture.MOST
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    assert letters.too_small(live.figure) == []
    live.close()


def test_words_say_cost_and_stems() -> None:
    """A fault of both instruments is told apart by name; too many stems are not counted out."""
    alt = faults_on_one_scale().alt
    for part in (
        "start worn by 0.5 cm +0.72 (27)",
        "tape: read down to whole cm",
        "calipers: read down to whole cm",
        "−0.019 (over 999)",
        "invented",
    ):
        assert part in alt


def test_a_name_without_room_is_refused() -> None:
    """By name, and not drawn over others."""
    long = FaultCost("fold", "tape", "a fold " * 12, 1.0, 1.0, 7, "a sound tape")
    with pytest.raises(MeasureError, match="a name that has room beside its mark"):
        Live(CostsPicture((long,)))
