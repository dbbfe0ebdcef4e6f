"""Wrong methods for problems of doubt, beside their slips."""

from math import ceil, hypot, pi, sqrt
from statistics import mean, median, pstdev, stdev


def area(girth):
    """Of the circle with a girth."""
    return girth**2 / (4 * pi)


def parts(n):
    """Per cents of girth and length."""
    return 100 * n.u_girth_cm / n.mid_girth_cm, 100 * n.u_length_m / n.log_length_m


def row(n):
    """The five readings."""
    return [getattr(n, f"reading_{k}_cm") for k in range(1, 6)]


def reach(n):
    """From the smallest to the largest."""
    return max(row(n)) - min(row(n))


def off(n):
    """Mean distance from the mean."""
    return mean(abs(one - mean(row(n))) for one in row(n))


def times(n):
    """How many times too large the doubt of one area is."""
    return 200 * n.u_reading_cm / n.girth_cm / n.allowed_percent


WRONG = {
    "doubt-of-an-area": {
        "a share": lambda n: 2 * n.u_girth_cm / n.girth_cm,
        "over the diameter": lambda n: 100 * n.u_girth_cm * pi / n.girth_cm,
        "four times": lambda n: 400 * n.u_girth_cm / n.girth_cm,
        "area of the doubt": lambda n: 100 * (n.u_girth_cm / n.girth_cm) ** 2,
        "per mille": lambda n: 2000 * n.u_girth_cm / n.girth_cm,
    },
    "expanded-doubt-of-an-area": {
        "k squared": lambda n: 2 * n.girth_cm * n.u_girth_cm / pi,
        "diameter for radius": lambda n: 4 * n.girth_cm * n.u_girth_cm / pi,
        "girth and doubt, less the area": lambda n: (
            area(n.girth_cm + n.u_girth_cm) - area(n.girth_cm)
        ),
        "the area": lambda n: area(n.girth_cm),
    },
    "doubt-of-a-volume": {
        "added, not doubled": lambda n: sum(parts(n)),
        "no root": lambda n: 4 * parts(n)[0] ** 2 + parts(n)[1] ** 2,
        "length doubled": lambda n: hypot(parts(n)[0], 2 * parts(n)[1]),
        "√2 for 2": lambda n: sqrt(2 * parts(n)[0] ** 2 + parts(n)[1] ** 2),
        "mean of both": lambda n: (2 * parts(n)[0] + parts(n)[1]) / 2,
        "difference": lambda n: abs(2 * parts(n)[0] - parts(n)[1]),
        "the larger alone, halved sum": lambda n: (
            max(2 * parts(n)[0], parts(n)[1]) + min(2 * parts(n)[0], parts(n)[1]) / 2
        ),
    },
    "doubt-of-a-mean": {
        "no root": lambda n: n.u_reading_cm**2 / n.reading_count + n.u_common_cm**2,
        "tape grows": lambda n: sqrt(
            n.u_reading_cm**2 / n.reading_count + n.reading_count * n.u_common_cm**2
        ),
        "added, then divided": lambda n: (n.u_reading_cm + n.u_common_cm) / sqrt(n.reading_count),
        "the tape's part divided": lambda n: hypot(
            n.u_reading_cm, n.u_common_cm / sqrt(n.reading_count)
        ),
        "n − 1": lambda n: hypot(n.u_reading_cm / sqrt(n.reading_count - 1), n.u_common_cm),
        "tape's part alone": lambda n: n.u_common_cm,
    },
    "doubt-from-readings": {
        "population's deviation": lambda n: pstdev(row(n)),
        "variance": lambda n: stdev(row(n)) ** 2,
        "half the range": lambda n: reach(n) / 2,
        "the mean": lambda n: mean(row(n)),
        "range over √n": lambda n: reach(n) / sqrt(5),
        "mean deviation over √n": lambda n: off(n) / sqrt(5),
        "about the median": lambda n: sqrt(sum((one - median(row(n))) ** 2 for one in row(n)) / 20),
        "range over 2.33 over √n": lambda n: reach(n) / 2.326 / sqrt(5),
        "mean deviation over n − 1": lambda n: off(n) * 5 / 4 / sqrt(5),
        "range over n": lambda n: reach(n) / 5,
    },
    "readings-needed": {
        "doubled twice": lambda n: ceil(4 * times(n) ** 2),
        "one reading": lambda n: 1,
        "one more to be sure": lambda n: ceil(times(n) ** 2) + 1,
        "rounded to the nearest": lambda n: round(times(n) ** 2),
        "rounded up, then squared": lambda n: ceil(times(n)) ** 2,
        "rounded to the nearest, then squared": lambda n: round(times(n)) ** 2,
        "rounded down, then squared": lambda n: int(times(n)) ** 2,
        "doubled, not squared": lambda n: ceil(2 * times(n)),
    },
    "doubt-of-growth": {
        "of the girth": lambda n: 200 * sqrt(2) * n.u_girth_cm / n.girth_cm,
        "one girth, no k": lambda n: 100 * n.u_girth_cm / n.growth_cm,
        "of the growth of area": lambda n: 400 * sqrt(2) * n.u_girth_cm / n.growth_cm,
        "divided by √2": lambda n: 200 / sqrt(2) * n.u_girth_cm / n.growth_cm,
    },
}
