"""From a practical's file to cubic metres a hectare, on the invented class and its wood."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest

from mensura.checks import ChoiceError
from mensura.disk.stand_file import StandFile, read_stand
from mensura.estimates.practical import Practical, study_practical
from mensura.estimates.quillmere_practical import quillmere_practical
from mensura.estimates.quillmere_stand import quillmere_stand
from mensura.estimates.stand import stand
from mensura.estimates.timber_chain import TimberChain, timber_chain
from mensura.estimates.timber_rows import (
    budget_rows,
    correction_rows,
    gain_rows,
    rule_rows,
    stand_rows,
)
from mensura.places import data_file


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(quillmere_practical().readings)


@pytest.fixture(scope="module")
def measured() -> StandFile:
    return read_stand(data_file("quillmere-trees.csv"), data_file("quillmere-plots.csv"))


@pytest.fixture(scope="module")
def chain(study: Practical, measured: StandFile) -> TimberChain:
    return timber_chain(study, measured, "Q03", "T2")


def test_what_was_taken_off_brings_back_the_trees(chain: TimberChain) -> None:
    """The basal area of the very trees on the plots, known since they were drawn, within 2 u."""
    drawn = quillmere_stand()
    true = stand(drawn.trees, drawn.plots).per_hectare.basal_area_m2.value
    found = chain.corrected.per_hectare.basal_area_m2.value
    # twice the doubt of hand and tape together, of an area twice that of a girth
    doubt_percent = 2 * hypot(*(one.u for one in chain.corrections))
    assert abs(100 * (found / true - 1)) < 2 * doubt_percent
    read = chain.as_read.per_hectare.basal_area_m2.value
    assert 100 * (read / true - 1) == pytest.approx(100 / 1.025**2 - 100, abs=0.05)


def test_a_stretched_tape_makes_the_wood_a_twentieth_poorer(chain: TimberChain) -> None:
    """Volumes go by the square of the girth; stems do not feel it."""
    before, after = chain.as_read.per_hectare, chain.corrected.per_hectare
    share = chain.corrections[1].off / 100
    assert before.volume_m3.value / after.volume_m3.value == pytest.approx((1 + share) ** 2)
    assert before.stems.value == after.stems.value


def test_the_truth_of_the_wood_lies_in_the_budgets_interval(chain: TimberChain) -> None:
    """Within both: chance alone, and chance with everything that is the same for all trees."""
    truth = quillmere_stand().wood.truth["volume_m3"]
    low, high = chain.budget.interval
    assert low < truth < high
    assert chain.budget.u > chain.corrected.per_hectare.volume_m3.se
    assert sum(one.share for one in chain.budget.shares) == pytest.approx(1)


def test_what_the_practical_found_takes_the_place_of_what_was_supposed(
    chain: TimberChain,
) -> None:
    """The hand's both ways and the tape's by the practical, and what the other tapes share."""
    told = [one.error for one in chain.budget.shares if one.name in ("instrument", "hand")]
    assert {(one.name, one.scope) for one in told if one} == {
        ("instrument", "all"),
        ("hand", "all"),
        ("hand", "tree"),
    }
    (other,) = [one for one in told if one and not one.origin.startswith("practical")]
    assert (other.origin, other.u) == ("the 2 other tapes, no card", pytest.approx(0.3 / 2**0.5))
    names = [str(row["what is unsure"]) for row in budget_rows(chain.budget, 0.0)]
    assert f"instrument ({other.origin})" in names
    assert "instrument (practical: T2)" in names
    assert names.count("hand") == 2


def test_another_hand_with_another_tape_is_corrected_for_itself(
    study: Practical, measured: StandFile
) -> None:
    """Q04 lays it tilted: 2.1 % too much. With T2 the two nearly hide each other."""
    steep = timber_chain(study, measured, "Q04", "T1")
    both = timber_chain(study, measured, "Q04", "T2")
    volumes = [one.corrected.per_hectare.volume_m3.value for one in (steep, both)]
    read = steep.as_read.per_hectare.volume_m3.value
    assert volumes[0] < 0.97 * read
    assert volumes[1] == pytest.approx(read, rel=0.015)


def test_the_form_factor_scales_the_volume_alone(study: Practical, measured: StandFile) -> None:
    some, more = (
        timber_chain(study, measured, "Q03", "T2", form_factor=share) for share in (0.4, 0.5)
    )
    ratio = more.corrected.per_hectare.volume_m3.value / some.corrected.per_hectare.volume_m3.value
    assert ratio == pytest.approx(1.25)
    assert more.corrected.per_hectare.basal_area_m2 == some.corrected.per_hectare.basal_area_m2


def test_who_was_not_there_is_refused(study: Practical, measured: StandFile) -> None:
    with pytest.raises(ChoiceError, match="Q01"):
        timber_chain(study, measured, "Q77", "T2")


def test_the_pages_tables_say_the_same(chain: TimberChain) -> None:
    """Rows are the chain's own numbers, rounded."""
    volume = stand_rows(chain)[2]
    assert volume["corrected"] == f"{chain.corrected.per_hectare.volume_m3.value:.0f}"
    told = [row["corrected for"] for row in correction_rows(chain)]
    assert told == ["nothing", "reads 2.5 % low"]
    shares = [float(row["share of the variance, %"]) for row in budget_rows(chain.budget, 0.0)]
    assert sum(shares) == pytest.approx(100, abs=0.5)
    assert np.all(np.diff(shares) <= 0)
    gains = [float(row["gain an hour, %"]) for row in gain_rows(chain)]
    assert gains == sorted(gains, reverse=True)
    assert [row["rule"] for row in rule_rows()] == ["Huber", "Smalian", "Newton"]
