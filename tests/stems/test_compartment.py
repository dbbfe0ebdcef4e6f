"""The invented stems of compartment 7: eighteen, numbered, plausible, and said to be invented."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.stems import COMPARTMENT_7, StandingStem, standing_sections
from mensura.stems.compartment import INVENTED


def test_eighteen_numbered_stems_of_three_kinds() -> None:
    """Numbers from 1, broad names, longest first, out of round by what a class meets."""
    assert [one.number for one in COMPARTMENT_7] == list(range(1, 19))
    assert {one.species for one in COMPARTMENT_7} == {"oak", "pine", "birch"}
    for one in COMPARTMENT_7:
        assert 15 < one.shortest_cm <= one.longest_cm < 80
        assert 0 < one.out_of_round_percent < 25
    assert "invented" in INVENTED


def test_sections_are_ellipses_of_their_diameters() -> None:
    """Area π/4·d₁d₂ each, in their order."""
    areas = [np.pi / 4 * one.longest_cm * one.shortest_cm for one in COMPARTMENT_7]
    assert standing_sections().area_cm2 == pytest.approx(areas, rel=1e-12)


def test_a_stem_that_cannot_be_is_refused() -> None:
    """Under its field's name."""
    with pytest.raises(MeasureError, match="shortest_cm is 0 cm"):
        StandingStem(1, "oak", 30.0, 0.0)
