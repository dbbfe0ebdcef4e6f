"""What to do better first: gains against budgets worked out anew, plans against all orders."""

from dataclasses import replace
from itertools import permutations
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.remedies import (
    REMEDIES,
    Effect,
    Remedy,
    best_plan,
    first_words,
    remedied,
    what_first,
)
from mensura.estimates.stand import Plots, Trees
from mensura.estimates.stand_budget import SAMPLING, stand_budget
from mensura.estimates.stand_chain import Chain
from mensura.estimates.tree_volume import FormFactor

RULE = FormFactor(0.45).unchecked_m3


def chain(plots=10, seed=4):
    """Ten trees a plot."""
    rng = np.random.default_rng(seed)
    count = 10 * plots
    across, tall = rng.uniform(14, 52, count), rng.uniform(12, 31, count)
    where = np.repeat(np.arange(plots), 10)
    trees = Trees(where, across, tall, RULE(across, tall), np.zeros(count, int))
    laid = Plots(tuple(map(str, range(plots))), area_m2=np.array([500.0]))
    return Chain(trees, laid, RULE)


def test_each_gain_is_that_of_a_budget_worked_out_anew():
    """Every remedy of errors: its own variance falls, and the sampling's own part stays."""
    before = stand_budget(chain(), DEFAULTS)
    own = before.by_input()[SAMPLING] * before.u**2
    for gain in what_first(before):
        if gain.remedy.more_plots:
            continue
        anew = stand_budget(chain(), remedied(DEFAULTS, gain.remedy))
        variance = own + sum(one.u**2 for one in anew.shares if one.name != SAMPLING)
        assert gain.after_percent == pytest.approx(100 * sqrt(variance) / before.value, rel=1e-9)


def test_more_plots_by_hand():
    """From 10 plots to 15: what averages out falls by √(2/3), the rest stays; 5 h for five."""
    before = stand_budget(chain(), DEFAULTS)
    (gain,) = what_first(before, [one for one in REMEDIES if one.more_plots])
    left = before.averaging_u**2 * 10 / 15 + before.common_u**2
    assert gain.after_percent == pytest.approx(100 * sqrt(left) / before.value)
    assert gain.hours == 5.0
    # an hour a plot, and a tenth of one for each of its ten trees
    assert replace(gain.remedy, hours_a_tree=0.1).takes_hours(10, 100) == pytest.approx(10.0)


def test_the_largest_gain_for_an_hour_stands_first():
    """A form factor from elsewhere rules: its remedy is first until it takes long enough."""
    errors = [InputError("form factor", 10.0, "%", "all"), InputError("height", 2.0, "%", "all")]
    found = stand_budget(chain(), errors)
    gains = what_first(found)
    assert gains[0].remedy.name == "a form factor of this stand"
    rates = [one.gain_percent_per_hour for one in gains]
    assert rates == sorted(rates, reverse=True)
    dear = [replace(one, hours=5000.0) if one is gains[0].remedy else one for one in REMEDIES]
    assert what_first(found, dear)[0].remedy.name != "a form factor of this stand"
    said = first_words(gains)
    assert said.startswith("Do first: a form factor of this stand. In 20 h it brings")
    assert "card for the tape" in said.partition("Hardly worth an hour here:")[2]


def test_a_plan_keeps_to_its_hours():
    """Never more hours than there are; each remedy once, but for plots; u falls step by step."""
    found = stand_budget(chain(), DEFAULTS)
    plan = best_plan(found, 60.0)
    assert sum(one.hours for one in plan) <= 60.0
    once = [one.remedy.name for one in plan if not one.remedy.more_plots]
    assert len(once) == len(set(once))
    ends = [found.u_percent, *(one.after_percent for one in plan)]
    assert ends == sorted(ends, reverse=True)
    assert [one.before_percent for one in plan] == pytest.approx(ends[:-1])
    assert best_plan(found, 0.0) == ()


def test_a_plan_is_near_the_best_order():
    """Against every order of three remedies of one hour each, of which there is time for two."""
    some = tuple(
        Remedy(name, name, (Effect(name, "all", 0.2),), hours=1.0)
        for name in ("instrument", "height", "form factor")
    )
    found = stand_budget(chain(), DEFAULTS)
    ours = best_plan(found, 2.0, some)[-1].after_percent
    ends = []
    for first, second, _ in permutations(some):
        errors = remedied(remedied(DEFAULTS, first), second)
        ends.append(stand_budget(chain(), errors).u_percent)
    assert ours == pytest.approx(min(ends), rel=1e-9)


def test_one_plot_is_offered_no_more_plots():
    """Nobody knows what more plots would bring where one says nothing of the spread."""
    gains = what_first(stand_budget(chain(plots=1), DEFAULTS))
    assert not any(one.remedy.more_plots for one in gains)


def test_nothing_to_gain():
    """A budget without errors: no remedy is praised."""
    assert "None of these" in first_words(what_first(stand_budget(chain(plots=1), [])))


def test_refusals():
    """A remedy that does nothing, takes no time, makes worse, or is of no input."""
    with pytest.raises(MeasureError, match="an effect, or more plots"):
        Remedy("x", "x", hours=1.0)
    with pytest.raises(MeasureError, match="some time"):
        Remedy("x", "x", more_plots=1)
    with pytest.raises(MeasureError, match="times"):
        Effect("height", "all", 1.5)
    with pytest.raises(MeasureError, match="did you mean height"):
        Effect("hieght", "all", 0.5)


def test_the_defaults_say_that_they_are_invented():
    """Hours and effects are nobody's measurement; every input of a stand has a remedy."""
    assert all(one.origin == "invented" for one in REMEDIES)
    named = {effect.name for one in REMEDIES for effect in one.effects}
    assert named == {one.name for one in DEFAULTS} - {"length"}


@settings(max_examples=50, deadline=None)
@given(st.floats(0.0, 1.0), st.integers(0, 30), st.floats(0.1, 50.0))
def test_no_remedy_makes_it_worse(times, more, hours):
    """And twice the hours halve the gain for each of them."""
    one = Remedy("x", "x", (Effect("form factor", "all", times),), more_plots=more, hours=hours)
    found = stand_budget(chain(), DEFAULTS)
    (gain,) = what_first(found, [one])
    (slow,) = what_first(found, [replace(one, hours=2 * hours)])
    assert gain.gain_percent >= -1e-12
    assert slow.gain_percent_per_hour == pytest.approx(gain.gain_percent_per_hour / 2)
