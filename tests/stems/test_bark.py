"""Rough bark: instruments ride the ridges, only the area knows of the furrows."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.stems import Ellipse, Outline, RoughBark, from_radii, reuleaux, widths_cm, with_bark
from mensura.stems.bark import furrow_pattern

OVAL = Ellipse(60, 48)
ridge_counts = st.integers(3, 200)
seeds = st.integers(0, 10**12)


@given(ridge_counts, seeds)
def test_pattern_of_furrows(ridges, seed):
    """Along the turn the pattern rises without a jump back, from ridge top to deepest floor."""
    turn, furrow = furrow_pattern(ridges, seed)
    assert len(turn) == len(furrow) >= max(720, 12 * ridges)
    assert (np.diff(turn) > 0).all()
    assert 0 <= turn[0] < turn[-1] < 1
    assert (furrow.min(), furrow.max()) == (0, 1)
    assert (furrow == 0).sum() >= 2 * ridges


@given(st.floats(10, 150), st.floats(0.5, 1), ridge_counts, st.floats(0.01, 0.99), seeds)
def test_rough_ellipse(long, ratio, ridges, share, seed):
    """One edge, inside the smooth one, never cut deeper than the furrow depth."""
    base = Ellipse(long, long * ratio)
    depth = share * long * ratio**2 / 2
    stem = RoughBark(base, ridges, depth, seed)
    assert shapely.is_valid(shapely.Polygon(stem.points_cm))
    fine = shapely.LinearRing(base.outline_cm(4000))
    shapely.prepare(fine)
    # the deepest point lies just so deep: all within a hair more, not all within a hair less
    points, hair = shapely.points(stem.points_cm), max(1e-3 * depth, 1e-5 * long)
    assert shapely.dwithin(fine, points, depth + hair).all()
    assert depth <= hair or not shapely.dwithin(fine, points, depth - hair).all()
    assert ((stem.points_cm / [long / 2, long * ratio / 2]) ** 2).sum(axis=1).max() < 1 + 1e-12
    # three broad, shallow furrows may leave the stem convex: then hull and area are one
    assert stem.area_cm2 <= stem.hull_area_cm2 * (1 + 1e-12)
    assert stem.hull_area_cm2 < base.area_cm2
    assert stem.taut_girth_cm <= base.taut_girth_cm


@given(st.floats(10, 150), st.floats(0.5, 1), st.integers(12, 200), seeds)
def test_instruments_ride_the_ridges(long, ratio, ridges, seed):
    """Girth and widths stay close to the smooth stem's, whatever the furrows' depth."""
    base = Ellipse(long, long * ratio)
    shallow, deep = (RoughBark(base, ridges, share * long, seed) for share in (0.01, 0.1))
    assert deep.taut_girth_cm == pytest.approx(shallow.taut_girth_cm, rel=0.002)
    assert deep.taut_girth_cm == pytest.approx(base.taut_girth_cm, rel=0.015)
    directions = np.arange(0, 180, 10)
    smooth, rough = widths_cm(base, directions), widths_cm(deep, directions)
    assert (rough <= smooth * (1 + 1e-12)).all()
    assert rough == pytest.approx(smooth, rel=0.05)
    assert deep.area_cm2 < shallow.area_cm2


def test_ridge_tops_lie_on_the_smooth_edge():
    """Every point that is not cut satisfies the ellipse's equation; so does none in a furrow."""
    stem = RoughBark(OVAL, 28, 1.0, 7)
    _, furrow = furrow_pattern(28, 7)
    inside = (stem.points_cm[:, 0] / 30) ** 2 + (stem.points_cm[:, 1] / 24) ** 2
    assert inside[furrow == 0] == pytest.approx(1, rel=1e-12)
    assert (inside[furrow > 0] < 1).all()


def test_same_seed_same_bark():
    """A seed is a bark for ever; another seed or number of ridges is another bark."""
    one = RoughBark(OVAL, 28, 1.0, 7)
    assert np.array_equal(one.points_cm, RoughBark(OVAL, 28, 1.0, 7).points_cm)
    assert one.area_cm2 != RoughBark(OVAL, 28, 1.0, 8).area_cm2
    assert one.area_cm2 != RoughBark(OVAL, 29, 1.0, 7).area_cm2


@given(seeds)
def test_deeper_furrows_leave_less(seed):
    """The area falls as the furrows deepen; without any it is the smooth stem itself."""
    areas = [RoughBark(OVAL, 20, depth, seed).area_cm2 for depth in (0, 0.5, 1, 2, 4)]
    assert areas == sorted(areas, reverse=True)
    assert with_bark(OVAL, 20, 0, seed) is OVAL
    assert with_bark(OVAL, 0, 1.0, seed) is OVAL
    assert isinstance(with_bark(OVAL, 20, 1.0, seed), RoughBark)


def test_bark_on_many_ellipses():
    """An array of stems wears the same pattern, and equals the single stems."""
    many = RoughBark(Ellipse(np.array([40.0, 50, 60]), 38), 24, 1.0, 3)
    singles = [RoughBark(Ellipse(d, 38), 24, 1.0, 3) for d in (40, 50, 60)]
    assert many.shape == (3,)
    for one in ("area_cm2", "taut_girth_cm", "hull_area_cm2"):
        assert getattr(many, one) == pytest.approx([getattr(s, one) for s in singles], rel=1e-13)
    assert many.width_cm(33) == pytest.approx([s.width_cm(33) for s in singles], rel=1e-13)


def test_under_bark_is_measured_from_the_ridge_tops():
    """The wood under rough bark is the wood under the smooth edge through the ridge tops."""
    stem = RoughBark(OVAL, 28, 1.0, 7)
    assert stem.under_bark_area_cm2(2.5) == OVAL.under_bark_area_cm2(2.5)
    with pytest.raises(MeasureError, match=r"^bark_thickness_cm is 0\.5 cm; .*at least 1 cm"):
        stem.under_bark_area_cm2(0.5)


@pytest.mark.parametrize(
    "base",
    [
        Outline(OVAL.outline_cm(90)),
        Outline([[0, 0], [40, 0], [40, 40], [0, 40]]),
        reuleaux(40),
        from_radii(np.arange(12) * 30, [20, 19, 21, 20, 15, 20, 21, 22, 20, 19, 20, 21]),
    ],
    ids=["oval", "square", "reuleaux", "hollow"],
)
@pytest.mark.parametrize("seed", range(5))
def test_bark_on_outlines(base, seed):
    """Furrows cut into any outline; the tape keeps to its hull and loses a little at most."""
    stem = RoughBark(base, 24, 0.8, seed)
    assert stem.area_cm2 < base.area_cm2
    assert stem.area_cm2 < stem.hull_area_cm2
    assert stem.hull_area_cm2 <= base.hull_area_cm2 * (1 + 1e-12)
    assert stem.taut_girth_cm <= base.taut_girth_cm * (1 + 1e-12)
    assert stem.taut_girth_cm == pytest.approx(base.taut_girth_cm, rel=0.03)
    assert len(stem.hull_cm) >= 3
    assert stem.oblique_girth_cm(10, 30) > stem.taut_girth_cm


def test_furrows_that_would_meet_are_refused():
    """Furrows deeper than a thin outline are no bark."""
    thin = Outline([[0, 0], [40, 0], [40, 4], [0, 4]])
    with pytest.raises(MeasureError, match=r"^furrow_depth_cm is 6 cm; .*would cross each other"):
        RoughBark(thin, 24, 6.0)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"ridges": 2}, "ridges is 2; expected a whole number from 3 to 2000."),
        ({"ridges": 2001}, "ridges is 2001; expected a whole number from 3 to 2000."),
        ({"ridges": 7.5}, "ridges is 7.5; expected a whole number from 3 to 2000."),
        ({"ridges": True}, "ridges is True; expected a whole number from 3 to 2000."),
        ({"seed": -1}, "seed is -1; expected a whole number from 0 to"),
        ({"seed": "oak"}, "seed is 'oak'; expected a whole number from 0 to"),
        ({"furrow_depth_cm": -0.1}, "furrow_depth_cm is -0.1 cm; expected a finite number at"),
        ({"furrow_depth_cm": np.nan}, "furrow_depth_cm is nan cm; expected a finite number at"),
        ({"furrow_depth_cm": 19.2}, "less than the radius of the stem's sharpest curve, 19.2 cm."),
        ({"base": Outline([reuleaux(9).points_cm] * 2)}, "expected a single outline, not an array"),
    ],
)
def test_bark_that_cannot_be(change, said):
    """Each refusal names the field, its value and the bound."""
    good = {"base": OVAL, "ridges": 28, "furrow_depth_cm": 1.0, "seed": 7}
    with pytest.raises(MeasureError) as caught:
        RoughBark(**good | change)
    assert said in str(caught.value)


@pytest.mark.parametrize("ridges", [-1, 1, 2, 2.5])
def test_with_bark_takes_no_ridges_or_three(ridges):
    """0 ridges mean a smooth stem; 1 and 2 mean nothing."""
    with pytest.raises(MeasureError, match=r"^ridges is"):
        with_bark(OVAL, ridges, 1.0)
