"""The classroom's road: from the root-mean-square girth down to (a − b)² > 0, and a ≠ b."""

from __future__ import annotations

import math

from mensura.estimates import area_from_diameters_cm2, area_from_girth_cm2, classroom_over_percent
from mensura.stems import Ellipse, classroom_girth_cm
from mensura.teaching.proof.certificates import Definition, Goal, Identity, Square
from mensura.teaching.proof.steps import ENOUGH, THEREFORE, Road, Step

_TITLE = "The classroom's road: a girth by the root mean square"

_SAYS = (
    "If the girth of an ellipse is taken as 2π√((a² + b²)/2), the tape's area is too large by "
    "(a − b)²/(2ab) of the true area: always, unless a = b. But that girth is an approximation "
    "from above, so this road shows the right sign and not the right size; the exact girth blames "
    "the tape for three quarters of it in leading order (road: ellipse). It speaks of smooth "
    "ellipses, of a tape that lies level and taut, and of calipers held on both axes."
)


def tape_cm2(a_cm: float, b_cm: float) -> float:
    """The classroom's area by tape: that of the circle with the root-mean-square girth.

    a_cm, b_cm: half-axes in cm.

    >>> round(tape_cm2(30, 24), 2)
    2318.5
    """
    return float(area_from_girth_cm2(classroom_girth_cm(2 * a_cm, 2 * b_cm)))


def ellipse_cm2(a_cm: float, b_cm: float) -> float:
    """The area by calipers on both axes and their product, πab: the true one.

    a_cm, b_cm: half-axes in cm.
    """
    return float(area_from_diameters_cm2([2 * a_cm, 2 * b_cm], "geometric"))


def _areas(a: float, b: float, _: float) -> tuple[float, float]:
    return tape_cm2(a, b), ellipse_cm2(a, b)


def classroom() -> Road:
    """The road, its steps made anew.

    >>> [step.sign for step in classroom().steps]
    ['', '', '', '⇐', '⇐', '⇐', '⇐', '⇐', '⇒']
    """
    theorem = Step(
        key="classroom-1",
        line="A_tape > A_cal",
        statement=lambda s: s.gt(s.A_tape, s.A_cal),
        premises=(),
        direction=ENOUGH,
        reason="This is to be shown: the tape's area is larger than that of the calipers.",
        picture="stem",
        certificates=(Goal("A_tape", "A_cal"),),
        unit="cm²",
        numbers=_areas,
    )
    by_tape = Step(
        key="classroom-2",
        line="A_tape = (2π√((a² + b²)/2))²/(4π)",
        statement=lambda s: s.eq(
            s.A_tape, (2 * s.pi * s.sqrt((s.a**2 + s.b**2) / 2)) ** 2 / (4 * s.pi)
        ),
        premises=(),
        direction=THEREFORE,
        reason="A tape knows no axes. It takes the girth G for that of a circle, so A = G²/(4π). "
        "The classroom takes G = 2π√((a² + b²)/2), the root mean square of the half-axes.",
        picture="stem",
        certificates=(
            Definition(
                lambda s: s.A_tape,
                lambda s: (
                    s.pi
                    * (s.turn((s.a * s.sin(s.t)) ** 2 + (s.b * s.cos(s.t)) ** 2, s.t) / (2 * s.pi))
                ),
                "a circle whose radius is the root mean square of the speed of "
                "(a cos t, b sin t), by an integral",
            ),
        ),
        assumption="G = 2π√((a² + b²)/2), an approximation from above",
        unit="cm²",
        numbers=lambda a, b, _: (
            tape_cm2(a, b),
            (2 * math.pi) ** 2 * (a * a + b * b) / 2 / (4 * math.pi),
        ),
    )
    by_calipers = Step(
        key="classroom-3",
        line="A_cal = πab",
        statement=lambda s: s.eq(s.A_cal, s.pi * s.a * s.b),
        premises=(),
        direction=THEREFORE,
        reason="Calipers on both axes read 2a and 2b. π/4 times their product is the area of the "
        "ellipse itself.",
        picture="stem",
        certificates=(
            Definition(
                lambda s: s.A_cal,
                lambda s: (
                    s.turn(
                        s.a * s.cos(s.t) * s.b * s.cos(s.t) + s.b * s.sin(s.t) * s.a * s.sin(s.t),
                        s.t,
                    )
                    / 2
                ),
                "the area that the edge (a cos t, b sin t) goes round, by an integral",
            ),
        ),
        assumption="the section is an ellipse, the calipers lie on its axes",
        unit="cm²",
        numbers=lambda a, b, _: (ellipse_cm2(a, b), float(Ellipse(2 * a, 2 * b).area_cm2)),
    )
    areas = Step(
        key="classroom-4",
        line="π(a² + b²)/2 > πab",
        statement=lambda s: s.gt(s.pi * (s.a**2 + s.b**2) / 2, s.pi * s.a * s.b),
        premises=(theorem, by_tape, by_calipers),
        direction=ENOUGH,
        reason="Put in what both areas are. The root and the square undo each other.",
        picture="stem",
        certificates=(Identity((1, None, None)),),
        unit="cm²",
        numbers=_areas,
    )
    squares = Step(
        key="classroom-5",
        line="a² + b² > 2ab",
        statement=lambda s: s.gt(s.a**2 + s.b**2, 2 * s.a * s.b),
        premises=(areas,),
        direction=ENOUGH,
        reason="Multiply both sides by 2 and divide by π. Both are positive, so > stays >.",
        picture="squares",
        certificates=(Identity((lambda s: 2 / s.pi,)),),
        unit="cm²",
        numbers=lambda a, b, _: (a * a + b * b, 2 * a * b),
    )
    one_side = Step(
        key="classroom-6",
        line="a² − 2ab + b² > 0",
        statement=lambda s: s.gt(s.a**2 - 2 * s.a * s.b + s.b**2, 0),
        premises=(squares,),
        direction=ENOUGH,
        reason="Take 2ab from both sides: two squares less two rectangles.",
        picture="squares",
        certificates=(Identity((1,)),),
        unit="cm²",
        numbers=lambda a, b, _: (a * a - 2 * a * b + b * b, 0.0),
    )
    square = Step(
        key="classroom-7",
        line="(a − b)² > 0",
        statement=lambda s: s.gt((s.a - s.b) ** 2, 0),
        premises=(one_side,),
        direction=ENOUGH,
        reason="What is left over is itself a square, with the side a − b.",
        picture="squares",
        certificates=(Identity((1,)),),
        unit="cm²",
        numbers=lambda a, b, _: ((a - b) ** 2, 0.0),
    )
    unequal = Step(
        key="classroom-8",
        line="a ≠ b",
        statement=lambda s: s.ne(s.a, s.b),
        premises=(square,),
        direction=ENOUGH,
        reason="A square is never below 0, and it is 0 only if a − b = 0. Here, and only here, it "
        "is used that the stem is not circular. That is given, so all is shown.",
        picture="squares",
        certificates=(Square(lambda s: s.a - s.b, lambda s: s.sp.Integer(1)),),
        assumption="a ≠ b",
        unit="cm",
        numbers=lambda a, b, _: (a, b),
    )
    size = Step(
        key="classroom-9",
        line="A_tape/A_cal − 1 = (a − b)²/(2ab)",
        statement=lambda s: s.eq(s.A_tape / s.A_cal - 1, (s.a - s.b) ** 2 / (2 * s.a * s.b)),
        premises=(by_tape, by_calipers),
        direction=THEREFORE,
        reason="And the size of it: the square that was left over, against two rectangles. The "
        "girth was too long, so this is more than the tape deserves.",
        picture="curve",
        certificates=(Identity((None, None)),),
        assumption="G = 2π√((a² + b²)/2), an approximation from above",
        numbers=lambda a, b, _: (
            tape_cm2(a, b) / ellipse_cm2(a, b) - 1,
            classroom_over_percent(min(a, b) / max(a, b)) / 100,
        ),
    )
    steps = (theorem, by_tape, by_calipers, areas, squares, one_side, square, unequal, size)
    return Road("classroom", _TITLE, _SAYS, steps)
