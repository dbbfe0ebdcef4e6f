"""Wrong methods for problems of a photographed cut end, beside their slips."""

from math import pi, sin, sqrt
from statistics import fmean

WRONG = {
    "scale-that-lies-askew": {
        "difference of both ways": lambda n: n.area_px2 * (
            n.scale_cm / (n.along_px - n.up_px)
        ) ** 2,
        "root of the area": lambda n: sqrt(n.area_px2) / (
            sqrt(n.along_px**2 + n.up_px**2) / n.scale_cm
        ),
        "times for over": lambda n: n.area_px2 * (n.along_px**2 + n.up_px**2) / n.scale_cm**2,
        "product of both ways": lambda n: n.area_px2 * n.scale_cm**2 / (n.along_px * n.up_px),
    },
    "two-scales-of-a-tilted-camera": {
        "mean of both scales": lambda n: n.area_px2 * fmean(
            (40 / n.across_px, 30 / n.frame_up_px)
        ) ** 2,
        "frame in pixels": lambda n: n.across_px * n.frame_up_px / 1200,
        "sum of both scales": lambda n: n.area_px2 * (40 / n.across_px + 30 / n.frame_up_px) ** 2,
        "sides of the other": lambda n: n.area_px2 * 30 / n.across_px * 30 / n.frame_up_px,
    },
    "scale-behind-the-cut": {
        "twice δ/Z": lambda n: 2 * n.nearer_cm / n.camera_to_scale_m,
        "δ/Z": lambda n: n.nearer_cm / n.camera_to_scale_m,
        "cubed": lambda n: 100 * ((1 - n.nearer_cm / 100 / n.camera_to_scale_m) ** -3 - 1),
        "too small": lambda n: -100 * (1 - (1 - n.nearer_cm / 100 / n.camera_to_scale_m) ** 2),
    },
    "area-between-the-clicks": {
        "the polygon": lambda n: n.click_count * (n.diameter_cm / 2) ** 2 / 2 * sin(
            2 * pi / n.click_count
        ),
        "one point more": lambda n: pi / 4 * n.diameter_cm**2 * (
            1 - (n.click_count + 1) / (2 * pi) * sin(2 * pi / (n.click_count + 1))
        ),
        "one point less": lambda n: pi / 4 * n.diameter_cm**2 * (
            1 - (n.click_count - 1) / (2 * pi) * sin(2 * pi / (n.click_count - 1))
        ),
        "a part": lambda n: pi / 4 * n.diameter_cm**2 / n.click_count,
    },
    "tape-against-an-outline": {
        "quarter girth": lambda n: 100 * ((n.taut_girth_cm / 4) ** 2 / n.true_area_cm2 - 1),
        "girth as diameter": lambda n: 100 * (
            pi / 4 * n.taut_girth_cm**2 / n.true_area_cm2 - 1
        ),
        "twice the diameter's": lambda n: 200 * (
            n.taut_girth_cm / sqrt(4 * pi * n.true_area_cm2) - 1
        ),
        "in parts of 1": lambda n: n.taut_girth_cm**2 / (4 * pi) / n.true_area_cm2 - 1,
    },
    "doubt-of-a-photographed-area": {
        "two marks plainly": lambda n: 200 * sqrt(
            (2 * n.u_mark_px / n.scale_px) ** 2 + (n.u_edge_px / n.radius_px) ** 2
        ),
        "mean of two marks": lambda n: 200 * sqrt(
            n.u_mark_px**2 / 2 / n.scale_px**2 + (n.u_edge_px / n.radius_px) ** 2
        ),
        "squared and no root": lambda n: 100 * (
            2 * (n.u_mark_px / n.scale_px) ** 2 + (n.u_edge_px / n.radius_px) ** 2
        ),
        "in parts of 1": lambda n: 2 * sqrt(
            2 * (n.u_mark_px / n.scale_px) ** 2 + (n.u_edge_px / n.radius_px) ** 2
        ),
    },
}  # fmt: skip

APPROXIMATIONS = {
    "two-scales-of-a-tilted-camera": {
        "mean of both scales": "the two scales differ by an eighth at most, and their arithmetic "
        "and geometric means by less than two in a thousand",
    },
}
