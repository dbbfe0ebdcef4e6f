"""Wrong methods for problems of calibration, budget and coverage, beside their slips."""

from math import ceil, cos, hypot, pi, radians, sqrt


def rise(n):
    """Of the line through two marks, 50 and 200 cm."""
    return (n.reading_2_cm - n.reading_1_cm) / 150


def four(n):
    """The four lengths, each with its reading."""
    return [(50.0 * k, getattr(n, f"reading_{k}_cm")) for k in range(1, 5)]


def slope(n):
    """Of the line of least squares."""
    return sum((x - 125) * y for x, y in four(n)) / 12500


def grown(n):
    """What the scale's doubt makes of the width."""
    return n.width_cm * n.u_scale_percent / 100


def parts(n):
    """Of the mean, of the card, of the step."""
    return n.spread_cm / sqrt(n.reading_count), n.u_card_cm, n.resolution_cm / sqrt(12)


def welch(three, first, second, power=4):
    """Welch and Satterthwaite's quotient, the third part without end."""
    return hypot(*three) ** power / (three[0] ** power / first + three[1] ** power / second)


#: Student's factors for 95 %, two sides, 2 to 7 degrees of freedom; and for one side.
TWO_SIDES = (4.303, 3.182, 2.776, 2.571, 2.447, 2.365)
ONE_SIDE = (2.920, 2.353, 2.132, 2.015, 1.943, 1.895)


def of_table(n, table):
    """The factor for n − 1."""
    return table[round(n.reading_count) - 3]


def u_mean(n):
    """Of the mean."""
    return n.spread_cm / sqrt(n.reading_count)


def gap(n, allowed=0.7):
    """From what is allowed on two metres to the found error."""
    return n.error_mm - allowed


def square(n):
    """Girth, in mm, times the greatest tilt squared."""
    return 10 * n.girth_cm * radians(n.tilt_up_to_deg) ** 2


WRONG = {
    "start-from-two-marks": {
        "half the near mark's error": lambda n: (n.reading_1_cm - 50) / 2,
        "in proportion from the far mark": lambda n: n.reading_1_cm - n.reading_2_cm / 4,
        "the stretch on the rule's whole length": lambda n: n.reading_1_cm - 200 * (1 - rise(n)),
        "rise the other way up": lambda n: n.reading_1_cm - 50 / rise(n),
        "from the far mark with the wrong length": lambda n: n.reading_2_cm - 150 * rise(n),
        "both errors added": lambda n: n.reading_1_cm + n.reading_2_cm - 250,
    },
    "stretch-from-four-marks": {
        "the share": lambda n: 1 / slope(n) - 1,
        "first mark alone": lambda n: 100 * (50 / n.reading_1_cm - 1),
        "sum of lengths over sum of readings": lambda n: (
            100 * (500 / sum(y for _, y in four(n)) - 1)
        ),
        "divided by 3 and not by Σ(x − x̄)²": lambda n: 100 * (12500 * slope(n) / 3 - 1),
        "the length now": lambda n: 100 / slope(n),
        "the two inner marks": lambda n: 100 * (50 / (n.reading_3_cm - n.reading_2_cm) - 1),
        "centimetres for per cent": lambda n: 150 - (n.reading_4_cm - n.reading_1_cm),
    },
    "doubt-of-a-correction": {
        "no root": lambda n: (
            n.u_start_cm**2 + grown(n) ** 2 + 2 * n.correlation * n.u_start_cm * grown(n)
        ),
        "difference of both": lambda n: abs(n.u_start_cm - grown(n)),
        "correlation squared": lambda n: hypot(n.u_start_cm, grown(n)) * sqrt(n.correlation**2),
        "per cent as a share": lambda n: hypot(n.u_start_cm, n.width_cm * n.u_scale_percent),
        "the larger": lambda n: max(n.u_start_cm, grown(n)),
        "√(1 − r²)": lambda n: hypot(n.u_start_cm, grown(n)) * sqrt(1 - n.correlation**2),
    },
    "surely-within-its-class": {
        "class I": lambda n: 0.2 + 0.1 * ceil(n.mark_m) - 2 * hypot(n.u_mean_mm, n.u_reference_mm),
        "in centimetres": lambda n: (
            0.9 + 0.4 * 100 * n.mark_m - 2 * hypot(n.u_mean_mm, n.u_reference_mm)
        ),
        "both ends": lambda n: (
            1.2 + 0.4 * ceil(n.mark_m) - 2 * hypot(n.u_mean_mm, n.u_reference_mm)
        ),
        "k three": lambda n: 0.9 + 0.4 * ceil(n.mark_m) - 3 * hypot(n.u_mean_mm, n.u_reference_mm),
        "a forgotten": lambda n: (
            0.3 + 0.4 * ceil(n.mark_m) - 2 * hypot(n.u_mean_mm, n.u_reference_mm)
        ),
        "from the limit on": lambda n: 2 * hypot(n.u_mean_mm, n.u_reference_mm),
        "half of it": lambda n: (
            (0.9 + 0.4 * ceil(n.mark_m)) / 2 - 2 * hypot(n.u_mean_mm, n.u_reference_mm)
        ),
    },
    "readings-that-decide": {
        "not squared": lambda n: ceil(
            sqrt(n.u_one_mm**2 / ((gap(n) / 2) ** 2 - n.u_reference_mm**2))
        ),
        "reference divided": lambda n: ceil(
            (n.u_one_mm**2 + n.u_reference_mm**2) / (gap(n) / 2) ** 2
        ),
        "plainly taken away": lambda n: ceil((n.u_one_mm / (gap(n) / 2 - n.u_reference_mm)) ** 2),
        "to the nearest": lambda n: round(
            n.u_one_mm**2 / ((gap(n) / 2) ** 2 - n.u_reference_mm**2)
        ),
        "class I": lambda n: ceil(n.u_one_mm**2 / ((gap(n, 0.3) / 2) ** 2 - n.u_reference_mm**2)),
        "one metre": lambda n: ceil(n.u_one_mm**2 / ((gap(n, 0.5) / 2) ** 2 - n.u_reference_mm**2)),
        "rounded up, then squared": lambda n: (
            ceil(sqrt(n.u_one_mm**2 / ((gap(n) / 2) ** 2 - n.u_reference_mm**2))) ** 2
        ),
        "one reading": lambda n: 1,
    },
    "parts-of-a-girth": {
        "step over √3": lambda n: hypot(n.resolution_cm / sqrt(3), n.hand_sd_cm, n.expanded_cm / 2),
        "step over √6": lambda n: hypot(n.resolution_cm / sqrt(6), n.hand_sd_cm, n.expanded_cm / 2),
        "hand forgotten": lambda n: hypot(n.resolution_cm / sqrt(12), n.expanded_cm / 2),
        "expanded": lambda n: (
            2 * hypot(n.resolution_cm / sqrt(12), n.hand_sd_cm, n.expanded_cm / 2)
        ),
        "mean of the three": lambda n: (
            (n.resolution_cm / sqrt(12) + n.hand_sd_cm + n.expanded_cm / 2) / 3
        ),
        "over √3": lambda n: (
            hypot(n.resolution_cm / sqrt(12), n.hand_sd_cm, n.expanded_cm / 2) / sqrt(3)
        ),
        "as they are": lambda n: hypot(n.resolution_cm, n.hand_sd_cm, n.expanded_cm),
    },
    "what-tilt-adds-on-average": {
        "by the small angle": lambda n: square(n) / 12,
        "half the bound's": lambda n: square(n) / 8,
        "1/cos at the bound": lambda n: 10 * n.girth_cm * (1 / cos(radians(n.tilt_up_to_deg)) - 1),
        "1/cos at the middle": lambda n: (
            10 * n.girth_cm * (1 / cos(radians(n.tilt_up_to_deg) / 2) - 1)
        ),
        "the angle for its square": lambda n: 10 * n.girth_cm * radians(n.tilt_up_to_deg) / 8,
        "in cm": lambda n: square(n) / 120,
        "of the diameter": lambda n: square(n) / 12 / pi,
        "over √12": lambda n: square(n) / 4 / sqrt(12),
    },
    "degrees-of-freedom-together": {
        "the smaller": lambda n: min(n.reading_count - 1, n.card_degrees),
        "mean of both": lambda n: (n.reading_count - 1 + n.card_degrees) / 2,
        "all readings and marks": lambda n: n.reading_count + n.card_degrees,
        "step with degrees of its own": lambda n: (
            hypot(*parts(n)) ** 4
            / sum(
                one**4 / free
                for one, free in zip(
                    parts(n), (n.reading_count - 1, n.card_degrees, 1), strict=True
                )
            )
        ),
        "s over n": lambda n: welch(
            (n.spread_cm / n.reading_count, *parts(n)[1:]), n.reading_count - 1, n.card_degrees
        ),
        "a root more": lambda n: sqrt(welch(parts(n), n.reading_count - 1, n.card_degrees)),
        "plain sum above": lambda n: (
            sum(parts(n)) ** 4
            / (parts(n)[0] ** 4 / (n.reading_count - 1) + parts(n)[1] ** 4 / n.card_degrees)
        ),
    },
    "interval-from-few-readings": {
        "1.96": lambda n: 1.96 * u_mean(n),
        "k three": lambda n: 3 * u_mean(n),
        "one side": lambda n: of_table(n, ONE_SIDE) * u_mean(n),
        "both ways": lambda n: 2 * of_table(n, TWO_SIDES) * u_mean(n),
        "halved": lambda n: of_table(n, TWO_SIDES) * u_mean(n) / 2,
        "k two, one reading": lambda n: 2 * n.spread_cm,
        "k two and the table": lambda n: 2 * u_mean(n) * of_table(n, TWO_SIDES) ** 2,
    },
    "readings-beside-what-stays": {
        "shared part divided": lambda n: ceil(
            (n.u_reading_cm**2 + n.u_common_cm**2) / n.allowed_u_cm**2
        ),
        "to the nearest": lambda n: round(
            n.u_reading_cm**2 / (n.allowed_u_cm**2 - n.u_common_cm**2)
        ),
        "added": lambda n: ceil(n.u_reading_cm**2 / (n.allowed_u_cm**2 + n.u_common_cm**2)),
        "rounded up, then squared": lambda n: (
            ceil(n.u_reading_cm / sqrt(n.allowed_u_cm**2 - n.u_common_cm**2)) ** 2
        ),
        "expanded": lambda n: ceil(4 * n.u_reading_cm**2 / (n.allowed_u_cm**2 - n.u_common_cm**2)),
    },
}

#: Right to the data's fineness, with the reason.
APPROXIMATIONS = {
    "what-tilt-adds-on-average": {
        "by the small angle": "up to 6° it is at most a third of a per cent below the exact mean, "
        "and the bound is known to a twentieth of a degree only",
    },
}
