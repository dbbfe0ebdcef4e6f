"""What was typed and answered on a page is there after a reload, and in a kernel started anew."""

from __future__ import annotations

import json
import urllib.request

import pytest

from mensura.disk.kept_pages import KEPT_NAME

NAME = "02-out-of-round.ipynb"
OTHER = "03-the-proof.ipynb"


def asked(lab, path: str, method: str = "GET"):
    """What the server answers to a request."""
    request = urllib.request.Request(f"{lab.url}api/{path}?token={lab.token}", method=method)
    with urllib.request.urlopen(request, timeout=30) as answer:
        text = answer.read()
    return json.loads(text) if text else None


def end_kernels(lab) -> None:
    """As a restart of the server does: every kernel ends."""
    for session in asked(lab, "sessions"):
        asked(lab, f"sessions/{session['id']}", "DELETE")


def reopened(open_workbook, lab, book, how: str, name: str = NAME):
    """The page after a reload, or opened anew with a kernel that knows nothing."""
    if how == "reload":
        book.page.reload()
        book.run_all()
        return book
    book.page.context.close()
    end_kernels(lab)
    again = open_workbook(name)
    again.run_all()
    return again


def exercises(page):
    return page.locator(".mensura-ask:has(input[type=text])")


@pytest.mark.parametrize("how", ["reload", "new kernel"])
def test_answers_and_what_is_half_typed_are_there_again(lab, open_workbook, wait_until, how):
    """A choice with its reply, an answer with its reply, a slider, and a text that was not sent."""
    end_kernels(lab)
    (lab.folder / KEPT_NAME).unlink(missing_ok=True)
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
    end_kernels(lab)
    (lab.folder / KEPT_NAME).unlink(missing_ok=True)
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
    end_kernels(lab)
    (lab.folder / KEPT_NAME).unlink(missing_ok=True)
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
