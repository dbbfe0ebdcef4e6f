"""Drawings of a tape as it lies on a round stem, computed from its lay.

Three of one stem: the whole of it with its mark at breast height, the band near by from the side
(its hidden part dashed), and from above. What is drawn is the curve that the lay is integrated
along, so its length is the model's.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.instruments.band_curve import band_curve_cm
from mensura.instruments.lay import Lay
from mensura.stems.ellipse import circle
from mensura.stems.hulls import passed_cm
from mensura.views.kit import look, sketch
from mensura.views.kit.parts import Part, part

BREAST_HEIGHT_M = 1.3

#: Where a knot and a twist are drawn, as degrees from the tab, and the loose part with its reach:
#: the lay does not say.
BUMP_DEG = 28.0
LOOSE_DEG, LOOSE_REACH_DEG = 90.0, 55.0
#: Half of the arc over which a twisted band turns over and back.
TWIST_REACH_DEG = 24.0

#: Half the width of the band as drawn, cm.
HALF_BAND_CM = 1.1


def _turned(angle_deg: Any) -> FloatArray:
    """Unit vectors to the right and towards the viewer; 0° is towards the viewer."""
    angle = np.radians(angle_deg)
    return np.stack([np.sin(angle), np.cos(angle)], axis=-1)


class TapeDrawing(sketch.Sketch):
    """A tape on a standing stem.

    diameter_cm: of the round stem at breast height; lay: how the tape lies. curve_cm holds the
    band's line: to the right, towards the viewer and up from breast height; its tab faces the
    viewer, but for a climber that stands there.
    """

    height_px = 420

    #: Pixels a cm: whole stem, near by, from above; and where the middles of the drawings stand.
    WHOLE_PX_PER_CM, NEAR_PX_PER_CM, ABOVE_PX_PER_CM = 1.85, 6.4, 5.0
    WHOLE_PX, NEAR_PX, ABOVE_PX = (80.0, 34.0), (402.0, 200.0), (708.0, 206.0)

    def __init__(self, diameter_cm: float, lay: Lay) -> None:
        super().__init__()
        self.diameter_cm, self.lay = diameter_cm, lay
        stem = circle(diameter_cm)
        # the stem's first axis faces the viewer, its second lies to the right
        curve = band_curve_cm(stem, lay, BUMP_DEG, LOOSE_DEG, LOOSE_REACH_DEG, points=3600)
        self.curve_cm = curve[:, [1, 0, 2]]
        self.radius_cm = diameter_cm / 2 * float(lay.height_factor(stem.taut_girth_cm))
        self.alt = self._words()

    def sketch(self, axes: Any) -> None:
        """The three drawings on `axes`."""
        self._whole(axes)
        self._near(axes)
        self._above(axes)

    def parts(self) -> tuple[Part, ...]:
        """The whole stem, near by, from above."""
        whole, near, above = self.whole.cut_x(203, 580)
        return part("whole stem", whole), part("near", near), part("from above", above)

    def near_px(self, curve_cm: FloatArray) -> FloatArray:
        """Points as they stand in the drawing near by, in px.

        curve_cm: to the right, towards the viewer, up from breast height; shape (k, 3).
        """
        level = 100 * self.lay.height_off_m
        x, y = self.NEAR_PX
        return np.column_stack([x + self.NEAR_PX_PER_CM * curve_cm[:, 0],
                                y + self.NEAR_PX_PER_CM * (curve_cm[:, 2] - level)])  # fmt: skip

    def above_px(self, points_cm: FloatArray) -> FloatArray:
        """Points as they stand in the drawing from above, in px; the viewer stands below.

        points_cm: to the right and towards the viewer; shape (k, 2) or wider.
        """
        x, y = self.ABOVE_PX
        scale = self.ABOVE_PX_PER_CM
        return np.column_stack([x + scale * points_cm[:, 0], y - scale * points_cm[:, 1]])

    # ---- the whole stem ------------------------------------------------------------------------

    def _whole(self, axes: Any) -> None:
        from matplotlib.patches import Rectangle

        sketch.title(axes, (16, 402), "The whole stem")
        x, foot = self.WHOLE_PX
        scale, half = self.WHOLE_PX_PER_CM, self.WHOLE_PX_PER_CM * self.diameter_cm / 2
        axes.add_patch(Rectangle((0, 0), 196, foot, fc=look.GROUND, lw=0))
        axes.plot([0, 196], [foot, foot], color=look.QUIET, lw=1.4)
        sketch.wood(axes, sketch.trunk_px(x, half, (foot, foot), 380))
        mark = foot + 100 * BREAST_HEIGHT_M * scale
        axes.plot([x - half - 8, x + half + 44], [mark, mark], color=look.TRUTH, lw=1.6, zorder=5)
        sketch.measure(axes, (x + half + 30, foot), (x + half + 30, mark))
        sketch.words(axes, (x + half + 36, mark - 40), "1.3 m")
        where = self.curve_cm[self.curve_cm[:, 1] >= -1e-9]
        order = np.argsort(where[:, 0])
        band = np.column_stack([x + scale * where[order, 0], mark + scale * where[order, 2]])
        if not self.lay.overlap_offset_cm:
            sketch.band(axes, band, lw=4, zorder=6)
        else:
            for line in _parts(self.curve_cm, front=True):
                points = np.column_stack([x + scale * line[:, 0], mark + scale * line[:, 2]])
                sketch.band(axes, points, lw=4, zorder=6)

    # ---- near by, from the side ----------------------------------------------------------------

    def _near(self, axes: Any) -> None:
        sketch.title(axes, (222, 402), "Near, from the side")
        x, y = self.NEAR_PX
        scale = self.NEAR_PX_PER_CM
        half, low, high = scale * self.radius_cm, 46.0, 376.0
        wood = [(x - half, low), (x - half, high), (x + half, high), (x + half, low)]
        from matplotlib.patches import Polygon

        axes.add_patch(Polygon(wood, fc=look.WOOD, lw=0))
        for edge in (x - half, x + half):
            axes.plot([edge, edge], [low, high], color=look.BARK, lw=1.8)
        axes.plot([x - half - 34, x + half + 34], [y, y], color=look.QUIET, lw=1, ls=(0, (8, 4)))
        sketch.words(axes, (x - half - 2, y + 12), "square", ha="right", color=look.QUIET)
        for line in _parts(self.curve_cm, front=False):
            back = self.near_px(line)
            axes.plot(back[:, 0], back[:, 1], color=look.TAPE, lw=1.8, ls=(0, (4, 2)), zorder=4)
        self._under_side(axes, low, high)
        for line in _parts(self.curve_cm, front=True):
            self._strap(axes, line)
        self._tab_side(axes)
        bar = 10 * scale
        axes.plot([x - bar / 2, x + bar / 2], [26, 26], color=look.TRUTH, lw=2)
        sketch.words(axes, (x + bar / 2 + 8, 26), "10 cm")
        how = {"ha": "right", "color": look.TAPE_WORD}
        sketch.words(axes, (x - bar / 2 - 8, 26), "dashed: behind", **how)

    def _under_side(self, axes: Any, low: float, high: float) -> None:
        """What is under the band, as it is seen from the side."""
        from matplotlib.patches import Ellipse

        x, y = self.NEAR_PX
        scale = self.NEAR_PX_PER_CM
        if self.lay.climber_cm:
            middle = (self.radius_cm + self.lay.climber_cm / 2) * float(
                np.sin(np.radians(self.lay.climber_direction_deg))
            )
            up = np.linspace(low, high, 160)
            way = x + scale * middle + 3 * np.sin((up - y) / 26)
            wide = scale * self.lay.climber_cm / 2
            axes.fill_betweenx(up, way - wide, way + wide, fc=look.BARK_FILL, ec=look.BARK, lw=1.6)
            for k, at in enumerate(np.arange(low + 20, high - 10, 44)):
                if abs(at - y) > 26:
                    side = (-1) ** k
                    place = float(np.interp(at, up, way)) + side * (wide + 9), at
                    how = {"fc": look.BARK_FILL, "ec": look.BARK, "lw": 1}
                    leaf = Ellipse(place, 18, 11, angle=24 * side, **how)
                    axes.add_patch(leaf)
        if self.lay.knot_cm:
            middle = x + scale * self.radius_cm * float(np.sin(np.radians(BUMP_DEG)))
            for size in (1.0, 0.8, 0.6):
                ring = Ellipse((middle, y), 66 * size, 84 * size, fc="none", ec=look.BARK, lw=1.4)
                axes.add_patch(ring)
            axes.add_patch(Ellipse((middle, y), 26, 34, fc=look.BARK, lw=0))

    def _strap(self, axes: Any, part_cm: FloatArray) -> None:
        """A part of the band, its marks outwards; at a twist its back shows, filled."""
        from matplotlib.patches import Polygon

        points = self.near_px(part_cm)
        half = np.full(len(points), self.NEAR_PX_PER_CM * HALF_BAND_CM)
        face = np.ones(len(points))
        if self.lay.twist_lift_cm:
            turn = np.degrees(np.arctan2(part_cm[:, 0], part_cm[:, 1]))
            off = np.clip((turn - BUMP_DEG) / TWIST_REACH_DEG, -1, 1)
            # once over and once back: full, nothing, full (its back), nothing, full
            face = -np.cos(np.pi * off)
            half = half * np.abs(face)
        upper, lower = points + [0, 1] * half[:, None], points - [0, 1] * half[:, None]
        starts = np.flatnonzero(np.diff(np.sign(face)) != 0) + 1
        for piece in np.split(np.arange(len(points)), starts):
            if len(piece) < 2:
                continue
            edge = np.vstack([upper[piece], lower[piece][::-1]])
            back = face[piece].mean() < 0
            fill = look.TAPE if back else look.BAND_FILL
            # as an artist, not a patch: the axes have their limits, and finding them anew is slow
            axes.add_artist(Polygon(edge, fc=fill, ec=look.TAPE, lw=1.6, zorder=5))
        # a mark every two cm of the band
        along = passed_cm(part_cm)
        at = np.searchsorted(along, np.arange(1.0, along[-1], 2.0))
        at = at[face[at] > 0.6]
        low = lower[at, 1]
        axes.vlines(points[at, 0], low, low + half[at], color=look.TRUTH, lw=1, zorder=6)

    def _tab_side(self, axes: Any) -> None:
        """Where the band meets its own start: both ends, each drawn on by a short piece."""
        px = self.near_px(self.curve_cm[[0, -1]])
        reach = self.NEAR_PX_PER_CM * HALF_BAND_CM
        for (x, y), side in zip(px, (-1, 1), strict=True):
            if self.lay.overlap_offset_cm:
                axes.plot([x, x + side * 26], [y, y], color=look.TAPE, lw=3, zorder=6)
            axes.plot([x, x], [y - reach - 5, y + reach + 5], color=look.TAPE, lw=3, zorder=7)

    # ---- from above ----------------------------------------------------------------------------

    def _above(self, axes: Any) -> None:
        sketch.title(axes, (592, 402), "From above")
        scale = self.ABOVE_PX_PER_CM
        sketch.disc(axes, self.ABOVE_PX, scale * self.radius_cm)
        if self.lay.climber_cm:
            middle = (self.radius_cm + self.lay.climber_cm / 2) * _turned(
                self.lay.climber_direction_deg
            )
            place = self.above_px(middle[None, :])[0]
            sketch.disc(axes, tuple(place), scale * self.lay.climber_cm / 2, fc=look.BARK_FILL)
        if self.lay.knot_cm:
            self._knot_above(axes)
        loop = self.above_px(self.curve_cm)
        sketch.band(axes, loop, lw=3)
        sketch.band(axes, loop[[0, 0]] + [[0, 5], [0, -9]], lw=3)
        if self.lay.twist_lift_cm:
            self._twist_above(axes)
        x = self.ABOVE_PX[0]
        sketch.arrow(axes, (x, 24), (x, 52), look.QUIET)
        sketch.words(axes, (x + 12, 30), "seen from here", color=look.QUIET)

    def _knot_above(self, axes: Any) -> None:
        turn = BUMP_DEG + np.linspace(-12, 12, 60)
        bump = self.lay.knot_cm * np.cos(np.pi * (turn - BUMP_DEG) / 24) ** 2
        outer = (self.radius_cm + bump)[:, None] * _turned(turn)
        inner = (self.radius_cm - 0.4) * _turned(turn[::-1])
        edge = self.above_px(np.vstack([outer, inner]))
        axes.fill(edge[:, 0], edge[:, 1], fc=look.BARK, lw=0, zorder=3)

    def _twist_above(self, axes: Any) -> None:
        """The band seen flat where it turns over, around the point that stands off most."""
        along = passed_cm(self.curve_cm[:, :2])
        out = _turned(BUMP_DEG)
        apex = int((self.curve_cm[:, :2] @ out).argmax())
        reach = np.radians(TWIST_REACH_DEG) * self.radius_cm
        here = np.abs(along - along[apex]) <= reach
        line = self.curve_cm[here, :2]
        wide = HALF_BAND_CM * np.abs(np.sin(np.pi * (along[here] - along[apex]) / reach))
        edge = np.vstack([line + wide[:, None] * out, (line - wide[:, None] * out)[::-1]])
        px = self.above_px(edge)
        axes.fill(px[:, 0], px[:, 1], fc=look.BAND_FILL, ec=look.TAPE, lw=1.6, zorder=5)

    # ---- words ---------------------------------------------------------------------------------

    def _words(self) -> str:
        """What is drawn, as places and sizes; what is the matter with it is not said."""
        lay, curve = self.lay, self.curve_cm
        height = BREAST_HEIGHT_M + curve[:, 2] / 100
        front, back = curve[:, 1] >= 0, curve[:, 1] < 0
        left, right = int(curve[:, 0].argmin()), int(curve[:, 0].argmax())
        off = np.hypot(*curve[:, :2].T) - self.radius_cm
        far = int(off.argmax())
        where = "on the right" if curve[far, 0] > 0 else "on the left"
        above = "it touches the bark all the way round"
        if off[far] > 0.05:
            under = (
                f"a round thing {lay.climber_cm:.1f} cm thick"
                if lay.climber_cm
                else "a bump of wood with rings"
                if lay.knot_cm
                else "nothing"
            )
            above = f"{where} it stands up to {off[far]:.1f} cm off the bark, with {under} under it"
        marks = (
            "for a short piece, between two crossings, no marks are seen on it"
            if lay.twist_lift_cm
            else "its marks are seen all along the front"
        )
        return (
            f"Three drawings of one stem, {2 * self.radius_cm:.1f} cm thick where a band goes "
            f"round it; a line marks 1.3 m above the ground. Seen from the side, the band crosses "
            f"the left edge of the stem at {height[left]:.2f} m and the right edge at "
            f"{height[right]:.2f} m; in front it lies between {height[front].min():.2f} and "
            f"{height[front].max():.2f} m, behind between {height[back].min():.2f} and "
            f"{height[back].max():.2f} m; it starts at {height[0]:.2f} m and comes back at "
            f"{height[-1]:.2f} m; {marks}. Seen from above, {above}."
        )


def _parts(curve_cm: FloatArray, *, front: bool) -> list[FloatArray]:
    """The pieces of the band before, or behind, the stem's widest place."""
    ahead = curve_cm[:, 1] >= -1e-9
    cuts = np.flatnonzero(np.diff(ahead.astype(int)) != 0) + 1
    pieces = np.split(np.arange(len(curve_cm)), cuts)
    # neighbours share their end, so that no gap is seen
    return [
        curve_cm[max(piece[0] - 1, 0) : piece[-1] + 2]
        for piece in pieces
        if ahead[piece[0]] == front
    ]
