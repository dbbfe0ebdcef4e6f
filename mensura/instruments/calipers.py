"""Calipers: two parallel jaws read a width, the distance of two supporting lines.

One reading depends on its direction. Several are drawn together by a mean, and which mean is taken
matters: arithmetic, geometric and quadratic give three different areas from the same readings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import ChoiceError, FloatArray, MeasureError, diameter, number, plain, whole
from mensura.instruments.fault import JAWS, READING
from mensura.instruments.faults import settings_of
from mensura.instruments.tape import ROUNDINGS, rounded_cm
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import Section, widths_cm

MEANS = ("arithmetic", "geometric", "quadratic")

_CHECKED = settings_of(JAWS, READING)


@dataclass(frozen=True)
class CaliperReading:
    """What calipers told, and what each fault added to it.

    readings_cm: one for each direction, shape S + (k,); widths_cm: what sound calipers read, the
    same shape; breakdown: for each fault that is there, what it adds in cm, the same shape; they
    sum to readings_cm − widths_cm.
    """

    readings_cm: FloatArray
    widths_cm: FloatArray
    breakdown: dict[str, FloatArray]


@dataclass(frozen=True, eq=False)
class CalipersOnStem:
    """How calipers stand on a stem, in their own frame.

    The frame: the foot of the fixed jaw is its origin, the beam its first axis, the jaws stand
    along its second. outline_cm: the section's edge, shape (n, 2); axis_cm: ends of the section's
    first axis, shape (2, 2); foot_cm: of the sliding jaw, on the beam; touch_cm: where fixed jaw,
    sliding jaw and beam touch, shape (3, 2); mark_zero_cm, mark_step_cm: where the scale's 0
    stands, seen along the stem, and how far apart its centimetres are.
    """

    outline_cm: FloatArray
    axis_cm: FloatArray
    foot_cm: float
    touch_cm: FloatArray
    mark_zero_cm: float
    mark_step_cm: float


@dataclass(frozen=True)
class Calipers:
    """Calipers and their faults. As they stand, sound and as wide as any stem needs.

    zero_error_cm: what they read when closed; jaw_lean_deg: by how much play lets the sliding jaw
    lean outwards, above −90 and below 90, the stem lying against the beam; beam_slope_deg: of the
    beam against the plane square to the stem, above −90 and below 90; press_cm: how deep each jaw
    is pressed into soft bark; opening_cm: the widest they open, None for as wide as needed;
    resolution_cm: smallest step that is read, 0 for none; rounding: "nearest" or "down".
    Raises MeasureError for what cannot be.

    >>> from mensura.stems import Ellipse
    >>> Calipers().read(Ellipse(60, 48), [0, 90]).round(3)
    array([60., 48.])
    """

    zero_error_cm: float = 0.0
    jaw_lean_deg: float = 0.0
    beam_slope_deg: float = 0.0
    press_cm: float = 0.0
    opening_cm: float | None = None
    resolution_cm: float = 0.0
    rounding: str = "nearest"

    def __post_init__(self) -> None:
        for one in _CHECKED:
            object.__setattr__(self, one.field, one.check(getattr(self, one.field)))
        if self.rounding not in ROUNDINGS:
            raise ChoiceError("rounding", self.rounding, ROUNDINGS)

    def read(self, section: Section, directions_deg: ArrayLike) -> FloatArray:
        """Readings in cm, one for each direction of the measured width.

        section: any section, of shape S; directions_deg: k directions.
        Returns shape S + (k,). Raises MeasureError if they do not open far enough.
        """
        return self.reading(section, directions_deg).readings_cm

    def reading(self, section: Section, directions_deg: ArrayLike) -> CaliperReading:
        """Readings with what each fault added, in the order: pressing, lean, slope, zero, rounding.

        section: any section, of shape S; directions_deg: k directions.
        The sliding jaw's line leans; its foot on the beam is read, so the lean tells where the
        stem touches it. A beam that slopes by β passes the width w as w/cos β.

        >>> from mensura.stems import circle
        >>> leaning = Calipers(jaw_lean_deg=1.0).reading(circle(40), [0])
        >>> leaning.breakdown["jaw lean"].round(3)
        array([-0.346])
        """
        directions = np.atleast_1d(number(directions_deg, "directions_deg", "deg"))
        widths = widths_cm(section, directions)
        told, parts = widths, {}
        if self.press_cm:
            if 2 * self.press_cm >= widths.min():
                raise MeasureError("press_cm", self.press_cm, "cm", "less than half the stem")
            parts["pressing"] = np.full_like(told, -2 * self.press_cm)
            told = told + parts["pressing"]
        if self.jaw_lean_deg:
            parts["jaw lean"] = self._leaning(section, directions) - widths
            told = told + parts["jaw lean"]
        if self.beam_slope_deg:
            parts["beam slope"] = told / np.cos(np.radians(self.beam_slope_deg)) - told
            told = told + parts["beam slope"]
        if self.opening_cm is not None and told.max() > self.opening_cm:
            needed = np.ceil(told.max() * 100 - 1e-9) / 100  # rounded up, so that it is enough
            raise MeasureError(
                "opening_cm", self.opening_cm, "cm", f"calipers that open to {needed:g}"
            )
        if self.zero_error_cm:
            parts["zero error"] = np.full_like(told, self.zero_error_cm)
            told = told + parts["zero error"]
        if self.resolution_cm:
            parts["rounding"] = rounded_cm(told, self.resolution_cm, self.rounding) - told
            told = told + parts["rounding"]
        if told.min() <= 0:
            raise MeasureError("readings_cm", float(told.min()), "cm", "readings above 0")
        return CaliperReading(told, widths, parts)

    def on_stem(self, stem: Ellipse, direction_deg: float) -> CalipersOnStem:
        """How they stand on a stem whose width along one direction they measure, to be drawn.

        stem: a single ellipse; direction_deg: of the measured width. The beam lies against the
        stem; pressed bark gives way alike under both jaws. The foot is where :meth:`reading` has
        it before the slope, the zero and the rounding. Raises MeasureError as it does, and for an
        array of stems.

        >>> from mensura.stems import circle
        >>> Calipers(press_cm=0.1).on_stem(circle(40), 0.0).touch_cm.round(9).tolist()
        [[0.0, 20.0], [39.8, 20.0], [19.9, 0.0]]
        """
        if stem.shape:
            raise MeasureError("stem", str(stem.shape), "", "a single stem, not an array")
        turn = float(number(direction_deg, "direction_deg", "deg"))
        told = self.reading(stem, turn)
        parts = sum(float(told.breakdown.get(name, [0.0])[0]) for name in ("pressing", "jaw lean"))
        shift = np.array([stem.support_cm(turn + 180) - self.press_cm, stem.support_cm(turn - 90)])
        touch = _seen_along(stem.touching_cm(turn + np.array([180, -self.jaw_lean_deg, -90])), turn)
        touch = touch + shift
        # the bark gives way: the jaws stand inside the old edge
        touch[:2, 0] += self.press_cm, -self.press_cm
        half = stem.first_cm / 2
        step = float(np.cos(np.radians(self.beam_slope_deg)))
        return CalipersOnStem(
            outline_cm=_seen_along(stem.outline_cm(), turn) + shift,
            axis_cm=_seen_along(np.array([[-half, 0.0], [half, 0.0]]), turn) + shift,
            foot_cm=float(told.widths_cm[0]) + parts,
            touch_cm=touch,
            mark_zero_cm=-self.zero_error_cm * step,
            mark_step_cm=step,
        )

    def _leaning(self, section: Section, directions_deg: FloatArray) -> FloatArray:
        """Where the foot of the leaning jaw stands on the beam, less where the fixed jaw stands."""
        lean = np.radians(self.jaw_lean_deg)

        def reach(turn: float) -> FloatArray:
            return np.stack(
                [np.asarray(section.support_cm(float(d) + turn)) for d in directions_deg], axis=-1
            )

        foot = (reach(-self.jaw_lean_deg) - reach(-90.0) * np.sin(lean)) / np.cos(lean)
        return np.asarray(foot + reach(180.0))


def _seen_along(points_cm: FloatArray, turn_deg: float) -> FloatArray:
    """Points of the stem's frame in one whose first axis lies along `turn_deg`."""
    cosine, sine = np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))
    return np.asarray(points_cm @ np.array([[cosine, -sine], [sine, cosine]]))


def mean_cm(readings_cm: ArrayLike, kind: str = "arithmetic") -> Any:
    """Mean of the readings of each stem.

    readings_cm: shape (..., k), above 0, cm; kind: "arithmetic", "geometric" or "quadratic"
    (the root of the mean square). Returns cm, shape (...).
    Raises MeasureError for another kind.

    >>> [round(mean_cm([60, 48], kind), 4) for kind in MEANS]
    [54.0, 53.6656, 54.3323]
    """
    readings = np.atleast_1d(diameter(readings_cm, "readings_cm"))
    if not readings.shape[-1]:
        raise MeasureError("readings_cm", None, "cm", "at least one reading")
    if kind == "arithmetic":
        mean = readings.mean(axis=-1)
    elif kind == "geometric":
        mean = np.exp(np.log(readings).mean(axis=-1))
    elif kind == "quadratic":
        mean = np.sqrt((readings**2).mean(axis=-1))
    else:
        raise MeasureError("kind", kind, "", "one of: " + ", ".join(MEANS))
    return plain(mean)


def evenly_turned_deg(count: int, start_deg: float = 0.0) -> FloatArray:
    """Directions spread evenly over the half turn in which calipers can differ.

    count: how many, at least 1; start_deg: the first of them. Returns degrees, shape (count,).

    >>> evenly_turned_deg(2, 10).tolist()
    [10.0, 100.0]
    """
    whole_count = whole(count, "count", at_least=1, at_most=1_000_000)
    start = float(number(start_deg, "start_deg", "deg"))
    return np.linspace(start, start + 180.0, whole_count, endpoint=False, dtype=np.float64)


def lean_from_rod_deg(base_cm: ArrayLike, tips_cm: ArrayLike, apart_cm: ArrayLike) -> Any:
    """How far the sliding jaw leans outwards, from a rod held close to the beam and at the tips.

    base_cm, tips_cm: readings of the same rod in both places, at least 0, cm; apart_cm: how far the
    tips are from the base, above 0, cm; they broadcast. Returns degrees; below 0 for inwards.
    The jaw's foot is what the scale sees: tan φ is the difference over the distance (by hand).

    >>> round(lean_from_rod_deg(20.2, 19.7, 36.0), 2)
    0.8
    """
    base = np.asarray(number(base_cm, "base_cm", "cm", at_least=0.0))
    tips = np.asarray(number(tips_cm, "tips_cm", "cm", at_least=0.0))
    apart = np.asarray(number(apart_cm, "apart_cm", "cm", above=0.0))
    return plain(np.degrees(np.arctan((base - tips) / apart)))
