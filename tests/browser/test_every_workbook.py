"""Every workbook in a real browser: one with a file of its own is opened there, others here."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from every_page import EveryPage

from mensura.teaching.lessons.chapters import CHAPTERS

HERE = Path(__file__).parent
BOOKS = [one.file for one in CHAPTERS]
#: Workbooks whose page is opened by a file of their own, with the text of that.
ELSEWHERE = {
    name: text
    for path in sorted(HERE.glob("test_workbook_*.py"))
    for text in [path.read_text("utf-8")]
    for name in re.findall(r'^NAME = "(.+)"$', text, re.M)
}


@pytest.fixture(scope="module", params=[name for name in BOOKS if name not in ELSEWHERE])
def book(request, open_once):
    """A workbook that has been run to its end."""
    opened = open_once(request.param, height=1400)
    opened.run_all()
    yield opened
    # the next one needs the memory
    opened.close()


def test_none_is_left_out():
    """Whatever file has a workbook of its own holds it to what every page is held to."""
    assert set(ELSEWHERE) < set(BOOKS)
    for name, text in ELSEWHERE.items():
        assert re.search(r"^class \w+\((EveryPage|DeclaredPage)\):$", text, re.M), name


class TestEveryPage(EveryPage):
    """All that is opened here."""
