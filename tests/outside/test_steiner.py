"""Bark of even thickness on any convex wood: Steiner's formula [Steiner1840], from memory."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.estimates import diameter_from_girth_cm
from mensura.stems import Ellipse, Outline, circle


def rounded_rectangle(long, short, t, points=400):
    """A rectangle with bark of thickness t round it, made of four straights and four quarters."""
    quarter = np.linspace(0, np.pi / 2, points)
    corners = [(long, short), (0, short), (0, 0), (long, 0)]
    return Outline(
        np.concatenate(
            [
                np.column_stack([x + t * np.cos(quarter + turn), y + t * np.sin(quarter + turn)])
                for (x, y), turn in zip(corners, np.arange(4) * np.pi / 2, strict=True)
            ]
        )
    )


def test_rectangle_with_bark():
    """3 × 4 with t = 0.5: girth P + 2πt = 17.1415927, area A + Pt + πt² = 19.7853982 (formula)."""
    stem = rounded_rectangle(4, 3, 0.5)
    assert stem.taut_girth_cm == pytest.approx(17.1415927, abs=1e-5)
    assert stem.area_cm2 == pytest.approx(19.7853982, abs=1e-5)
    assert stem.under_bark_area_cm2(0.5) == pytest.approx(12, abs=1e-3)  # GEOS thins the arcs


@given(st.floats(5, 100), st.floats(0.3, 1), st.floats(0.1, 5))
def test_ellipse_of_wood_with_bark(long, ratio, t):
    """Wood with bark laid on by its normals: girth, area and back again to the wood."""
    wood = Ellipse(long, long * ratio)
    points, inward = wood.edge_cm(np.linspace(0, 2 * np.pi, 4000, endpoint=False))
    stem = Outline(points - t * inward)
    girth, area = wood.taut_girth_cm, wood.area_cm2
    assert stem.taut_girth_cm == pytest.approx(girth + 2 * np.pi * t, rel=1e-5)
    assert stem.area_cm2 == pytest.approx(area + girth * t + np.pi * t**2, rel=1e-5)
    # the shrinking library thins finely rounded edges: good to 3e-5 of the whole stem
    assert stem.under_bark_area_cm2(t) == pytest.approx(area, abs=3e-5 * stem.area_cm2)


@pytest.mark.parametrize("wood", [circle(40), Ellipse(60, 48), Ellipse(50, 20)])
@pytest.mark.parametrize("t", [0.5, 2])
def test_two_bark_thicknesses_whatever_the_shape(wood, t):
    """Tape diameter over bark less under bark is 2t: the rule of the trade, by Steiner."""
    points, inward = wood.edge_cm(np.linspace(0, 2 * np.pi, 8000, endpoint=False))
    over = diameter_from_girth_cm(Outline(points - t * inward).taut_girth_cm)
    assert over - diameter_from_girth_cm(wood.taut_girth_cm) == pytest.approx(2 * t, abs=1e-4)


@pytest.mark.parametrize(("share", "lost"), [(0.10, 19.0), (0.15, 27.75)])
def test_bark_by_share_of_the_diameter(share, lost):
    """Bark of 10 % of the diameter is 19 % of the area, 15 % is 27.75 % (by hand, 1 − (1 − q)²)."""
    stem = circle(40)
    wood = stem.under_bark_area_cm2(share * 40 / 2)
    assert 100 * (1 - wood / stem.area_cm2) == pytest.approx(lost, rel=1e-12)
