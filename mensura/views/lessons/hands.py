"""A show of hands on a screen: the question large, the hands counted in, the answer beside them.

Hands are counted at a press of a key each. A question may be asked again, on the same screen or on
a later one of the same lesson: then both counts stand side by side. What is counted is kept with
the page and, with its date, in the lecturer's file beside the plan, where last year's class is
found.
"""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from typing import Any

from mensura.checks import MeasureError, whole
from mensura.disk.hands_file import Asking, HandsError, HandsFile, lesson_hands
from mensura.teaching.lessons.hands import Count, options_of
from mensura.teaching.lessons.questions import question
from mensura.views.chapters.asking import ask
from mensura.views.kit.frame import framed
from mensura.views.lessons.screen import SCREEN, new_screen

#: How long after a hand the counts go to the file.
LATER_S = 1.5

#: More askings of one question are none of a lesson's.
MOST_ASKINGS = 20


def now() -> datetime:
    """The desk's own time."""
    return datetime.now()


class Show:
    """All that is counted of one question in one lesson, for each of its screens.

    workbook: the chapter's number; key: the question's; file: where counts are kept, or None.
    """

    def __init__(self, workbook: str, key: str, file: HandsFile | None) -> None:
        self.workbook, self.key, self.file = workbook, key, file
        self.options = options_of(question(key))
        self.texts = [one.text for one in self.options]
        self.date = now().date().isoformat()
        self.askings: list[tuple[str, Count]] = []  # when each began, and its hands
        self.note = ""
        self.screens: list[HandsScreen] = []
        self._timer: Any = None
        self._unkept: set[int] = set()
        self.before = self._before()

    def _before(self) -> tuple[Asking, ...]:
        """The askings of the class before, if its answers are those of today."""
        if self.file is None:
            return ()
        try:
            self.note = self.file.read().note
            return self.file.before(self.key, self.date)
        except HandsError as error:
            self.note = str(error)
            return ()

    def begin(self) -> int:
        """Another asking; returns its place, from 0."""
        self._new_day()
        if len(self.askings) < MOST_ASKINGS:
            self.askings.append((now().strftime("%H:%M:%S"), Count(len(self.options))))
        return len(self.askings) - 1

    def _new_day(self) -> None:
        today = now().date().isoformat()
        if today != self.date:
            self.clear()

    def clear(self) -> None:
        """Another class: what was counted stays in the file, and is counted from nothing here."""
        self.flush()
        self.date, self.askings, self._unkept = now().date().isoformat(), [], set()
        self.before = self._before()

    def changed(self, asking: int) -> None:
        """Hands were counted: all screens show it, and soon the file has it.

        asking: which, from 0.
        """
        self._unkept.add(asking)
        self.show()
        if self._timer is None:
            try:
                self._timer = asyncio.get_running_loop().call_later(LATER_S, self.flush)
            except RuntimeError:
                self.flush()

    def show(self) -> None:
        """All screens show what is counted."""
        for one in self.screens:
            one.show()

    def flush(self) -> None:
        """What was counted since it was last kept goes to the file."""
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None
        if self.file is None:
            return
        told = ""
        for place in sorted(self._unkept):
            time, count = self.askings[place]
            counts = tuple(zip(self.texts, count.hands, strict=True))
            named = (self.file.plan, self.workbook, self.key, place + 1)
            try:
                self.file.keep(Asking(self.date, time, *named, counts))
                self._unkept.discard(place)
            except HandsError as error:
                told = str(error)
        if told or self.note:
            self.note = told
            self.show()

    # ---- what is kept with the page --------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """The day, and each asking's beginning and hands."""
        askings = [{"time": time, "hands": list(count.hands)} for time, count in self.askings]
        return {"date": self.date, "askings": askings}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was counted today; another day's class is in the file.

        kept: as :meth:`kept` gives it.
        """
        if kept["date"] != self.date:
            return
        told = list(kept["askings"])[:MOST_ASKINGS]
        read = [(str(one["time"])[:8], Count(len(self.options), one["hands"])) for one in told]
        if sum(count.total for _, count in read) >= sum(one.total for _, one in self.askings):
            self.askings = read
            self._unkept = {place for place, (_, one) in enumerate(read) if one.total}


_SHOWS: dict[tuple[str, str], Show] = {}


def show_of(workbook: str, key: str) -> Show:
    """What this kernel has counted of a question; the same at every call.

    workbook: the chapter's number; key: the question's.
    """
    at = (workbook, key)
    if at not in _SHOWS:
        _SHOWS[at] = Show(workbook, key, lesson_hands())
    return _SHOWS[at]


class HandsScreen:
    """One screen of a question: which of its askings it counts, and whether the answer is shown.

    show: all that is counted of the question; place: of the step in its lesson.
    """

    def __init__(self, show: Show, place: int) -> None:
        import ipywidgets as w

        self.counted, self.asking = show, -1
        asked = ask(show.key)
        told = {
            "heading": asked.heading,
            "question": getattr(asked.question, "question", "")
            or getattr(asked.question, "text", ""),
            "options": [
                {"text": one.text, "reply": one.reply, "right": one.right} for one in show.options
            ],
        }
        self.screen = new_screen("hands", told=told, last=1)
        self.screen.observe(lambda _: self._shown(), "at")
        self.screen.on_msg(lambda _, told, __: self.hear(told))
        show.screens.append(self)
        box = w.VBox([self.screen])
        for one in (SCREEN, f"{SCREEN}-hands"):
            box.add_class(one)
        self.show()
        name = f"hands {show.key} on screen {place}"
        self.widget = framed(box, "mensura-hands-frame", name=name, keeper=self)

    # ---- what the page asks for ------------------------------------------------------------------

    def hear(self, told: object) -> None:
        """Do what the page asks for; what is none of its requests is passed over.

        told: `{kind: "hand" | "back" | "put" | "again" | "anew" | "leave", option, hands}`.
        """
        if not isinstance(told, Mapping):
            return
        with suppress(MeasureError, TypeError):
            match told.get("kind"):
                case "hand":
                    self.count().raise_hand(told.get("option", -1))
                    self.counted.changed(self.asking)
                case "back" if self.asking >= 0:
                    if self.count().take_back(told.get("option")):
                        self.counted.changed(self.asking)
                case "put":
                    self.count().put(told.get("option", -1), told.get("hands", -1))
                    self.counted.changed(self.asking)
                case "again" if self.asking >= 0 and self.count().total:
                    self.again()
                case "anew":
                    self.anew()
                case "leave":
                    self.counted.flush()

    def count(self) -> Count:
        """The asking that this screen counts; begun with its first hand."""
        if not 0 <= self.asking < len(self.counted.askings):
            self.asking = self.counted.begin()
        return self.counted.askings[self.asking][1]

    def again(self) -> None:
        """The same question once more, with the hands of before beside."""
        self.asking = self.counted.begin()
        self.screen.at = 0
        self.counted.flush()
        self.show()

    def anew(self) -> None:
        """Another class: all screens of the question count from nothing."""
        self.counted.clear()
        for one in self.counted.screens:
            one.asking, one.screen.at = -1, 0
        self.counted.show()

    def _shown(self) -> None:
        self.counted.flush()
        self.show()

    # ---- what the page shows -------------------------------------------------------------------

    def show(self) -> None:
        """Send what is counted: now, then, and the class before."""
        many = len(self.counted.options)
        askings = [count for _, count in self.counted.askings]
        mine = self.asking if 0 <= self.asking < len(askings) else len(askings)
        now = askings[mine].hands if mine < len(askings) else [0] * many
        then = askings[mine - 1].hands if mine else []
        self.screen.value = {
            "date": self.counted.date,
            "asking": mine + 1,
            "at": self.screen.at,
            "now": list(now),
            "then": list(then),
            "year": self._year(mine + 1),
        }
        self.screen.note = self.counted.note

    def _year(self, asking: int) -> dict[str, Any]:
        """The class before, at the same asking or its last one; empty if there was none."""
        before = {one.asking: one for one in self.counted.before}
        if not before:
            return {}
        one = before.get(asking) or before[max(before)]
        hands = dict(one.counts)
        if not any(hands.get(text) for text in self.counted.texts):
            return {}
        return {"date": one.date, "hands": [hands.get(text, 0) for text in self.counted.texts]}

    # ---- what is kept --------------------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """All that is counted of the question, which asking is this screen's, and what is shown."""
        return {**self.counted.kept(), "asking": self.asking, "at": self.screen.at}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was counted today.

        kept: as :meth:`kept` gives it.
        """
        self.counted.restore(kept)
        there = len(self.counted.askings) if kept["date"] == self.counted.date else 0
        if there:
            self.asking = whole(kept["asking"], "asking", at_least=-1, at_most=there - 1)
            self.screen.at = whole(kept["at"], "at", at_least=0, at_most=1)
        else:
            self.asking, self.screen.at = -1, 0
        self.counted.show()


def hands_screen(workbook: str, key: str, place: int) -> Any:
    """The box of a question's screen.

    workbook: the chapter's number; key: the question's; place: of the step in its lesson.
    """
    return HandsScreen(show_of(workbook, key), place).widget
