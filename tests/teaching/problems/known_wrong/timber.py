"""Wrong methods for problems from readings to timber, beside their slips."""

from math import hypot, pi, sqrt
from statistics import fmean, stdev


def girths(n):
    """Of the five places."""
    return [getattr(n, f"girth_at_{k}_cm") for k in range(1, 6)]


def volumes(n, count=4):
    """Of plots or trees."""
    return [getattr(n, f"volume_{k}_m3") for k in range(1, count + 1)]


def areas(n):
    """Of four plots."""
    return [getattr(n, f"area_{k}_m2") for k in range(1, 5)]


def diameters(n):
    """Of three stems."""
    return [getattr(n, f"diameter_{k}_cm") for k in range(1, 4)]


def stems(n, diameter):
    """What one of this width stands for."""
    return n.factor_m2_per_ha / (pi * diameter**2 / 40_000)


def log_m3(n, girth, times=4):
    """A cylinder with one girth over some sections."""
    return girth**2 / (4e4 * pi) * times * n.section_length_m


WRONG = {
    "log-by-sections": {
        "mean girth of five": lambda n: log_m3(n, fmean(girths(n))),
        "mean of both ends' girths": lambda n: log_m3(n, (girths(n)[0] + girths(n)[4]) / 2),
        "quarter girth": lambda n: sum(
            (g / 400) ** 2 * f for g, f in zip(girths(n), (0.5, 1, 1, 1, 0.5), strict=True)
        ) * n.section_length_m,
        "five sections of the mean area": lambda n: fmean(
            log_m3(n, g, 5) for g in girths(n)
        ),
        "three sections": lambda n: fmean(log_m3(n, g, 3) for g in girths(n)),
        "thick ends only": lambda n: sum(log_m3(n, g, 1) for g in girths(n)[:4]),
        "thin ends only": lambda n: sum(log_m3(n, g, 1) for g in girths(n)[1:]),
    },
    "two-rules-one-volume": {
        "Huber": lambda n: n.huber_m3,
        "Smalian": lambda n: n.smalian_m3,
        "added": lambda n: n.huber_m3 + n.smalian_m3,
        "three to one": lambda n: (3 * n.huber_m3 + n.smalian_m3) / 4,
        "geometric mean": lambda n: sqrt(n.huber_m3 * n.smalian_m3),
    },
    "volume-from-its-form": {
        "neiloid": lambda n: pi * n.lower_diameter_cm**2 / 40_000 * n.tip_m / 4,
        "Huber at the second diameter": lambda n: (
            pi * n.upper_diameter_cm**2 / 40_000 * n.tip_m
        ),
        "Smalian to the tip": lambda n: pi * n.lower_diameter_cm**2 / 80_000 * n.tip_m,
        "radius for diameter": lambda n: pi * n.lower_diameter_cm**2 / 10_000 * n.tip_m / 2.5,
    },
    "plot-laid-along-the-ground": {
        "tangent": lambda n: n.plot_volume_m3 / (n.plot_length_m * n.plot_width_m) * 1e4
        * (1 + (n.slope_deg * pi / 180) ** 2),
        "no hectare": lambda n: n.plot_volume_m3 / (n.plot_length_m * n.plot_width_m),
        "the plot": lambda n: n.plot_volume_m3,
    },
    "mean-of-unequal-plots": {
        "on the plots": lambda n: sum(volumes(n, 3)),
        "of the largest": lambda n: n.volume_3_m3 / n.area_3_m2 * 1e4,
        "three volumes over the mean area": lambda n: fmean(volumes(n, 3)) / fmean(areas(n)) * 1e4,
        "m² raised by 1000": lambda n: sum(volumes(n, 3)) / sum(areas(n)) * 1e3,
    },
    "error-of-a-ratio": {
        "spread of the plots' figures": lambda n: stdev(
            v / a * 1e4 for v, a in zip(volumes(n), areas(n), strict=True)
        ),
        "interval": lambda n: 3.182 * sqrt(
            sum(
                (v - sum(volumes(n)) / sum(areas(n)) * a) ** 2
                for v, a in zip(volumes(n), areas(n), strict=True)
            ) / 12
        ) / fmean(areas(n)) * 1e4,
        "over the sum of areas": lambda n: sqrt(
            sum(
                (v - sum(volumes(n)) / sum(areas(n)) * a) ** 2
                for v, a in zip(volumes(n), areas(n), strict=True)
            ) / 12
        ) / sum(areas(n)) * 1e4,
    },
    "halves-of-an-angle-count": {
        "squared factor": lambda n: (
            fmean(getattr(n, f"count_{k}") for k in range(1, 5)) * n.factor_m2_per_ha**2
        ),
        "over five": lambda n: (
            sum(getattr(n, f"count_{k}") for k in range(1, 5)) + n.line_count / 2
        ) * n.factor_m2_per_ha / 5,
        "halves taken away": lambda n: (
            sum(getattr(n, f"count_{k}") for k in range(1, 5)) - n.line_count / 2
        ) * n.factor_m2_per_ha / 4,
    },
    "stems-behind-a-count": {
        "thin one three times": lambda n: 3 * stems(n, n.diameter_1_cm),
        "middle one three times": lambda n: 3 * stems(n, n.diameter_2_cm)
        if n.diameter_2_cm > 34 else None,
        "girth as diameter": lambda n: sum(stems(n, d / pi) for d in diameters(n)),
        "counted": lambda n: 3 * n.factor_m2_per_ha,
    },
    "share-of-the-variance": {
        "in parts of 1": lambda n: (2 * n.u_diameter_percent) ** 2 / (
            (2 * n.u_diameter_percent) ** 2 + n.u_height_percent**2 + n.u_form_percent**2
        ),
        "variance": lambda n: (2 * n.u_diameter_percent) ** 2 + n.u_height_percent**2
        + n.u_form_percent**2,
        "of d and h": lambda n: 400 * n.u_diameter_percent**2 / (
            4 * n.u_diameter_percent**2 + n.u_height_percent**2
        ),
    },
    "what-unequal-trees-leave": {
        "mean of both": lambda n: fmean((n.u_each_percent, n.u_all_percent)),
        "root forgotten": lambda n: hypot(
            n.u_each_percent * sum(v**2 for v in volumes(n)) / sum(volumes(n)) ** 2,
            n.u_all_percent,
        ),
        "over four": lambda n: n.u_each_percent / 4 + n.u_all_percent,
        "largest alone": lambda n: hypot(
            n.u_each_percent, n.u_all_percent
        ) * n.volume_1_m3 / sum(volumes(n)),
    },
}  # fmt: skip
