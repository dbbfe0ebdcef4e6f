"""What goes into the uncertainty of one girth, of the topic how-sure (Quillmere Practice Wood).

Each input of a budget comes in its own way: a step between marks, a spread of the hand, a card with
its expanded uncertainty, a tilt that only ever adds. All are brought to standard uncertainties
before they meet.
"""

from __future__ import annotations

from math import hypot, pi, radians, sqrt
from typing import Any

from mensura.estimates.propagation import InputQuantity, propagate
from mensura.estimates.uncertainty import u_mean_cm, u_resolution_cm
from mensura.stems import circle
from mensura.teaching.problems.family import Family, Quantity, Slip


def _together_cm(q: Any, step_cm: float, card_cm: float) -> float:
    """The root of the squares: a step's part, the hand's, the card's."""
    return sqrt(step_cm**2 + q.hand_sd_cm**2 + card_cm**2)


def _step_cm(q: Any) -> float:
    return float(u_resolution_cm(q.resolution_cm))


def _adds_mm(q: Any) -> float:
    """The mean of a tilted tape's readings less the girth: exact, no approximation."""
    tilt = InputQuantity("tilt", "deg", 0.0, q.tilt_up_to_deg / sqrt(12), "tilt")
    stem = circle(q.girth_cm / pi)
    return 10 * (propagate(stem.oblique_girth_cm, (tilt,)).value - float(q.girth_cm))


def _bound_mm(q: Any) -> float:
    """Girth times the square of the greatest tilt, in mm."""
    return float(10 * q.girth_cm * radians(q.tilt_up_to_deg) ** 2)


def _mean_cm(q: Any) -> float:
    return float(u_mean_cm(q.spread_cm, round(q.reading_count)))


def _parts_cm(q: Any) -> tuple[float, float, float]:
    """Of the mean, of the card, of the step."""
    return _mean_cm(q), float(q.u_card_cm), _step_cm(q)


def _degrees(q: Any) -> float:
    mean, of_card, step = _parts_cm(q)
    inputs = (
        InputQuantity("mean", "cm", 0.0, mean, "student", q.reading_count - 1),
        InputQuantity("card", "cm", 0.0, of_card, "student", q.card_degrees),
        InputQuantity("step", "cm", 0.0, step, "rectangular"),
    )
    return propagate(lambda *parts: sum(parts), inputs).degrees_of_freedom


def _welch(parts: tuple[float, ...], free: tuple[float, ...], power: int = 4) -> float:
    """Welch and Satterthwaite's quotient, or what becomes of it with another power."""
    total = sqrt(sum(one**2 for one in parts))
    return total**power / sum(one**power / k for one, k in zip(parts, free, strict=False))


def _lookalikes(q: Any) -> tuple[float, ...]:
    """What must not come near by luck: plain counts, their mean, the smaller, and s/n for s/√n."""
    free = (q.reading_count - 1, q.card_degrees)
    over_n = _welch((q.spread_cm / q.reading_count, *_parts_cm(q)[1:]), free)
    return q.reading_count + q.card_degrees, sum(free) / 2, min(free), over_n


BUDGETS = [
    Family(
        key="parts-of-a-girth",
        topic="how-sure",
        title="Step, hand and card: the uncertainty of one girth",
        text="A girth is read once, to the nearest mark of a tape whose marks are {resolution_cm} "
        "cm apart. The hand's readings of one stem have a standard deviation of {hand_sd_cm} cm, "
        "known apart from that step. The reading is corrected by the tape's card, and there the "
        "correction has an expanded uncertainty of {expanded_cm} cm, with k = 2. The three have "
        "nothing to do with each other. What is the standard uncertainty of the girth, in cm?",
        given=[
            Quantity("resolution_cm", 0.5, 1.0, 0.5, exact=True),
            Quantity("hand_sd_cm", 0.15, 0.45, 0.01, exact=True),
            Quantity("expanded_cm", 0.3, 0.8, 0.02, exact=True),
        ],
        unit="cm",
        answer=lambda q: _together_cm(q, _step_cm(q), q.expanded_cm / 2),
        steps={
            "step_cm": _step_cm,
            "card_cm": lambda q: q.expanded_cm / 2,
        },
        hints=[
            "Three numbers of three kinds: a distance of marks, a standard deviation, an expanded "
            "uncertainty. What is each as a standard uncertainty?",
            "Anything within half a step either way is as likely, which makes step/√12. The "
            "expanded one is k times the standard one. Then add squares and take the root.",
            "Work out {resolution_cm}/√12 and {expanded_cm}/2; then the root of both squares and "
            "{hand_sd_cm}² together.",
        ],
        solution="The step makes {resolution_cm}/√12 = {step_cm} cm, the card {expanded_cm}/2 = "
        "{card_cm} cm. √({step_cm}² + {hand_sd_cm}² + {card_cm}²) = {answer} cm.",
        slips=[
            Slip("expanded-taken-as-it-is",
                 lambda q: _together_cm(q, _step_cm(q), q.expanded_cm),
                 "The card's number is the expanded uncertainty. Divide it by k = 2 before it "
                 "meets the others."),
            Slip("whole-step", lambda q: _together_cm(q, q.resolution_cm, q.expanded_cm / 2),
                 "You took the whole step for a standard uncertainty. It is step/√12."),
            Slip("half-step", lambda q: _together_cm(q, q.resolution_cm / 2, q.expanded_cm / 2),
                 "Half a step is the bound, not the standard uncertainty: divide it by √3, which "
                 "makes step/√12."),
            Slip("step-forgotten", lambda q: hypot(q.hand_sd_cm, q.expanded_cm / 2),
                 "The step between the marks is left out: it makes step/√12."),
            Slip("card-forgotten", lambda q: hypot(q.hand_sd_cm, _step_cm(q)),
                 "The card's part is left out. A correction is unsure as well."),
            Slip("plainly-added", lambda q: _step_cm(q) + q.hand_sd_cm + q.expanded_cm / 2,
                 "You added the three. They have nothing to do with each other: add their squares "
                 "and take the root."),
            Slip("root-forgotten",
                 lambda q: _together_cm(q, _step_cm(q), q.expanded_cm / 2) ** 2,
                 "That is the square of the uncertainty, in cm². Take its root."),
        ],
        picture="girth",
        source="[GUM1995]",
    ),
    Family(
        key="what-tilt-adds-on-average",
        topic="how-sure",
        title="What tilt adds to a girth on average",
        text="A class lays the tape round a round stem of {girth_cm} cm girth. Nobody lays it "
        "quite level: the tilt is anything between 0 and {tilt_up_to_deg}°, each angle as likely. "
        "A tape tilted by a small angle θ, in radians, reads too much by about the θ²/4-th part of "
        "the girth. By how many mm do the class's girths come out too large on average, so that it "
        "can be taken off?",
        given=[
            Quantity("girth_cm", 90.0, 220.0, 0.5),
            Quantity("tilt_up_to_deg", 3.5, 6.0, 0.1),
        ],
        unit="mm",
        answer=_adds_mm,
        steps={
            "bound": lambda q: radians(q.tilt_up_to_deg),
            "square": lambda q: radians(q.tilt_up_to_deg) ** 2 / 3,
            "near_mm": lambda q: _bound_mm(q) / 12,
        },
        hints=[
            "Tilt never makes a girth smaller. Is the mean of the squares of all these angles the "
            "square of the middle angle?",
            "It is more. Of numbers spread evenly from 0 to b the squares have the mean b²/3. A "
            "quarter of that, times the girth.",
            "Work out b = {tilt_up_to_deg}·3.1416/180, then 10·{girth_cm}·b²/12.",
        ],
        solution="{tilt_up_to_deg}° are {bound} radians. The squares of the angles have the mean "
        "b²/3 = {square}, so by the approximation for small angles the girths are too large by "
        "10·{girth_cm}·{square}/4 = {near_mm} mm on average; with no approximation it is {answer} "
        "mm. It is taken off every girth, and only its spread counts as doubt.",
        slips=[
            Slip("at-the-bound", lambda q: 3 * _adds_mm(q),
                 "That is at the greatest tilt. On average the square of the angle is a third of "
                 "its greatest."),
            Slip("middle-angle", lambda q: 0.75 * _adds_mm(q),
                 "You took the middle angle. The mean of squares is more than the square of the "
                 "mean: b²/3, not b²/4."),
            Slip("mean-of-one-over-cosine", lambda q: 2 * _adds_mm(q),
                 "You made the whole girth longer by 1/cos θ. Only the way along the slope grows: "
                 "it is θ²/4, not θ²/2."),
            Slip("quarter-forgotten", lambda q: 4 * _adds_mm(q),
                 "That is the girth times the mean square. The tape reads too much by a quarter "
                 "of it."),
            Slip("spread-for-mean", lambda q: 2 / sqrt(5) * _adds_mm(q),
                 "That is how much it varies from one taping to the next. Asked is the mean, which "
                 "can be taken off."),
            Slip("degrees", lambda q: _adds_mm(q) * (180 / pi) ** 2,
                 "The angle is in degrees. The rule wants radians: times π/180."),
        ],
        picture="lay",
        source="closed form; [GUM1995] for taking off a known mean",
    ),
    Family(
        key="degrees-of-freedom-together",
        topic="how-sure",
        title="Degrees of freedom of a girth with three doubts",
        text="A girth is the mean of {reading_count} readings, whose standard deviation is "
        "{spread_cm} cm. It is corrected by a card with a standard uncertainty of {u_card_cm} cm, "
        "which has {card_degrees} degrees of freedom. The marks are {resolution_cm} cm apart: that "
        "part is known for sure and no repeating makes it smaller. Nothing ties the three. How "
        "many degrees of freedom has the combined uncertainty, by Welch and Satterthwaite, before "
        "it is cut to a whole number?",
        given=[
            Quantity("reading_count", 3, 6, 1, exact=True),
            Quantity("spread_cm", 0.4, 1.0, 0.01, exact=True),
            Quantity("u_card_cm", 0.15, 0.4, 0.01, exact=True),
            Quantity("card_degrees", 3, 9, 1, exact=True),
            Quantity("resolution_cm", 0.5, 1.0, 0.5, exact=True),
        ],
        unit="",
        answer=_degrees,
        fits=lambda q: _degrees(q) <= 60
        and all(abs(_degrees(q) - one) > 0.01 * one for one in _lookalikes(q)),
        steps={
            "mean_cm": _mean_cm,
            "step_cm": _step_cm,
            "together_cm": lambda q: hypot(*_parts_cm(q)),
        },
        hints=[
            "Which of the three doubts comes from few readings and is itself unsure? Which is "
            "not?",
            "First s/√n, the card's and step/√12, and their root of squares u. Then u⁴ over the "
            "sum of each part's fourth power over its own degrees; the step's are without end.",
            "With a = {spread_cm}/√{reading_count} and u from a, {u_card_cm} and "
            "{resolution_cm}/√12, work out u⁴/(a⁴/({reading_count} − 1) + "
            "{u_card_cm}⁴/{card_degrees}).",
        ],
        solution="The mean has {spread_cm}/√{reading_count} = {mean_cm} cm, the step "
        "{resolution_cm}/√12 = {step_cm} cm, all three together {together_cm} cm. "
        "{together_cm}⁴/({mean_cm}⁴/({reading_count} − 1) + {u_card_cm}⁴/{card_degrees}) = "
        "{answer}. For Student's factor it is cut to the whole number below. Welch and "
        "Satterthwaite's rule is an approximation.",
        slips=[
            Slip("plainly-added", lambda q: q.reading_count - 1 + q.card_degrees,
                 "You added the degrees of freedom. How much each counts depends on how large its "
                 "doubt is."),
            Slip("squares-for-fourths",
                 lambda q: _welch(_parts_cm(q), (q.reading_count - 1, q.card_degrees), 2),
                 "You took squares. The rule has fourth powers, above and below."),
            Slip("n-for-n-minus-one",
                 lambda q: _welch(_parts_cm(q), (q.reading_count, q.card_degrees)),
                 "A mean of n readings has n − 1 degrees of freedom."),
            Slip("step-forgotten",
                 lambda q: _welch(_parts_cm(q)[:2], (q.reading_count - 1, q.card_degrees)),
                 "The step is left out of the combined uncertainty. It adds nothing below, for it "
                 "is known for sure, but it does above."),
            Slip("one-reading",
                 lambda q: _welch((q.spread_cm, *_parts_cm(q)[1:]),
                                  (q.reading_count - 1, q.card_degrees)),
                 "You took the spread of single readings. The girth is a mean: s/√n."),
            Slip("card-left-out-below",
                 lambda q: _welch(_parts_cm(q), (q.reading_count - 1, float("inf"))),
                 "The card's uncertainty comes from few marks as well: its fourth power over its "
                 "own degrees belongs below."),
        ],
        picture="numbers",
        source="[GUM1995], annex G",
    ),
]  # fmt: skip
