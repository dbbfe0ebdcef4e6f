"""Questions as a reader sees them: as plain text, and as widgets that reply."""

from __future__ import annotations

import html
import re
from importlib import import_module
from typing import Any

import ipywidgets as w
import pytest

from mensura.checks import MeasureError
from mensura.teaching import Exercise, Prediction
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.questions import question
from mensura.views.chapters.asking import Ask, ask

KEYS = [key for one in CHAPTERS for key in import_module(one.questions_home).QUESTIONS]
PREDICTIONS = [key for key in KEYS if isinstance(question(key), Prediction)]
EXERCISES = [key for key in KEYS if isinstance(question(key), Exercise)]


def parts(box: Any, kind: type) -> list[Any]:
    """All widgets of a kind in a box, in order."""
    found = [box] if isinstance(box, kind) else []
    for child in getattr(box, "children", ()):
        found += parts(child, kind)
    return found


def said(box: Any) -> str:
    """The words of the reply, without their markup."""
    reply = parts(box, w.HTML)[-1].value
    assert reply == "" or reply.startswith('<p role="status" aria-live="polite">')
    return html.unescape(re.sub(r"<[^>]+>", "", reply))


def test_there_is_something_to_ask() -> None:
    """Both workbooks have a prediction and at least two exercises."""
    for chapter in ("01", "02"):
        assert [key for key in PREDICTIONS if key.startswith(chapter)]
        assert len([key for key in EXERCISES if key.startswith(chapter)]) >= 2


@pytest.mark.parametrize("key", PREDICTIONS)
def test_a_prediction_without_a_kernel(key: str) -> None:
    """The text holds the question and every choice, and not which of them is right."""
    text, item = repr(ask(key)), question(key)
    lines = text.splitlines()
    assert lines[0] == f"Predict: {item.question}"
    assert lines[1:] == [f"  - {choice.text}" for choice in item.choices]
    assert not [choice.reply for choice in item.choices if choice.reply in text]


@pytest.mark.parametrize("key", EXERCISES)
def test_an_exercise_without_a_kernel(key: str) -> None:
    """The text holds the question and the unit, and neither the answer's reason nor a slip's."""
    text, item = repr(ask(key)), question(key)
    unit = f" (answer in {item.unit})" if item.unit else ""
    assert text == f"Check yourself {key[3:]}: {item.text}{unit}"
    assert item.because not in text
    assert not [slip.says for slip in item.slips if slip.says in text]


@pytest.mark.parametrize("key", KEYS)
def test_what_a_notebook_is_given(key: str) -> None:
    """A live view, and the same in words for where there is none."""
    data = ask(key)._repr_mimebundle_()
    assert set(data) == {"application/vnd.jupyter.widget-view+json", "text/plain"}
    assert data["text/plain"] == repr(ask(key))
    assert data["application/vnd.jupyter.widget-view+json"]["model_id"]


@pytest.mark.parametrize("key", PREDICTIONS)
def test_a_prediction_replies(key: str) -> None:
    """Nothing is said before it is asked; then each choice has its own reply."""
    item = question(key)
    box = ask(key).build()
    (radio,), (button,) = parts(box, w.RadioButtons), parts(box, w.Button)
    assert radio.index is None
    assert said(box) == ""
    button.click()
    assert said(box) == "Choose an answer first."
    replies = []
    for index, choice in enumerate(item.choices):
        radio.index = index
        assert radio.label == choice.text
        button.click()
        replies.append(said(box))
        assert replies[-1] == f"{'Yes.' if choice.right else 'Not so.'} {choice.reply}"
    assert len(set(replies)) == len(item.choices)


@pytest.mark.parametrize("key", EXERCISES)
def test_an_exercise_replies(key: str) -> None:
    """Right, each slip, and nothing typed; the same by the button and by the Enter key."""
    item = question(key)
    box = ask(key).build()
    (field,), (button,) = parts(box, w.Text), parts(box, w.Button)
    assert field.description == (f"Answer, {item.unit}" if item.unit else "Answer")
    button.click()
    assert said(box).startswith("Nothing was typed; expected a number")
    field.value = f"{item.answer:.6g}"
    assert said(box) == f"Right. {item.because}"
    button.click()
    assert said(box) == f"Right. {item.because}"
    for slip in item.slips:
        field.value = f"{slip.value:#.8g}"
        assert said(box) == slip.says
    # a field that is emptied says nothing of itself
    before = said(box)
    field.value = ""
    assert said(box) == before


def test_a_value_is_sent_whole() -> None:
    """Only a finished answer is sent: else the reply could come to half of it."""
    (field,) = parts(ask("02-1").build(), w.Text)
    assert field.continuous_update is False


def test_two_views_of_a_question_are_two() -> None:
    """What is answered in one place does not show in another."""
    asked = ask("02-predict")
    first, second = asked.build(), asked.build()
    parts(first, w.RadioButtons)[0].index = 2
    parts(first, w.Button)[0].click()
    assert said(first).startswith("Yes.")
    assert said(second) == ""
    assert parts(second, w.RadioButtons)[0].index is None


def test_what_is_typed_is_never_markup() -> None:
    """Neither the question's own words nor a typed answer are read as HTML."""
    box = Ask(Exercise("Is a < b & b > c?", "cm", 1.0, 0.1, "so it is"), 3).build()
    title = parts(box, w.HTML)[0].value
    assert title == "<p><b>Check yourself 3.</b> Is a &lt; b &amp; b &gt; c?</p>"
    parts(box, w.Text)[0].value = "<img src=x onerror=alert(1)>"
    assert "<img" not in parts(box, w.HTML)[-1].value
    parts(box, w.Text)[0].value = "1 <img>"
    reply = parts(box, w.HTML)[-1].value
    assert "<img" not in reply
    assert "&lt;img" in reply


def test_headings() -> None:
    """Numbered as in the workbook; without a number, plainly."""
    assert ask("02-turn").heading == "Predict"
    assert ask("01-4").heading == "Check yourself 4"
    assert Ask(Exercise("How far?", "", 1.0, 0.1, "so")).heading == "Check yourself"
    assert parts(Ask(Exercise("How far?", "", 1.0, 0.1, "so")).build(), w.Text)[0].description == (
        "Answer"
    )


def test_an_unknown_question() -> None:
    """A key that is not there is answered with those that are."""
    with pytest.raises(MeasureError, match="02-predict, 02-turn, 02-1"):
        ask("02-9")
    with pytest.raises(MeasureError, match="for: 01, 02"):
        ask("77-1")
