"""Workbooks opened as they are committed, without a kernel's help."""

from __future__ import annotations

import re

import nbformat

from mensura.places import shipped

NAMES = ("01-girth-diameter-area.ipynb", "02-out-of-round.ipynb")
PICTURES = '.jp-OutputArea-output img[src^="data:image/"]'


def stored_words(book) -> list[str]:
    """Alternative texts of the pictures in a stored notebook, in order."""
    return [
        output.metadata["image/png"]["alt"]
        for cell in book.cells
        for output in cell.get("outputs", [])
        if "image/png" in output.get("data", {})
    ]


def test_committed_pictures_show_without_running(lab, open_workbook, wait_until):
    """All pictures are seen at once, each with its words; no live view is looked for in vain.

    Two workbooks are laid one behind the other on one page.
    """
    first, second = (nbformat.read(shipped("workbooks") / name, as_version=4) for name in NAMES)
    assert min(len(stored_words(one)) for one in (first, second)) >= 4
    for cell in second.cells:
        cell.id = f"second-{cell.id}"
    first.cells += second.cells
    words = stored_words(first)
    name = "two-not-run.ipynb"
    nbformat.write(first, lab.folder / name)
    book = open_workbook(name, height=1200)
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
