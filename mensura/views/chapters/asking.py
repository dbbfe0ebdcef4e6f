"""Predictions and exercises as a reader sees them: a question, a place to answer, a reply."""

from __future__ import annotations

import html
from abc import ABC, abstractmethod
from collections.abc import Mapping
from typing import Any

from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction
from mensura.views.kit.frame import framed
from mensura.views.kit.heard import soon


class Ask:
    """A question in a workbook; without a kernel it shows as plain text.

    question: a Prediction or an Exercise; number: how it is counted in its workbook, or 0.
    """

    def __init__(self, question: Prediction | Exercise, number: int = 0) -> None:
        self.question = question
        self.number = number

    @property
    def heading(self) -> str:
        """What stands before the question."""
        if isinstance(self.question, Prediction):
            return "Predict"
        return f"Check yourself {self.number}" if self.number else "Check yourself"

    def __repr__(self) -> str:
        question = self.question
        if isinstance(question, Prediction):
            lines = [f"{self.heading}: {question.question}"]
            lines += [f"  - {choice.text}" for choice in question.choices]
            return "\n".join(lines)
        unit = f" (answer in {question.unit})" if question.unit else ""
        return f"{self.heading}: {question.text}{unit}"

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        data = dict(self.build()._repr_mimebundle_())
        return data | {"text/plain": repr(self)}

    def build(self) -> Any:
        """The widgets, made anew."""
        return (Predicted if isinstance(self.question, Prediction) else Exercised)(self).widget


class Asked(ABC):
    """A question at work in one notebook: its answer, its reply, its widgets.

    ask: what is asked. `answer` is the widget that holds the answer, `button` asks for the reply,
    `said` whether a reply is on show.
    """

    button_name: str

    def __init__(self, ask: Ask) -> None:
        import ipywidgets as w

        self.ask, self.said = ask, False
        self.reply = w.HTML()
        self.answer = self._answer(w)
        self.button = w.Button(description=self.button_name)
        # the answer may still be on its way
        self.button.on_click(lambda pressed: soon(self.say, pressed))
        title = w.HTML(f"<p><b>{ask.heading}.</b> {html.escape(self.asked)}</p>")
        box = w.VBox([title, self._row(w), self.reply])
        self.widget = framed(box, "mensura-ask", name=self.asked, keeper=self)

    @property
    @abstractmethod
    def asked(self) -> str:
        """The question in words."""

    @abstractmethod
    def _answer(self, w: Any) -> Any:
        """The widget to answer with."""

    @abstractmethod
    def _row(self, w: Any) -> Any:
        """Answer and button."""

    @abstractmethod
    def message(self) -> str:
        """What is to be said to the answer."""

    def say(self) -> None:
        """Say what is to be said to the answer."""
        self.said = True
        sentence = html.escape(self.message())
        self.reply.value = f'<p role="status" aria-live="polite">{sentence}</p>'

    def unsay(self) -> None:
        """A reply belongs to the answer that it was given to."""
        self.said, self.reply.value = False, ""

    @abstractmethod
    def kept(self) -> dict[str, Any]:
        """The answer, and whether it was replied to."""

    @abstractmethod
    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept.

        kept: as :meth:`kept` gives it.
        """


class Predicted(Asked):
    """A prediction: choices, one of them to be chosen before anything moves."""

    button_name = "See the answer"

    @property
    def _question(self) -> Prediction:
        assert isinstance(self.ask.question, Prediction)
        return self.ask.question

    @property
    def asked(self) -> str:
        """The question in words."""
        return self._question.question

    def _answer(self, w: Any) -> Any:
        names = [choice.text for choice in self._question.choices]
        answer = w.RadioButtons(
            options=[(name, index) for index, name in enumerate(names)],
            index=None,
        )
        answer.observe(lambda _: self.unsay(), "value")
        return answer

    def _row(self, w: Any) -> Any:
        return w.VBox([self.answer, self.button])

    def message(self) -> str:
        """What is to be said to the choice."""
        return self._question.reply(self.answer.value)

    def kept(self) -> dict[str, Any]:
        """The choice in words, and whether it was replied to."""
        return {"choice": self.answer.label, "said": self.said}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept; a choice that is not there any more is left out.

        kept: as :meth:`kept` gives it.
        """
        names = [choice.text for choice in self._question.choices]
        choice = kept["choice"]
        self.answer.index = names.index(choice) if choice in names else None
        self.unsay()
        if kept["said"] is True and choice in (None, *names):
            self.say()


class Exercised(Asked):
    """An exercise: a box for a number, replied to by what it was got by."""

    button_name = "Check"

    @property
    def _question(self) -> Exercise:
        assert isinstance(self.ask.question, Exercise)
        return self.ask.question

    @property
    def asked(self) -> str:
        """The exercise in words."""
        return self._question.text

    def _answer(self, w: Any) -> Any:
        unit = self._question.unit
        answer = w.Text(
            description=f"Answer, {unit}" if unit else "Answer",
            continuous_update=False,
        )
        # the Enter key, which sends the value, checks as well
        answer.observe(self._sent, "value")
        return answer

    def _sent(self, change: Any) -> None:
        if change["new"]:
            self.say()

    def _row(self, w: Any) -> Any:
        row = w.HBox([self.answer, self.button])
        row.add_class("mensura-buttons")
        return row

    def message(self) -> str:
        """What is to be said to the number in the box."""
        return self._question.reply(self.answer.value).message

    def kept(self) -> dict[str, Any]:
        """What stands in the box, and whether it was replied to."""
        return {"text": self.answer.value, "said": self.said}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept.

        kept: as :meth:`kept` gives it.
        """
        self.answer.value = kept["text"]
        self.unsay()
        if kept["said"] is True:
            self.say()


def ask(key: str) -> Ask:
    """A workbook's question, ready to be shown.

    key: as in "02-predict" or "02-1"; a number after the dash counts the exercise.

    >>> ask("02-1").heading
    'Check yourself 1'
    """
    from mensura.teaching.lessons.questions import question

    tail = key.rpartition("-")[2]
    return Ask(question(key), int(tail) if tail.isdigit() else 0)
