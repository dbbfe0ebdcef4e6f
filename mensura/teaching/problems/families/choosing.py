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
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of, renew
from mensura.teaching.problems.parts.first_choices import FIRST_CHOICES
from mensura.teaching.problems.parts.many_stems import MANY_STEMS

#: A width is this far from half the girth at least.
_CLEAR_CM = 0.5
#: Two ways of measuring must differ by this many per cent of the area, so that rounding on the way
#: does not change which is the better.
_APART_PERCENT = 0.3


def _five(q: Any, name: str) -> list[float]:
    """Five numbers of a kind."""
    return [float(getattr(q, f"{name}_{k}_cm")) for k in range(1, 6)]


def _order(numbers: list[float]) -> list[int]:
    """Their places, from 1, that of the greatest first."""
    return sorted(range(1, len(numbers) + 1), key=lambda k: -numbers[k - 1])


def _of_girth(q: Any, name: str) -> list[float]:
    """Five numbers of a kind, each over its girth."""
    return [one / girth for one, girth in zip(_five(q, name), _five(q, "girth"), strict=True)]


def _off_the_mean_width(q: Any) -> list[float]:
    """How far each width is from its girth over π."""
    pairs = zip(_five(q, "width"), _five(q, "girth"), strict=True)
    return [abs(width - girth / pi) for width, girth in pairs]


def _one_is_impossible(q: Any) -> bool:
    pairs = list(zip(_five(q, "width"), _five(q, "girth"), strict=True))
    # flat, yet no board
    fair = (abs(wide - girth / 2) >= _CLEAR_CM and 8 * wide >= girth for wide, girth in pairs)
    unlike = all(len(set(one)) == 5 for one in zip(*pairs, strict=True))
    return all(fair) and unlike and sum(wide > girth / 2 for wide, girth in pairs) == 1


def _errors_percent(q: Any) -> list[float]:
    """Errors of the area by tape, by either of two crossed readings, and by their product."""
    ratio = q.second_diameter_cm / q.first_diameter_cm
    return [
        float(tape_over_percent(ratio)),
        float(one_reading_over_percent(ratio, q.turn_deg)),
        float(one_reading_over_percent(ratio, q.turn_deg + 90)),
        float(two_readings_over_percent(ratio, q.turn_deg, "geometric")),
    ]


def _nearest_first(q: Any) -> list[int]:
    """Numbers of the ways, 1 to 4, the smallest error first, its sign left off."""
    return _order([-abs(error) for error in _errors_percent(q)])


def _told_apart(q: Any) -> bool:
    """The least is clear, and so is the order of the others."""
    sizes = sorted(abs(error) for error in _errors_percent(q))
    steps = [after - before for before, after in pairwise(sizes)]
    return steps[0] >= _APART_PERCENT and min(steps) >= _APART_PERCENT / 6


def _differs_most(q: Any) -> bool:
    """The greatest share is a tenth greater than the next, and no two numbers are alike."""
    first, second = sorted(_of_girth(q, "difference"))[:-3:-1]
    unlike = all(len(set(_five(q, name))) == 5 for name in ("difference", "girth"))
    return first >= 1.1 * second and unlike


def _greatest_cm(q: Any) -> float:
    return sqrt((q.girth_cm / 2) ** 2 - q.first_reading_cm**2)


_IMPOSSIBLE, _LEAST_ERROR, _AGAIN = FIRST_CHOICES

FAMILIES = [
    _IMPOSSIBLE,
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
        # not where an area that stays the same would pass
        fits_since={2: clear_of(
            _greatest_cm, 0.8, lambda q: (q.girth_cm / pi) ** 2 / q.first_reading_cm)},
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
            Slip("blackboard",
                 lambda q: sqrt(2 * (q.girth_cm / pi) ** 2 - q.first_reading_cm**2),
                 "You took the blackboard's root for an ellipse's girth. The section may have any "
                 "shape: think of the box round it.", since=2),
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
    _LEAST_ERROR,
    _AGAIN,
    *MANY_STEMS,
]  # fmt: skip


renew(
    FAMILIES,
    "impossible-reading",
    2,
    title="Which of five widths is impossible?",
    text="Five very flat stems of compartment 7, each grown from two, were taped square and taut, "
    "and one width of each was read with calipers. Girth and width: (1) {girth_1_cm} and "
    "{width_1_cm}, (2) {girth_2_cm} and {width_2_cm}, (3) {girth_3_cm} and {width_3_cm}, (4) "
    "{girth_4_cm} and {width_4_cm}, (5) {girth_5_cm} and {width_5_cm} cm. The tape is right. One "
    "of the widths cannot be, whatever the shape of the section: it was misread. Which?",
    given=[
        quantity
        for k in range(1, 6)
        for quantity in (
            Quantity(f"girth_{k}_cm", 70.0, 180.0, 0.1),
            Quantity(f"width_{k}_cm", 14.0, 64.0, 0.1),
        )
    ],
    answer=lambda q: _order(_of_girth(q, "width"))[0],
    steps={
        "half_cm": lambda q: _five(q, "girth")[_order(_of_girth(q, "width"))[0] - 1] / 2,
        "width_cm": lambda q: _five(q, "width")[_order(_of_girth(q, "width"))[0] - 1],
    },
    fits=_one_is_impossible,
    hints=[
        "The jaws touch the stem on both sides. The tape must go from one side to the other, and "
        "back.",
        "There and back, the tape is at least twice as long as any width. So no width is more than "
        "half of its own stem's girth.",
        "Halve each girth, {girth_1_cm}/2 and so on, and hold its width against it. Only one is "
        "larger.",
    ],
    solution="The tape runs from one jaw's side to the other's and back, so a width is at most "
    "half of its own girth. On stem {answer} that half is {half_cm} cm, and the width was read "
    "as {width_cm} cm. A large width on a thick stem may be right, and so may a small one: a girth "
    "alone sets no least width.",
    slips=[
        Slip("largest-width", lambda q: _order(_five(q, "width"))[0],
             "That is the largest width. Its stem may be thick enough: compare each width with "
             "half of its own girth.", since=2, apart_since=2),
        Slip("smallest-girth", lambda q: _order(_five(q, "girth"))[-1],
             "That is the thinnest stem. Compare each width with half of its own girth.",
             since=2, apart_since=2),
        Slip("farthest-from-the-mean-width", lambda q: _order(_off_the_mean_width(q))[0],
             "It is the farthest from girth/π, but that is only the mean of all widths. Compare "
             "each width with half of its own girth.", since=2, apart_since=2),
        Slip("next-to-it", lambda q: _order(_of_girth(q, "width"))[1],
             "That width is large for its girth, but not more than half of it.", since=2),
        Slip("flattest", lambda q: _order(_of_girth(q, "width"))[-1],
             "That width is small for its girth, but a flat stem may be that thin: a girth alone "
             "sets no least width.", since=2),
    ],
    picture="numbers",
)  # fmt: skip

renew(
    FAMILIES,
    "least-error",
    2,
    text="The section of a pine of compartment 7 is an ellipse, {first_diameter_cm} cm by "
    "{second_diameter_cm} cm. A hand holds the calipers {turn_deg}° off the longer diameter. For "
    "the sectional area there is a choice: (1) the tape's girth, taken for a circle's; (2) that "
    "one reading of the calipers, taken for a circle's diameter; (3) the one reading at right "
    "angles to it, taken so; (4) the root of the product of both readings, taken so. Which comes "
    "nearest to the true area?",
    ranges=[Quantity("turn_deg", 21, 66, 1)],
    answer=lambda q: _nearest_first(q)[0],
    steps={
        f"{name}_percent": (lambda at: lambda q: _errors_percent(q)[at])(place)
        for place, name in enumerate(("tape", "one", "other", "product"))
    },
    fits=_told_apart,
    hints=[
        "Work out all four areas. The tape's does not depend on the hand; the other three do.",
        "In the direction θ off the longer axis the width is √(d₁²·cos²θ + d₂²·sin²θ); at right "
        "angles cosine and sine change places. The true area is π/4·d₁·d₂.",
        "With w and v for the two widths, compare G²/π², w², v² and w·v with "
        "{first_diameter_cm}·{second_diameter_cm}. The girth is near π/2·(3·(d₁ + d₂) − "
        "√((3·d₁ + d₂)·(d₁ + 3·d₂))).",
    ],
    solution="The four areas are off by (1) {tape_percent} %, (2) {one_percent} %, (3) "
    "{other_percent} %, (4) {product_percent} %. Leave the signs off: the smallest is ({answer}). "
    "With another turn it may be another: near the axes the product of two readings is best, far "
    "off them the tape, and one reading only where it happens to be right.",
    slips=[
        Slip("second-best", lambda q: _nearest_first(q)[1],
             "Not bad, but one of the four comes nearer. Work out all four errors and leave the "
             "signs off."),
        Slip("third-best", lambda q: _nearest_first(q)[2],
             "Two of the four come nearer. Work out all four errors and leave the signs off."),
        Slip("worst", lambda q: _nearest_first(q)[3],
             "Of the four this is the farthest off. Work out all four errors and leave the signs "
             "off."),
        Slip("sign-left-on", lambda q: _order(_errors_percent(q))[-1],
             "That error is the smallest only with its sign on. Too little is off as well: leave "
             "the signs off.", since=2),
    ],
)  # fmt: skip

renew(
    FAMILIES,
    "read-again",
    2,
    title="Which stem must be taped again?",
    text="Two hands taped five stems of compartment 7. Mean girth, and by how much the two tapings "
    "differ: (1) {girth_1_cm} and {difference_1_cm}, (2) {girth_2_cm} and {difference_2_cm}, (3) "
    "{girth_3_cm} and {difference_3_cm}, (4) {girth_4_cm} and {difference_4_cm}, (5) {girth_5_cm} "
    "and {difference_5_cm} cm. There is time for one stem more, and the class agrees that the one "
    "whose tapings differ most, in per cent of its girth, is taped again. Which is it?",
    given=[
        quantity
        for k in range(1, 6)
        for quantity in (
            Quantity(f"girth_{k}_cm", 40.0, 180.0, 0.1),
            Quantity(f"difference_{k}_cm", 0.3, 3.0, 0.1),
        )
    ],
    answer=lambda q: _order(_of_girth(q, "difference"))[0],
    steps={
        "first_percent": lambda q: 100 * max(_of_girth(q, "difference")),
        "second_percent": lambda q: 100 * sorted(_of_girth(q, "difference"))[-2],
    },
    fits=_differs_most,
    hints=[
        "Is a centimetre on a thin stem as much as one on a thick stem?",
        "Divide each difference by its own girth.",
        "Work out {difference_1_cm}/{girth_1_cm} and so on, and look for the largest.",
    ],
    solution="On stem {answer} the tapings differ by {first_percent} % of the girth, on the next "
    "by {second_percent} %. It is taped again, not struck out: both first readings stay in the "
    "record.",
    slips=[
        Slip("largest-difference", lambda q: _order(_five(q, "difference"))[0],
             "Those tapings differ by the most centimetres. Asked are per cent of the girth.",
             since=2, apart_since=2),
        Slip("thinnest-stem", lambda q: _order(_five(q, "girth"))[-1],
             "That is the thinnest stem. Divide each difference by its own girth.",
             since=2, apart_since=2),
        Slip("thickest-stem", lambda q: _order(_five(q, "girth"))[0],
             "That is the thickest stem. Divide each difference by its own girth.",
             since=2, apart_since=2),
        Slip("next-to-it", lambda q: _order(_of_girth(q, "difference"))[1],
             "On one stem they differ by more. Divide each difference by its own girth.", since=2),
        Slip("smallest-share", lambda q: _order(_of_girth(q, "difference"))[-1],
             "On that stem they differ least. Look for the largest share.", since=2),
    ],
    picture="numbers",
)  # fmt: skip
