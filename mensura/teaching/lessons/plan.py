"""A lecturer's plan of a lesson: steps in their order, each with its minutes.

A step shows a section of a workbook, or the lecturer's own text, picture or notebook cell. Here
stands what a plan is and how long it takes; reading one from a file and checking it against what
there is are the disk's and the views' to do.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from mensura.checks import MeasureError, number


@dataclass(frozen=True)
class Step:
    """One step of a lesson.

    minutes: above 0; workbook, section: what is shown, by the chapter's number and the section's
    name; start: values for the panel's controls, by their names; controls: those on show, by their
    names, or () for as many as fit; note: for the lecturer only; spare: whether it may be left out;
    text: the lecturer's own, in Markdown; picture: path of a picture of his own; alt: that in
    words; notebook, cell: a cell of his own, counted from 1; title: of the screen, "" for the
    section's own; line: in the plan's file, 0 if it has none.
    Raises MeasureError for minutes of 0 or below, and for a step that shows nothing or two things.

    >>> Step(4, "02", "02-predict").shows
    'section'
    """

    minutes: float
    workbook: str = ""
    section: str = ""
    start: Mapping[str, Any] = field(default_factory=dict)
    controls: tuple[str, ...] = ()
    note: str = ""
    spare: bool = False
    text: str = ""
    picture: str = ""
    alt: str = ""
    notebook: str = ""
    cell: int = 0
    title: str = ""
    line: int = 0

    def __post_init__(self) -> None:
        number(self.minutes, "minutes", "", above=0)
        if len(self._shown) != 1:
            raise MeasureError(
                "step",
                ", ".join(self._shown) or None,
                "",
                "one of: workbook with section, text, picture, notebook with cell",
            )

    @property
    def _shown(self) -> list[str]:
        told = {
            "section": self.workbook or self.section,
            "text": self.text,
            "picture": self.picture,
            "notebook": self.notebook,
        }
        return [name for name, there in told.items() if there]

    @property
    def shows(self) -> str:
        """What it shows: "section", "text", "picture" or "notebook"."""
        return self._shown[0]


@dataclass(frozen=True)
class Plan:
    """A lesson.

    title: in words; minutes: that there are, above 0; steps: at least one.
    Raises MeasureError otherwise.

    >>> Plan("Bark", 10, (Step(4, "05", "try-it"), Step(3, text="Go out.", spare=True))).takes_min
    7.0
    """

    title: str
    minutes: float
    steps: tuple[Step, ...]

    def __post_init__(self) -> None:
        number(self.minutes, "minutes", "", above=0)
        if not self.steps:
            raise MeasureError("steps", 0, "", "at least one [[step]]")

    @property
    def takes_min(self) -> float:
        """Minutes of all steps together."""
        return float(sum(one.minutes for one in self.steps))

    @property
    def spare_min(self) -> float:
        """Minutes of those that may be left out."""
        return float(sum(one.minutes for one in self.steps if one.spare))
