"""The map of slips: each slip once, where it belongs on the scale, and nothing drawn over."""

from __future__ import annotations

import math
from types import ModuleType

import pytest

from mensura.checks import MeasureError
from mensura.teaching.problems import bank
from mensura.views.kit.live import Live
from mensura.views.problems.slip_map import SlipMap, slip_map


def can_be_drawn(key: str) -> bool:
    one = bank.problem(key, "Q07", "quillmere")
    above = min(one.answer, *(slip.value for slip in one.slips)) > 0
    return above and not one.family.exact


KEYS = [key for key in bank.all_families() if can_be_drawn(key)]


def test_most_families_can_be_drawn() -> None:
    """What is below is held for more than half of the bank."""
    assert len(KEYS) > len(bank.all_families()) / 2


@pytest.mark.parametrize("key", KEYS)
def test_lettering(key: str, letters: ModuleType) -> None:
    """Nothing overlaps, is cut off or is too small; each slip's name stands there once."""
    for number in (1, 2):
        problem = bank.problem(key, "Q07", "quillmere", "1", number)
        live = Live(SlipMap(problem))
        live.paint(None)
        assert letters.overlaps(live.figure) == []
        assert letters.cut_off(live.figure) == []
        assert letters.too_small(live.figure) == []
        text = [words for words, _ in letters.lettering(live.figure)]
        live.close()
        for slip in problem.slips:
            assert text.count(slip.name.replace("-", " ")) == 1


def test_marks_stand_where_the_slips_land() -> None:
    """A girth's area: π², 4, π, and π/4 times the right one, by hand."""
    picture = SlipMap(bank.problem("girth-to-area", "Q07", "quillmere"))
    ratios = {slip.name: ratio for ratio, slip in picture.rows}
    assert ratios["girth-as-diameter"] == pytest.approx(math.pi**2)
    assert ratios["diameter-for-radius"] == pytest.approx(4)
    assert ratios["pi-forgotten"] == pytest.approx(math.pi)
    assert ratios["quarter-girth-squared"] == pytest.approx(math.pi / 4)
    live = Live(picture)
    live.paint(None)
    (axes,) = live.figure.axes
    marks = [line.get_xdata()[0] for line in axes.lines if line.get_marker() == "x"]
    assert marks == pytest.approx(sorted(ratios.values(), reverse=True))
    assert axes.get_xlim()[0] < min(marks) < max(marks) < axes.get_xlim()[1]


def test_the_words_carry_the_numbers() -> None:
    """Alternative text: the right answer, each slip's name and number."""
    problem = bank.problem("girth-to-area", "Q07", "quillmere")
    alt = slip_map(problem).alt
    for slip in problem.slips:
        assert slip.name.replace("-", " ") in alt
        assert f"{float(f'{slip.value:.4g}'):g}" in alt


@pytest.mark.parametrize("key", ["impossible-reading", "rule-over-bark"])
def test_what_no_scale_holds_is_refused(key: str) -> None:
    """A number of a list, or a slip with the other sign."""
    with pytest.raises(MeasureError, match="above 0"):
        SlipMap(bank.problem(key, "Q07", "quillmere"))
