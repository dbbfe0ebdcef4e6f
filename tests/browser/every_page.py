"""What holds on every workbook's page: it runs, is alive, keeps its keys, and holds the axe rules.

A file of tests that has a workbook open takes :class:`EveryPage` in, so that the page is opened
once for all. Only outputs are looked at by axe-core: what stands round them is JupyterLab's own.
Nothing of ours is left out, and nothing below its levels serious and critical fails.
"""

from __future__ import annotations

import atexit
import os
import re
import tempfile
from pathlib import Path

import pytest

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

GRAVE = ("serious", "critical")

#: Whatever of ours takes the focus.
FOCUSABLE = "input, button, select, summary, [role=slider], [tabindex='0']"
#: Every key that JupyterLab takes for a command while a cell is chosen: cells added, cut, pasted,
#: merged away, deleted, of another kind, run, left; the kernel interrupted and started anew.
COMMANDS = (
    *"abcxvzmyrhlosfjk123456",
    *("d", "d", "i", "i", "0", "0"),
    *("Shift+A", "Shift+B", "Shift+J", "Shift+K", "Shift+L", "Shift+M", "Shift+O", "Shift+V"),
    *("ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"),
    *("Shift+ArrowUp", "Shift+ArrowDown", "Shift+Home", "Shift+End"),
    *("Enter", "Shift+Enter", "Control+Enter", "Alt+Enter", "Space", "Shift+Space", "Escape"),
)
#: Some of every sort: where a like frame and a like stop of it have met all of them.
SOME = ("b", "d", "d", "Shift+M", "ArrowDown", "Shift+Enter", "Escape")


class Noted:
    """Which stops of which frames have met all commands, in this run and whichever process."""

    def __init__(self) -> None:
        self._here: set[str] = set()
        run = os.environ.get("PYTEST_XDIST_TESTRUNUID")
        self._place = Path(tempfile.gettempdir()) / f"mensura-keys-{run}.txt" if run else None
        if self._place:
            # whoever goes on after that meets some of them again
            atexit.register(self._place.unlink, missing_ok=True)

    def __contains__(self, one: tuple[str, str]) -> bool:
        if self._place and self._place.exists():
            self._here.update(self._place.read_text("utf-8").splitlines())
        return " | ".join(one) in self._here

    def add(self, one: tuple[str, str]) -> None:
        self._here.add(" | ".join(one))
        if self._place:
            with self._place.open("a", encoding="utf-8", newline="\n") as file:
                file.write(" | ".join(one) + "\n")


MET = Noted()


def cells(page) -> list[str]:
    """The notebook's cells in order, each by its kind and whether it is folded."""
    return page.evaluate(
        """() => [...document.querySelectorAll('.jp-Notebook .jp-Cell')].map(cell => {
          const folded = cell.querySelector('.jp-Cell-inputArea.lm-mod-hidden') ? ' folded' : '';
          return [...cell.classList].filter(name => /^jp-(Code|Markdown|Raw)Cell$|rendered/
            .test(name)).join(' ') + folded;
        })"""
    )


def ends_of_kinds(kinds: list[str]) -> set[int]:
    """Where the first and the last of each kind stand in a list."""
    return {kinds.index(kind) for kind in kinds} | {
        len(kinds) - 1 - kinds[::-1].index(kind) for kind in kinds
    }


def press_all(page, frame: str, stop: str) -> None:
    """All commands, or some where such a stop of such a frame has met them all."""
    for key in SOME if (frame, stop) in MET else COMMANDS:
        page.keyboard.press(key)
    if (frame, stop) not in MET:
        MET.add((frame, stop))


def kernel_of(page) -> str:
    """Of the page's kernel what a start anew would change: which cells it has run."""
    return page.evaluate(
        """() => [...document.querySelectorAll('.jp-CodeCell .jp-InputArea-prompt')]
          .map(prompt => prompt.textContent).join(' ')"""
    )


def grave(page, *rules: str) -> list[tuple[str, str, list[str]]]:
    """(rule, help, elements) of every serious or critical violation in the outputs.

    rules: which are looked at; all that there are if none is named.
    """
    options = {"resultTypes": ["violations"]}
    if rules:
        options["runOnly"] = list(rules)
    found = axe_tool.Axe().run(page, context=".jp-OutputArea", options=options).response
    assert rules or len(found["passes"]) > 10
    return [
        (one["id"], one["help"], [node["html"][:200] for node in one["nodes"]])
        for one in found["violations"]
        if one["impact"] in GRAVE
    ]


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


def answer_a_problem(page, wait_until) -> None:
    """The student's code, a wrong answer, one that is none, a hint, and the worked solution."""
    panel = page.locator(".mensura-practice").first
    panel.scroll_into_view_if_needed()
    code = panel.get_by_label("Student code", exact=True)
    # another one first: the same code again is no news
    for student in ("Q08", "Q07"):
        code.fill(student)
        code.press("Enter")
        told = f"These are the problems of {student}"
        assert wait_until(page, lambda told=told: told in panel.inner_text())
    # the keys that were tried above may have gone to another problem
    for label in ("Topic", "Problem"):
        panel.get_by_label(label, exact=True).select_option(index=0)
    assert wait_until(page, lambda: "From a girth to a diameter" in panel.inner_text())
    box = panel.get_by_label("Answer", exact=True)
    said = panel.locator("p:is(.mensura-right, .mensura-wrong, .mensura-plain)").first
    for text, wanted in (("9999 cm", "Not right"), ("a lot", "does not count")):
        box.fill(text)
        box.press("Enter")
        assert wait_until(page, lambda wanted=wanted: wanted in said.inner_text())
    for name in ("Hint", "Worked solution"):
        panel.get_by_role("button", name=name, exact=True).click()
        assert wait_until(page, lambda name=name: said.inner_text().startswith(name))


def say_something(page, wait_until) -> None:
    """A note at a panel's box, and replies."""
    panels = page.locator(".mensura-panel")
    if panels.count():
        panel = panels.first
        panel.scroll_into_view_if_needed()
        number = panel.locator(".mensura-row input[type=text]").first
        number.fill("9999")
        number.press("Enter")
        panel.get_by_role("alert").wait_for()
    ask = page.locator(".mensura-ask").first
    ask.get_by_role("button").click()
    ask.get_by_role("status").wait_for()
    if page.locator(".mensura-own").count():
        write_some_lines(page, wait_until)
    if page.locator(".mensura-choices").count():
        answer_a_problem(page, wait_until)


#: What spoils a page, what mends it, and the rules that must find it: with sliders, with problems.
DAMAGE = {
    ".mensura-panel": (
        """() => {
      const root = document.querySelector('.mensura-panel');
      window.__kept = ['[role=slider]', '.mensura-shapes'].map(part => root.querySelector(part));
      window.__words = window.__kept.map(e => e.getAttribute('aria-label'));
      // an empty name, not none: the panel's own script gives a name where there is none
      window.__kept[0].setAttribute('aria-label', '');
      window.__kept[1].removeAttribute('aria-label');
    }""",
        """() => window.__kept.forEach(
      (e, i) => e.setAttribute('aria-label', window.__words[i]))""",
        {"role-img-alt", "aria-input-field-name"},
    ),
    ".mensura-choices": (
        """() => {
      const root = document.querySelector('.mensura-practice');
      window.__box = root.querySelector('input[placeholder]');
      window.__said = [...window.__box.labels].map(label => [label, label.htmlFor]);
      window.__said.forEach(([label]) => label.removeAttribute('for'));
      window.__kept = [['placeholder', window.__box], ['title', window.__box],
        ['alt', root.querySelector('img[src^="data:image/"]')]]
        .map(([name, e]) => [name, e, e.getAttribute(name)]);
      window.__kept.forEach(([name, e]) => e.removeAttribute(name));
    }""",
        """() => {
      window.__said.forEach(([label, id]) => label.htmlFor = id);
      window.__kept.forEach(([name, e, was]) => was === null || e.setAttribute(name, was));
    }""",
        {"image-alt", "label"},
    ),
}


class EveryPage:
    """The tests, of a page that has been run to its end: `book`."""

    def test_it_runs_without_a_fault(self, book, faults, wait_until):
        """No cell raises or warns, nothing is missing on the page, and the console is quiet."""
        page = book.page
        assert page.locator(".jp-OutputArea-output").count() > 5
        for kind in ("error", "stderr"):
            assert page.locator(f'[data-mime-type="application/vnd.jupyter.{kind}"]').count() == 0
        assert page.get_by_text(re.compile("model not found|Error displaying", re.I)).count() == 0
        assert page.locator(".mensura-frame").count() > 0
        assert faults(book.messages) == []

    def test_a_class_has_nothing_of_the_lecturers(self, book, lab):
        """No page of theirs, no button, no file of theirs asked for, no part of the module."""
        assert not (lab.folder / "lecturer").exists()
        page = book.page
        page.locator(".mensura-ask").first.wait_for()
        page.wait_for_timeout(800)
        asked = page.evaluate("performance.getEntriesByType('resource').map(one => one.name)")
        # a browser forgets the last of many files: extensions, which are among the first, it knows
        assert [url for url in asked if "/extensions/mensura-page/" in url]
        assert not [url for url in asked if "lecturer" in url]
        assert page.locator(".mensura-into").count() == 0
        told = page.locator("#jupyter-config-data").text_content()
        assert "mensura-lecturer" not in told
        assert "lesson.toml" not in told

    def test_every_panel_is_alive(self, book, wait_until, dots):
        """Each slider is named and answers a key: another picture, other words beside it."""
        page = book.page
        for k in range(page.locator(".mensura-panel").count()):
            panel = page.locator(".mensura-panel").nth(k)
            panel.scroll_into_view_if_needed()
            sliders = panel.get_by_role("slider")
            named = panel.locator("[role=slider][aria-label]")
            assert wait_until(page, lambda s=sliders, n=named: n.count() == s.count() > 0)
            image = panel.locator(".mensura-parts canvas").first
            still = []
            for at in range(sliders.count()):
                before = dots(image)
                sliders.nth(at).focus()
                page.keyboard.press("ArrowRight")
                # a road's control may move a later line than the first
                if not wait_until(
                    page,
                    lambda image=image, before=before: dots(image) != before,
                    3,
                ):
                    still.append(sliders.nth(at).get_attribute("aria-label"))
            assert len(still) < sliders.count()
            assert not still or panel.locator(".mensura-back").count()
            panel.get_by_role("button", name="As at the start", exact=True).click()
            cut = panel.evaluate(
                """root => [...root.querySelectorAll('.mensura-row .widget-label')]
                  .filter(label => label.scrollWidth > label.clientWidth + 1)
                  .map(label => label.textContent)"""
            )
            assert cut == []

    def test_pictures_have_words_and_are_not_cut(self, book):
        """Each picture of ours says what it shows, and stands on the page in its whole width."""
        seen = book.page.evaluate(
            """() => [...document.querySelectorAll(
                '.jp-OutputArea :is(img[src^="data:image/"], .mensura-parts canvas)')]
              .filter(image => image.getClientRects().length)
              .map(image => {
                const box = image.getBoundingClientRect();
                const told = image.closest('.mensura-in-parts')?.querySelector('.mensura-shapes');
                const area = image.closest('.jp-OutputArea').getBoundingClientRect();
                return {alt: told ? told.ariaLabel : image.alt,
                        out: Math.max(area.left - box.left, box.right - area.right),
                        shape: Math.abs(box.width / box.height - image.width / image.height)};
              })"""
        )
        assert [one for one in seen if len(one["alt"].split()) < 5] == []
        assert [one for one in seen if one["out"] > 2] == []

    def test_keys_stay_in_what_is_ours(self, book, wait_until):
        """On whatever takes the focus no key of JupyterLab's changes the cells, or leaves for one.

        Each kind of stop in each kind of frame meets all of them once, whichever pages come first.
        """
        page = book.page
        before = cells(page)
        kernel = kernel_of(page)
        frames = page.locator(".mensura-frame")
        kinds = frames.evaluate_all("frames => frames.map(frame => frame.className)")
        # of one kind the first frame and the last: that all are frames is held without a browser
        for k in sorted(ends_of_kinds(kinds)):
            frame = frames.nth(k)
            frame.scroll_into_view_if_needed()
            assert wait_until(page, lambda f=frame: f.get_attribute("data-keys") == "1")
            stops = frame.locator(FOCUSABLE)
            # of many alike (a panel's rows) the first; what is pressed may take others away
            stop_kinds = stops.evaluate_all(
                """stops => stops.map(
                  e => e.tagName + (e.type || '') + (e.getAttribute('role') || ''))"""
            )
            tried = 0
            for kind in sorted(set(stop_kinds)):
                stop = stops.nth(stop_kinds.index(kind))
                if not stop.is_visible() or not stop.is_enabled():
                    continue
                tried += 1
                stop.focus()
                press_all(page, kinds[k], kind)
                # a button that its own press takes away hands the focus on once the kernel answers
                assert wait_until(
                    page,
                    lambda f=frame: f.evaluate("f => f.contains(document.activeElement)"),
                    5,
                ), (k, kind)
                assert cells(page) == before, (k, kind)
                if stop.count() and stop.evaluate("e => e.matches('input[type=text]')"):
                    stop.fill("")
            assert tried
            # and where there is nothing to press: whoever clicked on words or a picture
            frame.evaluate("frame => frame.focus()")
            press_all(page, kinds[k], "the frame")
            assert cells(page) == before, k
        assert cells(page) == before
        assert page.locator(".jp-Dialog").count() == 0
        assert kernel_of(page) == kernel
        assert page.locator(".jp-NotebookPanel").get_attribute("data-mensura-page") == "alive"

    def test_no_grave_violation(self, answered):
        """Names, words of pictures, contrast, tables, roles: nothing serious in our outputs."""
        assert grave(answered) == []

    def test_the_rules_would_find_a_fault(self, answered):
        """The check itself: a control without a name and a picture without words are found."""
        kind = next(kind for kind in DAMAGE if answered.locator(kind).count())
        damage, mend, wanted = DAMAGE[kind]
        answered.evaluate(damage)
        try:
            # of the rules those that are to find it, which are among those of the test above
            rules = {rule for rule, _, _ in grave(answered, *wanted)}
        finally:
            answered.evaluate(mend)
        assert rules == wanted

    def test_everything_is_reached_by_tab(self, answered):
        """From the first control of the first panel Tab comes to all of it, in their order."""
        panel = answered.locator(".mensura-panel, .mensura-practice").first
        stops = panel.locator(
            "input:visible, button:visible, select:visible, [role=slider]:visible"
        )
        count = stops.count()
        assert count >= 6
        stops.first.focus()
        met = []
        for _ in range(count + 2):
            met.append(stops.evaluate_all("stops => stops.indexOf(document.activeElement)"))
            answered.keyboard.press("Tab")
        # what stands between (the lines of a proof) is no control
        assert [stop for stop in met if stop >= 0][:count] == list(range(count))
