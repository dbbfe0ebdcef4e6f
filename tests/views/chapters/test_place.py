"""The place panel's picture and words: nothing of the rule is shown before its step."""

from __future__ import annotations

from typing import Any

import pytest

from mensura.teaching.panels.place import PRESETS
from mensura.views.chapters.place import PLACE_PANEL
from mensura.views.chapters.place.words import MOVED, off_word
from mensura.views.kit.live import Live
from mensura.written import signed


def said(**changes: Any) -> tuple[Any, str]:
    """The numbers of a state, and all words that go with it."""
    numbers = PLACE_PANEL.numbers(**PLACE_PANEL.state(changes))
    live = Live(PLACE_PANEL.picture())
    live.paint(numbers)
    alt = live.picture.describe(numbers)
    live.close()
    return numbers, " ".join((alt, PLACE_PANEL.status(numbers), PLACE_PANEL.readout(numbers)))


@pytest.mark.parametrize("name", PRESETS)
def test_cost_and_place_come_in_their_own_steps(name: str) -> None:
    """First the reading alone, then what it costs, then the rule's place and the parts."""
    states = [dict(PRESETS[name]) | {"step": step} for step in (1, 2, 3)]
    (shown, first), (_, second), (_, third) = (said(**state) for state in states)
    cost = signed(shown.area_over_percent)
    assert cost not in first
    assert cost in second
    assert cost in third
    rule = f"{shown.rule_cm:.2f}"
    for early in (first, second):
        assert rule not in early
        assert off_word(shown) not in early
        assert not any(words in early for words in MOVED.values())
    assert rule in third
    assert off_word(shown) in third


def test_the_rule_is_drawn_in_the_last_step_only() -> None:
    """Its bands, and the parts of the cost; together stands in the second already."""
    live = Live(PLACE_PANEL.picture())
    for step, together, parts in ((1, False, False), (2, True, False), (3, True, True)):
        state = PLACE_PANEL.state(dict(PRESETS["A lean"]) | {"step": step})
        numbers = PLACE_PANEL.numbers(**state)
        live.paint(numbers)
        picture: Any = live.picture
        assert picture.rule_bands.get_visible() == parts
        bars = picture.bars.get_segments()
        wide = [abs(end[0] - start[0]) > 1 for start, end in bars]
        assert wide[-1] == together
        assert any(wide[:-1]) == parts
        assert picture.values.lines.count("?") == 6 - together - 5 * parts
    live.close()


def test_care_follows_the_stem() -> None:
    """Where it leans, on a slope, under a fork and on buttresses; a sharp band always."""
    plain = {"lean_deg": 0.0, "slope_deg": 0.0, "buttress_m": 0.0, "swelling_percent": 0.0}
    _, bare = said(**plain)
    assert "cuts" in bare
    for name, word in (("lean_deg", "hung up"), ("slope_deg", "footing"), ("buttress_m", "climb")):
        value = {"lean_deg": 10.0, "slope_deg": 20.0, "buttress_m": 1.0}[name]
        assert word not in bare
        assert word in said(**plain | {name: value})[1]


def test_two_legs_read_twice() -> None:
    """Both girths in the words, and one where one band goes round."""
    shown, text = said(height_m=2.0)
    assert len(shown.girths_cm) == 2
    assert all(f"{girth:.1f}" in text for girth in shown.girths_cm)
    one, text = said(height_m=2.0, legs="one band round both")
    assert len(one.girths_cm) == 1
    assert "as one round both legs" in text


def test_a_narrow_page_shows_the_stem_while_the_band_is_set() -> None:
    """Every control has its part; only legs and steps are looked at elsewhere."""
    picture: Any = PLACE_PANEL.picture()
    names = {one.name for one in picture.parts()}
    assert set(picture.looked_at) == set(PLACE_PANEL.named)
    assert set(picture.looked_at.values()) == names
    assert picture.looked_at["height_m"] == "from the side"
