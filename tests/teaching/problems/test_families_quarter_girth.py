"""Problems of the quarter-girth rule: a second way, printed values met, each slip by hand."""

import math
from fractions import Fraction
from functools import cache

import pytest
import sympy as sp

from mensura.teaching.problems.families.quarter_girth import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi
FT3_M3 = 0.3048**3


def exact(value):
    """A drawn number as the fraction that it is written as."""
    return Fraction(str(value))


def rule_m3(n):
    """A square beam, in fractions."""
    return (exact(n["mid_girth_cm"]) / 400) ** 2 * exact(n["log_length_m"])


def hoppus_ft(n):
    """A square beam in inches, a foot at a time, in fractions."""
    side_ft = exact(n["mid_girth_in"]) / 48
    return side_ft * side_ft * exact(n["log_length_ft"])


@cache
def left_out():
    """What is between the circle and the square of the same girth, in closed form."""
    girth, length = sp.symbols("G L", positive=True)
    radius = girth / (2 * sp.pi)
    closed = sp.integrate(2 * sp.pi * sp.Symbol("r"), (sp.Symbol("r"), 0, radius)) * length
    found = sp.simplify(closed - (girth / 4) ** 2 * length)
    return sp.lambdify((girth, length), found)


def over_bark_percent(n):
    """Radii: the wood is the radius over bark less the bark; the rule a square of its quarter."""
    over = n["mid_girth_cm"] / (2 * PI)
    wood = PI * (over - n["bark_cm"]) ** 2
    return 100 * ((2 * PI * over / 4) ** 2 - wood) / wood


#: family: the answer from its numbers, with nothing of mensura; 355/113 is π to seven figures.
SECOND_WAY = {
    "quarter-girth": rule_m3,
    "hoppus-feet": hoppus_ft,
    "true-from-hoppus": lambda n: (
        exact(n["hoppus_ft"]) * 4 * Fraction(113, 355) * Fraction(3048, 10_000) ** 3
    ),
    "wood-left-out": lambda n: left_out()(n["mid_girth_cm"] / 100, n["log_length_m"]),
    "rule-over-bark": over_bark_percent,
}

#: How nearly both agree: fractions, sympy's integral and radii.
SECOND_WAY_REL = 2e-7


@pytest.mark.parametrize(
    ("hoppus", "printed_m3", "half_a_digit"), [(1, 0.036054, 5e-7), (50, 1.8027, 5e-5)]
)
def test_printed_hoppus_feet(hoppus, printed_m3, half_a_digit):
    """The hoppus foot [Rowlett], and fifty of them, the hoppus ton (encyclopedia, read)."""
    answer = BY_KEY["true-from-hoppus"].answer(Given({"hoppus_ft": hoppus}))
    assert answer == pytest.approx(printed_m3, abs=half_a_digit)


def test_a_hoppus_foot_in_cubic_feet():
    """1.273 cubic feet [Rowlett]: a log of one hoppus foot, and its true volume."""
    girth_in = 48.0
    one = BY_KEY["hoppus-feet"].answer(Given({"mid_girth_in": girth_in, "log_length_ft": 1.0}))
    assert one == 1.0
    slips = {
        slip.name: slip.compute(Given({"mid_girth_in": girth_in, "log_length_ft": 1.0}))
        for slip in BY_KEY["hoppus-feet"].slips
    }
    assert slips["true-volume"] == pytest.approx(1.273, abs=5e-4)
    told = BY_KEY["true-from-hoppus"].answer(Given({"hoppus_ft": one}))
    assert told / FT3_M3 == pytest.approx(1.273, abs=5e-4)


def test_the_rule_gives_78_54_per_cent():
    """Printed in a dictionary of forestry (read): 78.54 % of the true volume, 21.46 % below."""
    log = Given({"mid_girth_cm": 120.0, "log_length_m": 5.0})
    rule, left_out = (BY_KEY[key].answer(log) for key in ("quarter-girth", "wood-left-out"))
    assert 100 * rule / (rule + left_out) == pytest.approx(78.54, abs=5e-3)
    without = BY_KEY["rule-over-bark"].answer(Given({"mid_girth_cm": 120.0, "bark_cm": 0.0}))
    assert without == pytest.approx(-21.46, abs=5e-3)


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "quarter-girth": (
        {"mid_girth_cm": 120.0, "log_length_m": 5.0},
        {
            "true-volume": 1.8 / PI,
            "quarter-after-square": 1.8,
            "quarter-forgotten": 7.2,
            "quarter-diameter": 0.45 / PI**2,
            "cm-for-m": 4500.0,
        },
    ),
    "hoppus-feet": (
        {"mid_girth_in": 48.0, "log_length_ft": 10.0},
        {
            "square-inches-kept": 1440.0,
            "twelve-for-144": 120.0,
            "true-volume": 40 / PI,
            "quarter-forgotten": 160.0,
            "quarter-after-square": 40.0,
        },
    ),
    "true-from-hoppus": (
        {"hoppus_ft": 100.0},
        {
            "hoppus-foot-as-cubic-foot": 100 * FT3_M3,
            "wrong-way": 25 * PI * FT3_M3,
            "cubic-feet-kept": 400 / PI,
            "foot-not-cubed": 121.92 / PI,
            "per-cent-of-the-rule": 121.46018366 * FT3_M3,
            "foot-of-30-cm": 400 / PI * 0.027,
        },
    ),
    "wood-left-out": (
        {"mid_girth_cm": 120.0, "log_length_m": 5.0},
        {
            "share-of-the-rule": 0.45 * 0.2146018366,
            "share-of-the-truth": 1.8 / PI * 0.2732395447,
            "rule-only": 0.45,
            "true-volume": 1.8 / PI,
            "girth-as-diameter": 1.8 * PI - 0.45,
        },
    ),
    # the bark takes a tenth off the girth
    "rule-over-bark": (
        {"mid_girth_cm": 40 * PI, "bark_cm": 2.0},
        {
            "bark-forgotten": 25 * PI - 100,
            "wrong-sign": 100 - 25 * PI / 0.81,
            "bark-on-one-side": 25 * PI / 0.95**2 - 100,
            "share-of-the-rule": 100 - 324 / PI,
            "thickness-off-girth": 25 * PI / (1 - 0.1 / PI) ** 2 - 100,
            "first-order": 25 * PI * 1.2 - 100,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
