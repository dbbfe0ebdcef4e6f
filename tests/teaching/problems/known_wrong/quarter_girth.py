"""Wrong methods for problems of the quarter-girth rule, beside their slips."""

from math import pi

FOOT = 0.3048


def rule(n):
    """By the rule, in m³."""
    return (n.mid_girth_cm / 400) ** 2 * n.log_length_m


def true(n):
    """In m³."""
    return n.mid_girth_cm**2 / (4e4 * pi) * n.log_length_m


def feet(n):
    """By the rule, in hoppus feet."""
    return (n.mid_girth_in / 48) ** 2 * n.log_length_ft


def under(n):
    """Girth under bark."""
    return n.mid_girth_cm - 2 * pi * n.bark_cm


def off(n):
    """What the rule over bark is off, in per cent."""
    return 100 * (pi / 4 * (n.mid_girth_cm / under(n)) ** 2 - 1)


WRONG = {
    "quarter-girth": {
        "π times the square": lambda n: pi * rule(n),
        "not squared": lambda n: n.mid_girth_cm / 400 * n.log_length_m,
        "quarter of the true volume": lambda n: true(n) / 4,
        "π/4 of the rule": lambda n: pi / 4 * rule(n),
    },
    "hoppus-feet": {
        "not squared": lambda n: n.mid_girth_in / 48 * n.log_length_ft,
        "in m³": lambda n: feet(n) * FOOT**3,
        "π/4 of the rule": lambda n: feet(n) * pi / 4,
        "fifth girth": lambda n: feet(n) * 16 / 25,
    },
    "true-from-hoppus": {
        "foot as a length, no factor": lambda n: n.hoppus_ft * FOOT,
        "foot squared": lambda n: n.hoppus_ft * FOOT**2 * 4 / pi,
        "foot of 0.3 m": lambda n: n.hoppus_ft * 0.3**3 * 4 / pi,
    },
    "wood-left-out": {
        "wrong sign": lambda n: rule(n) - true(n),
        "diameter for radius": lambda n: 4 * true(n) - rule(n),
        "no pi": lambda n: (n.mid_girth_cm / 200) ** 2 * n.log_length_m - rule(n),
        "pi taken as 3": lambda n: true(n) * pi / 3 - rule(n),
    },
    "rule-over-bark": {
        "the ratio": lambda n: 100 + off(n),
        "both under bark": lambda n: 100 * (pi / 4 - 1),
        "bark off twice": lambda n: (
            100 * (pi / 4 * (n.mid_girth_cm / (n.mid_girth_cm - 4 * pi * n.bark_cm)) ** 2 - 1)
        ),
        "first order": lambda n: 100 * (pi / 4 * (1 + 4 * pi * n.bark_cm / n.mid_girth_cm) - 1),
        "first order, added": lambda n: 100 * (pi / 4 - 1) + 400 * pi * n.bark_cm / n.mid_girth_cm,
    },
}
