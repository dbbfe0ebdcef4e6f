"""Problems of calipers: each answer by touching lines, linear equations or roots, slips by hand."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from mensura.instruments.calipers import Calipers
from mensura.stems import Ellipse
from mensura.stems.outline import Outline
from mensura.teaching.problems.families.calipers import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}
PI = math.pi


def disc_cm2(diameter):
    """Area of a disc by strips."""
    quarter, _ = quad(lambda turn: (diameter / 2 * math.cos(turn)) ** 2, 0, PI / 2)
    return 4 * quarter


def foot_cm(points, jaw_lean_deg):
    """Where the foot of a leaning jaw comes to rest: pushed in until the first point stops it.

    points: height above the beam and reach from the fixed jaw, shape (n, 2), cm.
    """
    height, reach = np.asarray(points, dtype=float).T
    return float(np.max(reach - height * math.tan(math.radians(jaw_lean_deg))))


def round_foot_cm(diameter, jaw_lean_deg):
    """The same for a round stem on the beam; the point that stops the jaw is searched for."""
    radius, slope = diameter / 2, math.tan(math.radians(jaw_lean_deg))

    def short(turn):
        return -(radius * (1 + math.cos(turn)) - radius * (1 + math.sin(turn)) * slope)

    return -minimize_scalar(short, bounds=(-1, 1), method="bounded", options={"xatol": 1e-9}).fun


def batten_cm(reading, contact, jaw_lean_deg):
    """The width at which a batten, 2 cm thick, stops the jaw where the scale shows the reading."""

    def too_wide(width):
        return foot_cm([[contact, width], [contact + 2, width]], jaw_lean_deg) - reading

    return brentq(too_wide, reading, reading + contact, xtol=1e-11)


def longer_cm(first, second, turn_deg):
    """Squares of both axes from two linear equations; the longer one's root."""
    cosine, sine = math.cos(math.radians(turn_deg)) ** 2, math.sin(math.radians(turn_deg)) ** 2
    squares = np.linalg.solve([[cosine, sine], [sine, cosine]], [first**2, second**2])
    return math.sqrt(squares[0])


def mended_mean_cm(n):
    """What stands between the jaws, from the mark that they stand at when closed."""
    return (
        sum(n[name] - n["zero_error_cm"] for name in ("first_reading_cm", "second_reading_cm")) / 2
    )


#: family: the answer from its numbers, without the function that the family calls;
#: 104348/33215 is π to nine figures.
SECOND_WAY = {
    "zero-below-nothing": lambda n: disc_cm2(mended_mean_cm(n)),
    "zero-from-a-post": lambda n: n["reading_cm"] - n["girth_cm"] * 33215 / 104348,
    "leaning-jaw-area": lambda n: (
        disc_cm2(n["diameter_cm"]) - disc_cm2(round_foot_cm(n["diameter_cm"], n["jaw_lean_deg"]))
    ),
    "batten-at-the-tips": lambda n: batten_cm(n["reading_cm"], n["contact_cm"], n["jaw_lean_deg"]),
    "axes-from-a-turned-pair": lambda n: longer_cm(
        n["first_reading_cm"], n["second_reading_cm"], n["turn_deg"]
    ),
}

#: How nearly both agree: jaws that are pushed in, equations solved, or arithmetic.
SECOND_WAY_REL = 2e-6


def test_calipers_that_lean_read_the_batten_so():
    """Our own calipers, put on a wedge whose corner is the batten's edge, read what was given."""
    family = BY_KEY["batten-at-the-tips"]
    for reading, contact, lean in ((9.0, 20.0, 1.5), (14.2, 33.5, 2.2), (18.0, 40.0, 3.0)):
        width = family.answer(
            Given({"reading_cm": reading, "contact_cm": contact, "jaw_lean_deg": lean})
        )
        # the jaw closes along the first axis; the beam lies where the second is least
        wedge = Outline([[0.0, 0.0], [width, contact], [0.0, contact]])
        assert Calipers(jaw_lean_deg=lean).read(wedge, [0])[0] == pytest.approx(reading)


def test_the_axes_found_give_the_readings_again():
    """An ellipse with the longer axis that was found, and the shorter one, reads what was given."""
    family = BY_KEY["axes-from-a-turned-pair"]
    told = Given({"first_reading_cm": 48.0, "second_reading_cm": 40.0, "turn_deg": 22.0})
    slips = {slip.name: slip.compute(told) for slip in family.slips}
    stem = Ellipse(family.answer(told), slips["shorter-for-longer"])
    assert Calipers().read(stem, [22, 112]) == pytest.approx([48.0, 40.0])


def test_the_signs_of_the_faults():
    """A zero below nothing makes areas grow when mended; a jaw that leans outwards loses area."""
    told = {"first_reading_cm": 36.0, "second_reading_cm": 30.0, "zero_error_cm": -1.0}
    assert BY_KEY["zero-below-nothing"].answer(Given(told)) == pytest.approx(289 * PI)
    lean = Given({"diameter_cm": 40.0, "jaw_lean_deg": 2.0})
    assert (
        BY_KEY["leaning-jaw-area"].answer(lean)
        > 0
        > BY_KEY["leaning-jaw-area"].slips[0].compute(lean)
    )


#: r·(1 + (1 − sin φ)/cos φ) with r = 20 and φ = 2°, outwards and inwards: sine and cosine of a
#: table to seven figures.
OUT_CM = 20 * (1 + (1 - 0.03489950) / 0.99939083)
IN_CM = 20 * (1 + (1 + 0.03489950) / 0.99939083)

#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    "zero-below-nothing": (
        {"first_reading_cm": 36.0, "second_reading_cm": 30.0, "zero_error_cm": -1.0},
        {
            "wrong-sign": 256 * PI,
            "zero-left-in": 33**2 * PI / 4,
            "zero-off-one-reading": 33.5**2 * PI / 4,
            "diameter-for-radius": 1156 * PI,
            "pi-forgotten": 1156.0,
            "geometric-mean": 37 * 31 * PI / 4,
            "mean-of-two-circles": (37**2 + 31**2) * PI / 8,
            "first-reading-only": 37**2 * PI / 4,
            "zero-as-mm": 33.1**2 * PI / 4,
        },
    ),
    "zero-from-a-post": (
        {"girth_cm": 35 * PI, "reading_cm": 36.2},
        {
            "wrong-sign": -1.2,
            "half-for-each-jaw": 0.6,
            "error-of-the-girth": 1.2 * PI,
            "girth-as-diameter": 36.2 - 35 * PI,
        },
    ),
    "leaning-jaw-area": (
        {"diameter_cm": 40.0, "jaw_lean_deg": 2.0},
        {
            "wrong-sign": PI / 4 * (1600 - IN_CM**2),
            "full-height": 400 * PI * (1 - (1 - 0.03492077) ** 2),
            "squared-too-late": PI / 4 * (40 - OUT_CM) ** 2,
            "diameter-for-radius": PI * (1600 - OUT_CM**2),
            "area-that-is-left": PI / 4 * OUT_CM**2,
            "r-times-tan": 400 * PI * (1 - (1 - 0.03492077 / 2) ** 2),
            "first-order": 20 * PI * (40 - OUT_CM),
            "cosine-only": 400 * PI * math.sin(math.radians(2)) ** 2,
        },
    ),
    "batten-at-the-tips": (
        {"reading_cm": 12.0, "contact_cm": 30.0, "jaw_lean_deg": 2.0},
        {
            "wrong-sign": 12 - 30 * 0.03492077,
            "lean-left-in": 12.0,
            "degrees-for-percent": 12.6,
            "lean-alone": 30 * 0.03492077,
            "half-height": 12 + 15 * 0.03492077,
        },
    ),
    "axes-from-a-turned-pair": (
        # cos²30° = 3/4 and sin²30° = 1/4
        {"first_reading_cm": 50.0, "second_reading_cm": 40.0, "turn_deg": 30.0},
        {
            "not-turned-back": 50.0,
            "wrong-sign": math.sqrt(2275),
            "shorter-for-longer": math.sqrt(1150),
            "not-divided": math.sqrt(1475),
            "root-forgotten": 2950.0,
            "widths-not-squared": 55.0,
            "in-proportion": 160 / 3,
            "cosine-divided": 100 / math.sqrt(3),
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 2e-6
