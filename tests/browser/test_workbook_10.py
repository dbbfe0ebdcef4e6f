"""Workbook 10 in a real browser: its three panels say what their models say, one page for all."""

from __future__ import annotations

import pytest
from every_page import EveryPage

from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.questions import question
from mensura.views.chapters import panels

NAME = "10-how-sure.ipynb"
SHOWN = chapter("10").panels


@pytest.fixture(scope="module", params=SHOWN)
def one(request, book, show):
    """One panel after the other, in their order on the page."""
    panel = show(book.page, panels()[request.param])
    panel.root = panel.root.nth(SHOWN.index(request.param))
    panel.root.scroll_into_view_if_needed()
    return panel


def test_all_three_are_there(book):
    """As many as the chapter declares, and no more."""
    assert book.page.locator(".mensura-panel").count() == len(SHOWN)


def test_it_follows_keys_and_buttons(one):
    """At first sight, by a key, by each button: words, table and picture are the model's."""
    one.expect()
    control = one.panel.controls[0]
    one.handle(control.name).focus()
    one.page.keyboard.press("ArrowRight")
    state = {control.name: round(control.start + control.step, 9)}
    one.expect(**state)
    # a button leaves alone what it does not name
    for name, values in one.panel.presets.items():
        one.button(name).click()
        state |= values
        one.expect(**state)
    one.reset()


@pytest.mark.parametrize(
    ("key", "typed", "begins"),
    [("10-1", "0,29", "Right."), ("10-4", "0.16 cm", "The card is one and the same")],
)
def test_an_exercise_answers(book, wait_until, key, typed, begins):
    """Typed with a decimal comma, and wrong in a way that is known."""
    place = book.page.locator(".mensura-ask").filter(has_text=question(key).text)
    place.get_by_role("textbox").fill(typed)
    place.get_by_role("button", name="Check").click()
    reply = place.get_by_role("status")
    reply.wait_for()
    assert wait_until(book.page, lambda: reply.inner_text().startswith(begins))


class TestEveryPage(EveryPage):
    """After all that."""
