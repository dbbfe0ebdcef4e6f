"""Problems of choosing: each answer a second way, the theorems they lean on, each slip by hand."""

import math
from collections import Counter
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, minimize
from scipy.spatial import ConvexHull

from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.families.choosing import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi


def readings(n):
    """The five readings of a problem, as the fractions that they are written as."""
    return [Fraction(str(n[f"reading_{k}_cm"])) for k in range(1, 6)]


def impossible(n):
    """The only reading that is too long for the tape to go there and back."""
    girth = Fraction(str(n["girth_cm"]))
    (found,) = (k for k, reading in enumerate(readings(n), 1) if reading + reading > girth)
    return found


def greatest(n):
    """The height at which the rhombus in the box has the girth."""

    def left(height):
        return 4 * math.hypot(n["first_reading_cm"] / 2, height / 2) - n["girth_cm"]

    return brentq(left, 0, n["girth_cm"], xtol=1e-12)


def least(n):
    """The height at which the way round the box is the girth."""
    return brentq(lambda h: 2 * (n["first_reading_cm"] + h) - n["girth_cm"], 0, 200, xtol=1e-12)


TURNS = np.linspace(0, 2 * PI, 20_001)


def width(n, turn_deg):
    """Between the outermost of twenty thousand points, seen along a direction."""
    x = n["first_diameter_cm"] / 2 * np.cos(TURNS)
    y = n["second_diameter_cm"] / 2 * np.sin(TURNS)
    turn = math.radians(turn_deg)
    return np.ptp(x * math.cos(turn) + y * math.sin(turn))


def errors(n):
    """Errors of the four areas, in per cent: arc length by quadrature, widths from points."""
    long, short = n["first_diameter_cm"], n["second_diameter_cm"]
    quarter, _ = quad(
        lambda t: math.hypot(long / 2 * math.sin(t), short / 2 * math.cos(t)), 0, PI / 2
    )
    first, second = width(n, n["turn_deg"]), width(n, n["turn_deg"] + 90)
    squares = ((4 * quarter / PI) ** 2, first**2, ((first + second) / 2) ** 2, first * second)
    return [100 * (square / (long * short) - 1) for square in squares]


def nearest(n):
    """The number of the way with the smallest error."""
    return 1 + int(np.argmin(np.abs(errors(n))))


def spoiler(n):
    """The reading without which the other four have the least squared distances."""
    row = readings(n)

    def without(k):
        rest = [one for place, one in enumerate(row) if place != k]
        return sum((one - sum(rest) / 4) ** 2 for one in rest)

    return 1 + min(range(5), key=without)


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "impossible-reading": impossible,
    "greatest-second-reading": greatest,
    "least-second-reading": least,
    "least-error": nearest,
    "read-again": spoiler,
}

#: How nearly both agree: fractions, root finding, quadrature and leaving one out.
SECOND_WAY_REL = 1e-9


@given(st.integers(0, 2**32 - 1), st.integers(3, 12), st.floats(0.05, 20))
def test_every_taut_tape_keeps_the_three_bounds(seed, count, flatness):
    """Any section at all: its hull's girth lies between both bounds of its crossed widths, and no
    width is above half of it."""
    points = np.random.default_rng(seed).normal(size=(count, 2)) * (1, flatness)
    girth = ConvexHull(points).area  # in the plane, SciPy's word for the perimeter
    wide, high = np.ptp(points, axis=0)
    assert 2 * math.hypot(wide, high) <= girth * (1 + 1e-9)
    assert girth <= 2 * (wide + high) * (1 + 1e-9)
    told = Given({"girth_cm": girth, "first_reading_cm": wide})
    greatest_cm, least_cm = (
        BY_KEY[f"{name}-second-reading"].answer(told) for name in ("greatest", "least")
    )
    # the root of a small difference is only so exact
    assert least_cm - 1e-6 * girth <= high <= greatest_cm + 1e-6 * girth
    assert max(wide, high) <= girth / 2 * (1 + 1e-9)


@pytest.mark.parametrize(("wide", "high"), [(40, 50), (45, 45), (30, 62.5)])
def test_no_way_round_a_box_is_shorter_than_two_diagonals(wide, high):
    """Searched: four points, one on each side; and a rhombus and a box meet their bounds."""

    def way_round(places):
        corners = np.array(
            [(places[0], 0), (wide, places[1]), (places[2], high), (0, places[3]), (places[0], 0)]
        )
        return np.hypot(*np.diff(corners, axis=0).T).sum()

    sides = [(0, wide), (0, high), (0, wide), (0, high)]
    found = minimize(way_round, [0.3 * wide, 0.9 * high, 0.2 * wide, 0.4 * high], bounds=sides)
    assert found.fun == pytest.approx(2 * math.hypot(wide, high), rel=1e-6)
    rhombus = Given({"girth_cm": way_round([wide / 2, high / 2] * 2), "first_reading_cm": wide})
    assert BY_KEY["greatest-second-reading"].answer(rhombus) == pytest.approx(high)
    box = Given({"girth_cm": 2 * (wide + high), "first_reading_cm": wide})
    assert BY_KEY["least-second-reading"].answer(box) == pytest.approx(high)


def test_every_choice_is_right_for_some():
    """Over two hundred draws tape, one reading and the product are each the best for some stems;
    half the sum never is, since the product of the same two is always nearer."""
    family = BY_KEY["least-error"]
    best = Counter(draw(family, f"Q{k}", "all of them").answer for k in range(200))
    assert set(best) == {1, 2, 4}
    assert min(best.values()) >= 10
    for key in ("impossible-reading", "read-again"):
        places = Counter(draw(BY_KEY[key], f"Q{k}", "places").answer for k in range(200))
        assert set(places) == {1, 2, 3, 4, 5}


FIVE = dict(zip((f"reading_{k}_cm" for k in range(1, 6)), (48, 75, 40, 62, 55), strict=True))
#: Their mean is 122.
HANDS = dict(
    zip((f"reading_{k}_cm" for k in range(1, 6)), (121, 126, 119.5, 123, 120.5), strict=True)
)

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "impossible-reading": (
        {"girth_cm": 140.0, **FIVE},
        {"above-the-mean-width": 4, "middle-of-five": 5, "small-may-be": 1, "smallest": 3},
    ),
    "greatest-second-reading": (
        {"girth_cm": 130.0, "first_reading_cm": 39.0},
        {
            "half-girth": 65.0,
            "mean-width": 260 / PI - 39,
            "half-sum": 26.0,
            "whole-girth": math.sqrt(16_900 - 1521),
            "root-forgotten": 2704.0,
        },
    ),
    "least-second-reading": (
        {"girth_cm": 130.0, "first_reading_cm": 39.0},
        {
            "mean-width": 260 / PI - 39,
            "greatest-for-least": 52.0,
            "quarter-girth": 32.5,
            "one-side-each": 91.0,
            "one-side-only": 52.0,
        },
    ),
    "least-error": (
        {"first_diameter_cm": 60.0, "second_diameter_cm": 40.0, "turn_deg": 20.0},
        {"second-best": 3, "third-best": 1, "worst": 2},
    ),
    "read-again": (HANDS, {"other-end": 3, "next-to-it": 4, "middle-of-five": 1}),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
