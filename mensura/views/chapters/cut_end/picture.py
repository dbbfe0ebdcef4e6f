"""The cut-end picture: the disc with tape and calipers on it, and every practice by direction.

Left, the disc to scale with the taut tape round it and the calipers on the first width; short jaws
stand where the practice's other widths are taken. Right, the error of the area by the direction in
which a practice begins: one reading above, several below, the tape a line in both.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.estimates.comparison import PRACTICE_WORDS
from mensura.teaching.panels.cut_end import CutEndShown
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.parts import Part, part
from mensura.views.stills.direction_chart import SEVERAL, DirectionChart, draw_key
from mensura.written import signed


class CutEndPicture(Picture[CutEndShown]):
    """The disc, the key, and the two charts."""

    width_px = 860
    height_px = 500

    # the calipers' own turn is seen where they are set
    looked_at = MappingProxyType({"direction_deg": "disc", "disc": "disc"})

    #: Half the width of ground that is shown, and the side of its square on the page.
    REACH_CM = 47.0
    DISC_PX = (4, 42, 412)
    #: The charts: left, foot, width, height.
    ONE_PX = (480.0, 284.0, 354.0, 96.0)
    SEVERAL_PX = (480.0, 46.0, 354.0, 168.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_disc(figure, page)
        how = {"va": "center_baseline"}
        page.text(436, 484, "Area too large, %, by the first width's direction", **how,
                  fontweight="bold")  # fmt: skip
        draw_key(page, 446, (460, 438, 416, 394))
        for box in (self.ONE_PX, self.SEVERAL_PX):
            left, low, wide, high = box
            page.plot([left, left + wide], [low, low], color=look.GRID, lw=0.8)
            page.plot([left, left], [low, low + high], color=look.QUIET, lw=1)
        page.text(446, 234, "several, on a finer scale", **how)
        self.charts = (
            DirectionChart(page, self.ONE_PX, ("one",)),
            DirectionChart(page, self.SEVERAL_PX, SEVERAL),
        )
        (self.here,) = page.plot([], [], color=look.TRUTH, lw=1, ls=(0, (1, 2)))
        (self.dot,) = page.plot(
            [], [], ls="", marker="o", ms=9, mfc=look.CALIPERS, mec=look.WHITE, mew=1.2, zorder=5
        )
        for chart in self.charts:
            self.moving += chart.moving
        self.moving += [self.here, self.dot]

    def _draw_disc(self, figure: Any, page: Any) -> None:
        from matplotlib.patches import Polygon

        left, low, side = self.DISC_PX
        axes = look.place(figure, left, low, side, side)
        axes.set(xlim=(-self.REACH_CM, self.REACH_CM), ylim=(-self.REACH_CM, self.REACH_CM))
        axes.axis("off")
        nothing = np.zeros((3, 2))
        self.bark = Polygon(nothing, fc=look.BARK_FILL, ec=look.TRUTH, lw=1.4, closed=True)
        self.wood = Polygon(nothing, fc=look.WOOD, ec=look.BARK, lw=0.8, closed=True)
        axes.add_patch(self.bark)
        axes.add_patch(self.wood)
        (self.rings,) = axes.plot([], [], color=look.RING, lw=1.0)
        (self.pith,) = axes.plot([], [], ls="", marker="+", ms=9, mew=1.6, color=look.BARK)
        (self.tape,) = axes.plot([], [], color=look.TAPE, lw=2.4, solid_joinstyle="round")
        (self.others,) = axes.plot([], [], color=look.CALIPERS, lw=2.4, solid_capstyle="butt")
        (self.jaws,) = axes.plot([], [], color=look.CALIPERS, lw=4, solid_capstyle="butt")
        self.moving += [
            self.bark, self.wood, self.rings, self.pith, self.tape, self.others, self.jaws,
        ]  # fmt: skip
        px = side / (2 * self.REACH_CM)
        how = {"va": "center_baseline"}
        page.text(8, 484, "The cut, seen from above", fontweight="bold", **how)
        page.plot([12, 12 + 20 * px], [30, 30], color=look.TRUTH, lw=2, solid_capstyle="butt")
        page.text(20 + 20 * px, 30, "20 cm", **how)
        page.text(20 + 20 * px + 66, 30, "+ pith, rings drawn by us", **how)
        self.read = page.text(8, 462, "", **how)
        self.moving.append(self.read)

    def parts(self) -> tuple[Part, ...]:
        """The disc, and the two charts, each with the key."""
        disc, right = self.whole.cut_x(430)
        key, one, several = right.cut_y(384, 250)
        return part("disc", disc), part("one", key, one), part("several", key, several)

    def show(self, numbers: CutEndShown) -> None:
        """Set every moving artist from `numbers`."""
        n = numbers
        cut, middle = n.disc.cut, n.disc.middle_cm
        self.bark.set_xy(cut.outline.points_cm - middle)
        self.wood.set_xy((cut.wood or cut.outline).points_cm - middle)
        self.rings.set_data(*(n.disc.rings_cm - middle).T)
        if cut.pith:
            self.pith.set_data([cut.pith.x_cm - middle[0]], [cut.pith.y_cm - middle[1]])
        hull = cut.outline.hull_cm - middle
        self.tape.set_data(*np.vstack([hull, hull[:1]]).T)
        self.jaws.set_data(*(n.first_jaws_cm - middle).T)
        self.others.set_data(*(n.other_jaws_cm - middle).T)
        self.read.set_text(read_words(n))
        for chart in self.charts:
            chart.show(cut, n.practice)
        chart = self.charts[0 if n.practice == "one" else 1]
        at, (_, low, _, high) = float(chart.x_px(n.direction_deg)), chart.box_px
        self.here.set_data([at, at], [low, low + high])
        self.dot.set_data([at], [chart.up_px(n.now_percent)])

    def describe(self, numbers: CutEndShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        cut = n.disc.cut
        chosen = next(one for one in cut.calipers if one.practice == n.practice)
        return (
            f"{n.name.capitalize()} (invented), {cut.ends.longest_cm:.1f} cm at its longest and "
            f"{cut.ends.shortest_cm:.1f} cm at its shortest, with a taut tape of "
            f"{cut.taut_girth_cm:.1f} cm and calipers turned {n.direction_deg}°. Charts of the "
            f"error of the area by direction: {PRACTICE_WORDS[n.practice]}, goes from "
            f"{signed(chosen.least_over_percent)} % at {chosen.least_deg:g}° to "
            f"{signed(chosen.most_over_percent)} % at {chosen.most_deg:g}° and is "
            f"{signed(n.now_percent)} % here; the tape is {signed(cut.tape_over_percent)} % "
            "whatever the direction."
        )


def read_words(n: CutEndShown) -> str:
    """What the calipers read, in a few words.

    n: what the panel shows.
    """
    widths = n.readings_cm
    if len(widths) > 2:
        return f"mean of {len(widths)} widths: {widths.mean():.1f} cm"
    return "width: " + " and ".join(f"{one:.1f}" for one in widths) + " cm"
