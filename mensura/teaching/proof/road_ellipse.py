"""The ellipse's road: the exact girth between two bounds, and the size of the error in the end."""

from __future__ import annotations

import math

import numpy as np

from mensura.estimates import area_from_girth_cm2, classroom_over_percent, tape_over_percent
from mensura.stems import Ellipse, classroom_girth_cm, ellipse_girth_cm
from mensura.teaching.proof.certificates import Bound, Definition, Identity, MonotoneMap
from mensura.teaching.proof.certificates_integral import (
    IntegralBound,
    LeadingTerm,
    MeanSquare,
    RootBound,
    Series,
)
from mensura.teaching.proof.steps import THEREFORE, Road, Step

_TITLE = "The ellipse's road: the exact girth, rigorously"

_SAYS = (
    "On a smooth ellipse a level, taut tape always overestimates the area, unless a = b: by at "
    "least (a − b)²/(4ab) and at most (a − b)²/(2ab) of the true area. The series says more: it is "
    "always at least 3/8 · (a − b)²/(ab), three quarters of what the classroom's girth blames on "
    "it, and hardly more on slightly oval stems. "
    "With a = 10, b = 8 that is 1.88 % instead of 2.5 %."
)


def _girth(a: float, b: float) -> float:
    return float(ellipse_girth_cm(2 * a, 2 * b))


def _tape(a: float, b: float) -> float:
    return float(area_from_girth_cm2(_girth(a, b)))


def _true(a: float, b: float) -> float:
    return float(Ellipse(2 * a, 2 * b).area_cm2)


def _over(a: float, b: float) -> float:
    return float(tape_over_percent(min(a, b) / max(a, b))) / 100


def _claim(a: float, b: float) -> float:
    return float(classroom_over_percent(min(a, b) / max(a, b))) / 100


def _quotient(above: float, below: float) -> float:
    return above / below if below else math.nan


def _arc_length(a: float, b: float, _: float) -> tuple[float, float]:
    # a smooth periodic function: the mean of so many even places is as good as exact
    t = np.arange(4096) * (2 * np.pi / 4096)
    return _girth(a, b), 2 * np.pi * float(np.hypot(a * np.sin(t), b * np.cos(t)).mean())


def _speed(a: float, b: float, angle: float) -> tuple[float, float]:
    sine, cosine = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    return math.hypot(a * sine, b * cosine), a * sine**2 + b * cosine**2


def _series(a: float, b: float, _: float) -> tuple[float, float]:
    h = ((a - b) / (a + b)) ** 2
    return _girth(a, b), math.pi * (a + b) * (1 + h / 4 + h * h / 64)


#: P as the integral of the speed along (a cos t, b sin t).
ARC_LENGTH = Step(
    key="ellipse-1",
    line="P = ∫√(a² sin² t + b² cos² t) dt",
    statement=lambda s: s.eq(
        s.P, s.turn(s.sqrt(s.a**2 * s.sin(s.t) ** 2 + s.b**2 * s.cos(s.t) ** 2), s.t)
    ),
    premises=(),
    direction=THEREFORE,
    reason="Walk once round the edge (a cos t, b sin t), t from 0 to 2π, and add up the speed. "
    "No closed formula gives this integral; it is bounded instead.",
    picture="arc",
    certificates=(
        Definition(
            lambda s: s.P,
            lambda s: s.turn(
                s.sqrt(
                    s.sp.diff(s.a * s.cos(s.t), s.t) ** 2 + s.sp.diff(s.b * s.sin(s.t), s.t) ** 2
                ),
                s.t,
            ),
            "the speed √(x′² + y′²) of the edge, added up over one turn",
        ),
    ),
    assumption="the section is an ellipse; the tape lies level and taut",
    unit="cm",
    numbers=_arc_length,
)

_BELOW_EACH = Step(
    key="ellipse-2",
    line="√(a² sin² t + b² cos² t) ≥ a sin² t + b cos² t",
    statement=lambda s: s.ge(
        s.sqrt(s.a**2 * s.sin(s.t) ** 2 + s.b**2 * s.cos(s.t) ** 2),
        s.a * s.sin(s.t) ** 2 + s.b * s.cos(s.t) ** 2,
    ),
    premises=(),
    direction=THEREFORE,
    reason="At each place. Square both sides, both are positive: they differ by "
    "(a − b)² sin² t cos² t, which is never below 0. It is the triangle inequality for a "
    "rectangle's diagonal and its projection.",
    picture="arc",
    certificates=(RootBound(lambda s: (s.a - s.b) ** 2 * s.sin(s.t) ** 2 * s.cos(s.t) ** 2),),
    unit="cm",
    numbers=_speed,
)

_BELOW = Step(
    key="ellipse-3",
    line="P ≥ π(a + b)",
    statement=lambda s: s.ge(s.P, s.pi * (s.a + s.b)),
    premises=(ARC_LENGTH, _BELOW_EACH),
    direction=THEREFORE,
    reason="What holds at each place holds for the sum. sin² and cos² each add up to π over a "
    "turn.",
    picture="bounds",
    certificates=(IntegralBound(),),
    unit="cm",
    numbers=lambda a, b, _: (_girth(a, b), math.pi * (a + b)),
)

#: The bound from above, squared: Cauchy and Schwarz.
ABOVE_SQUARED = Step(
    key="ellipse-4",
    line="P² ≤ 2π²(a² + b²)",
    statement=lambda s: s.le(s.P**2, 2 * s.pi**2 * (s.a**2 + s.b**2)),
    premises=(ARC_LENGTH,),
    direction=THEREFORE,
    reason="The square of a mean is at most the mean of the squares (Cauchy and Schwarz). The "
    "mean speed is P/2π; the squares of the speed add up to π(a² + b²).",
    picture="arc",
    certificates=(MeanSquare(),),
    unit="cm²",
    numbers=lambda a, b, _: (_girth(a, b) ** 2, 2 * math.pi**2 * (a * a + b * b)),
)

_ABOVE = Step(
    key="ellipse-5",
    line="P ≤ 2π√((a² + b²)/2)",
    statement=lambda s: s.le(s.P, 2 * s.pi * s.sqrt((s.a**2 + s.b**2) / 2)),
    premises=(ABOVE_SQUARED,),
    direction=THEREFORE,
    reason="Take the root of both sides; the root rises, so ≤ stays ≤. This is the classroom's "
    "girth: never too short.",
    picture="bounds",
    certificates=(MonotoneMap(lambda s, x: s.sqrt(x)),),
    unit="cm",
    numbers=lambda a, b, _: (_girth(a, b), float(classroom_girth_cm(2 * a, 2 * b))),
)

_BELOW_SQUARED = Step(
    key="ellipse-6",
    line="P² ≥ π²(a + b)²",
    statement=lambda s: s.ge(s.P**2, s.pi**2 * (s.a + s.b) ** 2),
    premises=(_BELOW,),
    direction=THEREFORE,
    reason="Square both sides of the lower bound. Both are positive, where squaring rises.",
    picture="bounds",
    certificates=(MonotoneMap(lambda s, x: x**2),),
    unit="cm²",
    numbers=lambda a, b, _: (_girth(a, b) ** 2, (math.pi * (a + b)) ** 2),
)

#: What a tape concludes: the circle with that girth.
TAPE = Step(
    key="ellipse-7",
    line="A_tape = P²/(4π)",
    statement=lambda s: s.eq(s.A_tape, s.P**2 / (4 * s.pi)),
    premises=(),
    direction=THEREFORE,
    reason="The tape's area is that of the circle with the girth P.",
    picture="exact stem",
    certificates=(
        Definition(
            lambda s: s.A_tape,
            lambda s: s.pi * (s.P / (2 * s.pi)) ** 2,
            "the circle whose radius is P/2π",
        ),
    ),
    unit="cm²",
    numbers=lambda a, b, _: (_tape(a, b), _girth(a, b) ** 2 / (4 * math.pi)),
)

_AREA_BELOW = Step(
    key="ellipse-8",
    line="A_tape − πab ≥ π(a − b)²/4",
    statement=lambda s: s.ge(s.A_tape - s.pi * s.a * s.b, s.pi * (s.a - s.b) ** 2 / 4),
    premises=(_BELOW_SQUARED, TAPE),
    direction=THEREFORE,
    reason="Divide by 4π and take πab from both sides: (a + b)² − 4ab is (a − b)².",
    picture="squares",
    certificates=(Identity((lambda s: 1 / (4 * s.pi), None)),),
    unit="cm²",
    numbers=lambda a, b, _: (_tape(a, b) - _true(a, b), math.pi * (a - b) ** 2 / 4),
)

_AREA_ABOVE = Step(
    key="ellipse-9",
    line="A_tape − πab ≤ π(a − b)²/2",
    statement=lambda s: s.le(s.A_tape - s.pi * s.a * s.b, s.pi * (s.a - s.b) ** 2 / 2),
    premises=(ABOVE_SQUARED, TAPE),
    direction=THEREFORE,
    reason="The same with the upper bound: 2(a² + b²) − 4ab is 2(a − b)².",
    picture="squares",
    certificates=(Identity((lambda s: 1 / (4 * s.pi), None)),),
    unit="cm²",
    numbers=lambda a, b, _: (_tape(a, b) - _true(a, b), math.pi * (a - b) ** 2 / 2),
)

_MORE = Step(
    key="ellipse-10",
    line="A_tape > πab",
    statement=lambda s: s.gt(s.A_tape, s.pi * s.a * s.b),
    premises=(_AREA_BELOW,),
    direction=THEREFORE,
    reason="The square (a − b)² is above 0, as a ≠ b. So the tape overestimates every ellipse that "
    "is no circle, and now no girth is approximate.",
    picture="bounds",
    certificates=(Bound((1,), lambda s: s.pi * (s.a - s.b) ** 2 / 4, unequal=True),),
    assumption="a ≠ b",
    unit="cm²",
    numbers=lambda a, b, _: (_tape(a, b), _true(a, b)),
)

_SHARE_BELOW = Step(
    key="ellipse-11",
    line="A_tape/(πab) − 1 ≥ (a − b)²/(4ab)",
    statement=lambda s: s.ge(s.A_tape / (s.pi * s.a * s.b) - 1, (s.a - s.b) ** 2 / (4 * s.a * s.b)),
    premises=(_AREA_BELOW,),
    direction=THEREFORE,
    reason="Divide by πab, which is positive: a share of the true area. At least this much.",
    picture="curve",
    certificates=(Identity((lambda s: 1 / (s.pi * s.a * s.b),)),),
    numbers=lambda a, b, _: (_over(a, b), _claim(a, b) / 2),
)

_SHARE_ABOVE = Step(
    key="ellipse-12",
    line="A_tape/(πab) − 1 ≤ (a − b)²/(2ab)",
    statement=lambda s: s.le(s.A_tape / (s.pi * s.a * s.b) - 1, (s.a - s.b) ** 2 / (2 * s.a * s.b)),
    premises=(_AREA_ABOVE,),
    direction=THEREFORE,
    reason="And at most this much: just what the classroom's road blames on the tape.",
    picture="curve",
    certificates=(Identity((lambda s: 1 / (s.pi * s.a * s.b),)),),
    numbers=lambda a, b, _: (_over(a, b), _claim(a, b)),
)

#: The perimeter's series in h.
SERIES = Step(
    key="ellipse-13",
    line="P = π(a + b)(1 + h/4 + h²/64 + …), h = ((a − b)/(a + b))²",
    statement=lambda s: s.eq(
        s.P, s.pi * (s.a + s.b) * (1 + s.h / 4 + s.h**2 / 64 + s.sp.Order(s.h**3))
    ),
    premises=(ARC_LENGTH,),
    direction=THEREFORE,
    reason="Develop the root in x = (a − b)/(a + b) and add up over the turn, power by power. Odd "
    "powers vanish; h is x². Each coefficient is the square of one of √(1 − x), so none is "
    "negative.",
    picture="curve",
    certificates=(Series(),),
    assumption="a and b near each other, for the dots to be small",
    unit="cm",
    numbers=_series,
)

#: The exact error of the tape in leading order.
LEADING = Step(
    key="ellipse-14",
    line="(A_tape/(πab) − 1)/((a − b)²/(ab)) → 3/8 as b → a",
    statement=lambda s: s.eq(
        s.sp.Limit(
            (s.A_tape / (s.pi * s.a * s.b) - 1) / ((s.a - s.b) ** 2 / (s.a * s.b)), s.b, s.a
        ),
        s.sp.Rational(3, 8),
    ),
    premises=(TAPE, SERIES),
    direction=THEREFORE,
    reason="Put the series in. What is left in leading order is 3/8 · (a − b)²/(ab), between the "
    "two bounds with 1/4 and 1/2. It is never less: no term of the series is negative, so "
    "P ≥ π(a + b)(1 + h/4).",
    picture="curve",
    certificates=(LeadingTerm(lambda s: (s.a - s.b) ** 2 / (s.a * s.b)),),
    assumption="a and b near each other: the line itself is a limit",
    numbers=lambda a, b, _: (_quotient(_over(a, b), 2 * _claim(a, b)), 3 / 8),
)

_THREE_QUARTERS = Step(
    key="ellipse-15",
    line="(A_tape/(πab) − 1)/((a − b)²/(2ab)) → 3/4 as b → a",
    statement=lambda s: s.eq(
        s.sp.Limit(
            (s.A_tape / (s.pi * s.a * s.b) - 1) / ((s.a - s.b) ** 2 / (2 * s.a * s.b)), s.b, s.a
        ),
        s.sp.Rational(3, 4),
    ),
    premises=(TAPE, SERIES),
    direction=THEREFORE,
    reason="Against the classroom's claim: the true error is three quarters of it.",
    picture="curve",
    certificates=(LeadingTerm(lambda s: (s.a - s.b) ** 2 / (2 * s.a * s.b)),),
    assumption="a and b near each other: the line itself is a limit",
    numbers=lambda a, b, _: (_quotient(_over(a, b), _claim(a, b)), 3 / 4),
)


def ellipse() -> Road:
    """The road.

    >>> ellipse().steps[2].line
    'P ≥ π(a + b)'
    """
    steps = (
        *(ARC_LENGTH, _BELOW_EACH, _BELOW, ABOVE_SQUARED, _ABOVE, _BELOW_SQUARED, TAPE),
        *(_AREA_BELOW, _AREA_ABOVE, _MORE, _SHARE_BELOW, _SHARE_ABOVE),
        *(SERIES, LEADING, _THREE_QUARTERS),
    )
    return Road("ellipse", _TITLE, _SAYS, steps)
