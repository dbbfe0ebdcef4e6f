"""The picture on hands and instruments: each one's readings less what the others have, in rows.

To the left a row a hand and a row a tape; a dot is what was read of one stem, less the median of
the others there. The mark of a dot says with which tape. A short bar is the row's median, the quick
look; what the model says stands to its right, once it is asked. To the right the same differences
of one of them in centimetres over the girth: a share climbs from nought, a constant lies level.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.panels.hands_and_instruments import (
    HAND_COUNT,
    TAPE_COUNT,
    HandsShown,
)
from mensura.views.chapters.hands_and_instruments.words import VERDICTS, verdict_word
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part
from mensura.written import minus, signed

ROWS = HAND_COUNT + TAPE_COUNT
#: Mark, filling and edge of each tape's dots: told apart without colour.
MARKS = (
    ("o", look.WHITE, look.QUIET),
    ("s", look.TAPE, look.TAPE),
    ("^", look.WHITE, look.TRUTH),
)


class HandsPicture(Picture[HandsShown]):
    """Rows of dots with their verdicts, and one of them over the girth."""

    width_px = 860
    height_px = 420

    #: The rows' chart: left, foot, width, height; and what half its scale may be.
    ROWS_PX = (52, 44, 246, 324)
    SCALES_PERCENT = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0)
    #: Between hands and tapes.
    GAP_PX = 18
    #: The chart over the girth, its scale's ends, and what half its height may be.
    GIRTH_PX = (548, 64, 288, 262)
    GIRTHS_CM = (60.0, 220.0)
    SCALES_CM = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_rows(page)
        self._draw_girths(page)
        self.values = Values(page)
        self.moving += [*self.dots, self.medians, *self.said, self.model, self.heading]
        self.moving += [self.points, self.share, self.constant, self.values.artist]

    def _draw_rows(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        left, low, wide, high = self.ROWS_PX
        how = {"va": "center_baseline"}
        page.text(8, 402, "Less what the others read, %", fontweight="bold", **how)
        self.model = page.text(left + wide + 12, 402, "", **how)
        pitch = (high - self.GAP_PX) / ROWS
        self.rows_px = [
            low + high - pitch * (row + 0.5) - (self.GAP_PX if row >= HAND_COUNT else 0)
            for row in range(ROWS)
        ]
        self.half_px = pitch / 2 - 5
        for share in (0, 0.25, 0.5, 0.75, 1):
            at = left + share * wide
            ink = look.TRUTH if share == 0.5 else look.GRID
            page.plot([at, at], [low, low + high], color=ink, lw=1, zorder=1)
        for row, up in enumerate(self.rows_px):
            name = f"Q{row + 1:02d}" if row < HAND_COUNT else f"T{row - HAND_COUNT + 1}"
            page.text(left - 8, up, name, ha="right", **how)
        for one, up in enumerate(self.rows_px[HAND_COUNT:]):
            mark, face, edge = MARKS[one]
            page.plot([12], [up], ls="", marker=mark, ms=6, mfc=face, mec=edge, mew=1.2)
        self.dots = [
            page.plot([], [], ls="", marker=mark, ms=4.4, mfc=face, mec=edge, mew=1, zorder=3)[0]
            for mark, face, edge in MARKS
        ]
        self.medians: Any = LineCollection([], colors=look.TRUTH, linewidths=3.4, zorder=4)
        page.add_collection(self.medians, autolim=False)
        self.said = [page.text(left + wide + 12, up, "", **how) for up in self.rows_px]

    def _draw_girths(self, page: Any) -> None:
        left, low, wide, high = self.GIRTH_PX
        how = {"va": "center_baseline"}
        self.heading = page.text(left - 40, 402, "", fontweight="bold", **how)
        key = 366
        page.plot([left - 40, left - 10], [key] * 2, color=look.TRUTH, lw=2, ls=(0, (5, 2)))
        page.text(left - 4, key, "a share", **how)
        page.plot([left + 84, left + 114], [key] * 2, color=look.TAPE, lw=2.4)
        page.text(left + 120, key, "a constant", **how)
        for share in (0, 0.25, 0.5, 0.75, 1):
            up = low + share * high
            ink = look.TRUTH if share == 0.5 else look.GRID
            page.plot([left, left + wide], [up, up], color=ink, lw=1, zorder=1)
        least, most = self.GIRTHS_CM
        self.girths_cm = np.arange(least, most + 1, 40.0)
        page.text(left + wide / 2, low - 44, "girth as the others read it, cm", ha="center", **how)
        (self.points,) = page.plot(
            [], [], ls="", marker="o", ms=6, mfc=look.WHITE, mec=look.QUIET, mew=1.4, zorder=3
        )
        (self.share,) = page.plot([], [], color=look.TRUTH, lw=2, ls=(0, (5, 2)), zorder=4)
        (self.constant,) = page.plot([], [], color=look.TAPE, lw=2.4, zorder=2)

    def parts(self) -> tuple[Part, ...]:
        """The rows, and one of them over the girth."""
        rows, girths = self.whole.cut_x(478)
        return part("rows", rows), part("share or constant", girths)

    def show(self, numbers: HandsShown) -> None:
        """Set every moving artist from the numbers."""
        lines, ends = self._show_rows(numbers)
        more, places = self._show_girths(numbers)
        self.values.set([*lines, *more], [*ends, *places])

    def _show_rows(self, n: HandsShown) -> tuple[list[str], list[tuple[float, float]]]:
        left, low, wide, _ = self.ROWS_PX
        half = look.first_scale(
            float(max(np.abs(n.hand_off_percent).max(), np.abs(n.tape_off_percent).max())),
            self.SCALES_PERCENT,
        )
        middle, px = left + wide / 2, wide / 2 / half
        stems = n.girth_cm.shape[0]
        # each stem at its own height in a row, so that dots do not hide each other
        aside = np.linspace(self.half_px, -self.half_px, stems)[:, None]
        ups = np.array(self.rows_px[:HAND_COUNT])[None, :] + aside
        tape_ups = np.array(self.rows_px[HAND_COUNT:])[n.tape_of] + aside
        hand_x, tape_x = middle + n.hand_off_percent * px, middle + n.tape_off_percent * px
        for one, dots in enumerate(self.dots):
            at = n.tape_of == one
            dots.set_data(
                np.concatenate([hand_x[at], tape_x[at]]), np.concatenate([ups[at], tape_ups[at]])
            )
        looks = middle + np.concatenate([n.hand_look_percent, n.tape_look_percent]) * px
        tall = self.half_px + 2
        self.medians.set_segments(
            [[(x, up - tall), (x, up + tall)] for x, up in zip(looks, self.rows_px, strict=True)]
        )
        self.model.set_text("the model says" if n.judged else "the model: not asked")
        for row, said in enumerate(self.said):
            word = verdict_word(n.judged[row]) if n.judged else ""
            off = bool(n.judged) and n.judged[row].verdict not in ("sound", "cannot-tell")
            said.set_text(word)
            said.set_fontweight("bold" if off else "normal")
        lines, ends = [], []
        for share in (-1.0, -0.5, 0.0, 0.5, 1.0):
            text = minus(f"{share * half:g}")
            lines.append(text)
            ends.append((middle + share * wide / 2 + line_width_px(text) / 2, low - 20.0))
        return lines, ends

    def _show_girths(self, n: HandsShown) -> tuple[list[str], list[tuple[float, float]]]:
        left, low, wide, high = self.GIRTH_PX
        least, most = self.GIRTHS_CM
        half = look.first_scale(float(np.abs(n.off_cm).max()), self.SCALES_CM)
        across = wide / (most - least)
        middle, px = low + high / 2, high / 2 / half
        self.heading.set_text(f"{n.looked_at} less the others, cm: quick look")
        self.points.set_data(left + (n.others_cm - least) * across, middle + n.off_cm * px)
        ends_cm = np.array(self.GIRTHS_CM)
        x = left + (ends_cm - least) * across
        self.share.set_data(x, middle + n.share_percent / 100 * ends_cm * px)
        self.constant.set_data(x, [middle + n.constant_cm * px] * 2)
        lines, ends = [], []
        for share in (-1.0, -0.5, 0.0, 0.5, 1.0):
            lines.append(minus(f"{share * half:g}"))
            ends.append((left - 8.0, middle + share * high / 2 - 5.4))
        for girth in self.girths_cm:
            text = f"{girth:g}"
            lines.append(text)
            at = left + (float(girth) - least) * across
            ends.append((at + line_width_px(text) / 2, low - 20.0))
        return lines, ends

    def describe(self, numbers: HandsShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        looks = [*n.hand_look_percent, *n.tape_look_percent]
        told = ", ".join(
            f"{code} {signed(one, 1)} %"
            for code, one in zip((*n.hands, *n.tapes), looks, strict=True)
        )
        model = (
            "The model says: "
            + ", ".join(f"{one.name} {VERDICTS[one.verdict]}" for one in n.judged)
            + "."
            if n.judged
            else "The model is not asked."
        )
        stems = n.girth_cm.shape[0]
        how = "the tapes go round" if n.go_round else "each hand keeps one tape"
        return (
            f"Rows of dots for six hands and three tapes on {stems} stems; {how}. Medians of what "
            f"each reads less what the others have there: {told}. {model} To the right the "
            f"readings of {n.looked_at} less the others' over the girth, with a share of "
            f"{signed(n.share_percent, 1)} % climbing from nought and a constant of "
            f"{signed(n.constant_cm, 2)} cm lying level."
        )
