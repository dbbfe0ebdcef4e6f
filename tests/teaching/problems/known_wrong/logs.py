"""Wrong methods for problems of logs and stems, beside their slips."""

from math import pi, sqrt


def m2(girth):
    """Area of the circle with a girth in cm, in m²."""
    return girth**2 / (4e4 * pi)


def disc(diameter):
    """Area of the circle with a diameter in cm, in m²."""
    return pi / 4e4 * diameter**2


def three(n):
    """The three girths of a log."""
    return n.butt_girth_cm, n.mid_girth_cm, n.top_girth_cm


def ends(n):
    """Diameters of both ends."""
    return n.butt_diameter_cm, n.top_diameter_cm


def over(n):
    """What Smalian's rule makes too much of a piece of a cone, in per cent."""
    butt, top = ends(n)
    return 100 * ((butt**2 + top**2) / 2 / ((butt**2 + butt * top + top**2) / 3) - 1)


def base(n):
    """What the paraboloid through breast height has on the ground, over breast height."""
    return n.tree_height_m / (n.tree_height_m - 1.3)


WRONG = {
    "huber": {
        "no pi": lambda n: (n.mid_girth_cm / pi / 100) ** 2 / 4 * n.log_length_m,
        "halved": lambda n: m2(n.mid_girth_cm) * n.log_length_m / 2,
        "surface": lambda n: n.mid_girth_cm / 100 * n.log_length_m,
        "pi taken as 3": lambda n: (n.mid_girth_cm / 100) ** 2 / 12 * n.log_length_m,
    },
    "smalian": {
        "no pi": lambda n: (ends(n)[0] ** 2 + ends(n)[1] ** 2) / 8e4 * n.log_length_m,
        "a piece of a cone": lambda n: (
            pi
            / 12e4
            * (ends(n)[0] ** 2 + ends(n)[0] * ends(n)[1] + ends(n)[1] ** 2)
            * n.log_length_m
        ),
        "geometric mean": lambda n: pi / 4e4 * ends(n)[0] * ends(n)[1] * n.log_length_m,
        "diameters as girths": lambda n: (m2(ends(n)[0]) + m2(ends(n)[1])) / 2 * n.log_length_m,
        "thin end only": lambda n: disc(ends(n)[1]) * n.log_length_m,
    },
    "newton": {
        "weights 1, 2, 1": lambda n: (
            (m2(three(n)[0]) + 2 * m2(three(n)[1]) + m2(three(n)[2])) / 4 * n.log_length_m
        ),
        "diameter for radius": lambda n: newton(n) * 4,
        "quarter girths": lambda n: newton(n) * pi / 4,
        "mean girth": lambda n: m2(sum(three(n)) / 3) * n.log_length_m,
        "divided by 3": lambda n: newton(n) * 2,
        "middle not four times, over 6": lambda n: sum(map(m2, three(n))) / 6 * n.log_length_m,
        "ends counted four times": lambda n: (
            (4 * m2(three(n)[0]) + m2(three(n)[1]) + 4 * m2(three(n)[2])) / 9 * n.log_length_m
        ),
        "mean of Huber and Smalian": lambda n: (
            (m2(three(n)[1]) + (m2(three(n)[0]) + m2(three(n)[2])) / 2) / 2 * n.log_length_m
        ),
    },
    "piece-of-a-cone": {
        "whole cone on the thick end": lambda n: m2(n.butt_girth_cm) * n.log_length_m / 3,
        "diameter for radius": lambda n: 4 * piece(n),
        "difference of the ends, a third": lambda n: (
            (m2(n.butt_girth_cm) - m2(n.top_girth_cm)) * n.log_length_m / 3
        ),
        "quarter girths": lambda n: piece(n) * pi / 4,
        "geometric mean": lambda n: n.butt_girth_cm * n.top_girth_cm / (4e4 * pi) * n.log_length_m,
        "paraboloid on the thick end": lambda n: m2(n.butt_girth_cm) * n.log_length_m / 2,
    },
    "paraboloid-stem": {
        "a cone through breast height": lambda n: (
            m2(n.girth_cm) * base(n) ** 2 * n.tree_height_m / 3
        ),
        "cylinder on breast height": lambda n: m2(n.girth_cm) * n.tree_height_m,
        "diameter for radius": lambda n: 2 * m2(n.girth_cm) * base(n) * n.tree_height_m,
        "cone on breast height": lambda n: m2(n.girth_cm) * n.tree_height_m / 3,
        "area as the square of the height": lambda n: (
            m2(n.girth_cm) * base(n) ** 2 * n.tree_height_m / 2
        ),
        "1.3 m put on the height": lambda n: m2(n.girth_cm) * (n.tree_height_m + 1.3) / 2,
        "form factor 0.55": lambda n: m2(n.girth_cm) * n.tree_height_m * 0.55,
        "diameter, not area, as the height": lambda n: (
            m2(n.girth_cm * base(n)) * n.tree_height_m / 2
        ),
    },
    "form-factor": {
        "divided by the factor": lambda n: m2(n.girth_cm) * n.tree_height_m / n.form_factor,
        "factor squared": lambda n: m2(n.girth_cm) * n.tree_height_m * n.form_factor**2,
        "no pi": lambda n: (n.girth_cm / pi / 100) ** 2 / 4 * n.tree_height_m * n.form_factor,
        "1 − f": lambda n: m2(n.girth_cm) * n.tree_height_m * (1 - n.form_factor),
        "paraboloid": lambda n: m2(n.girth_cm) * n.tree_height_m / 2,
    },
    "smalian-on-a-cone": {
        "the ratio": lambda n: 100 + over(n),
        "the product forgotten": lambda n: (
            100
            * (
                (ends(n)[0] ** 2 + ends(n)[1] ** 2) / 2 / ((ends(n)[0] ** 2 + ends(n)[1] ** 2) / 3)
                - 1
            )
        ),
        "the two forgotten": lambda n: 2 * over(n),
        "mean diameter for Smalian": lambda n: (
            100
            * (
                (ends(n)[0] + ends(n)[1]) ** 2
                / 4
                / ((ends(n)[0] ** 2 + ends(n)[0] * ends(n)[1] + ends(n)[1] ** 2) / 3)
                - 1
            )
        ),
        "against the mean diameter": lambda n: (
            100 * (2 * (ends(n)[0] ** 2 + ends(n)[1] ** 2) / (ends(n)[0] + ends(n)[1]) ** 2 - 1)
        ),
    },
}


def newton(n):
    """By Newton's rule, in m³."""
    butt, middle, top = map(m2, three(n))
    return (butt + 4 * middle + top) / 6 * n.log_length_m


def piece(n):
    """A piece of a cone, in m³."""
    mean = m2(n.butt_girth_cm) + m2(n.top_girth_cm) + sqrt(m2(n.butt_girth_cm) * m2(n.top_girth_cm))
    return mean / 3 * n.log_length_m
