"""The cut-end panel: its numbers are those of `compare`; calipers touch and never cut."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates import compare
from mensura.teaching.controls import starting
from mensura.teaching.panels.cut_end import (
    ALIKE,
    CHOICES,
    CONTROLS,
    DISCS,
    LUCKY,
    PRACTICE_NAMES,
    UNLUCKY,
    disc_named,
    jaws_cm,
    numbers,
)

START = starting(CONTROLS, CHOICES)


@pytest.mark.parametrize("disc", DISCS)
@pytest.mark.parametrize("turn", [0, 47, 180])
def test_every_practice_is_that_of_compare(disc: str, turn: int) -> None:
    """Errors and readings, by the whole instrument on the same outline."""
    beside = compare(disc_named(disc).cut.outline, caliper_direction_deg=turn)
    for one in beside.calipers:
        chosen = next(words for words, name in PRACTICE_NAMES.items() if name == one.practice)
        shown = numbers(disc, chosen, turn)
        assert shown.now_percent == pytest.approx(one.over_percent, abs=1e-9)
        np.testing.assert_allclose(shown.readings_cm, one.readings_cm, rtol=1e-12)
        lead = abs(one.over_percent) - abs(beside.tape_over_percent)
        assert shown.nearer == ("" if abs(lead) < 0.005 else "tape" if lead > 0 else "calipers")


@pytest.mark.parametrize("disc", DISCS)
@pytest.mark.parametrize("turn", range(0, 180, 20))
def test_calipers_touch_and_never_cut(disc: str, turn: int) -> None:
    """Both jaws half a centimetre off the hull, as far apart as the width and a centimetre; none
    of their points lies inside it."""
    import shapely

    chosen = disc_named(disc)
    hull = shapely.polygons(chosen.cut.outline.hull_cm)
    whole = jaws_cm(chosen.cut.outline.hull_cm, turn)
    pieces = jaws_cm(chosen.cut.outline.hull_cm, turn, 4.0)
    for jaws, ends in ((whole, whole[[3, 6]]), (pieces, pieces[[0, 3]])):
        lines = [shapely.linestrings(part) for part in _parted(jaws)]
        assert not any(shapely.intersects(hull, line) for line in lines)
        apart = abs((ends[1] - ends[0]) @ [np.cos(np.radians(turn)), np.sin(np.radians(turn))])
        assert apart == pytest.approx(float(chosen.cut.outline.width_cm(turn)) + 1.0)
        near = sorted(float(shapely.distance(hull, line)) for line in lines)
        assert near[:2] == pytest.approx([0.5, 0.5])


def _parted(lines_cm: np.ndarray) -> list[np.ndarray]:
    """Lines parted by nan, one by one."""
    parts = np.split(lines_cm, np.flatnonzero(np.isnan(lines_cm[:, 0])))
    return [one[~np.isnan(one[:, 0])] for one in parts if len(one) > 1]


def test_presets_are_what_they_are_called() -> None:
    """No direction is better than the lucky one or worse than the other, for the same practice."""
    lucky, unlucky = (numbers(**START | one) for one in (LUCKY, UNLUCKY))
    rows = {one.practice: one for one in lucky.disc.cut.calipers}
    errors = np.abs(rows[lucky.practice].over_percent)
    assert abs(lucky.now_percent) == pytest.approx(errors.min(), abs=0.2)
    assert abs(unlucky.now_percent) == pytest.approx(errors.max(), abs=0.02)
    along = numbers(**START | ALIKE)
    assert along.direction_deg == round(along.disc.cut.ends.longest_deg)
    assert along.nearer == "calipers"


@pytest.mark.parametrize("disc", DISCS)
def test_rings_stay_in_the_wood(disc: str) -> None:
    """Drawn by us; none crosses the edge or another."""
    import shapely

    chosen = disc_named(disc)
    edge = shapely.polygons((chosen.cut.wood or chosen.cut.outline).outline_cm())
    rings = [shapely.polygons(one) for one in _parted(chosen.rings_cm)]
    for inner, outer in zip(rings, [*rings[1:], edge], strict=True):
        assert shapely.contains_properly(outer, inner)


def test_another_disc_is_refused() -> None:
    with pytest.raises(MeasureError, match="disc is 'disc 99'; expected one of"):
        disc_named("disc 99")
