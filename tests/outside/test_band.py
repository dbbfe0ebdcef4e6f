"""The band's way against quadrature to twenty digits, closed forms of the belt, and the helix."""

import mpmath
import numpy as np
import pytest

from mensura.instruments import Lay, Tape, lift_adds_cm
from mensura.stems import Ellipse, belt_cm, circle
from mensura.stems.band_path import band_path


def length_in_space_cm(long, short, tilt=0, towards=0, wander=0, waves=2, overlap=0):
    """Length of the band as a curve in space on an elliptical cylinder, by plain integration."""
    with mpmath.workdps(20):
        a, b = mpmath.mpf(long) / 2, mpmath.mpf(short) / 2
        slope = mpmath.tan(mpmath.radians(tilt))
        c, s = mpmath.cos(mpmath.radians(towards)), mpmath.sin(mpmath.radians(towards))
        # the arc from the first axis: ds = b·√(1 − (1 − a²/b²)·sin² t) dt
        m = 1 - (a / b) ** 2
        whole = 4 * b * mpmath.ellipe(m)
        turn = 2 * mpmath.pi * waves / whole

        def speed(t):
            dx, dy = -a * mpmath.sin(t), b * mpmath.cos(t)
            along = mpmath.hypot(dx, dy)
            rise = slope * (dx * c + dy * s) + along * overlap / whole
            if wander:
                arc = b * mpmath.ellipe(t, m)
                rise += along * turn * wander / 2 * mpmath.cos(turn * arc)
            return mpmath.hypot(along, rise)

        pieces = mpmath.linspace(0, 2 * mpmath.pi, 4 * waves + 1)
        return float(mpmath.quad(speed, pieces, method="gauss-legendre", maxdegree=5))


@pytest.mark.parametrize(
    "more",
    [
        {"wander": 5, "waves": 2},
        {"wander": 12, "waves": 4},
        {"wander": 3, "waves": 1, "tilt": 12, "towards": 35},
        {"overlap": 7},
        {"tilt": 20, "towards": 80, "wander": 4, "waves": 3, "overlap": -5},
    ],
    ids=str,
)
@pytest.mark.parametrize(("long", "short"), [(40, 40), (60, 48), (20, 50)])
def test_band_as_a_curve_in_space(long, short, more):
    """Tilt, wander and overlap together are one curve; its length to the last digits."""
    exact = length_in_space_cm(long, short, **more)
    lay = Lay(
        tilt_deg=more.get("tilt", 0),
        tilt_direction_deg=more.get("towards", 0),
        wander_cm=more.get("wander", 0),
        wander_waves=more.get("waves", 2),
        overlap_offset_cm=more.get("overlap", 0),
    )
    assert Tape().read(Ellipse(long, short), lay).reading_cm == pytest.approx(exact, rel=1e-12)


@pytest.mark.parametrize(("tilt", "towards"), [(5, 0), (15, 50), (40, 90)])
def test_plane_cut_beside_another_fault(tilt, towards):
    """Where the way is summed and not the ellipse's own formula, it is the same plane cut."""
    exact = length_in_space_cm(60, 48, tilt=tilt, towards=towards)
    shares = Lay(tilt_deg=tilt, tilt_direction_deg=towards, overlap_offset_cm=1.0).shares_cm(
        Ellipse(60, 48)
    )
    assert Ellipse(60, 48).taut_girth_cm + shares["tilt"] == pytest.approx(exact, rel=1e-12)


def belt(stem_radius, rod_radius):
    """Belt round two touching circles: two tangents and two arcs (closed form), thirty digits."""
    with mpmath.workdps(30):
        big, small = mpmath.mpf(stem_radius), mpmath.mpf(rod_radius)
        lean = mpmath.asin((big - small) / (big + small))
        straight = 2 * mpmath.sqrt((big + small) ** 2 - (big - small) ** 2)
        return straight + big * (mpmath.pi + 2 * lean) + small * (mpmath.pi - 2 * lean)


# Girth over stem and climber, and what it adds to diameter (cm) and area (%), from the closed form.
@pytest.mark.parametrize(
    ("stem", "rod", "length", "wider", "over"),
    [
        (20, 1, 126.83316, 0.372, 1.870),
        (20, 0.5, 126.08119, 0.133, 0.666),
        (15, 2, 97.95118, 1.179, 8.013),
    ],
)
@pytest.mark.parametrize("direction", [0, 70, 200])
def test_climber_as_a_belt_round_two_circles(stem, rod, length, wider, over, direction):
    """The table's girths, and to twelve digits the closed form; in every direction."""
    exact = float(belt(stem, rod))
    assert exact == pytest.approx(length, abs=5e-6)
    assert belt_cm(2 * stem, 2 * rod) == pytest.approx(exact, rel=1e-14)
    lay = Lay(climber_cm=2 * rod, climber_direction_deg=direction)
    reading = Tape().read(circle(2 * stem), lay)
    assert reading.reading_cm == pytest.approx(exact, rel=1e-12)
    assert reading.reading_cm / np.pi - 2 * stem == pytest.approx(wider, abs=5e-4)
    area = (reading.reading_cm / reading.taut_girth_cm) ** 2 - 1
    assert 100 * area == pytest.approx(over, abs=5e-4)
    assert float(band_path(circle(2 * stem), 2 * rod, direction).length_cm) == pytest.approx(
        exact, rel=1e-12
    )


# √(G² + h²) on a girth of 100 cm (helix unrolled, theorem): what it adds in per cent.
@pytest.mark.parametrize(("miss", "over"), [(1, 0.0050), (2, 0.0200), (5, 0.1249), (10, 0.4988)])
def test_ends_that_miss_each_other(miss, over):
    """A helix on a circle and on an oval alike: only girth and offset count, up or down."""
    for stem in (circle(100 / np.pi), Ellipse(60, 48).scaled(100 / Ellipse(60, 48).taut_girth_cm)):
        for sign in (1, -1):
            reading = Tape().read(stem, Lay(overlap_offset_cm=sign * miss))
            assert reading.breakdown["overlap"] == pytest.approx(over, abs=5e-5)
            assert reading.reading_cm == pytest.approx(np.hypot(100, miss), rel=1e-12)


@pytest.mark.parametrize(("radius", "lift"), [(20, 0.5), (20, 1), (8, 2), (60, 0.05)])
def test_a_point_that_stands_off(radius, lift):
    """Two tangents less the arc they skip, in thirty digits (closed form)."""
    with mpmath.workdps(30):
        r, e = mpmath.mpf(radius), mpmath.mpf(lift)
        exact = 2 * mpmath.sqrt(2 * r * e + e**2) - 2 * r * mpmath.acos(r / (r + e))
    assert lift_adds_cm(2 * np.pi * radius, lift) == pytest.approx(float(exact), rel=1e-12)
    # for a low knot about (4/3)·e·√(2e/R), by series
    assert lift_adds_cm(2 * np.pi * radius, 1e-4) == pytest.approx(
        4 / 3 * 1e-4 * np.sqrt(2e-4 / radius), rel=1e-4
    )
