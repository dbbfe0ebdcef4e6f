"""The condition panel: a band that is no longer what it was, laid on a true ruler.

Above, two close-ups of the same band, unrolled on a ruler that counts along the bark: where it
starts, and where it has come once round. Both are to scale; nothing is exaggerated. Below, what
each part of its condition adds, on one scale. In the table, the way back to the girth.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.instruments.materials import REFERENCE_C, REFERENCE_N
from mensura.teaching.panels.condition import (
    CONTROLS,
    FAULTS,
    SOUND,
    SWITCHES,
    ConditionShown,
    numbers,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Numerals
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.share_bars import ShareBars
from mensura.views.kit.table import compared, row_html, table_html
from mensura.written import apart, signed

#: Where each fault is seen, beside its bar: the artists that it moves.
DRAWN = {
    "thickness": ("end_marks", "read_word"),
    "temperature": ("end_marks", "read_word"),
    "pull": ("end_marks", "read_word"),
    "stretch": ("end_marks", "read_word"),
    "shrinking": ("end_marks", "read_word"),
    "worn start": ("gone", "start_marks", "read_word"),
    "rounding": ("read_word",),
}


class _Window:
    """A close-up: the true ruler above, the band below, their marks meeting on one line.

    The ruler counts along the bark. Both move, each as one line and one set of numbers.
    """

    #: Height of each strip, on the same scale as along them.
    STRIP_CM = 1.2

    def __init__(self, axes: Any, before_cm: float, after_cm: float) -> None:
        from matplotlib.patches import Rectangle

        self.before, self.after = before_cm, after_cm
        axes.set(xlim=(-before_cm, after_cm), ylim=(0, 2 * self.STRIP_CM))
        axes.axis("off")
        axes.add_patch(
            Rectangle(
                (-before_cm, self.STRIP_CM),
                before_cm + after_cm,
                self.STRIP_CM,
                fc=look.WHITE,
                ec=look.QUIET,
                lw=1,
            )
        )
        self.band = Rectangle((0, 0), 1, self.STRIP_CM, fc=look.BAND_FILL, ec=look.TAPE, lw=1)
        axes.add_patch(self.band)
        (self.ruler_marks,) = axes.plot([], [], color=look.TRUTH, lw=0.9)
        (self.band_marks,) = axes.plot([], [], color=look.TAPE, lw=0.9)
        self.ruler_numbers = Numerals(axes)
        self.band_numbers = Numerals(axes)
        self.moving = [
            self.band,
            self.ruler_marks,
            self.band_marks,
            self.ruler_numbers.artist,
            self.band_numbers.artist,
        ]

    def show(self, n: ConditionShown, middle_cm: float) -> None:
        """Set ruler and band round a place along the bark."""
        low, high = middle_cm - self.before, middle_cm + self.after
        first = max(low, 0.0)
        self.band.set_xy((first - middle_cm, 0))
        self.band.set_width(high - first)
        worn = n.tape.worn_start_cm
        self._marks(self.ruler_marks, self.ruler_numbers, first, high, 1.0, 0.0, middle_cm, 1)
        self._marks(self.band_marks, self.band_numbers, first, high, n.step_cm, worn, middle_cm, -1)

    def _marks(
        self,
        line: Any,
        numerals: Numerals,
        first: float,
        last: float,
        step: float,
        worn: float,
        middle: float,
        way: int,
    ) -> None:
        """Marks every mm and numbers every cm, from the line upwards (1) or downwards (−1)."""
        tenths = np.arange(
            np.ceil((first / step + worn) * 10 - 1e-6), np.floor((last / step + worn) * 10) + 1
        )
        across = (tenths / 10 - worn) * step - middle
        longer = np.where(tenths % 10 == 0, 0.5, np.where(tenths % 5 == 0, 0.36, 0.22))
        gap, meet = np.full(tenths.size, np.nan), self.STRIP_CM
        line.set_data(
            np.column_stack([across, across, gap]).ravel(),
            np.column_stack([np.full(tenths.size, meet), meet + way * longer, gap]).ravel(),
        )
        room = (tenths % 10 == 0) & (across > 0.42 - self.before) & (across < self.after - 0.42)
        up = 1.85 if way > 0 else 0.24
        numerals.set(
            [round(one / 10) for one in tenths[room]], [(float(x), up) for x in across[room]]
        )


class ConditionPicture(Picture[ConditionShown]):
    """Two close-ups of the band on a ruler, and the bars."""

    width_px = 860
    height_px = 386

    #: What both close-ups show round their line, in cm, and how many pixels make one of them.
    PX_PER_CM = 40
    START_CM = (1.5, 6.5)
    END_CM = (5.5, 5.5)
    #: Left edge and feet of the close-ups, and what the bars' scale may reach.
    LEFT_PX, FEET_PX, HIGH_PX = 8, (230, 40), 96
    SCALES_CM = (1.0, 2.0, 4.0, 10.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        left, high, px = self.LEFT_PX, self.HIGH_PX, self.PX_PER_CM
        words = look.place(figure, 0, 0, self.width_px, self.height_px)
        words.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        words.axis("off")
        for foot, ends_cm, title in zip(
            self.FEET_PX,
            (self.START_CM, self.END_CM),
            ("Start (dashed: what is worn off)", "Once round (both drawn to scale)"),
            strict=True,
        ):
            words.text(left, foot + high + 42, title, fontweight="bold", va="center_baseline")
            # the line leaves the numbers of both strips legible
            ups = [-12, 0, np.nan, high * 0.28, high * 0.72, np.nan, high, high + 8]
            line = [left + ends_cm[0] * px] * len(ups), foot + np.array(ups)
            words.plot(*line, color=look.TRUTH, lw=1.8, zorder=5)
        self.start, self.end = (
            _Window(look.place(figure, left, foot, sum(ends_cm) * px, high), *ends_cm)
            for foot, ends_cm in zip(self.FEET_PX, (self.START_CM, self.END_CM), strict=True)
        )
        self._zero_px = left + self.START_CM[0] * px
        self._words(words, left + self.END_CM[0] * px)
        self.bars = ShareBars(
            figure,
            (574, 46),
            (204, 312),
            {key: key for key in FAULTS},
            self.SCALES_CM,
            1.0,
            look.TAPE,
            3,
        )
        self.start_marks, self.end_marks = self.start.band_marks, self.end.band_marks
        self.moving += [*self.start.moving, *self.end.moving, self.gone]
        self.moving += [self.true_word, self.read_word, *self.bars.moving]

    def _words(self, page: Any, turn_px: float) -> None:
        """What stands above and below the strips."""
        (upper, lower), high = self.FEET_PX, self.HIGH_PX
        how = {"va": "center_baseline"}
        page.text(self._zero_px + 8, upper + high + 12, "ruler along the bark, cm", **how)
        page.text(self._zero_px + 8, upper - 20, "band: its end, held as zero", **how)
        self.true_word = page.text(turn_px + 8, lower + high + 12, "", **how)
        self.read_word = page.text(turn_px + 12, lower - 20, "", color=look.TAPE_WORD, **how)
        page.plot([turn_px], [lower - 17], ls="", marker="^", ms=9, color=look.TAPE)
        (self.gone,) = page.plot([], [], color=look.TAPE, lw=1.4, ls=(0, (4, 2)))

    def parts(self) -> tuple[Part, ...]:
        """The two close-ups, and the bars."""
        left, bars = self.whole.cut_x(462)
        start, end = left.cut_y(196)
        return part("start", start), part("once round", end), part("shares", bars)

    def show(self, numbers: ConditionShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        self.start.show(n, 0.0)
        self.end.show(n, n.girth_cm)
        worn = float(n.tape.worn_start_cm) * n.step_cm
        # what is worn off had lain before the held start: a dashed edge, as far as it is in view
        left = self._zero_px - min(worn, self.START_CM[0]) * self.PX_PER_CM
        low, up = self.FEET_PX[0], self.FEET_PX[0] + self.HIGH_PX / 2
        self.gone.set_data([self._zero_px, left, left, self._zero_px], [low, low, up, up])
        self.gone.set_visible(worn > 0)
        self.true_word.set_text(f"true girth {n.girth_cm:.1f} cm")
        digits = 0 if n.tape.resolution_cm else 2
        self.read_word.set_text(f"read {n.reading_cm:.{digits}f} cm")
        self.bars.show(n.breakdown)

    def describe(self, numbers: ConditionShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        parts = ", ".join(f"{name} {signed(adds, 3)}" for name, adds in n.breakdown.items())
        return (
            f"Two close-ups of a {n.tape.material} band on a ruler that counts along the bark, to "
            f"scale. At its start {n.tape.worn_start_cm:g} cm are worn off. Where it has come once "
            f"round, the ruler says {n.girth_cm:.1f} cm and the band {n.told_cm:.2f} cm; it is "
            f"read as {n.reading_cm:.2f} cm. Bars of what each fault adds, in cm: "
            f"{parts or 'nothing'}; together {signed(n.reading_cm - n.girth_cm, 3)}."
        )


def status(n: ConditionShown) -> str:
    """One sentence: what the band of `n` says, and what the way back makes of it."""
    return (
        f"True girth {n.girth_cm:.1f} cm, read {n.reading_cm:.2f} cm: diameter "
        f"{signed(n.diameter_over_percent)} %, area {signed(n.area_over_percent)} %. "
        f"Corrected: {n.back.girth_cm:.2f} cm."
    )


def readout(n: ConditionShown) -> str:
    """The table below the picture: `n` as it is, as it was read, and brought back."""
    rows = (
        ("Girth, cm", n.girth_cm, n.reading_cm, float(n.back.girth_cm), 3),
        ("Diameter, cm", n.diameter_cm, n.read_diameter_cm, float(n.back.diameter_cm), 3),
        ("Area, cm²", n.area_cm2, n.read_area_cm2, float(n.back.area_cm2), 1),
    )
    names = ("", "True", "As read", "Error", "Error, %", "Corrected", "Left over")
    body = "".join(
        row_html(
            name,
            *compared(read, true, digits),
            f"{back:.{digits}f}",
            apart(back, true, digits),
        )
        for name, true, read, back, digits in rows
    )
    if n.tape.resolution_cm:
        undone = (
            "The way back undoes thickness, temperature, pull, stretch, shrinking and worn start "
            "exactly. What was rounded away is gone: up to "
            f"{n.back.rounding_cm:g} cm of the reading, always downwards."
        )
    else:
        undone = "The way back undoes every part of the band's condition exactly."
    material = n.tape.material
    return (
        table_html(names, body) + f"<p>{undone}</p>"
        f"<p>Assumed: a round stem, a level band, the same pull all along, as on a smooth post "
        f"(on bark friction takes a part of it); {material} with "
        f"{n.tape.expansion_per_c * 1e6:g} millionths per °C and EA = {n.tape.stiffness_n:.0f} N"
        f"{' (our assumption)' if material == 'fibreglass' else ''}; true at {REFERENCE_C:g} °C "
        f"and {REFERENCE_N:g} N.</p>"
    )


CONDITION_PANEL: Panel[ConditionShown] = Panel(
    title="The condition of the band",
    controls=CONTROLS,
    switches=SWITCHES,
    numbers=numbers,
    picture=ConditionPicture,
    readout=readout,
    status=status,
    presets={
        "A sound band": SOUND,
        "A hot day": {**SOUND, "temperature_c": 40.0},
        "Pulled hard": {**SOUND, "pull_n": 150.0},
    },
)
