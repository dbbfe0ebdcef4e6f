"""What a step of a lesson shows, if it lives: the section of a workbook, as large as a screen.

Nothing is made anew here. A panel, a road of the proof, a game are the chapter's own, opened with
the plan's values; a question is counted in hands; a problem has the numbers that it has in its
workbook, so that a class may work it out from there.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from mensura.checks import MeasureError, whole
from mensura.disk.sections import Section, section
from mensura.views.kit.handles import Handle
from mensura.views.kit.panel import LivePanel, Panel
from mensura.views.lessons.screen import SCREEN, new_screen

#: Kinds of section that live; all others are words and pictures, which need no kernel.
LIVING = ("panel", "question", "proof", "proof step", "problem", "game")

NOTHING: Mapping[str, Any] = MappingProxyType({})


class OnScreen:
    """A live screen, ready to be shown; without a kernel it is one line of words.

    one: the section; build: makes its box of widgets.
    """

    def __init__(self, one: Section, build: Callable[[], Any]) -> None:
        self.section, self.build = one, build

    def __repr__(self) -> str:
        return f"{self.section.title} ({self.section.kind}, workbook {self.section.workbook})"

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        return dict(self.build()._repr_mimebundle_()) | {"text/plain": repr(self)}


def on_screen(
    workbook: str,
    section_name: str,
    *,
    start: Mapping[str, Any] | None = None,
    controls: Sequence[str] = (),
    place: int = 0,
) -> OnScreen:
    """A section that lives, for a lesson's screen.

    workbook: the chapter's number; section_name: the section's; start: values at which a panel or a
    road opens, by its controls' names; controls: those on show, by name, () for as many as fit;
    place: of the step in its lesson, from 1: two screens of one panel keep their own values.
    Raises MeasureError for a section that there is not or that does not live, for a value or a
    control that cannot be, and for values of what has none.

    >>> on_screen("02", "out-of-round-panel", start={"tilt_deg": 0})
    Out of round (panel, workbook 02)
    """
    one = section(workbook, section_name)
    if one.kind not in LIVING:
        raise MeasureError("section", section_name, "", f"what lives: one of {', '.join(LIVING)}")
    number = whole(place, "place", at_least=0, at_most=9999)
    opens = dict(start or NOTHING)
    if one.kind in ("panel", "proof", "proof step"):
        declared = _panel(one)
        if one.step:
            opens.setdefault("step", one.step)
        declared.state(opens)
        for name in controls:
            if name not in declared.named:
                raise MeasureError("controls", name, "", "one of: " + ", ".join(declared.named))
        shown = PanelScreen(declared, opens, tuple(controls), f"{one.name} {number}", one.kind)
        return OnScreen(one, shown.build)
    if opens or controls:
        raise MeasureError(
            "controls" if controls else "start",
            ", ".join([*controls, *opens]),
            "",
            f"none: a {one.kind} has no values to start with",
        )
    return OnScreen(one, lambda: _MAKE[one.kind](one, number))


def _panel(one: Section) -> Panel[Any]:
    from mensura.views.chapters import panels
    from mensura.views.proof.panel import proof_panel

    return panels()[one.thing] if one.kind == "panel" else proof_panel(one.thing)


class PanelScreen:
    """A panel, or a road of the proof, on a screen of its own.

    panel: the declaration; start: values at which it opens; controls: those on show, by name; name:
    of its frame; kind: of the section.
    """

    def __init__(
        self,
        panel: Panel[Any],
        start: Mapping[str, Any],
        controls: tuple[str, ...],
        name: str,
        kind: str,
    ) -> None:
        self.panel, self.start, self.controls, self.name = panel, start, controls, name
        self.kind = "panel" if kind == "panel" else "proof"
        self.stays = kind == "proof step"

    def build(self) -> Any:
        """The box of widgets, made anew."""
        return self.at_work().widget

    def at_work(self) -> LivePanel[Any]:
        """The panel with widgets of its own."""
        return self.panel.at_work(name=self.name, start=self.start, also=self._beside)

    def _beside(self, live: LivePanel[Any]) -> tuple[Sequence[Any], Sequence[str]]:
        for name, handle in live.handles.items():
            handle.widget.add_class(f"mensura-is-{name}")
        told = {"controls": list(self.controls), "stays": self.stays}
        self.screen = new_screen(self.kind, told=told)
        stepper = self.panel.stepper
        if stepper and live.steps:
            self.screen.last = stepper.count
            self.screen.at = live.opens[stepper.name]
            live.handles[stepper.name] = _Both(live.steps, self.screen)
            self.screen.observe(lambda change: self._unfold(live, change["new"]), "at")
        return (self.screen,), (SCREEN, f"{SCREEN}-{self.kind}")

    def _unfold(self, live: LivePanel[Any], at: int) -> None:
        """The page has gone to another line."""
        stepper = self.panel.stepper
        if stepper and live.state[stepper.name] != at:
            live.set(**{stepper.name: at})


class _Both(Handle):
    """The buttons of a stepper, and the screen that counts the same steps.

    steps: the buttons; screen: its widget.
    """

    def __init__(self, steps: Handle, screen: Any) -> None:
        self.steps, self.screen, self.widget = steps, screen, steps.widget

    def show(self, value: int) -> None:
        """Both stand at a step.

        value: the step.
        """
        self.steps.show(value)
        if self.screen.at != value:
            self.screen.at = value


# ---- what else lives ---------------------------------------------------------------------------


def _question(one: Section, place: int) -> Any:
    from mensura.views.lessons.hands import hands_screen

    return hands_screen(one.workbook, one.thing, place)


def _problem(one: Section, place: int) -> Any:
    from mensura.views.lessons.problem import problem_screen

    number, picture = 1, True
    call: Any = ast.parse(one.source).body[-1]
    if len(call.value.args) > 1:
        number = ast.literal_eval(call.value.args[1])
    for word in call.value.keywords:
        if word.arg == "picture":
            picture = ast.literal_eval(word.value)
        elif word.arg == "number":
            number = ast.literal_eval(word.value)
    return problem_screen(one.workbook, one.thing, number, picture, place)


def _game(one: Section, place: int) -> Any:
    from mensura.views.chapters.games import picture_game, wrong_reading_game
    from mensura.views.chapters.place_game import place_game
    from mensura.views.problems.practice import practice
    from mensura.views.proof.own_line import own_line

    made: Mapping[str, Callable[..., Any]] = {
        "picture_game": lambda **words: picture_game(**words).at_work,
        "wrong_reading_game": lambda **words: wrong_reading_game(**words).at_work,
        "place_game": lambda **words: place_game(**words).at_work,
        "practice": lambda **words: practice(**words).build(),
        "own_line": lambda **words: own_line(**words).build(),
    }
    call: Any = ast.parse(one.source).body[-1]
    words = {word.arg: ast.literal_eval(word.value) for word in call.value.keywords}
    box = made[one.thing](**words)
    box.children = (*box.children, new_screen("plain"))
    for name in (SCREEN, f"{SCREEN}-plain"):
        box.add_class(name)
    return box


_MAKE: Mapping[str, Callable[[Section, int], Any]] = {
    "question": _question,
    "problem": _problem,
    "game": _game,
}
