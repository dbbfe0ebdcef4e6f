"""Both ways of propagation against the published examples of the GUM and of its supplement.

The examples' figures are from memory where it is said; each was worked out again by other code
before it came here.
"""

from __future__ import annotations

from math import cos, log, pi, sin, sqrt, tan
from typing import Any

import numpy as np
import pytest

from mensura.estimates.propagation import InputQuantity, agreement, propagate, propagate_draws

MANY = 10_000_000

#: Example H.1: an end gauge of 50 mm against a standard; its length in nm [GUM1995].
GAUGE = (
    InputQuantity("standard", "nm", 50_000_623, 25, "student", 18),
    InputQuantity("difference", "nm", 215, sqrt(5.8**2 + 3.9**2 + 6.7**2), "normal", 25.6),
    InputQuantity("unlike expansion", "per °C", 0, 1e-6 / sqrt(3), "rectangular", 50),
    InputQuantity("temperature", "°C", -0.1, sqrt(0.2**2 + 0.5**2 / 2)),
    InputQuantity("expansion", "per °C", 11.5e-6, 2e-6 / sqrt(3), "rectangular"),
    InputQuantity("unlike temperature", "°C", 0, 0.05 / sqrt(3), "rectangular", 2),
)


def gauge_nm(
    standard: Any, difference: Any, unlike: Any, warm: Any, expands: Any, apart: Any
) -> Any:
    return standard + difference - standard * (unlike * warm + expands * apart)


def test_the_end_gauge() -> None:
    """Example H.1: l = 50.000 838 mm; parts of 25, 9.7, 2.9 and 16.6 nm; u = 32 nm, 16 degrees of
    freedom, and 2.92 · 32 nm = 93 nm for 99 % (inputs as coded in an open example, results from
    memory) [GUM1995, H.1]. The supplement writes 16.6 of a wide distribution as we take it."""
    found = propagate(gauge_nm, GAUGE, coverage_percent=99)
    assert found.value == pytest.approx(50_000_838, abs=0.5)
    assert round(found.u) == 32
    assert int(found.degrees_of_freedom) == 16
    assert found.k == pytest.approx(2.92, abs=5e-3)
    assert round(found.k * round(found.u)) == 93
    assert [round(one, 1) for one in found.contributions] == [25.0, 9.7, 2.9, 0.0, 0.0, 16.6]


def test_the_end_gauge_to_the_second_order() -> None:
    """H.1.7: terms of 11.7 and 1.7 nm more make u = 34 nm (from memory) [GUM1995, H.1.7]."""
    found = propagate(gauge_nm, GAUGE, second_order=True)
    assert round(found.u) == 34
    first = propagate(gauge_nm, GAUGE)
    assert found.u**2 - first.u**2 == pytest.approx(11.7**2 + 1.7**2, rel=0.01)


def test_the_end_gauge_by_draws() -> None:
    """Clause 9.5 draws it: mean 838 nm above 50 mm, u = 36 nm (from memory) [JCGM101, 9.5]. Where
    it takes bounds that are themselves unsure, a rectangle of the same standard deviation stands
    here: b²/3 + d²/9 for bounds ±b that may be off by d."""
    unsure = lambda bound, off: sqrt(bound**2 / 3 + off**2 / 9)  # noqa: E731
    inputs = (
        InputQuantity("standard", "nm", 50_000_623, 25, "student", 18),
        InputQuantity("mean of five", "nm", 215, 5.8, "student", 24),
        InputQuantity("known part", "nm", 0, 3.9, "student", 5),
        InputQuantity("chance", "nm", 0, 6.7, "student", 8),
        InputQuantity("unlike expansion", "per °C", 0, unsure(1e-6, 1e-7), "rectangular"),
        InputQuantity("mean temperature", "°C", -0.1, 0.2),
        InputQuantity("swing", "°C", 0, 0.5 / sqrt(2), "arcsine"),
        InputQuantity("expansion", "per °C", 11.5e-6, 2e-6 / sqrt(3), "rectangular"),
        InputQuantity("unlike temperature", "°C", 0, unsure(0.05, 0.025), "rectangular"),
    )

    def model(ls: Any, d: Any, d1: Any, d2: Any, da: Any, t0: Any, t1: Any, a: Any, dt: Any) -> Any:
        return ls + d + d1 + d2 - ls * (da * (t0 + t1) + a * dt) - 5e7

    found = propagate_draws(model, inputs, draws=2_000_000)
    assert round(found.value) == 838
    assert round(found.u) == 36


# ---- correlated inputs: example H.2 ------------------------------------------------------------

#: Five sets of voltage in V, current in mA and phase (from memory), which give Table H.2 again.
SETS = np.array(
    [
        [5.007, 4.994, 5.005, 4.990, 4.999],
        [19.663, 19.639, 19.640, 19.685, 19.678],
        [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    ]
)
IMPEDANCE = {
    "R": (lambda v, i, p: 1000 * v / i * np.cos(p), 127.732, 0.071),
    "X": (lambda v, i, p: 1000 * v / i * np.sin(p), 219.847, 0.295),
    "Z": (lambda v, i, p: 1000 * v / i + 0 * p, 254.260, 0.236),
}


def means_of_five() -> tuple[list[InputQuantity], Any]:
    inputs = [
        InputQuantity(name, unit, row.mean(), row.std(ddof=1) / sqrt(5), "normal", 4)
        for name, unit, row in zip(("V", "I", "phase"), ("V", "mA", "rad"), SETS, strict=True)
    ]
    return inputs, np.corrcoef(SETS)


@pytest.mark.parametrize("name", IMPEDANCE)
def test_means_that_know_of_each_other(name: str) -> None:
    """Example H.2, Table H.3: R, X and Z with their standard uncertainties (from memory), from
    means with correlations of -0.36, 0.86 and -0.65 [GUM1995, H.2]; and by draws of the same."""
    inputs, correlation = means_of_five()
    assert np.round(correlation[[0, 0, 1], [1, 2, 2]], 2) == pytest.approx([-0.36, 0.86, -0.65])
    model, value, u = IMPEDANCE[name]
    found = propagate(model, inputs, correlation)
    assert (found.value, found.u) == (pytest.approx(value, abs=6e-4), pytest.approx(u, abs=7e-4))
    drawn = propagate_draws(model, inputs, correlation, draws=400_000)
    assert drawn.value == pytest.approx(value, abs=2e-3)
    assert drawn.u == pytest.approx(found.u, rel=5e-3)


def test_correlations_of_the_results() -> None:
    """Table H.3: -0.588, -0.485 and 0.993 between R, X and Z (from memory), from the sensitivities
    [GUM1995, H.2]."""
    inputs, correlation = means_of_five()
    spreads = np.array([one.standard_uncertainty for one in inputs])
    slopes = [
        propagate(model, inputs, correlation).sensitivities for model, *_ in IMPEDANCE.values()
    ]
    parts = np.array(slopes) * spreads
    covariance = parts @ correlation @ parts.T
    sd = np.sqrt(np.diag(covariance))
    printed = (covariance / sd / sd[:, None])[[0, 0, 1], [1, 2, 2]]
    assert printed == pytest.approx([-0.588, -0.485, 0.993], abs=5e-4)


def test_sensitivities_by_hand() -> None:
    """Those of H.2 by calculus."""
    inputs, _ = means_of_five()
    v, i, p = (one.estimate for one in inputs)
    by_hand = [1000 / i * cos(p), -1000 * v / i**2 * cos(p), -1000 * v / i * sin(p)]
    found = propagate(IMPEDANCE["R"][0], inputs).sensitivities
    assert found == pytest.approx(by_hand, rel=1e-9)
    assert by_hand[2] == pytest.approx(by_hand[0] * -v * tan(p))


# ---- the supplement's examples -----------------------------------------------------------------


def total(*values: Any) -> Any:
    return sum(values)


@pytest.mark.parametrize(
    ("distribution", "last", "u", "end", "digits", "law"),
    [
        ("normal", 1, 2.0, 3.92, 2, 3.92),
        ("rectangular", 1, 2.0, 3.88, 2, 3.92),
        ("rectangular", 10, 10.1, 17.0, 1, 19.9),
    ],
)
def test_four_inputs_added(
    distribution: str, last: float, u: float, end: float, digits: int, law: float
) -> None:
    """Clause 9.2: four normal inputs, four rectangular ones, and one of these ten times as wide;
    u and the ends of 95 % (from memory) [JCGM101, 9.2.2 to 9.2.4]. The law of propagation gives
    3.92 and 19.9: exact for the first, within half a unit of the second figure of u for the second,
    and far off for the third."""
    inputs = [InputQuantity(name, "", 0, 1, distribution) for name in "abc"]
    inputs.append(InputQuantity("d", "", 0, last, distribution))
    found = propagate_draws(total, inputs, draws=MANY)
    assert round(found.u, 1) == u
    assert [round(abs(one), digits) for one in found.interval] == [end, end]
    by_law = propagate(total, inputs)
    assert round(by_law.expanded, 1 if last > 1 else 2) == law
    assert agreement(by_law, found)[0] == (last == 1)


def test_four_rectangular_inputs_exactly() -> None:
    """Their sum's 97.5 % lies at 2√3·(2 - (3/5)^¼): the corner of a cube of four edges."""
    exact = 2 * sqrt(3) * (2 - 0.6**0.25)
    inputs = [InputQuantity(name, "", 0, 1, "rectangular") for name in "abcd"]
    found = propagate_draws(total, inputs, draws=2_000_000)
    for one, error in zip(found.interval, found.interval_errors, strict=True):
        assert abs(one) == pytest.approx(exact, abs=4 * error)
        assert error < 0.005


def test_a_mass_in_air() -> None:
    """Clause 9.3: u of 0.0754 mg and 95 % from 1.0834 to 1.3825 mg by draws, 0.0539 by the law of
    propagation and 0.0750 with its next terms (from memory; drawn again 1.0838 to 1.3830)
    [JCGM101, 9.3]: the law misses a product of two inputs that are nought on average."""
    inputs = (
        InputQuantity("reference", "mg", 100_000, 0.050),
        InputQuantity("small", "mg", 1.234, 0.020),
        InputQuantity("air", "kg/m³", 1.20, 0.10 / sqrt(3), "rectangular"),
        InputQuantity("weight's density", "kg/m³", 8000, 1000 / sqrt(3), "rectangular"),
        InputQuantity("reference's density", "kg/m³", 8000, 50 / sqrt(3), "rectangular"),
    )

    def model(m: Any, dm: Any, air: Any, weight: Any, reference: Any) -> Any:
        return (m + dm) * (1 + (air - 1.2) * (1 / weight - 1 / reference)) - 100_000

    law, bent = (propagate(model, inputs, second_order=more) for more in (False, True))
    assert (round(law.value, 3), round(law.u, 4)) == (1.234, 0.0539)
    assert law.value - law.expanded == pytest.approx(1.1285, abs=6e-5)
    assert law.value + law.expanded == pytest.approx(1.3395, abs=6e-5)
    assert round(bent.u, 4) == 0.0750
    found = propagate_draws(model, inputs, draws=2_000_000)
    assert found.value == pytest.approx(1.2341, abs=2e-4)
    assert found.u == pytest.approx(0.0754, abs=1.5e-4)
    # published is the shortest interval of a flat distribution: its length is well known, and where
    # it lies is not
    assert np.ptp(found.interval) == pytest.approx(1.3825 - 1.0834, abs=8e-4)
    assert found.interval == pytest.approx((1.0834, 1.3825), abs=1.5e-3)
    assert not agreement(law, found)[0]


@pytest.mark.parametrize(
    ("x", "r", "value", "u", "by_law"),
    [(0, 0, 50, 50, 0), (10, 0, 150, 112, 100), (50, 0, 2550, 502, 500), (0, 0.9, 50, 67, 0)],
)
def test_two_squares_added(x: float, r: float, value: float, u: float, by_law: float) -> None:
    """Clause 9.4: X₁² + X₂² with u = 0.005 each, in millionths: mean and u by draws, and what the
    law of propagation gives (from memory) [JCGM101, 9.4]: squares bend, as areas do."""
    inputs = [InputQuantity("a", "", x * 1e-3, 5e-3), InputQuantity("b", "", 0.0, 5e-3)]
    correlation = np.array([[1, r], [r, 1]])
    model = lambda a, b: 1e6 * (a**2 + b**2)  # noqa: E731
    assert propagate(model, inputs, correlation).u == pytest.approx(by_law, abs=1e-6)
    found = propagate_draws(model, inputs, correlation, draws=2_000_000)
    assert (round(found.value), round(found.u)) == (value, u)
    if not x and not r:  # an exponential distribution: -2u²·ln(1 - p)
        ends = [-50 * log(1 - p) for p in (0.025, 0.975)]
        assert found.interval == pytest.approx(ends, rel=6e-3)


def test_pi_is_what_it_is() -> None:
    """A girth's diameter is as unsure as the girth over π: 355/113 (from memory)."""
    found = propagate(lambda g: g / pi, [InputQuantity("girth", "cm", 125, 3.55)])
    assert found.u == pytest.approx(1.13, rel=1e-6)
