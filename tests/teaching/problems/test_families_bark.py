"""Problems of bark: each answer by rings, roots or plain arithmetic, each slip by hand."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from mensura.teaching.problems.families.bark import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi


def inner_girth_cm(girth, bark):
    """Way round the wood, walked in short steps on a circle drawn inside."""
    turn = np.linspace(0, 2 * PI, 20_001)
    radius = girth / (2 * PI) - bark
    return np.hypot(*np.diff([radius * np.cos(turn), radius * np.sin(turn)])).sum()


def ring_percent(girth, bark):
    """Thin layers of bark laid on one by one, against all the section's layers."""
    radius = girth / (2 * PI)
    ring, _ = quad(lambda r: 2 * PI * r, radius - bark, radius)
    whole, _ = quad(lambda r: 2 * PI * r, 0, radius)
    return 100 * ring / whole


def disc_cm2(diameter):
    """Area of a disc by strips."""
    quarter, _ = quad(lambda turn: (diameter / 2 * math.cos(turn)) ** 2, 0, PI / 2)
    return 4 * quarter


def bark_of_factor_cm(girth, factor):
    """The thickness at which what is left has the factor."""
    radius = girth / (2 * PI)
    return brentq(lambda bark: (radius - bark) / radius - factor, 0, radius, xtol=1e-13)


def girth_of_wood_cm(diameter, factor):
    """The girth whose diameter, times the factor, is what was wanted."""
    return brentq(lambda girth: girth / PI * factor - diameter, 1, 1000, xtol=1e-11)


#: family: the answer from its numbers, without the function that the family calls.
SECOND_WAY = {
    "girth-under-bark": lambda n: inner_girth_cm(n["girth_cm"], n["bark_cm"]),
    "share-of-bark": lambda n: ring_percent(n["girth_cm"], n["bark_cm"]),
    "wood-from-a-bark-factor": lambda n: disc_cm2(n["girth_cm"] / PI * n["bark_factor"]),
    "bark-from-a-factor": lambda n: bark_of_factor_cm(n["girth_cm"], n["bark_factor"]),
    "two-gauge-readings": lambda n: disc_cm2(
        n["diameter_cm"] - n["first_bark_cm"] - n["second_bark_cm"]
    ),
    "girth-for-a-wanted-wood": lambda n: girth_of_wood_cm(n["diameter_cm"], n["bark_factor"]),
}

#: How nearly both agree: steps, rings, strips or root finding.
SECOND_WAY_REL = 2e-7


def test_bark_goes_off_any_convex_shape_alike():
    """Not of the circle only: a wood of 3 by 4, even bark 0.5, by Steiner's formula [Steiner1840].

    Round the corners the bark makes four quarter circles, along the sides it adds nothing.
    """
    over_bark = 2 * (3 + 4) + 4 * (PI / 2 * 0.5)
    given = Given({"girth_cm": over_bark, "bark_cm": 0.5})
    assert BY_KEY["girth-under-bark"].answer(given) == pytest.approx(14)


@pytest.mark.parametrize(("percent", "share"), [(10, 19.0), (15, 27.75)])
def test_the_share_of_bark_in_round_numbers(percent, share):
    """Bark of 10 per cent of the diameter is 1 − 0.9² of the area, one of 15 is 1 − 0.85²."""
    given = Given({"girth_cm": 40 * PI, "bark_cm": 40 * percent / 200})
    assert BY_KEY["share-of-bark"].answer(given) == pytest.approx(share, rel=1e-12)


def test_the_families_undo_each_other():
    """The girth for a wanted wood has that wood; the bark of a factor leaves that factor."""
    girth = BY_KEY["girth-for-a-wanted-wood"].answer(
        Given({"diameter_cm": 30.0, "bark_factor": 0.85})
    )
    both = {"girth_cm": girth, "bark_factor": 0.85}
    assert BY_KEY["wood-from-a-bark-factor"].answer(Given(both)) == pytest.approx(225 * PI)
    bark = BY_KEY["bark-from-a-factor"].answer(Given(both))
    under = BY_KEY["girth-under-bark"].answer(Given({"girth_cm": girth, "bark_cm": bark}))
    assert under == pytest.approx(30 * PI)


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "girth-under-bark": (
        {"girth_cm": 100.0, "bark_cm": 2.0},
        {
            "one-side-only": 100 - 2 * PI,
            "pi-forgotten": 96.0,
            "over-bark-for-under-bark": 100.0,
            "wrong-sign": 100 + 4 * PI,
            "diameter-for-girth": 100 / PI - 4,
        },
    ),
    "share-of-bark": (
        {"girth_cm": 40 * PI, "bark_cm": 2.0},
        {
            "squared-too-late": 10.0,
            "share-of-the-wood": 1900 / 81,
            "girth-as-diameter": 100 * (1 - (1 - 0.1 / PI) ** 2),
            "wood-for-bark": 81.0,
            "share-for-percent": 0.19,
            "first-order": 20.0,
            "inner-ring": 18.0,
        },
    ),
    "wood-from-a-bark-factor": (
        {"girth_cm": 40 * PI, "bark_factor": 0.9},
        {
            "squared-too-late": 360 * PI,
            "over-bark-for-under-bark": 400 * PI,
            "wrong-sign": 400 * PI / 0.81,
            "bark-for-wood": 76 * PI,
            "girth-as-diameter": 324 * PI**3,
            "diameter-for-radius": 1296 * PI,
            "first-order": 320 * PI,
            "bark-squared": 4 * PI,
        },
    ),
    "bark-from-a-factor": (
        {"girth_cm": 40 * PI, "bark_factor": 0.9},
        {
            "both-sides": 4.0,
            "girth-as-diameter": 2 * PI,
            "share-of-area": 3.8,
            "wood-for-bark": 18.0,
            "halved-twice": 1.0,
        },
    ),
    "two-gauge-readings": (
        {"diameter_cm": 43.0, "first_bark_cm": 2.0, "second_bark_cm": 1.0},
        {
            "one-side-only": 41.5**2 * PI / 4,
            "bark-twice-too-often": 37**2 * PI / 4,
            "over-bark-for-under-bark": 43**2 * PI / 4,
            "wrong-sign": 46**2 * PI / 4,
            "diameter-for-radius": 1600 * PI,
            "geometric-mean": (43 - 2 * math.sqrt(2)) ** 2 * PI / 4,
        },
    ),
    "girth-for-a-wanted-wood": (
        {"diameter_cm": 40.0, "bark_factor": 0.8},
        {
            "wrong-sign": 32 * PI,
            "wrong-base": 48 * PI,
            "over-bark-for-under-bark": 40 * PI,
            "diameter-for-girth": 50.0,
            "factor-squared": 62.5 * PI,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-7
