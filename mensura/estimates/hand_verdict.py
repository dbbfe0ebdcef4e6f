"""What is said of a hand or an instrument, and from which size on it is said.

One object for each hand and kind of reading, since a hand may be sound with tapes and read high
with calipers, and one for each instrument. The words of the verdicts are five: sound, reads-high,
reads-low, spreads, cannot-tell; those of the forms three: share, constant, unclear.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mensura.checks import number
from mensura.estimates.hand_model import HandModel


@dataclass(frozen=True)
class Matters:
    """What is large enough to be told.

    share_percent: of a reading; girth_cm, diameter_cm: of a constant; spreads_times: a spread
    beside that of the others (who spreads threefold himself comes out at 1.8 or so: what the stem
    adds is the same for all); spread_percent: a spread, at least; chance_percent: that anyone of
    sound hands and instruments is told, over all together; marked: whether a line on each stem
    fixed height and directions, else finding them is part of each hand's reading.
    """

    share_percent: float = 1.0
    girth_cm: float = 0.5
    diameter_cm: float = 0.2
    spreads_times: float = 1.5
    spread_percent: float = 0.5
    chance_percent: float = 5.0
    marked: bool = True

    def __post_init__(self) -> None:
        for name, unit in (("share_percent", "%"), ("girth_cm", "cm"), ("diameter_cm", "cm")):
            number(getattr(self, name), name, unit, above=0.0, at_most=100.0)
        number(self.spreads_times, "spreads_times", "", at_least=1.0, at_most=100.0)
        number(self.spread_percent, "spread_percent", "%", at_least=0.0, at_most=100.0)
        number(self.chance_percent, "chance_percent", "%", above=0.0, at_most=50.0)


@dataclass(frozen=True)
class Judged:
    """A verdict on a hand with one kind of instrument, or on an instrument.

    name: its code; kind: "girth" or "diameter"; verdict: "sound", "reads-high", "reads-low",
    "spreads" or "cannot-tell"; form: "share", "constant" or "unclear"; bias: what it reads less
    what the others agree on; interval: 95 % of it; unit: of both, "%" or "cm" of its kind, None
    for a bias that nothing tells; why: a sentence or two, with no hand's code in a hand's; spreads:
    whether it spreads; spread_percent: of one reading, standard deviation; spread_times: the
    others'; stems, readings: that it rests on; chance: of such a bias in sound ones, before it is
    corrected for how many were judged.
    """

    name: str
    kind: str
    verdict: str
    form: str
    bias: float | None
    interval: tuple[float, float] | None
    unit: str
    why: str
    spreads: bool
    spread_percent: float | None
    spread_times: float | None
    stems: int
    readings: int
    chance: float

    def to_dict(self) -> dict[str, Any]:
        """Plain numbers and names, ready for JSON."""
        return {
            "name": self.name,
            "kind": self.kind,
            "verdict": self.verdict,
            "form": self.form,
            "bias": self.bias,
            "interval": None if self.interval is None else list(self.interval),
            "unit": self.unit,
            "why": self.why,
            "spreads": self.spreads,
            "spread_percent": self.spread_percent,
            "spread_times": self.spread_times,
            "stems": self.stems,
            "readings": self.readings,
        }


@dataclass(frozen=True)
class HandsJudged:
    """All verdicts.

    hands: by code, girths before diameters; instruments: by code; notes: what could not be done
    with these readings, a sentence each; mean_size_cm: diameter of the stem at which biases of
    unclear form are told; sizes_cm: each stem's diameter as all agree, by its code; model: the fit,
    None where there was nothing to fit.
    """

    hands: tuple[Judged, ...]
    instruments: tuple[Judged, ...]
    notes: tuple[str, ...]
    mean_size_cm: float | None
    sizes_cm: dict[str, float]
    model: HandModel | None

    @property
    def accused(self) -> tuple[Judged, ...]:
        """Those that read high or low, or spread."""
        off = ("reads-high", "reads-low", "spreads")
        return tuple(one for one in self.hands + self.instruments if one.verdict in off)
