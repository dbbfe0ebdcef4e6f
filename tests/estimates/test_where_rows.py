"""Tables of workbook 09: against closed forms, and against the rules that they are made of."""

import math

import pytest
from scipy.special import ellipe

from mensura.checks import ChoiceError, MeasureError
from mensura.estimates.growth_rows import COMBINATIONS
from mensura.estimates.place_costs import place_costs
from mensura.estimates.place_rules import SITUATIONS
from mensura.estimates.where_rows import (
    FEW_COSTS,
    PARTS,
    TapedTwice,
    differ_rows,
    few_cost_rows,
    leg_rows,
    level_rows,
    rule_care_rows,
    taped_rows,
)

TWELVE = [TapedTwice(str(k), 80.0 + 5 * k, 82.0 + 5 * k + k / 10) for k in range(12)]


def test_both_parts_hold_every_situation_once():
    """In the order of the rules."""
    assert [key for keys in PARTS.values() for key in keys] == list(SITUATIONS)
    rows = [row for part in PARTS for row in rule_care_rows(part)]
    assert [row["stem"] for row in rows] == [one.title for one in SITUATIONS.values()]


def test_care_stands_in_its_situations_own_row():
    """Word for word as the rule has it, and where there is none a dash."""
    rows = {row["stem"]: row for part in PARTS for row in rule_care_rows(part)}
    for one in SITUATIONS.values():
        assert rows[one.title]["care"] == (one.caution or "–")
        assert rows[one.title]["where to measure"] == one.where
        assert rows[one.title]["who says so"]


def test_each_view_on_which_manuals_differ_is_a_line_of_its_question():
    """None is left out, each with who says so, and a question is said once."""
    rows = {row["question"]: row for part in PARTS for row in differ_rows(part)}
    asked = [differ for one in SITUATIONS.values() for differ in one.disagreements]
    assert list(rows) == [differ.about for differ in asked]
    for differ in asked:
        lines = rows[differ.about]["what manuals say"].split("\n")
        for line, view in zip(lines, differ.views, strict=True):
            assert line.startswith(view.words)
            assert all(f"[{said.key}]" in line for said in view.said)


def test_a_few_costs_are_those_of_the_chart():
    """The same figures, for any stem and breast height."""
    whole = {one.words: one for one in place_costs(30, 2.0, 1.37)}
    rows = few_cost_rows(30, 2.0, 1.37)
    assert len(rows) == len(FEW_COSTS) == 8
    for row, key in zip(rows, FEW_COSTS, strict=True):
        assert whole[row["ignored"]].key == key
        assert row["area_adds_percent"] == whole[row["ignored"]].area_percent


@pytest.mark.parametrize("rows", [rule_care_rows, differ_rows])
def test_an_unknown_part_is_refused(rows):
    """By name."""
    with pytest.raises(ChoiceError, match="how it stands"):
        rows("elsewhere")


@pytest.mark.parametrize("lean_deg", [0.5, 10, 37, 60])
def test_a_level_band_is_the_elliptic_integral(lean_deg):
    """By another library; the rule of thumb is never below it."""
    (row,) = level_rows([lean_deg])
    lean = math.radians(lean_deg)
    times = 2 * ellipe(math.sin(lean) ** 2) / (math.pi * math.cos(lean))
    assert row["girth_over_percent"] == pytest.approx(100 * (times - 1), abs=1e-6)
    assert row["area_over_percent"] == pytest.approx(100 * (times**2 - 1), abs=1e-6)
    assert row["by tan²/4_over_percent"] >= row["girth_over_percent"]
    wide = row["one width in the lean: area_over_percent"]
    assert wide == pytest.approx(100 * math.tan(lean) ** 2, abs=1e-6)


def test_two_legs_by_hand():
    """25 and 22 cm: 1109 cm² of squares; the belt of two circles that touch in closed form."""
    squares = 25**2 + 22**2
    belt = 2 * math.sqrt(25 * 22) + math.pi * 23.5 + 3 * math.asin(3 / 47)
    wanted = [0, 100 * (625 / squares - 1), 100 * (36**2 / squares - 1)]
    wanted += [100 * ((belt / math.pi) ** 2 / squares - 1), 100 * (47**2 / squares - 1)]
    assert [row["area_over_percent"] for row in leg_rows()] == pytest.approx(wanted, abs=1e-9)


def test_alike_legs_have_a_root_of_two():
    """A limit: two legs of 10 cm are one of 14.1 cm."""
    assert leg_rows(10, 10)[0]["diameter_cm"] == pytest.approx(10 * math.sqrt(2))


def test_stems_taped_twice_and_their_mean():
    """Growths are the differences, below nought too; the last row is the mean of all rows."""
    *stems, mean = taped_rows([*TWELVE, TapedTwice("x", 100.0, 98.0)], 5)
    assert [row["growth_cm"] for row in stems] == pytest.approx(
        [2 + k / 10 for k in range(12)] + [-2]
    )
    assert stems[-1]["stands out"] == "yes: smaller"
    assert mean["growth_cm"] == pytest.approx(sum(row["growth_cm"] for row in stems) / 13)
    assert stems[0]["a year_cm"] == pytest.approx(0.4)


def test_another_tape_makes_every_growth_less_sure():
    """The more is shared the smaller u; the growths stay."""
    u = {words: taped_rows(TWELVE, 5, words)[0]["u_cm"] for words in COMBINATIONS}
    assert min(u, key=u.__getitem__) == "same tape, hand and season"
    assert max(u, key=u.__getitem__) == "another tape and hand"


def test_one_stem_has_no_mean():
    """A mean of one, with no spread, would look sure."""
    assert len(taped_rows(TWELVE[:1], 5)) == 1


def test_what_cannot_be_is_refused():
    """An unknown second reading, and no time between."""
    with pytest.raises(ChoiceError, match="another tape"):
        taped_rows(TWELVE, 5, "a third tape")
    with pytest.raises(MeasureError, match="between_years"):
        taped_rows(TWELVE, 0)
