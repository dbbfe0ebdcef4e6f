"""Workbook 13 in a real browser: its panel says what its model says, and a guess is answered."""

from __future__ import annotations

from declared_page import DeclaredPage

from mensura.teaching.lessons.chapters import chapter

NAME = "13-a-cut-end.ipynb"
SHOWN = chapter("13").panels
GUESS = "13-predict"


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


def test_the_photograph_is_judged_before_a_figure_is_shown(book):
    """On the page its picture stands above the first table of figures, with its words."""
    picture = book.page.locator("img[alt^='Photographs, each']").first
    table = book.page.locator(".jp-OutputArea table").first
    assert "threshold" in picture.get_attribute("alt").lower()
    after = "(one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING"
    assert picture.evaluate(after, table.element_handle())


class TestDeclaredPage(DeclaredPage):
    """Besides."""
