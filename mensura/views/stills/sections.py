"""Still pictures of sections: the tape's circle, the taut band over a hollow, jaws on a curve."""

from __future__ import annotations

from abc import abstractmethod
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm
from mensura.estimates.comparison import Comparison, compare
from mensura.stems.section import Section
from mensura.stems.shapes import reuleaux
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part
from mensura.written import signed


class _SectionPicture(Picture[Comparison]):
    """A section to scale on the left, and on the right what is said about it.

    section: one stem.
    """

    width_px = 860
    height_px = 400

    #: How much more ground than the section is shown.
    room = 1.28

    def __init__(self, section: Section) -> None:
        super().__init__()
        self.section = section
        self.result = compare(section)

    def draw(self, figure: Any) -> None:
        """The section and its words on `figure`; nothing moves."""
        axes = look.place(figure, 64, 46, 346, 346)
        edge = self.section.outline_cm()
        middle = (edge.max(axis=0) + edge.min(axis=0)) / 2
        reach = float(np.abs(edge - middle).max()) * self.room
        axes.set(
            xlim=(middle[0] - reach, middle[0] + reach),
            ylim=(middle[1] - reach, middle[1] + reach),
            aspect="equal",
        )
        axes.set_xlabel("along the first axis, cm")
        axes.set_ylabel("along the second axis, cm", labelpad=3)
        axes.fill(edge[:, 0], edge[:, 1], fc=look.WOOD, ec=look.TRUTH, lw=1.5)
        self.add(axes)
        lines = self.lines()
        words = look.place(figure, 430, 46, 420, 346)
        words.set(xlim=(0, 420), ylim=(0, 346))
        words.axis("off")
        for row, (line, colour, style) in enumerate(lines):
            up = 318 - 29 * row
            if style is not None:
                words.plot([0, 42], [up, up], color=colour, lw=2.6, ls=style)
            words.text(56 if style is not None else 0, up, line, va="center_baseline")

    def parts(self) -> tuple[Part, ...]:
        """The section, and what is said of it."""
        section, words = self.whole.cut_x(420)
        return part("section", section), part("words", words)

    @abstractmethod
    def add(self, axes: Any) -> None:
        """Draw on `axes` what the picture is about."""

    @abstractmethod
    def lines(self) -> list[tuple[str, str, Any]]:
        """What is said: text, colour and line style of its sample, None for no sample."""

    def show(self, numbers: Comparison) -> None:
        """Nothing moves: the picture holds its own section, not `numbers`."""

    def describe(self, numbers: Comparison) -> str:
        """The picture in words, from its own lines; `numbers` are its section's."""
        said = " ".join(line for line, _, _ in self.lines() if line)
        return f"A section drawn to scale. {said}"


def _closed(points_cm: FloatArray) -> FloatArray:
    return np.vstack([points_cm, points_cm[:1]])


class _SameGirth(_SectionPicture):
    def add(self, axes: Any) -> None:
        """The circle that has the stem's taut girth."""
        radius = diameter_from_girth_cm(self.result.taut_girth_cm) / 2
        turn = np.linspace(0, 2 * np.pi, 361)
        axes.plot(
            radius * np.cos(turn), radius * np.sin(turn), color=look.TAPE, lw=2.6, ls=(0, (5, 2))
        )

    def lines(self) -> list[tuple[str, str, Any]]:
        """Both areas and their difference."""
        result = self.result
        return [
            ("Two edges of the same length:", look.TRUTH, None),
            (f"{result.taut_girth_cm:.2f} cm round", look.TRUTH, None),
            ("", look.TRUTH, None),
            (f"the stem holds {result.true_area_cm2:.0f} cm²", look.TRUTH, "-"),
            (f"the circle holds {result.tape_area_cm2:.0f} cm²", look.TAPE, (0, (5, 2))),
            ("", look.TRUTH, None),
            ("The tape knows the girth only, so it takes", look.TRUTH, None),
            (f"the stem for that circle: {signed(result.tape_over_percent)} %.", look.TRUTH, None),
        ]


class _TautBand(_SectionPicture):
    def add(self, axes: Any) -> None:
        """The taut tape's path, and what it takes for wood."""
        hull = _closed(self.section.hull_cm)
        axes.fill(hull[:, 0], hull[:, 1], fc="white", ec="none", hatch="////", zorder=0.5)
        axes.plot(hull[:, 0], hull[:, 1], color=look.TAPE, lw=2.6)

    def lines(self) -> list[tuple[str, str, Any]]:
        """Areas of stem, hull and the tape's circle."""
        result = self.result
        hull, true = result.hull_area_cm2, result.true_area_cm2
        circle = area_from_girth_cm2(result.taut_girth_cm)
        return [
            (f"the stem's edge: {true:.0f} cm² inside", look.TRUTH, "-"),
            (f"the taut tape: {hull:.0f} cm² inside", look.TAPE, "-"),
            ("", look.TRUTH, None),
            (
                f"The tape bridges hollows (hatched): {signed(100 * (hull / true - 1))} %.",
                "",
                None,
            ),
            (f"It takes the rest for a circle: {signed(100 * (circle / hull - 1))} %.", "", None),
            (f"Together: {circle:.0f} cm², {signed(result.tape_over_percent)} %.", "", None),
        ]


class _BlindJaws(_SectionPicture):
    room = 1.45

    def add(self, axes: Any) -> None:
        """Three pairs of jaws, each a different way round."""
        for turn, style in ((90.0, "-"), (40.0, (0, (5, 2))), (-20.0, (0, (1, 1.5)))):
            angle = np.radians(turn)
            along = np.array([np.cos(angle), np.sin(angle)])
            square = np.array([-along[1], along[0]])
            for side in (-1, 1):
                reach = side * along
                touch = self.section.hull_cm[(self.section.hull_cm @ reach).argmax()]
                bar = np.array([touch - 9 * square, touch + 9 * square]) + 0.5 * reach
                axes.plot(bar[:, 0], bar[:, 1], color=look.CALIPERS, lw=4, ls=style)

    def lines(self) -> list[tuple[str, str, Any]]:
        """What each pair reads, and what the stem holds."""
        one, true = self.result.calipers[0], self.result.true_area_cm2
        reads = [float(self.section.width_cm(turn)) for turn in (90.0, 40.0, -20.0)]
        styles = ("-", (0, (5, 2)), (0, (1, 1.5)))
        rows: list[tuple[str, str, Any]] = [
            (f"these jaws read {width:.2f} cm", look.CALIPERS, style)
            for width, style in zip(reads, styles, strict=True)
        ]
        return [
            *rows,
            ("", "", None),
            ("Every direction reads the same, so calipers say:", "", None),
            (
                f"a circle of {one.area_cm2:.0f} cm². The stem holds {true:.0f} cm²:",
                "",
                None,
            ),
            (f"{signed(one.over_percent)} %. The tape says the same as the calipers.", "", None),
        ]


def same_girth(section: Section) -> Still:
    """A stem and the circle of the same girth, which a tape takes it for.

    section: one stem, centred on the origin.

    >>> from mensura.stems import Ellipse
    >>> same_girth(Ellipse(60, 48)).alt[:27]
    'A section drawn to scale. T'
    """
    picture = _SameGirth(section)
    return draw_still(picture, picture.result)


def taut_band(section: Section) -> Still:
    """A stem with hollows, and the taut tape across them.

    section: one stem.
    """
    picture = _TautBand(section)
    return draw_still(picture, picture.result)


def blind_jaws(width_cm: float = 40.0) -> Still:
    """A stem of constant width between three pairs of jaws that read alike.

    width_cm: of the invented stem.
    """
    picture = _BlindJaws(reuleaux(width_cm))
    return draw_still(picture, picture.result)
