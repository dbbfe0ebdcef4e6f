"""The reply: right, a named slip, too coarse, or high or low; and never the answer itself."""

from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.answers.reply import Asked, KnownSlip, figures_told, reply
from mensura.teaching.problems.bank import all_families, problem
from mensura.written import rounded

AREA = problem("girth-to-area", "Q07", "alder")  # in cm², the unit is asked
WIDTH = problem("girth-to-diameter", "Q07", "alder")  # in cm


@dataclass(frozen=True)
class Question:
    """A question that was made up for a test."""

    asked: Asked


ASKS_TWO = Question(Asked(2.0, "", 0.0, exact=True))


@pytest.mark.parametrize(
    "written",
    [
        "{0:.1f} cm²", "{0:.1f}cm2", "{0:.1f} sq cm", "≈ {0:.0f} cm^2", "{1:.5f} m²", "{1:.5f} m^2",
        "{2:.3f}e-2 m2", "{2:.3f} x 10^-2 m²", "{2:.3f} × 10⁻² m²",
    ],
)  # fmt: skip
def test_a_right_answer_in_any_writing(written):
    """cm² or m², with a power of ten or without: right."""
    text = written.format(AREA.answer, AREA.answer / 1e4, AREA.answer / 1e2)
    assert reply(AREA, text).right, text
    assert reply(AREA, text.replace(".", ",")).right, text


def test_the_unit_is_asked_for_where_the_problem_says_so():
    """A bare number gets another try there, and counts elsewhere."""
    said = reply(AREA, f"{AREA.answer:.1f}")
    assert not said.right
    assert not said.readable
    assert "unit is missing" in said.message
    assert reply(WIDTH, f"{WIDTH.answer:.1f}").right
    slip = AREA.slips[0]
    said = reply(AREA, f"{slip.value:.1f}")
    assert said.slip == slip.name
    assert "unit is missing" in said.message


def test_a_wrong_kind_of_unit_is_explained():
    """A length where an area is asked: said so, and wrong."""
    said = reply(AREA, f"{AREA.answer:.1f} cm")
    assert not said.right
    assert said.readable
    assert "length" in said.message


def test_slips_are_named_in_any_unit():
    """A slip typed in m² is still that slip."""
    slip = AREA.slips[0]
    assert reply(AREA, f"{slip.value / 1e4:.6f} m²").slip == slip.name


def test_an_answer_too_coarse_for_the_data():
    """Rightly rounded to one figure: not counted, and said why."""
    coarse = rounded(WIDTH.answer, 1)
    assert abs(float(coarse) - WIDTH.answer) > WIDTH.tolerance
    said = reply(WIDTH, f"{round(WIDTH.answer / 10):.0f}e1")
    assert not said.right
    assert "too coarse" in said.message
    assert figures_told(WIDTH.figures) in said.message


def test_an_answer_too_fine_for_the_data():
    """Right, but with figures that the data do not carry: right, and said so."""
    said = reply(WIDTH, f"{WIDTH.answer:.9f}")
    assert said.right
    assert "more than are asked for" in said.message
    assert "more than are asked for" not in reply(WIDTH, f"{WIDTH.answer:.2f}").message


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (10, "too large by a factor of 10"),
        (0.001, "too small by a factor of 1000"),
        (1e-5, "10 to the power 5"),
        (1.03, "Close, but too large by more than is allowed here, by 2 to 5 %."),
        (1.015, "Close, but too large by more than is allowed here, by less than 2 %."),
        (1.06, "It is too large, by 5 to 10 %."),
        (0.93, "It is too small, by 5 to 10 %."),
        (0.8, "too small, by less than a quarter"),
        (0.6, "too small, by less than a factor of 2"),
        (3.2, "too large, about 3 times"),
        (37.0, "too large, by more than a factor of 10"),
        (-1, "sign is the wrong way round"),
        (0, "0 is too small"),
    ],
)
def test_other_answers_hear_high_or_low(times, words):
    """The side, and the power of ten or about how many times."""
    said = reply(WIDTH, f"{WIDTH.answer * times:.8g} cm")
    assert (said.right, said.slip) == (False, None)
    assert words in said.message


def test_the_wrong_side_of_0_is_told_before_the_unit() -> None:
    """Whatever unit was meant, an area is not below 0; it counts as an answer."""
    question = Question(Asked(78.5, "cm²", 0.4, asks_unit=True))
    said = reply(question, "-5")
    assert said.message.startswith("The sign is the wrong way round.")
    assert "The unit is missing" in said.message
    assert (said.right, said.readable) == (False, True)
    assert reply(question, "5").message.startswith("The unit is missing")
    assert not reply(question, "5").readable
    warm = Question(Asked(5.0, "°C", 0.1, asks_unit=True))
    assert not reply(warm, "-5").readable  # minus 5 degrees may be meant in another scale


@given(st.floats(0.01, 100))
def test_no_reply_gives_the_answer_away(times):
    """Only a right answer ever hears the number."""
    said = reply(WIDTH, f"{WIDTH.answer * times:.6g} cm")
    if not said.right:
        assert f"{WIDTH.answer:.1f}" not in said.message
        assert f"{WIDTH.answer:.3g}" not in said.message.split()


@pytest.mark.parametrize("text", ["", "  ", "about a foot or so", "nan", "inf", "1/0", "3 4 5"])
def test_what_cannot_be_read_never_counts(text):
    """One sentence, another try."""
    said = reply(WIDTH, text)
    assert not said.right
    assert not said.readable
    assert said.slip is None
    assert said.message.strip()


def test_a_comma_that_may_be_two_things():
    """A number a thousand times too small is never right: it is asked which one was meant."""
    met = 0
    for key, one in all_families().items():
        for number in range(1, 13):
            made = problem(key, "Q07", "alder", "1", number)
            if one.exact or not 1000 <= made.answer < 999_999:
                continue
            met += 1
            unit = one.unit
            for text in (f"{made.answer:,.0f} {unit}", f"{made.answer / 1000:.3f} {unit}"):
                said = reply(made, text)
                assert (said.right, said.readable, said.slip) == (False, False, None), text
                assert f"Write {made.answer:.0f} {unit} if you mean that" in said.message
            # each way out that is offered leads on
            assert reply(made, f"{made.answer:.0f} {unit}").right
            said = reply(made, f"{made.answer / 1000:.4f} {unit}")
            assert (said.right, said.readable) == (False, True)
    assert met > 40


@pytest.mark.parametrize(
    "text",
    [
        *("the 2nd", "2nd", "two", "the second", "ans 2", "it is 2", "option 2", "choice (2)"),
        *("at least 2", "≥ 2", "n≥2", "n >= 2", "2 times", "2, because the jaw slipped", "= 2"),
        *("the answer is 2", "２", "2!", "reading no. 2"),
    ],
)
def test_a_number_of_a_list_in_words(text):
    """What stands round the number is passed over; what stands behind "because" is not read."""
    assert reply(ASKS_TWO, text).right, text
    said = reply(Question(Asked(5.0, "", 0.0, exact=True)), text)
    assert (said.right, said.readable) == (False, True)


@pytest.mark.parametrize("text", ["2 cm", "2 or 3", "not 2", "2.5", "more than 2", "twice", "2-3"])
def test_no_number_of_a_list(text):
    said = reply(ASKS_TWO, text)
    assert (said.right, said.readable) == (False, False)


@pytest.mark.parametrize(
    "written", ["{0}", "({0})", "No. {0}", "no {0}", "#{0}", "reading {0}", "{0} readings", "{0}."]
)
def test_a_number_of_a_list_as_people_write_it(written):
    """The problem itself writes (2); so may the answer. A wrong number is wrong, or its slip."""
    for key in ("impossible-reading", "readings-needed"):
        one = problem(key, "Q07", "alder")
        assert reply(one, written.format(int(one.answer))).right
        for slip in one.slips:
            assert reply(one, written.format(int(slip.value))).slip == slip.name


@pytest.mark.parametrize("text", ["77.2", "77.2 cm", "2 cm", "6,13", "", "2) (3)"])
def test_a_reading_in_place_of_its_number_gets_another_try(text):
    """Neither a reading nor a unit is a number of a list: one sentence, and nothing counts."""
    said = reply(problem("impossible-reading", "Q07", "alder"), text)
    assert (said.right, said.slip, said.readable) == (False, None, False)
    assert said.message == "Answer with a whole number, and no unit behind it."


@pytest.mark.parametrize(
    ("times", "words"), [(0.01, "too near to 0 by a factor of 100"), (3.2, "too far from 0, about")]
)
def test_high_or_low_below_nothing(times, words):
    """Of a number below 0 it is said how far from 0 it lies: "large" could mean either way."""
    for number in range(1, 30):
        one = problem("rule-over-bark", "Q07", "alder", "1", number)
        said = reply(one, f"{one.answer * times:.8g} %")
        if one.answer < 0 and said.slip is None:
            assert words in said.message
            break
    else:
        pytest.fail("no problem with a number below 0")


# ---- spellings whose meaning hangs on what is asked ---------------------------------------------


@pytest.mark.parametrize(
    ("key", "written", "right", "counts"),
    [
        ("stems-per-hectare", "{0:.1f} stems", True, True),
        ("stems-per-hectare", "{0:.1f} trees", True, True),
        ("stems-per-hectare", "{0:.1f} N/ha", True, True),
        ("stems-per-hectare", "{0:.1f}", True, True),
        ("how-warm-until-it-matters", "{0:.2f} degrees", True, True),
        ("how-warm-until-it-matters", "{0:.2f} °", True, True),
        ("how-warm-until-it-matters", "{0:.2f} c", True, True),
        ("how-warm-until-it-matters", "{0:.2f} oC", True, True),
        ("how-warm-until-it-matters", "{0:.2f} centigrade", True, True),
        ("how-warm-until-it-matters", "{0:.2f} K", False, False),
        # an area alone is asked about, whether the number is right or not
        ("basal-area-per-hectare", "{0:.3f} m²", False, False),
        ("basal-area-per-hectare", "{1:.3f} m²", False, False),
        ("basal-area-per-hectare", "{0:.3f} m²/ha", True, True),
        ("tape-on-an-oval", "{0:.3f} % too large", True, True),
        ("tape-on-an-oval", "by {0:.3f} %", True, True),
        ("tape-on-an-oval", "{2:.3f} ‰", True, True),
        ("tape-on-an-oval", "{0:.3f} % too small", False, False),
        ("blackboard-girth", "{0:.3f} cm longer", True, True),
        ("girth-to-diameter", "G/π = {0:.2f} cm", True, True),
        ("girth-to-diameter", "{0:.2f} cm = {3:.4f} m", True, True),
        ("girth-to-diameter", "{0:.2f} cm = {0:.2f} m", False, False),
    ],
)
def test_the_question_decides(key, written, right, counts):
    """Stems on a hectare, degrees of warmth, more of what is too much; else it is asked back."""
    one = problem(key, "Q07", "alder")
    text = written.format(one.answer, 1.3 * one.answer, 10 * one.answer, one.answer / 100)
    said = reply(one, text)
    assert (said.right, said.readable) == (right, counts), said.message


def test_less_is_a_number_below_nothing():
    """Where the answer is below 0, "too small" is its sign; a minus says the same."""
    for number in range(1, 30):
        one = problem("rule-over-bark", "Q07", "alder", "1", number)
        if one.answer < 0:
            break
    size = abs(one.answer)
    assert reply(one, f"{size:.3f} % too small").right
    assert reply(one, f"minus {size:.3f} %").right
    assert reply(one, f"−{size:.3f} % less").right
    assert not reply(one, f"{size:.3f} % too large").readable
    assert reply(one, f"plus {size:.3f} %").slip == "wrong-sign"


def test_a_unit_that_counts_as_another_here():
    """A problem may say that of another unit each counts for so many of its own."""
    asked = Asked(6.216, "hoppus ft", 0.03, counts_as={"ft³": 1.0})
    assert reply(Question(asked), "6.216 cubic feet").right
    assert not reply(Question(Asked(6.216, "hoppus ft", 0.03)), "6.2160 cubic feet").right
    assert "is a length" in reply(Question(asked), "6.216 feet").message


# ---- what figures cannot tell -------------------------------------------------------------------

SLIP = KnownSlip(98.7, "The girth was taken for a diameter.", "girth-as-diameter", 0.5)
NEAR = KnownSlip(10.4, "The bark was left on.", "bark", 0.05)
TEN = Question(Asked(10.0, "cm", 0.05, (SLIP, NEAR), figures=3))


def test_too_few_figures_for_two_causes():
    """π² and 10 lie 1.3 % apart: with two figures both are told, with three the one it is."""
    for text in ("100 cm", "1e2 cm", "1 m"):
        said = reply(TEN, text)
        assert said.slip is None, text
        assert "about 10. With so few figures two causes fit" in said.message, text
        assert said.message.endswith(SLIP.says), text
    assert reply(TEN, "98.7 cm").slip == SLIP.name
    assert reply(TEN, "99 cm").slip == SLIP.name  # 98.5 to 99.5, and not 100
    assert "by a factor of 10: look at" in reply(TEN, "100.0 cm").message
    # 49.8 and 50.5 both make 50
    five = KnownSlip(49.8, SLIP.says, SLIP.name, 0.25)
    said = reply(Question(Asked(5.05, "cm", 0.025, (five,))), "50 cm")
    assert said.slip is None
    assert said.message.endswith(SLIP.says)


def test_the_first_chapter_of_problems_tells_both():
    """43 630 and 44 209 cm² are both 44 000."""
    area = problem("girth-to-area", "Q07", "quillmere")
    for text in ("44000 cm2", "4.4e4 cm2", "4.4 m2"):
        said = reply(area, text)
        assert "about 10." in said.message
        assert said.message.endswith(area.slips[0].says)
    assert reply(area, "43600 cm2").slip == "girth-as-diameter"
    assert "by a factor of 10:" in reply(area, "44200 cm2").message


def test_two_slips_that_lead_to_one_number_are_both_told():
    """The nearer one first, and by its name."""
    other = KnownSlip(98.5, "Doubled, and doubled again.", "doubled", 0.5)
    said = reply(Question(Asked(10.0, "cm", 0.05, (other, SLIP))), "98.7 cm")
    assert said.message == (f"Two slips lead to about this number. {SLIP.says} Or: {other.says}")
    assert said.slip == SLIP.name


@pytest.mark.parametrize(
    ("text", "words", "counts"),
    [
        ("10 cm", "Right", True),
        ("1e1 cm", "Right", True),
        ("8 cm", "too coarse", True),  # 8.4 rounded
        ("8.4 cm", "Right", True),
        ("80 mm", "too coarse", True),
        ("9 cm", "factor of 2", True),
    ],
)
def test_coarse_is_asked_by_place(text, words, counts):
    answer = 8.44 if "8" in text or "9" in text else 10.02
    words = "by 5 to 10 %" if text == "9 cm" else words
    said = reply(Question(Asked(answer, "cm", 0.06, figures=3)), text)
    assert words in said.message
    assert said.readable == counts


def test_a_last_figure_cut_off_is_no_mistake_of_method():
    """1.98 given as 1.97 or 19.8 cut to 19: told kindly, and three figures count neither way."""
    question = Question(Asked(1.0189, "cm", 0.0051, figures=3))
    said = reply(question, "1.01 cm")
    assert (said.right, said.readable) == (False, False)
    assert "cut off instead of rounded" in said.message
    assert reply(question, "1.02 cm").right
    assert "too coarse" in reply(question, "1 cm").message


@pytest.mark.parametrize("unit", ["cm²", "m²", "ft²", "cm", "kg", ""])
@given(st.decimals("1e-12", "1e12"), st.integers(0, 11))
def test_places_far_behind_the_point_are_read(unit, value, places):
    """However many zeros somebody types: a reply, never a fault of ours."""
    text = f"{value:.{places}f} {unit}"
    said = reply(AREA, text)
    assert said.message


def test_many_zeros_change_no_reply():
    """The right area with twelve zeros behind it is as right as without."""
    for written in (f"{AREA.answer:.1f}{'0' * 12} cm²", f"{AREA.answer / 1e4:.5f}{'0' * 12} m²"):
        assert reply(AREA, written).right
