"""Workbook 10 in a real browser: its three panels say what their models say, one page for all."""

from __future__ import annotations

import every_page
import pytest
from every_page import EveryPage

from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.questions import question
from mensura.views.chapters import panels

NAME = "10-how-sure.ipynb"
SHOWN = chapter("10").panels


def test_all_three_are_there(book):
    """As many as the chapter declares, and no more."""
    assert book.page.locator(".mensura-panel").count() == len(SHOWN)


@pytest.mark.parametrize("name", SHOWN)
def test_it_follows_keys_and_buttons(nth_panel, follows, name):
    """At first sight, by a key, by buttons."""
    follows(nth_panel(name))


def test_the_chart_goes_along_what_is_chosen(book, show):
    """By its list: lines, their numbers and words are those of the flips along it."""
    one = show(book.page, panels()["which_instrument"])
    one.root = one.root.nth(SHOWN.index("which_instrument"))
    one.root.get_by_label("chart along", exact=True).select_option("stems' diameter")
    one.expect(along="stems' diameter")
    one.button("As at the start").click()


def test_an_exercise_answers(book, wait_until):
    """Typed with a decimal comma, and wrong in a way that is known."""
    place = book.page.locator(".mensura-ask").filter(has_text=question("10-4").text)
    place.get_by_role("textbox").fill("0,16 cm")
    place.get_by_role("button", name="Check").click()
    reply = place.get_by_role("status")
    reply.wait_for()
    begins = "The card is one and the same"
    assert wait_until(book.page, lambda: reply.inner_text().startswith(begins))


def last_panel(kinds):
    """Where the last panel stands among a page's frames."""
    return {max(at for at, kind in enumerate(kinds) if "mensura-panel" in kind.split())}


class TestEveryPage(EveryPage):
    """After all that."""

    def test_keys_stay_in_what_is_ours(self, book, wait_until, monkeypatch):
        """In the last panel some keys that would change cells: all, and other frames, elsewhere."""
        monkeypatch.setattr(every_page, "COMMANDS", ("b", "d", "d", "Shift+Enter"))
        monkeypatch.setattr(every_page, "MET", set())
        monkeypatch.setattr(every_page, "ends_of_kinds", last_panel)
        super().test_keys_stay_in_what_is_ours(book, wait_until)
