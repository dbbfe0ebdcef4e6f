"""The lecturer's desk: the plan of a lesson as a table, to reorder, to drop, to try a screen.

What is shown is what stands in the file. Every change is made in the file's text, and only if the
file still says what the page shows; what an editor or another page changed comes to the page within
a second. What was dropped lies beside the table until it is put back.
"""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from functools import lru_cache
from importlib.resources import files
from typing import Any

from mensura.checks import MeasureError, TypedError, number, shown
from mensura.disk.plan_desk import Begun, begun, change_head, put_back, stamp, written_step
from mensura.disk.plan_file import change_step, drop_step, move_step
from mensura.disk.plan_place import plan_of_this_sitting
from mensura.disk.plan_read import MOST_MINUTES, PlanError
from mensura.teaching.lessons.fitting import fits, running_min
from mensura.teaching.lessons.plan import Step
from mensura.typed import read_number
from mensura.views.kit.frame import framed
from mensura.views.kit.keeping import keeping
from mensura.views.lessons.trying import is_there, tried, what, words_of

#: How often it is looked whether the file is another.
LOOK_S = 1.0

#: So many dropped steps are kept; nobody drops more.
MOST_DROPPED = 60

#: What the page says without a lecturer.
CLOSED = (
    "The plan of your lesson comes here, step by step with its minutes. Open the workbooks with "
    "mensura open --lecturer: then every heading, picture, panel, question and problem has a "
    "button, into the lesson."
)


@lru_cache(maxsize=1)
def table_class() -> Any:
    """The table's widget class; made when the first is needed, since its library is heavy."""
    from anywidget import AnyWidget
    from traitlets import Dict, Unicode

    here = files("mensura.views.lessons")

    class PlanTable(AnyWidget):
        """The table on the page.

        shown: all that it shows, as :meth:`Desk.told` makes it.
        """

        _esm = Unicode(here.joinpath("desk.js").read_text("utf-8")).tag(sync=True)
        _css = Unicode(here.joinpath("desk.css").read_text("utf-8")).tag(sync=True)
        shown = Dict().tag(sync=True)

    return PlanTable


class Desk:
    """The desk of one plan.

    path: of the plan's file, which may be missing.
    """

    _open: Desk | None = None

    def __init__(self, path: Any) -> None:
        import ipywidgets as w

        self.path = path
        self.begun = Begun(path.stem, 1)
        self.error, self.said = "", ""
        self.keys: list[int] = []
        self.dropped: list[dict[str, Any]] = []
        self.trying: int | None = None
        self._next_key = 0
        self._stamp: Any = ()
        self.table = table_class()()
        self.table.on_msg(lambda _, told, __: self.hear(told))
        self.look()
        desk = framed(w.VBox([self.table]), "mensura-desk", name="lesson desk", keeper=self)
        self.screen = w.VBox([])
        self.screen.add_class("mensura-tried")
        self.widget = w.VBox([desk, self.screen])
        self.show()

    # ---- the file --------------------------------------------------------------------------

    def look(self) -> bool:
        """Reads the file if it is another than it was; returns whether it was read."""
        now = stamp(self.path)
        if now == self._stamp:
            return False
        self._stamp = now
        try:
            plan = begun(self.path)
        except PlanError as error:
            self.error = str(error)
            return True
        self.error = ""
        self._take(plan)
        return True

    def _take(self, plan: Begun) -> None:
        """Shows another plan: a step that is still there keeps its key, wherever it stands."""
        old = dict(zip(self.keys, map(_bare, self.begun.steps), strict=True))
        new = [_bare(one) for one in plan.steps]
        keys: list[int | None] = [None] * len(new)

        def give(place: int, key: int) -> None:
            keys[place] = key
            del old[key]

        for place, one in enumerate(new):
            if place < len(self.keys) and old.get(self.keys[place]) == one:
                give(place, self.keys[place])
        for place, one in enumerate(new):
            if keys[place] is None:
                same = next((key for key, was in old.items() if was == one), None)
                if same is not None:
                    give(place, same)
        for place in range(len(new)):
            # changed where it stands
            if keys[place] is None and place < len(self.keys) and self.keys[place] in old:
                give(place, self.keys[place])
        self.keys = [self._new_key() if key is None else key for key in keys]
        self.begun = plan
        if self.trying is not None and self.trying not in self.keys:
            self.away()

    def _new_key(self) -> int:
        self._next_key += 1
        return self._next_key

    def watch(self) -> None:
        """Looks once a second, for as long as this is the desk of its kernel."""
        Desk._open = self

        def again() -> None:
            if Desk._open is not self:
                return
            if self.look():
                self.show()
            asyncio.get_running_loop().call_later(LOOK_S, again)

        with suppress(RuntimeError):  # where no loop runs, nobody looks
            asyncio.get_running_loop().call_later(LOOK_S, again)

    # ---- what is asked for -----------------------------------------------------------------

    def hear(self, told: object) -> None:
        """Does what the page asks for, and answers that it is done.

        told: its message: kind, the step's key, and what is wanted; what is none is passed over.
        """
        if not isinstance(told, Mapping) or not isinstance(told.get("kind"), str):
            return
        wrong, done = "", {}
        self.said = ""
        try:
            self.look()
            if self.error:
                raise PlanError(self.path.name, 0, "it cannot be read now", "a plan that can be")
            done = self._do(told["kind"], told) or {}
        except MeasureError as error:
            wrong = self.error or str(error)
        self.look()
        self.said = self.said or wrong
        self.show()
        self.table.send({"kind": "done", "id": told.get("id"), "wrong": wrong, **done})

    def _do(self, kind: str, told: Mapping[str, Any]) -> dict[str, Any] | None:
        """One deed; returns where the focus belongs, if not where it is."""
        value = told.get("value")
        if kind == "title" and isinstance(value, str):
            self._name(value)
        elif kind == "length":
            change_head(self.path, minutes=_minutes(value), seen=self.begun)
            self.said = "The lesson's minutes are changed."
        elif kind == "back" and isinstance(value, int) and 0 <= value < len(self.dropped):
            return self._back(value)
        elif kind == "away":
            key = self.trying
            self.away()
            return {"focus": key, "on": "try"}
        elif told.get("key") in self.keys:
            return self._do_to(self.keys.index(told["key"]), kind, value)
        return None

    def _do_to(self, place: int, kind: str, value: Any) -> dict[str, Any] | None:
        """One deed to a step."""
        seen, count = self.begun.plan, len(self.keys)
        title = words_of(self.begun.steps[place], self.path)
        if kind == "minutes":
            minutes = _minutes(value)
            change_step(self.path, place, minutes=minutes, seen=seen)
            self.said = f"Step {place + 1} takes {minutes:g} minutes."
        elif kind == "spare":
            change_step(self.path, place, spare=value is True, seen=seen)
            may = "may be left out" if value is True else "is not left out"
            self.said = f"Step {place + 1} {may}."
        elif kind == "note" and isinstance(value, str):
            change_step(self.path, place, note=value, seen=seen)
        elif kind == "move" and value in (-1, 1) and 0 <= place + value < count:
            move_step(self.path, place, place + value, seen)
            self.keys.insert(place + value, self.keys.pop(place))
            steps = list(self.begun.steps)
            steps.insert(place + value, steps.pop(place))
            self.begun = replace(self.begun, steps=tuple(steps))
            self.said = f"{title} is step {place + value + 1} now."
        elif kind == "drop":
            written = written_step(self.path, place)
            drop_step(self.path, place, seen)
            self.dropped.append({"title": title, "place": place, "written": written})
            del self.dropped[:-MOST_DROPPED]
            keeping().touch()
            self.said = f"{title} was dropped; it can be put back below the table."
            return {"on": "back"}
        elif kind == "try":
            self._try(place)
            return {"on": "away"}
        return None

    def _name(self, title: str) -> None:
        title = " ".join(title.split())
        if not title:
            raise MeasureError("title", title, "", "a title in a few words")
        change_head(self.path, title=title, seen=self.begun)
        self.said = f"The lesson is called {title}."

    def _back(self, count: int) -> dict[str, Any]:
        one = self.dropped[count]
        place = put_back(self.path, one["written"], one["place"], self.begun)
        del self.dropped[count]
        keeping().touch()
        self.look()
        self.said = f"{one['title']} is back, as step {place + 1}."
        return {"focus": self.keys[place], "on": "drop"}

    # ---- trying ------------------------------------------------------------------------------

    def _try(self, place: int) -> None:
        self.away()
        step = self.begun.steps[place]
        try:
            self.screen.children = tried(step, place + 1, self.path)
        except MeasureError:
            raise
        except Exception as error:  # whatever a screen is made of: the desk works on
            wrong = f"step {place + 1} cannot be shown: {str(error) or type(error).__name__}"
            raise PlanError(self.path.name, step.line, wrong, "a screen that opens") from error
        self.trying = self.keys[place]

    def away(self) -> None:
        """Puts away what is tried."""
        self.trying = None
        old, self.screen.children = self.screen.children, ()
        for one in old:
            one.close()

    # ---- what is seen --------------------------------------------------------------------------

    def told(self) -> dict[str, Any]:
        """All that the page shows."""
        plan = self.begun
        over = running_min(plan.steps)
        steps = [
            {
                "key": key,
                "title": words_of(one, self.path),
                "what": what(one),
                "wrong": is_there(one, self.path),
                "minutes": f"{one.minutes:g}",
                "spare": one.spare,
                "note": one.note,
                "over": f"{at:g}",
            }
            for key, one, at in zip(self.keys, plan.steps, over, strict=True)
        ]
        name = self.path.name
        return {
            "file": name,
            "folder": str(self.path.parent),
            "there": plan.there,
            "title": plan.title,
            "length": f"{plan.minutes:g}",
            "steps": steps,
            "total": fits(plan.steps, plan.minutes) if plan.steps else "",
            "said": self.said,
            "error": self.error,
            "give": f"mensura present {_word(name)}",
            "dropped": [one["title"] for one in self.dropped],
            "trying": self.trying,
        }

    def show(self) -> None:
        """Puts on the page what is known now."""
        self.table.shown = self.told()

    # ---- what is kept: what was dropped; all else stands in the plan ---------------------------

    def kept(self) -> dict[str, Any]:
        """The steps that were dropped, as they were written."""
        return {"dropped": [dict(one) for one in self.dropped]}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Puts back what was kept.

        kept: as :meth:`kept` gives it.
        """
        fitting = [
            {"title": one["title"], "place": one["place"], "written": one["written"]}
            for one in kept["dropped"]
            if isinstance(one["title"], str)
            and isinstance(one["place"], int)
            and isinstance(one["written"], str)
        ]
        self.dropped = fitting[-MOST_DROPPED:]


class LessonDesk:
    """The desk in a notebook; without a lecturer it says how one comes to it.

    path: of the plan, None if no lecturer opened the workbooks.
    """

    def __init__(self, path: Any) -> None:
        self.path = path

    def __repr__(self) -> str:
        return CLOSED

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        if self.path is None:
            return {"text/plain": CLOSED}
        desk = Desk(self.path)
        desk.watch()
        return dict(desk.widget._repr_mimebundle_()) | {"text/plain": CLOSED}


def lesson_desk() -> LessonDesk:
    """The plan of this sitting, to be looked at and changed.

    >>> repr(lesson_desk())[:40]
    'The plan of your lesson comes here, step'
    """
    return LessonDesk(plan_of_this_sitting())


def _bare(step: Step) -> Step:
    return replace(step, line=0)


def _minutes(typed: Any) -> float:
    """Minutes as they were typed. Raises MeasureError."""
    wanted = f"a number above 0 and at most {MOST_MINUTES}, like 2.5"
    try:
        value = read_number(typed) if isinstance(typed, str) else typed
        return float(number(value, "minutes", "", above=0, at_most=MOST_MINUTES))
    except (TypedError, MeasureError):
        raise MeasureError("minutes", shown(typed).strip("'"), "", wanted) from None


def _word(name: str) -> str:
    """A file's name as a command line takes it."""
    return f'"{name}"' if " " in name else name
