"""A family declares itself whole; one that lacks a part is refused, with the part named."""

import dataclasses

import pytest

from mensura.checks import MeasureError
from mensura.teaching.problems.family import Family, Given, Quantity, Slip, fields_of
from mensura.teaching.problems.vocabulary import QUANTITIES, meaning

WHOLE = {
    "key": "square-side",
    "topic": "girth",
    "title": "A square",
    "text": "A squared post has the side {side_cm} cm. Its area?",
    "given": [Quantity("side_cm", 10.0, 30.0, 0.5)],
    "unit": "cm²",
    "answer": lambda q: q.side_cm**2,
    "hints": ["Think.", "Square it.", "Work out {side_cm}²."],
    "solution": "{side_cm}² = {answer} cm².",
    "slips": [
        Slip("four-sides", lambda q: 4 * q.side_cm, "That is the way round."),
        Slip("doubled", lambda q: 2 * q.side_cm, "Squared, not doubled."),
        Slip("halved", lambda q: q.side_cm**2 / 2, "That is a triangle."),
    ],
    "source": "common practice, no source",
}


def test_a_whole_family_is_accepted():
    """All parts there: the family stands."""
    assert Family(**WHOLE).key == "square-side"


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"key": "Square side"}, "key"),
        ({"topic": "squares"}, "topic"),
        ({"title": " "}, "title"),
        ({"text": ""}, "text"),
        ({"text": "Its area?"}, "text"),
        ({"text": "{side_cm} and {girth_cm}?"}, "text"),
        ({"text": "{side_cm.__class__}?"}, "text"),
        ({"text": "{side_cm:.2f}?"}, "text"),
        ({"given": []}, "given"),
        ({"hints": ["One.", "Two."]}, "hints"),
        ({"hints": ["One.", " ", "Three."]}, "hints"),
        ({"solution": "It is so."}, "solution"),
        ({"solution": "{answer} by {magic}"}, "solution"),
        ({"slips": WHOLE["slips"][:2]}, "slips"),
        ({"slips": [WHOLE["slips"][0]] * 3}, "slips"),
        ({"source": ""}, "source"),
    ],
)
def test_a_family_that_lacks_a_part_is_refused(change, field):
    """The refusal names the part."""
    with pytest.raises(MeasureError) as refused:
        Family(**{**WHOLE, **change})
    assert refused.value.field == field


@pytest.mark.parametrize("part", [f.name for f in dataclasses.fields(Family)])
def test_no_needed_part_may_be_left_out(part):
    """Every part is needed but for those that have a usual value."""
    usual = {"steps", "fits", "exact", "asks_unit", "picture", "fits_since"}
    usual |= {"counts_as", "from_edition", "before"}
    left = {name: value for name, value in WHOLE.items() if name != part}
    if part in usual:
        assert Family(**left)
    else:
        with pytest.raises(TypeError, match=part):
            Family(**left)


@pytest.mark.parametrize(
    "bad",
    [
        ("girth", 1.0, 2.0, 0.1),
        ("girth_cm", 2.0, 1.0, 0.1),
        ("girth_cm", 1.0, 2.0, 0.0),
        ("girth_cm", 1.0, 2.0, 3.0),
    ],
)
def test_a_quantity_needs_a_name_and_a_range(bad):
    """Names of the vocabulary only; a least below the greatest; a step that fits."""
    with pytest.raises(MeasureError):
        Quantity(*bad)


def test_a_quantity_counts_exactly():
    """0.1 steps are counted in decimals, not in binary dust."""
    tenth = Quantity("girth_cm", 40.0, 240.0, 0.1)
    assert tenth.count == 2001
    assert tenth.at(3) == 40.3
    assert tenth.at(tenth.count - 1) == 240.0
    assert tenth.written(40.3) == "40.3"
    assert Quantity("worn_start_cm", 0.25, 2.0, 0.25).written(0.5) == "0.50"


def test_units_stand_in_the_names():
    """A name of the vocabulary ends in its unit; counts and plain numbers have none."""
    ends = {
        "cm": "_cm", "mm": "_mm", "m": "_m", "in": "_in", "ft": "_ft", "px": "_px",
        "cm²": "_cm2", "m²": "_m2", "px²": "_px2", "m³": "_m3", "m²/ha": "_m2_per_ha",
        "°": "_deg", "%": "_percent", "°C": "_c", "cm/m": "_cm_per_m",
        "hoppus ft": "_hoppus_ft", "min": "_min", "years": "_years",
    }  # fmt: skip
    for name, one in QUANTITIES.items():
        assert one.words
        if one.unit:
            assert f"_{name}".endswith(ends[one.unit]), name
    with pytest.raises(MeasureError, match="vocabulary"):
        meaning("girth")


def test_given_numbers_are_read_by_name():
    """An unknown name is refused; a moved number leaves the others alone."""
    given = Given({"girth_cm": 100.0, "side_cm": 2.0})
    assert given.moved("side_cm", 0.5).side_cm == 2.5
    assert given.side_cm == 2.0
    with pytest.raises(AttributeError, match="given are"):
        _ = given.height_m


def test_only_plain_names_stand_in_brackets():
    """No attribute, index, format or conversion gets into a text."""
    assert fields_of("{a} {b_cm} {{c}}") == {"a", "b_cm"}
    for bad in ("{a.b}", "{a[0]}", "{a!r}", "{a:>9}", "{}", "{0}"):
        with pytest.raises(MeasureError):
            fields_of(bad)
