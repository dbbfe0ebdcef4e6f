"""What is laid round something convex: an even bark on any wood, a belt round stem and climber."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, diameter, number, plain, whole
from mensura.stems.outline import Outline
from mensura.stems.section import Section


def with_even_bark(wood: Section, bark_cm: float, points: int = 1440) -> Outline:
    """The stem that convex wood makes in a bark of the same thickness all round.

    wood: one section; where it is hollow the bark is laid on its taut hull; bark_cm: thickness,
    above 0, at most 200 cm; points: on all the rounded corners together, 60 to 100 000.
    Where the wood bends, the bark is a piece of a circle about the corner; where it is straight, so
    is the bark. Corners of the outline lie on these arcs, so girth and area are a hair small.
    By Steiner's rule the girth is that of the wood and 2π times the bark [Steiner1840].
    Raises MeasureError for an array of stems.

    >>> plank = Outline([[0, 0], [4, 0], [4, 3], [0, 3]])
    >>> round(with_even_bark(plank, 0.5).taut_girth_cm - 14, 4)
    3.1416
    """
    if wood.shape:
        raise MeasureError("wood", str(wood.shape), "", "a single stem, not an array")
    bark = float(number(bark_cm, "bark_cm", "cm", above=0.0, at_most=200.0))
    turn_points = whole(points, "points", at_least=60, at_most=100_000)
    corners = wood.hull_cm @ np.array([1, 1j])
    sides = np.roll(corners, -1) - corners
    corners, sides = corners[sides != 0], sides[sides != 0]
    outward = np.angle(sides) - np.pi / 2
    bend = np.mod(outward - np.roll(outward, 1), 2 * np.pi)
    bend[bend > np.pi] = 0.0  # a hair of a bend the other way, by rounding
    arcs = []
    for corner, end, by in zip(corners, outward, bend, strict=True):
        steps = 1 + int(np.ceil(by / (2 * np.pi) * turn_points))
        arcs.append(corner + bark * np.exp(1j * (end - by + np.linspace(0.0, by, steps))))
    edge = np.concatenate(arcs)
    return Outline(np.stack([edge.real, edge.imag], axis=-1))


def belt_cm(
    first_diameter_cm: ArrayLike, second_diameter_cm: ArrayLike, gap_cm: ArrayLike = 0.0
) -> Any:
    """Length of a tight belt round two circles: a stem and a climber on it, or two stems.

    first_diameter_cm, second_diameter_cm: of the circles, above 0, cm; gap_cm: between them, at
    least 0, cm; they broadcast. Returns cm. Two straight pieces and two arcs:
    2√(c² − (R − r)²) + R(π + 2β) + r(π − 2β), with c the distance of the middles and
    sin β = (R − r)/c (closed form).

    >>> round(belt_cm(40.0, 2.0), 5), round(belt_cm(25.0, 22.0, 6.0), 5)
    (126.83316, 132.90371)
    """
    first = np.asarray(diameter(first_diameter_cm, "first_diameter_cm")) / 2
    second = np.asarray(diameter(second_diameter_cm, "second_diameter_cm")) / 2
    apart = first + second + number(gap_cm, "gap_cm", "cm", at_least=0.0)
    lean = np.arcsin((first - second) / apart)
    straight = 2 * np.sqrt(apart**2 - (first - second) ** 2)
    return plain(straight + first * (np.pi + 2 * lean) + second * (np.pi - 2 * lean))
