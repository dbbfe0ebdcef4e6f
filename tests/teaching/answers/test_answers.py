"""An answer is read as people write it: the number, the unit, the figures, either reading."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from mensura.teaching.answers.answers import UNITS, Typed, convert, read_answer

#: As typed: value, unit, figures, half of the last place; all worked out by hand.
ACCEPTED: dict[str, tuple[float, str | None, int, float]] = {
    # decimal mark
    "0.785": (0.785, None, 3, 0.0005),
    "0,785": (0.785, None, 3, 0.0005),
    ".785": (0.785, None, 3, 0.0005),
    ",785": (0.785, None, 3, 0.0005),
    "7.": (7, None, 1, 0.5),
    "0.0785": (0.0785, None, 3, 0.00005),
    "0.7850": (0.785, None, 4, 0.00005),
    "007": (7, None, 1, 0.5),
    "0": (0, None, 1, 0.5),
    "0.00": (0, None, 1, 0.005),
    "7854": (7854, None, 4, 0.5),
    "7850": (7850, None, 4, 0.5),
    "0.7853981633974483": (0.7853981633974483, None, 16, 5e-17),
    # powers of ten: 78.5 / 100 = 0.785, its last place 0.1 / 100
    "7.85e-1 m2": (0.785, "m²", 3, 0.0005),
    "7.85E-1": (0.785, None, 3, 0.0005),
    "7.85e−1": (0.785, None, 3, 0.0005),
    "7,85 e-1 m²": (0.785, "m²", 3, 0.0005),
    "78.5 x 10^-2 m2": (0.785, "m²", 3, 0.0005),
    "78.5 X 10^-2": (0.785, None, 3, 0.0005),
    "78.5 × 10⁻² m²": (0.785, "m²", 3, 0.0005),
    "78.5×10⁻²m²": (0.785, "m²", 3, 0.0005),
    "78.5*10^-2": (0.785, None, 3, 0.0005),
    "78.5 * 10**-2": (0.785, None, 3, 0.0005),
    "78.5 · 10^(-2) m^2": (0.785, "m²", 3, 0.0005),
    "78.5 x 10 ^ −2": (0.785, None, 3, 0.0005),
    "7.854e3 cm2": (7854, "cm²", 4, 0.5),
    "1e3 m": (1000, "m", 1, 500),
    "1e+3": (1000, None, 1, 500),
    "10^-2 m2": (0.01, "m²", 1, 0.005),
    "10⁻²": (0.01, None, 1, 0.005),
    "10 cm": (10, "cm", 2, 0.5),
    # unit
    "7854 cm²": (7854, "cm²", 4, 0.5),
    "7854 cm^2": (7854, "cm²", 4, 0.5),
    "7854 sq cm": (7854, "cm²", 4, 0.5),
    "7854cm2": (7854, "cm²", 4, 0.5),
    "7854 sq. cm.": (7854, "cm²", 4, 0.5),
    "0.785 (m²)": (0.785, "m²", 3, 0.0005),
    "25 m2/ha": (25, "m²/ha", 2, 0.5),
    "25.3 m²/ha": (25.3, "m²/ha", 3, 0.05),
    "25,3 m² per hectare": (25.3, "m²/ha", 3, 0.05),
    "25 m² ha⁻¹": (25, "m²/ha", 2, 0.5),
    "25 m2 ha-1": (25, "m²/ha", 2, 0.5),
    "3.1 m3": (3.1, "m³", 2, 0.05),
    "3.1 cubic metres": (3.1, "m³", 2, 0.05),
    "3.1 cu. ft.": (3.1, "ft³", 2, 0.05),
    "12.5 hoppus feet": (12.5, "hoppus ft", 3, 0.05),
    "78.5 centimetres": (78.5, "cm", 3, 0.05),
    "78.5 centimeters": (78.5, "cm", 3, 0.05),
    "31 inches": (31, "in", 2, 0.5),
    "31 in.": (31, "in", 2, 0.5),
    "31.4 cm.": (31.4, "cm", 3, 0.05),
    "400 stems/ha": (400, "/ha", 3, 0.5),
    "12 trees": (12, "", 2, 0.5),
    "21.5 %": (21.5, "%", 3, 0.05),
    "21.5%": (21.5, "%", 3, 0.05),
    "21.5 per cent": (21.5, "%", 3, 0.05),
    "-0.4 percent": (-0.4, "%", 1, 0.05),
    "30°": (30, "°", 2, 0.5),
    "30 deg": (30, "°", 2, 0.5),
    "30 degrees": (30, "°", 2, 0.5),
    "20 °C": (20, "°C", 2, 0.5),
    "20 C": (20, "°C", 2, 0.5),
    "50 N": (50, "N", 2, 0.5),
    # feet and inches, in inches: 2 × 12 + 7 = 31
    "2' 7\"": (31, "in", 2, 0.5),
    "2'7\"": (31, "in", 2, 0.5),
    "2' 7": (31, "in", 2, 0.5),
    "2' 7''": (31, "in", 2, 0.5),
    "2′ 7″": (31, "in", 2, 0.5),
    "2’ 7”": (31, "in", 2, 0.5),
    "2 ft 7 in": (31, "in", 2, 0.5),
    "2ft7in": (31, "in", 2, 0.5),
    "2 ft. 7 in.": (31, "in", 2, 0.5),
    "2 feet 7 inches": (31, "in", 2, 0.5),
    "-2 ft 7 in": (-31, "in", 2, 0.5),
    # halves: 31 1/2 is 63 of them
    "2 ft 7 1/2 in": (31.5, "in", 2, 0.25),
    "2' 7½\"": (31.5, "in", 2, 0.25),
    "2 ft 7.5 in": (31.5, "in", 3, 0.05),
    "2 ft 7,5 in": (31.5, "in", 3, 0.05),
    "31 1/2 in": (31.5, "in", 2, 0.25),
    "31½ in": (31.5, "in", 2, 0.25),
    "31 ½\"": (31.5, "in", 2, 0.25),
    "31 1⁄2 in": (31.5, "in", 2, 0.25),
    "7/8 in": (0.875, "in", 1, 0.0625),  # 7 eighths
    "⅞ in": (0.875, "in", 1, 0.0625),
    "31 5/16 in": (31.3125, "in", 3, 0.03125),  # 501 sixteenths
    "½": (0.5, None, 1, 0.25),
    "2'": (2, "ft", 1, 0.5),
    '7"': (7, "in", 1, 0.5),
    "5' 0\"": (60, "in", 2, 0.5),
    # metres and centimetres: 2 × 100 + 30
    "2 m 30 cm": (230, "cm", 3, 0.5),
    "2 m 5.5 cm": (205.5, "cm", 4, 0.05),
    # thousands
    "1 234.5": (1234.5, None, 5, 0.05),
    "1 234,5": (1234.5, None, 5, 0.05),
    "1 234 cm": (1234, "cm", 4, 0.5),
    "1\u00a0234\u00a0567": (1234567, None, 7, 0.5),
    "1\u2009234.5": (1234.5, None, 5, 0.05),
    "1\u202f234": (1234, None, 4, 0.5),
    "1,234.5": (1234.5, None, 5, 0.05),
    "1.234,5": (1234.5, None, 5, 0.05),
    "1,234.567": (1234.567, None, 7, 0.0005),
    "1,234,567": (1234567, None, 7, 0.5),
    "1.234.567": (1234567, None, 7, 0.5),
    "1,234,567.8": (1234567.8, None, 8, 0.05),
    "1'234": (1234, None, 4, 0.5),
    "1’234.5 m²": (1234.5, "m²", 5, 0.05),
    "1234,567": (1234.567, None, 7, 0.0005),
    "1 234,567": (1234.567, None, 7, 0.0005),
    # signs
    "-0.5": (-0.5, None, 1, 0.05),
    "−0.5": (-0.5, None, 1, 0.05),
    "–0.5": (-0.5, None, 1, 0.05),
    "- 0.5 %": (-0.5, "%", 1, 0.05),
    "+3": (3, None, 1, 0.5),
    "-1/2": (-0.5, None, 1, 0.25),
    "-2' 7\"": (-31, "in", 2, 0.5),
    # what leads in and what trails
    "≈ 0.79 m^2": (0.79, "m²", 2, 0.005),
    "~0.79": (0.79, None, 2, 0.005),
    "about 0.79": (0.79, None, 2, 0.005),
    "approx. 0.79 m2": (0.79, "m²", 2, 0.005),
    "= 0.79": (0.79, None, 2, 0.005),
    "= ~ 0.79": (0.79, None, 2, 0.005),
    "G = 0.79": (0.79, None, 2, 0.005),
    "d=31.8cm": (31.8, "cm", 3, 0.05),
    "basal area = 0.79 m²": (0.79, "m²", 2, 0.005),
    "V/ha ≈ 310 m³/ha": (310, "m³/ha", 3, 0.5),
    "Answer: 0.79 m2": (0.79, "m²", 2, 0.005),
    "0.79 m2 approx": (0.79, "m²", 2, 0.005),
    "0.79 m².": (0.79, "m²", 2, 0.005),
    "  0.79\t m² \n": (0.79, "m²", 2, 0.005),
    # feet and inches in the ways of the trade: 12 + 9 1/8 = 21 1/8 = 169 eighths
    "21-1/8 in": (21.125, "in", 3, 0.0625),
    "1'-9 1/8\"": (21.125, "in", 3, 0.0625),
    "1 ft 9-1/8 in": (21.125, "in", 3, 0.0625),
    "1 feet, 9 1/8 inches": (21.125, "in", 3, 0.0625),
    "1 ft, 9 in": (21, "in", 2, 0.5),
    "1 ft and 9 in": (21, "in", 2, 0.5),
    "1 ft + 9 in": (21, "in", 2, 0.5),
    "1 ft 9": (21, "in", 2, 0.5),
    "1' 9": (21, "in", 2, 0.5),
    "127/64 in": (1.984375, "in", 3, 0.0078125),
    "1 yd 2 ft": (5, "ft", 1, 0.5),
    "1 yd 2 ft 7 in": (67, "in", 2, 0.5),
    "2m30": (230, "cm", 3, 0.5),
    "1m73": (173, "cm", 3, 0.5),
    # per hectare
    "276 ha-1": (276, "/ha", 3, 0.5),
    "276 ha⁻¹": (276, "/ha", 3, 0.5),
    "276 ha^-1": (276, "/ha", 3, 0.5),
    "276 N/ha": (276, "/ha", 3, 0.5),
    "276 n/ha": (276, "/ha", 3, 0.5),
    "276 1/ha": (276, "/ha", 3, 0.5),
    "276 per 1 ha": (276, "/ha", 3, 0.5),
    "276 st/ha": (276, "/ha", 3, 0.5),
    "21.17 m2*ha-1": (21.17, "m²/ha", 4, 0.005),
    "21.17 m2ha-1": (21.17, "m²/ha", 4, 0.005),
    "21.17 m^2·ha^(-1)": (21.17, "m²/ha", 4, 0.005),
    # areas and volumes
    "0.44 m^{2}": (0.44, "m²", 2, 0.005),
    "7854 cm sq": (7854, "cm²", 4, 0.5),
    "7854 cm 2": (7854, "cm²", 4, 0.5),
    "3.1 m 3": (3.1, "m³", 2, 0.05),
    "0.44 qm": (0.44, "m²", 2, 0.005),
    "44 qcm": (44, "cm²", 2, 0.5),
    "0.44 mq": (0.44, "m²", 2, 0.005),
    "3.1 cbm": (3.1, "m³", 2, 0.05),
    "3.1 fm": (3.1, "m³", 2, 0.05),  # Festmeter, a solid cubic metre
    "3.1 m³ u.b.": (3.1, "m³", 2, 0.05),
    "3.1 solid m3": (3.1, "m³", 2, 0.05),
    "6.2 cft": (6.2, "ft³", 2, 0.05),
    "6.2 cf": (6.2, "ft³", 2, 0.05),
    "6.2 hft": (6.2, "hoppus ft", 2, 0.05),
    "6.2 hoppus cubic feet": (6.2, "hoppus ft", 2, 0.05),
    # words
    "diameter 53.7 cm": (53.7, "cm", 3, 0.05),
    "the area is 3": (3, None, 1, 0.5),
    "53.7 cm diameter": (53.7, "cm", 3, 0.05),
    "53.7 cm dbh": (53.7, "cm", 3, 0.05),
    "d1.3 = 53.7": (53.7, None, 3, 0.05),
    "d_1.3 = 53.7": (53.7, None, 3, 0.05),
    "G/π = 53.7": (53.7, None, 3, 0.05),
    "Ans 53.7": (53.7, None, 3, 0.05),
    "the answer is 53.7": (53.7, None, 3, 0.05),
    "c. 53.7": (53.7, None, 3, 0.05),
    "ca. 53.7": (53.7, None, 3, 0.05),
    "nearly 53.7": (53.7, None, 3, 0.05),
    "53.7 nearly": (53.7, None, 3, 0.05),
    "53.7 rounded": (53.7, None, 3, 0.05),
    "53.7 cm (rounded)": (53.7, "cm", 3, 0.05),
    "53.7 cm (3 s.f.)": (53.7, "cm", 3, 0.05),
    "53.7 to 3 significant figures": (53.7, None, 3, 0.05),
    "by 3.23 %": (3.23, "%", 3, 0.005),
    "Ø 53.7 cm": (53.7, "cm", 3, 0.05),
    "⌀ = 53.7": (53.7, None, 3, 0.05),
    "53.7 cm;": (53.7, "cm", 3, 0.05),
    "53.7 cm!": (53.7, "cm", 3, 0.05),
    "53.7 cm ✓": (53.7, "cm", 3, 0.05),
    "(53.7 cm)": (53.7, "cm", 3, 0.05),
    "(18.80) %": (18.8, "%", 4, 0.005),
    "53.7 centimètres": (53.7, "cm", 3, 0.05),
    "3.2 p.c.": (3.2, "%", 2, 0.05),
    "32 ‰": (32, "‰", 2, 0.5),
    "49 centigrade": (49, "°C", 2, 0.5),
    "49 oC": (49, "°C", 2, 0.5),
    "630 um": (630, "µm", 3, 0.5),
    "630 µm": (630, "µm", 3, 0.5),
    "630 μm": (630, "µm", 3, 0.5),  # a Greek mu
    # said twice, or with the calculation before it: the finer side
    "3 = 3": (3, None, 1, 0.5),
    "53.7 cm = 0.537 m": (53.7, "cm", 3, 0.05),
    "0.54 m = 53.7 cm": (53.7, "cm", 3, 0.05),
    "d = 31.8 cm = 0.318 m": (0.318, "m", 3, 0.0005),
    "168.8/π = 53.7 cm": (53.7, "cm", 3, 0.05),
    "53.7 = 53.7 cm": (53.7, "cm", 3, 0.05),
    "1,602 cm² = 0.1602 m²": (1602, "cm²", 4, 0.5),
    # signs
    "minus 18.8 %": (-18.8, "%", 3, 0.05),
    "plus 3.26 cm": (3.26, "cm", 3, 0.005),
    "—18.8 %": (-18.8, "%", 3, 0.05),
    "‐18.8": (-18.8, None, 3, 0.05),
    "－１８．８ ％": (-18.8, "%", 3, 0.05),
    "＋3": (3, None, 1, 0.5),
    "12,34,567": (1234567, None, 7, 0.5),
    "1_902": (1902, None, 4, 0.5),
    "4.31 10^1": (43.1, None, 3, 0.05),
    "2·10^3": (2000, None, 1, 500),
}  # fmt: skip

#: One comma or point before three figures: the rule's reading, and the other.
TWO_WAYS = {
    "1,234": (1.234, 1234),
    "1.234": (1.234, 1234),
    "12,345 cm": (12.345, 12345),
    "100.000": (100, 100000),
    "999,999": (999.999, 999999),
    "-1,234": (-1.234, -1234),
    "≈ 1,234 m²": (1.234, 1234),
}


@pytest.mark.parametrize("text", ACCEPTED)
def test_accepted(text):
    """Value to the last bit, unit, figures and half of the last place; nothing else to tell."""
    value, unit, digits, half_step = ACCEPTED[text]
    typed = read_answer(text)
    assert (typed.value, typed.unit, typed.digits) == (value, unit, digits)
    assert typed.half_step == pytest.approx(half_step, rel=1e-12)
    assert (typed.text, typed.other, typed.notes) == (text, None, ())


@pytest.mark.parametrize("text", TWO_WAYS)
def test_a_lone_comma_or_point_before_three_figures_reads_in_two_ways(text):
    """It is the decimal mark; the value with thousands is offered, and a note says so."""
    typed = read_answer(text)
    assert (typed.value, typed.other) == TWO_WAYS[text]
    assert f"{typed.other:g}" in typed.notes[0]


@pytest.mark.parametrize("text", ["0,785", "0.785", "1234.567", "1,23", "1,2345", "1 234,567",
                                  ",785", "1,234.5", "1,234e3", "1.234 x 10^3"])  # fmt: skip
def test_no_second_reading_where_there_is_none(text):
    """A leading 0, more than three figures before it, other than three behind it, a power."""
    assert read_answer(text).other is None


def test_a_raised_point_is_a_point_and_that_is_said():
    """43·1 is 43.1, as it was printed for long; a product would have the same form."""
    typed = read_answer("43·1 cm")
    assert (typed.value, typed.unit, typed.digits) == (43.1, "cm", 3)
    assert typed.notes == ("Read as 43.1; a product would have to be worked out.",)


@pytest.mark.parametrize(
    ("text", "way"),
    [
        *(("3.23 % more", 1), ("3.23 % too large", 1), ("0.63 mm too much", 1)),
        *(("1.25 cm longer", 1), ("18.8 % too small", -1), ("3 fewer", -1), ("3.23 %", 0)),
    ],
)
def test_more_or_less_behind_the_number(text, way):
    """The word is kept, the number stays as it was typed."""
    typed = read_answer(text)
    assert (typed.way, typed.value) == (way, float(text.split()[0]))


@pytest.mark.parametrize(
    ("text", "half_round"),
    [("44000 cm2", 500), ("44 000", 500), ("4400", 50), ("4401", 0.5), ("440.0", 0.05),
     ("4.4e4", 500), ("0", 0.5), ("2 m 30 cm", 5)],
)  # fmt: skip
def test_zeros_at_the_end_may_only_hold_their_place(text, half_round):
    """Half of the last place that is surely meant: 44000 may be 44 thousand."""
    assert read_answer(text).half_round == pytest.approx(half_round)


@pytest.mark.parametrize(
    ("text", "asked", "unit"),
    [
        *(("49.3 degrees", "°C", "°C"), ("49.3 °", "°C", "°C"), ("49.3 c", "°C", "°C")),
        *(("49.3 degrees", "°", "°"), ("276 stems", "/ha", "/ha"), ("276 trees", "/acre", "/acre")),
        *(("276 stems", "", ""), ("276 stems", "cm", "")),
    ],
)
def test_what_is_asked_decides_where_a_word_may_mean_two_units(text, asked, unit):
    assert read_answer(text, asked).unit == unit


def test_feet_and_inches_agree_with_their_units():
    """2' 7" is 31 inches by the table of units too: a second road."""
    feet = convert(2, "ft", "cm") + convert(7, "in", "cm")
    typed = read_answer("2' 7\"")
    assert convert(typed.value, str(typed.unit), "cm") == pytest.approx(feet, rel=1e-15)


# ---- written and read again --------------------------------------------------------------------

_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


def _grouped(whole: str, gap: str) -> str:
    return f"{int(whole):,}".replace(",", gap)


#: name → (digits before the mark, digits behind it) as text.
NOTATIONS = {
    "point": lambda whole, part: f"{whole}.{part}",
    "comma": lambda whole, part: f"{whole},{part}",
    "space": lambda whole, part: f"{_grouped(whole, ' ')}.{part}",
    "thin space, comma": lambda whole, part: f"{_grouped(whole, chr(0x2009))},{part}",
    "English": lambda whole, part: f"{_grouped(whole, ',')}.{part}",
    "continental": lambda whole, part: f"{_grouped(whole, '.')},{part}",
    "apostrophe": lambda whole, part: f"{_grouped(whole, chr(39))}.{part}",
    "e": lambda whole, part: f"{whole}{part}e-{len(part)}",
    "e+": lambda whole, part: f"0.{whole}{part}E+{len(whole)}",
    "x": lambda whole, part: f"{whole}{part} x 10^-{len(part)}",
    "raised": lambda whole, part: f"{whole}{part} × 10{f'-{len(part)}'.translate(_RAISED)}",
    "stars": lambda whole, part: f"{whole}{part}*10**(-{len(part)})",
}

POWERS = {"e", "e+", "x", "raised", "stars"}


@settings(max_examples=600, deadline=None)
@given(
    st.integers(0, 10**9),
    st.text("0123456789", min_size=1, max_size=6),
    st.sampled_from(sorted(NOTATIONS)),
    st.sampled_from(["", "-", "−", "+"]),
    st.sampled_from(["", " ", "\u00a0"]),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(["", "≈ ", "= ", "G = ", "about "]),
)
@example(1, "234", "comma", "", " ", "cm", "")
def test_every_notation_reads_back(whole, part, notation, sign, gap, unit, lead):
    """A value in any notation is itself again: the same float as Python's own reading of it."""
    if not whole and not int(part):
        part = part[:-1] + "1"
    text = f"{lead}{sign}{NOTATIONS[notation](str(whole), part)}{gap}{unit}"
    typed = read_answer(text)
    wanted = float(f"{'-' if sign in ('-', '−') else ''}{whole}.{part}")
    figures = len(f"{whole}{part}".lstrip("0"))
    assert (typed.value, typed.unit) == (wanted, unit or None), text
    assert typed.digits == figures, text
    assert typed.half_step == pytest.approx(0.5 * 10.0 ** -len(part), rel=1e-12), text
    ambiguous = notation not in POWERS and len(part) == 3 and 1 <= whole <= 999
    assert (typed.other is not None) == ambiguous, text


@settings(max_examples=300, deadline=None)
@given(
    st.integers(0, 99),
    st.integers(0, 11),
    st.sampled_from([2, 4, 8, 16, 32]),
    st.integers(1, 31),
    st.sampled_from(["{f}' {i} {n}/{d}\"", "{f} ft {i} {n}/{d} in", "{f} feet {i} {n}/{d} inches",
                     "{f}′ {i} {n}⁄{d}″"]),
)  # fmt: skip
def test_feet_inches_and_fractions_read_back(feet, inches, below, above, form):
    """Every graduation of an inch tape, in every way of writing feet and inches."""
    above = above % (below - 1) + 1
    typed = read_answer(form.format(f=feet, i=inches, n=above, d=below))
    steps = (12 * feet + inches) * below + above
    assert (typed.value, typed.unit) == (steps / below, "in")
    assert typed.half_step == 1 / below / 2
    assert typed.digits == len(str(steps))


@settings(max_examples=300, deadline=None)
@given(st.floats(-1e12, 1e12).filter(lambda value: abs(value) > 1e-12))
def test_what_python_prints_reads_back(value):
    """A number copied from a notebook is itself to the last bit."""
    for text in (repr(value), f"{value:.12e}"):
        typed = read_answer(text)
        wanted = float(text)
        assert math.isclose(typed.value, wanted, rel_tol=0, abs_tol=0), text


@given(st.sampled_from(sorted(ACCEPTED)))
def test_half_a_step_and_figures_agree(text):
    """The value holds between 10^(figures − 1) and 10^figures last places, unless it is 0."""
    typed = read_answer(text)
    assert isinstance(typed, Typed)
    places = abs(typed.value) / (2 * typed.half_step)
    if typed.value:
        assert 10 ** (typed.digits - 1) * 0.999999 <= places < 10**typed.digits * 1.000001
    else:
        assert typed.digits == 1
