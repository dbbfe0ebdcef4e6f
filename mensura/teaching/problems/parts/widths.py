"""How wide an interval must be, and how many readings, of the topic how-sure (Quillmere).

From few readings the spread itself is unsure, and Student's factor makes up for it. What all
readings share puts a floor under what repeating can reach.
"""

from __future__ import annotations

from math import ceil, floor, sqrt
from typing import Any

from mensura.estimates.propagation import coverage_factor
from mensura.estimates.uncertainty import (
    expanded_uncertainty,
    readings_beside_common,
    u_mean_cm,
)
from mensura.teaching.problems.family import Family, Quantity, Slip


def _factor(q: Any) -> float:
    return coverage_factor(round(q.reading_count) - 1)


def _u_cm(q: Any) -> float:
    return float(u_mean_cm(q.spread_cm, round(q.reading_count)))


def _interval_cm(q: Any) -> float:
    return float(expanded_uncertainty(_u_cm(q), _factor(q)))


def _needed(q: Any) -> float:
    return readings_beside_common(q.u_reading_cm, q.u_common_cm, q.allowed_u_cm)


WIDTHS = [
    Family(
        key="interval-from-few-readings",
        topic="how-sure",
        title="A 95 % interval from few readings",
        text="An oak was taped {reading_count} times, the band taken off each time. The readings "
        "have a standard deviation of {spread_cm} cm. Nothing else is known of the hand, and what "
        "all readings share is left out of account. Student's factor for 95 % is 12.706, 4.303, "
        "3.182, 2.776, 2.571, 2.447, 2.365, 2.306 for 1, 2, 3 … 8 degrees of freedom. What is the "
        "expanded uncertainty of the mean, for 95 %, in cm?",
        given=[
            Quantity("reading_count", 3, 8, 1, exact=True),
            Quantity("spread_cm", 0.4, 1.4, 0.01, exact=True),
        ],
        unit="cm",
        answer=_interval_cm,
        steps={
            "u_cm": _u_cm,
            "factor": lambda q: round(_factor(q), 3),
        },
        hints=[
            "Two things: how unsure is the mean, and how well do so few readings know their own "
            "spread?",
            "The mean has s/√n. The factor stands at n − 1 degrees of freedom; with few readings "
            "it is well above 2.",
            "Work out {spread_cm}/√{reading_count}, and multiply by the factor for "
            "{reading_count} − 1.",
        ],
        solution="The mean of {reading_count} has {spread_cm}/√{reading_count} = {u_cm} cm. With "
        "{reading_count} − 1 degrees of freedom the factor is {factor}, and {factor}·{u_cm} = "
        "{answer} cm. With k = 2 it would cover less than 95 %.",
        slips=[
            Slip("k-two", lambda q: 2 * _u_cm(q),
                 "You took k = 2. That is for a spread that is well known; from so few readings "
                 "the interval must be wider: Student's factor."),
            Slip("n-for-n-minus-one",
                 lambda q: _u_cm(q) * coverage_factor(round(q.reading_count)),
                 "You looked at n degrees of freedom. The mean comes from the same readings: "
                 "n − 1."),
            Slip("one-reading", lambda q: q.spread_cm * _factor(q),
                 "That is for a single reading. The mean is surer: divide by √n."),
            Slip("divided-by-n", lambda q: q.spread_cm * _factor(q) / q.reading_count,
                 "You divided by the number of readings. A mean's doubt falls as its root only."),
            Slip("factor-forgotten", _u_cm,
                 "That is the standard uncertainty of the mean. For 95 % it is multiplied by "
                 "Student's factor."),
            Slip("root-of-n-minus-one",
                 lambda q: q.spread_cm * _factor(q) / sqrt(q.reading_count - 1),
                 "You divided by √(n − 1). The n − 1 is in the standard deviation already, and in "
                 "the table; the mean divides by √n."),
        ],
        picture="numbers",
        source="[GUM1995], annex G; Student's factor computed",
    ),
    Family(
        key="readings-beside-what-stays",
        topic="how-sure",
        title="How many readings, beside what no repeating makes smaller?",
        text="One girth of a rough-barked oak has a standard uncertainty of {u_reading_cm} cm from "
        "the hand, new with every reading, the band taken off each time. The tape's card adds "
        "{u_common_cm} cm, the same in all readings. The girth is wanted with a standard "
        "uncertainty of at most {allowed_u_cm} cm, all in. Of how many readings, at the least, "
        "must the mean be taken?",
        given=[
            Quantity("u_reading_cm", 0.8, 1.5, 0.05, exact=True),
            Quantity("u_common_cm", 0.16, 0.26, 0.01, exact=True),
            Quantity("allowed_u_cm", 0.32, 0.46, 0.01, exact=True),
        ],
        unit="",
        answer=lambda q: floor(_needed(q)) + 1,
        fits=lambda q: 6 <= _needed(q) <= 60
        and 0.03 < _needed(q) % 1 < 0.47
        and ceil(_needed(q)) != ceil(sqrt(_needed(q))) ** 2,
        steps={
            "left_cm": lambda q: sqrt(q.allowed_u_cm**2 - q.u_common_cm**2),
            "times": lambda q: q.u_reading_cm / sqrt(q.allowed_u_cm**2 - q.u_common_cm**2),
            "needed": _needed,
        },
        hints=[
            "What the card adds is there however often you read. How much of what is allowed does "
            "it leave for the hand?",
            "Squares are added, so squares are taken away: the hand may have the root of "
            "allowed² − shared². Its part falls as √n.",
            "Work out {u_reading_cm}²/({allowed_u_cm}² − {u_common_cm}²), and take the next whole "
            "number above.",
        ],
        solution="The card leaves √({allowed_u_cm}² − {u_common_cm}²) = {left_cm} cm for the hand. "
        "One reading has {u_reading_cm}/{left_cm} = {times} times as much, so n must be at least "
        "{times}² = {needed}: {answer} readings. Were less than {u_common_cm} cm wanted, no number "
        "of readings would do: a better check of the tape would.",
        slips=[
            Slip("shared-forgotten",
                 lambda q: ceil((q.u_reading_cm / q.allowed_u_cm) ** 2),
                 "You left out what all readings share. It takes its part of what is allowed."),
            Slip("plainly-taken-away",
                 lambda q: ceil((q.u_reading_cm / (q.allowed_u_cm - q.u_common_cm)) ** 2),
                 "You took one from the other plainly. They meet as squares: take the squares from "
                 "each other."),
            Slip("not-squared", lambda q: ceil(sqrt(_needed(q))),
                 "The hand's part falls as the root of the number of readings, so the number goes "
                 "as the square."),
            Slip("rounded-down", lambda q: floor(_needed(q)),
                 "With that many it is still a little too much. Go up to the next whole number."),
        ],
        exact=True,
        picture="numbers",
        source="[GUM1995]",
    ),
]  # fmt: skip
