"""The bark panel's numbers: wood inside its bark, as a tape and a gauge find it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.areas import area_from_girth_cm2, diameter_from_girth_cm
from mensura.estimates.bark import (
    tape_on_bark_percent,
    touched_parts_cm,
    touched_percent,
    under_bark_diameter_cm,
)
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.bark import furrow_pattern, rough_oval
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import Section
from mensura.teaching.controls import Control

#: The bark's pattern: drawn once for all from this seed.
SEED = 11

CONTROLS = (
    Control("first_cm", "first diameter", "cm", 36, 56, 0.5, 46, "Stem"),
    Control("second_cm", "second diameter", "cm", 36, 56, 0.5, 42, "Stem"),
    Control("bark_thickness_cm", "bark thickness", "cm", 0.6, 4, 0.1, 2, "Bark"),
    Control("ridges", "ridges", "", 12, 60, 1, 24, "Bark", whole=True),
    Control("furrow_percent", "furrows, of bark", "%", 0, 95, 5, 70, "Bark"),
    Control("press_cm", "band sinks in", "cm", 0, 0.5, 0.05, 0.1, "Tape and gauge"),
    Control("gauge_deg", "gauge stands at", "°", 0, 90, 0.5, 30, "Tape and gauge"),
)
EVEN = {"furrow_percent": 0.0, "press_cm": 0.0}


@dataclass(frozen=True, eq=False)
class BarkShown:
    """All that the panel shows of one stem in its bark.

    edge_cm, hull_cm, wood_cm: points of the bark's edge, the taut tape's way and the wood's edge,
    shape (n, 2); touch_cm: ends of the pieces that the tape touches, shape (k, 2, 2); press_cm:
    how far the tape is pressed in; reading_cm: girth as the tape tells it; over_cm: its diameter;
    gauge_cm: the bark's thickness where the gauge stands; bark_thickness_cm: from ridge top to
    wood; under_cm: over_cm less twice the gauge; wood_diameter_cm: what a tape on the wood would
    tell; true_cm2, wood_cm2, claimed_cm2: areas of wood and bark, of the wood, and as the tape
    over bark claims it; touched_percent, on_bark_percent: shares of the bark's edge and of the
    tape where they meet, unpressed; gauge_at_cm, gauge_out: where the gauge enters the bark, and
    the direction from there away from the wood (no unit).
    """

    edge_cm: FloatArray
    hull_cm: FloatArray
    wood_cm: FloatArray
    touch_cm: FloatArray
    press_cm: float
    reading_cm: float
    over_cm: float
    gauge_cm: float
    bark_thickness_cm: float
    under_cm: float
    wood_diameter_cm: float
    true_cm2: float
    wood_cm2: float
    claimed_cm2: float
    touched_percent: float
    on_bark_percent: float
    gauge_at_cm: FloatArray
    gauge_out: Any


@lru_cache(maxsize=32)
def _contact(stem: Section) -> tuple[FloatArray, float, float]:
    parts = kept(touched_parts_cm(stem))
    shares = touched_percent(stem, parts), tape_on_bark_percent(stem, parts)
    return parts, float(shares[0]), float(shares[1])


def numbers(
    first_cm: float,
    second_cm: float,
    bark_thickness_cm: float,
    ridges: int,
    furrow_percent: float,
    press_cm: float,
    gauge_deg: float,
) -> BarkShown:
    """What the panel shows for a state of its controls.

    first_cm, second_cm: diameters over bark; bark_thickness_cm: from ridge top to wood; ridges: how
    many; furrow_percent: depth of the deepest furrow, of the bark; press_cm: how far the band sinks
    in; gauge_deg: where the gauge stands.

    >>> from mensura.teaching.controls import starting
    >>> shown = numbers(**starting(CONTROLS) | EVEN)
    >>> round(shown.under_cm - shown.wood_diameter_cm, 9), shown.touched_percent
    (0.0, 100.0)
    """
    base = Ellipse(first_cm, second_cm)
    bark, press = bark_thickness_cm, press_cm
    ridges, depth = ridges, bark * furrow_percent / 100
    stem = rough_oval(base.first_cm, base.second_cm, ridges, depth, SEED)
    touch, touched, on_bark = _contact(stem)
    reading = float(Tape().read(stem, Lay(press_cm=press)).reading_cm)
    over = float(diameter_from_girth_cm(reading))
    turn = gauge_deg / 360
    furrow = float(np.interp(turn, *furrow_pattern(ridges, SEED), period=1.0)) if depth else 0.0
    gauge = bark - depth * furrow
    outline, inward = base.edge_cm(np.linspace(0, 2 * np.pi, 720, endpoint=False))
    (entry,), (away,) = base.edge_cm(np.array([2 * np.pi * turn]))
    return BarkShown(
        edge_cm=stem.outline_cm(),
        hull_cm=stem.hull_cm,
        wood_cm=outline + bark * inward,
        touch_cm=touch,
        press_cm=press,
        reading_cm=reading,
        over_cm=over,
        gauge_cm=gauge,
        bark_thickness_cm=bark,
        under_cm=float(under_bark_diameter_cm(over, gauge)),
        wood_diameter_cm=float(
            under_bark_diameter_cm(diameter_from_girth_cm(base.taut_girth_cm), bark)
        ),
        true_cm2=float(stem.area_cm2),
        wood_cm2=float(base.under_bark_area_cm2(bark)),
        claimed_cm2=float(area_from_girth_cm2(reading)),
        touched_percent=touched,
        on_bark_percent=on_bark,
        gauge_at_cm=entry + depth * furrow * away,
        gauge_out=-away,
    )
