"""Problems of calibration, budget and coverage: each answer a second way, each slip by hand."""

import math
from fractions import Fraction

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ellipe
from scipy.stats import t, uniform

from mensura.teaching.problems.draw import draw
from mensura.teaching.problems.families.how_sure import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi


def line(n, lengths):
    """Rise and start, by numpy's own fit."""
    return np.polyfit(lengths, [n[f"reading_{k}_cm"] for k in range(1, len(lengths) + 1)], 1)


def correction_cm(n):
    """Through the whole matrix of variances."""
    u = np.array([n["u_start_cm"], n["u_scale_percent"] / 100])
    matrix = np.outer(u, u) * np.array([[1, n["correlation"]], [n["correlation"], 1]])
    way = np.array([1.0, n["width_cm"]])
    return math.sqrt(way @ matrix @ way)


def surely_mm(n):
    """The limit in fractions, the squares too."""
    allowed = Fraction(9, 10) + Fraction(2, 5) * math.ceil(Fraction(str(n["mark_m"])))
    parts = (Fraction(str(n[name])) ** 2 for name in ("u_mean_mm", "u_reference_mm"))
    return float(allowed) - 2 * math.sqrt(sum(parts))


def enough(u_reading, u_common, allowed):
    """One reading more and again, until it is enough."""
    count = 1
    while u_reading**2 / count + u_common**2 > allowed**2:
        count += 1
    return count


def decide(n):
    """The gap to the limit, with readings one by one."""
    names = ("error_mm", "u_one_mm", "u_reference_mm")
    error, one, reference = (Fraction(str(n[name])) for name in names)
    limit = Fraction(3, 10) + Fraction(1, 5) * math.ceil(Fraction(str(n["mark_m"])))
    return enough(one, reference, (error - limit) / 2)


def girth_cm(n):
    """The step's variance by SciPy's even distribution."""
    step = n["resolution_cm"]
    return math.sqrt(
        uniform(-step / 2, step).var() + n["hand_sd_cm"] ** 2 + (n["expanded_cm"] / 2) ** 2
    )


def tilted_mm(n):
    """A plane cuts a cylinder in an ellipse: 2E(sin²θ)/(π·cos θ), averaged by quadrature."""
    bound = math.radians(n["tilt_up_to_deg"])
    found, _ = quad(
        lambda a: 2 * ellipe(math.sin(a) ** 2) / (PI * math.cos(a)) - 1, 0, bound, epsabs=1e-15
    )
    return 10 * n["girth_cm"] * found / bound


def degrees(n):
    """In fractions: only squares and fourth powers are in it."""
    count, spread, card, free, step = (
        Fraction(str(n[name]))
        for name in ("reading_count", "spread_cm", "u_card_cm", "card_degrees", "resolution_cm")
    )
    mean = spread**2 / count
    return (mean + card**2 + step**2 / 12) ** 2 / (mean**2 / (count - 1) + card**4 / free)


def interval_cm(n):
    """SciPy's own interval of Student's distribution."""
    count = n["reading_count"]
    return t.interval(0.95, count - 1, scale=n["spread_cm"] / math.sqrt(count))[1]


def beside(n):
    """Readings one by one, in fractions."""
    names = ("u_reading_cm", "u_common_cm", "allowed_u_cm")
    return enough(*(Fraction(str(n[name])) for name in names))


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "start-from-two-marks": lambda n: line(n, (50, 200))[1],
    "stretch-from-four-marks": lambda n: 100 * (1 / line(n, (50, 100, 150, 200))[0] - 1),
    "doubt-of-a-correction": correction_cm,
    "surely-within-its-class": surely_mm,
    "readings-that-decide": decide,
    "parts-of-a-girth": girth_cm,
    "what-tilt-adds-on-average": tilted_mm,
    "degrees-of-freedom-together": degrees,
    "interval-from-few-readings": interval_cm,
    "readings-beside-what-stays": beside,
}

#: How nearly both agree: numpy's fit, matrices, fractions, quadrature and SciPy.
SECOND_WAY_REL = 1e-9


def test_a_published_correction():
    """Example H.3: at 10 °C beyond its zero, 0.0041 with the correlation of −0.930; 0.0073 without,
    the slip (numbers read in the documents of an open library) [GUM1995, example H.3]."""
    family = BY_KEY["doubt-of-a-correction"]
    n = Given(
        {
            "u_start_cm": 0.0028776,
            "u_scale_percent": 0.066794,
            "correlation": -0.93043,
            "width_cm": 10.0,
        }
    )
    assert family.answer(n) == pytest.approx(0.0041, abs=5e-5)
    (slip,) = (one for one in family.slips if one.name == "correlation-forgotten")
    assert slip.compute(n) == pytest.approx(0.00727, abs=5e-6)


@pytest.mark.parametrize(("metres", "printed"), [(2.0, 1.4), (3.0, 1.8), (5.0, 2.6)])
def test_limits_that_the_trade_prints(metres, printed):
    """Class III without an end surface, 2, 3 and 5 m (guides of the trade, read; formula:
    [UKSI2016]); a start at the end adds 0.3 mm, and no doubt in the error takes nothing off."""
    answer = BY_KEY["surely-within-its-class"].answer
    assert answer(
        Given({"mark_m": metres, "u_mean_mm": 0.0, "u_reference_mm": 0.0})
    ) == pytest.approx(printed + 0.3)


def test_student_as_the_text_prints_it():
    """The factors in the text are those of the printed table (degrees 1 to 8, 95 %, two sides)."""
    text = BY_KEY["interval-from-few-readings"].text
    printed = [float(one) for one in text.split("95 % is ")[1].split(" for 1")[0].split(", ")]
    assert len(printed) == 8
    for free, one in enumerate(printed, 1):
        assert t.ppf(0.975, free) == pytest.approx(one, abs=5e-4)


def test_an_interval_covers_what_it_says():
    """20 000 drawn series of four readings: Student's interval holds the truth in 95 % of them, the
    one with k = 2 in 86 % (the share that t of 3 degrees puts within 2)."""
    family = BY_KEY["interval-from-few-readings"]
    readings = np.random.default_rng(7).normal(0.0, 1.0, (20_000, 4))
    spreads = readings.std(axis=1, ddof=1)
    one = Given({"reading_count": 4.0, "spread_cm": 1.0})
    held = np.mean(np.abs(readings.mean(axis=1)) <= family.answer(one) * spreads)
    assert held == pytest.approx(0.95, abs=0.006)
    (slip,) = (each for each in family.slips if each.name == "k-two")
    by_two = np.mean(np.abs(readings.mean(axis=1)) <= slip.compute(one) * spreads)
    assert by_two == pytest.approx(2 * t.cdf(2, 3) - 1, abs=0.01)


def test_the_mean_of_tilts_is_no_tilt_of_the_mean():
    """A hundred thousand even tilts, each by the tape's own law, for one class."""
    problem = draw(BY_KEY["what-tilt-adds-on-average"], "Q07", "tilts")
    bound = problem.numbers["tilt_up_to_deg"]
    tilts = np.radians((np.arange(100_000) + 0.5) / 100_000 * bound)
    longer = 2 * ellipe(np.sin(tilts) ** 2) / (PI * np.cos(tilts)) - 1
    assert problem.answer == pytest.approx(
        10 * problem.numbers["girth_cm"] * longer.mean(), rel=1e-6
    )


def test_one_reading_fewer_does_not_decide():
    """With the answer the expanded uncertainty is within the gap, with one less it is not."""
    for number in range(100):
        n = draw(BY_KEY["readings-that-decide"], f"Q{number}", "decide")
        gap = n.numbers["error_mm"] - 0.7  # all marks lie in the second metre
        reach = [
            2 * math.hypot(n.numbers["u_one_mm"] / math.sqrt(k), n.numbers["u_reference_mm"])
            for k in (n.answer, n.answer - 1)
        ]
        assert reach[0] < gap < reach[1]


#: The exact mean, by the second way.
_TILT = tilted_mm({"girth_cm": 100.0, "tilt_up_to_deg": 6.0})

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    # rise 0.96
    "start-from-two-marks": (
        {"reading_1_cm": 52.0, "reading_2_cm": 196.0},
        {
            "error-at-the-near-mark": 2.0,
            "error-at-the-far-mark": -4.0,
            "mean-error": -1.0,
            "stretch-for-start": 6.0,
            "wrong-way": 0.0,
            "in-lengths-of-the-rule": 52 / 0.96 - 50,
        },
    ),
    # 75·145 + 25·47 = 12050, rise 0.964; ends 145/150
    "stretch-from-four-marks": (
        {"reading_1_cm": 51.0, "reading_2_cm": 100.0, "reading_3_cm": 147.0, "reading_4_cm": 196.0},
        {
            "ends-only": 500 / 145,
            # 2550 + 10 000 + 22 050 + 39 200 = 73 800 over 75 000: 0.984
            "through-nought": 100 * (1 / 0.984 - 1),
            "mean-of-shares": 100 * ((50 / 51 + 1 + 150 / 147 + 200 / 196) / 4 - 1),
            "last-mark-alone": 400 / 196,
            "wrong-base": 3.6,
            "wrong-sign": -3.6,
        },
    ),
    # zero 0.08, scale 0.06
    "doubt-of-a-correction": (
        {"u_start_cm": 0.08, "u_scale_percent": 0.1, "correlation": -0.75, "width_cm": 60.0},
        {
            "correlation-forgotten": 0.1,
            "correlation-added": math.sqrt(0.0172),
            "two-forgotten": 0.08,
            "plainly-added": 0.14,
            "zero-alone": 0.08,
            "scale-alone": 0.06,
        },
    ),
    # two metres: 0.9 + 0.8 = 1.7
    "surely-within-its-class": (
        {"mark_m": 1.25, "u_mean_mm": 0.16, "u_reference_mm": 0.12},
        {
            "not-rounded-up": 1.0,
            "rounded-down": 0.9,
            "end-forgotten": 1.0,
            "class-two": 0.5,
            "doubt-forgotten": 1.7,
            "k-forgotten": 1.5,
            "reference-forgotten": 1.38,
            "doubt-added": 2.1,
        },
    ),
    # gap 0.4, half 0.2; 0.25/(0.04 − 0.0064) = 7.44
    "readings-that-decide": (
        {"mark_m": 1.5, "error_mm": 1.1, "u_one_mm": 0.5, "u_reference_mm": 0.08},
        {
            "k-forgotten": 2,  # 0.25/(0.16 − 0.0064) = 1.63
            "reference-forgotten": 7,  # 6.25
            "not-rounded-up": 5,  # half of 0.5: 0.25/(0.0625 − 0.0064) = 4.46
            "rounded-down": 7,
        },
    ),
    # 1/12, 0.16, 0.09
    "parts-of-a-girth": (
        {"resolution_cm": 1.0, "hand_sd_cm": 0.4, "expanded_cm": 0.6},
        {
            "expanded-taken-as-it-is": math.sqrt(1 / 12 + 0.52),
            "whole-step": math.sqrt(1.25),
            "half-step": math.sqrt(0.5),
            "step-forgotten": 0.5,
            "card-forgotten": math.sqrt(1 / 12 + 0.16),
            "plainly-added": 0.7 + 1 / math.sqrt(12),
            "root-forgotten": 1 / 12 + 0.25,
        },
    ),
    "what-tilt-adds-on-average": (
        {"girth_cm": 100.0, "tilt_up_to_deg": 6.0},
        {
            "at-the-bound": 3 * _TILT,
            "middle-angle": 0.75 * _TILT,
            "mean-of-one-over-cosine": 2 * _TILT,
            "quarter-forgotten": 4 * _TILT,
            "spread-for-mean": 2 * _TILT / math.sqrt(5),
            "degrees": _TILT * (180 / PI) ** 2,
        },
    ),
    # squares: mean 0.09, card 0.16, step 1/12; both without the step 0.25
    "degrees-of-freedom-together": (
        {
            "reading_count": 4.0,
            "spread_cm": 0.6,
            "u_card_cm": 0.4,
            "card_degrees": 8.0,
            "resolution_cm": 1.0,
        },
        {
            "plainly-added": 11,
            "squares-for-fourths": (1 / 3) / 0.05,
            "n-for-n-minus-one": (1 / 9) / (0.002025 + 0.0032),
            "step-forgotten": 0.0625 / 0.0059,
            "one-reading": (0.52 + 1 / 12) ** 2 / (0.1296 / 3 + 0.0032),
            "card-left-out-below": (1 / 9) / 0.0027,
        },
    ),
    # t of 3 and of 4 degrees: 3.182446 and 2.776445
    "interval-from-few-readings": (
        {"reading_count": 4.0, "spread_cm": 0.6},
        {
            "k-two": 0.6,
            "n-for-n-minus-one": 0.8329335,
            "one-reading": 1.9094678,
            "divided-by-n": 0.47736695,
            "factor-forgotten": 0.3,
            "root-of-n-minus-one": 1.9094678 / math.sqrt(3),
        },
    ),
    # 1.69/(0.16 − 0.04) = 14.08
    "readings-beside-what-stays": (
        {"u_reading_cm": 1.3, "u_common_cm": 0.2, "allowed_u_cm": 0.4},
        {
            "shared-forgotten": 11,  # 10.56
            "plainly-taken-away": 43,  # 42.25
            "not-squared": 4,  # √14.08 = 3.75
            "rounded-down": 14,
        },
    ),
}

#: How nearly the family and the hand agree: Student's factor was copied with seven figures.
SLIPS_REL = 1e-6
