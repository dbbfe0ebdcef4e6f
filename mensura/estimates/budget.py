"""The uncertainty budget of one girth by a tape, and of the diameter and the area from it.

Each input stands with what it is taken for; the law of propagation and the propagation of
distributions stand beside each other (:mod:`mensura.estimates.propagation`). The model is the way
back from a reading to the girth: the card's line undone, the band brought to the temperature at
which it holds, half its thickness taken off all round, the tilt undone, the bark taken off.
Assumed: a round stem, a level tape but for the tilt, no gap below the band; where readings are
averaged, the same tilt, card and warmth in all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import hypot, inf, pi, sqrt
from typing import Any

import numpy as np

from mensura.checks import FloatArray, MeasureError, kept, number, whole
from mensura.estimates.distributions import step_parts_cm
from mensura.estimates.propagation import (
    DrawnResult,
    GumResult,
    InputQuantity,
    agreement,
    draw_figures,
    propagate,
)
from mensura.instruments.materials import REFERENCE_C, known_expansion_per_c
from mensura.instruments.tape_card import Card
from mensura.stems.ellipse import circle

#: From a girth in cm to each figure.
FIGURES: dict[str, Callable[[Any], Any]] = {
    "girth_cm": lambda girth: girth,
    "diameter_cm": lambda girth: girth / pi,
    "area_cm2": lambda girth: girth**2 / (4 * pi),
}

#: A tape laid steeper than this is no slip of the hand any more.
MOST_TILT_DEG = 60.0
#: Nodes at which the tilt's law is taken; between them it is drawn through to the last figures.
_NODES = 25


@dataclass(frozen=True)
class BudgetLine:
    """One input's part in one figure's uncertainty.

    input: the quantity; sensitivity: figure for each unit of it, 0 for a tilt; contribution: what
    it brings to the figure's standard uncertainty, in the figure's unit; shift: what it adds to
    the figure on average, which is taken off, in the figure's unit.
    """

    input: InputQuantity
    sensitivity: float
    contribution: float
    shift: float


@dataclass(frozen=True)
class FigureBudget:
    """The budget of one figure: a girth, a diameter or a sectional area, in its own unit.

    figure: "girth_cm", "diameter_cm" or "area_cm2"; gum: by the law of propagation; drawn: by
    draws; lines: one for each input, the largest contribution first; agree: whether the two ways
    agree within half a unit of the second figure of u [JCGM101, clause 8], None where the draws
    are too few to tell; tolerance: that half;
    as_read: the figure with every input at its estimate, before any mean is taken off.
    """

    figure: str
    gum: GumResult
    drawn: DrawnResult
    lines: tuple[BudgetLine, ...]
    agree: bool | None
    tolerance: float
    as_read: float

    @property
    def shift(self) -> float:
        """By how much the draws' mean lies above the figure as read, in the figure's unit."""
        return self.drawn.value - self.as_read


@dataclass(frozen=True)
class GirthModel:
    """The way back from a reading to the girth, as a function of what is unsure in it.

    girth_cm: as it was read; inputs: what is unsure, in the order of the function; card: of the
    tape, or None; expansion_per_c: of the band; reference_c: where the band holds; tilt_up_to_deg:
    bound of the tilt.
    """

    girth_cm: float
    inputs: tuple[InputQuantity, ...]
    card: Card | None = None
    expansion_per_c: float = 0.0
    reference_c: float = REFERENCE_C
    tilt_up_to_deg: float = 0.0

    def __call__(self, *values: Any) -> Any:
        """The girth in cm.

        values: of the inputs, in their order.
        """
        given = dict(zip((one.name for one in self.inputs), values, strict=True))
        told = given.get("resolution", self.girth_cm) + given.get("hand", 0.0)
        told = told + given.get("rounding", 0.0)
        if self.card is not None:
            told = (told - self.card.start_cm) / self.card.rise - self._correction_cm
        told = told + given.get("card", 0.0) + given.get("reference", 0.0)
        if "temperature" in given:
            told = told * (1 + self.expansion_per_c * (given["temperature"] - self.reference_c))
        if "thickness" in given:
            told = told - pi * given["thickness"]
        if "tilt" in given:
            told = told * untilted(given["tilt"], self.tilt_up_to_deg)
        if "bark" in given:
            told = told - 2 * pi * given["bark"]
        return told

    @property
    def _correction_cm(self) -> float:
        assert self.card is not None
        return (self.girth_cm - self.card.start_cm) / self.card.rise - self.girth_cm


def untilted(tilt_deg: Any, tilt_up_to_deg: float) -> Any:
    """The girth of a round stem over the length of a tape that lies tilted: 1 or less.

    tilt_deg: from 0 to the bound; tilt_up_to_deg: the bound. A ratio. The package's own law
    (:meth:`mensura.stems.ellipse.Ellipse.oblique_girth_cm`), taken at some angles and drawn
    through by a polynomial in the square of the angle, which for draws is ten times as quick.

    >>> round(float(1 / untilted(6.0, 6.0)), 6)
    1.002756
    """
    coefficients = _tilt_law(float(tilt_up_to_deg))
    place = np.square(tilt_deg) * (2 / tilt_up_to_deg**2) - 1
    return np.polynomial.chebyshev.chebval(place, coefficients)


@lru_cache(maxsize=64)
def _tilt_law(tilt_up_to_deg: float) -> FloatArray:
    nodes = np.polynomial.chebyshev.chebpts1(_NODES)
    angles = tilt_up_to_deg * np.sqrt((nodes + 1) / 2)
    law = 1 / np.asarray(circle(1 / pi).oblique_girth_cm(angles))
    found = np.polynomial.chebyshev.chebfit(nodes, law, _NODES - 1)
    large = np.flatnonzero(np.abs(found) > 1e-16)
    return kept(np.asarray(found[: large[-1] + 1]))


def girth_model(
    girth_cm: float,
    *,
    resolution_cm: float = 0.0,
    tilt_up_to_deg: float = 0.0,
    hand_sd_cm: float = 0.0,
    hand_degrees_of_freedom: float = inf,
    readings: int = 1,
    card: Card | None = None,
    card_u_cm: float = 0.0,
    temperature_range_c: tuple[float, float] | None = None,
    material: str | None = None,
    expansion_per_c: float | None = None,
    thickness_cm: float = 0.0,
    thickness_u_cm: float = 0.0,
    bark_cm: float = 0.0,
    bark_u_cm: float = 0.0,
) -> GirthModel:
    """What is unsure in a girth, and the way back to it. Parameters as for :func:`girth_budget`.

    girth_cm, resolution_cm, tilt_up_to_deg, hand_sd_cm, hand_degrees_of_freedom, readings, card,
    temperature_range_c, material, expansion_per_c, thickness_cm, thickness_u_cm, bark_cm,
    bark_u_cm: see there; card_u_cm: of a card's line, where its correction is already made and no
    card is given. Raises MeasureError.

    >>> [one.name for one in girth_model(126.3, resolution_cm=1, tilt_up_to_deg=6).inputs]
    ['resolution', 'tilt']
    """
    girth = float(number(girth_cm, "girth_cm", "cm", above=0.0, at_most=20000.0))

    def spread(value: float, field: str, unit: str = "cm", most: float = girth) -> float:
        return float(number(value, field, unit, at_least=0.0, at_most=most))

    step = spread(resolution_cm, "resolution_cm")
    tilt = spread(tilt_up_to_deg, "tilt_up_to_deg", "deg", MOST_TILT_DEG)
    one_hand = spread(hand_sd_cm, "hand_sd_cm")
    count = int(whole(readings, "readings", at_least=1, at_most=1000))
    stays, averages = step_parts_cm(step, one_hand, count)
    inputs: list[InputQuantity] = []

    def unsure(name: str, unit: str, estimate: float, u: float, *how: Any) -> None:
        if u > 0 or estimate != 0:
            inputs.append(InputQuantity(name, unit, estimate, u, *how))

    if step:
        unsure("resolution", "cm", girth, stays, "rectangular")
        unsure("rounding", "cm", 0.0, averages)
    unsure("tilt", "deg", 0.0, tilt / sqrt(12), "tilt")
    free = float(hand_degrees_of_freedom)
    unsure("hand", "cm", 0.0, one_hand / sqrt(count), "student" if free < inf else "normal", free)
    if card is not None:
        inputs += _card_inputs(girth, card)
    else:
        unsure("card", "cm", 0.0, spread(card_u_cm, "card_u_cm"))
    expansion, reference = 0.0, REFERENCE_C
    if temperature_range_c is not None:
        expansion = _expansion(material, expansion_per_c)
        low, high = (
            float(number(one, "temperature_range_c", "°C", at_least=-60.0, at_most=80.0))
            for one in temperature_range_c
        )
        if low > high:
            raise MeasureError(
                "temperature_range_c", f"{low:g} to {high:g}", "", "the lower temperature first"
            )
        if card is not None and card.temperature_c is not None:
            reference = float(card.temperature_c)
        u = (high - low) / sqrt(12)
        inputs.append(InputQuantity("temperature", "°C", (low + high) / 2, u, "rectangular"))
    widest = girth / (2 * pi)
    thick = spread(thickness_cm, "thickness_cm", most=widest / 2)
    unsure("thickness", "cm", thick, spread(thickness_u_cm, "thickness_u_cm", most=widest / 2))
    bark = spread(bark_cm, "bark_cm", most=widest / 2)
    unsure("bark", "cm", bark, spread(bark_u_cm, "bark_u_cm", most=widest / 2))
    if not any(one.standard_uncertainty > 0 for one in inputs):
        raise MeasureError(
            "resolution_cm", None, "",
            "something that is unsure: a step, a tilt, a hand's spread, a card or a range",
        )  # fmt: skip
    return GirthModel(girth, tuple(inputs), card, expansion, reference, tilt)


def _card_inputs(girth_cm: float, card: Card) -> list[InputQuantity]:
    """What the card corrects with its line's uncertainty, and that of what it was held against.

    The reference's part is no part of the line's degrees of freedom: it stands for itself.
    """
    if card.kind != "tape":
        raise MeasureError("card", card.kind, "", "a card of a tape: a girth is read by one")
    u = card.u_true_cm(girth_cm)
    if u is None:
        raise MeasureError(
            "card", f"of {len(card.marks)} marks", "",
            "three or more: two always lie on a line, and leave its uncertainty unknown",
        )  # fmt: skip
    true = float(card.true_cm(girth_cm))
    reference = hypot(card.reference_u_cm, true * card.reference_u_percent / 100)
    line, free = sqrt(max(u**2 - reference**2, 0.0)), float(card.degrees_of_freedom)
    kind = "student" if free < inf else "normal"
    found = [InputQuantity("card", "cm", true - girth_cm, line, kind, free)]
    if reference > 0:
        found.append(InputQuantity("reference", "cm", 0.0, reference))
    return found


def _expansion(material: str | None, expansion_per_c: float | None) -> float:
    if expansion_per_c is not None:
        return float(
            number(expansion_per_c, "expansion_per_c", "per °C", at_least=-1e-3, at_most=1e-3)
        )
    if material is None:
        raise MeasureError(
            "material", None, "", "a material, or an expansion, beside a range of temperatures"
        )
    return known_expansion_per_c(material)


def girth_budget(
    girth_cm: float,
    *,
    resolution_cm: float = 0.0,
    tilt_up_to_deg: float = 0.0,
    hand_sd_cm: float = 0.0,
    card: Card | None = None,
    temperature_range_c: tuple[float, float] | None = None,
    material: str | None = None,
    expansion_per_c: float | None = None,
    draws: int = 1_000_000,
    seed: int = 1,
    readings: int = 1,
    hand_degrees_of_freedom: float = inf,
    thickness_cm: float = 0.0,
    thickness_u_cm: float = 0.0,
    bark_cm: float = 0.0,
    bark_u_cm: float = 0.0,
    correlations: Mapping[tuple[str, str], float] | None = None,
    told: Callable[[int], None] | None = None,
) -> dict[str, FigureBudget]:
    """The budget of a girth, a diameter and an area: one of each, by the figure's name.

    girth_cm: as it was read; resolution_cm: distance of two marks; tilt_up_to_deg: the angle lies
    between 0 and this, each alike; hand_sd_cm: spread of the hand's readings; card: of the tape,
    whose correction is made; temperature_range_c: of the band, each alike; material,
    expansion_per_c: of the band; draws, seed: of the propagation of distributions; readings: how
    many were averaged, which makes the hand's part smaller, and the step's as far as the hand
    spreads (:func:`step_parts_cm`): what of the step stays is then "resolution", what averages is
    "rounding", taken for rectangular and normal: approximations of shape, with which an interval
    holds 94 to 98 of a hundred; hand_degrees_of_freedom: of its spread; thickness_cm,
    thickness_u_cm: of the band, and how unsure; bark_cm, bark_u_cm: thickness of bark to be taken
    off, and how unsure, for figures under bark; correlations: of two inputs, by their names; told:
    is told now and then how many are drawn. Raises MeasureError.
    Source of the two ways: [GUM1995], [JCGM101].

    >>> found = girth_budget(126.3, resolution_cm=1, tilt_up_to_deg=6, draws=100_000)["girth_cm"]
    >>> round(found.gum.value, 2), round(found.gum.u, 2), [one.input.name for one in found.lines]
    (126.19, 0.31, ['resolution', 'tilt'])
    """
    model = girth_model(
        girth_cm,
        resolution_cm=resolution_cm,
        tilt_up_to_deg=tilt_up_to_deg,
        hand_sd_cm=hand_sd_cm,
        card=card,
        temperature_range_c=temperature_range_c,
        material=material,
        expansion_per_c=expansion_per_c,
        readings=readings,
        hand_degrees_of_freedom=hand_degrees_of_freedom,
        thickness_cm=thickness_cm,
        thickness_u_cm=thickness_u_cm,
        bark_cm=bark_cm,
        bark_u_cm=bark_u_cm,
    )
    matrix = _matrix(model.inputs, correlations or {})

    def models(*values: Any) -> list[Any]:
        girth = model(*values)
        return [figure(girth) for figure in FIGURES.values()]

    drawn = draw_figures(models, model.inputs, matrix, draws=draws, seed=seed, told=told)
    return {
        name: _figure(name, model, matrix, one) for name, one in zip(FIGURES, drawn, strict=True)
    }


def _matrix(
    inputs: tuple[InputQuantity, ...], correlations: Mapping[tuple[str, str], float]
) -> FloatArray | None:
    if not correlations:
        return None
    names = [one.name for one in inputs]
    matrix = np.eye(len(names))
    for (first, second), value in correlations.items():
        for name in (first, second):
            if name not in names:
                raise MeasureError("correlation", name, "", "one of: " + ", ".join(names))
        if first == second:
            raise MeasureError("correlation", first, "", "two different inputs")
        a, b = names.index(first), names.index(second)
        checked = number(value, "correlation", "", at_least=-1.0, at_most=1.0)
        matrix[a, b] = matrix[b, a] = checked
    return matrix


def law_of_figure(
    name: str, model: GirthModel, matrix: FloatArray | None = None
) -> tuple[GumResult, float]:
    """The law of propagation for one figure, and the figure as read.

    name: one of FIGURES; model: of the girth; matrix: of correlations. Both in the figure's unit.
    """
    figure = FIGURES[name]
    law = propagate(lambda *values: figure(model(*values)), model.inputs, matrix)
    return law, float(figure(model(*(one.estimate for one in model.inputs))))


def _figure(
    name: str, model: GirthModel, matrix: FloatArray | None, drawn: DrawnResult
) -> FigureBudget:
    law, as_read = law_of_figure(name, model, matrix)
    rows = zip(model.inputs, law.sensitivities, law.contributions, law.shifts, strict=True)
    lines = sorted((BudgetLine(*row) for row in rows), key=lambda one: -one.contribution)
    agree, tolerance = agreement(law, drawn)
    return FigureBudget(name, law, drawn, tuple(lines), agree, tolerance, as_read)
