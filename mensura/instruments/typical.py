"""What each fault of a typical size adds to a reading, on one stem: what is worth a worry."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import INSTRUMENTS, JAWS, LAY, Fault, Typical
from mensura.instruments.faults import faults_in
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import circle

#: The round stem on which all of them are tried.
GIRTH_CM = 125.0


@lru_cache(maxsize=1)
def _stem_readings_cm() -> tuple[float, float]:
    """What sound instruments read on that stem."""
    stem = circle(GIRTH_CM / np.pi)
    return float(Tape().read(stem).reading_cm), float(Calipers().read(stem, 0.0)[0])


def adds_cm(fault: Fault, size: Typical) -> float:
    """What one fault of a typical size adds to a reading of a stem of 125 cm girth, in cm.

    fault: its row; size: one of its typical sizes. A tape's fault adds to the girth, one of the
    calipers to the width.

    >>> from mensura.instruments.faults import fault
    >>> worn = fault("worn start")
    >>> round(adds_cm(worn, worn.typical[0]), 6)
    0.5
    """
    stem = circle(GIRTH_CM / np.pi)
    girth, width = _stem_readings_cm()
    if fault.of == JAWS:
        return float(Calipers(**size.settings).read(stem, 0.0)[0]) - width
    if fault.of == LAY:
        return float(Tape().read(stem, Lay(**size.settings)).reading_cm) - girth
    return float(Tape(**size.settings).read(stem).reading_cm) - girth


def typical_sizes_cm(instrument: str = "tape") -> dict[str, float]:
    """What each fault of a typical size adds to a reading, the smallest first, in cm.

    instrument: "tape", on a girth of 125 cm, or "calipers", on its width.

    >>> round(typical_sizes_cm()["start worn by 0.5 cm"], 6)
    0.5
    """
    sizes = {
        size.words: adds_cm(fault, size)
        for fault in faults_in("typical sizes", *INSTRUMENTS[instrument]).values()
        for size in fault.typical
        if size.words
    }
    return dict(sorted(sizes.items(), key=lambda one: abs(one[1])))
