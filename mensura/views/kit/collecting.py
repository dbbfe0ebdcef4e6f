"""Into the lesson: what a lecturer's page tells the kernel, and what becomes a step of the plan.

The page asks once which sections stand in its cells, and then tells which of them is wanted. A
panel goes in as it stands: what was moved away from its start is written into the step. Nothing of
this is loaded, and no frame hears it, unless a lecturer opened the workbooks.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mensura.checks import MeasureError
from mensura.disk.plan_place import plan_of_this_sitting
from mensura.disk.sections import Section, cell_sources, section, sections
from mensura.teaching.lessons.minutes import MINUTES
from mensura.teaching.lessons.plan import Step

#: The part of the frame's module that a lecturer's page has more.
SCRIPT = "collecting.js"

#: How a kind of section is called where its title does not say it.
_WORDS = {"proof": "road of the proof"}


def collects() -> bool:
    """Whether a lecturer opened the workbooks."""
    return plan_of_this_sitting() is not None


def hear(told: object, page: str, keeper: Any) -> dict[str, Any] | None:
    """The answer to what a frame's page says, None if it is none of ours.

    told: `{kind: "places"}` for all sections of the page, or `{kind: "into", section, line,
    token}` for one of them, or for the present line of its road; page: file name of the notebook;
    keeper: the frame's own, or None.
    """
    if not isinstance(told, Mapping):
        return None
    match told.get("kind"):
        case "places":
            return {"kind": "places", "places": places(page)}
        case "into" if isinstance(name := told.get("section"), str):
            own = keeper if told.get("own") else None
            said, done = into(page, name, own, told.get("line") is True)
            return {"kind": "into", "token": told.get("token"), "said": said, "done": done}
    return None


def places(page: str) -> list[dict[str, Any]]:
    """The sections of a page, each with what is written in its cell.

    page: file name of the notebook; one that is no chapter's has none. A page finds its own cells
    by the names that they carry; one that was laid out before they had any, by what is written.

    >>> [one["kind"] for one in places("02-out-of-round-fresh.ipynb")][:3], places("notes.ipynb")
    (['text', 'text', 'question'], [])
    """
    try:
        found, written = sections(page[:2]), cell_sources(page[:2])
    except MeasureError:
        return []
    return [
        {"name": one.name, "kind": one.kind, "words": words(one), "source": written[one.place]}
        for one in found
        if one.kind != "proof step"
    ]


def words(one: Section) -> str:
    """How a section is called to who hears it only.

    one: the section.

    >>> words(section("02", "predict")), words(section("02", "out-of-round-panel"))
    ('Predict', 'panel out-of-round-panel: Out of round')
    """
    if one.kind == "text":
        return one.title
    return f"{_WORDS.get(one.kind, one.kind)} {one.name}: {one.title}"


def into(page: str, name: str, keeper: Any = None, line: bool = False) -> tuple[str, bool]:
    """Appends a section to the plan; returns what is said to it, and whether it was done.

    page: file name of the notebook; name: of the section; keeper: of the frame in which it lives,
    asked what was moved; line: whether the present line of a road is meant.
    """
    from mensura.disk.plan_file import PlanError, add_step

    plan = plan_of_this_sitting()
    if plan is None:
        return "Not added: this page was not opened with mensura open --lecturer.", False
    moved = dict(getattr(keeper, "moved", dict)())
    try:
        one = section(page[:2], name)
        if line:
            one = _line_of(one, keeper.at_step)
        step = Step(MINUTES[one.kind], one.workbook, one.name, start=moved)
        place = add_step(plan, step)
    except PlanError as error:
        return f"Not added: {error}", False
    except (MeasureError, AttributeError) as error:
        return f"Not added: {error}", False
    minutes = f"{step.minutes:g} {'minute' if step.minutes == 1 else 'minutes'}"
    stands = ", as it stands now" if moved else ""
    return f"Into {plan.name}: step {place + 1}, {minutes}{stands}.", True


def _line_of(road: Section, step: int) -> Section:
    """A line of a road: a section of its own."""
    for one in sections(road.workbook):
        if (one.thing, one.step, one.kind) == (road.thing, step, "proof step"):
            return one
    raise MeasureError("line", step, "", "a line of a road of the proof")
