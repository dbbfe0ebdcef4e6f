"""Wrong methods for problems of calipers, beside their slips."""

from math import cos, pi, radians, sin, sqrt, tan


def circle(diameter):
    """The area of a circle."""
    return pi / 4 * diameter**2


def lost(n, reading):
    """What a reading makes too little of the area."""
    return circle(n.diameter_cm) - circle(reading)


def lean(n):
    """The jaw's lean."""
    return radians(n.jaw_lean_deg)


def pair(n):
    """Mean and zero."""
    return (n.first_reading_cm + n.second_reading_cm) / 2, n.zero_error_cm


WRONG = {
    "zero-below-nothing": {
        "zero counted twice": lambda n: circle(pair(n)[0] - 2 * n.zero_error_cm),
        "first reading only": lambda n: circle(n.first_reading_cm - n.zero_error_cm),
        "second reading only": lambda n: circle(n.second_reading_cm - n.zero_error_cm),
        "geometric mean": lambda n: (
            pi
            / 4
            * (n.first_reading_cm - n.zero_error_cm)
            * (n.second_reading_cm - n.zero_error_cm)
        ),
        "mean of two circles": lambda n: (
            (
                circle(n.first_reading_cm - n.zero_error_cm)
                + circle(n.second_reading_cm - n.zero_error_cm)
            )
            / 2
        ),
        "zero read as mm": lambda n: circle(pair(n)[0] - n.zero_error_cm / 10),
        "half the zero": lambda n: circle(pair(n)[0] - n.zero_error_cm / 2),
    },
    "zero-from-a-post": {
        "radius of the post": lambda n: n.reading_cm - n.girth_cm / (2 * pi),
        "pi taken as 3": lambda n: n.reading_cm - n.girth_cm / 3,
        "per cent": lambda n: 100 * (n.reading_cm * pi / n.girth_cm - 1),
    },
    "leaning-jaw-area": {
        "r·tan": lambda n: lost(n, n.diameter_cm * (1 - tan(lean(n)) / 2)),
        "r·sin": lambda n: lost(n, n.diameter_cm * (1 - sin(lean(n)) / 2)),
        "first order": lambda n: (
            pi / 2 * n.diameter_cm * (n.diameter_cm / 2 * (1 - (1 - sin(lean(n))) / cos(lean(n))))
        ),
        "cosine only": lambda n: lost(n, n.diameter_cm * cos(lean(n))),
        "wrong sign": lambda n: (
            -lost(n, n.diameter_cm / 2 * (1 + (1 - sin(lean(n))) / cos(lean(n))))
        ),
        "degrees as per cent": lambda n: lost(n, n.diameter_cm * (1 - n.jaw_lean_deg / 200)),
    },
    "batten-at-the-tips": {
        "cosine": lambda n: n.reading_cm + n.contact_cm * cos(lean(n)),
        "angle in radians": lambda n: n.reading_cm + n.contact_cm * tan(n.jaw_lean_deg),
        "half the height": lambda n: n.reading_cm + n.contact_cm / 2 * tan(lean(n)),
        "height over the tangent": lambda n: n.reading_cm + n.contact_cm / tan(lean(n)),
        "both jaws": lambda n: n.reading_cm + 2 * n.contact_cm * tan(lean(n)),
        "reading over the cosine": lambda n: n.reading_cm / cos(lean(n)),
    },
    "axes-from-a-turned-pair": {
        "divided by the cosine": lambda n: n.first_reading_cm / cos(radians(n.turn_deg)),
        "root of the sum of squares": lambda n: sqrt(
            n.first_reading_cm**2 + n.second_reading_cm**2
        ),
        "half the axis": lambda n: longer(n) / 2,
        "widths not squared": lambda n: (
            (
                n.first_reading_cm * cos(radians(n.turn_deg)) ** 2
                - n.second_reading_cm * sin(radians(n.turn_deg)) ** 2
            )
            / cos(radians(2 * n.turn_deg))
        ),
        "in proportion to the angle": lambda n: (
            n.first_reading_cm + (n.first_reading_cm - n.second_reading_cm) * n.turn_deg / 90
        ),
        "in proportion to the angle, solved": lambda n: (
            n.first_reading_cm
            + (n.first_reading_cm - n.second_reading_cm) * n.turn_deg / (90 - 2 * n.turn_deg)
        ),
    },
}


def longer(n):
    """The longer axis."""
    cosine, sine = cos(radians(n.turn_deg)) ** 2, sin(radians(n.turn_deg)) ** 2
    first, second = n.first_reading_cm**2, n.second_reading_cm**2
    return sqrt((first * cosine - second * sine) / (cosine - sine))
