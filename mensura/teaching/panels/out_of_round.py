"""What the out-of-round panel shows of one stem: plain numbers from the state of its controls."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from mensura.checks import FloatArray, kept
from mensura.estimates.areas import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    over_percent,
)
from mensura.estimates.comparison import Comparison, compare, nearer_spans_deg
from mensura.estimates.out_of_round import (
    classroom_over_percent,
    one_reading_over_percent,
    two_readings_over_percent,
)
from mensura.instruments.lay import Lay
from mensura.stems.bark import rough_oval
from mensura.stems.ellipse import Ellipse
from mensura.stems.rippled import fourth_ripple_cm as own_ripple_cm
from mensura.stems.section import Section
from mensura.teaching.controls import Control, Switch

CONTROLS = (
    Control("first_cm", "first diameter", "cm", 35, 70, 0.5, 60, "Stem"),
    Control("second_cm", "second diameter", "cm", 35, 70, 0.5, 48, "Stem"),
    Control("fourth_ripple_cm", "fourth ripple", "cm", -0.3, 0.3, 0.01, 0, "Stem"),
    Control("ridges", "ridges of bark", "", 3, 60, 1, 28, "Stem", whole=True),
    Control("furrow_depth_cm", "furrow depth", "cm", 0, 3, 0.1, 1, "Stem"),
    Control("tilt_deg", "tilt", "°", 0, 20, 0.5, 3, "Tape"),
    Control("tilt_direction_deg", "rises towards", "°", -90, 90, 5, 30, "Tape"),
    Control("caliper_direction_deg", "turned by", "°", 0, 90, 0.5, 15, "Calipers"),
)
SWITCHES = (Switch("marked", "mark where the tape wins", "Calipers"),)

SMOOTH = {"fourth_ripple_cm": 0.0, "furrow_depth_cm": 0.0, "tilt_deg": 0.0}

#: A smooth stem that looks like the ellipse, and on which its rule is upside down.
UPSIDE_DOWN = SMOOTH | {"first_cm": 60.0, "second_cm": 48.0, "fourth_ripple_cm": 0.17}

#: Axis ratios of the curves, and turns of the calipers: enough points for a smooth line.
RATIOS = np.linspace(0.5, 1.0, 61)
TURNS_DEG = np.linspace(0.0, 90.0, 181)

#: Practices whose curve against the axis ratio moves with the calipers' direction.
CURVES = ("one", "two-arithmetic", "two-geometric")

MEANS = {"two-arithmetic": "arithmetic", "two-geometric": "geometric", "two-quadratic": "quadratic"}

#: The bark's pattern: drawn once for all from this seed.
BARK_SEED = 7


@dataclass(frozen=True, eq=False)
class OutOfRound:
    """All that the panel shows of one stem.

    first_cm, second_cm: of the ellipse; added_cm, fourth_cm: the ripple added to it, and the
    smooth outline's whole fourth ripple; axis_ratio: of the smooth outline; edge_cm, hull_cm:
    points; result: the comparison; lay: the tape's; caliper_direction_deg: of the first width;
    smooth_exact_percent: a level tape on the smooth outline, exactly; smooth_classroom_percent:
    the blackboard's claim for the ellipse; curves_percent: overestimation of ellipses at RATIOS,
    by practice; shares: calipers' error over the tape's at TURNS_DEG, by practice; nearer_deg:
    from and up to which turn, from 0° to 45°, the calipers are nearer, by practice, empty for
    never; limits_deg: the first turn at which that changes, None where it does not; marked:
    whether the limits are shown.
    """

    first_cm: float
    second_cm: float
    added_cm: float
    fourth_cm: float
    axis_ratio: float
    edge_cm: FloatArray
    hull_cm: FloatArray
    result: Comparison
    lay: Lay
    caliper_direction_deg: float
    smooth_exact_percent: float
    smooth_classroom_percent: float
    curves_percent: Mapping[str, FloatArray]
    shares: dict[str, FloatArray]
    nearer_deg: dict[str, tuple[tuple[float, float], ...]]
    limits_deg: dict[str, float | None]
    marked: bool


def numbers(
    first_cm: float,
    second_cm: float,
    fourth_ripple_cm: float,
    ridges: int,
    furrow_depth_cm: float,
    tilt_deg: float,
    tilt_direction_deg: float,
    caliper_direction_deg: float,
    marked: bool,
) -> OutOfRound:
    """What the panel shows for a state of its controls.

    first_cm, second_cm: diameters of the ellipse; fourth_ripple_cm: added to its reach; ridges,
    furrow_depth_cm: of its bark; tilt_deg, tilt_direction_deg: of the tape; caliper_direction_deg:
    of the first width; marked: whether the limits are shown.

    >>> from mensura.teaching.controls import starting
    >>> shown = numbers(**starting(CONTROLS, SWITCHES) | SMOOTH)
    >>> round(shown.result.tape_over_percent, 4), round(shown.smooth_classroom_percent, 4)
    (1.8764, 2.5)
    """
    # a slider counts its steps up from its least: what is nearly nothing is none
    added = round(fourth_ripple_cm, 6)
    lay = Lay(tilt_deg, tilt_direction_deg)
    turn = caliper_direction_deg
    stem = rough_oval(first_cm, second_cm, ridges, furrow_depth_cm, BARK_SEED, added)
    smooth = rough_oval(first_cm, second_cm, 0, 0.0, BARK_SEED, added)
    by_tape = area_from_girth_cm2(smooth.taut_girth_cm)
    result = compare(stem, lay, turn)
    shares = _shares(stem, result.true_area_cm2, result.tape_area_cm2)
    half = TURNS_DEG <= 45
    nearer = {
        practice: ()
        if np.isnan(share).any()
        else nearer_spans_deg(TURNS_DEG[half], share[half] - 1)
        for practice, share in shares.items()
    }
    across = sorted((first_cm + 2 * added, second_cm + 2 * added))
    return OutOfRound(
        first_cm=first_cm,
        second_cm=second_cm,
        added_cm=added,
        fourth_cm=own_ripple_cm(Ellipse(first_cm, second_cm)) + added,
        axis_ratio=across[0] / across[1],
        edge_cm=stem.outline_cm(),
        hull_cm=stem.hull_cm,
        result=result,
        lay=lay,
        caliper_direction_deg=turn,
        smooth_exact_percent=float(over_percent(by_tape, smooth.area_cm2)),
        smooth_classroom_percent=float(
            classroom_over_percent(min(first_cm, second_cm) / max(first_cm, second_cm))
        ),
        curves_percent=_curves(turn if first_cm >= second_cm else 90 - turn),
        shares=shares,
        nearer_deg=nearer,
        limits_deg={practice: _first_change(spans) for practice, spans in nearer.items()},
        marked=marked,
    )


def _first_change(spans: tuple[tuple[float, float], ...]) -> float | None:
    """The first turn, above 0° and below 45°, at which the nearer one changes."""
    return next((turn for span in spans for turn in span if 0 < turn < 45), None)


# What hangs on the stem alone is kept: turning the calipers does not measure it anew.


@lru_cache(maxsize=32)
def _widths(stem: Section) -> FloatArray:
    """Both widths of a pair at right angles, at each of TURNS_DEG: shape (k, 2), cm."""
    widths = np.asarray(stem.width_cm(np.concatenate([TURNS_DEG, TURNS_DEG[1:] + 90])))
    last = len(TURNS_DEG) - 1
    return kept(np.stack([widths[: last + 1], widths[last:]], axis=-1))


def _shares(stem: Section, true_cm2: float, tape_cm2: float) -> dict[str, FloatArray]:
    readings = _widths(stem)
    tape_error = abs(tape_cm2 - true_cm2)
    shares = {}
    for practice, mean in MEANS.items():
        error = np.abs(area_from_diameters_cm2(readings, mean) - true_cm2)
        # on a smooth circle neither errs: a share of nothing is not drawn
        nothing = tape_error < 1e-9 * true_cm2
        shares[practice] = np.full_like(error, np.nan) if nothing else error / tape_error
    return shares


@lru_cache(maxsize=256)
def _curves(off_longer_deg: float) -> Mapping[str, FloatArray]:
    curves = {"one": one_reading_over_percent(RATIOS, off_longer_deg)}
    for practice, mean in MEANS.items():
        curves[practice] = two_readings_over_percent(RATIOS, off_longer_deg, mean)
    return MappingProxyType({practice: kept(curve) for practice, curve in curves.items()})
