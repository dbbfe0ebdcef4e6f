"""What was typed and answered on a page is there after a reload, and in a kernel started anew.

One small page of questions, panels, problem and proof is written on once; then it is loaded anew,
then its kernel is another one, then it begins afresh. A second page like it follows. Each test also
stands alone: what it needs is done before it if it has not been done.
"""

from __future__ import annotations

import json
from types import SimpleNamespace

import nbformat
import pytest

from mensura.disk.kept_pages import KEPT_NAME
from mensura.disk.own_code import OWN_CODE_NAME

NAME, OTHER = "kept-page.ipynb", "other-page.ipynb"
CELLS = (
    "from mensura.views import ask\n"
    "from mensura.views.chapters.girth import GIRTH_PANEL\n"
    "from mensura.views.problems.practice import problems_here\n"
    "from mensura.views.proof.own_line import own_line\n"
    "from mensura.views.proof.panel import proof_panel",
    "ask('02-predict')",
    "ask('02-1')",
    "ask('02-2')",
    "ask('02-3')",
    "GIRTH_PANEL",
    "problems_here('girth-to-diameter')",
    "proof_panel('classroom')",
    "own_line()",
)


class Sitting:
    """One page is open at a time."""

    def __init__(self, lab, open_once) -> None:
        self.lab, self.open_once, self.book = lab, open_once, None
        for name in (NAME, OTHER):
            cells = [nbformat.v4.new_code_cell(cell) for cell in CELLS]
            kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
            notebook = nbformat.v4.new_notebook(cells=cells, metadata={"kernelspec": kernel})
            nbformat.write(notebook, lab.folder / name)

    def turn_to(self, name: str):
        """A page opened in a kernel that knows nothing; whatever was open is closed before."""
        if self.book:
            self.book.page.context.close()
        self.lab.end_kernels()
        self.book = self.open_once(name)
        self.book.run_all()
        return self.book.page

    def kept(self):
        """What lies on the disk, by student and page."""
        path = self.lab.folder / KEPT_NAME
        return json.loads(path.read_text("utf-8"))["students"] if path.exists() else {}


@pytest.fixture(scope="module")
def sitting(fresh_lab, open_once):
    code = fresh_lab.folder / OWN_CODE_NAME
    code.unlink(missing_ok=True)
    yield Sitting(fresh_lab, open_once)
    code.unlink(missing_ok=True)


def parts(page) -> SimpleNamespace:
    """What is written on."""
    exercises = page.locator(".mensura-ask:has(input[type=text])")
    own = page.locator(".mensura-own")
    return SimpleNamespace(
        choice=page.locator(".mensura-ask").first,
        answered=exercises.nth(0),
        half=exercises.nth(1),
        other_half=exercises.nth(2),
        panel=page.locator(".mensura-panel:not(:has(.mensura-next))"),
        road=page.locator(".mensura-panel:has(.mensura-next)"),
        problem=page.locator(".mensura-practice"),
        own=own,
        line=own.get_by_label("Your line"),
    )


@pytest.fixture(scope="module")
def written(sitting, wait_until):
    """The page with something in each of its frames, all of it on the disk; what they say then."""
    page = sitting.turn_to(NAME)
    on = parts(page)
    on.choice.get_by_role("radio").nth(2).check()
    on.choice.get_by_role("button").click()
    on.choice.get_by_role("status").wait_for()
    told = {"choice": on.choice.inner_text()}

    on.answered.get_by_role("textbox").fill("1817 cm2")
    on.answered.get_by_role("textbox").press("Enter")
    on.answered.get_by_role("status").wait_for()
    told["reply"] = on.answered.get_by_role("status").inner_text()

    handle = on.panel.get_by_role("slider").first
    handle.focus()
    page.keyboard.press("End")
    most = told["most"] = handle.get_attribute("aria-valuemax")
    assert wait_until(page, lambda: handle.get_attribute("aria-valuenow") == most)
    number = on.panel.get_by_role("textbox").first
    assert wait_until(page, lambda: float(number.input_value()) == float(most))
    told["status"] = on.panel.get_by_role("status").inner_text()

    on.line.fill("(a-b)^2 > 0")
    on.line.press("Enter")
    assert wait_until(page, lambda: on.line.input_value() == "")
    told["chain"] = on.own.locator(".mensura-chain").inner_text()
    on.line.click()
    page.keyboard.type("a^2 +")
    on.road.locator(".mensura-next").click()
    assert wait_until(page, lambda: "Line 2 of" in on.road.inner_text())
    told["lines"] = on.road.locator(".mensura-lines").inner_text()

    half_type(sitting, wait_until, on.half, "3,7 per")
    assert "a^2 +" in json.dumps(sitting.kept())
    return told


def half_type(sitting, wait_until, frame, text: str) -> None:
    """Types into a frame's box and does not leave it, which would send it; until it is kept."""
    page = sitting.book.page
    frame.get_by_role("textbox").click()
    page.keyboard.type(text)
    assert wait_until(page, lambda: f'"{text}"' in json.dumps(sitting.kept()))


def all_is_there(page, wait_until, told) -> SimpleNamespace:
    """A choice and an answer with their replies, slider, road, lines, and what is half typed."""
    on = parts(page)
    assert wait_until(page, lambda: on.choice.inner_text() == told["choice"])
    assert on.choice.get_by_role("radio").nth(2).is_checked()
    assert wait_until(page, lambda: on.answered.get_by_role("textbox").input_value() == "1817 cm2")
    assert on.answered.get_by_role("status").inner_text() == told["reply"]
    handle = on.panel.get_by_role("slider").first
    assert wait_until(page, lambda: handle.get_attribute("aria-valuenow") == told["most"])
    assert on.panel.get_by_role("status").inner_text() == told["status"]
    chain = on.own.locator(".mensura-chain")
    assert wait_until(page, lambda: chain.inner_text() == told["chain"])
    assert wait_until(page, lambda: on.line.input_value() == "a^2 +")
    assert on.road.locator(".mensura-lines").inner_text() == told["lines"]
    return on


def is_put_back(page, wait_until, exercise, text: str, said: str) -> None:
    """What was half typed stands in its box, is not replied to, and counts once it is sent."""
    box = exercise.get_by_role("textbox")
    assert wait_until(page, lambda: box.input_value() == text)
    assert exercise.get_by_role("status").count() == 0
    box.press("Enter")
    exercise.get_by_role("status").wait_for()
    assert said in exercise.get_by_role("status").inner_text()
    assert box.input_value() == text


@pytest.fixture(scope="module")
def reloaded(sitting, written):
    """The page after a reload, in the same kernel."""
    sitting.book.page.reload()
    sitting.book.run_all()
    return sitting.book.page


def test_answers_and_what_is_half_typed_are_there_after_a_reload(reloaded, wait_until, written):
    """All of it; and one text that was not sent, is."""
    on = all_is_there(reloaded, wait_until, written)
    is_put_back(reloaded, wait_until, on.half, "3,7 per", "unit ‘per’")


def test_a_text_put_back_is_sent_by_the_button(sitting, reloaded, wait_until):
    """The button acts on what is seen in the box, though nobody typed it since the reload."""
    problem = parts(reloaded).problem
    half_type(sitting, wait_until, problem, "9999 cm")
    reloaded.reload()
    sitting.book.run_all()
    box, said = problem.get_by_role("textbox"), problem.get_by_role("status").first
    assert wait_until(reloaded, lambda: box.input_value() == "9999 cm")
    problem.get_by_role("button", name="Check").click()
    assert wait_until(reloaded, lambda: "Not right" in said.inner_text())
    assert box.input_value() == "9999 cm"


@pytest.fixture(scope="module")
def anew(sitting, reloaded, wait_until):
    """The page closed, and opened anew with a kernel that knows nothing."""
    half_type(sitting, wait_until, parts(reloaded).other_half, "180")
    return sitting.turn_to(NAME)


def test_answers_and_what_is_half_typed_are_there_in_a_new_kernel(anew, wait_until, written):
    """All of it; and the other text that was not sent, is."""
    on = all_is_there(anew, wait_until, written)
    is_put_back(anew, wait_until, on.other_half, "180", "too small by a factor of 10")


def test_start_afresh(sitting, anew, wait_until):
    """By the bar's button everything on the page is as at its start, and stays so."""
    on = parts(anew)
    on.choice.get_by_role("radio").nth(1).check()
    assert wait_until(anew, lambda: bool(sitting.kept().get("", {}).get(NAME)))
    anew.locator(".mensura-bar [data-does=afresh]").click()
    anew.locator(".mensura-bar [data-does=yes]").click()
    anew.wait_for_selector('.jp-NotebookPanel:not([data-mensura-page="alive"])', timeout=20000)
    sitting.book.run_all()
    assert wait_until(anew, lambda: on.choice.get_by_role("radio").count() > 0)
    assert anew.locator(".mensura-ask input:checked").count() == 0
    assert on.answered.get_by_role("textbox").input_value() == ""
    anew.wait_for_timeout(1500)  # a third of a second to the kernel, a second to the disk
    assert not sitting.kept().get("", {}).get(NAME)


def test_whose_page_it_is(sitting, anew, wait_until):
    """Given in the bar a code is known on every page; another student finds a page of her own."""
    on, bar = parts(anew), anew.locator(".mensura-bar")
    box = on.answered.get_by_role("textbox")

    def give(code: str) -> None:
        if bar.locator("[data-does=code]").count():
            bar.locator("[data-does=code]").click()
        bar.locator("[data-does=box]").fill(code)
        bar.locator("[data-does=box]").press("Enter")
        bar.get_by_text(f"Student code {code}").wait_for()

    def answers() -> tuple[int, str]:
        return on.choice.locator("input:checked").count(), box.input_value()

    on.choice.get_by_role("radio").nth(1).check()
    box.fill("")
    box.click()
    anew.keyboard.type("18")
    assert wait_until(anew, lambda: '"18"' in json.dumps(sitting.kept().get("", {}).get(NAME)))
    give("Q07")
    assert wait_until(anew, lambda: answers() == (1, "18"))
    give("Q08")
    assert wait_until(anew, lambda: answers() == (0, ""))
    give("Q07")
    assert wait_until(anew, lambda: answers() == (1, "18"))
    page = sitting.turn_to(OTHER)
    page.locator(".mensura-bar").get_by_text("Student code Q07").wait_for()


@pytest.fixture(scope="module")
def other(sitting):
    """The second page, as the test before has left it or opened now."""
    if sitting.book and OTHER in sitting.book.page.url:
        return sitting.book.page
    return sitting.turn_to(OTHER)


def test_what_cannot_answer_says_so(sitting, other, wait_until):
    """The kernel is taken away: each frame tells it and looks it, and nothing typed is lost."""
    page, exercise = other, parts(other).answered
    box = exercise.get_by_role("textbox")
    box.click()
    page.keyboard.type("18")
    assert wait_until(
        page, lambda: '"18"' in json.dumps([s.get(OTHER) for s in sitting.kept().values()])
    )
    frames = page.locator(".mensura-frame").count()
    assert frames == len(CELLS) - 1
    sitting.lab.end_kernels()
    assert wait_until(page, lambda: page.locator(".mensura-dead").count() == frames, 6)
    assert page.locator(".mensura-frame .mensura-alarm").count() == frames
    assert box.input_value() == "18"
    assert box.get_attribute("aria-disabled") == "true"
    page.keyboard.type("9")
    assert box.input_value() == "18"
    live = "button, select, input[type=radio], input[type=checkbox], [role=slider]"
    left = page.locator(".mensura-frame").evaluate_all(
        "(frames, live) => frames.flatMap(frame => [...frame.querySelectorAll(live)])"
        # which part of a picture is seen is no matter of the kernel's
        ".filter(e => !e.closest('[inert], .mensura-alarm, .mensura-part-names')).length",
        live,
    )
    assert left == 0
    assert page.locator(".jp-Dialog").count() == 0
    alarm = exercise.get_by_role("alert")
    assert len(alarm.inner_text().split()) > 5
    alarm.get_by_role("button", name="Start again").click()
    sitting.book.run_all()
    assert wait_until(page, lambda: page.locator(".mensura-dead").count() == 0)
    assert page.locator(".mensura-alarm").count() == 0
    assert wait_until(page, lambda: box.input_value() == "18")
    handle = page.locator(".mensura-panel").get_by_role("slider").first
    before = handle.get_attribute("aria-valuenow")
    handle.focus()
    page.keyboard.press("ArrowRight")
    assert wait_until(page, lambda: handle.get_attribute("aria-valuenow") != before)
