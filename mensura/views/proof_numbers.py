"""What the proof's panel shows at one step of one road: plain numbers from its controls.

The two sides of each line are the road's own (:meth:`Step.sides`); what the pictures add is here:
the area that an outline's girth promises too much, shared out over the waves of the outline, and
what readings from every direction give on the average.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from mensura.checks import FloatArray, whole
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
from mensura.stems.shapes import reuleaux
from mensura.views.panel import State

if TYPE_CHECKING:
    from mensura.teaching.proof.roads import Road
    from mensura.teaching.proof.steps import Step

#: Where a control is missing, its value stays here.
FIXED: State = {
    "a_cm": 30.0,
    "b_cm": 24.0,
    "turn_deg": 0.0,
    "outline": "disc 07, Quillmere (invented)",
    "terms": 12,
}

#: The outlines of the third road, as they are chosen; the first is the demo's.
OUTLINES = (
    "disc 07, Quillmere (invented)",
    "a square",
    "a triangle of constant width",
    "an ellipse",
    "a circle",
)

#: Waves that the sum of an outline can be taken up to.
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


def wave_areas_cm2(hull_cm: FloatArray, waves: int = MOST_TERMS) -> FloatArray:
    """The area that a girth promises too much, shared out over the waves of a convex outline.

    hull_cm: corners of the hull, anticlockwise, shape (n, 2); waves: up to which wave. Returns
    cm², shape (waves,), the share of wave 1 first; it is 0, since wave 1 only shifts the outline.

    With h = c₀ + Σ cₙ(θ) the reach of the hull, P²/4π − A = (π/2) Σ (n² − 1)|cₙ|²
    (Hurwitz's proof). Of a polygon, h + h″ is its edges' lengths ℓ at their directions θ, so that
    (1 − n²)cₙ = Σ ℓ e^(−inθ)/π, exactly: nothing is sampled.

    >>> square = outline("a square")
    >>> whole_gap = area_from_girth_cm2(160) - 1600
    >>> bool(0.9 * whole_gap < wave_areas_cm2(square.hull_cm).sum() < whole_gap)
    True
    """
    count = whole(waves, "waves", at_least=1, at_most=100_000)
    edges = np.diff(np.vstack([hull_cm, hull_cm[:1]]), axis=0)
    lengths = np.hypot(*edges.T)
    directions = np.arctan2(-edges[:, 0], edges[:, 1])
    number = np.arange(1, count + 1)
    sums = np.exp(-1j * np.outer(number, directions)) @ lengths
    shares = np.zeros(count)
    shares[1:] = np.abs(sums[1:]) ** 2 / (2 * np.pi * (number[1:] ** 2 - 1.0))
    return shares


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
    axis; outline_name: one of OUTLINES; terms: waves that are summed.
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

    @property
    def circle_cm2(self) -> float:
        """Area of the circle that has the chosen outline's taut girth."""
        return float(area_from_girth_cm2(self.section.taut_girth_cm))

    @property
    def missing_cm2(self) -> float:
        """How much that circle holds more than the outline's hull."""
        return max(self.circle_cm2 - float(self.section.hull_area_cm2), 0.0)

    @cached_property
    def waves_cm2(self) -> FloatArray:
        """The missing area by waves, from wave 1 to MOST_TERMS."""
        return _waves_cm2(self.outline_name)

    def sides(self, step: Step) -> tuple[float, float] | None:
        """Both sides of a line as the controls stand, or None if it has no numbers.

        step: of this road.
        """
        if self.road.name == "calipers":
            return step.sides(self.a_cm, self.b_cm, self.turn_deg)
        return step.sides(self.a_cm, self.b_cm)


@lru_cache(maxsize=len(OUTLINES))
def _waves_cm2(name: str) -> Any:
    return wave_areas_cm2(outline(name).hull_cm)
