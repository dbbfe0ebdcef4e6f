"""Problems of plots: each answer found a second way, printed values met, each slip by hand."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from mensura.teaching.problems.families.plots import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi
FT = 0.3048
ACRE_M2 = 43_560 * FT**2
#: Square feet an acre in 1 m² a hectare: 43 560/10 000 (unit table, read; by definition).
FT2_PER_ACRE = 4.356


def disc(radius, squeezed=1.0):
    """Area of a disc by strips, each as long as squeezed; a quarter at a time."""
    quarter, _ = quad(lambda turn: squeezed * (radius * math.cos(turn)) ** 2, 0, PI / 2)
    return 4 * quarter


def girths(n, count):
    """The girths of a problem."""
    return [n[f"girth_{k}_cm"] for k in range(1, count + 1)]


def basal_area(n):
    """m² on a m² of plot, both by strips; a hectare has ten thousand."""
    stems = sum(disc(girth / (200 * PI)) for girth in girths(n, 5))
    return stems / disc(n["plot_radius_m"]) * 1e4


def quadratic_mean(n):
    """The diameter at which six equal discs have the area of the six stems."""
    wanted = sum(disc(girth / (2 * PI)) for girth in girths(n, 6))
    return brentq(lambda d: 6 * disc(d / 2) - wanted, 1, 200, xtol=1e-12)


def slope_radius(n):
    """The radius whose circle, each strip squeezed on the map, has the level plot's area."""
    squeezed = math.cos(math.radians(n["slope_deg"]))
    wanted = disc(n["plot_radius_m"])
    return brentq(lambda r: disc(r, squeezed) - wanted, 1, 100, xtol=1e-12)


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "basal-area-per-hectare": basal_area,
    "stems-per-hectare": lambda n: n["stem_count"] / disc(n["plot_radius_m"] / 100),
    "quadratic-mean-diameter": quadratic_mean,
    "plot-radius": lambda n: brentq(lambda r: disc(r) - n["plot_area_m2"], 1, 100, xtol=1e-12),
    "plot-on-a-slope": lambda n: 100 * (slope_radius(n) - n["plot_radius_m"]),
    "plot-on-a-slope, edition 1": slope_radius,
}

#: How nearly both agree: strips and root finding.
SECOND_WAY_REL = 1e-8


@pytest.mark.parametrize(("share", "printed_ft"), [(10, 37.24), (100, 11.78)])
def test_printed_radii(share, printed_ft):
    """A tenth and a hundredth of an acre (extension note, read)."""
    radius = BY_KEY["plot-radius"].answer(Given({"plot_area_m2": ACRE_M2 / share}))
    assert radius / FT == pytest.approx(printed_ft, abs=5e-3)


@pytest.mark.parametrize(("inches", "per_stem_ft2"), [(12, 10.0)])
def test_a_stem_stands_for_ten_square_feet(inches, per_stem_ft2):
    """A stem of 12 in on a plot of 33 ft radius stands for 10 ft² an acre (note, read); so five of
    them stand for 50, and each for one in 40·33² ft² over the plot."""
    stems = {f"girth_{k}_cm": PI * inches * 2.54 for k in range(1, 6)}
    basal = BY_KEY["basal-area-per-hectare"].answer(Given({**stems, "plot_radius_m": 33 * FT}))
    assert basal * FT2_PER_ACRE == pytest.approx(5 * per_stem_ft2, rel=1e-12)


@pytest.mark.parametrize(("inches", "printed"), [(10, 54.54), (12, 78.54)])
def test_a_hundred_trees_to_the_acre(inches, printed):
    """100 trees an acre of 10 in make 54.54 ft², of 12 in 78.54 ft² (unsigned examples, read): five
    on a twentieth of an acre, whose radius and whose stems an acre are the families' own."""
    radius = BY_KEY["plot-radius"].answer(Given({"plot_area_m2": ACRE_M2 / 20}))
    stems = {f"girth_{k}_cm": PI * inches * 2.54 for k in range(1, 6)}
    plot = Given({**stems, "stem_count": 5, "plot_radius_m": radius})
    count = BY_KEY["stems-per-hectare"].answer(plot)
    assert count * ACRE_M2 / 1e4 == pytest.approx(100, rel=1e-12)
    basal = BY_KEY["basal-area-per-hectare"].answer(plot)
    assert basal * FT2_PER_ACRE == pytest.approx(printed, abs=5e-3)


def test_constant_of_the_code():
    """g is 0.000 078 539 8·d²; the stem of mean basal area has the mean of it [CFMP1999]."""
    diameters = [12.4, 18.9, 25.0, 31.7, 40.2, 22.2]
    stems = Given({f"girth_{k}_cm": PI * d for k, d in enumerate(diameters, 1)})
    mean = sum(0.0000785398 * d * d for d in diameters) / 6
    answer = BY_KEY["quadratic-mean-diameter"].answer(stems)
    assert 0.0000785398 * answer**2 == pytest.approx(mean, rel=1e-9)
    assert answer > np.mean(diameters)


def test_a_slope_of_nothing_is_level():
    """Without slope the radius is the level one; at 60° it is √2 times that."""
    family = BY_KEY["plot-on-a-slope"].form(1)
    level, steep = (
        family.answer(Given({"plot_radius_m": 10.0, "slope_deg": slope})) for slope in (0.0, 60.0)
    )
    assert level == pytest.approx(10.0, rel=1e-12)
    assert steep == pytest.approx(10 * math.sqrt(2), rel=1e-12)


FIVE = dict(zip((f"girth_{k}_cm" for k in range(1, 6)), (60, 80, 100, 120, 140), strict=True))
SIX = dict(zip((f"girth_{k}_cm" for k in range(1, 7)), (40, 60, 80, 100, 120, 140), strict=True))
COS = math.cos(math.radians(30))

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    # the squares make 54 000 cm², the sum 500 cm; the plot 50π m², so 200/π plots to the hectare
    "basal-area-per-hectare": (
        {**FIVE, "plot_radius_m": math.sqrt(50)},
        {
            "squared-too-late": 250 / PI**2,
            "girth-as-diameter": 270.0,
            "diameter-for-radius": 1080 / PI**2,
            "mean-for-sum": 54 / PI**2,
            "plot-only": 1.35 / PI,
        },
    ),
    "stems-per-hectare": (
        {"stem_count": 30, "plot_radius_m": 10.0},
        {
            "radius-as-diameter": 12_000 / PI,
            "pi-forgotten": 3000.0,
            "square-not-taken": 15_000 / PI,
            "diameter-for-radius": 750 / PI,
            "wrong-way": 0.3 * PI,
        },
    ),
    # the squares make 55 600 cm², the sum 540 cm
    "quadratic-mean-diameter": (
        SIX,
        {
            "arithmetic-mean": 90 / PI,
            "girth-kept": math.sqrt(27_800 / 3),
            "root-forgotten": 27_800 / 3 / PI**2,
            "not-divided": math.sqrt(55_600) / PI,
            "quarter-girth": math.sqrt(27_800 / 3) / 4,
        },
    ),
    "plot-radius": (
        {"plot_area_m2": 400.0},
        {
            "diameter-for-radius": 40 / math.sqrt(PI),
            "root-forgotten": 400 / PI,
            "pi-forgotten": 20.0,
            "root-too-soon": 20 / PI,
            "half-square": 10.0,
        },
    ),
    "plot-on-a-slope": (
        {"plot_radius_m": 12.0, "slope_deg": 30.0},
        {
            "root-forgotten": 1200 * (1 / COS - 1),
            "mean-of-both-ways": 600 * (1 / COS - 1),
            "tilted-tape": 100.0,
            "wrong-way": 1200 * (1 - math.sqrt(COS)),
            "cosine-wrong-way": 1200 * (1 - COS),
            "whole-radius": 1200 / math.sqrt(COS),
            "metres-for-cm": 12 / math.sqrt(COS) - 12,
        },
    ),
    "plot-on-a-slope, edition 1": (
        {"plot_radius_m": 12.0, "slope_deg": 30.0},
        {
            "slope-forgotten": 12.0,
            "root-forgotten": 12 / COS,
            "wrong-way": 12 * math.sqrt(COS),
            "cosine-wrong-way": 12 * COS,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
