"""What a stem in space may have: a swelling, the lobes of a buttress, a fork.

Each is checked on creation and says what it does to a section at a place along the stem; where the
stem stands and how it is cut is :mod:`mensura.stems.standing`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.checks import MeasureError, diameter, number, plain, whole


@dataclass(frozen=True)
class Swelling:
    """A stem thicker, or thinner, over a short piece: a whorl, a canker, a wound.

    at_m: its middle, along the stem, at least 0; percent: by how much it changes the diameter
    there, above −90 and at most 200; reach_m: how far up and down it goes, above 0.
    Its shape is a cosine's square, gone at its reach: assumed.
    """

    at_m: float
    percent: float
    reach_m: float = 0.25

    def __post_init__(self) -> None:
        number(self.at_m, "swelling_at_m", "m", at_least=0.0, at_most=60.0)
        number(self.percent, "swelling_percent", "%", above=-90.0, at_most=200.0)
        number(self.reach_m, "swelling_reach_m", "m", above=0.0, at_most=10.0)

    def factor(self, along_m: Any) -> Any:
        """What the diameter is multiplied by at a place.

        along_m: along the stem, m.

        >>> Swelling(1.3, 8).factor(1.3)
        1.08
        """
        off = np.minimum(np.abs(np.asarray(along_m) - self.at_m) / self.reach_m, 1.0)
        return plain(1.0 + self.percent / 100 * np.cos(np.pi / 2 * off) ** 2)


@dataclass(frozen=True)
class Buttress:
    """Lobes at the foot of a stem that fade with height.

    lobes: how many, 2 to 12; reach_cm: how far they stand off at the ground, above 0; top_m: the
    height along the stem at which they are gone, above 0; first_deg: azimuth of the first.
    A lobe is ((1 + cos kφ)/2)⁴ of its reach and fades with the square of what is left of its
    height: assumed.
    """

    lobes: int
    reach_cm: float
    top_m: float
    first_deg: float = 0.0

    def __post_init__(self) -> None:
        whole(self.lobes, "buttress_lobes", at_least=2, at_most=12)
        number(self.reach_cm, "buttress_reach_cm", "cm", above=0.0, at_most=500.0)
        number(self.top_m, "buttress_top_m", "m", above=0.0, at_most=30.0)

    def reach_at_cm(self, along_m: Any, azimuth_rad: Any) -> Any:
        """How far the stem stands off there, in cm.

        along_m: along the stem, m; azimuth_rad: round it; they broadcast.
        """
        left = np.clip(1.0 - np.asarray(along_m) / self.top_m, 0.0, None)
        lobe = ((1 + np.cos(self.lobes * (azimuth_rad - np.radians(self.first_deg)))) / 2) ** 4
        return self.reach_cm * np.minimum(left, 1.0) ** 2 * lobe


@dataclass(frozen=True)
class Fork:
    """Where one stem becomes two, side by side in the plane of the lean.

    at_m: along the stem, at least 0; leg_diameters_cm: of the legs where they are measured, the
    one towards the lean first; gap_cm: between them at the fork, at least 0; spread_deg: by how
    much each turns away from the stem's axis, from 0 and below 60. Legs are taken as cylinders: a
    taper or a swelling is the stem's below its fork.
    """

    at_m: float
    leg_diameters_cm: tuple[float, float]
    gap_cm: float = 0.0
    spread_deg: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        number(self.at_m, "fork_at_m", "m", at_least=0.0, at_most=60.0)
        if np.shape(self.leg_diameters_cm) != (2,) or np.shape(self.spread_deg) != (2,):
            raise MeasureError("leg_diameters_cm", str(self.leg_diameters_cm), "", "two legs")
        for leg in self.leg_diameters_cm:
            diameter(leg, "leg_diameters_cm")
        number(self.gap_cm, "leg_gap_cm", "cm", at_least=0.0, at_most=500.0)
        for spread in self.spread_deg:
            number(spread, "leg_spread_deg", "deg", at_least=0.0, below=60.0)
