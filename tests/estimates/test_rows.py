"""Rows for tables: each number found again by a route of its own."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.comparison import PRACTICES, compare
from mensura.estimates.rows import (
    by_calipers,
    even_bark,
    furrowed,
    laid,
    limits,
    ovality,
    practices,
    shares,
    turned,
)
from mensura.instruments import Calipers, Lay, Tape
from mensura.stems import Ellipse, Outline, belt_cm, circle, reuleaux


def test_practices_are_those_of_the_comparison() -> None:
    """The truth first, the tape, then every practice, with its own readings."""
    result = compare(Ellipse(60, 48), caliper_direction_deg=10)
    rows = practices(result)
    assert len(rows) == 2 + len(PRACTICES)
    assert rows[0]["area_cm2"] == pytest.approx(math.pi / 4 * 60 * 48)
    for row in rows:
        over = 100 * (row["area_cm2"] / rows[0]["area_cm2"] - 1)
        assert row["over_percent"] == pytest.approx(over, abs=1e-9)
    assert rows[1]["readings_cm"] == [result.reading_cm]
    assert [len(row["readings_cm"]) for row in rows[2:]] == [1, 2, 2, 2, 18]


@pytest.mark.parametrize("ratio", [0.5, 0.8, 0.98])
def test_ovality_against_a_stem_and_its_instruments(ratio: float) -> None:
    """Readings on a real oval of that ratio give the same errors."""
    (row,) = ovality([ratio])
    result = compare(Ellipse(60, 60 * ratio))
    by = {one.practice: one.over_percent for one in result.calipers}
    assert row["tape_over_percent"] == pytest.approx(result.tape_over_percent, abs=1e-9)
    assert row["arithmetic_over_percent"] == pytest.approx(by["two-arithmetic"], abs=1e-9)
    assert row["blackboard_over_percent"] == pytest.approx(by["two-quadratic"], abs=1e-9)
    assert row["tape_to_blackboard"] == pytest.approx(
        result.tape_over_percent / by["two-quadratic"], rel=1e-9
    )


def test_ovality_of_a_round_stem() -> None:
    """No error, and no share of nothing."""
    assert list(ovality([1.0])[0].values()) == [1.0, 0.0, pytest.approx(0, abs=1e-12), 0.0, None]


def test_turned_against_the_director_circle_and_constant_width() -> None:
    """Squares of a pair sum to those of the axes at any turn; a Reuleaux pair never changes."""
    for row in turned(Ellipse(60, 48), [0, 20, 45, 77.5]):
        first, second = row["readings_cm"]
        assert first**2 + second**2 == pytest.approx(60**2 + 48**2)
        assert row["product_over_percent"] == pytest.approx(
            100 * (first * second / (60 * 48) - 1), abs=1e-9
        )
        mean = ((first + second) / 2) ** 2 / (60 * 48)
        assert row["arithmetic_over_percent"] == pytest.approx(100 * (mean - 1), abs=1e-9)
    for row in turned(reuleaux(40), [0, 17, 41]):
        assert row["readings_cm"] == pytest.approx([40, 40], rel=1e-5)
        assert row["tape_over_percent"] == pytest.approx(11.44, abs=0.005)


def test_turned_starts_where_it_is_told_and_with_the_hand_it_is_given() -> None:
    """The same direction by another start; a zero error in both readings."""
    stem = Ellipse(60, 48)
    (there,), (here,) = turned(stem, [30]), turned(stem, [10], first_deg=20)
    assert here["readings_cm"] == pytest.approx(there["readings_cm"])
    assert here["turned_deg"] == 10
    (off,) = turned(stem, [30], calipers=Calipers(zero_error_cm=0.4))
    assert np.subtract(off["readings_cm"], there["readings_cm"]) == pytest.approx([0.4, 0.4])


def test_limits_lie_where_the_errors_meet() -> None:
    """At the arithmetic mean's limit its error is the tape's; so at the product's."""
    (row,) = limits(60, [48])
    assert row["stem"] == "60 by 48 cm"
    for mean in ("arithmetic", "product"):
        (there,) = turned(Ellipse(60, 48), [row[f"{mean}_deg"]])
        assert there[f"{mean}_over_percent"] == pytest.approx(there["tape_over_percent"], abs=1e-9)
    assert row["quadratic_deg"] == 0


def test_laid_names_what_differs_and_nothing_else() -> None:
    """Two settings that differ, one that does not; waves are counted."""
    lay = Lay(wander_cm=5.0, wander_waves=[1, 2], slack_cm=[0.0, 1.0])
    rows = laid(circle(40), lay)
    assert list(rows[0]) == [
        *("wander_waves", "slack_cm", "adds_cm", "adds_percent", "area_over_percent"),
    ]
    assert rows[1]["wander_waves"] == 2
    assert isinstance(rows[1]["wander_waves"], int)
    assert list(laid(circle(40), Lay(slack_cm=1.0))[0]) == [
        *("adds_cm", "adds_percent", "area_over_percent"),
    ]


def test_laid_against_closed_forms() -> None:
    """A belt round stem and climber; Pythagoras; slack is what hangs loose."""
    girth = 40 * math.pi
    for row in laid(circle(40), Lay(climber_cm=[0.5, 2.0, 4.0])):
        assert girth + row["adds_cm"] == pytest.approx(belt_cm(40, row["climber_cm"]), rel=1e-12)
    for row in laid(circle(40), Lay(overlap_offset_cm=[1.0, 10.0])):
        assert girth + row["adds_cm"] == pytest.approx(math.hypot(girth, row["overlap_offset_cm"]))
    (row,) = laid(circle(40), Lay(slack_cm=2.0))
    assert row["adds_percent"] == pytest.approx(200 / girth)
    assert row["area_over_percent"] == pytest.approx(100 * ((1 + 2 / girth) ** 2 - 1))


def test_shares_lead_from_the_girth_to_the_reading() -> None:
    """Each step is the one before and what it adds; a sum that does not fit is refused."""
    reading = Tape(stretch_percent=1, worn_start_cm=0.5).read(circle(40), Lay(tilt_deg=5))
    rows = shares(reading.taut_girth_cm, reading.breakdown, reading.reading_cm)
    assert [row["step"] for row in rows] == ["taut girth", "tilt", "stretch", "worn start"]
    for before, after in pairwise(rows):
        assert after["reading_cm"] - before["reading_cm"] == pytest.approx(after["adds_cm"])
    assert rows[-1]["reading_cm"] == pytest.approx(reading.reading_cm)
    assert reading.adds_cm == pytest.approx(sum(reading.breakdown.values()))
    assert reading.adds_percent == pytest.approx(100 * reading.adds_cm / reading.taut_girth_cm)
    with pytest.raises(MeasureError, match=r"^breakdown is 125\.\d+ cm; expected shares"):
        shares(reading.taut_girth_cm, reading.breakdown, 130.0)


def test_even_bark_keeps_the_rule_on_any_wood() -> None:
    """Over bark less twice the bark is the wood's own, round or not."""
    woods = [Outline([[0, 0], [4, 0], [4, 3], [0, 3]]), circle(41), Ellipse(50, 30)]
    for row, girth in zip(even_bark(woods, [0.5, 1.5, 3.0]), (14, 41 * math.pi, None), strict=True):
        assert row["less_twice_bark_cm"] == pytest.approx(row["on_the_wood_cm"], rel=1e-5)
        if girth:
            assert row["on_the_wood_cm"] == pytest.approx(girth / math.pi)


def test_furrows_cost_wood_and_no_girth() -> None:
    """Deeper furrows: less area, less bark touched, a reading that hardly moves."""
    rows = furrowed(Ellipse(46, 42), 24, [0, 0.5, 1, 2], seed=11)
    for name in ("area_cm2", "touched_percent"):
        values = [row[name] for row in rows]
        assert values == sorted(values, reverse=True)
        assert len(set(values)) == len(values)
    tape = [row["tape_cm"] for row in rows]
    assert max(tape) - min(tape) < 0.001 * max(tape)
    for row in rows:
        circle_cm2 = row["tape_cm"] ** 2 / (4 * math.pi)
        assert row["over_percent"] == pytest.approx(100 * (circle_cm2 / row["area_cm2"] - 1))


def test_calipers_on_round_stems_by_their_formulas() -> None:
    """A lean: r + r(1 − sin φ)/cos φ; a slope: w/cos β; a zero: itself, on every stem."""
    phi = math.radians(2.0)
    (row,) = by_calipers([Calipers(jaw_lean_deg=2.0)], 40.0)
    assert row["reading_cm"] == pytest.approx(20 + 20 * (1 - math.sin(phi)) / math.cos(phi))
    rows = by_calipers([Calipers(beam_slope_deg=slope) for slope in (5, 10)], [40.0])
    assert [row["reading_cm"] for row in rows] == pytest.approx(
        [40 / math.cos(math.radians(slope)) for slope in (5, 10)]
    )
    rows = by_calipers([Calipers(zero_error_cm=0.4)], [10.0, 60.0])
    assert [row["off_cm"] for row in rows] == pytest.approx([0.4, 0.4])
    assert rows[0]["area_over_percent"] == pytest.approx(100 * (1.04**2 - 1))


def test_stems_and_hands_must_go_together() -> None:
    """Two hands and three stems make no rows."""
    with pytest.raises(MeasureError, match=r"^diameters_cm is 3; expected one, or as many"):
        by_calipers([Calipers(), Calipers()], [10.0, 20.0, 30.0])
