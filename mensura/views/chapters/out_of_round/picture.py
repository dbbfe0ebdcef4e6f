"""The out-of-round panel: one stem, the tape and the calipers on it, and what each makes of it.

Left, the section to scale. Right above, the overestimation of area against the axis ratio: lines
for a smooth ellipse and a level tape, marks for the stem as it stands, ripple, bark and tilt
included. Right below, how the calipers' error, as a share of the tape's, changes as they are turned
off the axes.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.out_of_round import classroom_over_percent, tape_over_percent
from mensura.teaching.panels.out_of_round import (
    CURVES,
    MEANS,
    RATIOS,
    TURNS_DEG,
    OutOfRound,
)
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.parts import Part, part
from mensura.written import signed


def _line(across: FloatArray, up: FloatArray) -> FloatArray:
    return np.stack([across, up], axis=-1)


class OutOfRoundPicture(Picture[OutOfRound]):
    """The section, the two charts, and their key."""

    width_px = 860
    height_px = 540

    # the calipers' own turn, and a tilt, are seen where they are set
    looked_at = MappingProxyType(
        {"caliper_direction_deg": "stem", "tilt_deg": "tilt", "tilt_direction_deg": "tilt"}
    )

    #: Half the width of ground that the section's axes show, and the overestimation they reach.
    REACH_CM = 53.0
    LEAST_PERCENT = -2.0
    MOST_PERCENT = 10.0
    #: What a limit's words take up beside their dot, on the scale of turns.
    ROOM_DEG = 14.0

    def draw(self, figure: Any) -> None:
        """Axes, grids, key and the curves that never move on `figure`; then the moving artists."""
        self.limits: dict[str, tuple[Any, Any, str]] = {}
        self._draw_section(look.place(figure, 41, 46, 410, 410))
        self._draw_side(look.place(figure, 41, 468, 410, 66))
        self._draw_ratio(look.place(figure, 512, 304, 330, 150))
        self._draw_turn(look.place(figure, 512, 46, 330, 190))
        self._draw_key(figure)

    def parts(self) -> tuple[Part, ...]:
        """The section, how the tape is tilted, and the two charts, each with the key."""
        left, right = self.whole.cut_x(446)
        side, section = left.cut_y(464)
        key, ratio, turn = right.cut_y(464, 256)
        return (
            part("stem", section),
            part("tilt", side),
            part("area", key, ratio),
            part("turned", key, turn),
        )

    # ---- still parts and moving artists ----------------------------------------------------

    def _draw_section(self, axes: Any) -> None:
        from matplotlib.patches import Polygon

        reach = self.REACH_CM
        axes.set(xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal")
        axes.set_xlabel("along the first axis, cm")
        axes.text(-reach + 1, reach - 1, "second axis, cm", va="top")
        axes.set_xticks([-40, -20, 0, 20, 40])
        axes.set_yticks([-40, -20, 0, 20, 40])
        axes.tick_params(axis="y", pad=3)  # beside them is the picture's edge
        axes.axhline(0, color=look.GRID, lw=1, zorder=0)
        axes.axvline(0, color=look.GRID, lw=1, zorder=0)
        self.wood = Polygon(np.zeros((3, 2)), fc=look.WOOD, ec=look.TRUTH, lw=1.4, closed=True)
        axes.add_patch(self.wood)
        (self.tape,) = axes.plot([], [], color=look.TAPE, lw=2.6, solid_joinstyle="round")
        (self.tab,) = axes.plot([], [], color=look.TAPE, lw=7, solid_capstyle="butt")
        (self.second_jaws,) = axes.plot([], [], color=look.CALIPERS, lw=1.4, ls=(0, (2, 2)))
        (self.jaws,) = axes.plot([], [], color=look.CALIPERS, lw=4, solid_capstyle="butt")
        (self.high,) = axes.plot([], [], ls="", marker="^", ms=9, color=look.TAPE)
        axes.plot([-reach + 3], [-reach + 4], marker="^", ms=9, color=look.TAPE)
        axes.text(-reach + 6, -reach + 4, "where the tape is highest", va="center_baseline")
        self.moving += [
            self.wood,
            self.tape,
            self.high,
            self.second_jaws,
            self.jaws,
            self.tab,
        ]

    def _draw_side(self, axes: Any) -> None:
        """The stem from the side, square to the steepest rise: how the tape is tilted."""
        axes.set(xlim=(-101, 101), ylim=(-16.5, 16.5), aspect="equal")
        axes.axis("off")
        axes.text(-98, 0, "from the side", va="center")
        (self.trunk,) = axes.plot([], [], color=look.TRUTH, lw=1.4)
        (self.slant,) = axes.plot([], [], color=look.TAPE, lw=2.6)
        axes.plot([-40, 40], [0, 0], color=look.QUIET, lw=1, ls=(0, (2, 3)))
        axes.text(43, 0, "as the tape lies", va="center", color=look.TAPE_WORD)
        self.moving += [self.trunk, self.slant]

    def _draw_ratio(self, axes: Any) -> None:
        axes.set(xlim=(0.5, 1.0), ylim=(self.LEAST_PERCENT, self.MOST_PERCENT))
        axes.set_xlabel("shorter over longer diameter", labelpad=1)
        axes.set_ylabel("area too large, %")
        axes.set_yticks([-2, 0, 2, 4, 6, 8, 10])
        axes.grid(True)
        axes.set_axisbelow(True)
        axes.axhline(0, color=look.TRUTH, lw=1.2)
        self.ratio_axes = axes
        # these three do not depend on the calipers' direction: they are part of the ground
        dash = look.PRACTICE_STYLE["two-quadratic"][0]
        axes.plot(
            RATIOS, classroom_over_percent(RATIOS), color=look.CLASSROOM, lw=3, ls=(0, (4, 2))
        )
        axes.plot(RATIOS, classroom_over_percent(RATIOS), color=look.CALIPERS, lw=1.2, ls=dash)
        axes.plot(RATIOS, tape_over_percent(RATIOS), color=look.TAPE, lw=2.2)
        (self.here,) = axes.plot([], [], color=look.TRUTH, lw=1, ls=(0, (1, 2)))
        self.moving.append(self.here)
        self.curves = self._lines(axes, CURVES, 1.6)
        self.marks = self._marks(axes)

    def _lines(self, axes: Any, practices: tuple[str, ...], width: float) -> Any:
        """One artist for several lines: drawn in one go, each in its practice's style."""
        from matplotlib.collections import LineCollection

        styles = [look.PRACTICE_STYLE[practice][0] for practice in practices]
        lines = LineCollection([], colors=look.CALIPERS, linewidths=width, linestyles=styles)
        axes.add_collection(lines, autolim=False)
        self.moving.append(lines)
        return lines

    def _marks(self, axes: Any) -> Any:
        """One artist for all marks; over the tape's lies that of many directions."""
        from matplotlib.collections import PathCollection
        from matplotlib.colors import to_rgba_array
        from matplotlib.markers import MarkerStyle
        from matplotlib.transforms import IdentityTransform

        styles = [MarkerStyle(mark) for _, mark in look.PRACTICE_STYLE.values()]
        cross = len(styles) - 1  # the practice of many directions; its + is drawn over the tape
        styles.insert(cross, MarkerStyle("v"))
        colours = [look.CALIPERS] * len(styles)
        colours[cross] = look.TAPE
        cross += 1
        self.mark_colours = np.array(to_rgba_array(colours))
        edges = np.array(to_rgba_array(["white"] * cross + [look.CALIPERS]))
        self.mark_edges = edges
        marks = PathCollection(
            [style.get_path().transformed(style.get_transform()) for style in styles],
            sizes=[60.0] * (cross - 1) + [110.0, 70.0],
            facecolors=colours,
            edgecolors=edges,
            linewidths=[1.8 if k == cross else 1.0 for k in range(len(styles))],
            offsets=np.zeros((len(styles), 2)),
            offset_transform=axes.transData,
            transform=IdentityTransform(),
        )
        axes.add_collection(marks, autolim=False)
        marks.set_clip_on(False)
        self.moving.append(marks)
        return marks

    def _draw_turn(self, axes: Any) -> None:
        axes.set(xlim=(0, 90), ylim=(0, 1.6))
        axes.set_xlabel("calipers turned off the first axis, °", labelpad=1)
        axes.set_ylabel("error ÷ tape's error")
        axes.set_xticks(range(0, 91, 15))
        axes.set_yticks([0, 0.5, 1, 1.5])
        axes.grid(True)
        axes.set_axisbelow(True)
        axes.axhline(1, color=look.TAPE, lw=2.2)
        axes.text(45, 1.5, "tape nearer", ha="center", va="center", color=look.TAPE_WORD)
        axes.text(45, 0.1, "calipers nearer", ha="center", va="center", color=look.CALIPERS)
        self.shares = self._lines(axes, tuple(MEANS), 1.8)
        (self.turn,) = axes.plot([], [], color=look.TRUTH, lw=1, ls=(0, (1, 2)))
        self.moving.append(self.turn)
        for practice, (below, side) in {
            "two-arithmetic": (1.17, "right"),
            "two-geometric": (0.76, "left"),
        }.items():
            mark = look.PRACTICE_STYLE[practice][1]
            (dot,) = axes.plot(
                [], [], ls="", marker=mark, ms=8, mfc=look.CALIPERS, mec="white", mew=1
            )
            word = axes.text(0, below, "", ha=side, va="center")
            word.set_bbox({"fc": "white", "ec": "none", "alpha": 0.85, "pad": 1})
            self.limits[practice] = dot, word, side
            self.moving += [dot, word]

    @staticmethod
    def _draw_key(figure: Any) -> None:
        from matplotlib.lines import Line2D

        entries = [
            Line2D([], [], color=look.TAPE, lw=2.2, marker="v", ms=8, mec="white"),
            Line2D([], [], color=look.CLASSROOM, lw=3, ls=(0, (4, 2))),
        ]
        words = ["tape", "blackboard formula"]
        short = {
            "one": "calipers, one",
            "two-arithmetic": "two, arithmetic mean",
            "two-geometric": "two, product",
            "two-quadratic": "two, quadratic mean",
            "many-arithmetic": "many directions",
        }
        for practice, (style, mark) in look.PRACTICE_STYLE.items():
            edge = look.CALIPERS if mark == "+" else "white"
            entries.append(
                Line2D([], [], color=look.CALIPERS, lw=1.6, ls=style, marker=mark, ms=7, mec=edge)
            )
            words.append(short[practice])
        entries.append(Line2D([], [], ls="", marker="o", ms=7, mfc="white", mec=look.QUIET, mew=1))
        words.append("beyond the chart")
        order = [0, 1, 2, 6, 3, 4, 5, 7]
        figure.legend(
            [entries[i] for i in order],
            [words[i] for i in order],
            loc="upper right",
            bbox_to_anchor=(1.0, 1.0),
            ncols=2,
            frameon=False,
            borderpad=0,
            labelspacing=0.15,
            columnspacing=1.0,
            handlelength=2.6,
            handletextpad=0.5,
            borderaxespad=0.5,
        )

    # ---- a change --------------------------------------------------------------------------

    def show(self, numbers: OutOfRound) -> None:
        """Set every moving artist from `numbers`."""
        self._show_section(numbers)
        self._show_side(numbers)
        self._show_charts(numbers)

    def _show_section(self, n: OutOfRound) -> None:
        self.wood.set_xy(n.edge_cm)
        # the band is drawn just outside the edge, so that both lines are seen
        around = n.hull_cm * (1 + 0.45 / np.hypot(*n.hull_cm.T))[:, None]
        loop = np.vstack([around, around[:1]])
        self.tape.set_data(loop[:, 0], loop[:, 1])
        start = float(n.hull_cm[:, 0].max())
        self.tab.set_data([start - 0.4, start + 3.0], [0, 0])
        half_first, half_second = n.first_cm / 2, n.second_cm / 2
        self._set_jaws(n.hull_cm, n.caliper_direction_deg)
        angle = np.radians(n.lay.tilt_direction_deg)
        rim = (
            half_first
            * half_second
            / np.hypot(half_second * np.cos(angle), half_first * np.sin(angle))
        )
        self.high.set_data([(rim - 6) * np.cos(angle)], [(rim - 6) * np.sin(angle)])
        self.high.set_visible(bool(n.lay.tilt_deg))

    def _set_jaws(self, hull_cm: FloatArray, direction_deg: float) -> None:
        """The jaws as bars through the points they touch; the beam just clear of the stem."""
        angle = np.radians(direction_deg)
        along = np.array([np.cos(angle), np.sin(angle)])
        square = np.array([-np.sin(angle), np.cos(angle)])
        reach, side = hull_cm @ along, hull_cm @ square
        back = side.min() - 2.0
        nothing = [np.nan, np.nan]
        touch = side[[reach.argmin(), reach.argmax()]]
        tip = touch.max() + 5.0
        near, far = reach.min() - 0.6, reach.max() + 0.6

        def on_stem(rows: list[list[float]]) -> Any:
            place = np.array(rows)
            return place[:, :1] * along + place[:, 1:] * square

        beam = [[near - 2, back], [far + 2, back], nothing]
        jaws = on_stem([*beam, [near, back], [near, tip], nothing, [far, back], [far, tip]])
        self.jaws.set_data(jaws[:, 0], jaws[:, 1])
        low, high = reach[side.argmin()], reach[side.argmax()]
        other = on_stem(
            [
                [low - 12, side.min()],
                [low + 12, side.min()],
                nothing,
                [high - 12, side.max()],
                [high + 12, side.max()],
            ]
        )
        self.second_jaws.set_data(other[:, 0], other[:, 1])

    def _show_side(self, n: OutOfRound) -> None:
        angle = np.radians(n.lay.tilt_direction_deg)
        half = float(np.hypot(n.first_cm * np.cos(angle), n.second_cm * np.sin(angle))) / 2
        half += n.added_cm * float(np.cos(4 * angle))
        rise = half * np.tan(np.radians(n.lay.tilt_deg))
        self.trunk.set_data([-half, -half, np.nan, half, half], [-15, 15, np.nan, -15, 15])
        self.slant.set_data([-half, half], [-rise, rise])

    def _show_charts(self, n: OutOfRound) -> None:
        ratio = n.axis_ratio
        self.here.set_data([ratio, ratio], [self.LEAST_PERCENT, self.MOST_PERCENT])
        self.curves.set_segments([_line(RATIOS, n.curves_percent[name]) for name in CURVES])
        overs = [one.over_percent for one in n.result.calipers]
        overs.insert(len(overs) - 1, n.result.tape_over_percent)
        # a mark beyond the chart waits hollow at its edge; the table has its number
        shown = np.clip(overs, self.LEAST_PERCENT, self.MOST_PERCENT)
        beyond = shown != overs
        self.marks.set_offsets(_line(np.full(len(shown), ratio), shown))
        self.marks.set_facecolors(np.where(beyond[:, None], 1.0, self.mark_colours))
        self.marks.set_edgecolors(np.where(beyond[:, None], self.mark_colours, self.mark_edges))
        self.shares.set_segments([_line(TURNS_DEG, n.shares[name]) for name in MEANS])
        self.turn.set_data([n.caliper_direction_deg] * 2, [0, 1.6])
        for practice, (dot, word, side) in self.limits.items():
            limit = n.limits_deg[practice]
            visible = n.marked and limit is not None and limit > 0
            dot.set_visible(visible)
            word.set_visible(visible)
            if visible and limit is not None:
                dot.set_data([limit], [1.0])
                word.set_text(f"{limit:.1f}°")
                # beside a falling curve the other side is free; near the axis there is no left
                falling = n.nearer_deg[practice][0][0] > 0
                side = {"left": "right", "right": "left"}[side] if falling else side
                side = side if limit > self.ROOM_DEG else "left"
                word.set_ha(side)
                word.set_x(limit + (-2.5 if side == "right" else 2.5))

    def describe(self, numbers: OutOfRound) -> str:
        """The picture of `numbers` in words."""
        n = numbers
        two = n.result.calipers[1]
        ripple = f", with a fourth ripple of {signed(n.added_cm)} cm" if n.added_cm else ""
        return (
            f"Section of a stem, {n.first_cm:g} by {n.second_cm:g} cm{ripple}, with a taut tape "
            f"and calipers turned {n.caliper_direction_deg:g}° off the first axis. The tape, "
            f"tilted {n.lay.tilt_deg:g}°, reads {n.result.reading_cm:.1f} cm and makes the area "
            f"{signed(n.result.tape_over_percent)} % wrong; two caliper readings, arithmetic mean, "
            f"{signed(two.over_percent)} %. Charts: error of area against the axis ratio; error "
            "of calipers over error of tape against their turn."
        )
