"""Rows of what is worth setting side by side: a practice, an oval, a turn, a bark a row.

A page shows them as a table. Each key ends in the unit of its numbers; nothing is computed here
that is not a call into this layer or one below.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import number
from mensura.estimates.areas import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    diameter_from_girth_cm,
    over_percent,
)
from mensura.estimates.bark import (
    tape_on_bark_percent,
    touched_percent,
    under_bark_diameter_cm,
)
from mensura.estimates.comparison import PRACTICE_WORDS, Comparison
from mensura.estimates.out_of_round import (
    calipers_limit_deg,
    classroom_over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.instruments.calipers import MEANS, Calipers
from mensura.stems.bark import with_bark
from mensura.stems.ellipse import Ellipse, classroom_girth_cm, ellipse_girth_cm
from mensura.stems.outline import Outline
from mensura.stems.rippled import RippledOval
from mensura.stems.ripples import outline_terms
from mensura.stems.section import Section
from mensura.stems.wrapped import with_even_bark

#: One row of a table: name with its unit → value.
Row = dict[str, Any]


def practices(result: Comparison) -> list[Row]:
    """The true area, and what each practice concludes from its readings.

    result: of one stem. Rows: practice, readings_cm, area_cm2, over_percent.

    >>> from mensura.estimates.comparison import compare
    >>> [round(row["over_percent"], 4) for row in practices(compare(Ellipse(60, 48)))[:4]]
    [0.0, 1.8764, 25.0, 1.25]
    """
    rows: list[Row] = [
        {
            "practice": "true area",
            "readings_cm": None,
            "area_cm2": result.true_area_cm2,
            "over_percent": 0.0,
        },
        {
            "practice": "tape",
            "readings_cm": [result.reading_cm],
            "area_cm2": result.tape_area_cm2,
            "over_percent": result.tape_over_percent,
        },
    ]
    for one in result.calipers:
        rows.append(
            {
                "practice": f"calipers, {PRACTICE_WORDS[one.practice]}",
                "readings_cm": one.readings_cm.tolist(),
                "area_cm2": one.area_cm2,
                "over_percent": one.over_percent,
            }
        )
    return rows


def ovality(axis_ratio: Sequence[float]) -> list[Row]:
    """What ovality alone does to the area, on the axes of smooth ovals.

    axis_ratio: shorter over longer diameters, each above 0, at most 1. Rows: axis_ratio,
    arithmetic_over_percent (of both axes), tape_over_percent, blackboard_over_percent (which is the
    quadratic mean's as well), and tape_to_blackboard, the one error over the other.

    >>> [round(value, 4) for value in ovality([0.8])[0].values()]
    [0.8, 1.25, 1.8764, 2.5, 0.7506]
    """
    return [
        {
            "axis_ratio": ratio,
            "arithmetic_over_percent": two_readings_over_percent(ratio, 0.0),
            "tape_over_percent": tape_over_percent(ratio),
            "blackboard_over_percent": classroom_over_percent(ratio),
            "tape_to_blackboard": (
                tape_over_percent(ratio) / classroom_over_percent(ratio) if ratio < 1 else None
            ),
        }
        for ratio in axis_ratio
    ]


def turned(
    section: Section,
    turns_deg: Sequence[float],
    first_deg: float = 0.0,
    calipers: Calipers | None = None,
) -> list[Row]:
    """Two caliper readings at right angles, turned step by step, beside a level, sound tape.

    section: one stem; turns_deg: of the first reading, from first_deg on; first_deg: where the
    turning starts, on the first axis if nothing is said; calipers: sound ones, if None. Rows:
    turned_deg, readings_cm, arithmetic_over_percent, product_over_percent, tape_over_percent.

    >>> row = turned(Ellipse(60, 48), [45])[0]
    >>> [round(row[f"{way}_over_percent"], 3) for way in ("arithmetic", "product", "tape")]
    [2.5, 2.5, 1.876]
    """
    hand = calipers or Calipers()
    true_cm2 = section.area_cm2
    by_tape = over_percent(area_from_girth_cm2(section.taut_girth_cm), true_cm2)
    rows = []
    for turn in turns_deg:
        readings = hand.read(section, [first_deg + turn, first_deg + turn + 90.0])
        arithmetic, product = (
            over_percent(area_from_diameters_cm2(readings, mean), true_cm2)
            for mean in ("arithmetic", "geometric")
        )
        rows.append(
            {
                "turned_deg": float(turn),
                "readings_cm": np.asarray(readings).tolist(),
                "arithmetic_over_percent": arithmetic,
                "product_over_percent": product,
                "tape_over_percent": by_tape,
            }
        )
    return rows


def limits(first_cm: float, seconds_cm: Sequence[float]) -> list[Row]:
    """How far two readings may be turned off the axes of ovals before the tape is nearer.

    first_cm: one diameter of the ovals; seconds_cm: the other, one a row. Rows: stem, and by the
    mean that is taken arithmetic_deg, product_deg, quadratic_deg.

    >>> [round(float(value), 1) for value in list(limits(60, [48])[0].values())[1:]]
    [22.4, 29.9, 0.0]
    """
    names = ("arithmetic_deg", "product_deg", "quadratic_deg")
    return [
        {
            "stem": f"{first_cm:g} by {second:g} cm",
            **{
                name: float(calipers_limit_deg(first_cm, second, mean))
                for name, mean in zip(names, MEANS, strict=True)
            },
        }
        for second in seconds_cm
    ]


def even_bark(woods: Sequence[Section], bark_cm: Sequence[float]) -> list[Row]:
    """The rule of twice the bark, held against the tape round the wood itself.

    woods: convex sections; bark_cm: thickness of the even bark round each. Rows: wood, bark_cm,
    and the diameters over_bark_cm (by tape), less_twice_bark_cm (by the rule), on_the_wood_cm (by
    tape).

    >>> row = even_bark([Ellipse(45, 37)], [1.5])[0]
    >>> round(row["less_twice_bark_cm"] - row["on_the_wood_cm"], 3)
    0.0
    """
    rows = []
    for wood, bark in zip(woods, bark_cm, strict=True):
        over = diameter_from_girth_cm(with_even_bark(wood, bark).taut_girth_cm)
        rows.append(
            {
                "wood": f"{wood.width_cm(0.0):.3g} by {wood.width_cm(90.0):.3g} cm",
                "bark_cm": float(bark),
                "over_bark_cm": over,
                "less_twice_bark_cm": under_bark_diameter_cm(over, bark),
                "on_the_wood_cm": diameter_from_girth_cm(wood.taut_girth_cm),
            }
        )
    return rows


def rippled(oval: Ellipse, added_mm: Sequence[float], turns_deg: Sequence[float]) -> list[Row]:
    """Two caliper readings beside a tape, on an oval whose fourth ripple is changed a little.

    oval: a single ellipse; added_mm: to its reach on the axes, and taken off half-way between, mm;
    turns_deg: of the first reading, off the axis. Rows: ripple_added_mm, and those of
    :func:`turned`. Raises MeasureError where a ripple is too high for the oval.

    >>> row = rippled(Ellipse(60, 48), [1.7], [0])[0]
    >>> [round(row[f"{way}_over_percent"], 2) for way in ("arithmetic", "product", "tape")]
    [2.53, 1.28, 1.88]
    """
    return [
        {"ripple_added_mm": float(ripple), **row}
        for ripple in added_mm
        for row in turned(RippledOval(oval, ripple / 10), turns_deg)
    ]


def furrowed(oval: Ellipse, ridges: int, furrows_cm: Sequence[float], seed: int) -> list[Row]:
    """One oval with the same ridges, its furrows cut deeper from row to row.

    oval: the smooth stem; ridges: how many; furrows_cm: depths of the deepest; seed: of the made-up
    pattern. Rows: furrow_cm, tape_cm, area_cm2 of wood and bark, touched_percent of the bark's
    edge, on_bark_percent of the tape, and over_percent, the tape's error of the area.

    >>> [round(row["touched_percent"]) for row in furrowed(Ellipse(46, 42), 24, [0, 2], 11)]
    [100, 36]
    """
    rows = []
    for depth in furrows_cm:
        stem = with_bark(oval, ridges, depth, seed=seed)
        area = stem.area_cm2
        rows.append(
            {
                "furrow_cm": float(depth),
                "tape_cm": stem.taut_girth_cm,
                "area_cm2": area,
                "touched_percent": touched_percent(stem),
                "on_bark_percent": tape_on_bark_percent(stem),
                "over_percent": over_percent(area_from_girth_cm2(stem.taut_girth_cm), area),
            }
        )
    return rows


def all_round(section: Section, step_deg: float = 3.0) -> list[Row]:
    """Every direction alike: how far each way of measuring is off, on average and at the ends.

    section: one stem; step_deg: between the directions tried, 0.1 to 45. Rows: way,
    mean_over_percent, least_over_percent, most_over_percent; the tape asks for no direction.

    >>> [round(row["mean_over_percent"], 2) for row in all_round(Ellipse(60, 48))]
    [2.5, 1.88, 1.25, 1.88]
    """
    step = float(number(step_deg, "step_deg", "deg", at_least=0.1, at_most=45.0))
    turns = np.arange(0.0, 180.0, step)
    pairs = np.stack([section.width_cm(turns), section.width_cm(turns + 90.0)], axis=-1)
    true = section.area_cm2
    ways = {
        "one reading": area_from_diameters_cm2(pairs[:, :1]),
        "two, arithmetic mean": area_from_diameters_cm2(pairs),
        "two, product": area_from_diameters_cm2(pairs, "geometric"),
        "tape": np.array([area_from_girth_cm2(section.taut_girth_cm)]),
    }
    return [
        {
            "way": way,
            "mean_over_percent": float(np.mean(over := over_percent(areas, true))),
            "least_over_percent": float(np.min(over)),
            "most_over_percent": float(np.max(over)),
        }
        for way, areas in ways.items()
    ]


def if_oval(girths_cm: ArrayLike, axis_ratio: Sequence[float]) -> list[Row]:
    """The true areas behind girths, if the stems were smooth ovals of these axis ratios.

    girths_cm: level and taut, above 0, cm; axis_ratio: shorter over longer diameters, each above
    0, at most 1. Rows: girth_cm, and for each ratio its area in cm².

    >>> {name: round(value, 1) for name, value in if_oval([170.17], [1.0, 0.8])[0].items()}
    {'girth_cm': 170.2, 'ratio 1_cm2': 2304.4, 'ratio 0.8_cm2': 2261.9}
    """
    return [
        {
            "girth_cm": float(girth),
            **{
                f"ratio {ratio:g}_cm2": float(
                    area_from_girth_cm2(girth) / (1 + tape_over_percent(ratio) / 100)
                )
                for ratio in axis_ratio
            },
        }
        for girth in np.atleast_1d(girths_cm)
    ]


def girths(first_cm: float, seconds_cm: Sequence[float]) -> list[Row]:
    """The girth of ovals, and what the blackboard's formula makes of it.

    first_cm: one diameter of the ovals; seconds_cm: the other, one a row. Rows: stem, girth_cm,
    blackboard_cm, too_long_cm.

    >>> [round(value, 2) for value in list(girths(60, [48])[0].values())[1:]]
    [170.17, 170.69, 0.52]
    """
    rows = []
    for second in seconds_cm:
        girth = ellipse_girth_cm(first_cm, second)
        formula = classroom_girth_cm(first_cm, second)
        rows.append(
            {
                "stem": f"{first_cm:g} by {second:g} cm",
                "girth_cm": girth,
                "blackboard_cm": formula,
                "too_long_cm": formula - girth,
            }
        )
    return rows


def ripples(outline: Outline, count: Sequence[int]) -> list[Row]:
    """What the ripples of an outline's hull take from the circle with its girth.

    outline: one stem; count: to which ripple the sum is taken, one a row, at least 2. Rows:
    ripples, lost_cm2; at last all there are, which is the circle less the hull.

    >>> square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    >>> [round(row["lost_cm2"], 1) for row in ripples(square, [4, 8])]
    [271.6, 336.3, 437.2]
    """
    lost = outline_terms(outline, max(count)).lost_cm2
    circle_cm2 = area_from_girth_cm2(outline.taut_girth_cm)
    rows: list[Row] = [
        {"ripples": f"2 to {last}", "lost_cm2": float(lost[:last].sum())} for last in count
    ]
    return [*rows, {"ripples": "all", "lost_cm2": float(circle_cm2 - outline.hull_area_cm2)}]
