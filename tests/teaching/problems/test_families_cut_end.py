"""Problems of a photographed cut end: each answer a second way, each slip by hand."""

import math
from fractions import Fraction

import numpy as np
import pytest

from mensura.teaching.problems.families.cut_end import FAMILIES
from mensura.teaching.problems.family import Given

BY_KEY = {family.key: family for family in FAMILIES}


def askew(n):
    """A square on the scale has as many pixels as both ways' squares."""
    square_px2 = n["along_px"] ** 2 + n["up_px"] ** 2
    return n["area_px2"] / square_px2 * n["scale_cm"] ** 2


def two_scales(n):
    """The section's share of the frame's pixels, of the frame's 1200 cm²."""
    share = Fraction(int(n["area_px2"]), int(n["across_px"] * n["frame_up_px"]))
    return float(1200 * share)


def behind(n):
    """Four corners of a square through a pinhole, and the scale's own image."""
    far, near = n["camera_to_scale_m"], n["camera_to_scale_m"] - n["nearer_cm"] / 100
    corners = np.array([[0, 0], [1, 0], [1, 1], [0, 1]]) / near
    x, y = (corners * far).T
    area = abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    return 100 * (area - 1)


def clicks(n):
    """The clicked polygon's own area from its corners, taken from the disc's."""
    turn = 2 * np.pi * np.arange(round(n["click_count"])) / round(n["click_count"])
    x, y = n["diameter_cm"] / 2 * np.array([np.cos(turn), np.sin(turn)])
    polygon = (np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    return math.pi * n["diameter_cm"] ** 2 / 4 - float(polygon)


def outline(n):
    """From the isoperimetric quotient 4πA/G²."""
    quotient = 4 * math.pi * n["true_area_cm2"] / n["taut_girth_cm"] ** 2
    return 100 / quotient - 100


def photographed(n):
    """Slopes of ln A by differences: two marks and the edge."""

    def area(first, second, edge):
        return math.log(((n["radius_px"] + edge) / (n["scale_px"] + second - first)) ** 2)

    u = np.array([n["u_mark_px"], n["u_mark_px"], n["u_edge_px"]])
    step = 1e-3
    slopes = [(area(*(step * one)) - area(*(-step * one))) / 2 / step for one in np.eye(3)]
    return 100 * math.sqrt(float(np.sum((np.array(slopes) * u) ** 2)))


#: family: the answer from its numbers, with nothing of mensura.
SECOND_WAY = {
    "scale-that-lies-askew": askew,
    "two-scales-of-a-tilted-camera": two_scales,
    "scale-behind-the-cut": behind,
    "area-between-the-clicks": clicks,
    "tape-against-an-outline": outline,
    "doubt-of-a-photographed-area": photographed,
}

#: How nearly both agree: the slopes are differences.
SECOND_WAY_REL = 1e-8


@pytest.mark.parametrize(("way_m", "percent"), [(1.0, 4.123), (2.0, 2.030), (3.0, 1.347)])
def test_two_centimetres_nearer(way_m, percent):
    """Areas too large by a scale 2 cm behind the cut, to four figures (similar triangles)."""
    one = Given({"camera_to_scale_m": way_m, "nearer_cm": 2.0})
    assert BY_KEY["scale-behind-the-cut"].answer(one) == pytest.approx(percent, abs=6e-4)


@pytest.mark.parametrize(("count", "percent"), [(12, 4.507), (24, 1.138), (36, 0.507)])
def test_polygons_in_a_circle(count, percent):
    """A disc of 100 cm² loses what its polygon loses (closed form)."""
    one = Given({"diameter_cm": math.sqrt(400 / math.pi), "click_count": float(count)})
    assert BY_KEY["area-between-the-clicks"].answer(one) == pytest.approx(percent, abs=6e-4)


#: family: numbers, and each slip by plain arithmetic.
SLIPS = {
    # 400, 300: 500 px; 10 px a cm; area 25 000 px² are 250 cm²
    "scale-that-lies-askew": (
        {"scale_cm": 50.0, "along_px": 400.0, "up_px": 300.0, "area_px2": 25_000.0},
        {
            "only-to-the-right": 390.625,
            "sides-added": 25_000 * 2500 / 490_000,
            "scale-not-squared": 2500.0,
            "only-up": 25_000 / 36,
            "scale-of-one-centimetre": 0.1,
        },
    ),
    # 0.04 and 0.05 cm a pixel
    "two-scales-of-a-tilted-camera": (
        {"across_px": 1000.0, "frame_up_px": 600.0, "area_px2": 300_000.0},
        {
            "scale-across-for-both": 480.0,
            "scale-up-for-both": 750.0,
            "one-scale-only": 12_000.0,
            "sides-changed": 800.0,
            "area-of-the-frame": 2400.0,
        },
    ),
    # 100 cm to the scale, 80 to the cut: 1.25 times
    "scale-behind-the-cut": (
        {"camera_to_scale_m": 1.0, "nearer_cm": 20.0},
        {
            "width-for-area": 25.0,
            "doubled": 50.0,
            "distance-to-the-cut": 44.0,
            "of-the-measured-area": 36.0,
        },
    ),
    # a square in a disc of radius 1 has 2, one round it 4; its way round 4√2
    "area-between-the-clicks": (
        {"diameter_cm": 2.0, "click_count": 4.0},
        {
            "share-of-the-girth": math.pi - 2 * math.sqrt(2),
            "lines-outside": 4 - math.pi,
            "in-per-cent": 100 - 200 / math.pi,
            "one-sliver": (math.pi - 2) / 4,
            "diameter-as-radius": 4 * (math.pi - 2),
        },
    ),
    # the tape claims 1250/π
    "tape-against-an-outline": (
        {"true_area_cm2": 1000 / math.pi, "taut_girth_cm": math.sqrt(5000.0)},
        {
            "of-the-claimed-area": 20.0,
            "of-the-diameter": 100 * (math.sqrt(1.25) - 1),
            "in-square-centimetres": 250 / math.pi,
            "squared-once-more": 56.25,
        },
    ),
    # scale 0.4·√2 %, edge 0.5 %
    "doubt-of-a-photographed-area": (
        {"scale_px": 250.0, "u_mark_px": 1.0, "radius_px": 200.0, "u_edge_px": 1.0},
        {
            "one-mark": 2 * math.sqrt(0.41),
            "width-for-area": math.sqrt(0.57),
            "plainly-added": 0.8 * math.sqrt(2) + 1,
            "edge-over-the-diameter": 2 * math.sqrt(0.3825),
            "edge-forgotten": 0.8 * math.sqrt(2),
            "scale-forgotten": 1.0,
        },
    ),
}

#: How nearly the family and the hand agree.
SLIPS_REL = 1e-9
