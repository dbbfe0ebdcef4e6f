"""Wrong methods for problems of bark, beside their slips."""

from math import pi, sqrt


def area(girth):
    """Of the circle with a girth."""
    return girth**2 / (4 * pi)


def circle(diameter):
    """The area of a circle."""
    return pi / 4 * diameter**2


WRONG = {
    "girth-under-bark": {
        "thickness once off the girth": lambda n: n.girth_cm - n.bark_cm,
        "4π times the bark": lambda n: n.girth_cm - 4 * pi * n.bark_cm,
        "six times the bark, π taken as 3": lambda n: n.girth_cm - 6 * n.bark_cm,
        "four times the bark": lambda n: n.girth_cm - 4 * n.bark_cm,
    },
    "share-of-bark": {
        "bark once": lambda n: 100 * (1 - (1 - n.bark_cm * pi / n.girth_cm) ** 2),
        "thickness over girth": lambda n: 100 * n.bark_cm / n.girth_cm,
        "first order": lambda n: 400 * pi * n.bark_cm / n.girth_cm,
        "ring of bark on the inner girth": lambda n: (
            100 * n.bark_cm * (n.girth_cm - 2 * pi * n.bark_cm) / area(n.girth_cm)
        ),
    },
    "wood-from-a-bark-factor": {
        "1 − k squared": lambda n: area(n.girth_cm) * (1 - n.bark_factor) ** 2,
        "2k − 1, first order": lambda n: area(n.girth_cm) * (2 * n.bark_factor - 1),
        "root of the factor": lambda n: area(n.girth_cm) * sqrt(n.bark_factor),
    },
    "bark-from-a-factor": {
        "on the girth, both sides": lambda n: n.girth_cm * (1 - n.bark_factor),
        "wrong base": lambda n: n.girth_cm / pi * (1 / n.bark_factor - 1) / 2,
        "mm as cm": lambda n: n.girth_cm / pi * (1 - n.bark_factor) / 20,
        "diameter under bark": lambda n: n.girth_cm / pi * n.bark_factor,
    },
    "two-gauge-readings": {
        "first reading twice": lambda n: circle(n.diameter_cm - 2 * n.first_bark_cm),
        "second reading twice": lambda n: circle(n.diameter_cm - 2 * n.second_bark_cm),
        "first reading once": lambda n: circle(n.diameter_cm - n.first_bark_cm),
        "difference of the barks": lambda n: circle(
            n.diameter_cm - n.first_bark_cm + n.second_bark_cm
        ),
        "geometric mean of the barks, twice": lambda n: circle(
            n.diameter_cm - 2 * sqrt(n.first_bark_cm * n.second_bark_cm)
        ),
        "root of the sum of squares": lambda n: circle(
            n.diameter_cm - sqrt(n.first_bark_cm**2 + n.second_bark_cm**2)
        ),
    },
    "girth-for-a-wanted-wood": {
        "2π": lambda n: 2 * pi * n.diameter_cm / n.bark_factor,
        "root of the factor": lambda n: pi * n.diameter_cm / sqrt(n.bark_factor),
        "π times the radius": lambda n: pi * n.diameter_cm / n.bark_factor / 2,
        "1 + twice the bark's share": lambda n: pi * n.diameter_cm * (3 - 2 * n.bark_factor),
    },
}
