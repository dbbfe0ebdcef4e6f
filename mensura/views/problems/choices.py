"""What stands above the desk of the practice: whose problems, of which topic, of which kind."""

from __future__ import annotations

import html
from collections.abc import Callable, Iterable
from typing import Any

from mensura.teaching.problems import bank
from mensura.teaching.problems.family import TOPICS, Family
from mensura.views.kit.heard import on_enter
from mensura.views.kit.seat import WHY

#: The list's entry that holds every topic.
ALL = "all topics"


class Choices:
    """The student's code and two lists, each of which calls what it is for when it is changed.

    call: with a code as it was typed; another: without anything, when the next student comes;
    choose_topic: with a topic, "" for all; choose_family: with a family's key.
    """

    def __init__(
        self,
        call: Callable[[str], None],
        another: Callable[[], None],
        choose_topic: Callable[[str], None],
        choose_family: Callable[[str], None],
    ) -> None:
        import ipywidgets as w

        self._setting = False
        self._student = ""
        self.why = w.HTML()
        self.code = w.Text(
            description="Student code",
            placeholder="like Q07",
            continuous_update=False,
        )
        # a code that was asked back is meant if Enter is pressed once more in the same box
        on_enter(self.code, lambda: self._once_more(call))
        self.another = w.Button(description="Another student")
        self.another.on_click(lambda _: another())
        there = {one.topic for one in bank.families()}
        self.topics = w.Dropdown(
            options=[(ALL, ""), *((name, name) for name in TOPICS if name in there)],
            value="",
            description="Topic",
        )
        self.kinds = w.Dropdown(description="Problem")
        for widget, deed in (
            (self.code, call),
            (self.topics, choose_topic),
            (self.kinds, choose_family),
        ):
            widget.observe(lambda change, do=deed: self._changed(do, change["new"]), "value")
        self.row = w.HBox([self.code, self.another, self.topics, self.kinds])
        self.row.add_class("mensura-choices")

    def _once_more(self, call: Callable[[str], None]) -> None:
        code = self.code.value.strip()
        if code and code != self._student:
            call(code)

    def show(
        self, student: str | None, topic: str | None, families: Iterable[Family], key: str
    ) -> None:
        """Set all of them, and call nothing.

        student: her code, None while it is asked for; topic: the one at hand, None for all;
        families: those of the topic; key: of the family at hand.
        """
        self._setting = True
        try:
            names = tuple((one.title, one.key) for one in families)
            if tuple(self.kinds.options) != names:
                self.kinds.options = names
            self.kinds.value = key
            self.topics.value = topic or ""
            self.code.value = self._student = student or ""
        finally:
            self._setting = False
        self.why.value = "" if student else f"<p class='mensura-why'>{html.escape(WHY)}</p>"
        self.another.layout.display = "" if student else "none"

    def _changed(self, deed: Callable[[Any], None], value: Any) -> None:
        if not self._setting:
            deed(value)
