"""A road of the proof as a live panel: its lines unfold one by one beside a picture of each.

Under the half-axes that the controls give, both sides of every line unfolded so far stand as
numbers. A picture is drawn anew only when a step needs one of another kind, or another outline is
chosen; a slider moves what is there.
"""

from __future__ import annotations

import html
import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from mensura.teaching.controls import Stepper
from mensura.teaching.panels.proof import CHOICES, CONTROLS, ProofShown, numbers
from mensura.teaching.proof.roads import road
from mensura.teaching.proof.steps import SIDES_DEG, Road, Step
from mensura.views.kit.live import Live, Picture, Still, draw_still
from mensura.views.kit.panel import LivePanel, Panel
from mensura.views.kit.stage import stage
from mensura.views.kit.table import row_html, table_html
from mensura.views.proof.charts import CurvePicture, RandomPicture, TurnPicture
from mensura.views.proof.drawings import ExactStemPicture, SquaresPicture, StemPicture
from mensura.views.proof.girth import ArcPicture, BoundsPicture
from mensura.views.proof.outlines import HullPicture, SpectrumPicture, WidthPicture
from mensura.views.proof.words import markup
from mensura.written import signed

#: Each kind of picture: how it is made, and whether it holds one outline.
KINDS: dict[str, tuple[Callable[..., Picture[ProofShown]], bool]] = {
    "stem": (StemPicture, False),
    "exact stem": (ExactStemPicture, False),
    "squares": (SquaresPicture, False),
    "bounds": (BoundsPicture, False),
    "curve": (CurvePicture, False),
    "arc": (ArcPicture, False),
    "turn": (TurnPicture, False),
    "random": (RandomPicture, False),
    "hull": (HullPicture, True),
    "spectrum": (SpectrumPicture, True),
    "width": (WidthPicture, False),
}

#: What stands before a line, by its sign; a line without a sign is given, or is to be shown.
SIGN_WORDS = {"⇒": "⇒ therefore", "⇐": "⇐ it is enough to show"}


def picture_key(shown: ProofShown) -> tuple[str, str]:
    """Which picture is needed: its kind, and the outline that it holds, if any.

    shown: what is on show.
    """
    kind = shown.present.picture
    return kind, shown.outline_name if KINDS[kind][1] else ""


def new_picture(shown: ProofShown) -> Picture[ProofShown]:
    """A picture of the kind that the present step names.

    shown: what is on show.
    """
    make, of_outline = KINDS[shown.present.picture]
    return make(shown.section) if of_outline else make()


@dataclass(frozen=True)
class ProofPanel(Panel[ProofShown]):
    """A road of the proof with its controls.

    way: the road. The rest is as any panel has it: title, controls, numbers, picture (of the first
    step), readout, status, switches, presets, choices, stepper, printed.
    """

    way: Road | None = None

    def still(self, **changes: Any) -> Still:
        """The picture of one step without controls.

        changes: `step`, from 1, and names of controls with their values.
        """
        shown = self.numbers(**self.state(changes))
        return draw_still(new_picture(shown), shown)

    def at_work(self, **how: Any) -> LiveProof:
        """The panel with widgets of its own.

        how: as :class:`LivePanel` takes it.
        """
        return LiveProof(self, **how)

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        data, metadata = super()._repr_mimebundle_(include, exclude)
        shown = self.numbers(**self.start())
        lines = "\n".join(spoken(shown, step) for step in shown.unfolded)
        data["text/plain"] = f"{data['text/plain']}\n{lines}"
        return data, metadata


class LiveProof(LivePanel[ProofShown]):
    """One road at work in one notebook.

    panel: the declaration; how: as :class:`LivePanel` takes it.
    """

    def __init__(self, panel: ProofPanel, **how: Any) -> None:
        self._key = picture_key(panel.numbers(**panel.start()))
        super().__init__(panel, **how)

    def draw(self, by: str = "") -> None:
        """See to the right kind of picture, then compute, draw, encode and send.

        by: control that was moved, if it was one.
        """
        shown = self.panel.numbers(**self.state)
        key = picture_key(shown)
        if key != self._key:
            self.live.close()
            self._key, self.live = key, Live(new_picture(shown))
        super().draw(by)
        lines = lines_html(shown)
        if self.lines.value != lines:
            self.lines.value = lines

    def _arrange(self, w: Any, groups: Mapping[str, Sequence[Any]]) -> Any:
        """The widgets as any panel has them, the lines below the controls."""
        self.lines = w.HTML()
        self.lines.add_class("mensura-unfolded")
        strip = self._rows(w, [row for rows in groups.values() for row in rows])
        box = stage([*self._steps(), *strip, self.lines], [self.image, self.said], [self.words])
        box.add_class("mensura-proof")
        return box


# ---- words -------------------------------------------------------------------------------------


def sign_words(step: Step) -> str:
    """What stands before a line: given, to be shown, therefore, or enough to show.

    step: the line's step.
    """
    return SIGN_WORDS.get(step.sign, "to be shown" if step.to_be_shown else "given")


def spoken(shown: ProofShown, step: Step) -> str:
    """A line with its sign and its reason, as plain text.

    shown: what is on show; step: one of its road's.
    """
    used = f" Uses: {step.assumption}." if step.assumption else ""
    place = shown.road.steps.index(step) + 1
    return f"{place}. {sign_words(step)}: {step.line}   {step.reason}{used}"


def lines_html(shown: ProofShown) -> str:
    """The lines up to the present one, which is marked; none of those to come.

    The frame scrolls to the last line.

    shown: what is on show.
    """
    items = []
    for place, step in enumerate(shown.unfolded, 1):
        present = place == shown.step
        mark = " class='mensura-present' aria-current='step'" if present else ""
        used = f"<span class='mensura-used'>Uses: {markup(step.assumption)}.</span>"
        items.append(
            f"<li{mark}><span class='mensura-sign'>{place}. {_place_of(shown, step)}</span>"
            f"<span class='mensura-line'>{markup(step.line)}</span>"
            f"<span class='mensura-reason'>{_unbroken(step.reason)}</span>"
            f"{used if step.assumption else ''}</li>"
        )
    return (
        "<div class='mensura-lines' tabindex='0' role='region' aria-label='Lines of the proof'>"
        f"<ol>{''.join(items)}</ol></div>"
    )


def _unbroken(text: str) -> str:
    """Text as HTML in which a short bracket is not parted at a line's end."""
    whole = re.sub(r"\([^()]{1,14}\)", lambda m: m[0].replace(" ", "\u00a0"), text)
    return markup(whole)


def _place_of(shown: ProofShown, step: Step) -> str:
    """The sign in words, and the lines above that are meant."""
    keys = [one.key for one in shown.road.steps]
    above = [str(keys.index(key) + 1) for key in step.follows_from if key in keys]
    lines = f" (from {', '.join(above)})" if above and step.sign == "⇒" else ""
    lines = f" (for {', '.join(above)})" if above and step.sign == "⇐" else lines
    return html.escape(sign_words(step) + lines)


def _written(value: float, unit: str, apart: float) -> str:
    """A side of a line: as many digits as it takes to see how far the sides are apart.

    >>> _written(2318.495, "cm²", 56.5), _written(900.0, "cm²", 0.25), _written(0.018764, "", 0.006)
    ('2318.5', '900.0000', '0.0188')
    """
    digits = {"cm⁴": 0, "cm²": 1, "cm": 2, "°": 1, "%": 2}.get(unit, 4)
    if 0 < abs(apart) < 10.0**-digits * 10:
        digits = max(digits, 4)
    return signed(value, digits).lstrip("+")


def _finite_sides(shown: ProofShown, step: Step) -> tuple[float, float] | None:
    sides = shown.sides(step)
    return sides if sides is not None and all(map(math.isfinite, sides)) else None


def _apart(left: float, right: float) -> float:
    """How far the sides are apart; what differs by rounding alone is 0."""
    apart = left - right
    return 0.0 if abs(apart) < 1e-9 * max(abs(left), abs(right), 1.0) else apart


def sides_words(shown: ProofShown, step: Step) -> tuple[str, str, str] | None:
    """Left side, right side and their difference in words with units; None without numbers.

    shown: what is on show; step: one of its road's.
    """
    sides = _finite_sides(shown, step)
    if sides is None:
        return None
    left, right = sides
    apart = _apart(left, right)
    tail = f" {step.unit}" if step.unit else ""
    return (
        _written(left, step.unit, apart) + tail,
        _written(right, step.unit, apart) + tail,
        _written(apart, step.unit, apart) + tail,
    )


def status(shown: ProofShown) -> str:
    """One sentence: the present line of `shown` and its two sides."""
    step = shown.present
    count = len(shown.road.steps)
    end = ", the last" if shown.step == count else ""
    head = f"Line {shown.step} of {count}{end}, {sign_words(step)}: {step.line}."
    sides, words = _finite_sides(shown, step), sides_words(shown, step)
    if sides is None or words is None:
        return head
    left, right, apart = words
    equal = _apart(*sides) == 0
    unequal = next((sign for sign in ">≠" if sign in step.line), "")
    note = f" The sides are the same here, so {unequal} fails: it needs a ≠ b."
    note = note if equal and unequal else ""
    return f"{head} Left {left}, right {right}, difference {apart}.{note}"


def readout(shown: ProofShown) -> str:
    """The table of both sides of each line of `shown`, and the conclusion after the last."""
    rows = []
    for place, step in enumerate(shown.unfolded, 1):
        words = sides_words(shown, step) or ("–", "–", "–")
        mark = "▶ " if place == shown.step else ""
        rows.append(row_html(f"{mark}{place}. {step.line}", *words))
    table = table_html(("Line", "Left side", "Right side", "Difference"), "".join(rows))
    if any(f" {sign}² t" in step.line for step in shown.unfolded for sign in ("sin", "cos")):
        table += f"<p>Lines with an angle t are taken at t = {SIDES_DEG:g}°.</p>"
    if shown.road.of_outlines:
        table += (
            f"<p>Numbers: {html.escape(shown.outline_name)}. A sum over all ripples is broken off "
            f"after ripple {shown.terms}; its two sides differ by what is left out.</p>"
        )
    if shown.step < len(shown.road.steps):
        return table
    return f"{table}<p><b>What a class takes home.</b> {markup(shown.road.says)}</p>"


def proof_panel(road_name: str = "classroom") -> ProofPanel:
    """A road of the proof as a live panel.

    road_name: one of ROADS ("classroom", "ellipse", "outline", "calipers").
    Raises MeasureError for another name.

    >>> panel = proof_panel("classroom")
    >>> panel.numbers(**panel.start() | {"step": 7}).present.line
    '(a − b)² > 0'
    """
    way = road(road_name)
    first = numbers(way, {"step": 1})
    return ProofPanel(
        title=way.title,
        controls=tuple(CONTROLS[name] for name in way.varies if name not in CHOICES),
        numbers=lambda **state: numbers(way, state),
        picture=lambda: new_picture(first),
        readout=readout,
        status=status,
        presets={"a = b": {"a_cm": 30.0, "b_cm": 30.0}} if "a_cm" in way.varies else {},
        choices=tuple(CHOICES[name] for name in way.varies if name in CHOICES),
        stepper=Stepper("step", "line", len(way.steps)),
        way=way,
    )
