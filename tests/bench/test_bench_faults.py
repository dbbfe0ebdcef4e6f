"""Many stems with every fault in one call, against the same call stem by stem."""

from __future__ import annotations

import time

import numpy as np

from mensura.instruments import Lay, Tape
from mensura.stems import Ellipse

STEMS = 100_000
#: The loop is timed on so many of them, and scaled; processor time, since the loop is long.
LOOPED = 150
LEAST = 100


def drawn() -> tuple[dict[str, np.ndarray], dict[str, np.ndarray], dict[str, np.ndarray]]:
    """Stems, lays and bands, each of them different, with every fault that there is."""
    rng = np.random.default_rng(7)

    def some(least, greatest):
        return rng.uniform(least, greatest, STEMS)

    first = some(20, 90)
    stems = {"first_cm": first, "second_cm": first * some(0.75, 1)}
    lays = {
        "tilt_deg": some(-15, 15),
        "tilt_direction_deg": some(0, 360),
        "overlap_offset_cm": some(-5, 5),
        "wander_cm": some(0, 4),
        "wander_waves": rng.integers(1, 4, STEMS),
        "slack_cm": some(0, 1),
        "twist_lift_cm": some(0, 1),
        "knot_cm": some(0, 2),
        "climber_cm": some(0.2, 4),
        "climber_direction_deg": some(0, 360),
        "press_cm": some(0, 0.3),
        "height_off_m": some(-0.3, 0.3),
        "taper_cm_per_m": some(0, 2),
    }
    bands = {
        "stretch_percent": some(0, 3),
        "shrink_percent": some(0, 1),
        "worn_start_cm": some(0, 1),
        "thickness_cm": some(0, 0.05),
        "temperature_c": some(-20, 40),
        "expansion_per_c": some(1e-5, 8e-5),
        "pull_n": some(10, 90),
        "stiffness_n": some(1e4, 5e4),
        "resolution_cm": some(0.05, 0.5),
    }
    return stems, lays, bands


def test_hundred_thousand_stems_with_every_fault():
    """One call is at least 100 times as fast as a loop over the same functions, and as right."""
    stems, lays, bands = drawn()

    def at_once(count):
        first = [{name: values[:count] for name, values in part.items()} for part in drawn_parts]
        return Tape(**first[2]).read(Ellipse(**first[0]), Lay(**first[1]))

    def one_by_one(count):
        return [
            Tape(**{name: values[i] for name, values in bands.items()}).read(
                Ellipse(stems["first_cm"][i], stems["second_cm"][i]),
                Lay(**{name: values[i] for name, values in lays.items()}),
            )
            for i in range(count)
        ]

    drawn_parts = stems, lays, bands
    together, looped = at_once(LOOPED), one_by_one(LOOPED)  # a warm-up too
    singles = [one.reading_cm for one in looped]
    # before rounding they agree to 1e-9; a reading on the edge of a step may fall either way
    assert len(together.breakdown) == 16
    for fault, adds in together.breakdown.items():
        if fault != "rounding":
            each = [one.breakdown[fault] for one in looped]
            assert np.abs(adds - each).max() < 1e-7, fault
    apart = np.abs(together.reading_cm - singles) > 1e-6
    assert apart.sum() <= 1
    for _ in range(3):
        start = time.process_time()
        at_once(STEMS)
        middle = time.process_time()
        one_by_one(LOOPED)
        loop = (time.process_time() - middle) * STEMS / LOOPED
        ratio = loop / (middle - start)
        print(
            f"\n{STEMS:,} stems with every fault: {middle - start:.2f} s, "
            f"{ratio:.0f} times as fast as a loop (at least {LEAST})"
        )
        if ratio >= LEAST:
            return
    raise AssertionError(f"{ratio:.0f} times as fast as a loop, less than {LEAST}")
