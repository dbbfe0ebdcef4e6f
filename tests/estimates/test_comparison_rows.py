"""Rows for tables: each number found again by a route of its own."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mensura.estimates.comparison import PRACTICES, compare
from mensura.estimates.comparison_rows import (
    all_round,
    even_bark,
    furrowed,
    girths,
    if_oval,
    limits,
    ovality,
    practices,
    ripples,
    turned,
)
from mensura.instruments import Calipers
from mensura.stems import Ellipse, Outline, Section, circle, reuleaux


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


@pytest.mark.parametrize("section", [Ellipse(60, 48), reuleaux(40)])
def test_all_round_is_cauchy_and_the_practices(section: Section) -> None:
    """One reading's mean error by the mean square width; ends where each direction is tried."""
    rows = {row["way"]: row for row in all_round(section, 1.0)}
    widths = np.asarray(section.width_cm(np.arange(0.0, 180.0)))
    one = 100 * (math.pi / 4 * widths**2 / section.area_cm2 - 1)
    assert rows["one reading"]["mean_over_percent"] == pytest.approx(one.mean())
    assert rows["one reading"]["most_over_percent"] == pytest.approx(one.max())
    assert rows["one reading"]["least_over_percent"] == pytest.approx(one.min())
    assert len(set(list(rows["tape"].values())[1:])) == 1
    each = turned(section, [float(turn) for turn in range(180)])
    for way, name in (("two, arithmetic mean", "arithmetic"), ("two, product", "product")):
        errors = [row[f"{name}_over_percent"] for row in each]
        assert rows[way]["mean_over_percent"] == pytest.approx(np.mean(errors), abs=1e-9)
        assert rows[way]["most_over_percent"] == pytest.approx(max(errors), abs=1e-9)


def test_if_oval_is_an_ellipse_with_that_girth() -> None:
    """An ellipse of the ratio, scaled to the girth, has the area that is told."""
    rows = if_oval([14.5, 21.4], [1, 0.8])
    for row in rows:
        stem = Ellipse(1.0, 0.8)
        stem = stem.scaled(row["girth_cm"] / stem.taut_girth_cm)
        assert row["ratio 0.8_cm2"] == pytest.approx(stem.area_cm2)
        assert row["ratio 1_cm2"] == pytest.approx(row["girth_cm"] ** 2 / (4 * math.pi))


def test_ripples_sum_to_the_circle_less_the_hull() -> None:
    """A rectangle of 3 by 4: girth 14, hull 12, by hand; more ripples come nearer from below."""
    plank = Outline([[0, 0], [4, 0], [4, 3], [0, 3]])
    rows = ripples(plank, [2, 12, 1000])
    lost = [row["lost_cm2"] for row in rows]
    assert [row["ripples"] for row in rows] == ["2 to 2", "2 to 12", "2 to 1000", "all"]
    assert lost == sorted(lost)
    assert lost[-1] == pytest.approx(14**2 / (4 * math.pi) - 12)
    assert lost[-2] == pytest.approx(lost[-1], rel=1e-2)


def test_girths_by_series_and_by_the_root() -> None:
    """A girth by the series in h, the formula by hand; the second is longer, but on a circle."""
    for row, second in zip(girths(60, [58, 48, 30, 60]), (58, 48, 30, 60), strict=True):
        h = ((60 - second) / (60 + second)) ** 2
        series = 1 + h / 4 + h**2 / 64 + h**3 / 256 + 25 * h**4 / 16384
        assert row["girth_cm"] == pytest.approx(math.pi * (60 + second) / 2 * series, rel=1e-7)
        root = math.pi * math.sqrt((60**2 + second**2) / 2)
        assert row["blackboard_cm"] == pytest.approx(root)
        assert row["too_long_cm"] == pytest.approx(root - row["girth_cm"], abs=1e-9)
        assert row["too_long_cm"] > 0 or second == 60
