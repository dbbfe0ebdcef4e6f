"""Workbook 03 in a real browser: a road unfolds, a student proves the theorem, a page is kept.

What the panels show is compared with the model for the same state, the picture byte for byte. The
student's lines are typed as a student types them; what is said to them is worked out again here.
"""

from __future__ import annotations

import html
import re
from typing import Any

import pytest
from every_page import EveryPage

from mensura.teaching.lessons.questions import question
from mensura.teaching.proof import ROADS, road
from mensura.views.kit.live import Live
from mensura.views.proof.own_line import NOTATION
from mensura.views.proof.panel import new_picture, picture_key, proof_panel

NAME = "03-the-proof.ipynb"

#: Up from what is given, by squares; each line as it is typed, and as it is read.
SQUARES = (
    ("(a-b)^2 > 0", "(a − b)² > 0"),
    ("a^2 - 2ab + b^2 > 0", "a² − 2ab + b² > 0"),
    ("a^2 + b^2 > 2ab", "a² + b² > 2ab"),
    ("pi/2 (a^2 + b^2) > pi a b", "π/2·(a² + b²) > πab"),
)
#: What draws each of a road's pictures, for all of its states.
DRAWN: dict[Any, Live[Any]] = {}

#: Up from what is given, by square roots.
ROOTS = ("(√a - √b)^2 > 0", "a + b > 2 sqrt(ab)", "(a+b)^2 > 4ab", "a² + b² > 2ab")


def test_all_of_it_is_there(book):
    """Four roads and the student's own line."""
    page = book.page
    assert page.locator(".jp-OutputArea-output").count() >= 20
    assert page.locator(".mensura-proof").count() == len(ROADS) == 4
    assert page.locator(".mensura-own").count() == 1
    assert page.get_by_text("Traceback (most recent call last)").count() == 0


class TestEveryPage(EveryPage):
    """As it opens; whatever is tried below begins anew."""


# ---- the roads -----------------------------------------------------------------------------------


class ShownRoad:
    """One road's panel in the page, beside its declaration."""

    def __init__(self, book, name, cells_of, wait_until, shows_picture):
        self.shows_picture = shows_picture
        self.page, self.panel = book.page, proof_panel(name)
        self.root = book.page.locator(".mensura-proof").nth(ROADS.index(name))
        self.cells_of, self.wait_until = cells_of, wait_until

    def button(self, name):
        return self.root.get_by_role("button", name=name, exact=True)

    def next(self):
        self.button("Next line ▶").click()

    def back(self):
        self.button("◀ Back one line").click()

    def handle(self, name):
        return self.root.get_by_role("slider", name=name, exact=True)

    def reset(self):
        self.button("As at the start").click()
        for _ in self.panel.way.steps:
            self.back()
        self.expect(step=1)

    def seen(self):
        return self.root.evaluate(
            """root => ({
              alt: root.querySelector('.mensura-shapes').ariaLabel,
              cells: [...root.querySelectorAll('.mensura-table th, .mensura-table td')]
                .map(cell => cell.textContent),
              status: root.querySelector('[role=status]').textContent,
              place: root.querySelector('.mensura-place').textContent,
              lines: [...root.querySelectorAll('.mensura-lines .mensura-line')]
                .map(line => line.textContent),
              present: root.querySelector('[aria-current=step] .mensura-line').textContent,
            })"""
        )

    def dots(self):
        return self.root.locator(".mensura-parts canvas").first.evaluate("e => e.toDataURL()")

    def expect(self, **changes):
        """Holds that the page shows what the model says of a state."""
        shown = self.panel.numbers(**self.panel.start() | changes)
        key = picture_key(shown)
        live = DRAWN[key] = DRAWN.get(key) or Live(new_picture(shown))
        wanted = {
            "alt": live.picture.describe(shown),
            "cells": self.cells_of(self.panel.readout(shown)),
            "status": self.panel.status(shown),
            "place": self.panel.stepper.place(shown.step),
            "lines": [step.line for step in self.panel.way.steps[: shown.step]],
            "present": shown.present.line,
        }
        self.wait_until(self.page, lambda: wanted.items() <= self.seen().items())
        seen = self.seen()
        assert {key: seen[key] for key in wanted} == wanted
        assert self.shows_picture(self.root, live, shown)


def cells_in(text):
    """What stands in the cells of an HTML table, in order."""
    found = re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", text, re.S)
    return [html.unescape(re.sub(r"<[^>]+>", "", cell)) for cell in found]


@pytest.fixture
def shown(book, wait_until, shows_picture):
    """Function that finds a road's panel, at its first line."""

    def find(name):
        panel = ShownRoad(book, name, cells_in, wait_until, shows_picture)
        panel.root.scroll_into_view_if_needed()
        panel.reset()
        return panel

    return find


def test_the_classroom_s_road_unfolds_by_buttons(shown):
    """Line by line to the last, each with its picture and both sides; then back."""
    panel = shown("classroom")
    count = len(panel.panel.way.steps)
    for step in range(2, count + 1):
        panel.next()
        panel.expect(step=step)
    panel.next()
    panel.expect(step=count)
    assert "the last" in panel.seen()["place"]
    for step in range(count - 1, count - 4, -1):
        panel.back()
        panel.expect(step=step)


def test_the_classroom_s_road_unfolds_by_arrow_keys(shown):
    """A click into the picture, then the keys; on a slider they move the slider instead."""
    panel = shown("classroom")
    panel.root.locator(".mensura-parts canvas").first.click()
    for step in (2, 3, 4, 5, 6, 7):
        panel.page.keyboard.press("ArrowRight")
        panel.expect(step=step)
    panel.page.keyboard.press("ArrowLeft")
    panel.expect(step=6)
    panel.handle("half-axis b, cm").focus()
    panel.page.keyboard.press("ArrowLeft")
    panel.expect(step=6, b_cm=23.5)


def test_a_slider_moves_both_sides(shown):
    """(a − b)² > 0 and the line with two squares: both sides of each, as numbers of this test."""
    panel = shown("classroom")
    for _ in range(6):
        panel.next()
    panel.expect(step=7)
    before, dots = panel.seen(), panel.dots()
    panel.handle("half-axis b, cm").focus()
    for _ in range(4):
        panel.page.keyboard.press("ArrowLeft")
    panel.expect(step=7, b_cm=22)
    after = panel.seen()
    rows = [[*after["cells"]][at : at + 4] for at in range(0, len(after["cells"]), 4)]
    told = {row[0]: row[1:] for row in rows}
    assert told["5. a² + b² > 2ab"] == ["1384.0 cm²", "1320.0 cm²", "64.0 cm²"]  # 30, 22
    assert told["▶ 7. (a − b)² > 0"] == ["64.0 cm²", "0.0 cm²", "64.0 cm²"]
    assert "36.0 cm²" in before["status"]
    assert panel.dots() != dots
    panel.button("a = b").click()
    panel.expect(step=7, a_cm=30, b_cm=30)
    assert "so > fails: it needs a ≠ b" in panel.seen()["status"]


@pytest.mark.parametrize("name", ["ellipse", "outline", "calipers"])
def test_the_other_roads_reach_their_end(shown, name):
    """To the last line, under which stands what a class takes home."""
    panel = shown(name)
    count = len(panel.panel.way.steps)
    for _ in range(count - 1):
        panel.next()
    panel.expect(step=count)
    assert road(name).says in panel.root.inner_text()


# ---- the student's own line ----------------------------------------------------------------------


class OwnProof:
    """The student's own line in the page."""

    def __init__(self, page, wait_until):
        self.page, self.wait_until = page, wait_until
        self.root = page.locator(".mensura-own")
        self.box = self.root.get_by_label("Your line")
        self.status = self.root.get_by_role("status")

    def button(self, name):
        return self.root.get_by_role("button", name=name, exact=True)

    def press(self, name, seconds=5):
        """Presses a button and returns what is said then, which may be the same as before."""
        before = self.said
        self.button(name).click()
        self.wait_until(self.page, lambda: self.said != before, seconds)
        return self.said

    @property
    def said(self):
        return self.status.inner_text()

    @property
    def lines(self):
        """The lines on the page from top to bottom; the gap is one of them."""
        return self.root.locator(".mensura-line, .mensura-gap, .proof .line").all_inner_texts()

    def choose(self, sign):
        self.root.get_by_role("radio", name=re.compile(f"^{sign}")).check()

    def put(self, sign, text):
        """Types a line and presses Enter; returns the reply."""
        self.choose(sign)
        before = self.said
        self.box.fill("")
        self.box.press_sequentially(text)
        self.box.press("Enter")
        assert self.wait_until(self.page, lambda: self.said != before), text
        said = self.said
        if said.startswith(("Equivalent: ", "Weaker: ")):
            # the box is emptied a moment later, and would be with the next line already in it
            assert self.wait_until(self.page, lambda: self.box.input_value() == ""), text
        return said

    def clear(self):
        """Takes back all that stands there."""
        longer = self.root.get_by_role("checkbox", name=re.compile("longer half-axis"))
        while self.press("Undo") != "There is no line to take back.":
            pass
        self.box.fill("")
        if longer.is_checked():
            longer.uncheck()
        assert self.wait_until(self.page, lambda: len(self.lines) == 3)


@pytest.fixture
def own(book, wait_until):
    """The student's proof, with nothing written yet."""
    proof = OwnProof(book.page, wait_until)
    proof.root.scroll_into_view_if_needed()
    proof.press("Hint")
    proof.clear()
    return proof


def test_it_opens_with_a_gap(own):
    """The theorem, a gap, what is given."""
    top, gap, bottom = own.lines
    assert (top, bottom) == ("A_tape > A_cal", "a ≠ b")
    assert gap.startswith("gap")


def test_forwards_by_squares_and_by_keyboard_alone(own):
    """⇒ from a ≠ b to the theorem: once the focus is there, keys do all."""
    keyboard = own.page.keyboard
    radio = own.root.get_by_role("radio")
    radio.first.focus()
    keyboard.press("ArrowDown")
    assert own.wait_until(own.page, radio.last.is_checked)
    keyboard.press("ArrowUp")
    assert own.wait_until(own.page, radio.first.is_checked)
    keyboard.press("Tab")
    for count, (text, read) in enumerate(SQUARES, 1):
        assert own.wait_until(own.page, lambda: own.box.input_value() == "")
        before = own.said
        keyboard.type(text)
        keyboard.press("Enter")
        assert own.wait_until(own.page, lambda before=before: own.said != before), text
        assert own.said.startswith("Equivalent: ")
        if count < len(SQUARES):
            assert own.wait_until(own.page, lambda: len(own.lines) == 3 + count)  # noqa: B023
            assert own.lines[-1 - count] == read
            assert "Proved" not in own.said
    assert own.said.endswith(
        "Proved: the lines run from what is given to the theorem without a gap."
    )
    assert own.wait_until(own.page, lambda: "gap" not in " ".join(own.lines))
    assert own.lines == ["a ≠ b", *(read for _, read in SQUARES), "A_tape > A_cal"]


def test_keys_pressed_here_are_no_commands_of_the_notebook(own):
    """A letter on the choice goes to the box, on a button nowhere; no cell comes or goes."""
    cells = "document.querySelectorAll('.jp-Cell').length"
    count = own.page.evaluate(cells)
    own.root.get_by_role("radio").first.focus()
    own.page.keyboard.type("b^2 > a")
    assert own.box.input_value() == "b^2 > a"
    own.button("Show a line").focus()
    own.page.keyboard.type("abdd")
    own.page.keyboard.press("ArrowDown")
    own.page.wait_for_timeout(300)
    assert own.page.evaluate(cells) == count
    assert own.box.input_value() == "b^2 > a"
    # Shift and Enter would run the cell, and with it a proof would be gone
    own.put("⇒", "(a-b)^2 > 0")
    own.box.fill("a^2 + b^2 > 2ab")
    own.box.press("Shift+Enter")
    assert own.wait_until(own.page, lambda: own.lines[-3:-1] == ["a² + b² > 2ab", "(a − b)² > 0"])


def test_backwards_from_the_theorem(own):
    """⇐ all the way down to a square that is above zero since a ≠ b."""
    for text, read in SQUARES[:0:-1]:
        assert own.put("⇐", text).startswith("Equivalent: ")
        assert own.wait_until(own.page, lambda read=read: read in own.lines)
        assert "Proved" not in own.said
    assert "Proved" in own.put("⇐", SQUARES[0][0])
    assert own.wait_until(own.page, lambda: own.lines[-1] == "A_tape > A_cal")
    # the finished proof is read the other way round: from what is given
    assert own.lines == ["a ≠ b", *(read for _, read in SQUARES), "A_tape > A_cal"]


def test_by_roots_and_meeting_in_the_middle(own):
    """Another route: from above to the two squares, from below by square roots."""
    assert own.put("⇐", "sqrt((a^2+b^2)/2) > sqrt(ab)").startswith(
        "Equivalent: √((a² + b²)/2) > √(ab). Both sides were"
    )
    assert own.put("⇐", "(a²+b²)/2 > ab").startswith(
        "Equivalent: (a² + b²)/2 > ab. Both sides were squared"
    )
    for text in ROOTS:
        reply = own.put("⇒", text)
        assert reply.startswith("Equivalent: ")
        assert "Proved" not in reply
    assert "Proved" in own.put("⇒", "(a² + b²)/2 > ab")
    assert own.wait_until(own.page, lambda: own.lines[-1] == "A_tape > A_cal")
    assert own.lines == [
        "a ≠ b",
        "(√a − √b)² > 0",
        "a + b > 2√(ab)",
        "(a + b)² > 4ab",
        "a² + b² > 2ab",
        "(a² + b²)/2 > ab",
        "√((a² + b²)/2) > √(ab)",
        "A_tape > A_cal",
    ]


def test_a_wrong_line_gets_numbers_and_stays(own):
    """A counterexample with a and b plugged in on both sides; nothing typed is lost."""
    own.put("⇒", "(a-b)^2 > 0")
    own.wait_until(own.page, lambda: len(own.lines) == 4)
    before = own.lines
    reply = own.put("⇒", "a^2 + b^2 > 3ab")
    told = re.fullmatch(
        r"False\. With a = ([\d.]+) and b = ([\d.]+) the left side is ([\d.]+) and the right side "
        r"([\d.]+); .* is not greater than .*",
        reply,
    )
    assert told, reply
    a, b, left, right = map(float, told.groups())
    assert a > 0
    assert b > 0
    assert a != b
    assert (left, right) == (a * a + b * b, 3 * a * b)
    assert left <= right
    own.page.wait_for_timeout(300)
    assert own.box.input_value() == "a^2 + b^2 > 3ab"
    assert own.lines == before
    # and so does a line that cannot be read
    assert own.put("⇒", "(a-b))^2 > 0").startswith("Not read. Place 6: ")
    assert own.box.input_value() == "(a-b))^2 > 0"


def test_a_weaker_line_follows_and_is_not_enough(own):
    """≥ for >: with ⇒ it stands there, with ⇐ it is refused."""
    own.put("⇐", "a^2 + b^2 > 2ab")
    assert own.put("⇐", "a^2 + b^2 >= 2ab").startswith("Weaker. ")
    assert own.box.input_value() == "a^2 + b^2 >= 2ab"
    own.put("⇒", "(a-b)^2 > 0")
    assert own.put("⇒", "a^2 + b^2 >= 2ab").startswith("Weaker: ")
    assert own.wait_until(own.page, lambda: "a² + b² ≥ 2ab" in own.lines)


def test_a_longer_half_axis_must_be_said_first(own):
    """a > b is false until the sentence is said."""
    assert "let a be the longer half-axis" in own.put("⇒", "a - b > 0")
    own.root.get_by_role("checkbox", name=re.compile("longer half-axis")).check()
    own.wait_until(own.page, lambda: own.said.startswith("Said: "))
    assert own.put("⇒", "a - b > 0").startswith("Equivalent: ")
    assert own.put("⇒", "(a-b)^2 > 0").startswith("Equivalent: ")
    assert "Proved" in own.put("⇒", "A_tape > A_cal")


def test_undo_hint_and_a_line_that_would_do(own):
    """The last line comes back into the box; hints rise; the line that is shown is accepted."""
    own.put("⇒", "(a-b)^2 > 0")
    own.put("⇒", "a^2 + b^2 > 2ab")
    assert own.press("Undo") == "Taken back: a² + b² > 2ab"
    assert own.box.input_value() == "a^2 + b^2 > 2ab"
    assert own.wait_until(own.page, lambda: own.lines[1].endswith("follows from (a − b)² > 0"))
    hints = [own.press("Hint") for _ in range(3)]
    assert len(set(hints)) == 3
    assert hints[0].startswith("From (a − b)² > 0: ")
    assert hints[-1].startswith("It begins with ")
    line = own.press("Show a line").partition("would do: ")[2]
    assert own.put("⇒", line).startswith("Equivalent: ")


def test_every_example_of_notation_is_read(own):
    """What the help says may be typed is understood, whatever is said to it."""
    for typed, _ in NOTATION:
        reply = own.put("⇐", typed)
        assert not reply.startswith("Not read."), reply
        if own.box.input_value() == "":
            own.press("Undo")
            # the line comes back to the box: only then is the box free for the next one
            assert own.wait_until(own.page, lambda typed=typed: own.box.input_value() == typed)


def test_the_saved_page_needs_no_network(own, lab, chromium):
    """Saved, opened from disk with the network shut: lines, reasons, picture and its words."""
    for text, _ in SQUARES:
        assert own.put("⇒", text).startswith("Equivalent: ")
    reply = own.press("Save as a page", 20)
    name = re.fullmatch(
        r"Saved as (my-proof(?:-\d+)?\.html), in the folder of this notebook\.", reply
    )
    assert name, reply
    context = chromium.new_context(offline=True)
    asked, troubles = [], []
    try:
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda message: troubles.append(message.text))
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.goto((lab.folder / name[1]).as_uri())
        assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
        assert page.title() == "My proof: A_tape > A_cal"
        lines = page.locator(".proof .line").all_inner_texts()
        assert lines == ["a ≠ b", *(read for _, read in SQUARES), "A_tape > A_cal"]
        signs = page.locator(".proof .sign").all_inner_texts()
        assert signs == ["", *["⇒"] * 5]
        picture = page.locator("img")
        assert picture.count() == 1
        assert picture.evaluate("i => i.complete && i.naturalWidth > 600")
        alt = picture.get_attribute("alt")
        assert "a² + b² = 1476.0 cm²" in alt
        assert "(a − b)² = 36.0 cm²" in alt
        assert "No line is missing." in page.locator("body").inner_text()
        assert troubles == []
    finally:
        context.close()


# ---- questions -----------------------------------------------------------------------------------


def asked(book, key):
    item = question(key)
    words = getattr(item, "question", None) or item.text
    return item, book.page.locator(".mensura-ask").filter(has_text=words)


def test_the_prediction_answers(book, wait_until):
    """Each choice of the next line, right or wrong, has its own reply."""
    item, place = asked(book, "03-predict")
    place.scroll_into_view_if_needed()
    reply = place.get_by_role("status")
    for index, choice in enumerate(item.choices):
        place.get_by_label(choice.text, exact=True).check()
        place.get_by_role("button", name="See the answer").click()
        wanted = item.reply(index)
        wait_until(book.page, lambda wanted=wanted: reply.count() and reply.inner_text() == wanted)
        assert reply.inner_text() == wanted


@pytest.mark.parametrize(("key", "typed"), [("03-1", "0.82 %"), ("03-3", "0,42"), ("03-4", "51")])
def test_an_exercise_answers(book, wait_until, key, typed):
    """A rounded right answer, then a known slip."""
    item, place = asked(book, key)
    for text in (typed, f"{item.slips[0].value:.4f}"):
        field = place.get_by_role("textbox")
        field.fill(text)
        field.press("Enter")
        wanted = item.reply(text).message
        reply = place.get_by_role("status")
        reply.wait_for()
        wait_until(book.page, lambda wanted=wanted, reply=reply: reply.inner_text() == wanted)
        assert reply.inner_text() == wanted
        assert wanted.startswith("Right.") == (text == typed)


def test_the_console_stays_quiet(book, faults):
    """After all that, still no error in the browser's console and none in a cell."""
    assert faults(book.messages) == []
    page = book.page
    assert page.locator('[data-mime-type="application/vnd.jupyter.stderr"]').count() == 0
    assert page.locator('[data-mime-type="application/vnd.jupyter.error"]').count() == 0
