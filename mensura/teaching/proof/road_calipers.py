"""The other side: what calipers off the axes claim too much, and when they are nearer the truth."""

from __future__ import annotations

import math

import numpy as np

from mensura.estimates import (
    classroom_over_percent,
    one_reading_over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.stems import Ellipse, ellipse_girth_cm
from mensura.teaching.proof.certificates import (
    AtAngle,
    Bound,
    Crossing,
    Definition,
    DerivativeSign,
    Identity,
    MonotoneMap,
)
from mensura.teaching.proof.certificates_fourier import Width
from mensura.teaching.proof.certificates_integral import LeadingTerm, MeanOverTurn
from mensura.teaching.proof.outline_tape import GIRTH, SUPPORT
from mensura.teaching.proof.outline_widths import WIDTH
from mensura.teaching.proof.road_ellipse import ABOVE_SQUARED, LEADING
from mensura.teaching.proof.steps import THEREFORE, Road, Step

_TITLE = "The other side: calipers off the axes"

_SAYS = (
    "Of two readings at right angles we prove that they are nearer the truth than the tape only "
    "for an ellipse near its axes: within about 22.5° for their arithmetic mean, about 30° for "
    "their product, in leading order for slightly oval ones. On other sections they may be nearer "
    "or farther at any angle. On the axes of an ellipse the product is exact. At "
    "45° both claim all that the classroom's girth blames on the tape. Over random directions one "
    "reading is biased more than the tape, the arithmetic mean of two as much in leading order, "
    "their product less; all of them vary with the hand's choice, the tape does not. The mean "
    "width over all directions is the taut girth over π, so more readings come to the tape's "
    "answer. Sections of constant width fool calipers completely."
)


def _width(a: float, b: float, angle: float) -> float:
    return float(Ellipse(2 * a, 2 * b).width_cm(angle))


def _pair(a: float, b: float, angle: float) -> tuple[float, float]:
    return _width(a, b, angle), _width(a, b, angle + 90)


def _ratio(a: float, b: float) -> float:
    return min(a, b) / max(a, b)


def _yard(a: float, b: float) -> float:
    """(a − b)²/(ab)."""
    return 2 * float(classroom_over_percent(_ratio(a, b))) / 100


def _against_yard(over_percent: float, a: float, b: float) -> float:
    return over_percent / 100 / _yard(a, b) if a != b else math.nan


def _two(a: float, b: float, angle: float, mean: str) -> float:
    return _against_yard(float(two_readings_over_percent(_ratio(a, b), angle, mean)), a, b)


def _over_all(a: float, b: float, mean: str) -> float:
    turns = np.arange(720) * 0.5
    return _against_yard(float(np.mean(two_readings_over_percent(_ratio(a, b), turns, mean))), a, b)


def _one_over_all(a: float, b: float) -> float:
    return float(np.mean(one_reading_over_percent(_ratio(a, b), np.arange(720) * 0.5)))


def _slope(a: float, b: float, angle: float) -> tuple[float, float]:
    return 8 * (a * a - b * b) ** 2 * math.sin(math.radians(4 * angle)), 0.0


FIRST = Step(
    key="calipers-1",
    line="w₁² = 4(a² cos² θ + b² sin² θ)",
    statement=lambda s: s.eq(
        s.w1**2, 4 * (s.a**2 * s.cos(s.theta) ** 2 + s.b**2 * s.sin(s.theta) ** 2)
    ),
    premises=(),
    direction=THEREFORE,
    reason="Calipers turned by θ off the axis touch the ellipse where its edge runs along the "
    "jaws.",
    picture="turn",
    certificates=(
        Definition(
            lambda s: s.w1**2,
            # on the edge (a cos t, b sin t) the reach along θ is greatest for tan t = b/a · tan θ:
            # there cos t, sin t are as a cos θ, b sin θ, and the reach is their product's root
            lambda s: (
                4
                * (
                    (
                        s.a * s.cos(s.theta) * s.a * s.cos(s.theta)
                        + s.b * s.sin(s.theta) * s.b * s.sin(s.theta)
                    )
                    ** 2
                    / ((s.a * s.cos(s.theta)) ** 2 + (s.b * s.sin(s.theta)) ** 2)
                )
            ),
            "twice the reach of the point (a cos t, b sin t) that lies farthest along θ, squared",
        ),
    ),
    assumption="the section is an ellipse",
    unit="cm²",
    numbers=lambda a, b, angle: (
        _width(a, b, angle) ** 2,
        4 * ((a * math.cos(math.radians(angle))) ** 2 + (b * math.sin(math.radians(angle))) ** 2),
    ),
)

SECOND = Step(
    key="calipers-2",
    line="w₂² = 4(a² sin² θ + b² cos² θ)",
    statement=lambda s: s.eq(
        s.w2**2, 4 * (s.a**2 * s.sin(s.theta) ** 2 + s.b**2 * s.cos(s.theta) ** 2)
    ),
    premises=(),
    direction=THEREFORE,
    reason="The second reading is taken at right angles to the first.",
    picture="turn",
    certificates=(
        Definition(
            lambda s: s.w2**2,
            lambda s: (
                4
                * (
                    s.a**2 * s.cos(s.theta + s.pi / 2) ** 2
                    + s.b**2 * s.sin(s.theta + s.pi / 2) ** 2
                )
            ),
            "the first reading's line with θ + 90° in the place of θ",
        ),
    ),
    assumption="the section is an ellipse",
    unit="cm²",
    numbers=lambda a, b, angle: (
        _pair(a, b, angle)[1] ** 2,
        4 * ((a * math.sin(math.radians(angle))) ** 2 + (b * math.cos(math.radians(angle))) ** 2),
    ),
)

_SUM = Step(
    key="calipers-3",
    line="w₁² + w₂² = 4(a² + b²)",
    statement=lambda s: s.eq(s.w1**2 + s.w2**2, 4 * (s.a**2 + s.b**2)),
    premises=(FIRST, SECOND),
    direction=THEREFORE,
    reason="sin² and cos² add up to 1: the sum of the squares does not hear how the calipers are "
    "turned.",
    picture="turn",
    certificates=(Identity((None, None)),),
    unit="cm²",
    numbers=lambda a, b, angle: (sum(w * w for w in _pair(a, b, angle)), 4 * (a * a + b * b)),
)

_PRODUCT = Step(
    key="calipers-4",
    line="w₁²w₂² = 16a²b² + 4(a² − b²)² sin² 2θ",
    statement=lambda s: s.eq(
        s.w1**2 * s.w2**2,
        16 * s.a**2 * s.b**2 + 4 * (s.a**2 - s.b**2) ** 2 * s.sin(2 * s.theta) ** 2,
    ),
    premises=(FIRST, SECOND),
    direction=THEREFORE,
    reason="Multiply out; 2 sin θ cos θ is sin 2θ. The product does hear it.",
    picture="turn",
    certificates=(Identity((None, None)),),
    unit="cm⁴",
    numbers=lambda a, b, angle: (
        math.prod(w * w for w in _pair(a, b, angle)),
        16 * a * a * b * b + 4 * ((a * a - b * b) * math.sin(math.radians(2 * angle))) ** 2,
    ),
)

_PRODUCT_BOUND = Step(
    key="calipers-5",
    line="w₁²w₂² ≥ 16a²b²",
    statement=lambda s: s.ge(s.w1**2 * s.w2**2, 16 * s.a**2 * s.b**2),
    premises=(_PRODUCT,),
    direction=THEREFORE,
    reason="What is added is a square, never below 0; it is 0 on the axes, where sin 2θ is 0.",
    picture="turn",
    certificates=(Bound((1,), lambda s: 4 * (s.a**2 - s.b**2) ** 2 * s.sin(2 * s.theta) ** 2),),
    unit="cm⁴",
    numbers=lambda a, b, angle: (math.prod(w * w for w in _pair(a, b, angle)), 16 * a * a * b * b),
)

_ROOT = Step(
    key="calipers-6",
    line="w₁w₂ ≥ 4ab",
    statement=lambda s: s.ge(s.w1 * s.w2, 4 * s.a * s.b),
    premises=(_PRODUCT_BOUND,),
    direction=THEREFORE,
    reason="Take the root, which rises. So π/4 times the product is never below πab: two readings "
    "at right angles never underestimate an ellipse.",
    picture="turn",
    certificates=(MonotoneMap(lambda s, x: s.sqrt(x)),),
    unit="cm²",
    numbers=lambda a, b, angle: (math.prod(_pair(a, b, angle)), 4 * a * b),
)

_MEAN_ABOVE = Step(
    key="calipers-7",
    line="((w₁ + w₂)/2)² ≥ 4ab",
    statement=lambda s: s.ge(((s.w1 + s.w2) / 2) ** 2, 4 * s.a * s.b),
    premises=(_ROOT,),
    direction=THEREFORE,
    reason="The square of the arithmetic mean is the product and (w₁ − w₂)²/4 besides. So the "
    "arithmetic mean claims more than the product, even on the axes.",
    picture="turn",
    certificates=(Bound((1,), lambda s: (s.w1 - s.w2) ** 2 / 4),),
    unit="cm²",
    numbers=lambda a, b, angle: ((sum(_pair(a, b, angle)) / 2) ** 2, 4 * a * b),
)

_ON_AXES = Step(
    key="calipers-8",
    line="16a²b² + 4(a² − b²)² sin² 2θ = 16a²b² at θ = 0°",
    statement=lambda s: s.eq(
        s.sp.Subs(
            16 * s.a**2 * s.b**2 + 4 * (s.a**2 - s.b**2) ** 2 * s.sin(2 * s.theta) ** 2,
            s.theta,
            0,
        ),
        16 * s.a**2 * s.b**2,
    ),
    premises=(_PRODUCT,),
    direction=THEREFORE,
    reason="On the axes sin 2θ is 0 and the product is exact.",
    picture="turn",
    certificates=(AtAngle(lambda s: s.sp.Integer(0)),),
    unit="cm⁴",
    numbers=lambda a, b, _: (math.prod(w * w for w in _pair(a, b, 0.0)), 16 * a * a * b * b),
)

_RISES = Step(
    key="calipers-9",
    line="d/dθ (16a²b² + 4(a² − b²)² sin² 2θ) > 0",
    statement=lambda s: s.gt(
        s.sp.Derivative(
            16 * s.a**2 * s.b**2 + 4 * (s.a**2 - s.b**2) ** 2 * s.sin(2 * s.theta) ** 2, s.theta
        ),
        0,
    ),
    premises=(_PRODUCT,),
    direction=THEREFORE,
    reason="The slope is 8(a² − b²)² sin 4θ: above 0 from the axes to 45°, as a ≠ b. The farther "
    "off the axes, the more is claimed.",
    picture="turn",
    certificates=(
        DerivativeSign(
            lambda s: 8 * (s.a**2 - s.b**2) ** 2 * s.sin(4 * s.theta), lambda s: s.pi / 4
        ),
    ),
    assumption="a ≠ b, 0° < θ < 45°",
    unit="cm⁴",
    numbers=_slope,
)

_AT_45 = Step(
    key="calipers-10",
    line="16a²b² + 4(a² − b²)² sin² 2θ = (2(a² + b²))² at θ = 45°",
    statement=lambda s: s.eq(
        s.sp.Subs(
            16 * s.a**2 * s.b**2 + 4 * (s.a**2 - s.b**2) ** 2 * s.sin(2 * s.theta) ** 2,
            s.theta,
            s.pi / 4,
        ),
        (2 * (s.a**2 + s.b**2)) ** 2,
    ),
    premises=(_PRODUCT,),
    direction=THEREFORE,
    reason="At 45° w₁w₂ is 2(a² + b²), and π/4 of it is π(a² + b²)/2: exactly the area that the "
    "classroom's girth puts down to the tape.",
    picture="turn",
    certificates=(AtAngle(lambda s: s.pi / 4),),
    unit="cm⁴",
    numbers=lambda a, b, _: (
        math.prod(w * w for w in _pair(a, b, 45.0)),
        (2 * (a * a + b * b)) ** 2,
    ),
)

_ONE = Step(
    key="calipers-11",
    line="mean over θ of w₁² = 2(a² + b²)",
    statement=lambda s: s.eq(s.turn(s.w1**2, s.theta) / (2 * s.pi), 2 * (s.a**2 + s.b**2)),
    premises=(FIRST,),
    direction=THEREFORE,
    reason="One reading in a random direction: cos² and sin² are ½ on the mean. Its area is that "
    "of the quadratic mean, π(a² + b²)/2, on the mean.",
    picture="random",
    certificates=(MeanOverTurn(),),
    assumption="every direction equally likely",
    unit="cm²",
    numbers=lambda a, b, _: (4 * a * b * (1 + _one_over_all(a, b) / 100), 2 * (a * a + b * b)),
)

_ONE_WORSE = Step(
    key="calipers-12",
    line="2(a² + b²) ≥ P²/π²",
    statement=lambda s: s.ge(2 * (s.a**2 + s.b**2), s.P**2 / s.pi**2),
    premises=(ABOVE_SQUARED,),
    direction=THEREFORE,
    reason="Times π/4: one reading in a random direction is biased at least as much as the tape. "
    "This is the ellipse's road, line 4, divided by π².",
    picture="random",
    certificates=(Identity((lambda s: 1 / s.pi**2,)),),
    assumption="every direction equally likely",
    unit="cm²",
    numbers=lambda a, b, _: (
        2 * (a * a + b * b),
        float(ellipse_girth_cm(2 * a, 2 * b)) ** 2 / math.pi**2,
    ),
)

_ARITHMETIC = Step(
    key="calipers-13",
    line="(((w₁ + w₂)/2)²/(4ab) − 1)/((a − b)²/(ab)) → (1 + sin² 2θ)/4 as b → a",
    statement=lambda s: s.eq(
        s.sp.Limit(
            (((s.w1 + s.w2) / 2) ** 2 / (4 * s.a * s.b) - 1) / ((s.a - s.b) ** 2 / (s.a * s.b)),
            s.b,
            s.a,
        ),
        (1 + s.sin(2 * s.theta) ** 2) / 4,
    ),
    premises=(FIRST, SECOND),
    direction=THEREFORE,
    reason="What the arithmetic mean of two claims too much, in leading order.",
    picture="turn",
    certificates=(LeadingTerm(lambda s: (s.a - s.b) ** 2 / (s.a * s.b)),),
    assumption="slightly oval: a limit, not a bound",
    numbers=lambda a, b, angle: (
        _two(a, b, angle, "arithmetic"),
        (1 + math.sin(math.radians(2 * angle)) ** 2) / 4,
    ),
)

_GEOMETRIC = Step(
    key="calipers-14",
    line="(w₁w₂/(4ab) − 1)/((a − b)²/(ab)) → sin² 2θ/2 as b → a",
    statement=lambda s: s.eq(
        s.sp.Limit(
            (s.w1 * s.w2 / (4 * s.a * s.b) - 1) / ((s.a - s.b) ** 2 / (s.a * s.b)), s.b, s.a
        ),
        s.sin(2 * s.theta) ** 2 / 2,
    ),
    premises=(FIRST, SECOND),
    direction=THEREFORE,
    reason="The same for their product.",
    picture="turn",
    certificates=(LeadingTerm(lambda s: (s.a - s.b) ** 2 / (s.a * s.b)),),
    assumption="slightly oval: a limit, not a bound",
    numbers=lambda a, b, angle: (
        _two(a, b, angle, "geometric"),
        math.sin(math.radians(2 * angle)) ** 2 / 2,
    ),
)

_LIMIT_ARITHMETIC = Step(
    key="calipers-15",
    line="(1 + sin² 2θ)/4 = 3/8 at θ = 22.5°",
    statement=lambda s: s.eq(
        s.sp.Subs((1 + s.sin(2 * s.theta) ** 2) / 4, s.theta, s.pi / 8), s.sp.Rational(3, 8)
    ),
    premises=(_ARITHMETIC, LEADING),
    direction=THEREFORE,
    reason="The tape's number is 3/8 (the ellipse's road). The arithmetic mean reaches it at "
    "22.5°: nearer the truth before, farther after.",
    picture="turn",
    certificates=(
        Crossing(lambda s: s.pi / 8, lambda s: s.sin(4 * s.theta) / 2, lambda s: s.pi / 4),
    ),
    assumption="slightly oval: a limit, not a bound",
    numbers=lambda a, b, _: (
        _two(a, b, 22.5, "arithmetic"),
        _against_yard(float(tape_over_percent(_ratio(a, b))), a, b),
    ),
)

_LIMIT_GEOMETRIC = Step(
    key="calipers-16",
    line="sin² 2θ/2 = 3/8 at θ = 30°",
    statement=lambda s: s.eq(
        s.sp.Subs(s.sin(2 * s.theta) ** 2 / 2, s.theta, s.pi / 6), s.sp.Rational(3, 8)
    ),
    premises=(_GEOMETRIC, LEADING),
    direction=THEREFORE,
    reason="The product reaches the tape's number at 30°.",
    picture="turn",
    certificates=(Crossing(lambda s: s.pi / 6, lambda s: s.sin(4 * s.theta), lambda s: s.pi / 4),),
    assumption="slightly oval: a limit, not a bound",
    numbers=lambda a, b, _: (
        _two(a, b, 30.0, "geometric"),
        _against_yard(float(tape_over_percent(_ratio(a, b))), a, b),
    ),
)

_ARITHMETIC_MEAN = Step(
    key="calipers-17",
    line="mean over θ of (((w₁ + w₂)/2)²/(4ab) − 1)/((a − b)²/(ab)) → 3/8 as b → a",
    statement=lambda s: s.eq(
        s.sp.Limit(
            s.turn(
                (((s.w1 + s.w2) / 2) ** 2 / (4 * s.a * s.b) - 1) / ((s.a - s.b) ** 2 / (s.a * s.b)),
                s.theta,
            )
            / (2 * s.pi),
            s.b,
            s.a,
        ),
        s.sp.Rational(3, 8),
    ),
    premises=(FIRST, SECOND),
    direction=THEREFORE,
    reason="Random directions, arithmetic mean of two: sin² 2θ is ½ on the mean. 3/8 is the tape's "
    "number: equal in leading order.",
    picture="random",
    certificates=(LeadingTerm(lambda s: (s.a - s.b) ** 2 / (s.a * s.b)),),
    assumption="every direction equally likely; slightly oval",
    numbers=lambda a, b, _: (_over_all(a, b, "arithmetic"), 3 / 8),
)

_GEOMETRIC_MEAN = Step(
    key="calipers-18",
    line="mean over θ of (w₁w₂/(4ab) − 1)/((a − b)²/(ab)) → 1/4 as b → a",
    statement=lambda s: s.eq(
        s.sp.Limit(
            s.turn((s.w1 * s.w2 / (4 * s.a * s.b) - 1) / ((s.a - s.b) ** 2 / (s.a * s.b)), s.theta)
            / (2 * s.pi),
            s.b,
            s.a,
        ),
        s.sp.Rational(1, 4),
    ),
    premises=(FIRST, SECOND),
    direction=THEREFORE,
    reason="Random directions, product of two: two thirds of the tape's bias, in leading order.",
    picture="random",
    certificates=(LeadingTerm(lambda s: (s.a - s.b) ** 2 / (s.a * s.b)),),
    assumption="every direction equally likely; slightly oval",
    numbers=lambda a, b, _: (_over_all(a, b, "geometric"), 1 / 4),
)

_CAUCHY = Step(
    key="calipers-19",
    line="mean over φ of (h(φ) + h(φ + π)) = P/π",
    statement=lambda s: s.eq(
        s.turn(s.support(s.phi) + s.support(s.phi + s.pi), s.phi) / (2 * s.pi), s.P / s.pi
    ),
    premises=(WIDTH, SUPPORT, GIRTH),
    direction=THEREFORE,
    reason="Cauchy's theorem, for any hull: over a turn every ripple vanishes, and the mean width "
    "is 2c₀. So many readings in all directions come to the tape's diameter.",
    picture="width",
    certificates=(Width(mean=True),),
    assumption="every direction equally likely",
    unit="cm",
    numbers=lambda a, b, _: (
        float(np.mean(Ellipse(2 * a, 2 * b).width_cm(np.arange(720) * 0.25))),
        float(ellipse_girth_cm(2 * a, 2 * b)) / math.pi,
    ),
)


def calipers() -> Road:
    """The road.

    >>> calipers().steps[5].line
    'w₁w₂ ≥ 4ab'
    """
    steps = (
        *(FIRST, SECOND, _SUM, _PRODUCT, _PRODUCT_BOUND, _ROOT, _MEAN_ABOVE),
        *(_ON_AXES, _RISES, _AT_45, _ONE, _ONE_WORSE),
        *(_ARITHMETIC, _GEOMETRIC, _LIMIT_ARITHMETIC, _LIMIT_GEOMETRIC),
        *(_ARITHMETIC_MEAN, _GEOMETRIC_MEAN, _CAUCHY),
    )
    return Road("calipers", _TITLE, _SAYS, steps, ("a_cm", "b_cm", "turn_deg"))
