"""Workbook 12 in a real browser: its panels say what their models say; the chain is one page."""

from __future__ import annotations

import every_page
import pytest
from every_page import EveryPage

from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.questions import question

NAME = "12-readings-to-timber.ipynb"
SHOWN = chapter("12").panels


def test_all_are_there(book):
    """As many as the chapter declares, and no more."""
    assert book.page.locator(".mensura-panel").count() == len(SHOWN)


@pytest.mark.parametrize("name", SHOWN)
def test_it_follows_keys_and_buttons(nth_panel, follows, name):
    """At first sight, by a key, by buttons."""
    follows(nth_panel(name))


def test_a_guess_is_answered_before_it_is_revealed(book, wait_until):
    """One tape for 500 stems: chosen, and told why it does not average out."""
    asked = question("12-predict-average")
    at = next(k for k, choice in enumerate(asked.choices) if choice.right)
    place = book.page.locator(".mensura-ask").filter(has_text=asked.question)
    place.get_by_text(asked.choices[at].text).click()
    place.get_by_role("button").first.click()
    told = place.get_by_role("status")
    assert wait_until(book.page, lambda: told.inner_text().startswith(asked.reply(at)[:30]))


def test_what_the_practical_found_moves_the_hectare(book):
    """T2 is corrected, and the volume goes up by as much as twice its share."""
    texts = book.page.locator(".jp-OutputArea table").all_inner_texts()
    taken = next(one for one in texts if one.startswith("who or what\tcorrected for"))
    assert "T2\treads 2.5 % low" in taken
    stand = next(one for one in texts if one.startswith("a hectare has"))
    volume = next(line for line in stand.splitlines() if line.startswith("volume")).split("\t")
    assert float(volume[2]) / float(volume[1]) == pytest.approx(0.975**-2, abs=0.006)


def test_what_to_do_first_stands_first(book):
    """Remedies in the order of their gain an hour."""
    texts = book.page.locator(".jp-OutputArea table").all_inner_texts()
    gains = next(one for one in texts if one.startswith("remedy")).splitlines()[1:]
    each = [float(line.split("\t")[-1]) for line in gains]
    assert len(each) >= 4
    assert each == sorted(each, reverse=True)


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
