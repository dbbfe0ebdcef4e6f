"""How the instruments are held and checked: three still pictures for workbook 01.

Each is a sketch of ours, not to scale but where it says so; what it says is said in its
alternative text too.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.views.kit import look, sketch
from mensura.views.kit.live import Still, draw_still
from mensura.views.kit.parts import Part, part


class HowToHold(sketch.Sketch):
    """The tape on a standing stem: its height, square to the axis, and where it is read."""

    height_px = 500
    alt = (
        "Left, an upright stem on sloping ground. The tape lies square to its axis, at breast "
        "height, 1.3 m measured up from the ground on the uphill side. A dead branch, a climber "
        "and loose bark are pointed out: look up first, and free the bark under the band. Right "
        "above, the section from above: the band goes once round, passes over its own tab and is "
        "pulled off along the stem. Right below, a close-up: the zero line of the tab meets the "
        "scale at 126.3 cm. It is read there, not at the end of the tab."
    )

    def parts(self) -> tuple[Part, ...]:
        """From the side, from above, close up."""
        side, right = self.whole.cut_x(480)
        above, close = right.cut_y(206)
        return part("from the side", side), part("from above", above), part("close up", close)

    def sketch(self, axes: Any) -> None:
        """Stem from the side, section from above, close-up of the reading, on `axes`."""
        self._side(axes)
        self._above(axes)
        self._close_up(axes)

    def _side(self, axes: Any) -> None:
        from matplotlib.patches import Polygon

        sketch.title(axes, (16, 484), "From the side")

        def ground(x: float) -> float:
            return 40 + 0.13 * x

        axes.add_patch(
            Polygon([(0, 0), (0, ground(0)), (470, ground(470)), (470, 0)], fc=look.GROUND)
        )
        axes.plot([0, 470], [ground(0), ground(470)], color=look.QUIET, lw=1.4)
        middle, half = 225, 44
        foot = ground(middle - half), ground(middle + half)
        sketch.wood(axes, sketch.trunk_px(middle, half, foot, 446))
        high = ground(middle + half + 14) + 195
        sketch.strap(axes, (middle, high), half, 10)
        axes.plot(
            [middle - 80, middle - half - 4], [high] * 2, color=look.TAPE, lw=1, ls=(0, (4, 3))
        )
        sketch.words(
            axes, (middle - 84, high), "tape square\nto the axis", ha="right", color=look.TAPE_WORD
        )
        uphill = middle + half + 36
        axes.plot([middle + half + 6, uphill + 8], [high] * 2, color=look.QUIET, lw=1)
        sketch.measure(axes, (uphill, ground(uphill)), (uphill, high))
        sketch.words(axes, (uphill + 12, high - 84), "1.3 m\nfrom the ground,\non the uphill side")
        # what is looked for before the band goes round
        axes.plot([middle - half, 110], [398, 432], color=look.BARK, lw=6, solid_capstyle="round")
        axes.plot([140, 124], [423, 446], color=look.BARK, lw=3.5, solid_capstyle="round")
        sketch.words(axes, (16, 386), "dead branch:\nlook up first", va="center")
        up = np.linspace(110, high - 34, 120)
        axes.plot(middle - 22 + 7 * np.sin(up / 13), up, color=look.QUIET, lw=3)
        sketch.words(axes, (16, 190), "climber: eased\noff, none of it\nunder the band")
        sketch.pointer(axes, (150, 190), (middle - 24, 190))
        flake = [(243, 322), (262, 330), (268, 352), (258, 376), (252, 350)]
        axes.add_patch(Polygon(flake, fc="white", ec=look.BARK, lw=1.6))
        sketch.words(axes, (305, 372), "loose bark, moss:\nrubbed off where\nthe band lies")
        sketch.pointer(axes, (300, 372), (264, 356))
        sketch.words(axes, (16, 22), "steep ground: stand firm")

    def _above(self, axes: Any) -> None:
        sketch.title(axes, (500, 484), "From above")
        centre, radius = np.array([640, 312]), 90
        sketch.disc(axes, tuple(centre), radius)
        # clockwise once round from the tab at 118°, over itself, and straight off from 76°
        turn = np.linspace(118, 76 - 360, 400)
        away = radius + 4 + 8 / (1 + np.exp((turn + 212) / 8))
        path = centre + away[:, None] * np.column_stack(
            [np.cos(np.radians(turn)), np.sin(np.radians(turn))]
        )
        straight = np.array([np.sin(np.radians(76)), -np.cos(np.radians(76))])
        off = path[-1] + straight * 130
        sketch.band(axes, np.vstack([path, off]), lw=3.2)
        sketch.band(axes, path[:24], lw=7)
        sketch.arrow(axes, tuple(off), tuple(off + straight * 34), look.TAPE)
        zero_px = float(centre[0])
        axes.plot([zero_px] * 2, [398, 424], color=look.TRUTH, lw=2.4, zorder=7)
        sketch.words(axes, (666, 448), "read at the zero line")
        sketch.pointer(axes, (662, 446), (zero_px, 424), look.TRUTH)
        sketch.words(axes, (556, 420), "tab", ha="right", color=look.TAPE_WORD)
        sketch.pointer(axes, (560, 420), (604, 401), look.TAPE)
        sketch.words(axes, (762, 342), "pull taut\npast the tab", color=look.TAPE_WORD)
        sketch.words(
            axes, tuple(centre), "the band lies\non the bark\nall the way round", ha="center"
        )

    def _close_up(self, axes: Any) -> None:
        from matplotlib.patches import Rectangle

        sketch.title(axes, (500, 192), "Close up")
        first_px, step_px, foot_px = 500.0, 38.0, 112.0
        zero_px = first_px + 4.3 * step_px
        for x, y, wide, fill in (
            (first_px, foot_px, 346, look.BAND_FILL),
            (zero_px - 100, foot_px - 44, 846 - zero_px + 100, "white"),
        ):
            axes.add_patch(Rectangle((x, y), wide, 40, fc=fill, ec=look.TAPE, lw=1.6))
        for tenth in range(1, 91):
            x = first_px + tenth * step_px / 10
            tall = 14 if tenth % 10 == 0 else 10 if tenth % 5 == 0 else 6
            axes.plot([x, x], [foot_px, foot_px + tall], color=look.TRUTH, lw=1)
            if tenth % 10 == 0 and x < 835:
                sketch.words(axes, (x, foot_px + 27), f"{122 + tenth // 10}", ha="center")
            under = zero_px + tenth * step_px / 10
            if under < 846:
                axes.plot([under, under], [foot_px - 4, foot_px - 4 - tall], color=look.TRUTH, lw=1)
                if tenth % 10 == 0 and under < 840:
                    sketch.words(axes, (under, foot_px - 31), f"{tenth // 10}", ha="center")
        axes.plot([zero_px] * 2, [foot_px - 44, foot_px - 4], color=look.TRUTH, lw=2.4)
        axes.plot([zero_px] * 2, [foot_px - 4, foot_px + 16], color=look.TAPE, lw=2)
        sketch.words(axes, (zero_px + 6, foot_px - 31), "0", fontweight="bold")
        sketch.words(axes, (zero_px - 50, foot_px - 25), "tab", ha="center", color=look.TAPE_WORD)
        sketch.tick(axes, (zero_px + 18, 38))
        sketch.words(axes, (zero_px + 32, 38), "126.3 cm", fontweight="bold")
        sketch.pointer(axes, (zero_px, 44), (zero_px, foot_px - 44), look.TRUTH)
        sketch.cross(axes, (510, 38))
        sketch.words(axes, (524, 30), "not at the\ntab's end")
        sketch.pointer(axes, (zero_px - 100, 48), (zero_px - 100, foot_px - 44), look.TRUTH)


class WhereToMeasure(sketch.Sketch):
    """Three places for a tape: round the stem, across a cut face, along the ground."""

    height_px = 380
    alt = (
        "Three drawings. First, round the stem: the band lies flat on the bark, square to the "
        "axis, without a twist. Second, straight across a cut face: the hook holds over the edge, "
        "so that zero stands at the edge; the tape goes through the middle, and a second time at "
        "right angles to the first. Third, along the ground: a spike holds the zero mark at the "
        "cut end of a log, and the tape runs straight and taut beside it to the other end."
    )

    def parts(self) -> tuple[Part, ...]:
        """Each place by itself."""
        stem, face, ground = self.whole.cut_x(248, 577)
        return part("stem", stem), part("cut face", face), part("ground", ground)

    def sketch(self, axes: Any) -> None:
        """Three parts, side by side on `axes`."""
        self._round(axes)
        self._across(axes)
        self._along(axes)

    def _round(self, axes: Any) -> None:
        sketch.title(axes, (16, 362), "Round the stem")
        middle, half, high = 110, 52, 200
        edge = sketch.trunk_px(middle, half, (96, 96), 320)
        sketch.wood(axes, edge[np.abs(edge[:, 0] - middle) <= half + 20])
        sketch.strap(axes, (middle, high), half, 16)
        sketch.words(axes, (16, 48), "flat, square to the axis,\nnot twisted: gives a girth")

    def _across(self, axes: Any) -> None:
        sketch.title(axes, (262, 362), "Across a cut face")
        centre, radius = (400, 216), 92
        sketch.disc(axes, centre, radius)
        sketch.disc(axes, centre, 3, fc=look.BARK)
        sketch.band(axes, [(308, 216), (520, 216)], lw=8)
        axes.vlines(np.arange(318, 520, 10), 216, 220, color="white", lw=1, zorder=5)
        # the hook turns down over the edge
        sketch.band(axes, [(306, 224), (306, 204)], lw=5, color=look.TRUTH)
        sketch.band(axes, [(400, 308), (400, 108)], lw=3, ls=(0, (4, 2)), zorder=3)
        sketch.band(axes, [(392, 310), (408, 310)], lw=5, color=look.TRUTH)
        sketch.words(axes, (262, 318), "hook over\nthe edge:\nzero here", ha="left")
        sketch.pointer(axes, (290, 290), (306, 226))
        sketch.words(axes, (496, 284), "read at\nthis edge")
        sketch.pointer(axes, (512, 262), (492, 222))
        sketch.words(
            axes, (262, 48), "through the middle, then again\nat right angles: two diameters"
        )

    def _along(self, axes: Any) -> None:
        from matplotlib.patches import Polygon, Rectangle

        sketch.title(axes, (584, 362), "Along the ground")
        axes.add_patch(Rectangle((584, 96), 262, 224, fc=look.GROUND, lw=0))
        sketch.words(axes, (594, 304), "from above")
        wedges = ((640, 266, 1), (780, 261, 1), (640, 196, -1), (780, 201, -1))
        for x, y, side in wedges:
            corners = [(x - 9, y), (x + 9, y), (x, y + side * 14)]
            axes.add_patch(Polygon(corners, fc=look.BARK, lw=0))
        sketch.wood(axes, [(612, 194), (826, 204), (826, 258), (612, 268)])
        sketch.words(axes, (719, 231), "log, wedged", ha="center")
        sketch.band(axes, [(612, 160), (838, 160)], lw=8)
        axes.vlines(np.arange(622, 838, 10), 160, 164, color="white", lw=1, zorder=5)
        axes.plot([612], [160], ls="", marker="o", ms=9, color=look.TRUTH, zorder=7)
        for end in (612, 826):
            axes.plot([end, end], [168, 204], color=look.TRUTH, lw=1, ls=(0, (2, 2)))
        sketch.words(axes, (600, 122), "spike: zero")
        sketch.pointer(axes, (612, 134), (612, 160))
        sketch.words(axes, (838, 122), "read here", ha="right")
        sketch.pointer(axes, (826, 134), (826, 158))
        sketch.words(axes, (584, 48), "straight and taut, not over\nbrush: gives a length")


class CalipersCheck(sketch.Sketch):
    """Calipers before use, and on the stem."""

    height_px = 560
    alt = (
        "Four drawings. First, calipers closed: the jaws touch all along, no light shows between "
        "them, and the scale says 0. Second, a rod of known size is held once between the bases "
        "of the jaws and once between their tips: both times the scale must say the rod's own "
        "size, else a jaw leans or the scale is off; each jaw stands square to the beam. Third, "
        "the stem from above: the beam touches the stem, and a second reading is taken at right "
        "angles to the first. Fourth, the stem from the side: the calipers lie square to its "
        "axis; with the beam slanted they read too much."
    )

    def parts(self) -> tuple[Part, ...]:
        """Each drawing by itself."""
        closed, rod, two, square = (one for row in self.whole.cut_y(308) for one in row.cut_x(430))
        return (
            part("closed", closed),
            part("rod", rod),
            part("two ways", two),
            part("square", square),
        )

    def sketch(self, axes: Any) -> None:
        """Four parts in two rows on `axes`."""
        self._closed(axes)
        self._rod(axes)
        self._two_ways(axes)
        self._square(axes)

    def _closed(self, axes: Any) -> None:
        sketch.title(axes, (16, 542), "Closed: they read 0")
        sketch.calipers(axes, (76, 386), 0, 116, beam_px=280)
        axes.plot([76, 76], [372, 502], color=look.TRUTH, lw=1, zorder=5)
        sketch.words(axes, (118, 466), "no light between the jaws,\nfrom base to tip")
        sketch.pointer(axes, (112, 462), (76, 446))
        sketch.words(axes, (118, 338), "the scale says 0, not nearly 0")
        sketch.pointer(axes, (112, 342), (77, 378))

    def _rod(self, axes: Any) -> None:
        sketch.title(axes, (446, 542), "Rod at base and at tips: its own size")
        sketch.calipers(axes, (492, 386), 110, 116, beam_px=270)
        for y_px, where in ((424, "rod at the base"), (486, "rod at the tips")):
            axes.plot([492, 602], [y_px, y_px], color=look.TRUTH, lw=7, solid_capstyle="butt")
            sketch.words(axes, (640, y_px), where)
        axes.plot([492, 508, 508], [402, 402, 386], color=look.TRUTH, lw=1.2, zorder=7)
        sketch.words(axes, (538, 338), "jaws square to the beam")
        sketch.pointer(axes, (532, 342), (508, 394))

    def _two_ways(self, axes: Any) -> None:
        sketch.title(axes, (16, 286), "From above: two ways, at right angles")
        radius, face = 58, 62
        for x, y, second in ((98, 150, False), (310, 150, True)):
            sketch.disc(axes, (x, y), radius)
            ends = np.array([[-face, -face - 4], [-face, 34], [face, -face - 4], [face, 34]])
            beam = np.array([[-face - 8, -face], [face + 26, -face]])
            along = np.array([[-radius, 0], [radius, 0]])
            if second:
                ends, beam, along = (part[:, ::-1] for part in (ends, beam, along))
            for start, end in (ends[:2], ends[2:], beam):
                sketch.bar(axes, (x + start[0], y + start[1]), (x + end[0], y + end[1]))
            sketch.measure(
                axes, (x + along[0, 0], y + along[0, 1]), (x + along[1, 0], y + along[1, 1])
            )
        sketch.words(axes, (98, 238), "first", ha="center")
        sketch.words(axes, (318, 238), "second", ha="center")
        sketch.words(axes, (16, 28), "the beam touches the stem each time")
        sketch.pointer(axes, (80, 42), (98, 88))
        sketch.pointer(axes, (220, 42), (248, 150))

    def _square(self, axes: Any) -> None:
        sketch.title(axes, (446, 286), "From the side: square to the axis")
        half, level = 46, 160
        for middle, slant_deg in ((540, 0), (730, 14)):
            edge = [(middle - half, 66), (middle - half, 256), (middle + half, 256)]
            sketch.wood(axes, [*edge, (middle + half, 66)])
            axes.plot([middle] * 2, [58, 264], color=look.QUIET, lw=1, ls=(0, (8, 3, 2, 3)))
            slant = np.radians(slant_deg)
            along = np.array([np.cos(slant), np.sin(slant)])
            square = np.array([-along[1], along[0]])
            place = np.array([middle, level])
            sketch.bar(axes, tuple(place - 68 * along), tuple(place + 96 * along))
            # the two jaws reach round the stem: only their edges are seen from here
            for side in (-1, 1):
                jaw = place + side * (half + 4) / np.cos(slant) * along
                sketch.bar(axes, tuple(jaw - 13 * square), tuple(jaw + 13 * square))
        sketch.tick(axes, (456, 28))
        sketch.words(axes, (472, 28), "at right angles")
        sketch.cross(axes, (640, 28))
        sketch.words(axes, (656, 28), "beam slanted: too much")


def how_to_hold() -> Still:
    """How a tape is laid round a standing stem and where it is read.

    >>> how_to_hold().width_px
    860
    """
    return draw_still(HowToHold(), None)


def where_to_measure() -> Still:
    """Round the stem, across a cut face, along the ground.

    >>> where_to_measure().height_px
    380
    """
    return draw_still(WhereToMeasure(), None)


def calipers_check() -> Still:
    """Calipers before use, and how they lie on the stem.

    >>> "no light" in calipers_check().alt
    True
    """
    return draw_still(CalipersCheck(), None)
