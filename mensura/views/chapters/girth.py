"""The girth panel: one band round one stem, its four scales, and the area that follows.

Left, the stem to scale with the band round it. Right, area against girth: twice as steep, in per
cent, as the girth itself. Below, one band unrolled with four scales printed on it side by side; a
line across it stands at the true girth, another where it was read.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.areas import area_from_girth_cm2
from mensura.instruments.tape import CM_PER_INCH, SCALES
from mensura.teaching.panels.girth import CONTROLS, GirthShown, numbers
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.table import compared, row_html, table_html
from mensura.written import signed

#: The piece of band that is shown, and the girths of the curve.
FIRST_CM, LAST_CM = 50.0, 230.0
GIRTHS_CM = np.linspace(FIRST_CM, LAST_CM, 181)

CM2_PER_M2 = 10_000.0
CM2_PER_FT2 = (12 * CM_PER_INCH) ** 2

#: Each scale of the band: (name as written beside it, fine marks every, numbers every).
BANDS: dict[str, tuple[str, float, float]] = {
    "girth, cm": ("girth, cm", 1, 20),
    "girth, in": ("girth, inches", 0.5, 10),
    "diameter, cm": ("diameter, cm", 0.5, 10),
    "diameter, in": ("diameter, inches", 0.25, 2),
}


class GirthPicture(Picture[GirthShown]):
    """The stem, the curve of its area, and the band unrolled."""

    width_px = 860
    height_px = 530

    #: Half the width of ground shown round the stem, in cm, and the greatest area of the chart.
    REACH_CM = 40.0
    MOST_CM2 = 4800.0

    #: Where the band starts, how wide it is drawn, and a girth at which no scale has a number:
    #: there it may be parted in two.
    BAND_PX, BAND_WIDE_PX = 150.0, 560.0
    SEAM_CM = 133.2

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        self._draw_stem(look.place(figure, 52, 232, 290, 290))
        self._draw_curve(look.place(figure, 440, 252, 396, 242))
        self._draw_band(look.place(figure, self.BAND_PX, 12, self.BAND_WIDE_PX, 172))

    def parts(self) -> tuple[Part, ...]:
        """The stem, the curve, and the band's two ends: each too long for a narrow page."""
        top, band = self.whole.cut_y(188)
        stem, curve, _ = top.cut_x(363, 843)
        seam = self.BAND_PX + (self.SEAM_CM - FIRST_CM) / (LAST_CM - FIRST_CM) * self.BAND_WIDE_PX
        short, long = band.cut_x(round(seam), over_px=7)
        return (
            part("stem", stem),
            part("area", curve),
            part("band, low", short),
            part("band, high", long),
        )

    def _draw_stem(self, axes: Any) -> None:
        from matplotlib.patches import Circle

        reach = self.REACH_CM
        axes.set(xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal")
        axes.set_xticks([-40, -20, 0, 20, 40])
        axes.set_yticks([-40, -20, 0, 20, 40])
        axes.set_xlabel("the stem from above, cm", labelpad=1)
        axes.axhline(0, color=look.GRID, lw=1, zorder=0)
        axes.axvline(0, color=look.GRID, lw=1, zorder=0)
        self.wood = Circle((0, 0), 1, fc=look.WOOD, ec=look.TRUTH, lw=1.4)
        axes.add_patch(self.wood)
        self.tape = Circle((0, 0), 1, fill=False, ec=look.TAPE, lw=2.8)
        axes.add_patch(self.tape)
        (self.tab,) = axes.plot([], [], color=look.TAPE, lw=7, solid_capstyle="butt")
        self.word = axes.text(0, 0, "", ha="center", va="center")
        self.moving += [self.wood, self.tape, self.tab, self.word]

    def _draw_curve(self, axes: Any) -> None:
        axes.set(xlim=(FIRST_CM, LAST_CM), ylim=(0, self.MOST_CM2))
        axes.set_xticks(range(60, 221, 20))
        axes.set_yticks(range(0, 4001, 1000))
        axes.set_xlabel("girth, cm", labelpad=1)
        axes.set_ylabel("sectional area, cm²")
        axes.grid(True)
        axes.set_axisbelow(True)
        axes.plot(GIRTHS_CM, area_from_girth_cm2(GIRTHS_CM), color=look.TRUTH, lw=1.8)
        (self.true_lines,) = axes.plot([], [], color=look.TRUTH, lw=1)
        (self.read_lines,) = axes.plot([], [], color=look.TAPE, lw=1.6)
        (self.true_mark,) = axes.plot([], [], ls="", marker="o", ms=8, color=look.TRUTH)
        (self.read_mark,) = axes.plot([], [], ls="", marker="v", ms=9, color=look.TAPE)
        # above the chart, where no moving line comes
        for name, mark, colour, start in (
            ("the stem's girth", "o", look.TRUTH, 0.05),
            ("as it was read", "v", look.TAPE, 0.52),
        ):
            how = {"transform": axes.transAxes, "clip_on": False}
            axes.plot([start], [1.07], ls="", marker=mark, ms=9, color=colour, **how)
            axes.text(start + 0.03, 1.07, name, va="center_baseline", **how)
        self.verdict = axes.text(54, 4720, "", va="top")
        self.moving += [self.true_lines, self.read_lines, self.true_mark, self.read_mark]
        self.moving.append(self.verdict)

    def _draw_band(self, axes: Any) -> None:
        from matplotlib.patches import Rectangle

        axes.set(xlim=(FIRST_CM, LAST_CM), ylim=(0, 4.3))
        axes.axis("off")
        for row, (scale, (name, fine, numbered)) in enumerate(BANDS.items()):
            foot = 3 - row
            axes.add_patch(
                Rectangle(
                    (FIRST_CM, foot + 0.06),
                    LAST_CM - FIRST_CM,
                    0.88,
                    fc=look.BAND_FILL,
                    ec=look.TAPE,
                    lw=1,
                )
            )
            # at both ends: on a narrow page the band is shown in two pieces
            axes.text(FIRST_CM - 2, foot + 0.5, name, ha="right", va="center")
            axes.text(LAST_CM + 2, foot + 0.5, name, ha="left", va="center")
            for every, height, width in ((fine, 0.2, 0.6), (numbered / 2, 0.32, 1.1)):
                marks = _marks_cm(scale, every)
                axes.vlines(marks, foot + 0.06, foot + 0.06 + height, color=look.TRUTH, lw=width)
            for mark in _marks_cm(scale, numbered):
                value = f"{mark / SCALES[scale]:.0f}"
                if FIRST_CM + 4 < mark < LAST_CM - 4:
                    axes.text(mark, foot + 0.42, value, ha="center", va="bottom")
        (self.true_across,) = axes.plot([], [], color=look.TRUTH, lw=1.4)
        (self.read_across,) = axes.plot([], [], color=look.TAPE, lw=2)
        (self.read_top,) = axes.plot([], [], ls="", marker="v", ms=9, color=look.TAPE)
        (self.true_top,) = axes.plot([], [], ls="", marker="o", ms=7, color=look.TRUTH)
        self.moving += [self.true_across, self.read_across, self.true_top, self.read_top]

    def show(self, numbers: GirthShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        radius = n.diameter_cm / 2
        self.wood.set_radius(radius)
        # the band is drawn just outside the edge, so that both lines are seen
        self.tape.set_radius(radius + 0.5)
        self.tab.set_data([radius - 0.4, radius + 3.4], [0, 0])
        self.word.set_text(f"reads\n{n.read_cm:.1f} cm")
        for lines, mark, girth, area in (
            (self.true_lines, self.true_mark, n.girth_cm, n.area_cm2),
            (self.read_lines, self.read_mark, n.read_cm, n.read_area_cm2),
        ):
            lines.set_data([girth, girth, FIRST_CM], [0, area, area])
            mark.set_data([girth], [area])
        self.verdict.set_text(
            f"girth {signed(n.girth_over_percent)} %, area {signed(n.area_over_percent)} %"
        )
        self.true_across.set_data(*_across(n.girth_cm))
        self.read_across.set_data(*_across(n.read_cm))
        self.true_top.set_data([n.girth_cm], [4.15])
        self.read_top.set_data([n.read_cm], [4.15])

    def describe(self, numbers: GirthShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        return (
            f"A round stem of girth {n.girth_cm:g} cm, diameter {n.diameter_cm:.2f} cm, area "
            f"{n.area_cm2:.0f} cm², with a tape round it that was read as {n.read_cm:g} cm. A "
            f"curve of area against girth: the reading is {signed(n.girth_over_percent)} % off and "
            f"the area from it {signed(n.area_over_percent)} %. Below, the band unrolled with four "
            f"scales: the reading stands at {n.read_cm / SCALES['girth, in']:.2f} inches of girth, "
            f"{n.read_diameter_cm:.2f} cm and {n.read_diameter_cm / CM_PER_INCH:.2f} inches of "
            "diameter."
        )


def _across(girth_cm: float) -> tuple[list[float], list[float]]:
    """A line across the marks of all four scales that leaves their numbers legible."""
    heights = [height for foot in (3, 2, 1, 0) for height in (foot + 0.4, foot - 0.02, np.nan)]
    return [girth_cm] * len(heights), heights


def _marks_cm(scale: str, every: float) -> Any:
    """Where a scale's marks stand on the shown piece of band, in cm of girth."""
    unit = SCALES[scale] * every
    return np.arange(np.ceil(FIRST_CM / unit), np.floor(LAST_CM / unit) + 1) * unit


def status(n: GirthShown) -> str:
    """One sentence: what the misreading does to the girth and to the area of `n`."""
    if abs(n.girth_over_percent) < 0.005:
        return f"Girth {n.girth_cm:g} cm, read without fault: area {n.area_cm2:.0f} cm²."
    return (
        f"Read {n.read_cm:.1f} cm for {n.girth_cm:.1f} cm: the girth is "
        f"{signed(n.girth_over_percent)} % off, the area {signed(n.area_over_percent)} %."
    )


def readout(n: GirthShown) -> str:
    """The table below the picture: girth, diameter and area of `n`, true and as read."""
    rows = (
        ("Girth, cm", n.girth_cm, n.read_cm, 1),
        ("Girth, inches", n.girth_cm / CM_PER_INCH, n.read_cm / CM_PER_INCH, 2),
        ("Diameter, cm", n.diameter_cm, n.read_diameter_cm, 2),
        ("Diameter, inches", n.diameter_cm / CM_PER_INCH, n.read_diameter_cm / CM_PER_INCH, 2),
        ("Area, cm²", n.area_cm2, n.read_area_cm2, 1),
        ("Area, m²", n.area_cm2 / CM2_PER_M2, n.read_area_cm2 / CM2_PER_M2, 5),
        ("Area, ft²", n.area_cm2 / CM2_PER_FT2, n.read_area_cm2 / CM2_PER_FT2, 4),
    )
    names = ("", "True", "As read", "Off by", "Off by, %")
    body = "".join(
        row_html(name, *compared(read, true, digits)) for name, true, read, digits in rows
    )
    return (
        table_html(names, body)
        + f"<p>Take the diameter scale's {n.diameter_cm:.1f} for a girth, and the area comes out "
        f"as {area_from_girth_cm2(n.diameter_cm):.0f} cm²: π² = 9.87 times too small.</p>"
        "<p>Assumed: the stem is round and the tape lies level. Workbook 02 lifts the first.</p>"
    )


GIRTH_PANEL: Panel[GirthShown] = Panel(
    title="Girth, diameter, area",
    controls=CONTROLS,
    numbers=numbers,
    picture=GirthPicture,
    readout=readout,
    status=status,
    presets={
        "1 % too long": {"girth_cm": 150.0, "misread_cm": 1.5},
        "No misreading": {"misread_cm": 0.0},
    },
    printed={"As much on a thin stem": {"girth_cm": 60.0}},
)
