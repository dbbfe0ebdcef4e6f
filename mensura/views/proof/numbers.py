"""What the proof's panel shows at one step of one road: plain numbers from its controls.

The two sides of each line are the road's own (:meth:`Step.sides`), which speak of an ellipse. For
the third road they are worked out here for the outline that is chosen, its series broken off where
the control says; and so is what readings from every direction give on the average.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import numpy as np

from mensura.estimates.areas import area_from_girth_cm2
from mensura.estimates.out_of_round import (
    one_reading_over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.places import data_file
from mensura.stems.ellipse import Ellipse
from mensura.stems.outline import Outline
from mensura.stems.outline_file import read_outline
from mensura.stems.ripples import OutlineTerms, outline_terms
from mensura.stems.section import Section
from mensura.stems.shapes import reuleaux
from mensura.teaching.controls import State

if TYPE_CHECKING:
    from mensura.teaching.proof.steps import Road, Step

#: Where a control is missing, its value stays here.
FIXED: State = {
    "a_cm": 30.0,
    "b_cm": 24.0,
    "turn_deg": 0.0,
    "outline": "disc 07 (invented)",
    "terms": 12,
}

#: The outlines of the third road, as they are chosen; the first is the demo's.
OUTLINES = (
    "disc 07 (invented)",
    "a square",
    "a triangle of constant width",
    "an ellipse",
    "a circle",
)

#: Ripples that the sum of an outline can be taken up to.
MOST_TERMS = 24


@lru_cache(maxsize=len(OUTLINES))
def outline(name: str) -> Outline:
    """One of the outlines to choose from.

    name: one of OUTLINES.

    >>> round(outline("a square").area_cm2)
    1600
    """
    if name == OUTLINES[1]:
        return Outline([[-20, -20], [20, -20], [20, 20], [-20, 20]])
    if name == OUTLINES[2]:
        return reuleaux(44)
    if name == OUTLINES[3]:
        return Outline(Ellipse(60, 40).outline_cm(1440))
    if name == OUTLINES[4]:
        return Outline(Ellipse(46, 46).outline_cm(1440))
    return read_outline(data_file("quillmere-disc-07.csv"))


@dataclass(frozen=True)
class Scatter:
    """Errors of one way of measuring, over all directions alike.

    name: of the way; mean_percent: error of the area on the average; spread_percent: standard
    deviation of that error.
    """

    name: str
    mean_percent: float
    spread_percent: float


def scatters(a_cm: float, b_cm: float) -> tuple[Scatter, ...]:
    """How far four ways of measuring are off, if the direction is left to chance.

    a_cm, b_cm: half-axes of a smooth ellipse, cm. The tape has no direction, so no spread.

    >>> one, two, product, tape = scatters(30, 24)
    >>> round(one.mean_percent, 3), round(tape.mean_percent, 3), tape.spread_percent
    (2.5, 1.876, 0.0)
    """
    ratio = min(a_cm, b_cm) / max(a_cm, b_cm)
    # evenly spaced over a period: such a sum is exact for these smooth curves
    turns_deg = np.arange(0.0, 180.0, 0.5)
    ways = (
        ("one reading", one_reading_over_percent(ratio, turns_deg)),
        ("two, their mean", two_readings_over_percent(ratio, turns_deg)),
        ("two, product", two_readings_over_percent(ratio, turns_deg, "geometric")),
        ("tape", np.array([tape_over_percent(ratio)])),
    )
    return tuple(Scatter(name, float(np.mean(e)), float(np.std(e))) for name, e in ways)


@dataclass(frozen=True, eq=False)
class ProofShown:
    """One step of one road, with where the controls stand.

    road: its steps; step: which, from 1; a_cm, b_cm: half-axes; turn_deg: calipers off the first
    axis; outline_name: one of OUTLINES; terms: ripples that are summed.
    """

    road: Road
    step: int
    a_cm: float
    b_cm: float
    turn_deg: float
    outline_name: str
    terms: int

    @property
    def present(self) -> Step:
        """The step that is on show."""
        return self.road.steps[self.step - 1]

    @property
    def unfolded(self) -> tuple[Step, ...]:
        """The steps up to the present one."""
        return self.road.steps[: self.step]

    @property
    def stem(self) -> Ellipse:
        """The oval section with these half-axes."""
        return Ellipse(2 * self.a_cm, 2 * self.b_cm)

    @cached_property
    def section(self) -> Outline:
        """The chosen outline."""
        return outline(self.outline_name)

    @property
    def axis_ratio(self) -> float:
        """Shorter over longer half-axis."""
        return min(self.a_cm, self.b_cm) / max(self.a_cm, self.b_cm)

    @property
    def outer_cm(self) -> float:
        """The classroom's girth 2π√((a² + b²)/2)."""
        return float(2 * np.pi * np.sqrt((self.a_cm**2 + self.b_cm**2) / 2))

    @property
    def inner_cm(self) -> float:
        """The bound from below, π(a + b)."""
        return float(np.pi * (self.a_cm + self.b_cm))

    @property
    def tape_cm2(self) -> float:
        """The classroom's A_tape = π(a² + b²)/2."""
        return float(np.pi * (self.a_cm**2 + self.b_cm**2) / 2)

    @property
    def calipers_cm2(self) -> float:
        """A_cal = πab."""
        return float(np.pi * self.a_cm * self.b_cm)

    @cached_property
    def body(self) -> Section:
        """What stands between the jaws: the outline on the third road, else the oval stem."""
        return self.section if self.road.name == "outline" else self.stem

    @cached_property
    def series(self) -> OutlineTerms:
        """The ripples of the chosen outline's hull, as far as they are summed."""
        return outline_terms(self.section, self.terms)

    def sides(self, step: Step) -> tuple[float, float] | None:
        """Both sides of a line as the controls stand, or None if it has no numbers.

        step: of this road.
        """
        if self.road.name == "outline":
            return _outline_sides(self, step.key)
        if self.road.name == "calipers":
            return step.sides(self.a_cm, self.b_cm, self.turn_deg)
        return step.sides(self.a_cm, self.b_cm)


def _outline_sides(shown: ProofShown, key: str) -> tuple[float, float] | None:
    """Both sides of a line of the outline's road, for the outline that is chosen.

    shown: the outline, how many ripples are summed, how the calipers are turned; key: the step's.
    A sum over all ripples stands here as far as it is taken: it illustrates and proves nothing.
    None for a line without numbers.
    """
    section, series = shown.section, shown.series
    girth, hull, true = (
        float(each) for each in (section.taut_girth_cm, section.hull_area_cm2, section.area_cm2)
    )
    circle = float(area_from_girth_cm2(girth))
    deficit, lost = girth**2 - 4 * np.pi * hull, float(series.lost_cm2.sum())
    width, back = float(section.width_cm(shown.turn_deg)), shown.turn_deg + 180
    reach = float(section.support_cm(shown.turn_deg)) + float(section.support_cm(back))
    mean = 2 * series.mean_cm
    edges = np.roll(section.hull_cm, -1, axis=0) - section.hull_cm
    # ½∫h(h + h″): thin triangles from the origin, one for each edge of the hull
    triangles = float((section.hull_cm[:, 0] * edges[:, 1]).sum())
    triangles -= float((section.hull_cm[:, 1] * edges[:, 0]).sum())
    jaws = np.pi * width**2 / 4
    return {
        "outline-2": (girth, series.girth_cm),
        "outline-3": (hull, triangles / 2),
        "outline-4": (girth, series.girth_cm),
        "outline-5": (hull, series.hull_area_cm2),
        "outline-6": (deficit, 4 * np.pi * lost),
        "outline-7": (deficit, 0.0),
        "outline-8": (circle, girth**2 / (4 * np.pi)),
        "outline-9": (circle, hull),
        "outline-10": (hull, true + (hull - true)),
        "outline-11": (hull, true),
        "outline-12": (circle, true),
        "outline-13": (deficit, 4 * np.pi * float(series.lost_cm2.max())),
        "outline-14": (width, reach),
        "outline-16": (width, mean),
        "outline-17": (jaws, circle),
        "outline-18": (jaws - hull, lost),
        "outline-19": (jaws, hull),
    }.get(key)


def squares_shown(a_cm: float, b_cm: float) -> ProofShown:
    """What the picture of the squares needs, for a page that has no panel.

    a_cm, b_cm: half-axes, cm.

    >>> squares_shown(30, 24).present.picture
    'squares'
    """
    from mensura.teaching.proof.roads import road

    way = road("classroom")
    step = next(k for k, one in enumerate(way.steps, 1) if one.picture == "squares")
    return ProofShown(way, step, a_cm, b_cm, 0.0, OUTLINES[0], int(FIXED["terms"]))
