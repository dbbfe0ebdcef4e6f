"""Where to measure one stem: closed forms, other routes, and what may not depend on what."""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, pi, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from scipy.special import ellipe

from mensura.checks import ChoiceError, MeasureError
from mensura.estimates.asked_stem import AskedStem
from mensura.estimates.place import place_on
from mensura.estimates.place_rules import SITUATIONS
from mensura.estimates.place_said import COST_KEYS
from mensura.estimates.rules_here import rules_here, short_source, told_source, work_name
from mensura.instruments import Lay, Tape
from mensura.stems.ellipse import Ellipse
from mensura.stems.standing import SIDES

EXAMPLES = 40
LEGS = AskedStem(40.0, fork_at_m=1.1, leg_diameters_cm=(25.0, 22.0))


def costs(asked: AskedStem) -> dict[str, float]:
    """Costs by the way to ignore a rule."""
    return {one.cost_key: one.cost_percent for one in rules_here(asked)}


def level_girth_cm(first_cm: float, second_cm: float) -> float:
    """An ellipse's girth by SciPy's elliptic integral, axes in cm."""
    long, short = max(first_cm, second_cm), min(first_cm, second_cm)
    return float(2 * long * ellipe(1 - (short / long) ** 2))


def hull_cm(first_cm: float, second_cm: float, gap_cm: float, times: float = 1.0) -> float:
    """Taut girth of two circles side by side, stretched along both, by Qhull's perimeter."""
    turn = np.linspace(0.0, 2 * np.pi, 20_000, endpoint=False)
    ring = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    apart = np.array([(first_cm + second_cm) / 2 + gap_cm, 0.0])
    points = np.concatenate([ring * first_cm / 2, ring * second_cm / 2 + apart])
    return float(ConvexHull(points * [times, 1.0]).area)


# ---- lean ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lean_deg", "percent"), [(5, 0.383), (10, 1.552), (15, 3.574), (20, 6.572), (30, 16.368)]
)
def test_a_level_band_on_a_leaning_cylinder(lean_deg: float, percent: float) -> None:
    """The ellipse D/cos λ by D, its girth by another library; the table's area, to its digits."""
    found = place_on(AskedStem(40.0, lean_deg=lean_deg))
    wide = 40 / cos(radians(lean_deg))
    assert found.girth_cm == (pytest.approx(40 * pi, rel=1e-14),)
    assert found.level_band_cm == pytest.approx(level_girth_cm(wide, 40.0), abs=1e-9)
    assert found.level_caliper_in_lean_cm == pytest.approx(wide, abs=1e-9)
    assert found.level_caliper_across_cm == pytest.approx(40, abs=1e-9)
    assert costs(found.asked)["level-band"] == pytest.approx(percent, abs=5e-4)
    alone = 100 * ((wide / 40) ** 2 - 1)
    assert costs(found.asked)["level-calipers-in-lean"] == pytest.approx(alone, abs=1e-9)
    assert costs(found.asked)["level-calipers"] == pytest.approx(100 * (wide / 40 - 1), abs=1e-9)


def test_a_level_cut_through_a_leaning_cone() -> None:
    """Cone and plane: the cut's ends lie where its edges meet the plane, solved by hand."""
    found = place_on(AskedStem(40.0, lean_deg=25.0, taper_cm_per_m=3.0))
    lean, steep = radians(25), atan(3 / 200)
    # from the axis to either edge along the level, by the law of sines
    ends = [20 * cos(steep) / cos(lean + way * steep) for way in (1, -1)]
    assert found.level_caliper_in_lean_cm == pytest.approx(sum(ends), abs=1e-9)


@given(
    diameter_cm=st.floats(5, 150),
    lean_deg=st.floats(0.5, 60),
    towards=st.sampled_from(["downhill", "across", "uphill"]),
)
@settings(max_examples=40, deadline=None)
def test_without_a_slope_no_direction_counts(
    diameter_cm: float, lean_deg: float, towards: str
) -> None:
    """Level ground is the same whichever way a stem leans, and for every size."""
    found = place_on(AskedStem(diameter_cm, lean_deg=lean_deg, lean_towards=towards))
    alike = place_on(AskedStem(40.0, lean_deg=lean_deg))
    times = diameter_cm / 40
    assert found.level_band_cm == pytest.approx(times * alike.level_band_cm, rel=1e-9)
    assert [one.cost_percent for one in found.rules] == pytest.approx(
        [one.cost_percent for one in alike.rules], abs=1e-9
    )


def test_the_tape_reads_a_level_band_as_much() -> None:
    """The other road: a tape that lies tilted by the lean on the round section."""
    found = place_on(AskedStem(40.0, lean_deg=12.0))
    reading = Tape().read(Ellipse(40.0, 40.0), Lay(tilt_deg=12.0)).reading_cm
    assert found.level_band_cm == pytest.approx(float(reading), abs=1e-9)


@pytest.mark.parametrize(
    ("lean_deg", "plumb_cm", "side_cm"),
    [(5, 0.50, 3.50), (10, 2.01, 7.05), (15, 4.59, 10.72), (20, 8.34, 14.56), (30, 20.11, 23.09)],
)
def test_plumb_and_the_wrong_side_of_a_lean(
    lean_deg: float, plumb_cm: float, side_cm: float
) -> None:
    """Both higher, by 130(1/cos λ − 1) and D·tan λ, worked out by hand; taper 1 cm/m."""
    found = costs(AskedStem(40.0, lean_deg=lean_deg, taper_cm_per_m=1.0))
    for key, higher_cm in (("plumb", plumb_cm), ("wrong-side", side_cm)):
        wanted = 100 * ((1 - higher_cm / 100 / 40) ** 2 - 1)
        assert found[key] == pytest.approx(wanted, abs=4e-4)


@pytest.mark.parametrize("lean_deg", [70, 80, 86, 88])
def test_a_stem_that_hardly_stands(lean_deg: float) -> None:
    """Its sides meet the ground metres apart: fork and swelling stay where they were told."""
    wide = 1 / cos(radians(lean_deg))
    found = place_on(replace(LEGS, lean_deg=lean_deg))
    belt = (hull_cm(25, 22, 0) / pi) ** 2 / (25**2 + 22**2)
    assert costs(found.asked)["two-as-one"] == pytest.approx(100 * (belt - 1), abs=1e-5)
    assert found.level_caliper_in_lean_cm == pytest.approx(47 * wide, rel=1e-9)
    swollen = AskedStem(40.0, lean_deg=lean_deg, swelling_percent=8.0)
    assert costs(swollen)["swelling"] == pytest.approx(16.64, abs=1e-9)


# ---- slope, height, litter -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("slope_deg", "percent"), [(10, 0.353), (20, 0.729), (30, 1.158), (40, 1.685)]
)
def test_downhill_instead_of_uphill(slope_deg: float, percent: float) -> None:
    """D·tan β times taper, the worked table; half-way is half as high."""
    asked = AskedStem(40.0, slope_deg=slope_deg, taper_cm_per_m=1.0)
    assert costs(asked)["downhill"] == pytest.approx(percent, abs=6e-4)
    lower_m = 0.4 * tan(radians(slope_deg))
    halfway = 100 * ((1 + lower_m / 2 / 40) ** 2 - 1)
    assert costs(asked)["half-way"] == pytest.approx(halfway, abs=1e-9)
    found = place_on(replace(asked, side="downhill"))
    assert found.over_percent == pytest.approx(costs(asked)["downhill"], abs=1e-9)
    assert found.level_band_cm == pytest.approx(pi * (40 + lower_m), abs=1e-9)


@given(slope_deg=st.floats(1, 45), lean_deg=st.floats(0, 40), uphill=st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_ground_of_a_leaning_stem(slope_deg: float, lean_deg: float, uphill: bool) -> None:
    """D·tan(β − λ) lies between both sides, a lean uphill being below nought."""
    lean = -lean_deg if uphill else lean_deg
    towards = "uphill" if uphill else "downhill"
    asked = AskedStem(40.0, lean_deg=lean_deg, lean_towards=towards, slope_deg=slope_deg)
    apart = asked.from_side_m(1.3, "uphill") - asked.from_side_m(1.3, "downhill")
    assert apart == pytest.approx(0.4 * tan(radians(slope_deg - lean)), abs=1e-9)


def test_another_height_costs_its_taper() -> None:
    """1.37 m for 1.30 m: 7 cm at 1 cm/m; and 10 cm where no other height was asked for."""
    asked = AskedStem(40.0, taper_cm_per_m=1.0, height_m=1.37)
    assert costs(asked)["wrong-height"] == pytest.approx(100 * ((39.93 / 40) ** 2 - 1), abs=1e-9)
    asked = AskedStem(40.0, taper_cm_per_m=1.0)
    assert costs(asked)["wrong-height"] == pytest.approx(100 * ((39.9 / 40) ** 2 - 1), abs=1e-9)
    assert costs(asked)["other-breast-height"] == pytest.approx(
        100 * ((39.93 / 40) ** 2 - 1), abs=1e-9
    )
    feet = replace(asked, breast_height_m=1.3716)
    assert costs(feet)["other-breast-height"] == pytest.approx(
        100 * ((40.0716 / 40) ** 2 - 1), abs=1e-9
    )
    asked = AskedStem(40.0, taper_cm_per_m=1.0, litter_cm=5.0)
    assert costs(asked)["litter"] == pytest.approx(100 * ((39.95 / 40) ** 2 - 1), abs=1e-9)


def test_litter_on_a_slope_round_a_leaning_stem() -> None:
    """A plane lifted by 5 cm: where the axis meets it, solved as a linear system."""
    asked = AskedStem(40.0, lean_deg=25.0, lean_towards="uphill", slope_deg=20.0, litter_cm=5.0)
    lean, slope = radians(25), radians(20)
    # unknown: how far along the axis, and the point's place downhill and up
    along, *_ = np.linalg.solve(
        [[-np.sin(lean), -1, 0], [cos(lean), 0, -1], [0, tan(slope), 1]], [0, 0, 0.05]
    )
    assert asked.litter_along_m == pytest.approx(along, abs=1e-9)


def test_a_rule_keeps_all_others() -> None:
    """A height on the wrong side moves the figures there, not the cost of the height alone."""
    asked = AskedStem(40.0, slope_deg=20.0, taper_cm_per_m=1.0, height_m=1.5, side="downhill")
    assert costs(asked)["wrong-height"] == pytest.approx(100 * ((39.8 / 40) ** 2 - 1), abs=1e-9)
    across = 40 - (0.2 - 0.4 * tan(radians(20)))
    assert place_on(asked).over_percent == pytest.approx(100 * ((across / 40) ** 2 - 1), abs=1e-9)


# ---- forks ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("gap_cm", [0.0, 6.0])
def test_two_legs_as_one(gap_cm: float) -> None:
    """The taut hull of two circles by Qhull, against √Σd²; one leg; the stem below the fork."""
    asked = replace(LEGS, leg_gap_cm=gap_cm)
    found = place_on(asked)
    belt = hull_cm(25.0, 22.0, gap_cm)
    assert found.girth_cm == pytest.approx((25 * pi, 22 * pi))
    assert found.level_band_cm == pytest.approx(belt, rel=1e-7)
    assert found.band_cm == found.level_band_cm
    both = 25**2 + 22**2
    by = costs(asked)
    assert by["two-as-one"] == pytest.approx(100 * ((belt / pi) ** 2 / both - 1), abs=1e-5)
    assert by["one-leg-of-two"] == pytest.approx(100 * (25**2 / both - 1), abs=1e-9)
    assert by["below-the-fork"] == pytest.approx(100 * (40**2 / both - 1), abs=1e-9)
    assert found.level_caliper_in_lean_cm == pytest.approx(47 + gap_cm)
    assert found.level_caliper_across_cm == 25.0


def test_two_leaning_legs_cut_level() -> None:
    """Both and the gap are 1/cos λ as wide in the lean, and as wide as the thicker across it."""
    found = place_on(replace(LEGS, leg_gap_cm=3.0, lean_deg=15.0))
    times = 1 / cos(radians(15))
    assert found.level_caliper_in_lean_cm == pytest.approx(50 * times, abs=1e-9)
    assert found.level_caliper_across_cm == pytest.approx(25, abs=1e-9)
    assert found.level_band_cm == pytest.approx(hull_cm(25, 22, 3, times), rel=1e-7)
    wanted = 100 * ((level_girth_cm(40 * times, 40) / pi / 40) ** 2 - 1)
    assert costs(found.asked)["level-band"] == pytest.approx(wanted, abs=1e-9)


def test_a_forked_stem_is_as_thick_as_told_just_below_its_fork() -> None:
    """Half a metre lower it is thicker by its taper; a leg of its own thickness fits."""
    found = place_on(replace(LEGS, taper_cm_per_m=2.0, height_m=0.6))
    assert found.band_cm == pytest.approx(41 * pi, abs=1e-9)
    assert found.over_percent == pytest.approx(100 * (41**2 / (25**2 + 22**2) - 1), abs=1e-9)
    place_on(replace(LEGS, taper_cm_per_m=2.0, leg_diameters_cm=(40.0, 22.0)))


def test_on_the_line_itself_a_fork_is_one_stem() -> None:
    """At breast height and above one girth, a hair below two."""
    at = replace(LEGS, fork_at_m=1.3)
    above, below = replace(at, fork_at_m=1.31), replace(at, fork_at_m=1.3 - 1e-6)
    assert [len(place_on(one).girth_cm) for one in (above, at, below)] == [1, 1, 2]
    keys = [[rule.key for rule in rules_here(one)] for one in (above, at, below)]
    assert ["fork-above" in keys[0], "fork-at" in keys[1], "fork-below" in keys[2]] == [True] * 3
    twice = 100 * ((25**2 + 22**2) / 40**2 - 1)
    assert costs(at)["counted-twice"] == pytest.approx(twice, abs=1e-9)


def test_from_downhill_a_fork_may_lie_above_the_place() -> None:
    """1.30 m from below the slope is 1.15 m from above it: there the stem is still one."""
    asked = replace(LEGS, fork_at_m=1.2, slope_deg=20.0)
    by = costs(asked)
    assert by["downhill"] == pytest.approx(by["below-the-fork"], abs=0.2)
    assert by["half-way"] == pytest.approx(0.0, abs=1e-9)


# ---- what lies on a stem -------------------------------------------------------------------------


@given(percent=st.floats(-40, 60), lean_deg=st.sampled_from([0.0, 8.0]))
@settings(max_examples=30, deadline=None)
def test_a_swelling_at_the_place(percent: float, lean_deg: float) -> None:
    """(1 + p)² − 1; the rule's girth does not know of it; calipers across it read it."""
    assume(abs(percent) > 0.1)
    found = place_on(AskedStem(40.0, swelling_percent=percent, lean_deg=lean_deg))
    assert costs(found.asked)["swelling"] == pytest.approx(
        100 * ((1 + percent / 100) ** 2 - 1), abs=1e-9
    )
    assert found.girth_cm == pytest.approx((40 * pi,))
    if lean_deg == 0:
        assert found.level_band_cm == pytest.approx(40 * pi * (1 + percent / 100), abs=1e-9)
    assert costs(found.asked).get("level-band", 0.0) == costs(
        replace(found.asked, swelling_percent=0.0)
    ).get("level-band", 0.0)


def test_a_swelling_away_from_the_place_needs_no_rule() -> None:
    """Its reach ends before the place; where it does not, both places are clear of it."""
    asked = AskedStem(40.0, swelling_percent=8.0, swelling_at_m=1.6)
    assert "swelling" not in costs(asked)
    assert any("clear of the place" in one for one in place_on(asked).notes)
    near = replace(asked, swelling_at_m=1.4)
    (rule,) = [one for one in rules_here(near) if one.cost_key == "swelling"]
    above = costs(replace(near, taper_cm_per_m=2.0))["above-only"]
    assert above == pytest.approx(100 * ((1 - 0.7 / 40) ** 2 - 1), abs=1e-9)
    assert rule.place.startswith("1.65 m and 0.95 m, clear of the swelling, the mean of both,")
    assert rule.cost_percent < 16.64
    low = replace(asked, swelling_at_m=1.3, swelling_reach_m=1.4)
    (rule,) = [one for one in rules_here(low) if one.key == "swelling"]
    assert "no room below" in rule.place
    forked = replace(LEGS, fork_at_m=1.4, swelling_percent=8.0)
    (rule,) = [one for one in rules_here(forked) if one.key == "swelling"]
    assert rule.place.startswith("1.05 m, just below the swelling, with no room above,")
    (rule,) = [
        one for one in rules_here(replace(forked, swelling_reach_m=1.4)) if one.key == "swelling"
    ]
    assert rule.place.startswith("the sound place nearest to 1.30 m")


def test_swollen_legs_keep_their_gap() -> None:
    """Both are thicker alike; what is between them stays."""
    found = place_on(replace(LEGS, leg_gap_cm=3.0, swelling_percent=10.0))
    assert found.level_caliper_in_lean_cm == pytest.approx(1.1 * 47 + 3)
    assert found.level_caliper_across_cm == pytest.approx(27.5)


@pytest.mark.parametrize(("moss_cm", "percent"), [(0.2, 2.68), (0.5, 6.78), (1.0, 13.78)])
def test_moss_under_the_band(moss_cm: float, percent: float) -> None:
    """On 30 cm, by hand: ((30 + 2t)/30)² − 1."""
    assert costs(AskedStem(30.0, moss_cm=moss_cm))["moss"] == pytest.approx(percent, abs=5e-3)


def test_a_climber_under_the_band() -> None:
    """The taut hull of stem and climber, by Qhull; of two legs it is on the thicker."""
    band = hull_cm(40.0, 2.0, 0.0) / pi
    assert costs(AskedStem(40.0, climber_cm=2.0))["climber"] == pytest.approx(
        100 * ((band / 40) ** 2 - 1), abs=1e-5
    )
    squares = (hull_cm(25.0, 2.0, 0.0) / pi) ** 2 + 22**2
    assert costs(replace(LEGS, climber_cm=2.0))["climber"] == pytest.approx(
        100 * (squares / (25**2 + 22**2) - 1), abs=1e-5
    )


# ---- words, order, refusals ----------------------------------------------------------------------


FULL = replace(
    LEGS, lean_deg=10.0, slope_deg=20.0, taper_cm_per_m=1.0, swelling_percent=8.0, litter_cm=5.0,
    moss_cm=0.5, climber_cm=2.0,
)  # fmt: skip


def test_rules_come_with_source_place_and_caution_the_dearest_first() -> None:
    found = place_on(FULL)
    sizes = [abs(one.cost_percent) for one in found.rules]
    assert sizes == sorted(sizes, reverse=True)
    assert len({one.cost_key for one in found.rules}) == len(found.rules) == 15
    ours = {"below-the-fork", "counted-twice", "other-side", "middle-of-lean"}
    for one in found.rules:
        assert one.cost_key in {*COST_KEYS, *ours}
        assert one.to_dict()["source"] == told_source(one.rule)
        assert one.place
        assert SITUATIONS[one.key].caution in ("", *found.cautions)
    about = [one.about for one in found.disagreements]
    assert "On a slope, from which ground?" in about


@pytest.mark.parametrize("one", SITUATIONS.values(), ids=lambda one: one.key)
def test_every_source_has_a_short_name(one) -> None:
    """None is empty, none carries how it is known; the full one has the title."""
    for rule in one.rules:
        assert len(short_source(rule)) <= len(told_source(rule))
        for said in rule.said:
            name = work_name(said.key)
            assert name[0].isupper()
            assert "memory" not in name
            assert "unsigned" not in name
            assert name in short_source(rule)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"lean_deg": 90.0}, "lean_deg"),
        ({"lean_deg": -1.0}, "lean_deg"),
        ({"lean_deg": 89.9}, "first_cm"),
        ({"lean_deg": 60.0, "slope_deg": 40.0, "lean_towards": "uphill"}, "lean_deg"),
        ({"slope_deg": 80.0}, "slope_deg"),
        ({"height_m": -0.1}, "height_m"),
        ({"fork_at_m": -0.1}, "fork_at_m"),
        ({"leg_diameters_cm": (41.0, 22.0)}, "leg_diameters_cm"),
        ({"leg_diameters_cm": (22.0, 41.0)}, "leg_diameters_cm"),
        ({"leg_diameters_cm": None}, "leg_diameters_cm"),
        ({"fork_at_m": None}, "fork_at_m"),
        ({"breast_height_m": 3.1}, "breast_height_m"),
        ({"breast_height_m": 0.0}, "breast_height_m"),
        ({"swelling_percent": -90.0}, "swelling_percent"),
        ({"swelling_at_m": -1.0}, "swelling_at_m"),
        ({"litter_cm": -1.0}, "litter_cm"),
        ({"moss_cm": -1.0}, "moss_cm"),
        ({"climber_cm": -1.0}, "climber_cm"),
        ({"diameter_cm": 0.0}, "diameter_cm"),
        ({"diameter_cm": float("nan")}, "diameter_cm"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change: dict[str, object], field: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        place_on(replace(LEGS, **change))
    assert refusal.value.field == field


def test_words_that_are_none_are_refused() -> None:
    for change in ({"side": "left"}, {"lean_towards": "left"}):
        with pytest.raises(ChoiceError):
            replace(LEGS, **change)


def test_a_place_above_the_top_has_no_stem() -> None:
    """A rule that would lead there costs all of the area; a height asked for there is refused."""
    asked = AskedStem(10.0, lean_deg=85.0, taper_cm_per_m=2.0)
    assert costs(asked)["plumb"] == pytest.approx(-100.0)
    with pytest.raises(MeasureError) as refusal:
        place_on(AskedStem(10.0, taper_cm_per_m=5.0, height_m=4.0))
    assert refusal.value.field == "height_m"


def test_area_of_two_is_that_of_the_root_of_their_squares() -> None:
    """√Σd²: the one figure of two stems that keeps the area, here against 25 and 22 cm."""
    one = AskedStem(sqrt(25**2 + 22**2))
    belt = replace(LEGS, diameter_cm=40.0)
    share = (place_on(one).girth_cm[0] / pi) ** 2
    assert share == pytest.approx(sum((girth / pi) ** 2 for girth in place_on(belt).girth_cm))


STEMS = st.builds(
    AskedStem,
    diameter_cm=st.floats(20, 300),
    lean_deg=st.just(0.0) | st.floats(0, 80),
    lean_towards=st.sampled_from(["downhill", "across", "uphill"]),
    slope_deg=st.just(0.0) | st.floats(0, 60),
    side=st.none() | st.sampled_from(SIDES),
    height_m=st.none() | st.floats(0, 4),
    plumb=st.booleans(),
    taper_cm_per_m=st.floats(-3, 4),
    fork_at_m=st.floats(0, 3),
    leg_diameters_cm=st.tuples(st.floats(0.5, 20), st.floats(0.5, 20)),
    leg_gap_cm=st.just(0.0) | st.floats(0, 100),
    swelling_percent=st.just(0.0) | st.floats(-60, 100),
    swelling_at_m=st.none() | st.floats(0, 4),
    litter_cm=st.floats(0, 50),
    breast_height_m=st.floats(0.1, 3),
)


@given(STEMS, st.booleans())
@settings(max_examples=EXAMPLES, deadline=None)
def test_every_stem_is_answered_or_refused(asked: AskedStem, forks: bool) -> None:
    """Finite figures and costs of −100 % at the least, or a field that is to blame."""
    if not forks:
        asked = replace(asked, fork_at_m=None, leg_diameters_cm=None, leg_gap_cm=0.0)
    try:
        found = place_on(asked).to_dict()
    except MeasureError as refusal:
        event(f"refused: {refusal.field}")
        return
    told = [one["cost_percent"] for one in found["rules"]]
    figures = [found[key] for key in found if key.endswith("_cm") and key != "girth_cm"]
    assert np.isfinite(told).all()
    assert min(told) >= -100
    assert np.isfinite(figures).all()
    assert min(figures) > 0


def test_where_a_swelling_leaves_one_side_the_diameter_is_told_there() -> None:
    """A stem swollen from 0.70 m below the ground to 3.30 m: 40 cm at 3.30 m, 42 at 1.30 m."""
    asked = AskedStem(40.0, swelling_percent=8.0, swelling_reach_m=2.0, taper_cm_per_m=1.0)
    assert asked.clear_m == pytest.approx((3.3,))
    assert place_on(asked).band_cm == pytest.approx(pi * 42.0 * 1.08, rel=1e-12)
    assert costs(asked)["swelling"] == pytest.approx(100 * ((42 * 1.08 / 40) ** 2 - 1), abs=1e-9)
    assert place_on(asked).where.startswith("3.30 m, just above the swelling")


def test_a_height_on_the_fork_itself_is_one_stem_however_it_was_added_up() -> None:
    """1.3 and 0.1 make a hair more than 1.4 in floats, and the fork at 1.4 is not above itself."""
    asked = AskedStem(40.0, fork_at_m=1.4, leg_diameters_cm=(25.0, 22.0), taper_cm_per_m=1.0)
    assert costs(asked)["wrong-height"] == pytest.approx(100 * ((39.9 / 40) ** 2 - 1), abs=1e-9)
