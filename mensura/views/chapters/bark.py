"""The bark panel: wood inside its bark, a tape on the ridges, and a gauge pushed into the bark.

Left, the section: wood, bark with its furrows, the tape, the gauge. Right above, a close-up where
the gauge stands: thick where the tape touches bark, thin where it bridges a furrow. Right below,
the diameters over and under bark, and what the area that the tape claims consists of.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.estimates.bark import (
    bark_factor,
)
from mensura.teaching.panels.bark import CONTROLS, EVEN, BarkShown, numbers
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.table import compared, row_html, table_html
from mensura.written import apart, signed


def _inwards(points_cm: FloatArray, by_cm: float) -> FloatArray:
    """Points moved towards the pith."""
    return points_cm * (1 - by_cm / np.hypot(points_cm[..., 0], points_cm[..., 1]))[..., None]


def _pieces(parts_cm: FloatArray) -> FloatArray:
    """Ends of pieces as one line with gaps, shape (m, 2); pieces that meet are one."""
    rows = np.concatenate([parts_cm, np.full((len(parts_cm), 1, 2), np.nan)], axis=1)
    kept = np.ones(rows.shape[:2], bool)
    meet = (parts_cm[1:, 0] == parts_cm[:-1, 1]).all(axis=1)
    kept[1:, 0], kept[:-1, 2] = ~meet, ~meet
    pieces: FloatArray = rows[kept]
    return pieces


class BarkPicture(Picture[BarkShown]):
    """The section, the close-up, the diameters, and what the claimed area holds."""

    width_px = 860
    height_px = 486
    looked_at = MappingProxyType({"gauge_deg": "close-up"})

    #: Half the width of ground round the stem; half the width, floor and top of the close-up, cm.
    REACH_CM = 31.0
    NEAR_CM = (6.9, -4.3, 0.9)
    #: Ends of the diameters' scale, cm.
    SCALE_CM = (20.0, 62.0)
    ROWS = ("tape over bark", "less twice the gauge", "wood, true")

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        self._draw_section(look.place(figure, 44, 64, 412, 412))
        self._draw_near(look.place(figure, 492, 322, 354, 133.46))
        self._draw_diameters(look.place(figure, 640, 168, 206, 84))
        self._draw_area(look.place(figure, 492, 44, 354, 26))

    def parts(self) -> tuple[Part, ...]:
        """The section, the close-up, the diameters, and the area."""
        section, right = self.whole.cut_x(459)
        near, diameters, area = right.cut_y(270, 112)
        return (
            part("stem", section),
            part("close-up", near),
            part("diameters", diameters),
            part("area", area),
        )

    def _layers(self, axes: Any) -> tuple[Any, ...]:
        """Bark, wood, tape, tape where it touches, gauge: the same in section and close-up."""
        from matplotlib.patches import Polygon

        nowhere = np.zeros((3, 2))
        bark = Polygon(nowhere, fc=look.BARK_FILL, ec=look.BARK, lw=1.4, closed=True)
        wood = Polygon(nowhere, fc=look.WOOD, ec=look.TRUTH, lw=1.4, closed=True)
        axes.add_patch(bark)
        axes.add_patch(wood)
        (tape,) = axes.plot([], [], color=look.TAPE, lw=1.6)
        (touch,) = axes.plot([], [], color=look.TAPE, lw=4.5, solid_capstyle="butt")
        (gauge,) = axes.plot([], [], color=look.TRUTH, lw=2.4, solid_capstyle="butt")
        (head,) = axes.plot([], [], ls="", marker="s", ms=7, color=look.TRUTH)
        layers = bark, wood, tape, touch, gauge, head
        self.moving += layers
        return layers

    def _draw_section(self, axes: Any) -> None:
        reach = self.REACH_CM
        axes.set(xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal")
        axes.set_xticks([-20, 0, 20])
        axes.set_yticks([-20, 0, 20])
        axes.set_xlabel("the stem from above, cm", labelpad=1)
        self.section = self._layers(axes)

    def _draw_near(self, axes: Any) -> None:
        wide, low, high = self.NEAR_CM
        axes.set(xlim=(-wide, wide), ylim=(low, high), aspect="equal")
        axes.set_xticks([-6, -4, -2, 0, 2, 4, 6])
        axes.set_yticks([-4, -2, 0])
        axes.set_xlabel("close-up where the gauge stands (square), cm", labelpad=1)
        axes.text(
            0,
            1.02,
            "tape: thick where it touches, thin where it bridges",
            va="bottom",
            transform=axes.transAxes,
        )
        self.near = self._layers(axes)

    def _draw_diameters(self, axes: Any) -> None:
        axes.set(xlim=self.SCALE_CM, ylim=(2.6, -0.6))
        axes.set_xticks(range(20, 61, 10))
        axes.set_yticks([0, 1, 2], self.ROWS)
        axes.tick_params(axis="y", length=0)
        axes.set_xlabel("diameter, cm", labelpad=1)
        axes.grid(True, axis="x")
        axes.set_axisbelow(True)
        axes.spines["left"].set_visible(False)
        (self.rail,) = axes.plot([], [], color=look.QUIET, lw=1, ls=(0, (2, 2)))
        (self.taped,) = axes.plot([], [], ls="", marker="v", ms=9, color=look.TAPE)
        (self.truth,) = axes.plot([], [], ls="", marker="o", ms=8, color=look.TRUTH)
        self.moving += [self.rail, self.taped, self.truth]

    def _draw_area(self, axes: Any) -> None:
        from matplotlib.patches import Rectangle

        axes.set(xlim=(0, 108), ylim=(0, 1))
        axes.set_xticks(range(0, 101, 20))
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        axes.set_xlabel("area that the tape over bark claims, %", labelpad=1)
        self.shares = []
        fills: list[tuple[float, str, dict[str, Any]]] = [
            (0, "wood", {"fc": look.WOOD}),
            (24, "bark", {"fc": look.BARK_FILL}),
            (46, "air, or taken for round", {"fc": "white", "hatch": "////"}),
        ]
        for start, name, how in fills:
            share = Rectangle((0, 0), 0, 1, ec=look.TRUTH, lw=1.2, **how)
            axes.add_patch(share)
            self.shares.append(share)
            key: dict[str, Any] = {"transform": axes.transAxes, "clip_on": False}
            axes.add_patch(
                Rectangle((start / 100, 1.2), 0.05, 0.5, ec=look.TRUTH, lw=1, **how, **key)
            )
            axes.text(start / 100 + 0.065, 1.45, name, va="center_baseline", **key)
        (self.claim,) = axes.plot([100, 100], [0, 1], color=look.TAPE, lw=3)
        self.moving += [*self.shares, self.claim]

    def show(self, numbers: BarkShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        self._show_layers(self.section, n, np.eye(2), np.zeros(2))
        right = np.array([n.gauge_out[1], -n.gauge_out[0]])
        top = n.gauge_at_cm + (n.bark_thickness_cm - n.gauge_cm) * n.gauge_out
        self._show_layers(self.near, n, np.array([right, n.gauge_out]), top)
        self.rail.set_data(
            [n.over_cm, n.under_cm, np.nan, n.wood_diameter_cm, n.wood_diameter_cm],
            [0, 1, np.nan, 1, 2],
        )
        self.taped.set_data([n.over_cm, n.under_cm], [0, 1])
        self.truth.set_data([n.wood_diameter_cm], [2])
        ends = 100 * np.array([0, n.wood_cm2, n.true_cm2, max(n.true_cm2, n.claimed_cm2)])
        ends /= n.claimed_cm2
        for share, start, end in zip(self.shares, ends, ends[1:], strict=False):
            share.set_x(start)
            share.set_width(end - start)

    @staticmethod
    def _show_layers(layers: tuple[Any, ...], n: BarkShown, turned: Any, origin: Any) -> None:
        bark, wood, tape, touch, gauge, head = layers

        def there(points_cm: FloatArray) -> FloatArray:
            placed: FloatArray = (points_cm - origin) @ turned.T
            return placed

        bark.set_xy(there(n.edge_cm))
        wood.set_xy(there(n.wood_cm))
        loop = np.vstack([n.hull_cm, n.hull_cm[:1]])
        tape.set_data(*there(_inwards(loop, n.press_cm)).T)
        touch.set_data(*there(_pieces(_inwards(n.touch_cm, n.press_cm))).T)
        needle = n.gauge_at_cm + np.outer([-n.gauge_cm, 0.6], n.gauge_out)
        gauge.set_data(*there(needle).T)
        head.set_data(*there(needle[1:]).T)

    def describe(self, numbers: BarkShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        return (
            f"A stem in bark {n.bark_thickness_cm:g} cm thick from ridge to wood, with a tape "
            f"round it, pressed in by {n.press_cm:g} cm. The tape touches "
            f"{n.touched_percent:.0f} % of the bark's edge. In the close-up a gauge finds "
            f"{n.gauge_cm:.2f} cm of bark. Diameters: tape over bark {n.over_cm:.2f} cm, less "
            f"twice the gauge {n.under_cm:.2f} cm, the wood truly {n.wood_diameter_cm:.2f} cm. Of "
            f"the area that the tape over bark claims {100 * n.wood_cm2 / n.claimed_cm2:.1f} % is "
            f"wood and {100 * (n.true_cm2 - n.wood_cm2) / n.claimed_cm2:.1f} % bark."
        )


def status(n: BarkShown) -> str:
    """One sentence: the diameter under bark as found from `n`, and how far off it is."""
    return (
        f"Tape {n.over_cm:.2f} cm less twice {n.gauge_cm:.2f} cm: {n.under_cm:.2f} cm under bark. "
        f"The wood has {n.wood_diameter_cm:.2f} cm: {apart(n.under_cm, n.wood_diameter_cm)} cm."
    )


def readout(n: BarkShown) -> str:
    """The table below the picture: over and under bark of `n`, found and true."""
    found_cm2 = float(area_from_girth_cm2(np.pi * n.under_cm))
    base_cm = n.wood_diameter_cm + 2 * n.bark_thickness_cm
    rows = (
        ("Diameter over bark, cm", n.over_cm, base_cm, 2),
        ("Diameter under bark, cm", n.under_cm, n.wood_diameter_cm, 2),
        ("Bark at the gauge and at the ridges, cm", n.gauge_cm, n.bark_thickness_cm, 2),
        ("Area, wood and bark, cm²", n.claimed_cm2, n.true_cm2, 1),
        ("Area, wood, cm²", found_cm2, n.wood_cm2, 1),
    )
    names = ("", "Found", "True", "Off by", "Off by, %")
    body = ""
    for name, found, base, digits in rows:
        true, read, *off = compared(found, base, digits)
        body += row_html(name, read, true, *off)
    sold = float(over_percent(n.claimed_cm2, n.wood_cm2))
    factor = float(bark_factor(max(n.over_cm, n.under_cm), n.under_cm))
    return (
        table_html(names, body)
        + f"<p>The tape touches {n.touched_percent:.1f} % of the bark's edge (furrow walls count "
        f"as edge), and {n.on_bark_percent:.1f} % of the tape lies on bark; calipers touch two "
        f"points. Bark factor as found {factor:.4f}. Who takes the area over bark for wood claims "
        f"{signed(sold)} %.</p>"
        "<p>True diameters are those of a tape on the smooth line through the ridge tops, and on "
        "the wood. Assumed: the wood is a smooth oval, the gauge stops at the wood and stands "
        "square to it, rigid bark for the shares of contact; pressed in, the tape's way shrinks "
        "evenly. The bark is a made-up pattern.</p>"
    )


BARK_PANEL: Panel[BarkShown] = Panel(
    title="Bark",
    controls=CONTROLS,
    numbers=numbers,
    picture=BarkPicture,
    readout=readout,
    status=status,
    presets={
        "Even bark": EVEN,
        "Gauge in a furrow": {"gauge_deg": 36.5, "ridges": 24, "furrow_percent": 70.0},
    },
    printed={"A soft, thick, even bark": EVEN | {"bark_thickness_cm": 4.0, "press_cm": 0.5}},
)
