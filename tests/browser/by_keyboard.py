"""A whole chapter worked by the keyboard alone, from the page's opening to its end.

No element is focused and nothing is clicked by the test: it presses keys, and looks where they led.
A file of tests that has a chapter open takes these in, before anything there is clicked.
"""

from __future__ import annotations

#: Where the focus is: the frame's place among all, and what the element is.
WHERE = """() => {
  const e = document.activeElement;
  const frames = [...document.querySelectorAll('.mensura-frame')];
  const frame = e.closest('.mensura-frame');
  e.dataset.visited = '1';
  return {
    frame: frames.indexOf(frame),
    kind: frame ? frame.className.match(/mensura-(ask|panel|practice|own|game)\\b/)[1] : '',
    what: e.type || e.getAttribute('role') || e.tagName.toLowerCase(),
    inEditor: e.closest('.cm-editor') !== null,
    seen: (box => box.bottom > 0 && box.top < innerHeight)(e.getBoundingClientRect()),
  };
}"""

#: Whatever of ours can be worked and the Tab key never came to; of choices of a group one will do.
MISSED = """() => {
  const groups = new Set([...document.querySelectorAll('input[type=radio][data-visited]')]
    .map(choice => choice.name));
  return [...document.querySelectorAll('.mensura-frame')].flatMap(frame =>
    [...frame.querySelectorAll('input, button, select, summary, [role=slider]')]
      .filter(e => e.getClientRects().length && !e.disabled && !e.dataset.visited)
      .filter(e => e.type !== 'radio' || !groups.has(e.name))
      .map(e => `${frame.className.split(' ').pop()} ${e.outerHTML.slice(0, 120)}`));
}"""

#: Stops of the page before its first question: JupyterLab's menu, tools, side bars, and our bar.
MOST_BEFORE = 40


def work(page, wait_until, kind: str, what: str) -> str:
    """Do with what has the focus what it is there for; returns what was done, "" if nothing."""
    said = page.evaluate_handle(
        "() => document.activeElement.closest('.mensura-frame')"
    ).as_element()

    def status() -> str:
        return said.evaluate(
            "frame => [...frame.querySelectorAll('[role=status]')].map(e => e.textContent).join()"
        )

    before = status()
    if kind == "ask" and what == "radio":
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Tab")
        page.evaluate(WHERE)
        page.keyboard.press("Space")
        done = "predicted"
    elif what == "text" and kind in ("ask", "practice"):
        page.keyboard.type("12.5 cm")
        page.keyboard.press("Enter")
        done = "answered"
    elif what == "slider":
        page.keyboard.press("ArrowRight")
        done = "moved"
    else:
        return ""
    assert wait_until(page, lambda: status() != before), (kind, what, before)
    return done


class ByKeyboard:
    """The tests, of a page that has been run to its end and not been touched: `book`."""

    def test_a_chapter_by_keyboard(self, book, wait_until):
        """Tab comes to each question, panel and problem in order; all are worked, none missed."""
        page, before_px = book.page, book.page.viewport_size
        page.set_viewport_size({"width": 1366, "height": 768})
        frames = page.locator(".mensura-frame").count()
        cells = page.locator(".jp-Notebook .jp-Cell").count()
        assert frames >= 8
        order, done, before = [], {}, 0
        for _ in range(300):
            page.keyboard.press("Tab")
            at = page.evaluate(WHERE)
            assert not at["inEditor"], "the Tab key ends in a cell's editor"
            if at["frame"] < 0:
                if order and order[-1] == frames - 1:
                    break
                before += not order
                assert before <= MOST_BEFORE
                continue
            assert at["seen"], "what has the focus is out of sight"
            if not order or order[-1] != at["frame"]:
                order.append(at["frame"])
            if at["frame"] not in done:
                worked = work(page, wait_until, at["kind"], at["what"])
                if worked:
                    done[at["frame"]] = worked
        assert order == list(range(frames))
        assert sorted(done) == order
        assert set(done.values()) == {"predicted", "answered", "moved"}
        assert page.evaluate(MISSED) == []
        assert page.locator(".jp-Notebook .jp-Cell").count() == cells
        # the page is left: within a few stops the focus is outside the notebook
        for _ in range(12):
            page.keyboard.press("Tab")
        assert page.evaluate("() => document.activeElement.closest('.jp-Notebook') === null")
        page.set_viewport_size(before_px)

    def test_it_is_saved_from_every_kind_of_control(self, book, lab, request):
        """Ctrl+S writes the file, whatever of ours has the focus, and types nothing."""
        page, file = book.page, lab.folder / request.module.NAME
        for selector in (
            ".mensura-ask input[type=text]",
            ".mensura-practice input[type=text]",
            ".mensura-panel input[type=text]",
            ".mensura-panel [role=slider]",
            ".mensura-panel button",
            ".mensura-ask input[type=radio]",
        ):
            stop = page.locator(selector).first
            stop.focus()
            was = file.stat().st_mtime_ns
            text = stop.evaluate("e => e.value")
            # the checkpoint is the last of it: a save that is under way is not begun anew
            with page.expect_response(lambda answer: "checkpoints" in answer.url, timeout=10_000):
                page.keyboard.press("Control+s")
            assert file.stat().st_mtime_ns > was, selector
            assert stop.evaluate("e => e.value") == text
