"""What the proof says about the size of the error, in numbers. Stems are invented (Quillmere).

a and b are half-axes. The blackboard's girth 2π√((a² + b²)/2) is an upper bound and π(a + b) a
lower one; the exact girth lies between them, and so does what a tape claims too much.
"""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt
from typing import Any

from mensura.estimates.out_of_round import classroom_over_percent, tape_over_percent
from mensura.stems.ellipse import classroom_girth_cm, ellipse_girth_cm
from mensura.teaching.problems.family import Family, Quantity, Slip, renew

HALF_LONGER = Quantity("half_axis_a_cm", 27.0, 33.0, 0.1)
HALF_SHORTER = Quantity("half_axis_b_cm", 19.0, 23.0, 0.1)


def _ratio(q: Any) -> float:
    return float(q.half_axis_b_cm / q.half_axis_a_cm)


def _girth_cm(q: Any) -> float:
    return float(ellipse_girth_cm(2 * q.half_axis_a_cm, 2 * q.half_axis_b_cm))


def _board_girth_cm(q: Any) -> float:
    return float(classroom_girth_cm(2 * q.half_axis_a_cm, 2 * q.half_axis_b_cm))


def _too_long_cm(q: Any) -> float:
    return _board_girth_cm(q) - _girth_cm(q)


def _least_girth_cm(q: Any) -> float:
    """π(a + b): never longer than the girth."""
    return float(pi * (q.half_axis_a_cm + q.half_axis_b_cm))


def _square_cm2(q: Any) -> float:
    return float((q.half_axis_a_cm - q.half_axis_b_cm) ** 2)


def _half_axis_cm(q: Any, share: float, longer: bool = False) -> float:
    """The b for which the classroom's claim is this share: (1 − r)² = 2·share·r, solved for r.

    A root of the formula of `mensura` between a needle and a circle; the other root is 1/r.
    """
    from scipy.optimize import brentq

    def beyond(ratio: float) -> float:
        return float(classroom_over_percent(ratio)) - 100 * share

    ratio = float(brentq(beyond, 1e-6, 1.0, xtol=1e-14))
    return float(q.half_axis_a_cm / ratio if longer else q.half_axis_a_cm * ratio)


FAMILIES = [
    Family(
        key="classroom-claim",
        topic="proof",
        title="What the classroom's proof blames on the tape",
        text="A stem's section is an ellipse with the half-axes a = {half_axis_a_cm} and "
        "b = {half_axis_b_cm} cm. The classroom's proof takes 2π√((a² + b²)/2) for the girth and "
        "turns it into an area by G²/4π. By how many per cent of the true area is that too much?",
        given=[HALF_LONGER, HALF_SHORTER],
        unit="%",
        answer=lambda q: classroom_over_percent(_ratio(q)),
        steps={
            "difference_cm": lambda q: q.half_axis_a_cm - q.half_axis_b_cm,
            "exact_percent": lambda q: tape_over_percent(_ratio(q)),
        },
        hints=[
            "Put the girth into G²/4π. The root goes away.",
            "The tape's area is then π(a² + b²)/2, the true one πab. Divide, take away 1, and a "
            "square stands above the line: (a − b)²/(2ab).",
            "Work out 100·({half_axis_a_cm} − {half_axis_b_cm})²/(2·{half_axis_a_cm}·"
            "{half_axis_b_cm}).",
        ],
        solution="π(a² + b²)/2 over πab, less 1, is (a − b)²/(2ab) = {difference_cm}²/"
        "(2·{half_axis_a_cm}·{half_axis_b_cm}); times 100 that is {answer} %. The classroom's "
        "girth is too long, so this is too much: the exact girth gives {exact_percent} %.",
        slips=[
            Slip("exact-girth", lambda q: tape_over_percent(_ratio(q)),
                 "That is what the exact girth gives, and what the tape really does. Asked is the "
                 "classroom's claim, which is larger."),
            Slip("wrong-base",
                 lambda q: 100 * (1 - 1 / (1 + classroom_over_percent(_ratio(q)) / 100)),
                 "The difference was divided by the claimed area. Asked are per cent of the true "
                 "one.", since=2, apart_since=2),
            Slip("mean-for-product",
                 lambda q: 800 * _square_cm2(q) / (2 * (q.half_axis_a_cm + q.half_axis_b_cm)) ** 2,
                 "The square of the mean half-axis stands under the line where the product ab "
                 "belongs: (a − b)²/(2ab).", since=2, apart_since=2),
            Slip("lower-bound", lambda q: classroom_over_percent(_ratio(q)) / 2,
                 "(a − b)²/(4ab) is the bound from below. The classroom's claim is the one from "
                 "above, (a − b)²/(2ab)."),
            Slip("two-forgotten", lambda q: classroom_over_percent(_ratio(q)) * 2,
                 "The 2 under the line is missing: (a − b)²/(2ab)."),
            Slip("not-squared",
                 lambda q: 100 * sqrt(_square_cm2(q))
                 / (2 * q.half_axis_a_cm * q.half_axis_b_cm),
                 "The difference was not squared: (a − b)²/(2ab)."),
            Slip("share-for-percent", lambda q: classroom_over_percent(_ratio(q)) / 100,
                 "That is the share. Times 100 it is per cent."),
        ],
        picture="oval",
        source="closed form (the proof of the classroom)",
    ),
    Family(
        key="blackboard-girth",
        topic="proof",
        title="How much too long the blackboard's girth is",
        text="An ellipse has the half-axes a = {half_axis_a_cm} and b = {half_axis_b_cm} cm. By "
        "how many cm is the blackboard's girth 2π√((a² + b²)/2) longer than the exact girth? For "
        "the exact one take π(a + b)·(1 + h/4 + h²/64) with h = ((a − b)/(a + b))², and keep "
        "three figures behind the point on the way.",
        given=[HALF_LONGER, HALF_SHORTER],
        unit="cm",
        answer=_too_long_cm,
        steps={
            "h": lambda q: ((1 - _ratio(q)) / (1 + _ratio(q))) ** 2,
            "exact_more_cm": lambda q: _girth_cm(q) - _least_girth_cm(q),
            "board_more_cm": lambda q: _board_girth_cm(q) - _least_girth_cm(q),
        },
        hints=[
            "Work out both girths with all the figures that you have, then take one from the "
            "other.",
            "The order is: π(a + b) is the shortest, then the exact girth, then the blackboard's. "
            "So the difference is above 0.",
            "Work out 6.28319·√(({half_axis_a_cm}² + {half_axis_b_cm}²)/2) − "
            "3.14159·({half_axis_a_cm} + {half_axis_b_cm})·(1 + h/4 + h²/64), with h = "
            "(({half_axis_a_cm} − {half_axis_b_cm})/({half_axis_a_cm} + {half_axis_b_cm}))².",
        ],
        solution="Both are longer than π(a + b) = 3.14159·({half_axis_a_cm} + {half_axis_b_cm}). "
        "h = {h}, so the exact girth is longer by π(a + b)·(h/4 + h²/64) = {exact_more_cm} cm; the "
        "blackboard's, 6.28319·√(({half_axis_a_cm}² + {half_axis_b_cm}²)/2), by {board_more_cm} "
        "cm. The difference is {answer} cm.",
        slips=[
            Slip("lower-bound", lambda q: _board_girth_cm(q) - _least_girth_cm(q),
                 "You compared with π(a + b). That is shorter than the exact girth: the factor "
                 "(1 + h/4 + h²/64) is missing."),
            Slip("half-way", lambda q: (_board_girth_cm(q) - _least_girth_cm(q)) / 2,
                 "You took the exact girth to lie half-way between its bounds. On so flat an "
                 "ellipse it does not: use the series in h.", since=2, apart_since=2),
            Slip("wrong-sign", lambda q: -_too_long_cm(q),
                 "The sign is the wrong way round: the blackboard's girth is the longer one."),
            Slip("half-forgotten", lambda q: sqrt(2) * _board_girth_cm(q) - _girth_cm(q),
                 "Under the root stands half of a² + b², the mean of the squares."),
            Slip("percent-for-cm", lambda q: 100 * _too_long_cm(q) / _girth_cm(q),
                 "That is per cent of the girth. Asked are centimetres."),
        ],
        picture="oval",
        source="[AS1964] for the exact girth",
    ),
    Family(
        key="at-least-so-much",
        topic="proof",
        title="A promise: the tape claims at least so much too much",
        text="An ellipse has the half-axes a = {half_axis_a_cm} and b = {half_axis_b_cm} cm. Its "
        "girth is at least π(a + b). So by at least how many cm² is the area from a level, taut "
        "tape larger than the true one?",
        given=[HALF_LONGER, HALF_SHORTER],
        unit="cm²",
        answer=lambda q: (
            pi * q.half_axis_a_cm * q.half_axis_b_cm * classroom_over_percent(_ratio(q)) / 200
        ),
        steps={
            "least_girth_cm": _least_girth_cm,
            "difference_cm": lambda q: q.half_axis_a_cm - q.half_axis_b_cm,
        },
        hints=[
            "Turn the least girth into an area by G²/4π, and take πab away.",
            "G²/4π is π(a + b)²/4. (a + b)² less 4ab is (a − b)².",
            "Work out 0.7854·({half_axis_a_cm} − {half_axis_b_cm})².",
        ],
        solution="The least girth is {least_girth_cm} cm. Its circle has π(a + b)²/4; less πab "
        "that is π(a − b)²/4 = 0.7854·{difference_cm}² = {answer} cm². No girth was "
        "approximated: it is a promise, never less.",
        slips=[
            Slip("upper-bound", lambda q: pi / 2 * _square_cm2(q),
                 "π(a − b)²/2 is the bound from above: never more than that. Asked is the one from "
                 "below."),
            Slip("leading-term", lambda q: 3 * pi / 8 * _square_cm2(q),
                 "3π(a − b)²/8 is a bound from below too, and a closer one: it takes one more term "
                 "of the girth's series. Asked is the bound from P ≥ π(a + b), which has 1/4."),
            Slip("pi-forgotten", lambda q: _square_cm2(q) / 4,
                 "π was forgotten: π(a − b)²/4."),
            Slip("diameter-for-radius", lambda q: pi * _square_cm2(q),
                 "Half-axes are given, and you used diameters: that makes it four times too "
                 "large."),
            Slip("squared-too-late",
                 lambda q: pi / 4 * (q.half_axis_a_cm - q.half_axis_b_cm),
                 "The difference was not squared: π(a − b)²/4."),
        ],
        picture="oval",
        source="closed form (the ellipse's road of the proof)",
    ),
    Family(
        key="how-oval-may-it-be",
        topic="proof",
        title="How oval may a stem be?",
        text="In a trial a tape may claim {allowed_percent} % of the area too much. The proof "
        "promises that on an ellipse it is never more than (a − b)²/(2ab). The longer half-axis is "
        "a = {half_axis_a_cm} cm. Down to which shorter half-axis b, in cm, does the promise keep "
        "within what is allowed?",
        given=[
            Quantity("half_axis_a_cm", 20.0, 34.0, 0.1),
            Quantity("allowed_percent", 1.0, 5.0, 0.1, exact=True),
        ],
        unit="cm",
        answer=lambda q: _half_axis_cm(q, q.allowed_percent / 100),
        steps={
            "share": lambda q: q.allowed_percent / 100,
            "ratio": lambda q: _half_axis_cm(q, q.allowed_percent / 100) / q.half_axis_a_cm,
        },
        hints=[
            "Set the bound equal to what is allowed. The unknown is b, or better the ratio "
            "r = b/a.",
            "With p for the allowed share, (1 − r)² = 2·p·r. That is a quadratic equation: "
            "r² − 2·(1 + p)·r + 1 = 0. Of its two roots take the one below 1.",
            "With p = {allowed_percent}/100 work out r = 1 + p − √(p² + 2p), then "
            "r·{half_axis_a_cm}.",
        ],
        solution="p = {allowed_percent}/100 = {share}. (1 − r)² = 2·p·r has the root "
        "r = 1 + p − √(p² + 2p) = {ratio} below 1, so b = {ratio}·{half_axis_a_cm} = {answer} cm. "
        "A stem that is rounder than that keeps within what is allowed.",
        slips=[
            Slip("lower-bound", lambda q: _half_axis_cm(q, 2 * q.allowed_percent / 100),
                 "You used (a − b)²/(4ab), the bound from below. It promises that the tape claims "
                 "at least so much; for at most, take (a − b)²/(2ab)."),
            Slip("two-forgotten", lambda q: _half_axis_cm(q, q.allowed_percent / 200),
                 "The 2 under the line is missing: (a − b)²/(2ab)."),
            Slip("other-root", lambda q: _half_axis_cm(q, q.allowed_percent / 100, longer=True),
                 "That is the other root of the equation. It is longer than a, and b was to be the "
                 "shorter half-axis."),
            Slip("percent-as-length", lambda q: q.half_axis_a_cm * (1 - q.allowed_percent / 100),
                 "You made b shorter by the allowed per cent. The area hardly notices so little: "
                 "solve (a − b)²/(2ab) = p for b."),
            Slip("percent-for-share", lambda q: _half_axis_cm(q, q.allowed_percent),
                 "Per cent were used as if they were the share. Divide them by 100 first."),
        ],
        picture="numbers",
        source="closed form (the ellipse's road of the proof)",
    ),
]  # fmt: skip

# Pure geometry is told to a tenth of a millimetre, so that a near miss is seen to be one; and the
# ellipse is so flat that the exact girth is not half-way between its bounds.
renew(
    FAMILIES,
    "classroom-claim",
    2,
    ranges=[replace(HALF_LONGER, step=0.01), replace(HALF_SHORTER, step=0.01)],
)
renew(
    FAMILIES,
    "blackboard-girth",
    2,
    ranges=[
        Quantity("half_axis_a_cm", 30.0, 36.0, 0.01),
        Quantity("half_axis_b_cm", 16.0, 20.0, 0.01),
    ],
)
