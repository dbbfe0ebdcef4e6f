"""Wrong methods for problems of growth, beside their slips."""

from math import pi, sqrt

WRONG = {
    "growth-by-the-same-tape": {
        "own twice, plainly": lambda n: sqrt(
            (2 * n.u_reading_cm) ** 2 + (n.u_scale_percent / 100 * n.growth_cm) ** 2
        ),
        "per cent as a part of 1": lambda n: sqrt(
            2 * n.u_reading_cm**2 + (n.u_scale_percent * n.growth_cm) ** 2
        ),
        "scale's share only": lambda n: n.u_scale_percent / 100 * n.growth_cm,
        "scale twice": lambda n: sqrt(
            2 * n.u_reading_cm**2 + 2 * (n.u_scale_percent / 100 * n.growth_cm) ** 2
        ),
        "squares and no root": lambda n: (
            2 * n.u_reading_cm**2 + (n.u_scale_percent / 100 * n.growth_cm) ** 2
        ),
    },
    "growth-by-another-tape": {
        "difference of both scales": lambda n: 100 * sqrt(
            2 * n.u_reading_cm**2 + (n.u_scale_percent / 100 * n.growth_cm) ** 2
        ) / n.growth_cm,
        "scales added plainly": lambda n: 100 * sqrt(
            2 * n.u_reading_cm**2
            + (n.u_scale_percent / 100 * (2 * n.girth_cm + n.growth_cm)) ** 2
        ) / n.growth_cm,
        "one reading": lambda n: 100 * sqrt(
            n.u_reading_cm**2
            + (n.u_scale_percent / 100) ** 2
            * (n.girth_cm**2 + (n.girth_cm + n.growth_cm) ** 2)
        ) / n.growth_cm,
        "in cm": lambda n: sqrt(
            2 * n.u_reading_cm**2
            + (n.u_scale_percent / 100) ** 2
            * (n.girth_cm**2 + (n.girth_cm + n.growth_cm) ** 2)
        ),
        "the first girth twice": lambda n: 100 * sqrt(
            2 * n.u_reading_cm**2 + 2 * (n.u_scale_percent / 100 * n.girth_cm) ** 2
        ) / n.growth_cm,
    },
    "growth-from-another-height": {
        "taper for centimetres": lambda n: 10 * (
            n.growth_cm + pi * n.diameter_taper_cm_per_m * n.higher_cm
        ) / n.between_years,
        "radius": lambda n: 10 * (
            n.growth_cm + pi / 2 * n.diameter_taper_cm_per_m * n.higher_cm / 100
        ) / n.between_years,
        "the height alone": lambda n: 10 * (
            pi * n.diameter_taper_cm_per_m * n.higher_cm / 100
        ) / n.between_years,
        "diameter": lambda n: 10 * (
            n.growth_cm / pi + n.diameter_taper_cm_per_m * n.higher_cm / 100
        ) / n.between_years,
        "one year more": lambda n: 10 * (
            n.growth_cm + pi * n.diameter_taper_cm_per_m * n.higher_cm / 100
        ) / (n.between_years + 1),
    },
    "least-growth-a-year": {
        "k = 2 alone": lambda n: 2 * sqrt(2) * n.u_reading_cm / n.between_years,
        "1.96 times 1.28": lambda n: 1.96 * 1.28 * sqrt(2) * n.u_reading_cm / n.between_years,
        "root of the squares": lambda n: (
            sqrt(1.96**2 + 1.28**2) * sqrt(2) * n.u_reading_cm / n.between_years
        ),
        "one year less": lambda n: 3.24 * sqrt(2) * n.u_reading_cm / max(n.between_years - 1, 0.5),
        "times the years": lambda n: 3.24 * sqrt(2) * n.u_reading_cm * n.between_years,
    },
    "bark-came-off-in-between": {
        "circle of the layer": lambda n: 2 * pi * n.lost_bark_mm / 10,
        "four layers": lambda n: 4 * pi * n.lost_bark_mm / 10 - n.shrunk_cm,
        "thickness alone": lambda n: n.lost_bark_mm / 10 - n.shrunk_cm,
        "below nought": lambda n: -(2 * pi * n.lost_bark_mm / 10 - n.shrunk_cm),
        "shrunk twice": lambda n: 2 * pi * n.lost_bark_mm / 10 - 2 * n.shrunk_cm,
    },
    "mean-growth-by-another-hand": {
        "by n, not its root": lambda n: sqrt(
            (n.growths_sd_cm / n.stem_count) ** 2
            + (n.habit_percent / 100) ** 2
            * (n.girth_cm**2 + (n.girth_cm + n.growth_cm) ** 2)
        ),
        "spread twice": lambda n: sqrt(
            2 * n.growths_sd_cm**2 / n.stem_count
            + (n.habit_percent / 100) ** 2
            * (n.girth_cm**2 + (n.girth_cm + n.growth_cm) ** 2)
        ),
        "habits added plainly": lambda n: sqrt(
            n.growths_sd_cm**2 / n.stem_count
            + (n.habit_percent / 100 * (2 * n.girth_cm + n.growth_cm)) ** 2
        ),
        "all over the root": lambda n: sqrt(
            n.growths_sd_cm**2
            + (n.habit_percent / 100) ** 2
            * (n.girth_cm**2 + (n.girth_cm + n.growth_cm) ** 2)
        ) / sqrt(n.stem_count),
        "per cent as a part of 1": lambda n: sqrt(
            n.growths_sd_cm**2 / n.stem_count
            + n.habit_percent**2 * (n.girth_cm**2 + (n.girth_cm + n.growth_cm) ** 2)
        ),
    },
    "area-growth-a-year": {
        "over the mean area": lambda n: 200 / n.between_years * (
            ((n.girth_cm + n.growth_cm) ** 2 - n.girth_cm**2)
            / ((n.girth_cm + n.growth_cm) ** 2 + n.girth_cm**2)
        ),
        "of the later area": lambda n: 100 / n.between_years * (
            1 - (n.girth_cm / (n.girth_cm + n.growth_cm)) ** 2
        ),
        "the growth squared": lambda n: 100 * (n.growth_cm / n.girth_cm) ** 2 / n.between_years,
        "one year more": lambda n: 100 * (
            ((n.girth_cm + n.growth_cm) / n.girth_cm) ** (2 / (n.between_years + 1)) - 1
        ),
        "as a factor": lambda n: 100 * (
            (n.girth_cm + n.growth_cm) / n.girth_cm
        ) ** (2 / n.between_years),
    },
}  # fmt: skip
