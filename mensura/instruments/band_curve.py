"""The line in which a band lies on a stem, point by point: what a drawing of a lay draws.

From above, the band is the hull of the stem and of what stands under it, and hangs out where it is
slack; on the cylinder over that line it rises and falls as the lay says. The lengths of the line
are the lay's own (`lay.py`), which sums the same way and does not draw it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np

from mensura.checks import FloatArray, MeasureError, kept, number, whole
from mensura.instruments.lay import Lay
from mensura.stems.band_path import from_tab_cm
from mensura.stems.ellipse import Ellipse
from mensura.stems.hulls import hull_points_cm, passed_cm

#: What holds a band off the bark, and so its way round a stem hangs on.
_UNDER = ("climber_cm", "climber_direction_deg", "knot_cm", "knot_width_cm", "twist_lift_cm")


def band_curve_cm(
    stem: Ellipse,
    lay: Lay,
    lifted_deg: float = 0.0,
    loose_deg: float = 180.0,
    loose_reach_deg: float = 45.0,
    points: int = 720,
) -> FloatArray:
    """The middle line of a band on a stem, from its tab once round, anticlockwise from above.

    stem: a single ellipse, at breast height; lay: a single one; lifted_deg: where the point stands
    that a knot or a twist holds off the bark (the middle of a knot's wide top), as the direction
    of the stem's normal there;
    loose_deg, loose_reach_deg: where slack hangs out, and how far to each side, above 0, at most
    180 (a lay does not say where these are); points: corners of the stem's edge, at least 3.
    Returns cm, shape (k, 3): along the stem's first and second axis, and up from breast height.
    Raises MeasureError for arrays of stems or lays.

    The tab lies on the first axis, or at the last free point before a climber that stands there.
    Of a knot and a twist the higher one is drawn; a band that is pressed in is drawn on the bark.
    With no more than one fault the line is as long as the lay's reading, but for corners cut.

    >>> curve = band_curve_cm(Ellipse(40, 40), Lay(slack_cm=3.0), points=3600)
    >>> round(float(passed_cm(curve)[-1]), 3)
    128.664
    """
    if stem.shape or lay.shape:
        raise MeasureError("lay", str(lay.shape or stem.shape), "", "a single lay on a single stem")
    count = whole(points, "points", at_least=3, at_most=100_000)
    section = stem.scaled(lay.height_factor(stem.taut_girth_cm))
    way = _tight_cm(section, lay, float(number(lifted_deg, "lifted_deg", "deg")), count)
    way = _divided_cm(way, 2 / count)
    if lay.slack_cm:
        reach = number(loose_reach_deg, "loose_reach_deg", "deg", above=0.0, at_most=180.0)
        middle = float(number(loose_deg, "loose_deg", "deg"))
        way = _hanging_cm(way, lay.slack_cm, middle, float(reach))
    return np.column_stack([way, _height_cm(way, lay)])


def climber_middle_cm(stem: Ellipse, lay: Lay) -> FloatArray:
    """Where the middle of the climber under a band lies; without one, where it would touch.

    stem: any ellipses; lay: broadcasts against them. Returns cm, shape (..., 2).

    >>> climber_middle_cm(Ellipse(44, 40), Lay(climber_cm=3.0)).tolist()
    [23.5, 0.0]
    """
    return stem.touching_cm(lay.climber_direction_deg, off_cm=lay.climber_cm / 2)


def _tight_cm(stem: Ellipse, lay: Lay, lifted_deg: float, points: int) -> FloatArray:
    """Corners of the taut way from its tab, closed: round stem, climber and a lifted point."""
    under = tuple(float(getattr(lay, name)) for name in _UNDER)
    return _tight(float(stem.first_cm), float(stem.second_cm), under, lifted_deg, points)


@lru_cache(maxsize=16)
def _tight(
    first_cm: float, second_cm: float, under: tuple[float, ...], lifted_deg: float, points: int
) -> FloatArray:
    """The same, kept: what stands under a band stays there while it is tilted, say."""
    faults: dict[str, Any] = dict(zip(_UNDER, under, strict=True))
    stem, lay = Ellipse(first_cm, second_cm), Lay(**faults)
    edge = stem.outline_cm(points)
    way = [edge]
    if lay.climber_cm:
        turn = np.linspace(0.0, 2 * np.pi, max(points // 2, 3), endpoint=False)
        round_it = lay.climber_cm / 2 * np.stack([np.cos(turn), np.sin(turn)], axis=-1)
        way.append(climber_middle_cm(stem, lay) + round_it)
    lift = max(lay.knot_cm, lay.twist_lift_cm)
    if lift:
        width = lay.knot_width_cm if lay.knot_cm == lift else 0.0
        half_deg = 180 * width / stem.taut_girth_cm
        top = lifted_deg + np.linspace(-half_deg, half_deg, points if width else 1)
        way.append(stem.touching_cm(top if width else np.array([lifted_deg]), off_cm=lift))
    corners = from_tab_cm(hull_points_cm(np.vstack(way)) if len(way) > 1 else edge, edge)
    return kept(np.vstack([corners, corners[:1]]))


def _divided_cm(way_cm: FloatArray, share: float) -> FloatArray:
    """The same line with its long straight parts divided, each at most this share of the whole."""
    along = passed_cm(way_cm)
    parts = np.maximum(np.ceil(np.diff(along) / (share * along[-1])), 1).astype(int)
    at = np.repeat(np.arange(parts.size) - (np.cumsum(parts) - parts) / parts, parts)
    at = np.append(at + np.arange(parts.sum()) / np.repeat(parts, parts), parts.size)
    corners = np.arange(parts.size + 1)
    return np.column_stack([np.interp(at, corners, way_cm[:, k]) for k in (0, 1)])


def _hanging_cm(
    way_cm: FloatArray, slack_cm: float, loose_deg: float, reach_deg: float
) -> FloatArray:
    """A closed way that hangs out over an arc, away from the pith, as far as the slack is long."""
    turn = np.degrees(np.arctan2(way_cm[:, 1], way_cm[:, 0]))
    away = np.minimum(np.abs((turn - loose_deg + 180) % 360 - 180) / reach_deg, 1)
    push = (1 + np.cos(np.pi * away))[:, None] * way_cm / np.hypot(*way_cm.T)[:, None]
    step, apart = np.diff(way_cm, axis=0), np.diff(push, axis=0)
    wanted, out = np.hypot(*step.T).sum() + slack_cm, 0.0
    # the length is a convex function of how far it hangs out, so Newton's steps, once beyond the
    # root, come back to it from above and never pass it
    for _ in range(40):
        now = step + out * apart
        length = np.hypot(*now.T)
        further = (wanted - length.sum()) / ((now * apart).sum(axis=1) / length).sum()
        out += further
        if abs(further) < 1e-12:
            break
    hanging: FloatArray = way_cm + out * push
    return hanging


def _height_cm(way_cm: FloatArray, lay: Lay) -> FloatArray:
    """Height of the band along a closed way from its tab, from breast height."""
    along = passed_cm(way_cm)
    share, rising = along / along[-1], np.radians(lay.tilt_direction_deg)
    tilted = way_cm @ np.array([np.cos(rising), np.sin(rising)])
    height = np.tan(np.radians(lay.tilt_deg)) * tilted
    height = height + lay.wander_cm / 2 * np.sin(2 * np.pi * lay.wander_waves * share)
    return np.asarray(height + lay.overlap_offset_cm * (share - 0.5) + 100 * lay.height_off_m)
