"""First forms of three choices: what their first edition gave out is answered by them for ever.

Each had a habit that gave it away: the impossible reading was always the largest, half the sum
never the best, the reading to take again always at an end. Their later forms are in choosing.py.
"""

from __future__ import annotations

from itertools import pairwise
from math import pi
from typing import Any

from mensura.estimates.out_of_round import (
    one_reading_over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.teaching.problems.family import Family, Quantity, Slip

#: Two ways of measuring must differ by this many per cent of the area, so that rounding on the way
#: does not change which is the better.
_APART_PERCENT = 0.3
#: A reading is this far from half the girth at least, and from any other reading.
_CLEAR_CM = 0.5


def _readings(q: Any) -> list[float]:
    return [float(getattr(q, f"reading_{k}_cm")) for k in range(1, 6)]


def _by_size(q: Any) -> list[int]:
    """Numbers of the readings, 1 to 5, the smallest first."""
    return sorted(range(1, 6), key=lambda k: _readings(q)[k - 1])


def _gaps(q: Any) -> list[float]:
    ordered = sorted(_readings(q))
    return [after - before for before, after in pairwise(ordered)]


def _impossible(q: Any) -> float:
    """The number of the only reading above half the girth; 0 if it is not the only one."""
    above = [k for k, reading in enumerate(_readings(q), 1) if reading > q.girth_cm / 2]
    return float(above[0]) if len(above) == 1 else 0.0


def _one_is_impossible(q: Any) -> bool:
    clear = all(abs(reading - q.girth_cm / 2) >= _CLEAR_CM for reading in _readings(q))
    return clear and min(_gaps(q)) >= 0.1 and _impossible(q) > 0


def _errors_percent(q: Any) -> list[float]:
    """Errors of the area by tape, one reading, the half sum of two, and their product."""
    ratio = q.second_diameter_cm / q.first_diameter_cm
    return [
        float(tape_over_percent(ratio)),
        float(one_reading_over_percent(ratio, q.turn_deg)),
        float(two_readings_over_percent(ratio, q.turn_deg, "arithmetic")),
        float(two_readings_over_percent(ratio, q.turn_deg, "geometric")),
    ]


def _ranked(q: Any) -> list[int]:
    """Numbers of the ways, 1 to 4, the smallest error first, its sign left off."""
    errors = _errors_percent(q)
    return sorted(range(1, 5), key=lambda k: abs(errors[k - 1]))


def _told_apart(q: Any) -> bool:
    """The least is clear, and so is the order of the others."""
    sizes = sorted(abs(error) for error in _errors_percent(q))
    steps = [after - before for before, after in pairwise(sizes)]
    return steps[0] >= _APART_PERCENT and min(steps) >= _APART_PERCENT / 6


def _away_cm(q: Any, number: int) -> float:
    """How far a reading, 1 to 5, is from the mean of all five."""
    return float(abs(_readings(q)[number - 1] - sum(_readings(q)) / 5))


def _from_mean(q: Any) -> list[int]:
    """Numbers of the readings, the farthest from the mean first."""
    return sorted(range(1, 6), key=lambda k: -_away_cm(q, k))


def _other_end(q: Any) -> int:
    """The extreme reading at the other end of the row."""
    ordered = _by_size(q)
    return ordered[0] if _from_mean(q)[0] == ordered[-1] else ordered[-1]


def _neighbour(q: Any) -> int:
    """The reading next to the farthest, on its side."""
    ordered = _by_size(q)
    return ordered[-2] if _from_mean(q)[0] == ordered[-1] else ordered[1]


def _one_stands_out(q: Any) -> bool:
    away = sorted(_away_cm(q, k) for k in range(1, 6))
    return away[-1] - away[-2] >= 0.2 and min(_gaps(q)) >= 0.1


FIRST_CHOICES = [
    Family(
        key="impossible-reading",
        topic="choosing",
        title="Which of five caliper readings is impossible?",
        text="Two pines of compartment 7 have grown into one very flat stem. A level, taut tape "
        "reads {girth_cm} cm round it, and the tape is right. Calipers read five widths, in five "
        "directions: (1) {reading_1_cm}, (2) {reading_2_cm}, (3) {reading_3_cm}, (4) "
        "{reading_4_cm}, (5) {reading_5_cm} cm. One of them cannot be, whatever the shape of the "
        "section: it was misread. Which?",
        given=[
            Quantity("girth_cm", 130.0, 144.0, 0.1),
            *(Quantity(f"reading_{k}_cm", 34.0, 78.0, 0.1) for k in range(1, 6)),
        ],
        unit="",
        answer=_impossible,
        steps={"half_cm": lambda q: q.girth_cm / 2, "mean_width_cm": lambda q: q.girth_cm / pi},
        fits=_one_is_impossible,
        hints=[
            "The jaws touch the stem on both sides. The tape must go from one side to the other, "
            "and back.",
            "There and back, the tape is at least twice as long as any width. So no width is more "
            "than half the girth.",
            "Work out {girth_cm}/2. Only one of the five is larger.",
        ],
        solution="The tape runs from one jaw's side to the other's and back, so each width is at "
        "most {girth_cm}/2 = {half_cm} cm. Only reading {answer} is larger. The girth over π, "
        "{mean_width_cm} cm, is the mean of the widths over all directions: single widths may lie "
        "far above and below it.",
        slips=[
            Slip("above-the-mean-width", lambda q: _by_size(q)[-2],
                 "That one is large, but not more than half the girth. A width above girth/π is no "
                 "fault: girth/π is only the mean of all widths."),
            Slip("middle-of-five", lambda q: _by_size(q)[2],
                 "That one stands in the middle of the five. Compare each with half the girth."),
            Slip("small-may-be", lambda q: _by_size(q)[1],
                 "A width may be small: a girth alone sets no least width. Compare each with half "
                 "the girth."),
            Slip("smallest", lambda q: _by_size(q)[0],
                 "It is the smallest, but a flat stem may be that thin: a girth alone sets no "
                 "least width. Compare each with half the girth."),
        ],
        exact=True,
        picture="readings",
        source="theorem: a closed line is at least twice as long as its width",
    ),
    Family(
        key="least-error",
        topic="choosing",
        title="Tape or calipers: which errs least on this stem?",
        text="The section of a pine of compartment 7 is an ellipse, {first_diameter_cm} cm by "
        "{second_diameter_cm} cm. A hand holds the calipers {turn_deg}° off the longer diameter. "
        "For the sectional area there is a choice: (1) the tape's girth, taken for a circle's; (2) "
        "that one reading of the calipers, taken for a circle's diameter; (3) half the sum of that "
        "reading and one at right angles; (4) the root of the product of these two. Which comes "
        "nearest to the true area?",
        given=[
            Quantity("first_diameter_cm", 50.0, 64.0, 0.1),
            Quantity("second_diameter_cm", 36.0, 42.0, 0.1),
            Quantity("turn_deg", 12, 60, 1),
        ],
        unit="",
        answer=lambda q: _ranked(q)[0],
        steps={
            f"{name}_percent": (lambda at: lambda q: _errors_percent(q)[at])(place)
            for place, name in enumerate(("tape", "one", "sum", "product"))
        },
        fits=_told_apart,
        hints=[
            "Work out all four areas. The tape's does not depend on the hand; the other three do.",
            "In the direction θ off the longer axis the width is √(d₁²·cos²θ + d₂²·sin²θ); at "
            "right angles cosine and sine change places. The true area is π/4·d₁·d₂.",
            "With w and v for the two widths, compare G²/π², w², ((w + v)/2)² and w·v with "
            "{first_diameter_cm}·{second_diameter_cm}. The girth is near π/2·(3·(d₁ + d₂) − "
            "√((3·d₁ + d₂)·(d₁ + 3·d₂))).",
        ],
        solution="The four areas are off by (1) {tape_percent} %, (2) {one_percent} %, (3) "
        "{sum_percent} %, (4) {product_percent} %. Leave the signs off: the smallest is "
        "({answer}). With another turn it may be another: near the axes the product of two "
        "readings is best, far off them the tape, and one reading where it happens to be right.",
        slips=[
            Slip("second-best", lambda q: _ranked(q)[1],
                 "Not bad, but one of the four comes nearer. Work out all four errors and leave "
                 "the signs off."),
            Slip("third-best", lambda q: _ranked(q)[2],
                 "Two of the four come nearer. Work out all four errors and leave the signs off."),
            Slip("worst", lambda q: _ranked(q)[3],
                 "Of the four this is the farthest off. Work out all four errors and leave the "
                 "signs off."),
        ],
        exact=True,
        picture="turned",
        source="theorem: closed forms of the ellipse's width, area and perimeter [AS1964]",
    ),
    Family(
        key="read-again",
        topic="choosing",
        title="Which reading must be taken again?",
        text="Five trainees tape the same stem of compartment 7 at the same mark: (1) "
        "{reading_1_cm}, (2) {reading_2_cm}, (3) {reading_3_cm}, (4) {reading_4_cm}, (5) "
        "{reading_5_cm} cm. There is time to tape once more, and the class agrees that the reading "
        "farthest from the mean of all five is taken again. Which is it?",
        given=[Quantity(f"reading_{k}_cm", 118.0, 126.0, 0.1) for k in range(1, 6)],
        unit="",
        answer=lambda q: _from_mean(q)[0],
        steps={
            "away_cm": lambda q: _away_cm(q, _from_mean(q)[0]),
            "other_cm": lambda q: _away_cm(q, _other_end(q)),
        },
        fits=_one_stands_out,
        hints=[
            "Both the largest and the smallest may be far away. From what is far to be measured?",
            "Add all five and divide by five. Then take each reading's distance from that.",
            "Take ({reading_1_cm} + {reading_2_cm} + {reading_3_cm} + {reading_4_cm} + "
            "{reading_5_cm})/5 from the largest, and the smallest from it. Compare the two.",
        ],
        solution="From the mean of all five, reading {answer} is {away_cm} cm away; the reading at "
        "the other end only {other_cm} cm, and all others less. It is taken again, not struck out: "
        "far off is not the same as wrong, and the first reading stays in the record.",
        slips=[
            Slip("other-end", _other_end,
                 "That one stands at an end of the row, but from the mean the other end is "
                 "farther."),
            Slip("next-to-it", _neighbour,
                 "There is one beyond it, on the same side. Look for the farthest."),
            Slip("middle-of-five", lambda q: _by_size(q)[2],
                 "That one stands in the middle of the five. Look for the farthest from the mean."),
        ],
        exact=True,
        picture="readings",
        source="common practice, no source",
    ),
]  # fmt: skip
