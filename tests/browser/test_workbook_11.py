"""Workbook 11 in a real browser: its panels say what their models say, and a guess is answered."""

from __future__ import annotations

from declared_page import DeclaredPage

from mensura.teaching.lessons.chapters import chapter

NAME = "11-field-practical.ipynb"
SHOWN = chapter("11").panels
GUESS = "11-predict-size"


def test_what_was_planted_stands_behind_what_was_found(book):
    """On the page: the verdicts first, then the faults, by the same names in the same order."""
    tables = book.page.locator(".jp-OutputArea table")
    heads = ["who\treads\tverdict\tform", "who\treads\tform\tplanted"]
    texts = tables.all_inner_texts()
    found, planted = (next(one for one in texts if one.startswith(head)) for head in heads)
    names = [[line.split("\t")[0] for line in text.splitlines()[1:]] for text in (found, planted)]
    assert sorted(names[0]) == sorted(names[1]) == ["K1", "Q04", "T2"]


class TestDeclaredPage(DeclaredPage):
    """Besides."""
