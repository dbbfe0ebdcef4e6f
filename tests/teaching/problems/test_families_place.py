"""Problems of where to measure: each answer a second way, each slip by hand."""

import math
from fractions import Fraction

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import bisect
from scipy.special import ellipe

from mensura.teaching.problems.families.place import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}


def exactly(value):
    """A given number as a fraction."""
    return Fraction(str(value))


def downhill(n):
    """The stem's edges as two straight lines in the picture's plane, met with the ground."""
    fall = math.tan(math.radians(n["slope_deg"]))
    half = n["diameter_cm"] / 200
    tape = {
        side: -side * half * fall + 1.3 for side in (-1, 1)
    }  # −1 uphill, m above the axis' foot
    there, right = (
        n["diameter_cm"] + n["taper_cm_per_m"] * (tape[-1] - tape[side]) for side in (1, -1)
    )
    return 100 * (there**2 / right**2 - 1)


def plumb(n):
    """The point on the axis by its coordinates."""
    lean = math.radians(n["lean_deg"])
    up = np.array([math.sin(lean), math.cos(lean)])
    point = up * n["rule_height_m"] / up[1]
    return 100 * (np.linalg.norm(point) - n["rule_height_m"])


def ground(n):
    """Where both edges of the leaning stem meet the sloping line, by two linear equations each."""
    lean, slope = (math.radians(n[name]) for name in ("lean_deg", "slope_deg"))
    along, across = (
        np.array([math.sin(lean), math.cos(lean)]),
        np.array([math.cos(lean), -math.sin(lean)]),
    )
    down = np.array([math.cos(slope), -math.sin(slope)])
    ends = []
    for side in (-1, 1):
        # side·D/2·across + s·along = t·down
        s, _ = np.linalg.solve(
            np.column_stack([along, -down]), -side * n["diameter_cm"] / 2 * across
        )
        ends.append(s)
    return ends[0] - ends[1]


def how_far(n):
    """The ellipse's girth by scipy's integral of the second kind, halved until it fits."""

    def over(lean_deg):
        cosine = math.cos(math.radians(lean_deg))
        # long half-axis 1/cos, eccentricity squared 1 − cos²
        return 4 / cosine * ellipe(1 - cosine**2) / (2 * math.pi) - 1

    share = n["allowed_cm"] / n["girth_cm"]
    return bisect(lambda lean: over(lean) - share, 0.0, 45.0, xtol=1e-11)


def calipers(n):
    """In fractions, the mean over the reading across."""
    first, second = exactly(n["first_reading_cm"]), exactly(n["second_reading_cm"])
    return float(100 * (((first + second) / (2 * second)) ** 2 - 1))


def cone(n):
    """In fractions, by similar triangles."""
    height, laid = exactly(n["tree_height_m"]), exactly(n["laid_at_m"])
    return float(100 * (1 - ((height - laid) / (height - Fraction(13, 10))) ** 2))


def swelling(n):
    """In fractions."""
    on, above, below = (exactly(n[f"{name}_girth_cm"]) for name in ("on", "above", "below"))
    return float(100 * ((2 * on / (above + below)) ** 2 - 1))


def buttress(n):
    """The loss as an integral: a steady rate with ln of what each metre leaves."""
    rate = -math.log1p(-n["fall_percent"] / 100)
    up = n["buttress_top_m"] + 0.5 - 1.3
    gone, _ = quad(lambda x: 2 * rate * math.exp(-2 * rate * x), 0, up, epsabs=1e-13)
    return 100 * gone


def two_legs(n):
    """The taut hull as straight pieces and arcs: Cauchy's mean of its widths over half a turn."""
    half, gap = n["leg_diameter_cm"] / 2, n["leg_gap_cm"]
    # the width over both in a direction is 2r + |cos| of the middles' distance; its mean is known
    mean, _ = quad(
        lambda turn: 2 * half + (2 * half + gap) * abs(math.cos(turn)), 0, math.pi / 2, epsabs=1e-12
    )
    girth = math.pi * mean / (math.pi / 2)
    return 100 * (girth**2 / (4 * math.pi) / (2 * math.pi * half**2) - 1)


def below_fork(n):
    """In fractions; 4π falls out."""
    whole, first, second = (
        exactly(n[one]) for one in ("below_fork_cm", "girth_1_cm", "girth_2_cm")
    )
    return float(100 * (whole**2 / (first**2 + second**2) - 1))


def forks(n):
    """The line 1.30 m above the uphill edge's ground, as one height above the downhill edge's."""
    fall = math.tan(math.radians(n["slope_deg"]))
    line = 1.3 + n["diameter_cm"] / 200 * fall - -n["diameter_cm"] / 200 * fall
    return 5 + np.count_nonzero(np.array([n[f"fork_{k}_m"] for k in range(1, 6)]) < line)


def coppice(n):
    """The length of a vector."""
    return np.linalg.norm([n[f"girth_{k}_cm"] for k in range(1, 5)])


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "downhill-for-uphill": downhill,
    "plumb-on-a-lean": plumb,
    "leaning-on-a-slope": ground,
    "how-far-may-it-lean": how_far,
    "level-calipers-on-a-lean": calipers,
    "another-breast-height": cone,
    "swelling-at-breast-height": swelling,
    "above-the-buttresses": buttress,
    "two-legs-as-one": two_legs,
    "below-the-fork": below_fork,
    "several-stems-as-one": coppice,
    "forks-on-a-slope": forks,
}

#: How nearly both agree: fractions, linear equations, scipy's integrals.
SECOND_WAY_REL = 1e-8


def answer(key, **numbers):
    """What a family makes of some numbers."""
    return BY_KEY[key].answer(Given(numbers))


def test_a_stem_square_to_its_slope_stands_on_level_ground():
    """It leans downhill as far as the ground falls: both sides are alike."""
    alike = answer("leaning-on-a-slope", diameter_cm=40.0, slope_deg=20.0, lean_deg=20.0)
    assert alike == pytest.approx(0.0, abs=1e-12)


def test_the_width_of_the_stem_does_not_matter_downhill():
    """It falls out: what is lower by d·tan β is thicker by a share of t·tan β."""
    both = [
        answer("downhill-for-uphill", diameter_cm=d, slope_deg=20.0, taper_cm_per_m=1.0)
        for d in (25.0, 60.0)
    ]
    assert both[0] == pytest.approx(both[1], rel=1e-12)
    assert both[0] == pytest.approx(100 * ((1 + 0.3639702343 / 100) ** 2 - 1), rel=1e-9)


def test_several_stems_of_the_printed_example():
    """5, 6 and 8 inches make 11 by the root of the sum of squares, as a web note on trees with
    several stems gives it, and 13.5 by its other rule; the same for girths. A fourth stem is made
    as thin as can be."""
    girths = {f"girth_{k}_cm": one for k, one in enumerate((8.0, 6.0, 5.0, 1e-6), 1)}
    family = BY_KEY["several-stems-as-one"]
    assert round(family.answer(Given(girths))) == 11
    (halves,) = [slip for slip in family.slips if slip.name == "largest-and-halves"]
    assert halves.compute(Given(girths)) == pytest.approx(13.5, abs=1e-5)


def test_the_approximations_that_solutions_name_are_near(problems_of):
    """Mean of 1 and 1/cos, and the rule with tan²: within half a per cent, as told."""
    for one in problems_of("how-far-may-it-lean"):
        share = one.numbers["allowed_cm"] / one.numbers["girth_cm"]
        mean = math.degrees(math.acos(1 / (1 + 2 * share)))
        rule = math.degrees(math.atan(2 * math.sqrt(share)))
        assert mean == pytest.approx(one.answer, rel=5e-3)
        assert rule == pytest.approx(one.answer, rel=5e-3)


SQ = math.sqrt
TAN = {angle: math.tan(math.radians(angle)) for angle in (10, 20, 30, 40)}

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    # tan 30° = 1/√3: 40/√3 = 23.094 cm; 2 cm/m: 0.4619 cm, 1.1547 %
    "downhill-for-uphill": (
        {"diameter_cm": 40.0, "slope_deg": 30.0, "taper_cm_per_m": 2.0},
        {
            "squared-too-late": 2 / SQ(3),
            "wrong-way": -(2 * 2 / SQ(3) + (4 / 3) / 100),
            "sine-for-tangent": 2.01,  # 2 cm/m·20 cm = 0.4 cm, 1 %
            "degrees-as-percent": 1.2036,  # 12 cm, 0.24 cm, 0.6 %
            "breast-height-for-width": 100 * ((1 + 2.6 / SQ(3) / 40) ** 2 - 1),
        },
    ),
    # cos 30° = √3/2
    "plumb-on-a-lean": (
        {"lean_deg": 30.0, "rule_height_m": 1.3},
        {
            "cosine-multiplied": 130 - 65 * SQ(3),
            "tangent": 130 / SQ(3),
            "sine": 65.0,
            "whole-length": 260 / SQ(3),
            "in-metres": 2.6 / SQ(3) - 1.3,
        },
    ),
    "leaning-on-a-slope": (
        {"diameter_cm": 40.0, "slope_deg": 30.0, "lean_deg": 10.0},
        {
            "lean-forgotten": 40 / SQ(3),
            "as-if-uphill": 40 * TAN[40],
            "tangents-subtracted": 40 / SQ(3) - 40 * TAN[10],
            "radius": 20 * TAN[20],
            "slope-forgotten": 40 * TAN[10],
        },
    ),
    # a share of 0.01
    "how-far-may-it-lean": (
        {"girth_cm": 100.0, "allowed_cm": 1.0},
        {
            "cosine-all-round": math.degrees(math.acos(1 / 1.01)),
            "tangent-not-squared": math.degrees(math.atan(0.04)),
            "quarter-forgotten": math.degrees(math.atan(0.1)),
            "diameter-for-girth": how_far({"girth_cm": 100.0, "allowed_cm": math.pi}),
            "in-radians": math.radians(how_far({"girth_cm": 100.0, "allowed_cm": 1.0})),
        },
    ),
    # 44 and 40: mean 42, quotient 1.05
    "level-calipers-on-a-lean": (
        {"first_reading_cm": 44.0, "second_reading_cm": 40.0},
        {
            "in-the-lean-alone": 21.0,
            "squared-too-late": 5.0,
            "geometric-mean": 10.0,
            "against-the-level-cut": 100 * (1764 / 1760 - 1),
            "wrong-base": 100 * (1 - 1 / 1.1025),
        },
    ),
    # from 1.30 m 20 m to the tip, 0.1 m higher: 0.5 %
    "another-breast-height": (
        {"tree_height_m": 21.3, "laid_at_m": 1.4},
        {
            "as-a-diameter": 0.5,
            "tip-from-the-ground": 100 * (1 - (21.2 / 21.3) ** 2),
            "from-the-ground": 100 * (1 - (19.9 / 21.3) ** 2),
            "ratio-of-heights": 100 * (1 - (13 / 14) ** 2),
            "wrong-way": -0.9975,
        },
    ),
    # above 98, below 102: mean 100; on it 110
    "swelling-at-breast-height": (
        {"on_girth_cm": 110.0, "above_girth_cm": 98.0, "below_girth_cm": 102.0},
        {
            "above-alone": 100 * (12100 / 9604 - 1),
            "below-alone": 100 * (12100 / 10404 - 1),
            "squared-too-late": 10.0,
            "wrong-base": 100 * (1 - 1 / 1.21),
            "swelling-in-the-mean": 100 * ((110 * 3 / 310) ** 2 - 1),
        },
    ),
    # 2.8 + 0.5 − 1.3 = 2 m; 0.9² = 0.81 is left of the diameter, 0.6561 of the area
    "above-the-buttresses": (
        {"buttress_top_m": 2.8, "fall_percent": 10.0},
        {
            "straight-line": 36.0,
            "diameter-for-area": 19.0,
            "from-the-ground": 100 * (1 - 0.9**6.6),
            "half-metre-forgotten": 100 * (1 - 0.9**3),
            "wrong-base": 100 * (1 / 0.6561 - 1),
        },
    ),
    # d 20, gap 5: tape 20π + 50
    "two-legs-as-one": (
        {"leg_diameter_cm": 20.0, "leg_gap_cm": 5.0},
        {
            "gap-forgotten": 100 * ((1 + 2 / math.pi) ** 2 / 2 - 1),
            "straight-once": 100 * ((1 + 25 / (20 * math.pi)) ** 2 / 2 - 1),
            "girths-added": 100.0,
            "against-one-leg": 100 * ((1 + 50 / (20 * math.pi)) ** 2 - 1),
            "squared-too-late": 100 * ((1 + 50 / (20 * math.pi)) / SQ(2) - 1),
        },
    ),
    # 90² + 120² = 150²
    "below-the-fork": (
        {"below_fork_cm": 165.0, "girth_1_cm": 120.0, "girth_2_cm": 90.0},
        {
            "girths-added": 100 * ((165 / 210) ** 2 - 1),
            "squared-too-late": 10.0,
            "wrong-base": 100 * (1 - 1 / 1.21),
            "one-leg": 100 * (1.375**2 - 1),
            "mean-of-legs": 142.0,
        },
    ),
    # 52·tan 30° = 30.02 cm: below 1.60 m counts
    "forks-on-a-slope": (
        {
            "slope_deg": 30.0,
            "diameter_cm": 52.0,
            "fork_1_m": 1.2,
            "fork_2_m": 1.25,
            "fork_3_m": 1.5,
            "fork_4_m": 1.65,
            "fork_5_m": 2.0,
        },
        {"from-downhill": 7, "forks-alone": 3, "every-fork": 10, "no-fork": 5},
    ),
    # 10² + 4² + 2² + 1² = 11²
    "several-stems-as-one": (
        {"girth_1_cm": 100.0, "girth_2_cm": 40.0, "girth_3_cm": 20.0, "girth_4_cm": 10.0},
        {
            "girths-added": 170.0,
            "largest-and-halves": 135.0,
            "quadratic-mean": 55.0,
            "mean": 42.5,
            "as-a-diameter": 110 / math.pi,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
