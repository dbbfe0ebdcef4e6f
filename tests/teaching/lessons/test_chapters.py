"""One list of chapters: it fits what lies on the disk, and a new row is found everywhere."""

from __future__ import annotations

import re

import pytest

from mensura.checks import MeasureError
from mensura.places import shipped
from mensura.teaching.lessons.chapters import (
    CHAPTERS,
    Chapter,
    chapter,
    chapter_of_topic,
    neighbours,
)
from mensura.teaching.lessons.questions import question
from mensura.teaching.problems.family import TOPICS
from mensura.teaching.proof.roads import ROADS
from mensura.views.chapters import panels


def test_the_list_is_what_lies_on_the_disk() -> None:
    """Each chapter has its notebook and each numbered notebook its chapter, in one order."""
    there = sorted(path.name for path in shipped("workbooks").glob("[0-9]*.ipynb"))
    assert [one.file for one in CHAPTERS] == there


def test_each_is_told_apart() -> None:
    """No number, name, module, topic or panel serves two chapters; each topic is the bank's."""
    for part in ("number", "name", "title", "questions"):
        values = [getattr(one, part) for one in CHAPTERS]
        assert len(set(values)) == len(values)
    for part in ("topics", "panels"):
        named = [name for one in CHAPTERS for name in getattr(one, part)]
        assert len(set(named)) == len(named)
    assert {topic for one in CHAPTERS for topic in one.topics} <= set(TOPICS)


@pytest.mark.parametrize("one", CHAPTERS, ids=lambda one: one.number)
def test_its_questions_and_panels_are_there(one: Chapter) -> None:
    """The modules that a row names exist, and its first question is found by its number."""
    assert question(f"{one.number}-predict") is not None
    assert set(one.panels) <= set(panels())


def test_no_panel_and_no_road_is_left_out() -> None:
    """Each panel and each road of the proof is shown by a chapter."""
    assert {name for one in CHAPTERS for name in one.panels} == set(panels())
    assert {name for one in CHAPTERS for name in one.roads} == set(ROADS)


def test_topics_lead_to_chapters() -> None:
    """Each topic's chapter, and none for a topic that waits for its own."""
    assert chapter_of_topic("out-of-round") is chapter("02")
    assert chapter_of_topic("nothing") is None
    assert sum(chapter_of_topic(topic) is not None for topic in TOPICS) == 15


def test_neighbours() -> None:
    """Before and after, and nothing beyond the ends."""
    assert [one and one.number for one in neighbours("02")] == ["01", "03"]
    assert neighbours(CHAPTERS[0].number)[0] is None
    assert neighbours(CHAPTERS[-1].number)[1] is None


@pytest.mark.parametrize("number", ["00", "5", "", "5a"])
def test_an_unknown_number_is_refused(number: str) -> None:
    """One sentence that names the chapters there are."""
    with pytest.raises(MeasureError, match=re.escape("one of: 01, 02")):
        chapter(number)


@pytest.mark.parametrize(
    ("number", "name"), [("5", "bark"), ("٠٥", "bark"), ("05", "Bark"), ("05", "a/b"), ("05", "")]
)
def test_what_could_be_no_file_is_refused(number: str, name: str) -> None:
    """A name never becomes a path: two digits, small letters, hyphens."""
    with pytest.raises(MeasureError):
        Chapter(number, name, "Bark", "bark")
