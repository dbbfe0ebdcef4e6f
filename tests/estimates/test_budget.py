"""A girth's budget: against a propagation of its own kind, by hand, on many made-up readings."""

from __future__ import annotations

from math import cos, inf, pi, radians, sin, sqrt
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ellipe

from mensura.checks import MeasureError
from mensura.estimates import area_from_girth_cm2, u_resolution_cm
from mensura.estimates.budget import FIGURES, girth_budget, girth_model, untilted
from mensura.instruments import Lay, Tape
from mensura.instruments.tape_card import card as card_of
from mensura.stems import circle

WHOLE: dict[str, Any] = {
    "resolution_cm": 1.0,
    "tilt_up_to_deg": 6.0,
    "hand_sd_cm": 0.3,
    "temperature_range_c": (5.0, 35.0),
    "material": "plastic",
    "thickness_cm": 0.04,
    "thickness_u_cm": 0.01,
}
MARKS = [50, 80, 100, 120, 150, 180, 200]
READ = [50.9, 80.8, 100.3, 120.4, 150.0, 179.9, 199.6]


def tilted(angle_rad: Any) -> Any:
    """Perimeter of the cut through a round stem over its girth, by the ellipse's own integral."""
    return 2 / pi / np.cos(angle_rad) * ellipe(np.sin(angle_rad) ** 2)


def own_draws(count: int, degrees: float) -> Any:
    """The same budget with another generator, in a few lines: no code of the package in it."""
    g = np.random.Generator(np.random.MT19937(20))
    told = 126.3 + g.uniform(-0.5, 0.5, count) + g.normal(0, 0.3, count)
    line = np.polynomial.Polynomial.fit(MARKS, READ, 1).convert().coef
    off = np.array(READ) - line[0] - line[1] * np.array(MARKS)
    s = sqrt((off**2).sum() / (len(MARKS) - 2))
    true = (126.3 - line[0]) / line[1]
    mean = np.mean(MARKS)
    among = ((np.array(MARKS) - mean) ** 2).sum()
    u_line = s * sqrt(1 / len(MARKS) + (true - mean) ** 2 / among) / line[1]
    way = (told - line[0]) / line[1] + u_line * g.standard_t(degrees, count)
    way *= 1 + 80e-6 * (g.uniform(5, 35, count) - 20)
    way -= pi * g.normal(0.04, 0.01, count)
    return way / tilted(np.radians(g.uniform(0, 6, count)))


def test_against_a_propagation_of_its_own_kind() -> None:
    """Every input at once: u within 1 %, the interval's ends within their sampling error."""
    card = card_of(MARKS, READ, resolution_cm=0.0)
    found = girth_budget(126.3, card=card, **WHOLE)
    girth = own_draws(1_000_000, card.degrees_of_freedom)
    for name, figure in FIGURES.items():
        drawn, own = found[name].drawn, figure(girth)
        assert drawn.u == pytest.approx(own.std(), rel=0.01)
        assert drawn.value == pytest.approx(own.mean(), abs=5 * own.std() / 1000)
        ends = np.quantile(own, [0.025, 0.975])
        for end, exact, error in zip(drawn.interval, ends, drawn.interval_errors, strict=True):
            assert abs(end - exact) < 5 * error  # of both: √2 times 3.5 errors


def test_the_model_undoes_the_tape() -> None:
    """What a tape in a known condition tells of a round stem comes back as its girth."""
    tape = Tape(thickness_cm=0.1, temperature_c=33.0, material="plastic")
    told = tape.read(circle(40), Lay(tilt_deg=5.0)).reading_cm
    model = girth_model(
        told,
        resolution_cm=1,
        tilt_up_to_deg=9,
        thickness_cm=0.1,
        temperature_range_c=(20, 40),
        material="plastic",
    )
    values = {"resolution": told, "tilt": 5.0, "temperature": 33.0, "thickness": 0.1}
    girth = model(*(values[one.name] for one in model.inputs))
    assert girth == pytest.approx(40 * pi, rel=1e-10)


@pytest.mark.parametrize("bound", [0.5, 6.0, 20.0, 60.0])
def test_the_law_of_the_tilt(bound: float) -> None:
    """The polynomial is the ellipse's integral to the last figures; mean and spread of what a tilt
    does are those of a quadrature."""
    angles = np.linspace(0, bound, 101)
    assert untilted(angles, bound) == pytest.approx(1 / tilted(np.radians(angles)), abs=2e-13)
    found = girth_budget(126.3, tilt_up_to_deg=bound, draws=1000)["girth_cm"]
    (line,) = found.lines
    mean, square = (
        quad(lambda a, power=power: (126.3 / tilted(radians(a))) ** power / bound, 0, bound)[0]
        for power in (1, 2)
    )
    assert found.gum.value == pytest.approx(mean, rel=1e-9)
    assert line.shift == pytest.approx(126.3 - mean, rel=1e-6)
    assert line.contribution == pytest.approx(sqrt(max(square - mean**2, 0)), rel=1e-3)
    assert line.sensitivity == 0


def test_the_tilt_by_hand() -> None:
    """A small tilt a adds a quarter of a² of the girth; evenly up to b that is b²/12 on average,
    and its standard deviation b²/√180 (moments of a square, by hand)."""
    b = radians(3)
    (line,) = girth_budget(100.0, tilt_up_to_deg=3, draws=1000)["girth_cm"].lines
    assert line.shift == pytest.approx(100 * b**2 / 12, rel=2e-3)
    assert line.contribution == pytest.approx(100 * b**2 / sqrt(180), rel=3e-3)
    assert cos(b) ** 2 + sin(b) ** 2 == pytest.approx(1)


def test_step_and_hand_by_hand() -> None:
    """A step of 1 cm and a hand of 0.3 cm: √(1/12 + 0.09); a third of it for the diameter, and
    g/2π for the area; a hand known from five readings leaves sixteen degrees of freedom."""
    found = girth_budget(126.3, resolution_cm=1, hand_sd_cm=0.3, draws=1000)
    u = sqrt(1 / 12 + 0.09)
    assert found["girth_cm"].gum.u == pytest.approx(u, rel=1e-10)
    assert found["diameter_cm"].gum.u == pytest.approx(u / pi, rel=1e-10)
    assert found["area_cm2"].gum.u == pytest.approx(u * 126.3 / (2 * pi), rel=1e-9)
    assert found["area_cm2"].as_read == pytest.approx(area_from_girth_cm2(126.3))
    step = next(one for one in found["girth_cm"].lines if one.input.name == "resolution")
    assert step.contribution == pytest.approx(u_resolution_cm(1), rel=1e-10)
    few = girth_budget(
        126.3, resolution_cm=1, hand_sd_cm=0.3, hand_degrees_of_freedom=4, draws=1000
    )["girth_cm"].gum
    assert few.degrees_of_freedom == pytest.approx(4 * u**4 / 0.3**4, rel=1e-9)
    assert few.k > found["girth_cm"].gum.k


def averaged_errors(step: float, hand: float, readings: int, count: int = 60_000) -> Any:
    """What the mean of some rounded readings of one stem is off: its place in the step any."""
    g = np.random.Generator(np.random.SFC64(readings))
    true = g.uniform(0, 50 * step, count)
    told = true[:, None] + hand * g.standard_normal((count, readings))
    return (np.round(told / step) * step).mean(axis=1) - true


@pytest.mark.parametrize("readings", [1, 2, 3, 10])
@pytest.mark.parametrize(
    ("step", "hand"),
    [(1.0, 0.0), (1.0, 0.05), (1.0, 0.15), (1.0, 0.3), (0.5, 0.05), (2.0, 0.5), (0.1, 0.1)],
)
def test_the_step_under_averaging(step: float, hand: float, readings: int) -> None:
    """Against rounded readings, drawn: u within 2 %, whether the hand repeats a figure or not."""
    found = girth_budget(
        126.3, resolution_cm=step, hand_sd_cm=hand, readings=readings, draws=100_000
    )["girth_cm"]
    seen = averaged_errors(step, hand, readings)
    assert found.gum.u == pytest.approx(seen.std(), rel=0.02)
    assert found.drawn.u == pytest.approx(seen.std(), rel=0.02)


@pytest.mark.parametrize("hand", [0.05, 0.1, 0.15, 0.2, 0.3])
@pytest.mark.parametrize("readings", [2, 3, 10])
def test_the_shape_of_an_averaged_step(hand: float, readings: int) -> None:
    """Normal and rectangular parts are an approximation of shape: the interval of them still holds
    from 94 to 98 of a hundred means of rounded readings."""
    found = girth_budget(126.3, resolution_cm=1, hand_sd_cm=hand, readings=readings, draws=100_000)[
        "girth_cm"
    ].drawn.interval
    off = averaged_errors(1.0, hand, readings)
    inside = np.mean((found[0] - 126.3 <= off) & (off <= found[1] - 126.3))
    assert 0.94 < inside < 0.98


def test_averaging_by_hand() -> None:
    """Nine readings leave a third of the hand's part. A hand that never moves leaves all of the
    step, one of half a step a third of it; the tilt stays whatever the count."""
    parts = {}
    for hand, readings in ((0.5, 1), (0.5, 9), (0.0, 9)):
        found = girth_budget(
            126.3, resolution_cm=1, hand_sd_cm=hand, tilt_up_to_deg=6, readings=readings, draws=1000
        )["girth_cm"]
        parts[hand, readings] = {one.input.name: one.contribution for one in found.lines}
    one, nine, still = parts.values()
    assert nine["hand"] == pytest.approx(one["hand"] / 3)
    assert nine["rounding"] == pytest.approx(u_resolution_cm(1) / 3, rel=1e-2)
    assert nine["resolution"] < 0.03
    assert still["resolution"] == pytest.approx(one["resolution"]) == u_resolution_cm(1)
    assert set(still) == {"resolution", "tilt"}
    assert "rounding" not in one
    assert one["tilt"] == pytest.approx(nine["tilt"])


def test_a_card_is_applied_and_its_line_counted() -> None:
    """The reading is corrected, and the line's uncertainty is a Student with its own degrees."""
    card = card_of(MARKS, READ, resolution_cm=0.1)
    found = girth_budget(126.3, card=card, draws=100_000)["girth_cm"]
    (line,) = found.lines
    assert found.as_read == pytest.approx(card.true_cm(126.3))
    assert line.contribution == pytest.approx(card.u_true_cm(126.3))
    assert line.input.degrees_of_freedom == card.degrees_of_freedom
    assert line.input.estimate == pytest.approx(card.true_cm(126.3) - 126.3)


def test_bark_is_taken_off() -> None:
    """2π times its thickness, and 2π times its spread."""
    found = girth_budget(126.3, bark_cm=1.0, bark_u_cm=0.2, draws=1000)["girth_cm"]
    assert found.gum.value == pytest.approx(126.3 - 2 * pi)
    assert found.gum.u == pytest.approx(0.4 * pi, rel=1e-9)


def test_inputs_that_know_of_each_other() -> None:
    """A warm band and a hand that reads large when it is warm: the law, and the draws."""
    how = {"hand_sd_cm": 0.1, "temperature_range_c": (-20, 60), "expansion_per_c": 80e-6}
    alone = girth_budget(126.3, draws=200_000, **how)["girth_cm"]
    joined = girth_budget(126.3, draws=200_000, correlations={("hand", "temperature"): 0.8}, **how)[
        "girth_cm"
    ]
    a, b = (one.contribution for one in alone.lines)
    assert joined.gum.u == pytest.approx(sqrt(a * a + b * b + 1.6 * a * b), rel=1e-6)
    assert joined.drawn.u == pytest.approx(joined.gum.u, rel=0.01)
    assert joined.gum.u > 1.2 * alone.gum.u


def test_agreement_is_told_apart() -> None:
    """A normal hand alone agrees; a step alone does not, since a rectangle has no tails."""
    hand = girth_budget(126.3, hand_sd_cm=0.3)["girth_cm"]
    step = girth_budget(126.3, resolution_cm=1)["girth_cm"]
    assert hand.agree
    assert not step.agree
    assert step.drawn.interval == pytest.approx((125.825, 126.775), abs=2e-3)
    assert hand.tolerance == 0.005


def test_few_draws_do_not_guess() -> None:
    """Whatever the seed, few draws never say the contrary of very many, which of a hand, a step
    and a tilt say no; and of a hand that is as good as alone, yes."""
    for how, truth in (
        ({"hand_sd_cm": 0.3, "resolution_cm": 1.0, "tilt_up_to_deg": 6.0}, False),
        ({"hand_sd_cm": 0.3, "resolution_cm": 0.1}, True),
    ):
        assert girth_budget(126.3, draws=4_000_000, **how)["girth_cm"].agree is truth
        for draws in (2_000, 20_000, 200_000):
            said = [
                girth_budget(126.3, draws=draws, seed=seed, **how)["girth_cm"].agree
                for seed in range(30)
            ]
            assert said.count(not truth) <= 2
            assert (None in said) == (draws < 200_000 or said.count(truth) < 30)


def test_the_interval_holds_what_it_says() -> None:
    """Of 40,000 made-up readings, tilted, by an unsteady hand, to the centimetre, the interval
    holds the true girth in 95 of a hundred."""
    g = np.random.default_rng(11)
    true = g.uniform(110, 140, 40_000)
    way = true * tilted(np.radians(g.uniform(0, 10, true.size))) + g.normal(0, 0.4, true.size)
    read = np.round(way)
    found = girth_budget(125.0, resolution_cm=1, tilt_up_to_deg=10, hand_sd_cm=0.4, draws=200_000)[
        "girth_cm"
    ]
    low, high = (end / 125.0 for end in found.drawn.interval)
    inside = np.mean((read * low <= true) & (true <= read * high))
    assert 0.94 < inside < 0.96
    assert abs(np.mean(read * found.drawn.value / 125.0 - true)) < 0.02


@pytest.mark.parametrize(
    ("words", "how"),
    [
        ("girth_cm is 0 cm", {"girth_cm": 0.0, "hand_sd_cm": 1.0}),
        ("hand_sd_cm is -0.1 cm", {"hand_sd_cm": -0.1}),
        ("something that is unsure", {}),
        ("draws is 50000001", {"hand_sd_cm": 0.1, "draws": 50_000_001}),
        ("tilt_up_to_deg is 61 deg", {"tilt_up_to_deg": 61.0}),
        ("material is missing", {"temperature_range_c": (5, 35)}),
        ("no source gives one", {"temperature_range_c": (5, 35), "material": "cloth"}),
        ("the lower temperature first", {"temperature_range_c": (35, 5), "material": "steel"}),
        ("three or more", {"card": card_of([50, 100], [50.5, 100.2])}),
        ("a card of a tape", {"card": card_of(MARKS, READ, kind="calipers", resolution_cm=0.1)}),
        ("one of: hand", {"hand_sd_cm": 0.1, "correlations": {("hand", "card"): 0.5}}),
        ("readings is 0", {"hand_sd_cm": 0.1, "readings": 0}),
    ],
)
def test_what_cannot_be_is_refused(words: str, how: dict[str, Any]) -> None:
    with pytest.raises(MeasureError) as caught:
        girth_budget(**({"girth_cm": 126.3} | how))
    assert words in str(caught.value)


def test_a_hand_that_is_known_is_normal() -> None:
    """Without degrees of freedom it is normal, with them a Student."""
    kinds = [
        girth_model(126.3, hand_sd_cm=0.3, hand_degrees_of_freedom=free).inputs[0].distribution
        for free in (inf, 4)
    ]
    assert kinds == ["normal", "student"]
