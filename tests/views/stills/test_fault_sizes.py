"""All faults of a typical size side by side: each mark at its size, each value beside it."""

from __future__ import annotations

import pytest

from mensura.instruments.typical import typical_sizes_cm
from mensura.views.kit.live import Live, draw_still
from mensura.views.stills.fault_sizes import SizesPicture


def test_sizes_are_drawn_and_printed(letters) -> None:
    """Each mark stands at its size inside the chart, with its value beside it; nothing overlaps."""
    sizes = typical_sizes_cm()
    picture = SizesPicture(sizes)
    live = Live(picture)
    live.paint(sizes)
    chart = live.figure.axes[0]
    marks = [line for line in chart.lines if line.get_marker() in ("^", "v")]
    assert [line.get_xdata()[0] for line in marks] == pytest.approx(
        [abs(v) for v in sizes.values()]
    )
    for line, adds in zip(marks, sizes.values(), strict=True):
        assert (line.get_marker() == "^") == (adds > 0)
        assert picture.LEAST_CM < abs(adds) < picture.MOST_CM
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    assert letters.too_small(live.figure) == []
    still = draw_still(picture, sizes)
    for part in ("tilt of 5° +0.24", "stretched by 1 % −1.24", "2 cm +1.17", "warmer −0.029"):
        assert part in still.alt
