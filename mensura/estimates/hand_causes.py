"""What most likely made a hand or an instrument read high, low or unevenly, and what to practise.

Causes are the faults of chapters 04, 06 and 07. One is in question if it goes to the side that was
found, if it may be a hand's or an instrument's, and if it grows with the stem as the bias did:
whether a fault is a share or a constant is worked out by reading round stems of two sizes with it.
Which of those left comes first is common practice, no source. A cause is a guess to be looked into:
readings alone do not show how a band lay.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from mensura.estimates.hand_verdict import Judged
from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import BAND, JAWS, LAY, Fault
from mensura.instruments.faults import FAULTS
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import circle

#: Stems on which a fault's form is worked out, diameters in cm.
_SMALL_CM, _LARGE_CM = 20.0, 60.0


@dataclass(frozen=True)
class Cause:
    """What may be behind a verdict.

    fault: its key in the list of faults; words: its name there; form: "share" or "constant"; why:
    what it does to a reading; practise: what to do about it.
    """

    fault: str
    words: str
    form: str
    why: str
    practise: str


#: What to practise or to do, and whether it is the hand's (else the instrument's), the most common
#: first; by whose fault it is, and its key.
_PRACTISE: dict[tuple[str, str], tuple[bool, str]] = {
    (LAY, "tilt"): (True, "Walk round and see the band level from two sides."),
    (LAY, "slack"): (True, "Draw the band taut twice; both readings must agree."),
    (LAY, "height"): (True, "Set breast height with a stick of that length, uphill."),
    (LAY, "wander"): (True, "Follow the band with a hand round the far side."),
    (LAY, "twist"): (True, "Keep the numbers facing outward all the way round."),
    (LAY, "overlap"): (True, "Let the ends meet edge to edge."),
    (LAY, "pressing"): (True, "Draw the band taut, and no tighter."),
    (BAND, "pull"): (True, "Pull as hard as is written on the band."),
    (BAND, "stretch"): (False, "Hold the tape against a steel one; put it away or correct it."),
    (BAND, "shrinking"): (False, "Hold the tape against a steel one; put it away or correct it."),
    (BAND, "worn start"): (False, "Look at the first centimetres; start at 10 and take it off."),
    (BAND, "temperature"): (False, "Let the band come to the air's warmth; correct for it."),
    (JAWS, "zero error"): (False, "Close the jaws, read, and set the zero or take it off."),
    (JAWS, "jaw lean"): (False, "Try the moving jaw for play; tighten it or send it for repair."),
    (JAWS, "beam slope"): (True, "Hold the beam level and against the stem."),
    (JAWS, "pressing"): (True, "Let the jaws touch, and no more."),
}


def form_of(fault: Fault) -> str:
    """Whether a fault adds a share of the reading or a constant, the nearer of the two.

    fault: a row of the list, of a tape's lay or band or of calipers. Worked out on two round stems,
    with its first typical size.

    >>> from mensura.instruments.faults import fault
    >>> form_of(fault("stretch")), form_of(fault("zero error", "calipers"))
    ('share', 'constant')
    """
    small, large = (_adds_cm(fault, size) for size in (_SMALL_CM, _LARGE_CM))
    share, constant = _LARGE_CM / _SMALL_CM, 1.0
    times = abs(large / small)
    return "share" if abs(np.log(times / share)) < abs(np.log(times / constant)) else "constant"


def likely_causes(judged: Judged, is_hand: bool) -> tuple[Cause, ...]:
    """The causes in question, the most common first; none for who is sound or cannot be told.

    judged: a verdict; is_hand: on a hand, else on an instrument.

    >>> from mensura.estimates import drawn_practical, judge_hands, Planted
    >>> fault = Planted("T2", "girth", share_percent=-2.5)
    >>> found = judge_hands(drawn_practical(4, (fault,)).readings)
    >>> [[one.fault for one in likely_causes(tape, False)] for tape in found.accused]
    [['stretch', 'temperature']]
    """
    if judged.verdict not in ("reads-high", "reads-low", "spreads"):
        return ()
    side = {"reads-high": "too much", "reads-low": "too little"}.get(judged.verdict)
    kinds = (LAY, BAND) if judged.kind == "girth" else (JAWS,)
    rows = {(row.of, row.key): row for row in FAULTS}
    found = []
    for key, (hand, practise) in _PRACTISE.items():
        row = rows[key]
        if row.of not in kinds or hand != is_hand:
            continue
        if side is not None and row.side not in (side, "either"):
            continue
        form = form_of(row)
        if side is not None and judged.form not in (form, "unclear"):
            continue
        # an even warmth or stretch makes nothing spread
        if side is None and not is_hand and key != (JAWS, "jaw lean"):
            continue
        found.append((_too_small(row, judged), Cause(row.key, row.words, form, row.why, practise)))
    return tuple(cause for _, cause in sorted(found, key=lambda one: one[0]))


def _too_small(row: Fault, judged: Judged) -> bool:
    """Whether such a fault of typical size is not a tenth of what was found; it comes last."""
    if judged.bias is None or judged.verdict == "spreads":
        return False
    size = (_SMALL_CM + _LARGE_CM) / 2
    reading = size * (np.pi if judged.kind == "girth" else 1.0)
    bias = judged.bias if judged.unit == "cm" else judged.bias / 100 * reading
    return bool(abs(_adds_cm(row, size)) < 0.1 * abs(bias))


def _adds_cm(row: Fault, size_cm: float) -> float:
    """What a fault of its first typical size adds to a round stem's reading."""
    settings: dict[str, Any] = dict(row.typical[0].settings)
    stem = circle(size_cm)
    if row.of == JAWS:
        width = Calipers(**settings).reading(stem, np.array([0.0])).readings_cm
        return float(width[0]) - size_cm
    lay = Lay(**settings) if row.of == LAY else Lay()
    tape = Tape(**settings) if row.of == BAND else Tape()
    reading = tape.read(stem, lay)
    return float(reading.reading_cm - reading.taut_girth_cm)
