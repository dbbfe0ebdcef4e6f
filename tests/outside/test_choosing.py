"""Choosing an instrument: sums that anyone can do again, theorems, and published spreads."""

import numpy as np
import pytest

from mensura.estimates import (
    FaultCost,
    Flip,
    Kit,
    Morning,
    best_plan,
    error_curve_percent,
    fault_cost_rows,
    fault_costs,
    flips,
    most_readings,
    oval_widths,
    plans,
    plot_error,
    stem_scatter,
    stems_to_notice,
)
from mensura.estimates.instrument_flips import steps
from mensura.estimates.which_instrument import CALIPERS, TAPE

#: What a girth tells too much of an ellipse's area, its axes' quadratic mean too, in per cent, at
#: axis ratios (theorem; E(m) from tables, worked out apart from this package).
OVER = {
    0.95: (0.0987, 0.1316),
    0.9: (0.4167, 0.5556),
    0.85: (0.9931, 1.3235),
    0.8: (1.8764, 2.5000),
    0.75: (3.1290, 4.1667),
    0.7: (4.8309, 6.4286),
    0.5: (18.883, 25.000),
}


@pytest.mark.parametrize(("ratio", "over"), OVER.items())
def test_oval_stems_by_a_steady_hand(ratio, over):
    """The tape's excess; one reading in any direction is off as the quadratic mean of the axes,
    since the squares of all widths have the mean of the axes' squares (theorem)."""
    oval = oval_widths(ratio)
    for way, printed in zip(("girth", "directions"), over, strict=True):
        found = 100 * (stem_scatter(oval, way, 1, 0.0).mean_share - 1)
        assert found == pytest.approx(printed, abs=5.1e-4 if ratio < 0.7 else 5.1e-5)


def test_random_errors_average_out_and_common_ones_do_not():
    """Twenty equal stems, a diameter's spread of 1.5 % [Luoma2017]: 2 · 1.5/√20 = 0.67 % of the
    plot; 1 % that all share: 2 % (theorem, by hand)."""
    plot = Morning(diameter_cm=20.0, out_of_round_percent=0.0, stem_count=20)
    random, common = Kit("calipers", 0.3, 0, 1, 0, 0), Kit("calipers", 0, 0.2, 1, 0, 0)
    assert plot_error(plot, random, "directions", 1).hand_percent == pytest.approx(0.67, abs=5e-3)
    assert plot_error(plot, common, "directions", 1).common_percent == pytest.approx(2.0, abs=1e-3)


def test_squares_of_scattered_diameters_are_too_large():
    """By the square of the relative spread: 1.5 % make 0.0225 % of area (theorem)."""
    plot = Morning(diameter_cm=20.0, out_of_round_percent=0.0)
    found = plot_error(plot, Kit("calipers", 0.3, 0, 1, 0, 0), "directions", 1)
    assert found.squared_percent == pytest.approx(0.0225, rel=1e-6)


def test_the_spreads_we_take_are_published_ones():
    """Calipers: 0.3 cm [Luoma2017]. Tape: experts' diameters differ by 1.8 mm on average
    [Butt2013]; the mean size of a difference of two normal readings is 2s/√π (theorem)."""
    assert CALIPERS.hand_cm == 0.3
    spread_cm = 0.18 * np.sqrt(np.pi) / 2
    assert TAPE.hand_cm == pytest.approx(np.pi * spread_cm, abs=5e-3)


def test_two_instruments_of_one_spread_flip_by_hand():
    """Round stems, a steady tape that is off by c, calipers that spread by s: with one reading each
    the errors are equal where 2c/πD = 2s/(D√N), so where N = (πs/c)² (by hand, small errors)."""
    tape = Kit("tape", 0.0, 0.0999, 1, 0, 0)
    spread_cm = 0.0999 / np.pi * 6
    jaws = Kit("calipers", spread_cm, 0.0, 1, 0, 0)
    sixes = [
        best_plan(Morning(40.0, 0.0, 0.0, stems, 2.5 * stems), (tape, jaws)).instrument
        for stems in (35, 37)
    ]
    assert sixes == ["tape", "calipers"]


def test_minutes_of_a_stem_by_hand():
    """Four minutes a stem, one to get there, 0.75 a reading: four readings, two pairs."""
    plot = Morning(50.0, 0.0, 0.0, 10, 40.0, walk_min=1.0)
    jaws = Kit("calipers", 0.3, 0.0, 0.25, 0.1, 0.0)
    assert most_readings(plot, jaws, "pairs") == 4
    assert [one.reading_count for one in plans(plot, (jaws,))] == [4, 4, 4]
    # a fifth fits where 0.25 + D/100 = 3/5
    assert any(at == pytest.approx(35.0) for at in steps(plot, jaws, "diameter_cm"))


def test_a_fault_as_large_as_the_spread_takes_27_stems():
    """Seen if the mean difference is above twice its uncertainty, in 19 tries of 20: 2 + 1.645 of
    √2/√n spreads (tables of the normal curve: 95 % lie below 1.645, from memory), n = 26.6."""
    assert stems_to_notice(0.5, 0.5) == 27


def test_what_a_hundredth_of_length_costs():
    """Area goes with the square of length: 1 % of stretch takes 1 − 1/1.01² = 1.970 % (scale rule
    of the chapter on condition)."""
    (stretched,) = (one for one in fault_costs() if one.fault == "stretch")
    assert isinstance(stretched, FaultCost)
    assert stretched.area_percent == pytest.approx(-1.970, abs=5e-4)
    assert (
        pytest.approx(next(r["area_adds_percent"] for r in fault_cost_rows((stretched,))), abs=5e-4)
        == -1.970
    )


def test_a_stem_wider_than_the_jaws_open():
    """60 cm that are 1.2 times as long as wide have 60·√1.2 = 65.73 cm (by hand)."""
    plot = Morning(60.0, 20.0, 0.0, 10, 90.0)
    for opening_cm, open_enough in ((65.72, False), (65.74, True)):
        jaws = Kit("calipers", 0.1, 0.0, 0.5, 0.1, 0.0, opening_cm)
        assert np.isfinite(error_curve_percent(plot, jaws)) == open_enough
    jaws = Kit("calipers", 0.01, 0.0, 0.5, 0.1, 0.0, 66.0)
    (found,) = flips(plot, "out_of_round_percent", 5.0, 40.0, calipers=jaws)
    assert found == Flip(pytest.approx(21.0), "calipers", "tape", sudden=True)
