"""Wrong methods for problems of stems that are not circular, beside their slips."""

from math import cos, hypot, pi, radians, sin, sqrt

from mensura.estimates.out_of_round import tape_over_percent, two_readings_over_percent


def axes(n):
    """Both diameters."""
    return n.first_diameter_cm, n.second_diameter_cm


def ratio(n):
    """The shorter diameter over the longer."""
    return n.second_diameter_cm / n.first_diameter_cm


def width(n, further_deg=0.0):
    """Between two parallel lines that touch the ellipse."""
    turn = radians(n.turn_deg + further_deg)
    return hypot(n.first_diameter_cm * cos(turn), n.second_diameter_cm * sin(turn))


def other_base(percent):
    """The same difference as a share of the larger one."""
    return 100 * percent / (100 + percent)


def pair(n):
    """What the arithmetic mean of the turned pair claims too much."""
    return two_readings_over_percent(ratio(n), n.turn_deg)


def in_proportion(n):
    """The turned pair as if a reading changed in proportion to the angle."""
    first, second = axes(n)
    shift = (first - second) * n.turn_deg / 90
    return first - shift, second + shift


def chord(n, further_deg=0.0):
    """Through the middle, from bark to bark."""
    turn = radians(n.turn_deg + further_deg)
    return 1 / hypot(cos(turn) / n.first_diameter_cm, sin(turn) / n.second_diameter_cm)


WRONG = {
    "oval-area": {
        "no pi": lambda n: n.first_diameter_cm * n.second_diameter_cm / 4,
        "harmonic mean squared": lambda n: pi / 4 * (2 / (1 / axes(n)[0] + 1 / axes(n)[1])) ** 2,
        "shorter only": lambda n: pi / 4 * n.second_diameter_cm**2,
        "one diameter halved": lambda n: pi / 2 * n.first_diameter_cm * n.second_diameter_cm,
    },
    "tape-on-an-oval": {
        "wrong base": lambda n: other_base(tape_over_percent(ratio(n))),
        "the ratio": lambda n: 100 + tape_over_percent(ratio(n)),
        "how oval": lambda n: 100 * (1 - ratio(n)),
        "three eighths of the squares over the product": lambda n: (
            37.5 * (axes(n)[0] - axes(n)[1]) ** 2 / (axes(n)[0] * axes(n)[1])
        ),
        "h alone": lambda n: 100 * ((1 - ratio(n)) / (1 + ratio(n))) ** 2,
        "the girth's factor not squared": lambda n: (
            100
            * (
                sum(axes(n)) ** 2
                / (4 * axes(n)[0] * axes(n)[1])
                * (1 + ((1 - ratio(n)) / (1 + ratio(n))) ** 2 / 4)
                - 1
            )
        ),
    },
    "mean-of-the-axes": {
        "wrong base": lambda n: other_base(two_readings_over_percent(ratio(n), 0.0)),
        "the ratio": lambda n: 100 + two_readings_over_percent(ratio(n), 0.0),
        "half of the diameters' ratio less 1": lambda n: 50 * (1 / ratio(n) - 1),
        "over the square of the mean": lambda n: (
            100 * ((axes(n)[0] - axes(n)[1]) / sum(axes(n))) ** 2
        ),
        "over the longer squared": lambda n: 25 * (1 - ratio(n)) ** 2,
        "over the shorter squared": lambda n: 25 * (1 / ratio(n) - 1) ** 2,
    },
    "turned-reading": {
        "squares once": lambda n: (
            n.first_diameter_cm * cos(radians(n.turn_deg)) ** 2
            + n.second_diameter_cm * sin(radians(n.turn_deg)) ** 2
        ),
        "in proportion to the angle": lambda n: in_proportion(n)[0],
        "angle in radians": lambda n: hypot(
            n.first_diameter_cm * cos(n.turn_deg), n.second_diameter_cm * sin(n.turn_deg)
        ),
        "cosine only": lambda n: n.first_diameter_cm * cos(radians(n.turn_deg)),
        "mean of the diameters": lambda n: sum(axes(n)) / 2,
        "root of the product": lambda n: sqrt(axes(n)[0] * axes(n)[1]),
    },
    "turned-pair": {
        "wrong base": lambda n: other_base(pair(n)),
        "through the middle": lambda n: (
            100 * (((chord(n) + chord(n, 90)) / 2) ** 2 / (axes(n)[0] * axes(n)[1]) - 1)
        ),
        "against the pair's product": lambda n: (
            100 * (((width(n) + width(n, 90)) / 2) ** 2 / (width(n) * width(n, 90)) - 1)
        ),
        "in proportion to the angle, one reading": lambda n: (
            100 * (in_proportion(n)[0] ** 2 / (axes(n)[0] * axes(n)[1]) - 1)
        ),
        "in proportion to the angle, their product": lambda n: (
            100 * (in_proportion(n)[0] * in_proportion(n)[1] / (axes(n)[0] * axes(n)[1]) - 1)
        ),
        "tape": lambda n: tape_over_percent(ratio(n)),
    },
    "squared-beam": {
        "wrong sign": lambda n: n.side_cm**2 * (1 - 4 / pi),
        "diameter for radius": lambda n: n.side_cm**2 * (16 / pi - 1),
        "quarter girth": lambda n: (4 * n.side_cm) ** 2 * (1 / (4 * pi) - 1),
        "27 per cent of the round area": lambda n: (4 / pi - 1) * (4 * n.side_cm) ** 2 / (4 * pi),
        "pi taken as 3": lambda n: n.side_cm**2 / 3,
    },
    "same-in-every-direction": {
        "triangle and three sectors": lambda n: (pi / 2 + sqrt(3) / 4) * n.width_cm**2,
        "three triangles off": lambda n: (pi / 2 - 3 * sqrt(3) / 4) * n.width_cm**2,
        "width as the circle's radius": lambda n: pi * n.width_cm**2,
        "half the width": lambda n: (pi - sqrt(3)) / 8 * n.width_cm**2,
        "one sector": lambda n: pi / 6 * n.width_cm**2,
    },
}


#: Right to the fineness of the data on every draw, so it is not wrong; its reason.
APPROXIMATIONS = {
    "tape-on-an-oval": {
        "three eighths of the squares over the product": "the leading term, off by 0.3 % of the "
        "answer where the data leave 0.9 % and more",
    },
}
