"""Over bark and under bark: the rule of the trade, its bounds, and what the tape really touches."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    bark_area_percent,
    bark_factor,
    diameter_from_girth_cm,
    tape_on_bark_percent,
    touched_cm,
    touched_percent,
    under_bark_diameter_cm,
    under_bark_from_factor_cm,
)
from mensura.stems import Ellipse, Outline, RoughBark, circle

OVAL = Ellipse(44, 40)
SQUARE = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])


@given(st.floats(20, 100), st.floats(0.5, 1), st.floats(0.01, 0.8))
def test_the_wood_inside_an_oval(long, ratio, share):
    """The tape's diameter less 2t is the girth of the wood's own edge over π, whatever the oval."""
    stem = Ellipse(long, long * ratio)
    t = share * long * ratio**2 / 2
    points, inward = stem.edge_cm(np.linspace(0, 2 * np.pi, 4000, endpoint=False))
    wood = Outline(points + t * inward)
    under = under_bark_diameter_cm(diameter_from_girth_cm(stem.taut_girth_cm), t)
    assert under == pytest.approx(diameter_from_girth_cm(wood.taut_girth_cm), rel=1e-5)


@given(st.floats(1, 200), st.floats(0.001, 0.499))
def test_the_ring_of_bark(over, share):
    """Bark's share of the area is that of a ring: π·t·(d − t) over π/4·d²."""
    t = share * over
    under = under_bark_diameter_cm(over, t)
    ring = 100 * np.pi * t * (over - t) / (np.pi / 4 * over**2)
    assert bark_area_percent(over, under) == pytest.approx(ring, rel=1e-9)
    wood = circle(over).under_bark_area_cm2(t)
    assert bark_area_percent(over, under) == pytest.approx(
        100 * (1 - wood / circle(over).area_cm2), rel=1e-9
    )


@given(st.floats(1, 200), st.floats(0.3, 1))
def test_a_factor_brings_back_its_own_stem(over, share):
    """What the factor was taken from comes out of it again."""
    under = over * share
    factor = 100 * bark_factor(over, under)
    assert under_bark_from_factor_cm(over, factor) == pytest.approx(under, rel=1e-12)


def test_many_stems_at_once():
    """Arrays broadcast; the mean of factors is not the factor of means."""
    over, t = np.array([20.0, 30.0, 40.0]), np.array([[0.5], [1.0]])
    under = under_bark_diameter_cm(over, t)
    assert under.tolist() == [[19, 29, 39], [18, 28, 38]]
    factors = bark_factor(over, under[1])
    assert factors == pytest.approx([0.9, 28 / 30, 0.95])
    assert factors.mean() != pytest.approx(under[1].sum() / over.sum(), abs=1e-3)
    assert bark_area_percent(over, over).tolist() == [0, 0, 0]


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: under_bark_diameter_cm(40, 20), "bark_thickness_cm is 20 cm; expected less than"),
        (lambda: under_bark_diameter_cm(40, -0.1), "bark_thickness_cm is -0.1 cm; expected a fin"),
        (lambda: under_bark_diameter_cm(0, 1), "over_bark_cm is 0 cm; expected a finite number"),
        (lambda: under_bark_diameter_cm([40, 3], [1, 2]), "bark_thickness_cm is 2 cm"),
        (lambda: bark_factor(40, 41), "under_bark_cm is 41 cm; expected at most the diameter"),
        (lambda: bark_factor("40", 38), "over_bark_cm is '40'; expected a finite number"),
        (lambda: under_bark_from_factor_cm(40, 101), "factor_percent is 101 %"),
        (lambda: under_bark_from_factor_cm(40, 0), "factor_percent is 0 %"),
        (lambda: touched_cm(Ellipse([40, 50], 40)), "section is '(2,)'"),
        (lambda: touched_percent(Ellipse([40, 50], 40)), "section is '(2,)'"),
    ],
)
def test_what_cannot_be(call, said):
    """Each refusal names the field, its value and the bound."""
    with pytest.raises(MeasureError) as caught:
        call()
    assert str(caught.value).startswith(said)


def test_convex_sections_are_touched_all_round():
    """A smooth oval, a square, and an oval made of points: the tape lies on all of it."""
    for stem in (OVAL, SQUARE, Outline(OVAL.outline_cm(200))):
        assert touched_percent(stem) == pytest.approx(100, abs=1e-9)
        assert tape_on_bark_percent(stem) == pytest.approx(100, abs=1e-9)
        assert touched_cm(stem) == pytest.approx(stem.taut_girth_cm, rel=1e-12)


@pytest.mark.parametrize(("turn", "size", "away"), [(0, 1, 0), (33, 1, 300), (90, 0.01, 0)])
def test_a_notch_by_hand(turn, size, away):
    """A square of 40 with a notch 10 wide and 5 deep: 150 of 170 touched, 150 of 160 on bark."""
    notched = np.array([[0, 0], [40, 0], [40, 40], [25, 40], [25, 35], [15, 35], [15, 40], [0, 40]])
    angle = np.radians(turn)
    turned = notched @ [[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]
    stem = Outline(size * turned + away)
    assert touched_cm(stem) == pytest.approx(150 * size, rel=1e-9)
    assert touched_percent(stem) == pytest.approx(100 * 150 / 170, rel=1e-9)
    assert tape_on_bark_percent(stem) == pytest.approx(100 * 150 / 160, rel=1e-9)


@given(st.integers(20, 60), st.integers(0, 10**6))
def test_deeper_furrows_touch_no_more(ridges, seed):
    """Cut deeper, the bark's edge grows longer and the touched length does not grow."""
    stems = [RoughBark(OVAL, ridges, depth, seed) for depth in (0.05, 0.3, 1.0, 2.0)]
    lengths = [touched_cm(stem) for stem in stems]
    shares = [touched_percent(stem) for stem in stems]
    assert all(a >= b - 1e-9 for a, b in pairwise(lengths))
    assert all(a > b for a, b in pairwise(shares))
    for stem, share in zip(stems, shares, strict=True):
        assert 0 < share <= tape_on_bark_percent(stem) + 1e-9 <= 100 + 2e-9
