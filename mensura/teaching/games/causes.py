"""What can make a reading wrong, and whether the physics lets it explain a given difference.

A cause fits when what is known of the measurement allows it, and when what it can add on this stem
reaches the difference to be explained. How large a fault may be in earnest is common practice, no
source; how much it then adds is the physics of :mod:`mensura.instruments`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import MeasureError, number
from mensura.instruments.fault import Fault
from mensura.instruments.faults import fault
from mensura.instruments.lay import Lay
from mensura.instruments.materials import MATERIALS, REFERENCE_C
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import circle
from mensura.teaching.games.round_draws import Draws

#: Two readings to a millimetre, each half a millimetre off, and a steady hand's rest.
TOLERANCE_CM = 0.15
#: How far an "about" may be off.
ABOUT = 0.15
#: What a band may hang loose by where nobody feels for it, cm.
SLACK_CM = (0.3, 3.0)
#: How deep a hard pull presses a band into soft bark, cm.
PRESS_CM = (0.05, 0.3)
#: How far a band's marks move apart in a few seasons of use, per cent.
STRETCH_PERCENT = {
    "cloth": (0.3, 2.0),
    "reinforced cloth": (0.1, 0.6),
    "fibreglass": (0.05, 0.3),
    "plastic": (0.1, 0.5),
    "steel": (0.005, 0.02),
    "stainless steel": (0.005, 0.02),
}
#: By how much wet may have shrunk a band in a few seasons, per cent; other stuffs do not shrink.
SHRINK_PERCENT = {"cloth": (0.5, 3.0), "reinforced cloth": (0.2, 1.0)}
#: So near to 20 °C the air needs no explaining, °C.
MILD_C = 3.0


@dataclass(frozen=True)
class Evidence:
    """A suspect reading, a careful second one, and what may have been the matter with the first.

    girth_cm: of the careful measurement; reading_cm: the suspect one; material: of the band, one
    of MATERIALS; temperature_c: of the air; seasons: that the band has been used without a check,
    0 for a checked one; worn_start_cm: torn off its start; unfelt: whether nobody felt it lie
    close; rise_cm: how much higher it may have lain on one side; wander_cm: how much it may have
    gone up and down, with two crests; twist_lift_cm: how far a twist may have stood off; knot_cm,
    climber_cm: height of a knot, diameter of a climber, that it may have crossed; soft_bark:
    whether a hard pull could press it in; height_off_m: of an old mark above breast height, 0 for
    none; taper_cm_per_m: of the stem.
    """

    girth_cm: float
    reading_cm: float
    material: str = "steel"
    temperature_c: float = REFERENCE_C
    seasons: int = 0
    worn_start_cm: float = 0.0
    unfelt: bool = False
    rise_cm: float = 0.0
    wander_cm: float = 0.0
    twist_lift_cm: float = 0.0
    knot_cm: float = 0.0
    climber_cm: float = 0.0
    soft_bark: bool = False
    height_off_m: float = 0.0
    taper_cm_per_m: float = 1.0

    def __post_init__(self) -> None:
        for name in ("girth_cm", "reading_cm"):
            checked = number(getattr(self, name), name, "cm", at_least=10.0, at_most=2000.0)
            object.__setattr__(self, name, checked)
        if self.material not in MATERIALS:
            raise MeasureError("material", self.material, "", "one of: " + ", ".join(MATERIALS))

    @property
    def off_cm(self) -> float:
        """What is to be explained: the reading less the careful girth, cm."""
        return round(self.reading_cm - self.girth_cm, 6)

    def lines(self) -> tuple[str, ...]:
        """What is known of the first measurement, a line a subject."""
        return (
            f"Band: {self.material}, "
            + (
                f"in its {_ordinal(self.seasons)} season and never checked; "
                if self.seasons
                else "checked this week; "
            )
            + (
                f"its first {self.worn_start_cm:g} cm are torn off, and what was held as zero was "
                "not noted."
                if self.worn_start_cm
                else "its zero mark was held as zero."
            ),
            f"Air: {plain_words(self.temperature_c)} °C"
            + (
                "; the band had lain out in it for an hour."
                if abs(self.temperature_c - REFERENCE_C) > MILD_C
                else "."
            ),
            "Hands: "
            + (
                "one alone, who drew it taut only once."
                if self.unfelt
                else "two drew it taut twice, and both readings agreed."
            ),
            "Lay: " + " ".join(self._lay()),
            f"Stem: {'soft, wet' if self.soft_bark else 'firm'} bark"
            + (", and this hand often pulls hard" if self.soft_bark else "")
            + f"; it loses {self.taper_cm_per_m:g} cm of diameter with each metre of height. "
            + " ".join(self._beside()),
        )

    def _lay(self) -> list[str]:
        told = []
        if self.rise_cm:
            told.append(
                f"a blurred photograph may show it about {self.rise_cm:g} cm higher on one side."
            )
        if self.wander_cm:
            told.append(
                f"{'It' if told else 'a blurred photograph'} may show it going up and down by "
                f"about {self.wander_cm:g} cm, two crests on the way round."
            )
        if not told:
            told.append("photographs from two sides show it level.")
        told.append(
            f"The hand may have twisted it; a twist of this band stands about "
            f"{self.twist_lift_cm:g} cm off."
            if self.twist_lift_cm
            else "Its numbers faced outward all the way round."
        )
        if self.height_off_m:
            told.append(
                f"An old mark stands {_height(self.height_off_m)} the one at 1.3 m; which was used "
                "was not noted."
            )
        else:
            told.append("It lay at the mark at 1.3 m.")
        return told

    def _beside(self) -> list[str]:
        told = []
        if self.climber_cm:
            told.append(
                f"A climber about {self.climber_cm:g} cm thick goes up it; whether it was eased "
                "off was not noted."
            )
        if self.knot_cm:
            told.append(
                f"A knot about {self.knot_cm:g} cm high is near; whether the band crossed it was "
                "not noted."
            )
        return told or ["No climber and no knot is near."]


Sizes = tuple[float, float] | None


@dataclass(frozen=True, eq=False)
class Cause:
    """One thing that can go wrong.

    fault: its row in the list of faults, which says what it does to a reading; text: as it may be
    chosen; seen: the fault as the evidence has it, in words; absent: what speaks against it when
    nothing of it is there; sizes: from the evidence, how large it may have been, None if it is
    ruled out; laid: from a size and the evidence, how band and lay were; hint: from the draws of a
    round, what of the evidence speaks for it; since: the edition in which it came into the game.
    """

    fault: Fault
    text: str
    seen: Callable[[Evidence], str]
    absent: str
    sizes: Callable[[Evidence], Sizes]
    laid: Callable[[float, Evidence], tuple[Lay, Tape]]
    hint: Callable[[Draws], dict[str, Any]]
    since: int = 1

    @property
    def key(self) -> str:
        """Its name, the fault's."""
        return self.fault.key

    def adds_cm(self, evidence: Evidence, share_percent: float) -> float:
        """What this cause adds to a reading on that stem, in cm.

        evidence: the stem and the band; share_percent: 0 for the least size that the evidence
        allows, 100 for the greatest. Raises MeasureError if the evidence rules the cause out.
        """
        sizes = self.sizes(evidence)
        if sizes is None:
            raise MeasureError("cause", self.key, "", "a cause that the evidence allows")
        lay, tape = self.laid(sizes[0] + (sizes[1] - sizes[0]) * share_percent / 100, evidence)
        reading = tape.read(circle(evidence.girth_cm / np.pi), lay)
        return float(reading.reading_cm - reading.taut_girth_cm)

    def reach_cm(self, evidence: Evidence) -> tuple[float, float] | None:
        """Least and greatest of what it can add here, in cm; None if the evidence rules it out.

        evidence: what is known. What a cause adds grows with its size, so the ends are enough.
        """
        if self.sizes(evidence) is None:
            return None
        ends = self.adds_cm(evidence, 0.0), self.adds_cm(evidence, 100.0)
        return min(ends), max(ends)


def _about(size: float) -> Sizes:
    return (size * (1 - ABOUT), size * (1 + ABOUT)) if size else None


def _tilt_deg(rise_cm: float, evidence: Evidence) -> float:
    return float(np.degrees(np.arctan(rise_cm * np.pi / evidence.girth_cm)))


def _hot_or_cold(draw: Draws) -> dict[str, Any]:
    cold, hot = draw.between("cold_c", -10, 0, 1), draw.between("hot_c", 35, 45, 1)
    return {"temperature_c": draw.pick("side", (cold, hot))}


def _expansion(evidence: Evidence) -> Sizes:
    row = MATERIALS[evidence.material]
    if row.least_per_c is None or row.most_per_c is None:
        return None
    return row.least_per_c, row.most_per_c


_SOUND = Tape()


def _causes(*rows: Cause) -> Mapping[str, Cause]:
    return MappingProxyType({one.key: one for one in rows})


#: What can have gone wrong, as it stands in the game. Those of edition 1 keep their order, since a
#: round takes its numbers in it; what is added says since which edition.
CAUSES: Mapping[str, Cause] = _causes(
    Cause(
        fault("tilt"),
        "The band was tilted.",
        lambda e: f"A band {e.rise_cm:g} cm higher on one side",
        "No photograph shows one side higher",
        lambda e: _about(e.rise_cm),
        lambda size, e: (Lay(tilt_deg=_tilt_deg(size, e)), _SOUND),
        lambda draw: {"rise_cm": draw.between("rise_cm", 6, 16, 1)},
    ),
    Cause(
        fault("wander"),
        "The band went up and down on its way round.",
        lambda e: f"A band that goes up and down by {e.wander_cm:g} cm",
        "No crest and no trough is to be seen",
        lambda e: _about(e.wander_cm),
        lambda size, e: (Lay(wander_cm=size, wander_waves=2), _SOUND),
        lambda draw: {"wander_cm": draw.between("wander_cm", 3, 8, 0.5)},
    ),
    Cause(
        fault("twist"),
        "The band was twisted.",
        lambda e: f"A twist that stands {e.twist_lift_cm:g} cm off",
        "Its numbers faced outward all the way round",
        lambda e: _about(e.twist_lift_cm),
        lambda size, e: (Lay(twist_lift_cm=size), _SOUND),
        lambda draw: {"twist_lift_cm": draw.between("twist_lift_cm", 0.5, 2, 0.1)},
    ),
    Cause(
        fault("slack"),
        "The band hung loose.",
        lambda e: "A band that hangs loose at the far side",
        "The band was drawn taut and felt to lie close",
        lambda e: SLACK_CM if e.unfelt else None,
        lambda size, e: (Lay(slack_cm=size), _SOUND),
        lambda draw: {"unfelt": True},
    ),
    Cause(
        fault("climber"),
        "A climber was caught under the band.",
        lambda e: f"A climber {e.climber_cm:g} cm thick under the band",
        "No climber is near",
        lambda e: _about(e.climber_cm),
        lambda size, e: (Lay(climber_cm=size), _SOUND),
        lambda draw: {"climber_cm": draw.between("climber_cm", 0.8, 3, 0.1)},
    ),
    Cause(
        fault("knot"),
        "The band crossed a knot.",
        lambda e: f"A knot {e.knot_cm:g} cm high under the band",
        "No knot is near",
        lambda e: _about(e.knot_cm),
        lambda size, e: (Lay(knot_cm=size), _SOUND),
        lambda draw: {"knot_cm": draw.between("knot_cm", 0.8, 2.5, 0.1)},
    ),
    Cause(
        fault("pressing"),
        "The band was pulled into the bark.",
        lambda e: "A band pulled hard into soft bark",
        "The bark is firm",
        lambda e: PRESS_CM if e.soft_bark else None,
        lambda size, e: (Lay(press_cm=size), _SOUND),
        lambda draw: {"soft_bark": True},
    ),
    Cause(
        fault("height"),
        "The band lay at the wrong height.",
        lambda e: f"A band at the old mark, {_height(e.height_off_m)} the right one,",
        "The band lay at the mark at 1.3 m",
        lambda e: _about(e.height_off_m),
        lambda size, e: (Lay(height_off_m=size, taper_cm_per_m=e.taper_cm_per_m), _SOUND),
        lambda draw: {
            "height_off_m": draw.pick("side", (-1, 1))
            * draw.between("height_off_m", 0.15, 0.5, 0.05)
        },
    ),
    Cause(
        fault("stretch"),
        "The band had stretched with use.",
        lambda e: f"A band of {e.material} that has stretched by its {_ordinal(e.seasons)} season",
        "The band was checked this week",
        lambda e: STRETCH_PERCENT[e.material] if e.seasons else None,
        lambda size, e: (Lay(), Tape(stretch_percent=size)),
        lambda draw: {"seasons": int(draw.between("seasons", 3, 9, 1))},
    ),
    Cause(
        fault("temperature"),
        "The band was too warm or too cold.",
        lambda e: f"A band of {e.material} at {plain_words(e.temperature_c)} °C",
        "No source says how this band follows the warmth",
        _expansion,
        lambda size, e: (Lay(), Tape(temperature_c=e.temperature_c, expansion_per_c=size)),
        _hot_or_cold,
    ),
    Cause(
        fault("worn start"),
        "The torn end of the band was held as zero.",
        lambda e: f"A torn end held as zero, with {e.worn_start_cm:g} cm gone,",
        "The zero mark was held as zero",
        lambda e: (e.worn_start_cm - 0.1, e.worn_start_cm + 0.1) if e.worn_start_cm else None,
        lambda size, e: (Lay(), Tape(worn_start_cm=size)),
        lambda draw: {"worn_start_cm": draw.between("worn_start_cm", 0.5, 3, 0.1)},
    ),
    Cause(
        fault("shrinking"),
        "The band had shrunk, after wet.",
        lambda e: f"A band of {e.material} that has shrunk by its {_ordinal(e.seasons)} season",
        "Only cloth shrinks with wet, and a band that was checked this week has not",
        lambda e: SHRINK_PERCENT.get(e.material) if e.seasons else None,
        lambda size, e: (Lay(), Tape(shrink_percent=size)),
        lambda draw: {"seasons": int(draw.between("seasons", 3, 9, 1))},
        since=2,
    ),
)


def fits(cause: str, evidence: Evidence) -> bool:
    """Whether a cause explains the difference: allowed by what was seen, and of the right size.

    cause: key of CAUSES; evidence: what was seen. Raises MeasureError for an unknown cause.

    >>> fits("climber", Evidence(126.0, 127.2, climber_cm=2.0)), fits("slack", Evidence(126, 127))
    (True, False)
    """
    if cause not in CAUSES:
        raise MeasureError("cause", cause, "", "one of: " + ", ".join(CAUSES))
    return _fits(CAUSES[cause], evidence)


@lru_cache(maxsize=4096)
def _fits(cause: Cause, evidence: Evidence) -> bool:
    reach = cause.reach_cm(evidence)
    if reach is None:
        return False
    low, high = reach
    return low - TOLERANCE_CM <= evidence.off_cm <= high + TOLERANCE_CM


def _ordinal(count: int) -> str:
    return f"{count}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(count, 'th') }"


def _height(off_m: float) -> str:
    return f"{abs(100 * off_m):.0f} cm {'above' if off_m > 0 else 'below'}"


def plain_words(value: float) -> str:
    """A number as it is written in a sentence, with a real minus.

    value: any unit.

    >>> plain_words(-5.0), plain_words(20.0)
    ('−5', '20')
    """
    return f"{value:g}".replace("-", "−")
