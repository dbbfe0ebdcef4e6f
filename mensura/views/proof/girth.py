"""The girth of an ellipse in drawings: its two bounds, and the small steps that make it up."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.panels.proof import ProofShown
from mensura.teaching.proof.steps import SIDES_DEG
from mensura.views.kit import look
from mensura.views.kit.parts import WIDEST_PX, Part, part
from mensura.views.proof.drawings import BIG_PT, ProofPicture, TallPicture


class BoundsPicture(TallPicture):
    """The girth between its two bounds: on a tape's length, and between them magnified."""

    LEFT_PX, RIGHT_PX, LINE_PX = 70.0, 410.0, 146.0
    #: The tape's scale: from where to where it is drawn, and the girths at its ends.
    SCALE_PX, SCALE_CM = (30.0, 450.0), (60.0, 260.0)
    FOOT_PX = 264.0

    def draw(self, figure: Any) -> None:
        """The upper scale and the names on `figure`, then the moving artists."""
        left, right = self.SCALE_PX
        scale = look.place(figure, left, self.FOOT_PX, right - left, 34)
        scale.set(xlim=self.SCALE_CM, ylim=(0, 1))
        scale.spines[["left"]].set_visible(False)
        scale.set_yticks([])
        scale.set_xticks(range(60, 261, 40))
        scale.set_xlabel("girth, cm", labelpad=1)
        (self.on_scale,) = scale.plot([], [], color=look.TRUTH, lw=1.6)
        page = self.page(figure)
        page.text(30, 318, "All three on the scale of a tape:", va="center_baseline")
        (self.lens,) = page.plot([], [], color=look.QUIET, lw=1, ls=(0, (3, 3)))
        ends, up = (self.LEFT_PX, self.RIGHT_PX), self.LINE_PX
        page.plot(ends, [up, up], color=look.QUIET, lw=1.6)
        page.plot([ends[0]], [up], ls="", marker="<", ms=13, color=look.CALIPERS)
        page.plot([ends[1]], [up], ls="", marker="s", ms=11, color=look.CLASSROOM)
        (self.exact,) = page.plot([], [], ls="", marker="o", ms=13, color=look.TAPE)
        page.text(240, 172, "magnified", ha="center", va="center_baseline")
        how = {"ha": "center", "va": "center_baseline", "fontsize": BIG_PT}
        page.text(ends[0] - 6, 110, "π(a + b)", **how)
        page.text(ends[1] - 16, 110, "2π√((a² + b²)/2)", **how)
        page.text(240, 74, "girth P, exactly", **how, color=look.TAPE_WORD)
        self.values = [
            page.text(x, y, "", **how)
            for x, y in ((ends[0] - 6, 84), (ends[1] - 16, 84), (240, 48))
        ]
        (self.stalk,) = page.plot([], [], color=look.TAPE, lw=1.6)
        self.word = page.text(240, 16, "", ha="center", va="center_baseline")
        self.moving += [self.on_scale, self.lens, self.stalk, self.exact, *self.values, self.word]

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        n = numbers
        low, high, girth = n.inner_cm, n.outer_cm, float(n.stem.taut_girth_cm)
        part = _between(low, girth, high)
        marks = [value for each in (low, girth, high) for value in (each, each, np.nan)]
        self.on_scale.set_data(marks, [0, 1, np.nan] * 3)
        at_px = np.interp([low, high], self.SCALE_CM, self.SCALE_PX)
        up, foot = self.LINE_PX, self.FOOT_PX - 44
        self.lens.set_data(
            [at_px[0], self.LEFT_PX, np.nan, at_px[1], self.RIGHT_PX],
            [foot, up + 12, np.nan, foot, up + 12],
        )
        x = self.LEFT_PX + part * (self.RIGHT_PX - self.LEFT_PX)
        self.exact.set_data([x], [up])
        self.stalk.set_data([x, 240], [up - 12, 90])
        for word, value in zip(self.values, (low, high, girth), strict=True):
            word.set_text(f"{value:.2f} cm")
        self.word.set_text(
            f"From bound to bound: {high - low:.2f} cm; P lies at {100 * part:.0f} % of the way."
            if high - low > 1e-9
            else "A circle: all three are the same."
        )

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        return (
            f"On a scale of girth stand π(a + b) = {n.inner_cm:.2f} cm, the girth itself "
            f"P = {float(n.stem.taut_girth_cm):.2f} cm, and 2π√((a² + b²)/2) = {n.outer_cm:.2f} "
            "cm. Below, the stretch between the two bounds magnified: P lies at "
            f"{100 * _between(n.inner_cm, float(n.stem.taut_girth_cm), n.outer_cm):.0f} % of it."
        )


def _between(low: float, value: float, high: float) -> float:
    """Where a value lies between two bounds, from 0 to 1; the middle where they are one."""
    return 0.5 if high - low <= 1e-9 else float(np.clip((value - low) / (high - low), 0, 1))


class ArcPicture(ProofPicture):
    """A small step along the quarter of an ellipse, and the length of all such steps."""

    #: Where the small step stands, and how long it is, in degrees of t.
    FROM_DEG, TO_DEG = SIDES_DEG - 7, SIDES_DEG + 7

    def draw(self, figure: Any) -> None:
        """Both grounds on `figure`, then the moving artists."""
        arc = look.place(figure, 46, 90, 250, 250)
        arc.set(xlim=(0, 44), ylim=(0, 44), aspect="equal")
        arc.set_xticks(range(0, 41, 10))
        arc.set_yticks(range(0, 41, 10))
        arc.set_xlabel("cm", labelpad=1)
        (self.edge,) = arc.plot([], [], color=look.TAPE, lw=2.6)
        (self.legs,) = arc.plot([], [], color=look.TRUTH, lw=1.6, ls=(0, (3, 1.5)))
        (self.small,) = arc.plot([], [], color=look.TRUTH, lw=3.4, marker="o", ms=5)
        self.small_name = arc.text(0, 0, "ds", fontsize=BIG_PT, ha="right", va="top")
        chart = look.place(figure, 362, 90, 240, 250)
        chart.set(xlim=(0, 90), ylim=(0, 48))
        chart.set_xticks([0, 30, 60, 90])
        chart.set_yticks(range(0, 41, 10))
        chart.set_xlabel("t, degrees", labelpad=1)
        (self.over,) = chart.plot([], [], color=look.CLASSROOM, lw=2.8, ls=(0, (5, 2)))
        (self.speed,) = chart.plot([], [], color=look.TAPE, lw=3.4)
        (self.under,) = chart.plot([], [], color=look.CALIPERS, lw=2, ls=(0, (2, 1.4)))
        (self.here,) = chart.plot([], [], ls="", marker="o", ms=9, color=look.TRUTH)
        self.moving += [self.edge, self.legs, self.small, self.small_name]
        self.moving += [self.over, self.speed, self.under, self.here]
        page = self.page(figure)
        page.text(20, 398, "x = a cos t,  y = b sin t", va="center_baseline", fontsize=BIG_PT)
        page.text(20, 366, f"a small step ds at t = {SIDES_DEG:g}°", va="center_baseline")
        page.text(322, 398, "ds/dt, cm", va="center_baseline", fontsize=BIG_PT)
        page.text(322, 366, "the area under each is a quarter of", va="center_baseline")
        key = (
            (14, look.CALIPERS, (0, (2, 1.4)), 2.4, "π(a + b)"),
            (144, look.TAPE, "-", 2.6, "the girth P"),
            (290, look.CLASSROOM, (0, (5, 2)), 2.8, "2π√((a² + b²)/2)"),
        )
        for left, colour, style, width, name in key:
            page.plot([left, left + 28], [22, 22], color=colour, ls=style, lw=width)
            page.text(left + 34, 22, name, va="center_baseline", fontsize=BIG_PT)

    def parts(self) -> tuple[Part, ...]:
        """The arc, and the chart with its key."""
        top, key = self.whole.cut_y(44)
        arc, chart = top.cut_x(314)
        return part("step", arc), part("all steps", chart, key.cut_x(WIDEST_PX)[0])

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        a, b = numbers.a_cm, numbers.b_cm
        turn_deg = np.linspace(0, 90, 91)
        turn = np.radians(turn_deg)
        self.edge.set_data(a * np.cos(turn), b * np.sin(turn))
        step = np.radians([self.FROM_DEG, self.TO_DEG])
        x, y = a * np.cos(step), b * np.sin(step)
        self.small.set_data(x, y)
        self.legs.set_data([x[0], x[0], x[1]], [y[0], y[1], y[1]])
        self.small_name.set_position((x.mean() - 0.8, y.mean() + 0.2))
        speed = np.hypot(a * np.sin(turn), b * np.cos(turn))
        self.speed.set_data(turn_deg, speed)
        self.under.set_data(turn_deg, a * np.sin(turn) ** 2 + b * np.cos(turn) ** 2)
        self.over.set_data([0, 90], [np.sqrt((a * a + b * b) / 2)] * 2)
        self.here.set_data([SIDES_DEG], [np.interp(SIDES_DEG, turn_deg, speed)])

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        middle = float(np.sqrt((n.a_cm**2 + n.b_cm**2) / 2))
        return (
            f"A quarter of an ellipse with half-axes {n.a_cm:g} and {n.b_cm:g} cm, and on it a "
            "small step ds with its parts dx and dy. Beside it the step's length against the angle "
            f"t: it runs from {n.b_cm:g} to {n.a_cm:g} cm, never below a sin² t + b cos² t, and on "
            f"the average at most the level line at √((a² + b²)/2) = {middle:.2f} cm."
        )
