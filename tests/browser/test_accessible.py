"""What the workbooks add to the page, held to the rules of axe-core: levels serious and critical.

Only outputs are looked at: what stands round them is JupyterLab's own. Nothing is left out.
Workbook 08 has no sliders; it is looked at with a wrong answer, a hint and a solution on show.
"""

from __future__ import annotations

import re

import pytest

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

GRAVE = ("serious", "critical")


BOOKS = ["01-girth-diameter-area.ipynb", "02-out-of-round.ipynb", "03-the-proof.ipynb"]


@pytest.fixture(scope="module", params=BOOKS)
def page(request, open_once, wait_until):
    """A workbook that has been run, with a note and a reply on show."""
    book = open_once(request.param, height=1400)
    book.run_all()
    page = book.page
    panel = page.locator(".mensura-panel").first
    panel.scroll_into_view_if_needed()
    sliders = page.locator(".mensura-panel").get_by_role("slider")
    named = 'document.querySelectorAll(".mensura-panel [role=slider][aria-label]").length'
    assert wait_until(page, lambda: page.evaluate(named) == sliders.count() > 0)
    number = panel.locator(".mensura-row input[type=text]").first
    number.fill("9999")
    number.press("Enter")
    panel.get_by_role("alert").wait_for()
    ask = page.locator(".mensura-ask").first
    ask.get_by_role("button").click()
    ask.get_by_role("status").wait_for()
    if request.param == BOOKS[2]:
        write_some_lines(page, wait_until)
    return page


def write_some_lines(page, wait_until) -> None:
    """Two lines of a student's proof that stand, and one that cannot be read."""
    own = page.locator(".mensura-own")
    own.scroll_into_view_if_needed()
    own.locator("summary").click()
    box, said = own.get_by_label("Your line"), own.get_by_role("status")
    for sign, line, answer in (
        ("⇒", "(a-b)^2 > 0", "Equivalent"),
        ("⇐", "a^2 + b^2 > 2ab", "Equivalent"),
        ("⇐", "a^2 + $ > 2ab", "Not read"),
    ):
        own.get_by_role("radio", name=re.compile(f"^{sign}")).check()
        box.fill(line)
        box.press("Enter")
        left = line if answer == "Not read" else ""
        assert wait_until(
            page,
            lambda left=left, answer=answer: (
                box.input_value() == left and said.inner_text().startswith(answer)
            ),
        )


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
    """From the first panel's first control the Tab key comes to every control of it."""
    panel = page.locator(".mensura-panel").first
    stops = panel.locator("input, button, select, [role=slider]")
    count = stops.count()
    assert count >= 6
    stops.first.focus()
    met = set()
    for _ in range(count + 2):
        met.add(
            stops.evaluate_all("stops => stops.indexOf(document.activeElement)"),
        )
        page.keyboard.press("Tab")
    assert met - {-1} == set(range(count))


# ---- workbook 08 ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def problems_page(open_once, wait_until):
    """Workbook 08 after a wrong answer, a right one, a hint, and the worked solution."""
    book = open_once("08-problems.ipynb", height=1400)
    book.run_all()
    page = book.page
    panel = page.locator(".mensura-practice").first
    panel.scroll_into_view_if_needed()
    box = panel.get_by_label("Answer", exact=True)
    said = panel.locator("[role=status]").first
    for text, wanted in (("9999 cm", "Not right"), ("a lot", "does not count")):
        box.fill(text)
        box.press("Enter")
        assert wait_until(page, lambda wanted=wanted: wanted in said.inner_text())
    for name in ("Hint", "Worked solution"):
        panel.get_by_role("button", name=name, exact=True).click()
        assert wait_until(page, lambda name=name: said.inner_text().startswith(name))
    ask = page.locator(".mensura-ask").first
    ask.get_by_role("button").click()
    ask.get_by_role("status").wait_for()
    return page


def test_no_grave_violation_among_problems(problems_page):
    """Boxes, lists, buttons, pictures, replies: nothing serious in the outputs of workbook 08."""
    assert grave(problems_page) == []


def test_the_rules_would_find_a_fault_among_problems(problems_page):
    """The check itself: an answer's box without a name and a picture without words are found."""
    damage = """() => {
      const root = document.querySelector('.mensura-practice');
      window.__box = root.querySelector('input[placeholder]');
      window.__said = [...window.__box.labels].map(label => [label, label.htmlFor]);
      window.__said.forEach(([label]) => label.removeAttribute('for'));
      window.__kept = [['placeholder', window.__box], ['title', window.__box],
        ['alt', root.querySelector('img[src^="data:image/png"]')]]
        .map(([name, e]) => [name, e, e.getAttribute(name)]);
      window.__kept.forEach(([name, e]) => e.removeAttribute(name));
    }"""
    mend = """() => {
      window.__said.forEach(([label, id]) => label.htmlFor = id);
      window.__kept.forEach(([name, e, was]) => was === null || e.setAttribute(name, was));
    }"""
    problems_page.evaluate(damage)
    try:
        rules = {rule for rule, _, _ in grave(problems_page)}
    finally:
        problems_page.evaluate(mend)
    assert {"image-alt", "label"} <= rules


def test_every_control_of_the_practice_is_reached_by_tab(problems_page):
    """From the list of topics the Tab key comes to lists, boxes and buttons, in their order."""
    stops = problems_page.locator(".mensura-practice").first.locator("input, button, select")
    count = stops.count()
    assert count == 3 + 1 + 5  # lists and code; the answer; buttons
    stops.first.focus()
    met = []
    for _ in range(count):
        met.append(stops.evaluate_all("stops => stops.indexOf(document.activeElement)"))
        problems_page.keyboard.press("Tab")
    assert met == list(range(count))
