"""Problems of a tape's condition: marks counted one by one, published examples, slips by hand."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from mensura.instruments.tape import Tape
from mensura.teaching.problems.families.condition import FAMILIES, HALF_DIVISION_CM
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi
STEEL = 11.6e-6


def mark_over_cm(way_cm, step_cm, lost_cm=0.0):
    """Which mark lies where the way ends: marks stand step_cm apart, the first lies at lost_cm.

    The marks are laid out one by one, and the place is found between two of them.
    """
    marks = lost_cm + np.arange(0.0, 400.0)
    places = np.cumsum(np.full(400, step_cm)) - step_cm
    return float(np.interp(way_cm, places, marks))


def way_cm(mark, step_cm):
    """Where a mark lies: found by trying."""
    return brentq(lambda way: mark_over_cm(way, step_cm) - mark, 0, 390, xtol=1e-12)


def ring_cm2(girth, growth):
    """Thin rings laid on one by one, each as long as the girth where it lies."""
    area, _ = quad(lambda g: g / (2 * PI), girth, girth + growth)
    return area


def stretch_percent(girth, reading):
    """The stretch at which the marks fit."""
    return brentq(lambda s: mark_over_cm(girth, 1 + s / 100) - reading, 0.0, 50.0, xtol=1e-11)


def warm_c(girth):
    """The temperature at which the marks are short by half a millimetre."""
    return brentq(lambda t: girth - girth / (1 + STEEL * (t - 20)) - 0.05, 20.0, 500.0, xtol=1e-10)


#: family: the answer from its numbers, without the function that the family calls.
SECOND_WAY = {
    "how-far-stretched": lambda n: stretch_percent(n["girth_cm"], n["reading_cm"]),
    "area-by-a-stretched-tape": lambda n: ring_cm2(
        n["reading_cm"],
        way_cm(n["reading_cm"], 1 + n["stretch_percent"] / 100) - n["reading_cm"],
    ),
    "area-by-a-stretched-tape, edition 1": lambda n: ring_cm2(
        0.0, way_cm(n["reading_cm"], 1 + n["stretch_percent"] / 100)
    ),
    "shrunken-tape": lambda n: (
        n["reading_cm"] - way_cm(n["reading_cm"], 1 - n["shrink_percent"] / 100)
    ),
    "growth-by-a-worn-tape": lambda n: ring_cm2(n["girth_cm"], n["growth_cm"] - n["worn_start_cm"]),
    "two-faults-in-one-tape": lambda n: (
        mark_over_cm(n["girth_cm"], 1 + n["stretch_percent"] / 100, n["worn_start_cm"])
        - n["girth_cm"]
    ),
    "steel-in-the-frost": lambda n: (
        10 * (mark_over_cm(n["girth_cm"], 1 + STEEL * (n["temperature_c"] - 20)) - n["girth_cm"])
    ),
    "how-warm-until-it-matters": lambda n: warm_c(n["girth_cm"]),
}

#: How nearly both agree: marks that are counted one by one, and with root finding.
SECOND_WAY_REL = 1e-6


@pytest.mark.parametrize(
    ("long_m", "of_m", "read_m", "printed_m", "rounding_m"),
    [(0.04, 20, 500, 501, 1e-9), (0.03, 20, 327, 327.49, 0.005)],
)
def test_published_chains_that_are_too_long(long_m, of_m, read_m, printed_m, rounding_m):
    """A chain of 20 m is 4 cm (3 cm) too long and tells 500 m (327 m): 501 m (327.49 m).

    Unsigned worked examples of surveying on the web. Here a metre of theirs is our centimetre:
    the rule is one of shares.
    """
    told = {"reading_cm": float(read_m), "stretch_percent": 100 * long_m / of_m}
    area = BY_KEY["area-by-a-stretched-tape"].form(1).answer(Given(told))
    assert math.sqrt(4 * PI * area) == pytest.approx(printed_m, abs=rounding_m)
    found = BY_KEY["how-far-stretched"].answer(
        Given({"girth_cm": of_m + long_m, "reading_cm": float(of_m)})
    )
    assert found == pytest.approx(told["stretch_percent"])


def test_a_published_line_on_a_warm_day():
    """A steel tape tells 318 m at 47.92 °C, 11.6e-6 per °C: 318.103 m, printed to the mm.

    Unsigned worked example of surveying on the web.
    """
    given = Given({"girth_cm": 31810.3, "temperature_c": 47.92})
    assert BY_KEY["steel-in-the-frost"].answer(given) == pytest.approx(-103, abs=0.5)


def test_the_band_that_is_warm_enough_is_half_a_millimetre_short():
    """At the temperature that was found a steel band reads just so much too little."""
    for girth in (120.0, 200.0, 320.0):
        warm = BY_KEY["how-warm-until-it-matters"].answer(Given({"girth_cm": girth}))
        told, _ = Tape(material="steel", temperature_c=warm).marks_cm(girth)
        assert girth - told == pytest.approx(HALF_DIVISION_CM, rel=1e-7)


def test_the_signs_of_the_faults():
    """Stretch reads too little, shrinkage, a lost start and frost too much."""
    grown = Given({"girth_cm": 100.0, "growth_cm": 10.0, "worn_start_cm": 3.0})
    sound = Given({"girth_cm": 100.0, "growth_cm": 10.0, "worn_start_cm": 0.0})
    family = BY_KEY["growth-by-a-worn-tape"]
    assert family.answer(grown) < family.answer(sound)
    wide = Given({"reading_cm": 100.0, "stretch_percent": 3.0})
    assert BY_KEY["area-by-a-stretched-tape"].form(1).answer(wide) > 100**2 / (4 * PI)
    assert BY_KEY["area-by-a-stretched-tape"].answer(wide) > 0
    shrunk = Given({"reading_cm": 128.23, "shrink_percent": 2.0})
    assert BY_KEY["shrunken-tape"].answer(shrunk) == pytest.approx(128.23 - 125.6654, abs=1e-9)
    told, _ = Tape(shrink_percent=2).marks_cm(125.6654)
    assert told == pytest.approx(128.23, abs=1e-9)
    assert BY_KEY["steel-in-the-frost"].answer(
        Given({"girth_cm": 200.0, "temperature_c": -10.0})
    ) == pytest.approx(2000 * STEEL * 30, rel=1e-3)


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "how-far-stretched": (
        {"girth_cm": 231.0, "reading_cm": 220.0},
        {
            "wrong-base": 100 / 21,
            "wrong-sign": -5.0,
            "share-for-percent": 0.05,
            "length-for-share": 11.0,
            "counted-from-nothing": 105.0,
        },
    ),
    "area-by-a-stretched-tape": (
        {"reading_cm": 100.0, "stretch_percent": 4.0},
        {
            "wrong-sign": 2500 / PI * (1 - 1 / 1.0816),
            "squared-too-late": 100 / PI,
            "first-order": 200 / PI,
            "divided": 2500 / PI * (1 / 0.9216 - 1),
            "cm-for-percent": 204 / PI,
            "whole-area": 2704 / PI,
            "stretch-left-in": 2500 / PI,
            "girth-as-diameter": 204 * PI,
            "diameter-for-radius": 816 / PI,
        },
    ),
    "shrunken-tape": (
        {"reading_cm": 150.0, "shrink_percent": 4.0},
        {
            "wrong-sign": -6.0,
            "wrong-base": 600 / 104,
            "divided": 6.25,
            "girth-itself": 144.0,
            "diameter-for-girth": 6 / PI,
            "cm-for-percent": 4.0,
        },
    ),
    "area-by-a-stretched-tape, edition 1": (
        {"reading_cm": 100.0, "stretch_percent": 4.0},
        {
            "stretch-left-in": 2500 / PI,
            "wrong-sign": 2500 / PI / 1.0816,
            "squared-too-late": 2600 / PI,
            "girth-as-diameter": 2704 * PI,
            "diameter-for-radius": 10816 / PI,
        },
    ),
    "growth-by-a-worn-tape": (
        {"girth_cm": 90.0, "growth_cm": 12.0, "worn_start_cm": 2.0},
        {
            "worn-left-in": (102**2 - 8100) / (4 * PI),
            "wrong-sign": (104**2 - 8100) / (4 * PI),
            "squared-too-late": 25 / PI,
            "girth-as-diameter": 475 * PI,
            "whole-area": 2500 / PI,
            "first-order": 450 / PI,
        },
    ),
    "two-faults-in-one-tape": (
        {"girth_cm": 63.0, "stretch_percent": 5.0, "worn_start_cm": 8.4},
        {
            "wrong-order": 5.0,
            "wrong-sign": 11.55,
            "worn-taken-off": -11.4,
            "stretch-left-out": 8.4,
            "worn-left-out": -3.0,
        },
    ),
    "how-warm-until-it-matters": (
        {"girth_cm": 200.0},
        {
            "counted-from-zero": 0.05 / 199.95 / STEEL,
            "whole-division": 20 + 0.1 / 199.9 / STEEL,
            "wrong-sign": 20 - 0.05 / 199.95 / STEEL,
            "diameter-for-girth": 20 + 0.05 / (200 / PI - 0.05) / STEEL,
            "mm-for-cm": 20 + 0.5 / 199.95 / STEEL,
        },
    ),
    "steel-in-the-frost": (
        {"girth_cm": 250.0, "temperature_c": -12.0},
        {
            "wrong-sign": -2500 * (1 / (1 - 32 * STEEL) - 1),
            "counted-from-zero": 2500 * STEEL * 12,
            "twenty-taken-off": 2500 * STEEL * 8,
            "cm-for-mm": 250 * (1 / (1 - 32 * STEEL) - 1),
            "diameter-for-girth": 2500 / PI * (1 / (1 - 32 * STEEL) - 1),
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-7
