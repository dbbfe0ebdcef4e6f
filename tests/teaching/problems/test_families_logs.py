"""Problems of logs: each answer found a second way, printed volumes met, each slip by hand."""

import math

import pytest
from scipy.integrate import quad, simpson

from mensura.teaching.problems.families.logs import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi
FT_CM = 30.48
FT3_M3 = 0.3048**3


def disc_m2(radius_cm):
    """Area of a disc by strips, a quarter at a time."""
    quarter, _ = quad(lambda turn: (radius_cm / 100 * math.cos(turn)) ** 2, 0, PI / 2)
    return 4 * quarter


def turned_m3(radius_m, length_m):
    """Volume of a solid of revolution, slice by slice."""
    volume, _ = quad(lambda along: PI * radius_m(along) ** 2, 0, length_m)
    return volume


def smalian_m3(n):
    """Smalian's rule is exact for a paraboloid: one through both ends, slice by slice."""
    thick, thin, length = n["butt_diameter_cm"], n["top_diameter_cm"], n["log_length_m"]

    def radius_m(along):
        return math.sqrt(thick**2 + (thin**2 - thick**2) * along / length) / 200

    return turned_m3(radius_m, length)


def newton_m3(n):
    """Simpson's rule of SciPy over the areas by strips."""
    areas = [disc_m2(n[f"{at}_girth_cm"] / (2 * PI)) for at in ("butt", "mid", "top")]
    return simpson(areas, x=[0, n["log_length_m"] / 2, n["log_length_m"]])


def cone_m3(n):
    """A piece of a cone, slice by slice."""
    thick, thin, length = n["butt_girth_cm"], n["top_girth_cm"], n["log_length_m"]
    return turned_m3(lambda x: (thick + (thin - thick) * x / length) / (200 * PI), length)


def paraboloid_m3(n):
    """The whole stem, slice by slice, its area in proportion to the height left above."""
    height = n["tree_height_m"]
    at_breast = n["girth_cm"] / (200 * PI)

    def radius_m(above):
        return at_breast * math.sqrt((height - above) / (height - 1.3))

    return turned_m3(radius_m, height)


def smalian_percent(n):
    """A cone by slices against the mean of its end areas by strips."""
    thick, thin = n["butt_diameter_cm"] / 2, n["top_diameter_cm"] / 2
    true = turned_m3(lambda x: (thick + (thin - thick) * x) / 100, 1)
    return 100 * ((disc_m2(thick) + disc_m2(thin)) / 2 - true) / true


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "huber": lambda n: disc_m2(n["mid_girth_cm"] / (2 * PI)) * n["log_length_m"],
    "smalian": smalian_m3,
    "newton": newton_m3,
    "piece-of-a-cone": cone_m3,
    "paraboloid-stem": paraboloid_m3,
    "form-factor": lambda n: (
        disc_m2(n["girth_cm"] / (2 * PI)) * n["tree_height_m"] * n["form_factor"]
    ),
    "smalian-on-a-cone": smalian_percent,
}

#: How nearly both agree: strips, slices and SciPy's Simpson.
SECOND_WAY_REL = 1e-8


@pytest.mark.parametrize(
    ("length_ft", "lower_ft", "upper_ft", "printed_ft3"),
    [(4.5, 4.8, 4.1, 70.13213), (4.5, 4.1, 3.9, 56.56045), (11, 3.9, 3.2, 109.2306)],
)
def test_printed_pieces_of_a_trunk(length_ft, lower_ft, upper_ft, printed_ft3):
    """Three pieces of one tall trunk as cones, in cubic feet (worksheet of a tree-measuring club,
    unsigned, read). Newton's rule, exact for a cone, meets them as well; Smalian's does not."""
    numbers = {
        "butt_girth_cm": PI * lower_ft * FT_CM,
        "top_girth_cm": PI * upper_ft * FT_CM,
        "log_length_m": length_ft * 0.3048,
    }
    cone = BY_KEY["piece-of-a-cone"].answer(Given(numbers)) / FT3_M3
    assert cone == pytest.approx(printed_ft3, rel=5e-7)
    middle = (numbers["butt_girth_cm"] + numbers["top_girth_cm"]) / 2
    newton = BY_KEY["newton"].answer(Given({**numbers, "mid_girth_cm": middle})) / FT3_M3
    assert newton == pytest.approx(printed_ft3, rel=5e-7)
    ends = {"butt_diameter_cm": lower_ft * FT_CM, "top_diameter_cm": upper_ft * FT_CM}
    smalian = BY_KEY["smalian"].answer(Given({**numbers, **ends})) / FT3_M3
    over = BY_KEY["smalian-on-a-cone"].answer(Given(ends))
    assert smalian == pytest.approx(printed_ft3 * (1 + over / 100), rel=5e-7)
    assert smalian > printed_ft3


def test_printed_constant_of_smalian():
    """0.0027271·(D₁² + D₂²)·L, inches and feet to cubic feet (unsigned note, read)."""
    numbers = {
        "butt_diameter_cm": 18 * 2.54,
        "top_diameter_cm": 11 * 2.54,
        "log_length_m": 16 * 0.3048,
    }
    said = 0.0027271 * (18**2 + 11**2) * 16
    answer = BY_KEY["smalian"].answer(Given(numbers))
    assert answer / FT3_M3 == pytest.approx(said, rel=2e-5)


@pytest.mark.parametrize(
    ("inches", "printed_ft2"), [(6, 0.196), (10, 0.545), (12, 0.785), (16, 1.396), (20, 2.182)]
)
def test_cylinders_on_the_handbook_s_areas(inches, printed_ft2):
    """A log one metre long holds as many m³ as its middle has m² [SREF]; a stem with the form
    factor 1 holds its cylinder."""
    girth = PI * inches * 2.54
    huber = BY_KEY["huber"].answer(Given({"mid_girth_cm": girth, "log_length_m": 1.0}))
    assert huber / 0.3048**2 == pytest.approx(printed_ft2, abs=5e-4)
    whole = {"girth_cm": girth, "tree_height_m": 1.0, "form_factor": 1.0}
    assert BY_KEY["form-factor"].answer(Given(whole)) == pytest.approx(huber, rel=1e-12)


def test_smalian_on_a_whole_cone():
    """Down to its tip Smalian's rule is half as much again too large (closed form)."""
    ends = Given({"butt_diameter_cm": 40.0, "top_diameter_cm": 0.0})
    assert BY_KEY["smalian-on-a-cone"].answer(ends) == pytest.approx(50)


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "huber": (
        {"mid_girth_cm": 100.0, "log_length_m": 4.0},
        {
            "girth-as-diameter": PI,
            "diameter-for-radius": 4 / PI,
            "quarter-girth": 0.25,
            "cm-for-m": 10_000 / PI,
            "pi-forgotten": 1.0,
        },
    ),
    "smalian": (
        {"butt_diameter_cm": 40.0, "top_diameter_cm": 20.0, "log_length_m": 4.0},
        {
            "squared-too-late": 0.09 * PI,
            "not-halved": 0.2 * PI,
            "diameter-for-radius": 0.4 * PI,
            "thick-end-only": 0.16 * PI,
            "cm-for-m": 1000 * PI,
        },
    ),
    "newton": (
        {
            "butt_girth_cm": 200.0,
            "mid_girth_cm": 140.0,
            "top_girth_cm": 120.0,
            "log_length_m": 3.0,
        },
        {
            "all-alike": 7.4 / (4 * PI),
            "squared-too-late": 3 * (8.8 / 6) ** 2 / (4 * PI),
            "ends-only": 8.16 / (4 * PI),
            "middle-only": 5.88 / (4 * PI),
            "girth-as-diameter": 6.64 * PI / 4,
            "mean-girth": 3 * (4.6 / 3) ** 2 / (4 * PI),
        },
    ),
    "piece-of-a-cone": (
        {"butt_girth_cm": 100.0, "top_girth_cm": 50.0, "log_length_m": 6.0},
        {
            "mean-of-the-ends": 3.75 / (4 * PI),
            "mean-girth": 3.375 / (4 * PI),
            "product-forgotten": 2.5 / (4 * PI),
            "girth-as-diameter": 3.5 * PI / 4,
            "third-forgotten": 10.5 / (4 * PI),
        },
    ),
    "paraboloid-stem": (
        {"girth_cm": 60.0, "tree_height_m": 11.3},
        {
            "breast-height-as-base": 0.36 * 5.65 / (4 * PI),
            "above-breast-height-only": 0.36 * 5 / (4 * PI),
            "cylinder": 0.36 * 12.769 / (4 * PI),
            "cone": 0.12 * 12.769 / (4 * PI),
            "girth-as-diameter": 0.18 * 12.769 * PI / 4,
        },
    ),
    "form-factor": (
        {"girth_cm": 100.0, "tree_height_m": 20.0, "form_factor": 0.5},
        {
            "form-forgotten": 5 / PI,
            "girth-as-diameter": 2.5 * PI,
            "diameter-for-radius": 10 / PI,
            "quarter-girth": 0.625,
            "cone": 5 / (3 * PI),
            "divided-by-the-factor": 10 / PI,
            "one-less-the-factor": 2.5 / PI,
        },
    ),
    # mean squares in units of 400 cm²: Smalian 2.5, the cone 7/3, the middle 2.25
    "smalian-on-a-cone": (
        {"butt_diameter_cm": 40.0, "top_diameter_cm": 20.0},
        {
            "huber-instead": 100 * (2.25 * 3 / 7 - 1),
            "half-of-it": 50 / 14,
            "share-of-smalian": 100 / 15,
            "wrong-sign": -100 / 14,
            "huber-for-true": 100 / 9,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
