"""Counting stems through a fixed angle: every stem that looks wider stands for as much basal area.

Each stem has a plot of its own, whose radius is as many times its diameter as the angle says. So a
hectare's basal area is the count times the angle's factor, and no stem need be measured for it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import LARGEST_CM, number, plain
from mensura.estimates.plots import HECTARE_M2

#: No gauge in use has a factor outside these, in m² a hectare: common practice, no source.
LEAST_FACTOR, LARGEST_FACTOR = 0.05, 100.0


def factor_m2_per_ha(limit_per_diameter: ArrayLike) -> Any:
    """What each counted stem stands for, 2500/c², where c is the limiting distance a diameter.

    limit_per_diameter: how many diameters away a stem is just as wide as the gauge, from 5 to 250.
    Returns m² a hectare. Formula: [Kleinn2007]; distance to the stem's middle, and so exact.
    Raises MeasureError.

    >>> [factor_m2_per_ha(c) for c in (50, 25)]
    [1.0, 4.0]
    """
    ratio = number(limit_per_diameter, "limit_per_diameter", "", at_least=5.0, at_most=250.0)
    return plain(HECTARE_M2 / 4 / np.square(ratio))


def limit_m(diameter_cm: ArrayLike, factor_m2_per_ha: ArrayLike) -> Any:
    """How far away the middle of a stem may stand to be counted, d/2·√(10 000/factor).

    diameter_cm: above 0, at most 2000 cm; factor_m2_per_ha: of the gauge, from 0.05 to 100; they
    broadcast. Returns m on the map. Formula: [Kleinn2007]. Raises MeasureError.

    >>> round(limit_m(30, 2), 3)
    10.607
    """
    thick = number(diameter_cm, "diameter_cm", "cm", above=0.0, at_most=LARGEST_CM)
    return plain(thick / 200 * np.sqrt(HECTARE_M2 / _factor(factor_m2_per_ha)))


def counted_stems_per_ha(diameter_cm: ArrayLike, factor_m2_per_ha: ArrayLike) -> Any:
    """How many stems a hectare each counted stem stands for: factor over its basal area.

    diameter_cm: above 0, at most 2000 cm; factor_m2_per_ha: of the gauge, from 0.05 to 100; they
    broadcast. Returns stems a hectare. Takes each stem for a circle. Formula: [Kleinn2007].
    Raises MeasureError.

    >>> round(counted_stems_per_ha(30, 2), 3)
    28.294
    """
    thick = number(diameter_cm, "diameter_cm", "cm", above=0.0, at_most=LARGEST_CM)
    return plain(_factor(factor_m2_per_ha) / (np.pi / 40000 * np.square(thick)))


def gauge_angle_deg(factor_m2_per_ha: ArrayLike) -> Any:
    """Angle of a gauge, 2·arcsin √(factor/10 000).

    factor_m2_per_ha: from 0.05 to 100. Returns degrees. Formula: [Kleinn2007]. Raises
    MeasureError.

    >>> round(gauge_angle_deg(1), 4)
    1.1459
    """
    return plain(np.degrees(2 * np.arcsin(np.sqrt(_factor(factor_m2_per_ha) / HECTARE_M2))))


def _factor(value: ArrayLike) -> Any:
    return number(value, "factor_m2_per_ha", "m²/ha", at_least=LEAST_FACTOR, at_most=LARGEST_FACTOR)
