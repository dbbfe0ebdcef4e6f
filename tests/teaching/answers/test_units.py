"""Units are read in the spellings of the trade and converted exactly; a wrong kind is explained."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.teaching.answers.units import DIMENSIONS, UNITS, AnswerError, convert, read_unit

#: Value, unit, same value elsewhere, unit, and the arithmetic by hand.
CONVERSIONS = [
    (1, "in", 2.54, "cm", "by definition of the international yard [NBS1959]: 91.44 / 36"),
    (1, "ft", 30.48, "cm", "12 × 2.54"),
    (1, "yd", 0.9144, "m", "3 × 0.3048, the definition itself [NBS1959]"),
    (31, "in", 78.74, "cm", "31 × 2.54"),
    (100, "cm", 39.3700787402, "in", "100 / 2.54"),
    (1, "in²", 6.4516, "cm²", "2.54²"),
    (1, "ft²", 0.09290304, "m²", "0.3048²"),
    (144, "in²", 1, "ft²", "12²"),
    (1, "acre", 4046.8564224, "m²", "4840 yd² of 0.83612736 m²"),
    (1, "acre", 43560, "ft²", "4840 × 9"),
    (1, "ha", 2.47105381467, "acre", "10000 / 4046.8564224"),
    (7854, "cm²", 0.7854, "m²", "a m² holds 10 000 cm²"),
    (0.785, "m²", 785000, "mm²", "× 10⁶"),
    (78.5, "dm²", 0.785, "m²", "/ 100"),
    (1, "ft³", 0.028316846592, "m³", "0.3048³"),
    (1728, "in³", 1, "ft³", "12³"),
    (1, "m³", 1000, "l", "a litre is a dm³"),
    (1, "dm³", 1000, "cm³", "10³"),
    (1, "hoppus ft", 1.2732395, "ft³", "4/π; printed 1.273 ft³ [Rowlett]"),
    (1, "hoppus ft", 0.03605413, "m³", "4/π × 0.0283168; printed 0.036054 m³ [Rowlett]"),
    (1, "m²/ha", 4.35600, "ft²/acre", "(1/0.09290304) / 2.47105381 = 10.7639104 / 2.47105381"),
    (25, "m²/ha", 108.90, "ft²/acre", "25 × 4.3560"),
    (1, "ft³/acre", 0.0699725, "m³/ha", "0.028316847 × 2.47105381"),
    (400, "/ha", 161.8742569, "/acre", "400 / 2.47105381"),
    (78.5, "%", 0.785, "", "/ 100"),
    (0.03, "", 3, "%", "× 100"),
    (2, "cm/m", 2, "%", "2 / 100"),
    (32, "‰", 3.2, "%", "32 / 1000"),
    (630, "µm", 0.63, "mm", "a thousandth"),
    (30, "°", 30, "°", "the same"),
    (20, "°C", 20, "°C", "the same"),
    (50, "N", 50, "N", "the same"),
]

#: As typed → canonical.
SPELLINGS = {
    "mm": ["mm", "MM", "millimetres", "Millimeter"],
    "cm": ["cm", "cm.", "cms", "centimetre", "centimetres", "centimeters", "CM", "㎝"],
    "m": ["m", "M", "metre", "metres", "meters", "m."],
    "in": ["in", "in.", "ins", "inch", "inches", '"', "″", "”", "''"],
    "ft": ["ft", "ft.", "foot", "feet", "Feet", "'", "′", "’"],
    "yd": ["yd", "yds", "yards"],
    "cm²": ["cm²", "cm2", "cm^2", "cm**2", "cm ²", "sq cm", "sq. cm", "sq.cm", "sqcm", "CM2",
            "square centimetres", "square centimeter", "centimetres squared", "㎠", "(cm²)",
            "cm sq", "cm 2", "qcm"],
    "m²": ["m²", "m2", "m^2", "sq m", "sqm", "square metres", "m squared", "[m2]", "㎡",
           "qm", "mq", "m^{2}", "m^(2)"],
    "in²": ["in²", "sq in", "square inches", "sq. in.", "in^2"],
    "ft²": ["ft²", "sq ft", "sqft", "square feet", "square foot", "ft2"],
    "ha": ["ha", "Ha", "HA", "hectare", "hectares"],
    "acre": ["acre", "acres", "ac"],
    "m³": ["m³", "m3", "m^3", "cubic metres", "cubic meter", "cu m", "cum", "m cubed", "㎥", "m 3",
           "cbm", "fm", "m³ u.b.", "solid m3"],
    "ft³": ["ft³", "cft", "cf", "cu ft", "cu. ft.", "cuft", "cubic feet", "ft^3", "ft cu"],
    "hoppus ft": ["hoppus ft", "hoppus feet", "Hoppus foot", "hoppus", "h ft", "cubic feet hoppus",
                  "hft", "hoppus cubic feet", "Hoppus cu. ft."],
    "l": ["l", "L", "litre", "liters"],
    "m²/ha": ["m²/ha", "m2/ha", "m^2/ha", "m² / ha", "m² per hectare", "m2 ha-1", "m² ha⁻¹",
              "m2·ha-1", "m2*ha-1", "m2ha-1", "m^2·ha^(-1)",
              "sq m per ha", "square metres per hectare", "m2 ha^-1"],
    "ft²/acre": ["ft²/acre", "sq ft/ac", "square feet per acre", "ft2 per ac"],
    "m³/ha": ["m³/ha", "m3/ha", "cubic metres per hectare", "m3 ha-1"],
    "/ha": ["/ha", "per ha", "ha-1", "ha⁻¹", "ha^-1", "N/ha", "n/ha", "1/ha", "per 1 ha", "st/ha",
            "stems/ha", "trees per hectare", "stems ha-1"],
    "/acre": ["per acre", "trees/ac"],
    "%": ["%", "p.c.", "per cent", "percent", "Percent", "pct"],
    "°": ["°", "º", "deg", "degrees", "degree"],
    "°C": ["°C", "C", "deg C", "degrees Celsius", "celsius", "℃", "° C", "oC",
           "centigrade", "degrees centigrade"],
    "N": ["N", "newton", "newtons"],
    "": ["stems", "trees"],
    "µm": ["µm", "um", "microns", "micrometres"],
    "‰": ["‰", "per mille"],
    "cm/m": ["cm/m", "cm per m", "centimetres per metre"],
}  # fmt: skip

NAMES = sorted(UNITS)


@pytest.mark.parametrize(("value", "unit", "same", "other", "why"), CONVERSIONS)
def test_conversions_by_hand(value, unit, same, other, why):
    """A value is the same elsewhere, as worked out beside it."""
    assert convert(value, unit, other) == pytest.approx(same, rel=1e-6), why
    assert convert(same, other, unit) == pytest.approx(value, rel=1e-6), why


def test_metric_and_defined_factors_are_exact():
    """No rounding in the table: the factors are those of the definitions, not near them."""
    assert UNITS["in"].size == Fraction("0.0254")
    assert UNITS["acre"].size == Fraction("4046.8564224")
    assert convert(0.1, "m", "cm") == 10.0
    assert convert(2.54, "cm", "in") == 1.0


@pytest.mark.parametrize(
    ("name", "typed"), [(name, typed) for name, many in SPELLINGS.items() for typed in many]
)
def test_spellings(name, typed):
    """Each spelling is its unit."""
    assert read_unit(typed) == name


@pytest.mark.parametrize("name", [name for name in NAMES if name])
def test_canonical_names_read_as_themselves(name):
    """What the program writes, a student may type."""
    assert read_unit(name) == name


@pytest.mark.parametrize(
    ("typed", "known", "unknown"),
    [
        ("furlong", "cm", "/ha"),
        ("sq furlong", "cm²", "cm³"),
        ("cubic cubits", "m³", "m²"),
        ("kg/ha", "m²/ha", "acre,"),
        ("lb per acre", "ft²/acre", "yd"),
        ("m^4", "cm", "/ha"),
        ("sq m2", "m²", "m³"),
        ("cm2/m2", "m²/ha", "yd"),
        ("ha²", "cm²", "m³"),
        ("c", "cm", "/ha"),
        ("n", "N", "/ha"),
        ("", "cm", "/ha"),
        ("/", "m²/ha", "yd"),
        ("per", "m²/ha", "yd"),
        ("ha/", "m²/ha", "yd"),
    ],
)
def test_an_unknown_unit_names_the_known_ones_of_its_kind(typed, known, unknown):
    """Areas for what looks like an area, and so on."""
    with pytest.raises(AnswerError) as error:
        read_unit(typed)
    words = str(error.value).split(" known are ")[1].rstrip(".").split(", ")
    assert known in words
    assert unknown not in words


@pytest.mark.parametrize(
    ("unit", "to", "says"),
    [
        ("cm", "cm²", "cm is a length; expected an area, like cm²."),
        ("cm²", "m", "cm² is an area; expected a length, like m."),
        ("ft³", "ft²", "ft³ is a volume; expected an area, like ft²."),
        ("m²", "m²/ha", "m² is an area; expected an area of stems on an area of ground, like"
         " m²/ha."),
        ("%", "cm", "% is a plain number or a share; expected a length, like cm."),
        ("", "m³", "A number without a unit is no measure; expected a volume, like m³."),
        ("cm", "", "cm is a length; expected a plain number or a share."),
        ("m²/ha", "%", "m²/ha is an area of stems on an area of ground; expected a plain number or"
         " a share, like %."),
        ("°", "°C", "° is an angle; expected a temperature, like °C."),
        ("N", "m", "N is a force; expected a length, like m."),
    ],
)  # fmt: skip
def test_a_wrong_kind_is_explained(unit, to, says):
    """Which kind was given, and which is expected."""
    with pytest.raises(AnswerError) as error:
        convert(3, unit, to)
    assert str(error.value) == says


@pytest.mark.parametrize(
    ("typed", "asked", "name"),
    [
        *(("degrees", "°C", "°C"), ("°", "°C", "°C"), ("c", "°C", "°C"), ("°", "°", "°")),
        *(
            ("stems", "/ha", "/ha"),
            ("trees", "/acre", "/acre"),
            ("stems", "", ""),
            ("m", "/ha", "m"),
        ),
    ],
)
def test_what_is_asked_decides_between_two_meanings(typed, asked, name):
    """Degrees of what, stems on what: only the question knows."""
    assert read_unit(typed, asked) == name


@pytest.mark.parametrize("typed", ["K", "kelvin", "°F", "F", "degrees Fahrenheit"])
def test_other_degrees_are_not_guessed_at(typed):
    """K may be a difference; both are told what is used here."""
    with pytest.raises(AnswerError, match="Temperatures are in °C here"):
        read_unit(typed, "°C")


def test_every_dimension_is_told_and_every_unit_has_one():
    """No unit without words for its kind, no kind without a unit, no size that is not above 0."""
    assert {unit.dimension for unit in UNITS.values()} == set(DIMENSIONS)
    assert all(unit.size > 0 and unit.name == name for name, unit in UNITS.items())


@given(
    st.sampled_from(NAMES).flatmap(
        lambda name: st.tuples(
            st.just(name),
            st.sampled_from([n for n in NAMES if UNITS[n].dimension == UNITS[name].dimension]),
        )
    ),
    st.floats(-1e12, 1e12).filter(lambda value: value == 0 or abs(value) > 1e-12),
)
def test_there_and_back(names, value):
    """Converted and converted back, a value is itself but for a float's last places."""
    there = convert(value, *names)
    assert math.copysign(1, there) == math.copysign(1, value) or value == 0
    assert convert(there, *reversed(names)) == pytest.approx(value, rel=1e-14, abs=0)


@pytest.mark.parametrize("value", [math.nan, math.inf, "3", None, True])
def test_only_finite_numbers_are_converted(value):
    """Anything else is refused at the door."""
    with pytest.raises(MeasureError):
        convert(value, "cm", "m")


@pytest.mark.parametrize("names", [("cubit", "m"), ("m", "cubit"), ("CM", "m")])
def test_only_canonical_names_are_converted(names):
    """Spellings are read first; an unknown name is refused, with the known ones."""
    with pytest.raises(AnswerError, match="is not known; known are mm, cm"):
        convert(1, *names)


def test_too_large_for_a_float_is_refused():
    """A conversion gives a finite number, or a sentence."""
    with pytest.raises(AnswerError, match="too large"):
        convert(1.5e308, "ha", "mm²")


def test_an_error_can_be_told_under_another_name():
    """A command says its own word for the answer."""
    error = AnswerError("Nothing was typed; expected a number.", 3, "x")
    assert error.sentence("TEXT") == "TEXT: Nothing was typed; expected a number."
    assert error.sentence("answer") == str(error)
    assert isinstance(error, MeasureError)
    assert (error.place, error.where, error.value) == (3, "place 3", "x")
