"""The log panel's numbers: one log of a known form, and what each rule makes of its readings.

Its sectional area is that of a solid, (1 − z/H)ᵖ of the butt's, and a flare that dies out upwards.
Both have closed volumes, so that what a rule says is held against the true volume and not against
another rule.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.areas import over_percent
from mensura.estimates.logs import huber_m3, newton_m3, smalian_m3
from mensura.estimates.quarter_girth import quarter_girth_m3
from mensura.estimates.solids import SOLIDS
from mensura.teaching.controls import Choice, Control, State, starting

CONTROLS = (
    Control("power", "form, as a power", "", 0, 3, 0.1, 1.5, "Stem"),
    Control("butt_cm", "thickness", "cm", 20, 100, 1, 50, "Stem"),
    Control("tip_m", "its tip is at", "m", 12, 30, 0.5, 20, "Stem"),
    Control("flare_percent", "butt flare", "%", 0, 40, 1, 12, "Stem"),
    Control("length_m", "length", "m", 2, 12, 0.5, 6, "Log"),
    Control("mid_percent", "middle taken at", "%", 30, 70, 1, 50, "Readings"),
    Control("lowest_m", "lowest reading at", "m", 0, 1, 0.05, 0.1, "Readings"),
    Control("sections", "sections", "", 1, 12, 1, 4, "Readings", whole=True),
)
CHOICES = (Choice("within", "in each section", "Readings", ("Smalian", "Huber")),)

#: Height in which the flare's area falls to 1/e, in m: assumed.
FLARE_FADES_M = 0.5
#: Forms at which the curves are worked out, the four solids among them.
POWERS: FloatArray = kept(np.linspace(0.0, 3.0, 31))
#: Places along the log at which it is drawn, as shares of its length: denser at the butt.
ALONG: FloatArray = kept(np.linspace(0.0, 1.0, 61) ** 2)
RULES = ("Huber", "Smalian", "Newton", "by sections")


def whole_state(**changes: Any) -> State:
    """Where all controls stand, with some changes from the start.

    changes: names with their values.
    """
    return starting(CONTROLS, CHOICES) | changes


_PLAIN: State = {"flare_percent": 0.0, "mid_percent": 50.0, "lowest_m": 0.0}
PRESETS = MappingProxyType(
    {
        "A paraboloid": whole_state(power=1.0, **_PLAIN),
        "A cone to its tip": whole_state(power=2.0, tip_m=12.0, length_m=12.0, **_PLAIN),
        "A neiloid": whole_state(power=3.0, **_PLAIN),
        "Read above the flare": whole_state(lowest_m=1.0),
        "Every half metre": whole_state(sections=12),
    }
)


@dataclass(frozen=True, eq=False)
class LogShown:
    """All that the panel shows of one log.

    power: of its form; tip_m: where the whole stem would end; length_m: of the log; lowest_m: below
    which nothing is read; within: the rule in each section; places_m, areas_m2: the log as it is
    drawn; read_m, read_cm, read_m2: place, diameter and area of butt, middle and top as they were
    read; ends_m: of the sections; sections_m, sections_m2: the sections' line in the chart;
    true_m3: its volume; volumes_m3, over_percent: of each rule and by how much it is too large;
    forms_percent: the same for every one of POWERS; quarter_girth_m3: by that rule, from the
    middle.
    """

    power: float
    tip_m: float
    length_m: float
    lowest_m: float
    within: str
    places_m: FloatArray
    areas_m2: FloatArray
    read_m: tuple[float, float, float]
    read_cm: tuple[float, float, float]
    read_m2: tuple[float, float, float]
    ends_m: FloatArray
    sections_m: FloatArray
    sections_m2: FloatArray
    true_m3: float
    volumes_m3: dict[str, float]
    over_percent: dict[str, float]
    forms_percent: dict[str, FloatArray]
    quarter_girth_m3: float

    @property
    def count(self) -> int:
        """How many sections."""
        return len(self.ends_m) - 1

    @property
    def form(self) -> str:
        """The form in words: a solid's name, or between which two it lies."""
        names = list(SOLIDS)
        at = round(self.power)
        if abs(self.power - at) < 1e-9:
            return names[at]
        return f"between {names[int(self.power)]} and {names[int(self.power) + 1]}"


@dataclass(frozen=True)
class _Stem:
    """A form for each power, one or many: sections and volume from the butt up, closed."""

    powers: Any
    butt_m2: float
    flare_m2: float
    tip_m: float

    def area_m2(self, place_m: Any) -> Any:
        """At a height above the butt, in m; powers along the first axis."""
        left = np.maximum(1 - np.asarray(place_m) / self.tip_m, 0.0)
        with np.errstate(divide="ignore"):
            solid = self.butt_m2 * np.power(left, self.powers)
        return solid + self.flare_m2 * np.exp(-np.asarray(place_m) / FLARE_FADES_M)

    def cm(self, place_m: Any) -> Any:
        """Diameter at a height above the butt, in m."""
        return 200 * np.sqrt(self.area_m2(place_m) / np.pi)

    def volume_m3(self, length_m: float) -> Any:
        """From the butt to a height, exactly."""
        up = self.powers + 1
        solid = self.butt_m2 * self.tip_m / up * (1 - (1 - length_m / self.tip_m) ** up)
        return solid + self.flare_m2 * FLARE_FADES_M * -np.expm1(-length_m / FLARE_FADES_M)


def _volumes_m3(
    stem: _Stem, length_m: float, read_m: tuple[float, float, float], ends_m: FloatArray, way: str
) -> dict[str, Any]:
    """What each rule makes of a stem's readings."""
    butt, middle, top = (stem.cm(place) for place in read_m)
    lowest = read_m[0]
    piece_m = length_m / (len(ends_m) - 1)
    if way == "Huber":
        halves = np.maximum((ends_m[1:] + ends_m[:-1]) / 2, lowest)
        parts = huber_m3(stem.cm(halves), piece_m)
    else:
        across = stem.cm(np.maximum(ends_m, lowest))
        parts = smalian_m3(across[..., :-1], across[..., 1:], piece_m)
    return {
        "Huber": huber_m3(middle, length_m),
        "Smalian": smalian_m3(butt, top, length_m),
        "Newton": newton_m3(butt, middle, top, length_m),
        "by sections": np.sum(parts, axis=-1),
    }


def numbers(
    power: float,
    butt_cm: float,
    tip_m: float,
    flare_percent: float,
    length_m: float,
    mid_percent: float,
    lowest_m: float,
    sections: int,
    within: str,
) -> LogShown:
    """What the panel shows for a state of its controls.

    power: p of the form, 0 cylinder to 3 neiloid; butt_cm: diameter at the butt without the flare;
    tip_m: where the stem would end; flare_percent: by how much the flare makes the butt's diameter
    larger; length_m: of the log, from the butt; mid_percent: where the middle is read, of the
    length; lowest_m: below which nothing is read: the butt's reading is taken there; sections: into
    which it is cut; within: the rule in each of them.

    >>> shown = numbers(**PRESETS["A cone to its tip"])
    >>> {rule: round(over, 6) for rule, over in shown.over_percent.items()}
    {'Huber': -25.0, 'Smalian': 50.0, 'Newton': 0.0, 'by sections': 3.125}
    """
    butt_m2 = np.pi / 40000 * butt_cm**2
    flare_m2 = butt_m2 * ((1 + flare_percent / 100) ** 2 - 1)
    stem = _Stem(power, butt_m2, flare_m2, tip_m)
    read_m = lowest_m, length_m * mid_percent / 100, length_m
    ends_m = np.linspace(0.0, length_m, sections + 1)
    found = _volumes_m3(stem, length_m, read_m, ends_m, within)
    true_m3 = float(stem.volume_m3(length_m))
    # the same log of every form: forms along the first axis, a section's places along the second
    forms = _Stem(POWERS[:, None], butt_m2, flare_m2, tip_m)
    others = _volumes_m3(forms, length_m, read_m, ends_m, within)
    others_true = forms.volume_m3(length_m)[:, 0]
    if within == "Huber":
        line_m = np.repeat(ends_m, 2)[1:-1]
        halves = np.maximum((ends_m[1:] + ends_m[:-1]) / 2, lowest_m)
        line_m2 = np.repeat(stem.area_m2(halves), 2)
    else:
        line_m, line_m2 = ends_m, stem.area_m2(np.maximum(ends_m, lowest_m))
    places_m = ALONG * length_m
    butt, middle, top = (float(stem.cm(place)) for place in read_m)
    return LogShown(
        power=power,
        tip_m=tip_m,
        length_m=length_m,
        lowest_m=lowest_m,
        within=within,
        places_m=places_m,
        areas_m2=stem.area_m2(places_m),
        read_m=read_m,
        read_cm=(butt, middle, top),
        read_m2=tuple(float(stem.area_m2(place)) for place in read_m),  # type: ignore[arg-type]
        ends_m=ends_m,
        sections_m=line_m,
        sections_m2=line_m2,
        true_m3=true_m3,
        volumes_m3={rule: float(volume) for rule, volume in found.items()},
        over_percent={rule: float(over_percent(volume, true_m3)) for rule, volume in found.items()},
        forms_percent={
            rule: over_percent(np.ravel(volume), others_true) for rule, volume in others.items()
        },
        quarter_girth_m3=float(quarter_girth_m3(np.pi * middle, length_m)),
    )
