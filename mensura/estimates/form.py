"""The form of a stem: how much of its cylinder it fills, and what that says about a column's name.

A stem tapers, so it holds less than the cylinder on its base: V < g·H. Where a record breaks that,
a column has the wrong name or the wrong unit.
"""

from __future__ import annotations

from typing import Any

from numpy.typing import ArrayLike

from mensura.checks import number
from mensura.estimates.areas import basal_area_ft2


def form_factors(diameter_in: ArrayLike, height_ft: ArrayLike, volume_ft3: ArrayLike) -> Any:
    """Form factor V/(g·H), the volume over that of the cylinder on the base; no unit.

    diameter_in: diameter, inches; height_ft: height, feet; volume_ft3: volume, cubic feet; numbers
    or arrays that broadcast, above 0. g = π/576·d² in square feet assumes a circle. A cylinder has
    1, a paraboloid 1/2, a cone 1/3; above 1 is impossible for a stem that tapers.
    The 31 cherry trees [Meyer1953] show that their column Girth holds diameters:

    >>> import numpy as np
    >>> from mensura.stems import cherry_trees
    >>> trees = cherry_trees()
    >>> as_diameter = form_factors(trees.labelled_girth_in, trees.height_ft, trees.volume_ft3)
    >>> np.percentile(as_diameter, [0, 100]).round(3).tolist()
    [0.324, 0.44]
    >>> as_girth = form_factors(trees.labelled_girth_in / np.pi, trees.height_ft, trees.volume_ft3)
    >>> np.percentile(as_girth, [0, 100]).round(1).tolist()
    [3.2, 4.3]
    """
    height = number(height_ft, "height_ft", "ft", above=0)
    volume = number(volume_ft3, "volume_ft3", "ft³", above=0)
    return volume / (basal_area_ft2(diameter_in) * height)
