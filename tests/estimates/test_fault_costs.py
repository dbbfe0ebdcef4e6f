"""What faults cost a class: by arithmetic on the stems themselves, and the noticing by draws."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates import fault_cost_rows, fault_costs, stems_to_notice
from mensura.estimates.fault_costs import CHECKS, HAND_CM, STEP_CM
from mensura.instruments.fault import INSTRUMENTS
from mensura.instruments.faults import faults_in
from mensura.stems.compartment import COMPARTMENT_7, StandingStem, standing_sections

COSTS = {(one.instrument, one.words): one for one in fault_costs()}


def over_percent(read: np.ndarray, true: np.ndarray) -> float:
    return float(100 * ((read**2).sum() / (true**2).sum() - 1))


def test_costs_by_arithmetic_on_the_stems() -> None:
    """Faults that plain arithmetic makes: added, stretched, shrunk, pressed in, rounded down."""
    girths = np.asarray(standing_sections().taut_girth_cm)
    for words, read in (
        ("start worn by 0.5 cm", girths + 0.5),
        ("slack of 2 cm", girths + 2),
        ("band stretched by 1 %", girths / 1.01),
        ("cloth shrunk by 2 %", girths / 0.98),
        ("bark pressed in by 1 mm", girths - 0.2 * np.pi),
        ("read down to whole cm", np.floor(girths)),
    ):
        found = COSTS["tape", words]
        assert found.area_percent == pytest.approx(over_percent(read, girths), rel=1e-6)
        assert found.adds_cm == pytest.approx((read - girths).mean(), rel=1e-6)


def test_costs_of_the_calipers_by_arithmetic() -> None:
    """Each width longer by the zero error, by 1/cos of the slope, shorter by what is pressed in."""
    wide = np.array([(one.longest_cm, one.shortest_cm) for one in COMPARTMENT_7])
    true = wide.prod(axis=1).sum()
    for words, read in (
        ("closed they read 0.3 cm", wide + 0.3),
        ("beam that slopes by 8°", wide / np.cos(np.radians(8))),
        ("jaws pressed in by 1 mm each", wide - 0.2),
        ("read down to whole cm", np.floor(wide + 1e-12)),
    ):
        found = COSTS["calipers", words]
        cost = 100 * (read.prod(axis=1).sum() / true - 1)
        assert found.area_percent == pytest.approx(cost, rel=1e-6)


def test_every_fault_of_the_list_is_there() -> None:
    """Each instrument's, with every typical size that has words, and no other."""
    wanted = {
        (instrument, size.words)
        for instrument, kinds in INSTRUMENTS.items()
        for row in faults_in("what each costs", *kinds).values()
        for size in row.typical
        if size.words
    }
    assert set(COSTS) == wanted
    assert len(wanted) > 20
    assert {kind for kinds in INSTRUMENTS.values() for kind in kinds} == set(CHECKS)


def test_the_cheapest_come_first() -> None:
    """By the size of what they do to the area."""
    sizes = [abs(one.area_percent) for one in fault_costs()]
    assert sizes == sorted(sizes)


@pytest.mark.parametrize("words", ["tilt of 10°", "slack of 2 cm", "start worn by 0.5 cm"])
def test_it_shows_nineteen_times_of_twenty(words: str) -> None:
    """4000 classes read so many stems twice: the mean difference is above twice its uncertainty in
    95 % at least; with a stem less than two thirds of them it is not."""
    one = COSTS["tape", words]
    rng = np.random.default_rng(4)
    spread = (HAND_CM["tape"] ** 2 + STEP_CM["tape"] ** 2 / 12) ** 0.5

    def seen(stems: int) -> float:
        with_fault = rng.normal(one.adds_cm, spread, (4000, stems))
        difference = (with_fault - rng.normal(0, spread, (4000, stems))).mean(axis=1)
        return float((np.abs(difference) > 2 * spread * (2 / stems) ** 0.5).mean())

    assert seen(one.stem_count) > 0.94
    assert one.stem_count < 3 or seen(one.stem_count * 2 // 3) < 0.94


def test_how_many_stems_by_hand() -> None:
    """As large as the spread: 2 · 3.645² = 26.57, so 27; half as large, four times as many."""
    assert stems_to_notice(0.3, 0.3) == 27
    assert stems_to_notice(0.15, 0.3) == 107
    assert stems_to_notice([-0.3, 0.0], 0.3).tolist() == [27, np.inf]
    # a step of √12 and no hand is a spread of 1
    assert stems_to_notice(1.0, 0.0, 12**0.5) == 27
    assert stems_to_notice(1.0, 0.0) == 1


def test_other_stems_and_other_hands() -> None:
    """Thin stems pay more for a worn start; a better hand sees it in fewer."""
    thin = (StandingStem(1, "birch", 12.0, 11.0),)
    own = {(one.instrument, one.words): one for one in fault_costs(thin)}
    worn = ("tape", "start worn by 0.5 cm")
    assert own[worn].area_percent > 3 * COSTS[worn].area_percent
    better = {
        (one.instrument, one.words): one
        for one in fault_costs(hand_cm={"tape": 0.25, "calipers": 0.15})
    }
    assert better[worn].stem_count < COSTS[worn].stem_count / 3


def test_rows_are_the_costs() -> None:
    """One for each, in their order, with its check."""
    costs = fault_costs()
    rows = fault_cost_rows(costs)
    assert [row["fault"] for row in rows] == [one.words for one in costs]
    assert {row["against"] for row in rows} == set(CHECKS.values())


def test_a_spread_below_nought_is_refused() -> None:
    """Under its name."""
    with pytest.raises(MeasureError, match=r"hand_cm is -0\.1 cm"):
        stems_to_notice(1.0, -0.1)
