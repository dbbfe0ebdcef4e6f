"""Points along a log: which section is the middle, and what the errors of readings do."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.estimates import (
    LogPoints,
    huber_m3,
    log_volumes,
    newton_m3,
    quarter_girth_m3,
    smalian_m3,
    sum_of_logs,
)
from mensura.estimates.input_errors import InputError
from mensura.estimates.log_points import POINT_RULES, between_points_percent
from mensura.estimates.log_rows import solids_between_m3
from mensura.estimates.solids import frustum_m3

OVAL = LogPoints("L1", (0.3, 2.8, 5.3), (44.0, 40.0, 36.0), girth=False)
BARKED = LogPoints("L2", (0, 2, 4, 6), (150.0, 141.0, 133.0, 120.0), True, (2.0, 1.8, 1.5, 1.4))


def test_three_points_are_the_rules_themselves():
    """The same as the plain functions of a middle and two ends."""
    found = {rule: one.volume_m3 for rule, one in log_volumes(OVAL, ()).as_read.items()}
    assert found["huber"] == pytest.approx(huber_m3(40, 5), rel=1e-14)
    assert found["smalian"] == pytest.approx(smalian_m3(44, 36, 5), rel=1e-14)
    assert found["newton"] == pytest.approx(newton_m3(44, 40, 36, 5), rel=1e-14)
    assert found["quarter_girth"] == pytest.approx(quarter_girth_m3(40 * np.pi, 5), rel=1e-14)
    pieces = smalian_m3(44, 40, 2.5) + smalian_m3(40, 36, 2.5)
    assert found["by_sections"] == pytest.approx(pieces, rel=1e-14)


@pytest.mark.parametrize(
    ("at_m", "place"),
    [
        ((0, 2.5, 5), 1),
        ((0, 2.45, 5), 1),
        ((0, 2.55, 5), 1),
        ((0, 2.44, 5), None),
        ((0, 5), None),
        ((0.3, 2.7, 5.1), 1),
        ((0, 2.46, 2.49, 5), 2),
        ((10, 12.45, 15), 1),
    ],
)
def test_the_middle_lies_within_one_per_cent_of_the_length(at_m, place):
    """Else no rule that needs it is worked out, and by sections always is."""
    points = LogPoints("L1", at_m, tuple(np.linspace(44, 36, len(at_m))), girth=False)
    assert points.middle == place
    found = log_volumes(points).as_read
    lacks = {rule for rule, one in found.items() if one is None}
    assert lacks == (set() if place else {"huber", "newton", "quarter_girth"})
    assert found["by_sections"].u_m3 > 0


@given(
    st.lists(st.floats(10, 200), min_size=2, max_size=12),
    st.lists(st.floats(0.1, 3), min_size=12, max_size=12),
)
def test_by_sections_lies_between_the_thickest_and_thinnest_cylinder(across, steps):
    """And a log upside down has the same volume by every rule."""
    at = [0.0, *np.cumsum(steps)[: len(across) - 1].tolist()]
    points = LogPoints("L1", tuple(at), tuple(across), girth=False)
    length = at[-1]
    other_way = LogPoints(
        "L1", tuple(length - one for one in reversed(at)), tuple(reversed(across)), girth=False
    )
    there, back = log_volumes(points).as_read, log_volumes(other_way).as_read
    assert huber_m3(min(across), length) <= there["by_sections"].volume_m3 * (1 + 1e-9)
    assert there["by_sections"].volume_m3 <= huber_m3(max(across), length) * (1 + 1e-9)
    for rule in ("smalian", "by_sections"):
        assert there[rule].volume_m3 == pytest.approx(back[rule].volume_m3, rel=1e-8)
        assert there[rule].u_m3 == pytest.approx(back[rule].u_m3, rel=1e-8)


def test_under_bark_is_the_log_without_it():
    """Volumes of the wood are those of a log measured where the bark is off."""
    wood = tuple(np.asarray(BARKED.reading_cm) / np.pi - 2 * np.asarray(BARKED.bark_cm))
    bare = LogPoints("L2", BARKED.at_m, wood, girth=False)
    found = log_volumes(BARKED, ()).wood
    for rule, one in log_volumes(bare, ()).as_read.items():
        other = found[rule]
        assert (one is None) == (other is None)
        assert one is None or one.volume_m3 == pytest.approx(other.volume_m3, rel=1e-13)
    assert log_volumes(bare).wood is None


ERRORS = (
    InputError("instrument", 0.4, "%", "all"),
    InputError("instrument", 0.2, "cm", "tree"),
    InputError("hand", 1.0, "%", "tree"),
    InputError("shape", 0.6, "%", "tree"),
    InputError("bark", 8.0, "%", "tree"),
    InputError("bark", 0.1, "cm", "plot"),
    InputError("length", 0.02, "m", "tree"),
    InputError("length", 0.3, "%", "all"),
    InputError("height", 50.0, "%", "all"),
)


def _drawn(points, draws, seed):
    """Volumes by sections over and under bark of a log whose readings are drawn, a log a row."""
    rng = np.random.default_rng(seed)
    count = len(points.at_m)
    read = np.asarray(points.reading_cm)
    one, each = (lambda: rng.normal(size=(draws, 1))), (lambda: rng.normal(size=(draws, count)))
    girth = read * (1 + 0.004 * one() + 0.01 * each() + 0.006 * one()) + 0.2 * each()
    bark = np.asarray(points.bark_cm) * (1 + 0.08 * one()) + 0.1 * one()
    at = np.asarray(points.at_m) * (1 + 0.02 / points.length_m * one() + 0.003 * one())
    steps = np.diff(at, axis=1)
    found = []
    for across in (girth / np.pi, girth / np.pi - 2 * bark):
        area = np.pi / 40000 * across**2
        found.append(((area[:, 1:] + area[:, :-1]) / 2 * steps).sum(axis=1))
    return found


def test_the_uncertainty_is_what_draws_give():
    """40 000 logs whose readings, bark and length are drawn: within 2 %, four standard errors of a
    standard deviation from so many."""
    over, under = _drawn(BARKED, 40_000, 5)
    found = log_volumes(BARKED, ERRORS)
    assert found.as_read["by_sections"].u_m3 == pytest.approx(over.std(), rel=0.02)
    assert found.wood["by_sections"].u_m3 == pytest.approx(under.std(), rel=0.02)


def test_what_is_shared_adds_up_and_what_is_new_averages_out():
    """A hundred equal logs: the shared part a hundred times, the new part ten times; a log without
    bark among them is no trouble."""
    one = log_volumes(BARKED, ERRORS).wood["by_sections"]
    many = sum_of_logs([one] * 100)
    assert many.volume_m3 == pytest.approx(100 * one.volume_m3)
    assert many.u_common_m3 == pytest.approx(100 * one.u_common_m3)
    assert many.new_m3 == pytest.approx(10 * one.new_m3)
    other = log_volumes(OVAL, ERRORS).as_read["by_sections"]
    both = sum_of_logs([one, other])
    assert both.u_common_m3 <= one.u_common_m3 + other.u_common_m3
    assert both.u_common_m3 > one.u_common_m3


def test_what_is_shared_by_a_plot_is_shared_by_the_logs_of_a_file():
    """They were felled in one place; what is new for each tree is not shared."""
    common = {
        scope: log_volumes(OVAL, [InputError("length", 1.0, "%", scope)]).as_read["huber"]
        for scope in ("all", "plot", "tree")
    }
    assert common["all"] == common["plot"]
    assert (common["all"].new_m3, common["tree"].u_common_m3) == (0, 0)
    assert common["tree"].u_m3 == common["all"].u_m3 == pytest.approx(0.01 * huber_m3(40, 5))


def test_solids_of_a_log_that_was_measured_from_its_top():
    """The same as from its butt; one with equal ends is a cylinder in every form."""
    assert solids_between_m3(36, 44, 5) == solids_between_m3(44, 36, 5)
    assert solids_between_m3(0, 44, 5)["cone"] == pytest.approx(huber_m3(44, 5) / 3)
    same = solids_between_m3(40, 40, 5)
    assert list(same.values()) == [pytest.approx(huber_m3(40, 5))] * 4


def test_errors_that_have_no_part_change_nothing():
    """Bark of a log without bark, a tree's height, a plot's area."""
    none = [InputError(name, 30.0, "%", "all") for name in ("bark", "height", "plot area")]
    assert log_volumes(OVAL, none).as_read["newton"].u_m3 == 0


def test_a_centimetre_of_girth_is_a_third_of_one_of_diameter():
    """An error told in cm is of what was read."""
    as_girth = LogPoints("L1", (0, 5), (40 * np.pi, 40 * np.pi), girth=True)
    as_diameter = LogPoints("L1", (0, 5), (40, 40), girth=False)
    error = [InputError("instrument", 1.0, "cm", "all")]
    by_girth, by_diameter = (
        log_volumes(one, error).as_read["smalian"].u_m3 for one in (as_girth, as_diameter)
    )
    assert by_diameter == pytest.approx(np.pi * by_girth)
    assert by_diameter == pytest.approx(2 / 40 * huber_m3(40, 5))


def test_straight_sides_between_points_are_cones():
    """The share that is told is the difference to a cone's frustum in each section."""
    cones = sum(
        frustum_m3("cone", *ends, 2.0)
        for ends in zip(BARKED.diameter_cm[:-1], BARKED.diameter_cm[1:], strict=True)
    )
    by_sections = log_volumes(BARKED, ()).as_read["by_sections"].volume_m3
    expected = 100 * (by_sections - cones) / by_sections
    assert between_points_percent(BARKED) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("at_m", "read", "bark", "field"),
    [
        ((0,), (40,), None, "at_m"),
        ((0, 3, 2), (40, 39, 38), None, "at_m"),
        ((0, 3, 3), (40, 39, 38), None, "at_m"),
        ((0, 3), (40, 39, 38), None, "reading_cm"),
        ((0, 3, 6), (40, 0, 38), None, "reading_cm"),
        ((0, 3), (0, 0), None, "reading_cm"),
        ((0, 3), (40, 39), (20.0, 1.0), "bark_cm"),
        ((0, 3), (40, 39), (1.0,), "bark_cm"),
        ((-1, 3), (40, 39), None, "at_m"),
        ((0, 3), (40, np.nan), None, "reading_cm"),
    ],
)
def test_what_is_no_log_is_refused(at_m, read, bark, field):
    """With the field that is wrong."""
    with pytest.raises(MeasureError) as refused:
        LogPoints("L1", at_m, read, False, bark)
    assert refused.value.field == field


def test_a_tip_has_no_error_in_cm():
    """A whole cone to its tip: nothing is divided by nothing."""
    cone = LogPoints("L1", (0, 10, 20), (40, 20, 0), girth=False)
    found = log_volumes(cone, [InputError("hand", 0.5, "cm", "tree")]).as_read
    assert all(np.isfinite(found[rule].u_m3) for rule in POINT_RULES)
    assert found["newton"].volume_m3 == pytest.approx(frustum_m3("cone", 40, 0, 20), rel=1e-14)
