"""Problems of a class's readings: each answer a second way, each slip by hand."""

import math
from fractions import Fraction

import numpy as np
import pytest
from scipy.stats import norm

from mensura.estimates.hand_causes import form_of
from mensura.instruments.faults import fault
from mensura.teaching.problems.families.field_practical import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
Z = float(norm.ppf(0.975))


def pairs(n):
    """Readings one by one about their own pair's mean, in fractions."""
    squares = 0
    for k in range(1, 5):
        one = Fraction(str(n[f"difference_{k}_cm"]))
        squares += (one / 2) ** 2 + (one / 2) ** 2
    return math.sqrt(squares / 4)


def any_hand(n):
    """Components of variance, in fractions."""
    count, means, repeat = (
        Fraction(str(n[name])) for name in ("reading_count", "means_sd_cm", "hand_sd_cm")
    )
    return math.sqrt((means**2 - repeat**2 / count) + repeat**2)


def against(n):
    """The middle of the others by numpy."""
    agreed = np.median([n[f"reading_{k}_cm"] for k in range(1, 6)])
    return (n["reading_6_cm"] - agreed) / agreed * 100


def share_or_constant(n):
    """The form whose straight line through both stems comes nearer: through 0, or level.

    Which it is, by the exponent with which the bias grows with the girth: nearer 1 or nearer 0.
    """
    power = math.log(n["more_2_cm"] / n["more_1_cm"]) / math.log(n["girth_2_cm"] / n["girth_1_cm"])
    if power > 0.5:
        each = [n[f"more_{k}_cm"] * n["girth_3_cm"] / n[f"girth_{k}_cm"] for k in (1, 2)]
    else:
        each = [n["more_1_cm"], n["more_2_cm"]]
    return float(np.mean(each))


def upper(n):
    """Mean and deviation by numpy, the factor by SciPy."""
    apart = np.array([n[f"apart_{k}_cm"] for k in range(1, 6)])
    return apart.mean() + Z * apart.std(ddof=1)


def reach(n):
    """The variance of means, each part taken back to single readings."""
    stem = n["differences_sd_cm"] ** 2
    stem -= n["tape_repeat_cm"] ** 2 / n["reading_count"] + n["caliper_repeat_cm"] ** 2 / 2
    return Z * math.sqrt(stem + n["tape_repeat_cm"] ** 2 + n["caliper_repeat_cm"] ** 2)


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "repeatability-from-pairs": pairs,
    "another-hand-reads": any_hand,
    "against-the-others": against,
    "share-or-constant": share_or_constant,
    "limits-of-agreement": upper,
    "limits-for-single-readings": reach,
}

#: How nearly both agree: fractions, numpy and SciPy.
SECOND_WAY_REL = 1e-9


def test_pairs_give_back_the_spread_that_made_them():
    """20 000 times four pairs from a spread of 1: the mean square of the answers is 1."""
    apart = np.abs(np.diff(np.random.default_rng(3).normal(size=(20_000, 4, 2)), axis=2))[..., 0]
    found = [
        pairs({f"difference_{k + 1}_cm": float(one[k]) for k in range(4)}) for one in apart[:2000]
    ]
    assert np.mean(np.square(found)) == pytest.approx(1.0, abs=0.05)
    family = BY_KEY["repeatability-from-pairs"]
    one = Given({f"difference_{k + 1}_cm": float(apart[0, k]) for k in range(4)})
    assert family.answer(one) == pytest.approx(found[0])


def test_the_published_example_of_repeats():
    """Large and mini peak flow meters, each read twice: differences of the means 33.2, repeats 15.3
    and 19.9 l/min make 37.7 for single readings [BlandAltman1986, from memory; numbers carried over
    unchanged: the formula knows no unit]."""
    one = Given(
        {
            "reading_count": 2.0,
            "differences_sd_cm": 33.16,
            "tape_repeat_cm": 15.31,
            "caliper_repeat_cm": 19.91,
        }
    )
    assert BY_KEY["limits-for-single-readings"].answer(one) / Z == pytest.approx(37.6, abs=0.2)


def test_single_readings_spread_as_the_answer_says():
    """Drawn: a stem's own difference, three tapings, two caliper readings."""
    draws = np.random.default_rng(11)
    stem, tape, jaws = 0.4, 0.3, 0.5
    own = stem * draws.normal(size=100_000)
    first = tape * draws.normal(size=(100_000, 3))
    second = jaws * draws.normal(size=(100_000, 2))
    means = own + first.mean(axis=1) - second.mean(axis=1)
    one = Given(
        {
            "reading_count": 3.0,
            "differences_sd_cm": float(means.std()),
            "tape_repeat_cm": tape,
            "caliper_repeat_cm": jaws,
        }
    )
    singles = own + first[:, 0] - second[:, 0]
    held = np.mean(np.abs(singles) <= BY_KEY["limits-for-single-readings"].answer(one))
    assert held == pytest.approx(0.95, abs=0.005)


@pytest.mark.parametrize(
    ("key", "form"), [("tilt", "share"), ("pull", "share"), ("slack", "constant")]
)
def test_causes_that_the_solution_names(key, form):
    """What a share and what a constant points to is what the list of faults makes of them."""
    assert form_of(fault(key)) == form
    assert key in BY_KEY["share-or-constant"].solution


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    # squares 0.04 + 0.16 + 0.16 + 0.36 = 0.72
    "repeatability-from-pairs": (
        {
            "difference_1_cm": 0.2,
            "difference_2_cm": 0.4,
            "difference_3_cm": 0.4,
            "difference_4_cm": 0.6,
        },
        {
            "spread-of-the-difference": math.sqrt(0.18),
            "spread-of-the-figures": math.sqrt(0.08 / 3),  # about 0.4: 0.04, 0, 0, 0.04
            "mean-difference": 0.4,
            "one-pair-less": math.sqrt(0.12),
            "root-forgotten": 0.09,
            "limit-for-deviation": 0.84,  # 2.8·0.3
        },
    ),
    "another-hand-reads": (
        {"reading_count": 4.0, "means_sd_cm": 0.5, "hand_sd_cm": 0.4},
        {
            "repeats-counted-twice": math.sqrt(0.41),
            "means-alone": 0.5,
            "hands-alone": math.sqrt(0.21),
            "another-nth-added": math.sqrt(0.29),
            "plainly-added": 0.9,
        },
    ),
    # others 120, 121, 122, 123, 110: middle 121, mean 119.2; all six: mean 120.2, middle 121.5
    "against-the-others": (
        {
            "reading_1_cm": 120.0,
            "reading_2_cm": 121.0,
            "reading_3_cm": 122.0,
            "reading_4_cm": 123.0,
            "reading_5_cm": 110.0,
            "reading_6_cm": 125.2,
        },
        {
            "mean-of-the-others": 600 / 119.2,
            "mean-of-all": 500 / 120.2,
            "middle-of-all": 370 / 121.5,
            "in-centimetres": 4.2,
            "of-its-own-reading": 420 / 125.2,
        },
    ),
    # 2 and 2.2 %, mean 2.1; 1.6 and 3.3 cm, mean 2.45
    "share-or-constant": (
        {
            "more_1_cm": 1.6,
            "girth_1_cm": 80.0,
            "more_2_cm": 3.3,
            "girth_2_cm": 150.0,
            "girth_3_cm": 200.0,
        },
        {
            "the-other-form": 2.45,
            "sum-for-mean": 8.4,
            "in-per-cent": 2.1,
            "as-a-diameter": 4.2 / math.pi,
        },
    ),
    # mean 0.6; about it 0.16, 0, 0.16, 0.64, 0.64: 1.6; s² 0.4
    "limits-of-agreement": (
        {
            "apart_1_cm": 1.0,
            "apart_2_cm": 0.6,
            "apart_3_cm": 0.2,
            "apart_4_cm": -0.2,
            "apart_5_cm": 1.4,
        },
        {
            "lower-limit": 0.6 - 1.959963985 * math.sqrt(0.4),
            "limits-of-the-mean": 0.6 + 1.959963985 * math.sqrt(0.08),
            "mean-forgotten": 1.959963985 * math.sqrt(0.4),
            "factor-forgotten": 0.6 + math.sqrt(0.4),
            "n-for-n-minus-one": 0.6 + 1.959963985 * math.sqrt(0.32),
        },
    ),
    # 0.36, tape 0.16, calipers 0.25
    "limits-for-single-readings": (
        {
            "reading_count": 4.0,
            "differences_sd_cm": 0.6,
            "tape_repeat_cm": 0.4,
            "caliper_repeat_cm": 0.5,
        },
        {
            "repeats-forgotten": 1.959963985 * 0.6,
            "repeats-counted-twice": 1.959963985 * math.sqrt(0.77),
            "the-part-that-is-there": 1.959963985 * math.sqrt(0.525),
            "calipers-forgotten": 1.959963985 * math.sqrt(0.48),
            "factor-forgotten": math.sqrt(0.605),
        },
    ),
}

#: How nearly the family and the hand agree: the factor was copied with ten figures.
SLIPS_REL = 1e-6
