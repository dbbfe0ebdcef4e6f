"""A show of hands: counted, asked again, beside last year's class, kept, and never lost."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.disk.hands_file import Asking, HandsFile
from mensura.disk.sections import all_sections
from mensura.teaching.lessons.hands import MOST_OPTIONS, Count, options_of
from mensura.teaching.lessons.predict import Prediction
from mensura.teaching.lessons.questions import question
from mensura.views.lessons import hands as module
from mensura.views.lessons.hands import HandsScreen, Show

QUESTIONS = [one.thing for one in all_sections() if one.kind == "question"]


@pytest.mark.parametrize("key", QUESTIONS)
def test_every_question_can_be_asked(key):
    """Two to six answers, all different, one of them right; a number's answers in their order."""
    asked, options = question(key), options_of(question(key))
    assert 2 <= len(options) <= MOST_OPTIONS
    assert len({one.text for one in options}) == len(options)
    assert [one.right for one in options].count(True) == 1
    assert all(one.reply for one in options)
    if not isinstance(asked, Prediction):
        right = next(one for one in options if one.right)
        assert asked.reply(right.text).right, right.text
        assert right.reply == asked.because
        wrong = [one for one in options if not one.right]
        assert not any(asked.reply(one.text).right for one in wrong)


@settings(max_examples=80)
@given(
    st.lists(
        st.one_of(
            st.tuples(st.just("raise"), st.integers(0, 3)),
            st.tuples(st.just("back"), st.just(0)),
            st.tuples(st.just("less"), st.integers(0, 3)),
            st.tuples(st.just("put"), st.integers(0, 3)),
        ),
        max_size=30,
    )
)
def test_a_count_is_what_was_raised_less_what_was_taken_back(deeds):
    """Against a plain list of raised hands, whatever is pressed in whatever order."""
    count, hands, raised = Count(4), [0] * 4, []
    for deed, option in deeds:
        if deed == "raise":
            count.raise_hand(option)
            hands[option] += 1
            raised.append(option)
        elif deed == "put":
            count.put(option, 7)
            hands[option] = 7
        elif deed == "less":
            assert count.take_back(option) == (hands[option] > 0)
            hands[option] = max(0, hands[option] - 1)
        else:
            while raised and not hands[raised[-1]]:
                raised.pop()
            assert count.take_back() == bool(raised)
            if raised:
                hands[raised.pop()] -= 1
        assert count.hands == hands
        assert count.total == sum(hands)


@pytest.mark.parametrize("option", [-1, 3, 1.5, "1", None, True])
def test_no_other_answer_takes_a_hand(option):
    """What is none of the answers is refused and changes nothing."""
    count = Count(3)
    if option is True:
        option = 99
    with pytest.raises(MeasureError):
        count.raise_hand(option)
    assert count.hands == [0, 0, 0]


@pytest.fixture
def file(tmp_path):
    return HandsFile(tmp_path / "tapes-hands.csv", "tapes")


@pytest.fixture
def at(monkeypatch):
    """Function that sets the desk's clock."""

    def put(*moment: int) -> None:
        monkeypatch.setattr(module, "now", lambda: datetime(*moment))

    put(2026, 11, 28, 9, 15, 2)
    return put


def tell(screen: HandsScreen, *kinds: Any) -> None:
    for kind in kinds:
        told = {"kind": "hand", "option": kind} if isinstance(kind, int) else {"kind": kind}
        screen.hear(told)


def test_counted_twice_then_and_now_stand_side_by_side(file, at):
    """Asked again on the same screen; both askings are in the file, each with its beginning."""
    screen = HandsScreen(Show("02", "02-predict", file), 1)
    tell(screen, 0, 2, 2, "back")
    screen.screen.at = 1
    at(2026, 11, 28, 9, 31, 0)
    tell(screen, "again", 2, 2, 2)
    value = screen.screen.value
    assert (value["asking"], value["then"], value["now"]) == (2, [1, 0, 1, 0], [0, 0, 3, 0])
    assert screen.screen.at == 0
    kept = [(one.asking, one.time, [n for _, n in one.counts]) for one in file.read().askings]
    assert kept == [(1, "09:15:02", [1, 0, 1, 0]), (2, "09:31:00", [0, 0, 3, 0])]


def test_a_later_screen_of_the_same_question_asks_again(file, at):
    """It shows the hands of before at once, and counts an asking of its own."""
    show = Show("02", "02-predict", file)
    first, second = HandsScreen(show, 1), HandsScreen(show, 2)
    tell(first, 1, 1)
    assert second.screen.value["then"] == [0, 2, 0, 0]
    assert second.screen.value["now"] == [0, 0, 0, 0]
    tell(second, 2)
    assert (second.screen.value["asking"], first.screen.value["asking"]) == (2, 1)
    assert first.screen.value["now"] == [0, 2, 0, 0]
    assert first.screen.value["then"] == []


def test_nothing_is_asked_again_before_anything_is_counted(file, at):
    """The key is no trap."""
    screen = HandsScreen(Show("02", "02-predict", file), 1)
    tell(screen, "again", "again", "back")
    assert screen.screen.value["asking"] == 1
    assert not file.path.exists()


def test_last_years_class_stands_beside(file, at):
    """The newest day that is not today's, answer by answer; the second asking beside the second."""
    options = [one.text for one in options_of(question("02-predict"))]
    for number, hands in ((1, (9, 8, 7, 6)), (2, (0, 1, 30, 2))):
        counts = tuple(zip(options, hands, strict=True))
        file.keep(
            Asking("2025-11-27", f"09:0{number}:00", "old", "02", "02-predict", number, counts)
        )
    screen = HandsScreen(Show("02", "02-predict", file), 1)
    assert screen.screen.value["year"] == {"date": "2025-11-27", "hands": [9, 8, 7, 6]}
    tell(screen, 1, "again")
    assert screen.screen.value["year"]["hands"] == [0, 1, 30, 2]


def test_a_class_of_other_answers_is_no_class_before(file, at):
    """Were the answers worded anew, nothing false is shown."""
    file.keep(Asking("2025-11-27", "09:00:00", "old", "02", "02-predict", 1, (("elsewhere", 5),)))
    assert HandsScreen(Show("02", "02-predict", file), 1).screen.value["year"] == {}


def test_what_was_counted_comes_back_with_a_new_kernel(file, at):
    """The same day: hands, asking and answer; another day begins anew, and the file has the old."""
    screen = HandsScreen(Show("02", "02-predict", file), 1)
    tell(screen, 0, 0, 3)
    screen.screen.at = 1
    kept = screen.kept()
    again = HandsScreen(Show("02", "02-predict", file), 1)
    again.restore(kept)
    assert again.screen.value["now"] == [2, 0, 0, 1]
    assert again.screen.at == 1
    tell(again, 0)
    assert len(file.read().askings) == 1
    at(2027, 11, 26, 9, 0, 0)
    later = HandsScreen(Show("02", "02-predict", file), 1)
    later.restore(kept)
    assert later.screen.value["now"] == [0, 0, 0, 0]
    assert later.screen.at == 0
    assert (later.screen.value["asking"], later.screen.value["then"]) == (1, [])
    assert later.screen.value["year"] == {"date": "2026-11-28", "hands": [3, 0, 0, 1]}


def test_another_class_on_the_same_day(file, at):
    """All screens count from nothing; what the first class said stays in the file."""
    show = Show("02", "02-predict", file)
    first, second = HandsScreen(show, 1), HandsScreen(show, 2)
    tell(first, 0, 1)
    tell(second, 2)
    first.screen.at = 1
    at(2026, 11, 28, 11, 0, 0)
    tell(second, "anew")
    assert first.screen.value["now"] == second.screen.value["now"] == [0, 0, 0, 0]
    assert first.screen.at == 0
    tell(first, 3)
    kept = [(one.time, one.asking) for one in file.read().askings]
    assert kept == [("09:15:02", 1), ("09:15:02", 2), ("11:00:00", 1)]


def test_a_file_that_cannot_be_written_is_told_and_counting_goes_on(file, at):
    """One sentence on the screen; once the disk takes it, the sentence goes and all is there."""
    file.path.mkdir()
    screen = HandsScreen(Show("02", "02-predict", file), 1)
    tell(screen, 1)
    assert "is a link or a folder" in screen.screen.note
    assert screen.screen.value["now"] == [0, 1, 0, 0]
    file.path.rmdir()
    tell(screen, 1)
    assert screen.screen.note == ""
    assert [n for _, n in file.read().askings[0].counts] == [0, 2, 0, 0]


@pytest.mark.parametrize(
    "told",
    [None, 3, {}, {"kind": "hand"}, {"kind": "hand", "option": "2"}, {"kind": "hand", "option": 9},
     {"kind": "put", "option": 1, "hands": -4}, {"kind": "put", "option": 1, "hands": 10**6},
     {"kind": "put", "option": 1, "hands": 2.5}, {"kind": "back", "option": []}, {"kind": "x"}],
)  # fmt: skip
def test_what_is_no_request_changes_nothing(told, file, at):
    """Whatever a page sends."""
    screen = HandsScreen(Show("02", "02-predict", file), 1)
    screen.hear(told)
    assert screen.screen.value["now"] == [0, 0, 0, 0]
