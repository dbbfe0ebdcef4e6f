"""What a class's readings are worth: repeats, hands against each other, tape against calipers.

Hands, stems and instruments are invented (Quillmere Practice Wood). What goes wrong most is what
single readings and means have to do with each other, and whom a hand is set against.
"""

from __future__ import annotations

from math import sqrt
from statistics import fmean, median, stdev
from typing import Any

from mensura.estimates.agreement import TWO_SIDED_95, limits_from_differences
from mensura.estimates.precision import limit_cm
from mensura.estimates.variance_parts import one_way_parts
from mensura.teaching.problems.family import Family, Quantity, Slip

_PAIRS, _STEMS = 4, 5


def _tapings(q: Any) -> list[float]:
    """What both tapings of each stem differ by."""
    return [getattr(q, f"difference_{k}_cm") for k in range(1, _PAIRS + 1)]


def _repeatability_cm(q: Any) -> float:
    stems = [k for k in range(_PAIRS) for _ in range(2)]
    readings = [part for one in _tapings(q) for part in (100.0, 100.0 + one)]
    return sqrt(one_way_parts(stems, readings).within_cm2)


def _squares(q: Any) -> float:
    return sum(one**2 for one in _tapings(q))


def _any_hand_cm(q: Any, repeats: float) -> float:
    """Root of the means' variance and so much of the repeats'."""
    return sqrt(q.means_sd_cm**2 + repeats * q.hand_sd_cm**2)


def _others(q: Any) -> list[float]:
    return [getattr(q, f"reading_{k}_cm") for k in range(1, 6)]


def _over_percent(q: Any, agreed_cm: float) -> float:
    return float(100 * (q.reading_6_cm / agreed_cm - 1))


def _shares(q: Any) -> tuple[float, float]:
    """The bias on either stem in per cent."""
    return 100 * q.more_1_cm / q.girth_1_cm, 100 * q.more_2_cm / q.girth_2_cm


def _is_share(q: Any) -> bool:
    """Whether the shares are nearer to each other than the centimetres."""
    (one, two), (first, second) = _shares(q), (q.more_1_cm, q.more_2_cm)
    return bool(abs(one - two) / (one + two) < abs(first - second) / (first + second))


def _on_third_cm(q: Any, share: bool) -> float:
    if share:
        return fmean(_shares(q)) / 100 * float(q.girth_3_cm)
    return fmean((q.more_1_cm, q.more_2_cm))


def _decided(q: Any) -> bool:
    """One of the forms fits over three times as well as the other."""
    (one, two), (first, second) = _shares(q), (q.more_1_cm, q.more_2_cm)
    apart = sorted((abs(one - two) / (one + two), abs(first - second) / (first + second)))
    return bool(apart[0] < 0.3 * apart[1])


def _apart(q: Any) -> list[float]:
    """Girth over π less width, each stem."""
    return [getattr(q, f"apart_{k}_cm") for k in range(1, _STEMS + 1)]


def _upper_cm(q: Any) -> float:
    return limits_from_differences(range(_STEMS), _apart(q)).upper_cm


def _singles_cm(q: Any, tape: float, jaws: float) -> float:
    """Root of the differences' variance and so much of either repeats'."""
    squares = tape * q.tape_repeat_cm**2 + jaws * q.caliper_repeat_cm**2
    return sqrt(q.differences_sd_cm**2 + squares)


def _reach_cm(q: Any) -> float:
    return TWO_SIDED_95 * _singles_cm(q, 1 - 1 / q.reading_count, 0.5)


FAMILIES = [
    Family(
        key="repeatability-from-pairs",
        topic="field-practical",
        title="How far a hand agrees with itself, from pairs",
        text="Hand Q02 lays tape T1 twice on each of four stems, without looking at the first "
        "reading. The two girths of a stem differ by {difference_1_cm}, {difference_2_cm}, "
        "{difference_3_cm} and {difference_4_cm} cm. What is the repeatability standard deviation "
        "of a single reading, in cm?",
        given=[
            Quantity(f"difference_{k}_cm", 0.1, 1.2, 0.1, exact=True) for k in range(1, _PAIRS + 1)
        ],
        unit="cm",
        answer=_repeatability_cm,
        steps={"squares_cm2": _squares},
        hints=[
            "Both readings of a pair spread. Is their difference as large as the spread of one?",
            "The variance of a difference is twice that of a reading, and one pair's variance is "
            "d²/2. All four pairs count alike.",
            "Add {difference_1_cm}² and so on, divide by twice the number of pairs, and take the "
            "root.",
        ],
        solution="The squares add up to {squares_cm2} cm². Each pair's variance is d²/2, and the "
        "mean of four is {squares_cm2}/8; its root is {answer} cm. Four pairs have four degrees "
        "of freedom: each stem's own mean was taken off.",
        slips=[
            Slip("spread-of-the-difference", lambda q: sqrt(_squares(q) / 4),
                 "That is how the difference of two readings spreads. A single reading's is "
                 "smaller by √2."),
            Slip("spread-of-the-figures", lambda q: stdev(_tapings(q)),
                 "You took the four differences for readings and their spread about their mean. "
                 "Each difference is itself what two readings are apart."),
            Slip("mean-difference", lambda q: fmean(_tapings(q)),
                 "That is the mean difference. Asked is a standard deviation: squares, and half "
                 "of them."),
            Slip("one-pair-less", lambda q: sqrt(_squares(q) / 6),
                 "Each pair has lost its one degree of freedom already: divide by the number of "
                 "pairs."),
            Slip("root-forgotten", lambda q: _squares(q) / 8,
                 "That is the variance, in cm². Take its root."),
            Slip("limit-for-deviation", lambda q: limit_cm(_repeatability_cm(q)),
                 "That is the repeatability limit, 2.8 times the standard deviation."),
        ],
        source="[ISO5725]",
    ),
    Family(
        key="another-hand-reads",
        topic="field-practical",
        title="How far readings by any hand spread",
        text="Five hands lay one tape {reading_count} times each on the same stem. The standard "
        "deviation of their five means is {means_sd_cm} cm; that of one hand's readings "
        "about its own mean is {hand_sd_cm} cm, alike for all. Estimate by the method of ISO "
        "5725-2 the standard deviation of a single reading by any such hand, in cm.",
        given=[
            Quantity("reading_count", 2, 4, 1, exact=True),
            Quantity("means_sd_cm", 0.3, 0.9, 0.01, exact=True),
            Quantity("hand_sd_cm", 0.2, 0.8, 0.01, exact=True),
        ],
        unit="cm",
        answer=lambda q: _any_hand_cm(q, 1 - 1 / q.reading_count),
        fits=lambda q: q.means_sd_cm**2 > 1.2 * q.hand_sd_cm**2 / q.reading_count,
        steps={
            "between_cm2": lambda q: q.means_sd_cm**2 - q.hand_sd_cm**2 / q.reading_count,
        },
        hints=[
            "Would the means of hands that are all alike be equal?",
            "The means' variance holds the hands' own and 1/n of the repeats'. A single reading "
            "has the hands' own and all of the repeats'.",
            "Take {hand_sd_cm}²/{reading_count} from {means_sd_cm}², add {hand_sd_cm}², and take "
            "the root.",
        ],
        solution="Between hands: {means_sd_cm}² − {hand_sd_cm}²/{reading_count} = {between_cm2} "
        "cm². With {hand_sd_cm}² for one reading the root is {answer} cm. With one instrument in "
        "one class this is intermediate precision; between classes and instruments it is more.",
        slips=[
            Slip("repeats-counted-twice", lambda q: _any_hand_cm(q, 1),
                 "1/n of the repeats' variance is in the means already: take it off first."),
            Slip("means-alone", lambda q: q.means_sd_cm,
                 "So the means spread. A single reading spreads more."),
            Slip("hands-alone", lambda q: _any_hand_cm(q, -1 / q.reading_count),
                 "That is what the hands differ by. A reading has its repeat's spread besides."),
            Slip("another-nth-added", lambda q: _any_hand_cm(q, 1 / q.reading_count),
                 "The nth part of the repeats' variance comes off the means; the whole comes on."),
            Slip("plainly-added", lambda q: q.means_sd_cm + q.hand_sd_cm,
                 "Deviations add by their squares, and 1/n of the repeats' is in the means "
                 "already."),
        ],
        source="[ISO5725]",
    ),
    Family(
        key="against-the-others",
        topic="field-practical",
        title="One hand against what the others agree on",
        text="Hands Q01 to Q05 read the girth of one stem as {reading_1_cm}, {reading_2_cm}, "
        "{reading_3_cm}, {reading_4_cm} and {reading_5_cm} cm, with the same tape. "
        "Hand Q06 reads {reading_6_cm} cm. What does Q06 read too much, in per cent of what the "
        "others agree on, so that no single blunder among theirs counts?",
        given=[
            *(Quantity(f"reading_{k}_cm", 120.0, 123.0, 0.1, exact=True) for k in range(1, 5)),
            Quantity("reading_5_cm", 108.0, 114.0, 0.1, exact=True),
            Quantity("reading_6_cm", 124.5, 127.0, 0.1, exact=True),
        ],
        unit="%",
        answer=lambda q: _over_percent(q, median(_others(q))),
        fits=lambda q: max(_others(q)[:4]) - min(_others(q)[:4]) > 0.4,
        steps={"agreed_cm": lambda q: median(_others(q))},
        hints=[
            "One of the five is far from the rest. What would it do to their mean?",
            "The middle one of the five is moved hardly at all by one blunder. Q06 itself must "
            "not be among those it is set against.",
            "Put the first five in order, take the middle one, and see how many per cent "
            "{reading_6_cm} cm is above it.",
        ],
        solution="In order, the middle one of the five is {agreed_cm} cm. "
        "100·({reading_6_cm}/{agreed_cm} − 1) = {answer} %. The reading that is far off needs a "
        "look of its own; here it moves nothing.",
        slips=[
            Slip("mean-of-the-others", lambda q: _over_percent(q, fmean(_others(q))),
                 "One blunder has pulled the mean down, and makes Q06 look worse. Take the "
                 "middle one."),
            Slip("mean-of-all",
                 lambda q: _over_percent(q, fmean([*_others(q), q.reading_6_cm])),
                 "Q06 is in that mean, and so is the blunder. Set it against the middle one of "
                 "the others."),
            Slip("middle-of-all",
                 lambda q: _over_percent(q, median([*_others(q), q.reading_6_cm])),
                 "Q06 is among those it was set against, and agrees with itself. Leave it out."),
            Slip("in-centimetres", lambda q: q.reading_6_cm - median(_others(q)),
                 "That is in centimetres. Asked is a share, in per cent."),
            Slip("of-its-own-reading",
                 lambda q: 100 * (1 - median(_others(q)) / q.reading_6_cm),
                 "You took it as a share of Q06's own reading. It is one of what the others "
                 "agree on."),
        ],
        source="common practice, no source",
    ),
    Family(
        key="share-or-constant",
        topic="field-practical",
        title="A share or a constant?",
        text="Against what the others agree on, hand Q03 reads {more_1_cm} cm too much on a stem "
        "of {girth_1_cm} cm girth and {more_2_cm} cm too much on one of {girth_2_cm} cm. It is "
        "either the same share of every reading or the same length on every stem. Take the one "
        "of the two that fits better, as the mean from both stems. How much too much will Q03 "
        "read on a stem of {girth_3_cm} cm, in cm?",
        given=[
            Quantity("more_1_cm", 1.0, 1.6, 0.05, exact=True),
            Quantity("girth_1_cm", 60.0, 75.0, 1.0, exact=True),
            Quantity("more_2_cm", 1.0, 3.4, 0.05, exact=True),
            Quantity("girth_2_cm", 130.0, 150.0, 1.0, exact=True),
            Quantity("girth_3_cm", 195.0, 230.0, 1.0, exact=True),
        ],
        unit="cm",
        answer=lambda q: _on_third_cm(q, _is_share(q)),
        fits=_decided,
        steps={
            "first_percent": lambda q: _shares(q)[0],
            "second_percent": lambda q: _shares(q)[1],
        },
        hints=[
            "Write both down twice: in centimetres, and in per cent of the stem. Which two are "
            "more alike?",
            "What is alike in per cent grows with the stem; what is alike in centimetres does "
            "not. Take the mean of the two that are alike.",
            "Compare {more_1_cm} with {more_2_cm}, and {more_1_cm}/{girth_1_cm} with "
            "{more_2_cm}/{girth_2_cm}. If the shares agree, carry their mean over to "
            "{girth_3_cm} cm.",
        ],
        solution="In centimetres: {more_1_cm} and {more_2_cm}. In per cent: {first_percent} and "
        "{second_percent}. The mean of the two that are more alike makes {answer} cm on the third "
        "stem. A share points to a tilt or a wrong pull, a constant to slack or the wrong height.",
        slips=[
            Slip("the-other-form", lambda q: _on_third_cm(q, not _is_share(q)),
                 "You took the form that fits worse. Compare the centimetres with each other, "
                 "and the per cents."),
            Slip("sum-for-mean", lambda q: 2 * _on_third_cm(q, _is_share(q)),
                 "You added both. Take their mean."),
            Slip("in-per-cent",
                 lambda q: 100 * _on_third_cm(q, _is_share(q)) / q.girth_3_cm,
                 "That is in per cent of the third stem. Asked are centimetres."),
            Slip("as-a-diameter", lambda q: _on_third_cm(q, _is_share(q)) / 3.141592653589793,
                 "You divided by π: that is what the diameter is off by. Asked is the girth."),
        ],
        source="common practice, no source",
    ),
    Family(
        key="limits-of-agreement",
        topic="field-practical",
        title="Within which limits do tape and calipers agree?",
        text="On five stems the girth over π, less what calipers read, is {apart_1_cm}, "
        "{apart_2_cm}, {apart_3_cm}, {apart_4_cm} and {apart_5_cm} cm. What is the upper 95 % "
        "limit of agreement of tape less calipers, with the factor 1.96, in cm?",
        given=[
            Quantity("apart_1_cm", 0.1, 1.6, 0.1, exact=True),
            Quantity("apart_2_cm", -0.8, 0.9, 0.1, exact=True),
            Quantity("apart_3_cm", 0.2, 1.8, 0.1, exact=True),
            Quantity("apart_4_cm", -0.6, 1.2, 0.1, exact=True),
            Quantity("apart_5_cm", 0.1, 2.0, 0.1, exact=True),
        ],
        unit="cm",
        answer=_upper_cm,
        fits=lambda q: 0.2 < fmean(_apart(q)) < 2 * stdev(_apart(q)),
        steps={
            "mean_cm": lambda q: fmean(_apart(q)),
            "deviation_cm": lambda q: stdev(_apart(q)),
        },
        hints=[
            "Asked is not how sure the mean is, but how far a next single difference may lie.",
            "The limits are the mean of the differences ± 1.96 of their standard deviations, "
            "the sum of squares divided by n − 1.",
            "Take the mean of {apart_1_cm} and the others; then the deviation of the five about "
            "it, over four; then the mean plus 1.96 of that.",
        ],
        solution="The mean is {mean_cm} cm, the standard deviation {deviation_cm} cm. {mean_cm} + "
        "1.96·{deviation_cm} = {answer} cm. From five stems such a limit is itself very unsure.",
        slips=[
            Slip("lower-limit",
                 lambda q: fmean(_apart(q)) - TWO_SIDED_95 * stdev(_apart(q)),
                 "That is the lower limit. Asked is the upper one."),
            Slip("limits-of-the-mean",
                 lambda q: fmean(_apart(q)) + TWO_SIDED_95 * stdev(_apart(q)) / sqrt(5),
                 "That is how sure the mean is. Single differences spread by the whole standard "
                 "deviation."),
            Slip("mean-forgotten", lambda q: TWO_SIDED_95 * stdev(_apart(q)),
                 "Limits of agreement lie about the mean difference, not about 0."),
            Slip("factor-forgotten", lambda q: fmean(_apart(q)) + stdev(_apart(q)),
                 "One standard deviation holds about two thirds. Multiply it by 1.96."),
            Slip("n-for-n-minus-one",
                 lambda q: fmean(_apart(q)) + TWO_SIDED_95 * stdev(_apart(q)) * sqrt(0.8),
                 "Divide the sum of squares by n − 1: the mean was taken from the same five."),
        ],
        source="[BlandAltman1986]",
    ),
    Family(
        key="limits-for-single-readings",
        topic="field-practical",
        title="Limits of agreement for single readings, from means",
        text="On many stems the mean of {reading_count} tapings, over π, is set against the mean "
        "of two caliper readings; the differences have a standard deviation of "
        "{differences_sd_cm} cm. Repeats on one stem spread, as diameters, by {tape_repeat_cm} cm "
        "with the tape and by {caliper_repeat_cm} cm with the calipers. How far either side of the "
        "mean difference are the 95 % limits of agreement of one taping against one caliper "
        "reading, with the factor 1.96, in cm?",
        given=[
            Quantity("reading_count", 2, 4, 1, exact=True),
            Quantity("differences_sd_cm", 0.3, 0.8, 0.01, exact=True),
            Quantity("tape_repeat_cm", 0.2, 0.5, 0.01, exact=True),
            Quantity("caliper_repeat_cm", 0.25, 0.7, 0.01, exact=True),
        ],
        unit="cm",
        answer=_reach_cm,
        fits=lambda q: q.differences_sd_cm**2
        > 1.1 * (q.tape_repeat_cm**2 / q.reading_count + q.caliper_repeat_cm**2 / 2),
        steps={"one_cm": lambda q: _singles_cm(q, 1 - 1 / q.reading_count, 0.5)},
        hints=[
            "A mean spreads less than what it is the mean of. What is missing in the differences "
            "of means?",
            "The mean of m readings keeps 1/m of the repeats' variance; 1 − 1/m of it is missing. "
            "Add that for tape and calipers.",
            "Add to {differences_sd_cm}² the share 1 − 1/{reading_count} of {tape_repeat_cm}² and "
            "half of {caliper_repeat_cm}²; the root of it times 1.96.",
        ],
        solution="{differences_sd_cm}² + (1 − 1/{reading_count})·{tape_repeat_cm}² + (1 − "
        "1/2)·{caliper_repeat_cm}² is the variance of a difference of single readings: its root is "
        "{one_cm} cm, and 1.96 times that is {answer} cm.",
        slips=[
            Slip("repeats-forgotten", lambda q: TWO_SIDED_95 * q.differences_sd_cm,
                 "Those are the limits for means. Single readings spread more."),
            Slip("repeats-counted-twice", lambda q: TWO_SIDED_95 * _singles_cm(q, 1, 1),
                 "1/m of the repeats' variance is in the differences already: add 1 − 1/m of it."),
            Slip("the-part-that-is-there",
                 lambda q: TWO_SIDED_95 * _singles_cm(q, 1 / q.reading_count, 0.5),
                 "You added 1/m of the tape's. That is there already; 1 − 1/m of it is missing."),
            Slip("calipers-forgotten",
                 lambda q: TWO_SIDED_95 * _singles_cm(q, 1 - 1 / q.reading_count, 0),
                 "The calipers' mean hides a part of their repeats as well: half of it."),
            Slip("factor-forgotten",
                 lambda q: _singles_cm(q, 1 - 1 / q.reading_count, 0.5),
                 "That is the standard deviation. The limits lie 1.96 of them away."),
        ],
        source="[BlandAltman1999]",
    ),
]  # fmt: skip
