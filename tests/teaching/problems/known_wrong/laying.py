"""Wrong methods for problems of how a tape lies, beside their slips."""

from math import acos, cos, pi, radians, sin, sqrt, tan


def area(girth):
    """Of the circle with a girth."""
    return girth**2 / (4 * pi)


WRONG = {
    "tilted-tape": {
        "divided by the cosine": lambda n: n.reading_cm / cos(radians(n.tilt_deg)),
        "sine": lambda n: n.reading_cm * sin(radians(n.tilt_deg)),
        "half of tan²": lambda n: n.reading_cm / (1 + tan(radians(n.tilt_deg)) ** 2 / 2),
        "angle in radians": lambda n: n.reading_cm / ((1 + 1 / cos(n.tilt_deg)) / 2),
        "root of the cosine": lambda n: n.reading_cm * sqrt(cos(radians(n.tilt_deg))),
        "half of 1 + cosine": lambda n: n.reading_cm * (1 + cos(radians(n.tilt_deg))) / 2,
        "a quarter of tan²": lambda n: n.reading_cm / (1 + tan(radians(n.tilt_deg)) ** 2 / 4),
    },
    "ends-that-miss": {
        "root not taken back": lambda n: n.girth_cm * (sqrt(1 + n.allowed_percent / 100) - 1),
        "doubled on the girth": lambda n: (
            n.girth_cm * sqrt((1 + 2 * n.allowed_percent / 100) ** 2 - 1)
        ),
        "girth as diameter": lambda n: n.girth_cm * pi * sqrt(n.allowed_percent / 100),
        "root of 2p": lambda n: n.girth_cm * sqrt(2 * n.allowed_percent / 100),
        "first order of the girth": lambda n: n.girth_cm * n.allowed_percent / 200,
    },
    "climber-under-the-tape": {
        "twice the thickness": lambda n: 2 * n.climber_cm,
        "2π times the thickness": lambda n: 2 * pi * n.climber_cm,
        "the thickness": lambda n: n.climber_cm,
        "a sharp edge": lambda n: sharp_edge(n.diameter_cm / 2, n.climber_cm),
        "half the climber's girth": lambda n: pi * n.climber_cm / 2,
        "half its girth less its thickness": lambda n: n.climber_cm * (pi / 2 - 1),
        "π times the radius of it": lambda n: pi * n.climber_cm / 4,
    },
    "taped-too-high": {
        "fall divided by the height": lambda n: area(
            n.reading_cm + n.girth_taper_cm_per_m / n.height_off_m
        ),
        "the girth alone": lambda n: n.reading_cm + n.girth_taper_cm_per_m * n.height_off_m,
        "taper as per cent of the girth": lambda n: area(
            n.reading_cm * (1 + n.girth_taper_cm_per_m * n.height_off_m / 100)
        ),
        "fall added to the area": lambda n: (
            area(n.reading_cm) + n.girth_taper_cm_per_m * n.height_off_m
        ),
        "first order": lambda n: (
            area(n.reading_cm) + n.reading_cm * n.girth_taper_cm_per_m * n.height_off_m / (2 * pi)
        ),
    },
    "slack-tape": {
        "linear, of the taut, twice": lambda n: 200 * n.slack_cm / (n.reading_cm - n.slack_cm),
        "linear, of the loose, twice": lambda n: 200 * n.slack_cm / n.reading_cm,
        "slack put on": lambda n: 100 * (((n.reading_cm + n.slack_cm) / n.reading_cm) ** 2 - 1),
        "linear, of the loose": lambda n: 100 * n.slack_cm / n.reading_cm,
        "share squared": lambda n: 100 * (n.slack_cm / (n.reading_cm - n.slack_cm)) ** 2,
        "half the slack": lambda n: (
            100 * ((n.reading_cm / (n.reading_cm - n.slack_cm / 2)) ** 2 - 1)
        ),
    },
}


def sharp_edge(radius, height):
    """What a peg of no width adds: two tangents from its tip."""
    return 2 * (
        sqrt((radius + height) ** 2 - radius**2) - radius * acos(radius / (radius + height))
    )


#: Right to the fineness of the data on every draw, so they are not wrong; their reason.
APPROXIMATIONS = {
    "tilted-tape": {
        "root of the cosine": "off by 0.2 % of the girth at 25°, where the data leave 0.5 %",
        "half of 1 + cosine": "off by 0.3 % of the girth at 25°, where the data leave 0.5 %",
        "a quarter of tan²": "the rule of thumb that the page teaches; off by 0.2 % at 25°",
    },
    "taped-too-high": {
        "first order": "the taper adds 8 % of the girth at most, so its square 0.55 % of the area, "
        "where the data leave 0.7 %",
    },
}
