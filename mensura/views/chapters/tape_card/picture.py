"""The tape card panel: a tape held against a reference, the line through it, and how sure it is.

Left above, reading less reference at each mark, the line by least squares with its band, and what
was planted. Below, the same seen from the truth, so that the band is wide enough to see. Right, the
card's three figures as intervals beside the truth, and the stretch that forty classes would find.
Scales follow what they show; their lines stay.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.panels.tape_card import CLASSES, LONGEST_CM, TapeCardShown, Told
from mensura.views.chapters.tape_card.words import classes_words, told_words
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.parts import Part, part
from mensura.written import minus, signed

#: What a scale may reach to either side, in the figure's own unit.
SCALES = (0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)
#: Where lines and band are worked out, on the reference.
WHERE_CM = np.linspace(0.0, LONGEST_CM, 65)


class _Chart:
    """Errors against the reference: still axes, and over them what moves, on a scale of its own.

    figure: to draw on; place_px, size_px: of the axes; title: above it; shares: of the scale at
    which it has ticks.
    """

    ROOM_PX = 60.0
    SHARES = (-1.0, -0.5, 0.0, 0.5, 1.0)

    def __init__(
        self,
        figure: Any,
        place_px: tuple[float, float],
        size_px: tuple[float, float],
        title: str,
    ) -> None:
        from matplotlib.patches import Polygon, Rectangle

        still = look.place(figure, *place_px, *size_px)
        still.set(xlim=(0, LONGEST_CM), ylim=(-1, 1))
        still.set_xticks(range(0, 301, 50))
        still.set_yticks(self.SHARES, [""] * len(self.SHARES))
        still.set_xlabel("on the reference, cm", labelpad=1)
        still.grid(True)
        still.set_axisbelow(True)
        still.set_title(title, loc="left", fontweight="bold", pad=8)
        self.axes = look.place(figure, *place_px, *size_px)
        self.axes.set(xlim=(0, LONGEST_CM), ylim=(-1, 1))
        self.axes.axis("off")
        self.band = Polygon(np.zeros((3, 2)), fc=look.BAND_FILL, ec="none")
        self.axes.add_patch(self.band)
        # over the band, so that it ends at a line where the chart ends
        self.frame = Rectangle(
            (0, 0), 1, 1, transform=self.axes.transAxes, fill=False, ec=look.QUIET, lw=1
        )
        self.frame.set_clip_on(False)
        self.axes.add_patch(self.frame)
        how = {"clip_on": True}
        (self.stem,) = self.axes.plot([], [], color=look.QUIET, lw=1.2, ls=(0, (1, 2)), **how)
        (self.edges,) = self.axes.plot([], [], color=look.TAPE, lw=1.0, **how)
        (self.beyond,) = self.axes.plot([], [], color=look.TAPE, lw=2.0, ls=(0, (4, 2.5)), **how)
        (self.within,) = self.axes.plot([], [], color=look.TAPE, lw=2.4, **how)
        (self.truth,) = self.axes.plot([], [], color=look.TRUTH, lw=1.4, **how)
        (self.points,) = self.axes.plot(
            [], [], ls="", marker="o", ms=6, mfc=look.WHITE, mec=look.TAPE, mew=1.4, **how
        )
        left = look.place(
            figure, place_px[0] - self.ROOM_PX, place_px[1] - 8, self.ROOM_PX, size_px[1] + 16
        )
        left.set(xlim=(0, self.ROOM_PX), ylim=(-8, size_px[1] + 8))
        left.axis("off")
        self.numbers = Values(left)
        self._ends = [
            (self.ROOM_PX - 8.0, (share + 1) / 2 * size_px[1] - 5.4) for share in self.SHARES
        ]
        self.moving = [self.band, self.frame, self.stem, self.edges, self.beyond, self.within]
        self.moving += [self.truth, self.points, self.numbers.artist]

    def show(self, n: TapeCardShown, less_cm: Any, points_less_cm: Any, need_cm: float) -> None:
        """Set everything, seen from a line.

        n: the numbers; less_cm: that line along WHERE_CM; points_less_cm: at the readings; need_cm:
        what the scale has to hold.
        """
        scale = look.first_scale(need_cm, SCALES)
        self.axes.set_ylim(-scale, scale)
        lines = [minus(f"{share * scale:+g}") if share else "0" for share in self.SHARES]
        self.numbers.set(lines, self._ends)
        limit = 1.2 * scale
        found = n.found_error_cm(WHERE_CM) - less_cm
        first, last = float(n.places_cm[0]), float(n.places_cm[-1])
        # straight lines: their ends are enough
        bends = np.array([0.0, first, last, LONGEST_CM])
        up = np.interp(bends, WHERE_CM, found)
        self.within.set_data(bends[1:3], up[1:3])
        self.beyond.set_data(np.insert(bends, 2, np.nan), np.insert(up, 2, np.nan))
        self.truth.set_data(WHERE_CM[[0, -1]], (n.true_error_cm(WHERE_CM) - less_cm)[[0, -1]])
        self.points.set_data(n.reference_cm, n.readings_cm - n.reference_cm - points_less_cm)
        stem = float(n.card.true_cm(n.reading_cm))
        self.stem.set_data([stem, stem], [-scale, scale])
        half = n.half_band_cm(WHERE_CM)
        for artist in (self.band, self.edges):
            artist.set_visible(half is not None)
        if half is not None:
            over, under = (np.clip(found + way * half, -limit, limit) for way in (1, -1))
            around = np.concatenate([WHERE_CM, WHERE_CM[::-1]]), np.concatenate([over, under[::-1]])
            self.band.set_xy(np.column_stack(around))
            gap = [np.nan]
            self.edges.set_data(
                np.concatenate([WHERE_CM, gap, WHERE_CM]), np.concatenate([over, gap, under])
            )


class _Interval:
    """One figure of the card as an interval, the truth in the middle of its scale.

    figure: to draw on; left_px, up_px: where it begins; wide_px: of its scale.
    """

    SHARES = (-1.0, 0.0, 1.0)
    HIGH_PX = 32.0

    def __init__(self, figure: Any, left_px: float, up_px: float, wide_px: float) -> None:
        still = look.place(figure, left_px, up_px, wide_px, self.HIGH_PX)
        still.set(xlim=(-1, 1), ylim=(-1, 1))
        still.set_xticks([-1, -0.5, 0, 0.5, 1], [""] * 5)
        still.set_yticks([])
        still.spines["left"].set_visible(False)
        still.grid(True, axis="x")
        still.set_axisbelow(True)
        still.axvline(0, color=look.TRUTH, lw=1.8)
        self.axes = look.place(figure, left_px, up_px, wide_px, self.HIGH_PX)
        self.axes.set(xlim=(-1, 1), ylim=(-1, 1))
        self.axes.axis("off")
        (self.bar,) = self.axes.plot([], [], color=look.TAPE, lw=3, solid_capstyle="butt")
        (self.ends,) = self.axes.plot([], [], ls="", marker="|", ms=14, mew=2, color=look.TAPE)
        (self.mark,) = self.axes.plot([], [], ls="", marker="v", ms=10, color=look.TAPE)
        room, self.wide_px = 40.0, wide_px
        foot = look.place(figure, left_px - room, up_px - 20, wide_px + 2 * room, 18)
        foot.set(xlim=(-room, wide_px + room), ylim=(0, 18))
        foot.axis("off")
        self.numbers = Values(foot)
        self.moving = [self.bar, self.ends, self.mark, self.numbers.artist]

    def show(self, told: Told) -> None:
        """Set the interval; told: the figure beside the truth."""
        off, half = told.found - told.planted, told.half or 0.0
        scale = look.first_scale(1.05 * (abs(off) + half), SCALES)
        low, high = np.clip([off - half, off + half], -scale, scale)
        self.axes.set_xlim(-scale, scale)
        self.bar.set_data([low, high], [0, 0])
        self.ends.set_data([off - half, off + half], [0, 0])
        for artist in (self.bar, self.ends):
            artist.set_visible(told.half is not None)
        self.mark.set_data([off], [0])
        digits = 2 if scale >= 0.05 else 3
        lines = [signed(told.planted + share * scale, digits) for share in self.SHARES]
        middles = [(share + 1) / 2 * self.wide_px for share in self.SHARES]
        self.numbers.set(
            lines,
            [
                (middle + line_width_px(line) / 2, 4.0)
                for middle, line in zip(middles, lines, strict=True)
            ],
        )


class _Classes:
    """The stretch as each class finds it, by an upright interval, the truth in the middle.

    figure: to draw on; place_px, size_px: of the axes.
    """

    def __init__(
        self, figure: Any, place_px: tuple[float, float], size_px: tuple[float, float]
    ) -> None:
        from matplotlib.collections import LineCollection

        still = look.place(figure, *place_px, *size_px)
        still.set(xlim=(0, CLASSES + 1), ylim=(-1, 1))
        still.set_xticks([1, 10, 20, 30, 40])
        still.set_yticks([])
        still.spines["left"].set_visible(False)
        still.axhline(0, color=look.TRUTH, lw=1.8)
        self.axes = look.place(figure, *place_px, *size_px)
        self.axes.set(xlim=(0, CLASSES + 1), ylim=(-1, 1))
        self.axes.axis("off")
        self.bars: Any = LineCollection([], colors=look.TAPE, linewidths=2.0)
        self.missing: Any = LineCollection([], colors=look.TRUTH, linewidths=4.0)
        for bars in (self.bars, self.missing):
            self.axes.add_collection(bars, autolim=False)
        (self.found,) = self.axes.plot([], [], ls="", marker="o", ms=3, color=look.TAPE)
        (self.this,) = self.axes.plot([], [], ls="", marker="v", ms=9, color=look.TAPE)
        self.this.set_clip_on(False)
        self.moving = [self.bars, self.missing, self.found, self.this]

    def show(self, n: TapeCardShown) -> None:
        """Set all intervals; n: the numbers."""
        off, hold = n.classes_percent - n.stretch_percent, n.classes_hold
        half = np.zeros(CLASSES) if n.classes_half_percent is None else n.classes_half_percent
        scale = 1.05 * max(float((np.abs(off) + half).max()), 1e-6)
        where = np.arange(1, CLASSES + 1)
        ends = np.stack([off - half, off + half], axis=1) / scale
        bars = np.stack([np.stack([where, where], axis=1), ends], axis=-1)
        self.bars.set_segments(list(bars if hold is None else bars[hold]))
        self.missing.set_segments([] if hold is None else list(bars[~hold]))
        self.missing.set_visible(hold is not None and not hold.all())
        self.found.set_data(where, off / scale)
        self.this.set_data([n.draw], [1.05])


class TapeCardPicture(Picture[TapeCardShown]):
    """The check, the check as seen from the truth, and the card's figures."""

    width_px = 860
    height_px = 540

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        size = (394, 190)
        self.errors = _Chart(figure, (66, 318), size, "Reading less reference, cm")
        self.off = _Chart(figure, (66, 48), size, "The same, less the truth: seen closer, cm")
        left, wide = 530, 280
        words = look.place(figure, 0, 0, self.width_px, self.height_px)
        words.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        words.axis("off")
        how = {"fontweight": "bold", "va": "center_baseline"}
        self.figures = []
        titles = ("Stretch, %", "Worn start, cm", "To add to the stem's reading, cm")
        for title, up in zip(titles, (352, 258, 164), strict=True):
            words.text(left - 24, up + 48, title, **how)
            self.figures.append(_Interval(figure, left, up, wide))
        words.text(left - 24, 114, "Stretch in forty classes (thick: missed)", **how)
        self.classes = _Classes(figure, (left, 30), (wide, 60))
        self._key(words, left - 24)
        self.moving += [*self.errors.moving, *self.off.moving]
        for one in self.figures:
            self.moving += one.moving
        self.moving += self.classes.moving

    def _key(self, words: Any, left: float) -> None:
        """What the lines are, above the intervals."""
        from matplotlib.patches import Rectangle

        rows = (524, 502, 480, 458, 436)
        words.plot([left, left + 40], [rows[0]] * 2, color=look.TRUTH, lw=1.8)
        words.plot(
            [left + 20], [rows[1]], ls="", marker="o", ms=6, mfc=look.WHITE, mec=look.TAPE, mew=1.4
        )
        words.plot([left, left + 40], [rows[2]] * 2, color=look.TAPE, lw=2.4)
        words.add_patch(
            Rectangle((left, rows[3] - 7), 40, 14, fc=look.BAND_FILL, ec=look.TAPE, lw=0.8)
        )
        words.plot([left, left + 40], [rows[4]] * 2, color=look.QUIET, lw=1.2, ls=(0, (1, 2)))
        told = (
            "the truth, as it was planted",
            "a reading at a mark",
            "found; dashed: only drawn on",
            "95 % band of what was found",
            "the stem's length, by the card",
        )
        for up, text in zip(rows, told, strict=True):
            words.text(left + 50, up, text, va="center_baseline")

    def parts(self) -> tuple[Part, ...]:
        """The two charts with the key, the figures, and the classes."""
        left, right = self.whole.cut_x(478)
        errors, off = left.cut_y(274)
        key, figures, classes = right.cut_y(418, 129)
        return (
            part("check", key, errors),
            part("closer", key, off),
            part("card", figures),
            part("classes", classes),
        )

    def show(self, numbers: TapeCardShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        truth, at_marks = n.true_error_cm(WHERE_CM), n.true_error_cm(n.reference_cm)
        errors = n.readings_cm - n.reference_cm
        self.errors.show(n, 0.0, 0.0, max(float(np.abs(truth).max()), float(np.abs(errors).max())))
        off = errors - at_marks
        found = np.abs(n.found_error_cm(n.places_cm) - n.true_error_cm(n.places_cm))
        half = n.half_band_cm(n.places_cm)
        need = max(float(np.abs(off).max()), float((found + (0 if half is None else half)).max()))
        self.off.show(n, truth, at_marks, 1.1 * need)
        for one, told in zip(self.figures, (n.stretch, n.worn, n.correction), strict=True):
            one.show(told)
        self.classes.show(n)

    def describe(self, numbers: TapeCardShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        band = (
            "No band: two marks always lie on a line."
            if n.factor is None
            else f"Half its 95 % band is {n.half_band_cm(n.places_cm.mean()):.2f} cm in the middle "
            f"of the marks, {n.half_band_cm(0.0):.2f} cm at 0 and "
            f"{n.half_band_cm(LONGEST_CM):.2f} cm at {LONGEST_CM:.0f} cm."
        )
        return (
            f"A tape held against a reference at {n.places_cm.size} marks from "
            f"{n.places_cm[0]:.0f} to {n.places_cm[-1]:.0f} cm, {n.reference_cm.size} readings: "
            f"reading less reference at each, the line through them, and the planted truth. {band} "
            f"Beside it, intervals: {told_words('stretch', n.stretch, '%')}; "
            f"{told_words('worn start', n.worn, 'cm')}; to a reading of {n.reading_cm:g} cm "
            f"{told_words('add', n.correction, 'cm')}. {classes_words(n)}"
        )
