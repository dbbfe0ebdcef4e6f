"""Which instrument for a whole plot, of the topic choosing (Quillmere Practice Wood).

On one stem the way with the smaller spread errs less. In the sum of many stems the spread evens
out, and what a way adds on every stem stays. And an hour is soon over: what counts is how many
readings fit into it.
"""

from __future__ import annotations

from math import ceil, floor, sqrt
from typing import Any

from mensura.estimates.uncertainty import stems_that_outweigh
from mensura.teaching.problems.family import Family, Quantity, Slip


def _flip(q: Any) -> float:
    return stems_that_outweigh(q.common_percent, q.tape_spread_percent, q.caliper_spread_percent)


def _room(q: Any) -> float:
    """How many readings a stem the time has room for, before it is cut to a whole number."""
    return float((q.plot_min / q.stem_count - q.way_min) / q.reading_min)


def _plot_percent(q: Any, readings: float) -> float:
    return float(q.caliper_spread_percent / sqrt(q.stem_count * readings))


MANY_STEMS = [
    Family(
        key="stems-until-calipers",
        topic="choosing",
        title="From how many stems on are the calipers better?",
        text="The basal area of a plot is wanted. On this class's oval stems, all about as thick, "
        "the tape makes each area {common_percent} % too large, and its hand makes it differ from "
        "stem to stem with a standard deviation of {tape_spread_percent} % more. One reading of "
        "the calipers a stem, in a direction left to chance, is right on average, with one of "
        "{caliper_spread_percent} %. The error of the plot's basal area counts as the root of its "
        "mean square. From how many stems on is it smaller with the calipers?",
        given=[
            Quantity("common_percent", 0.7, 1.3, 0.05, exact=True),
            Quantity("tape_spread_percent", 1.5, 3.0, 0.1, exact=True),
            Quantity("caliper_spread_percent", 4.0, 8.0, 0.1, exact=True),
        ],
        unit="",
        answer=lambda q: floor(_flip(q)) + 1,
        fits=lambda q: 5 <= _flip(q) <= 90 and 0.03 < _flip(q) % 1 < 0.47,
        steps={
            "above": lambda q: q.caliper_spread_percent**2 - q.tape_spread_percent**2,
            "below": lambda q: q.common_percent**2,
            "flip": _flip,
        },
        hints=[
            "What becomes of a spread from stem to stem if many stems are added? And of an error "
            "that is the same on all?",
            "The spread's part falls as √N, the common part stays. Set the mean squares equal: "
            "B² + t²/N = c²/N.",
            "Work out ({caliper_spread_percent}² − {tape_spread_percent}²)/{common_percent}², and "
            "take the next whole number above.",
        ],
        solution="B² + t²/N = c²/N gives N = (c² − t²)/B² = {above}/{below} = {flip}. From "
        "{answer} stems on the calipers' error is the smaller: their spread evens out, what the "
        "tape adds on every stem does not. With a common error known and taken off, or less oval "
        "stems, it is the other way.",
        slips=[
            Slip("tape-spread-forgotten",
                 lambda q: ceil((q.caliper_spread_percent / q.common_percent) ** 2),
                 "You left out that the tape's areas differ from stem to stem as well."),
            Slip("differences-squared",
                 lambda q: ceil(((q.caliper_spread_percent - q.tape_spread_percent)
                                 / q.common_percent) ** 2),
                 "You took the spreads from each other first. Spreads meet as squares: square "
                 "each, then take the difference."),
            Slip("not-squared",
                 lambda q: ceil((q.caliper_spread_percent - q.tape_spread_percent)
                                / q.common_percent),
                 "A spread falls as the root of the number of stems, so the number goes as the "
                 "square."),
            Slip("common-not-squared",
                 lambda q: ceil((q.caliper_spread_percent**2 - q.tape_spread_percent**2)
                                / q.common_percent),
                 "What the tape adds on every stem must be squared as well."),
            Slip("rounded-down", lambda q: floor(_flip(q)),
                 "On that many stems the tape is still a little better. Go up to the next whole "
                 "number."),
        ],
        exact=True,
        picture="plot",
        source="[GUM1995] for the mean; the common error's square added to it, closed form",
    ),
    Family(
        key="an-hour-for-a-plot",
        topic="choosing",
        title="What an hour of caliper readings is worth",
        text="A crew has {plot_min} minutes for the {stem_count} stems of a plot. To reach a "
        "stem and find breast height takes {way_min} minutes, each reading of the calipers "
        "with its note {reading_min} more. All stems get the same number of readings, each in "
        "a direction left to chance; an area from one has a standard deviation of "
        "{caliper_spread_percent} %, and the mean of a stem's areas is taken. The stems are about "
        "as thick; what all readings share is left out of account. What is the standard deviation "
        "of the plot's basal area, in per cent, if the time is used?",
        given=[
            Quantity("plot_min", 50, 90, 5, exact=True),
            Quantity("stem_count", 18, 30, 1, exact=True),
            Quantity("way_min", 0.7, 1.3, 0.1, exact=True),
            Quantity("reading_min", 0.3, 0.6, 0.05, exact=True),
            Quantity("caliper_spread_percent", 5.0, 9.0, 0.1, exact=True),
        ],
        unit="%",
        answer=lambda q: _plot_percent(q, floor(_room(q))),
        fits=lambda q: 2 <= _room(q) <= 8 and 0.12 <= _room(q) % 1 <= 0.9,
        steps={
            "stem_min": lambda q: q.plot_min / q.stem_count,
            "left_min": lambda q: q.plot_min / q.stem_count - q.way_min,
            "room": _room,
            "stem_percent": lambda q: q.caliper_spread_percent / sqrt(floor(_room(q))),
        },
        hints=[
            "How many minutes are there for a stem, and how many of them are left for readings?",
            "Of a reading there is no part: go down to a whole number k. The plot is a mean of "
            "N·k areas, so the spread falls as √(N·k).",
            "Work out k = ({plot_min}/{stem_count} − {way_min})/{reading_min}, cut to "
            "a whole number; then {caliper_spread_percent}/√({stem_count}·k).",
        ],
        solution="There are {plot_min}/{stem_count} = {stem_min} minutes a stem, "
        "{left_min} of them for readings: room for {room}, so for the whole number below it. "
        "That brings one stem's area to {stem_percent} %, and the plot's to {stem_percent}/"
        "√{stem_count} = {answer} %. Twice the time would not halve it.",
        slips=[
            Slip("a-part-of-a-reading", lambda q: _plot_percent(q, _room(q)),
                 "You counted a part of a reading. Go down to a whole number of readings a stem."),
            Slip("rounded-up", lambda q: _plot_percent(q, ceil(_room(q))),
                 "For that many readings the time does not last. Go down to a whole number."),
            Slip("way-forgotten",
                 lambda q: _plot_percent(q, floor(q.plot_min / q.stem_count
                                                  / q.reading_min)),
                 "You left out the way to the stem. It takes its minutes before the first "
                 "reading."),
            Slip("one-reading", lambda q: _plot_percent(q, 1),
                 "That is with one reading a stem. There is time for more."),
            Slip("stems-forgotten",
                 lambda q: q.caliper_spread_percent / sqrt(floor(_room(q))),
                 "That is the spread of one stem's area. In the plot's it evens out over the "
                 "stems."),
            Slip("readings-for-their-root",
                 lambda q: q.caliper_spread_percent / floor(_room(q)) / sqrt(q.stem_count),
                 "You divided by the number of readings. A mean's spread falls as its root only."),
        ],
        picture="plot",
        source="[GUM1995] for the mean; the minutes are invented",
    ),
]  # fmt: skip
