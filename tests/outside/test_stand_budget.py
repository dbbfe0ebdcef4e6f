"""A hectare's budget against sums of squares that anyone can do again, and the general law."""

from math import hypot, sqrt

import numpy as np
import pytest

from mensura.estimates.input_errors import InputError
from mensura.estimates.propagation import InputQuantity, propagate
from mensura.estimates.stand import Plots, Trees, stand
from mensura.estimates.stand_budget import stand_budget
from mensura.estimates.stand_chain import Chain
from mensura.estimates.tree_volume import FormFactor

RULE = FormFactor(0.45).unchecked_m3


def sample(diameter_cm, height_m, plot, **plots):
    """A chain over some trees."""
    across, tall = np.asarray(diameter_cm, float), np.asarray(height_m, float)
    where = np.asarray(plot)
    names = tuple(str(one) for one in range(int(where.max()) + 1))
    trees = Trees(where, across, tall, RULE(across, tall), np.zeros(where.size, int))
    return Chain(trees, Plots(names, **plots), RULE)


@pytest.mark.parametrize(
    ("form_percent", "u_percent"), [(0.0, hypot(3.0, 2.9)), (5.0, sqrt(9 + 8.41 + 25))]
)
def test_one_tree_of_g_h_f(form_percent, u_percent):
    """V = g·h·f: (2·1.5 %)² + (2.9 %)² + u_f², 4.17 % and 6.51 %, and f rules it.

    A theorem; 1.5 % and 2.9 % are of repeated readings [Luoma2017].
    """
    chain = sample([30.0], [25.0], [0], area_m2=np.array([500.0]))
    errors = [
        InputError("hand", 1.5, "%", "tree"),
        InputError("height", 2.9, "%", "tree"),
        InputError("form factor", form_percent, "%", "all"),
    ]
    found = stand_budget(chain, errors)
    assert found.u_percent == pytest.approx(u_percent, rel=1e-6)
    assert round(found.u_percent, 2) == (6.51 if form_percent else 4.17)
    if form_percent:
        assert next(iter(found.by_input())) == "form factor"


def test_twenty_trees_and_what_does_not_average_out():
    """Basal area of 20 equal trees: 3 %/√20 = 0.67 % anew for each, 2.0 % where 1 % is for all."""
    for error, u_percent, common in (
        (InputError("hand", 1.5, "%", "tree"), 3 / sqrt(20), 0.0),
        (InputError("instrument", 1.0, "%", "all"), 2.0, 2.0),
    ):
        flat = sample([30.0] * 20, [25.0] * 20, [0] * 20, area_m2=np.array([500.0]))
        chain = Chain(flat.trees, flat.plots, RULE, "basal_area_m2")
        found = stand_budget(chain, [error])
        assert found.u_percent == pytest.approx(u_percent, rel=1e-6)
        assert 100 * found.common_u / found.value == pytest.approx(common, rel=1e-6)


@pytest.mark.parametrize("laid", ["one area", "areas", "gauge"])
def test_the_general_law_gives_the_same(laid):
    """The law of propagation [GUM1995], over every tree's error as an input of its own.

    The figure is worked out anew by `stand`, which knows nothing of slopes. Three plots, seven
    trees, errors of each kind; the sampling is left out of both.
    """
    across = np.array([22.0, 31.0, 44.0, 27.0, 38.0, 19.0, 51.0])
    tall = np.array([18.0, 22.0, 27.0, 20.0, 24.0, 15.0, 29.0])
    where = np.array([0, 0, 0, 1, 1, 2, 2])
    laying = {
        "one area": {"area_m2": np.array([400.0])},
        "areas": {"area_m2": np.array([300.0, 500.0, 400.0])},
        "gauge": {"factor_m2_per_ha": np.array([2.0])},
    }[laid]
    chain = sample(across, tall, where, **laying)
    errors = [
        InputError("instrument", 0.4, "%", "all"),
        InputError("hand", 0.9, "cm", "tree"),
        InputError("height", 1.1, "m", "plot"),
        InputError("form factor", 4.0, "%", "all"),
        InputError("plot area", 2.0, "%", "plot"),
    ]

    def plot_alone(at, read, high, form, ground):
        here = where == at
        trees = Trees(
            where[here] * 0, read[here], high[here], RULE(read, high)[here] * (1 + form),
            np.zeros(int(here.sum()), int),
        )  # fmt: skip
        return stand(trees, Plots(("0",), **ground)).per_hectare.volume_m3.value

    def figure_once(same, form, *rest):
        hand, height, area = np.array(rest[:7]), np.array(rest[7:10]), np.array(rest[10:13])
        read, high = across * (1 + same) + hand / np.pi, tall + height[where]
        (name, ground), *_ = laying.items()
        ground = np.broadcast_to(ground / (1 + area) if laid == "gauge" else ground * (1 + area), 3)
        each = [plot_alone(at, read, high, form, {name: ground[[at]]}) for at in range(3)]
        return np.average(each, weights=ground if laid == "areas" else None)

    def figure(*values):
        return np.array([figure_once(*one) for one in np.broadcast(*values)])

    spreads = [0.004, 0.04, *[0.9] * 7, *[1.1] * 3, *[0.02] * 3]
    inputs = [InputQuantity(str(at), "", 0.0, u) for at, u in enumerate(spreads)]
    law = propagate(lambda *values: np.squeeze(figure(*values)), inputs)
    found = stand_budget(chain, errors)
    own = sum(one.u**2 for one in found.shares if one.name == "sampling")
    assert found.value == pytest.approx(law.value, rel=1e-12)
    assert sqrt(found.u**2 - own) == pytest.approx(law.u, rel=1e-5)


def test_the_sampling_is_the_standard_error_of_plots():
    """Without other errors u is what `stand` says of plots alone, and so is the interval."""
    rng = np.random.default_rng(5)
    where = rng.integers(0, 9, 80)
    across, tall = rng.uniform(15, 50, 80), rng.uniform(12, 30, 80)
    for laying in ({"area_m2": np.array([500.0])}, {"area_m2": rng.uniform(200, 800, 9)}):
        chain = sample(across, tall, where, **laying)
        seen = stand(chain.trees, chain.plots).per_hectare.volume_m3
        found = stand_budget(chain, [])
        assert found.value == pytest.approx(seen.value, rel=1e-12)
        assert found.u == pytest.approx(seen.se, rel=1e-12)
        assert found.interval == pytest.approx(seen.interval, rel=1e-9)
