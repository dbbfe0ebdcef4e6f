"""The mean growth of many stems: what averages out and what does not, by hand and by draws."""

import math
from dataclasses import replace

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates.growth import OTHER, SAME, Again, ReadingDoubts
from mensura.estimates.stand_growth import stand_growth, u_mean_growth_cm

NONE = ReadingDoubts(0, 0, 0, 0, 0, 0, 0)


def test_by_hand():
    """Growths 2, 3, 4: mean 3, s 1; a scale of 1 % leaves 1 % of the mean growth, or of girths."""
    doubts = replace(NONE, scale_percent=1.0)
    same = stand_growth([80, 100, 120], [82, 103, 124], 6.0, doubts)
    assert (same.growth_cm, same.spread_cm, same.a_year_cm) == (3.0, 1.0, 0.5)
    assert same.averaged_cm == pytest.approx(1 / math.sqrt(3))
    assert same.shared_cm == pytest.approx(0.03)
    assert same.u_growth_cm == pytest.approx(math.hypot(1 / math.sqrt(3), 0.03))
    assert same.stands_out
    other = stand_growth([80, 100, 120], [82, 103, 124], 6.0, doubts, OTHER)
    assert other.shared_cm == pytest.approx(0.01 * math.hypot(100, 103))
    assert other.u_a_year_cm == pytest.approx(other.u_growth_cm / 6)


def test_no_number_of_stems_makes_the_shared_part_smaller():
    """A thousand times as many stems: the rest is a thousandth of a variance, the shared stays."""
    doubts = ReadingDoubts()
    floor = math.sqrt(
        2 * doubts.start_cm**2
        + (100**2 + 105**2) * (0.001**2 + 0.002**2 + 0.0005**2)
    )  # fmt: skip
    few, many = u_mean_growth_cm([10, 10_000], 100.0, 5.0, 1.5, doubts, OTHER)
    assert many < few
    assert many**2 - floor**2 == pytest.approx((few**2 - floor**2) / 1000, rel=1e-6)
    assert many > floor
    same = u_mean_growth_cm(10_000, 100.0, 5.0, 1.5, doubts, SAME)
    assert same < many / 10


@pytest.mark.parametrize("again", [SAME, Again(hand=False)])
def test_a_plan_and_its_readings_by_draws(again):
    """4,000 stands of 25 stems, drawn here: means spread as planned, and as each stand says."""
    rng, stands, stems = np.random.default_rng(3), 4000, 25
    doubts = ReadingDoubts(0.3, 0.2, 0.3, 0.4, 0.1, 3.0, 1.0)
    first = np.full((stands, stems), 100.0)
    second = first + 4.0 + rng.normal(size=first.shape) * 1.2

    def shared(size, same):
        one = rng.normal(size=(stands, 1)) * size
        return (one, one) if same else (one, rng.normal(size=(stands, 1)) * size)

    back = math.pi * 0.03
    shares = [shared(0.003, again.tape), shared(0.004, again.hand), shared(0.001, again.season)]
    starts, read = shared(0.2, again.tape), []
    for time, true in enumerate((first, second)):
        times = 1 + sum(one[time] for one in shares)
        new = rng.normal(size=first.shape) * math.hypot(0.3, back)
        read.append(true * times + starts[time] + new)
    means = (read[1] - read[0]).mean(axis=1)
    planned = u_mean_growth_cm(stems, 100.0, 4.0, 1.2, doubts, again)
    assert means.std() == pytest.approx(planned, rel=0.03)
    told = [
        stand_growth(one, two, 5.0, doubts, again).u_growth_cm ** 2
        for one, two in zip(read[0][:400], read[1][:400], strict=True)
    ]
    assert math.sqrt(np.mean(told)) == pytest.approx(planned, rel=0.03)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: stand_growth([100.0], [101.0], 5.0), "second_girths_cm"),
        (lambda: stand_growth([100.0, 90.0], [101.0], 5.0), "second_girths_cm"),
        (lambda: stand_growth([100.0, 0.0], [101.0, 1.0], 5.0), "first_girths_cm"),
        (lambda: stand_growth([100.0, 90.0], [101.0, 91.0], 0.0), "between_years"),
        (lambda: u_mean_growth_cm(0, 100.0, 5.0, 1.0), "stem_count"),
        (lambda: u_mean_growth_cm(5, 100.0, 5.0, -1.0), "grows_apart_cm"),
    ],
)
def test_what_is_refused(call, field):
    with pytest.raises(MeasureError) as refused:
        call()
    assert refused.value.field == field
