"""Workbook 01 in a real browser: it runs, its panel follows the keyboard, its questions answer."""

from __future__ import annotations

import pytest
from every_page import EveryPage

from mensura.teaching.lessons.questions import question
from mensura.teaching.panels.girth import CONTROLS
from mensura.views.chapters.girth import GIRTH_PANEL

NAME = "01-girth-diameter-area.ipynb"
SHOWN = GIRTH_PANEL


def test_the_panel_opens_as_declared(shown):
    """At first sight, before anything is touched, numbers and picture are the start's."""
    shown.expect()


@pytest.mark.parametrize("control", CONTROLS, ids=lambda control: control.name)
def test_each_control_moves_by_keyboard(panel, control):
    """One step up, two down: table, words and picture are the model's."""
    name, step = control.name, control.step
    before = panel.digest()
    panel.handle(name).focus()
    panel.page.keyboard.press("ArrowRight")
    panel.expect(**{name: round(control.start + step, 9)})
    assert panel.digest() != before
    panel.page.keyboard.press("ArrowLeft")
    panel.page.keyboard.press("ArrowLeft")
    panel.expect(**{name: round(control.start - step, 9)})
    assert panel.digest() != before


def test_keys_for_the_ends(panel):
    """Home and End bring a slider to its least and greatest value."""
    handle = panel.handle("girth_cm")
    for key, end in (("Home", 60), ("End", 220)):
        handle.focus()
        panel.page.keyboard.press(key)
        panel.expect(girth_cm=end)


@pytest.mark.parametrize("name", GIRTH_PANEL.presets)
def test_presets(panel, name):
    """Each button sets its values; 1 % of girth makes 2.01 % of area."""
    panel.button(name).click()
    panel.expect(**GIRTH_PANEL.presets[name])
    if "1 %" in name:
        assert "+2.01" in panel.seen()["cells"]


def test_a_number_out_of_range_is_explained(panel, wait_until):
    """A girth of 400 cm stays in its box, with a sentence that names the ends."""
    before = panel.seen()
    panel.box("girth_cm").fill("400")
    panel.box("girth_cm").press("Enter")
    assert wait_until(panel.page, lambda: "from 60 to 220 cm" in panel.note)
    assert panel.box("girth_cm").input_value() == "400"
    assert panel.seen() == before


def test_an_exercise_answers(book, wait_until):
    """Typed with a decimal comma, and wrong in a way that is known: radius for diameter."""
    item = question("01-1")
    place = book.page.locator(".mensura-ask").filter(has_text=item.text)
    for typed, begins in (("40,1", "Right."), ("20.05", "That is the radius")):
        place.get_by_role("textbox").fill(typed)
        place.get_by_role("button", name="Check").click()
        wanted = item.reply(typed).message
        assert wanted.startswith(begins)
        reply = place.get_by_role("status")
        reply.wait_for()
        wait_until(book.page, lambda wanted=wanted, reply=reply: reply.inner_text() == wanted)
        assert reply.inner_text() == wanted


def test_back_to_the_start(panel):
    """By its button, whatever was moved; so no slider stands at an end below."""
    panel.expect()


class TestEveryPage(EveryPage):
    """After all that."""
