"""What faults of a typical size add: each found anew, by arithmetic or by a sum of chords."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mensura.instruments.typical import GIRTH_CM, typical_sizes_cm

#: What each adds to 125 cm, by plain arithmetic or, where there is none, by a sum of chords.
R = GIRTH_CM / (2 * math.pi)


def along_cm(rise) -> float:
    """Length of a band that rises by rise(s) on the way round, by a million chords."""
    s = np.linspace(0, GIRTH_CM, 200_001)
    return float(np.hypot(np.diff(s), np.diff(rise(s))).sum())


def tilted_cm(degrees: float) -> float:
    return along_cm(lambda s: R * math.tan(math.radians(degrees)) * np.cos(s / R))


def over_climber_cm(radius: float) -> float:
    """Common tangents of two circles that touch."""
    sine = math.asin((R - radius) / (R + radius))
    straight = 2 * math.sqrt((R + radius) ** 2 - (R - radius) ** 2)
    return straight + R * (math.pi + 2 * sine) + radius * (math.pi - 2 * sine)


BY_HAND = {
    "steel band 20 °C warmer": 125 / (1 + 20 * 11.6e-6),
    "steel pulled with 40 N too much": 125 / (1 + 40 / (42_000 * 9.80665)),
    "band 0.3 mm thick": 125 + math.pi * 0.03,
    "fibreglass 20 °C warmer": 125 / (1 + 20 * 36e-6),
    "ends miss each other by 7 cm": math.hypot(125, 7),
    "tilt of 5°": tilted_cm(5),
    "knot 1 cm high": 125 + 2 * (math.sqrt(2 * R + 1) - R * math.acos(R / (R + 1))),
    "start worn by 0.5 cm": 125.5,
    "bark pressed in by 1 mm": 125 - 2 * math.pi * 0.1,
    "tilt of 10°": tilted_cm(10),
    "climber as thick as a thumb, 2 cm": over_climber_cm(1.0),
    "band stretched by 1 %": 125 / 1.01,
    "cloth shrunk by 2 %": 125 / 0.98,
    "wander of 5 cm, two waves": along_cm(lambda s: 2.5 * np.sin(2 * s / R)),
    "slack of 2 cm": 127.0,
    "tilt of 20°": tilted_cm(20),
    "0.3 m too low, taper 1 cm a metre": 125 + 0.3 * math.pi,
    "twist that stands off 0.5 cm": 125 + 2 * (math.sqrt(R + 0.25) - R * math.acos(R / (R + 0.5))),
}


def test_typical_sizes_by_hand() -> None:
    """Each size, found anew; sorted from the smallest to the largest."""
    sizes = typical_sizes_cm()
    assert {name: 125 + adds for name, adds in sizes.items()} == pytest.approx(BY_HAND, abs=2e-6)
    far = [abs(adds) for adds in sizes.values()]
    assert far == sorted(far)


#: The same for the calipers, on the same stem's width: two jaws, a leaning line, a slant, a zero.
WIDTH_CM = 2 * R
LEAN = math.radians(1.0)
CALIPERS_BY_HAND = {
    "jaws pressed in by 1 mm each": -0.2,
    "jaw that leans out by 1°": R * (1 / math.cos(LEAN) - math.tan(LEAN) - 1),
    "beam that slopes by 8°": WIDTH_CM * (1 / math.cos(math.radians(8)) - 1),
    "closed they read 0.3 cm": 0.3,
}


def test_typical_sizes_of_calipers_by_hand() -> None:
    """What each of the calipers' faults adds to a width of 39.8 cm."""
    sizes = typical_sizes_cm("calipers")
    assert sizes == pytest.approx(CALIPERS_BY_HAND, abs=1e-9)
    assert list(sizes.values()) == sorted(sizes.values(), key=abs)


def test_another_instrument_is_refused() -> None:
    """There are two instruments."""
    with pytest.raises(KeyError):
        typical_sizes_cm("ruler")
