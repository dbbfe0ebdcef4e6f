"""Sections that are no ovals: a squared beam, and a stem as wide in every direction.

They belong to the topic out-of-round. Stems are invented (Quillmere Practice Wood).
"""

from __future__ import annotations

from functools import cache
from math import pi, sqrt
from typing import Any

from mensura.estimates.areas import area_from_diameters_cm2, area_from_girth_cm2
from mensura.stems.outline import Outline
from mensura.stems.shapes import reuleaux
from mensura.teaching.problems.family import Family, Quantity, Slip

#: Points on the edge of the shape of constant width, so that its area is right to seven figures.
_POINTS = 12_000


def _square(side_cm: float) -> Outline:
    return Outline([[0.0, 0.0], [side_cm, 0.0], [side_cm, side_cm], [0.0, side_cm]])


def _square_over_cm2(q: Any) -> float:
    beam = _square(q.side_cm)
    return float(area_from_girth_cm2(beam.taut_girth_cm) - beam.area_cm2)


@cache
def _of_the_square() -> float:
    """What the shape of constant width has of the square of its width."""
    return float(reuleaux(10.0, _POINTS).area_cm2) / 100


OTHER_SHAPES = [
    Family(
        key="squared-beam",
        topic="out-of-round",
        title="A tape round a squared beam",
        text="A tape is pulled tight round a beam with a square section of {side_cm} cm a side, "
        "with sharp corners. By mistake the girth is turned into an area as if the beam were "
        "round. By how many cm² is that more than the true section?",
        given=[Quantity("side_cm", 12.0, 40.0, 0.1)],
        unit="cm²",
        answer=_square_over_cm2,
        steps={
            "girth_cm": lambda q: _square(q.side_cm).taut_girth_cm,
            "tape_area_cm2": lambda q: area_from_girth_cm2(_square(q.side_cm).taut_girth_cm),
            "true_area_cm2": lambda q: _square(q.side_cm).area_cm2,
        },
        hints=[
            "How long is the way round a square? Which circle has that girth?",
            "The girth is 4·s. The tape's area is G²/4π; the true one is s². Take one from the "
            "other.",
            "Work out (4·{side_cm})²/12.566 − {side_cm}².",
        ],
        solution="G = 4·{side_cm} = {girth_cm} cm, so the tape claims {girth_cm}²/12.566 = "
        "{tape_area_cm2} cm². The section has {side_cm}² = {true_area_cm2} cm². The difference is "
        "{answer} cm², 27.3 % of the true section.",
        slips=[
            Slip("whole-area", lambda q: (4 * q.side_cm) ** 2 / (4 * pi),
                 "That is all that the tape claims. Take away the true section."),
            Slip("inner-circle", lambda q: q.side_cm**2 * (1 - pi / 4),
                 "You compared with the circle that fits inside the square. The tape's circle has "
                 "the girth of the square, so it is larger than the square."),
            Slip("outer-circle", lambda q: q.side_cm**2 * (pi / 2 - 1),
                 "You compared with the circle through the corners. The tape's circle has the "
                 "girth of the square, 4·s."),
            Slip("pi-forgotten", lambda q: 3 * q.side_cm**2,
                 "π was forgotten: the tape's area is G²/4π, not G²/4."),
            Slip("girth-as-diameter", lambda q: pi / 4 * (4 * q.side_cm) ** 2 - q.side_cm**2,
                 "The girth was taken for a diameter. The tape's area is G²/4π."),
        ],
        picture="numbers",
        source="[Berger2010] for the inequality; by hand",
    ),
    Family(
        key="same-in-every-direction",
        topic="out-of-round",
        title="The calipers read the same all round",
        text="A three-cornered stem of compartment 7 is so shaped that calipers read {width_cm} cm "
        "in every direction: each side is an arc whose centre is the opposite corner (a Reuleaux "
        "triangle). It is no circle. What is its true area? Answer in cm² or m².",
        given=[Quantity("width_cm", 24.0, 64.0, 0.1)],
        unit="cm²",
        answer=lambda q: _of_the_square() * q.width_cm**2,
        steps={"circle_cm2": lambda q: area_from_diameters_cm2([q.width_cm])},
        hints=[
            "Draw the triangle with straight sides between the corners. What stands on each side?",
            "Three sectors of 60° and the width as radius cover the triangle three times. Together "
            "they are half a circle, π/2·w²; take two triangles of √3/4·w² away.",
            "Work out (3.1416 − 1.7321)/2·{width_cm}².",
        ],
        solution="A = (π − √3)/2·w² = (3.1416 − 1.7321)/2·{width_cm}² = {answer} cm². The circle "
        "that the calipers suggest has {circle_cm2} cm²: 11.4 % more, and no reading shows it.",
        slips=[
            Slip("circle", lambda q: area_from_diameters_cm2([q.width_cm]),
                 "That is the circle with this diameter. The same width all round does not make a "
                 "circle."),
            Slip("triangle-only", lambda q: sqrt(3) / 4 * q.width_cm**2,
                 "That is the triangle with straight sides. Add what stands on each side."),
            Slip("counted-twice", lambda q: pi / 2 * q.width_cm**2,
                 "Those are the three sectors. They cover the triangle three times: take it away "
                 "twice."),
            Slip("taken-once", lambda q: (pi / 2 - sqrt(3) / 4) * q.width_cm**2,
                 "The triangle was taken away once. The sectors cover it three times: take it away "
                 "twice."),
        ],
        asks_unit=True,
        picture="numbers",
        source="[OEIS-A060708]",
    ),
]  # fmt: skip
