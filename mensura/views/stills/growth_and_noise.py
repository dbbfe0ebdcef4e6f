"""Growth beside its noise: one stem taped again after each year, as it would be read many times.

Two charts of the same stem: with the same tape and hand at both times, and with others. In the grey
strip lies what is read where nothing grows; marks are drawn pairs of readings, filled where they
lie above it. Beneath each year stands how many do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.growth import (
    SAME,
    Again,
    ReadingDoubts,
    drawn_growths_cm,
    least_growth,
    stands_out_after_years,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part

#: The two charts: their titles, and what the second reading shares with the first.
SIDES: tuple[tuple[str, Again], ...] = (
    ("the same tape and hand", SAME),
    ("another tape, another hand", Again(tape=False, hand=False)),
)
#: Years after which the stem is taped again, and how many pairs of readings are drawn for each.
AGAIN_YEARS, PAIRS = (1, 2, 3, 4, 5, 6, 7, 8), 20
_SEED = 40_918
#: Ends of the charts' height, cm.
_LOW_CM, _HIGH_CM = -2.0, 5.0
_LEFTS_PX, _WIDE_PX, _FOOT_PX, _TALL_PX = (58, 494), 352, 104, 270


@dataclass(frozen=True)
class Noise:
    """One chart: a stem's growth as it is read.

    title: what was the same; a_year_cm: the true growth in girth; chance_cm: beyond which nothing
    is read in five of a hundred pairs; wait_years: until nine of ten stand out; read_cm: growths
    as read, a row a year.
    """

    title: str
    a_year_cm: float
    chance_cm: float
    wait_years: float
    read_cm: FloatArray

    @property
    def above(self) -> tuple[int, ...]:
        """How many readings of each year stand out."""
        return tuple(int(np.sum(row > self.chance_cm)) for row in self.read_cm)


def noises(
    girth_cm: float = 125.0, a_year_cm: float = 0.4, doubts: ReadingDoubts | None = None
) -> tuple[Noise, ...]:
    """Both charts of a stem.

    girth_cm: at the first reading, cm; a_year_cm: what it grows in girth; doubts: of each reading.

    >>> [round(one.wait_years, 1) for one in noises()]
    [2.3, 4.1]
    """
    made = []
    for title, again in SIDES:
        rows = [
            drawn_growths_cm(girth_cm, year * a_year_cm, doubts, again, PAIRS, _SEED + year)
            for year in AGAIN_YEARS
        ]
        made.append(
            Noise(
                title,
                a_year_cm,
                float(least_growth(girth_cm, doubts, again).chance_cm),
                float(stands_out_after_years(girth_cm, a_year_cm, doubts, again)),
                kept(np.array(rows)),
            )
        )
    return tuple(made)


class GrowthAndNoise(Picture[tuple[Noise, ...]]):
    """Both charts; nothing moves.

    charts: of :func:`noises`.
    """

    height_px = 412

    def __init__(self, charts: tuple[Noise, ...]) -> None:
        super().__init__()
        self.charts = charts

    def draw(self, figure: Any) -> None:
        """Strip, line, marks and counts of each chart on `figure`."""
        for left_px, one in zip(_LEFTS_PX, self.charts, strict=True):
            axes = look.place(figure, left_px, _FOOT_PX, _WIDE_PX, _TALL_PX)
            self._chart(axes, one)

    def _chart(self, axes: Any, one: Noise) -> None:
        last = AGAIN_YEARS[-1]
        axes.set(xlim=(0, last + 0.5), ylim=(_LOW_CM, _HIGH_CM))
        axes.set_title(one.title, fontweight="bold", pad=8)
        axes.set_xticks(AGAIN_YEARS)
        axes.set_xlabel("years between the readings", labelpad=2)
        axes.set_ylabel("growth in girth, cm", labelpad=1)
        axes.axhspan(-one.chance_cm, one.chance_cm, color=look.GROUND, lw=0, zorder=0)
        for edge in (-one.chance_cm, one.chance_cm):
            axes.axhline(edge, color=look.QUIET, lw=1, ls=(0, (4, 3)), zorder=1)
        axes.plot([0, last + 0.5], [0, one.a_year_cm * (last + 0.5)], color=look.TRUTH, lw=1.6)
        between = last - 0.5
        axes.plot([between] * 2, [2.0, one.a_year_cm * between], color=look.QUIET, lw=1)
        axes.text(last + 0.48, 1.95, "true growth", ha="right", va="top")
        axes.text(0.15, -one.chance_cm - 0.12, "read where nothing grows", va="top")
        axes.axvline(one.wait_years, ymin=2 / 7, color=look.TRUTH, lw=1.2, ls=(0, (1, 1.6)))
        axes.text(
            one.wait_years + 0.12,
            _HIGH_CM - 0.1,
            f"nine of ten\nafter {one.wait_years:.1f} years",
            va="top",
            linespacing=1.25,
        )
        beside = np.linspace(-0.26, 0.26, PAIRS)
        years = np.array(AGAIN_YEARS, dtype=float)[:, None] + beside[None, :]
        above = one.read_cm > one.chance_cm
        for which, fill in ((above, look.TAPE), (~above, look.WHITE)):
            axes.plot(
                years[which],
                one.read_cm[which],
                ls="",
                marker="o",
                ms=4.6,
                mec=look.TAPE,
                mew=1.2,
                mfc=fill,
                zorder=3,
            )
        for year, count in zip(AGAIN_YEARS, one.above, strict=True):
            axes.annotate(
                str(count),
                (year, _LOW_CM),
                (0, -50),
                textcoords="offset points",
                ha="center",
                va="center_baseline",
                fontweight="bold",
                annotation_clip=False,
            )
        axes.annotate(
            f"of {PAIRS} readings stand out (filled)",
            (0, _LOW_CM),
            (0, -64),
            textcoords="offset points",
            va="center_baseline",
            annotation_clip=False,
        )

    def parts(self) -> tuple[Part, ...]:
        """The same tape and hand, and others."""
        same, other = self.whole.cut_x(432)
        return part("same", same), part("other", other)

    def show(self, numbers: tuple[Noise, ...]) -> None:
        """Nothing moves: the charts hold what was given at the start, not `numbers`."""

    def describe(self, numbers: tuple[Noise, ...]) -> str:
        """The charts in words, with their `numbers`."""
        said = []
        for one in numbers:
            counts = ", ".join(str(count) for count in one.above)
            said.append(
                f"with {one.title} up to {one.chance_cm:.2f} cm are read either way where nothing "
                f"grows, and after {one.wait_years:.1f} years nine of ten readings lie above it; "
                f"of {PAIRS} drawn pairs there stand out, year by year, {counts}"
            )
        return (
            "Two charts of a stem that grows "
            f"{numbers[0].a_year_cm:g} cm in girth a year, taped again after one to "
            f"{AGAIN_YEARS[-1]} years: " + "; ".join(said) + "."
        )


def growth_and_noise() -> Still:
    """A made-up stem of 125 cm girth that grows 0.4 cm a year, taped again by the same and others.

    >>> growth_and_noise().alt[:40]
    'Two charts of a stem that grows 0.4 cm i'
    """
    charts = noises()
    return draw_still(GrowthAndNoise(charts), charts)
