"""What is held of a chapter's page whose panels are declared: all are there, each follows, a guess
is answered, and some keys stay in the last of them.

A file of tests takes these in and names the chapter's panels in SHOWN, and in GUESS a question.
"""

from __future__ import annotations

import every_page
from every_page import EveryPage

from mensura.teaching.lessons.questions import question


def last_panel(kinds):
    """Where the last panel stands among a page's frames."""
    return {max(at for at, kind in enumerate(kinds) if "mensura-panel" in kind.split())}


class DeclaredPage(EveryPage):
    """A page with panels, opened once."""

    def test_all_panels_are_there(self, request, book):
        """As many as the chapter declares, and no more."""
        assert book.page.locator(".mensura-panel").count() == len(request.module.SHOWN)

    def test_each_panel_follows_keys_and_buttons(self, request, nth_panel, follows):
        """At first sight, by a key, by buttons, one after the other."""
        for name in request.module.SHOWN:
            follows(nth_panel(name))

    def test_a_guess_is_answered_before_it_is_revealed(self, request, book, wait_until):
        """The right one is chosen, and told why."""
        asked = question(request.module.GUESS)
        at = next(k for k, choice in enumerate(asked.choices) if choice.right)
        place = book.page.locator(".mensura-ask").filter(has_text=asked.question)
        place.get_by_text(asked.choices[at].text).click()
        place.get_by_role("button").first.click()
        told = place.get_by_role("status")
        assert wait_until(book.page, lambda: told.inner_text().startswith(asked.reply(at)[:30]))

    def test_keys_stay_in_what_is_ours(self, book, wait_until, monkeypatch):
        """In the last panel some keys that would change cells: all, and other frames, elsewhere."""
        monkeypatch.setattr(every_page, "COMMANDS", ("b", "d", "d", "Shift+Enter"))
        monkeypatch.setattr(every_page, "MET", set())
        monkeypatch.setattr(every_page, "ends_of_kinds", last_panel)
        super().test_keys_stay_in_what_is_ours(book, wait_until)
