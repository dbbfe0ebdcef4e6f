"""A picture for each problem: the stem, the instrument, and the numbers that are given.

A scene is chosen by the family's picture kind. Numbers with a place in it stand there, each with a
pointer or a measure; all others stand as lines beneath it. So every given number is in the picture
once, and nothing else: what is asked is never drawn to be read off.
"""

from __future__ import annotations

import re
from textwrap import fill
from typing import Any

from mensura.checks import MeasureError
from mensura.teaching.problems.draw import Problem
from mensura.teaching.problems.vocabulary import meaning
from mensura.views.kit import look, sketch
from mensura.views.kit.live import Still, draw_still, draw_view
from mensura.views.problems.scene_parts import WIDTH_PX, Label, Scene
from mensura.views.problems.scenes import SCENES
from mensura.written import minus

_ROW_PX, _LINE_PX, _EDGE_PX = 26, 19, 12
_WORDS_WIDE = 34  # characters of a row's words before they are broken


def value_of(problem: Problem, name: str) -> str:
    """A given number as it is written, with its unit.

    problem: with its numbers; name: of one of them.
    """
    (quantity,) = (one for one in problem.family.given if one.name == name)
    unit = meaning(name).unit
    gap = "" if unit in ("°", "") else " "
    return f"{minus(quantity.written(problem.numbers[name]))}{gap}{unit}"


class ProblemPicture(sketch.Sketch):
    """The picture of one problem.

    problem: what is drawn, with its numbers.
    """

    width_px = WIDTH_PX

    def __init__(self, problem: Problem) -> None:
        super().__init__()
        self.problem = problem
        kind = problem.family.picture
        if kind not in SCENES:
            raise MeasureError("picture", kind, "", "one of: " + ", ".join(SCENES))
        self.scene: Scene = SCENES[kind](problem.numbers)
        names = list(problem.numbers)
        self.labels: list[tuple[Label, str]] = []
        for label in self.scene.labels:
            found = [name for name in names if re.fullmatch(label.names, name)]
            for name in found[:1]:
                self.labels.append((label, name))
                names.remove(name)
        self.rows = [(fill(meaning(name).words, _WORDS_WIDE), name) for name in names]
        self._list_px = sum(self._row_px(words) for words, _ in self.rows)
        self.height_px = self.scene.height_px + self._list_px + 2 * _EDGE_PX
        self.alt = self._words()

    @staticmethod
    def _row_px(words: str) -> int:
        return _ROW_PX + _LINE_PX * words.count("\n")

    def sketch(self, axes: Any) -> None:
        """The scene with its labels on `axes`, and the lines beneath it."""
        base = self._list_px + _EDGE_PX
        axes.set_ylim(-base, self.height_px - base)
        self.scene.draw(axes)
        for label, name in self.labels:
            said = f"{meaning(name).label}{label.between}"
            label.draw(axes, said + value_of(self.problem, name))
        top = 0.0
        for words, name in self.rows:
            high = self._row_px(words)
            middle = top - high / 2
            if self.scene.height_px or top:
                axes.plot([10, WIDTH_PX - 10], [top, top], color=look.GRID, lw=1)
            sketch.words(axes, (14, middle), words)
            sketch.words(
                axes,
                (WIDTH_PX - 14, middle),
                value_of(self.problem, name),
                ha="right",
                fontweight="bold",
            )
            top -= high

    def _words(self) -> str:
        """What is drawn, and each given number."""
        given = [
            f"{meaning(name).words} {value_of(self.problem, name)}" for name in self.problem.numbers
        ]
        return f"{self.scene.says} Given: {'; '.join(given)}."


def problem_still(problem: Problem) -> Still:
    """The picture of a problem with its alternative text.

    problem: what is drawn, with its numbers.
    """
    return draw_still(ProblemPicture(problem), None)


def problem_view(problem: Problem) -> Still:
    """The picture of a problem, made for speed: of a page at work nothing is kept.

    problem: what is drawn, with its numbers.
    """
    return draw_view(ProblemPicture(problem), None)
