"""A photograph's outline against a contour of another library, a plane against a theorem."""

import sys
from itertools import pairwise
from pathlib import Path

import contourpy
import numpy as np
import pytest

from mensura.instruments.cut_end_photo import outline_of_photograph
from mensura.instruments.photo_edge import parting_level
from mensura.instruments.photo_plane import plane_by_marks
from mensura.stems import Outline

sys.path.append(str(Path(__file__).parents[1]))
from drawn_cut_ends import drawn_cut_end


@pytest.mark.parametrize("kind", ["ellipse", "lobed", "hollow on one side"])
def test_the_edge_is_the_middle_level_line(kind) -> None:
    """Without noise it is the level line that contourpy draws: area, girth to a twentieth %."""
    drawn = drawn_cut_end(kind, 11, blur_px=1.0)
    found = outline_of_photograph(drawn.picture, scale_cm=100, scale_px=[0, 0, 100, 0])
    made = contourpy.contour_generator(z=drawn.picture).lines((165.0 + 60.0) / 2)
    line = Outline(max(made, key=len)[:-1])
    assert found.outline.area_cm2 == pytest.approx(line.area_cm2, rel=5e-4)
    assert found.outline.taut_girth_cm == pytest.approx(line.taut_girth_cm, rel=5e-4)


def test_a_photograph_keeps_the_cross_ratio() -> None:
    """Of four places in a line, whichever way the camera looked (theorem, Pappus)."""
    plane = plane_by_marks([[12, 20], [180, 31], [160, 150], [30, 120]], [50, 40])
    places = np.array([40.0, 35.0]) + np.array([0.0, 10.0, 27.0, 60.0])[:, None] * [0.8, 0.6]

    def cross_ratio(points):
        a, b, c, d = (np.hypot(*(one - points[0])) for one in points)
        return (c - a) * (d - b) / ((c - b) * (d - a))

    seen = plane.to_cm(places)
    assert cross_ratio(seen) == pytest.approx(cross_ratio(places))
    # and the middle of the rectangle lies where its diagonals cross
    first, second = np.array([[12, 20], [160, 150]]), np.array([[180, 31], [30, 120]])
    slopes = np.stack([first[1] - first[0], second[0] - second[1]], axis=-1)
    along = np.linalg.solve(slopes, second[0] - first[0])[0]
    crossing = first[0] + along * (first[1] - first[0])
    assert plane.to_cm(crossing) == pytest.approx([25.0, -20.0])


def test_the_parting_level_is_best_of_all() -> None:
    """[Otsu1979]: no other level leaves less variance within both kinds; tried one by one."""
    rng = np.random.default_rng(4)
    levels = np.concatenate([rng.normal(70, 15, 900), rng.normal(170, 25, 500)])
    levels = np.clip(np.round(levels), 0, 255)

    def within(level):
        return sum(
            part.size * part.var() for part in (levels[levels < level], levels[levels > level])
        )

    tried = np.arange(60.5, 180)
    best = min(within(one) for one in tried)
    assert within(parting_level(levels)) == pytest.approx(best)
    assert any(within(a) > within(b) for a, b in pairwise(tried))
