"""A record told by differences is the record that was packed, whatever its numbers."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from mensura.views.kit.record import (
    CODED,
    IMAGE,
    MARKS,
    OPEN,
    PATH,
    Drawn,
    Outline,
    packed,
    plainly,
    slim,
    unpacked,
)

POINTS = arrays("<i2", st.tuples(st.integers(1, 30), st.just(2)))


@given(POINTS, POINTS, st.binary(max_size=20))
def test_told_by_differences_it_is_the_same(line, marks, image):
    """Any numbers of 16 bits come back, and what follows them stays where it is."""
    codes = np.array([1] + [2] * (len(line) - 1), np.uint8)
    one = Drawn(images=[image])
    one.add([PATH, 0, len(line), CODED], Outline(line, CODED, codes))
    one.add([MARKS, 0, 0, len(marks)], Outline(marks, OPEN))
    one.add([IMAGE, 0, 0, 16, 16])
    mark = Outline(np.array([[-128, 127], [128, -127]], "<i2"), OPEN)
    data = packed((10, 10), {0: {"s": "truth"}}, {0: mark}, {3: one})
    assert plainly(unpacked(slim(data))) == plainly(unpacked(data))


def test_near_places_take_half():
    """A line of small steps takes one byte for each number, not two."""
    one = Drawn()
    line = np.column_stack([np.arange(600) * 20, np.arange(600) * -7]).astype("<i2")
    one.add([PATH, 0, 600, OPEN], Outline(line, OPEN))
    data = packed((10, 10), {0: {"s": "truth"}}, {}, {0: one})
    assert len(data) - len(slim(data)) > 1150
