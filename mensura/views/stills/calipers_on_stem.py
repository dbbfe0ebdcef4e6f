"""Drawings of calipers as they lie on a round stem, computed from their faults.

From above, the beam against the stem and the jaws at the angle at which they stand; from the side,
the beam across the stem. The feet of the jaws stand as far apart as the instrument reads.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.instruments.calipers import Calipers
from mensura.stems.ellipse import circle
from mensura.views.kit import look, sketch
from mensura.views.kit.parts import Part, part

#: How far the jaws reach from the beam, as a share of the stem's thickness.
REACH = 0.82


class CalipersDrawing(sketch.Sketch):
    """Calipers on a standing stem.

    diameter_cm: of the round stem; calipers: how they are and lie.
    """

    height_px = 420

    #: Pixels a cm, from above and from the side; where the stem's middle stands in each drawing.
    ABOVE_PX_PER_CM, SIDE_PX_PER_CM = 5.4, 5.4
    ABOVE_PX, SIDE_PX = (192.0, 238.0), (636.0, 214.0)
    HALF_BAR_PX = 4.0

    def __init__(self, diameter_cm: float, calipers: Calipers) -> None:
        super().__init__()
        self.diameter_cm, self.calipers = diameter_cm, calipers
        told = calipers.reading(circle(diameter_cm), 0.0)
        #: where the sliding jaw's foot stands on the beam, from the stem's middle, cm
        self.foot_cm = float(told.widths_cm[0]) - diameter_cm / 2
        if "jaw lean" in told.breakdown:
            self.foot_cm += float(told.breakdown["jaw lean"][0])
        self.alt = self._words()

    def sketch(self, axes: Any) -> None:
        """Both drawings on `axes`."""
        self._above(axes)
        self._side(axes)

    def parts(self) -> tuple[Part, ...]:
        """From above, and from the side."""
        above, side = self.whole.cut_x(434)
        return part("from above", above), part("from the side", side)

    def above_px(self, points_cm: FloatArray) -> FloatArray:
        """Points as they stand in the drawing from above, in px.

        points_cm: along the beam and away from it, from the stem's middle; shape (k, 2).
        """
        return np.asarray(self.ABOVE_PX + self.ABOVE_PX_PER_CM * np.asarray(points_cm))

    def _above(self, axes: Any) -> None:
        from matplotlib.patches import Rectangle

        sketch.title(axes, (16, 402), "From above")
        radius, scale = self.diameter_cm / 2, self.ABOVE_PX_PER_CM
        sketch.disc(axes, self.ABOVE_PX, scale * radius)
        left, base = self.above_px(np.array([[-radius, -radius]]))[0]
        beam = scale * (self.diameter_cm + 14)
        axes.add_patch(
            Rectangle((left - 12, base - 16), beam, 16, fc=look.BEAM_FILL, ec=look.CALIPERS,
                      lw=1.6, zorder=2)
        )  # fmt: skip
        marks = np.arange(left, left + beam - 16, 2 * scale)
        axes.vlines(marks, base - 16, base - 16 + np.where(np.arange(marks.size) % 5, 5, 9),
                    color=look.TRUTH, lw=1, zorder=3)  # fmt: skip
        for foot, lean_deg, side in (
            (-radius, 0.0, -1),
            (self.foot_cm, float(self.calipers.jaw_lean_deg), 1),
        ):
            lean = np.radians(lean_deg)
            along = np.array([np.sin(lean), np.cos(lean)])
            out = side * np.array([np.cos(lean), -np.sin(lean)])
            start = self.above_px(np.array([[foot, -radius]]))[0] + self.HALF_BAR_PX * out
            end = start + scale * self.diameter_cm * REACH * along
            sketch.bar(axes, tuple(start - 18 * along), tuple(end), lw=6)
        words = "beam", "fixed jaw", "sliding jaw"
        right = self.above_px(np.array([[radius, radius]]))[0]
        sketch.words(axes, (left + 6, base - 32), words[0], color=look.CALIPERS)
        sketch.words(axes, (left - 8, right[1] + 14), words[1], color=look.CALIPERS)
        sketch.words(axes, (right[0] - 8, right[1] + 14), words[2], color=look.CALIPERS)
        self._scale_bar(axes, (self.ABOVE_PX[0], 26))

    def _side(self, axes: Any) -> None:
        from matplotlib.patches import Polygon

        sketch.title(axes, (446, 402), "From the side")
        x, y = self.SIDE_PX
        scale = self.SIDE_PX_PER_CM
        half = scale * self.diameter_cm / 2
        low, high = 46.0, 376.0
        wood = [(x - half, low), (x - half, high), (x + half, high), (x + half, low)]
        axes.add_patch(Polygon(wood, fc=look.WOOD, lw=0))
        for edge in (x - half, x + half):
            axes.plot([edge, edge], [low, high], color=look.BARK, lw=1.8)
        axes.plot([x - half - 64, x + half + 88], [y, y], color=look.QUIET, lw=1, ls=(0, (8, 4)))
        sketch.words(axes, (x - half - 64, y + 30), "square", color=look.QUIET)
        slope = np.radians(self.calipers.beam_slope_deg)
        along = np.array([np.cos(slope), np.sin(slope)])
        square = np.array([-along[1], along[0]])
        middle = np.array([x, y])
        reach = half / np.cos(slope)
        sketch.bar(axes, tuple(middle - (reach + 16) * along), tuple(middle + (reach + 70) * along))
        for side in (-1, 1):
            jaw = middle + side * (reach + self.HALF_BAR_PX) * along
            sketch.bar(axes, tuple(jaw - 14 * square), tuple(jaw + 14 * square))
        self._scale_bar(axes, (x, 26))

    def _scale_bar(self, axes: Any, place_px: tuple[float, float]) -> None:
        x, y = place_px
        bar = 10 * self.ABOVE_PX_PER_CM
        axes.plot([x - bar / 2, x + bar / 2], [y, y], color=look.TRUTH, lw=2)
        sketch.words(axes, (x + bar / 2 + 8, y), "10 cm")

    def _words(self) -> str:
        """What is drawn, as places and angles; what is the matter with it is not said."""
        rise = self.diameter_cm / 2 * np.tan(np.radians(self.calipers.beam_slope_deg))
        places = [
            f"{abs(at):.1f} cm {'above' if at > 0 else 'below'} the dashed line"
            if abs(at) > 0.05
            else "on the dashed line"
            for at in (-rise, rise)
        ]
        return (
            f"Two drawings of calipers on a round stem, {self.diameter_cm:g} cm thick. From above, "
            "the beam touches the stem; the fixed jaw stands at 90.0° to it and the sliding jaw at "
            f"{90 + self.calipers.jaw_lean_deg:.1f}°; their feet on the beam are "
            f"{self.foot_cm + self.diameter_cm / 2:.1f} cm apart. From the side, a dashed line is "
            f"square to the stem; the beam crosses the left edge of the stem {places[0]} and the "
            f"right edge {places[1]}."
        )
