"""From unequal, sloping and empty plots, and from an angle gauge, to a hectare (topic timber).

Plots and counts are invented (Quillmere Practice Wood). What stands on the plots goes over all
their ground, as the map shows it; what an angle counts brings the same area whatever its size.
"""

from __future__ import annotations

from math import cos, radians, sqrt
from statistics import fmean, stdev
from typing import Any

from mensura.estimates.angle_count import counted_stems_per_ha
from mensura.estimates.plot_means import mean_of_plots, ratio_of_plots
from mensura.estimates.plots import HECTARE_M2, mapped_area_m2
from mensura.teaching.problems.family import Family, Quantity, Slip


def numbered(q: Any, name: str, count: int) -> list[float]:
    """The numbers of a kind.

    q: all that is given; name: with {} where they are counted; count: how many.
    """
    return [float(getattr(q, name.format(k))) for k in range(1, count + 1)]


def _ground_m2(q: Any) -> float:
    return float(q.plot_length_m * q.plot_width_m)


def _on_slope(q: Any, times: float) -> float:
    """Volume a hectare, with the ground area times something."""
    return float(q.plot_volume_m3) / (_ground_m2(q) * times) * HECTARE_M2


def _cosine(q: Any) -> float:
    return cos(radians(q.slope_deg))


def _on_three(q: Any) -> list[float]:
    return numbered(q, "volume_{}_m3", 3)


def _areas(q: Any) -> list[float]:
    return numbered(q, "area_{}_m2", 4)


def _each_per_ha(volumes: list[float], areas: list[float]) -> list[float]:
    return [HECTARE_M2 * one / area for one, area in zip(volumes, areas, strict=False)]


def _left_m3(q: Any) -> list[float]:
    """What each of four plots holds beside what the common volume a hectare would put there."""
    volumes, areas = numbered(q, "volume_{}_m3", 4), _areas(q)
    common = sum(volumes) / sum(areas)
    return [one - common * area for one, area in zip(volumes, areas, strict=True)]


def _root_mean(numbers: list[float], divisor: float) -> float:
    return sqrt(sum(one**2 for one in numbers) / divisor)


def _a_hectare(q: Any, on_a_plot_m3: float) -> float:
    return on_a_plot_m3 * HECTARE_M2 / fmean(_areas(q))


def _counts(q: Any) -> float:
    return sum(numbered(q, "count_{}", 4))


def _diameters(q: Any) -> list[float]:
    return numbered(q, "diameter_{}_cm", 3)


def _three_alike(q: Any, diameter_cm: float) -> float:
    return 3 * float(counted_stems_per_ha(diameter_cm, q.factor_m2_per_ha))


PLOT_SUMS = [
    Family(
        key="plot-laid-along-the-ground",
        topic="timber",
        title="A hectare from a plot laid along the ground",
        text="A rectangular plot was laid with the tape along the ground: {plot_length_m} m "
        "straight down an even slope of {slope_deg}° and {plot_width_m} m across it. The stems on "
        "it hold {plot_volume_m3} m³. What is the volume per hectare of the map? Answer in m³/ha.",
        given=[
            Quantity("plot_length_m", 20.0, 40.0, 0.5, exact=True),
            Quantity("plot_width_m", 10.0, 18.0, 0.5, exact=True),
            Quantity("slope_deg", 19, 35, 1, exact=True),
            Quantity("plot_volume_m3", 9.0, 30.0, 0.1),
        ],
        unit="m³/ha",
        answer=lambda q: q.plot_volume_m3
        / mapped_area_m2(_ground_m2(q), q.slope_deg) * HECTARE_M2,
        steps={
            "cosine": _cosine,
            "map_m2": lambda q: mapped_area_m2(_ground_m2(q), q.slope_deg),
        },
        hints=[
            "Hectares are hectares of the map. Which side of the plot does the map show shorter?",
            "Down the slope the map shrinks a length by cos α, across it not at all.",
            "Work out {plot_length_m}·{plot_width_m}·cos {slope_deg}°, and see how often it goes "
            "into 10 000.",
        ],
        solution="cos {slope_deg}° = {cosine}; on the map the plot has "
        "{plot_length_m}·{plot_width_m}·{cosine} = {map_m2} m². "
        "{plot_volume_m3}/{map_m2}·10 000 = {answer} m³/ha. Whoever sells by such a figure keeps "
        "to local rules for plots on slopes.",
        slips=[
            Slip("slope-forgotten", lambda q: _on_slope(q, 1.0),
                 "That is per hectare of ground. The map shows the plot smaller."),
            Slip("cosine-wrong-way", lambda q: _on_slope(q, 1 / _cosine(q)),
                 "You made the plot larger. On the map a slope is shorter."),
            Slip("both-sides-shortened", lambda q: _on_slope(q, _cosine(q) ** 2),
                 "Across the slope nothing is shortened: cos α counts once."),
            Slip("root-of-the-cosine", lambda q: _on_slope(q, sqrt(_cosine(q))),
                 "The root is for a radius. An area goes with cos α itself."),
            Slip("plot-not-raised", lambda q: q.plot_volume_m3 * 100,
                 "You raised it as if the plot had 100 m². Divide by its own area."),
        ],
        source="[Kleinn2007]",
    ),
    Family(
        key="mean-of-unequal-plots",
        topic="timber",
        title="Volume per hectare from unequal plots, one of them empty",
        text="Four plots lie at random in compartment 7. Three hold {volume_1_m3} m³ on "
        "{area_1_m2} m², {volume_2_m3} m³ on {area_2_m2} m² and {volume_3_m3} m³ on {area_3_m2} "
        "m²; on the fourth, {area_4_m2} m², no tree stands. What is the volume per hectare by the "
        "ratio estimator? Answer in m³/ha.",
        given=[
            Quantity("volume_1_m3", 12.0, 18.0, 0.1),
            Quantity("area_1_m2", 200, 300, 10, exact=True),
            Quantity("volume_2_m3", 16.0, 24.0, 0.1),
            Quantity("area_2_m2", 400, 600, 10, exact=True),
            Quantity("volume_3_m3", 18.0, 28.0, 0.1),
            Quantity("area_3_m2", 800, 1000, 10, exact=True),
            Quantity("area_4_m2", 300, 500, 10, exact=True),
        ],
        unit="m³/ha",
        answer=lambda q: ratio_of_plots([*_on_three(q), 0.0], _areas(q)).value,
        hints=[
            "Should a small plot weigh as much as a large one? And is an empty plot no plot?",
            "All that stands on the plots, over all their ground. The empty one brings ground.",
            "Add the three volumes, divide by {area_1_m2} + {area_2_m2} + {area_3_m2} + "
            "{area_4_m2}, and multiply by 10 000.",
        ],
        solution="({volume_1_m3} + {volume_2_m3} + {volume_3_m3})/({area_1_m2} + {area_2_m2} + "
        "{area_3_m2} + {area_4_m2})·10 000 = {answer} m³/ha. An empty plot says as much of the "
        "stand as any other.",
        slips=[
            Slip("mean-of-the-plots",
                 lambda q: fmean([*_each_per_ha(_on_three(q), _areas(q)), 0.0]),
                 "You took the mean of the plots' own figures. So the smallest plot weighs as much "
                 "as the largest."),
            Slip("empty-left-out",
                 lambda q: ratio_of_plots(_on_three(q), _areas(q)[:3]).value,
                 "The empty plot is missing. Its ground belongs to the stand too."),
            Slip("mean-of-three",
                 lambda q: fmean(_each_per_ha(_on_three(q), _areas(q))),
                 "That is the mean of three plots' figures: the empty one is missing, and the "
                 "small ones weigh too much."),
            Slip("mean-volume-on-all",
                 lambda q: fmean([*_on_three(q), 0.0]) / sum(_areas(q)) * HECTARE_M2,
                 "You set the mean volume against the sum of the areas. Take both as sums."),
        ],
        source="[Cochran1977]",
    ),
    Family(
        key="error-of-a-ratio",
        topic="timber",
        title="How sure is a mean of unequal plots?",
        text="Four plots at random hold {volume_1_m3}, {volume_2_m3}, {volume_3_m3} and "
        "{volume_4_m3} m³ on {area_1_m2}, {area_2_m2}, {area_3_m2} and {area_4_m2} m². What is the "
        "standard error of their volume per hectare by the ratio estimator, in m³/ha?",
        given=[
            Quantity("volume_1_m3", 5.0, 12.0, 0.1, exact=True),
            Quantity("volume_2_m3", 10.0, 24.0, 0.1, exact=True),
            Quantity("volume_3_m3", 22.0, 40.0, 0.1, exact=True),
            Quantity("volume_4_m3", 8.0, 20.0, 0.1, exact=True),
            Quantity("area_1_m2", 200, 300, 10, exact=True),
            Quantity("area_2_m2", 400, 600, 10, exact=True),
            Quantity("area_3_m2", 800, 1000, 10, exact=True),
            Quantity("area_4_m2", 300, 500, 10, exact=True),
        ],
        unit="m³/ha",
        answer=lambda q: ratio_of_plots(numbered(q, "volume_{}_m3", 4), _areas(q)).se,
        fits=lambda q: _root_mean(_left_m3(q), 3) > 1.5,
        steps={
            "per_m2": lambda q: sum(numbered(q, "volume_{}_m3", 4)) / sum(_areas(q)),
            "left_m3": lambda q: _root_mean(_left_m3(q), 3),
            "plot_m2": lambda q: fmean(_areas(q)),
        },
        hints=[
            "A large plot holds more because it is large. That is no scatter: what is?",
            "Take from each plot what its area would hold at the common volume per m². What is "
            "left scatters; its spread with n − 1, over √n, over the mean area.",
            "All four volumes over all four areas is the volume per m². Take that times its area "
            "from each plot's volume, square, add, divide by 3, take the root.",
        ],
        solution="The plots hold {per_m2} m³ per m². What each holds beside that spreads by "
        "{left_m3} m³, with n − 1 below. Over √4 and over the mean area of {plot_m2} m² that is "
        "{answer} m³/ha. From so few plots it is an approximation.",
        slips=[
            Slip("about-the-mean-volume",
                 lambda q: _a_hectare(q, stdev(numbered(q, "volume_{}_m3", 4)) / 2),
                 "You took the spread of the volumes about their mean. Most of it is that the "
                 "plots are unequal."),
            Slip("spread-of-single-plots",
                 lambda q: _a_hectare(q, _root_mean(_left_m3(q), 3)),
                 "So single plots spread. The mean of four has half of that."),
            Slip("n-for-n-minus-one",
                 lambda q: _a_hectare(q, _root_mean(_left_m3(q), 4) / 2),
                 "Divide the squares by n − 1: the ratio was taken from the same plots."),
            Slip("mean-of-the-plots",
                 lambda q: mean_of_plots(
                     _each_per_ha(numbered(q, "volume_{}_m3", 4), _areas(q))).se,
                 "That is the error of the mean of the plots' own figures, where the smallest "
                 "weighs as much as the largest."),
            Slip("on-a-plot", lambda q: _root_mean(_left_m3(q), 3) / 2,
                 "That is in m³ on a plot of the mean area. Raise it to the hectare."),
        ],
        source="[Cochran1977]",
    ),
    Family(
        key="halves-of-an-angle-count",
        topic="timber",
        title="Basal area per hectare by an angle count",
        text="At four points trainees count {count_1}, {count_2}, {count_3} and {count_4} stems "
        "wider than an angle gauge with the factor {factor_m2_per_ha} m²/ha. Besides, at all four "
        "points together {line_count} are just as wide as the gauge, and count half by this "
        "class's rule. What is the basal area per hectare, in m²/ha?",
        given=[
            *(Quantity(f"count_{k}", 5, 14, 1, exact=True) for k in range(1, 5)),
            Quantity("line_count", 3, 8, 1, exact=True),
            Quantity("factor_m2_per_ha", 2, 4, 1, exact=True),
        ],
        unit="m²/ha",
        answer=lambda q: mean_of_plots(
            [one * q.factor_m2_per_ha
             for one in (q.count_1 + q.line_count / 2, q.count_2, q.count_3, q.count_4)]).value,
        hints=[
            "What does each counted stem stand for, whatever its diameter?",
            "A stem counted stands for the factor, in m²/ha, at its point. Four points make a "
            "mean.",
            "Add the four counts and half of {line_count}, multiply by {factor_m2_per_ha}, and "
            "divide by 4.",
        ],
        solution="({count_1} + {count_2} + {count_3} + {count_4} + "
        "{line_count}/2)·{factor_m2_per_ha}/4 = {answer} m²/ha. A stem on the line is better "
        "measured, from its middle, than counted half.",
        slips=[
            Slip("sum-for-mean",
                 lambda q: (_counts(q) + q.line_count / 2) * q.factor_m2_per_ha,
                 "You added four points. Each stands for the same hectare: take their mean."),
            Slip("halves-as-whole",
                 lambda q: (_counts(q) + q.line_count) * q.factor_m2_per_ha / 4,
                 "The stems on the line count half."),
            Slip("halves-left-out", lambda q: _counts(q) * q.factor_m2_per_ha / 4,
                 "The stems on the line are missing: each counts half."),
            Slip("factor-forgotten", lambda q: (_counts(q) + q.line_count / 2) / 4,
                 "That is the mean count. Each stem stands for the gauge's factor."),
            Slip("halves-at-each-point",
                 lambda q: (_counts(q) / 4 + q.line_count / 2) * q.factor_m2_per_ha,
                 "The stems on the line are those of all four points: share them out too."),
        ],
        source="[Kleinn2007]",
    ),
    Family(
        key="stems-behind-a-count",
        topic="timber",
        title="How many stems per hectare stand behind an angle count?",
        text="At one point of an angle count with the factor {factor_m2_per_ha} m²/ha three stems "
        "are counted. Their diameters at breast height are {diameter_1_cm}, {diameter_2_cm} and "
        "{diameter_3_cm} cm. For how many stems per hectare do the three stand together?",
        given=[
            Quantity("factor_m2_per_ha", 2, 4, 1, exact=True),
            Quantity("diameter_1_cm", 18.0, 25.0, 0.1),
            Quantity("diameter_2_cm", 30.0, 38.0, 0.1),
            Quantity("diameter_3_cm", 44.0, 58.0, 0.1),
        ],
        unit="/ha",
        answer=lambda q: sum(
            counted_stems_per_ha(one, q.factor_m2_per_ha) for one in _diameters(q)),
        steps={
            "thin": lambda q: counted_stems_per_ha(q.diameter_1_cm, q.factor_m2_per_ha),
            "middle": lambda q: counted_stems_per_ha(q.diameter_2_cm, q.factor_m2_per_ha),
            "thick": lambda q: counted_stems_per_ha(q.diameter_3_cm, q.factor_m2_per_ha),
        },
        hints=[
            "Each of the three brings the same basal area. Do a thick and a thin one bring the "
            "same number of stems?",
            "A stem stands for as many as make up the factor: factor over its own basal area.",
            "For each work out {factor_m2_per_ha}·40 000/(3.1416·d²), and add the three.",
        ],
        solution="The factor over each stem's own area πd²/4 makes {thin}, {middle} and {thick} "
        "stems per hectare, together {answer}. The thin one stands for most: an angle sees few of "
        "its kind.",
        slips=[
            Slip("mean-diameter", lambda q: _three_alike(q, fmean(_diameters(q))),
                 "You took the mean diameter. Thin stems stand for far more: one by one."),
            Slip("quadratic-mean",
                 lambda q: _three_alike(q, _root_mean(_diameters(q), 3)),
                 "You took the stem of mean basal area. Here not the areas but one over each area "
                 "is added."),
            Slip("diameter-as-radius", lambda q: sum(
                counted_stems_per_ha(2 * one, q.factor_m2_per_ha) for one in _diameters(q)),
                 "The diameters were taken for radii: that makes each stem four times too large."),
            Slip("mean-for-sum", lambda q: sum(
                counted_stems_per_ha(one, q.factor_m2_per_ha) for one in _diameters(q)) / 3,
                 "That is the mean of the three. All were counted at this point: add them."),
            Slip("over-the-sum", lambda q: 1 / sum(
                1 / counted_stems_per_ha(one, q.factor_m2_per_ha) for one in _diameters(q)),
                 "You divided the factor by the three areas together. Each stem stands for the "
                 "factor by itself."),
        ],
        source="[Kleinn2007]",
    ),
]  # fmt: skip
