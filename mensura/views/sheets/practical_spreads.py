"""A practical's pictures of spread: tapes against calipers, and each hand's cells by Mandel.

Nothing here decides: lines say from where on chance alone is an unlikely reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.agreement import Agreement
from mensura.estimates.practical import InstrumentPrecision, TapesAndCalipers
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.sheets.practical_pictures import code, thinned
from mensura.written import signed

#: A chart of Mandel's has so many hands at most.
MOST_HANDS = 32


class DifferencesPicture(Picture[None]):
    """Tape less calipers against the mean of both, with the limits of agreement.

    found: tapes against calipers.
    """

    width_px, height_px = 400, 290

    def __init__(self, found: TapesAndCalipers) -> None:
        super().__init__()
        self.found = found

    def draw(self, figure: Any) -> None:
        """The chart on `figure`; nothing moves."""
        one: Agreement = self.found.single
        mean = np.asarray(self.found.mean_cm, dtype=np.float64)
        apart = np.asarray(self.found.difference_cm, dtype=np.float64)
        ends = [*one.lower_interval_cm, *one.upper_interval_cm]
        reach = 1.12 * max(float(np.percentile(np.abs(apart), 99)), *map(abs, ends), 0.05)
        edge = 0.05 * float(np.ptp(mean)) + 0.5
        axes = look.place(figure, 62, 46, 232, 230)
        axes.set(xlim=(mean.min() - edge, mean.max() + edge), ylim=(-reach, reach))
        axes.set_xlabel("mean of both, cm", labelpad=1)
        axes.set_ylabel("tape less calipers, cm")
        axes.axhline(0, color=look.GRID, lw=1.2)
        some = thinned(mean.size)
        mean, apart = mean[some], apart[some]
        inside = np.abs(apart) <= reach
        axes.plot(mean[inside], apart[inside], ls="", marker="D", ms=4, mfc="none",
                  mec=look.QUIET, mew=1.1)  # fmt: skip
        for side, way in ((apart > reach, "^"), (apart < -reach, "v")):
            at = np.full(int(side.sum()), reach if way == "^" else -reach)
            axes.plot(mean[side], at, ls="", marker=way, ms=7, color=look.QUIET, clip_on=False)
        rows = (
            ("upper", one.upper_cm, one.upper_interval_cm, (0, (5, 3))),
            ("mean", one.mean_cm, one.mean_interval_cm, "-"),
            ("lower", one.lower_cm, one.lower_interval_cm, (0, (5, 3))),
        )
        apart_px = 230 / (2 * reach)
        for (name, value, between, dashes), up in zip(rows, _spaced(rows, apart_px), strict=True):
            axes.axhline(value, color=look.TRUTH, lw=1.6, ls=dashes)
            axes.plot([1.025, 1.025], between, transform=axes.get_yaxis_transform(), lw=3,
                      color=look.TRUTH, clip_on=False, solid_capstyle="butt")  # fmt: skip
            axes.text(1.055, up, f"{name} {signed(value)}",
                      transform=axes.get_yaxis_transform(), va="center")  # fmt: skip

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The chart in words; `numbers` is None."""
        one = self.found.single
        return (
            f"Tape less calipers, as diameters, against the mean of both: "
            f"{np.size(self.found.mean_cm)} differences on {one.stems} stems. Mean "
            f"{signed(one.mean_cm)} cm, limits of agreement {signed(one.lower_cm)} and "
            f"{signed(one.upper_cm)} cm."
        )


def _spaced(rows: Sequence[tuple[Any, ...]], px_each_cm: float) -> list[float]:
    """Heights of three words beside their lines, so far apart that none touches another."""
    upper, middle, lower = (float(row[1]) for row in rows)
    least = 17 / px_each_cm
    return [max(upper, middle + least), middle, min(lower, middle - least)]


def mandel_pictures(precision: Sequence[InstrumentPrecision]) -> list[Picture[None]]:
    """A picture of each instrument whose cells tell something.

    precision: of the instruments.
    """
    return [
        MandelPicture(one)
        for one in precision
        if one.mandel is not None
        and one.table is not None
        and len(one.hand_codes) <= MOST_HANDS
        and np.isfinite(one.mandel.h).any()
    ]


class MandelPicture(Picture[None]):
    """Mandel's h and k of one instrument's cells, a row a hand, a mark a stem.

    found: precision of the instrument, with its cells.
    """

    width_px = 400
    LEFT, ROW, FOOT, HEAD = 88, 20, 46, 30

    def __init__(self, found: InstrumentPrecision) -> None:
        super().__init__()
        self.found = found
        self.height_px = self.FOOT + self.ROW * len(found.hand_codes) + self.HEAD

    def draw(self, figure: Any) -> None:
        """Both charts on `figure`; nothing moves."""
        found = self.found
        assert found.mandel is not None
        assert found.table is not None
        told, rows = found.mandel, len(found.hand_codes)
        tapes = found.kind == "girth"
        how = {"marker": "o" if tapes else "s", "mec": look.TAPE if tapes else look.CALIPERS}
        some = thinned(told.h.size)
        high = self.ROW * rows
        for left, name, values, first, last in (
            (self.LEFT, "h: mean off the others", told.h, told.h_straggler, told.h_outlier),
            (self.LEFT + 160, "k: repeats scatter", told.k, told.k_straggler, told.k_outlier),
        ):
            axes = look.place(figure, left, self.FOOT, 142, high)
            axes.set(ylim=(rows - 0.5, -0.5), yticks=[])
            axes.spines["left"].set_visible(False)
            axes.set_xlabel(name, labelpad=1)
            axes.hlines(range(rows), 0, 1, transform=axes.get_yaxis_transform(), lw=0.8,
                        colors=look.GRID)  # fmt: skip
            limits = [_same(one) for one in (first, last)]
            ends = [*np.abs(values[np.isfinite(values)]), *(v for v in limits if np.isfinite(v))]
            reach = 1.1 * max(ends, default=1.0)
            signs = (-1, 1) if name.startswith("h") else (1,)
            axes.set_xlim(-reach if len(signs) > 1 else 0, reach)
            axes.locator_params(axis="x", nbins=5)
            for limit, dashes in zip(limits, ((0, (5, 3)), "-"), strict=True):
                for sign in signs:
                    axes.axvline(sign * limit, color=look.QUIET, lw=1.2, ls=dashes)
            with np.errstate(invalid="ignore"):
                beyond = np.abs(values) > first
            for filled in (False, True):
                at = some[beyond[some] == filled]
                fill = how["mec"] if filled else "none"
                axes.plot(values[at], found.table.hand[at], ls="", ms=4.5, mfc=fill, mew=1.1,
                          **how)  # fmt: skip
            if left == self.LEFT:
                axes.text(-self.LEFT / 142 + 0.02, 1 + 0.5 * self.HEAD / high,
                          code(found.instrument), transform=axes.transAxes, va="center",
                          fontweight="bold", parse_math=False)  # fmt: skip
                for at, hand in enumerate(found.hand_codes):
                    axes.text(-0.05, at, code(hand), transform=axes.get_yaxis_transform(),
                              ha="right", va="center", parse_math=False)  # fmt: skip

    def show(self, numbers: None) -> None:
        """Nothing moves; `numbers` is None."""

    def describe(self, numbers: None) -> str:
        """The charts in words; `numbers` is None."""
        found = self.found
        assert found.mandel is not None
        assert found.table is not None
        told = found.mandel
        with np.errstate(invalid="ignore"):
            far = np.abs(told.h) > told.h_straggler, told.k > told.k_straggler
        said = []
        for beyond, what in zip(far, ("mean", "scatter"), strict=True):
            hands = np.bincount(found.table.hand[beyond], minlength=len(found.hand_codes))
            most = int(hands.argmax())
            some = f", most by {found.hand_codes[most]} ({hands[most]})" if hands.any() else ""
            said.append(f"{int(beyond.sum())} of {told.h.size} cells by their {what}{some}")
        return (
            f"Mandel's h and k with {found.instrument}, a row a hand and a mark a stem; beyond "
            f"the line for stragglers: {said[0]}; {said[1]}."
        )


def _same(limits: FloatArray) -> float:
    """The critical value where nearly all cells have one and the same; else nan, and no line."""
    told = limits[np.isfinite(limits)]
    if not told.size:
        return float("nan")
    middle = float(np.median(told))
    return middle if np.mean(np.abs(told - middle) < 0.005 * middle) > 0.9 else float("nan")
