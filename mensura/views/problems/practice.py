"""Practice: problems of the bank with numbers of one's own, answered and replied to on the spot.

A problem stands beside its picture; an answer, a hint and the worked solution are a key press away,
and what was reached lies beside the workbook before the reply is shown. The same desk, without
topics and progress, carries the fixed problems at the end of a chapter.
"""

from __future__ import annotations

import html
from collections.abc import Callable
from typing import Any

from mensura.checks import MeasureError
from mensura.disk.progress_file import Place, Progress, ProgressFile
from mensura.teaching.problems import bank
from mensura.teaching.problems.codes import CaseError, ask_back, meant, plain
from mensura.teaching.problems.draw import Problem, checked
from mensura.teaching.problems.family import TOPICS
from mensura.teaching.problems.mastery import (
    Attempt,
    Standing,
    by_topic,
    given_out,
    in_words,
    standings,
)
from mensura.teaching.problems.sitting import Sitting
from mensura.views.kit.frame import framed
from mensura.views.kit.live import Live, Still
from mensura.views.problems.desk import Desk
from mensura.views.problems.pictures import problem_still, problem_view
from mensura.views.problems.progress_picture import ProgressPicture, Shown


class Practice:
    """The panel for practising alone; without a kernel it shows its first problem.

    topic: one of TOPICS to start with, or None for all; student: her code; key, set_name: whose
    problems; folder: where the progress lies.
    """

    def __init__(
        self, topic: str | None, student: str, key: str, set_name: str, folder: Place = "."
    ) -> None:
        self.student, self.key, self.set_name = checked(student, key, set_name)
        self.topic = plain(topic)
        self.progress = Progress(ProgressFile(folder))
        self._sittings: dict[tuple[str, str, int], Sitting] = {}
        self._widget: Any = None
        self._setting = False
        self._families = bank.families(self.topic)
        self._open(self._first())

    # ---- where one is --------------------------------------------------------------------------

    @property
    def problem(self) -> Problem:
        """The one at hand."""
        return self.sitting.problem

    def standings(self) -> dict[str, Standing]:
        """How the student stands, by family."""
        return standings(self.progress.attempts, self.student, self.key, self.set_name)

    def _first(self) -> str:
        """The first family that is not mastered, or the first of all."""
        known = self.standings()
        keys = [one.key for one in self._families]
        return next((k for k in keys if not known.get(k, Standing()).mastered), keys[0])

    def _open(self, family: str, try_number: int | None = None) -> None:
        """Takes a problem up; without a try number the one that she was at."""
        number = try_number or self.standings().get(family, Standing()).next_try
        at = (self.student, family, number)
        if at not in self._sittings:
            one = bank.family(family)
            log = self.progress.attempts
            made = given_out(log, one, self.student, self.key, self.set_name, number)
            self._sittings[at] = Sitting(made)
            self._sittings[at].resume(log)
        self.sitting = self._sittings[at]

    # ---- what is done --------------------------------------------------------------------------

    def next_numbers(self) -> None:
        """The same kind of problem with the next numbers."""
        self._open(self.problem.family.key, self.problem.try_number + 1)
        self._show("New numbers.")

    def next_problem(self) -> None:
        """The next kind of problem in the topic; after the last comes the first."""
        keys = [one.key for one in self._families]
        at = keys.index(self.problem.family.key) if self.problem.family.key in keys else -1
        self._open(keys[(at + 1) % len(keys)])
        self._show("The next problem.")

    def choose_topic(self, topic: str | None) -> None:
        """Go to a topic's first problem that is not mastered.

        topic: one of TOPICS; None or "" for all.
        """
        self.topic = topic or None
        self._families = bank.families(self.topic)
        self._open(self._first())
        self._show("")

    def choose_family(self, key: str) -> None:
        """Go to one kind of problem.

        key: of the family.
        """
        self._open(key)
        self._show("")

    def call(self, code: str) -> None:
        """Work as another student; a code that is none is told, and nothing changes.

        code: as typed. One that differs from a known one in its capital letters only is asked back.
        """
        before = self.student
        try:
            code, _, _ = checked(code, self.key, self.set_name)
            if code != before:
                self._note(self.progress.refresh())
                ask_back("student", code, [before, *self._known("student")])
        except CaseError as error:
            self.desk.say(f"Did you mean {error.meant}? The problems are still {before}'s.")
            return
        except MeasureError as error:
            self.desk.say(
                f"{error.sentence('The student code')} The problems are still {before}'s."
            )
            return
        if code == before:
            self.desk.say("")
            return
        self.student = code
        self._open(self._first())
        self._show(f"These are the problems of {code}.")

    def _known(self, field: str) -> list[str]:
        """Students or keys that the progress knows."""
        return [getattr(one, field) for one in self.progress.attempts]

    def _meant(self) -> str:
        """A question, if the progress knows this student or key with other capital letters."""
        for field, words in (("student", "the problems are {}'s"), ("key", "the key is {}")):
            mine = getattr(self, field)
            near = meant(mine, self._known(field))
            if near is not None:
                return f"Did you mean {near}? Here {words.format(mine)}."
        return ""

    def _kept(self, attempt: Attempt) -> None:
        self._note(self.progress.add(attempt))
        self._draw_progress()

    # ---- what is seen --------------------------------------------------------------------------

    @property
    def heading(self) -> str:
        """Topic, kind and numbers of the problem at hand."""
        one = self.problem
        return f"{one.family.title} (numbers {one.try_number})"

    def __repr__(self) -> str:
        return _told(f"Practice. {self.heading}", self.problem)

    def still(self) -> Still:
        """The picture of the problem at hand."""
        return problem_still(self.problem)

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        data = dict(self.build()._repr_mimebundle_())
        return _beside(data, repr(self), self.still())

    def _show(self, said: str) -> None:
        """Put the problem at hand on the desk, with its picture and its place in the progress."""
        self.desk.show(self.sitting, self.heading)
        self.image.value = problem_view(self.problem).html
        self._setting = True
        try:
            names = tuple((one.title, one.key) for one in self._families)
            if tuple(self.kinds.options) != names:
                self.kinds.options = names
            self.kinds.value = self.problem.family.key
            self.topics.value = self.topic or ""
            self.code.value = self.student
        finally:
            self._setting = False
        if said:
            self.desk.say(said)
            self.desk.box.focus()
        self._draw_progress()

    def _draw_progress(self) -> None:
        topics = by_topic(self.standings(), bank.families())
        numbers = Shown(topics, self.problem.family.key)
        self.chart.value = (
            self.live.tag(numbers)
            + f"<p>{html.escape(self.student)}: {html.escape(in_words(topics))}</p>"
        )

    def _note(self, sentence: str) -> None:
        shown = f'<p role="status" aria-live="polite">{html.escape(sentence)}</p>'
        self.note.value = shown if sentence else ""

    def build(self) -> Any:
        """The widgets; made at the first call, the same ones ever after."""
        if self._widget is not None:
            return self._widget
        import ipywidgets as w

        self.desk = Desk(self.sitting, self._kept)
        self.image = w.HTML(layout=w.Layout(flex="0 1 430px", min_width="300px"))
        self.chart, self.note = w.HTML(layout=w.Layout(width="min(100%, 880px)")), w.HTML()
        self.live = Live(ProgressPicture(by_topic({}, bank.families())))
        wide = {"description_width": "auto"}
        self.topics = w.Dropdown(
            options=[("all topics", "")]
            + [(name, name) for name in TOPICS if any(f.topic == name for f in bank.families())],
            value=self.topic or "",
            description="Topic",
            style=wide,
            layout=w.Layout(width="200px"),
        )
        self.kinds = w.Dropdown(
            options=[(one.title, one.key) for one in self._families],
            value=self.problem.family.key,
            description="Problem",
            style=wide,
            layout=w.Layout(width="420px"),
        )
        self.code = w.Text(
            value=self.student,
            description="Student code",
            continuous_update=False,
            style=wide,
            layout=w.Layout(width="190px"),
        )
        for widget, deed in (
            (self.topics, self.choose_topic),
            (self.kinds, self.choose_family),
            (self.code, self.call),
        ):
            widget.observe(lambda change, do=deed: self._changed(do, change["new"]), "value")
        self.buttons = dict(self.desk.buttons)
        for name, go in (
            ("Next numbers", self.next_numbers),
            ("Next problem", self.next_problem),
        ):
            self.buttons[name] = w.Button(description=name, layout=w.Layout(width="auto"))
            self.buttons[name].on_click(lambda _, do=go: do())
        self.desk.row.children += (self.buttons["Next numbers"], self.buttons["Next problem"])
        wrap = w.Layout(flex_flow="row wrap")
        left = w.VBox(self.desk.parts, layout=w.Layout(flex="1 1 400px", min_width="0"))
        choices = w.HBox([self.topics, self.kinds, self.code], layout=wrap)
        choices.add_class("mensura-choices")
        self._widget = w.VBox(
            [
                choices,
                w.HBox([left, self.image], layout=wrap),
                self.chart,
                self.note,
            ]
        )
        framed(self._widget, "mensura-practice")
        self._show("")
        self._note(f"{self._meant()} {self.progress.note}".strip())
        return self._widget

    def _changed(self, deed: Callable[[Any], None], value: Any) -> None:
        if not self._setting:
            deed(value)


def practice(
    topic: str | None = None,
    student: str = "Q07",
    key: str = "quillmere",
    set_name: str = "1",
) -> Practice:
    """Problems of the bank to practise with; progress lies in the current folder.

    topic: one of TOPICS to start with, or None for all; student: her code, which she may change in
    the panel; key, set_name: whose problems, and which set of them.
    Raises MeasureError for what is no topic, no code, key or set.

    >>> practice("girth").heading
    'From a girth to a diameter (numbers 1)'
    """
    return Practice(topic, student, key, set_name)


def _told(heading: str, problem: Problem) -> str:
    """What a problem is and asks, in one line."""
    return f"{heading}{'' if heading.endswith('?') else ':'} {problem.text}"


def _beside(data: dict[str, Any], said: str, still: Still) -> tuple[dict[str, Any], dict[str, Any]]:
    """A live view, and beside it what a page without a kernel shows: the words and the picture."""
    data = data | {
        "image/png": still.png,
        "text/html": f"<p>{html.escape(said)}</p>{still.html}",
        "text/plain": f"{said}\n{still.alt}",
    }
    return data, {"image/png": still.metadata}


class ProblemHere:
    """A fixed problem on a page; nothing of it is kept.

    problem: with its numbers; number: how it is counted on its page; picture: whether it is drawn.
    """

    def __init__(self, problem: Problem, number: int, picture: bool) -> None:
        self.problem, self.number, self.picture = problem, number, picture

    @property
    def heading(self) -> str:
        """What stands before the problem."""
        return f"Problem {self.number}. {self.problem.family.title}"

    def __repr__(self) -> str:
        return _told(self.heading, self.problem)

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        data = dict(self.build()._repr_mimebundle_()) | {"text/plain": repr(self)}
        if not self.picture:
            return data, {}
        return _beside(data, repr(self), problem_still(self.problem))

    def build(self) -> Any:
        """The widgets, made anew."""
        import ipywidgets as w

        sitting = Sitting(self.problem)
        desk = Desk(sitting)
        desk.show(sitting, self.heading)
        parts = w.VBox(desk.parts, layout=w.Layout(flex="1 1 400px", min_width="0"))
        row = [parts]
        if self.picture:
            image = w.HTML(layout=w.Layout(flex="0 1 430px", min_width="300px"))
            image.value = problem_view(self.problem).html
            row.append(image)
        box = w.VBox([w.HBox(row, layout=w.Layout(flex_flow="row wrap"))])
        return framed(box, "mensura-practice")


def problems_here(family: str, number: int = 1, picture: bool = True) -> ProblemHere:
    """A fixed problem of the bank, as it stands at the end of a chapter.

    family: its key; number: how it is counted on its page, and which numbers it has; picture:
    whether it is drawn. Raises MeasureError for an unknown family or what is no count.

    >>> print(problems_here("girth-to-diameter", 5).heading)
    Problem 5. From a girth to a diameter
    """
    return ProblemHere(bank.problem(family, "page", "quillmere", "page", number), number, picture)
