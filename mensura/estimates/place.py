"""Where to measure one stem: the place by the rules, what is read there, and what a rule is worth.

A stem is told as a crew would tell it: how thick at the right place, how it leans, how the ground
falls, where it forks or swells. From that follow the girth by the rules, what a level band and
level calipers read at any height, and the cost of each rule that is ignored.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Any

from mensura.checks import MeasureError
from mensura.estimates.asked_stem import AskedStem
from mensura.estimates.place_rules import situation
from mensura.estimates.place_said import Disagreement
from mensura.estimates.rules_here import (
    RuleHere,
    over_by_rule_percent,
    rules_here,
    told_source,
    where,
)

#: Beside every stem.
GENERAL_CAUTION = (
    "A steel band cuts and springs back; look up before you step to a stem. Your survey's manual, "
    "local rules and people licensed for the work come first."
)


@dataclass(frozen=True)
class Place:
    """Where to measure a stem, and the figures there.

    asked: the stem; girth_cm: by the rules, square to the axis, of each stem that they count;
    band_cm: a band square to the axis at the height asked for, round all that stands there;
    over_percent: the area of its circle less that by the rules, in per cent; level_band_cm: a level
    band there; level_caliper_in_lean_cm, level_caliper_across_cm: level calipers there, their beam
    in the upright plane of the lean and across it; rules: those that hold, the dearest first;
    disagreements: of the manuals on them; notes, cautions: what has to be said.
    """

    asked: AskedStem
    girth_cm: tuple[float, ...]
    band_cm: float
    over_percent: float
    level_band_cm: float
    level_caliper_in_lean_cm: float
    level_caliper_across_cm: float
    rules: tuple[RuleHere, ...]
    disagreements: tuple[Disagreement, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def where(self) -> str:
        """The rule's place in words."""
        return where(self.asked)

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers, lists and words, ready for JSON; the keys carry the units."""
        girths = list(self.girth_cm)
        return {
            "place": self.where,
            "girth_cm": girths[0] if len(girths) == 1 else girths,
            "band_cm": self.band_cm,
            "over_percent": self.over_percent,
            "level_band_cm": self.level_band_cm,
            "level_caliper_in_lean_cm": self.level_caliper_in_lean_cm,
            "level_caliper_across_cm": self.level_caliper_across_cm,
            "rules": [one.to_dict() for one in self.rules],
            "disagreements": [
                {
                    "about": one.about,
                    "views": [{"rule": v.words, "source": told_source(v)} for v in one.views],
                    "ours": one.ours,
                }
                for one in self.disagreements
            ],
            "notes": list(self.notes),
            "cautions": list(self.cautions),
        }


def place_on(asked: AskedStem) -> Place:
    """Where to measure a stem, what is read there, and what each rule costs if it is ignored.

    asked: the stem. Raises MeasureError where the stem has tapered to nothing.

    >>> found = place_on(AskedStem(40.0, slope_deg=20.0, taper_cm_per_m=1.0))
    >>> [round(one.cost_percent, 3) for one in found.rules if one.cost_key == "downhill"]
    [0.729]
    >>> [round(one, 4) for one in place_on(AskedStem(40.0)).girth_cm]
    [125.6637]
    """
    along = asked.from_side_m(asked.asked_height_m, asked.asked_side, asked.plumb)
    if not asked.stem.forked_at(along) and asked.stem.diameter_at_cm(along) <= 0:
        wanted = "a height at which the taper leaves a stem"
        raise MeasureError("height_m", asked.asked_height_m, "m", wanted)
    square, level = asked.section_at(along, False), asked.section_at(along, True)
    band = float(square.taut_girth_cm)
    rules = rules_here(asked)
    met = [situation(key) for key in dict.fromkeys(one.key for one in rules)]
    cautions = dict.fromkeys(one.caution for one in met if one.caution)
    return Place(
        asked,
        tuple(pi * leg for leg in asked.legs_cm),
        band,
        over_by_rule_percent(asked, (band / pi) ** 2),
        float(level.taut_girth_cm),
        float(level.width_cm(0.0)),
        float(level.width_cm(90.0)),
        rules,
        tuple(one for each in met for one in each.disagreements),
        _notes(asked),
        (*cautions, GENERAL_CAUTION),
    )


def _notes(asked: AskedStem) -> tuple[str, ...]:
    said = []
    if asked.taper_cm_per_m == 0:
        said.append("No taper was told: another height costs nothing on this stem.")
    swelling = asked.stem.swelling
    if swelling is not None and asked.swollen_times == 1.0:
        said.append("The swelling is clear of the place: no rule is needed for it.")
    if swelling is not None and asked.fork_at_m is not None:
        said.append("Legs are taken to swell like the stem, with the same gap between them.")
    if asked.fork_at_m is not None:
        said.append("Legs are taken not to taper, side by side in the plane of the lean.")
    return tuple(said)
