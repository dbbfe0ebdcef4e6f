"""Wrong methods for problems of plots, beside their slips."""

from functools import partial
from math import cos, pi, prod, radians, sin, sqrt, tan
from statistics import median


def five(n):
    """The girths of five stems."""
    return [getattr(n, f"girth_{k}_cm") for k in range(1, 6)]


def six(n):
    """The girths of six stems."""
    return [*five(n), n.girth_6_cm]


def m2(girth):
    """Area of the circle with a girth in cm, in m²."""
    return girth**2 / (4e4 * pi)


def times(n):
    """How often the plot goes into a hectare."""
    return 1e4 / (pi * n.plot_radius_m**2)


def cosine(n):
    """Of the slope."""
    return cos(radians(n.slope_deg))


def longer(times, n):
    """By how many cm a radius that is so many times as long is longer."""
    return 100 * n.plot_radius_m * (times(n) - 1)


WRONG = {
    "basal-area-per-hectare": {
        "no pi in the plot": lambda n: sum(map(m2, five(n))) * times(n) * pi,
        "a hectare of 1000 m²": lambda n: sum(map(m2, five(n))) * times(n) / 10,
        "sum of the girths squared": lambda n: m2(sum(five(n))) * times(n),
        "round the plot": lambda n: sum(map(m2, five(n))) * 1e4 / (2 * pi * n.plot_radius_m),
        "quarter girths": lambda n: sum(map(m2, five(n))) * times(n) * pi / 4,
        "median times five": lambda n: 5 * m2(median(five(n))) * times(n),
        "girth of the middle of the range": lambda n: (
            5 * m2((min(five(n)) + max(five(n))) / 2) * times(n)
        ),
        "diameter for radius of the plot": lambda n: sum(map(m2, five(n))) * times(n) / 4,
    },
    "stems-per-hectare": {
        "the factor alone": times,
        "a hectare of 1000 m²": lambda n: n.stem_count * times(n) / 10,
        "square plot": lambda n: n.stem_count * 1e4 / (4 * n.plot_radius_m**2),
        "pi taken as 3": lambda n: n.stem_count * 1e4 / (3 * n.plot_radius_m**2),
    },
    "quadratic-mean-diameter": {
        "the radius": lambda n: root_mean(n) / (2 * pi),
        "divided by n outside the root": lambda n: root_mean(n) / sqrt(6) / pi,
        "geometric mean": lambda n: prod(six(n)) ** (1 / 6) / pi,
        "median": lambda n: median(six(n)) / pi,
        "n − 1": lambda n: root_mean(n) * sqrt(6 / 5) / pi,
        "middle of the range": lambda n: (min(six(n)) + max(six(n))) / 2 / pi,
        "root of the mean area": lambda n: root_mean(n) / sqrt(4 * pi),
        "largest and smallest, squared": lambda n: (
            sqrt((min(six(n)) ** 2 + max(six(n)) ** 2) / 2) / pi
        ),
    },
    "plot-radius": {
        "as a circumference": lambda n: n.plot_area_m2 / (2 * pi),
        "2π under the root": lambda n: sqrt(n.plot_area_m2 / (2 * pi)),
        "π multiplied": lambda n: sqrt(n.plot_area_m2 * pi),
        "a quarter of the square's side": lambda n: sqrt(n.plot_area_m2) / 4,
        "pi taken as 3": lambda n: sqrt(n.plot_area_m2 / 3),
    },
    "plot-on-a-slope": {
        name: partial(longer, times)
        for name, times in {
            "sine": lambda n: 1 / sqrt(sin(radians(n.slope_deg))),
            "1 + tan": lambda n: 1 + tan(radians(n.slope_deg)),
            "cosine squared": lambda n: 1 / cosine(n) ** 2,
            "radians": lambda n: 1 / sqrt(abs(cos(n.slope_deg))),
            "degrees as per cent": lambda n: 1 + n.slope_deg / 100,
            "mean of 1 and 1/cos": lambda n: (1 + 1 / cosine(n)) / 2,
            "1 + tan²/4": lambda n: 1 + tan(radians(n.slope_deg)) ** 2 / 4,
            "1 + tan²/2": lambda n: 1 + tan(radians(n.slope_deg)) ** 2 / 2,
            "2 over 1 + cos": lambda n: 2 / (1 + cosine(n)),
            "the cosine turned round": lambda n: 2 - cosine(n),
        }.items()
    },
}


def root_mean(n):
    """Root of the mean square of the girths."""
    return sqrt(sum(girth**2 for girth in six(n)) / 6)
