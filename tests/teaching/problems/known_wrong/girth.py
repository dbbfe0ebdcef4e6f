"""Wrong methods for problems of girth, diameter, area and growth of area, beside their slips."""

from math import pi, sqrt

from mensura.teaching.problems.families.girth import _is_diameter


def area(girth):
    """Of the circle with a girth."""
    return girth**2 / (4 * pi)


WRONG = {
    "girth-to-diameter": {
        "halved, no pi": lambda n: n.girth_cm / 2,
        "the area instead": lambda n: area(n.girth_cm),
        "pi taken as 3": lambda n: n.girth_cm / 3,
        "root of the area": lambda n: sqrt(area(n.girth_cm)),
    },
    "girth-to-area": {
        "pi in the diameter only": lambda n: (n.girth_cm / pi) ** 2 / 4,
        "radius not squared": lambda n: n.girth_cm / 2,
        "the girth again": lambda n: n.girth_cm,
        "pi taken as 3": lambda n: n.girth_cm**2 / 12,
    },
    "inches-to-diameter": {
        "2.5 cm an inch": lambda n: n.girth_in * 2.5 / pi,
        "2.45 cm an inch": lambda n: n.girth_in * 2.45 / pi,
        "pi taken as 3": lambda n: n.girth_in * 2.54 / 3,
    },
    "diameter-to-basal-area": {
        "not squared": lambda n: pi / 4 * n.diameter_cm / 100,
        "square only": lambda n: n.diameter_cm**2 / 1e4,
        "divided by 1000": lambda n: pi / 4 * n.diameter_cm**2 / 1000,
        "pi taken as 3": lambda n: 3 / 4 * n.diameter_cm**2 / 1e4,
    },
    "area-to-girth": {
        "no root": lambda n: 4 * n.area_cm2,
        "pi under the root forgotten": lambda n: pi * sqrt(4 * n.area_cm2),
        "the radius": lambda n: sqrt(n.area_cm2 / pi),
        "half under the root": lambda n: sqrt(2 * pi * n.area_cm2),
        "pi taken as 3": lambda n: sqrt(12 * n.area_cm2),
    },
    "growth-of-area": {
        "first order": lambda n: 2 * n.girth_cm * n.growth_cm / (4 * pi),
        "second girth less": lambda n: area(n.girth_cm) - area(n.girth_cm - n.growth_cm),
        "girth times its growth": lambda n: n.girth_cm * n.growth_cm,
        "mean of both orders": lambda n: (2 * n.girth_cm * n.growth_cm + n.growth_cm) / (4 * pi),
    },
    "girth-or-diameter": {
        "height over 45": lambda n: n.tree_height_m * 100 / 45,
        "height over 120": lambda n: n.tree_height_m * 100 / 120,
        "height over the mean of both": lambda n: n.tree_height_m * 100 / 82.5,
        "mean of both readings of it": lambda n: (n.reading_cm + n.reading_cm / pi) / 2,
        "always a diameter": lambda n: n.reading_cm if not _is_diameter(n) else None,
        "always a girth": lambda n: n.reading_cm / pi if _is_diameter(n) else None,
    },
}
