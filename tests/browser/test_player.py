"""A recorded panel on a plain page without a network: it moves, and says what the panel says.

What is seen is compared, dot by dot, with the same canvas painted from the picture of that state.
"""

from __future__ import annotations

import base64
from importlib.resources import files

import pytest

from mensura.views.chapters import panels
from mensura.views.kit.live import Live
from mensura.views.kit.recording import (
    player_script,
    player_style,
    record_panel,
    recorded_html,
)
from mensura.views.proof.panel import new_picture, proof_panel
from mensura.views.proof.played import record_road

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

#: Paints a packed picture as the page does, and gives its dots; at hand as `painted`.
PAINTER = (
    files("mensura.views.kit").joinpath("shapes.js").read_text("utf-8")
    + """
window.painted = (text, wide, high, inks) => {
  const shapes = new Shapes();
  shapes.apply(Uint8Array.from(atob(text), (one) => one.charCodeAt(0)));
  const canvas = document.createElement('canvas');
  canvas.width = wide;
  canvas.height = high;
  const ink = canvas.getContext('2d', { alpha: false });
  shapes.paint(ink, [0, 0, ...shapes.size], wide / shapes.size[0], inks);
  return canvas.toDataURL();
};
"""
)
#: The readout as the browser itself reads the panel's HTML, and as the player built it.
SAME_READOUT = """
(html) => {
  const read = document.createElement('div');
  read.className = 'mensura-readout';
  read.innerHTML = html;
  return read.isEqualNode(document.querySelector('.mensura-readout'));
}
"""


class Played:
    """A page with one recording, its panel, and what the page asked the network for."""

    def __init__(self, page, panel, make, start) -> None:
        self.page, self.panel, self.make, self.start = page, panel, make, start
        self.asked, self.wrong = [], []
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("pageerror", lambda error: self.wrong.append(str(error)))
        page.on("console", lambda line: self.wrong.append(line.text))

    def slider(self, label: str):
        return self.page.get_by_role("slider", name=label, exact=True)

    def painted(self) -> None:
        """Two frames later: what was asked for is on the canvas."""
        self.page.evaluate(
            "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
        )

    def assert_shows(self, **changes) -> None:
        """The page shows what the panel shows in this state: dots, words, sentence, readout."""
        self.painted()
        page = self.page
        numbers = self.panel.numbers(**self.start | changes)
        live = Live(self.make(numbers))
        assert page.locator(".mensura-status").inner_text() == self.panel.status(numbers)
        image = page.get_by_role("img", name=live.picture.describe(numbers), exact=True)
        assert image.count() == 1
        assert page.evaluate(SAME_READOUT, self.panel.readout(numbers))
        canvas = image.locator("canvas")
        wide, high = canvas.evaluate("(one) => [one.width, one.height]")
        shown = canvas.evaluate("(one) => one.toDataURL()")
        text = base64.b64encode(live.record(numbers)).decode("ascii")
        anew = page.evaluate(
            "([text, wide, high]) => painted(text, wide, high, inks)", [text, wide, high]
        )
        assert len(set(base64.b64decode(shown[22:]))) > 100  # something is drawn
        assert shown == anew
        assert self.wrong == []
        assert self.asked == []


@pytest.fixture(scope="module")
def recordings():
    """Panel, its recording, its still, and what makes the picture of some numbers."""
    calipers, road = panels()["calipers"], proof_panel("classroom")
    return {
        "calipers": (
            calipers,
            record_panel(calipers, positions=5),
            calipers.still().html,
            lambda _: calipers.picture(),
        ),
        "classroom": (
            road,
            record_road("classroom", state={"step": 3}, positions=5),
            road.still(step=3).html,
            new_picture,
        ),
    }


@pytest.fixture
def play(chromium, recordings):
    """Function that opens a page with a recording, offline."""
    contexts = []

    def opened(name="calipers", width=1100, height=900, script=True, **told) -> Played:
        context = chromium.new_context(
            viewport={"width": width, "height": height}, java_script_enabled=script, **told
        )
        contexts.append(context)
        context.set_offline(True)
        panel, recording, still, make = recordings[name]
        page = context.new_page()
        start = panel.start() | ({"step": 3} if name == "classroom" else {})
        played = Played(page, panel, make, start)
        page.set_content(
            "<!doctype html><html lang='en' data-mensura-follows-system><head>"
            "<title>Leaf</title><meta name='viewport' content='width=device-width'>"
            "<style>:root { color-scheme: light dark } "
            f"body {{ margin: 12px }} {player_style()}</style></head><body><main><h1>Leaf</h1>"
            f"{recorded_html(recording, still)}</main>"
            f"<script type='module'>{player_script()}window.inks = inksOf(document.body);</script>"
            f"<script type='module'>{PAINTER}</script></body></html>"
        )
        if script:
            page.wait_for_selector(".mensura-plays .mensura-canvas[data-frame]")
        return played

    yield opened
    for context in contexts:
        context.close()


def positions(recordings, name, control):
    return recordings[name][1].positions[control]


def test_it_opens_as_printed_and_says_that_it_is_recorded(play):
    played = play()
    played.assert_shows()
    words = "Recorded: one thing moves at a time, from the start or from what a button sets."
    assert played.page.get_by_text(words, exact=True).is_visible()
    assert not played.page.locator(".mensura-as-printed").is_visible()


def test_a_slider_moves_by_keyboard_and_another_puts_it_back(play, recordings):
    """Each position is the recorded one; who moves another is told that the first is back."""
    played = play()
    first = played.slider("first diameter")
    first.focus()
    first.press("End")
    most = positions(recordings, "calipers", "first_cm")[-1]
    assert first.get_attribute("aria-valuetext").startswith(f"{most:g}")
    played.assert_shows(first_cm=most)
    first.press("ArrowLeft")
    before = positions(recordings, "calipers", "first_cm")[-2]
    played.assert_shows(first_cm=before)
    assert played.page.locator("[role=status] .mensura-note").inner_text() == ""

    second = played.slider("second diameter")
    second.focus()
    second.press("Home")
    played.assert_shows(second_cm=positions(recordings, "calipers", "second_cm")[0])
    start = played.panel.start()["first_cm"]
    note = played.page.locator("[role=status] .mensura-note").inner_text()
    assert note == "The others are back as at the start: here one thing moves at a time."
    assert first.get_attribute("aria-valuetext") == f"{start:g}\u00a0cm"
    assert first.input_value() == str(positions(recordings, "calipers", "first_cm").index(start))


def test_a_slider_moves_under_the_pointer(play, recordings):
    """Held and drawn to its right end, and back to its start."""
    played = play()
    slider = played.slider("second diameter")
    box = slider.bounding_box()
    middle = box["y"] + box["height"] / 2
    values = positions(recordings, "calipers", "second_cm")
    at = values.index(played.panel.start()["second_cm"]) / (len(values) - 1)
    mouse = played.page.mouse
    place = box["x"] + 9 + (box["width"] - 18) * at
    mouse.move(place, middle)
    mouse.down()
    mouse.move(box["x"] + box["width"] - 2, middle, steps=5)
    played.assert_shows(second_cm=values[-1])
    mouse.move(place, middle, steps=5)
    mouse.up()
    played.assert_shows()


def test_a_finger_moves_it(play, recordings):
    played = play(width=400, height=800, has_touch=True, is_mobile=True)
    slider = played.slider("second diameter")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    played.page.touchscreen.tap(box["x"] + 6, box["y"] + box["height"] / 2)
    played.painted()
    values = positions(recordings, "calipers", "second_cm")
    numbers = played.panel.numbers(**played.start | {"second_cm": values[0]})
    assert played.page.locator(".mensura-status").inner_text() == played.panel.status(numbers)


def test_ticks_and_presets_are_played_and_one_button_brings_all_back(play):
    played = play()
    page = played.page
    tick = page.get_by_role("checkbox")
    tick.check()
    played.assert_shows(down=True)
    name, values = next(iter(played.panel.presets.items()))
    page.get_by_role("button", name=name, exact=True).click()
    played.assert_shows(**values)
    assert not tick.is_checked()
    for key, value in values.items():
        label = played.panel.named[key].label
        text = played.slider(label).get_attribute("aria-valuetext")
        assert text.startswith(f"{value:g}".replace("-", "−"))
    tick.check()
    played.assert_shows(down=True)
    said = page.get_by_role("status").inner_text()
    assert "The others are back as at the start: here one thing moves at a time." in said
    page.get_by_role("button", name="As at the start", exact=True).click()
    played.assert_shows()
    assert not tick.is_checked()


def test_each_line_of_a_proof_has_its_own_picture(play):
    played = play("classroom")
    played.assert_shows()
    lines = played.slider("line")
    for step in (9, 1):
        lines.press("End" if step == 9 else "Home")
        assert lines.get_attribute("aria-valuetext").startswith(f"Line {step} of 9")
        played.assert_shows(step=step)
    played.slider("half-axis a").press("End")
    played.assert_shows(a_cm=played.panel.named["a_cm"].greatest)


def test_a_page_that_does_not_follow_the_machine_stays_light(play):
    played = play(color_scheme="dark")
    ground = "(one) => getComputedStyle(one).backgroundColor"
    figure = played.page.locator(".mensura-recorded")
    assert figure.evaluate(ground) == "rgb(17, 17, 17)"
    played.page.evaluate("document.documentElement.removeAttribute('data-mensura-follows-system')")
    assert figure.evaluate(ground) == "rgb(255, 255, 255)"


@pytest.mark.parametrize("ratio", [1, 2, 2.5])
def test_it_is_painted_at_the_screens_own_density_and_anew_at_another_size(play, ratio):
    played = play(device_scale_factor=ratio)
    played.assert_shows()
    for width in (1100, 980):
        played.page.set_viewport_size({"width": width, "height": 900})
        played.painted()
        dots, shown = played.page.locator("canvas").evaluate(
            "(one) => [one.width, one.getBoundingClientRect().width]"
        )
        assert abs(dots - shown * ratio) < 1
        room = played.page.locator(".mensura-seen").evaluate("(one) => one.clientWidth")
        assert abs(shown - room) <= 1
    played.assert_shows()


def test_on_a_phone_a_legible_part_stays_in_sight_of_every_control(play):
    """400 px: nothing is wider than the page, and what a slider moves is seen while it is held."""
    played = play(width=400, height=800)
    page = played.page
    assert page.evaluate("document.documentElement.scrollWidth") <= 400
    sliders = page.get_by_role("slider")
    for k in range(sliders.count()):
        slider = sliders.nth(k)
        slider.focus()
        slider.press("End")
        played.painted()
        seen = page.locator(".mensura-seen").bounding_box()
        box = slider.bounding_box()
        canvas = page.locator("canvas").last.bounding_box()
        assert seen["y"] >= 0
        assert canvas["y"] + canvas["height"] <= box["y"]
        assert box["y"] + box["height"] <= 800
    parts = page.get_by_role("group", name="Part of the picture").get_by_role("button")
    assert [one.inner_text() for one in parts.all()][-1] == "all"
    for one in parts.all():
        one.click()
        played.painted()
        assert one.get_attribute("aria-pressed") == "true"
        for canvas in page.locator("canvas").all():
            assert canvas.bounding_box()["width"] <= 376
    assert page.evaluate("document.documentElement.scrollWidth") <= 400
    assert played.wrong == []


def test_a_moved_control_turns_to_the_part_that_it_changes(play):
    played = play(width=400, height=800)
    pressed = played.page.locator(".mensura-part-names [aria-pressed=true]")
    chosen = set()
    for slider in played.page.get_by_role("slider").all():
        slider.press("End")
        played.painted()
        chosen.add(pressed.inner_text())
    assert len(chosen) > 1


def test_on_paper_the_still_is_seen_and_nothing_to_move(play):
    played = play()
    played.slider("first diameter").press("End")
    played.page.emulate_media(media="print")
    page = played.page
    assert page.locator(".mensura-as-printed img").is_visible()
    for some in ("input", "button", "canvas", ".mensura-is-recorded", "[role=status]"):
        assert page.locator(some).count() > 0
        assert not any(one.is_visible() for one in page.locator(some).all())
    page.emulate_media(media="screen")
    first = played.panel.named["first_cm"].greatest
    played.assert_shows(first_cm=first)


def test_without_the_script_the_still_stands_in_the_same_place(play):
    page = play(script=False).page
    assert page.locator(".mensura-as-printed img").is_visible()
    assert page.locator("input").count() == 0


def test_a_block_that_cannot_be_opened_leaves_its_still(play):
    played = play()
    played.page.evaluate(
        """() => {
          document.body.insertAdjacentHTML('beforeend', `<figure class="mensura-recorded" id="bad">
            <div class="mensura-as-printed">the still</div></figure>`);
          const block = document.createElement('script');
          block.type = 'application/octet-stream;base64';
          block.textContent = 'eJwrSS0u';
          document.getElementById('bad').append(block);
        }"""
    )
    played.page.add_script_tag(content=player_script(), type="module")
    played.page.wait_for_timeout(300)
    assert played.page.locator("#bad .mensura-as-printed").is_visible()
    assert played.page.locator("#bad .mensura-player").count() == 0
    # the one that plays is not built a second time
    assert played.page.locator(".mensura-player").count() == 1
    assert any("its still is shown" in line for line in played.wrong)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1100, 400])
def test_it_holds_the_axe_rules(play, theme, width):
    played = play(width=width, color_scheme=theme)
    slider = played.slider("first diameter")
    slider.press("End")
    played.slider("second diameter").press("End")
    played.painted()
    found = axe_tool.Axe().run(played.page, context=".mensura-recorded").response
    # the head over a table's names is empty on every page: the panel's own readout
    wrong = [one for one in found["violations"] if one["id"] != "empty-table-header"]
    assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in wrong] == []
    ground = played.page.locator(".mensura-recorded").evaluate(
        "(one) => getComputedStyle(one).backgroundColor"
    )
    assert ground == ("rgb(17, 17, 17)" if theme == "dark" else "rgb(255, 255, 255)")
    assert any(one["id"] == "color-contrast" for one in found["passes"])
    for some in ("slider", "checkbox", "button"):
        for one in played.page.get_by_role(some).all():
            assert one.bounding_box()["height"] >= (24 if some != "checkbox" else 18)
