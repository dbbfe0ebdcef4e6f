"""Wrong methods for problems of where to measure, beside their slips."""

from math import acos, asin, atan, cos, degrees, hypot, pi, radians, sin, sqrt, tan


def tangent(angle_deg):
    return tan(radians(angle_deg))


def legs(n):
    """Sum of the legs' squares."""
    return n.girth_1_cm**2 + n.girth_2_cm**2


def stools(n):
    """The four girths."""
    return [getattr(n, f"girth_{k}_cm") for k in range(1, 5)]


def band(n):
    """Round both legs."""
    return pi * n.leg_diameter_cm + 2 * (n.leg_diameter_cm + n.leg_gap_cm)


def below(n, line):
    """How many of the five forks are below a height above the ground downhill."""
    return sum(getattr(n, f"fork_{k}_m") < line for k in range(1, 6))


def across(n):
    """How much the ground falls across a stem, m."""
    return n.diameter_cm / 100 * tangent(n.slope_deg)


WRONG = {
    "forks-on-a-slope": {
        "lower for higher": lambda n: 5 + below(n, 1.3 - across(n)),
        "one for two": lambda n: 5 - below(n, 1.3 + across(n)),
        "those above": lambda n: 10 - below(n, 1.3 + across(n)),
        "two forks for each": lambda n: 5 + 2 * below(n, 1.3 + across(n)),
    },
    "downhill-for-uphill": {
        "over the radius": lambda n: n.taper_cm_per_m * tangent(n.slope_deg) / 2,
        "along the slope": lambda n: 2 * n.taper_cm_per_m / cos(radians(n.slope_deg)),
        "taper on both sides": lambda n: 4 * n.taper_cm_per_m * tangent(n.slope_deg),
        "height in cm": lambda n: 200 * n.taper_cm_per_m * tangent(n.slope_deg),
        "taper is per cent": lambda n: (
            2 * n.taper_cm_per_m * n.diameter_cm * tangent(n.slope_deg) / 100
        ),
        "thickness in cm": lambda n: n.taper_cm_per_m * n.diameter_cm * tangent(n.slope_deg) / 100,
        "fall of the ground in cm": lambda n: n.diameter_cm * tangent(n.slope_deg),
        "over the girth": lambda n: 2 * pi * n.taper_cm_per_m * tangent(n.slope_deg),
    },
    "plumb-on-a-lean": {
        "half of tan²": lambda n: 50 * n.rule_height_m * tangent(n.lean_deg) ** 2,
        "tan²": lambda n: 100 * n.rule_height_m * tangent(n.lean_deg) ** 2,
        "cosine": lambda n: 100 * n.rule_height_m * cos(radians(n.lean_deg)),
        "in radians": lambda n: 100 * n.rule_height_m * abs(1 / cos(n.lean_deg) - 1),
        "sine for cosine": lambda n: 100 * n.rule_height_m * (1 / sin(radians(n.lean_deg)) - 1),
        "half the lean": lambda n: 100 * n.rule_height_m * (1 / cos(radians(n.lean_deg / 2)) - 1),
        "always 1.30 m": lambda n: (
            130 * (1 / cos(radians(n.lean_deg)) - 1) if abs(n.rule_height_m - 1.3) > 0.015 else None
        ),
    },
    "leaning-on-a-slope": {
        "sine": lambda n: n.diameter_cm * sin(radians(n.slope_deg - n.lean_deg)),
        "over the cosine": lambda n: n.diameter_cm / cos(radians(n.slope_deg - n.lean_deg)),
        "level, not along": lambda n: n.diameter_cm * (
            sin(radians(n.slope_deg - n.lean_deg)) / cos(radians(n.slope_deg))
        ),
        "degrees as per cent": lambda n: n.diameter_cm * (n.slope_deg - n.lean_deg) / 100,
        "tangents multiplied": lambda n: n.diameter_cm * tangent(n.slope_deg) * tangent(n.lean_deg),
        "over the girth": lambda n: pi * n.diameter_cm * tangent(n.slope_deg - n.lean_deg),
        "lean's cosine": lambda n: n.diameter_cm * tangent(n.slope_deg) * cos(radians(n.lean_deg)),
    },
    "how-far-may-it-lean": {
        "sine": lambda n: degrees(asin(n.allowed_cm / n.girth_cm)),
        "tangent": lambda n: degrees(atan(n.allowed_cm / n.girth_cm)),
        "half the mean": lambda n: degrees(acos(1 / (1 + n.allowed_cm / (2 * n.girth_cm)))),
        "root alone": lambda n: degrees(sqrt(n.allowed_cm / n.girth_cm)),
        "over the whole way": lambda n: degrees(atan(sqrt(2 * n.allowed_cm / n.girth_cm))),
        "per cent": lambda n: 100 * n.allowed_cm / n.girth_cm,
        "of the area": lambda n: degrees(atan(sqrt(8 * n.allowed_cm / n.girth_cm))),
        "mean of 1 and 1/cos": lambda n: degrees(acos(1 / (1 + 2 * n.allowed_cm / n.girth_cm))),
        "tan² over four": lambda n: degrees(atan(2 * sqrt(n.allowed_cm / n.girth_cm))),
        "of the diameter, other way": lambda n: degrees(
            atan(2 * sqrt(n.allowed_cm / (pi * n.girth_cm)))
        ),
    },
    "level-calipers-on-a-lean": {
        "difference of both": lambda n: 100 * (n.first_reading_cm / n.second_reading_cm - 1) / 4,
        "of the longer": lambda n: 100 * (1 - n.second_reading_cm / n.first_reading_cm),
        "quadratic mean": lambda n: 50 * ((n.first_reading_cm / n.second_reading_cm) ** 2 - 1),
        "mean against the longer": lambda n: 100 * (
            ((n.first_reading_cm + n.second_reading_cm) / 2 / n.first_reading_cm) ** 2 - 1
        ),
        "the centimetres": lambda n: n.first_reading_cm - n.second_reading_cm,
        "the sum": lambda n: 100 * (
            ((n.first_reading_cm + n.second_reading_cm) / n.second_reading_cm) ** 2 - 1
        ),
    },
    "another-breast-height": {
        "doubled": lambda n: 200 * (n.laid_at_m - 1.3) / (n.tree_height_m - 1.3),
        "doubled, whole height": lambda n: 200 * (n.laid_at_m - 1.3) / n.tree_height_m,
        "from the tape to the tip": lambda n: 100 * (
            1 - ((n.tree_height_m - n.laid_at_m) / n.tree_height_m) ** 2
        ),
        "the heights": lambda n: 100 * (n.laid_at_m / 1.3 - 1),
        "cubed": lambda n: 100 * (
            1 - ((n.tree_height_m - n.laid_at_m) / (n.tree_height_m - 1.3)) ** 3
        ),
        "1.37 always": lambda n: (
            100 * (1 - ((n.tree_height_m - 1.37) / (n.tree_height_m - 1.3)) ** 2)
            if abs(n.laid_at_m - 1.37) > 0.005
            else None
        ),
    },
    "swelling-at-breast-height": {
        "mean of the areas": lambda n: 100 * (
            2 * n.on_girth_cm**2 / (n.above_girth_cm**2 + n.below_girth_cm**2) - 1
        ),
        "the centimetres": lambda n: n.on_girth_cm - (n.above_girth_cm + n.below_girth_cm) / 2,
        "over π": lambda n: 100 / pi * (
            2 * n.on_girth_cm / (n.above_girth_cm + n.below_girth_cm) - 1
        ),
        "the sum": lambda n: 100 * (
            1 - (n.on_girth_cm / (n.above_girth_cm + n.below_girth_cm)) ** 2
        ),
        "quotient of the neighbours": lambda n: 100 * (
            (n.below_girth_cm / n.above_girth_cm) ** 2 - 1
        ) if (n.below_girth_cm / n.above_girth_cm) ** 2 < 1.1 else None,
        "square of the difference": lambda n: (
            n.on_girth_cm - (n.above_girth_cm + n.below_girth_cm) / 2
        ) ** 2 / 10,
    },
    "above-the-buttresses": {
        "twice the share": lambda n: 2 * n.fall_percent * (n.buttress_top_m - 0.8),
        "the share alone": lambda n: 2 * n.fall_percent,
        "what is left": lambda n: 100 * (1 - n.fall_percent / 100) ** (
            2 * (n.buttress_top_m - 0.8)
        ) if abs((1 - n.fall_percent / 100) ** (2 * (n.buttress_top_m - 0.8)) - 0.5) > 0.02
        else None,
        "from the ground without the half": lambda n: 100 * (
            1 - (1 - n.fall_percent / 100) ** (2 * n.buttress_top_m)
        ),
        "growing per cent": lambda n: 100 * (
            (1 + n.fall_percent / 100) ** (2 * (n.buttress_top_m - 0.8)) - 1
        ),
        "half a metre taken off": lambda n: 100 * (
            1 - (1 - n.fall_percent / 100) ** (2 * (n.buttress_top_m - 1.8))
        ),
        "cubed": lambda n: 100 * (
            1 - (1 - n.fall_percent / 100) ** (3 * (n.buttress_top_m - 0.8))
        ),
    },
    "two-legs-as-one": {
        "gap once": lambda n: 100 * (
            ((pi + 2) * n.leg_diameter_cm + n.leg_gap_cm) ** 2 / (
                2 * pi**2 * n.leg_diameter_cm**2
            ) - 1
        ) if n.leg_gap_cm / n.leg_diameter_cm > 0.05 else None,
        "gaps alone": lambda n: 100 * (
            (pi * n.leg_diameter_cm + 2 * n.leg_gap_cm) ** 2 / (2 * pi**2 * n.leg_diameter_cm**2)
            - 1
        ),
        "both girths and the gaps": lambda n: 100 * (
            (2 * pi * n.leg_diameter_cm + 2 * n.leg_gap_cm) ** 2
            / (2 * pi**2 * n.leg_diameter_cm**2) - 1
        ),
        "width over both": lambda n: 100 * (
            (2 * n.leg_diameter_cm + n.leg_gap_cm) ** 2 / (2 * n.leg_diameter_cm**2) - 1
        ),
        "area inside the tape": lambda n: 100 * (
            n.leg_diameter_cm * (n.leg_diameter_cm + n.leg_gap_cm)
            + pi / 4 * n.leg_diameter_cm**2
        ) / (pi / 2 * n.leg_diameter_cm**2) - 100,
        "of the reading": lambda n: 100 * (
            1 - 2 * pi**2 * n.leg_diameter_cm**2 / band(n) ** 2
        ),
    },
    "below-the-fork": {
        "mean girth of the legs": lambda n: 100 * (
            (2 * n.below_fork_cm / (n.girth_1_cm + n.girth_2_cm)) ** 2 - 1
        ),
        "hypotenuse": lambda n: n.below_fork_cm - hypot(n.girth_1_cm, n.girth_2_cm)
        if n.below_fork_cm > 1.06 * sqrt(legs(n)) else None,
        "the other leg": lambda n: 100 * ((n.below_fork_cm / n.girth_2_cm) ** 2 - 1),
        "quotient": lambda n: 100 * n.below_fork_cm**2 / legs(n),
        "over π": lambda n: 100 / pi * (n.below_fork_cm**2 / legs(n) - 1),
        "a half": lambda n: 50 * (n.below_fork_cm**2 / legs(n) - 1),
    },
    "several-stems-as-one": {
        "the largest": lambda n: n.girth_1_cm,
        "largest and smallest": lambda n: hypot(n.girth_1_cm, n.girth_4_cm),
        "half the sum": lambda n: sum(stools(n)) / 2
        if abs(sum(stools(n)) / 2 / hypot(*stools(n)) - 1) > 0.02 else None,
        "no root": lambda n: sum(one**2 for one in stools(n)),
        "the area": lambda n: sum(one**2 for one in stools(n)) / (4 * pi),
        "roots added": lambda n: sum(sqrt(one) for one in stools(n)) ** 2,
        "largest three": lambda n: hypot(n.girth_1_cm, n.girth_2_cm, n.girth_3_cm),
    },
}  # fmt: skip

APPROXIMATIONS = {
    "how-far-may-it-lean": {
        "mean of 1 and 1/cos": "the ellipse's girth is π times its axes' mean, to some hundredths",
        "tan² over four": "the rule of thumb for a tilted tape, good at so small a lean",
    },
    "another-breast-height": {
        "doubled": "the square of the diameter's share is under half a per cent of the answer",
    },
    "swelling-at-breast-height": {
        "mean of the areas": "above and below differ by so little that both means make one area",
    },
}
