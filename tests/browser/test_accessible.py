"""What the workbooks add to the page, held to the rules of axe-core: levels serious and critical.

Only outputs are looked at: what stands round them is JupyterLab's own. Nothing is left out.
"""

from __future__ import annotations

import pytest

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

GRAVE = ("serious", "critical")


@pytest.fixture(scope="module", params=["01-girth-diameter-area.ipynb", "02-out-of-round.ipynb"])
def page(request, open_once, wait_until):
    """A workbook that has been run, with a note and a reply on show."""
    book = open_once(request.param, height=1400)
    book.run_all()
    page = book.page
    panel = page.locator(".mensura-panel")
    panel.scroll_into_view_if_needed()
    sliders = panel.get_by_role("slider")
    named = 'document.querySelectorAll(".mensura-panel [role=slider][aria-label]").length'
    assert wait_until(page, lambda: page.evaluate(named) == sliders.count() > 0)
    number = panel.locator(".mensura-row input[type=text]").first
    number.fill("9999")
    number.press("Enter")
    panel.get_by_role("alert").wait_for()
    ask = page.locator(".mensura-ask").first
    ask.get_by_role("button").click()
    ask.get_by_role("status").wait_for()
    return page


def grave(page) -> list[tuple[str, str, list[str]]]:
    """(rule, help, elements) of every serious or critical violation in the outputs."""
    found = axe_tool.Axe().run(page, context=".jp-OutputArea").response
    assert len(found["passes"]) > 10
    return [
        (one["id"], one["help"], [node["html"][:200] for node in one["nodes"]])
        for one in found["violations"]
        if one["impact"] in GRAVE
    ]


def test_no_grave_violation(page):
    """Names, words of pictures, contrast, tables, roles: nothing serious in our outputs."""
    assert grave(page) == []


def test_the_rules_would_find_a_fault(page):
    """The check itself: a slider without a name and a picture without words are found."""
    damage = """() => {
      const root = document.querySelector('.mensura-panel');
      window.__kept = ['[role=slider]', 'img[src^="data:image/png"]']
        .map(part => root.querySelector(part));
      window.__words = window.__kept.map((e, i) => e.getAttribute(i ? 'alt' : 'aria-label'));
      // an empty name, not none: the panel's own script gives a name where there is none
      window.__kept[0].setAttribute('aria-label', '');
      window.__kept[1].removeAttribute('alt');
    }"""
    mend = """() => window.__kept.forEach(
      (e, i) => e.setAttribute(i ? 'alt' : 'aria-label', window.__words[i]))"""
    page.evaluate(damage)
    try:
        rules = {rule for rule, _, _ in grave(page)}
    finally:
        page.evaluate(mend)
    assert {"image-alt", "aria-input-field-name"} <= rules


def test_everything_is_reached_by_tab(page):
    """From the panel's first box the Tab key comes to each box, slider, tick and button."""
    panel = page.locator(".mensura-panel")
    stops = panel.locator("input, button, [role=slider]")
    count = stops.count()
    assert count >= 6
    panel.locator(".mensura-row input[type=text]").first.focus()
    met = set()
    for _ in range(count + 2):
        met.add(
            page.evaluate(
                "[...document.querySelectorAll('.mensura-panel input, .mensura-panel button, "
                ".mensura-panel [role=slider]')].indexOf(document.activeElement)"
            )
        )
        page.keyboard.press("Tab")
    assert met - {-1} == set(range(count))
