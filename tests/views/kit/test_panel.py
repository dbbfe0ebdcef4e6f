"""The engine of the panels: from a slider or a box to state, picture and words."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError, shown
from mensura.teaching.controls import Control, Stepper, Switch
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.panel import LivePanel, Panel
from mensura.views.kit.record import plainly, unpacked


class Dot(Picture[dict[str, Any]]):
    """One dot, which stands where the state says."""

    width_px = 120
    height_px = 80

    def draw(self, figure: Any) -> None:
        axes = figure.add_axes((0, 0, 1, 1))
        axes.set(xlim=(0, 10), ylim=(0, 10))
        axes.axis("off")
        (self.dot,) = axes.plot([], [], "ko", ms=12)
        self.moving.append(self.dot)

    def show(self, numbers: dict[str, Any]) -> None:
        self.dot.set_data([numbers["across_cm"]], [numbers["up"]])

    def describe(self, numbers: dict[str, Any]) -> str:
        return f'A dot at {numbers["across_cm"]:g} cm & {numbers["up"]:g}, "{numbers["bold"]}".'


PANEL: Panel[dict[str, Any]] = Panel(
    title="Dot",
    controls=(
        Control("across_cm", "across", "cm", 0, 10, 0.1, 5, "Where"),
        Control("up", "up", "", 0, 10, 1, 4, "Where", whole=True),
    ),
    switches=(Switch("bold", "in bold", "How"),),
    numbers=lambda **state: state,
    picture=Dot,
    readout=lambda n: f"<table><tr><td>{n['across_cm']:g}</td><td>{n['up']}</td></tr></table>",
    status=lambda n: f"Now <{n['across_cm']:g}> & {n['up']}.",
    presets={"Corner": {"across_cm": 9.5, "up": 9}},
)


CONTROLS = {one.name: one for one in PANEL.controls}


@pytest.fixture
def live() -> LivePanel[dict[str, Any]]:
    return LivePanel(PANEL)


@pytest.fixture
def draws(live: LivePanel[Any], monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """The state at each draw from now on."""
    seen: list[dict[str, Any]] = []
    draw = live.draw

    def count(by: str = "") -> None:
        seen.append(dict(live.state))
        draw(by)

    monkeypatch.setattr(live, "draw", count)
    return seen


def notes(live: LivePanel[Any]) -> str:
    """All that is said of values that were refused."""
    return "".join(note.value for note in live.notes.values())


def alt(live: LivePanel[Any]) -> str:
    return str(live.image.alt)


def shows(live: LivePanel[Any], **state: Any) -> None:
    """Holds that state, sliders, boxes, ticks, picture and words all say the same."""
    wanted = PANEL.start() | state
    assert live.state == wanted
    for name in ("across_cm", "up"):
        assert live.boxes[name].value == f"{wanted[name]:g}"
        assert live.sliders[name].value == pytest.approx(wanted[name], abs=1e-9)
    assert live.ticks["bold"].value is wanted["bold"]
    assert alt(live) == Dot().describe(wanted)
    there, anew = live.image.whole(), Live(Dot()).record(wanted)
    assert plainly(unpacked(there)) == plainly(unpacked(anew))
    assert f"Now &lt;{wanted['across_cm']:g}&gt; &amp; {wanted['up']}.</p>" in live.said.value
    assert live.words.value == PANEL.readout(wanted)


# ---- what is declared ------------------------------------------------------------------------


def test_names_are_given_once() -> None:
    """Two controls of one name, or a control and a tick, cannot be declared."""
    twice = (*PANEL.controls, PANEL.controls[0])
    with pytest.raises(MeasureError, match="Dot is 'across_cm'; expected controls of different"):
        replace(PANEL, controls=twice)
    with pytest.raises(MeasureError, match="controls of different names"):
        replace(PANEL, switches=(Switch("up", "up", "Where"),))
    with pytest.raises(MeasureError, match="controls of different names"):
        replace(PANEL, stepper=Stepper("bold", "line", 3))


def test_numbers_take_the_names_that_there_are() -> None:
    """A function of other names, of more or of fewer, is not that of the panel."""
    replace(PANEL, numbers=lambda across_cm, up, bold: {})
    with pytest.raises(MeasureError, match="Dot is 'left_cm'; expected numbers of the same names"):
        replace(PANEL, numbers=lambda across_cm, up, bold, left_cm: {})
    with pytest.raises(MeasureError, match="Dot is 'bold'"):
        replace(PANEL, numbers=lambda across_cm, up: {})
    with pytest.raises(MeasureError, match="Dot is 'across, across_cm'"):
        replace(PANEL, numbers=lambda across, up, bold: {})


@pytest.mark.parametrize(
    ("preset", "said"),
    [
        ({"across": 5}, r"\(preset Odd\) is 'across'; expected one of: across_cm, up, bold"),
        ({"across_cm": 10.1}, r"across \(preset Odd\) is 10.1 cm; expected .* at most 10 cm"),
        ({"up": 2.5}, r"up \(preset Odd\) is 2.5; expected a whole number"),
        ({"bold": 1}, r"in bold \(preset Odd\) is 1; expected True or False"),
    ],
)
def test_a_preset_can_be_reached(preset: dict[str, Any], said: str) -> None:
    """A preset that names nothing, or leads beyond a control's end, cannot be declared."""
    with pytest.raises(MeasureError, match=said):
        replace(PANEL, presets={"Odd": preset})


def test_a_name_that_is_not_there_is_not_set(live: LivePanel[Any], draws: list[Any]) -> None:
    """A misspelt name is answered with those that are there, and nothing of it stays."""
    with pytest.raises(MeasureError, match="is 'acros_cm'; expected one of: across_cm, up, bold"):
        live.set(acros_cm=7, up=3)
    shows(live)
    assert draws == []


def test_the_start_holds_every_control_and_switch() -> None:
    """A new state each time: changing one does not change the next."""
    first = PANEL.start()
    assert first == {"across_cm": 5, "up": 4, "bold": False}
    first["up"] = 9
    assert PANEL.start()["up"] == 4


def test_a_still_checks_its_names_and_values() -> None:
    """An unknown name is answered with the known ones, a wild value with its bounds."""
    still = PANEL.still(across_cm=7.5)
    assert still.alt == 'A dot at 7.5 cm & 4, "False".'
    assert still.png == Live(Dot()).still(PANEL.start() | {"across_cm": 7.5}).png
    assert still.png != PANEL.still().png
    with pytest.raises(MeasureError, match="one of: across_cm, up, bold"):
        PANEL.still(acros_cm=7.5)
    with pytest.raises(MeasureError, match="at least 0 and at most 10 cm"):
        PANEL.still(across_cm=75)
    with pytest.raises(MeasureError, match="whole number"):
        PANEL.still(up=2.5)


def test_what_a_notebook_is_given() -> None:
    """A live view, and for where there is none the picture with its words, three ways."""
    data, metadata = PANEL._repr_mimebundle_()
    assert set(data) == {
        "application/vnd.jupyter.widget-view+json",
        "image/png",
        "text/html",
        "text/plain",
    }
    still = PANEL.still()
    assert data["image/png"] == still.png
    assert data["text/html"] == still.html
    assert data["text/plain"] == f"Dot. {still.alt}"
    assert metadata == {"image/png": {"alt": still.alt, "width": 120, "height": 80}}


def test_each_view_is_a_panel_of_its_own() -> None:
    """Shown twice, a panel is two: other models, other state."""
    views = [PANEL._repr_mimebundle_()[0] for _ in range(2)]
    ids = [view["application/vnd.jupyter.widget-view+json"]["model_id"] for view in views]
    assert ids[0] != ids[1]


# ---- a change ----------------------------------------------------------------------------------


def test_it_opens_at_its_start(live: LivePanel[Any]) -> None:
    """Before anything moves all parts agree on the start."""
    shows(live)
    assert notes(live) == ""


def test_a_slider_moves_everything_with_one_draw(live: LivePanel[Any], draws: list[Any]) -> None:
    """Slider, box, state, picture and words; drawn once for each move, not once for each widget."""
    live.sliders["across_cm"].value = 7.0
    shows(live, across_cm=7.0)
    live.sliders["up"].value = 9
    shows(live, across_cm=7.0, up=9)
    assert [(state["across_cm"], state["up"]) for state in draws] == [(7.0, 4), (7.0, 9)]


def test_a_box_moves_everything_with_one_draw(live: LivePanel[Any], draws: list[Any]) -> None:
    """The same from the number box, for a value between the slider's steps as well."""
    live.boxes["across_cm"].value = "2,34"
    shows(live, across_cm=2.34)
    assert len(draws) == 1


def test_a_tick_moves_everything_with_one_draw(live: LivePanel[Any], draws: list[Any]) -> None:
    live.ticks["bold"].value = True
    shows(live, bold=True)
    assert len(draws) == 1


def test_the_picture_is_sent_before_other_widgets_follow(
    live: LivePanel[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the eye waits for goes out first."""
    order = []
    monkeypatch.setattr(live.image, "send_state", lambda _: order.append("picture"))
    live.boxes["across_cm"].observe(lambda _: order.append("box"), "value")
    live.sliders["across_cm"].value = 8.0
    assert order == ["picture", "box"]


def test_a_value_between_steps_stands(live: LivePanel[Any]) -> None:
    """What was typed is shown, and a page's slider that goes to its nearest step changes nothing;
    any other step does."""
    live.boxes["across_cm"].value = "7.26"
    shows(live, across_cm=7.26)
    live.sliders["across_cm"].value = 7.3
    assert live.state["across_cm"] == 7.26
    assert live.boxes["across_cm"].value == "7.26"
    live.sliders["across_cm"].value = 7.4
    shows(live, across_cm=7.4)
    live.boxes["across_cm"].value = "7.3"
    shows(live, across_cm=7.3)


def test_presets_set_all_at_once(live: LivePanel[Any], draws: list[Any]) -> None:
    """One draw for several controls; the button for the start is always there."""
    assert list(live.buttons) == ["Corner", "As at the start"]
    live.ticks["bold"].value = True
    del draws[:]
    live.buttons["Corner"].click()
    shows(live, across_cm=9.5, up=9, bold=True)
    assert len(draws) == 1
    live.buttons["As at the start"].click()
    shows(live)
    assert len(draws) == 2


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("across_cm", "40"),
        ("across_cm", "-0.001"),
        ("up", "11"),
        ("up", "-3"),
        ("up", "2.5"),
        ("across_cm", "five"),
        ("across_cm", "1e3"),
        ("across_cm", "nan"),
        ("across_cm", "<b>"),
        ("across_cm", "٣"),
        ("across_cm", ""),
    ],
)
def test_out_of_range_is_kept_and_explained(
    live: LivePanel[Any], draws: list[Any], name: str, typed: str
) -> None:
    """What was typed stays, a sentence names value and bounds, the picture stays as it was."""
    before = live.image.whole(), live.said.value, live.words.value
    live.boxes[name].value = typed
    assert live.boxes[name].value == typed
    assert live.state == PANEL.start()
    assert (live.image.whole(), live.said.value, live.words.value) == before
    assert live.sliders[name].value == PANEL.start()[name]
    assert draws == []
    assert 'role="alert"' in notes(live)
    assert f"{html.escape(shown(typed))} is not shown" in notes(live)
    assert "number from 0 to 10" in notes(live)
    assert f"still shows {PANEL.start()[name]:g}" in notes(live)
    assert [key for key, note in live.notes.items() if note.value] == [name]


@pytest.mark.parametrize("how", ["box", "slider", "preset", "same box back"])
def test_the_note_goes_with_a_good_value(live: LivePanel[Any], how: str) -> None:
    """A good value clears the sentence, and box and picture agree again."""
    live.boxes["across_cm"].value = "40"
    assert notes(live)
    if how == "box":
        live.boxes["across_cm"].value = "6.0"
        shows(live, across_cm=6.0)
    elif how == "slider":
        live.sliders["across_cm"].value = 6.0
        shows(live, across_cm=6.0)
    elif how == "preset":
        live.buttons["Corner"].click()
        shows(live, across_cm=9.5, up=9)
    else:
        live.boxes["across_cm"].value = "5.0"
        shows(live)
    assert notes(live) == ""


def test_whole_numbers_have_their_own_widgets(live: LivePanel[Any]) -> None:
    """Half a ridge can neither be slid to nor typed."""
    import ipywidgets as w

    assert isinstance(live.sliders["up"], w.IntSlider)
    assert isinstance(live.sliders["across_cm"], w.FloatSlider)
    live.sliders["up"].value = 7
    assert isinstance(live.state["up"], int)


def test_dust_of_a_slider_is_not_shown(live: LivePanel[Any], draws: list[Any]) -> None:
    """0.1 + 0.2 is 0.3 in box, state and picture; it is not sent back to the slider."""
    sent = []
    live.sliders["across_cm"].value = 0.1 + 0.2
    assert live.boxes["across_cm"].value == "0.3"
    assert live.state["across_cm"] == 0.3
    shows(live, across_cm=0.3)
    live.sliders["across_cm"].observe(lambda change: sent.append(change["new"]), "value")
    live.sliders["across_cm"].value = 0.7000000000000001
    assert sent == [0.7000000000000001]
    shows(live, across_cm=0.7)
    assert len(draws) == 2


def test_nothing_is_drawn_for_no_change(live: LivePanel[Any], draws: list[Any]) -> None:
    """Dust alone is no move."""
    live.sliders["across_cm"].value = 5 + 1e-12
    assert draws == []
    shows(live)


def test_several_at_once_or_none(live: LivePanel[Any], draws: list[Any]) -> None:
    """If one of the values cannot be used, none is set."""
    with pytest.raises(MeasureError, match="at most 10"):
        live.set(across_cm=3, up=70)
    shows(live)
    assert draws == []
    live.set(across_cm=3, up=7, bold=True)
    shows(live, across_cm=3, up=7, bold=True)
    assert len(draws) == 1


def test_two_panels_at_once() -> None:
    """What moves in one does not move in the other."""
    first, second = LivePanel(PANEL), LivePanel(PANEL)
    first.sliders["across_cm"].value = 8.0
    second.buttons["Corner"].click()
    shows(first, across_cm=8.0)
    shows(second, across_cm=9.5, up=9)
    first.boxes["up"].value = "40"
    assert notes(first)
    assert notes(second) == ""


MOVES = st.one_of(
    st.tuples(st.just("sliders"), st.just("across_cm"), st.integers(0, 100).map(lambda k: k / 10)),
    st.tuples(st.just("sliders"), st.just("up"), st.integers(0, 10)),
    st.tuples(st.just("boxes"), st.just("across_cm"), st.floats(-5, 15).map(lambda x: round(x, 3))),
    st.tuples(st.just("boxes"), st.just("up"), st.integers(-5, 15)),
    st.tuples(st.just("ticks"), st.just("bold"), st.booleans()),
    st.tuples(st.just("buttons"), st.sampled_from(["Corner", "As at the start"]), st.none()),
)
ENGINE = LivePanel(PANEL)


@given(st.lists(MOVES, max_size=12))
def test_any_sequence_of_moves(moves: list[tuple[str, str, Any]]) -> None:
    """Whatever is moved in whatever order, a plain account of it agrees with the panel."""
    ENGINE.buttons["As at the start"].click()
    state = PANEL.start()
    for kind, name, value in moves:
        if kind == "buttons":
            ENGINE.buttons[name].click()
            state = state | PANEL.presets["Corner"] if name == "Corner" else PANEL.start()
        else:
            getattr(ENGINE, kind)[name].value = str(value) if kind == "boxes" else value
            if kind == "sliders" and value == CONTROLS[name].nearest(state[name]):
                continue  # there its handle stands already
            if name == "bold" or 0 <= value <= 10:
                # −0 is 0
                state = state | {name: value if name == "bold" else value + 0}
        assert ENGINE.state == state
        assert alt(ENGINE) == Dot().describe(state)


def test_still_of_a_live_panel_is_the_present_one(live: LivePanel[Any]) -> None:
    live.sliders["across_cm"].value = 7.5
    assert live.still() == PANEL.still(across_cm=7.5)


def rows_of(live: LivePanel[Any]) -> Any:
    """What stands in the box of the controls' rows."""
    waiting = [live.widget]
    while "mensura-rows" not in waiting[0]._dom_classes:
        one = waiting.pop(0)
        waiting += getattr(one, "children", ())
    return waiting[0].children


def test_labels_and_headings() -> None:
    """Every slider stands beneath a box that names it with its unit; every group has a heading."""
    import ipywidgets as w

    live = LivePanel(PANEL)
    controls = rows_of(live)
    texts = [one.value for one in controls if isinstance(one, w.HTML)]
    assert [re.sub("<[^>]+>", "", text) for text in texts if "mensura-group" in text] == [
        "Where",
        "How",
    ]
    rows = [one for one in controls if "mensura-row" in one._dom_classes]
    assert [[type(part) for part in row.children] for row in rows] == [
        [w.Text, w.HTML, w.FloatSlider],
        [w.Text, w.HTML, w.IntSlider],
    ]
    assert [row.children[0].description for row in rows] == ["across, cm", "up"]
    assert live.ticks["bold"].description == "in bold"


def test_names_in_headings_are_no_markup() -> None:
    """A group called by a sign of HTML is shown as it is written."""
    panel = replace(PANEL, switches=(Switch("bold", "in bold", "<i>How"),))
    shown = rows_of(LivePanel(panel))
    texts = [str(getattr(one, "value", "")) for one in shown]
    assert len([text for text in texts if "&lt;i&gt;How" in text]) == 1
    assert not [text for text in texts if "<i>" in text]
