"""The budget panel: what each input brings to a girth's uncertainty, and what the girth is worth.

Left, a fat bar for each input on one scale; their squares, not they themselves, add up to the
square of the black one, and the share of each in it stands beside it. Right, a piece of the tape
with the reading on it, where the draws fall, and the 95 % of both ways.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.teaching.controls import starting
from mensura.teaching.panels.budget import CONTROLS, NAMES, BudgetShown, numbers
from mensura.views.kit import look
from mensura.views.kit.live import Picture
from mensura.views.kit.numerals import Values, line_width_px
from mensura.views.kit.panel import Panel
from mensura.views.kit.parts import Part, part
from mensura.views.kit.table import row_html, table_html
from mensura.written import digits_of

#: Whether the two ways agree, as it stands after "law of propagation".
AGREE = {True: "agrees", False: "does not agree", None: "too close to tell"}
#: How the last row is called.
TOGETHER = "together, u"


class BudgetPicture(Picture[BudgetShown]):
    """The bars, and the piece of tape."""

    width_px = 860
    height_px = 372

    #: Left edge and foot of the bars, their width and height; columns right of them.
    BARS_PX = (112, 44, 190, 284)
    CM_PX, SHARE_PX = 372.0, 436.0
    SCALES_CM = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)
    #: Left edge and width of the piece of tape, its foot and its top, and what of it may be seen.
    TAPE_PX = (470, 376)
    BAND_PX = (128, 196)
    HILL_PX = 96
    PIECES_CM = (0.3, 0.5, 1.0, 2.0, 4.0, 8.0, 20.0)

    def draw(self, figure: Any) -> None:
        """The still parts on `figure`, then the moving artists."""
        page = look.place(figure, 0, 0, self.width_px, self.height_px)
        page.set(xlim=(0, self.width_px), ylim=(0, self.height_px))
        page.axis("off")
        self._draw_bars(page)
        self._draw_tape(page)
        self.values = Values(page)
        self.moving += [self.values.artist, self.read_word, self.worth_word]
        self.moving.append(self.law_word)

    def _draw_bars(self, page: Any) -> None:
        from matplotlib.collections import LineCollection

        left, low, wide, high = self.BARS_PX
        rows = len(NAMES) + 1
        self.pitch = high / rows
        how = {"va": "center_baseline"}
        page.text(8, 352, "What each brings to u", fontweight="bold", **how)
        page.text(self.CM_PX, 352, "cm", ha="right", **how)
        page.text(self.SHARE_PX, 352, "% of u²", ha="right", **how)
        self.rows_px = [low + high - (row + 0.5) * self.pitch for row in range(rows)]
        for name, up in zip((*NAMES.values(), TOGETHER), self.rows_px, strict=True):
            weight = "bold" if name == TOGETHER else "normal"
            page.text(left - 8, up, name, ha="right", fontweight=weight, **how)
        for share in (0.0, 0.5, 1.0):
            at = left + share * wide
            page.plot([at, at], [low, low + high], color=look.GRID if share else look.TRUTH, lw=1)
        ruled = low + self.pitch
        page.plot([8, self.SHARE_PX], [ruled, ruled], color=look.QUIET, lw=1)
        thick = 0.62 * self.pitch * 72 / look.SHOWN_DPI
        colours = [*[look.TAPE] * (rows - 1), look.TRUTH]
        self.bars: Any = LineCollection([], colors=colours, linewidths=thick, capstyle="butt")
        page.add_collection(self.bars, autolim=False)
        self.moving.append(self.bars)

    def _draw_tape(self, page: Any) -> None:
        from matplotlib.collections import LineCollection
        from matplotlib.patches import Rectangle

        left, wide = self.TAPE_PX
        low, high = self.BAND_PX
        how = {"va": "center_baseline"}
        page.text(left, 352, "The girth on the tape, cm", fontweight="bold", **how)
        page.add_patch(
            Rectangle((left, low), wide, high - low, fc=look.BAND_FILL, ec=look.TAPE, lw=1)
        )
        (self.marks,) = page.plot([], [], color=look.TAPE, lw=0.9)
        (self.hill,) = page.plot([], [], color=look.QUIET, lw=1.4)
        (self.read,) = page.plot([], [], ls="", marker="v", ms=11, color=look.TAPE)
        (self.value,) = page.plot([], [], ls="", marker="D", ms=9, color=look.TRUTH)
        self.ways: Any = LineCollection(
            [], colors=[look.TRUTH, look.QUIET], linewidths=[6, 3], capstyle="butt",
            linestyles=["-", (0, (3, 1.5))],
        )  # fmt: skip
        page.add_collection(self.ways, autolim=False)
        self.draws_px, self.law_px = low - 22, low - 62
        page.text(left, self.draws_px - 18, "95 % of the draws, their mean", **how)
        self.law_word = page.text(left, self.law_px - 18, "", **how)
        self.read_word = page.text(left, 328, "", color=look.TAPE_WORD, **how)
        self.worth_word = page.text(left, 14, "", **how)
        self.moving += [self.marks, self.hill, self.ways, self.read, self.value]

    def parts(self) -> tuple[Part, ...]:
        """The bars, and the tape."""
        bars, tape = self.whole.cut_x(452)
        return part("bars", bars), part("tape", tape)

    def show(self, numbers: BudgetShown) -> None:
        """Set every moving artist from the numbers."""
        n = numbers
        lines, ends = self._show_bars(n)
        more, places = self._show_tape(n)
        self.values.set([*lines, *more], [*ends, *places])
        girth = n.figures["girth_cm"]
        digits = digits_of(girth.u)
        low, high = (f"{one:.{digits}f}" for one in girth.interval)
        self.law_word.set_text(f"law of propagation, ±k·u: {AGREE[n.agree]}")
        self.read_word.set_text(f"read {n.girth_cm:.1f} cm")
        self.worth_word.set_text(f"worth {girth.value:.{digits}f} cm: {low} to {high} cm")

    def _show_bars(self, n: BudgetShown) -> tuple[list[str], list[tuple[float, float]]]:
        left, low, wide, _ = self.BARS_PX
        parts = [*(n.contributions_cm[name] for name in NAMES), n.law.u]
        scale = next((one for one in self.SCALES_CM if one >= n.law.u), self.SCALES_CM[-1])
        self.bars.set_segments(
            [
                [(left, up), (left + part / scale * wide, up)]
                for part, up in zip(parts, self.rows_px, strict=True)
            ]
        )
        shares = [*(n.shares_percent[name] for name in NAMES), 100.0]
        lines = [f"{part:.3f}" for part in parts] + [f"{share:.0f}" for share in shares]
        feet = [up - 5.4 for up in self.rows_px]
        ends = [(self.CM_PX, foot) for foot in feet] + [(self.SHARE_PX, foot) for foot in feet]
        for share in (0.0, 0.5, 1.0):
            text = f"{share * scale:g}"
            lines.append(text)
            ends.append((left + share * wide + line_width_px(text) / 2, low - 18))
        return lines, ends

    def _show_tape(self, n: BudgetShown) -> tuple[list[str], list[tuple[float, float]]]:
        left, wide = self.TAPE_PX
        low, high = self.BAND_PX
        girth, law = n.figures["girth_cm"], n.law
        reach = [*girth.interval, law.value - law.expanded, law.value + law.expanded, n.girth_cm]
        need = (max(reach) - min(reach)) * 1.12
        piece = next((one for one in self.PIECES_CM if one >= need), self.PIECES_CM[-1])
        middle = (max(reach) + min(reach)) / 2
        start = middle - piece / 2

        def at(place: Any) -> Any:
            return left + (np.asarray(place) - start) / piece * wide

        # marks every millimetre where there is room for them, else every half centimetre
        fine = 10 if piece <= 4 else 2
        first, last = np.ceil(start * fine + 1e-9), np.floor((start + piece) * fine - 1e-9)
        counts = np.arange(first, last + 1)
        across, gap = at(counts / fine), np.full(counts.size, np.nan)
        long = np.where(counts % fine == 0, 30.0, np.where(counts % fine == fine / 2, 20.0, 12.0))
        self.marks.set_data(
            np.column_stack([across, across, gap]).ravel(),
            np.column_stack([np.full(counts.size, low), low + long, gap]).ravel(),
        )
        edges = np.clip(at(n.edges_cm), left, left + wide)
        hill = high + 4 + self.HILL_PX * n.heights
        self.hill.set_data(
            [edges[0], *np.repeat(edges, 2)[1:-1], edges[-1]],
            [high + 4, *np.repeat(hill, 2), high + 4],
        )
        self.read.set_data([at(n.girth_cm)], [high + 8])
        self.value.set_data([at(girth.value)], [self.draws_px])
        ends = (girth.interval, (law.value - law.expanded, law.value + law.expanded))
        ups = (self.draws_px, self.law_px)
        self.ways.set_segments(
            [[(at(a), up), (at(b), up)] for (a, b), up in zip(ends, ups, strict=True)]
        )
        # about four numbers, each over its own mark
        every = next(one for one in (0.1, 0.2, 0.5, 1, 2, 5) if piece / one <= 4.5)
        places = np.arange(np.ceil(start / every), np.floor((start + piece) / every) + 1) * every
        lines = [f"{place:.{0 if every >= 1 else 1}f}" for place in places]
        halves = [line_width_px(line) / 2 for line in lines]
        kept = [
            (line, (float(at(place)) + half, low + 42.0))
            for line, place, half in zip(lines, places, halves, strict=True)
            if left + half + 3 <= at(place) <= left + wide - half - 3
        ]
        return [line for line, _ in kept], [place for _, place in kept]

    def describe(self, numbers: BudgetShown) -> str:
        """The picture in words, with its `numbers`."""
        n = numbers
        parts = ", ".join(
            f"{name} {n.contributions_cm[key]:.3f} cm ({n.shares_percent[key]:.0f} % of the square)"
            for key, name in NAMES.items()
        )
        girth = n.figures["girth_cm"]
        digits = digits_of(girth.u)
        low, high = (f"{one:.{digits}f}" for one in girth.interval)
        return (
            f"Bars of what each input brings to the standard uncertainty of the girth: {parts}; "
            f"together {n.law.u:.3f} cm, the root of the sum of their squares. Beside them a piece "
            f"of tape: read {n.girth_cm:.1f} cm, mean of the draws {girth.value:.{digits}f} cm, "
            f"95 % of them from {low} to {high} cm; by the law of propagation "
            f"{n.law.value - n.law.expanded:.{digits}f} to "
            f"{n.law.value + n.law.expanded:.{digits}f} cm: {AGREE[n.agree]}."
        )


def status(n: BudgetShown) -> str:
    """One sentence: what the reading of `n` is worth, and what spoils it most."""
    girth = n.figures["girth_cm"]
    digits = digits_of(girth.u)
    low, high = (f"{one:.{digits}f}" for one in girth.interval)
    most = max(NAMES, key=lambda name: n.contributions_cm[name])
    return (
        f"Read {n.girth_cm:.1f} cm: {girth.value:.{digits}f} cm, 95 % from {low} to {high} cm; "
        f"the largest part of the doubt is the {NAMES[most]}'s, {n.shares_percent[most]:.0f} % of "
        "its square."
    )


def averaging(n: BudgetShown) -> str:
    """What the mean of readings of `n` makes smaller and what not, the step's two parts told."""
    if n.readings == 1:
        return "This is one reading: step and hand come in whole."
    if n.step_averages_cm == 0:
        return (
            f"This is the mean of {n.readings} readings by a hand that never moves: all are "
            "rounded alike, and nothing gets smaller."
        )
    return (
        f"This is the mean of {n.readings} readings. The hand's part gets smaller, and with it the "
        "step's: a hand that moves lands on different marks. Of the step "
        f"{n.step_stays_cm:.3f} cm is common to all readings and stays; "
        f"{n.step_averages_cm:.3f} cm is left of the rest, which averages (taken for normal: an "
        "approximation). Assumed the same in all readings, so that they stay: tilt, card, warmth."
    )


def verdict(n: BudgetShown) -> str:
    """Whether the two ways agree on the girth of `n`, within what, and why another may not."""
    share = 100 * n.tolerance_cm / n.law.u
    said = {
        True: "It agrees with the draws: both ends of 95 % differ by",
        False: "It does not agree with the draws (take them): an end of 95 % does not differ by",
        None: "It is too close to tell, with so few draws, whether both ends of 95 % differ by",
    }
    return (
        f"{said[n.agree]} less than {n.tolerance_cm:g} cm, half a unit of the second figure of u. "
        f"Here that is {share:.1f} % of u; for diameter and area it is another share of theirs, so "
        "the answer may be another."
    )


def readout(n: BudgetShown) -> str:
    """The table below the picture: the three figures of `n` by the draws."""
    heads = {"girth_cm": "Girth, cm", "diameter_cm": "Diameter, cm", "area_cm2": "Area, cm²"}
    body = ""
    for name, head in heads.items():
        one = n.figures[name]
        digits = digits_of(one.u)
        low, high = (f"{end:.{digits}f}" for end in one.interval)
        share = f"{100 * one.u / one.value:.2f}"
        body += row_html(head, f"{one.value:.{digits}f}", f"{one.u:.{digits}f}", share, low, high)
    names = ("", "Value", "u", "u, %", "95 % from", "to")
    shift = (
        f"<p>A tilt only adds: {n.shift_cm:.3f} cm on average, which is taken off the reading.</p>"
        if n.shift_cm > 0
        else ""
    )
    return (
        table_html(names, body) + shift + f"<p>{averaging(n)}</p><p>Law of propagation: "
        f"u = {n.law.u:.3f} cm, k = {n.law.k:.2f}, U = {n.law.expanded:.2f} cm. {verdict(n)}</p>"
        "<p>Assumed: a round stem, a steel band, a card whose correction is made; the draws here "
        "are a fixed set of 4096, whose ends may be off by 3 % of u.</p>"
    )


#: What each preset changes of the start; it sets all else as at the start, so that none piles up.
CHANGES: dict[str, dict[str, Any]] = {
    "As a class reads": {"readings": 1},
    "Read to the mm": {"step_cm": 0.1, "hand_cm": 0.1, "tilt_deg": 2.0},
    "Ten readings": {"readings": 10},
    "On a steep slope": {"tilt_deg": 15.0},
}

BUDGET_PANEL: Panel[BudgetShown] = Panel(
    title="What a reading is worth",
    controls=CONTROLS,
    numbers=numbers,
    picture=BudgetPicture,
    readout=readout,
    status=status,
    presets={name: starting(CONTROLS) | change for name, change in CHANGES.items()},
)
