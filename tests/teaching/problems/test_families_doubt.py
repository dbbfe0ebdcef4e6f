"""Problems of doubt: each answer found a second way, printed values met, each slip by hand."""

import math
from fractions import Fraction
from statistics import NormalDist, stdev

import numpy as np
import pytest
import sympy as sp

from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.families.doubt import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi


def readings(n):
    """The five readings of a problem."""
    return [n[f"reading_{k}_cm"] for k in range(1, 6)]


def moved_area_cm2(n):
    """By how much the area moves, half of it each way, when the girth moves by its doubt."""
    more, less = (n["girth_cm"] + way * n["u_girth_cm"] for way in (1, -1))
    return (more**2 - less**2) / (4 * PI) / 2


def area_percent(n):
    """The moved area over the area."""
    return 100 * moved_area_cm2(n) / (n["girth_cm"] ** 2 / (4 * PI))


def volume_percent():
    """The law of propagation, written out with sympy's derivatives."""
    girth, doubt, length, other = sp.symbols("G u L v", positive=True)
    volume = girth**2 * length / (4 * sp.pi)
    variance = (volume.diff(girth) * doubt) ** 2 + (volume.diff(length) * other) ** 2
    found = sp.lambdify((girth, doubt, length, other), 100 * sp.sqrt(variance) / volume)
    names = ("mid_girth_cm", "u_girth_cm", "log_length_m", "u_length_m")
    return lambda n: found(*(n[name] for name in names))


def mean_cm(n):
    """Through the whole matrix of variances: each reading its own, the tape in every corner."""
    count = int(n["reading_count"])
    variances = np.eye(count) * n["u_reading_cm"] ** 2 + n["u_common_cm"] ** 2
    weights = np.full(count, 1 / count)
    return math.sqrt(weights @ variances @ weights)


def needed(n):
    """In fractions: the first whole number not below the square."""
    girth, doubt, allowed = (
        Fraction(str(n[name])) for name in ("girth_cm", "u_reading_cm", "allowed_percent")
    )
    return math.ceil((200 * doubt / girth / allowed) ** 2)


def growth_percent(n):
    """Python's own difference of two normal spreads."""
    girth = NormalDist(0, n["u_girth_cm"])
    return 200 * (girth - NormalDist(0, n["u_girth_cm"])).stdev / n["growth_cm"]


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "doubt-of-an-area": area_percent,
    "expanded-doubt-of-an-area": lambda n: 2 * moved_area_cm2(n),
    "doubt-of-a-volume": volume_percent(),
    "doubt-of-a-mean": mean_cm,
    "doubt-from-readings": lambda n: stdev(readings(n)) / math.sqrt(5),
    "readings-needed": needed,
    "doubt-of-growth": growth_percent,
}

#: How nearly both agree: differences, sympy, matrices, fractions and statistics.
SECOND_WAY_REL = 1e-9


@pytest.mark.parametrize(
    ("values", "printed", "half_a_digit"),
    [
        ([5.007, 4.994, 5.005, 4.990, 4.999], 0.0032, 5e-5),
        ([19.663, 19.639, 19.640, 19.685, 19.678], 0.0095, 5e-5),
        ([1.0456, 1.0438, 1.0468, 1.0428, 1.0433], 0.00075, 5e-6),
    ],
)
def test_means_of_five_of_the_guide(values, printed, half_a_digit):
    """Example H.2: five readings each of three quantities, and the uncertainty of each mean (table
    as quoted in the documents of an open library, read; the readings from memory) [GUM1995]."""
    numbers = Given({f"reading_{k}_cm": value for k, value in enumerate(values, 1)})
    answer = BY_KEY["doubt-from-readings"].answer(numbers)
    assert answer == pytest.approx(printed, abs=half_a_digit)


def test_diameters_taken_again():
    """Taken by four people they spread by 0.3 cm or 1.5 % [Luoma2017, abstract]: both belong to
    stems 20 cm thick, whose area is then unsure by 3 %."""
    stem = Given({"girth_cm": 20 * PI, "u_girth_cm": 0.3 * PI})
    assert BY_KEY["doubt-of-an-area"].answer(stem) == pytest.approx(2 * 1.5, rel=1e-12)
    expanded = BY_KEY["expanded-doubt-of-an-area"].answer(stem)
    assert expanded == pytest.approx(2 * 0.03 * 100 * PI, rel=1e-12)


def test_one_reading_fewer_is_not_enough():
    """With the answer the doubt is at most what is allowed; with one less it is more."""
    family = BY_KEY["readings-needed"]
    for number in range(200):
        problem = draw(family, f"Q{number}", "enough")
        n = problem.numbers
        single = 200 * n["u_reading_cm"] / n["girth_cm"]
        doubts = [single / math.sqrt(problem.answer - fewer) for fewer in (0, 1)]
        assert doubts[0] < n["allowed_percent"] < doubts[1]


FIVE = dict(zip((f"reading_{k}_cm" for k in range(1, 6)), (131, 133, 135, 137, 139), strict=True))

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "doubt-of-an-area": (
        {"girth_cm": 150.0, "u_girth_cm": 0.6},
        {
            "not-doubled": 0.4,
            "halved": 0.2,
            "root-of-two": 0.4 * math.sqrt(2),
            "per-cent-squared": 0.16,
            "pi-too-many": 0.8 / PI,
        },
    ),
    "expanded-doubt-of-an-area": (
        {"girth_cm": 100.0, "u_girth_cm": 0.5},
        {
            "one-two-forgotten": 25 / PI,
            "both-twos-forgotten": 12.5 / PI,
            "girth-as-diameter": 50 * PI,
            "pi-forgotten": 50.0,
            "area-of-the-doubt": 0.125 / PI,
        },
    ),
    "doubt-of-a-volume": (
        {"mid_girth_cm": 100.0, "u_girth_cm": 0.6, "log_length_m": 4.0, "u_length_m": 0.064},
        {
            "plainly-added": 2.8,
            "not-doubled": math.sqrt(0.36 + 2.56),
            "all-doubled": 2 * math.sqrt(0.36 + 2.56),
            "length-forgotten": 1.2,
            "girth-forgotten": 1.6,
        },
    ),
    "doubt-of-a-mean": (
        {"u_reading_cm": 1.2, "u_common_cm": 0.3, "reading_count": 9},
        {
            "divided-by-n": math.sqrt(16 / 900 + 0.09),
            "tape-divided-too": math.sqrt(1.53) / 3,
            "plainly-added": 0.7,
            "tape-forgotten": 0.4,
            "one-reading": math.sqrt(1.53),
            "root-not-taken": 0.25,
        },
    ),
    # squared distances 16, 4, 0, 4, 16
    "doubt-from-readings": (
        FIVE,
        {
            "one-reading": math.sqrt(10),
            "divided-by-n": math.sqrt(10) / 5,
            "n-for-n-minus-one": math.sqrt(40) / 5,
            "range": 8 / 2.326 / math.sqrt(5),
            "about-the-median": math.sqrt(2),
            "root-forgotten": 2.0,
        },
    ),
    # 2.4 % over 0.7 % is 3.43, squared 11.76
    "readings-needed": (
        {"girth_cm": 100.0, "u_reading_cm": 1.2, "allowed_percent": 0.7},
        {
            "area-not-doubled": 3,
            "rounded-then-squared": 16,
            "nearest-then-squared": 9,
            "doubled-not-squared": 7,
            "not-squared": 4,
            "rounded-down": 11,
        },
    ),
    "doubt-of-growth": (
        {"girth_cm": 90.0, "growth_cm": 10.0, "u_girth_cm": 0.5},
        {
            "one-girth-only": 10.0,
            "plainly-added": 20.0,
            "k-forgotten": 5 * math.sqrt(2),
            "share-of-the-girth": math.sqrt(2),
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
