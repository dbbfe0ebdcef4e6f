"""The quarter-girth rule: a round log sold as a square one whose side is a quarter of its girth.

(G/4)² in place of G²/4π: π/4 of a round log's volume, whatever its size. So the rule's figure is
21.46 % below the true volume. Said the other way round, a hoppus foot of round timber, one cubic
foot by the rule, is 27.32 % more wood than a cubic foot. Both are the one factor π/4; which per
cent it is depends on what is taken for the whole. Timber is sold on such a figure: a bill must say
which volume it means, and whether the girth was taken over bark.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number, plain
from mensura.estimates.logs import LONGEST_M, log_length

#: True volume of round timber in one hoppus foot, in cubic feet: 4/π [Rowlett].
HOPPUS_FOOT_FT3 = 4 / np.pi
#: The same in m³; the foot is 0.3048 m by definition [Rowlett].
HOPPUS_FOOT_M3 = HOPPUS_FOOT_FT3 * 0.3048**3

_GREATEST_GIRTH_CM = 6283.0


def quarter_girth_m3(mid_girth_cm: ArrayLike, log_length_m: ArrayLike) -> Any:
    """Volume by the quarter-girth rule, (G/4)²·L: π/4 of Huber's volume from the same girth.

    mid_girth_cm: girth at half the length, over or under bark, above 0, at most 6283 cm;
    log_length_m: above 0, at most 150 m; they broadcast. Returns the rule's m³, of which a round
    log holds 4/π times as many. Common practice; factor by closed form. Raises MeasureError.

    >>> round(quarter_girth_m3(120, 6), 4)
    0.54
    """
    girth = number(mid_girth_cm, "mid_girth_cm", "cm", above=0.0, at_most=_GREATEST_GIRTH_CM)
    return plain(np.square(girth / 400) * log_length(log_length_m))


def quarter_girth_hoppus_ft(mid_girth_in: ArrayLike, log_length_ft: ArrayLike) -> Any:
    """Volume in hoppus feet, (G/4)²·L/144.

    mid_girth_in: girth at half the length in inches, above 0, at most 2474 in; log_length_ft: in
    feet, above 0, at most 492 ft; they broadcast. Returns hoppus feet: the rule's cubic feet, each
    4/π = 1.273 cubic feet of round timber [Rowlett]. Raises MeasureError.

    >>> quarter_girth_hoppus_ft(48, 12)
    12.0
    """
    girth = number(
        mid_girth_in, "mid_girth_in", "in", above=0.0, at_most=np.ceil(_GREATEST_GIRTH_CM / 2.54)
    )
    length = number(
        log_length_ft, "log_length_ft", "ft", above=0.0, at_most=np.floor(LONGEST_M / 0.3048)
    )
    return plain(np.square(girth / 4) * length / 144)


def hoppus_true_m3(volume_hoppus_ft: ArrayLike) -> Any:
    """True volume of round timber that was sold as so many hoppus feet, 0.036054 m³ each.

    volume_hoppus_ft: hoppus feet, at least 0. Returns m³ [Rowlett]. Raises MeasureError.

    >>> round(hoppus_true_m3(50), 4)
    1.8027
    """
    return plain(
        number(volume_hoppus_ft, "volume_hoppus_ft", "hoppus ft", at_least=0.0) * HOPPUS_FOOT_M3
    )


def hoppus_sold_ft(volume_m3: ArrayLike) -> Any:
    """Hoppus feet that a true volume of round timber is sold as; undoes :func:`hoppus_true_m3`.

    volume_m3: true volume, at least 0. Returns hoppus feet [Rowlett]. Raises MeasureError.

    >>> round(hoppus_sold_ft(1), 3)
    27.736
    """
    return plain(number(volume_m3, "volume_m3", "m³", at_least=0.0) / HOPPUS_FOOT_M3)


def quarter_girth_under_bark_m3(
    mid_girth_cm: ArrayLike, bark_thickness_cm: ArrayLike, log_length_m: ArrayLike
) -> Any:
    """Quarter-girth volume of the wood alone: the girth under bark is G − 2πt.

    mid_girth_cm: over bark, above 0, at most 6283 cm; bark_thickness_cm: from the ridge tops to
    the wood, at least 0; log_length_m: above 0, at most 150 m; they broadcast. Returns the rule's
    m³. The step under bark is exact for even bark on any convex wood [Steiner1840]. Raises
    MeasureError if no wood is left.

    >>> round(quarter_girth_under_bark_m3(120, 1.5, 6), 4)
    0.4585
    """
    over = number(mid_girth_cm, "mid_girth_cm", "cm", above=0.0, at_most=_GREATEST_GIRTH_CM)
    bark = number(bark_thickness_cm, "bark_thickness_cm", "cm", at_least=0.0)
    under = over - 2 * np.pi * bark
    if np.any(np.asarray(under) <= 0):
        raise MeasureError(
            "bark_thickness_cm", float(np.max(bark)), "cm", "less than half the diameter"
        )
    return quarter_girth_m3(under, log_length_m)


def quarter_girth_over_percent(factor_percent: ArrayLike = 100.0) -> Any:
    """Error of a quarter-girth volume taken over bark, in per cent of the true volume under bark.

    100·(π/(4k²) − 1). Without bark (k = 1) it is −21.46 %: too small. The rule forgives bark: at
    k = √π/2, 88.6 %, the figure over bark is the true volume of the wood.
    factor_percent: 100 times the bark factor k, above 0 and at most 100. Returns per cent, below 0
    for too small. Closed form for a round log. Raises MeasureError.

    >>> round(quarter_girth_over_percent(), 2), round(quarter_girth_over_percent(90), 2)
    (-21.46, -3.04)
    """
    factor = number(factor_percent, "factor_percent", "%", above=0.0, at_most=100.0) / 100
    return plain(100 * (np.pi / (4 * np.square(factor)) - 1))
