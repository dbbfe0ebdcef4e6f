"""Solids of revolution: a stem whose sectional area grows from the tip as a power of the distance.

r² ∝ xᵖ, x from the tip: p = 0 is a cylinder, 1 a paraboloid, 2 a cone, 3 a neiloid. A trunk is
likened to a paraboloid in its middle, a cone near its tip and a neiloid at its flared foot (common
practice, no source). On these solids every volume is exact, so they show where a rule for logs
errs, and which way.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, diameter, number, plain, shown
from mensura.estimates.areas import over_percent
from mensura.estimates.logs import (
    huber_m3,
    log_length,
    newton_m3,
    round_cm,
    section_m2,
    smalian_m3,
)

#: The named solids and the power p of each.
SOLIDS: dict[str, float] = {"cylinder": 0.0, "paraboloid": 1.0, "cone": 2.0, "neiloid": 3.0}

#: The rules for logs that :func:`rule_over_percent` judges.
LOG_RULES = ("huber", "smalian", "newton")

#: No stem is as hollow-sided as this power would make it.
GREATEST_POWER = 10.0


def solid_form_factor(solid: str | float) -> float:
    """Volume over that of the cylinder on the same base, 1/(p + 1): 1, 1/2, 1/3, 1/4.

    solid: a name of SOLIDS, or the power p itself, from 0 to 10. Returns a ratio. The integral of
    (x/H)ᵖ; the four fractions stand in textbooks of mensuration (from memory). Raises MeasureError.

    >>> [round(solid_form_factor(name), 4) for name in SOLIDS]
    [1.0, 0.5, 0.3333, 0.25]
    """
    return 1 / (_power(solid) + 1)


def solid_m3(solid: str | float, base_diameter_cm: ArrayLike, tree_height_m: ArrayLike) -> Any:
    """Volume of the whole solid from base to tip, g·H/(p + 1).

    solid: a name of SOLIDS, or the power p, from 0 to 10; base_diameter_cm: above 0, at most
    2000 cm; tree_height_m: above 0, at most 150 m; they broadcast. Returns m³. Closed form. Raises
    MeasureError.

    >>> round(solid_m3("cone", 40, 21), 4)
    0.8796
    """
    base = section_m2(base_diameter_cm, "base_diameter_cm")
    return plain(base * log_length(tree_height_m, "tree_height_m") * solid_form_factor(solid))


def solid_radius_cm(
    solid: str | float,
    base_diameter_cm: ArrayLike,
    tree_height_m: ArrayLike,
    above_base_m: ArrayLike,
) -> Any:
    """Radius of the solid at a height, R·((H − z)/H)^(p/2).

    solid: a name of SOLIDS, or the power p, from 0 to 10; base_diameter_cm: 2R, above 0, at most
    2000 cm; tree_height_m: H, above 0, at most 150 m; above_base_m: z, from 0 to H; they
    broadcast. Returns cm. Closed form. Raises MeasureError.

    >>> solid_radius_cm("cone", 40, 20, [0, 5, 20]).tolist()
    [20.0, 15.0, 0.0]
    """
    base = diameter(base_diameter_cm, "base_diameter_cm")
    height = log_length(tree_height_m, "tree_height_m")
    above = number(above_base_m, "above_base_m", "m", at_least=0.0)
    left = 1 - np.asarray(above) / height
    if np.any(left < 0):
        raise MeasureError("above_base_m", float(np.max(above)), "m", "at most the tree's height")
    return plain(np.asarray(base) / 2 * left ** (_power(solid) / 2))


def frustum_m3(
    solid: str | float,
    butt_diameter_cm: ArrayLike,
    top_diameter_cm: ArrayLike,
    log_length_m: ArrayLike,
) -> Any:
    """Volume of a log cut from the solid, exactly: L/(p + 1)·(g₀ + … + g₁).

    For the cone the bracket is g₀ + √(g₀g₁) + g₁, for the neiloid g₀ + ∛(g₀²g₁) + ∛(g₀g₁²) + g₁,
    for the paraboloid g₀ + g₁, which is Smalian's rule.
    solid: a name of SOLIDS, or the power p, from 0 to 10; butt_diameter_cm: above 0, at most
    2000 cm; top_diameter_cm: at least 0 (a tip), at most 2000 cm, and the same as the butt's for a
    cylinder; log_length_m: above 0, at most 150 m; they broadcast. Returns m³. Closed form. Raises
    MeasureError.

    >>> [round(frustum_m3(name, 44, 36, 5), 5) for name in ("paraboloid", "cone", "neiloid")]
    [0.63460, 0.63041, 0.62901]
    """
    power = _power(solid)
    thick, way = _thick_and_way(power, butt_diameter_cm, top_diameter_cm)
    # (1 − q^(p+1))/(1 − q) with q = eʷᵃʸ, the tip's distance from top and butt; p + 1 where q is 1
    steep = np.where(way < 0, way, -1.0)
    share = np.expm1((power + 1) * steep) / np.expm1(steep) / (power + 1)
    filled = np.where(way < 0, share, 1.0)
    return plain(np.pi / 40000 * thick * thick * filled * log_length(log_length_m))


def frustum_from_girths_m3(
    solid: str | float,
    butt_girth_cm: ArrayLike,
    top_girth_cm: ArrayLike,
    log_length_m: ArrayLike,
) -> Any:
    """Volume of a log cut from the solid, from its girths; for a cone L/12π·(C₀² + C₀C₁ + C₁²).

    solid: a name of SOLIDS, or the power p, from 0 to 10; butt_girth_cm: above 0, at most 6283 cm;
    top_girth_cm: at least 0, at most 6283 cm, and the same as the butt's for a cylinder;
    log_length_m: above 0, at most 150 m; they broadcast. Returns m³. Closed form; takes each
    section for a circle. Raises MeasureError.

    >>> round(frustum_from_girths_m3("cone", 140, 110, 5), 4)
    0.6247
    """
    return frustum_m3(
        solid,
        round_cm(butt_girth_cm, "butt_girth_cm"),
        round_cm(top_girth_cm, "top_girth_cm", tip=True),
        log_length_m,
    )


def frustum_mid_diameter_cm(
    solid: str | float, butt_diameter_cm: ArrayLike, top_diameter_cm: ArrayLike
) -> Any:
    """Diameter at half the length of a log cut from the solid.

    D·((1 + q)/2)^(p/2) with q = (d/D)^(2/p), the ratio of the distances of top
    and butt from the tip: the mean of the end diameters for a cone, their quadratic mean for a
    paraboloid.
    solid: a name of SOLIDS, or the power p, from 0 to 10; butt_diameter_cm: above 0, at most
    2000 cm; top_diameter_cm: at least 0 (a tip), at most 2000 cm, and the same as the butt's for a
    cylinder; they broadcast. Returns cm. Closed form. Raises MeasureError.

    >>> [round(frustum_mid_diameter_cm(name, 60, 20), 2) for name in ("paraboloid", "cone")]
    [44.72, 40.0]
    """
    power = _power(solid)
    thick, way = _thick_and_way(power, butt_diameter_cm, top_diameter_cm)
    return plain(thick * ((1 + np.exp(way)) / 2) ** (power / 2))


def rule_over_percent(
    rule: str,
    solid: str | float,
    butt_diameter_cm: ArrayLike,
    top_diameter_cm: ArrayLike,
) -> Any:
    """By how much a rule's volume of a log cut from the solid is too large; below 0: too small.

    Huber and Smalian are exact for cylinder and paraboloid; for cone and neiloid Huber is too small
    and Smalian too large by twice as much in volume. Newton is exact for all four. On a whole solid
    (top 0) Huber errs by −25 % (cone) and −50 % (neiloid), Smalian by +50 % and +100 %. The length
    does not matter.
    rule: one of LOG_RULES; solid: a name of SOLIDS, or the power p, from 0 to 10;
    butt_diameter_cm: above 0, at most 2000 cm; top_diameter_cm: at least 0 (a tip), at most
    2000 cm, and the same as the butt's for a cylinder; they broadcast. Returns per cent of the true
    volume. Closed form. Raises MeasureError.

    >>> [round(rule_over_percent(rule, "cone", 44, 36), 3) for rule in LOG_RULES]
    [-0.332, 0.664, 0.0]
    """
    if rule not in LOG_RULES:
        raise MeasureError("rule", rule, "", "one of " + ", ".join(LOG_RULES))
    middle = frustum_mid_diameter_cm(solid, butt_diameter_cm, top_diameter_cm)
    said = {
        "huber": lambda: huber_m3(middle, 1.0),
        "smalian": lambda: smalian_m3(butt_diameter_cm, top_diameter_cm, 1.0),
        "newton": lambda: newton_m3(butt_diameter_cm, middle, top_diameter_cm, 1.0),
    }[rule]()
    true = frustum_m3(solid, butt_diameter_cm, top_diameter_cm, 1.0)
    # areas, per metre of log; the ratio is what counts
    return plain(over_percent(said, true))


def _power(solid: str | float) -> float:
    if isinstance(solid, str):
        if solid not in SOLIDS:
            raise MeasureError("solid", solid, "", "one of " + ", ".join(SOLIDS) + ", or a power")
        return SOLIDS[solid]
    power = number(solid, "solid", "", at_least=0.0, at_most=GREATEST_POWER)
    if not isinstance(power, float):
        raise MeasureError("solid", shown(solid), "", "one name or one power")
    return power


def _thick_and_way(
    power: float, butt_diameter_cm: ArrayLike, top_diameter_cm: ArrayLike
) -> tuple[Any, Any]:
    """The thicker end in cm, and the logarithm of q = (thin/thick)^(2/p), 0 for no taper."""
    butt = diameter(butt_diameter_cm, "butt_diameter_cm")
    top = number(top_diameter_cm, "top_diameter_cm", "cm", at_least=0.0, at_most=2000.0)
    thick, thin = np.maximum(butt, top), np.minimum(butt, top)
    if power == 0:
        if np.any(thick != thin):
            raise MeasureError(
                "top_diameter_cm", float(np.max(top)), "cm", "the butt's diameter, in a cylinder"
            )
        return thick, np.zeros_like(thick)
    with np.errstate(divide="ignore"):
        return thick, 2 / power * np.log(thin / thick)
