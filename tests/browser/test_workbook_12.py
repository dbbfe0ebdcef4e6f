"""Workbook 12 in a real browser: its panels say what their models say; the chain is one page."""

from __future__ import annotations

import pytest
from declared_page import DeclaredPage

from mensura.teaching.lessons.chapters import chapter

NAME = "12-readings-to-timber.ipynb"
SHOWN = chapter("12").panels
GUESS = "12-predict-average"


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


class TestDeclaredPage(DeclaredPage):
    """Besides."""
