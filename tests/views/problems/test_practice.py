"""Practice: what is typed is answered, hints and solution open, progress is kept and drawn."""

from __future__ import annotations

import asyncio
import html
import json
import os
import re
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

import ipywidgets as w
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.disk import progress_file as progress_file
from mensura.disk.kept_pages import KeptPages
from mensura.disk.own_code import OWN_CODE_NAME, OwnCodeFile
from mensura.disk.progress_file import PROGRESS_NAME, ProgressFile
from mensura.teaching.problems import bank
from mensura.teaching.problems.sitting import NO_MORE, NOT_YET, Sitting
from mensura.teaching.problems.standing import Attempt, TopicProgress, by_topic
from mensura.views.kit import seat as seats
from mensura.views.kit.keeping import Keeping
from mensura.views.kit.live import Live
from mensura.views.problems.desk import Desk
from mensura.views.problems.practice import (
    NEW_NUMBERS,
    NEXT,
    NO_CODE,
    Practice,
    practice,
    problems_here,
)
from mensura.views.problems.progress_picture import ProgressPicture, Shown


@pytest.fixture
def panel(tmp_path: Path) -> Practice:
    """A fresh panel in an empty folder, with its widgets."""
    made = Practice("girth", "Q07", "quillmere", "1", tmp_path)
    made.build()
    return made


def said(panel: Any) -> str:
    """The reply, as it is read out."""
    desk = panel.desk if isinstance(panel, Practice) else panel
    match = re.search(r'<p role="status" aria-live="polite"[^>]*>(.*?)</p>', desk.said.value, re.S)
    assert match
    seen = re.sub(r"<span aria-hidden='true'>.*?</span>", "", match[1])
    return html.unescape(re.sub(r"<[^>]+>", "", seen)).strip()


def type_in(panel: Practice, text: str) -> str:
    """Type an answer and press Enter; returns the reply."""
    panel.desk.box.value = text
    panel.desk.box._handle_custom_msg({"event": "submit"}, [])
    assert panel.desk.box.value == text
    return said(panel)


def right(panel: Practice) -> str:
    """The right answer, with its unit."""
    return f"{panel.problem.answer:.5g} {panel.problem.family.unit}"


def wrong(panel: Practice) -> str:
    """An answer that is far off and is no slip."""
    return f"{panel.problem.answer * 31:.5g} {panel.problem.family.unit}"


def lines(folder: Path) -> list[dict[str, Any]]:
    """What lies on the disk."""
    path = folder / PROGRESS_NAME
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


# ---- answering -----------------------------------------------------------------------------------


def test_it_opens_with_the_first_problem(panel: Practice) -> None:
    """Its text and its numbers stand there, nothing is said, no file is made by looking."""
    assert panel.problem.family == bank.families("girth")[0]
    assert html.escape(panel.problem.text) in panel.desk.head.value
    assert said(panel) == ""
    assert panel.problem.numbers == bank.problem("girth-to-diameter", "Q07", "quillmere").numbers
    assert not panel.progress.file.path.exists()


@pytest.mark.parametrize("topic", [one.topic for one in bank.families()][::4])
def test_each_slip_is_named(tmp_path: Path, topic: str) -> None:
    """A wrong answer that is a slip gets its name and why; then the right one is right."""
    panel = Practice(topic, "Q07", "quillmere", "1", tmp_path)
    panel.build()
    for slip in panel.problem.slips:
        reply = type_in(panel, f"{slip.value:.9g} {panel.problem.family.unit}")
        assert reply.startswith(f"Not right: {slip.name.replace('-', ' ')}. ")
        # with a later slip that leads to about the same number both are told
        assert reply.removeprefix(f"Not right: {slip.name.replace('-', ' ')}. ") == slip.says or (
            f"Two slips lead to about this number. {slip.says} Or: " in reply
        )
        assert "mensura-wrong" in panel.desk.said.value
    assert type_in(panel, f"{panel.problem.answer:.9g} {panel.problem.family.unit}").startswith(
        "Right."
    )
    assert "mensura-right" in panel.desk.said.value
    slips = [line["slip"] for line in lines(tmp_path)]
    assert slips == [*(slip.name for slip in panel.problem.slips), None]


def test_a_wrong_answer_that_is_no_slip(panel: Practice) -> None:
    """High or low, and never the answer itself."""
    reply = type_in(panel, wrong(panel))
    assert reply.startswith("Not right yet. It is too large")
    assert f"{panel.problem.answer:.3g}" not in reply


def test_it_is_on_the_disk_before_it_is_said(
    panel: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While the line is being brought to the disk, the reply is not shown yet."""
    seen: list[str] = []
    sync = progress_file.os.fsync

    def look(handle: int) -> None:
        seen.append(said(panel))
        sync(handle)

    monkeypatch.setattr(progress_file.os, "fsync", look)
    assert type_in(panel, wrong(panel)) not in seen
    assert set(seen) == {""}


@pytest.mark.parametrize("text", ["", "banana", "nan", "1/0", "9" * 400, "\u202e5", "5 furlongs"])
def test_what_cannot_be_read_never_counts(panel: Practice, tmp_path: Path, text: str) -> None:
    """One sentence and another try; no line, no progress, no solution."""
    assert type_in(panel, text).endswith("This does not count.")
    assert not (tmp_path / PROGRESS_NAME).exists()
    assert panel.standings() == {}
    panel.desk.buttons["Worked solution"].click()
    assert said(panel) == NOT_YET


@given(st.text(max_size=40))
def test_what_is_typed_is_never_markup(text: str) -> None:
    """Any text gets a sentence, and no tag of the student's gets through."""
    sitting = Sitting(bank.problem("girth-to-diameter", "Q07", "k"))
    desk = Desk(sitting)
    desk.show(sitting, "<b>")
    desk.box.value = text
    desk.buttons["Check"].click()
    assert said(desk)
    shown = desk.said.value + desk.head.value
    tags = set(re.findall(r"<(/?[a-zA-Z]\w*)", shown))
    assert tags <= {"p", "/p", "b", "/b", "span", "/span"}
    assert desk.head.value.count("<b>") == 1
    assert desk.box.value == text


@pytest.mark.parametrize("text", ["<img src=x onerror=alert(1)>", "7 <b>cm</b>"])
def test_markup_is_quoted(panel: Practice, text: str) -> None:
    """Where the reply repeats what was typed, it repeats it as text."""
    type_in(panel, text)
    assert "<img" not in panel.desk.said.value
    assert "<b>cm" not in panel.desk.said.value


def parts(box: Any, kind: type) -> list[Any]:
    """All widgets of a kind in a box, in order."""
    found = [box] if isinstance(box, kind) else []
    for child in getattr(box, "children", ()):
        found += parts(child, kind)
    return found


def test_the_box_says_what_it_takes(panel: Practice) -> None:
    """A number with its unit; or, for a number of a list, a whole number, and no half answers."""
    assert panel.desk.box.placeholder == "a number and its unit"
    panel.choose_topic("choosing")
    assert panel.problem.family.exact
    assert panel.desk.box.placeholder == "a whole number"
    assert panel.desk.box.continuous_update is False


def test_the_enter_key_waits_for_the_last_letters(panel: Practice) -> None:
    """In a running kernel a key that overtakes the last letters still sends the whole answer."""
    whole = right(panel)
    frame = panel.build().children[0]
    asked: list[dict] = []
    frame.send = lambda content, buffers=None: asked.append(content)

    async def typed() -> None:
        panel.desk.box.value = whole[:2]
        panel.desk.box._handle_custom_msg({"event": "submit"}, [])
        panel.desk.box.value = whole
        assert said(panel) == ""
        # the page's answer comes behind the letters
        frame._handle_custom_msg({"kind": "settled", "turn": asked[0]["turn"]}, [])

    asyncio.run(typed())
    assert said(panel).startswith("Right.")


# ---- hints and solution --------------------------------------------------------------------------


def test_hints_grow_and_stay(panel: Practice) -> None:
    """The newest is said, those before it stay; after the third the solution is open."""
    for number, hint in enumerate(panel.problem.hints, 1):
        panel.desk.buttons["Worked solution"].click()
        assert said(panel) == NOT_YET
        panel.desk.buttons["Hint"].click()
        assert said(panel) == f"Hint {number}. {hint}"
        assert panel.desk.read.value.count("<b>Hint") == number - 1
    panel.desk.buttons["Hint"].click()
    assert said(panel) == NO_MORE
    assert panel.desk.read.value.count("<b>Hint") == 3
    panel.desk.buttons["Worked solution"].click()
    assert said(panel) == f"Worked solution. {panel.problem.solution}"


def test_the_solution_opens_after_a_readable_answer(panel: Practice) -> None:
    """It stays on the desk; a right answer after it is right and tapes nothing."""
    type_in(panel, wrong(panel))
    panel.desk.buttons["Worked solution"].click()
    assert said(panel) == f"Worked solution. {panel.problem.solution}"
    assert type_in(panel, right(panel)).startswith("Right.")
    assert html.escape(panel.problem.solution) in panel.desk.read.value
    assert panel.standings()[panel.problem.family.key].state == "tried"
    panel.buttons["Next numbers"].click()
    assert panel.problem.try_number == 2
    assert panel.desk.read.value == ""
    type_in(panel, right(panel))
    assert panel.standings()[panel.problem.family.key].state == "taped"


# ---- going on ------------------------------------------------------------------------------------


def test_next_numbers_and_next_problem(panel: Practice) -> None:
    """New numbers of the same kind, another kind; after the topic's last comes its first."""
    before = panel.problem
    panel.buttons["Next numbers"].click()
    assert panel.problem.family == before.family
    assert panel.problem.numbers != before.numbers
    assert panel.desk.box.value == ""
    seen = [panel.problem.family.key]
    for _ in bank.families("girth"):
        panel.buttons["Next problem"].click()
        seen.append(panel.problem.family.key)
        assert html.escape(panel.problem.text) in panel.desk.head.value
        assert panel.choices.kinds.value == seen[-1]
    assert sorted(seen[1:]) == sorted(one.key for one in bank.families("girth"))
    assert seen[-1] == seen[0]


def test_topics_and_kinds_are_chosen(panel: Practice) -> None:
    """A topic goes to its first kind, a kind to itself; all topics hold every kind."""
    panel.choices.topics.value = "logs"
    assert panel.problem.family == bank.families("logs")[0]
    assert [key for _, key in panel.choices.kinds.options] == [
        one.key for one in bank.families("logs")
    ]
    panel.choices.kinds.value = bank.families("logs")[2].key
    assert panel.problem.family == bank.families("logs")[2]
    panel.choices.topics.value = ""
    assert len(panel.choices.kinds.options) == len(bank.families())
    assert panel.topic is None


def test_one_comes_back_to_a_problem_as_one_left_it(panel: Practice) -> None:
    """Hints that were read stand there again."""
    panel.desk.buttons["Hint"].click()
    first = panel.problem
    panel.buttons["Next problem"].click()
    assert panel.desk.read.value == ""
    panel.choices.kinds.value = first.family.key
    assert panel.problem == first
    assert html.escape(first.hints[0]) in panel.desk.read.value


def test_another_day(panel: Practice, tmp_path: Path) -> None:
    """A new panel begins where the last one ended: next kind, next numbers, same progress."""
    type_in(panel, right(panel))
    first = panel.problem.family.key
    again = Practice("girth", "Q07", "quillmere", "1", tmp_path)
    assert again.problem.family.key == bank.families("girth")[1].key
    again.build()
    again.choose_family(first)
    assert again.problem.try_number == 2
    assert again.standings() == panel.standings()


# ---- students ------------------------------------------------------------------------------------


def test_another_student(panel: Practice, tmp_path: Path) -> None:
    """Her own numbers and progress; the first one's stay hers."""
    type_in(panel, right(panel))
    panel.choices.code.value = "Q12"
    assert said(panel) == "These are the problems of Q12."
    assert panel.standings() == {}
    assert panel.problem.numbers == bank.problem("girth-to-diameter", "Q12", "quillmere").numbers
    type_in(panel, wrong(panel))
    assert [line["student"] for line in lines(tmp_path)] == ["Q07", "Q12"]
    panel.choices.code.value = "Q07"
    assert [one.state for one in panel.standings().values()] == ["taped"]


@pytest.mark.parametrize("code", ["", "<b>Q</b>", "Q 7", "x" * 21, "../Q07"])
def test_what_is_no_code(panel: Practice, code: str) -> None:
    """It is told and stays in its box; the problems are still the same student's."""
    before = panel.problem
    panel.choices.code.value = code
    assert said(panel).endswith("The problems are still Q07's.")
    assert panel.choices.code.value == code
    assert panel.problem == before
    assert "<b>Q" not in panel.desk.said.value


def test_a_code_in_other_letters_is_asked_back(panel: Practice, tmp_path: Path) -> None:
    """Her own code, or one that the progress knows; what the progress does not know is taken."""
    panel.choices.code.value = "q07"
    assert said(panel) == (
        "Did you mean Q07? If q07 is meant, give it once more. The problems are still Q07's."
    )
    assert panel.choices.code.value == "q07"
    panel.choices.code.value = "K3"
    type_in(panel, wrong(panel))
    panel.choices.code.value = "Q12"
    panel.choices.code.value = "k3"
    assert said(panel) == (
        "Did you mean K3? If k3 is meant, give it once more. The problems are still Q12's."
    )
    panel.choices.code.value = " K3 "
    assert said(panel) == "These are the problems of K3."
    lower = Practice("girth", "k3", "Quillmere", "1", tmp_path)
    lower.build()
    assert "Did you mean K3? Here the problems are k3's." in html.unescape(lower.note.value)
    assert lower.student == "k3"


# ---- nobody has given a code yet -----------------------------------------------------------------


@pytest.fixture
def empty_seat(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Practice:
    """A panel in a folder that knows no code, which is the current one."""
    monkeypatch.chdir(tmp_path)
    made = practice("girth")
    made.build()
    return made


def test_the_code_is_asked_for_and_nothing_is_kept_without_it(
    empty_seat: Practice, tmp_path: Path
) -> None:
    """A problem may be looked at; an answer waits in its box until there is a code for it."""
    assert "Which student code is yours?" in empty_seat.choices.why.value
    assert empty_seat.choices.another.layout.display == "none"
    assert (
        empty_seat.problem.numbers == bank.problem("girth-to-diameter", "page", "quillmere").numbers
    )
    assert repr(empty_seat).startswith(
        "Practice. From a girth to a diameter (an example's numbers): "
    )
    assert "Nobody yet: 0 of" in empty_seat.chart.value
    empty_seat.desk.buttons["Hint"].click()
    assert said(empty_seat).startswith("Hint 1. ")
    assert type_in(empty_seat, right(empty_seat)) == NO_CODE
    assert empty_seat.desk.box.value == right(empty_seat)
    assert list(tmp_path.iterdir()) == []


def test_the_code_once_given_is_known_in_every_chapter(
    empty_seat: Practice, tmp_path: Path
) -> None:
    """Her numbers, her answers; the next panel and the next kernel do not ask again."""
    type_in(empty_seat, "25 cm")
    empty_seat.choices.code.value = "Q07"
    assert said(empty_seat) == f"These are the problems of Q07. {NEW_NUMBERS}"
    assert empty_seat.desk.box.value == "25 cm"
    assert empty_seat.choices.why.value == ""
    assert empty_seat.choices.another.layout.display == ""
    assert type_in(empty_seat, right(empty_seat)).startswith("Right.")
    assert [line["student"] for line in lines(tmp_path)] == ["Q07"]
    again = practice("girth")
    again.build()
    assert again.choices.code.value == again.student == "Q07"
    assert OwnCodeFile().read().code == "Q07"


def test_one_click_for_another_student(empty_seat: Practice, tmp_path: Path) -> None:
    """The code is forgotten and asked for anew; all panels follow, and no answer is hers."""
    other = practice("logs")
    other.build()
    empty_seat.choices.code.value = "Q07"
    assert other.student == "Q07"
    assert other.choices.code.value == "Q07"
    empty_seat.choices.another.click()
    assert said(empty_seat) == said(other) == NEXT
    for panel in (empty_seat, other):
        assert panel.choices.code.value == ""
        assert "Which student code is yours?" in panel.choices.why.value
        assert type_in(panel, "1 cm") == NO_CODE
    assert list(tmp_path.iterdir()) == []
    other.choices.code.value = "Q12"
    assert said(empty_seat).startswith("These are the problems of Q12.")
    assert type_in(other, wrong(other)).startswith("Not right yet.")
    assert [line["student"] for line in lines(tmp_path)] == ["Q12"]


def test_a_code_changed_on_another_page_is_seen_before_an_answer_counts(
    empty_seat: Practice, tmp_path: Path
) -> None:
    """Another chapter's kernel knows of it by the file alone."""
    empty_seat.choices.code.value = "Q07"
    OwnCodeFile().keep("Q12")
    answer = right(empty_seat)
    assert type_in(empty_seat, answer) == (
        "The code was changed on another page: these are the problems of Q12. " + NEW_NUMBERS
    )
    assert empty_seat.desk.box.value == answer
    assert empty_seat.problem.student == "Q12"
    OwnCodeFile().forget()
    assert type_in(empty_seat, answer) == NO_CODE
    assert not (tmp_path / PROGRESS_NAME).exists()


def test_a_code_in_small_letters_is_told_that_they_count(
    empty_seat: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is known that it could be held against; given once more, large letters are meant."""
    empty_seat.choices.code.value = "q07"
    told = "These are the problems of q07. Capital letters count: Q07 has other numbers."
    assert said(empty_seat) == told
    empty_seat.choices.code._handle_custom_msg({"event": "submit"}, [])
    assert said(empty_seat) == told  # the same press of the key
    empty_seat.choices.code.value = "Q07"
    assert said(empty_seat) == (
        "Did you mean q07? If Q07 is meant, give it once more. The problems are still q07's."
    )
    empty_seat.choices.code._handle_custom_msg({"event": "submit"}, [])
    assert said(empty_seat).startswith("Did you mean q07?")  # the same press of the key
    monkeypatch.setattr(seats, "AGAIN_S", -1.0)
    empty_seat.choices.code._handle_custom_msg({"event": "submit"}, [])
    assert said(empty_seat).startswith("These are the problems of Q07.")


def test_what_is_wrong_with_the_code_s_file_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the note beneath; the code is asked for, and what stood there is put aside."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / OWN_CODE_NAME).write_text("my notes on Q07")
    panel = practice("girth")
    panel.build()
    assert "my-code.txt is" in html.unescape(panel.note.value)
    panel.choices.code.value = "Q07"
    assert said(panel).endswith("was no code and is kept as my-code-old.txt.")
    assert (tmp_path / "my-code-old.txt").read_text() == "my notes on Q07"


# ---- what was given out --------------------------------------------------------------------------


def test_what_was_given_out_comes_back(tmp_path: Path) -> None:
    """Numbers that the log holds stand there again, though others would be drawn today."""
    kept = Attempt(
        "Q07", "quillmere", "1", "girth-to-diameter", 1, "9 cm", False, None, 0, False, "then",
        numbers=(("girth_cm", 120.5),),
    )  # fmt: skip
    ProgressFile(tmp_path).append(kept)
    panel = Practice("girth", "Q07", "quillmere", "1", tmp_path)
    panel.build()
    assert panel.problem.numbers == {"girth_cm": 120.5}
    assert "120.5 cm" in panel.desk.head.value
    assert type_in(panel, right(panel)).startswith("Right.")
    assert [line.get("numbers") for line in lines(tmp_path)] == [{"girth_cm": 120.5}] * 2
    assert [line.get("edition") for line in lines(tmp_path)] == [1, 1]


def test_the_numbers_are_kept_with_each_answer(panel: Practice, tmp_path: Path) -> None:
    """As they stood in the problem when it was answered."""
    for _ in range(2):
        type_in(panel, wrong(panel))
        assert lines(tmp_path)[-1]["numbers"] == panel.problem.numbers
        panel.buttons["Next problem"].click()


# ---- the disk ------------------------------------------------------------------------------------


@pytest.fixture
def unwritable(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of which the system says, and shows, that nothing may be written there."""
    system = os.open

    def forbid(path: Any, flags: int, *mode: int, **named: Any) -> int:
        if str(path).startswith(str(tmp_path)) and flags & (os.O_WRONLY | os.O_RDWR):
            raise PermissionError(13, "Permission denied")
        return system(path, flags, *mode, **named)

    monkeypatch.setattr(progress_file.os, "open", forbid)
    monkeypatch.setattr(progress_file.os, "access", lambda *_: False)
    return tmp_path


def test_a_home_that_cannot_be_written(unwritable: Path) -> None:
    """It is said before the first answer; progress counts for this sitting, in every panel of it,
    and nothing is left on the disk."""
    panel = Practice("girth", "Q07", "quillmere", "1", unwritable)
    panel.build()
    told = html.unescape(panel.note.value)
    assert "cannot be written: permission denied" in told
    assert "Progress is kept for this sitting only." in told
    assert type_in(panel, right(panel)).startswith("Right.")
    assert "The last answer is kept only while this workbook is open." in panel.note.value
    assert "1 of them right" in panel.chart.value
    first = panel.problem
    again = Practice("girth", "Q07", "quillmere", "1", unwritable)
    again.build()
    assert again.standings() == panel.standings()
    assert again.problem.family != first.family
    assert list(unwritable.iterdir()) == []


def test_what_waited_is_written_once_it_can_be(
    unwritable: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder may be written again: the next answer brings what waited with it."""
    panel = Practice("girth", "Q07", "quillmere", "1", unwritable)
    panel.build()
    type_in(panel, wrong(panel))
    monkeypatch.undo()
    type_in(panel, right(panel))
    assert panel.note.value == ""
    assert [line["right"] for line in lines(unwritable)] == [False, True]


def test_a_folder_in_the_file_s_place(tmp_path: Path) -> None:
    """It is told, the reply comes all the same, and the progress is drawn while it is open."""
    (tmp_path / PROGRESS_NAME).mkdir()
    panel = Practice("girth", "Q07", "quillmere", "1", tmp_path)
    panel.build()
    assert "no plain file" in panel.note.value
    assert type_in(panel, right(panel)).startswith("Right.")
    assert "kept only while this workbook is open" in panel.note.value
    assert "1 of them right" in panel.chart.value


def test_a_damaged_line_is_told(tmp_path: Path) -> None:
    """With its number; the rest is read."""
    first = Practice("girth", "Q07", "quillmere", "1", tmp_path)
    first.build()
    type_in(first, wrong(first))
    with open(tmp_path / PROGRESS_NAME, "a") as file:
        file.write('{"student": "Q0')
    again = Practice("girth", "Q07", "quillmere", "1", tmp_path)
    again.build()
    assert "Line 2 of my-progress.jsonl is damaged" in again.note.value
    type_in(again, right(again))
    assert [one.attempts for one in again.standings().values()] == [2]


# ---- what a notebook is given --------------------------------------------------------------------


def test_what_a_notebook_is_given(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A live view, the problem's text, and its picture with its words."""
    monkeypatch.chdir(tmp_path)
    panel = practice("out-of-round")
    data, metadata = panel._repr_mimebundle_()
    assert set(data) == {
        "application/vnd.jupyter.widget-view+json",
        "text/plain",
        "text/html",
        "image/png",
    }
    assert data["text/plain"] == f"{panel!r}\n{panel.still().alt}"
    assert html.escape(panel.problem.text) in data["text/html"]
    assert panel.problem.text in data["text/plain"]
    assert panel.problem.solution not in data["text/plain"]
    assert data["image/png"].startswith(b"\x89PNG")
    assert metadata["image/png"]["alt"] == panel.still().alt
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "wrong", [{"topic": "trees"}, {"student": "Q 7"}, {"key": ""}, {"set_name": "\n"}]
)
def test_what_cannot_be_practised(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, wrong: dict[str, str]
) -> None:
    """No topic, no code, no key, no set: refused in one sentence."""
    monkeypatch.chdir(tmp_path)
    with pytest.raises(MeasureError):
        practice(**wrong)


def test_every_control_has_a_name(panel: Practice) -> None:
    """Boxes, lists and buttons are found by their words."""
    assert list(panel.buttons) == [
        "Check",
        "Hint",
        "Worked solution",
        "Next numbers",
        "Next problem",
    ]
    choices = panel.choices
    named = [choices.code, choices.topics, choices.kinds, panel.desk.box]
    assert [one.description for one in named] == ["Student code", "Topic", "Problem", "Answer"]
    assert choices.another.description == "Another student"


# ---- a problem on a page -------------------------------------------------------------------------


def test_a_problem_on_a_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same for every reader, replied to, and not kept."""
    monkeypatch.chdir(tmp_path)
    shown = problems_here("girth-to-area", 3)
    assert repr(shown) == f"Problem 3. {shown.problem.family.title}: {shown.problem.text}"
    assert problems_here("girth-to-area", 3).problem == shown.problem
    assert problems_here("girth-to-area", 4).problem.numbers != shown.problem.numbers
    data, metadata = shown._repr_mimebundle_()
    assert data["text/plain"] == f"{shown!r}\n{metadata['image/png']['alt']}"
    assert html.escape(repr(shown)) in data["text/html"]
    assert metadata["image/png"]["alt"] in html.unescape(data["text/html"])
    bare, nothing = problems_here("girth-to-area", 3, picture=False)._repr_mimebundle_()
    assert set(bare) == {"application/vnd.jupyter.widget-view+json", "text/plain"}
    assert nothing == {}
    box = shown.build()
    (field,) = parts(box, w.Text)
    buttons = {one.description: one for one in parts(box, w.Button)}
    field.value = f"{shown.problem.answer:.5g} cm2"
    buttons["Check"].click()
    assert any("<b>Right.</b>" in one.value for one in parts(box, w.HTML))
    buttons["Worked solution"].click()
    assert any(html.escape(shown.problem.solution) in one.value for one in parts(box, w.HTML))
    assert list(tmp_path.iterdir()) == []


def test_no_such_problem() -> None:
    """An unknown family is answered with those that are spelt alike."""
    with pytest.raises(MeasureError, match="girth-to-area"):
        problems_here("girth-to-aera")


# ---- the picture of the progress -----------------------------------------------------------------


def states(word: str) -> tuple[TopicProgress, ...]:
    """All topics with every family in one state."""
    return tuple(
        replace(topic, states=tuple(word for _ in topic.families))
        for topic in by_topic({}, bank.families())
    )


@pytest.mark.parametrize("word", ["untried", "tried", "taped"])
def test_lettering_of_the_progress(word: str, letters: ModuleType) -> None:
    """Nothing overlaps, is cut off or too small, whatever was reached."""
    topics = states(word)
    live = Live(ProgressPicture(topics))
    live.paint(Shown(topics, topics[-1].families[-1]))
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    assert letters.too_small(live.figure) == []


def test_the_progress_is_seen_without_colour() -> None:
    """Each state and the pointer change the picture's greys, too."""
    import numpy as np

    live = Live(ProgressPicture(states("tried")))
    greys = [
        np.asarray(live.paint(Shown(states(word), current)))[..., :3].mean(axis=2)
        for word, current in (
            ("untried", ""),
            ("tried", ""),
            ("taped", ""),
            ("tried", "girth-to-area"),
        )
    ]
    for index, first in enumerate(greys):
        for second in greys[index + 1 :]:
            assert (np.abs(first - second) > 100).sum() > 50


def test_stems_of_a_topic_never_touch() -> None:
    """However many kinds a topic has, each has its own place inside the topic's cell."""
    for count in (1, 3, 8, 15):
        topic = TopicProgress(
            "girth", tuple(f"f{k}" for k in range(count)), ("tried",) * count, 0, 0
        )
        x, _, radius = ProgressPicture([topic]).places_px().T
        taped = radius + 2.4  # with half the width of the band
        assert (x[1:] - x[:-1] > 2 * taped[1:]).all()
        assert x[0] - taped[0] > 0
        assert x[-1] + taped[-1] < 215


def test_the_tape_goes_round_what_is_taped() -> None:
    """Begun where it was tried, all the way round with its tab where it is taped, else none."""
    import numpy as np

    picture = ProgressPicture(states("untried"))
    live = Live(picture)
    count = len(bank.families())
    for word, lines, ends_meet in (("untried", 0, None), ("tried", 1, False), ("taped", 2, True)):
        live.paint(Shown(states(word)))
        drawn = picture.tapes.get_segments()
        assert len(drawn) == lines * count
        assert len(picture.wood.get_paths()) == (count if lines else 0)
        if ends_meet is not None:
            assert bool(np.allclose(drawn[0][0], drawn[0][-1])) == ends_meet


def test_the_progress_in_words(panel: Practice) -> None:
    """The alternative text tells each topic's count, and the line beneath it the whole."""
    type_in(panel, right(panel))
    panel.buttons["Next problem"].click()
    type_in(panel, wrong(panel))
    girths, all_of_them = len(bank.families("girth")), len(bank.families())
    assert f"girth 1 of {girths}, 1 more tried;" in panel.chart.value
    assert (
        f"Q07: 1 of {all_of_them} kinds of problems taped, 1 more tried. "
        "2 answers, 1 of them right." in panel.chart.value
    )


def test_each_student_finds_her_own_place_and_what_she_typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The next one finds an empty box; who comes back, her problem, her numbers and her half."""
    page = Keeping(KeptPages(tmp_path), "08.ipynb", seats.seat(tmp_path))
    for place in ("mensura.views.kit.frame.keeping", "mensura.views.problems.practice.keeping"):
        monkeypatch.setattr(place, lambda: page)
    panel = Practice("girth", None, "Quillmere", "1", tmp_path)
    panel.build()
    panel.choices.code.value = "Q07"
    panel.next_problem()
    panel.next_numbers()
    hers = panel.problem
    panel.desk.box.value = "0.2"
    panel.choices.another.click()
    assert panel.desk.box.value == ""
    panel.choices.code.value = "A12"
    assert (panel.problem.student, panel.desk.box.value) == ("A12", "")
    assert panel.problem.try_number == 1
    panel.choices.another.click()
    panel.choices.code.value = "Q07"
    assert (panel.problem, panel.desk.box.value) == (hers, "0.2")
    assert said(panel) == "These are the problems of Q07."
