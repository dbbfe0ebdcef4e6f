"""One problem at work on a page: its text, an answer, hints, the worked solution, and the reply.

What was read stays on the desk when the next thing is said, and what was typed stays in its box.
Nothing that is typed is taken for markup.
"""

from __future__ import annotations

import html
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any

from mensura.checks import whole
from mensura.teaching.answers.reply import Reply
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
        self._heading = ""
        self._checked: str | None = None  # what the reply on show was given to
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
        check = self.buttons["Check"]
        deeds = (lambda: soon(self.check, check), self.hint, self.solution)
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
        self.sitting, self._heading = sitting, heading
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
        self._reply(text, said)

    def _reply(self, text: str, said: Reply) -> None:
        if not said.readable:
            self.say(f"{said.message} This does not count.", "…")
        elif said.right:
            self.say(said.rest, "✓", said.opens)
        elif said.slip:
            self.say(said.message, "✗", f"Not right: {said.slip.replace('-', ' ')}.")
        else:
            self.say(said.message, "✗", "Not right yet.")
        self._checked = text

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

    # ---- what is kept ------------------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """What stands in the box, what was replied to and what was read."""
        at = self.sitting
        told = {"text": self.box.value, "tried": at.last_text, "checked": self._checked}
        return told | {"hints": at.hints_read, "solution": at.solution_read}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept of a problem that is not in the progress.

        kept: as :meth:`kept` gives it.
        """
        self.show(Sitting(self.sitting.problem), self._heading)
        self.resume(kept)

    def resume(self, kept: Mapping[str, Any]) -> None:
        """Go on with the problem on the desk where it was left; nothing is an attempt anew.

        kept: as :meth:`kept` gives it.
        """
        at, most = self.sitting, len(self.sitting.problem.hints)
        at.hints_read = max(at.hints_read, whole(kept["hints"], "hints", at_least=0, at_most=most))
        checked = [one for one in (kept["tried"], kept["checked"]) if isinstance(one, str)]
        replies = {text: at.answer(text, "")[0] for text in checked}
        at.solution_read = at.solution_read or (kept["solution"] is True and at.open)
        self.show(at, self._heading)
        self.box.value = kept["text"]
        if kept["checked"] in replies:
            self._reply(kept["checked"], replies[kept["checked"]])

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
        self._checked = None
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
