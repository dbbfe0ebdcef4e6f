"""What is hidden behind a stem's own edge, by tangents and by trying every edge."""

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.stems import Ellipse, Outline, out_of_view, with_bump


@pytest.mark.parametrize(("radius", "far"), [(20, 46), (20, 21), (5, 400)])
@pytest.mark.parametrize("at", [0, 90, 270])
def test_a_circle_hides_what_lies_beyond_its_tangents(radius, far, at):
    """From a distance D a circle is seen for arccos(R/D) to each side, and no further."""
    turn = np.radians(np.arange(0, 360, 0.5))
    edge = radius * np.column_stack([np.cos(turn), np.sin(turn)])
    eye = far * np.cos(np.radians(at)), far * np.sin(np.radians(at))
    hidden = out_of_view(edge, eye)
    off = np.abs((np.degrees(turn) - at + 180) % 360 - 180)
    limit = np.degrees(np.arccos(radius / far))
    assert not hidden[off < limit - 1].any()
    assert hidden[off > limit + 1].all()


def hidden_by_trying(edge, eye):
    """Each line of sight against each edge, by the signs of four triangles."""

    def side(p, q, r):
        return np.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))

    found = []
    for k, point in enumerate(edge):
        crossed = False
        for j in range(len(edge)):
            start, end = edge[j], edge[(j + 1) % len(edge)]
            if k in (j, (j + 1) % len(edge)):
                continue
            crossed |= bool(
                side(eye, point, start) * side(eye, point, end) < 0
                and side(start, end, eye) * side(start, end, point) < 0
            )
        found.append(crossed)
    return found


@pytest.mark.parametrize("eye", [(0.3, -46.0), (-31.0, 7.0), (19.0, 22.0)])
@pytest.mark.parametrize(
    "edge",
    [
        with_bump(Ellipse(40, 36), 2.2, 13, 5, points=90).outline_cm(),
        Outline([[0, 0], [15, 0], [15, 5], [5, 5], [5, 15], [0, 15]]).outline_cm(),
    ],
    ids=["bump", "elbow"],
)
def test_every_line_of_sight_is_tried(edge, eye):
    """A bump and an elbow: hidden is what an edge stands before, even where the edge is hollow."""
    assert out_of_view(edge, eye).tolist() == pytest.approx(hidden_by_trying(edge, eye))


def test_nobody_stands_inside():
    """A place in the wood, and one that is no place, are refused."""
    square = np.array([[1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0]])
    with pytest.raises(MeasureError, match=r"^eye_cm is .*outside the edge"):
        out_of_view(square, (0.0, 0.5))
    with pytest.raises(MeasureError, match=r"^eye_cm"):
        out_of_view(square, (0.0, np.nan))
