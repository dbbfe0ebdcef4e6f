"""The calipers panel's numbers: one stem between faulty jaws, and what each fault adds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mensura.checks import FloatArray
from mensura.estimates.areas import area_from_diameters_cm2, area_from_girth_cm2, over_percent
from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import JAWS, READING
from mensura.instruments.faults import faults_in, settings_of
from mensura.stems.ellipse import Ellipse
from mensura.teaching.controls import Control, State, Switch, control_of, set_from, sound_of

#: The faults of the panel, in the order in which they are taken.
FAULTS = faults_in("chapter panel", JAWS, READING)

#: Those of the hand; the others are the calipers'.
_HAND = ("pressing", "beam slope")
CONTROLS = (
    Control("first_cm", "first diameter", "cm", 25, 60, 0.5, 46, "Stem"),
    Control("second_cm", "second diameter", "cm", 25, 60, 0.5, 40, "Stem"),
    Control("direction_deg", "turned by", "°", -90, 90, 1, 20, "Hand"),
    *(
        control_of(row.settings[0], "Hand" if row.key in _HAND else "Calipers")
        for row in FAULTS.values()
    ),
)
SWITCHES = (Switch("down", "round down, not nearest", "Calipers"),)

SOUND: State = sound_of(row.settings[0] for row in FAULTS.values())


@dataclass(frozen=True, eq=False)
class JawsShown:
    """All that the panel shows of one stem between faulty jaws.

    stem: the section; calipers: as they are; direction_deg: of the measured width; reading_cm,
    width_cm: told and true; breakdown: what each fault adds, in cm; square_cm: the reading at
    right angles; area_cm2: true; one_area_cm2, two_area_cm2: from this reading, and from both by
    their arithmetic mean; girth_cm, tape_area_cm2: a sound tape's. The rest lies in the calipers'
    own frame, with 0 at the foot of the fixed jaw: outline_cm: the section's edge; axis_cm: ends
    of its first axis; foot_cm: of the sliding jaw; touch_cm: where fixed jaw, sliding jaw and beam
    touch; mark_zero_cm, mark_step_cm: where the scale's 0 stands, seen along the stem, and how far
    apart its centimetres are.
    """

    stem: Ellipse
    calipers: Calipers
    direction_deg: float
    reading_cm: float
    width_cm: float
    breakdown: dict[str, float]
    square_cm: float
    area_cm2: float
    one_area_cm2: float
    two_area_cm2: float
    girth_cm: float
    tape_area_cm2: float
    outline_cm: FloatArray
    axis_cm: FloatArray
    foot_cm: float
    touch_cm: FloatArray
    mark_zero_cm: float
    mark_step_cm: float

    @property
    def over_percent(self) -> float:
        """How much too large the area from this one reading is, in per cent."""
        return float(over_percent(self.one_area_cm2, self.area_cm2))

    @property
    def direction_over_percent(self) -> float:
        """How much of it the direction alone makes, read without a fault, in per cent."""
        return float(over_percent(area_from_diameters_cm2([self.width_cm]), self.area_cm2))


def numbers(
    first_cm: float, second_cm: float, direction_deg: float, down: bool, **jaws: Any
) -> JawsShown:
    """What the panel shows for a state of its controls.

    first_cm, second_cm: diameters of the stem; direction_deg: of the measured width; down:
    whether it is always rounded downwards; jaws: the other values of CONTROLS by name.

    >>> from mensura.teaching.controls import starting
    >>> start = starting(CONTROLS, SWITCHES)
    >>> shown = numbers(**start | SOUND | {"direction_deg": 0, "zero_error_cm": 0.4})
    >>> shown.width_cm, shown.reading_cm
    (46.0, 46.4)
    """
    stem = Ellipse(first_cm, second_cm)
    turn = direction_deg
    calipers = Calipers(
        rounding="down" if down else "nearest",
        **set_from(settings_of(JAWS, READING), jaws),
    )
    told = calipers.reading(stem, [turn, turn + 90])
    breakdown = {name: float(part[0]) for name, part in told.breakdown.items()}
    reading, square = (float(one) for one in told.readings_cm)
    width = float(told.widths_cm[0])
    girth = float(stem.taut_girth_cm)
    stand = calipers.on_stem(stem, turn)
    return JawsShown(
        stem=stem,
        calipers=calipers,
        direction_deg=turn,
        reading_cm=reading,
        width_cm=width,
        breakdown=breakdown,
        square_cm=square,
        area_cm2=float(stem.area_cm2),
        one_area_cm2=float(area_from_diameters_cm2([reading])),
        two_area_cm2=float(area_from_diameters_cm2([reading, square])),
        girth_cm=girth,
        tape_area_cm2=float(area_from_girth_cm2(girth)),
        outline_cm=stand.outline_cm,
        axis_cm=stand.axis_cm,
        foot_cm=stand.foot_cm,
        touch_cm=stand.touch_cm,
        mark_zero_cm=stand.mark_zero_cm,
        mark_step_cm=stand.mark_step_cm,
    )
