"""Every fault is where it belongs: offered, moved and drawn in each panel and game."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from mensura.instruments import Calipers, Lay
from mensura.instruments.fault import INSTRUMENTS, PLACES
from mensura.instruments.faults import FAULTS
from mensura.instruments.typical import adds_cm
from mensura.teaching.games.picture_rounds import SIGHTS, SOUND, picture_round
from mensura.teaching.games.wrong_readings import LEAST_CM
from mensura.views.chapters import calipers, condition, laying
from mensura.views.chapters.games import draw_round
from mensura.views.kit.live import Live


def test_every_fault_is_where_it_belongs(everywhere: Any) -> None:
    """In no place is one missing without a reason, and none is there against its reason."""
    assert everywhere.wanting() == []


@pytest.mark.parametrize("place", PLACES)
def test_a_fault_that_is_missing_would_be_named(everywhere: Any, place: str, monkeypatch) -> None:
    """The look-up itself: with a place emptied, all that belong there are named."""
    monkeypatch.setattr(everywhere, "found", lambda *_: set())
    lines = everywhere.wanting()
    for instrument, own in INSTRUMENTS.items():
        for row in FAULTS:
            if row.of in own and row.of in PLACES[place] and row.belongs_in(place):
                assert f"{row.key}: not in {place} of the {instrument}" in lines


PANELS = {
    "laying": (laying, laying.LAYING_PANEL, laying.NOTHING),
    "condition": (condition, condition.CONDITION_PANEL, condition.SOUND),
    "calipers": (calipers, calipers.CALIPERS_PANEL, calipers.SOUND),
}
SHOWN = [(name, key) for name, (module, _, _) in PANELS.items() for key in module.FAULTS]


def seen(artist: Any) -> Any:
    """What an artist shows, as plain values."""
    if not artist.get_visible():
        return None
    for get in ("get_data", "get_text", "get_center", "get_xy"):
        if hasattr(artist, get):
            value = getattr(artist, get)()
            return value if isinstance(value, str) else np.concatenate(np.atleast_2d(value))
    raise TypeError(artist)


@pytest.mark.parametrize(("name", "key"), SHOWN)
def test_a_fault_moves_what_draws_it(name: str, key: str) -> None:
    """From nothing wrong, one fault alone moves the very artists that are named, and its bar."""
    module, panel, sound = PANELS[name]
    row = module.FAULTS[key]
    before = panel.start() | sound
    # the conditions' rounding is a tick, its sound girth must not be a whole number
    if name == "condition":
        before |= {"girth_cm": 125.3}
    setting = row.settings[0]
    rounds = {"down": True} if name == "condition" else {}
    after = before | (rounds if key == "rounding" and rounds else {setting.control: ends(setting)})
    picture = panel.picture()
    live = Live(picture)
    shown = []
    for state in (before, after):
        live.paint(panel.numbers(**state))
        shown.append({part: seen(getattr(picture, part)) for part in module.DRAWN[key]})
    for part in module.DRAWN[key]:
        assert not np.array_equal(shown[0][part], shown[1][part]), part
    bars = [one[1][0] for one in picture.bars.bars.get_segments()]
    at = list(module.FAULTS).index(key)
    assert [bool(abs(bar) > 1e-9) for bar in bars[:-1]] == [
        place == at for place in range(len(module.FAULTS))
    ]


def ends(setting: Any) -> float:
    return float(setting.slider.greatest)


@pytest.mark.parametrize("key", SIGHTS)
def test_a_fault_of_the_game_is_drawn(key: str) -> None:
    """A round with the fault looks other than the same round without it."""
    one = next(r for r in map(picture_round, range(400)) if r.fault == key)
    clean = dataclasses.replace(one, fault=SOUND, lay=Lay(), calipers=Calipers())
    assert draw_round(one).png != draw_round(clean).png
    assert draw_round(one).alt != draw_round(clean).alt


def test_what_is_too_little_to_ask_for_is_too_little() -> None:
    """The reason is checked: none of these reaches what the game of wrong readings asks for."""
    rows = [row for row in FAULTS if "tell apart" in row.left_out_of.get("what went wrong", "")]
    assert len(rows) == 3
    for row in rows:
        assert max(abs(adds_cm(row, size)) for size in row.typical) < LEAST_CM
