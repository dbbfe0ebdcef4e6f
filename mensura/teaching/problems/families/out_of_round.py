"""Stems that are not circular, by tape and by calipers. Stems are invented (Quillmere).

What an instrument reads on such a stem is exact; what goes wrong is the circle that is concluded
from it. Each family asks for one of those readings, or for what the circle claims too much.
"""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, sqrt
from typing import Any

from mensura.estimates.areas import area_from_diameters_cm2
from mensura.estimates.out_of_round import (
    classroom_over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.stems.ellipse import Ellipse
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of
from mensura.teaching.problems.parts.other_shapes import OTHER_SHAPES

LONGER = Quantity("first_diameter_cm", 48.0, 60.0, 0.1)
SHORTER = Quantity("second_diameter_cm", 34.0, 41.0, 0.1)


def _stem(q: Any) -> Ellipse:
    return Ellipse(q.first_diameter_cm, q.second_diameter_cm)


def _ratio(q: Any) -> float:
    return float(q.second_diameter_cm / q.first_diameter_cm)


def _squares_over_product(q: Any) -> float:
    """(d₁ − d₂)²/(d₁d₂): what all the errors of an oval are shares of."""
    difference = q.first_diameter_cm - q.second_diameter_cm
    return float(difference**2 / (q.first_diameter_cm * q.second_diameter_cm))


def _reading_cm(q: Any, further_deg: float = 0.0) -> float:
    return float(_stem(q).width_cm(q.turn_deg + further_deg))


def _turned_percent(q: Any, mean: str = "arithmetic") -> float:
    return float(two_readings_over_percent(_ratio(q), q.turn_deg, mean))


def _not_squared_cm(q: Any) -> float:
    """What comes of cosine and sine that are not squared, as if for the corner of a box."""
    turn = radians(q.turn_deg)
    return float(q.first_diameter_cm * cos(turn) + q.second_diameter_cm * sin(turn))


def _across_the_middle_cm(q: Any) -> float:
    """The line through the middle from bark to bark: where the jaws do not touch."""
    turn = radians(q.turn_deg)
    return 1 / hypot(cos(turn) / q.first_diameter_cm, sin(turn) / q.second_diameter_cm)


def _in_proportion_cm(q: Any) -> float:
    """As if the reading fell evenly from the longer axis to the shorter."""
    fall = q.first_diameter_cm - q.second_diameter_cm
    return float(q.first_diameter_cm - fall * q.turn_deg / 90)


def _squares_once_cm(q: Any) -> float:
    """d₁·cos²θ + d₂·sin²θ."""
    share = cos(radians(q.turn_deg)) ** 2
    return float(q.first_diameter_cm * share + q.second_diameter_cm * (1 - share))


def _of_the_larger(percent: float) -> float:
    """The same difference, as a share of the larger one."""
    return 100 * percent / (100 + percent)


def _one_reading_percent(q: Any) -> float:
    true = q.first_diameter_cm * q.second_diameter_cm
    return float(100 * (_reading_cm(q) ** 2 / true - 1))


FAMILIES = [
    Family(
        key="oval-area",
        topic="out-of-round",
        title="The true area of an oval stem",
        text="A pine of compartment 7 is oval. Calipers stand on its axes: the longer "
        "diameter is {first_diameter_cm} cm, the shorter {second_diameter_cm} cm. The section is "
        "an ellipse. What is its true area? Answer in cm² or m².",
        given=[LONGER, SHORTER],
        unit="cm²",
        answer=lambda q: _stem(q).area_cm2,
        hints=[
            "No circle is needed. What takes the place of d·d in π/4·d²?",
            "An ellipse is a circle drawn out along one axis: its area is π/4·d₁·d₂.",
            "Work out 0.7854·{first_diameter_cm}·{second_diameter_cm}; that is in cm².",
        ],
        solution="A = π/4·d₁·d₂ = 0.7854·{first_diameter_cm}·{second_diameter_cm} = {answer} cm².",
        slips=[
            Slip("arithmetic-mean",
                 lambda q: area_from_diameters_cm2([q.first_diameter_cm, q.second_diameter_cm]),
                 "You squared the mean of both diameters. That is a circle, and a little too "
                 "large; the ellipse takes the product, π/4·d₁·d₂."),
            Slip("quadratic-mean",
                 lambda q: pi / 8 * (q.first_diameter_cm**2 + q.second_diameter_cm**2),
                 "You took the mean of two circles. That is too large; the ellipse takes the "
                 "product, π/4·d₁·d₂."),
            Slip("diameter-for-radius",
                 lambda q: pi * q.first_diameter_cm * q.second_diameter_cm,
                 "Diameters were taken for half-axes: that makes the area four times too large."),
            Slip("pi-forgotten", lambda q: q.first_diameter_cm * q.second_diameter_cm,
                 "That is the box round the stem. The ellipse fills π/4 of it."),
            Slip("longer-only", lambda q: pi / 4 * q.first_diameter_cm**2,
                 "That is the circle with the longer diameter. The stem is narrower the other "
                 "way."),
        ],
        asks_unit=True,
        picture="oval",
        source="common practice, no source",
    ),
    Family(
        key="tape-on-an-oval",
        topic="out-of-round",
        title="By how much the tape overestimates an oval stem",
        text="A section is an ellipse with the diameters {first_diameter_cm} and "
        "{second_diameter_cm} cm. A level, taut tape reads its girth without a fault, and the "
        "girth is turned into an area by G²/4π, as if the stem were round. By how many per cent of "
        "the true area is that too much? Use the girth of the ellipse itself, not the blackboard's "
        "root.",
        given=[LONGER, SHORTER],
        unit="%",
        answer=lambda q: tape_over_percent(_ratio(q)),
        steps={
            "h": lambda q: ((1 - _ratio(q)) / (1 + _ratio(q))) ** 2,
        },
        hints=[
            "Two areas are wanted: the tape's, from the girth, and the true one, from the "
            "diameters.",
            "With h = ((d₁ − d₂)/(d₁ + d₂))² the girth is π/2·(d₁ + d₂)·(1 + h/4 + h²/64), near "
            "enough for every stem. π cancels: the tape's area over the true one is "
            "(d₁ + d₂)²/(4·d₁·d₂)·(1 + h/4 + h²/64)².",
            "With h = (({first_diameter_cm} − {second_diameter_cm})/({first_diameter_cm} + "
            "{second_diameter_cm}))² work out ({first_diameter_cm} + {second_diameter_cm})²/"
            "(4·{first_diameter_cm}·{second_diameter_cm})·(1 + h/4 + h²/64)², take away 1, times "
            "100. Keep five figures: a small difference is left in the end.",
        ],
        solution="h = (({first_diameter_cm} − {second_diameter_cm})/({first_diameter_cm} + "
        "{second_diameter_cm}))² = {h} and G = π/2·(d₁ + d₂)·(1 + h/4 + h²/64). So G²/4π over "
        "π/4·d₁·d₂ is ({first_diameter_cm} + {second_diameter_cm})²/(4·{first_diameter_cm}·"
        "{second_diameter_cm})·(1 + h/4 + h²/64)². Less 1, times 100, that is {answer} % too much. "
        "3/8 of (d₁ − d₂)²/(d₁·d₂) comes near enough here, but is an approximation.",
        slips=[
            Slip("root-mean-square-girth", lambda q: classroom_over_percent(_ratio(q)),
                 "That is what the blackboard's girth, 2π√((a² + b²)/2), claims. It is a little "
                 "too long, so it blames too much on the tape. Use the series in h."),
            Slip("lower-bound", lambda q: 25 * _squares_over_product(q),
                 "That is what the girth π/2·(d₁ + d₂) gives: a bound from below, and the error of "
                 "the calipers' mean. The girth is a little longer."),
            Slip("squared-too-late",
                 lambda q: 100 * (sqrt(1 + tape_over_percent(_ratio(q)) / 100) - 1),
                 "That is by how much the tape's diameter is too large. The area goes with its "
                 "square."),
            Slip("wrong-base", lambda q: _of_the_larger(tape_over_percent(_ratio(q))),
                 "The difference was divided by the tape's area. Asked are per cent of the true "
                 "one.", since=2, apart_since=2),
            Slip("share-for-percent", lambda q: tape_over_percent(_ratio(q)) / 100,
                 "That is the share. Times 100 it is per cent."),
        ],
        picture="oval",
        source="[AS1964]",
    ),
    Family(
        key="mean-of-the-axes",
        topic="out-of-round",
        title="Which mean of two diameters?",
        text="Calipers stand on the axes of an elliptic stem and read {first_diameter_cm} and "
        "{second_diameter_cm} cm. One trainee takes the arithmetic mean and works out the area of "
        "a circle with it. Another takes the geometric mean √(d₁·d₂), which is exact here. By how "
        "many per cent is the first trainee's area larger than the second's?",
        given=[LONGER, SHORTER],
        unit="%",
        answer=lambda q: two_readings_over_percent(_ratio(q), 0.0),
        steps={
            "arithmetic_cm": lambda q: (q.first_diameter_cm + q.second_diameter_cm) / 2,
            "geometric_cm": lambda q: sqrt(q.first_diameter_cm * q.second_diameter_cm),
        },
        hints=[
            "Work out both areas, or divide one formula by the other: most of it cancels.",
            "The first is π/4·((d₁ + d₂)/2)², the second π/4·d₁·d₂. What is left of their quotient "
            "is 1 + (d₁ − d₂)²/(4·d₁·d₂).",
            "Work out 100·({first_diameter_cm} − {second_diameter_cm})²/(4·{first_diameter_cm}·"
            "{second_diameter_cm}).",
        ],
        solution="The means are {arithmetic_cm} and {geometric_cm} cm; areas go with the squares. "
        "The first area is 100·(d₁ − d₂)²/(4·d₁·d₂) = 100·({first_diameter_cm} − "
        "{second_diameter_cm})²/(4·{first_diameter_cm}·{second_diameter_cm}) = {answer} % larger.",
        slips=[
            Slip("squared-too-late",
                 lambda q: 100 * (sqrt(1 + _squares_over_product(q) / 4) - 1),
                 "That is by how much the mean diameters differ. The areas go with their squares."),
            Slip("wrong-base",
                 lambda q: _of_the_larger(two_readings_over_percent(_ratio(q), 0.0)),
                 "The difference was divided by the first trainee's area. Asked are per cent of "
                 "the second's.", since=2, apart_since=2),
            Slip("quadratic-mean",
                 lambda q: two_readings_over_percent(_ratio(q), 0.0, "quadratic"),
                 "That is the error of the quadratic mean √((d₁² + d₂²)/2). Asked is the "
                 "arithmetic one, (d₁ + d₂)/2."),
            Slip("factor-forgotten", lambda q: 100 * _squares_over_product(q),
                 "A factor 4 is missing under the line: (d₁ − d₂)²/(4·d₁·d₂)."),
            Slip("out-of-roundness", lambda q: 100 * (1 / _ratio(q) - 1),
                 "That is by how much the diameters differ. Their mean loses most of it; compare "
                 "the two areas."),
            Slip("share-for-percent", lambda q: _squares_over_product(q) / 4,
                 "That is the share. Times 100 it is per cent."),
        ],
        picture="oval",
        source="[CFMP1999] for the practice of averaging two axes; closed form",
    ),
    Family(
        key="turned-reading",
        topic="out-of-round",
        title="One reading off the axes",
        text="An elliptic stem is {first_diameter_cm} cm thick along its longer axis and "
        "{second_diameter_cm} cm along the shorter. The beam of the calipers is turned {turn_deg}° "
        "away from the longer axis, level, and the jaws touch the stem without pressing. What do "
        "they read, in cm?",
        given=[LONGER, SHORTER, Quantity("turn_deg", 15, 70, 1, exact=True)],
        unit="cm",
        answer=_reading_cm,
        fits_since={2: clear_of(
            _reading_cm, 0.75, _in_proportion_cm, _squares_once_cm,
            lambda q: (q.first_diameter_cm + q.second_diameter_cm) / 2,
            lambda q: sqrt(q.first_diameter_cm * q.second_diameter_cm))},
        hints=[
            "The jaws are two parallel lines that touch the stem. They need not touch where the "
            "line through the middle leaves it.",
            "The distance of two such lines is √((d₁·cos θ)² + (d₂·sin θ)²).",
            "Work out √(({first_diameter_cm}·cos {turn_deg}°)² + "
            "({second_diameter_cm}·sin {turn_deg}°)²).",
        ],
        solution="w = √((d₁·cos θ)² + (d₂·sin θ)²) = √(({first_diameter_cm}·cos {turn_deg}°)² + "
        "({second_diameter_cm}·sin {turn_deg}°)²) = {answer} cm.",
        slips=[
            Slip("across-the-middle", _across_the_middle_cm,
                 "That is the line through the middle from bark to bark. Jaws are parallel and "
                 "touch further out: √((d₁·cos θ)² + (d₂·sin θ)²)."),
            Slip("axes-swapped", lambda q: _reading_cm(q, 90.0),
                 "The axes are swapped: the turn is from the longer axis, so the cosine goes with "
                 "the longer diameter. You have the reading at right angles to the one asked."),
            Slip("not-squared", _not_squared_cm,
                 "The two parts were added as they are. They add as squares, and the root is taken "
                 "of the sum."),
            Slip("root-forgotten", lambda q: _reading_cm(q) ** 2,
                 "That is w², in cm². Take its square root."),
            Slip("radius-for-diameter", lambda q: _reading_cm(q) / 2,
                 "That is the reach to one side of the middle. Calipers read from side to side."),
            Slip("in-proportion", _in_proportion_cm,
                 "You let the reading change in proportion to the angle. It changes slowly near "
                 "the axes and fast between them.", since=2),
            Slip("squares-once", _squares_once_cm,
                 "Cosine and sine were squared, the diameters not. Square both, and take the root "
                 "of the sum.", since=2),
            Slip("mean-diameter", lambda q: (q.first_diameter_cm + q.second_diameter_cm) / 2,
                 "That is the mean of both diameters, whatever the turn.", since=2),
        ],
        picture="turned",
        source="closed form (supporting lines of an ellipse)",
    ),
    Family(
        key="turned-pair",
        topic="out-of-round",
        title="Two readings at right angles, off the axes",
        text="On an elliptic stem of {first_diameter_cm} by {second_diameter_cm} cm two caliper "
        "readings are taken at right angles to each other, but the pair is turned {turn_deg}° off "
        "the axes. Their arithmetic mean is used as the diameter of a circle. By how many per cent "
        "of the true area is that too much?",
        given=[LONGER, SHORTER, Quantity("turn_deg", 12, 34, 1, exact=True)],
        unit="%",
        answer=_turned_percent,
        steps={
            "first_reading_cm": _reading_cm,
            "second_reading_cm": lambda q: _reading_cm(q, 90.0),
            "mean_cm": lambda q: (_reading_cm(q) + _reading_cm(q, 90.0)) / 2,
        },
        hints=[
            "What does each reading say? Then their mean, then its square against d₁·d₂.",
            "The readings are √((d₁·cos θ)² + (d₂·sin θ)²) and √((d₁·sin θ)² + (d₂·cos θ)²). π/4 "
            "cancels: the quotient of the areas is the mean squared over d₁·d₂.",
            "With θ = {turn_deg}° work out both readings w₁ and w₂, then "
            "100·(((w₁ + w₂)/2)²/({first_diameter_cm}·{second_diameter_cm}) − 1).",
        ],
        solution="The readings are √(({first_diameter_cm}·cos {turn_deg}°)² + "
        "({second_diameter_cm}·sin {turn_deg}°)²) = {first_reading_cm} cm and "
        "√(({first_diameter_cm}·sin {turn_deg}°)² + ({second_diameter_cm}·cos {turn_deg}°)²) = "
        "{second_reading_cm} cm, their mean {mean_cm} cm. {mean_cm}²/({first_diameter_cm}·"
        "{second_diameter_cm}) − 1, times 100, is {answer} %.",
        slips=[
            Slip("not-turned", lambda q: two_readings_over_percent(_ratio(q), 0.0),
                 "That holds on the axes. Turned off them, both readings are others."),
            Slip("geometric-mean", lambda q: _turned_percent(q, "geometric"),
                 "That is the product of both readings. Asked is their arithmetic mean."),
            Slip("quadratic-mean", lambda q: _turned_percent(q, "quadratic"),
                 "That is the quadratic mean, which does not care about the turn. Asked is the "
                 "arithmetic one, (w₁ + w₂)/2."),
            Slip("wrong-base", lambda q: _of_the_larger(_turned_percent(q)),
                 "The difference was divided by the circle's area. Asked are per cent of the true "
                 "one.", since=2, apart_since=2),
            Slip("one-reading", _one_reading_percent,
                 "That is the first reading alone. Take the mean of both."),
            Slip("squared-too-late",
                 lambda q: 100 * (sqrt(1 + _turned_percent(q) / 100) - 1),
                 "That is by how much the mean diameter is too large. The area goes with its "
                 "square."),
            Slip("share-for-percent", lambda q: _turned_percent(q) / 100,
                 "That is the share. Times 100 it is per cent."),
        ],
        picture="turned",
        source="closed form (supporting lines of an ellipse)",
    ),
    *OTHER_SHAPES,
]  # fmt: skip
