"""A tape or calipers beside a reference: the line through the marks, of the topic how-sure.

Instruments are invented (Quillmere Practice Wood). A check gives readings beside known lengths. The
line through them tells stretch and start apart, which no single mark can, and its two numbers are
tied to each other.
"""

from __future__ import annotations

from math import hypot, sqrt
from typing import Any

import numpy as np

from mensura.estimates.propagation import InputQuantity, propagate
from mensura.instruments.tape_card import card
from mensura.teaching.problems.family import Family, Quantity, Slip

_TWO_CM = (50.0, 200.0)
_FOUR_CM = (50.0, 100.0, 150.0, 200.0)


def _readings(q: Any, count: int) -> list[float]:
    return [float(getattr(q, f"reading_{k}_cm")) for k in range(1, count + 1)]


def _start_cm(q: Any) -> float:
    return float(card(_TWO_CM, _readings(q, 2)).start_cm)


def _rise_of_two(q: Any) -> float:
    return float(q.reading_2_cm - q.reading_1_cm) / 150


def _stretch_percent(q: Any) -> float:
    return float(card(_FOUR_CM, _readings(q, 4)).stretch_percent)


def _from_rise_percent(rise: float) -> float:
    return 100 * (1 / rise - 1)


def _weighed_cm(q: Any) -> float:
    """Σ(x − x̄)·y: the middle of the four lengths is 125 cm."""
    pairs = zip(_FOUR_CM, _readings(q, 4), strict=True)
    return sum((length - 125) * reading for length, reading in pairs)


def _through_nought(q: Any) -> float:
    pairs = list(zip(_FOUR_CM, _readings(q, 4), strict=True))
    return sum(x * y for x, y in pairs) / sum(x * x for x, _ in pairs)


def _mean_of_shares(q: Any) -> float:
    pairs = list(zip(_FOUR_CM, _readings(q, 4), strict=True))
    return sum(100 * (x / y - 1) for x, y in pairs) / 4


def _u_at_cm(q: Any) -> float:
    """By the law of propagation, the two tied to each other."""
    both = (
        InputQuantity("zero error", "cm", 0.0, q.u_start_cm),
        InputQuantity("scale", "%", 0.0, q.u_scale_percent),
    )
    tied = np.array([[1.0, q.correlation], [q.correlation, 1.0]])
    return propagate(lambda z, s: z + s / 100 * q.width_cm, both, tied).u


def _grown_cm(q: Any) -> float:
    return float(q.width_cm * q.u_scale_percent / 100)


def _with(q: Any, times: float) -> float:
    """Both squares, and so many times the product that ties them; the root."""
    tied = q.correlation * q.u_start_cm * _grown_cm(q)
    return sqrt(q.u_start_cm**2 + _grown_cm(q) ** 2 + times * tied)


def _tied_fairly(q: Any) -> bool:
    """Both count, the correlation leaves something, and √(1 − r²) of the sum would not pass."""
    apart = hypot(q.u_start_cm, _grown_cm(q))
    found = _u_at_cm(q)
    near = abs(found - apart * sqrt(1 - q.correlation**2)) <= 0.01 * found
    return _grown_cm(q) >= 0.06 and found >= 0.35 * apart and not near


LINE = [
    Family(
        key="start-from-two-marks",
        topic="how-sure",
        title="The worn start from two marks",
        text="Cloth tape T3 may have stretched, the same all along, and may have lost a piece of "
        "its start, whose end is held as zero. Beside a steel rule it is read at two lengths: "
        "{reading_1_cm} cm at 50 cm, {reading_2_cm} cm at 200 cm. Take the readings as they stand. "
        "Stretch and start together make a straight line: what would the tape read at no length "
        "at all, in cm? That is the piece that is lost.",
        given=[
            Quantity("reading_1_cm", 51.5, 53.5, 0.1, exact=True),
            Quantity("reading_2_cm", 194.0, 199.0, 0.1, exact=True),
        ],
        unit="cm",
        answer=_start_cm,
        steps={
            "rise": _rise_of_two,
            "below_cm": lambda q: 50 * _rise_of_two(q),
        },
        hints=[
            "At 50 cm the reading has both faults in it, at 200 cm as well. Which fault is the "
            "same at both marks, and which grows with the length?",
            "From mark to mark only the stretch works: 150 cm of rule are so many cm of tape. Go "
            "down that line from 50 cm to nothing.",
            "Work out r = ({reading_2_cm} − {reading_1_cm})/150, then {reading_1_cm} − 50·r.",
        ],
        solution="Each cm of the rule is ({reading_2_cm} − {reading_1_cm})/150 = {rise} cm of the "
        "tape. The first 50 cm take 50·{rise} = {below_cm} cm of the reading, so at no length it "
        "reads {reading_1_cm} − {below_cm} = {answer} cm. Two marks always lie on a line: how sure "
        "it is they cannot say. Check at five or more.",
        slips=[
            Slip("error-at-the-near-mark", lambda q: q.reading_1_cm - 50,
                 "That is the error at 50 cm. The stretch over these 50 cm is in it and hides a "
                 "part of the start: go down the line to no length."),
            Slip("error-at-the-far-mark", lambda q: q.reading_2_cm - 200,
                 "That is the error at 200 cm, mostly the stretch. Go down the line to no length."),
            Slip("mean-error", lambda q: (q.reading_1_cm + q.reading_2_cm) / 2 - 125,
                 "That is the mean of both errors, the line's height at 125 cm. Go down the line "
                 "to no length."),
            Slip("stretch-for-start", lambda q: q.reading_1_cm - q.reading_2_cm + 150,
                 "That is what the stretch takes away from mark to mark. Asked is where the line "
                 "begins."),
            Slip("wrong-way", lambda q: q.reading_1_cm - 50 * (2 - _rise_of_two(q)),
                 "The stretch has the wrong sign: marks that moved apart read too little, and so "
                 "hide a part of the start."),
            Slip("in-lengths-of-the-rule", lambda q: q.reading_1_cm / _rise_of_two(q) - 50,
                 "That is the lost piece as it is now, stretched. Asked is what the tape reads, in "
                 "its own cm."),
        ],
        picture="beside",
        source="common practice, no source",
    ),
    Family(
        key="stretch-from-four-marks",
        topic="how-sure",
        title="The stretch from a line through four marks",
        text="Beside a steel rule the cloth tape T4, whose start is worn, reads {reading_1_cm} cm "
        "at 50 cm, {reading_2_cm} cm at 100 cm, {reading_3_cm} cm at 150 cm and {reading_4_cm} cm "
        "at 200 cm. Take the readings as they stand. With the line of least squares, reading = "
        "rise·length + start, by how many per cent have the tape's marks moved apart?",
        given=[
            Quantity("reading_1_cm", 50.8, 51.8, 0.1, exact=True),
            Quantity("reading_2_cm", 99.0, 100.4, 0.1, exact=True),
            Quantity("reading_3_cm", 147.2, 148.6, 0.1, exact=True),
            Quantity("reading_4_cm", 195.8, 196.8, 0.1, exact=True),
        ],
        unit="%",
        answer=_stretch_percent,
        # not where the rise from end to end has three decimals: rounding could lead to it as well
        fits=lambda q: round(10 * (q.reading_4_cm - q.reading_1_cm)) % 3 != 0,
        steps={
            "weighed_cm2": lambda q: _weighed_cm(q) - 12500,
            "slope": lambda q: _weighed_cm(q) / 12500 - 1,
            "rise": lambda q: _weighed_cm(q) / 12500,
        },
        hints=[
            "The start adds the same to all four readings. Which number of the line does not feel "
            "that?",
            "The slope of the errors e, reading less length: Σ(x − 125)·e over Σ(x − 125)², with x "
            "for the lengths. The rise is 1 more, and wider marks fit fewer times: the stretch is "
            "1/rise − 1.",
            "With e = {reading_1_cm} − 50 and so on, work out m = (75·(e₄ − e₁) + 25·(e₃ − "
            "e₂))/12500, then 100·(1/(1 + m) − 1). Here e₄ is {reading_4_cm} − 200.",
        ],
        solution="The lengths are −75, −25, 25 and 75 cm off their middle; these, squared, add up "
        "to 12500. Times the errors, from {reading_1_cm} − 50 to {reading_4_cm} − 200, they make "
        "{weighed_cm2}, so the errors' slope is {weighed_cm2}/12500 = {slope} and the rise {rise}. "
        "The marks have moved apart by 100·(1/{rise} − 1) = {answer} %. The worn start is not in "
        "it.",
        slips=[
            Slip("ends-only",
                 lambda q: _from_rise_percent((q.reading_4_cm - q.reading_1_cm) / 150),
                 "You drew the line through the first and the last mark. The two between count as "
                 "well."),
            Slip("through-nought", lambda q: _from_rise_percent(_through_nought(q)),
                 "You drew the line through nought. The start is worn: let the line begin where "
                 "it will, and measure lengths from their middle."),
            Slip("mean-of-shares", _mean_of_shares,
                 "You took the mean of length over reading at each mark. The worn start is in each "
                 "of these: take the line's rise."),
            Slip("last-mark-alone", lambda q: 100 * (200 / q.reading_4_cm - 1),
                 "That is from the last mark alone, and the worn start is in it. Take the line's "
                 "rise."),
            Slip("wrong-base", lambda q: 100 * (1 - _weighed_cm(q) / 12500),
                 "That is what the reading is short of, for each cm of the rule. The stretch has "
                 "gathered over the tape's own marks: 1/rise − 1."),
            Slip("wrong-sign", lambda q: 100 * (_weighed_cm(q) / 12500 - 1),
                 "A rise below 1 means that marks have moved apart: the stretch is above 0."),
        ],
        picture="beside",
        source="[GUM1995], example H.3, for the line",
    ),
    Family(
        key="doubt-of-a-correction",
        topic="how-sure",
        title="How sure is a correction from a line?",
        text="Calipers K2 were checked beside steel bars. By the line through the check they read "
        "z + s·w too much at a width w. The card gives the standard uncertainty of z, "
        "{u_start_cm} cm, that of s, {u_scale_percent} %, and the correlation of the two, "
        "{correlation}. What is the standard uncertainty of the correction z + s·w at a width of "
        "{width_cm} cm, in cm?",
        given=[
            Quantity("u_start_cm", 0.06, 0.12, 0.01, exact=True),
            Quantity("u_scale_percent", 0.1, 0.3, 0.01, exact=True),
            Quantity("correlation", -0.92, -0.75, 0.01, exact=True),
            Quantity("width_cm", 55, 80, 1, exact=True),
        ],
        unit="cm",
        answer=_u_at_cm,
        fits=_tied_fairly,
        steps={
            "grown_cm": _grown_cm,
            "apart_cm2": lambda q: q.u_start_cm**2 + _grown_cm(q) ** 2,
            "tied_cm2": lambda q: 2 * q.correlation * q.u_start_cm * _grown_cm(q),
        },
        hints=[
            "Both numbers come from one and the same check. If the line were a little steeper, "
            "would it begin higher or lower?",
            "Lower: that is the correlation. u² = u(z)² + (w·u(s))² + 2·r·u(z)·w·u(s), and the "
            "last part is below 0.",
            "Work out v = {width_cm}·{u_scale_percent}/100, then the root of {u_start_cm}² + v² + "
            "2·({correlation})·{u_start_cm}·v.",
        ],
        solution="w·u(s) = {width_cm}·{u_scale_percent}/100 = {grown_cm} cm. The squares add up to "
        "{apart_cm2} cm², and the part that ties the two is 2·({correlation})·{u_start_cm}·"
        "{grown_cm} = {tied_cm2} cm². The root of both together is {answer} cm. The spread of a "
        "new reading comes on top.",
        slips=[
            Slip("correlation-forgotten", lambda q: hypot(q.u_start_cm, _grown_cm(q)),
                 "You left the correlation out. Both numbers come from one check and err against "
                 "each other: their common part belongs into the sum."),
            Slip("correlation-added", lambda q: _with(q, -2),
                 "The common part has the wrong sign. Its correlation is below 0, so it takes "
                 "away."),
            Slip("two-forgotten", lambda q: _with(q, 1),
                 "The common part counts twice in the square of a sum: 2·r·u(z)·w·u(s)."),
            Slip("plainly-added", lambda q: q.u_start_cm + _grown_cm(q),
                 "You added both. That would be so if they always erred the same way; here they "
                 "err against each other."),
            Slip("zero-alone", lambda q: q.u_start_cm,
                 "That is the doubt of the zero error alone. The scale's grows with the width."),
            Slip("scale-alone", _grown_cm,
                 "That is what the scale's doubt makes of this width. The zero error is unsure as "
                 "well, and tied to it."),
        ],
        picture="jaws",
        source="[GUM1995], clause 5.2.2 and example H.3",
    ),
]  # fmt: skip
