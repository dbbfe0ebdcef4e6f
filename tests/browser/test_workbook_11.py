"""Workbook 11 in a real browser: its panels say what their models say, and a guess is answered."""

from __future__ import annotations

import every_page
import pytest
from every_page import EveryPage

from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.questions import question

NAME = "11-field-practical.ipynb"
SHOWN = chapter("11").panels


def test_all_are_there(book):
    """As many as the chapter declares, and no more."""
    assert book.page.locator(".mensura-panel").count() == len(SHOWN)


@pytest.mark.parametrize("name", SHOWN)
def test_it_follows_keys_and_buttons(nth_panel, follows, name):
    """At first sight, by a key, by buttons."""
    follows(nth_panel(name))


def test_a_guess_is_answered_before_it_is_revealed(book, wait_until):
    """Two faults hide each other: chosen, and told why."""
    asked = question("11-predict-size")
    at = next(k for k, choice in enumerate(asked.choices) if choice.right)
    place = book.page.locator(".mensura-ask").filter(has_text=asked.question)
    place.get_by_text(asked.choices[at].text).click()
    place.get_by_role("button").first.click()
    told = place.get_by_role("status")
    assert wait_until(book.page, lambda: told.inner_text().startswith(asked.reply(at)[:30]))


def test_what_was_planted_stands_behind_what_was_found(book):
    """On the page: the verdicts first, then the faults, by the same names in the same order."""
    tables = book.page.locator(".jp-OutputArea table")
    heads = ["who\treads\tverdict\tform", "who\treads\tform\tplanted"]
    texts = tables.all_inner_texts()
    found, planted = (next(one for one in texts if one.startswith(head)) for head in heads)
    names = [[line.split("\t")[0] for line in text.splitlines()[1:]] for text in (found, planted)]
    assert sorted(names[0]) == sorted(names[1]) == ["K1", "Q04", "T2"]


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
