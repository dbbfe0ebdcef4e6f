"""One problem at work on a page: its text, an answer, hints, the worked solution, and the reply.

What was read stays on the desk when the next thing is said, and what was typed stays in its box.
Nothing that is typed is taken for markup.
"""

from __future__ import annotations

import html
from collections.abc import Callable
from datetime import UTC, datetime

from mensura.teaching.problems.sitting import NO_MORE, NOT_YET, Sitting
from mensura.teaching.problems.standing import Attempt
from mensura.views.kit.heard import on_enter, soon


class Desk:
    """One problem at work: text, answer, hints, solution, and what is said.

    sitting: the student's work on it; keep: called with each attempt before the reply is shown;
    barred: says why no answer can be replied to, "" if one can.
    """

    def __init__(
        self,
        sitting: Sitting,
        keep: Callable[[Attempt], None] | None = None,
        barred: Callable[[], str] = str,
    ) -> None:
        import ipywidgets as w

        self.sitting = sitting
        self._keep = keep or (lambda _: None)
        self._barred = barred
        self._read: list[tuple[str, str]] = []
        self.head, self.said, self.read = w.HTML(), w.HTML(), w.HTML()
        self.box = w.Text(
            description="Answer",
            placeholder="a number and its unit",
            # whole answers only: letters sent one by one may be overtaken by the Enter key, and
            # half an answer would be replied to and kept
            continuous_update=False,
        )
        on_enter(self.box, self.check)
        self.buttons = {
            name: w.Button(description=name) for name in ("Check", "Hint", "Worked solution")
        }
        deeds = (lambda: soon(self.check), self.hint, self.solution)
        for button, deed in zip(self.buttons.values(), deeds, strict=True):
            button.on_click(lambda _, do=deed: do())
        answer = w.HBox([self.box, self.buttons["Check"]])
        self.row = w.HBox([self.buttons["Hint"], self.buttons["Worked solution"]])
        for row in (answer, self.row):
            row.add_class("mensura-buttons")
        self.parts = [self.head, answer, self.row, self.said, self.read]

    def show(self, sitting: Sitting, heading: str) -> None:
        """Put a problem on the desk; the answer's box is emptied, nothing is said.

        sitting: the student's work on it; heading: what stands before its text.
        """
        self.sitting = sitting
        problem = sitting.problem
        self.head.value = (
            f"<p class='mensura-heading'><b>{html.escape(heading)}</b></p>"
            f"<p class='mensura-text' aria-live='polite'>{html.escape(problem.text)}</p>"
        )
        self.box.value = ""
        self.box.placeholder = "a whole number" if problem.family.exact else "a number and its unit"
        self._read = [
            (f"Hint {k}", hint) for k, hint in enumerate(problem.hints[: sitting.hints_read], 1)
        ]
        if sitting.solution_read:
            self._read.append(("Worked solution", problem.solution))
        self.say("")

    # ---- what is done ------------------------------------------------------------------------

    def check(self) -> None:
        """Reply to what stands in the box; it stays there."""
        barred = self._barred()
        if barred:
            self.say(barred)
            return
        text = self.box.value
        now = datetime.now(UTC).isoformat(timespec="milliseconds")
        said, attempt = self.sitting.answer(text, now)
        if attempt:
            self._keep(attempt)
        if not said.readable:
            self.say(f"{said.message} This does not count.", "…")
        elif said.right:
            self.say(said.rest, "✓", said.opens)
        elif said.slip:
            self.say(said.message, "✗", f"Not right: {said.slip.replace('-', ' ')}.")
        else:
            self.say(said.message, "✗", "Not right yet.")

    def hint(self) -> None:
        """The next hint; those before it stay on the desk."""
        told = self.sitting.hint()
        if told is None:
            self.say(NO_MORE)
            return
        self._tell(f"Hint {self.sitting.hints_read}", told)

    def solution(self) -> None:
        """The worked solution, once it is open."""
        told = self.sitting.solution()
        if told is None:
            self.say(NOT_YET)
            return
        self._read = [one for one in self._read if one[0] != "Worked solution"]
        self._tell("Worked solution", told)

    # ---- what is said ------------------------------------------------------------------------

    def _tell(self, name: str, text: str) -> None:
        """Say something that stays on the desk when the next thing is said."""
        before = list(self._read)
        self._read.append((name, text))
        self.say(text, "", f"{name}.", before)

    def say(
        self, sentence: str, mark: str = "", opens: str = "",
        before: list[tuple[str, str]] | None = None,
    ) -> None:  # fmt: skip
        """Set the reply, and beneath it what was read before.

        sentence: as read out; mark: a sign before it; opens: its first words, bold; before: names
        and texts that stay, all that were read unless given.
        """
        kind = {"✓": "right", "✗": "wrong"}.get(mark, "plain")
        sign = f"<span aria-hidden='true'>{mark} </span>" if mark in "✓✗" else ""
        bold = f"<b>{html.escape(opens)}</b> " if opens else ""
        quiet = "" if sentence or opens else " mensura-empty"
        self.said.value = (
            f'<p role="status" aria-live="polite" class="mensura-{kind}{quiet}">'
            f"{sign}{bold}{html.escape(sentence)}</p>"
        )
        rows = self._read if before is None else before
        self.read.value = "".join(
            f"<p class='mensura-read'><b>{html.escape(name)}.</b> {html.escape(text)}</p>"
            for name, text in rows
        )
