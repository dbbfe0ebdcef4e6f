"""The proof in charts: overestimation against the axis ratio, against the turn, and by chance."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.estimates.out_of_round import (
    Scatter,
    calipers_limit_deg,
    classroom_over_percent,
    scatters,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.teaching.panels.proof import ProofShown
from mensura.views.kit import look
from mensura.views.kit.parts import Part, part
from mensura.views.proof.drawings import BIG_PT, ProofPicture, TallPicture
from mensura.written import signed

#: Axis ratios of the curves; the controls' half-axes reach down to a quarter.
RATIOS = np.linspace(0.25, 1.0, 151)
TURNS_DEG = np.linspace(0.0, 90.0, 181)


class CurvePicture(ProofPicture):
    """What the tape overestimates: its bounds, its leading term, and the classroom's claim."""

    #: (name, share of the classroom's claim, colour, style, width)
    LINES: tuple[tuple[str, float, str, Any, float], ...] = (
        ("classroom, (a − b)²/(2ab): upper bound", 1.0, look.CLASSROOM, (0, (5, 2)), 3.0),
        ("leading term, ⅜ (a − b)²/(ab)", 0.75, look.TRUTH, (0, (1, 1.5)), 2.2),
        ("lower bound, (a − b)²/(4ab)", 0.5, look.CALIPERS, (0, (6, 1.5, 1.5, 1.5)), 2.2),
    )

    def draw(self, figure: Any) -> None:
        """All curves and their key on `figure`; then the marks that move along them."""
        left = look.place(figure, 66, 44, 224, 236)
        right = look.place(figure, 372, 44, 224, 236)
        left.set(xlim=(0.25, 1.0), ylim=(0, 120))
        right.set(xlim=(0.25, 1.0), ylim=(0, 1.19))
        left.set_yticks(range(0, 121, 20))
        right.set_yticks([0, 0.25, 0.5, 0.75, 1.0])
        for axes in (left, right):
            axes.set_xticks([0.25, 0.5, 0.75, 1.0])
            axes.set_xlabel("shorter over longer axis", labelpad=1)
            axes.grid(True)
            axes.set_axisbelow(True)
        left.set_ylabel("area too large, %")
        right.set_ylabel("÷ classroom's claim")
        claim, exact = classroom_over_percent(RATIOS), tape_over_percent(RATIOS)
        # at the circle both are nothing: there the share is the limit, three quarters
        share = np.append(exact[:-1] / claim[:-1], 0.75)
        for axes, scale, curve in ((left, claim, exact), (right, np.ones_like(claim), share)):
            axes.plot(RATIOS, curve, color=look.TAPE, lw=3)
            for _, of_claim, colour, style, width in self.LINES:
                axes.plot(RATIOS, of_claim * scale, color=colour, ls=style, lw=width)
        (self.left_line,) = left.plot([], [], color=look.TRUTH, lw=1, ls=(0, (1, 2)))
        (self.right_line,) = right.plot([], [], color=look.TRUTH, lw=1, ls=(0, (1, 2)))
        how: Any = {"ls": "", "marker": "v", "ms": 11, "color": look.TAPE, "mec": "white"}
        (self.left_mark,) = left.plot([], [], clip_on=False, **how)
        (self.right_mark,) = right.plot([], [], clip_on=False, **how)
        self.moving += [self.left_line, self.right_line, self.left_mark, self.right_mark]
        page = self.page(figure)
        rows = [("tape, exactly", 0.0, look.TAPE, "-", 3.0), *self.LINES]
        for row, (name, _, colour, style, width) in enumerate(rows):
            up = 402 - 26 * row
            page.plot([14, 56], [up, up], color=colour, ls=style, lw=width)
            page.text(66, up, name, va="center_baseline")
        self.word = page.text(290, 298, "", ha="right", va="center_baseline", fontsize=BIG_PT)
        self.moving.append(self.word)

    def parts(self) -> tuple[Part, ...]:
        """The two charts, each with the key."""
        key, charts = self.whole.cut_y(312)
        keyed = key.cut_x(420)[0]
        left, right = charts.cut_x(306)
        return part("too large", keyed, left), part("share", keyed, right)

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        ratio = numbers.axis_ratio
        over, share = _over(ratio)
        self.left_line.set_data([ratio, ratio], [0, 120])
        self.right_line.set_data([ratio, ratio], [0, 1.19])
        self.left_mark.set_data([ratio], [over])
        self.right_mark.set_data([ratio], [share])
        self.word.set_text(f"{signed(over)} % at {ratio:.3f}")

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        ratio = numbers.axis_ratio
        over, share = _over(ratio)
        claim = float(classroom_over_percent(ratio))
        return (
            f"Two charts against the axis ratio, marked at {ratio:.3f}. Left, the area too large "
            f"in per cent: the tape exactly {signed(over)} %, between the lower bound "
            f"{signed(claim / 2)} % and the classroom's claim {signed(claim)} %; the leading term "
            f"gives {signed(0.75 * claim)} %. Right, the same over the classroom's claim: the "
            f"tape stands at {share:.3f} of it, near three quarters all along."
        )


def _over(ratio: float) -> tuple[float, float]:
    """The tape's overestimation in per cent, and its share of the classroom's claim."""
    over, claim = float(tape_over_percent(ratio)), float(classroom_over_percent(ratio))
    # close to a circle both are nothing, and their quotient is rounding alone
    return over, over / claim if claim > 1e-6 else 0.75


class TurnPicture(TallPicture):
    """Two calipers turned off the axes: their error over the tape's, and where it passes it."""

    #: Each mean: (name, colour's line style, mark, where its limit is written)
    MEANS: tuple[tuple[str, str, Any, str, tuple[str, float, float]], ...] = (
        ("arithmetic", "two, their mean", "-", "s", ("right", -3.0, 1.19)),
        ("geometric", "two, their product", (0, (6, 1.5, 1.5, 1.5)), "D", ("left", 3.0, 0.7)),
    )

    def draw(self, figure: Any) -> None:
        """Ground and words on `figure`, then the moving artists."""
        axes = look.place(figure, 66, 46, 398, 200)
        axes.set(xlim=(0, 90), ylim=(0, 1.6))
        axes.set_xticks(range(0, 91, 15))
        axes.set_yticks([0, 0.5, 1, 1.5])
        axes.set_xlabel("calipers turned off the first axis, °", labelpad=1)
        axes.set_ylabel("area error ÷ tape's error")
        axes.grid(True)
        axes.set_axisbelow(True)
        axes.axhline(1, color=look.TAPE, lw=3)
        how = {"ha": "center", "va": "center"}
        axes.text(45, 1.49, "above: the tape is nearer", color=look.TAPE_WORD, **how)
        axes.text(45, 0.1, "below: the calipers are nearer", color=look.CALIPERS, **how)
        self.curves, self.limits, self.here = [], [], []
        (self.turn,) = axes.plot([], [], color=look.TRUTH, lw=1.4, ls=(0, (1, 2)))
        self.moving.append(self.turn)
        for _, _, style, mark, (side, _, up) in self.MEANS:
            (curve,) = axes.plot([], [], color=look.CALIPERS, lw=2.6, ls=style)
            (dots,) = axes.plot([], [], ls="", marker="o", ms=9, mfc="white", mec=look.TRUTH)
            (here,) = axes.plot(
                [], [], ls="", marker=mark, ms=10, color=look.CALIPERS, mec="white", clip_on=False
            )
            word = axes.text(0, up, "", ha=side, va="center", fontsize=BIG_PT)
            word.set_bbox({"fc": "white", "ec": "none", "alpha": 0.85, "pad": 1})
            self.curves.append(curve)
            self.limits.append((dots, word))
            self.here.append(here)
            self.moving += [curve, dots, here, word]
        page = self.page(figure)
        for (_, name, style, mark, _), across in zip(self.MEANS, (14, 188), strict=True):
            page.plot([across, across + 36], [318, 318], color=look.CALIPERS, lw=2.6, ls=style)
            page.plot(across + 18, 318, marker=mark, ms=10, color=look.CALIPERS, mec="white")
            page.text(across + 44, 318, name, va="center_baseline")
        page.plot([376, 412], [318, 318], color=look.TAPE, lw=3)
        page.text(420, 318, "tape", va="center_baseline")
        self.word = page.text(14, 284, "", va="center_baseline")
        self.moving.append(self.word)

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        n = numbers
        tape = float(tape_over_percent(n.axis_ratio))
        oval = n.axis_ratio < 1
        self.turn.set_data([n.turn_deg] * 2, [0, 1.4])
        shares = []
        for (mean, _, _, _, (_, right, _)), curve, (dots, word), here in zip(
            self.MEANS, self.curves, self.limits, self.here, strict=True
        ):
            for artist in (curve, dots, word, here):
                artist.set_visible(oval)
            if not oval:
                continue
            curve.set_data(
                TURNS_DEG, two_readings_over_percent(n.axis_ratio, TURNS_DEG, mean) / tape
            )
            limit = float(calipers_limit_deg(2 * n.a_cm, 2 * n.b_cm, mean))
            dots.set_data([limit, 90 - limit], [1, 1])
            word.set_text(f"{limit:.1f}°")
            word.set_x(limit + right)
            shares.append(float(two_readings_over_percent(n.axis_ratio, n.turn_deg, mean)))
            here.set_data([n.turn_deg], [shares[-1] / tape])
        self.word.set_text(
            f"At {n.turn_deg:g}°: mean {signed(shares[0])} %, product {signed(shares[1])} %, "
            f"tape {signed(tape)} %"
            if oval
            else "A circle: no direction differs, and nobody is wrong."
        )

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        if n.axis_ratio == 1:
            return "A chart of the calipers' error over the tape's. A circle: nobody is wrong."
        limits = [
            float(calipers_limit_deg(2 * n.a_cm, 2 * n.b_cm, mean)) for mean, *_ in self.MEANS
        ]
        errors = [
            float(two_readings_over_percent(n.axis_ratio, n.turn_deg, mean))
            for mean, *_ in self.MEANS
        ]
        return (
            "A chart of the error of two calipers at right angles over the tape's, against their "
            f"turn off the axes. At {n.turn_deg:g}° their mean is {signed(errors[0])} % off and "
            f"their product {signed(errors[1])} %; the tape "
            f"{signed(float(tape_over_percent(n.axis_ratio)))} %. The tape becomes nearer than "
            f"the mean at {limits[0]:.1f}°, than the product at {limits[1]:.1f}°."
        )


class RandomPicture(TallPicture):
    """Four ways of measuring with the direction left to chance: bias as a mark, scatter as a bar.

    The scale follows the stem: its numbers move, its lines stay.
    """

    STYLES = (("o", look.CALIPERS), ("s", look.CALIPERS), ("D", look.CALIPERS), ("v", look.TAPE))
    #: Scales to choose from, in per cent: half the width of the chart.
    SCALES_PERCENT = (0.2, 0.5, 1, 2, 5, 10, 20, 30, 50, 100, 150, 250, 500)

    def draw(self, figure: Any) -> None:
        """Names, columns and lines on `figure`, then the moving artists."""
        page = self.page(figure)
        self.rows_px = [224 - 48 * row for row in range(4)]
        self.middle_px, self.half_px = 222.0, 78.0
        for share in (-1, -0.5, 0, 0.5, 1):
            x = self.middle_px + share * self.half_px
            page.plot(
                [x, x],
                [60, 250],
                color=look.TRUTH if share == 0 else look.GRID,
                lw=1.4 if share == 0 else 1,
            )
        page.text(14, 320, "Calipers laid on in a direction left to chance:", va="center_baseline")
        page.text(14, 292, "bias (mark) and scatter (bar: one standard deviation)", va="center")
        names = [one.name for one in scatters(30, 24)]
        for name, up in zip(names, self.rows_px, strict=True):
            page.text(14, up, name, va="center_baseline")
        page.text(378, 258, "bias, %", ha="right", va="center_baseline")
        page.text(470, 258, "scatter, %", ha="right", va="center_baseline")
        page.text(self.middle_px, 16, "area too large, %", ha="center", va="center_baseline")
        from matplotlib.collections import LineCollection

        self.bars = LineCollection([], colors=[c for _, c in self.STYLES], linewidths=5)
        page.add_collection(self.bars, autolim=False)
        self.marks = [
            page.plot([], [], ls="", marker=mark, ms=12, color=colour, mec="white")[0]
            for mark, colour in self.STYLES
        ]
        self.ticks = [
            page.text(self.middle_px + share * self.half_px, 42, "", ha="center", va="center")
            for share in (-1, 0, 1)
        ]
        self.figures = [
            (
                page.text(378, up, "", ha="right", va="center_baseline"),
                page.text(470, up, "", ha="right", va="center_baseline"),
            )
            for up in self.rows_px
        ]
        self.moving += [self.bars, *self.marks, *self.ticks]
        self.moving += [word for pair in self.figures for word in pair]

    def scale_percent(self, ways: tuple[Scatter, ...]) -> float:
        """Half the width of the chart, in per cent, so that every bar lies inside it.

        ways: what is shown.
        """
        most = max(abs(one.mean_percent) + one.spread_percent for one in ways)
        return float(next(scale for scale in self.SCALES_PERCENT if scale >= most))

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        ways = scatters(numbers.a_cm, numbers.b_cm)
        scale = self.scale_percent(ways)
        per_percent = self.half_px / scale
        segments = []
        for way, up, mark, (bias, spread) in zip(
            ways, self.rows_px, self.marks, self.figures, strict=True
        ):
            x = self.middle_px + way.mean_percent * per_percent
            reach = way.spread_percent * per_percent
            segments.append([(x - reach, up), (x + reach, up)])
            mark.set_data([x], [up])
            bias.set_text(signed(way.mean_percent))
            spread.set_text(f"{way.spread_percent:.2f}")
        self.bars.set_segments(segments)
        for word, share in zip(self.ticks, (-1, 0, 1), strict=True):
            word.set_text(f"{share * scale:+g}".replace("-", "−") if share else "0")

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        rows = "; ".join(
            f"{one.name}: bias {signed(one.mean_percent)} %, scatter {one.spread_percent:.2f} %"
            for one in scatters(numbers.a_cm, numbers.b_cm)
        )
        return (
            f"Errors of area on a stem with half-axes {numbers.a_cm:g} and {numbers.b_cm:g} cm, "
            f"the direction left to chance; a mark for the bias, a bar for the scatter. {rows}."
        )
