"""Readings along a log that look like a slip are found, and those of true logs are not."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.disk.log_file import read_logs
from mensura.estimates.log_points import LogPoints
from mensura.estimates.odd_logs import odd_points
from mensura.places import data_file


def found(at, readings, girth=True, bark=None):
    """Place and kind of each."""
    odd = odd_points(LogPoints("A", tuple(at), tuple(readings), girth, bark))
    return [(one.place, one.kind) for one in odd]


@pytest.mark.parametrize(
    ("readings", "told"),
    [
        ((145, 133, 124), []),
        ((145, 1393, 124), [(1, "large")]),
        ((1450, 133, 124), [(0, "large")]),
        ((145, 133, 1240), [(2, "large")]),
        ((145, 13.3, 124), [(1, "small")]),
        ((145, 133, 12.4), [(2, "small")]),
        ((1450, 1330, 1240), [(0, "thick")]),
        ((1.45, 1.33, 1.24), [(0, "thin")]),
        ((450, 330, 240), [(0, "steep")]),
        ((100, 140, 180), [(2, "grows")]),
        ((1240, 1330, 1450), [(2, "grows"), (2, "thick")]),
        ((145, 110, 124), [(2, "rises")]),
        ((145, 133, 140), []),  # a swelling
        ((45, 23, 0), []),  # a tip
        ((145, 133, 0), [(0, "steep")]),  # no stem ends so bluntly
        ((1450, 133, 1240), [(1, "small")]),
    ],
)
def test_girths_at_three_points(readings, told):
    """0, 2.5 and 5 m."""
    assert found((0, 2.5, 5), readings) == told


def test_two_points_alone():
    """One in mm is told, whichever it is; a stem to near its tip is none."""
    assert found((0, 5), (145, 1393)) == [(1, "large")]
    assert found((0, 5), (1393, 145)) == [(0, "large")]
    assert found((0, 18), (103.6, 5)) == []


def test_bark_in_millimetres():
    """19 mm on 46 cm would be four fifths of it; 2 cm are not told."""
    assert found((0, 3), (46, 44), False, (19, 2)) == [(0, "bark")]
    assert found((0, 3), (46, 44), False, (2, 2)) == []


def test_how_many_times():
    """1,393 over the mean of 145 and 124."""
    (one,) = odd_points(LogPoints("A", (0, 2.5, 5), (145, 1393, 124), True))
    assert one.times == pytest.approx(2 * 1393 / (145 + 124))


def test_no_invented_log_is_odd():
    """Butt flare, a whole stem to its tip, logs of two sections: none is told."""
    assert [odd_points(one) for one in read_logs(data_file("quillmere-logs.csv")).logs] == [[]] * 8


def test_drawn_logs_are_silent_and_their_slips_are_not():
    """300 drawn logs, read to 1 %: none is told; with one reading in mm each is, at its place."""
    draws = np.random.default_rng(11)
    for _ in range(300):
        at = np.linspace(0, draws.uniform(2, 6), int(draws.integers(2, 7)))
        true = draws.uniform(20, 70) - draws.uniform(0.5, 1.8) * at
        read = np.pi * true * (1 + 0.01 * draws.standard_normal(at.size))
        assert found(at, read) == []
        slip = int(draws.integers(at.size))
        read[slip] *= 10
        assert found(at, read) == [(slip, "large")]
        assert found(at, read[::-1])[0] == (at.size - 1 - slip, "large")
