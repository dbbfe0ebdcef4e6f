"""The girth tape: the length of the band as it lies, told in the marks of that band.

First the lay (:mod:`mensura.instruments.lay`) says how long the band's way is. Then the band's own
condition turns that length into marks:

    marks = (way + π·t) / ((1 + s)(1 − k)(1 + α·ΔT)(1 + ΔP/EA)) + worn

with t the thickness (the neutral line lies half a thickness outside the bark), s the stretch, k
what it has shrunk by, α the expansion, ΔT the warmth above the reference, ΔP the pull above the
reference pull, EA the band's stiffness, and the worn part of a start that is held as zero. At last
it is rounded. Assumed: the same stretch, warmth and pull all along. The pull is so on a smooth
post; on bark friction takes a part of it (:func:`mensura.instruments.materials.pull_share`).
Stretch, shrinking and worn start: common practice, no source; temperature and pull: as in
surveying.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from mensura.checks import ChoiceError, MeasureError, plain
from mensura.instruments.fault import BAND, READING
from mensura.instruments.faults import settings_of
from mensura.instruments.lay import LEVEL, Lay
from mensura.instruments.materials import REFERENCE_C, REFERENCE_N, known_expansion_per_c, material
from mensura.stems.section import Section

CM_PER_INCH = 2.54

#: What one unit of each scale means in centimetres of girth.
SCALES = {
    "girth, cm": 1.0,
    "girth, in": CM_PER_INCH,
    "diameter, cm": float(np.pi),
    "diameter, in": float(np.pi) * CM_PER_INCH,
}

ROUNDINGS = ("nearest", "down")

_CHECKED = settings_of(BAND, READING)


@dataclass(frozen=True)
class TapeReading:
    """What a tape told, and what each step added to it.

    reading_cm: girth as the band tells it, in cm; taut_girth_cm: what a sound, level tape reads;
    scale: name of the band's scale; marks: what the scale shows (in the scale's own unit);
    breakdown: for each fault that is there, what it adds in cm; they sum to reading_cm −
    taut_girth_cm.
    """

    reading_cm: Any
    taut_girth_cm: Any
    scale: str
    marks: Any
    breakdown: dict[str, Any] = field(default_factory=dict)

    @property
    def adds_cm(self) -> Any:
        """By how much the reading is too long, all its faults together, in cm; below 0: too short.

        >>> from mensura.stems import circle
        >>> round(Tape(worn_start_cm=0.5).read(circle(40), Lay(tilt_deg=5)).adds_cm, 3)
        0.74
        """
        return plain(np.asarray(self.reading_cm) - self.taut_girth_cm)

    @property
    def adds_percent(self) -> Any:
        """The same in per cent of what a sound, level tape reads."""
        return plain(100 * np.asarray(self.adds_cm) / self.taut_girth_cm)

    @property
    def tilt_adds_cm(self) -> Any:
        """How much the tilt adds to the girth, in cm; never below 0."""
        return self.breakdown.get("tilt", plain(np.zeros(np.shape(self.reading_cm))))


@dataclass(frozen=True)
class Tape:
    """A tape: its scale, and its condition. As it stands, sound.

    scale: one of SCALES (a diameter scale's marks are π times as far apart); stretch_percent: by
    how much its marks have moved apart, at least 0; shrink_percent: by how much they have moved
    together, at least 0 and below 100; worn_start_cm: how much of the start is worn off while its
    end is held as zero, at least 0; thickness_cm: of the band, at least 0;
    temperature_c, reference_c: of the band, and where its length holds; material: one of
    MATERIALS; expansion_per_c: per °C, the material's if None; pull_n, reference_pull_n: all
    along it, in newtons; stiffness_n: EA, the pull that would double its length if it could, in
    newtons; resolution_cm: smallest step that is read, 0 for none; rounding: "nearest" or "down".
    Numbers or arrays that broadcast. Raises MeasureError for what cannot be.

    >>> from mensura.stems import circle
    >>> round(Tape("diameter, cm").read(circle(40)).marks, 6)
    40.0
    """

    scale: str = "girth, cm"
    stretch_percent: Any = 0.0
    shrink_percent: Any = 0.0
    worn_start_cm: Any = 0.0
    thickness_cm: Any = 0.0
    temperature_c: Any = None
    reference_c: Any = REFERENCE_C
    material: str | None = None
    expansion_per_c: Any = None
    pull_n: Any = None
    reference_pull_n: Any = REFERENCE_N
    stiffness_n: Any = None
    resolution_cm: Any = 0.0
    rounding: str = "nearest"

    def __post_init__(self) -> None:
        if self.scale not in SCALES:
            raise MeasureError("scale", self.scale, "", "one of: " + "; ".join(SCALES))
        if self.rounding not in ROUNDINGS:
            raise ChoiceError("rounding", self.rounding, ROUNDINGS)
        for one in _CHECKED:
            object.__setattr__(self, one.field, one.check(getattr(self, one.field)))
        self._check_expansion()
        self._check_pull()

    def _check_expansion(self) -> None:
        expansion = self.expansion_per_c
        if self.material is not None:
            known = material(self.material)
            if expansion is None and self.temperature_c is not None:
                expansion = known_expansion_per_c(self.material)
            elif expansion is None:
                expansion = known.expansion_per_c
        if self.temperature_c is not None and expansion is None:
            raise MeasureError(
                "expansion_per_c", None, "", "a number, or a material, beside a temperature"
            )
        object.__setattr__(self, "expansion_per_c", expansion)

    def _check_pull(self) -> None:
        if self.pull_n is None:
            return
        if self.stiffness_n is None:
            raise MeasureError("stiffness_n", None, "N", "a number above 0, beside a pull")
        if np.any(self._pulled <= 0):
            raise MeasureError("pull_n", self.pull_n, "N", "a pull that this stiffness can bear")

    @property
    def _warmed(self) -> Any:
        if self.temperature_c is None:
            return 1.0
        return 1 + self.expansion_per_c * (np.asarray(self.temperature_c) - self.reference_c)

    @property
    def _pulled(self) -> Any:
        if self.pull_n is None:
            return 1.0
        return 1 + (np.asarray(self.pull_n) - self.reference_pull_n) / self.stiffness_n

    @property
    def _stretched(self) -> Any:
        return 1 + self.stretch_percent / 100

    @property
    def _shrunk(self) -> Any:
        return 1 - self.shrink_percent / 100

    def marks_cm(self, way_cm: Any) -> tuple[Any, dict[str, Any]]:
        """What the band tells of a way round, and what each part of its condition adds.

        way_cm: length of the band's way along the bark, cm. Returns cm (before rounding to the
        scale's own unit), and cm for each fault that is there.

        >>> told, parts = Tape(stretch_percent=100 * 30 / 70).marks_cm(100.0)
        >>> round(told, 10)
        70.0
        """
        parts, told = {}, way_cm
        if np.any(self.thickness_cm):
            parts["thickness"] = np.pi * self.thickness_cm + 0 * told
            told = told + parts["thickness"]
        for name, factor in (
            ("temperature", self._warmed),
            ("pull", self._pulled),
            ("stretch", self._stretched),
            ("shrinking", self._shrunk),
        ):
            if np.any(np.asarray(factor) != 1.0):
                parts[name] = told / factor - told
                told = told / factor
        if np.any(self.worn_start_cm):
            parts["worn start"] = self.worn_start_cm + 0 * told
            told = told + self.worn_start_cm
        if np.any(self.resolution_cm):
            parts["rounding"] = rounded_cm(told, self.resolution_cm, self.rounding) - told
            told = told + parts["rounding"]
        return plain(told), {name: plain(part) for name, part in parts.items()}

    def way_cm(self, reading_cm: Any) -> Any:
        """The way round that a reading came from: :meth:`marks_cm` undone, but for the rounding.

        reading_cm: as the band told it, cm. Returns cm.

        >>> round(Tape(stretch_percent=2.0, worn_start_cm=0.5).way_cm(100.0), 3)
        101.49
        """
        told = (reading_cm - self.worn_start_cm) * self._shrunk * self._stretched
        return plain(told * self._pulled * self._warmed - np.pi * self.thickness_cm)

    def read(self, section: Section, lay: Lay = LEVEL) -> TapeReading:
        """The tape's reading on a section.

        section: any section, one or many; lay: how the tape lies on it.

        >>> from mensura.stems import Ellipse
        >>> reading = Tape().read(Ellipse(60, 48), Lay(tilt_deg=10))
        >>> round(reading.reading_cm, 3), round(reading.tilt_adds_cm, 3)
        (171.703, 1.533)
        """
        girth = section.taut_girth_cm
        breakdown = lay.shares_cm(section)
        way = girth + sum(breakdown.values()) if breakdown else girth
        told, condition = self.marks_cm(way)
        breakdown |= condition
        if np.any(np.asarray(told) <= 0):
            raise MeasureError("reading_cm", float(np.min(told)), "cm", "a reading above 0")
        shape = np.broadcast_shapes(np.shape(told), lay.shape)
        told = told if np.shape(told) == shape else np.broadcast_to(told, shape).copy()
        return TapeReading(told, girth, self.scale, told / SCALES[self.scale], breakdown)


def rounded_cm(told_cm: Any, resolution_cm: Any, rounding: str = "nearest") -> Any:
    """A reading as it is written down: in whole steps, to the nearest or downwards.

    told_cm: as it stands, cm; resolution_cm: 0 for no rounding, else the step, cm; rounding: one of
    ROUNDINGS. A hair below a mark counts as on it: 126.3 is 1263 steps of 0.1, not 1262.9999.

    >>> rounded_cm(20.96, 0.5), rounded_cm(20.96, 0.5, "down"), rounded_cm(20.96, 0.0)
    (21.0, 20.5, 20.96)
    """
    stepped = np.asarray(resolution_cm) > 0
    step = np.where(stepped, resolution_cm, 1.0)
    half = 0.0 if rounding == "down" else 0.5
    steps = np.floor(told_cm / step + half + 1e-9)
    return plain(np.where(stepped, steps * step, told_cm))
