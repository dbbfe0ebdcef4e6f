"""Tape or calipers: the error of a plot against draws of whole plots, minutes by hand, the best."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates import (
    Kit,
    Morning,
    best_plan,
    error_curve_percent,
    flips,
    most_readings,
    plans,
    plot_error,
)
from mensura.estimates.which_instrument import CALIPERS, MOST_READINGS, TAPE, WAYS_OF
from mensura.instruments.tape_card import card
from mensura.stems.compartment import COMPARTMENT_7, standing_sections
from mensura.stems.ellipse import Ellipse

WAYS = [(kit, way) for kit in (TAPE, CALIPERS) for way in WAYS_OF[kit.name]]


def drawn_plots(morning: Morning, kit: Kit, way: str, count: int, plots: int) -> np.ndarray:
    """Basal areas of drawn plots over the true one, every stem and reading for itself."""
    rng = np.random.default_rng(15)
    ratio = 1 / (1 + morning.out_of_round_percent / 100)
    longer = morning.diameter_cm / ratio**0.5
    stem = Ellipse(longer, longer * ratio)
    shape = (plots, morning.stem_count, count)
    common = rng.normal(0, kit.common_cm, (plots, 1, 1))
    if way == "girth":
        girths = stem.taut_girth_cm + rng.normal(0, kit.hand_cm, shape) + common
        areas = girths.mean(axis=2) ** 2 / (4 * np.pi)
    else:
        turns = rng.uniform(0, np.pi, shape)
        if way != "directions":
            turns[..., 1::2] = turns[..., 0::2] + np.pi / 2
        widths = np.hypot(longer * np.cos(turns), longer * ratio * np.sin(turns))
        read = widths + rng.normal(0, kit.hand_cm, shape) + common
        if way == "products":
            areas = np.pi / 4 * (read[..., 0::2] * read[..., 1::2]).mean(axis=2)
        else:
            areas = np.pi / 4 * read.mean(axis=2) ** 2
    return areas.sum(axis=1) / (morning.stem_count * stem.area_cm2)


@pytest.mark.parametrize(("kit", "way"), WAYS)
def test_errors_are_those_of_drawn_plots(kit: Kit, way: str) -> None:
    """Bias, spread and root mean square of 20 000 plots of 9 stems, within sampling error."""
    plot = Morning(diameter_cm=24.0, out_of_round_percent=18.0, stem_count=9)
    rough = replace(kit, hand_cm=3 * kit.hand_cm, common_cm=2 * kit.common_cm)
    found = plot_error(plot, rough, way, 2)
    plots = 20_000
    off = 100 * (drawn_plots(plot, rough, way, 2, plots) - 1)
    assert found.bias_percent == pytest.approx(off.mean(), abs=4 * off.std() / plots**0.5)
    assert found.spread_percent == pytest.approx(off.std(), rel=4 / (2 * plots) ** 0.5)
    assert found.error_percent == pytest.approx((off**2).mean() ** 0.5, rel=0.02)


def test_parts_are_kept_apart() -> None:
    """A hand, a common error and a shape each fill their own place, and the others stay empty."""
    round_plot = Morning(out_of_round_percent=0.0)
    hand = plot_error(round_plot, replace(CALIPERS, common_cm=0.0), "pairs", 2)
    assert hand.direction_percent == pytest.approx(0.0, abs=1e-6)
    assert hand.common_percent == hand.shape_percent == 0.0
    # by hand: 2 · 0.3/40 over the root of two readings and of 18 stems
    assert hand.hand_percent == pytest.approx(0.25, rel=1e-4)
    steady = replace(CALIPERS, hand_cm=0.0, common_cm=0.0)
    shape = plot_error(Morning(out_of_round_percent=25.0), steady, "directions", 1)
    assert shape.shape_percent == pytest.approx(2.5)
    assert shape.hand_percent == shape.squared_percent == shape.common_percent == 0.0
    assert shape.direction_percent > 1


def test_more_stems_do_not_help_against_what_is_common() -> None:
    """A hundred times the stems: a tenth of the hand's part, all of the common one and the bias."""
    few, many = (plot_error(Morning(stem_count=n), TAPE, "girth", 1) for n in (9, 900))
    assert many.hand_percent == pytest.approx(few.hand_percent / 10)
    assert many.common_percent == few.common_percent
    assert many.bias_percent == few.bias_percent


@pytest.mark.parametrize(("kit", "way"), WAYS)
def test_another_reading_never_makes_it_worse(kit: Kit, way: str) -> None:
    """So as many as fit are best: over sizes, shapes and hands."""
    for diameter in (8.0, 40.0, 120.0):
        for oor in (0.0, 10.0, 60.0, 300.0):
            for hand in (0.0, 0.3, 2.0):
                rough = replace(kit, hand_cm=hand, opening_cm=None)
                plot = Morning(diameter_cm=diameter, out_of_round_percent=oor)
                counts = range(2, MOST_READINGS + 1, 2)
                errors = [plot_error(plot, rough, way, n).error_percent for n in counts]
                assert np.all(np.diff(errors) <= 1e-12)


def test_the_rules_by_hand_are_near() -> None:
    """What the panel gives for working by hand, against the exact parts: within 1 %, at 10 % out of
    round; the flip that follows from them within 0.1 % of out-of-roundness."""
    plot = Morning(out_of_round_percent=10.0)
    square = 0.1**2 / 1.1
    for kit, way, count, over in (
        (TAPE, "girth", 3, 37.5),
        (CALIPERS, "pairs", 2, 37.5),
        (CALIPERS, "products", 2, 25.0),
        (CALIPERS, "directions", 1, 50.0),
    ):
        found = plot_error(plot, kit, way, count)
        size = 40 * kit.round_cm
        assert found.shape_percent == pytest.approx(over * square, rel=0.01)
        hand = 200 * kit.hand_cm / (size * (count * 18) ** 0.5)
        assert found.hand_percent == pytest.approx(hand, rel=0.01)
        assert found.common_percent == pytest.approx(200 * kit.common_cm / size, rel=0.01)

    def lead(oor: float) -> float:
        e = oor / 100
        girth = 40 * np.pi
        tape = (37.5 * e**2 / (1 + e)) ** 2 + (200 * 0.5 / girth) ** 2 / 54 + (30 / girth) ** 2
        jaws = (25 * e**2 / (1 + e)) ** 2 + (200 * 0.3 / 40) ** 2 / 36 + (10 / 40) ** 2
        return tape - jaws

    (one,) = flips(plot)
    assert lead(one.at - 0.1) < 0 < lead(one.at + 0.1)


def test_minutes_by_hand() -> None:
    """40 cm, half in brush: 1.5 min to the stem, 0.70 · 1.25 a girth, 0.55 · 2 a width."""
    plot = Morning(undergrowth=0.5, stem_count=20, time_min=100.0)
    assert plot.walked_min == pytest.approx(1.5)
    assert TAPE.minutes_a_reading_min(40, 0.5) == pytest.approx(0.875)
    assert CALIPERS.minutes_a_reading_min(40, 0.5) == pytest.approx(1.1)
    assert plot.needed_min(TAPE, 2) == pytest.approx(20 * (1.5 + 1.75))
    # 5 min a stem leave 3.5: four girths are 3.5 to the hair, three widths 3.3 and so one pair
    assert most_readings(plot, TAPE, "girth") == 4
    assert most_readings(plot, CALIPERS, "directions") == 3
    assert most_readings(plot, CALIPERS, "pairs") == 2


def test_the_rules_with_a_source_hold_at_the_start() -> None:
    """Calipers are faster on clear ground; the tape in brush, and round very large trees."""
    for diameter in (15.0, 40.0, 75.0):
        tape, jaws = (kit.minutes_a_reading_min(diameter, 0.0) for kit in (TAPE, CALIPERS))
        assert jaws < tape
    assert CALIPERS.minutes_a_reading_min(40, 1) > TAPE.minutes_a_reading_min(40, 1)
    assert CALIPERS.minutes_a_reading_min(90, 0) > TAPE.minutes_a_reading_min(90, 0)


def test_what_cannot_be_done_is_not_offered() -> None:
    """No time for one reading; jaws that do not open; twelve at most."""
    hurried = Morning(time_min=20.0)
    assert best_plan(hurried) is None
    assert plans(hurried) == ()
    wide = Morning(diameter_cm=79.0, out_of_round_percent=[0.0, 10.0], time_min=600.0)
    assert most_readings(wide, CALIPERS, "directions").tolist() == [MOST_READINGS, 0]
    curve = error_curve_percent(wide, CALIPERS)
    assert np.isfinite(curve).tolist() == [True, False]


def test_the_best_has_the_least_error_of_all_that_fit() -> None:
    """Sought through by every number of readings and way."""
    for oor in (0.0, 6.0, 9.6, 9.8, 25.0):
        for brush in (0.0, 0.3, 0.8):
            plot = Morning(out_of_round_percent=oor, undergrowth=brush)
            errors = {}
            for kit, way in WAYS:
                for count in range(1, MOST_READINGS + 1):
                    pairs = way in ("pairs", "products")
                    if plot.needed_min(kit, count) <= plot.time_min and not (pairs and count % 2):
                        error = plot_error(plot, kit, way, count).error_percent
                        errors[kit.name, way, count] = float(error)
            best = best_plan(plot)
            assert best is not None
            assert best.error_percent == pytest.approx(min(errors.values()), rel=1e-12)


def test_a_curve_is_the_best_at_each_place() -> None:
    """Of a crew that knows one way only, and of one that knows all."""
    plot = Morning(out_of_round_percent=np.array([0.0, 10.0, 30.0]))
    for ways in (("pairs",), ("pairs", "products", "directions")):
        curve = error_curve_percent(plot, CALIPERS, ways)
        for oor, error in zip(plot.out_of_round_percent, curve, strict=True):
            best = best_plan(replace(plot, out_of_round_percent=float(oor)), (CALIPERS,), ways)
            assert best is not None
            assert error == pytest.approx(float(best.error_percent), rel=1e-12)


def test_a_plot_of_the_class_stands_for_its_own_stems() -> None:
    """Area to the last digit; the bias of every way within 3 % of the sum stem by stem."""
    plot = Morning.of_stems(COMPARTMENT_7)
    areas = np.asarray(standing_sections().area_cm2)
    assert plot.stem_count * np.pi / 4 * plot.diameter_cm**2 == pytest.approx(areas.sum())
    for kit, way in WAYS:
        steady = replace(kit, hand_cm=0.0, common_cm=0.0)
        each = [
            plot_error(replace(plot, out_of_round_percent=one.out_of_round_percent), steady, way, 2)
            for one in COMPARTMENT_7
        ]
        own = np.average([float(one.bias_percent) for one in each], weights=areas)
        assert plot_error(plot, steady, way, 2).bias_percent == pytest.approx(own, rel=0.03)


def test_a_card_is_what_all_readings_share() -> None:
    """Its line's uncertainty at the reading; a card of two marks gives none and is refused."""
    checked = card([50, 100, 150, 200], [50.3, 100.2, 150.4, 200.1])
    assert TAPE.carded(checked, 125.0).common_cm == checked.u_true_cm(125.0)
    with pytest.raises(MeasureError, match="three marks or more"):
        TAPE.carded(card([50, 100], [50.3, 100.2]), 125.0)


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: Morning(stem_count=0), "stem_count is 0; expected"),
        (lambda: Morning(undergrowth=1.5), "undergrowth is 1.5; expected"),
        (lambda: Morning(out_of_round_percent=-1), "out_of_round_percent is -1 %; expected"),
        (lambda: replace(TAPE, hand_cm=-0.1), "hand_cm is -0.1 cm; expected"),
        (lambda: Kit("fork", 0.1, 0, 1, 0, 0), "name is 'fork'; expected one of: tape, calipers"),
        (lambda: plot_error(Morning(), CALIPERS, "pairs", 3), "an even number, for pairs"),
        (lambda: plot_error(Morning(), TAPE, "girth", 1.5), "a whole number of readings"),
        (lambda: plot_error(Morning(), TAPE, "pairs", 2), "way is 'pairs'; expected one of: girth"),
    ],
)
def test_what_cannot_be_is_refused(make: object, told: str) -> None:
    """In one sentence, under the name it was given."""
    with pytest.raises(MeasureError, match=told.replace("?", r"\?")):
        make()  # type: ignore[operator]
