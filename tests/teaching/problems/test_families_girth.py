"""Problems of girth: each answer found a second way, tables of others met, each slip by hand."""

import math

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from mensura.stems import cherry_trees
from mensura.teaching.problems.families.girth import FAMILIES, SLENDER, STOUT
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi

#: Southern Regional Extension Forestry, Service Forester's Handbook, table "Basal area and plots
#: per acre" [SREF]: inches, square feet to three decimals.
HANDBOOK = dict(
    zip(
        range(4, 21),
        (
            *(0.087, 0.136, 0.196, 0.267, 0.349, 0.442, 0.545, 0.660, 0.785),
            *(0.922, 1.069, 1.227, 1.396, 1.576, 1.767, 1.969, 2.182),
        ),
        strict=True,
    )
)
M2_PER_FT2 = 0.3048**2


def disc_cm2(radius):
    """Area of a disc by strips, a quarter at a time."""
    quarter, _ = quad(lambda turn: (radius * math.cos(turn)) ** 2, 0, PI / 2)
    return 4 * quarter


def girth_of_area(area_cm2):
    """The radius at which a disc of strips has the area, once round."""
    radius = brentq(lambda r: disc_cm2(r) - area_cm2, 1e-3, 1e3, xtol=1e-12)
    return 2 * PI * radius


def ring_cm2(girth, growth):
    """Thin rings laid on one by one, each as long as the girth where it lies."""
    area, _ = quad(lambda g: g / (2 * PI), girth, girth + growth)
    return area


def named_column_cm(reading, height_m):
    """Of both meanings the one that gives a stem of the stand."""
    found = [
        diameter
        for diameter in (reading, reading * 113 / 355)
        if STOUT <= height_m / (diameter / 100) <= SLENDER
    ]
    assert len(found) == 1
    return found[0]


#: family: the answer from its numbers, with nothing of mensura; 355/113 is π to seven figures.
SECOND_WAY = {
    "girth-to-diameter": lambda n: n["girth_cm"] * 113 / 355,
    "girth-to-area": lambda n: disc_cm2(n["girth_cm"] / (2 * PI)),
    "inches-to-diameter": lambda n: n["girth_in"] * 254 * 113 / 35500,
    "diameter-to-basal-area": lambda n: disc_cm2(n["diameter_cm"] / 200),
    "area-to-girth": lambda n: girth_of_area(n["area_cm2"]),
    "growth-of-area": lambda n: ring_cm2(n["girth_cm"], n["growth_cm"]),
    "girth-or-diameter": lambda n: named_column_cm(n["reading_cm"], n["tree_height_m"]),
}

#: How nearly both agree: strips, rings, root finding or plain arithmetic.
SECOND_WAY_REL = 2e-7


@pytest.mark.parametrize(("inches", "printed"), HANDBOOK.items())
def test_handbook_rows(inches, printed):
    """All seventeen rows to the printed digit, through three families [SREF]."""
    basal = BY_KEY["diameter-to-basal-area"].answer(Given({"diameter_cm": inches * 2.54}))
    assert basal / M2_PER_FT2 == pytest.approx(printed, abs=5e-4)
    taped = BY_KEY["girth-to-area"].answer(Given({"girth_cm": inches * 2.54 * PI}))
    assert taped / 1e4 / M2_PER_FT2 == pytest.approx(printed, abs=5e-4)
    least, greatest = (
        BY_KEY["area-to-girth"].answer(Given({"area_cm2": area * M2_PER_FT2 * 1e4}))
        for area in (printed - 5e-4, printed + 5e-4)
    )
    assert least < inches * 2.54 * PI < greatest


def test_the_cherry_trees_say_what_their_column_is():
    """All 31 are named right: the column published as Girth holds diameters [Meyer1953]."""
    family = BY_KEY["girth-or-diameter"]
    trees = cherry_trees()
    for column_in, height_ft in zip(trees.labelled_girth_in, trees.height_ft, strict=True):
        told = {"reading_cm": 2.54 * column_in, "tree_height_m": 0.3048 * height_ft}
        assert family.fits(Given(told))
        assert family.answer(Given(told)) == pytest.approx(2.54 * column_in)
        # had it been a girth, as its name says, that too would have been found
        girth = {**told, "reading_cm": PI * 2.54 * column_in}
        assert family.answer(Given(girth)) == pytest.approx(2.54 * column_in)


def test_no_reading_is_both():
    """Girth and diameter are π apart, the slenderest and the stoutest stem less than that."""
    assert SLENDER / STOUT < PI
    family = BY_KEY["girth-or-diameter"]
    # between both, and beyond them, no stem of the stand is meant
    for reading in (10.0, 50.0, 200.0):
        assert not family.fits(Given({"reading_cm": reading, "tree_height_m": 20.0}))


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "girth-to-diameter": (
        {"girth_cm": 100.0},
        {"radius-for-diameter": 50 / PI, "times-pi": 100 * PI, "quarter-girth": 25.0},
    ),
    "girth-to-area": (
        {"girth_cm": 100.0},
        {
            "girth-as-diameter": 7853.9816,
            "diameter-for-radius": 3183.0989,
            "pi-forgotten": 2500.0,
            "quarter-girth-squared": 625.0,
            "squared-too-late": 7.957747,
        },
    ),
    "inches-to-diameter": (
        {"girth_in": 50.0},
        {
            "inches-kept": 50 / PI,
            "inches-divided": 50 / 2.54 / PI,
            "pi-forgotten": 127.0,
            "radius-for-diameter": 63.5 / PI,
            "quarter-girth": 31.75,
        },
    ),
    "diameter-to-basal-area": (
        {"diameter_cm": 40.0},
        {
            "cm-for-m": 1256.6371,
            "hundred-for-ten-thousand": 12.566371,
            "diameter-for-radius": 0.50265482,
            "pi-forgotten": 0.04,
            "diameter-as-girth": 0.16 / (4 * PI),
        },
    ),
    "area-to-girth": (
        {"area_cm2": 900.0},
        {
            "root-forgotten": 3600 * PI,
            "diameter-for-girth": 60 / math.sqrt(PI),
            "radius-for-diameter": 30 * math.sqrt(PI),
            "quarter-girth": 120.0,
            "pi-forgotten": 60.0,
        },
    ),
    "growth-of-area": (
        {"girth_cm": 90.0, "growth_cm": 10.0},
        {
            "squared-too-late": 100 / (4 * PI),
            "whole-area": 795.77472,
            "girth-as-diameter": 1900 * PI / 4,
            "diameter-for-radius": 1900 / PI,
            "pi-forgotten": 475.0,
            "quarter-girth": 118.75,
        },
    ),
    "girth-or-diameter": (
        {"reading_cm": 80.0, "tree_height_m": 24.0},
        {
            "other-column": 80.0,
            "radius-for-diameter": 40 / PI,
            "times-pi": 80 * PI,
            "quarter-girth": 20.0,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-7


def test_a_diameter_may_be_taken_for_a_girth_too():
    """In the other case the column holds diameters, and dividing by π is the slip."""
    numbers = Given({"reading_cm": 25.0, "tree_height_m": 20.0})
    family = BY_KEY["girth-or-diameter"]
    slips = {slip.name: slip.compute(numbers) for slip in family.slips}
    assert family.answer(numbers) == 25.0
    assert slips["other-column"] == pytest.approx(25 / PI)
    assert slips["radius-for-diameter"] == 12.5
