"""A panel as it is recorded: small, the same every time, and at each position what the panel shows.

Every panel is recorded in full once, as a page would have it. What the block holds is compared with
a picture drawn anew and with the panel's own words.
"""

from __future__ import annotations

import re
from functools import cache
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from mensura.checks import MeasureError
from mensura.teaching.controls import Choice, Control, Stepper, Switch
from mensura.teaching.proof.roads import ROADS
from mensura.views.chapters import panels
from mensura.views.kit.block import as_was, bits_of, opened, small
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.look import TAPE
from mensura.views.kit.panel import Panel
from mensura.views.kit.record import plainly, unpacked
from mensura.views.kit.recording import (
    LARGEST_BYTES,
    POSITIONS,
    player_script,
    player_style,
    positions_of,
    record_panel,
    recorded_html,
)
from mensura.views.proof.panel import new_picture, picture_key, proof_panel
from mensura.views.proof.played import record_road

NAMES = (*panels(), *(f"proof, {name}" for name in ROADS))
#: Of all positions of a panel so many are compared with a picture drawn anew, evenly taken.
COMPARED = 24


def panel_of(name: str) -> Panel[Any]:
    road = name.removeprefix("proof, ")
    return panels()[name] if road == name else proof_panel(road)


def recorded(name: str, **told: Any) -> Any:
    road = name.removeprefix("proof, ")
    return record_panel(panels()[name], **told) if road == name else record_road(road, **told)


#: The largest by far is recorded as a page has it; of the others a few positions tell the same.
LARGEST, FEW = "bark", 7


@cache
def full(name: str) -> Any:
    return recorded(name) if name == LARGEST else recorded(name, positions=FEW)


class Anew:
    """Pictures of a panel, drawn by a Live of their own."""

    def __init__(self, name: str) -> None:
        self.panel, self.proof = panel_of(name), name.startswith("proof")
        self.lives: dict[Any, Live[Any]] = {}

    def __call__(self, numbers: Any) -> Any:
        key = picture_key(numbers) if self.proof else None
        if key not in self.lives:
            make = new_picture(numbers) if self.proof else self.panel.picture()
            self.lives[key] = Live(make)
        live = self.lives[key]
        return plainly(unpacked(live.record(numbers))), live.picture.describe(numbers)


@pytest.mark.parametrize("name", NAMES)
def test_what_a_position_holds_is_what_the_panel_shows(name):
    """Shapes, words, sentence and readout, at the start, at every end, and at some between."""
    panel, block, anew = panel_of(name), opened(full(name).block), Anew(name)
    start = panel.start()
    states = [({}, 0)]
    for mover in block.head["movers"]:
        every = list(zip(mover["values"], mover["frames"], strict=True))
        states += [({mover["name"]: value}, frame) for value, frame in (every[0], every[-1])]
    rest = [
        ({mover["name"]: value}, frame)
        for mover in block.head["movers"]
        for value, frame in zip(mover["values"][1:-1], mover["frames"][1:-1], strict=True)
    ]
    states += rest[:: max(1, len(rest) // COMPARED)]
    states += [(panel.settings[one["name"]], one["frame"]) for one in block.head["presets"]]
    for changes, frame in states:
        numbers = panel.numbers(**start | dict(changes))
        picture, alt = anew(numbers)
        assert plainly(block.picture(frame)) == picture, changes
        assert block.alt(frame) == alt, changes
        assert block.status(frame) == panel.status(numbers), changes
        assert block.readout(frame) == bits_of(panel.readout(numbers)), changes


@pytest.mark.parametrize("name", NAMES)
def test_every_control_of_every_panel_is_recorded_and_the_block_is_small(name):
    panel, recording = panel_of(name), full(name)
    grown = 1 if name == LARGEST else POSITIONS / (FEW - 2)
    assert len(recording.block) * grown <= LARGEST_BYTES
    assert list(recording.positions) == list(panel.named)
    assert recording.presets == tuple(panel.settings)
    for key, one in panel.named.items():
        assert panel.start()[key] in recording.positions[key]
        assert set(one.ends) <= set(recording.positions[key])


@pytest.mark.parametrize("name", ["girth", "condition", "proof, outline"])
def test_a_recording_is_the_same_every_time(name):
    assert recorded(name, positions=3).block == recorded(name, positions=3).block


def test_a_control_away_from_the_panels_start_stays_where_the_state_has_it():
    """Also at a value that lies between two steps of the recording, or of the control itself."""
    state = {"girth_cm": 101.3, "misread_cm": 0.5}
    recording = record_panel(panels()["girth"], state, positions=5)
    assert 101.3 in recording.positions["girth_cm"]
    block = opened(recording.block)
    for mover in block.head["movers"]:
        assert mover["values"][mover["start"]] == state[mover["name"]]
        assert mover["frames"][mover["start"]] == 0
    panel = panels()["girth"]
    assert block.status(0) == panel.status(panel.numbers(**state))


def test_a_slider_has_fewer_positions_where_all_would_be_too_large():
    large = recorded("girth")
    limit = len(large.block) // 2
    fitting = record_panel(panels()["girth"], most_bytes=limit)
    assert len(fitting.block) <= limit
    assert 3 <= len(fitting.positions["girth_cm"]) < len(large.positions["girth_cm"])


# ---- positions ---------------------------------------------------------------------------------


@given(
    st.integers(2, 300),
    st.integers(3, 60),
    st.data(),
)
def test_positions_are_in_order_with_both_ends_and_the_present_value(steps, most, data):
    one = Control(
        "x_cm", "x", "cm", 0, steps / 4, 0.25, data.draw(st.integers(1, steps - 1)) / 4, ""
    )
    at = data.draw(st.integers(0, steps)) / 4
    values = positions_of(one, at, most)
    assert values == sorted(set(values))
    assert {0, steps / 4, at} <= set(values)
    assert len(values) <= max(most, 3)
    assert len(values) >= min(most, steps + 1)


def test_what_has_no_slider_is_recorded_wherever_it_can_stand():
    assert positions_of(Switch("down", "down", ""), False, 3) == [False, True]
    assert positions_of(Choice("stem", "stem", "", ("a", "b", "c", "d")), "a", 3) == list("abcd")
    assert positions_of(Stepper("step", "line", 60), 1, 3) == list(range(1, 61))


# ---- a panel made up, and what is refused ------------------------------------------------------


class OneLine(Picture[Any]):
    """A line as long as the number."""

    width_px, height_px = 200, 100

    def draw(self, figure: Any) -> None:
        axes = figure.add_axes((0.2, 0.2, 0.6, 0.6))
        axes.set(xlim=(0, 10), ylim=(0, 1))
        (self.line,) = axes.plot([], [], color=TAPE)
        self.moving = [self.line]

    def show(self, numbers: Any) -> None:
        self.line.set_data([0, numbers.x], [0.5, 0.5])

    def describe(self, numbers: Any) -> str:
        return f"A line of {numbers.x:g} cm"


def line(x_cm: float, twice: bool = False) -> Any:
    if x_cm > 6:
        raise MeasureError("x_cm", x_cm, "cm", "at most 6")
    return SimpleNamespace(x=x_cm * (1 + twice))


def made_up(**other: Any) -> Panel[Any]:
    told: dict[str, Any] = {
        "title": "A line",
        "controls": (Control("x_cm", "length", "cm", -1, 9, 1, 4, "Line"),),
        "switches": (Switch("twice", "twice", "Line"),),
        "numbers": line,
        "picture": OneLine,
        "readout": lambda n: f"<p>{n.x:g} &lt; 20<br></p>",
        "status": lambda n: f"It is {n.x:g} cm long.",
        "presets": {"Short": {"x_cm": 1.0}, "Too long": {"x_cm": 8.0}},
    }
    return Panel(**told | other)


def test_what_numbers_refuse_is_left_out():
    recording = record_panel(made_up())
    assert recording.positions["x_cm"] == (-1, 0, 1, 2, 3, 4, 5, 6)
    assert recording.presets == ("Short",)
    block = opened(recording.block)
    slider, switch = block.head["movers"]
    assert slider["texts"][0] == "−1\u00a0cm"
    assert switch["texts"] == ["off", "on"]
    assert block.status(switch["frames"][1]) == "It is 8 cm long."
    assert block.readout(0) == [["p", {}], "4 < 20", ["br", {}], 0, 0]


def test_a_control_of_which_only_the_start_is_left_is_none():
    def only(x_cm: float, twice: bool) -> Any:
        if twice:
            raise MeasureError("twice", twice, "", "not twice")
        return line(x_cm)

    assert list(record_panel(made_up(numbers=only)).positions) == ["x_cm"]


def test_whoever_waits_is_told_how_far_it_is():
    told: list[tuple[int, int]] = []
    record_panel(made_up(), told=lambda done, of: told.append((done, of)))
    assert told == [(done, 15) for done in range(1, 16)]  # 11 lengths, 2 of the tick, 2 presets


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"state": {"y_cm": 1.0}}, "one of: x_cm, twice"),
        ({"state": {"x_cm": 99.0}}, "length is 99"),
        ({"state": {"x_cm": 8.0}}, "at most 6"),
        ({"positions": 2}, "positions is 2"),
        ({"positions": 4.5}, "positions is 4.5"),
        ({"positions": 1000}, "positions is 1000"),
        ({"most_bytes": 200}, "a recording of at most 200 bytes"),
        ({"most_bytes": LARGEST_BYTES + 1}, "most_bytes"),
    ],
)
def test_nonsense_is_refused_in_a_sentence(told, words):
    with pytest.raises(MeasureError, match=re.escape(words)):
        record_panel(made_up(), **told)


def test_only_a_panel_is_recorded():
    with pytest.raises(MeasureError, match="panel is 'str'; expected a panel"):
        record_panel("girth")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "readout",
    [
        "<script>go()</script>",
        "<img src='x'>",
        "<p onclick='go()'>a</p>",
        "<p style='background: url(x)'>a</p>",
        "<p style='background: \\75rl(x)'>a</p>",
        "<p>a",
        "<p><b>a</p></b>",
    ],
)
def test_a_readout_is_plain_words_and_tables(readout):
    with pytest.raises(MeasureError, match="readout"):
        record_panel(made_up(readout=lambda n: readout))


# ---- numbers made small ------------------------------------------------------------------------


@given(arrays("<i2", st.integers(0, 40).map(lambda half: 2 * half)))
def test_numbers_made_small_come_back_as_they_were(numbers):
    """All 16 bits of them, however they jump."""
    back = as_was(small(numbers))
    assert back.dtype == np.dtype("<i2")
    assert back.tolist() == numbers.tolist()


# ---- on a page ---------------------------------------------------------------------------------


def test_a_page_holds_the_still_and_the_block_and_nothing_that_it_would_fetch():
    recording = record_panel(made_up(title='Wider <than> "long"'))
    page = recorded_html(recording, "<p>the still</p>", "leaf-1")
    assert '<div class="mensura-as-printed"><p>the still</p><div class="mensura-printed">' in page
    # on paper it says what it shows, and how it is set
    assert recording.printed in page
    assert "<p>Set to: " in recording.printed
    assert '<script type="application/octet-stream;base64" id="leaf-1">' in page
    assert 'aria-label="Wider &lt;than&gt; &quot;long&quot;"' in page
    for text in (page, player_script(), player_style()):
        assert not re.search(r"https?:|src=|@import|url\(|import\(|\beval\b", text)
    assert "innerHTML" not in player_script()
    assert recorded_html(recording, "").count('id="recorded-') == 1


@pytest.mark.parametrize("name", ["Leaf", "1leaf", "a b", 'a"', "a" * 65])
def test_a_blocks_name_is_plain(name):
    with pytest.raises(MeasureError, match="small letters"):
        recorded_html(record_panel(made_up()), "", name)


def test_a_slider_has_as_many_positions_as_it_has_steps_up_to_the_most():
    recording = recorded("girth")
    assert all(len(each) <= POSITIONS for each in recording.positions.values())
    assert len(recording.positions["girth_cm"]) == POSITIONS


def test_round_each_preset_one_control_moves_as_the_panel_itself_does():
    """Frames round a preset show the preset's state with that control changed, its own at home."""
    panel = panels()["condition"]
    names = ("stretch_percent", "worn_start_cm", "fibreglass")
    block = opened(record_panel(panel, positions=5, around=3, only=names).block)
    movers = {one["name"]: one for one in block.head["movers"]}
    assert tuple(movers) == names
    anew, seen = Anew("condition"), 0
    for told in block.head["presets"]:
        preset = dict(panel.settings[told["name"]])
        assert set(told["around"]) == set(names)
        for name, places in told["around"].items():
            home = told["near"].get(name, movers[name]["start"])
            assert dict(places)[home] == told["frame"]
            assert len(places) in ((2,) if name == "fibreglass" else (3, 4))
            for place, frame in places:
                if place == home:
                    continue
                state = panel.start() | preset | {name: movers[name]["values"][place]}
                picture, _ = anew(panel.numbers(**state))
                assert plainly(block.picture(frame)) == picture, (told["name"], name, place)
                seen += 1
    assert seen > 10
    assert record_panel(panel, positions=3, only=names[:1]).positions.keys() == {names[0]}


def test_only_controls_that_there_are_can_be_recorded():
    with pytest.raises(MeasureError, match="stretch_percent"):
        record_panel(panels()["condition"], only=["stretched"])
