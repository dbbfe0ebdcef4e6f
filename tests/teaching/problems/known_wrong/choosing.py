"""Wrong methods for problems of choosing, beside their slips.

The best of several by a wrong sign is no better than a guess; a guess, "always the first", is
right for some and is held down by what the choices are in turn, not here.
"""

from math import ceil, cos, pi, radians, sin, sqrt
from statistics import mean

from mensura.estimates.out_of_round import tape_over_percent


def five(n, name):
    """Five numbers of a kind."""
    return [getattr(n, f"{name}_{k}_cm") for k in range(1, 6)]


def place(values, best=max):
    """The number of the greatest, from 1."""
    values = list(values)
    return values.index(best(values)) + 1


def off(n):
    """How far each width is from its girth over π."""
    pairs = zip(five(n, "width"), five(n, "girth"), strict=True)
    return [abs(width - girth / pi) for width, girth in pairs]


def errors(n):
    """Errors of the four areas in per cent: tape, one reading, the other, their product."""
    ratio = n.second_diameter_cm / n.first_diameter_cm
    first, second = (
        cos(radians(turn)) ** 2 / ratio + sin(radians(turn)) ** 2 * ratio
        for turn in (n.turn_deg, n.turn_deg + 90)
    )
    product = sqrt(first * second)
    return [tape_over_percent(ratio), *(100 * (one - 1) for one in (first, second, product))]


def spread_of_plot(n, readings):
    """Of a plot's basal area, with so many readings a stem."""
    return n.caliper_spread_percent / sqrt(n.stem_count * readings)


WRONG = {
    "impossible-reading": {
        "the largest": lambda n: place(five(n, "width")),
        "farthest from girth over π": lambda n: place(off(n)),
        "the thinnest stem": lambda n: place(five(n, "girth"), min),
        "the smallest": lambda n: place(five(n, "width"), min),
    },
    "read-again": {
        "the largest difference": lambda n: place(five(n, "difference")),
        "the thinnest stem": lambda n: place(five(n, "girth"), min),
        "the thickest stem": lambda n: place(five(n, "girth")),
        "the smallest difference": lambda n: place(five(n, "difference"), min),
        "over the mean girth": lambda n: place(
            one / mean(five(n, "girth")) for one in five(n, "difference")
        ),
        "multiplied by the girth": lambda n: place(
            one * girth for one, girth in zip(five(n, "difference"), five(n, "girth"), strict=True)
        ),
    },
    "least-error": {
        "the largest area": lambda n: place(errors(n)),
        "the farthest off": lambda n: place(abs(one) for one in errors(n)),
    },
    "greatest-second-reading": {
        "girth over π": lambda n: n.girth_cm / pi,
        "blackboard's root": lambda n: sqrt(2 * (n.girth_cm / pi) ** 2 - n.first_reading_cm**2),
        "circle's area kept": lambda n: (n.girth_cm / pi) ** 2 / n.first_reading_cm,
        "added under the root": lambda n: sqrt((n.girth_cm / 2) ** 2 + n.first_reading_cm**2),
    },
    "least-second-reading": {
        "girth over π": lambda n: n.girth_cm / pi,
        "blackboard's root": lambda n: sqrt(2 * (n.girth_cm / pi) ** 2 - n.first_reading_cm**2),
        "circle's area kept": lambda n: (n.girth_cm / pi) ** 2 / n.first_reading_cm,
        "first width once, then halved": lambda n: (n.girth_cm - n.first_reading_cm) / 2,
    },
    "stems-until-calipers": {
        "spreads over each other": lambda n: ceil(
            (n.caliper_spread_percent / n.tape_spread_percent) ** 2
        ),
        "to the nearest": lambda n: round(
            (n.caliper_spread_percent**2 - n.tape_spread_percent**2) / n.common_percent**2
        ),
        "spreads added": lambda n: ceil(
            (n.caliper_spread_percent**2 + n.tape_spread_percent**2) / n.common_percent**2
        ),
        "common and tape together": lambda n: ceil(
            (n.caliper_spread_percent / (n.common_percent + n.tape_spread_percent)) ** 2
        ),
        "from two on": lambda n: 2,
    },
    "an-hour-for-a-plot": {
        "way counted once": lambda n: spread_of_plot(
            n, int((n.plot_min - n.way_min) / n.stem_count / n.reading_min)
        ),
        "way at each reading": lambda n: spread_of_plot(
            n, n.plot_min / n.stem_count / (n.way_min + n.reading_min)
        ),
        "all readings, no root": lambda n: (
            n.caliper_spread_percent
            / (n.stem_count * int((n.plot_min / n.stem_count - n.way_min) / n.reading_min))
        ),
        "one stem, one reading": lambda n: n.caliper_spread_percent,
        "stems not under the root": lambda n: (
            n.caliper_spread_percent
            / n.stem_count
            / sqrt(int((n.plot_min / n.stem_count - n.way_min) / n.reading_min))
        ),
    },
}
