"""Predictions and exercises as a reader sees them: a question, a place to answer, a reply."""

from __future__ import annotations

import html
from typing import Any

from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction
from mensura.views.kit.frame import framed


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
        import ipywidgets as w

        reply = w.HTML()
        question = self.question

        def say(sentence: str) -> None:
            reply.value = f'<p role="status" aria-live="polite">{html.escape(sentence)}</p>'

        if isinstance(question, Prediction):
            title = f"<p><b>{self.heading}.</b> {html.escape(question.question)}</p>"
            names = [choice.text for choice in question.choices]
            answer: Any = w.RadioButtons(
                options=[(name, index) for index, name in enumerate(names)],
                index=None,
            )
            button = w.Button(description="See the answer")
            button.on_click(lambda _: say(question.reply(answer.value)))
            # a reply belongs to the answer that it was given to
            answer.observe(lambda _: setattr(reply, "value", ""), "value")
            row = w.VBox([answer, button])
        else:
            title = f"<p><b>{self.heading}.</b> {html.escape(question.text)}</p>"
            answer = w.Text(
                description=f"Answer, {question.unit}" if question.unit else "Answer",
                continuous_update=False,
            )
            button = w.Button(description="Check")
            button.on_click(lambda _: say(question.reply(answer.value).message))

            def sent(change: Any) -> None:
                if change["new"]:
                    button.click()

            # the Enter key, which sends the value, checks as well
            answer.observe(sent, "value")
            row = w.HBox([answer, button])
            row.add_class("mensura-buttons")
        return framed(w.VBox([w.HTML(title), row, reply]), "mensura-ask")


def ask(key: str) -> Ask:
    """A workbook's question, ready to be shown.

    key: as in "02-predict" or "02-1"; a number after the dash counts the exercise.

    >>> ask("02-1").heading
    'Check yourself 1'
    """
    from mensura.teaching.lessons.questions import question

    tail = key.rpartition("-")[2]
    return Ask(question(key), int(tail) if tail.isdigit() else 0)
