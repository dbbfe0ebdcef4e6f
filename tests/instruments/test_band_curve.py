"""The drawn line of a band: as long as the model says, on the bark, from its tab."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from mensura.checks import MeasureError
from mensura.instruments import Lay, Tape, band_curve_cm
from mensura.instruments.band_curve import climber_middle_cm
from mensura.stems import Ellipse, circle

OVAL = Ellipse(44, 36)
LAYS = {
    "sound": Lay(),
    "tilt": Lay(tilt_deg=16, tilt_direction_deg=-70),
    "wander": Lay(wander_cm=10),
    "overlap": Lay(overlap_offset_cm=-10),
    "slack": Lay(slack_cm=7),
    "twist": Lay(twist_lift_cm=2.5),
    "climber": Lay(climber_cm=4, climber_direction_deg=40),
    "knot": Lay(knot_cm=3.5),
    "flake": Lay(knot_cm=0.5, knot_width_cm=10),
    "low": Lay(height_off_m=-0.4, taper_cm_per_m=2),
    "high": Lay(height_off_m=0.4, taper_cm_per_m=2),
}
#: Together they are one curve, on an oval too.
TOGETHER = {
    "a tilt and a wander": Lay(tilt_deg=9, tilt_direction_deg=30, wander_cm=4, wander_waves=3),
    "all of one curve": Lay(
        tilt_deg=6, tilt_direction_deg=130, wander_cm=3, overlap_offset_cm=4, climber_cm=3,
        climber_direction_deg=70,
    ),
    "a rod where the tab is": Lay(climber_cm=5, wander_cm=6, wander_waves=1, tilt_deg=8),
}  # fmt: skip


def length_cm(curve: np.ndarray) -> float:
    return float(np.sqrt((np.diff(curve, axis=0) ** 2).sum(axis=1)).sum())


@pytest.mark.parametrize("diameter", [32.0, 44.0])
@pytest.mark.parametrize("name", LAYS)
def test_the_curve_is_as_long_as_the_model_says(name: str, diameter: float) -> None:
    """Its length is the reading of a sound tape that lies so."""
    curve = band_curve_cm(circle(diameter), LAYS[name], 28, 90, 55, points=3600)
    reading = Tape().read(circle(diameter), LAYS[name]).reading_cm
    assert length_cm(curve) == pytest.approx(reading, abs=1e-3)


@pytest.mark.parametrize("name", TOGETHER)
def test_faults_of_one_curve_on_an_oval(name: str) -> None:
    """Drawn from points and summed on Gauss nodes: two ways to the same length."""
    curve = band_curve_cm(OVAL, TOGETHER[name], points=3600)
    reading = Tape().read(OVAL, TOGETHER[name]).reading_cm
    assert length_cm(curve) == pytest.approx(reading, abs=1e-3)


@pytest.mark.parametrize("at", [0, 7, -20, 65, 180])
@pytest.mark.parametrize("lifted", [-60.0, 30.0, 200.0])
def test_from_above_it_is_a_hull(at: float, lifted: float) -> None:
    """Stem, climber and twist, each grown by GEOS from its own middle; then their hull."""
    lay = Lay(climber_cm=3, climber_direction_deg=at, twist_lift_cm=1.5)
    curve = band_curve_cm(OVAL, lay, lifted, points=3600)
    turn = np.linspace(0, 2 * np.pi, 20_001)
    stem = shapely.Polygon(np.column_stack([22 * np.cos(turn), 18 * np.sin(turn)]))
    rod = shapely.Point(climber_middle_cm(OVAL, lay)).buffer(1.5, quad_segs=2000)
    normal = np.array([np.cos(np.radians(lifted)), np.sin(np.radians(lifted))])
    half = np.array([22, 18])
    lifted_point = shapely.Point(half**2 * normal / np.hypot(*(half * normal)) + 1.5 * normal)
    hull = shapely.union_all([stem, rod, lifted_point]).convex_hull
    assert shapely.Polygon(curve[:, :2]).symmetric_difference(hull).area < 1e-2
    assert shapely.is_ccw(shapely.LinearRing(curve[:, :2]))
    assert curve[0, :2].tolist() == curve[-1, :2].tolist()
    # the rod touches the stem and does not cut into it
    assert shapely.distance(rod.centroid, stem) == pytest.approx(1.5, abs=1e-4)


@pytest.mark.parametrize("lifted", [-110.0, 60.0, 200.0])
@pytest.mark.parametrize("at", [0, 9, -9])
def test_the_tab_is_the_last_free_point_before_a_climber(at: float, lifted: float) -> None:
    """Whatever else stands off elsewhere, the band begins where it leaves the bark for the rod."""
    lay = Lay(climber_cm=3, climber_direction_deg=at, twist_lift_cm=1.5)
    x, y, _ = band_curve_cm(OVAL, lay, lifted, points=7200)[0]
    assert np.hypot(x / 22, y / 18) == pytest.approx(1, abs=1e-12)
    # a common tangent of oval and rod, the rod being on its left
    normal = np.array([x / 22**2, y / 18**2])
    normal /= np.hypot(*normal)
    middle = climber_middle_cm(OVAL, lay)
    assert (middle - [x, y]) @ normal == pytest.approx(-1.5, abs=0.02)
    assert -45 < np.degrees(np.arctan2(y, x)) < 0
    # and without a rod, on the first axis
    assert band_curve_cm(OVAL, Lay(twist_lift_cm=1.5), lifted)[0].tolist() == [22, 0, 0]


@pytest.mark.parametrize("points", [720, 3600])
def test_slack_is_drawn_to_the_hair(points: int) -> None:
    """It adds its own length, within its arc alone, and the more the further out it hangs."""
    tight = band_curve_cm(OVAL, Lay(climber_cm=2), points=points)
    off = np.abs(np.degrees(np.arctan2(tight[:, 1], tight[:, 0])) % 360 - 200)
    last = 0.0
    for slack in (0.01, 1.0, 4.0, 40.0):
        loose = band_curve_cm(OVAL, Lay(climber_cm=2, slack_cm=slack), 0, 200, 30, points=points)
        assert length_cm(loose) - length_cm(tight) == pytest.approx(slack, abs=1e-9)
        moved = np.hypot(*(loose - tight)[:, :2].T)
        assert moved[off > 30.001].max() < 1e-12
        assert moved.max() > last
        last = moved.max()
        # straight out: the direction from the pith stays
        outward = tight[:, 0] * loose[:, 1] - tight[:, 1] * loose[:, 0]
        assert np.abs(outward).max() < 1e-9


@pytest.mark.parametrize("name", LAYS)
def test_it_lies_on_or_off_the_bark(name: str) -> None:
    """Nowhere inside the stem; off it only where something holds it, or nothing pulls it."""
    lay = LAYS[name]
    curve = band_curve_cm(circle(40), lay, points=3600)
    radius = (40 - lay.taper_cm_per_m * lay.height_off_m) / 2
    off = np.hypot(curve[:, 0], curve[:, 1]) - radius
    assert off.min() > -1e-4
    wanted = max(lay.climber_cm, lay.knot_cm, lay.twist_lift_cm)
    if lay.slack_cm:
        assert off.max() > 1
    else:
        assert off.max() == pytest.approx(wanted, abs=1e-3)


def test_tilt_and_wander_by_hand() -> None:
    """A tilt of 16° to one side: its foot on the other; a wave's crest at an eighth."""
    tilted = band_curve_cm(circle(40), Lay(tilt_deg=16, tilt_direction_deg=-90))
    left, right = tilted[tilted[:, 1].argmax()], tilted[tilted[:, 1].argmin()]
    assert left[2] == pytest.approx(-20 * np.tan(np.radians(16)), abs=1e-3)
    assert right[2] == pytest.approx(20 * np.tan(np.radians(16)), abs=1e-3)
    waved = band_curve_cm(circle(40), Lay(wander_cm=10))
    crest = waved[waved[:, 2].argmax()]
    assert crest[2] == pytest.approx(5, abs=1e-4)
    assert np.abs(crest[1]) == pytest.approx(20 * np.sin(np.pi / 4), abs=0.1)


@pytest.mark.parametrize("name", [*LAYS, *TOGETHER])
def test_ends_meet_unless_they_miss(name: str) -> None:
    """The band comes back to its tab, or as far above or below it as the lay says."""
    lay = {**LAYS, **TOGETHER}[name]
    curve = band_curve_cm(OVAL, lay)
    assert curve[0, :2] == pytest.approx(curve[-1, :2])
    assert curve[-1, 2] - curve[0, 2] == pytest.approx(lay.overlap_offset_cm)


@pytest.mark.parametrize("points", [60, 720])
def test_straight_parts_are_divided(points: int) -> None:
    """Over a thick climber too no step is long, so that a wave is seen on the free piece."""
    curve = band_curve_cm(OVAL, Lay(climber_cm=20, wander_cm=5, wander_waves=3), points=points)
    step = np.hypot(*np.diff(curve[:, :2], axis=0).T)
    assert step.max() <= step.sum() * 2 / points * (1 + 1e-9)
    assert step.min() > 0


@pytest.mark.parametrize(
    ("stem", "lay"),
    [(Ellipse([40, 44], 36), Lay()), (OVAL, Lay(tilt_deg=[1, 2])), (Ellipse([4], 3), Lay([1]))],
)
def test_one_band_at_a_time(stem: Ellipse, lay: Lay) -> None:
    """Arrays of stems or lays are refused in one sentence."""
    with pytest.raises(MeasureError, match=r"^lay is .*expected a single lay on a single stem\.$"):
        band_curve_cm(stem, lay)


def test_what_else_is_refused() -> None:
    """A reach of no width, too few points, and a taper that leaves no stem."""
    with pytest.raises(MeasureError, match="loose_reach_deg"):
        band_curve_cm(OVAL, Lay(slack_cm=1), 0, 0, 0)
    with pytest.raises(MeasureError, match="points"):
        band_curve_cm(OVAL, Lay(), points=2)
    with pytest.raises(MeasureError, match="leaves some stem"):
        band_curve_cm(OVAL, Lay(height_off_m=50, taper_cm_per_m=2))
