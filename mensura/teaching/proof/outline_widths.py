"""What calipers make of any outline: the lines of the outline's road on widths.

Constant width after [Barbier1860].
"""

from __future__ import annotations

import math

import numpy as np

from mensura.estimates import area_from_diameters_cm2, area_from_girth_cm2
from mensura.stems import Ellipse
from mensura.teaching.proof.certificates import Bound, Definition, Identity
from mensura.teaching.proof.certificates_fourier import FourierForm, Width
from mensura.teaching.proof.outline_tape import AREA, GIRTH
from mensura.teaching.proof.steps import THEREFORE, Step

#: What the lines on constant width take for granted.
_NO_EVEN_RIPPLE = "no even ripple"


def _reuleaux(a: float, b: float, _: float) -> tuple[float, float]:
    # a Reuleaux triangle as wide as the stem's mean diameter
    width = a + b
    claimed = float(area_from_diameters_cm2([width, width]))
    return claimed, (math.pi - math.sqrt(3)) / 2 * width**2


def _reuleaux_lost(width: float) -> float:
    # h + h″ is w and 0 by turns of 60°: ripple n = 3m, m odd, of height 2w/(πm(n² − 1))
    m = np.arange(1, 4001, 2.0)
    return float(2 * width**2 / math.pi * (1 / (m**2 * (9 * m**2 - 1))).sum())


def _reuleaux_readings(a: float, b: float, _: float) -> tuple[float, float]:
    width = a + b
    by_calipers = float(area_from_diameters_cm2([width, width]))
    return by_calipers, float(area_from_girth_cm2(math.pi * width))


#: What calipers read, from the support function.
WIDTH = Step(
    key="outline-14",
    line="w = h(φ) + h(φ + π)",
    statement=lambda s: s.eq(s.w, s.support(s.phi) + s.support(s.phi + s.pi)),
    premises=(),
    direction=THEREFORE,
    reason="Calipers read the distance of two parallel supporting lines: how far the hull reaches "
    "one way and the other.",
    picture="width",
    certificates=(
        Definition(
            lambda s: s.w,
            lambda s: s.support(s.phi) - (-s.support(s.phi + s.pi)),
            "the place of one jaw less that of the other, along φ",
        ),
    ),
    unit="cm",
    numbers=lambda a, b, angle: (
        float(Ellipse(2 * a, 2 * b).width_cm(angle)),
        float(
            Ellipse(2 * a, 2 * b).support_cm(angle) + Ellipse(2 * a, 2 * b).support_cm(angle + 180)
        ),
    ),
    outlined=lambda o: (o.width_cm, o.reach_cm),
)

_ODD = Step(
    key="outline-15",
    line="h(φ) = c₀ + Σ (p_n cos nφ + q_n sin nφ), n odd",
    statement=lambda s: s.eq(
        s.support(s.phi),
        s.c0
        + s.Sum(
            s.p[2 * s.k + 1] * s.cos((2 * s.k + 1) * s.phi)
            + s.q[2 * s.k + 1] * s.sin((2 * s.k + 1) * s.phi),
            (s.k, 0, s.oo),
        ),
    ),
    premises=(),
    direction=THEREFORE,
    reason="Now a hull with odd ripples only, a Reuleaux triangle say.",
    picture="width",
    certificates=(FourierForm(only_odd=True),),
    assumption=_NO_EVEN_RIPPLE,
    unit="cm",
    constant_width=True,
)

_CONSTANT = Step(
    key="outline-16",
    line="w = 2c₀",
    statement=lambda s: s.eq(s.w, 2 * s.c0),
    premises=(WIDTH, _ODD),
    direction=THEREFORE,
    reason="Half a turn on, an odd ripple has changed its sign: what one jaw gains the other "
    "loses. The width is the same in every direction.",
    picture="width",
    certificates=(Width(),),
    assumption=_NO_EVEN_RIPPLE,
    unit="cm",
    numbers=lambda a, b, _: (a + b, 2 * (math.pi * (a + b)) / (2 * math.pi)),
    outlined=lambda o: (o.width_cm, 2 * o.series.mean_cm),
    constant_width=True,
)

_BARBIER = Step(
    key="outline-17",
    line="πw²/4 = P²/(4π)",
    statement=lambda s: s.eq(s.pi * s.w**2 / 4, s.P**2 / (4 * s.pi)),
    premises=(_CONSTANT, GIRTH),
    direction=THEREFORE,
    reason="P = πw (Barbier): calipers in any direction and the tape conclude the same area. "
    "Numbers: a Reuleaux triangle of width a + b.",
    picture="width",
    certificates=(Identity((None, None)),),
    assumption=_NO_EVEN_RIPPLE,
    unit="cm²",
    numbers=_reuleaux_readings,
    outlined=lambda o: (o.jaws_cm2, o.circle_cm2),
    constant_width=True,
)

_BLIND = Step(
    key="outline-18",
    line="πw²/4 − A_hull = (π/2)Σ (n² − 1)(p_n² + q_n²)",
    statement=lambda s: s.eq(
        s.pi * s.w**2 / 4 - s.A_hull,
        s.pi / 2 * s.Sum((s.n**2 - 1) * (s.p[s.n] ** 2 + s.q[s.n] ** 2), (s.n, 1, s.oo)),
    ),
    premises=(_CONSTANT, AREA),
    direction=THEREFORE,
    reason="But every ripple still takes its part from the area.",
    picture="width",
    certificates=(Identity((None, None)),),
    assumption=_NO_EVEN_RIPPLE,
    unit="cm²",
    numbers=lambda a, b, angle: (
        _reuleaux(a, b, angle)[0] - _reuleaux(a, b, angle)[1],
        _reuleaux_lost(a + b),
    ),
    outlined=lambda o: (o.jaws_cm2 - o.hull_cm2, o.lost_cm2),
    constant_width=True,
)

_CLAIMED = Step(
    key="outline-19",
    line="πw²/4 ≥ A_hull",
    statement=lambda s: s.ge(s.pi * s.w**2 / 4, s.A_hull),
    premises=(_BLIND,),
    direction=THEREFORE,
    reason="So the area is smaller than calipers claim, by up to 11.4 % (the Reuleaux triangle), "
    "and no second direction tells. Numbers: a Reuleaux triangle of width a + b.",
    picture="width",
    certificates=(
        Bound(
            (1,),
            lambda s: (
                s.pi / 2 * s.Sum((s.n**2 - 1) * (s.p[s.n] ** 2 + s.q[s.n] ** 2), (s.n, 1, s.oo))
            ),
        ),
    ),
    assumption=_NO_EVEN_RIPPLE,
    unit="cm²",
    numbers=_reuleaux,
    outlined=lambda o: (o.jaws_cm2, o.hull_cm2),
    constant_width=True,
)

#: The lines in order.
STEPS = (WIDTH, _ODD, _CONSTANT, _BARBIER, _BLIND, _CLAIMED)
