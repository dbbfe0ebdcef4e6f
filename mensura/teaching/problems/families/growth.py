"""Growth between two readings: what cancels, what does not, and when it stands out.

Stems and readings are invented (Quillmere Practice Wood).
"""

from __future__ import annotations

from math import hypot, pi, sqrt
from typing import Any

from mensura.estimates.growth import (
    Again,
    ReadingDoubts,
    area_growth_a_year_percent,
    growth_at_the_mark_cm,
    least_growth,
)
from mensura.estimates.shrunk import bark_came_off_cm
from mensura.estimates.stand_growth import u_mean_growth_cm
from mensura.teaching.problems.family import Family, Quantity, Slip
from mensura.teaching.problems.parts.shared_or_not import SHARED_OR_NOT


def _at_the_mark_cm(q: Any) -> float:
    return float(growth_at_the_mark_cm(q.growth_cm, q.higher_cm, q.diameter_taper_cm_per_m))


def _lost_cm(q: Any) -> float:
    """What the girth loses in all by the height."""
    return float(pi * q.diameter_taper_cm_per_m * q.higher_cm / 100)


def _least_a_year_cm(q: Any) -> float:
    own = ReadingDoubts(q.u_reading_cm, 0, 0, 0, 0, 0, 0)
    return float(least_growth(100.0, own).found_cm) / float(q.between_years)


def _habits_cm(q: Any) -> float:
    """Both hands' habits, on the mean girths."""
    return float(q.habit_percent) / 100 * hypot(q.girth_cm, q.girth_cm + q.growth_cm)


def _averaged_cm(q: Any) -> float:
    return float(q.growths_sd_cm) / sqrt(q.stem_count)


def _mean_growth_u_cm(q: Any) -> float:
    habit = ReadingDoubts(0, 0, 0, q.habit_percent, 0, 0, 0)
    return float(
        u_mean_growth_cm(
            q.stem_count, q.girth_cm, q.growth_cm, q.growths_sd_cm, habit, Again(hand=False)
        )
    )


def _times(q: Any) -> float:
    """The second girth over the first."""
    return float((q.girth_cm + q.growth_cm) / q.girth_cm)


FAMILIES = [
    *SHARED_OR_NOT,
    Family(
        key="growth-from-another-height",
        topic="growth",
        title="The mark was lost, and the band lay higher",
        text="In {between_years} years a stem's girth has grown by {growth_cm} cm, as it seems. "
        "But the mark was lost, and the band lay {higher_cm} cm higher the second time. There the "
        "stem's diameter loses {diameter_taper_cm_per_m} cm with each metre up. How much has the "
        "girth at the mark grown in a year, in mm?",
        given=[
            Quantity("between_years", 3, 8, 1, exact=True),
            Quantity("growth_cm", 2.0, 6.0, 0.1),
            Quantity("higher_cm", 15.0, 50.0, 1.0),
            Quantity("diameter_taper_cm_per_m", 0.8, 2.4, 0.1, exact=True),
        ],
        unit="mm",
        answer=lambda q: 10 * _at_the_mark_cm(q) / q.between_years,
        steps={"lost_cm": _lost_cm, "true_growth_cm": _at_the_mark_cm},
        hints=[
            "Is a stem thicker or thinner higher up? So has it grown more than it seems, or less?",
            "The diameter is smaller there by the taper times the height in metres, and a girth is "
            "π diameters. Put that back before you divide by the years.",
            "({growth_cm} + 3.1416·{diameter_taper_cm_per_m}·{higher_cm}/100)·10/{between_years}.",
        ],
        solution="Higher up the girth is smaller by "
        "π·{diameter_taper_cm_per_m}·{higher_cm}/100 = {lost_cm} cm. At the mark it has grown "
        "{true_growth_cm} cm, and {answer} mm in a year.",
        slips=[
            Slip("height-left-out", lambda q: 10 * q.growth_cm / q.between_years,
                 "That is as it seems. Higher up the stem is thinner: put the difference back."),
            Slip("wrong-sign",
                 lambda q: 10 * (q.growth_cm - _lost_cm(q)) / q.between_years,
                 "You took the difference off. Higher up the stem is thinner, so it has grown more "
                 "than it seems."),
            Slip("no-pi",
                 lambda q: 10 * (q.growth_cm + _lost_cm(q) / pi) / q.between_years,
                 "The taper is the diameter's. A girth loses π times as much."),
            Slip("years-forgotten", lambda q: 10 * _at_the_mark_cm(q),
                 "That is the growth of all years. Asked is one year's."),
            Slip("in-centimetres", lambda q: _at_the_mark_cm(q) / q.between_years,
                 "That is in cm. Asked is in mm."),
        ],
        source="closed form of a straight taper",
    ),
    Family(
        key="least-growth-a-year",
        topic="growth",
        title="How fast must a stem grow to be caught growing?",
        text="A stem is taped twice, {between_years} years apart, by the same hand at the same "
        "mark. Each reading has a standard uncertainty of {u_reading_cm} cm, with nothing in "
        "common. A growth stands out if the difference as read is above 1.96 of its standard "
        "uncertainty; a stem shows it in nine of ten such pairs if it grows by 1.28 of them more. "
        "How much in girth must it grow a year for that, in cm?",
        given=[
            Quantity("between_years", 2, 10, 1, exact=True),
            Quantity("u_reading_cm", 0.1, 0.6, 0.01, exact=True),
        ],
        unit="cm",
        answer=_least_a_year_cm,
        steps={
            "both_cm": lambda q: sqrt(2) * q.u_reading_cm,
            "least_cm": lambda q: _least_a_year_cm(q) * q.between_years,
        },
        hints=[
            "What is the standard uncertainty of a difference of two such readings?",
            "√2 of one reading. A growth that is read above 1.96 of that in nine of ten is "
            "1.96 + 1.28 of it.",
            "Work out (1.96 + 1.28)·1.4142·{u_reading_cm} and divide by {between_years}.",
        ],
        solution="A difference is unsure by √2·{u_reading_cm} = {both_cm} cm. Nine of ten see a "
        "growth of (1.96 + 1.28)·{both_cm} = {least_cm} cm, which is {answer} cm a year. Twice as "
        "many years need half the growth; another tape or hand needs more.",
        slips=[
            Slip("one-reading", lambda q: _least_a_year_cm(q) / sqrt(2),
                 "That takes the uncertainty of one reading. A difference has two: √2 of one."),
            Slip("chance-only", lambda q: 1.96 * sqrt(2) * q.u_reading_cm / q.between_years,
                 "A stem that grows just so much is read above the limit in half of all pairs. For "
                 "nine of ten it takes 1.28 more."),
            Slip("plainly-added", lambda q: _least_a_year_cm(q) * sqrt(2),
                 "You added both readings' uncertainties plainly. Add their squares: √2 of one."),
            Slip("years-forgotten", lambda q: _least_a_year_cm(q) * q.between_years,
                 "That is the growth of all years. Asked is one year's."),
            Slip("nine-of-ten-only",
                 lambda q: 1.28 * sqrt(2) * q.u_reading_cm / q.between_years,
                 "1.28 comes on top of the 1.96 that chance alone may reach."),
            Slip("root-of-the-years",
                 lambda q: _least_a_year_cm(q) * sqrt(q.between_years),
                 "You divided by the root of the years. That is for means; here one growth is "
                 "shared out over the years."),
        ],
        source="[GUM1995] for the difference; the factors are the normal curve's",
    ),
    Family(
        key="bark-came-off-in-between",
        topic="growth",
        title="A stem that was read smaller than before",
        text="A pine is read {shrunk_cm} cm less in girth than {between_years} years ago, by the "
        "same hand with the same tape at the same mark. Pale bark under the band shows that a "
        "layer of {lost_bark_mm} mm has come off all round. How much would the girth have grown "
        "with that layer still on, in cm?",
        given=[
            Quantity("shrunk_cm", 0.3, 1.6, 0.1, exact=True),
            Quantity("between_years", 3, 8, 1, exact=True),
            Quantity("lost_bark_mm", 4.0, 12.0, 0.5, exact=True),
        ],
        unit="cm",
        answer=lambda q: bark_came_off_cm(-q.shrunk_cm, q.lost_bark_mm / 10),
        steps={"layer_cm": lambda q: 2 * pi * q.lost_bark_mm / 10},
        hints=[
            "How much shorter is a band when it lies nearer to the middle all round?",
            "A layer all round makes the radius smaller by its thickness, and the girth by 2π "
            "times that. The stem was read less by only a part of it.",
            "Work out 6.2832·{lost_bark_mm}/10, and take {shrunk_cm} off.",
        ],
        solution="The layer lost is 2π·{lost_bark_mm}/10 = {layer_cm} cm of girth. Only "
        "{shrunk_cm} cm of that is missing, so {layer_cm} − {shrunk_cm} = {answer} cm had grown. "
        "That is a girth over bark; the wood under it may have grown otherwise.",
        slips=[
            Slip("one-side", lambda q: pi * q.lost_bark_mm / 10 - q.shrunk_cm,
                 "The layer came off on both sides: the diameter has lost it twice."),
            Slip("added", lambda q: 2 * pi * q.lost_bark_mm / 10 + q.shrunk_cm,
                 "What is missing still was not made good by growth: take it off."),
            Slip("the-layer-alone", lambda q: 2 * pi * q.lost_bark_mm / 10,
                 "That is the layer's girth. A part of it is missing still."),
            Slip("millimetres", lambda q: 2 * pi * q.lost_bark_mm - q.shrunk_cm,
                 "The layer is given in mm: 10 mm are 1 cm."),
            Slip("a-year",
                 lambda q: (2 * pi * q.lost_bark_mm / 10 - q.shrunk_cm) / q.between_years,
                 "That is a year's growth. Asked is that of all years."),
            Slip("diameter-for-girth", lambda q: 2 * q.lost_bark_mm / 10 - q.shrunk_cm,
                 "That is the diameter's loss. A girth loses π times as much."),
        ],
        source="[Steiner1840]",
    ),
    Family(
        key="mean-growth-by-another-hand",
        topic="growth",
        title="The mean growth of many stems, taped by another hand",
        text="{stem_count} stems of Quillmere Practice Wood were taped by Q04 and years later by "
        "Q11. Their girths were {girth_cm} cm on average and have grown by {growth_cm} cm; the "
        "growths as read differ from stem to stem by {growths_sd_cm} cm, as a standard deviation. "
        "Each hand's habit, the same on all stems, has a standard uncertainty of {habit_percent} % "
        "of the girth, the one apart from the other. What is the standard uncertainty of the mean "
        "growth, in cm? Take the habits on the mean girths.",
        given=[
            Quantity("stem_count", 9, 60, 1, exact=True),
            Quantity("girth_cm", 70.0, 140.0, 0.1),
            Quantity("growth_cm", 4.0, 10.0, 0.1),
            Quantity("growths_sd_cm", 0.8, 2.4, 0.05, exact=True),
            Quantity("habit_percent", 0.1, 0.4, 0.02, exact=True),
        ],
        unit="cm",
        answer=_mean_growth_u_cm,
        steps={
            "averaged_cm": _averaged_cm,
            "later_girth_cm": lambda q: q.girth_cm + q.growth_cm,
            "habits_cm": _habits_cm,
        },
        hints=[
            "What averages out over many stems, and what is the same on all of them?",
            "The spread from stem to stem averages out. Two habits do not, and they do not cancel: "
            "each errs on the girths that its hand read.",
            "{growths_sd_cm} over the root of {stem_count}; {habit_percent}/100 times the root of "
            "both mean girths' squares added; then the root of both squares.",
        ],
        solution="The spread averages out to {growths_sd_cm}/√{stem_count} = {averaged_cm} cm. Two "
        "habits make {habit_percent}/100·√({girth_cm}² + {later_girth_cm}²) = {habits_cm} cm on "
        "any number of stems. Together {answer} cm. The same hand both times would leave almost "
        "nothing of it.",
        slips=[
            Slip("habits-averaged-out",
                 lambda q: hypot(_averaged_cm(q), _habits_cm(q) / sqrt(q.stem_count)),
                 "A habit is the same on all stems: no number of them makes it smaller."),
            Slip("habits-cancelled",
                 lambda q: hypot(_averaged_cm(q), q.habit_percent / 100 * q.growth_cm),
                 "That would be the same hand both times, and hardly more than the spread. Two "
                 "hands' habits do not cancel."),
            Slip("one-habit",
                 lambda q: hypot(_averaged_cm(q), q.habit_percent / 100 * q.girth_cm),
                 "That is one hand's habit. There are two, each on the girths that it read."),
            Slip("habits-only", _habits_cm,
                 "That is the habits' part. The stems' spread over the root of their number "
                 "comes on top."),
            Slip("spread-not-averaged", lambda q: hypot(q.growths_sd_cm, _habits_cm(q)),
                 "That is for one stem. The spread of a mean is smaller by the root of the "
                 "number."),
            Slip("plainly-added", lambda q: _averaged_cm(q) + _habits_cm(q),
                 "The two know nothing of each other: add their squares and take the root."),
        ],
        source="[GUM1995]",
    ),
    Family(
        key="area-growth-a-year",
        topic="growth",
        title="By how many per cent an area grows each year",
        text="In {between_years} years a stem's girth has grown from {girth_cm} cm by "
        "{growth_cm} cm. By how many per cent has its sectional area grown each year, if it was "
        "the same share of the area in each of them? Taken for round both times.",
        given=[
            Quantity("between_years", 5, 20, 1, exact=True),
            Quantity("girth_cm", 40.0, 90.0, 0.1),
            Quantity("growth_cm", 14.0, 40.0, 0.1),
        ],
        unit="%",
        answer=lambda q: area_growth_a_year_percent(
            q.girth_cm, q.girth_cm + q.growth_cm, q.between_years
        ),
        steps={
            "later_girth_cm": lambda q: q.girth_cm + q.growth_cm,
            "times": lambda q: _times(q) ** 2,
        },
        hints=[
            "How many times as large is the area now? It need not be worked out in cm².",
            "Areas go as the girth squared. The same share each year, one year upon the other: a "
            "root with as many as there are years.",
            "Take (({girth_cm} + {growth_cm})/{girth_cm})², its {between_years}th root, and 1 "
            "away; make it per cent.",
        ],
        solution="The girth is {later_girth_cm} cm now, so the area is "
        "({later_girth_cm}/{girth_cm})² = {times} times as large. The root with {between_years} of "
        "that, less 1, is {answer} %. No stem keeps to one share: it falls as a stem grows.",
        slips=[
            Slip("simple-interest",
                 lambda q: 100 * (_times(q) ** 2 - 1) / q.between_years,
                 "You shared the whole out evenly. A share of each year's own area is smaller: "
                 "take the root."),
            Slip("of-the-girth",
                 lambda q: 100 * (_times(q) ** (1 / q.between_years) - 1),
                 "That is the girth's share. The area goes as its square."),
            Slip("girth-shared-out",
                 lambda q: 100 * (_times(q) - 1) / q.between_years,
                 "That is the girth's growth, shared out evenly. Asked is the area's."),
            Slip("all-years", lambda q: 100 * (_times(q) ** 2 - 1),
                 "That is the growth of all years together."),
        ],
        picture="girth",
        source="closed form of compound interest",
    ),
]  # fmt: skip
