"""Workbook 02 in a real browser: every control is moved, and what is shown is what the model says.

After each move the table, the sentence, the alternative text and the picture itself are compared
with the model for the same state; the picture byte for byte.
"""

from __future__ import annotations

import json
import re

import numpy as np
import pytest
from by_keyboard import ByKeyboard
from every_page import EveryPage
from on_a_phone import ThroughASlit

from mensura.teaching.lessons.questions import question
from mensura.teaching.panels.out_of_round import CONTROLS, SMOOTH
from mensura.views.chapters.out_of_round import PANEL
from mensura.views.chapters.out_of_round.words import limits_sentence

NAME = "02-out-of-round.ipynb"
SHOWN = PANEL
VIEW = "application/vnd.jupyter.widget-view+json"


@pytest.fixture
def asked(book):
    """Function that finds a question of the workbook by its key."""

    def find(key: str):
        item = question(key)
        words = getattr(item, "question", None) or item.text
        return item, book.page.locator(".mensura-ask").filter(has_text=words)

    return find


def test_the_panel_opens_as_declared(shown):
    """At first sight, before anything is touched, numbers and picture are the start's."""
    shown.expect()
    assert shown.root.count() == 1


def test_it_is_saved_by_itself(book, lab, wait_until):
    """Once it has run: what is stored is the view beside its picture, and no widget's state."""

    def stored() -> str:
        return (lab.folder / NAME).read_text("utf-8")

    assert wait_until(book.page, lambda: VIEW in stored(), 20)
    saved = json.loads(stored())
    assert "widgets" not in saved["metadata"]
    data = [
        output["data"]
        for cell in saved["cells"]
        for output in cell.get("outputs", [])
        if VIEW in output.get("data", {})
    ]
    assert len(data) >= 5
    assert all("text/plain" in one for one in data)


class TestByKeyboard(ByKeyboard):
    """As it opens."""


def test_every_slider_has_its_label_as_its_name(panel):
    """Eight sliders, each found by role and name, each saying a plain value."""
    assert panel.root.get_by_role("slider").count() == len(CONTROLS) == 8
    for control in CONTROLS:
        handle = panel.handle(control.name)
        assert handle.count() == 1
        assert handle.get_attribute("aria-valuetext") == f"{control.start:g}"
        assert float(handle.get_attribute("aria-valuemin")) == control.least
        assert float(handle.get_attribute("aria-valuemax")) == control.greatest
        assert panel.box(control.name).input_value() == f"{control.start:g}"


@pytest.mark.parametrize("control", CONTROLS, ids=lambda control: control.name)
def test_each_control_moves_by_keyboard(panel, wait_until, control):
    """One step up, then two down: everything shown follows, and the picture is another one."""
    name, step = control.name, control.step
    before = panel.digest()
    panel.handle(name).focus()
    panel.page.keyboard.press("ArrowRight")
    panel.expect(**{name: round(control.start + step, 9)})
    up = panel.digest()
    assert up != before
    wait_until(panel.page, lambda: panel.box(name).input_value() == f"{control.start + step:g}")
    assert panel.box(name).input_value() == f"{control.start + step:g}"
    panel.page.keyboard.press("ArrowLeft")
    panel.page.keyboard.press("ArrowLeft")
    panel.expect(**{name: round(control.start - step, 9)})
    assert panel.digest() not in (before, up)


def test_the_table_holds_the_model_s_numbers(panel):
    """Errors in per cent, read off the page practice by practice, against the model itself."""
    panel.handle("caliper_direction_deg").focus()
    panel.page.keyboard.press("ArrowRight")
    state = PANEL.start() | {"caliper_direction_deg": 15.5}
    panel.expect(caliper_direction_deg=15.5)
    result = PANEL.numbers(**state).result
    wanted = {one.practice: one.over_percent for one in result.calipers}
    wanted |= {"tape": result.tape_over_percent, "level": result.level_over_percent}
    read = panel.root.locator("td[data-over]").evaluate_all(
        "cells => Object.fromEntries(cells.map(c => [c.dataset.over, c.textContent]))"
    )
    assert set(read) == set(wanted)
    for practice, over_percent in wanted.items():
        assert float(read[practice].replace("−", "-")) == pytest.approx(over_percent, abs=0.00501)


def test_a_number_is_typed(panel):
    """52 and Enter in a number box."""
    box = panel.box("second_cm")
    box.fill("52")
    box.press("Enter")
    panel.expect(second_cm=52)
    assert panel.handle("second_cm").get_attribute("aria-valuetext") == "52"


def test_a_number_out_of_range_is_kept_and_explained(panel, wait_until):
    """What was typed stays, a sentence names the bounds, the picture stays; a good one clears."""
    before = panel.seen()
    box = panel.box("first_cm")
    box.fill("400")
    box.press("Enter")
    assert wait_until(panel.page, lambda: panel.note != "")
    assert panel.note == (
        "'400' is not shown: expected a number from 35 to 70 cm. The picture still shows 60 cm."
    )
    assert panel.root.get_by_role("alert").count() == 1
    panel.page.wait_for_timeout(300)
    assert box.input_value() == "400"
    assert panel.seen() == before
    box.fill("55")
    box.press("Enter")
    panel.expect(first_cm=55)
    assert wait_until(panel.page, lambda: panel.note == "")
    assert panel.note == ""


def test_a_count_out_of_range(panel, wait_until):
    """70 ridges are explained, 12 are drawn."""
    box = panel.box("ridges")
    box.fill("70")
    box.press("Enter")
    assert wait_until(
        panel.page, lambda: "'70' is not shown: expected a whole number" in panel.note
    )
    box.fill("12")
    box.press("Enter")
    panel.expect(ridges=12)


def test_smooth_and_level_and_the_limits(panel):
    """The preset, then the tick: 22.4° and 29.9° stand beneath, and both are marked."""
    panel.button("Smooth and level").click()
    panel.expect(**SMOOTH)
    before = panel.pixels()
    panel.root.get_by_role("checkbox", name="mark where the tape wins").check()
    panel.expect(**SMOOTH, marked=True)
    said = panel.seen()["text"]
    sentence = limits_sentence(PANEL.numbers(**PANEL.start() | SMOOTH | {"marked": True}))
    assert sentence in said
    assert "22.4°" in sentence
    assert "29.9°" in sentence
    # the marks and their words are drawn in the lower chart, right, and nowhere else
    changed = np.argwhere((panel.pixels() != before).any(axis=2))
    assert changed.size
    assert changed[:, 0].min() > 540
    assert changed[:, 1].min() > 1000


def test_a_round_smooth_stem(panel):
    """Both diameters alike: everything is exact, and the panel says so."""
    panel.button("Smooth and level").click()
    panel.expect(**SMOOTH)
    box = panel.box("second_cm")
    box.fill("60")
    box.press("Enter")
    panel.root.get_by_role("checkbox", name="mark where the tape wins").check()
    panel.expect(**SMOOTH, second_cm=60, marked=True)
    assert any("round and smooth" in sentence for sentence in panel.seen()["text"])


def test_a_fast_drag_ends_with_its_last_value(panel, wait_until):
    """Many moves in a moment: table and picture end at the value where the hand let go."""
    page, handle = panel.page, panel.handle("caliper_direction_deg")
    handle.scroll_into_view_if_needed()
    place = handle.bounding_box()
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for move in range(1, 121):
        page.mouse.move(x + move, y)
    for move in range(120, 89, -1):
        page.mouse.move(x + move, y)
    page.mouse.up()
    last = float(handle.get_attribute("aria-valuenow"))
    assert 40 < last < 60
    panel.expect(caliper_direction_deg=last)
    # and no older picture comes in late
    page.wait_for_timeout(400)
    panel.expect(caliper_direction_deg=last)
    assert panel.box("caliper_direction_deg").input_value() == f"{last:g}"


def test_quick_presses_all_count(panel):
    """A held key sends many steps at once: none is lost, though binary dust is rounded away."""
    for name, start, step in (("tilt_direction_deg", 30, 5), ("furrow_depth_cm", 1, 0.1)):
        panel.handle(name).focus()
        for _ in range(3):
            panel.page.keyboard.press("ArrowRight")
        for _ in range(9):
            panel.page.keyboard.press("ArrowLeft")
        panel.expect(**{name: round(start - 6 * step, 9)})
        panel.reset()


@pytest.mark.parametrize("key", ["02-predict", "02-turn"])
def test_predictions_answer(asked, wait_until, book, key):
    """Without a choice it asks for one; each choice, right or wrong, has its own reply."""
    item, place = asked(key)
    button = place.get_by_role("button", name="See the answer")
    reply = place.get_by_role("status")
    if place.locator("input:checked").count() == 0:
        button.click()
        reply.wait_for()
        assert reply.inner_text() == "Choose an answer first."
    for index, choice in enumerate(item.choices):
        place.get_by_label(choice.text, exact=True).check()
        button.click()
        wanted = item.reply(index)
        wait_until(book.page, lambda wanted=wanted: reply.inner_text() == wanted)
        assert reply.inner_text() == wanted
        assert reply.inner_text().startswith("Yes." if choice.right else "Not so.")


@pytest.mark.parametrize("enter", [False, True], ids=["by its button", "by the Enter key"])
def test_an_exercise_answers(asked, wait_until, book, enter):
    """Right, a known slip, too small, and no number at all, as typed by hand."""
    item, place = asked("02-1")
    field = place.get_by_role("textbox")
    for typed, begins in (
        (f"{item.answer:.0f}", "Right."),
        (f"{item.answer:.1f} cm²".replace(".", ","), "Right."),
        (f"{item.slips[0].value:.0f}", item.slips[0].says),
        ("12", "It is too small, by more than a factor of 100."),
        ("some 1800", "‘some’ is no number; expected a number"),
    ):
        field.fill("")
        field.press_sequentially(typed)
        if enter:
            field.press("Enter")
        else:
            place.get_by_role("button", name="Check").click()
        wanted = item.reply(typed).message
        assert wanted.startswith(begins)
        reply = place.get_by_role("status")
        reply.wait_for()
        wait_until(book.page, lambda wanted=wanted, reply=reply: reply.inner_text() == wanted)
        assert reply.inner_text() == wanted


def test_a_saved_workbook_shows_its_panel_again(book, panel, open_once, show, faults):
    """Moved, closed, opened anew: the panel is there as it was left, since the kernel has it."""
    panel.button("Smooth and level").click()
    panel.expect(**SMOOTH)
    assert faults(book.messages) == []
    book.page.context.close()
    again = open_once(NAME, height=1400)
    again.run_all()
    # whoever has the workbook from now on has it here
    book.page, book.messages = again.page, again.messages
    assert again.page.locator(".mensura-panel").count() == 1
    reopened = show(again.page, PANEL)
    reopened.expect(**SMOOTH)
    assert again.page.get_by_text(re.compile("model not found|Error displaying", re.I)).count() == 0
    reopened.reset()


class TestEveryPage(EveryPage):
    """After all that."""


class TestThroughASlit(ThroughASlit):
    """Three of the panel's controls."""

    moves = (("turned by, °", "stem"), ("furrow depth, cm", "turned"), ("tilt, °", "tilt"))
