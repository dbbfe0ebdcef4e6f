"""From a plot to a hectare. Plots and stems are invented (Quillmere Practice Wood).

What stands on a small circle is added up and multiplied by how often the circle goes into a
hectare. What goes wrong is the circle's area, and a mean taken before the square.
"""

from __future__ import annotations

from math import cos, pi, radians, sqrt, tan
from statistics import median
from typing import Any

from mensura.estimates.areas import diameter_from_girth_cm
from mensura.estimates.plots import (
    HECTARE_M2,
    basal_area_from_girths_m2_per_ha,
    circular_plot_area_m2,
    circular_plot_radius_m,
    quadratic_mean_diameter_cm,
    slope_plot_radius_m,
    stems_per_ha,
)
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of, renew


def _girths(q: Any, count: int) -> list[float]:
    return [float(getattr(q, f"girth_{k}_cm")) for k in range(1, count + 1)]


def _sum_m2(q: Any) -> float:
    """Basal area of the five stems together."""
    return sum(girth**2 for girth in _girths(q, 5)) / (4e4 * pi)


def _area_m2(q: Any) -> float:
    return float(circular_plot_area_m2(q.plot_radius_m))


def _times(q: Any) -> float:
    """How often the plot goes into a hectare."""
    return HECTARE_M2 / _area_m2(q)


def _diameters(q: Any) -> list[float]:
    return [float(diameter_from_girth_cm(girth)) for girth in _girths(q, 6)]


def _mid_range(numbers: list[float]) -> float:
    return (min(numbers) + max(numbers)) / 2


def _cosine(q: Any) -> float:
    return cos(radians(q.slope_deg))


def _longer_cm(q: Any) -> float:
    """By how much the radius along the ground is longer than the level one."""
    return float(100 * (slope_plot_radius_m(q.plot_radius_m, q.slope_deg) - q.plot_radius_m))


FAMILIES = [
    Family(
        key="basal-area-per-hectare",
        topic="plots",
        title="Basal area per hectare from the girths of a plot",
        text="A circular plot of compartment 7 has a radius of {plot_radius_m} m, measured level. "
        "Five stems stand on it, with girths at breast height, over bark, of {girth_1_cm}, "
        "{girth_2_cm}, {girth_3_cm}, {girth_4_cm} and {girth_5_cm} cm. Taken for round, what is "
        "the basal area per hectare? Answer in m²/ha.",
        given=[
            *(Quantity(f"girth_{k}_cm", 50.0, 150.0, 0.5) for k in range(1, 6)),
            Quantity("plot_radius_m", 5.0, 9.0, 0.05),
        ],
        unit="m²/ha",
        answer=lambda q: basal_area_from_girths_m2_per_ha(_girths(q, 5), _area_m2(q)),
        # not where one girth in the middle would do for all five
        fits_since={2: clear_of(
            lambda q: sum(girth**2 for girth in _girths(q, 5)), 2.5,
            lambda q: 5 * median(_girths(q, 5)) ** 2,
            lambda q: 5 * _mid_range(_girths(q, 5)) ** 2)},
        steps={"sum_m2": _sum_m2, "plot_m2": _area_m2, "times": _times},
        hints=[
            "First what stands on the plot, all five together; then how often the plot goes into a "
            "hectare.",
            "Add the five areas G²/4π, in m². The plot has πr², a hectare 10 000 m².",
            "Add the squares of the five girths, divide by 12.566 and by 10 000. Multiply by "
            "10 000/(3.1416·{plot_radius_m}²).",
        ],
        solution="The five squares, added and divided by 12.566 and by 10 000, make {sum_m2} m². "
        "The plot has 3.1416·{plot_radius_m}² = {plot_m2} m² and goes {times} times into a "
        "hectare. {sum_m2}·{times} = {answer} m²/ha.",
        slips=[
            Slip("squared-too-late",
                 lambda q: sum(_girths(q, 5)) ** 2 / 5 / (4e4 * pi) * _times(q),
                 "You squared the mean girth. Large stems count for more: square each girth first, "
                 "then add."),
            Slip("girth-as-diameter", lambda q: pi**2 * _sum_m2(q) * _times(q),
                 "The girths were taken for diameters. Each area is G²/4π."),
            Slip("diameter-for-radius", lambda q: 4 * _sum_m2(q) * _times(q),
                 "A diameter was taken for a radius, on the stems or on the plot: that makes it "
                 "four times too large."),
            Slip("mean-for-sum", lambda q: _sum_m2(q) / 5 * _times(q),
                 "That is the mean of the five. All five stand on the plot: add them."),
            Slip("plot-only", _sum_m2,
                 "That is the basal area on the plot itself. Multiply by how often the plot goes "
                 "into a hectare."),
        ],
        picture="plot",
        source="[CFMP1999]",
    ),
    Family(
        key="stems-per-hectare",
        topic="plots",
        title="Stems per hectare from a plot",
        text="On a circular plot of compartment 7 with a radius of {plot_radius_m} m, measured "
        "level, the trainees count {stem_count} stems. How many stems per hectare is that?",
        given=[
            Quantity("stem_count", 12, 48, 1, exact=True),
            Quantity("plot_radius_m", 10.0, 15.0, 0.05),
        ],
        unit="/ha",
        answer=lambda q: stems_per_ha(round(q.stem_count), _area_m2(q)),
        steps={"plot_m2": _area_m2, "times": _times},
        hints=[
            "How often does the plot go into a hectare? Each stem counted stands for as many.",
            "The plot's area is πr²; a hectare is 10 000 m².",
            "Work out {stem_count}·10 000/(3.1416·{plot_radius_m}²).",
        ],
        solution="The plot has 3.1416·{plot_radius_m}² = {plot_m2} m² and goes 10 000/{plot_m2} = "
        "{times} times into a hectare. {stem_count}·{times} = {answer} stems per hectare.",
        slips=[
            Slip("radius-as-diameter", lambda q: 4 * q.stem_count * _times(q),
                 "The radius was taken for the plot's diameter: the plot is four times larger than "
                 "that."),
            Slip("pi-forgotten", lambda q: pi * q.stem_count * _times(q),
                 "π was forgotten: the plot's area is πr², not r²."),
            Slip("square-not-taken",
                 lambda q: q.stem_count * HECTARE_M2 / (2 * pi * q.plot_radius_m),
                 "2πr is the way round the plot. Its area is πr²."),
            Slip("diameter-for-radius", lambda q: q.stem_count * _times(q) / 4,
                 "The diameter was taken for the radius: that makes the plot four times too "
                 "large."),
            Slip("wrong-way", lambda q: q.stem_count / _times(q),
                 "You made it smaller. A hectare holds many plots: multiply by 10 000 over the "
                 "plot's area."),
        ],
        picture="plot",
        source="common practice, no source",
    ),
    Family(
        key="quadratic-mean-diameter",
        topic="plots",
        title="Quadratic mean diameter from the girths of a plot",
        text="Six stems of a plot of compartment 7 have girths at breast height, over bark, of "
        "{girth_1_cm}, {girth_2_cm}, {girth_3_cm}, {girth_4_cm}, {girth_5_cm} and {girth_6_cm} cm. "
        "Taken for round, what is their quadratic mean diameter: that of the stem of mean basal "
        "area? Answer in cm.",
        given=[Quantity(f"girth_{k}_cm", 35.0, 165.0, 0.5) for k in range(1, 7)],
        unit="cm",
        answer=lambda q: quadratic_mean_diameter_cm(_diameters(q)),
        # not where another mean would do
        fits_since={2: clear_of(
            lambda q: quadratic_mean_diameter_cm(_diameters(q)), 0.8,
            lambda q: median(_diameters(q)),
            lambda q: _mid_range(_diameters(q)),
            lambda q: quadratic_mean_diameter_cm([min(_diameters(q)), max(_diameters(q))]))},
        steps={
            "mean_square_cm2": lambda q: sum(girth**2 for girth in _girths(q, 6)) / 6,
            "mean_girth_cm": lambda q: sqrt(sum(girth**2 for girth in _girths(q, 6)) / 6),
        },
        hints=[
            "Basal areas go as the squares of the diameters. So of what must the mean be taken: of "
            "the diameters, or of their squares?",
            "Take the mean of the six squared girths, its root, and divide by π.",
            "Add the six squares, divide by 6, take the root, and divide by 3.1416.",
        ],
        solution="The mean of the six squared girths is {mean_square_cm2} cm², its root "
        "{mean_girth_cm} cm. {mean_girth_cm}/3.1416 = {answer} cm. It is never below the plain "
        "mean.",
        slips=[
            Slip("arithmetic-mean", lambda q: sum(_diameters(q)) / 6,
                 "That is the plain mean of the diameters. Square them first, take the root last."),
            Slip("girth-kept",
                 lambda q: sqrt(sum(girth**2 for girth in _girths(q, 6)) / 6),
                 "That is the quadratic mean of the girths. Divide by π."),
            Slip("root-forgotten", lambda q: sum(one**2 for one in _diameters(q)) / 6,
                 "That is the mean of the squares, in cm². Take its root."),
            Slip("not-divided", lambda q: sqrt(sum(one**2 for one in _diameters(q))),
                 "The root was taken of the sum. Divide by the number of stems before it."),
            Slip("quarter-girth",
                 lambda q: sqrt(sum(girth**2 for girth in _girths(q, 6)) / 6) / 4,
                 "You divided by 4. A quarter girth is a timber rule; the diameter is G/π."),
        ],
        picture="readings",
        source="[CFMP1999]",
    ),
    Family(
        key="plot-radius",
        topic="plots",
        title="The radius of a plot with a given area",
        text="For a trial, circular plots of {plot_area_m2} m² are wanted, on level ground. Which "
        "radius must the trainees lay out, in m?",
        given=[Quantity("plot_area_m2", 80, 1500, 10, exact=True)],
        unit="m",
        answer=lambda q: circular_plot_radius_m(q.plot_area_m2),
        steps={"square_m2": lambda q: q.plot_area_m2 / pi},
        hints=[
            "You know the way from a radius to an area. Walk it backwards.",
            "A = πr², so r² is the area over π. What is left to do?",
            "Work out the square root of {plot_area_m2}/3.1416.",
        ],
        solution="r² = {plot_area_m2}/3.1416 = {square_m2} m², and r = {answer} m.",
        slips=[
            Slip("diameter-for-radius", lambda q: 2 * sqrt(q.plot_area_m2 / pi),
                 "That is the diameter of the plot. A plot is laid out by its radius."),
            Slip("root-forgotten", lambda q: q.plot_area_m2 / pi,
                 "That is r², in m². Take its square root."),
            Slip("pi-forgotten", lambda q: sqrt(q.plot_area_m2),
                 "That is the side of a square with this area. For a circle divide by π before the "
                 "root."),
            Slip("root-too-soon", lambda q: sqrt(q.plot_area_m2) / pi,
                 "π was left outside the root. Divide by π first, then take the root."),
            Slip("half-square", lambda q: sqrt(q.plot_area_m2) / 2,
                 "That is half the side of a square. The radius of the circle is √(A/π)."),
        ],
        picture="plot",
        source="closed form of the circle; common practice, no source, for the plots",
    ),
    Family(
        key="plot-on-a-slope",
        topic="plots",
        title="The radius of a plot on a slope",
        text="A circular plot that would have a radius of {plot_radius_m} m on level ground is to "
        "be laid out on an even slope of {slope_deg}°, with the tape along the ground and one "
        "radius in all directions. On the map it must have the same area as the level plot. Which "
        "radius along the ground is that, in m?",
        given=[
            Quantity("plot_radius_m", 8.0, 18.0, 0.05, exact=True),
            Quantity("slope_deg", 20, 36, 1, exact=True),
        ],
        unit="m",
        answer=lambda q: slope_plot_radius_m(q.plot_radius_m, q.slope_deg),
        steps={
            "cosine": lambda q: cos(radians(q.slope_deg)),
            "root": lambda q: sqrt(cos(radians(q.slope_deg))),
        },
        hints=[
            "Seen on the map, a circle on a slope is an ellipse: full width across the slope, "
            "shorter up and down.",
            "Up and down, the map shrinks lengths by cos α; across, not at all. So the area "
            "shrinks by cos α once, and the square of the radius must make up for it.",
            "Work out {plot_radius_m} divided by the square root of cos {slope_deg}°.",
        ],
        solution="cos {slope_deg}° = {cosine}, its root {root}. On the map a ground radius R gives "
        "an ellipse of πR·R·cos α, so R = {plot_radius_m}/{root} = {answer} m. Steep or wet ground "
        "is for those trained for it; local rules say who lays out plots there.",
        slips=[
            Slip("slope-forgotten", lambda q: q.plot_radius_m,
                 "That is the level radius. Along a slope it would enclose too little map."),
            Slip("root-forgotten", lambda q: q.plot_radius_m / cos(radians(q.slope_deg)),
                 "That is right straight up and down, but too much across the slope. The area "
                 "shrinks by cos α once, so the radius takes its root."),
            Slip("wrong-way", lambda q: q.plot_radius_m * sqrt(cos(radians(q.slope_deg))),
                 "You made the radius shorter. A slope shortens the map, so the tape must run "
                 "longer: divide."),
            Slip("cosine-wrong-way", lambda q: q.plot_radius_m * cos(radians(q.slope_deg)),
                 "You multiplied by the cosine. The tape must run longer than on level ground: "
                 "divide, and by the root of the cosine."),
        ],
        picture="plot",
        source="[Kleinn2007]",
    ),
]  # fmt: skip

# Asked is what the slope adds: of the whole radius, near ways would come within half a per cent.
renew(
    FAMILIES,
    "plot-on-a-slope",
    2,
    title="By how much a plot's radius grows on a slope",
    text="A circular plot that would have a radius of {plot_radius_m} m on level ground is to be "
    "laid out on an even slope of {slope_deg}°, with the tape along the ground and one radius in "
    "all directions. On the map it must have the same area as the level plot. By how many cm must "
    "the radius along the ground be longer than the level one? Keep five figures on the way.",
    unit="cm",
    answer=_longer_cm,
    steps={
        "cosine": _cosine,
        "root": lambda q: sqrt(_cosine(q)),
        "radius_m": lambda q: q.plot_radius_m / sqrt(_cosine(q)),
    },
    hints=[
        "Seen on the map, a circle on a slope is an ellipse: full width across the slope, shorter "
        "up and down.",
        "Up and down, the map shrinks lengths by cos α; across, not at all. So the area shrinks by "
        "cos α once, and the square of the radius must make up for it: R = r/√(cos α).",
        "Work out {plot_radius_m} divided by the square root of cos {slope_deg}°, take "
        "{plot_radius_m} away, and make it cm.",
    ],
    solution="cos {slope_deg}° = {cosine}, its root {root}. On the map a ground radius R gives an "
    "ellipse of πR·R·cos α, so R = {plot_radius_m}/{root} = {radius_m} m. That is {answer} cm more "
    "than {plot_radius_m} m. Steep or wet ground is for those trained for it; local rules say who "
    "lays out plots there.",
    slips=[
        Slip("root-forgotten", lambda q: 100 * q.plot_radius_m * (1 / _cosine(q) - 1),
             "That is right straight up and down, but too much across the slope. The area shrinks "
             "by cos α once, so the radius takes its root."),
        Slip("mean-of-both-ways", lambda q: 50 * q.plot_radius_m * (1 / _cosine(q) - 1),
             "That is half of what is right straight up and down: the mean over both ways. The "
             "area wants the root of the cosine, which makes a little less.",
             since=2, apart_since=2),
        Slip("tilted-tape", lambda q: 25 * q.plot_radius_m * tan(radians(q.slope_deg)) ** 2,
             "1 + tan²α/4 is a rule of thumb for the girth round a slant. Here an area is kept: "
             "1/√(cos α).", since=2, apart_since=2),
        Slip("wrong-way", lambda q: 100 * q.plot_radius_m * (1 - sqrt(_cosine(q))),
             "You multiplied by the root of the cosine. A slope shortens the map, so the tape must "
             "run longer: divide."),
        Slip("cosine-wrong-way", lambda q: 100 * q.plot_radius_m * (1 - _cosine(q)),
             "You multiplied by the cosine. The tape must run longer: divide, and by the root of "
             "the cosine.", since=2, apart_since=2),
        Slip("whole-radius", lambda q: 100 * q.plot_radius_m + _longer_cm(q),
             "That is the whole radius along the ground. Asked is by how much it is longer."),
        Slip("metres-for-cm", lambda q: _longer_cm(q) / 100,
             "That is in m. Asked are cm."),
    ],
)  # fmt: skip
