"""The oval with a fourth ripple: its closed forms against a fine polygon of the same stem."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.instruments import Lay, Tape
from mensura.stems import Ellipse, Outline, RippledOval, RoughBark, fourth_ripple_cm, outline_terms

across = st.floats(35, 70)
ripples = st.floats(-0.3, 0.3)


def polygon(stem: RippledOval, points: int = 1500) -> Outline:
    """Points of the edge as the envelope of its supporting lines, h n + h′ t."""
    turn = np.linspace(0, 2 * np.pi, points, endpoint=False)
    a, b, r = stem.oval.first_cm / 2, stem.oval.second_cm / 2, stem.ripple_cm
    h = np.sqrt((a * np.cos(turn)) ** 2 + (b * np.sin(turn)) ** 2)
    slope = (b * b - a * a) * np.sin(turn) * np.cos(turn) / h - 4 * r * np.sin(4 * turn)
    h = h + r * np.cos(4 * turn)
    x = h * np.cos(turn) - slope * np.sin(turn)
    y = h * np.sin(turn) + slope * np.cos(turn)
    return Outline(np.stack([x, y], axis=-1))


@given(across, across, ripples)
def test_closed_forms_by_a_polygon(first: float, second: float, ripple: float) -> None:
    """Area, hull, girth, widths, and a tilted band's length."""
    stem = RippledOval(Ellipse(first, second), ripple)
    fine = polygon(stem)
    assert stem.area_cm2 == pytest.approx(fine.area_cm2, rel=1e-5)
    # convex: the polygon is its own hull
    assert fine.hull_area_cm2 == pytest.approx(fine.area_cm2, rel=1e-12)
    assert stem.hull_area_cm2 == stem.area_cm2
    assert stem.taut_girth_cm == pytest.approx(fine.taut_girth_cm, rel=1e-5)
    for direction in (0.0, 22.5, 45.0, 71.0):
        assert stem.width_cm(direction) == pytest.approx(fine.width_cm(direction), rel=1e-5)
        assert stem.support_cm(direction) == pytest.approx(fine.support_cm(direction), rel=1e-5)
        assert stem.oblique_girth_cm(20.0, direction) == pytest.approx(
            fine.oblique_girth_cm(20.0, direction), rel=1e-5
        )


@given(across, across, ripples)
def test_edge_lies_on_the_polygon_s(first: float, second: float, ripple: float) -> None:
    """Each point of the drawn edge touches the supporting line of its own normal."""
    stem = RippledOval(Ellipse(first, second), ripple)
    points, inward = stem.edge_cm(np.linspace(0, 2 * np.pi, 90, endpoint=False))
    normal = np.degrees(np.arctan2(-inward[:, 1], -inward[:, 0]))
    assert (-points * inward).sum(axis=1) == pytest.approx(stem.support_cm(normal), abs=1e-9)
    assert np.hypot(*inward.T) == pytest.approx(np.ones(90))
    edge = stem.outline_cm()
    assert np.array_equal(stem.hull_cm, edge)
    assert Outline(edge).hull_cm.shape == edge.shape


@given(across, across)
def test_no_ripple_is_the_ellipse(first: float, second: float) -> None:
    """With r = 0 nothing differs from the ellipse."""
    oval = Ellipse(first, second)
    stem = RippledOval(oval, 0.0)
    assert (stem.area_cm2, stem.taut_girth_cm) == (oval.area_cm2, oval.taut_girth_cm)
    assert np.array_equal(stem.outline_cm(), oval.outline_cm())
    assert stem.width_cm(33.0) == oval.width_cm(33.0)
    assert stem.oblique_girth_cm(15.0, 40.0) == pytest.approx(oval.oblique_girth_cm(15.0, 40.0))
    assert stem.under_bark_area_cm2(2.0) == oval.under_bark_area_cm2(2.0)


@given(across, across, ripples)
def test_whole_ripple_by_the_outline_s_terms(first: float, second: float, ripple: float) -> None:
    """Own and added ripple together are the polygon's fourth Fourier coefficient."""
    stem = RippledOval(Ellipse(first, second), ripple)
    terms = outline_terms(polygon(stem), 4)
    assert stem.fourth_cm == pytest.approx(terms.cosine_cm[3], abs=5e-5)
    assert fourth_ripple_cm(stem.oval) <= 1e-12


@given(st.floats(20, 40), st.floats(20, 40))
def test_an_ellipse_s_own_ripple_in_leading_order(a: float, b: float) -> None:
    """About −(a − b)²/16c₀; the next term is smaller by the square of the ovality."""
    assume(abs(a - b) > 0.2)
    mean = Ellipse(2 * a, 2 * b).taut_girth_cm / (2 * np.pi)
    leading = -((a - b) ** 2) / (16 * mean)
    ovality = (a - b) / (a + b)
    assert fourth_ripple_cm(Ellipse(2 * a, 2 * b)) == pytest.approx(leading, rel=4 * ovality**2)


def test_bark_and_bands_take_it() -> None:
    """Ridge tops lie on it, a band lies round it, and it grows whole."""
    stem = RippledOval(Ellipse(60, 48), 0.17)
    rough = RoughBark(stem, 28, 1.0, 7)
    assert rough.hull_area_cm2 < stem.area_cm2
    assert rough.width_cm(0.0) == pytest.approx(60.34, abs=0.2)
    assert Tape().read(stem, Lay(wander_cm=2.0)).reading_cm > stem.taut_girth_cm
    assert stem.scaled(2.0).area_cm2 == pytest.approx(4 * stem.area_cm2)
    # Steiner's formula, backwards: an even bark of 2 cm on the wood gives the stem again
    wood = stem.under_bark_area_cm2(2.0)
    assert wood + (stem.taut_girth_cm - 4 * np.pi) * 2 + 4 * np.pi == pytest.approx(stem.area_cm2)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: RippledOval(Ellipse(60, 48), 1.3),
            r"^ripple_cm is 1.3 cm.*above .* and below 1.28",
        ),
        (lambda: RippledOval(Ellipse(60, 48), -2.0), r"^ripple_cm is -2 cm"),
        (lambda: RippledOval(Ellipse(60, 48), np.nan), r"^ripple_cm is nan"),
        (lambda: RippledOval(Ellipse([60, 50], 48), 0.1), r"^oval is .*a single stem"),
        (
            lambda: RippledOval(Ellipse(60, 48), 0.3).under_bark_area_cm2(14.8),
            r"^bark_thickness_cm is 14.8 cm.*sharpest curve, 14.7",
        ),
    ],
)
def test_what_cannot_be(call: object, words: str) -> None:
    """An edge that would turn inwards, an array of stems, bark thicker than the sharpest curve."""
    assert callable(call)
    with pytest.raises(MeasureError, match=words):
        call()
