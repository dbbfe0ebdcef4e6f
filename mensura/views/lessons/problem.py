"""A problem on a screen: its text beside its picture, then its hints and its worked solution.

It has the numbers that it has in its workbook, and says so: whoever sits before the page works the
same problem. A long solution comes page by page.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from mensura.checks import whole
from mensura.teaching.problems.draw import Problem
from mensura.views.kit.frame import framed
from mensura.views.kit.stage import stage
from mensura.views.lessons.screen import SCREEN, new_screen
from mensura.views.problems.pictures import problem_view
from mensura.views.problems.practice import problems_here

#: Letters on a page of a hint or a solution: seven lines at most beside a picture.
LONGEST_PAGE = 230


def pages_of(text: str, most: int = LONGEST_PAGE) -> list[str]:
    """A text in pages, parted between its sentences; a sentence that is longer is one page.

    text: plain; most: letters on a page.

    >>> pages_of("One is 3.5 here. Two. Three.", 18)
    ['One is 3.5 here.', 'Two. Three.']
    """
    pages: list[str] = []
    for sentence in re.split(r"(?<=[.?!]) +", text.strip()):
        if pages and len(pages[-1]) + 1 + len(sentence) <= most:
            pages[-1] += f" {sentence}"
        else:
            pages.append(sentence)
    return pages


def unfolded(problem: Problem) -> list[dict[str, str]]:
    """What comes after a problem's text, in its order: a name and a text each.

    problem: with its numbers.
    """
    told = [(f"Hint {count}", hint) for count, hint in enumerate(problem.hints, 1)]
    told.append(("Worked solution", problem.solution))
    return [
        {"name": name if first else f"{name}, on", "text": page}
        for name, text in told
        for first, page in ((k == 0, page) for k, page in enumerate(pages_of(text)))
    ]


class ProblemScreen:
    """A problem at work on a screen: how much of it is unfolded is kept.

    workbook: the chapter's number; family: the problem's; number: how it is counted on its page;
    picture: whether it is drawn; place: of the step in its lesson.
    """

    def __init__(self, workbook: str, family: str, number: int, picture: bool, place: int) -> None:
        import ipywidgets as w

        here = problems_here(family, number, picture)
        pages = unfolded(here.problem)
        told = {
            "heading": here.heading,
            "numbers": f"The numbers are those of workbook {workbook}.",
            "text": here.problem.text,
            "pages": pages,
        }
        self.screen = new_screen("unfolding", told=told, last=len(pages))
        self.screen.observe(lambda change: self._went(change["new"]), "at")
        box = w.VBox([self.screen])
        if picture:
            drawn = w.HTML(value=problem_view(here.problem).html)
            box = stage([self.screen], [drawn])
        for one in (SCREEN, f"{SCREEN}-unfolding"):
            box.add_class(one)
        name = f"{family} {number} on screen {place}"
        self.widget = framed(box, "mensura-problem", name=name, keeper=self)

    def _went(self, at: int) -> None:
        self.screen.value = {"at": at}  # what is seen to change is kept

    def kept(self) -> dict[str, Any]:
        """How much is unfolded."""
        return {"at": self.screen.at}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Unfold as much again.

        kept: as :meth:`kept` gives it.
        """
        self.screen.at = whole(kept["at"], "at", at_least=0, at_most=self.screen.last)


def problem_screen(workbook: str, family: str, number: int, picture: bool, place: int) -> Any:
    """The box of a problem's screen.

    workbook, family, number, picture, place: as :class:`ProblemScreen` takes them.
    """
    return ProblemScreen(workbook, family, number, picture, place).widget
