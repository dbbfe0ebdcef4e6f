"""The cut-end panel's numbers: calipers turned round a real outline, by one practice or another.

The discs are invented and lie in `data/`. What a practice makes of a disc in every direction is
worked out once for each disc; a turn of the calipers asks for one direction only.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

import numpy as np

from mensura.checks import FloatArray, MeasureError, kept
from mensura.estimates.comparison import PRACTICES
from mensura.estimates.cut_end import CutEnd, cut_end, practice_over_percent
from mensura.instruments.calipers import evenly_turned_deg
from mensura.places import data_file
from mensura.stems.end_widths import HullWidths
from mensura.stems.outline_file import read_outline
from mensura.teaching.controls import Choice, Control, State

#: Each disc as it is chosen: its file, its wood's file if it has bark, and where its pith lies, cm.
DISCS: Mapping[str, tuple[str, str, tuple[float, float]]] = MappingProxyType(
    {
        "disc 15, hollow on one side": ("quillmere-disc-15.csv", "", (0.0, 0.0)),
        "disc 02, oval": ("quillmere-disc-02.csv", "", (0.0, 0.0)),
        "disc 07, oval with two hollows": ("quillmere-disc-07.csv", "", (0.0, 0.0)),
        "disc 18, cut low, five lobes": ("quillmere-disc-18.csv", "", (0.0, 0.0)),
        "disc 17, thick bark": (
            "quillmere-disc-17.csv",
            "quillmere-disc-17-wood.csv",
            (27.0, 26.0),
        ),
    }
)

#: Each practice as it is chosen, and its name.
PRACTICE_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "two, arithmetic mean": "two-arithmetic",
        "one reading": "one",
        "two, product": "two-geometric",
        "two, quadratic mean": "two-quadratic",
        "18 directions, mean": "many-arithmetic",
    }
)

CONTROLS = (Control("direction_deg", "first width at", "°", 0, 180, 1, 30, "Calipers", whole=True),)
CHOICES = (
    Choice("disc", "disc", "Cut end", tuple(DISCS)),
    Choice("practice", "practice", "Calipers", tuple(PRACTICE_NAMES)),
)

#: Two people with the same disc and the same practice: the luckiest way to begin, and the worst.
LUCKY: State = {"disc": "disc 15, hollow on one side", "direction_deg": 61}
UNLUCKY: State = {"disc": "disc 15, hollow on one side", "direction_deg": 1}
ALIKE: State = {"disc": "disc 02, oval", "practice": "two, product", "direction_deg": 25}

#: How far the calipers stand off the stem's edge, and how far beam and jaws reach beyond it, cm.
_CLEAR_CM, _BEYOND_CM, _TIP_CM = 0.5, 2.5, 5.0
#: Half of a piece of a jaw: of one other width, and of many.
_PIECE_CM, _SHORT_PIECE_CM = 4.0, 1.0
#: Years' rings that are drawn, as parts of the way from the pith.
_RINGS = (0.18, 0.36, 0.54, 0.7, 0.84, 0.94)


@dataclass(frozen=True)
class Disc:
    """One of the discs, worked out.

    cut: what tape and calipers make of it; widths: of its outline; middle_cm: of what is drawn;
    rings_cm: lines that are drawn in it, parted by nan, shape (n, 2), cm; no rings were measured.
    """

    cut: CutEnd
    widths: HullWidths
    middle_cm: FloatArray
    rings_cm: FloatArray


@dataclass(frozen=True)
class CutEndShown:
    """All that the panel shows of one disc in one direction.

    name: of the disc; disc: worked out; practice: its name; direction_deg: of the first width;
    readings_cm: of the practice's widths; over_percent: of every practice begun here, by its name;
    first_jaws_cm: the calipers on the first width, other_jaws_cm: jaws alone on the others, as
    lines parted by nan, shape (n, 2), cm.
    """

    name: str
    disc: Disc
    practice: str
    direction_deg: int
    readings_cm: FloatArray
    over_percent: Mapping[str, float]
    first_jaws_cm: FloatArray
    other_jaws_cm: FloatArray

    @property
    def now_percent(self) -> float:
        """The chosen practice's error of the area here, per cent."""
        return self.over_percent[self.practice]

    @property
    def nearer(self) -> str:
        """Which is nearer here, "tape", "calipers" or "" for as near as can be told."""
        lead = abs(self.now_percent) - abs(self.disc.cut.tape_over_percent)
        if abs(lead) < 0.005:
            return ""
        return "tape" if lead > 0 else "calipers"


@cache
def disc_named(name: str) -> Disc:
    """One of the discs to choose from.

    name: one of DISCS. Raises MeasureError for another.

    >>> round(disc_named("disc 02, oval").cut.tape_over_percent, 2)
    1.0
    """
    if name not in DISCS:
        raise MeasureError("disc", name, "", "one of: " + "; ".join(DISCS))
    file, wood_file, pith = DISCS[name]
    outline = read_outline(data_file(file))
    wood = read_outline(data_file(wood_file)) if wood_file else None
    points = outline.outline_cm()
    return Disc(
        cut=cut_end(outline, 1.0, pith, wood),
        widths=HullWidths(outline),
        middle_cm=kept((points.max(axis=0) + points.min(axis=0)) / 2),
        rings_cm=kept(_rings_cm((wood or outline).outline_cm(), np.array(pith))),
    )


def _rings_cm(edge_cm: FloatArray, pith_cm: FloatArray) -> FloatArray:
    """Rings as one might draw them: round near the pith, and more and more like the edge."""
    some = edge_cm[:: max(1, len(edge_cm) // 90)]
    off = np.vstack([some, some[:1]]) - pith_cm
    radii = np.hypot(*off.T)[:, None]
    nothing = np.full((1, 2), np.nan)
    rings = []
    for part in _RINGS:
        radius = part * (radii.mean() + part * (radii - radii.mean()))
        rings += [pith_cm + off / radii * radius, nothing]
    return np.vstack(rings)


def jaws_cm(hull_cm: FloatArray, direction_deg: float, piece_cm: float = 0.0) -> FloatArray:
    """Calipers on the hull of a section, as lines parted by nan.

    hull_cm: its corners, shape (n, 2); direction_deg: of the measured width; piece_cm: 0 for
    the whole, with the beam along the section, else how far a mere piece of each jaw reaches to
    both sides of where it touches. Returns shape (m, 2).

    >>> square = np.array([[0, 0], [40, 0], [40, 40], [0, 40.0]])
    >>> jaws_cm(square, 0.0)[[3, 6]].round(1).tolist()
    [[-0.5, -2.0], [40.5, -2.0]]
    """
    turn = np.radians(direction_deg)
    along = np.array([np.cos(turn), np.sin(turn)])
    across = np.array([-along[1], along[0]])
    reach, side = hull_cm @ along, hull_cm @ across
    near, far = reach.min() - _CLEAR_CM, reach.max() + _CLEAR_CM
    touch = side[[int(reach.argmin()), int(reach.argmax())]]
    nothing = [np.nan, np.nan]
    if not piece_cm:
        back, tip = side.min() - 2.0, touch.max() + _TIP_CM
        rows = [[near - _BEYOND_CM, back], [far + _BEYOND_CM, back], nothing]
        rows += [[near, back], [near, tip], nothing, [far, back], [far, tip]]
    else:
        rows = [[near, touch[0] - piece_cm], [near, touch[0] + piece_cm], nothing]
        rows += [[far, touch[1] - piece_cm], [far, touch[1] + piece_cm]]
    places = np.array(rows)
    return np.asarray(places[:, :1] * along + places[:, 1:] * across)


def numbers(disc: str, practice: str, direction_deg: int) -> CutEndShown:
    """What the panel shows for a state of its controls.

    disc: one of DISCS; practice: one of PRACTICE_NAMES; direction_deg: of the first width.

    >>> shown = numbers("disc 02, oval", "two, product", 23)
    >>> shown.nearer, round(shown.now_percent, 2)
    ('calipers', 0.13)
    """
    chosen, name = disc_named(disc), PRACTICE_NAMES[practice]
    turns = evenly_turned_deg(PRACTICES[name][0], direction_deg)
    true = chosen.cut.true_area_cm2
    over = {
        one: float(practice_over_percent(chosen.widths, one, direction_deg, true))
        for one in PRACTICES
    }
    hull = chosen.cut.outline.hull_cm
    nothing = np.full((1, 2), np.nan)
    others: list[Any] = [nothing]
    piece = _PIECE_CM if len(turns) == 2 else _SHORT_PIECE_CM
    for turn in turns[1:]:
        others += [jaws_cm(hull, float(turn), piece), nothing]
    return CutEndShown(
        name=disc,
        disc=chosen,
        practice=name,
        direction_deg=direction_deg,
        readings_cm=chosen.widths.widths_cm(turns),
        over_percent=MappingProxyType(over),
        first_jaws_cm=jaws_cm(hull, float(direction_deg)),
        other_jaws_cm=np.vstack(others),
    )
