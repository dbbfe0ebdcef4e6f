"""The uncertainty budget of one girth by a tape, and of the diameter and the area from it.

Each input stands with what it is taken for; the law of propagation and the propagation of
distributions stand beside each other (:mod:`mensura.estimates.propagation`).
"""

from __future__ import annotations

from dataclasses import dataclass

from mensura.estimates.propagation import DrawnResult, GumResult, InputQuantity
from mensura.instruments.tape_card import Card


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
    agree within half a unit of the second figure of u [JCGM101, clause 8]; tolerance: that half.
    """

    figure: str
    gum: GumResult
    drawn: DrawnResult
    lines: tuple[BudgetLine, ...]
    agree: bool
    tolerance: float


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
) -> dict[str, FigureBudget]:
    """The budget of a girth, a diameter and an area: one of each, by the figure's name.

    girth_cm: as it was read; resolution_cm: distance of two marks; tilt_up_to_deg: the angle lies
    between 0 and this, each alike; hand_sd_cm: spread of the hand's readings; card: of the tape;
    temperature_range_c: of the band, each alike; material, expansion_per_c: of the band; draws,
    seed: of the propagation of distributions.
    """
    raise NotImplementedError
