"""What the proof's panel shows at one step of one road: plain numbers from its controls.

The two sides of each line are the step's own: of an ellipse with the half-axes that are set, or, on
the road of any outline, of the one that is chosen, its series broken off where the control says.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from mensura.checks import MeasureError
from mensura.places import data_file
from mensura.stems.ellipse import Ellipse
from mensura.stems.outline import Outline
from mensura.stems.outline_file import read_outline
from mensura.stems.ripples import OutlineTerms
from mensura.stems.section import Section
from mensura.stems.shapes import reuleaux
from mensura.teaching.controls import Choice, Control, State
from mensura.teaching.proof.outlined import Outlined
from mensura.teaching.proof.roads import road
from mensura.teaching.proof.steps import SIDES_DEG, Road, Step

DISC = "disc 07 (invented)"
SQUARE = "a square"
CONSTANT_WIDTH = "a triangle of constant width"
ELLIPSE = "an ellipse"
CIRCLE = "a circle"

#: How each outline of the third road is made, by its name; the first is the demo's.
_MAKERS: dict[str, Callable[[], Outline]] = {
    DISC: lambda: read_outline(data_file("quillmere-disc-07.csv")),
    SQUARE: lambda: Outline([[-20, -20], [20, -20], [20, 20], [-20, 20]]),
    CONSTANT_WIDTH: lambda: reuleaux(44),
    ELLIPSE: lambda: Outline(Ellipse(60, 40).outline_cm(1440)),
    CIRCLE: lambda: Outline(Ellipse(46, 46).outline_cm(1440)),
}

#: The outlines of the third road, as they are chosen.
OUTLINES = tuple(_MAKERS)

#: Ripples that the sum of an outline can be taken up to.
MOST_TERMS = 24

#: What moves the pictures, by name; which of them, each road says (`varies`).
CONTROLS = {
    one.name: one
    for one in (
        Control("a_cm", "half-axis a", "cm", 10, 40, 0.5, 30, "Stem"),
        Control("b_cm", "half-axis b", "cm", 10, 40, 0.5, 24, "Stem"),
        Control("turn_deg", "turned by θ", "°", 0, 90, 0.5, 30, "Calipers"),
        Control("terms", "ripples summed", "", 2, MOST_TERMS, 1, 12, "Outline", whole=True),
    )
}

#: What is chosen from a list, by name.
CHOICES = {"outline": Choice("outline", "outline", "Outline", OUTLINES)}

#: Where a control is missing, its value stays here.
FIXED: State = {
    "a_cm": 30.0,
    "b_cm": 24.0,
    "turn_deg": 0.0,
    "outline": DISC,
    "terms": 12,
}


@cache
def outline_named(name: str) -> Outline:
    """One of the outlines to choose from.

    name: one of OUTLINES. Raises MeasureError for another.

    >>> round(outline_named("a square").area_cm2)
    1600
    """
    if name not in _MAKERS:
        raise MeasureError("outline", name, "", "one of: " + ", ".join(OUTLINES))
    return _MAKERS[name]()


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
        return outline_named(self.outline_name)

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
        return self.section if self.road.of_outlines else self.stem

    @property
    def series(self) -> OutlineTerms:
        """The ripples of the chosen outline's hull, as far as they are summed."""
        return self.outlined.series

    @cached_property
    def outlined(self) -> Outlined:
        """What the lines of the third road speak of."""
        return Outlined(self.section, self.terms, self.turn_deg)

    def sides(self, step: Step) -> tuple[float, float] | None:
        """Both sides of a line as the controls stand, or None if it has no numbers.

        step: of this road.
        """
        if self.road.of_outlines:
            return step.sides_of(self.outlined)
        turn_deg = self.turn_deg if "turn_deg" in self.road.varies else SIDES_DEG
        return step.sides(self.a_cm, self.b_cm, turn_deg)


def numbers(way: Road, state: State) -> ProofShown:
    """What the panel shows for a state of its controls.

    way: the road; state: values by name; what a road has no control for stays as in FIXED. A line
    that speaks of a constant width is shown on the outline that has one, whichever is chosen.
    """
    value = FIXED | state
    place = int(value["step"])
    constant = way.steps[place - 1].constant_width
    return ProofShown(
        road=way,
        step=place,
        a_cm=float(value["a_cm"]),
        b_cm=float(value["b_cm"]),
        turn_deg=float(value["turn_deg"]),
        outline_name=CONSTANT_WIDTH if constant else str(value["outline"]),
        terms=int(value["terms"]),
    )


def squares_shown(a_cm: float, b_cm: float) -> ProofShown:
    """What the picture of the squares needs, for a page that has no panel.

    a_cm, b_cm: half-axes, cm.

    >>> squares_shown(30, 24).present.picture
    'squares'
    """
    way = road("classroom")
    step = next(k for k, one in enumerate(way.steps, 1) if one.picture == "squares")
    return ProofShown(way, step, a_cm, b_cm, 0.0, DISC, int(FIXED["terms"]))
