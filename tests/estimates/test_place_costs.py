"""What ignoring a rule of the place costs: by closed forms, by hand, and over plausible stems."""

from __future__ import annotations

from itertools import product

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import ChoiceError, MeasureError
from mensura.estimates.ignored_rules import IGNORED_RULES
from mensura.estimates.place_costs import (
    GROWTH_CM,
    SIZES_CM,
    TAPERS_CM_PER_M,
    TREE_M,
    USUAL_CM,
    area_cost_percent,
    breast_taper_cm_per_m,
    breast_taper_rows,
    cost_amount_rows,
    cost_of_growth_rows,
    cost_range_rows,
    every_amount_rows,
    place_cost_rows,
    place_costs,
)

COSTS = {one.key: one for one in place_costs()}
STEMS = [(16.0, 0.5), (40.0, 1.0), (73.0, 2.5)]


def squared(read: float, right: float) -> float:
    """Per cent of area, from two diameters or girths."""
    return 100 * ((read / right) ** 2 - 1)


#: Rules that put the band off its place on a tapering stem: key → metres above it, by hand, for a
#: stem so thick and an amount so large.
OFF_M = {
    "wrong-height": lambda d, a: -a / 100,
    "other-breast-height": lambda d, a: a - 1.3,
    "downhill": lambda d, a: -d / 100 * np.tan(np.radians(a)),
    "half-way": lambda d, a: -d / 200 * np.tan(np.radians(a)),
    "plumb": lambda d, a: 1.3 * (1 / np.cos(np.radians(a)) - 1),
    "wrong-side": lambda d, a: d / 100 * np.tan(np.radians(a)),
    "middle-of-lean": lambda d, a: d / 200 * np.tan(np.radians(a)),
    "litter": lambda d, a: a / 100,
    "raised-roots": lambda d, a: -a / 100,
    "snow": lambda d, a: a / 100,
    "off-the-mark": lambda d, a: a / 100,
    "above-only": lambda d, a: a / 100,
}


@pytest.mark.parametrize("key", OFF_M)
@pytest.mark.parametrize(("thick", "taper"), STEMS)
def test_a_band_off_its_place_by_hand(key: str, thick: float, taper: float) -> None:
    """Diameter at the place less taper times the way off it, squared."""
    for amount in IGNORED_RULES[key].amounts:
        read = thick - taper * OFF_M[key](thick, amount)
        found = area_cost_percent(key, thick, taper, amount)
        assert found == pytest.approx(squared(read, thick), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("lean", [5.0, 10.0, 20.0, 45.0])
def test_a_level_band_and_level_calipers(lean: float) -> None:
    """Without taper: the ellipse D/cos λ by D, its girth by an elliptic integral of thirty digits,
    its widths by hand."""
    with mpmath.workdps(30):
        cosine = mpmath.cos(mpmath.radians(lean))
        girth = 4 * mpmath.ellipe(1 - cosine**2) / cosine / 2
        level = float(100 * ((girth / mpmath.pi) ** 2 - 1))
    assert area_cost_percent("level-band", 40.0, 0.0, lean) == pytest.approx(level, rel=1e-12)
    share = 1 / np.cos(np.radians(lean))
    pair = area_cost_percent("level-calipers", 40.0, 0.0, lean)
    assert pair == pytest.approx(100 * (share - 1), rel=1e-12)
    one = area_cost_percent("level-calipers-in-lean", 40.0, 0.0, lean)
    assert one == pytest.approx(100 * (share**2 - 1), rel=1e-12)
    assert pair < level < one


@pytest.mark.parametrize(("thick", "taper"), STEMS)
def test_a_swelling_by_hand(thick: float, taper: float) -> None:
    """The mean of two equally far off is the stem's own diameter, whatever the straight taper."""
    found = area_cost_percent("swelling", thick, taper, 8.0)
    assert found == pytest.approx(squared(1.08, 1.0), rel=2e-5)


@pytest.mark.parametrize("gap", [0.0, 5.0, 10.0])
def test_two_stems_in_one_band(gap: float) -> None:
    """25 and 22 cm on 40: two tangents and two arcs, against the sum of two squares."""
    big, small = 12.5, 11.0
    apart = big + small + gap
    tangent = np.sqrt(apart**2 - (big - small) ** 2)
    turn = np.arcsin((big - small) / apart)
    belt = 2 * tangent + big * (np.pi + 2 * turn) + small * (np.pi - 2 * turn)
    right = (25.0**2 + 22.0**2) ** 0.5
    found = area_cost_percent("two-as-one", 40.0, 1.0, gap)
    assert found == pytest.approx(squared(belt / np.pi, right), rel=1e-9)


def test_one_stem_of_two() -> None:
    """Two alike: half is lost; the thinner half as thick: a fifth."""
    assert area_cost_percent("one-leg-of-two", amount=100.0) == pytest.approx(-50.0)
    assert area_cost_percent("one-leg-of-two", amount=50.0) == pytest.approx(-20.0)


def test_layers_under_the_band() -> None:
    """Moss makes the diameter two thicknesses longer; a climber is a belt round two circles."""
    assert area_cost_percent("moss", 30.0, amount=0.5) == pytest.approx(squared(31.0, 30.0))
    apart, more = 21.0, 19.0
    turn = np.arcsin(more / apart)
    belt = 2 * np.sqrt(apart**2 - more**2) + 20 * (np.pi + 2 * turn) + 1 * (np.pi - 2 * turn)
    found = area_cost_percent("climber", 40.0, amount=2.0)
    assert found == pytest.approx(squared(belt, 40 * np.pi), rel=1e-6)


def test_a_butt_swell_by_hand() -> None:
    """At 1.3 m the swell is 40 % times a cosine's square; the place is 2.2572 m, and thinner."""
    swell = 1 + 0.4 * np.cos(np.pi / 2 * 1.3 / 1.8) ** 2
    read = (40 + 1.0 * (1.8 + 0.4572 - 1.3)) * swell
    found = area_cost_percent("butt-swell", amount=40.0)
    assert found == pytest.approx(squared(read, 40.0), rel=2e-5)


def test_stilt_roots_by_a_hull() -> None:
    """Four roots at 45° round a stem of 40 cm, 10 cm off it: SciPy's hull of dense points."""
    from scipy.spatial import ConvexHull

    turn = np.linspace(0, 2 * np.pi, 4000, endpoint=False)
    circle = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    long, thick = 5 * 2**0.5 / 2, 2.5
    away = (40.0 + 0.1) / 2 + 10
    points = [20.05 * circle]
    points += [circle * (long, thick) + (way * away, 0.0) for way in (1, -1)]
    points += [circle * (thick, long) + (0.0, way * away) for way in (1, -1)]
    hull = ConvexHull(np.concatenate(points)).area
    found = area_cost_percent("stilt-root", 40.0, 1.0, 1.4)
    assert found == pytest.approx(squared(hull, 40 * np.pi), rel=1e-5)


def test_buttresses_and_grooves_by_shapely() -> None:
    """Lobes that are left at 1.3 m, and the floor of grooves: GEOS's own lengths."""
    import shapely

    from mensura.stems.bark import RoughBark
    from mensura.stems.ellipse import Ellipse

    turn = np.linspace(0, 2 * np.pi, 20_000, endpoint=False)
    left = (1 - 1.3 / 2.0) ** 2
    # by the rule 50 cm above their end, 1.2 m above the band
    radius = (40 + 1.2) / 2 + 60 * left * ((1 + np.cos(5 * turn)) / 2) ** 4
    edge = shapely.Polygon(np.stack([radius * np.cos(turn), radius * np.sin(turn)], axis=-1))
    found = area_cost_percent("buttress", 40.0, 1.0, 2.0)
    assert found == pytest.approx(squared(edge.convex_hull.length, 40 * np.pi), rel=1e-4)
    rough = shapely.Polygon(RoughBark(Ellipse(40, 40), 6, 2.0).outline_cm())
    found = area_cost_percent("furrows", 40.0, 1.0, 2.0)
    assert found == pytest.approx(squared(rough.length, rough.convex_hull.length), rel=1e-9)


@pytest.mark.parametrize(("key", "ends_m"), [("buttress", 0.8), ("stilt-root", 1.2)])
def test_what_ends_below_breast_height_costs_nothing(key: str, ends_m: float) -> None:
    """The place is breast height then, by the rule and without it; of buttresses if they end 50 cm
    below it."""
    assert area_cost_percent(key, amount=ends_m) == pytest.approx(0.0, abs=1e-9)


def test_without_taper_a_height_costs_nothing() -> None:
    """On a cylinder only what lies under the band or across the stem has a price."""
    costs = {key: area_cost_percent(key, taper_cm_per_m=0.0) for key in IGNORED_RULES}
    assert {key for key, cost in costs.items() if abs(cost) < 1e-9} == set(OFF_M)


def test_every_rule_has_a_cost_and_the_cheapest_comes_first() -> None:
    """At the usual stem none is nought; ranges hold what the usual stem pays."""
    costs = place_costs()
    assert {one.key for one in costs} == set(IGNORED_RULES)
    sizes = [abs(one.area_percent) for one in costs]
    assert sizes == sorted(sizes)
    assert sizes[0] > 0.05
    for one in costs:
        assert one.area_least_percent <= one.area_percent <= one.area_most_percent
        assert one.girth_least_percent <= one.girth_percent <= one.girth_most_percent
        assert one.area_least_percent * one.area_most_percent > 0  # one way on every stem


def test_the_range_holds_every_plausible_stem() -> None:
    """A finer grid of sizes and tapers finds nothing outside: costs have their ends at the ends."""
    sizes = np.linspace(SIZES_CM[0], SIZES_CM[-1], 5)
    tapers = np.linspace(TAPERS_CM_PER_M[0], TAPERS_CM_PER_M[-1], 4)
    for key, one in COSTS.items():
        found = [area_cost_percent(key, d, t) for d, t in product(sizes, tapers)]
        room = 1e-6 * abs(one.area_percent)
        assert one.area_least_percent - room <= min(found), key
        assert max(found) <= one.area_most_percent + room, key


def test_girth_area_and_volume_hang_together() -> None:
    """Areas go with the square of the girth; volume by g·h·f with the area; m³ by hand."""
    for one in COSTS.values():
        assert squared(1 + one.girth_percent / 100, 1.0) == pytest.approx(one.area_percent)
        assert one.volume_percent == pytest.approx(one.area_percent, rel=1e-9)
    usual_m3 = np.pi / 40000 * USUAL_CM**2 * TREE_M * 0.45
    one = COSTS["downhill"]
    assert one.volume_m3 == pytest.approx(usual_m3 * one.area_percent / 100)


def test_of_a_growth_by_hand() -> None:
    """10 cm above the mark at 1 cm/m are 1 mm of a growth of 5 mm."""
    (row,) = (one for one in cost_of_growth_rows(place_costs()) if "mark" in one["second_time"])
    assert row["diameter_adds_cm"] == pytest.approx(-0.1)
    assert row["growth_percent"] == pytest.approx(-100 * 0.1 / GROWTH_CM)
    every = cost_of_growth_rows(place_costs(), at_most_percent=1e6)
    assert len(every) == len(IGNORED_RULES) > len(cost_of_growth_rows(place_costs())) > 9


@given(
    st.sampled_from(sorted({*IGNORED_RULES} - {"other-breast-height"})),
    st.floats(15, 90),
    st.floats(0.3, 3),
)
def test_more_costs_more(key: str, thick: float, taper: float) -> None:
    """The more of it, the more it costs; gaps, and thinner stems left out, too."""
    one = IGNORED_RULES[key]
    costs = [abs(area_cost_percent(key, thick, taper, amount)) for amount in one.amounts]
    assert costs == sorted(costs)
    assert costs[0] < costs[-1]


@pytest.mark.parametrize("key", sorted({*IGNORED_RULES} - {*OFF_M, "butt-swell"}))
def test_shapes_scale(key: str) -> None:
    """Where the amount is a share or an angle, every size pays the same; lengths do not."""
    two = [area_cost_percent(key, thick, 0.0) for thick in (30.0, 60.0)]
    lengths = {"moss", "climber", "furrows", "stilt-root"}
    assert (abs(two[0] - two[1]) < 1e-6 * abs(two[0])) == (key not in lengths)


def test_another_breast_height() -> None:
    """As a setting of all: where 1.37 m is the rule, 1.30 m is the other; snow costs the same."""
    american = {one.key: one for one in place_costs(breast_height_m=1.37)}
    assert american["other-breast-height"].words == "1.30 m for 1.37 m"
    assert american["other-breast-height"].area_percent == pytest.approx(squared(40.07, 40.0))
    assert american["snow"].area_percent == pytest.approx(COSTS["snow"].area_percent)
    assert american["buttress"].area_percent != pytest.approx(COSTS["buttress"].area_percent)


def test_own_amounts() -> None:
    """A steeper slope than usual, in its words, its cost and its range."""
    own = {one.key: one for one in place_costs(amounts={"downhill": 40.0})}
    assert own["downhill"].words == "from downhill, slope 40°"
    assert own["downhill"].area_percent == pytest.approx(1.685, abs=5e-4)
    assert own["snow"] == COSTS["snow"]


def test_tapers_of_solids() -> None:
    """The slope by differences of the solid's own curve; plausible tapers are within the rows."""
    for power in (1.0, 1.6, 2.0, 3.0):
        curve = [40 * ((25 - h) / (25 - 1.3)) ** (power / 2) for h in (1.3 - 1e-5, 1.3 + 1e-5)]
        by_differences = (curve[0] - curve[1]) / 2e-5
        assert breast_taper_cm_per_m(40, 25, power) == pytest.approx(by_differences, rel=1e-6)
    tapers = [value for row in breast_taper_rows() for name, value in row.items() if "/m" in name]
    assert min(tapers) > TAPERS_CM_PER_M[0]
    assert sorted(tapers)[len(tapers) // 2] < TAPERS_CM_PER_M[-1] < max(tapers)


def test_rows_are_the_costs() -> None:
    """One row each, in their order; amounts of every rule, three each."""
    costs = place_costs()
    rows = place_cost_rows(costs)
    assert [row["ignored"] for row in rows] == [one.words for one in costs]
    assert len({row["ignored"] for row in rows}) == len(rows)
    for row, one in zip(cost_range_rows(costs), costs, strict=True):
        words, *ends = row.values()
        assert words == one.words
        assert abs(ends[0]) <= abs(one.girth_percent) <= abs(ends[1])
        assert abs(ends[2]) <= abs(one.area_percent) <= abs(ends[3])
    assert [len(cost_amount_rows(key)) for key in IGNORED_RULES] == [3] * len(IGNORED_RULES)
    amounts = every_amount_rows()
    assert [row["amount"] for row in amounts] == [o.amount_words for o in IGNORED_RULES.values()]
    assert {row["ignored"] for row in amounts} == {row["ignored"] for row in rows}


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"diameter_cm": 0.0}, "diameter_cm is 0 cm"),
        ({"taper_cm_per_m": -1.0}, "taper_cm_per_m is -1 cm/m"),
        ({"amount": -5.0}, "amount is -5"),
        ({"amount": 90.0}, "slope_deg is 90 deg"),
        ({"breast_height_m": 3.1}, "breast_height_m is 3.1 m"),
    ],
)
def test_what_cannot_be_is_refused(settings: dict[str, float], said: str) -> None:
    """Under its own name."""
    with pytest.raises(MeasureError, match=said):
        area_cost_percent("downhill", **settings)


def test_an_unknown_rule_is_refused() -> None:
    """With what is spelt like it."""
    for ask in (area_cost_percent, cost_amount_rows):
        with pytest.raises(ChoiceError, match="downhill"):
            ask("downhil")
    with pytest.raises(ChoiceError, match="litter"):
        place_costs(amounts={"liter": 5.0})
