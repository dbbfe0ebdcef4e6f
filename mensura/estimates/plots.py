"""From a plot to a hectare: what stands on a small circle, times how often it goes into 10 000 m².

A plot's area is that of its map: on a slope the tape must run longer to enclose the same map.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import LARGEST_CM, MeasureError, number, plain

#: Square metres in a hectare.
HECTARE_M2 = 10_000.0

#: A plot is no larger than ten square kilometres, nor its radius than one: a slip of the unit.
_LARGEST_M2 = 1e7
_LARGEST_M = 1000.0
#: Ground steeper than this is no place to lay out a plot with a tape.
STEEPEST_DEG = 75.0


def circular_plot_area_m2(plot_radius_m: ArrayLike) -> Any:
    """Area of a circular plot, πr².

    plot_radius_m: horizontal radius, above 0, at most 1000 m. Returns m². Closed form. Raises
    MeasureError.

    >>> round(circular_plot_area_m2(12.6157), 2)
    500.0
    """
    return plain(np.pi * np.square(_radius(plot_radius_m)))


def circular_plot_radius_m(plot_area_m2: ArrayLike) -> Any:
    """Horizontal radius of a circular plot of a wanted area, √(A/π).

    plot_area_m2: above 0, at most 10 000 000 m². Returns m. Closed form. Raises MeasureError.

    >>> round(circular_plot_radius_m(500), 3)
    12.616
    """
    return plain(np.sqrt(_area(plot_area_m2) / np.pi))


def slope_plot_radius_m(plot_radius_m: ArrayLike, slope_deg: ArrayLike) -> Any:
    """Radius along the ground of a circle whose map has the wanted area, r/√cos α.

    plot_radius_m: of the level plot, above 0, at most 1000 m; slope_deg: of the ground, from 0 to
    75 degrees; they broadcast. Returns m. The plot on the map is then an ellipse of the right area
    [Kleinn2007]. Steep ground is for those trained for it, with local rules. Raises MeasureError.

    >>> round(slope_plot_radius_m(12.616, 25), 3)
    13.252
    """
    return plain(_radius(plot_radius_m) / np.sqrt(_cosine(slope_deg)))


def slope_distance_m(horizontal_m: ArrayLike, slope_deg: ArrayLike) -> Any:
    """Length to tape up or down a slope for a wanted horizontal distance, h/cos α.

    horizontal_m: above 0, at most 1000 m; slope_deg: of the ground along the tape, from 0 to 75
    degrees; they broadcast. Returns m. Closed form [Kleinn2007]. Raises MeasureError.

    >>> round(slope_distance_m(12.616, 25), 3)
    13.92
    """
    level = number(horizontal_m, "horizontal_m", "m", above=0.0, at_most=_LARGEST_M)
    return plain(level / _cosine(slope_deg))


def mapped_area_m2(ground_area_m2: ArrayLike, slope_deg: ArrayLike) -> Any:
    """Area on the map of a plot that was laid out on a slope without correction, A·cos α.

    ground_area_m2: area along the ground, above 0, at most 10 000 000 m²; slope_deg: from 0 to 75
    degrees; they broadcast. Returns m². Closed form [Kleinn2007]. Raises MeasureError.

    >>> round(mapped_area_m2(500, 25), 2)
    453.15
    """
    return plain(_area(ground_area_m2, "ground_area_m2") * _cosine(slope_deg))


def stems_per_ha(stem_count: ArrayLike, plot_area_m2: ArrayLike) -> Any:
    """Stems on a hectare, n·10 000/A.

    stem_count: stems on the plot, whole numbers, at least 0; plot_area_m2: of the map, above 0, at
    most 10 000 000 m²; they broadcast. Returns stems per hectare. By hand. Raises MeasureError.

    >>> stems_per_ha(23, 500)
    460.0
    """
    count = number(stem_count, "stem_count", "", at_least=0.0)
    whole = np.asarray(count) == np.floor(count)
    if not whole.all():
        odd = float(np.asarray(count)[~whole].ravel()[0])
        raise MeasureError("stem_count", odd, "", "a whole number of stems")
    return plain(count * (HECTARE_M2 / _area(plot_area_m2)))


def basal_area_m2_per_ha(diameters_cm: ArrayLike, plot_area_m2: ArrayLike) -> Any:
    """Basal area of a hectare from the diameters of all stems of a plot, π/40000·Σd²·10 000/A.

    diameters_cm: one a stem at breast height, shape (..., stems), above 0, at most 2000 cm, none
    for an empty plot; plot_area_m2: of the map, above 0, at most 10 000 000 m², shape (...) or a
    number. Returns m² per hectare. Formula and constant: [CFMP1999, section 3.3]. Takes each stem
    for a circle. Raises MeasureError.

    >>> round(basal_area_m2_per_ha([24, 31, 28, 40], 100), 3)
    30.796
    """
    each = _stems(diameters_cm, "diameters_cm", LARGEST_CM)
    together = np.pi / 40000 * np.square(each).sum(axis=-1)
    return plain(together * (HECTARE_M2 / _area(plot_area_m2)))


def basal_area_from_girths_m2_per_ha(girths_cm: ArrayLike, plot_area_m2: ArrayLike) -> Any:
    """Basal area of a hectare from the girths of all stems of a plot, ΣG²/4π·10 000/A.

    girths_cm: one a stem at breast height, shape (..., stems), above 0, at most 6283 cm, none for
    an empty plot; plot_area_m2: of the map, above 0, at most 10 000 000 m², shape (...) or a
    number. Returns m² per hectare. Too large for stems that are not round [Berger2010]. Raises
    MeasureError.

    >>> round(basal_area_from_girths_m2_per_ha([75.4, 97.4, 88.0, 125.7], 100), 2)
    30.81
    """
    each = _stems(girths_cm, "girths_cm", np.floor(np.pi * LARGEST_CM))
    return basal_area_m2_per_ha(each / np.pi, plot_area_m2)


def quadratic_mean_diameter_cm(diameters_cm: ArrayLike) -> Any:
    """Diameter of the stem of mean basal area, √(Σd²/n); never below the arithmetic mean.

    diameters_cm: one a stem, shape (..., stems), at least one, above 0, at most 2000 cm. Returns
    cm, shape (...). Definition: [CFMP1999, section 3.3]. Raises MeasureError.

    >>> round(quadratic_mean_diameter_cm([24, 31, 28, 40]), 2)
    31.31
    """
    each = _stems(diameters_cm, "diameters_cm", LARGEST_CM)
    if each.shape[-1] == 0:
        raise MeasureError("diameters_cm", None, "cm", "at least one stem")
    return plain(np.sqrt(np.square(each).mean(axis=-1)))


def _stems(value: ArrayLike, field: str, most: float) -> Any:
    return np.atleast_1d(number(value, field, "cm", above=0.0, at_most=most))


def _radius(value: ArrayLike) -> Any:
    return number(value, "plot_radius_m", "m", above=0.0, at_most=_LARGEST_M)


def _area(value: ArrayLike, field: str = "plot_area_m2") -> Any:
    return number(value, field, "m²", above=0.0, at_most=_LARGEST_M2)


def _cosine(slope_deg: ArrayLike) -> Any:
    return np.cos(
        np.radians(number(slope_deg, "slope_deg", "deg", at_least=0.0, at_most=STEEPEST_DEG))
    )
