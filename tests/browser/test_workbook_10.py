"""Workbook 10 in a real browser: its three panels say what their models say, one page for all."""

from __future__ import annotations

from declared_page import DeclaredPage

from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.questions import question
from mensura.views.chapters import panels

NAME = "10-how-sure.ipynb"
SHOWN = chapter("10").panels
GUESS = "10-predict"


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


class TestDeclaredPage(DeclaredPage):
    """Besides."""
