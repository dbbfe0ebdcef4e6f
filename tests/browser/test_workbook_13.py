"""Workbook 13 in a real browser: its panel says what its model says, and a guess is answered."""

from __future__ import annotations

import every_page
import pytest
from every_page import EveryPage

from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.questions import question

NAME = "13-a-cut-end.ipynb"
SHOWN = chapter("13").panels


def test_all_are_there(book):
    """As many as the chapter declares, and no more."""
    assert book.page.locator(".mensura-panel").count() == len(SHOWN)


@pytest.mark.parametrize("name", SHOWN)
def test_it_follows_keys_and_buttons(nth_panel, follows, name):
    """At first sight, by a key, by buttons."""
    follows(nth_panel(name))


def test_the_calipers_are_turned_by_the_mouse(book, nth_panel):
    """Along the slider: picture, sentence and table are those of where they came to lie."""
    shown = nth_panel("cut_end")
    shown.reset()
    handle = shown.handle("direction_deg")
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    book.page.mouse.move(x, y)
    book.page.mouse.down()
    book.page.mouse.move(x + 80, y, steps=5)
    book.page.mouse.up()
    turned = round(float(handle.get_attribute("aria-valuenow")))
    assert turned > shown.panel.named["direction_deg"].start + 20
    shown.expect(direction_deg=turned)


def test_a_guess_is_answered_before_it_is_revealed(book, wait_until):
    """A scale behind the cut: chosen, and told why."""
    asked = question("13-predict")
    at = next(k for k, choice in enumerate(asked.choices) if choice.right)
    place = book.page.locator(".mensura-ask").filter(has_text=asked.question)
    place.get_by_text(asked.choices[at].text).click()
    place.get_by_role("button").first.click()
    told = place.get_by_role("status")
    assert wait_until(book.page, lambda: told.inner_text().startswith(asked.reply(at)[:30]))


def test_the_photograph_is_judged_before_a_figure_is_shown(book):
    """On the page its picture stands above the first table of figures, with its words."""
    picture = book.page.locator("img[alt^='Photographs, each']").first
    table = book.page.locator(".jp-OutputArea table").first
    assert "threshold" in picture.get_attribute("alt").lower()
    after = "(one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING"
    assert picture.evaluate(after, table.element_handle())


class TestEveryPage(EveryPage):
    """After all that."""

    def test_keys_stay_in_what_is_ours(self, book, wait_until, monkeypatch):
        """Some keys that would change cells; all of them on other pages."""
        monkeypatch.setattr(every_page, "COMMANDS", ("b", "d", "d", "Shift+Enter"))
        super().test_keys_stay_in_what_is_ours(book, wait_until)
