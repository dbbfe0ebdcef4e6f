"""The form of a stem: how much of its cylinder it fills, and what that says about a column's name.

The cylinder is as thick as the stem where it was measured, at breast height, and as tall as the
tree. Usual stems hold about half of it and less; where a record has several times as much, a column
has the wrong name or the wrong unit.
"""

from __future__ import annotations

from typing import Any

from numpy.typing import ArrayLike

from mensura.checks import number
from mensura.estimates.areas import basal_area_ft2


def form_factors(diameter_in: ArrayLike, height_ft: ArrayLike, volume_ft3: ArrayLike) -> Any:
    """Form factor V/(g·H), the volume over a cylinder with the area where it was measured; no unit.

    diameter_in: diameter, inches; height_ft: height, feet; volume_ft3: volume, cubic feet; numbers
    or arrays that broadcast, above 0. g = π/576·d² in square feet assumes a circle. Measured at the
    base, a paraboloid has 1/2 and a cone 1/3. Measured at a height b, as at breast height, they
    have H/(H − b)/2 and (H/(H − b))²/3, which is more. With b = 4.5 ft and the heights of the 31
    cherry trees [Meyer1953] that is 0.53 to 0.54 and 0.37 to 0.39. All of them have less than such
    a paraboloid, and 13 less than such a cone, perhaps because their volume is of timber. Taken
    for girths, their column Girth would give several times the whole cylinder:

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
