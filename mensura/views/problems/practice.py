"""Practice: problems of the bank with numbers of one's own, answered and replied to on the spot.

A problem stands beside its picture; an answer, a hint and the worked solution are a key press away,
and what was reached lies beside the workbook before the reply is shown. While nobody has given a
code, a problem may be looked at with an example's numbers, and nothing is kept. The same desk,
without topics and progress, carries the fixed problems at the end of a chapter.
"""

from __future__ import annotations

import html
from collections.abc import Mapping
from typing import Any

from mensura.checks import whole
from mensura.disk.progress_file import Place, Progress, ProgressFile
from mensura.teaching.problems import bank
from mensura.teaching.problems.codes import in_capitals, meant, plain
from mensura.teaching.problems.draw import MOST_TRIES, Problem, checked
from mensura.teaching.problems.sitting import Sitting
from mensura.teaching.problems.standing import (
    Attempt,
    Standing,
    by_topic,
    given_out,
    in_words,
    standings,
)
from mensura.views.kit.frame import framed
from mensura.views.kit.keeping import keeping
from mensura.views.kit.live import Live, Still
from mensura.views.kit.seat import Seat, seat
from mensura.views.kit.stage import stage
from mensura.views.problems.choices import Choices
from mensura.views.problems.desk import Desk
from mensura.views.problems.pictures import problem_still, problem_view
from mensura.views.problems.progress_picture import ProgressPicture, Shown

#: Whose numbers a problem has while nobody has given a code; nothing is kept under it.
EXAMPLE = "page"

NO_CODE = (
    "Give your student code first: type it in the box above and press Enter. Then the numbers are "
    "your own, and your answers are kept."
)

NEXT = "The next student types a code into the box above."
NEW_NUMBERS = "The numbers are new: look before you check."


class Practice:
    """The panel for practising alone; without a kernel it shows its first problem.

    topic: one of TOPICS to start with, or None for all; student: her code, or None for the one that
    this folder knows; key, set_name: whose problems; folder: where code and progress lie.
    """

    def __init__(
        self, topic: str | None, student: str | None, key: str, set_name: str, folder: Place = "."
    ) -> None:
        code, self.key, self.set_name = checked(student or EXAMPLE, key, set_name)
        self.topic = plain(topic)
        self.progress = Progress(ProgressFile(folder))
        self.seat = seat(folder) if student is None else Seat(code=code, known=self._students)
        self._sat = self.seat.code  # whose problems are shown
        self._sittings: dict[tuple[str | None, str, int], Sitting] = {}
        self._widget: Any = None
        self._families = bank.families(self.topic)
        self._open(self._first())

    #: When another student sits down her problems are taken up, by `_follow`.
    follows_the_seat = True

    # ---- where one is --------------------------------------------------------------------------

    @property
    def student(self) -> str | None:
        """Her code; None while nobody has given one."""
        return self.seat.code

    @property
    def problem(self) -> Problem:
        """The one at hand."""
        return self.sitting.problem

    def standings(self) -> dict[str, Standing]:
        """How the student stands, by family; nobody stands anywhere."""
        if self.student is None:
            return {}
        return standings(self.progress.attempts, self.student, self.key, self.set_name)

    def _first(self) -> str:
        """The first family that is not taped, or the first of all."""
        known = self.standings()
        keys = [one.key for one in self._families]
        return next((k for k in keys if not known.get(k, Standing()).taped), keys[0])

    def _open(self, family: str, try_number: int | None = None) -> None:
        """Takes a problem up; without a try number the one that she was at."""
        number = try_number or self.standings().get(family, Standing()).next_try
        at = (self.student, family, number)
        if at not in self._sittings:
            one = bank.family(family)
            log = () if self.student is None else self.progress.attempts
            whose = self.student or EXAMPLE
            made = given_out(log, one, whose, self.key, self.set_name, number)
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
        """Go to a topic's first problem that is not taped.

        topic: one of TOPICS; None or "" for all.
        """
        self.topic = topic or None
        self._families = bank.families(self.topic)
        self._begin()

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
        self._note(self.progress.refresh())
        if self.seat.take(code):
            self.desk.box.focus()

    def another(self) -> None:
        """The next student comes: the code is forgotten and asked for anew."""
        self.seat.leave()
        self.choices.code.focus()

    def _follow(self) -> None:
        """Whoever sits here now, from this page or another: her problems, or why not."""
        note = self.seat.note
        if self.student == self._sat:
            whose = f" The problems are still {self._sat}'s." if note and self._sat else ""
            self.desk.say(note + whose)
            return
        before, self._sat = self._sat, self.student
        # what was typed before anybody's code was known is hers who gives it; else it stays with
        # whoever typed it
        typed = self.desk.box.value if before is None else ""
        if typed == self.sitting.last_text:
            typed = ""  # it was replied to
        keeping().begin_anew(self, self._begin)
        self.desk.box.value = typed or self.desk.box.value
        if self.student is None:
            self.desk.say(f"{note} {NEXT}".strip())
            return
        told = f"These are the problems of {self.student}."
        large = in_capitals(self.student)
        if large is not None:
            told += f" Capital letters count: {large} has other numbers."
        if typed:
            told += f" {NEW_NUMBERS}"
        self.desk.say(f"{told} {note}".strip())

    def _begin(self) -> None:
        self._open(self._first())
        self._show("")

    def _barred(self) -> str:
        """Why an answer cannot be replied to; "" if it can. It may be another student by now."""
        typed = self.desk.box.value
        changed = self.seat.look()
        if changed:
            self.desk.box.value = typed  # it is looked at again, with the numbers that hold now
        if changed and self.student is not None:
            return (
                f"The code was changed on another page: these are the problems of {self.student}. "
                f"{NEW_NUMBERS}"
            )
        if self.student is None:
            self.choices.code.focus()
            return NO_CODE
        return ""

    def _students(self) -> list[str]:
        """Codes that the progress knows."""
        return [one.student for one in self.progress.attempts]

    def _meant(self) -> str:
        """A question, if the progress knows this student or key with other capital letters."""
        for field, words in (("student", "the problems are {}'s"), ("key", "the key is {}")):
            mine = getattr(self, field)
            known = [getattr(one, field) for one in self.progress.attempts]
            near = meant(mine, known) if mine else None
            if near is not None:
                return f"Did you mean {near}? Here {words.format(mine)}."
        return ""

    def _kept(self, attempt: Attempt) -> None:
        self._note(self.progress.add(attempt))
        self._draw_progress()

    # ---- what is kept: where she is; what she reached is in the progress ----------------------

    def kept(self) -> dict[str, Any]:
        """Whose problem is on the desk, which, and how far it is."""
        at = {"student": self._sat, "topic": self.topic, "family": self.problem.family.key}
        return at | {"try": self.problem.try_number, "desk": self.desk.kept()}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept; another student's page is left alone.

        kept: as :meth:`kept` gives it.
        """
        if kept["student"] != self.student:
            return
        topic, key = kept["topic"] or None, bank.family(kept["family"]).key
        number = whole(kept["try"], "try", at_least=1, at_most=MOST_TRIES)
        families = bank.families(topic)
        self._open(key, number)
        self.topic, self._families = topic, families
        self._show("")
        self.desk.resume(kept["desk"])

    # ---- what is seen --------------------------------------------------------------------------

    @property
    def heading(self) -> str:
        """Topic, kind and numbers of the problem at hand."""
        one = self.problem
        numbers = f"numbers {one.try_number}" if self.student else "an example's numbers"
        return f"{one.family.title} ({numbers})"

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
        self.choices.show(self.student, self.topic, self._families, self.problem.family.key)
        if said:
            self.desk.say(said)
            self.desk.box.focus()
        self._draw_progress()

    def _draw_progress(self) -> None:
        topics = by_topic(self.standings(), bank.families())
        numbers = Shown(topics, self.problem.family.key)
        self.chart.value = (
            self.live.tag(numbers)
            + f"<p>{html.escape(self.student or 'Nobody yet')}: {html.escape(in_words(topics))}</p>"
        )

    def _note(self, sentence: str) -> None:
        shown = f'<p role="status" aria-live="polite">{html.escape(sentence)}</p>'
        self.note.value = shown if sentence else ""

    def build(self) -> Any:
        """The widgets; made at the first call, the same ones ever after."""
        if self._widget is not None:
            return self._widget
        import ipywidgets as w

        self.desk = Desk(self.sitting, self._kept, self._barred)
        self.image, self.chart, self.note = w.HTML(), w.HTML(), w.HTML()
        self.chart.add_class("mensura-progress")
        self.live = Live(ProgressPicture(by_topic({}, bank.families())))
        self.choices = Choices(self.call, self.another, self.choose_topic, self.choose_family)
        self.buttons = dict(self.desk.buttons)
        for name, go in (
            ("Next numbers", self.next_numbers),
            ("Next problem", self.next_problem),
        ):
            self.buttons[name] = w.Button(description=name)
            self.buttons[name].on_click(lambda _, do=go: do())
        self.desk.row.children += (self.buttons["Next numbers"], self.buttons["Next problem"])
        at_work = stage(self.desk.parts, [self.image])
        above = [self.choices.why, self.choices.row]
        self._widget = w.VBox([*above, at_work, self.chart, self.note])
        self._show("")
        told = (self.seat.note, self._meant(), self.progress.note)
        self._note(" ".join(one for one in told if one))
        name = f"practice {self.key} {self.set_name}"
        framed(self._widget, "mensura-practice", name=name, keeper=self)
        self.seat.watch(self._follow)
        return self._widget


def practice(
    topic: str | None = None,
    student: str | None = None,
    key: str = "quillmere",
    set_name: str = "1",
) -> Practice:
    """Problems of the bank to practise with; progress lies in the current folder.

    topic: one of TOPICS to start with, or None for all; student: her code, or None for the one that
    is known in this folder, which is asked for in the panel if there is none; key, set_name: whose
    problems, and which set of them.
    Raises MeasureError for what is no topic, no code, key or set.

    >>> practice("girth", "Q07").heading
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
    """A fixed problem on a page; it is kept with the page, and is no progress.

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
        at_work = Desk(sitting)
        at_work.show(sitting, self.heading)
        box = w.VBox(at_work.parts)
        if self.picture:
            box = stage(at_work.parts, [w.HTML(value=problem_view(self.problem).html)])
        return framed(box, "mensura-practice", name=self.heading, keeper=at_work)


def problems_here(family: str, number: int = 1, picture: bool = True) -> ProblemHere:
    """A fixed problem of the bank, as it stands at the end of a chapter.

    family: its key; number: how it is counted on its page, and which numbers it has; picture:
    whether it is drawn. Raises MeasureError for an unknown family or what is no count.

    >>> print(problems_here("girth-to-diameter", 5).heading)
    Problem 5. From a girth to a diameter
    """
    return ProblemHere(bank.problem(family, "page", "quillmere", "page", number), number, picture)
