"""What was typed and answered on a page is there after a reload, and in a kernel started anew."""

from __future__ import annotations

import json

import pytest

from mensura.disk.kept_pages import KEPT_NAME
from mensura.disk.own_code import OWN_CODE_NAME

NAME = "02-out-of-round.ipynb"
OTHER = "03-the-proof.ipynb"


def reopened(open_workbook, lab, book, how: str, name: str = NAME):
    """The page after a reload, or opened anew with a kernel that knows nothing."""
    if how == "reload":
        book.page.reload()
        book.run_all()
        return book
    book.page.context.close()
    lab.end_kernels()
    again = open_workbook(name)
    again.run_all()
    return again


def exercises(page):
    return page.locator(".mensura-ask:has(input[type=text])")


@pytest.mark.parametrize("how", ["reload", "new kernel"])
def test_answers_and_what_is_half_typed_are_there_again(lab, open_workbook, wait_until, how):
    """A choice with its reply, an answer with its reply, a slider, and a text that was not sent."""
    lab.afresh()
    book = open_workbook(NAME)
    book.run_all()
    page = book.page
    first = page.locator(".mensura-ask").first
    first.get_by_role("radio").nth(2).check()
    first.get_by_role("button").click()
    first.get_by_role("status").wait_for()
    told = first.inner_text()

    answer = exercises(page).nth(0)
    answer.get_by_role("textbox").fill("1817 cm2")
    answer.get_by_role("textbox").press("Enter")
    answer.get_by_role("status").wait_for()
    replied = answer.get_by_role("status").inner_text()

    handle = page.locator(".mensura-panel").get_by_role("slider").first
    handle.focus()
    page.keyboard.press("End")
    most = handle.get_attribute("aria-valuemax")
    assert wait_until(page, lambda: handle.get_attribute("aria-valuenow") == most)
    panel = page.locator(".mensura-panel")
    number = panel.get_by_role("textbox").first
    assert wait_until(page, lambda: float(number.input_value()) == float(most))
    status = panel.get_by_role("status").inner_text()

    box = exercises(page).nth(1).get_by_role("textbox")
    box.click()
    page.keyboard.type("3,7 per")
    page.wait_for_timeout(1800)  # a third of a second to the kernel, a second to the disk

    page = reopened(open_workbook, lab, book, how).page
    first = page.locator(".mensura-ask").first
    assert wait_until(page, lambda: first.inner_text() == told)
    assert first.get_by_role("radio").nth(2).is_checked()
    answer = exercises(page).nth(0)
    assert answer.get_by_role("textbox").input_value() == "1817 cm2"
    assert answer.get_by_role("status").inner_text() == replied
    panel = page.locator(".mensura-panel")
    assert panel.get_by_role("slider").first.get_attribute("aria-valuenow") == most
    assert panel.get_by_role("status").inner_text() == status

    # what was half typed stands in its box, is not replied to, and counts once it is sent
    half = exercises(page).nth(1)
    box = half.get_by_role("textbox")
    assert wait_until(page, lambda: box.input_value() == "3,7 per")
    assert half.get_by_role("status").count() == 0
    box.press("Enter")
    half.get_by_role("status").wait_for()
    sent = half.get_by_role("status").inner_text()
    assert "per" in sent or "3" in sent
    assert box.input_value() == "3,7 per"


def test_a_text_put_back_is_sent_by_the_button(lab, open_workbook, wait_until):
    """The button acts on what is seen in the box, though nobody typed it since the reload."""
    lab.afresh()
    book = open_workbook(NAME)
    book.run_all()
    page = book.page
    problem = page.locator(".mensura-practice").first
    problem.get_by_role("textbox").click()
    page.keyboard.type("9999 cm")
    page.wait_for_timeout(800)
    page.reload()
    book.run_all()
    problem = page.locator(".mensura-practice").first
    box = problem.get_by_role("textbox")
    assert wait_until(page, lambda: box.input_value() == "9999 cm")
    problem.get_by_role("button", name="Check").click()
    assert wait_until(page, lambda: "Not right" in problem.get_by_role("status").first.inner_text())
    assert box.input_value() == "9999 cm"


def test_a_proof_and_a_road_are_there_again(lab, open_workbook, wait_until):
    """The student's lines, the one being written, and the step of a road, in a new kernel."""
    lab.afresh()
    book = open_workbook(OTHER)
    book.run_all()
    page = book.page
    own = page.locator(".mensura-own")
    box = own.get_by_label("Your line")
    box.fill("(a-b)^2 > 0")
    box.press("Enter")
    assert wait_until(page, lambda: box.input_value() == "")
    chain = own.locator(".mensura-chain").inner_text()
    box.click()
    page.keyboard.type("a^2 +")
    road = page.locator(".mensura-panel:has(.mensura-next)").first
    road.locator(".mensura-next").click()
    assert wait_until(page, lambda: "Line 2 of" in road.inner_text())
    lines = road.locator(".mensura-lines").inner_text()
    page.wait_for_timeout(1800)

    page = reopened(open_workbook, lab, book, "new kernel", OTHER).page
    own = page.locator(".mensura-own")
    assert wait_until(page, lambda: own.locator(".mensura-chain").inner_text() == chain)
    assert wait_until(page, lambda: own.get_by_label("Your line").input_value() == "a^2 +")
    road = page.locator(".mensura-panel:has(.mensura-next)").first
    assert road.locator(".mensura-lines").inner_text() == lines


def test_start_afresh(lab, open_workbook, wait_until):
    """By the bar's button everything on the page is as at its start, and stays so."""
    book = open_workbook(NAME)
    book.run_all()
    page = book.page
    first = page.locator(".mensura-ask").first
    first.get_by_role("radio").nth(1).check()
    page.wait_for_timeout(1500)
    page.locator(".mensura-bar [data-does=afresh]").click()
    page.locator(".mensura-bar [data-does=yes]").click()
    page.wait_for_selector('.jp-NotebookPanel:not([data-mensura-page="alive"])', timeout=20000)
    book.run_all()
    assert wait_until(
        page, lambda: page.locator(".mensura-ask").first.get_by_role("radio").count() > 0
    )
    assert page.locator(".mensura-ask input:checked").count() == 0
    page.wait_for_timeout(1500)
    kept = json.loads((lab.folder / KEPT_NAME).read_text("utf-8"))["students"]
    assert not kept.get("", {}).get(NAME)


def test_whose_page_it_is(lab, open_workbook, wait_until):
    """Given in the bar a code is known on every page; another student finds a page of her own."""
    lab.afresh()
    (lab.folder / OWN_CODE_NAME).unlink(missing_ok=True)
    book = open_workbook(NAME)
    book.run_all()
    page = book.page

    def give(code: str) -> None:
        bar = page.locator(".mensura-bar")
        if bar.locator("[data-does=code]").count():
            bar.locator("[data-does=code]").click()
        bar.locator("[data-does=box]").fill(code)
        bar.locator("[data-does=box]").press("Enter")
        bar.get_by_text(f"Student code {code}").wait_for()

    def answers() -> tuple[int, str]:
        chosen = page.locator(".mensura-ask").first.locator("input:checked").count()
        return chosen, exercises(page).first.get_by_role("textbox").input_value()

    page.locator(".mensura-ask").first.get_by_role("radio").nth(1).check()
    exercises(page).first.get_by_role("textbox").click()
    page.keyboard.type("18")
    page.wait_for_timeout(700)
    try:
        give("Q07")
        assert wait_until(page, lambda: answers() == (1, "18"))
        give("Q08")
        assert wait_until(page, lambda: answers() == (0, ""))
        give("Q07")
        assert wait_until(page, lambda: answers() == (1, "18"))
        page = reopened(open_workbook, lab, book, "new kernel", OTHER).page
        page.locator(".mensura-bar").get_by_text("Student code Q07").wait_for()
    finally:
        (lab.folder / OWN_CODE_NAME).unlink(missing_ok=True)


def test_what_cannot_answer_says_so(lab, open_workbook, wait_until):
    """The kernel is taken away: each frame tells it and looks it, and nothing typed is lost."""
    lab.afresh()
    book = open_workbook(NAME)
    book.run_all()
    page = book.page
    box = exercises(page).first.get_by_role("textbox")
    box.click()
    page.keyboard.type("18")
    page.wait_for_timeout(1600)
    frames = page.locator(".mensura-frame").count()
    lab.end_kernels()
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
    alarm = exercises(page).first.get_by_role("alert")
    assert len(alarm.inner_text().split()) > 5
    alarm.get_by_role("button", name="Start again").click()
    book.run_all()
    assert wait_until(page, lambda: page.locator(".mensura-dead").count() == 0)
    assert page.locator(".mensura-alarm").count() == 0
    assert exercises(page).first.get_by_role("textbox").input_value() == "18"
    handle = page.locator(".mensura-panel").get_by_role("slider").first
    before = handle.get_attribute("aria-valuenow")
    handle.focus()
    page.keyboard.press("ArrowRight")
    assert wait_until(page, lambda: handle.get_attribute("aria-valuenow") != before)
