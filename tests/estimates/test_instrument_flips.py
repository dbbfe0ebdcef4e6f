"""Where the better instrument changes: both sides of every place, and roads of one's own there."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import ellipe

from mensura.checks import MeasureError
from mensura.estimates import Flip, Kit, Morning, best_plan, flips, most_readings, plot_error
from mensura.estimates.instrument_flips import _roots, steps
from mensura.estimates.which_instrument import CALIPERS, TAPE

RANGES = {
    "out_of_round_percent": (0.0, 60.0),
    "diameter_cm": (8.0, 120.0),
    "undergrowth": (0.0, 1.0),
}
MORNINGS = (
    Morning(),
    Morning(diameter_cm=25.0, undergrowth=0.4, time_min=90.0),
    Morning(diameter_cm=60.0, out_of_round_percent=20.0, stem_count=40, time_min=120.0),
    Morning(diameter_cm=74.0, out_of_round_percent=3.0, time_min=100.0),
)


def better(morning: Morning, ways: tuple[str, ...] = ("girth", "directions", "products")) -> str:
    best = best_plan(morning, ways=ways)
    return best.instrument if best else "neither"


@pytest.mark.parametrize("along", RANGES)
@pytest.mark.parametrize("morning", MORNINGS)
def test_both_sides_and_all_between(morning: Morning, along: str) -> None:
    """A hair below and a hair above every flip the plans themselves say the same, and on 400 places
    between the flips nothing else changes."""
    ways = ("girth", "directions", "products")
    low, high = RANGES[along]
    found = flips(morning, along, low, high, ways=ways)
    for one in found:
        for side, name in ((-1e-7, one.before), (1e-7, one.after)):
            there = replace(morning, **{along: one.at + side})  # type: ignore[arg-type]
            assert better(there, ways) == name
    marks = np.array([one.at for one in found])
    names = [found[0].before, *(one.after for one in found)] if found else None
    seen = set()
    for place in np.linspace(low, high, 400):
        if found and np.abs(marks - place).min() < 1e-6:
            continue
        name = better(replace(morning, **{along: place}), ways)  # type: ignore[arg-type]
        seen.add(name)
        if names:
            assert name == names[int((marks < place).sum())]
    assert names or len(seen) == 1


def test_a_crossing_is_exact() -> None:
    """At it both errors are the same to eleven digits; at a step they are not."""
    (one,) = flips(Morning())
    assert not one.sudden
    there = Morning(out_of_round_percent=one.at)
    tape = plot_error(there, TAPE, "girth", most_readings(there, TAPE, "girth"))
    jaws = plot_error(there, CALIPERS, "products", most_readings(there, CALIPERS, "products"))
    assert tape.error_percent == pytest.approx(float(jaws.error_percent), rel=1e-11)
    sudden = [one for one in flips(Morning(), "undergrowth", 0.0, 1.0) if one.sudden]
    assert len(sudden) == 1


def own_errors(oor: float) -> tuple[float, float]:
    """Mean square errors of three girths and of one product, of 18 stems of 40 cm, written anew:
    elliptic integral, adaptive quadrature, no function of the package."""
    r = 1 / (1 + oor / 100)
    longer = 40 / r**0.5
    girth = 2 * longer * ellipe(1 - r * r)
    true = np.pi / 4 * 40**2
    hand, common = 0.5 / 3**0.5, 0.15
    # (G + e + k)², e for each stem, k for all: moments of normal errors
    bias = (girth**2 + hand**2 + common**2) / (4 * np.pi) - true
    own = 4 * girth**2 * hand**2 + 2 * hand**4 + 4 * hand**2 * common**2
    both = 4 * girth**2 * common**2 + 2 * common**4
    tape = bias**2 + (own / 18 + both) / (4 * np.pi) ** 2
    hand, common = 0.3, 0.05

    def over(of: Any) -> float:
        return float(quad(of, 0, np.pi, epsabs=1e-12, epsrel=1e-13)[0] / np.pi)

    def two(turn: float) -> tuple[float, float]:
        c, s = np.cos(turn), np.sin(turn)
        return longer * np.hypot(c, r * s), longer * np.hypot(s, r * c)

    product = over(lambda t: np.prod(two(t)))
    square = over(lambda t: np.prod(two(t)) ** 2) - product**2
    total = over(lambda t: sum(two(t)))
    total_square = over(lambda t: sum(two(t)) ** 2) - total**2
    squares = over(lambda t: sum(np.square(two(t))))
    # (w₁ + e₁ + k)(w₂ + e₂ + k)
    bias = np.pi / 4 * (product + common**2) - true
    own = square + hand**2 * squares + hand**4 + common**2 * (total_square + 2 * hand**2)
    both = common**2 * total**2 + 2 * common**4
    return tape, bias**2 + (own / 18 + both) * (np.pi / 4) ** 2


def test_an_own_road_finds_the_same_flip() -> None:
    """To a billionth of a per cent."""
    (one,) = flips(Morning())
    own = brentq(lambda oor: np.subtract(*own_errors(oor)), 5.0, 15.0, xtol=1e-12)
    assert one.at == pytest.approx(own, abs=1e-9)


def test_draws_agree_on_both_sides() -> None:
    """Forty thousand plots by draws, three per cent of out-of-roundness to either side."""
    (one,) = flips(Morning())
    rng = np.random.default_rng(9)
    for oor, name in ((one.at - 3, "tape"), (one.at + 3, "calipers")):
        r = 1 / (1 + oor / 100)
        longer = 40 / r**0.5
        shape = (40_000, 18)
        girths = 2 * longer * ellipe(1 - r * r) + rng.normal(0, 0.5 / 3**0.5, shape)
        taped = ((girths + rng.normal(0, 0.15, (shape[0], 1))) ** 2).mean(axis=1) / np.pi**2
        turns, common = rng.uniform(0, np.pi, shape), rng.normal(0, 0.05, (shape[0], 1))
        first = longer * np.hypot(np.cos(turns), r * np.sin(turns))
        second = longer * np.hypot(np.sin(turns), r * np.cos(turns))
        first, second = (w + rng.normal(0, 0.3, shape) + common for w in (first, second))
        errors = {
            "tape": ((taped - 1600) ** 2).mean(),
            "calipers": (((first * second).mean(axis=1) - 1600) ** 2).mean(),
        }
        assert min(errors, key=lambda one: errors[one]) == name


def test_steps_are_where_the_time_is_used_up() -> None:
    """At each step of either instrument the readings take the whole time, or the jaws' opening."""
    plot = Morning(undergrowth=0.3)
    for kit in (TAPE, CALIPERS):
        for along in ("diameter_cm", "undergrowth"):
            for at in steps(plot, kit, along):
                if not 0.0 < at < (1.0 if along == "undergrowth" else 200.0):
                    continue
                there = replace(plot, **{along: at})  # type: ignore[arg-type]
                fits = [
                    abs(there.needed_min(kit, count) - there.time_min) < 1e-9
                    for count in range(1, 13)
                ]
                opens = kit.opening_cm and abs(there.longest_cm - kit.opening_cm) < 1e-9
                assert any(fits) or opens
    (open_to,) = steps(Morning(diameter_cm=70.0), CALIPERS, "out_of_round_percent")
    assert Morning(70.0, open_to).longest_cm == pytest.approx(80.0, rel=1e-12)


def test_nothing_changes_where_one_is_better_all_along() -> None:
    """A tape that never spreads against wild calipers; and a time in which nobody can read."""
    wild = replace(CALIPERS, hand_cm=20.0)
    assert flips(Morning(), calipers=wild) == ()
    assert flips(Morning(time_min=1.0)) == ()


def test_the_opening_is_a_step() -> None:
    """A tape that spreads a lot is taken where the calipers open no further, and only there."""
    rough = replace(TAPE, hand_cm=6.0)
    (one,) = flips(
        Morning(out_of_round_percent=0.0, undergrowth=0.0, time_min=120.0),
        "diameter_cm",
        60.0,
        100.0,
        tape=rough,
    )
    assert one == Flip(80.0, "calipers", "tape", True)


def test_where_neither_can_be_used_is_told() -> None:
    """Dense brush takes all the time there is."""
    found = flips(Morning(time_min=40.0), "undergrowth", 0.0, 1.0)
    assert found[-1].after == "neither"
    assert found[-1].sudden


def test_two_roots_closer_than_the_looks_are_found() -> None:
    """A dip that only just reaches across nought between two looks."""
    places = np.linspace(0.0, 1.0, 33)
    for middle in (0.5, 0.487, 0.711):

        def dip(place: Any, middle: float = middle) -> Any:
            return (np.asarray(place) - middle) ** 2 - 1e-6

        found = _roots(dip, places, dip(places))
        assert found == pytest.approx([middle - 1e-3, middle + 1e-3], abs=1e-9)
    assert _roots(lambda place: (np.asarray(place) - 0.4) ** 2 + 1e-9, places, places + 1) == []


def test_a_root_on_a_look_is_found_once() -> None:
    """Just at one of the places looked at, where the lead is nought to the last digit."""
    places = np.linspace(0.0, 1.0, 33)
    assert _roots(lambda place: np.asarray(place) - 0.25, places, places - 0.25) == [0.25]


def test_a_crew_with_one_way_has_another_flip() -> None:
    """One reading in any direction: round stems only; the mean of a pair never beats this tape."""
    slow = Kit("tape", 1.5, 0.15, 0.38, 0.08, 0.5)
    (one,) = flips(Morning(), tape=slow, ways=("girth", "directions"))
    assert (one.before, one.after) == ("calipers", "tape")
    assert flips(Morning(), ways=("girth", "pairs")) == ()


@pytest.mark.parametrize(
    ("along", "low", "high", "told"),
    [
        ("height_m", 0, 1, "one of: out_of_round_percent, diameter_cm, undergrowth"),
        ("undergrowth", 0, 2, "undergrowth is 2"),
        ("diameter_cm", 40, 40, "greatest is 40 cm; expected"),
    ],
)
def test_what_cannot_be_is_refused(along: str, low: float, high: float, told: str) -> None:
    """In one sentence, under the name it was given."""
    with pytest.raises(MeasureError, match=told):
        flips(Morning(), along, low, high)
