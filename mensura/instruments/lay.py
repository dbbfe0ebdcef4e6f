"""How a tape lies on a stem, and how long the band is that lies so.

The faults are taken in the order of :mod:`mensura.instruments.faults`, and each says what it adds.
Shares depend on the order; their sum does not. Tilt, wander and overlap are one curve on the
unrolled cylinder over the convex hull, and its length is integrated. The band is held where it lies
by friction (our assumption).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from mensura.checks import FloatArray, MeasureError, plain
from mensura.instruments.fault import LAY
from mensura.instruments.faults import faults_of, settings_of
from mensura.stems.band_path import band_path
from mensura.stems.ellipse import Ellipse
from mensura.stems.section import Section

#: Stems taken through the integral at a time, so that memory stays small.
BATCH = 1024

_CHECKED, _FAULTS = settings_of(LAY), faults_of(LAY)


@dataclass(frozen=True)
class Lay:
    """How a tape lies on a stem. Numbers, or arrays that broadcast against the stems.

    tilt_deg: the angle between the band and the plane square to the stem's axis (on an upright
    stem that plane is level), above −90 and below 90; tilt_direction_deg: of steepest rise,
    anticlockwise from the stem's first axis; overlap_offset_cm: how far the two ends miss each
    other along the stem; wander_cm: from crest to trough; wander_waves: how many, 1 to 50 (one
    wave is a tilt, on a round stem exactly); slack_cm: band that hangs loose; twist_lift_cm: the
    stand-off of the band where it is twisted (a twist has no exact model: this a class can
    measure); knot_cm: height of a knot, a flake of bark or a swelling under the band;
    knot_width_cm: how wide its flat top is, along the bark, 0 for a point; climber_cm: diameter
    of a climber caught under it; climber_direction_deg: where; press_cm: how deep the band is
    pressed into soft bark; height_off_m: how far above breast height it lies, below 0 for lower;
    taper_cm_per_m: by how much the diameter falls with each metre of height.
    Raises MeasureError for what cannot be.

    >>> Lay(tilt_deg=10, tilt_direction_deg=0).faults
    ('tilt',)
    """

    tilt_deg: Any = 0.0
    tilt_direction_deg: Any = 0.0
    overlap_offset_cm: Any = 0.0
    wander_cm: Any = 0.0
    wander_waves: int = 2
    slack_cm: Any = 0.0
    twist_lift_cm: Any = 0.0
    knot_cm: Any = 0.0
    knot_width_cm: Any = 0.0
    climber_cm: Any = 0.0
    climber_direction_deg: Any = 0.0
    press_cm: Any = 0.0
    height_off_m: Any = 0.0
    taper_cm_per_m: Any = 0.0

    def __post_init__(self) -> None:
        for one in _CHECKED:
            object.__setattr__(self, one.field, one.check(getattr(self, one.field)))

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of lays; () for a single one."""
        return np.broadcast_shapes(*(np.shape(getattr(self, name)) for name in LAY_FIELDS))

    @property
    def faults(self) -> tuple[str, ...]:
        """Names of the faults that this lay has, in the order in which they are taken."""
        return tuple(one.key for one in _FAULTS if one.is_set(self))

    def shares_cm(self, section: Section) -> dict[str, Any]:
        """What each fault of the lay adds to the taut girth, in cm; only those that are there.

        section: any section; arrays of outlines only where the way round need not be integrated.
        Raises MeasureError where the height and the taper leave nothing of the stem.

        >>> from mensura.stems import circle
        >>> round(Lay(climber_cm=2.0).shares_cm(circle(40))["climber"], 4)
        1.1695
        """
        faults, shares = self.faults, {}
        girth = section.taut_girth_cm
        if (
            "height" in faults
            and not isinstance(section, Ellipse)
            and (self.shape or section.shape)
        ):
            return self._each(section, faults)  # an outline is scaled by one number
        if "height" in faults:
            factor = self.height_factor(girth)
            shares["height"] = plain(girth * (factor - 1))
            section, girth = section.scaled(factor), girth * factor
        if "pressing" in faults:
            shares["pressing"] = self._pressed(girth)
        lengths = self._lengths(section, faults)
        taut = lengths["climber"] if "climber" in faults else girth
        if "climber" in faults:
            shares["climber"] = plain(taut - girth)
        before = taut
        for name in ("tilt", "wander", "overlap"):
            if name in faults:
                shares[name] = plain(lengths[name] - before)
                before = lengths[name]
        for name, adds in _BY_ITSELF.items():
            if name in faults:
                shares[name] = plain(adds(self, taut) + np.zeros(np.shape(girth)))
        return {name: shares[name] for name in faults}

    def _each(self, section: Section, faults: tuple[str, ...]) -> dict[str, Any]:
        """Shares of each lay by itself, on a single stem."""
        _refuse_many(section)
        rows = np.broadcast_arrays(*(getattr(self, name) for name in LAY_FIELDS))
        settings: list[dict[str, Any]] = [
            dict(zip(LAY_FIELDS, map(float, row), strict=True))
            for row in zip(*(values.ravel() for values in rows), strict=True)
        ]
        each = [Lay(**setting).shares_cm(section) for setting in settings]
        return {
            fault: np.array([shares.get(fault, 0.0) for shares in each]).reshape(self.shape)
            for fault in faults
        }

    def height_factor(self, girth_cm: Any) -> Any:
        """How many times as thick as at breast height the stem is where the band lies.

        girth_cm: at breast height, cm; broadcasts against the lay. Returns a ratio.
        Raises MeasureError where the height and the taper leave nothing of the stem.

        >>> Lay(height_off_m=2.0, taper_cm_per_m=1.0).height_factor(40 * np.pi)
        0.95
        """
        diameter = girth_cm / np.pi
        thinner = diameter - self.taper_cm_per_m * np.asarray(self.height_off_m)
        if np.any(thinner <= 0):
            raise MeasureError(
                "height_off_m",
                float(np.max(self.height_off_m)),
                "m",
                "a height at which this taper leaves some stem",
            )
        return plain(thinner / diameter)

    def _pressed(self, girth_cm: Any) -> Any:
        if np.any(2 * np.pi * np.asarray(self.press_cm) >= girth_cm):
            raise MeasureError(
                "press_cm", float(np.max(self.press_cm)), "cm", "less than the stem's radius"
            )
        return plain(-2 * np.pi * self.press_cm + np.zeros(np.shape(girth_cm)))

    def _lengths(self, section: Section, faults: tuple[str, ...]) -> dict[str, Any]:
        """Length of the band after the climber, the tilt, the wander, the overlap, in cm."""
        wanted: list[str] = [
            name for name in ("climber", "tilt", "wander", "overlap") if name in faults
        ]
        if not wanted:
            return {}
        if wanted == ["tilt"]:
            return {"tilt": section.oblique_girth_cm(self.tilt_deg, self.tilt_direction_deg)}
        names = [
            "tilt_deg", "tilt_direction_deg", "overlap_offset_cm", "wander_cm", "wander_waves",
            "climber_cm", "climber_direction_deg",
        ]  # fmt: skip
        values = [np.asarray(getattr(self, name), dtype=np.float64) for name in names]
        shape = np.broadcast_shapes(section.shape, *(value.shape for value in values))
        if not shape or not isinstance(section, Ellipse):
            return self._one_by_one(section, names, values, shape, wanted)
        flat = [np.broadcast_to(value, shape).ravel() for value in values]
        axes = [
            np.broadcast_to(axis, shape).ravel() for axis in (section.first_cm, section.second_cm)
        ]
        total = int(np.prod(shape))
        parts: list[dict[str, Any]] = []
        # a batch takes the nodes of its steepest waves: like goes with like
        waves = dict(zip(names, flat, strict=True))
        order = np.argsort(waves["wander_cm"] * waves["wander_waves"] ** 2 / (axes[0] + axes[1]))
        # glibc keeps smaller blocks once a large one was given back: a quarter of the time
        np.empty(2 * 1024 * BATCH)
        for start in range(0, total, BATCH):
            rows = order[start : start + BATCH]
            stems = Ellipse(axes[0][rows], axes[1][rows])
            settings = dict(zip(names, (value[rows] for value in flat), strict=True))
            parts.append(_integrate(stems, settings, wanted))
        back = np.argsort(order)
        return {
            name: np.concatenate([part[name] for part in parts])[back].reshape(shape)
            for name in wanted
        }

    @staticmethod
    def _one_by_one(
        section: Section,
        names: list[str],
        values: list[FloatArray],
        shape: tuple[int, ...],
        wanted: list[str],
    ) -> dict[str, Any]:
        """A single stem, under one lay or under many."""
        _refuse_many(section)
        flat = [np.broadcast_to(value, shape).ravel() for value in values]
        results = [
            _integrate(section, dict(zip(names, map(float, row), strict=True)), wanted)
            for row in zip(*flat, strict=True)
        ]
        return {
            name: plain(np.array([result[name] for result in results]).reshape(shape))
            for name in wanted
        }


def _refuse_many(section: Section) -> None:
    if section.shape:
        raise MeasureError(
            "section", str(section.shape), "", "a single outline, or an array of ellipses"
        )


def _integrate(section: Section, lay: dict[str, Any], wanted: list[str]) -> dict[str, Any]:
    most, steepest = 1, 0.0
    if "wander" in wanted:
        most = int(np.max(lay["wander_waves"]))
        rises = np.pi * lay["wander_cm"] * lay["wander_waves"] / section.taut_girth_cm
        steepest = float(np.max(rises))
    path = band_path(section, lay["climber_cm"], lay["climber_direction_deg"], most, steepest)
    lengths = {"climber": path.length_cm}
    whole = np.asarray(path.length_cm)[..., None]
    rise: FloatArray = np.zeros_like(path.step_cm)
    for name in ("tilt", "wander", "overlap"):  # in place: fresh memory costs more than the sums
        if name not in wanted:
            continue
        if name == "tilt":
            angle = np.radians(np.asarray(lay["tilt_direction_deg"]))[..., None]
            rise += path.tangent[..., 0] * np.cos(angle)
            rise += path.tangent[..., 1] * np.sin(angle)
            rise *= np.tan(np.radians(np.asarray(lay["tilt_deg"])))[..., None]
        elif name == "wander":
            turn = 2 * np.pi * np.asarray(lay["wander_waves"])[..., None] / whole
            wave = path.along_cm * turn
            np.cos(wave, out=wave)
            wave *= np.asarray(lay["wander_cm"])[..., None] / 2 * turn
            rise += wave
        else:
            rise += np.asarray(lay["overlap_offset_cm"])[..., None] / whole
        lengths[name] = path.length_cm + _slope_adds_cm(path.step_cm, rise)
    return lengths


def _slope_adds_cm(step_cm: FloatArray, rise: FloatArray) -> Any:
    """By how much a rising way is longer, Σ(√(1 + z′²) − 1)ds; small slopes keep their digits."""
    square = rise * rise
    root = square + 1
    np.sqrt(root, out=root)
    root += 1
    square /= root
    return np.einsum("...k,...k->...", step_cm, square)


def lift_adds_cm(girth_cm: Any, lift_cm: Any, width_cm: Any = 0.0) -> Any:
    """What a thing that stands `lift_cm` off the bark adds to a taut band.

    girth_cm: taut girth; lift_cm: stand-off, at least 0; width_cm: of its flat top, along the
    bark, 0 for a point; all in cm, broadcast. Returns cm.
    Approximate: the stem is taken for the circle of that girth, and the top of a wide thing keeps
    its distance from the bark. From a point two tangents, less the arc they skip, 2√(2Re + e²) −
    2R·arccos(R/(R + e)); over a top of width b the band goes be/R further than along the bark.
    Raises MeasureError for a top so wide that the band meets no bark.

    >>> round(float(lift_adds_cm(125.66, 0.5)), 4), round(float(lift_adds_cm(125.66, 0.5, 10)), 4)
    (0.1474, 0.3974)
    """
    radius = np.asarray(girth_cm) / (2 * np.pi)
    lift, width = np.asarray(lift_cm), np.asarray(width_cm)
    tangent = np.sqrt(2 * radius * lift + lift**2)
    skipped = radius * np.arctan2(tangent, radius)
    if np.any((lift > 0) & (width + 2 * skipped > girth_cm)):
        raise MeasureError(
            "knot_width_cm", float(np.max(width)), "cm", "a top that leaves the band some bark"
        )
    return 2 * (tangent - skipped) + width * lift / radius


#: What adds to a taut band by itself, wherever else the band goes: from the lay and the length, cm.
_BY_ITSELF: dict[str, Callable[[Lay, Any], Any]] = {
    "knot": lambda lay, taut: lift_adds_cm(taut, lay.knot_cm, lay.knot_width_cm),
    "twist": lambda lay, taut: lift_adds_cm(taut, lay.twist_lift_cm),
    "slack": lambda lay, taut: lay.slack_cm,
}

#: A tape laid as it should be: square to the stem's axis, and so level on an upright stem.
LEVEL = Lay()

#: Every setting of a lay, in order.
LAY_FIELDS = tuple(field.name for field in fields(Lay))
