"""Problems of stems out of round: answers by quadrature and by touching lines, slips by hand."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.families.out_of_round import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi
TURN = np.linspace(0, 2 * PI, 20_000, endpoint=False)


def oval_cm2(first, second):
    """Area of an ellipse by strips."""
    half, _ = quad(lambda turn: first * second / 2 * math.sin(turn) ** 2, 0, PI)
    return half


def oval_girth_cm(first, second):
    """The way round an ellipse, step by step."""
    quarter, _ = quad(
        lambda turn: math.hypot(first / 2 * math.sin(turn), second / 2 * math.cos(turn)), 0, PI / 2
    )
    return 4 * quarter


def jaws_cm(first, second, turn_deg):
    """How far apart the outermost points lie along the beam, out of twenty thousand."""
    turn = math.radians(turn_deg)
    along = first / 2 * np.cos(TURN) * math.cos(turn) + second / 2 * np.sin(TURN) * math.sin(turn)
    return float(along.max() - along.min())


def axes(numbers):
    return numbers["first_diameter_cm"], numbers["second_diameter_cm"]


def over_percent(claimed, true):
    return 100 * (claimed / true - 1)


def tape_percent(numbers):
    first, second = axes(numbers)
    return over_percent(oval_girth_cm(first, second) ** 2 / (4 * PI), oval_cm2(first, second))


def mean_percent(numbers):
    first, second = axes(numbers)
    return over_percent(PI * ((first + second) / 4) ** 2, oval_cm2(first, second))


def pair_percent(numbers):
    first, second = axes(numbers)
    pair = [jaws_cm(first, second, numbers["turn_deg"] + more) for more in (0, 90)]
    return over_percent(PI / 4 * (sum(pair) / 2) ** 2, oval_cm2(first, second))


def three_arcs_cm2(width):
    """A triangle, and on each side what lies between it and the arc round the far corner."""
    cap, _ = quad(
        lambda x: math.sqrt(width**2 - x**2) - math.sqrt(3) / 2 * width, -width / 2, width / 2
    )
    return math.sqrt(3) / 4 * width**2 + 3 * cap


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "oval-area": lambda n: oval_cm2(*axes(n)),
    "tape-on-an-oval": tape_percent,
    "mean-of-the-axes": mean_percent,
    "turned-reading": lambda n: jaws_cm(*axes(n), n["turn_deg"]),
    "turned-pair": pair_percent,
    "squared-beam": lambda n: n["side_cm"] ** 2 * (4 / PI - 1),
    "same-in-every-direction": lambda n: three_arcs_cm2(n["width_cm"]),
}

#: How nearly both agree: strips, steps along the edge, or points between the jaws.
SECOND_WAY_REL = 1e-5


def test_the_series_that_is_hinted_is_enough():
    """(d₁ + d₂)²/(4·d₁·d₂)·(1 + h/4 + h²/64)² − 1 stays far within what counts as right."""
    for number in range(200):
        problem = draw(BY_KEY["tape-on-an-oval"], f"Q{number}", "series")
        first, second = axes(problem.numbers)
        h = ((first - second) / (first + second)) ** 2
        ratio = (first + second) ** 2 / (4 * first * second) * (1 + h / 4 + h * h / 64) ** 2
        assert 100 * (ratio - 1) == pytest.approx(problem.answer, abs=problem.tolerance / 20)


@pytest.mark.parametrize(
    ("m", "printed"),
    [
        (0.10, 1.530757637),
        (0.20, 1.489035058),
        (0.30, 1.445363064),
        (0.40, 1.399392139),
        (0.50, 1.350643881),
    ],
)
def test_tape_on_an_oval_by_the_printed_table(m, printed):
    """4E²/(π²·r) − 1 with E to nine decimals, table 17.1 [AS1964] as carried in Octave's tests."""
    ratio = math.sqrt(1 - m)
    numbers = Given({"first_diameter_cm": 60.0, "second_diameter_cm": 60 * ratio})
    by_table = 100 * (4 * printed**2 / (PI**2 * ratio) - 1)
    assert BY_KEY["tape-on-an-oval"].answer(numbers) == pytest.approx(by_table, abs=5e-7)


def test_a_stem_of_constant_width_by_its_published_area():
    """0.704770923010457972… for a width of 1 [OEIS-A060708]."""
    area = BY_KEY["same-in-every-direction"].answer(Given({"width_cm": 1.0}))
    assert area == pytest.approx(0.704770923010457972, rel=1e-6)


def test_the_rule_of_the_two_axes():
    """60 and 48 cm average to 54 [CFMP1999]: 54² over 60·48 is 1.25 per cent more, by hand."""
    numbers = Given({"first_diameter_cm": 60.0, "second_diameter_cm": 48.0})
    assert BY_KEY["mean-of-the-axes"].answer(numbers) == pytest.approx(1.25)


def test_a_turn_of_45_degrees_by_hand():
    """Both readings are √((60² + 40²)/2), so the pair claims 1300 where 1200 is true."""
    numbers = Given({"first_diameter_cm": 60.0, "second_diameter_cm": 40.0, "turn_deg": 45.0})
    assert BY_KEY["turned-reading"].answer(numbers) == pytest.approx(math.sqrt(2600))
    assert BY_KEY["turned-pair"].answer(numbers) == pytest.approx(100 / 12)


OVAL = {"first_diameter_cm": 60.0, "second_diameter_cm": 40.0}
#: Both readings of the pair at 30°: cos² is 3/4, sin² is 1/4.
WIDE, NARROW = math.sqrt(2700 + 400), math.sqrt(900 + 1200)
TURNED = ((WIDE + NARROW) / 2) ** 2 / 2400

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "oval-area": (
        OVAL,
        {
            "arithmetic-mean": PI / 4 * 2500,
            "quadratic-mean": PI / 4 * 2600,
            "diameter-for-radius": PI * 2400,
            "pi-forgotten": 2400.0,
            "longer-only": PI / 4 * 3600,
        },
    ),
    "tape-on-an-oval": (
        OVAL,
        {
            "root-mean-square-girth": 100 / 12,
            "lower-bound": 100 / 24,
            "squared-too-late": 100 * (oval_girth_cm(60, 40) / PI / math.sqrt(2400) - 1),
            "share-for-percent": oval_girth_cm(60, 40) ** 2 / PI**2 / 2400 - 1,
            "wrong-base": 100 * (1 - 2400 * PI**2 / oval_girth_cm(60, 40) ** 2),
        },
    ),
    "mean-of-the-axes": (
        OVAL,
        {
            "squared-too-late": 100 * (50 / math.sqrt(2400) - 1),
            "quadratic-mean": 100 / 12,
            "factor-forgotten": 100 / 6,
            "out-of-roundness": 50.0,
            "share-for-percent": 1 / 24,
            "wrong-base": 4.0,
        },
    ),
    "turned-reading": (
        {**OVAL, "turn_deg": 30.0},
        {
            "across-the-middle": 1 / math.sqrt(3 / 4 / 3600 + 1 / 4 / 1600),
            "axes-swapped": NARROW,
            "not-squared": 30 * math.sqrt(3) + 20,
            "root-forgotten": 3100.0,
            "radius-for-diameter": WIDE / 2,
            "in-proportion": 160 / 3,
            "squares-once": 55.0,
            "mean-diameter": 50.0,
        },
    ),
    "turned-pair": (
        {**OVAL, "turn_deg": 30.0},
        {
            "not-turned": 100 / 24,
            "geometric-mean": 100 * (WIDE * NARROW / 2400 - 1),
            "quadratic-mean": 100 / 12,
            "one-reading": 100 * (3100 / 2400 - 1),
            "squared-too-late": 100 * (math.sqrt(TURNED) - 1),
            "share-for-percent": TURNED - 1,
            "wrong-base": 100 - 100 / TURNED,
        },
    ),
    "squared-beam": (
        {"side_cm": 20.0},
        {
            "whole-area": 1600 / PI,
            "inner-circle": 400 - 100 * PI,
            "outer-circle": 200 * PI - 400,
            "pi-forgotten": 1200.0,
            "girth-as-diameter": 1600 * PI - 400,
        },
    ),
    "same-in-every-direction": (
        {"width_cm": 20.0},
        {
            "circle": 100 * PI,
            "triangle-only": 100 * math.sqrt(3),
            "counted-twice": 200 * PI,
            "taken-once": 200 * PI - 100 * math.sqrt(3),
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-7


def test_the_order_of_the_instruments():
    """On every stem drawn the tape errs more than the mean of the axes, less than the board."""
    for number in range(200):
        problem = draw(BY_KEY["tape-on-an-oval"], f"Q{number}", "order")
        slips = {slip.name: slip.value for slip in problem.slips}
        assert slips["lower-bound"] < problem.answer < slips["root-mean-square-girth"]
