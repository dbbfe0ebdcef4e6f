"""Problems of laying: each answer found by quadrature, hulls or roots, and each slip by hand."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.spatial import ConvexHull

from mensura.instruments.lay import Lay
from mensura.stems import circle
from mensura.teaching.problems.families.laying import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi


def tilted_times(tilt_deg):
    """How many times as long as a level loop a tilted one is: the slope summed up all round."""
    rise = math.tan(math.radians(tilt_deg))
    way, _ = quad(lambda turn: math.hypot(1, rise * math.cos(turn)), 0, 2 * PI, epsabs=1e-12)
    return way / (2 * PI)


def miss_cm(girth, percent):
    """The height at which a screw's turn, piece by piece, claims so much too much."""

    def claims_too_much(height):
        pieces = np.linspace(0, 1, 1001)
        turn = 2 * PI * pieces
        radius = girth / (2 * PI)
        way = np.column_stack([radius * np.cos(turn), radius * np.sin(turn), height * pieces])
        flat = np.array([1.0, 1.0, 0.0])
        length, level = (
            np.linalg.norm(np.diff(one, axis=0), axis=1).sum() for one in (way, way * flat)
        )
        return (length / level) ** 2 - 1 - percent / 100

    return brentq(claims_too_much, 1e-3, girth, xtol=1e-10)


def hull_adds_cm(stem, climber):
    """The band round both is the hull of many points on two circles that touch."""
    turn = np.linspace(0, 2 * PI, 6000, endpoint=False)
    edge = np.column_stack([np.cos(turn), np.sin(turn)])
    beside = edge * climber / 2 + [(stem + climber) / 2, 0]
    return ConvexHull(np.vstack([edge * stem / 2, beside])).area - PI * stem


#: family: the answer from its numbers, without the function that the family calls.
SECOND_WAY = {
    "tilted-tape": lambda n: n["reading_cm"] / tilted_times(n["tilt_deg"]),
    "ends-that-miss": lambda n: miss_cm(n["girth_cm"], n["allowed_percent"]),
    "climber-under-the-tape": lambda n: hull_adds_cm(n["diameter_cm"], n["climber_cm"]),
    "taped-too-high": lambda n: (
        (n["reading_cm"] + n["girth_taper_cm_per_m"] * n["height_off_m"]) ** 2 * 113 / (4 * 355)
    ),
    "slack-tape": lambda n: (
        100
        * n["slack_cm"]
        * (2 * n["reading_cm"] - n["slack_cm"])
        / (n["reading_cm"] - n["slack_cm"]) ** 2
    ),
}

#: How nearly both agree: sums, hulls, roots or plain arithmetic.
SECOND_WAY_REL = 2e-5


def test_the_allowed_miss_is_what_the_lay_adds():
    """Laid with the miss that was found, the band claims just so much too much."""
    family = BY_KEY["ends-that-miss"]
    for girth, percent in ((80.0, 0.2), (120.0, 0.7), (190.0, 1.5)):
        height = family.answer(Given({"girth_cm": girth, "allowed_percent": percent}))
        adds = Lay(overlap_offset_cm=height).shares_cm(circle(girth / PI))["overlap"]
        assert 100 * ((1 + adds / girth) ** 2 - 1) == pytest.approx(percent, rel=1e-6)


@pytest.mark.parametrize("tilt_deg", range(16, 26))
def test_the_rule_that_the_hint_teaches(tilt_deg):
    """The mean of 1 and 1/cos θ stays well within tolerance: a fifth of it at the most."""
    rule = (1 + 1 / math.cos(math.radians(tilt_deg))) / 2
    assert 0 < tilted_times(tilt_deg) / rule - 1 < 0.001


#: What a climber of 2 cm adds on a stem of 40 cm: straight pieces less what they skip.
ADDS_40_2_CM = 2 * math.sqrt(80) - 38 * math.acos(38 / 42)

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "tilted-tape": (
        {"reading_cm": 100.0, "tilt_deg": 20.0},
        {
            "tilt-left-in": 100.0,
            "wrong-sign": 103.2338,  # the factor at 20°, by the integral above
            "cosine-all-round": 93.96926,
            "tangent-not-squared": 100 / (1 + 0.3639702 / 4),
            "half-for-quarter": 100 / (1 + 0.3639702**2 / 2),
        },
    ),
    "ends-that-miss": (
        {"girth_cm": 100.0, "allowed_percent": 1.0},
        {
            "root-forgotten": 1.0,
            "girth-for-area": 100 * math.sqrt(0.0201),
            "halved-twice": 10 / math.sqrt(2),
            "diameter-for-girth": 10 / PI,
            "percent-for-share": 100.0,
        },
    ),
    "climber-under-the-tape": (
        {"diameter_cm": 40.0, "climber_cm": 2.0},
        {
            "thicker-all-round": 2 * PI,
            "skipped-bark-forgotten": 2 * math.sqrt(80),
            "diameter-for-radius": 2 * ADDS_40_2_CM,
            "one-side-only": ADDS_40_2_CM / 2,
            "climber-radius": 2 * math.sqrt(160) - 36 * math.acos(36 / 44),
            "sharp-edge": 2 * math.sqrt(84) - 40 * math.acos(10 / 11),
            "half-its-girth": PI,
            "half-girth-less-thickness": PI - 2,
            "thickness": 2.0,
            "quarter-of-its-girth": PI / 2,
        },
    ),
    "taped-too-high": (
        {"reading_cm": 97.5, "girth_taper_cm_per_m": 5.0, "height_off_m": 0.5},
        {
            "height-left-in": 97.5**2 / (4 * PI),
            "wrong-sign": 95**2 / (4 * PI),
            "taper-of-diameter": (97.5 + 2.5 * PI) ** 2 / (4 * PI),
            "whole-metre": 102.5**2 / (4 * PI),
            "girth-as-diameter": 2500 * PI,
            "diameter-for-radius": 10000 / PI,
            "taper-as-percent": (97.5 * 1.025) ** 2 / (4 * PI),
        },
    ),
    "slack-tape": (
        {"reading_cm": 84.0, "slack_cm": 4.0},
        {
            "squared-too-late": 5.0,
            "wrong-base": 100 * (1 - (20 / 21) ** 2),
            "slack-of-diameter": 100 * ((84 / (84 - 4 * PI)) ** 2 - 1),
            "share-for-percent": 0.1025,
            "counted-from-nothing": 110.25,
            "first-order": 10.0,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-6
