"""How sure a mean of readings is, of the topic doubt. Readings are invented (Quillmere).

What is new with every reading falls as the root of their number; what all of them share stays.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor, hypot, sqrt
from statistics import fmean, median
from typing import Any

from mensura.estimates.uncertainty import u_area_percent, u_mean_cm, u_mean_of_readings_cm
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of, renew

#: Expected range of five normal readings, in their standard deviations.
_RANGE_OF_FIVE = 2.326


def _readings(q: Any) -> list[float]:
    return [float(getattr(q, f"reading_{k}_cm")) for k in range(1, 6)]


def _reach_cm(q: Any) -> float:
    return max(_readings(q)) - min(_readings(q))


def _sum_of_squares(q: Any) -> float:
    """Σ(x − x̄)² of the five readings."""
    mean = sum(_readings(q)) / 5
    return sum((reading - mean) ** 2 for reading in _readings(q))


def _needed(q: Any) -> float:
    """How many times larger the doubt of one area is than the one that is allowed, squared."""
    return float((u_area_percent(q.girth_cm, q.u_reading_cm) / q.allowed_percent) ** 2)


def _count(q: Any) -> float:
    """The least number of readings whose mean leaves no more of the area in doubt than allowed."""
    count = 1
    while u_area_percent(q.girth_cm, u_mean_cm(q.u_reading_cm, count)) > q.allowed_percent:
        count += 1
    return float(count)


MEANS = [
    Family(
        key="doubt-of-a-mean",
        topic="doubt",
        title="The doubt in a mean of many readings",
        text="A single girth of a rough-barked oak has a standard uncertainty of {u_reading_cm} cm "
        "from the hand, new with every reading, the band taken off each time. What the bark does "
        "at this mark is the same each time and stays, and so does what the tape does: together a "
        "standard uncertainty of {u_common_cm} cm that all readings share. What is the standard "
        "uncertainty of the mean of {reading_count} readings with this tape, in cm?",
        given=[
            Quantity("u_reading_cm", 0.6, 1.6, 0.05, exact=True),
            Quantity("u_common_cm", 0.15, 0.4, 0.01, exact=True),
            Quantity("reading_count", 4, 16, 1, exact=True),
        ],
        unit="cm",
        answer=lambda q: u_mean_cm(q.u_reading_cm, round(q.reading_count), q.u_common_cm),
        # not where both parts added and then divided would pass
        fits_since={2: clear_of(
            lambda q: u_mean_cm(q.u_reading_cm, round(q.reading_count), q.u_common_cm), 0.8,
            lambda q: (q.u_reading_cm + q.u_common_cm) / sqrt(q.reading_count))},
        steps={"hand_cm": lambda q: u_mean_cm(q.u_reading_cm, round(q.reading_count))},
        hints=[
            "Which of the two doubts grows smaller when you read again, and which does not?",
            "The hand's part falls as the root of the number of readings; the shared part stays. "
            "Then add the squares and take the root.",
            "Work out h = {u_reading_cm}/√{reading_count}, then √(h² + {u_common_cm}²).",
        ],
        solution="The hand's part falls to {u_reading_cm}/√{reading_count} = {hand_cm} cm. The "
        "shared part stays at {u_common_cm} cm. Together: √({hand_cm}² + {u_common_cm}²) = "
        "{answer} cm. No number of readings brings it below {u_common_cm} cm.",
        slips=[
            Slip("divided-by-n", lambda q: hypot(q.u_reading_cm / q.reading_count, q.u_common_cm),
                 "You divided by the number of readings. A mean's doubt falls as its root only."),
            Slip("root-not-taken",
                 lambda q: q.u_reading_cm**2 / q.reading_count + q.u_common_cm**2,
                 "That is the square of the uncertainty, in cm². Take its root.", since=2),
            Slip("tape-divided-too",
                 lambda q: hypot(q.u_reading_cm, q.u_common_cm) / sqrt(q.reading_count),
                 "You made the shared part smaller too. The same tape on the same bark errs the "
                 "same way every time, and reading again does not help."),
            Slip("plainly-added",
                 lambda q: q.u_reading_cm / sqrt(q.reading_count) + q.u_common_cm,
                 "You added both parts. They have nothing to do with each other: add their squares "
                 "and take the root."),
            Slip("tape-forgotten", lambda q: q.u_reading_cm / sqrt(q.reading_count),
                 "That is the hand's part alone. The shared doubt comes on top."),
            Slip("one-reading", lambda q: hypot(q.u_reading_cm, q.u_common_cm),
                 "That is the doubt of a single reading. The hand's part is smaller in a mean."),
        ],
        picture="numbers",
        source="[GUM1995]",
    ),
    Family(
        key="doubt-from-readings",
        topic="doubt",
        title="The doubt in a mean from the spread of its readings",
        text="Five trainees tape the same rough-barked oak, each without seeing the others' "
        "readings: {reading_1_cm}, {reading_2_cm}, {reading_3_cm}, {reading_4_cm} and "
        "{reading_5_cm} cm. What is the standard uncertainty of the mean of these five, from their "
        "standard deviation, in cm?",
        given=[Quantity(f"reading_{k}_cm", 131.0, 141.0, 0.1) for k in range(1, 6)],
        unit="cm",
        answer=lambda q: u_mean_of_readings_cm(_readings(q)),
        steps={
            "mean_cm": lambda q: sum(_readings(q)) / 5,
            "squares_cm2": _sum_of_squares,
            "spread_cm": lambda q: sqrt(_sum_of_squares(q) / 4),
        },
        fits=lambda q: _sum_of_squares(q) >= 12,
        # not where another measure of the spread would pass
        fits_since={2: clear_of(
            lambda q: sqrt(_sum_of_squares(q) / 20), 0.75,
            lambda q: sqrt(sum((x - median(_readings(q))) ** 2 for x in _readings(q)) / 20),
            lambda q: _reach_cm(q) / (_RANGE_OF_FIVE * sqrt(5)),
            lambda q: _reach_cm(q) / 5,
            lambda q: sum(abs(x - fmean(_readings(q))) for x in _readings(q)) / (4 * sqrt(5)))},
        hints=[
            "First the standard deviation of the five; then, how much surer is a mean of five than "
            "one of them?",
            "Add the squared distances from the mean, divide by n − 1 = 4, take the root. That is "
            "s. The mean's uncertainty is s/√n.",
            "Take the five squared distances from the mean, add them, divide by 20 = 4·5, and take "
            "the root.",
        ],
        solution="The mean is {mean_cm} cm, the squared distances from it add up to {squares_cm2} "
        "cm². s = √({squares_cm2}/4) = {spread_cm} cm, and s/√5 = {answer} cm. A fault that all "
        "five share, like a stretched tape, is not seen in this.",
        slips=[
            Slip("one-reading", lambda q: sqrt(_sum_of_squares(q) / 4),
                 "That is s, the spread of single readings. The mean of five is surer: divide by "
                 "√5."),
            Slip("divided-by-n", lambda q: sqrt(_sum_of_squares(q) / 4) / 5,
                 "You divided s by 5. A mean's doubt falls as the root of the number only: √5."),
            Slip("n-for-n-minus-one", lambda q: sqrt(_sum_of_squares(q)) / 5,
                 "You divided the squares by 5. Their mean comes from the same readings, so it is "
                 "n − 1 = 4; then divide s by √5."),
            Slip("range", lambda q: _reach_cm(q) / (_RANGE_OF_FIVE * sqrt(5)),
                 "That is from the range, largest less smallest. Asked is the standard deviation: "
                 "square the distances from the mean.", since=2),
            Slip("about-the-median",
                 lambda q: sqrt(sum((x - median(_readings(q))) ** 2 for x in _readings(q)) / 20),
                 "You took the distances from the middle reading. They are taken from the mean.",
                 since=2),
            Slip("root-forgotten", lambda q: _sum_of_squares(q) / 20,
                 "That is the square of the uncertainty, in cm². Take its root."),
        ],
        picture="readings",
        source="[GUM1995]",
    ),
    Family(
        key="readings-needed",
        topic="doubt",
        title="How many readings are enough?",
        text="A rough-barked oak is about {girth_cm} cm round. One girth of it has a standard "
        "uncertainty of {u_reading_cm} cm from the hand, new with every reading, the band taken "
        "off each time; the tape is sound, and what the bark does at this mark, the same each "
        "time, is left out of account. Taken for round, its area is wanted with a standard "
        "uncertainty of at most {allowed_percent} %. Of how many readings, at the least, must the "
        "mean be taken?",
        given=[
            Quantity("girth_cm", 100, 160, 1, exact=True),
            Quantity("u_reading_cm", 0.9, 1.6, 0.05, exact=True),
            Quantity("allowed_percent", 0.6, 0.95, 0.05, exact=True),
        ],
        unit="",
        answer=_count,
        steps={
            "single_percent": lambda q: u_area_percent(q.girth_cm, q.u_reading_cm),
            "needed": _needed,
        },
        fits=lambda q: 3 <= _needed(q) <= 25 and 0.05 < _needed(q) % 1 < 0.95,
        hints=[
            "How unsure is the area from one reading? How many times too much is that?",
            "One reading leaves 200·u/G per cent of the area in doubt, a mean of n readings √n "
            "times less.",
            "Work out 200·{u_reading_cm}/{girth_cm}, divide by {allowed_percent}, and square that. "
            "Then take the next whole number above.",
        ],
        solution="One reading leaves 200·{u_reading_cm}/{girth_cm} = {single_percent} % of the "
        "area in doubt. n must be at least ({single_percent}/{allowed_percent})² = {needed}, so "
        "{answer} readings are enough and one less is not. What all readings share, like the bark "
        "at this mark, stays however many there are.",
        slips=[
            Slip("area-not-doubled", lambda q: ceil(_needed(q) / 4),
                 "You took the per cent of the girth. The area is twice as unsure, and that is "
                 "squared here."),
            Slip("rounded-then-squared", lambda q: ceil(sqrt(_needed(q))) ** 2,
                 "You went up to a whole number before squaring. Square first, then go up.",
                 since=2, apart_since=2),
            Slip("nearest-then-squared", lambda q: round(sqrt(_needed(q))) ** 2,
                 "You rounded before squaring. Square first, then go up to the next whole number.",
                 since=2, apart_since=2),
            Slip("doubled-not-squared", lambda q: ceil(2 * sqrt(_needed(q))),
                 "You doubled where a square belongs: the number of readings goes as the square of "
                 "the doubt.", since=2, apart_since=2),
            Slip("not-squared", lambda q: ceil(sqrt(_needed(q))),
                 "The doubt falls as the root of the number of readings, so the number goes as the "
                 "square."),
            Slip("rounded-down", lambda q: floor(_needed(q)),
                 "With that many the doubt is still a little too large. Go up to the next whole "
                 "number."),
        ],
        exact=True,
        picture="numbers",
        source="[GUM1995]",
    ),
]  # fmt: skip

# The readings as they stand in the record are the data, and their deviation is exact.
renew(
    MEANS,
    "doubt-from-readings",
    2,
    ranges=[Quantity(f"reading_{k}_cm", 131.0, 141.0, 0.1, exact=True) for k in range(1, 6)],
)
# Counts that rounding to the nearest gets wrong; the two slips that are often the same small number
# no longer pass a draw over.
_OLD = next(one for one in MEANS if one.key == "readings-needed")
renew(
    MEANS,
    "readings-needed",
    2,
    ranges=[
        Quantity("girth_cm", 110, 150, 1, exact=True),
        Quantity("u_reading_cm", 1.2, 1.8, 0.05, exact=True),
        Quantity("allowed_percent", 0.6, 0.9, 0.05, exact=True),
    ],
    fits=lambda q: 4 <= _needed(q) <= 40 and 0.03 < _needed(q) % 1 < 0.47,
    slips=[
        replace(slip, since=2, apart_since=2)
        if slip.name in ("area-not-doubled", "not-squared")
        else slip
        for slip in _OLD.slips
    ],
)
