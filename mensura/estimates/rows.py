"""Rows of what is worth setting side by side: an oval, a turn, a lay or a bark a row.

A page shows them as a table. Each key ends in the unit of its numbers; nothing is computed here
that is not a call into this layer or one below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError
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
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.bark import with_bark
from mensura.stems.ellipse import Ellipse, circle
from mensura.stems.section import Section
from mensura.stems.shapes import with_even_bark

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


def laid(section: Section, lay: Lay) -> list[Row]:
    """What a sound tape reads too much as it lies, one lay a row.

    section: one stem; lay: with one or more of its settings in several sizes. Rows: the settings
    that differ from row to row, adds_cm, adds_percent, and area_over_percent, the error of the area
    from that reading over the area from the taut one.

    >>> row = laid(circle(40), Lay(tilt_deg=[5.0, 10.0]))[1]
    >>> {name: round(value, 3) for name, value in row.items()}
    {'tilt_deg': 10.0, 'adds_cm': 0.971, 'adds_percent': 0.773, 'area_over_percent': 1.552}
    """
    reading = Tape().read(section, lay)
    several = {
        field.name: value
        for field in fields(Lay)
        if np.ndim(value := getattr(lay, field.name)) and np.size(value) > 1
    }
    columns = {
        **{name: _counted(name, value) for name, value in several.items()},
        "adds_cm": reading.adds_cm,
        "adds_percent": reading.adds_percent,
        "area_over_percent": over_percent(
            area_from_girth_cm2(reading.reading_cm), area_from_girth_cm2(reading.taut_girth_cm)
        ),
    }
    return _rows(columns)


def shares(taut_cm: float, breakdown: dict[str, Any], reading_cm: float) -> list[Row]:
    """From the taut girth to the reading, what each fault adds on the way.

    taut_cm: girth of the stem; breakdown: fault → what it adds, in cm; reading_cm: as it was told.
    Rows: step, adds_cm (None where nothing is added), reading_cm so far.
    Raises MeasureError if the shares do not lead from the one to the other.

    >>> reading = Tape(worn_start_cm=0.5).read(circle(40))
    >>> rows = shares(reading.taut_girth_cm, reading.breakdown, reading.reading_cm)
    >>> [(row["step"], round(row["reading_cm"], 2)) for row in rows]
    [('taut girth', 125.66), ('worn start', 126.16)]
    """
    so_far = float(taut_cm)
    rows: list[Row] = [{"step": "taut girth", "adds_cm": None, "reading_cm": so_far}]
    for fault, adds in breakdown.items():
        so_far += float(adds)
        rows.append({"step": fault, "adds_cm": float(adds), "reading_cm": so_far})
    if not np.isclose(so_far, reading_cm, rtol=1e-9):
        raise MeasureError("breakdown", so_far, "cm", f"shares that lead to {reading_cm:g}")
    return rows


def even_bark(woods: Sequence[Section], bark_cm: Sequence[float]) -> list[Row]:
    """The rule of twice the bark, held against the tape round the wood itself.

    woods: convex sections; bark_cm: thickness of the even bark round each. Rows: bark_cm,
    over_bark_cm (by tape), less_twice_bark_cm (by the rule), on_the_wood_cm (by tape), all of them
    diameters.

    >>> row = even_bark([Ellipse(45, 37)], [1.5])[0]
    >>> round(row["less_twice_bark_cm"] - row["on_the_wood_cm"], 3)
    0.0
    """
    rows = []
    for wood, bark in zip(woods, bark_cm, strict=True):
        over = diameter_from_girth_cm(with_even_bark(wood, bark).taut_girth_cm)
        rows.append(
            {
                "bark_cm": float(bark),
                "over_bark_cm": over,
                "less_twice_bark_cm": under_bark_diameter_cm(over, bark),
                "on_the_wood_cm": diameter_from_girth_cm(wood.taut_girth_cm),
            }
        )
    return rows


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


def by_calipers(hands: Sequence[Calipers], diameters_cm: ArrayLike) -> list[Row]:
    """What faulty calipers read on round stems, one hand or one stem a row.

    hands: calipers in their condition; diameters_cm: true ones; of either there is one, or as many
    as of the other. Rows: diameter_cm, reading_cm, off_cm, area_over_percent.

    >>> row = by_calipers([Calipers(jaw_lean_deg=1.0)], [40.0])[0]
    >>> {name: round(value, 3) for name, value in row.items()}
    {'diameter_cm': 40.0, 'reading_cm': 39.654, 'off_cm': -0.346, 'area_over_percent': -1.723}
    """
    sizes = np.atleast_1d(np.asarray(diameters_cm, dtype=np.float64)).tolist()
    count = max(len(hands), len(sizes))
    if not {len(hands), len(sizes)} <= {1, count}:
        raise MeasureError("diameters_cm", len(sizes), "", "one, or as many as there are calipers")
    rows = []
    for place in range(count):
        hand, true = hands[place % len(hands)], sizes[place % len(sizes)]
        read = float(hand.read(circle(true), [0.0])[0])
        rows.append(
            {
                "diameter_cm": true,
                "reading_cm": read,
                "off_cm": read - true,
                "area_over_percent": over_percent(
                    area_from_diameters_cm2([read]), area_from_diameters_cm2([true])
                ),
            }
        )
    return rows


def _counted(name: str, values: Any) -> Any:
    """Counts as whole numbers."""
    return np.asarray(values, dtype=int) if name == "wander_waves" else np.asarray(values)


def _rows(columns: dict[str, Any]) -> list[Row]:
    together = np.broadcast_arrays(*(np.atleast_1d(values) for values in columns.values()))
    return [
        dict(zip(columns, (value.item() for value in row), strict=True))
        for row in zip(*(values.ravel() for values in together), strict=True)
    ]
