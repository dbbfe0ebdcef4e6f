"""What touches the bark: calipers at two points and the beam's third, a tape nearly all round.

The section is invented: an oval stem with a bump on the side away from the hand. From where the
hand stands the bump cannot be seen, and it holds the jaw off.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.instruments.calipers import Calipers
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import Ellipse
from mensura.stems.shapes import with_bump
from mensura.stems.sight import out_of_view
from mensura.views.kit import look
from mensura.views.kit.live import Picture, Still, draw_still
from mensura.views.kit.parts import Part, part
from mensura.written import signed

#: The invented stem without its bump; how high the bump is, where it stands, and how wide it is.
OVAL = Ellipse(40, 36)
BUMP_CM, BUMP_DEG, BUMP_WIDE_DEG = 2.2, 13.0, 5.0

#: Where the hand stands, below the stem, in cm from its middle.
EYE_CM = (0.0, -46.0)


class ContactPicture(Picture[None]):
    """Left the calipers and what they touch, right the taut tape and what it touches."""

    width_px = 860
    height_px = 418

    UP_CM = (-27.0, 20.0)

    def __init__(self) -> None:
        super().__init__()
        self.smooth, self.stem = (
            with_bump(OVAL, high_cm, BUMP_DEG, BUMP_WIDE_DEG) for high_cm in (0.0, BUMP_CM)
        )
        self.edge = self.stem.outline_cm()
        self.hidden = out_of_view(self.edge, EYE_CM)
        self.read_cm = float(Calipers().read(self.stem, [0])[0])
        self.without_cm = float(Calipers().read(self.smooth, [0])[0])
        self.girth_cm = float(Tape().read(self.stem).reading_cm)
        self.smooth_girth_cm = float(Tape().read(self.smooth).reading_cm)

    def draw(self, figure: Any) -> None:
        """Both drawings on `figure`; nothing moves."""
        for left_px, title, draw in (
            (10, "Calipers: points", self._calipers),
            (440, "Tape: nearly the whole way round", self._tape),
        ):
            axes = look.place(figure, left_px, 66, 410, 322)
            axes.set(xlim=(-29.9, 29.9), ylim=self.UP_CM, aspect="equal")
            axes.axis("off")
            axes.fill(*self.edge.T, fc=look.WOOD, ec=look.TRUTH, lw=1.3)
            lines = draw(axes)
            figure.text(
                left_px / self.width_px,
                402 / self.height_px,
                title,
                fontweight="bold",
                va="center_baseline",
            )
            for row, line in enumerate(lines):
                figure.text(
                    left_px / self.width_px,
                    (44 - 24 * row) / self.height_px,
                    line,
                    va="center_baseline",
                )

    def parts(self) -> tuple[Part, ...]:
        """Calipers, and tape."""
        calipers, tape = self.whole.cut_x(430)
        return part("calipers", calipers), part("tape", tape)

    def _calipers(self, axes: Any) -> list[str]:
        x, y = self.edge.T
        left, right, low = x.argmin(), x.argmax(), y.argmin()
        bar = {"color": look.CALIPERS, "solid_capstyle": "butt"}
        base = y[low] - 0.6
        for side in (x[left] - 0.6, x[right] + 0.6):
            axes.plot([side, side], [base, 19], lw=6, **bar)
        axes.plot([x[left] - 2.5, x[right] + 4.5], [base, base], lw=8, **bar)
        hidden = np.where(self.hidden, 1.0, np.nan)
        axes.plot(x * hidden, y * hidden, color=look.QUIET, lw=4, ls=(0, (1, 1)))
        for touch in (left, right, low):
            seen = not self.hidden[touch]
            axes.plot(
                x[touch], y[touch], ls="", marker="D", ms=10, mew=2, mec=look.TRUTH, zorder=5,
                mfc=look.TRUTH if seen else "white",
            )  # fmt: skip
        axes.plot([-13, -9], [5.5, 5.5], color=look.QUIET, lw=4, ls=(0, (1, 1)))
        axes.text(-7.8, 5.5, "out of the hand's view", va="center_baseline")
        axes.plot([-11], [1], ls="", marker="D", ms=10, mew=2, mec=look.TRUTH, mfc=look.TRUTH)
        axes.text(-7.8, 1, "touches, seen", va="center_baseline")
        axes.plot([-11], [-3.5], ls="", marker="D", ms=10, mew=2, mec=look.TRUTH, mfc="white")
        axes.text(-7.8, -3.5, "touches, not seen", va="center_baseline")
        axes.plot([-12], [-25.5], ls="", marker="^", ms=11, color=look.QUIET)
        axes.text(-9.8, -25.5, "the hand stands on this side", va="center_baseline")
        share = 100 * (self.read_cm / self.without_cm - 1)
        return [
            f"reads {self.read_cm:.2f} cm, without the bump {self.without_cm:.2f} cm:",
            f"width {signed(share)} %, and the hand sees no cause",
        ]

    def _tape(self, axes: Any) -> list[str]:
        hull = np.vstack([self.stem.hull_cm, self.stem.hull_cm[:1]])
        away = hull * (1 + 0.35 / np.hypot(*hull.T))[:, None]
        axes.plot(*away.T, color=look.TAPE, lw=3)
        step = np.hypot(*np.diff(hull, axis=0).T)
        # the edge's own points lie close together; a long side of the hull lies on no bark
        long = step > 3 * np.median(step)
        bridged = np.vstack(
            [np.vstack([away[k], away[k + 1], [np.nan, np.nan]]) for k in np.flatnonzero(long)]
        )
        gaps = {"color": "white", "lw": 3.4, "ls": (0, (0.8, 0.8)), "dash_capstyle": "butt"}
        axes.plot(*bridged.T, **gaps)
        for up, words, bridges in ((3.0, "taut tape", False), (-1.5, "off the bark", True)):
            axes.plot([-14, -9], [up, up], color=look.TAPE, lw=3)
            if bridges:
                axes.plot([-14, -9], [up, up], **{**gaps, "color": look.WOOD})
            axes.text(-7.8, up, words, va="center_baseline")
        share = 100 * (self.girth_cm / self.smooth_girth_cm - 1)
        return [
            f"reads {self.girth_cm:.2f} cm, without the bump {self.smooth_girth_cm:.2f} cm:",
            f"girth {signed(share)} %, and the hand has walked past the cause",
        ]

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The picture in words; `numbers` is None."""
        return (
            "Two drawings of the same invented stem with a bump on the side away from the hand. "
            "Left, calipers touch it at two points and with the beam; one jaw rests on the bump, "
            f"out of the hand's view, and they read {self.read_cm:.2f} cm instead of "
            f"{self.without_cm:.2f} cm. Right, a taut tape lies on the bark nearly all the way "
            "round and leaves it only on both sides of the bump; it reads "
            f"{self.girth_cm:.2f} cm instead of {self.smooth_girth_cm:.2f} cm."
        )


def points_and_girth() -> Still:
    """Two points of contact against a whole girth, and a contact that the hand cannot see.

    >>> points_and_girth().width_px
    860
    """
    return draw_still(ContactPicture(), None)
