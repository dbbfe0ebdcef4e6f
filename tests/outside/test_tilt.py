"""A tilted tape on a cylinder: the table of closed-form factors, and two shortcuts put in place."""

import mpmath
import numpy as np
import pytest

from mensura.estimates import area_from_girth_cm2, over_percent
from mensura.instruments import Lay, Tape
from mensura.stems import Ellipse, Outline, circle

# Girth factor 2E(sin²θ)/(π·cos θ) of a plane cut through a circular cylinder (closed form),
# evaluated to thirty digits and rounded: tilt, girth and area too large in per cent.
TABLE = [
    (2, 0.0305, 0.0610),
    (5, 0.1911, 0.3825),
    (10, 0.7728, 1.5516),
    (15, 1.7715, 3.5743),
    (20, 3.2338, 6.5722),
]


@pytest.mark.parametrize(("tilt", "girth", "area"), TABLE)
def test_table_of_tilts(tilt, girth, area):
    """Girth and area on a circle, in any direction of the rise."""
    with mpmath.workdps(30):
        angle = mpmath.radians(tilt)
        exact = 100 * (
            2 * mpmath.ellipe(mpmath.sin(angle) ** 2) / (mpmath.pi * mpmath.cos(angle)) - 1
        )
    assert float(exact) == pytest.approx(girth, abs=5e-5)
    for direction in (0, 45, 200):
        reading = Tape().read(circle(40), Lay(tilt, direction))
        over = 100 * reading.tilt_adds_cm / reading.taut_girth_cm
        assert over == pytest.approx(float(exact), rel=1e-10)
        concluded = area_from_girth_cm2(reading.reading_cm)
        assert over_percent(concluded, circle(40).area_cm2) == pytest.approx(area, abs=5e-5)


@pytest.mark.parametrize("tilt", [2, 5, 10])
def test_quarter_of_the_tangent_squared(tilt):
    """1 + tan²θ/4 is near (series, theorem); the shortcut 1/cos θ is about twice too large."""
    reading = Tape().read(circle(40), Lay(tilt))
    added = reading.tilt_adds_cm / reading.taut_girth_cm
    assert added == pytest.approx(np.tan(np.radians(tilt)) ** 2 / 4, rel=0.01)
    assert (1 / np.cos(np.radians(tilt)) - 1) / added == pytest.approx(2, abs=0.02)


def test_square_rising_along_an_edge():
    """A tilt of 60° doubles two of a square's four sides: 160 cm become 240 cm (by hand)."""
    square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    assert square.oblique_girth_cm(60, 0) == pytest.approx(240, rel=1e-13)
    diagonal = 4 * np.hypot(40, 20 * np.sqrt(6))  # each side rises by 40·cos 45°·tan 60°
    assert square.oblique_girth_cm(60, 45) == pytest.approx(diagonal, rel=1e-13)


@pytest.mark.parametrize(("tilt", "direction"), [(3, 0), (10, 90), (25, 40), (60, 115)])
def test_oval_loop_as_a_curve_in_space(tilt, direction):
    """The loop on an oval stem by plain integration in space, thirty digits."""
    with mpmath.workdps(30):
        slope = mpmath.tan(mpmath.radians(tilt))
        c, s = mpmath.cos(mpmath.radians(direction)), mpmath.sin(mpmath.radians(direction))

        def speed(t):
            dx, dy = -30 * mpmath.sin(t), 24 * mpmath.cos(t)
            return mpmath.sqrt(dx**2 + dy**2 + (slope * (dx * c + dy * s)) ** 2)

        exact = mpmath.quad(speed, mpmath.linspace(0, 2 * mpmath.pi, 17))
    assert Ellipse(60, 48).oblique_girth_cm(tilt, direction) == pytest.approx(
        float(exact), rel=1e-13
    )
