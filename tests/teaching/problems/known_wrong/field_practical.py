"""Wrong methods for problems of a class's readings, beside their slips."""

from math import hypot, pi, sqrt
from statistics import fmean, pstdev, stdev


def differences(n):
    """Of both tapings."""
    return [getattr(n, f"difference_{k}_cm") for k in range(1, 5)]


def readings(n):
    """Of the five others."""
    return [getattr(n, f"reading_{k}_cm") for k in range(1, 6)]


def apart(n):
    """Tape less calipers."""
    return [getattr(n, f"apart_{k}_cm") for k in range(1, 6)]


def is_share(n):
    """As the shares are more alike than the centimetres."""
    power = n.more_2_cm / n.more_1_cm, n.girth_2_cm / n.girth_1_cm
    return power[0] ** 2 > power[1]


WRONG = {
    "repeatability-from-pairs": {
        "halved": lambda n: sqrt(sum(one**2 for one in differences(n)) / 16),
        "mean over four": lambda n: fmean(differences(n)) / 4,
        "largest": lambda n: max(differences(n)),
        "standard error": lambda n: sqrt(sum(one**2 for one in differences(n)) / 8) / sqrt(4),
        "eight less one": lambda n: sqrt(sum(one**2 for one in differences(n)) / 7),
        "of the sum": lambda n: sqrt(sum(one**2 for one in differences(n))),
    },
    "another-hand-reads": {
        "repeats alone": lambda n: n.hand_sd_cm,
        "means' error": lambda n: n.means_sd_cm / sqrt(5),
        "a fifth": lambda n: sqrt(n.means_sd_cm**2 + n.hand_sd_cm**2 / 5),
        "larger": lambda n: max(n.means_sd_cm, n.hand_sd_cm),
        "n for five": lambda n: hypot(n.means_sd_cm, n.hand_sd_cm) / sqrt(n.reading_count),
    },
    "against-the-others": {
        "the first hand": lambda n: 100 * (n.reading_6_cm / n.reading_1_cm - 1)
        if n.reading_1_cm != sorted(readings(n))[2]
        else None,
        "the largest": lambda n: 100 * (n.reading_6_cm / max(readings(n)) - 1),
        "the smallest": lambda n: 100 * (n.reading_6_cm / min(readings(n)) - 1),
        "in parts of 1": lambda n: n.reading_6_cm / sorted(readings(n))[2] - 1,
        "over π": lambda n: 100 * (n.reading_6_cm / sorted(readings(n))[2] - 1) / pi,
        "of the area": lambda n: 100 * ((n.reading_6_cm / sorted(readings(n))[2]) ** 2 - 1),
    },
    "share-or-constant": {
        "large stem's, as it is": lambda n: n.more_2_cm if is_share(n) else None,
        "small stem's, as it is": lambda n: n.more_1_cm if is_share(n) else None,
        "both stems' girths added": lambda n: (
            (n.more_1_cm + n.more_2_cm) * n.girth_3_cm / (2 * (n.girth_1_cm + n.girth_2_cm))
            if is_share(n)
            else None
        ),
        "middle of both forms": lambda n: (
            (fmean((n.more_1_cm, n.more_2_cm))
             + n.girth_3_cm * fmean((n.more_1_cm / n.girth_1_cm, n.more_2_cm / n.girth_2_cm))) / 2
        ),
        "with the area": lambda n: n.more_2_cm * (n.girth_3_cm / n.girth_2_cm) ** 2,
    },
    "limits-of-agreement": {
        "from nothing": lambda n: 1.96 * sqrt(fmean(one**2 for one in apart(n))) * 2,
        "largest": lambda n: max(apart(n)),
        "both ways": lambda n: 2 * 1.96 * stdev(apart(n)),
        "Student of four": lambda n: fmean(apart(n)) + 2.776 * stdev(apart(n)),
        "k three": lambda n: fmean(apart(n)) + 3 * stdev(apart(n)),
        "one side": lambda n: fmean(apart(n)) + 1.645 * pstdev(apart(n)),
        "times π": lambda n: pi * (fmean(apart(n)) + 1.96 * stdev(apart(n))),
        "the mean": lambda n: fmean(apart(n)),
    },
    "limits-for-single-readings": {
        "plainly added": lambda n: 1.96 * (
            n.differences_sd_cm + n.tape_repeat_cm + n.caliper_repeat_cm
        ),
        "repeats alone": lambda n: 1.96 * hypot(n.tape_repeat_cm, n.caliper_repeat_cm),
        "tape forgotten": lambda n: 1.96 * hypot(
            n.differences_sd_cm, n.caliper_repeat_cm / sqrt(2)
        ),
        "one side": lambda n: 1.645 * sqrt(
            n.differences_sd_cm**2 + (1 - 1 / n.reading_count) * n.tape_repeat_cm**2
            + n.caliper_repeat_cm**2 / 2
        ),
        "divided for both": lambda n: 1.96 * sqrt(
            n.differences_sd_cm**2 / n.reading_count
        ),
    },
}  # fmt: skip
