"""Which reading is impossible, which instrument for which job. Stems are invented (Quillmere).

A taut tape bounds what calipers can read, whatever the section's shape, by three theorems. The
tape goes there and back over any width: G ≥ 2w. It stays inside the box of two crossed widths:
G ≤ 2(w₁ + w₂). And it touches all four sides of that box: G ≥ 2√(w₁² + w₂²). Which way of measuring
errs least depends on the stem and on the hand: it is worked out, not remembered.
"""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt
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


def _greatest_cm(q: Any) -> float:
    return sqrt((q.girth_cm / 2) ** 2 - q.first_reading_cm**2)


FAMILIES = [
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
        key="greatest-second-reading",
        topic="choosing",
        title="The greatest second reading that can be",
        text="A level, taut tape reads {girth_cm} cm round a stem of compartment 7 whose section "
        "may have any shape. Calipers read {first_reading_cm} cm in one direction. Tape and "
        "calipers are right. Above which value, in cm, is a reading at right angles to the first "
        "impossible?",
        given=[
            Quantity("girth_cm", 120.0, 180.0, 0.1),
            Quantity("first_reading_cm", 30.0, 52.0, 0.1),
        ],
        unit="cm",
        answer=_greatest_cm,
        steps={"half_cm": lambda q: q.girth_cm / 2},
        fits=lambda q: 0.22 <= q.first_reading_cm / q.girth_cm <= 0.34,
        hints=[
            "Draw the box of the two widths round the stem. The tape touches all four of its "
            "sides. What is the shortest way round that does?",
            "The shortest closed way that touches all four sides of a box is twice as long as the "
            "box's diagonal. So G ≥ 2√(w₁² + w₂²). Turn that round for w₂.",
            "Work out the root of ({girth_cm}/2)² − {first_reading_cm}².",
        ],
        solution="The tape touches all four sides of the box of both widths, so it is at least "
        "twice as long as the diagonal: {girth_cm} ≥ 2√({first_reading_cm}² + w²). Half the girth "
        "is {half_cm} cm, so w is at most √({half_cm}² − {first_reading_cm}²) = {answer} cm.",
        slips=[
            Slip("half-girth", lambda q: q.girth_cm / 2,
                 "That is the bound for one width alone. The first reading takes up some of the "
                 "tape as well."),
            Slip("mean-width",
                 lambda q: 2 * q.girth_cm / pi - q.first_reading_cm,
                 "You took the mean of the two readings for girth/π. That is the mean over all "
                 "directions; two of them may well be above it."),
            Slip("half-sum", lambda q: q.girth_cm / 2 - q.first_reading_cm,
                 "That is the least second reading, by a tape that fills the box. The greatest is "
                 "asked: the tape at its shortest."),
            Slip("whole-girth", lambda q: sqrt(q.girth_cm**2 - q.first_reading_cm**2),
                 "The tape goes round, there and back: it is twice the diagonal. Halve the girth "
                 "first."),
            Slip("root-forgotten", lambda q: (q.girth_cm / 2) ** 2 - q.first_reading_cm**2,
                 "That is the square of the reading, in cm². Take its root."),
        ],
        picture="oval",
        source="theorem: the shortest way round that touches all sides of a box is two diagonals",
    ),
    Family(
        key="least-second-reading",
        topic="choosing",
        title="The least second reading that can be",
        text="A level, taut tape reads {girth_cm} cm round a stem of compartment 7 whose section "
        "may have any shape. Calipers read {first_reading_cm} cm in one direction. Tape and "
        "calipers are right. Below which value, in cm, is a reading at right angles to the first "
        "impossible?",
        given=[
            Quantity("girth_cm", 132.0, 168.0, 0.1),
            Quantity("first_reading_cm", 40.0, 54.0, 0.1),
        ],
        unit="cm",
        answer=lambda q: q.girth_cm / 2 - q.first_reading_cm,
        steps={"half_cm": lambda q: q.girth_cm / 2},
        fits=lambda q: 0.26 <= q.first_reading_cm / q.girth_cm <= 0.36,
        hints=[
            "Draw the box of the two widths round the stem. Can the tape be longer than the way "
            "round the box?",
            "A taut tape never turns inwards and lies inside the box, so G ≤ 2(w₁ + w₂). Turn that "
            "round for w₂.",
            "Work out {girth_cm}/2 − {first_reading_cm}.",
        ],
        solution="The stem lies in the box of both widths, and a taut tape inside it is no longer "
        "than the way round the box: {girth_cm} ≤ 2·({first_reading_cm} + w). So w is at least "
        "{half_cm} − {first_reading_cm} = {answer} cm.",
        slips=[
            Slip("mean-width", lambda q: 2 * q.girth_cm / pi - q.first_reading_cm,
                 "You took the mean of the two readings for girth/π. That is the mean over all "
                 "directions; two of them may well be below it."),
            Slip("greatest-for-least", _greatest_cm,
                 "That is the greatest second reading, by a tape at its shortest. The least is "
                 "asked: a tape that fills the box."),
            Slip("quarter-girth", lambda q: q.girth_cm / 4,
                 "That would be so for a square box. Here the first width is given."),
            Slip("one-side-each", lambda q: q.girth_cm - q.first_reading_cm,
                 "A box has each side twice: halve the girth first."),
            Slip("one-side-only", lambda q: q.girth_cm - 2 * q.first_reading_cm,
                 "That is two sides of the box together. Halve it for one."),
        ],
        picture="oval",
        source="theorem: a convex section's perimeter is at most that of a box round it",
    ),
    Family(
        key="least-error",
        topic="choosing",
        title="Tape or calipers: which errs least on this stem?",
        text="A leaning pine of compartment 7 is an ellipse, {first_diameter_cm} cm by "
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
