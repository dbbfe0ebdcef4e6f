"""The calipers panel: where the jaws touch, how they stand, and what each fault adds.

Left, calipers and section in true proportion, seen along the stem. The calipers are held still
and the stem is turned in them: the fixed jaw stands at 0, the beam lies against the stem, the
sliding jaw leans by as much as its play lets it. Right, what each fault adds to this reading.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.areas import over_percent
from mensura.teaching.panels.calipers import CONTROLS, FAULTS, SOUND, SWITCHES, JawsShown, numbers
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Numerals
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.share_bars import ShareBars
from mensura.views.kit.table import row_html, table_html
from mensura.written import apart, minus, signed

#: Where each fault is seen, beside its bar: the artists that it moves.
DRAWN = {
    "pressing": ("jaw", "touches"),
    "jaw lean": ("jaw", "touches"),
    "beam slope": ("beam",),
    "zero error": ("marks",),
    "rounding": ("word",),
}


class JawsPicture(Picture[JawsShown]):
    """Calipers on the section, the beam from the side, and the bars."""

    width_px = 860
    height_px = 516

    #: Ground shown, in cm, and how long a jaw is: more than half the scale's length.
    ACROSS_CM = (-6.0, 72.0)
    UP_CM = (-11.0, 61.0)
    JAW_CM = 48.0
    BEAM_CM = 70.0
    #: What the bars' scale may reach.
    SCALES_CM = (0.5, 1.0, 2.0, 4.0, 6.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        self._draw_section(look.place(figure, 6, 38, 455, 420))
        self._draw_key(look.place(figure, 0, 460, 470, 26))
        self._draw_side(look.place(figure, 486, 14, 366, 122))
        self.bars = ShareBars(
            figure, (580, 216), (208, 250), {key: key for key in FAULTS},
            self.SCALES_CM, 1.0, look.CALIPERS,
        )  # fmt: skip
        self.moving += self.bars.moving
        for left_px, up_px, text in (
            (16, 498, "Seen along the stem, to scale"),
            (496, 498, "What each fault adds"),
            (496, 150, "Seen from the side"),
        ):
            figure.text(
                left_px / self.width_px,
                up_px / self.height_px,
                text,
                fontweight="bold",
                va="center_baseline",
            )

    def parts(self) -> tuple[Part, ...]:
        """Calipers on the section, the bars, the beam from the side."""
        section, right = self.whole.cut_x(475)
        bars, side = right.cut_y(166)
        return part("stem", section), part("shares", bars), part("from the side", side)

    def _draw_section(self, axes: Any) -> None:
        from matplotlib.patches import Polygon, Rectangle

        axes.set(xlim=self.ACROSS_CM, ylim=self.UP_CM, aspect="equal")
        axes.axis("off")
        self.wood = Polygon(np.zeros((3, 2)), fc=look.WOOD, ec=look.TRUTH, lw=1.4, closed=True)
        axes.add_patch(self.wood)
        (self.axis,) = axes.plot([], [], color=look.QUIET, lw=1, ls=(0, (8, 3, 2, 3)))
        axes.add_patch(
            Rectangle((-3, -5), self.BEAM_CM + 3, 5, fc=look.BEAM_FILL, ec=look.CALIPERS, lw=1.4)
        )
        axes.plot([-0.6, -0.6], [0, self.JAW_CM], color=look.CALIPERS, lw=6, solid_capstyle="butt")
        (self.plumb,) = axes.plot([], [], color=look.QUIET, lw=1, ls=(0, (2, 3)))
        (self.jaw,) = axes.plot([], [], color=look.CALIPERS, lw=6, solid_capstyle="butt")
        (self.marks,) = axes.plot([], [], color=look.TRUTH, lw=0.9)
        self.numerals = Numerals(axes)
        (self.touches,) = axes.plot([], [], ls="", marker="D", ms=9, color=look.TRUTH)
        (self.foot,) = axes.plot([], [], ls="", marker="^", ms=9, color=look.CALIPERS)
        self.word = axes.text(-3, -9.4, "", va="center_baseline")
        self.moving += [self.wood, self.axis, self.plumb, self.jaw, self.marks]
        self.moving += [self.numerals.artist, self.touches, self.foot, self.word]

    @staticmethod
    def _draw_key(axes: Any) -> None:
        axes.set(xlim=(0, 470), ylim=(0, 26))
        axes.axis("off")
        axes.plot([24], [13], ls="", marker="D", ms=9, color=look.TRUTH)
        axes.text(38, 13, "touches", va="center_baseline")
        axes.plot([118, 154], [13, 13], color=look.QUIET, lw=1, ls=(0, (8, 3, 2, 3)))
        axes.text(162, 13, "stem's first axis", va="center_baseline")
        axes.plot([302, 332], [13, 13], color=look.QUIET, lw=1.4, ls=(0, (2, 3)))
        axes.text(340, 13, "square to beam", va="center_baseline")

    def _draw_side(self, axes: Any) -> None:
        axes.set(xlim=(-91.5, 91.5), ylim=(-30.5, 30.5), aspect="equal")
        axes.axis("off")
        (self.trunk,) = axes.plot([], [], color=look.BARK, lw=1.6)
        axes.plot([-60, 60], [0, 0], color=look.QUIET, lw=1, ls=(0, (2, 3)))
        (self.beam,) = axes.plot([], [], color=look.CALIPERS, lw=5, solid_capstyle="butt")
        self.moving += [self.trunk, self.beam]

    def show(self, numbers: JawsShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        self.wood.set_xy(n.outline_cm)
        self.axis.set_data(*n.axis_cm.T)
        lean = np.tan(np.radians(n.calipers.jaw_lean_deg))
        # the bar is drawn outside the line that touches
        foot, out = n.foot_cm, 0.6
        self.jaw.set_data([foot + out, foot + out + self.JAW_CM * lean], [0, self.JAW_CM])
        self.plumb.set_data([foot, foot], [0, self.JAW_CM])
        self.touches.set_data(*n.touch_cm.T)
        self._show_scale(n)
        self.foot.set_data([foot], [-5.7])
        told = n.reading_cm - n.breakdown.get("rounding", 0.0)
        step = f" by steps of {n.calipers.resolution_cm:g}" if n.calipers.resolution_cm else ""
        self.word.set_text(
            f"foot {told:.2f}, read {n.reading_cm:.2f}{step}; true {n.width_cm:.2f} cm"
        )
        half = n.width_cm / 2
        self.trunk.set_data([-half, -half, np.nan, half, half], [-29, 29, np.nan, -29, 29])
        slope = np.radians(n.calipers.beam_slope_deg)
        reach = half + 14
        self.beam.set_data([-reach, reach], np.array([-reach, reach]) * np.tan(slope))
        self.bars.show(n.breakdown)

    def _show_scale(self, n: JawsShown) -> None:
        """Marks every cm along the beam's upper edge, numbers every ten below them."""
        last = np.floor((self.BEAM_CM - n.mark_zero_cm) / n.mark_step_cm)
        every = np.arange(np.ceil((-3 - n.mark_zero_cm) / n.mark_step_cm), last + 1)
        across = n.mark_zero_cm + every * n.mark_step_cm
        deep = np.where(every % 10 == 0, 1.7, np.where(every % 5 == 0, 1.4, 0.9))
        gap = np.full(every.size, np.nan)
        self.marks.set_data(
            np.column_stack([across, across, gap]).ravel(),
            np.column_stack([np.zeros(every.size), -deep, gap]).ravel(),
        )
        tens = (every % 10 == 0) & (across > -1.2) & (across < self.BEAM_CM - 2)
        self.numerals.set(
            [round(one) for one in every[tens]], [(float(x), -4.3) for x in across[tens]]
        )

    def describe(self, numbers: JawsShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        parts = ", ".join(f"{name} {signed(adds)}" for name, adds in n.breakdown.items())
        return (
            f"A stem of {n.stem.first_cm:g} by {n.stem.second_cm:g} cm between calipers turned "
            f"{minus(f'{n.direction_deg:g}')}° off its first axis, drawn to scale. It touches the "
            f"fixed jaw {n.touch_cm[0, 1]:.1f} cm and the sliding jaw {n.touch_cm[1, 1]:.1f} cm "
            f"above the beam, and the beam itself. The sliding jaw leans by "
            f"{signed(n.calipers.jaw_lean_deg, 1)}°, the beam slopes by "
            f"{n.calipers.beam_slope_deg:g}°. True width {n.width_cm:.2f} cm, read "
            f"{n.reading_cm:.2f} cm. Bars of what each fault adds, in cm: {parts or 'nothing'}; "
            f"together {apart(n.reading_cm, n.width_cm)}."
        )


def status(n: JawsShown) -> str:
    """One sentence: what the calipers of `n` read, and what that makes of the area."""
    alone = n.direction_over_percent
    return (
        f"True width {n.width_cm:.2f} cm, read {n.reading_cm:.2f} cm. Area from this one reading "
        f"{signed(n.over_percent)} %: {signed(alone)} by the direction, "
        f"{apart(n.over_percent, alone)} by the faults. A sound tape: "
        f"{signed(float(over_percent(n.tape_area_cm2, n.area_cm2)))} %."
    )


def readout(n: JawsShown) -> str:
    """The table below the picture: readings of `n` and the areas made of them."""
    rows = (
        ("True area", "", n.area_cm2),
        ("Calipers, this reading", f"{n.reading_cm:.2f}", n.one_area_cm2),
        (
            "Calipers, with one at right angles",
            f"{n.reading_cm:.2f} and {n.square_cm:.2f}",
            n.two_area_cm2,
        ),
        ("Sound tape, level", f"{n.girth_cm:.2f}", n.tape_area_cm2),
    )
    names = ("", "Reading, cm", "Area, cm²", "Error, cm²", "Error, %")
    body = ""
    for name, reading, area in rows:
        errors = ("", "")
        if reading:
            over = float(over_percent(area, n.area_cm2))
            errors = (apart(area, n.area_cm2, 1), signed(over))
        body += row_html(name, reading, f"{area:.1f}", *errors)
    return (
        table_html(names, body)
        + "<p>Assumed: a smooth stem, an ellipse; the beam lies against it; the sliding jaw leans "
        "as far as its play lets it, and bark gives way alike under both jaws.</p>"
    )


CALIPERS_PANEL: Panel[JawsShown] = Panel(
    title="Calipers and their faults",
    controls=CONTROLS,
    switches=SWITCHES,
    numbers=numbers,
    picture=JawsPicture,
    readout=readout,
    status=status,
    presets={
        "Sound calipers": SOUND,
        "Only the lean": {**SOUND, "jaw_lean_deg": 2.0},
    },
    printed={"Only a sloped beam": {**SOUND, "beam_slope_deg": 12.0}},
)
