"""Workbook 08 in a real browser: a problem of every topic, wrong and then right, by keyboard alone.

Which numbers are wrong, and what is said to them, is asked of the bank here. What was answered must
lie beside the workbook, and be there again after the page was loaded anew.
"""

from __future__ import annotations

import json
import re

import pytest
from every_page import EveryPage
from on_a_phone import OnAPhone

from mensura.disk.own_code import OWN_CODE_NAME
from mensura.disk.progress_file import PROGRESS_NAME, read_line
from mensura.teaching.problems import bank
from mensura.teaching.problems.family import TOPICS
from mensura.teaching.problems.sitting import NOT_YET
from mensura.teaching.problems.standing import Attempt, by_topic, in_words, standings
from mensura.views.kit.seat import WHY
from mensura.views.problems.practice import NEXT, NO_CODE

NAME = "08-problems.ipynb"
KEY = "quillmere"


def written(value: float, unit: str) -> str:
    """A number as a student would type it."""
    return f"{value:.5g} {unit}".strip()


class Bench:
    """The practice panel in the page; only keys are pressed, once the focus is in it."""

    def __init__(self, page, wait_until):
        self.page, self.wait_until = page, wait_until
        self.root = page.locator(".mensura-practice").first
        self.root.scroll_into_view_if_needed()

    # ---- what is there -------------------------------------------------------------------------

    @property
    def text(self):
        return self.root.locator(".mensura-text").inner_text()

    @property
    def said(self):
        return self.root.locator("[role=status]").first.inner_text()

    @property
    def box(self):
        return self.root.get_by_label("Answer", exact=True)

    @property
    def chart(self):
        """The alternative text of the progress."""
        return self.root.locator('img[alt^="Kinds of problems taped"]').get_attribute("alt")

    def until(self, holds):
        return self.wait_until(self.page, holds, 20)

    def focused(self):
        """What the focus is on, by its label or words; "" if it is not in this panel."""
        return self.root.evaluate(
            """root => {
              const on = document.activeElement;
              if (!root.contains(on)) { return ''; }
              const label = on.labels && on.labels.length ? on.labels[0].textContent : '';
              return (label || on.textContent).trim();
            }"""
        )

    # ---- what is done --------------------------------------------------------------------------

    def go(self, name, back=False):
        """Tab, until the focus is on what has this name."""
        for _ in range(14):
            if self.focused() == name:
                return
            self.page.keyboard.press("Shift+Tab" if back else "Tab")
        raise AssertionError(f"{name} is not reached by the Tab key; it is on {self.focused()}")

    def choose_topic(self, topic):
        """The topic's list, by arrow keys; then its kinds of problems are listed."""
        place = ["all topics", *TOPICS].index(topic)
        self.page.keyboard.press("Home")
        for _ in range(place):
            self.page.keyboard.press("ArrowDown")
        kinds = self.root.get_by_label("Problem", exact=True).locator("option")
        wanted = [one.title for one in bank.families(None if topic == "all topics" else topic)]
        # a list writes its spaces as ones that do not break
        assert self.until(
            lambda: [one.replace("\xa0", " ") for one in kinds.all_text_contents()] == wanted
        )

    def answer(self, text):
        """Types into the box over what stands there, presses Enter; returns the reply."""
        before = self.said
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)
        self.page.keyboard.press("Enter")
        assert self.until(lambda: self.said not in ("", before)), (text, self.said)
        assert self.box.input_value() == text
        return self.said


@pytest.fixture(scope="module", autouse=True)
def fresh(lab):
    """No answers and no code of other tests: the server and its folder are shared."""
    lab.folder.mkdir(exist_ok=True)
    for name in (PROGRESS_NAME, OWN_CODE_NAME):
        (lab.folder / name).unlink(missing_ok=True)


@pytest.fixture
def bench(book, wait_until):
    made = Bench(book.page, wait_until)
    made.root.get_by_label("Topic", exact=True).focus()
    return made


def lines(lab) -> list[Attempt]:
    """What lies beside the workbook."""
    path = lab.folder / PROGRESS_NAME
    return [read_line(line) for line in path.read_text("utf-8").splitlines()]


def test_it_runs_without_a_fault(book, faults, lab):
    """No cell raises or warns, the console is quiet, and looking has kept nothing."""
    page = book.page
    assert page.locator(".jp-OutputArea-output").count() >= 20
    assert page.locator(".mensura-practice").count() == 1 + 4  # the panel, and four at the end
    for kind in ("error", "stderr"):
        assert page.locator(f'[data-mime-type="application/vnd.jupyter.{kind}"]').count() == 0
    assert page.get_by_text("Traceback (most recent call last)").count() == 0
    assert page.get_by_text(re.compile("model not found|Error displaying", re.I)).count() == 0
    assert faults(book.messages) == []
    assert not (lab.folder / PROGRESS_NAME).exists()
    assert not (lab.folder / OWN_CODE_NAME).exists()


def test_the_code_is_asked_for_before_an_answer_counts(bench, lab):
    """What was typed waits in its box; the code is typed where the focus went, and is kept."""
    assert WHY in bench.root.inner_text()
    example = bank.problem(bank.families()[0].key, "page", KEY)
    assert bench.text == example.text
    bench.go("Answer")
    assert bench.answer("25 cm") == NO_CODE
    assert bench.until(lambda: bench.focused() == "Student code")
    assert not (lab.folder / PROGRESS_NAME).exists()
    bench.page.keyboard.type("Q07")
    bench.page.keyboard.press("Enter")
    made = bank.problem(bank.families()[0].key, "Q07", KEY)
    assert bench.until(lambda: bench.text == made.text)
    assert bench.until(lambda: bench.said.startswith("These are the problems of Q07."))
    assert bench.box.input_value() == "25 cm"
    assert WHY not in bench.root.inner_text()
    assert (lab.folder / OWN_CODE_NAME).read_text("utf-8") == "Q07\n"
    assert not (lab.folder / PROGRESS_NAME).exists()


def test_one_problem_of_each_topic_wrong_then_right_by_keyboard(bench, lab):
    """Every topic: a slip, which is named and explained; then the right answer; both are kept."""
    expected = []
    for topic in TOPICS:
        bench.go("Topic", back=True)
        bench.choose_topic(topic)
        made = bank.problem(bank.families(topic)[0].key, "Q07", KEY)
        assert bench.until(lambda made=made: bench.text == made.text)
        bench.go("Answer")
        unit = made.family.unit
        slip = made.slips[0]
        wrong, right = written(slip.value, unit), written(made.answer, unit)
        said = bench.answer(wrong)
        name = slip.name.replace("-", " ")
        assert said.removeprefix("✗ ") == f"Not right: {name}. {slip.says}"
        expected.append((made.family.key, wrong, False, slip.name))
        said = bench.answer(right)
        assert said.removeprefix("✓ ").startswith("Right.")
        expected.append((made.family.key, right, True, None))
        # acknowledged, and so on the disk
        kept = [(one.family, one.text, one.right, one.slip) for one in lines(lab)]
        assert kept == expected
    assert len(expected) == 2 * len(TOPICS) == 36
    told = by_topic(standings(lines(lab), "Q07", KEY), bank.families())
    assert all(one.taped == 1 for one in told)
    assert bench.until(lambda: f"choosing 1 of {len(bank.families('choosing'))}" in bench.chart)
    assert in_words(told) in bench.root.inner_text()
    json_lines = (lab.folder / PROGRESS_NAME).read_text("utf-8").splitlines()
    assert {json.loads(line)["student"] for line in json_lines} == {"Q07"}


def test_hints_and_solution_by_keyboard(bench, lab):
    """The solution waits for a try; what cannot be read is none; three hints open it."""
    before = len(lines(lab))
    bench.choose_topic("girth")
    second = bank.families("girth")[1].key
    made = bank.problem(second, "Q07", KEY)
    assert bench.until(lambda: bench.text == made.text)  # the first one is taped by now
    bench.go("Worked solution")
    bench.page.keyboard.press("Enter")
    assert bench.until(lambda: bench.said == NOT_YET)
    bench.go("Answer", back=True)
    said = bench.answer("a lot")
    assert "no number" in said
    assert said.endswith("This does not count.")
    bench.go("Hint")
    for count, hint in enumerate(made.hints, 1):
        bench.page.keyboard.press("Enter")
        wanted = f"Hint {count}. {hint}"
        assert bench.until(lambda wanted=wanted: bench.said == wanted)
    bench.go("Worked solution")
    bench.page.keyboard.press("Space")
    assert bench.until(lambda: bench.said == f"Worked solution. {made.solution}")
    bench.go("Next numbers")
    bench.page.keyboard.press("Enter")
    again = bank.problem(second, "Q07", KEY, "1", 2)
    assert bench.until(lambda: bench.text == again.text)
    assert bench.until(lambda: bench.focused() == "Answer")  # ready to type
    assert len(lines(lab)) == before


def test_another_student_has_other_numbers(bench, lab):
    """One button by keyboard, then a code: her numbers, her progress; nothing goes to Q07."""
    before = len(lines(lab))
    bench.choose_topic("all topics")
    bench.go("Another student", back=True)
    bench.page.keyboard.press("Enter")
    assert bench.until(lambda: bench.focused() == "Student code")
    assert bench.until(lambda: bench.said == NEXT)
    assert not (lab.folder / OWN_CODE_NAME).exists()
    bench.page.keyboard.type("Q12")
    bench.page.keyboard.press("Enter")
    made = bank.problem(bank.families()[0].key, "Q12", KEY)
    assert bench.until(lambda: bench.text == made.text)
    assert bench.until(lambda: "girth 0 of" in bench.chart)
    assert bench.until(lambda: bench.focused() == "Answer")  # it is put there, last of all
    assert "Right." in bench.answer(written(made.answer, made.family.unit))
    assert [one.student for one in lines(lab)[before:]] == ["Q12"]
    bench.go("Student code", back=True)
    bench.page.keyboard.press("Control+a")
    bench.page.keyboard.type("Q 1 2 ?")
    bench.page.keyboard.press("Enter")
    assert bench.until(lambda: "Q12" in bench.said)
    assert bench.text == bank.problem(bank.families()[0].key, "Q12", KEY).text
    bench.page.keyboard.press("Control+a")
    bench.page.keyboard.type("Q07")
    bench.page.keyboard.press("Enter")
    assert bench.until(lambda: bench.said == "These are the problems of Q07.")


def test_keys_pressed_here_are_no_commands_of_the_notebook(bench):
    """Letters on a list or a button add and delete no cell."""
    cells = "document.querySelectorAll('.jp-Cell').length"
    count = bench.page.evaluate(cells)
    bench.go("Hint")
    bench.page.keyboard.type("abdd")
    bench.page.keyboard.press("ArrowDown")
    bench.page.wait_for_timeout(300)
    assert bench.page.evaluate(cells) == count


def test_the_problems_at_the_end_reply_and_keep_nothing(book, lab, wait_until):
    """Numbers of the page: a slip of the first is named, by keyboard; the file stays as it is."""
    before = len(lines(lab))
    made = bank.problem("newton", "page", KEY, "page", 1)
    root = book.page.locator(".mensura-practice").nth(1)
    root.scroll_into_view_if_needed()
    text = root.locator(".mensura-text")
    assert wait_until(book.page, lambda: text.inner_text() == made.text)
    said = root.locator("[role=status]").first
    root.get_by_label("Answer", exact=True).focus()
    slip = made.slips[0]
    for typed, wanted in (
        (written(slip.value, made.family.unit), slip.says),
        (written(made.answer, made.family.unit), "Right."),
    ):
        book.page.keyboard.press("Control+a")
        book.page.keyboard.type(typed)
        book.page.keyboard.press("Enter")
        assert wait_until(book.page, lambda wanted=wanted: wanted in said.inner_text())
    assert len(lines(lab)) == before


def test_progress_survives_a_reload(book, lab, wait_until):
    """The page anew, all cells anew: what was answered is read again, the next one is open, and
    nobody is asked for a code again."""
    kept = lines(lab)
    assert len(kept) >= 24
    page = book.page
    page.reload()
    book.run_all()
    bench = Bench(page, wait_until)
    assert bench.until(lambda: bench.root.get_by_label("Student code").input_value() == "Q07")
    assert WHY not in bench.root.inner_text()
    known = standings(kept, "Q07", KEY)
    told = by_topic(known, bank.families())
    assert bench.until(lambda: in_words(told) in bench.root.inner_text())
    for one in told:
        assert f"{one.topic} {one.words}" in bench.chart
    open_now = next(
        one.key for one in bank.families() if one.key not in known or not known[one.key].taped
    )
    made = bank.problem(open_now, "Q07", KEY)
    assert bench.until(lambda: bench.text == made.text)
    assert lines(lab) == kept


class TestOnAPhone(OnAPhone):
    """Its page is opened at that width."""

    anew = True


class TestEveryPage(EveryPage):
    """After all that."""
