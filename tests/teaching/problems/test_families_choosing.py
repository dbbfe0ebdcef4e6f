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


def too_wide(n):
    """The only stem whose width is too long for its tape to go there and back."""
    (found,) = (
        k
        for k in range(1, 6)
        if 2 * Fraction(str(n[f"width_{k}_cm"])) > Fraction(str(n[f"girth_{k}_cm"]))
    )
    return found


def differs_most(n):
    """The stem whose tapings differ by the largest part of its girth, pair against pair."""
    parts = {
        k: Fraction(str(n[f"difference_{k}_cm"])) / Fraction(str(n[f"girth_{k}_cm"]))
        for k in range(1, 6)
    }
    (found,) = (k for k in parts if all(parts[k] > parts[m] for m in parts if m != k))
    return found


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


def errors(n, half_sum=False):
    """Errors of the four areas, in per cent: arc length by quadrature, widths from points."""
    long, short = n["first_diameter_cm"], n["second_diameter_cm"]
    quarter, _ = quad(
        lambda t: math.hypot(long / 2 * math.sin(t), short / 2 * math.cos(t)), 0, PI / 2
    )
    first, second = width(n, n["turn_deg"]), width(n, n["turn_deg"] + 90)
    third = (first + second) / 2 if half_sum else second
    squares = ((4 * quarter / PI) ** 2, first**2, third**2, first * second)
    return [100 * (square / (long * short) - 1) for square in squares]


def nearest(n, half_sum=False):
    """The number of the way with the smallest error."""
    return 1 + int(np.argmin(np.abs(errors(n, half_sum))))


def spoiler(n):
    """The reading without which the other four have the least squared distances."""
    row = readings(n)

    def without(k):
        rest = [one for place, one in enumerate(row) if place != k]
        return sum((one - sum(rest) / 4) ** 2 for one in rest)

    return 1 + min(range(5), key=without)


def calipers_win(n):
    """Stem by stem, in fractions, until the calipers' mean square is the smaller."""
    names = ("common_percent", "tape_spread_percent", "caliper_spread_percent")
    common, tape, calipers = (Fraction(str(n[name])) for name in names)
    count = 1
    while calipers**2 / count >= common**2 + tape**2 / count:
        count += 1
    return count


def hour_percent(n):
    """Readings one by one while the time lasts; then the variance of their mean."""
    names = ("plot_min", "way_min", "reading_min")
    minutes, way, reading = (Fraction(str(n[name])) for name in names)
    left, count = minutes / Fraction(str(n["stem_count"])) - way, 0
    while left >= reading:
        left, count = left - reading, count + 1
    weights = np.full(round(n["stem_count"]) * count, 1 / (n["stem_count"] * count))
    return math.sqrt(np.sum((weights * n["caliper_spread_percent"]) ** 2))


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "impossible-reading": too_wide,
    "impossible-reading, edition 1": impossible,
    "greatest-second-reading": greatest,
    "least-second-reading": least,
    "least-error": nearest,
    "least-error, edition 1": lambda n: nearest(n, half_sum=True),
    "read-again": differs_most,
    "read-again, edition 1": spoiler,
    "stems-until-calipers": calipers_win,
    "an-hour-for-a-plot": hour_percent,
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


@pytest.mark.parametrize(
    ("key", "choices"), [("least-error", 4), ("impossible-reading", 5), ("read-again", 5)]
)
def test_every_choice_is_right_for_some(key, choices):
    """Over two hundred draws each choice is the answer in a tenth of them to four tenths."""
    right = Counter(draw(BY_KEY[key], f"Q{k}", "all of them").answer for k in range(200))
    assert set(right) == set(range(1, choices + 1))
    assert min(right.values()) >= 20
    assert max(right.values()) <= 80


@pytest.mark.parametrize(
    ("key", "numbers"), [("impossible-reading", "width"), ("read-again", "difference")]
)
def test_the_answer_s_rank_varies(key, numbers):
    """Neither the largest number nor the smallest, and of those between each now and then."""
    ranks = Counter()
    for k in range(100):
        problem = draw(BY_KEY[key], f"Q{k}", "ranks")
        row = [problem.numbers[f"{numbers}_{place}_cm"] for place in range(1, 6)]
        ranks[sorted(row).index(row[int(problem.answer) - 1])] += 1
    assert set(ranks) <= {1, 2, 3}
    assert ranks[2] >= 10
    assert ranks[3] >= 10


FIVE = dict(zip((f"reading_{k}_cm" for k in range(1, 6)), (48, 75, 40, 62, 55), strict=True))
#: Their mean is 122.
HANDS = dict(
    zip((f"reading_{k}_cm" for k in range(1, 6)), (121, 126, 119.5, 123, 120.5), strict=True)
)


def pairs(name, girths, others):
    """Five girths, and five numbers that go with them."""
    rows = zip(range(1, 6), girths, others, strict=True)
    return {
        key: value
        for k, girth, other in rows
        for key, value in ((f"girth_{k}_cm", girth), (f"{name}_{k}_cm", other))
    }


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    # widths over girths: 0.54, 0.39, 0.15, 0.44, 0.17; off girth/π by 19.8, 12.4, 25.1, 13.6, 17.5
    "impossible-reading": (
        pairs("width", (90, 170, 150, 110, 120), (48.5, 66.5, 22.6, 48.6, 20.7)),
        {
            "largest-width": 2,
            "smallest-girth": 1,
            "farthest-from-the-mean-width": 3,
            "next-to-it": 4,
            "flattest": 3,
        },
    ),
    "impossible-reading, edition 1": (
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
            "blackboard": math.sqrt(2 * (130 / PI) ** 2 - 1521),
            "greatest-for-least": 52.0,
            "quarter-girth": 32.5,
            "one-side-each": 91.0,
            "one-side-only": 52.0,
        },
    ),
    # 60 by 40 at 60°: widths of √2100 and √3100 against 2400, their product 6.3 %, the tape 6.4 %
    "least-error": (
        {"first_diameter_cm": 60.0, "second_diameter_cm": 40.0, "turn_deg": 60.0},
        {"second-best": 4, "third-best": 2, "worst": 3, "sign-left-on": 2},
    ),
    "least-error, edition 1": (
        {"first_diameter_cm": 60.0, "second_diameter_cm": 40.0, "turn_deg": 20.0},
        {"second-best": 3, "third-best": 1, "worst": 2},
    ),
    # 1.5, 3, 0.5, 2.5, 1 per cent
    "read-again": (
        pairs("difference", (100, 60, 80, 120, 50), (1.5, 1.8, 0.4, 3.0, 0.5)),
        {
            "largest-difference": 4,
            "thinnest-stem": 5,
            "thickest-stem": 4,
            "next-to-it": 4,
            "smallest-share": 3,
        },
    ),
    "read-again, edition 1": (HANDS, {"other-end": 3, "next-to-it": 4, "middle-of-five": 1}),
    # (49 − 4)/0.81 = 55.6
    "stems-until-calipers": (
        {"common_percent": 0.9, "tape_spread_percent": 2.0, "caliper_spread_percent": 7.0},
        {
            "tape-spread-forgotten": 61,  # 60.5
            "differences-squared": 31,  # 25/0.81 = 30.9
            "not-squared": 6,  # 5/0.9 = 5.6
            "common-not-squared": 50,
            "rounded-down": 55,
        },
    ),
    # 3 minutes a stem, 2 of them for readings of 0.6: 3.33
    "an-hour-for-a-plot": (
        {
            "plot_min": 75.0,
            "stem_count": 25.0,
            "way_min": 1.0,
            "reading_min": 0.6,
            "caliper_spread_percent": 6.0,
        },
        {
            "a-part-of-a-reading": 1.2 / math.sqrt(10 / 3),
            "rounded-up": 0.6,
            "way-forgotten": 1.2 / math.sqrt(5),
            "one-reading": 1.2,
            "stems-forgotten": 6 / math.sqrt(3),
            "readings-for-their-root": 0.4,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
