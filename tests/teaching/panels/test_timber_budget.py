"""The timber budget's numbers: by hand for the made-up stand, and what more plots and hours do."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from mensura.estimates.stand import stand
from mensura.teaching.controls import State
from mensura.teaching.panels.timber_budget import (
    BARK_CM,
    CONTROLS,
    COUNTS,
    DIAMETER_CM,
    FORM_FACTOR,
    HEIGHT_M,
    PLOT_M2,
    ROWS,
    _chain,
    numbers,
    whole_state,
)

STATES: list[State] = [whole_state(**{one.name: end}) for one in CONTROLS for end in one.ends]


@pytest.mark.parametrize("state", STATES)
def test_shares_add_up(state: State) -> None:
    """To all of the square; in two groups, whose squares add up as well."""
    n = numbers(**state)
    u = n.budget.u_percent
    assert sum(share for _, share in n.rows.values()) == pytest.approx(100)
    assert sqrt(sum(part**2 for part, _ in n.rows.values())) == pytest.approx(u)
    assert n.common_percent**2 + n.averaging_percent**2 == pytest.approx(u**2)
    common = [part for row, (part, _) in n.rows.items() if ROWS[row][1] == "all"]
    assert sqrt(sum(part**2 for part in common)) == pytest.approx(n.common_percent)


def test_each_row_is_what_is_worked_out_by_hand() -> None:
    """A volume goes with the square of the wood's diameter, and with height and form."""
    n = numbers(**whole_state())
    wood = 1 - 2 * BARK_CM / DIAMETER_CM
    # over bark a share of the diameter is more than a share of the wood; bark pulls the other way
    pull = 2 / wood
    trees = 144
    # plots that differ weigh differently: the squares of their shares are summed
    uneven = 1 + 0.25**2 * 11 / 12
    of_bark = 2 * (2 * BARK_CM / DIAMETER_CM) / wood
    by_hand = {
        "form_percent": 5.0,
        "height_all_percent": 1.0,
        "instrument_percent": 0.3 * pull,
        "shape_percent": 0.3 * pull,
        "hand_percent": 1.0 * pull * sqrt(uneven / trees),
        "height_percent": 2.9 * sqrt(uneven / trees),
        "area_percent": 1.0 * sqrt(uneven / 12),
        "bark_percent": 10.0 * of_bark * sqrt(uneven / trees),
    }
    for row, percent in by_hand.items():
        assert n.rows[row][0] == pytest.approx(percent, rel=1e-6), row
    new = sum(by_hand[row] ** 2 for row in by_hand if ROWS[row][1] != "all")
    assert n.rows["sampling"][0] == pytest.approx(sqrt(25.0**2 / 12 - new), rel=1e-6)
    volume = np.pi / 4 * 0.3**2 * wood**2 * HEIGHT_M * FORM_FACTOR * 12 * 10_000 / PLOT_M2
    assert n.budget.value == pytest.approx(volume)


@pytest.mark.parametrize(("plots", "differ"), [(2, 5), (12, 25), (40, 50)])
def test_the_made_up_plots_differ_as_they_are_told_to(plots: int, differ: float) -> None:
    """By the stand's own standard error."""
    chain = _chain(plots, 5, differ)
    found = stand(chain.trees, chain.plots).per_hectare.volume_m3
    assert 100 * found.se / found.value == pytest.approx(differ / sqrt(plots))


@pytest.mark.parametrize("plots", [2, 7, 20, 40])
def test_the_curve_is_the_budget_of_so_many_plots(plots: int) -> None:
    """Up to what an uneven spread of the made-up plots changes."""
    n = numbers(**whole_state())
    at = float(np.interp(plots, COUNTS, n.curve_percent))
    assert numbers(**whole_state(plots=plots)).budget.u_percent == pytest.approx(at, rel=5e-3)
    assert np.all(np.diff(n.curve_percent) < 0)
    assert n.curve_percent[-1] > n.common_percent


@pytest.mark.parametrize("hours", [0, 1, 5, 18, 40])
def test_the_plan_keeps_within_the_hours(hours: float) -> None:
    """Steps together have the plan's hours, and each leaves less than the one before."""
    n = numbers(**whole_state(hours=hours))
    assert sum(one for _, one, _ in n.steps) == pytest.approx(sum(g.hours for g in n.plan))
    assert sum(one for _, one, _ in n.steps) <= hours + 1e-9
    after = [n.budget.u_percent, *(one for _, _, one in n.steps)]
    assert np.all(np.diff(after) < 0)


def test_what_to_do_first_follows_the_largest_share() -> None:
    """Plots where they differ; the height meter where all heights are off; a form factor else."""
    first = {
        "five more plots": whole_state(differ_percent=50.0),
        "check the height meter": whole_state(height_all_percent=10.0),
        "card for the tape": whole_state(
            instrument_percent=3.0, form_percent=0.0, differ_percent=5.0
        ),
    }
    for name, state in first.items():
        assert numbers(**state).gains[0].remedy.name == name
