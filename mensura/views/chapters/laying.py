"""The laying panel: one stem, one band laid badly, and what each fault of the hand adds.

Left, the section with the band round it and round whatever is caught under it. Below, the cylinder
over the band's way unrolled to the same scale: a way that slants, wanders or misses its own start
is longer. Right, each fault's share of the reading, side by side.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.areas import diameter_from_girth_cm, over_percent
from mensura.teaching.panels.laying import (
    CONTROLS,
    EDGE_CM,
    FAULTS,
    NOTHING,
    STEM,
    TWIST_DEG,
    Laying,
    numbers,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.share_bars import ShareBars
from mensura.views.kit.table import row_html, table_html
from mensura.written import apart, minus, signed

#: Where each fault is seen, beside its bar: the artists that it moves.
DRAWN = {
    "climber": ("climber", "tape"),
    "twist": ("twist", "tape"),
    "tilt": ("way", "high"),
    "wander": ("way",),
    "overlap": ("way", "miss"),
    "slack": ("tape",),
}


class LayingPicture(Picture[Laying]):
    """The section, the band unrolled, and the bars."""

    width_px = 860
    height_px = 580

    #: Half the width of ground round the stem, and the unrolled cylinder's piece, in cm.
    REACH_CM = 30.0
    WAY_CM = (-3.0, 145.0)
    HIGH_CM = 14.5
    #: What the bars' scale may reach.
    SCALES_CM = (1.0, 2.0, 4.0, 8.0, 16.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        # 5.2 px for a centimetre, in both
        self._draw_section(look.place(figure, 46, 264, 312, 312))
        self._draw_way(look.place(figure, 76, 44, 769.6, 150.8))
        for left_px, up_px, words in (
            (76, 208, "dashed: square to the axis, round the clean stem"),
            (484, 208, "heights and lengths in the section's scale"),
            (76, 10, "way round from the tab, cm"),
            (484, 10, "way round from the tab, cm"),
        ):
            figure.text(
                left_px / self.width_px, up_px / self.height_px, words, va="center_baseline"
            )
        self.bars = ShareBars(
            figure,
            (472, 304),
            (312, 262),
            {name: name for name in FAULTS},
            self.SCALES_CM,
            0.5,
            look.TAPE,
        )
        self.moving += self.bars.moving

    def parts(self) -> tuple[Part, ...]:
        """The section, the bars, and the way round in two halves: too long for a narrow page."""
        top, way = self.whole.cut_y(222)
        section, bars = top.cut_x(380)
        first, last = way.cut_x(462, over_px=12)
        return (
            part("stem", section),
            part("shares", bars),
            part("way, start", first),
            part("way, end", last),
        )

    def _draw_section(self, axes: Any) -> None:
        from matplotlib.patches import Circle

        reach = self.REACH_CM
        axes.set(xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal")
        axes.set_xticks([-20, 0, 20])
        axes.set_yticks([-20, 0, 20])
        axes.set_xlabel("the stem from above, cm", labelpad=1)
        axes.fill(EDGE_CM[:, 0], EDGE_CM[:, 1], fc=look.WOOD, ec=look.TRUTH, lw=1.4)
        for side, mark, colour, word in (
            (-1, "x", look.TRUTH, "twist"),
            (1, "", look.TAPE_WORD, "slack"),
        ):
            words = {"ha": "left" if side < 0 else "right", "va": "center_baseline"}
            axes.text(side * (reach - (4 if mark else 1)), 2 - reach, word, color=colour, **words)
            if mark:
                axes.plot([2 - reach], [2.3 - reach], ls="", marker=mark, ms=8, mew=2, color=colour)
        axes.plot([2 - reach], [reach - 2.3], ls="", marker="^", ms=9, color=look.TAPE)
        axes.text(4 - reach, reach - 2.6, "highest by tilt", va="center_baseline")
        self.climber = Circle((0, 0), 1, fc=look.BARK, ec=look.TRUTH, lw=1)
        axes.add_patch(self.climber)
        (self.tape,) = axes.plot([], [], color=look.TAPE, lw=2.6, solid_joinstyle="round")
        (self.tab,) = axes.plot([], [], color=look.TAPE, lw=7, solid_capstyle="butt")
        (self.twist,) = axes.plot([], [], ls="", marker="x", ms=8, mew=2, color=look.TRUTH)
        (self.high,) = axes.plot([], [], ls="", marker="^", ms=9, color=look.TAPE)
        self.moving += [self.climber, self.tape, self.tab, self.twist, self.high]

    def _draw_way(self, axes: Any) -> None:
        axes.set(xlim=self.WAY_CM, ylim=(-self.HIGH_CM, self.HIGH_CM), aspect="equal")
        axes.set_xticks(range(0, 141, 20))
        axes.set_yticks([-10, 0, 10])
        axes.set_ylabel("height, cm", labelpad=0)
        girth = STEM.taut_girth_cm
        axes.plot([0, girth], [0, 0], color=look.TRUTH, lw=1.4, ls=(0, (5, 3)))
        (self.end,) = axes.plot([], [], color=look.QUIET, lw=1)
        (self.way,) = axes.plot([], [], color=look.TAPE, lw=2.6)
        (self.ends,) = axes.plot([], [], ls="", marker="|", ms=14, mew=2.6, color=look.TAPE)
        (self.miss,) = axes.plot([], [], color=look.TRUTH, lw=2.2, marker="_", ms=9, mew=2)
        self.moving += [self.end, self.way, self.ends, self.miss]

    def show(self, numbers: Laying) -> None:
        """Set every moving artist from the numbers."""
        n, lay = numbers, numbers.lay
        self.climber.set_center(tuple(n.climber_at_cm))
        self.climber.set_radius(lay.climber_cm / 2)
        self.climber.set_visible(bool(lay.climber_cm))
        # the band is drawn just outside its way, so that the edge is seen too
        loop = n.loop_cm * (1 + 0.3 / np.hypot(*n.loop_cm.T))[:, None]
        self.tape.set_data(*np.vstack([loop, loop[:1]]).T)
        out = n.tab_cm / np.hypot(*n.tab_cm)
        self.tab.set_data(*np.array([n.tab_cm - 0.4 * out, n.tab_cm + 3.0 * out]).T)
        at = STEM.touching_cm(TWIST_DEG, off_cm=lay.twist_lift_cm + 0.3)
        self.twist.set_data([at[0]], [at[1]])
        self.twist.set_visible(bool(lay.twist_lift_cm))
        high = 0.78 * STEM.touching_cm(lay.tilt_direction_deg)
        self.high.set_data([high[0]], [high[1]])
        self.high.set_visible(bool(lay.tilt_deg))
        self._show_way(n)
        self.bars.show(n.result.breakdown)

    def _show_way(self, n: Laying) -> None:
        last, first_cm, last_cm = n.along_cm[-1], n.height_cm[0], n.height_cm[-1]
        tall = self.HIGH_CM
        self.end.set_data([0, 0, np.nan, last, last], [-tall, tall, np.nan, -tall, tall])
        self.way.set_data(n.along_cm, n.height_cm)
        self.ends.set_data([0, last], [first_cm, last_cm])
        self.miss.set_data([last + 2, last + 2], [first_cm, last_cm])
        self.miss.set_visible(bool(n.lay.overlap_offset_cm))

    def describe(self, numbers: Laying) -> str:
        """The picture in words, with its `numbers`."""
        n, lay = numbers, numbers.lay
        shares = ", ".join(f"{name} {signed(x)}" for name, x in n.result.breakdown.items())
        waves = f"{lay.wander_waves:g} wave{'' if lay.wander_waves == 1 else 's'}"
        return (
            f"An oval stem, {STEM.first_cm:g} by {STEM.second_cm:g} cm, with a band round it. "
            f"Under the band a climber {lay.climber_cm:g} cm thick at {lay.climber_direction_deg:g}"
            f"° and a twist that stands off {lay.twist_lift_cm:g} cm; {lay.slack_cm:g} cm hang "
            f"loose. Unrolled, the band is tilted {lay.tilt_deg:g}°, rising towards "
            f"{minus(f'{lay.tilt_direction_deg:g}')}°, wanders {lay.wander_cm:g} cm from crest to "
            f"trough in "
            f"{waves}, and its ends miss by {lay.overlap_offset_cm:g} cm. Bars of what each fault "
            f"adds, in cm: {shares or 'none'}. Together {_off(n)} cm: "
            f"{n.result.reading_cm:.2f} for {n.result.taut_girth_cm:.2f} cm."
        )


def _off(n: Laying) -> str:
    return apart(n.result.reading_cm, n.result.taut_girth_cm)


def status(n: Laying) -> str:
    """One sentence: the sum of all faults of `n`, and the largest of them."""
    parts = n.result.breakdown
    if not parts:
        return f"Laid without a fault: the band reads {n.result.reading_cm:.2f} cm."
    worst = max(parts, key=lambda name: abs(parts[name]))
    return (
        f"The band reads {n.result.reading_cm:.2f} cm for {n.result.taut_girth_cm:.2f} cm: "
        f"{_off(n)} cm. Largest share: the {worst}, {signed(parts[worst])} cm."
    )


def readout(n: Laying) -> str:
    """The table below the picture: each share of `n`, and what the sum does to the estimates."""
    result, girth = n.result, n.result.taut_girth_cm
    level_cm, read_cm = (float(diameter_from_girth_cm(one)) for one in (girth, result.reading_cm))
    more = float(over_percent(result.tape_area_cm2, result.level_area_cm2))
    names = ("Fault", "Adds, cm", "Adds, % of girth")
    rows = [(row.words, result.breakdown.get(key, 0.0)) for key, row in FAULTS.items()]
    body = "".join(
        row_html(name, signed(adds, 3), signed(100 * adds / girth, 3))
        for name, adds in [*rows, ("All together", n.adds_cm)]
    )
    return (
        table_html(names, body)
        + f"<p>Taut girth, square to the axis, {girth:.2f} cm, as read {result.reading_cm:.2f} cm. "
        f"Diameter {level_cm:.2f} became {read_cm:.2f} cm ({apart(read_cm, level_cm)} cm), and "
        f"the area {signed(more)} %. Against the true area of the oval: "
        f"{signed(result.tape_over_percent)} %, of which "
        f"{signed(result.level_over_percent)} % are not the hand's fault.</p>"
        "<p>The shares depend on the order in which the faults are taken (here from above); their "
        "sum does not. A share can fall below 0: a wander may undo part of a tilt. A twist has no "
        "exact model: its stand-off is what a class can measure. Assumed: friction holds the band "
        "where it lies; the climber is round and rigid.</p>"
    )


LAYING_PANEL: Panel[Laying] = Panel(
    title="Laying the tape",
    controls=CONTROLS,
    numbers=numbers,
    picture=LayingPicture,
    readout=readout,
    status=status,
    presets={
        "Laid well": NOTHING,
        "Only a climber": NOTHING | {"climber_cm": 2.0},
        "Only a tilt": NOTHING | {"tilt_deg": 10.0},
    },
)
