"""The budget panel's numbers: what is unsure in a girth, and what it is worth after all.

The law of propagation is worked out as anywhere else. For the draws a panel has no time: it sends
the same few thousand standard numbers through the same model at every move. They fill the cube of
all inputs evenly; a test holds them to a million draws.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import hypot

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.budget import FIGURES, girth_model, law_of_figure
from mensura.estimates.distributions import standard
from mensura.estimates.interval_stream import ranks
from mensura.estimates.propagation import SURE_ERRORS, DrawnResult, GumResult, agreement
from mensura.instruments.materials import REFERENCE_C
from mensura.teaching.controls import Control

#: What the bars are called, from above, and what each input is taken for. The step's two parts,
#: what stays and what averages, make one bar.
NAMES = {
    "resolution": "step",
    "hand": "hand",
    "tilt": "tilt",
    "card": "tape's card",
    "temperature": "temperature",
}
TAKEN_FOR = {
    "resolution": "rectangular",
    "rounding": "normal",
    "hand": "normal",
    "tilt": "tilt",
    "card": "normal",
    "temperature": "rectangular",
}

CONTROLS = (
    Control("girth_cm", "girth as read", "cm", 60, 220, 0.1, 126.3, "Reading"),
    Control("step_cm", "step of reading", "cm", 0.1, 2, 0.1, 1, "Reading"),
    Control("hand_cm", "spread of the hand", "cm", 0, 2, 0.05, 0.3, "Reading"),
    Control("readings", "readings averaged", "", 1, 16, 1, 2, "Reading", whole=True),
    Control("tilt_deg", "tilted up to", "°", 0, 20, 0.5, 6, "Tape"),
    Control("card_cm", "card's uncertainty", "cm", 0, 1, 0.02, 0.1, "Tape"),
    Control("warm_c", f"temperature, {REFERENCE_C:g} ±", "°C", 0, 30, 5, 15, "Tape"),
)

#: How many standard numbers of each input the panel goes through, and the lattice they make: a
#: stride that over forty made-up budgets missed two million draws by 2.4 % of u at most, 0.9 % on
#: the mean, at an interval's ends.
KEPT, STRIDE = 4096, 2507
#: So far an end may be off at most, in u: what the page says, and a test holds.
OFF_BY = 0.03
#: Columns of the pictured draws.
COLUMNS = 32


@dataclass(frozen=True)
class FigureShown:
    """One figure in its own unit.

    value: mean of the draws; u: their standard deviation; interval: 95 %.
    """

    value: float
    u: float
    interval: tuple[float, float]


@dataclass(frozen=True)
class BudgetShown:
    """All that the panel shows.

    girth_cm: as it was read; readings: how many were averaged; contributions_cm: of each input to
    the girth's uncertainty, by name; step_stays_cm, step_averages_cm: the two parts of the step's;
    shares_percent: of their squares; law: of the girth, by the
    law of propagation, in cm; figures: by the draws; shift_cm: what the tilt adds on average, taken
    off; heights: of the draws' columns, the highest 1; edges_cm: of the columns;
    agree: whether both ways agree on the girth, None where these few draws are too close to tell;
    tolerance_cm: within which.
    """

    girth_cm: float
    readings: int
    contributions_cm: Mapping[str, float]
    step_stays_cm: float
    step_averages_cm: float
    shares_percent: Mapping[str, float]
    law: GumResult
    figures: Mapping[str, FigureShown]
    shift_cm: float
    heights: FloatArray
    edges_cm: FloatArray
    agree: bool | None
    tolerance_cm: float


@lru_cache(maxsize=1)
def _standard_numbers() -> FloatArray:
    """Standard numbers of all inputs, one row each: points that fill a cube evenly.

    A lattice: the k-th row goes round in steps of STRIDE^k (Korobov 1959, from memory). So each row
    for itself is spread as evenly as can be, and the rows hardly know of each other.
    """
    steps = [pow(STRIDE, power, KEPT) for power in range(len(TAKEN_FOR))]
    even = (np.outer(steps, np.arange(KEPT)) % KEPT + 0.5) / KEPT
    rows = [standard(kind, row) for kind, row in zip(TAKEN_FOR.values(), even, strict=True)]
    return kept(np.array(rows))


def numbers(
    girth_cm: float,
    step_cm: float,
    hand_cm: float,
    readings: int,
    tilt_deg: float,
    card_cm: float,
    warm_c: float,
) -> BudgetShown:
    """What the panel shows for a state of its controls.

    girth_cm: as read; step_cm: in which it is read; hand_cm: spread of one reading; readings: how
    many are averaged; tilt_deg: the tape is tilted by up to this; card_cm: standard uncertainty of
    the tape's card; warm_c: the steel band is by up to so much colder or warmer than the reference.

    >>> from mensura.teaching.controls import starting
    >>> shown = numbers(**starting(CONTROLS))
    >>> round(shown.figures["girth_cm"].value, 1), round(shown.law.u, 2)
    (126.2, 0.33)
    """
    model = girth_model(
        girth_cm,
        resolution_cm=step_cm,
        tilt_up_to_deg=tilt_deg,
        hand_sd_cm=hand_cm,
        readings=readings,
        card_u_cm=card_cm,
        temperature_range_c=(REFERENCE_C - warm_c, REFERENCE_C + warm_c),
        material="steel",
    )
    law, _ = law_of_figure("girth_cm", model)
    rows = dict(zip(TAKEN_FOR, _standard_numbers(), strict=True))
    drawn = model(
        *(one.estimate + one.standard_uncertainty * rows[one.name] for one in model.inputs)
    )
    low, high = ranks(KEPT, 95.0)
    ends = np.partition(drawn, (low, high))[[low, high]]
    figures = {}
    for name, figure in FIGURES.items():
        values = figure(drawn)
        # all three rise with the girth: its ends are their ends
        lowest, highest = (float(one) for one in figure(ends))
        figures[name] = FigureShown(float(values.mean()), float(values.std()), (lowest, highest))
    parts = dict.fromkeys(TAKEN_FOR, 0.0)
    parts |= {one.name: part for one, part in zip(model.inputs, law.contributions, strict=True)}
    stays, averages = parts["resolution"], parts.pop("rounding")
    parts["resolution"] = hypot(stays, averages)
    girth = figures["girth_cm"]
    error = OFF_BY * girth.u / SURE_ERRORS
    agree, tolerance = agreement(
        law, DrawnResult(girth.value, girth.u, girth.interval, KEPT, 0, (error, error))
    )
    heights, edges = np.histogram(drawn, COLUMNS)
    return BudgetShown(
        girth_cm=girth_cm,
        readings=int(readings),
        contributions_cm=parts,
        step_stays_cm=stays,
        step_averages_cm=averages,
        shares_percent={name: 100 * (part / law.u) ** 2 for name, part in parts.items()},
        law=law,
        figures=figures,
        shift_cm=sum(law.shifts),
        heights=heights / heights.max(),
        edges_cm=edges,
        agree=agree,
        tolerance_cm=tolerance,
    )
