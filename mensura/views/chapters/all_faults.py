"""The panel with all faults at once: what each adds to a reading, and what is left of the area.

Left, a running sum from the taut girth down to the reading, one bar a fault, in the order in which
the faults are taken, parted into lay, band and rounding. Right above, the area that each instrument
makes of it; right below, the same running sum for the calipers' first width.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.comparison import PRACTICE_WORDS, Comparison
from mensura.instruments.materials import REFERENCE_C, REFERENCE_N
from mensura.teaching.panels.all_faults import (
    ASSUMED_LAY,
    BAND_OF,
    CALIPER_DIRECTION_DEG,
    CALIPER_FAULTS,
    CONTROLS,
    SOUND,
    STEM,
    TAPE_FAULTS,
    AllFaults,
    numbers,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.table import row_html, table_html
from mensura.written import signed


class _RunningSum:
    """Bars one below the other, each from where the last ended; filled ones raise the reading."""

    def __init__(self, axes: Any, rows: tuple[str, ...], colour: str) -> None:
        from matplotlib.collections import LineCollection, PolyCollection

        count = len(rows)
        axes.set(ylim=(count - 0.4, -0.6))
        axes.set_yticks(range(count), rows)
        axes.tick_params(axis="y", length=0)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        axes.axvline(0, color=look.TRUTH, lw=1.4)
        self.colour = colour
        self.bars = PolyCollection([], edgecolors=colour, linewidths=1.6, zorder=3)
        self.steps = LineCollection([], colors=look.QUIET, linewidths=1, zorder=2)
        for artist in (self.steps, self.bars):
            axes.add_collection(artist, autolim=False)

    def show(self, sums_cm: FloatArray) -> None:
        starts, ends = sums_cm[:-1], sums_cm[1:]
        corners = []
        for row, (start, end) in enumerate(zip(starts, ends, strict=True), 1):
            low, high = row - 0.3, row + 0.3
            corners.append([(start, low), (end, low), (end, high), (start, high)])
        self.bars.set_verts(corners)
        self.bars.set_facecolor(np.where(ends >= starts, self.colour, look.WHITE).tolist())
        self.steps.set_segments([[(x, k - 0.3), (x, k + 1)] for k, x in enumerate(sums_cm)])


class AllFaultsPicture(Picture[AllFaults]):
    """Two running sums and the areas."""

    width_px = 860
    height_px = 570

    #: What the axes reach: cm on the girth, per cent of area, cm on a width.
    GIRTH_CM = (-9.0, 23.0)
    AREA_PERCENT = (-18.0, 40.0)
    WIDTH_CM = (-4.0, 4.4)

    def draw(self, figure: Any) -> None:
        """Axes, rows and keys on `figure`; then the moving artists."""
        self._draw_girth(look.place(figure, 112, 46, 350, 486))
        self._draw_area(look.place(figure, 600, 326, 244, 196))
        self._draw_width(look.place(figure, 600, 46, 244, 188))

    def parts(self) -> tuple[Part, ...]:
        """The tape's running sum, the areas, the calipers' running sum."""
        girth, right = self.whole.cut_x(474)
        area, width = right.cut_y(276)
        return part("tape", girth), part("areas", area), part("calipers", width)

    def _draw_girth(self, axes: Any) -> None:
        rows = ("taut girth", *TAPE_FAULTS, "reading")
        self.girth = _RunningSum(axes, rows, look.TAPE)
        kinds = [row.of for row in TAPE_FAULTS.values()]
        for place in range(1, len(kinds)):  # a line between lay, band and rounding
            if kinds[place] != kinds[place - 1]:
                axes.axhline(place + 0.5, color=look.QUIET, lw=0.8, ls=(0, (2, 3)))
        axes.set(xlim=self.GIRTH_CM)
        axes.set_xticks(range(-8, 21, 4))
        axes.set_xlabel("so far above the taut girth, cm", labelpad=1)
        (self.read,) = axes.plot([], [], ls="", marker="v", ms=11, color=look.TAPE, zorder=4)
        axes.plot([0], [0], ls="", marker="o", ms=9, color=look.TRUTH, zorder=4)
        self.verdict = axes.text(
            0, 1.03, "", transform=axes.transAxes, ha="left", va="center", fontweight="bold"
        )
        axes.plot([13.4], [0], marker="s", ms=11, color=look.TAPE, ls="")
        axes.plot([13.4], [1], marker="s", ms=10, mfc="white", mec=look.TAPE, mew=1.6, ls="")
        axes.text(14.6, 0, "too much", va="center_baseline")
        axes.text(14.6, 1, "too little", va="center_baseline")
        self.moving += [self.girth.steps, self.girth.bars, self.read, self.verdict]

    def _draw_area(self, axes: Any) -> None:
        tape = ("tape, sound", "tape, as it is")
        two = ("two, arithmetic", "two, product", "two, quadratic")
        rows = (*tape, "one width", *two, "many widths")
        axes.set(xlim=self.AREA_PERCENT, ylim=(len(rows) - 0.5, -0.5))
        axes.set_yticks(range(len(rows)), rows)
        axes.tick_params(axis="y", length=0)
        axes.set_xticks(range(-10, 41, 10))
        axes.set_xlabel("area too large, %", labelpad=1)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        axes.axvline(0, color=look.TRUTH, lw=1.4)
        axes.axhline(1.5, color=look.QUIET, lw=0.8)
        axes.text(
            1, 1.07, "What becomes of the area", transform=axes.transAxes, ha="right",
            va="center", fontweight="bold",
        )  # fmt: skip
        self.areas = self._stalks(axes, len(rows))

    def _stalks(self, axes: Any, count: int) -> Any:
        """One artist for the lines from zero, one for the marks at their ends."""
        from matplotlib.collections import LineCollection, PathCollection
        from matplotlib.markers import MarkerStyle
        from matplotlib.transforms import IdentityTransform

        colours = [look.TAPE] * 2 + [look.CALIPERS] * (count - 2)
        stalks = LineCollection([], colors=colours, linewidths=3)
        axes.add_collection(stalks, autolim=False)
        marks = ["v", "v", *(mark for _, mark in look.PRACTICE_STYLE.values())]
        styles = [MarkerStyle(mark) for mark in marks]
        cross = marks.index("+")
        ends = PathCollection(
            [style.get_path().transformed(style.get_transform()) for style in styles],
            sizes=[90.0] * count,
            facecolors=["white", *colours[1:]],
            edgecolors=colours,
            linewidths=[2.4 if k == cross else 1.6 for k in range(count)],
            offsets=np.zeros((count, 2)),
            offset_transform=axes.transData,
            transform=IdentityTransform(),
            zorder=4,
        )
        ends.set_clip_on(False)
        axes.add_collection(ends, autolim=False)
        self.moving += [stalks, ends]
        return stalks, ends

    def _draw_width(self, axes: Any) -> None:
        rows = ("true width", *CALIPER_FAULTS, "reading")
        self.width = _RunningSum(axes, rows, look.CALIPERS)
        axes.set(xlim=self.WIDTH_CM)
        axes.set_xticks(range(-4, 5, 2))
        axes.set_xlabel("so far above the true width, cm", labelpad=1)
        (self.width_read,) = axes.plot(
            [], [], ls="", marker="o", ms=10, color=look.CALIPERS, zorder=4
        )
        axes.plot([0], [0], ls="", marker="o", ms=9, color=look.TRUTH, zorder=4)
        axes.text(
            1, 1.08, "Calipers, first width", transform=axes.transAxes, ha="right",
            va="center", fontweight="bold",
        )  # fmt: skip
        self.moving += [self.width.steps, self.width.bars, self.width_read]

    def show(self, numbers: AllFaults) -> None:
        """Set every moving artist from `numbers`."""
        n = numbers
        self.girth.show(n.sums_cm)
        self.read.set_data([n.sums_cm[-1]], [len(TAPE_FAULTS) + 1])
        self.verdict.set_text(
            f"Tape: {n.result.reading_cm:.2f} cm for {n.result.taut_girth_cm:.2f} cm"
        )
        self.width.show(n.caliper_sums_cm)
        self.width_read.set_data([n.caliper_sums_cm[-1]], [len(CALIPER_FAULTS) + 1])
        overs = np.array([over for _, _, over in _estimates(n.result)])
        rows = np.arange(len(overs))
        stalks, ends = self.areas
        shown = np.clip(overs, *self.AREA_PERCENT)
        stalks.set_segments(
            [[(0.0, row), (over, row)] for row, over in zip(rows, shown, strict=True)]
        )
        ends.set_offsets(np.column_stack([shown, rows]))

    def describe(self, numbers: AllFaults) -> str:
        """The picture of `numbers` in words."""
        n = numbers
        adds, more = _spoken(TAPE_FAULTS, n.adds_cm), _spoken(CALIPER_FAULTS, n.caliper_adds_cm)
        areas = "; ".join(f"{name} {signed(over)} %" for name, _, over in _estimates(n.result))
        return (
            f"A running sum from the taut girth {n.result.taut_girth_cm:.2f} cm to the reading "
            f"{n.result.reading_cm:.2f} cm, in cm: {adds}. The same for the calipers' first width, "
            f"{n.width_cm:.2f} cm: {more}. A chart of how much too large the area comes out: "
            f"{areas}."
        )


def _spoken(faults: Iterable[str], adds_cm: FloatArray) -> str:
    parts = zip(faults, adds_cm, strict=True)
    return ", ".join(f"{name} {signed(float(add))}" for name, add in parts)


def _estimates(result: Comparison) -> list[tuple[str, float, float]]:
    """(name, area in cm², error in per cent) of every row of the chart of areas."""
    rows = [
        ("Tape, sound and level", result.level_area_cm2, result.level_over_percent),
        ("Tape, as it is", result.tape_area_cm2, result.tape_over_percent),
    ]
    rows += [
        ("Calipers, " + PRACTICE_WORDS[one.practice], one.area_cm2, one.over_percent)
        for one in result.calipers
    ]
    return rows


def status(n: AllFaults) -> str:
    """One sentence: the reading, its largest share, and the area of `n`."""
    largest = int(np.abs(n.adds_cm).argmax())
    share = float(n.adds_cm[largest])
    told = (
        f"The tape reads {n.result.reading_cm:.2f} cm for a taut girth of "
        f"{n.result.taut_girth_cm:.2f} cm, and its area is {signed(n.result.tape_over_percent)} % "
        "wrong."
    )
    if abs(share) < 0.005:
        return f"{told} No fault of lay or band is set."
    return f"{told} Largest share: {list(TAPE_FAULTS)[largest]}, {signed(share)} cm."


def readout(n: AllFaults) -> str:
    """The tables below the picture: every share of `n` with its running sum, and every area."""
    result = n.result
    steps = [("Taut girth", "", result.taut_girth_cm)]
    steps += [
        (name, signed(float(add)), result.taut_girth_cm + float(total))
        for name, add, total in zip(TAPE_FAULTS, n.adds_cm, n.sums_cm[1:], strict=True)
    ]
    shares = [[name, adds, f"{so_far:.2f}"] for name, adds, so_far in steps]
    shares.append(["Sum: the reading", signed(float(n.sums_cm[-1])), f"{result.reading_cm:.2f}"])
    true = result.true_area_cm2
    areas = [["True area", f"{true:.1f}", ""]]
    areas += [[name, f"{area:.1f}", signed(over)] for name, area, over in _estimates(result)]
    one = result.calipers[0]
    widths = [["First width", "", f"{n.width_cm:.2f}"]]
    widths += [
        [name, signed(float(add)), f"{n.width_cm + float(total):.2f}"]
        for name, add, total in zip(
            CALIPER_FAULTS, n.caliper_adds_cm, n.caliper_sums_cm[1:], strict=True
        )
    ]
    widths.append(["Reading", signed(float(n.caliper_sums_cm[-1])), f"{one.readings_cm[0]:.2f}"])
    return (
        _table(("Tape", "adds, cm", "so far, cm"), shares, " mensura-all-faults")
        + _table(("Estimate", "area, cm²", "error, %"), areas)
        + _table(("Calipers", "adds, cm", "so far, cm"), widths)
        + "<p>The order is fixed: section, height, lay, condition of the band, rounding. Each "
        "share depends on that order; their sum does not.</p>"
        f"<p>Assumed: a smooth stem of {STEM.first_cm:g} by {STEM.second_cm:g} cm (made up) that "
        f"loses {ASSUMED_LAY['taper_cm_per_m']:g} cm of diameter with each metre of height; the "
        f"climber at {ASSUMED_LAY['climber_direction_deg']:g}°, the tape rising towards "
        f"{ASSUMED_LAY['tilt_direction_deg']:g}°, wandering in {ASSUMED_LAY['wander_waves']:g} "
        f"waves; a band of {BAND_OF.name} that is right at {REFERENCE_C:g} °C and under "
        f"{REFERENCE_N:g} N, with EA = {BAND_OF.stiffness_n:.0f} N (our assumption); calipers at "
        f"{CALIPER_DIRECTION_DEG:g}° off the first axis, read in the tape's steps.</p>"
    )


def _table(head: tuple[str, ...], rows: list[list[str]], also: str = "") -> str:
    return table_html(head, "".join(row_html(*row) for row in rows), also)


ALL_FAULTS_PANEL: Panel[AllFaults] = Panel(
    title="All faults at once",
    controls=CONTROLS,
    numbers=numbers,
    picture=AllFaultsPicture,
    readout=readout,
    status=status,
    presets={
        "All sound": SOUND,
        "Two that cancel": SOUND | {"stretch_percent": 1.0, "worn_start_cm": 1.2},
    },
    printed={
        "A hurried hand": SOUND
        | {"climber_cm": 1.5, "tilt_deg": 6.0, "slack_cm": 0.8, "beam_slope_deg": 8.0}
    },
)
