"""The proof in drawings: the stem with its tape, and the squares cut into strips.

What belongs to the tape is vermilion, what belongs to the calipers blue, in every one of them: the
two squares a² + b² are the tape's area, the two strips 2ab are the calipers', each times π/2.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.areas import area_from_girth_cm2
from mensura.teaching.panels.proof import ProofShown
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.parts import WIDEST_PX, Part, part

#: A formula is read from the back row.
BIG_PT = 14

#: The greatest half-axis that the controls allow, in cm.
MOST_CM = 40.0


class ProofPicture(Picture[ProofShown]):
    """A picture that stands beside the lines of a proof."""

    width_px = 620
    height_px = 420

    def page(self, figure: Any) -> Any:
        """Axes over all of `figure`, in shown pixels from its lower left corner."""
        axes = look.place(figure, 0, 0, self.width_px, self.height_px)
        axes.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        axes.axis("off")
        return axes


class TallPicture(ProofPicture):
    """One that is not to be parted: no wider than a phone's page can show it legibly."""

    width_px = WIDEST_PX
    height_px = 340


class StemPicture(ProofPicture):
    """The oval section with its half-axes, the tape round it, the calipers on it."""

    REACH_CM = 47.0
    #: The tape's area, as this road takes it.
    formula: tuple[str, ...] = ("tape's area =", "π(a² + b²)/2")

    @staticmethod
    def tape_cm2(n: ProofShown) -> float:
        """The tape's area on the stem of `n`."""
        return n.tape_cm2

    def draw(self, figure: Any) -> None:
        """The ground and the words that stay on `figure`, then the moving artists."""
        from matplotlib.patches import Ellipse as Oval

        axes = look.place(figure, 44, 44, 370, 370)
        reach = self.REACH_CM
        axes.set(xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal")
        axes.set_xticks([-40, -20, 0, 20, 40])
        axes.set_yticks([-40, -20, 0, 20, 40])
        axes.set_xlabel("the stem from above, cm", labelpad=1)
        self.wood = Oval((0, 0), 1, 1, fc=look.WOOD, ec=look.TRUTH, lw=1.4)
        axes.add_patch(self.wood)
        self.tape = Oval((0, 0), 1, 1, fill=False, ec=look.TAPE, lw=2.8)
        axes.add_patch(self.tape)
        (self.axes_line,) = axes.plot([], [], color=look.TRUTH, lw=1.6)
        (self.second,) = axes.plot([], [], color=look.CALIPERS, lw=2.4, ls=(0, (2, 1.4)))
        (self.jaws,) = axes.plot([], [], color=look.CALIPERS, lw=4, solid_capstyle="butt")
        self.first_name = axes.text(0, 0, "a", ha="center", va="top", fontsize=BIG_PT)
        self.second_name = axes.text(0, 0, "b", ha="left", va="center", fontsize=BIG_PT)
        self.moving += [self.wood, self.tape, self.second, self.jaws, self.axes_line]
        self.moving += [self.first_name, self.second_name]
        page = self.page(figure)
        self._words(page)

    def parts(self) -> tuple[Part, ...]:
        """The section, and what is said of both areas."""
        stem, words = self.whole.cut_x(421)
        return part("stem", stem), part("areas", words)

    def _words(self, page: Any) -> None:
        left = 430
        how = {"va": "center_baseline", "fontsize": BIG_PT}
        page.plot([left, left + 30], [388, 388], color=look.TAPE, lw=2.8)
        page.text(left + 38, 388, "tape", va="center_baseline")
        for row, line in enumerate(self.formula):
            page.text(left, 356 - 26 * row, line, **how)
        page.plot([left, left + 30], [262, 262], color=look.CALIPERS, lw=4, solid_capstyle="butt")
        page.text(left + 38, 262, "calipers on the axes", va="center_baseline")
        page.text(left, 230, "calipers' area = πab", **how)
        self.tape_word, self.calipers_word = (page.text(left, up, "", **how) for up in (304, 204))
        self.half_word = page.text(left, 134, "", va="center", linespacing=1.4)
        self.turn_word = page.text(left, 64, "", va="center", linespacing=1.4)
        self.moving += [self.tape_word, self.calipers_word, self.half_word, self.turn_word]

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        n = numbers
        a, b = n.a_cm, n.b_cm
        self.wood.set(width=2 * a, height=2 * b)
        # the band is drawn just outside the edge, so that both lines are seen
        self.tape.set(width=2 * a + 1.2, height=2 * b + 1.2)
        self.axes_line.set_data([a, 0, 0], [0, 0, b])
        self.first_name.set_position((a / 2, -0.4))
        self.second_name.set_position((0.9, b / 2))
        turn = np.radians(n.turn_deg)
        along = np.array([np.cos(turn), np.sin(turn)])
        square = np.array([-along[1], along[0]])
        self.jaws.set_data(*_jaws_cm(n, along, square, 9.0))
        self.second.set_data(*_jaws_cm(n, square, along, 9.0))
        self.tape_word.set_text(f"= {self.tape_cm2(n):.1f} cm²")
        self.calipers_word.set_text(f"= {n.calipers_cm2:.1f} cm²")
        self.half_word.set_text(f"half-axes:\na = {a:g} cm\nb = {b:g} cm")
        first, second = _widths_cm(n)
        turned = f"as they are turned, {n.turn_deg:g}°:\n{first:.1f} and {second:.1f} cm,"
        product = f"{turned}\nπ/4 × both: {np.pi / 4 * first * second:.1f} cm²"
        self.turn_word.set_text(product if n.turn_deg else "")

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        first, second = _widths_cm(n)
        return (
            f"An oval section with half-axes a = {n.a_cm:g} cm and b = {n.b_cm:g} cm, a tape round "
            f"it and calipers on it in two directions at right angles, turned {n.turn_deg:g}° off "
            f"the axes, which read {first:.1f} and {second:.1f} cm. {' '.join(self.formula)} = "
            f"{self.tape_cm2(n):.1f} cm²; calipers' area = πab = {n.calipers_cm2:.1f} cm²."
        )


def _widths_cm(n: ProofShown) -> tuple[float, float]:
    """What the calipers read as they are turned, and at right angles to that."""
    return float(n.stem.width_cm(n.turn_deg)), float(n.stem.width_cm(n.turn_deg + 90))


def _jaws_cm(n: ProofShown, along: FloatArray, square: FloatArray, half_cm: float) -> FloatArray:
    """Two jaws across a direction, each through the point that it touches; shape (2, 5)."""
    halves = np.array([n.a_cm, n.b_cm])
    touch = halves**2 * along / np.linalg.norm(halves * along)
    rows = []
    for side in (-1, 1):
        middle = side * touch + side * 0.9 * along
        rows += [middle - half_cm * square, middle + half_cm * square, [np.nan, np.nan]]
    return np.array(rows[:-1]).T


class ExactStemPicture(StemPicture):
    """The same with the exact girth P, which the rigorous roads go by."""

    formula = ("tape's area", "= P²/(4π)")

    @staticmethod
    def tape_cm2(n: ProofShown) -> float:
        """The tape's area on the stem of `n`, exactly."""
        return float(area_from_girth_cm2(n.stem.taut_girth_cm))


class SquaresPicture(ProofPicture):
    """Two squares, cut into two strips and what is left over: a² + b² = 2ab + (a − b)²."""

    #: Shown pixels per cm; foot of the upper and of the lower drawing; their left edge.
    SCALE_PX = 3.9
    FEET_PX = (228.0, 22.0)
    LEFT_PX = 34.0

    def draw(self, figure: Any) -> None:
        """The key on `figure`, then the moving artists."""
        from matplotlib.collections import PolyCollection

        axes = self.page(figure)
        line: Any = {"edgecolors": look.TRUTH, "linewidths": 1.6}
        self.squares = PolyCollection([], facecolors=look.BAND_FILL, **line)
        self.strips = PolyCollection([], facecolors=look.BEAM_FILL, **line)
        self.rest = PolyCollection([], facecolors="white", hatch="///", **line)
        for piece in (self.squares, self.strips, self.rest):
            axes.add_collection(piece, autolim=False)
        # the second strip is the upper one's piece and the small square together
        (self.seam,) = axes.plot([], [], color=look.CALIPERS, lw=1, ls=(0, (3, 3)))
        (self.pointer,) = axes.plot(
            [], [], color=look.TRUTH, lw=1.2, marker="o", ms=5, markevery=[1]
        )
        self.moving += [self.squares, self.strips, self.rest, self.seam, self.pointer]
        how = {"ha": "center", "va": "center", "fontsize": BIG_PT}
        self.names = [axes.text(0, 0, "", **how) for _ in range(6)]
        self.moving += self.names
        self._key(axes)

    def parts(self) -> tuple[Part, ...]:
        """Squares and strips, and their sums."""
        ground, sums = self.whole.cut_x(369)
        return part("squares", ground), part("sums", sums)

    def _key(self, axes: Any) -> None:
        from matplotlib.patches import Rectangle

        left = 372
        rows = (
            (372, look.BAND_FILL, "", "two squares", "a² + b²"),
            (190, "white", "///", "left over", "(a − b)²"),
            (110, look.BEAM_FILL, "", "two strips", "2ab"),
        )
        for up, fill, hatch, name, formula in rows:
            axes.add_patch(
                Rectangle((left, up - 11), 26, 22, fc=fill, ec=look.TRUTH, lw=1.2, hatch=hatch)
            )
            axes.text(left + 36, up, name, va="center_baseline")
            axes.text(left + 138, up, formula, va="center_baseline", fontsize=BIG_PT)
        axes.text(left, 280, "The same ground, cut up:", va="center_baseline")
        axes.text(left, 252, "a² + b² = 2ab + (a − b)²", va="center_baseline", fontsize=BIG_PT)
        self.sums = [
            axes.text(left + 36, up - 28, "", va="center_baseline", fontsize=BIG_PT)
            for up, *_ in rows
        ]
        self.verdict = axes.text(left, 38, "", va="center")
        self.moving += [*self.sums, self.verdict]

    def show(self, numbers: ProofShown) -> None:
        """Set every moving artist from `numbers`."""
        n = numbers
        a, b = n.a_cm, n.b_cm
        long, short = max(a, b), min(a, b)
        upper, lower = self.FEET_PX
        self.squares.set_verts(
            [self._box(upper, 0, 0, long, long), self._box(upper, long, 0, short, short)]
        )
        self.strips.set_verts(
            [self._box(lower, 0, 0, short, long), self._box(lower, short, 0, long, short)]
        )
        gap = long - short
        self.rest.set_verts([self._box(lower, short, short, gap, gap)] if gap else [])
        seam = self._px(lower, [long, long], [0, short])
        self.seam.set_data(*seam.T)
        middle = self._px(lower, [(long + short) / 2], [(long + short) / 2])[0]
        self.pointer.set_data([366, middle[0]], [190, middle[1]])
        self.pointer.set_visible(bool(gap))
        big, small = ("a", "b") if a >= b else ("b", "a")
        # names of the squares, of their sides, of the strips
        spots = (
            (f"{big}²", upper, long / 2, long / 2, 0, 0),
            (f"{small}²", upper, long + short / 2, short / 2, 0, 0),
            (big, upper, 0, long / 2, -16, 0),
            (small, upper, long + short, short / 2, 14, 0),
            ("ab", lower, short / 2, long / 2, 0, 0),
            ("ab", lower, short + long / 2, short / 2, 0, 0),
        )
        for text, (word, foot, x, y, right, up) in zip(self.names, spots, strict=True):
            place = self._px(foot, [x], [y])[0]
            text.set_text(word)
            text.set_position((place[0] + right, place[1] + up))
        values = (a * a + b * b, (a - b) ** 2, 2 * a * b)
        for word, value in zip(self.sums, values, strict=True):
            word.set_text(f"= {value:.1f} cm²")
        self.verdict.set_text(
            "Something is left over:\nthe squares hold more."
            if gap
            else "Nothing is left over: a = b,\nthe stem is a circle."
        )

    def _px(self, foot: float, x: Any, y: Any) -> FloatArray:
        scale = self.SCALE_PX
        return np.column_stack([self.LEFT_PX + scale * np.array(x), foot + scale * np.array(y)])

    def _box(self, foot: float, x: float, y: float, wide: float, high: float) -> FloatArray:
        return self._px(foot, [x, x + wide, x + wide, x], [y, y, y + high, y + high])

    def describe(self, numbers: ProofShown) -> str:
        """The picture in words, with its `numbers`."""
        a, b = numbers.a_cm, numbers.b_cm
        rest = (
            f"a square of side {abs(a - b):g} cm is left over, hatched"
            if a != b
            else "nothing is left over"
        )
        return (
            f"Two squares with the sides a = {a:g} cm and b = {b:g} cm stand side by side and hold "
            f"a² + b² = {a * a + b * b:.1f} cm². Below, the same ground is cut into two strips of "
            f"a times b, together 2ab = {2 * a * b:.1f} cm²; {rest}: "
            f"(a − b)² = {(a - b) ** 2:.1f} cm²."
        )
