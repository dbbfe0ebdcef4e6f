"""Rows of what is known of a tape, of a reading and of a plan, and how surely.

A page shows the rows of a card, a budget or a choice of instrument as a table; nothing is computed
here but what stands side by side.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import inf
from typing import Any

import numpy as np

from mensura.estimates.budget import FigureBudget
from mensura.estimates.card_rows import within_words
from mensura.estimates.comparison_rows import Row
from mensura.estimates.instrument_flips import Flip
from mensura.estimates.which_instrument import PlotError
from mensura.instruments.class_check import check_class
from mensura.instruments.tape_card import Card

#: How each figure of a budget is called on a page.
FIGURE_WORDS = {"girth_cm": "girth, cm", "diameter_cm": "diameter, cm", "area_cm2": "area, cm²"}

#: How a reading becomes an area, in words.
WAY_WORDS = {
    "girth": "girth",
    "directions": "in any directions, mean",
    "pairs": "two at right angles, mean",
    "products": "two at right angles, product",
}


def held(card: Card) -> list[Row]:
    """A tape beside its reference, one mark a row.

    card: of the tape. Rows: reference_cm, reading_cm (the mean of repeats), reads_off_cm (reading
    less reference), line_off_cm (the same by the line), left_over_cm.

    >>> from mensura.instruments.tape_card import card
    >>> row = held(card([50, 100, 150], [51.0, 100.5, 150.0]))[0]
    >>> row["reads_off_cm"], round(row["left_over_cm"], 6)
    (1.0, 0.0)
    """
    rows: list[Row] = []
    for one in card.marks:
        reading = float(np.mean(one.readings_cm))
        off, line = reading - one.reference_cm, (card.rise - 1) * one.reference_cm + card.start_cm
        rows.append(
            {
                "reference_cm": one.reference_cm,
                "reading_cm": reading,
                "reads_off_cm": off,
                "line_off_cm": line,
                "left_over_cm": off - line,
            }
        )
    return rows


def line_figures(card: Card) -> list[Row]:
    """What a card says of its tape or calipers, with its doubt.

    card: of either. Rows: figure, value, u, 95 % from, to; the last three empty for two marks.

    >>> from mensura.instruments.tape_card import card
    >>> rows = line_figures(card([50, 100, 150], [51.3, 100.7, 150.2], resolution_cm=0.0))
    >>> [(row["figure"], round(row["value"], 2), round(row["u"], 2)) for row in rows]
    [('stretch, %', 1.11, 0.06), ('worn start, cm', 1.83, 0.06)]
    """
    if card.kind == "tape":
        share = card.stretch_percent, card.stretch_u_percent, card.stretch_interval_percent
        names = "stretch, %", "worn start, cm"
    else:
        share = card.scale_percent, card.scale_u_percent, card.scale_interval_percent
        names = "scale, %", "zero error, cm"
    start = card.start_cm, card.u_start_cm, card.start_interval_cm
    return [
        {
            "figure": name,
            "value": value,
            "u": u,
            "95 % from": ends and ends[0],
            "to": ends and ends[1],
        }
        for name, (value, u, ends) in zip(names, (share, start), strict=True)
    ]


def class_check(card: Card, accuracy_class: str) -> list[Row]:
    """A tape's marks beside the limits of its class, one a row, in mm as the limits are told.

    card: of the tape; accuracy_class: one of CLASSES. Rows: tape, mark_m, reads_off_mm,
    ± 95 %, mm, may_err_mm, said. Raises MeasureError as
    :func:`mensura.instruments.class_check.check_class`.

    >>> from mensura.instruments.tape_card import card
    >>> row = class_check(card([50, 100, 150], [51.3, 100.7, 150.2]), "II")[1]
    >>> row["may_err_mm"], row["said"]
    (0.5, 'not within')
    """
    return [
        {
            "tape": card.instrument,
            "mark_m": one.reference_cm / 100,
            "reads_off_mm": 10 * one.error_cm,
            "± 95 %, mm": None if one.expanded_cm is None else 10 * one.expanded_cm,
            "may_err_mm": 10 * (one.permissible_cm or 0.0),
            "said": within_words(one),
        }
        for one in check_class(card, accuracy_class)
    ]


def budget_lines(budget: FigureBudget) -> list[Row]:
    """The inputs of a budget, the largest part first.

    budget: of one figure. Rows: input, distribution, estimate, u (in the input's unit, named with
    it), sensitivity, contribution, taken_off (what it adds on average), both in the figure's unit.

    >>> from mensura.estimates.budget import girth_budget
    >>> found = girth_budget(126.3, resolution_cm=1.0, draws=1000)["girth_cm"]
    >>> [row["input"] for row in budget_lines(found)]
    ['resolution, cm']
    """
    rows: list[Row] = []
    for line in budget.lines:
        one = line.input
        free = one.degrees_of_freedom
        rows.append(
            {
                "input": f"{one.name}, {'°' if one.unit == 'deg' else one.unit}",
                "taken for": one.distribution,
                "estimate": one.estimate,
                "u": one.standard_uncertainty,
                "freedom": "" if free == inf else f"{free:.3g}",
                "sensitivity": line.sensitivity,
                "contribution": line.contribution,
                "taken off": line.shift,
            }
        )
    return rows


def both_ways(budgets: Mapping[str, FigureBudget]) -> list[Row]:
    """Each figure by the law of propagation and by draws, two rows each.

    budgets: by the figure's name. Rows: figure, by, value, u, k, 95 % from, to, agree
    ("too close" where the draws are too few to tell).

    >>> from mensura.estimates.budget import girth_budget
    >>> rows = both_ways(girth_budget(126.3, resolution_cm=1.0, draws=1000))
    >>> [row["by"] for row in rows[:2]]
    ['law', 'draws']
    """
    rows: list[Row] = []
    for name, one in budgets.items():
        law, drawn = one.gum, one.drawn
        rows.append(
            {
                "figure": FIGURE_WORDS[name],
                "by": "law",
                "value": law.value,
                "u": law.u,
                "k": f"{law.k:.2f}",
                "95 % from": law.value - law.expanded,
                "to": law.value + law.expanded,
                "agree": "",
            }
        )
        rows.append(
            {
                "figure": FIGURE_WORDS[name],
                "by": "draws",
                "value": drawn.value,
                "u": drawn.u,
                "k": "",
                "95 % from": drawn.interval[0],
                "to": drawn.interval[1],
                "agree": "too close" if one.agree is None else one.agree,
            }
        )
    return rows


def plan_rows(plans: Iterable[PlotError]) -> list[Row]:
    """What can be done in a morning, the smallest error first.

    plans: as found. Rows: instrument, how, readings a stem, shape_percent, squared_percent,
    hand_percent, direction_percent, common_percent, error_percent, needed_min.

    >>> from mensura.estimates.which_instrument import Morning, plans
    >>> plan_rows(plans(Morning()))[0]["instrument"]
    'calipers'
    """
    return [
        {
            "instrument": one.instrument,
            "how": WAY_WORDS[one.way],
            "readings": one.reading_count,
            "shape_percent": one.shape_percent,
            "hand_percent": one.hand_percent,
            "chance of direction, %": one.direction_percent,
            "common_percent": one.common_percent,
            "together_percent": one.error_percent,
        }
        for one in plans
    ]


def flip_rows(found: Mapping[str, Iterable[Flip]], units: Mapping[str, str]) -> list[Row]:
    """Where the better instrument changes, one place a row.

    found: what is moved → its flips; units: of what is moved. Rows: moved, at, below, above, why.

    >>> from mensura.estimates.instrument_flips import ALONG, flips
    >>> from mensura.estimates.which_instrument import Morning
    >>> rows = flip_rows({"out_of_round_percent": flips(Morning())}, ALONG)
    >>> rows[0]["below"], rows[0]["above"]
    ('tape', 'calipers')
    """
    rows: list[Row] = []
    for name, several in found.items():
        words = name.removesuffix("_percent").removesuffix("_cm").replace("_", " ")
        moved: dict[str, Any] = {"moved": f"{words}, {units[name]}" if units[name] else words}
        rows += [
            {
                **moved,
                "at": one.at,
                "below": one.before,
                "above": one.after,
                "why": "a reading fewer fits in" if one.sudden else "errors are the same there",
            }
            for one in several
        ]
    return rows
