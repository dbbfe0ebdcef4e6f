"""Ripples of a hull: their heights, against the support function itself and what they cost."""

import numpy as np
import pytest

from mensura.stems import Outline, outline_terms, reuleaux

SHAPES = [reuleaux(40), Outline([[0, 0], [4, 0], [4, 3], [0, 3]])]


@pytest.mark.parametrize("shape", SHAPES)
def test_heights_by_quadrature(shape):
    """The amplitude of each wave of the support function, by a sum over a turn."""
    turns = np.arange(0, 360, 0.05)
    support = np.asarray(shape.support_cm(turns))
    heights = outline_terms(shape, 6).height_cm
    for n in range(1, 7):
        wave = np.exp(1j * n * np.radians(turns))
        assert heights[n - 1] == pytest.approx(2 * abs((support * wave).mean()), abs=1e-4)


@pytest.mark.parametrize("shape", SHAPES)
def test_heights_say_what_is_lost(shape):
    """(π/2)(n² − 1) times the height squared."""
    terms = outline_terms(shape, 12)
    n = np.arange(1, 13)
    assert terms.lost_cm2 == pytest.approx(np.pi / 2 * (n**2 - 1) * terms.height_cm**2)
