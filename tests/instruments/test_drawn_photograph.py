"""Made-up photographs: what spoils one is seen in the figures, and what puts it right is enough."""

import numpy as np
import pytest

from mensura.instruments.drawn_photograph import (
    CAMERA_CM,
    NEARER_CM,
    filled_shares,
    spoilt_photographs,
)

PICTURES = spoilt_photographs()
NAMES = [one.name for one in PICTURES]


def errors(found, true):
    """Errors of area and taut girth in per cent, of the tape's excess in points."""
    outline = found.outline
    girth = outline.taut_girth_cm / true.taut_girth_cm
    area = outline.area_cm2 / true.area_cm2
    excess = true.taut_girth_cm**2 / (4 * np.pi) / true.area_cm2
    return 100 * (area - 1), 100 * (girth - 1), 100 * excess * (girth**2 / area - 1)


def test_the_drawing_fills_what_the_polygon_encloses() -> None:
    """All shares together are the shoelace area, whichever way round and however it lies."""
    star = 20 + np.array([[0, -15.3], [4, -3], [17.1, 2], [5, 6], [2, 14.7], [-4, 4], [-16, 1.5]])
    x, y = star.T
    area = abs((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()) / 2
    shares = filled_shares(star, (40, 40))
    assert shares.sum() == pytest.approx(area, rel=2e-3)
    assert filled_shares(star[::-1], (40, 40)) == pytest.approx(shares)
    assert shares.min() >= 0
    assert shares.max() <= 1 + 1e-9


def test_a_good_photograph_is_true() -> None:
    """Nothing spoilt, nothing wrong: a tenth of a per cent."""
    assert errors(PICTURES[0].found(), PICTURES[0].true) == pytest.approx((0, 0, 0), abs=0.1)


@pytest.mark.parametrize("one", PICTURES[1:], ids=NAMES[1:])
def test_what_spoils_a_photograph_is_seen_in_its_figures(one) -> None:
    """Area off by more than 3 %; put right, where that can be, by less than 0.1."""
    assert abs(errors(one.found(), one.true)[0]) > 3
    again = one.put_right()
    if again is not None:
        assert errors(again, one.true) == pytest.approx((0, 0, 0), abs=0.15)


def test_a_near_scale_errs_as_similar_triangles_say() -> None:
    """Lengths by one minus nearer over camera, areas by its square; the shape stays."""
    one = PICTURES[1]
    less = 1 - NEARER_CM / CAMERA_CM
    area, girth, over = errors(one.found(), one.true)
    assert girth == pytest.approx(100 * (less - 1), abs=0.05)
    assert area == pytest.approx(100 * (less**2 - 1), abs=0.1)
    assert over == pytest.approx(0, abs=0.1)


def test_a_groove_spares_the_tape_and_costs_the_area() -> None:
    """A taut tape spans it: the girth is right, and the excess is as large as the lost area."""
    one = PICTURES[NAMES.index("a saw mark")]
    area, girth, over = errors(one.found(), one.true)
    assert girth == pytest.approx(0, abs=0.05)
    assert over == pytest.approx(-area, abs=0.4)
