"""Points along a log to its volume: every rule is a sum of areas, each times a length.

Huber's rule takes the middle's area, Smalian's the two ends', Newton's all three, and by sections
each area stands for half the way to its neighbours. So one error of a reading moves a volume by its
weight alone, and errors that all logs share are kept apart from those that are new each time:
the first add up over many logs, the others average out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, pi, sqrt

import numpy as np

from mensura.checks import LARGEST_CM, FloatArray, MeasureError, number
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.estimates.logs import LONGEST_M

#: The rules, in the order in which they are told; Smalian's and by sections need no middle.
POINT_RULES = ("huber", "smalian", "newton", "quarter_girth", "by_sections")

#: A section counts as the middle one within this share of the length, in per cent.
MIDDLE_PERCENT = 1.0

#: Inputs whose error is of one reading; with "tree" it is new at each point of a log.
AT_A_POINT = ("instrument", "hand")


@dataclass(frozen=True)
class LogPoints:
    """A log, measured at points along it, in their order.

    log: its code; at_m: where each section lies, rising, from 0 to 150 m, at least two; reading_cm:
    girth or diameter there, over bark where bark_cm is given, above 0 (0 at an end that is a tip);
    girth: whether readings are girths; bark_cm: thickness of the bark on one side at each point, or
    None. The log reaches from its first point to its last. Takes each section for a circle.
    Raises MeasureError.

    >>> LogPoints("L1", (0.3, 2.8, 5.3), (138.23, 125.66, 113.10), True).length_m
    5.0
    """

    log: str
    at_m: tuple[float, ...]
    reading_cm: tuple[float, ...]
    girth: bool
    bark_cm: tuple[float, ...] | None = None

    def __post_init__(self) -> None:
        at = np.asarray(number(list(self.at_m), "at_m", "m", at_least=0.0, at_most=LONGEST_M))
        most = LARGEST_CM * (pi if self.girth else 1.0)
        read = number(list(self.reading_cm), "reading_cm", "cm", at_least=0.0, at_most=most)
        if at.size < 2:
            raise MeasureError("at_m", at.size, "", "two points along a log or more")
        if np.shape(read) != at.shape:
            raise MeasureError("reading_cm", np.size(read), "", f"one at each of {at.size} points")
        if not (np.diff(at) > 0).all():
            raise MeasureError("at_m", list(self.at_m), "m", "points that rise along the log")
        inner = np.asarray(read)[1:-1]
        if not (inner > 0).all() or not np.max(read) > 0:
            raise MeasureError("reading_cm", 0, "cm", "a number above 0 but at a tip")
        if self.bark_cm is None:
            return
        bark = np.asarray(number(list(self.bark_cm), "bark_cm", "cm", at_least=0.0))
        if bark.shape != at.shape:
            raise MeasureError("bark_cm", bark.size, "", f"one at each of {at.size} points")
        over = self.diameter_cm
        if not ((2 * bark < over) | ((over == 0) & (bark == 0))).all():
            raise MeasureError("bark_cm", float(bark.max()), "cm", "less than half the diameter")

    @property
    def length_m(self) -> float:
        """From the first point to the last."""
        # what was typed with few figures has no more of them as a difference
        return float(round(self.at_m[-1] - self.at_m[0], 9))

    @property
    def diameter_cm(self) -> FloatArray:
        """At each point as it was read, G/π from a girth; over bark where there is bark."""
        read = np.asarray(self.reading_cm, dtype=np.float64)
        return read / pi if self.girth else read

    @property
    def wood_diameter_cm(self) -> FloatArray:
        """At each point under bark, less twice its thickness; as read where none is told."""
        if self.bark_cm is None:
            return self.diameter_cm
        return np.asarray(self.diameter_cm - 2 * np.asarray(self.bark_cm))

    @property
    def middle(self) -> int | None:
        """Place of the section that lies in the middle within 1 % of the length, or None."""
        off = np.abs(np.asarray(self.at_m) - (self.at_m[0] + self.at_m[-1]) / 2)
        nearest = int(np.argmin(off))
        # a hair more, since 2.45 less 2.5 is not quite 0.05 in a computer
        near = off[nearest] <= MIDDLE_PERCENT / 100 * self.length_m * (1 + 1e-9)
        return nearest if near and 0 < nearest < len(self.at_m) - 1 else None


def rule_weights_m(points: LogPoints, rule: str) -> FloatArray | None:
    """How many metres of log each point's area stands for, by a rule; None without a middle.

    points: of a log; rule: one of POINT_RULES. By sections the area is taken to change in a
    straight line from point to point: Smalian's rule in each. The quarter-girth rule is Huber's
    times π/4. Raises MeasureError.

    >>> points = LogPoints("L1", (0, 3, 6), (44, 40, 36), False)
    >>> [rule_weights_m(points, rule).tolist() for rule in ("newton", "by_sections")]
    [[1.0, 4.0, 1.0], [1.5, 3.0, 1.5]]
    """
    if rule not in POINT_RULES:
        raise MeasureError("rule", rule, "", "one of " + ", ".join(POINT_RULES))
    weights = np.zeros(len(points.at_m))
    length = points.length_m
    if rule == "by_sections":
        steps = np.diff(points.at_m)
        weights[:-1] += steps / 2
        weights[1:] += steps / 2
        return weights
    if rule == "smalian":
        weights[[0, -1]] = length / 2
        return weights
    middle = points.middle
    if middle is None:
        return None
    if rule == "newton":
        weights[[0, -1]] = length / 6
        weights[middle] = 2 * length / 3
    else:
        weights[middle] = length * (pi / 4 if rule == "quarter_girth" else 1.0)
    return weights


@dataclass(frozen=True)
class RuleVolume:
    """A volume by one rule, and how unsure the readings leave it.

    volume_m3: the volume; common_m3: what one standard uncertainty of each error that all logs
    share does to it, with its sign, in the order of the errors; new_m3: standard uncertainty from
    all that is new for each log or reading.
    """

    volume_m3: float
    common_m3: tuple[float, ...]
    new_m3: float

    @property
    def u_common_m3(self) -> float:
        """Standard uncertainty from errors that all logs share."""
        return sqrt(sum(one * one for one in self.common_m3))

    @property
    def u_m3(self) -> float:
        """Standard uncertainty from both; of the readings, not of the rule."""
        return hypot(self.u_common_m3, self.new_m3)


@dataclass(frozen=True)
class LogVolumes:
    """A log's volumes: by each rule of POINT_RULES, None where it needs a middle that is not there.

    points: of the log; as_read: from the readings as they are, over bark where there is bark; wood:
    under bark, None where no bark is told.
    """

    points: LogPoints
    as_read: dict[str, RuleVolume | None]
    wood: dict[str, RuleVolume | None] | None


def log_volumes(points: LogPoints, errors: Sequence[InputError] = DEFAULTS) -> LogVolumes:
    """A log's volume by every rule, over and under bark, with the errors of the readings.

    points: of the log; errors: of the inputs; those of no part in a log (height, form factor, plot
    area) are passed over. To first order in the errors [GUM1995, clause 5]. An error with the scope
    "tree" is new at each point for instrument and hand, and one for a whole log for shape, bark and
    length; "plot" and "all" are one for all logs. What the stem does between its points is in no
    uncertainty. Raises MeasureError.

    >>> points = LogPoints("L1", (0, 2.5, 5), (44, 40, 36), False)
    >>> found = log_volumes(points, [InputError("length", 1.0, "%", "tree")]).as_read["newton"]
    >>> round(found.volume_m3, 4), round(found.u_m3, 6)
    (0.6304, 0.006304)
    """
    as_read: dict[str, RuleVolume | None] = {}
    wood: dict[str, RuleVolume | None] = {}
    for rule in POINT_RULES:
        weights = rule_weights_m(points, rule)
        as_read[rule] = None if weights is None else _volume(points, weights, errors, False)
        if points.bark_cm is not None:
            wood[rule] = None if weights is None else _volume(points, weights, errors, True)
    return LogVolumes(points, as_read, wood or None)


def sum_of_logs(volumes: Sequence[RuleVolume]) -> RuleVolume:
    """Several logs' volumes by one rule together: common errors add up, new ones by their squares.

    volumes: one a log, at least one, with the same errors.

    >>> one = RuleVolume(1.0, (0.01,), 0.01)
    >>> total = sum_of_logs([one] * 100)
    >>> round(total.u_common_m3, 6), round(total.new_m3, 6)
    (1.0, 0.1)
    """
    if not volumes:
        raise MeasureError("volumes", 0, "", "one log or more")
    return RuleVolume(
        sum(one.volume_m3 for one in volumes),
        tuple(map(sum, zip(*(one.common_m3 for one in volumes), strict=True))),
        sqrt(sum(one.new_m3**2 for one in volumes)),
    )


def between_points_percent(points: LogPoints, under_bark: bool = False) -> float:
    """By how much less a stem has by sections if its sides, not its areas, run straight.

    points: of a log; under_bark: whether of the wood. Each section is then a cone's: Smalian's rule
    has π/24·(d₁ − d₂)²·L more than it, closed form. Returns per cent of the volume by sections, at
    least 0: what is not known between the points is of this size.

    >>> round(between_points_percent(LogPoints("L1", (0, 5), (44, 36), False)), 3)
    0.66
    """
    across = points.wood_diameter_cm if under_bark else points.diameter_cm
    steps, areas = np.diff(points.at_m), np.square(across)
    # both in the same unit: π/40 000 is left out
    volume = (steps * (areas[1:] + areas[:-1])).sum() / 2
    return float(100 * (np.square(np.diff(across)) * steps).sum() / 6 / volume)


def _volume(
    points: LogPoints, weights_m: FloatArray, errors: Sequence[InputError], wood: bool
) -> RuleVolume:
    """Σ of each weight times its area, and what each error does to it."""
    over = points.diameter_cm
    across = points.wood_diameter_cm if wood else over
    volume = float((weights_m * pi / 40000 * np.square(across)).sum())
    slopes = weights_m * pi / 20000 * across  # m³ for each cm of diameter
    common: list[float] = []
    new = 0.0
    for one in errors:
        moved = _moved(points, one, over, wood)
        if one.name == "length":
            effects = np.array([volume * _share_of(one, points.length_m)])
        elif moved is None:
            effects = np.zeros(1)  # in its place all the same, so that logs can be added up
        else:
            effects = slopes * moved
        if one.scope != "tree":
            common.append(float(effects.sum()))
        elif one.name in AT_A_POINT:
            new += float(np.square(effects).sum())
        else:
            new += float(effects.sum()) ** 2
    return RuleVolume(volume, tuple(common), sqrt(new))


def _share_of(one: InputError, length_m: float) -> float:
    return one.u / 100 if one.unit == "%" else one.u / length_m


def _moved(
    points: LogPoints, one: InputError, over_cm: FloatArray, wood: bool
) -> FloatArray | None:
    """By how many cm one standard uncertainty moves each diameter; None if it has no part in it."""
    if one.name == "bark":
        if not wood or points.bark_cm is None:
            return None
        bark = np.asarray(points.bark_cm)
        return np.asarray(-2 * (bark * one.u / 100 if one.unit == "%" else bark * 0 + one.u))
    if one.name not in (*AT_A_POINT, "shape"):
        return None
    if one.unit == "%":
        return np.asarray(over_cm * one.u / 100)
    return np.full(over_cm.size, one.u / pi if points.girth else one.u)
