"""A workbook opened without a kernel's help: as it is committed, and as a reader saved it."""

from __future__ import annotations

import json
import re
import shutil

import nbformat
import pytest

from mensura.places import shipped
from mensura.teaching.panels.out_of_round import SMOOTH
from mensura.views.chapters.out_of_round import PANEL

NAME = "02-out-of-round.ipynb"
VIEW = "application/vnd.jupyter.widget-view+json"
PICTURES = '.jp-OutputArea-output img[src^="data:image/"]'


def stored_words(path) -> list[str]:
    """Alternative texts of the pictures in a stored notebook, in order."""
    book = nbformat.read(path, as_version=4)
    return [
        output.metadata["image/png"]["alt"]
        for cell in book.cells
        for output in cell.get("outputs", [])
        if "image/png" in output.get("data", {})
    ]


@pytest.mark.parametrize("name", ["01-girth-diameter-area.ipynb", NAME])
def test_committed_pictures_show_without_running(lab, open_workbook, wait_until, name):
    """All pictures are seen at once, each with its words; no live view is looked for in vain."""
    shutil.copy(shipped("workbooks") / name, lab.folder / f"unrun-{name}")
    words = stored_words(shipped("workbooks") / name)
    assert len(words) >= 4
    book = open_workbook(f"unrun-{name}", height=1200)
    page = book.page
    page.wait_for_selector(".jp-Notebook .jp-CodeCell", timeout=60000)
    # cells out of sight are built while the page has nothing better to do
    wait_until(page, lambda: page.locator(PICTURES).count() == len(words), 40)
    seen = page.locator(PICTURES).evaluate_all(
        "images => images.map(i => "
        "[i.alt, i.complete && (i.naturalWidth === 860 && i.width >= 700 && i.width <= 1147"
        # a problem's picture is half as wide
        " || i.naturalWidth === 430 && i.width >= 350 && i.width <= 574)])"
    )
    assert seen == [[word, True] for word in words]
    assert page.locator(".mensura-panel").count() == 0
    assert page.get_by_text(re.compile("model not found|Error displaying", re.I)).count() == 0


def test_a_saved_workbook_shows_its_panel_again(lab, open_workbook, show, wait_until):
    """Run, moved, opened anew: the panel is there as it was left, and no widget's state is saved.

    What is stored is the view beside its picture; the state lives in the kernel.
    """
    name = "saved-02.ipynb"
    shutil.copy(shipped("workbooks") / NAME, lab.folder / name)
    book = open_workbook(name, height=1200)
    book.run_all()
    panel = show(book.page, PANEL)
    panel.root.scroll_into_view_if_needed()
    panel.button("Smooth and level").click()
    panel.expect(**SMOOTH)

    def stored() -> str:
        return (lab.folder / name).read_text("utf-8")

    # the page is saved by itself
    assert wait_until(book.page, lambda: VIEW in stored(), 20)
    saved = json.loads(stored())
    assert "widgets" not in saved["metadata"]
    data = [
        output["data"]
        for cell in saved["cells"]
        for output in cell.get("outputs", [])
        if VIEW in output.get("data", {})
    ]
    assert len(data) >= 5
    assert all("text/plain" in one for one in data)
    book.page.close()

    again = open_workbook(name, height=1200)
    again.run_all()
    page = again.page
    assert wait_until(page, lambda: page.locator(".mensura-panel").count() == 1, 40)
    reopened = show(page, PANEL)
    reopened.expect(**SMOOTH)
    assert page.get_by_text(re.compile("model not found|Error displaying", re.I)).count() == 0
