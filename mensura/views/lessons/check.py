"""A plan that can be given: every section exists, every value is one that its panel takes.

A wrong plan never opens half a lesson: whatever presents, prints or times one asks here first, and
the first thing that is wrong is told in one sentence, with its line and the nearest name there is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from mensura.checks import MeasureError, alike, number, shown
from mensura.disk.plan_read import Block, PlanError, Where, read_with_places
from mensura.disk.plan_things import cell_of, picture_of, refused
from mensura.disk.sections import Section, sections
from mensura.teaching.controls import Choice, Control, Mover, Switch
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.plan import Plan, Step

if TYPE_CHECKING:
    from mensura.views.kit.panel import Panel

#: Sections that have controls.
WITH_CONTROLS = ("panel", "proof", "proof step")


def checked_plan(path: Where) -> Plan:
    """The plan of a file, with all it names seen to be there.

    path: of the file, as words or as a path. Raises PlanError, one sentence with the line.
    """
    plan, blocks = read_with_places(path)
    for step, block in zip(plan.steps, blocks, strict=True):
        _Check(path, step, block).all()
    return plan


def controls_of(one: Section) -> Mapping[str, Mover]:
    """Whatever moves a section, by the name that a plan sets it by; nothing for one without.

    one: of a workbook.

    >>> from mensura.disk.sections import section
    >>> list(controls_of(section("01", "girth-panel")))
    ['girth_cm', 'misread_cm']
    """
    if one.kind not in WITH_CONTROLS:
        return {}
    return _panel(one).named


def _panel(one: Section) -> Panel[Any]:
    from mensura.views.chapters import panels
    from mensura.views.proof.panel import proof_panel

    return panels()[one.thing] if one.kind == "panel" else proof_panel(one.thing)


class _Check:
    """One step against what there is.

    path: of the plan; step, block: the step, and where it stands.
    """

    def __init__(self, path: Where, step: Step, block: Block) -> None:
        self.path, self.step, self.block = path, step, block

    def all(self) -> None:
        """Raises PlanError for the first thing that is wrong."""
        step = self.step
        if step.shows == "picture":
            if not step.alt:
                like = 'the picture in words, as in alt = "A cut disc, darker on one side"'
                raise self._error("picture", "a picture without alt", like)
            picture_of(self.path, step, self.block.line_of("picture"))
        elif step.shows == "notebook":
            cell = self.block.line_of("cell")
            cell_of(self.path, step, cell)
        elif step.shows == "section":
            one = self._section()
            if step.start or step.controls:
                self._controls(one)

    def _error(
        self, key: str, wrong: str, expected: str, near: tuple[str, ...] = (), within: str = ""
    ) -> PlanError:
        names = (key, within) if within else (key,)
        return refused(self.path, self.block.line_of(*names), key, wrong, expected, near)

    def _section(self) -> Section:
        step = self.step
        numbers = [one.number for one in CHAPTERS]
        if step.workbook not in numbers:
            digits = re.search(r"\d+", step.workbook)
            near = f"{int(digits[0][:9]):02d}" if digits else ""
            raise self._error(
                "workbook",
                f"workbook is {shown(step.workbook)}",
                "one of: " + ", ".join(numbers),
                (near,) if near in numbers else (),
            )
        there = {one.name: one for one in sections(step.workbook)}
        if step.section in there:
            return there[step.section]
        wrong = f"section is {shown(step.section)}"
        for other in numbers:
            if any(one.name == step.section for one in sections(other)):
                wrong += f", which is in workbook {other}"
                raise self._error("workbook", wrong, f'workbook = "{other}"')
        near_names = alike(step.section, there)[:1] or tuple(
            get_close_matches(step.section[:100], there, 1, 0.45)
        )
        listed = f"one that mensura plan --workbook {step.workbook} lists"
        raise self._error("section", wrong, listed, near_names)

    def _controls(self, one: Section) -> None:
        movers = controls_of(one)
        for key, names in (("start", self.step.start), ("controls", self.step.controls)):
            if names and not movers:
                wrong = f"{key} stands with a {one.kind}, which has no controls"
                raise self._error(key, wrong, f"no {key}, or a panel")
            for name in names:
                if name not in movers:
                    raise self._no_control(key, name, movers)
        for name, value in self.step.start.items():
            try:
                movers[name].check(value)
            except MeasureError as error:
                raise self._bad_value(name, movers[name], value, error) from None

    def _no_control(self, key: str, name: str, movers: Mapping[str, Mover]) -> PlanError:
        called = {one.label: other for other, one in movers.items()}
        near = alike(name, [*movers, *called])[:1]
        return self._error(
            key,
            f"{shown(name)} is no control of {self.step.section}",
            "one of: " + ", ".join(movers),
            tuple(called.get(one, one) for one in near),
            name,
        )

    def _bad_value(self, name: str, mover: Mover, value: object, error: MeasureError) -> PlanError:
        near = alike(value, mover.options)[:1] if isinstance(mover, Choice) else ()
        expected = reach(mover)
        wrong = f"start of {name} is {shown(value)}"
        unit = error.unit and not isinstance(value, str | bool)
        return self._error(
            "start", f"{wrong} {error.unit}" if unit else wrong, expected, near, name
        )


def reach(mover: Mover) -> str:
    """What a control can be set to, in words.

    mover: of a panel.

    >>> reach(Control("tilt_deg", "tilt", "°", 0, 20, 0.5, 3, "Tape"))
    'a number from 0 to 20 °'
    """
    if isinstance(mover, Control):
        kind = "a whole number" if mover.whole else "a number"
        low, high = (f"{number(one, mover.name, mover.unit):g}" for one in mover.ends)
        return f"{kind} from {low} to {high} {mover.unit}".strip().replace("-", "−")
    if isinstance(mover, Switch):
        return "true or false"
    if isinstance(mover, Choice):
        return "one of: " + ", ".join(mover.options)
    return f"a whole number from 1 to {mover.count}"
