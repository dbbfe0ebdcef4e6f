"""What a tape makes of any outline: the lines of the outline's road on girth, hull and ripples.

Isoperimetric inequality by Fourier series after [Hurwitz1902].
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from mensura.estimates import area_from_girth_cm2
from mensura.stems import Ellipse, ellipse_girth_cm
from mensura.teaching.proof.certificates import Bound, Definition, Identity
from mensura.teaching.proof.certificates_fourier import (
    FourierForm,
    OneRipple,
    Parseval,
    SupportFormula,
)
from mensura.teaching.proof.steps import THEREFORE, Step


@lru_cache(maxsize=64)
def _ripples(a: float, b: float) -> tuple[float, float]:
    """c₀ of an ellipse, and Σ(n² − 1)(p_n² + q_n²), from even directions: as good as exact."""
    directions = np.arange(4096) * (360 / 4096)
    waves = np.fft.rfft(Ellipse(2 * a, 2 * b).support_cm(directions)) / 4096
    n = np.arange(1, len(waves))
    return float(waves[0].real), float(((n**2 - 1) * np.abs(2 * waves[1:]) ** 2).sum())


def _girth(a: float, b: float) -> float:
    return float(ellipse_girth_cm(2 * a, 2 * b))


def _area(a: float, b: float) -> float:
    return float(Ellipse(2 * a, 2 * b).area_cm2)


def _deficit(a: float, b: float) -> float:
    return _girth(a, b) ** 2 - 4 * math.pi * _area(a, b)


def _second_ripple(a: float, b: float) -> float:
    directions = np.arange(4096) * (360 / 4096)
    waves = np.fft.rfft(Ellipse(2 * a, 2 * b).support_cm(directions)) / 4096
    return float(2 * math.pi**2 * 3 * abs(2 * waves[2]) ** 2)


#: The support function's series.
SUPPORT = Step(
    key="outline-1",
    line="h(φ) = c₀ + Σ (p_n cos nφ + q_n sin nφ)",
    statement=lambda s: s.eq(
        s.support(s.phi),
        s.c0 + s.Sum(s.p[s.n] * s.cos(s.n * s.phi) + s.q[s.n] * s.sin(s.n * s.phi), (s.n, 1, s.oo)),
    ),
    premises=(),
    direction=THEREFORE,
    reason="h(φ) is how far the hull reaches in the direction φ. It repeats after one turn, so it "
    "is a mean c₀ and ripples: n = 1 says where the stem stands, n = 2 is oval, n = 3 "
    "three-cornered, and so on.",
    picture="spectrum",
    certificates=(FourierForm(),),
    assumption="the hull of the section; the tape lies level and taut on it",
    unit="cm",
)

_GIRTH_OF = Step(
    key="outline-2",
    line="P = ∫h(φ) dφ",
    statement=lambda s: s.eq(s.P, s.turn(s.support(s.phi), s.phi)),
    premises=(),
    direction=THEREFORE,
    reason="While the supporting line turns by dφ the edge runs (h + h″) dφ; h″ adds up to nothing "
    "over a turn. A hull with corners is a limit of smooth ones.",
    picture="hull",
    certificates=(SupportFormula("girth"),),
    unit="cm",
    numbers=lambda a, b, _: (_girth(a, b), 2 * math.pi * _ripples(a, b)[0]),
    outlined=lambda o: (o.girth_cm, o.series.girth_cm),
)

_AREA_OF = Step(
    key="outline-3",
    line="A_hull = ½∫(h² − h′²) dφ",
    statement=lambda s: s.eq(
        s.A_hull,
        s.turn(s.support(s.phi) ** 2 - s.sp.Derivative(s.support(s.phi), s.phi) ** 2, s.phi) / 2,
    ),
    premises=(),
    direction=THEREFORE,
    reason="Thin triangles from the origin to the edge: half of h times h + h″. Over a turn h·h″ "
    "and −h′² add up to the same.",
    picture="hull",
    certificates=(SupportFormula("area"),),
    unit="cm²",
    numbers=lambda a, b, _: (
        _area(a, b),
        math.pi * _ripples(a, b)[0] ** 2 - math.pi / 2 * _ripples(a, b)[1],
    ),
    outlined=lambda o: (o.hull_cm2, o.triangles_cm2),
)

#: The girth hears of no ripple.
GIRTH = Step(
    key="outline-4",
    line="P = 2πc₀",
    statement=lambda s: s.eq(s.P, 2 * s.pi * s.c0),
    premises=(SUPPORT, _GIRTH_OF),
    direction=THEREFORE,
    reason="Each ripple adds up to nothing over a turn. The girth hears only the mean.",
    picture="spectrum",
    certificates=(Parseval(),),
    unit="cm",
    numbers=lambda a, b, _: (_girth(a, b), 2 * math.pi * _ripples(a, b)[0]),
    outlined=lambda o: (o.girth_cm, o.series.girth_cm),
)

#: What each ripple takes from the area.
AREA = Step(
    key="outline-5",
    line="A_hull = πc₀² − (π/2)Σ (n² − 1)(p_n² + q_n²)",
    statement=lambda s: s.eq(
        s.A_hull,
        s.pi * s.c0**2
        - s.pi / 2 * s.Sum((s.n**2 - 1) * (s.p[s.n] ** 2 + s.q[s.n] ** 2), (s.n, 1, s.oo)),
    ),
    premises=(SUPPORT, _AREA_OF),
    direction=THEREFORE,
    reason="Different ripples do not meet in the integral. Each takes its own part from the "
    "circle's area: n² from h′², less 1 from h².",
    picture="spectrum",
    certificates=(Parseval(),),
    unit="cm²",
    numbers=lambda a, b, _: (
        _area(a, b),
        math.pi * _ripples(a, b)[0] ** 2 - math.pi / 2 * _ripples(a, b)[1],
    ),
    outlined=lambda o: (o.hull_cm2, o.series.hull_area_cm2),
)

_DEFICIT = Step(
    key="outline-6",
    line="P² − 4πA_hull = 2π²Σ (n² − 1)(p_n² + q_n²)",
    statement=lambda s: s.eq(
        s.P**2 - 4 * s.pi * s.A_hull,
        2 * s.pi**2 * s.Sum((s.n**2 - 1) * (s.p[s.n] ** 2 + s.q[s.n] ** 2), (s.n, 1, s.oo)),
    ),
    premises=(GIRTH, AREA),
    direction=THEREFORE,
    reason="Put both in. The circle's own part, 4π²c₀², falls out.",
    picture="spectrum",
    certificates=(Identity((None, None)),),
    unit="cm²",
    numbers=lambda a, b, _: (_deficit(a, b), 2 * math.pi**2 * _ripples(a, b)[1]),
    outlined=lambda o: (o.deficit_cm2, 4 * math.pi * o.lost_cm2),
)

_ISOPERIMETRIC = Step(
    key="outline-7",
    line="P² − 4πA_hull ≥ 0",
    statement=lambda s: s.ge(s.P**2 - 4 * s.pi * s.A_hull, 0),
    premises=(_DEFICIT,),
    direction=THEREFORE,
    reason="n² − 1 is never negative for n = 1, 2, 3, …, squares neither. No term can be below 0, "
    "so no sum of them can, however many there are. This is the isoperimetric inequality.",
    picture="spectrum",
    certificates=(
        Bound(
            (1,),
            lambda s: (
                2 * s.pi**2 * s.Sum((s.n**2 - 1) * (s.p[s.n] ** 2 + s.q[s.n] ** 2), (s.n, 1, s.oo))
            ),
        ),
    ),
    unit="cm²",
    numbers=lambda a, b, _: (_deficit(a, b), 0.0),
    outlined=lambda o: (o.deficit_cm2, 0.0),
)

_TAPE = Step(
    key="outline-8",
    line="A_tape = P²/(4π)",
    statement=lambda s: s.eq(s.A_tape, s.P**2 / (4 * s.pi)),
    premises=(),
    direction=THEREFORE,
    reason="The tape's area is that of the circle with the hull's girth.",
    picture="hull",
    certificates=(
        Definition(
            lambda s: s.A_tape,
            lambda s: s.pi * (s.P / (2 * s.pi)) ** 2,
            "the circle whose radius is P/2π",
        ),
    ),
    unit="cm²",
    numbers=lambda a, b, _: (
        float(area_from_girth_cm2(_girth(a, b))),
        _girth(a, b) ** 2 / (4 * math.pi),
    ),
    outlined=lambda o: (o.circle_cm2, o.girth_cm**2 / (4 * math.pi)),
)

_TAPE_HULL = Step(
    key="outline-9",
    line="A_tape ≥ A_hull",
    statement=lambda s: s.ge(s.A_tape, s.A_hull),
    premises=(_ISOPERIMETRIC, _TAPE),
    direction=THEREFORE,
    reason="Divide by 4π, which is positive. The tape is never below the hull.",
    picture="hull",
    certificates=(Identity((lambda s: 1 / (4 * s.pi), None)),),
    unit="cm²",
    numbers=lambda a, b, _: (float(area_from_girth_cm2(_girth(a, b))), _area(a, b)),
    outlined=lambda o: (o.circle_cm2, o.hull_cm2),
)

_HOLLOWS = Step(
    key="outline-10",
    line="A_hull = A + hollows",
    statement=lambda s: s.eq(s.A_hull, s.A + s.hollows),
    premises=(),
    direction=THEREFORE,
    reason="The hull is the section and the hollows that the tape bridges.",
    picture="hull",
    certificates=(
        Definition(lambda s: s.A_hull, lambda s: s.hollows + s.A, "the section with its hollows"),
    ),
    unit="cm²",
    numbers=lambda a, b, _: (_area(a, b), _area(a, b)),
    outlined=lambda o: (o.hull_cm2, o.true_cm2 + (o.hull_cm2 - o.true_cm2)),
)

_HULL = Step(
    key="outline-11",
    line="A_hull ≥ A",
    statement=lambda s: s.ge(s.A_hull, s.A),
    premises=(_HOLLOWS,),
    direction=THEREFORE,
    reason="Hollows have an area of 0 or more. The tape counts them as wood.",
    picture="hull",
    certificates=(Bound((1,), lambda s: s.hollows),),
    unit="cm²",
    numbers=lambda a, b, _: (_area(a, b), _area(a, b)),
    outlined=lambda o: (o.hull_cm2, o.true_cm2),
)

_SECTION = Step(
    key="outline-12",
    line="A_tape ≥ A",
    statement=lambda s: s.ge(s.A_tape, s.A),
    premises=(_TAPE_HULL, _HULL),
    direction=THEREFORE,
    reason="One over the other: the tape is never below the section, whatever its outline.",
    picture="hull",
    certificates=(Identity((1, 1)),),
    unit="cm²",
    numbers=lambda a, b, _: (float(area_from_girth_cm2(_girth(a, b))), _area(a, b)),
    outlined=lambda o: (o.circle_cm2, o.true_cm2),
)

_EQUALITY = Step(
    key="outline-13",
    line="P² − 4πA_hull ≥ 2π²(n² − 1)(p_n² + q_n²)",
    statement=lambda s: s.ge(
        s.P**2 - 4 * s.pi * s.A_hull,
        2 * s.pi**2 * (s.n**2 - 1) * (s.p[s.n] ** 2 + s.q[s.n] ** 2),
    ),
    premises=(_DEFICIT,),
    direction=THEREFORE,
    reason="For every n. A single ripple with n ≥ 2 already puts the tape above the hull. Equality "
    "needs all of them to be 0: then h is a circle's, and n = 1 only moves it.",
    picture="spectrum",
    certificates=(OneRipple(),),
    unit="cm²",
    numbers=lambda a, b, _: (_deficit(a, b), _second_ripple(a, b)),
    outlined=lambda o: (o.deficit_cm2, 4 * math.pi * float(o.series.lost_cm2.max())),
)

#: The lines in order.
STEPS = (
    *(SUPPORT, _GIRTH_OF, _AREA_OF, GIRTH, AREA, _DEFICIT, _ISOPERIMETRIC),
    *(_TAPE, _TAPE_HULL, _HOLLOWS, _HULL, _SECTION, _EQUALITY),
)
