"""Every question of every workbook: its answer found anew by plain arithmetic, its slips reached.

The arithmetic here uses nothing of mensura. What a question asks is written out again, so that an
answer that changes with the code, or a text that changes without it, is noticed. Lines to choose
from are put to the judge of lines.
"""

from __future__ import annotations

import math
from importlib import import_module

import pytest

from mensura.checks import MeasureError
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction
from mensura.teaching.lessons.questions import question
from mensura.teaching.proof.judge import judge
from mensura.views import ask

PI = math.pi


def girth_of_ellipse(first: float, second: float) -> float:
    """By the series in h = ((a − b)/(a + b))², with the semi-axes a and b; far from a needle."""
    a, b = first / 2, second / 2
    h = ((a - b) / (a + b)) ** 2
    return PI * (a + b) * (1 + h / 4 + h**2 / 64 + h**3 / 256 + 25 * h**4 / 16384)


def tilted_girth(girth: float, tilt_deg: float) -> float:
    """Round a round stem: the mean of √(1 + tan²θ·cos²φ) over a turn, by a plain sum."""
    slope = math.tan(math.radians(tilt_deg))
    turns = [2 * PI * k / 720 for k in range(720)]
    return girth * sum(math.hypot(1, slope * math.cos(turn)) for turn in turns) / 720


def girth_with_climber(stem: float, climber: float) -> float:
    """Round two circles that touch: two tangents and two arcs."""
    big, small = stem / 2, climber / 2
    lean = math.asin((big - small) / (big + small))
    arcs = big * (PI + 2 * lean) + small * (PI - 2 * lean)
    return arcs + 2 * math.sqrt((big + small) ** 2 - (big - small) ** 2)


G2 = round(girth_of_ellipse(52, 44), 1)
TRUE2 = PI / 4 * 52 * 44
BOARD2 = PI * math.sqrt((52**2 + 44**2) / 2)
OVER3 = 100 * (girth_of_ellipse(50, 44) ** 2 / (4 * PI) / (PI * 25 * 22) - 1)
T10 = math.tan(math.radians(10))
# a level cut through a leaning round stem: the mean over a turn, by a plain sum
T20 = math.tan(PI / 9)
LEVEL9 = (
    sum(
        math.hypot(math.cos(k * PI / 360), math.sin(k * PI / 360) / math.cos(PI / 9))
        for k in range(720)
    )
    / 720
)
CAUGHT4 = round(girth_with_climber(40, 2), 1)

#: key: (answer, slips in their order), each in the exercise's unit.
BY_HAND = {
    "01-1": (126 / PI, [126 * PI, 63 / PI, 31.5, 126 / PI / 2.54]),
    "01-2": (
        126**2 / (4 * PI) / 10_000,
        [126**2 / (4 * PI), 126**2 / (4 * PI) / 100]
        + [value / 10_000 for value in (126**2 / PI, PI / 4 * 126**2, 31.5**2)],
    ),
    "01-3": (100 / PI**2, [100 / PI, 100 * PI**2, 100 - 100 / PI**2, 50 / PI]),
    "01-4": (
        100 * (90**2 - 88**2) / 88**2,
        [100 * 2 / 88, 100 * 4 / 90, 100 * (88**2 - 90**2) / 90**2],
    ),
    "02-1": (G2**2 / (4 * PI), [PI / 4 * G2**2, G2**2 / (2 * PI), (G2 / 4) ** 2]),
    "02-2": (
        100 * (G2**2 / (4 * PI) / TRUE2 - 1),
        [100 * (BOARD2**2 / (4 * PI) / TRUE2 - 1), 100 * (48**2 / (52 * 44) - 1)],
    ),
    "02-3": (TRUE2, [PI / 4 * 48**2, 52 * 44, PI * 52 * 44]),
    "02-4": (math.degrees(math.asin(math.sqrt(3) / 2)) / 2, [22.5, 120, 60]),
    "03-1": (
        100 * 9 / (2 * 25 * 22),
        [OVER3, 100 * 9 / (25 * 22), 100 * 9 / (4 * 25 * 22), 9 / (2 * 25 * 22)],
    ),
    "03-2": (PI * 9 / 4, [PI * 9 / 2, 9 / 4, PI * 9 * 3 / 8]),
    "03-3": (
        100 * 3 / 8 * 9 / 810,
        [100 * 9 / (2 * 810), 100 * 9 / (4 * 810), 100 * 3 / 4 * 9 / 810],
    ),
    "03-4": (math.sqrt(2600), [50, math.sqrt(1300), math.sqrt(650), 2 * math.sqrt(600)]),
    "04-1": (
        tilted_girth(126, 10) - 126,
        [126 / math.cos(math.radians(10)) - 126, 126 * T10**2, 126 * T10 / 4],
    ),
    "04-2": (math.sqrt(120**2 + 6**2) - 120, [6, 36 / 120]),
    "04-3": (
        100 * (CAUGHT4**2 - (40 * PI) ** 2) / (40 * PI) ** 2,
        [100 * (CAUGHT4 / (40 * PI) - 1), 100 * 1**2 / 20**2, 100 * (42**2 - 40**2) / 40**2],
    ),
    "04-4": (
        100 * (36**2 - 35.64**2) / 36**2,
        [100 * 0.36 / 36, 100 * (36**2 - 35.28**2) / 36**2],
    ),
    "05-1": (138.2 / PI - 3.2, [138.2 / PI - 1.6, (138.2 - 3.2) / PI, 138.2 / PI]),
    "05-2": (40.2 / 44, [42.1 / 44, (40.2 / 44) ** 2, 44 / 40.2]),
    "05-3": (1.84 * 0.8464, [1.6928, 1.84 * 0.778688, 1.84 * 0.1536]),
    "05-4": (
        100 * (43.4**2 - 42**2) / 42**2,
        [100 * 1.4 / 42, 100 * (43.4**2 - 42**2) / 43.4**2],
    ),
    "06-1": (84 / 70 * 100, [84 * 70 / 100, 84 + 30, 84 * 1.3]),
    "06-2": (105 * 1.04, [110 * 1.04 - 5, 115 * 1.04, 105 / 1.04, 105]),
    "06-3": (
        100 * (41.5**2 - 41**2) / 41.5**2,
        [100 * 0.5 / 41.5, 100 * (41.5**2 - 41**2) / 41**2],
    ),
    "06-4": (1800 * 11.6e-6 * 18, [1800 * 11.6e-6 * 38, 180 * 11.6e-6 * 18]),
    "07-1": (
        PI / 4 * ((35.8 + 32.6) / 2) ** 2,
        [PI / 4 * ((a + b) / 2) ** 2 for a, b in ((36.2, 33.0), (36.6, 33.4), (35.8, 33.0))],
    ),
    "07-2": (math.degrees(math.atan2(0.6, 36)), [0.6 / 36, math.degrees(math.atan2(0.6, 20))]),
    "07-3": (
        25 + 25 * math.tan(math.radians(45 - 1)),  # (1 − sin φ)/cos φ = tan(45° − φ/2)
        [25 + 25 * math.tan(math.radians(45 + 1)), 50 - 50 * math.tan(math.radians(2))],
    ),
    "07-4": (
        51.1 * math.cos(PI / 15),
        [51.1 / math.cos(PI / 15), 51.1 / (1 + math.tan(PI / 15) ** 2 / 4)],
    ),
    "08-1": (
        100 * (66.05**2 - 66**2) / 66**2,
        [100 * 0.05 / 66, 100 * 0.2 / 66, (66.05**2 - 66**2) / 66**2],
    ),
    "08-2": (PI**2 / 4, [PI**2, 4 / PI**2, PI / 2, PI**2 / 2]),
    "09-1": (50 / math.sqrt(3), [25.0, 25 / math.sqrt(3), 130 / math.sqrt(3)]),
    "09-2": (
        100 * (LEVEL9**2 - 1),
        [100 * T20**2, 100 * (LEVEL9 - 1), 100 * (1 - math.cos(PI / 9))],
    ),
    "09-3": (
        100 * ((120.9 / PI) ** 2 / 1109 - 1),
        [
            100 * (47**2 / 1109 - 1),
            100 * ((120.9 / PI) ** 2 / 625 - 1),
            100 * (120.9 / PI / math.sqrt(1109) - 1),
        ],
    ),
    "09-4": (24.0, [24 * PI, 76.0, 240.0]),
    "10-1": (1 / math.sqrt(12), [0.5, 1 / math.sqrt(3), 1 / 12]),
    "10-2": (0.9 - 0.25, [0.78 - 0.25, 0.9, 0.9 + 0.25]),
    "10-3": (
        math.sqrt(0.06**2 + 0.1**2 + 0.5**2 / 12),
        [0.16 + 0.5 / math.sqrt(12)] + [math.sqrt(0.0136 + part**2) for part in (0.25, 0.5, 0)],
    ),
    "10-4": (
        math.sqrt(0.1**2 + 0.3**2 / 4),
        [math.sqrt(0.1) / 2, math.sqrt(0.1), math.sqrt(0.1**2 + (0.3 / 4) ** 2)],
    ),
    "11-1": (122.4 / 1.025, [122.4 * 1.025, 120 / 1.02 / 1.025, 119.4, 122.4]),
    "11-2": (8.16, [4.0, 8.0, 100 * ((1 + 0.04 / PI) ** 2 - 1)]),
    "11-3": (2.8 * math.sqrt(0.2), [0.56, 1.12, 1.68, math.sqrt(0.2)]),
    "12-1": (
        PI / 4 * 0.7564,
        [PI / 4 * 0.735, PI / 4 * 0.7992, PI / 4 * 0.7671],
    ),
    "12-2": (
        3.182 * math.sqrt(46 / 12),
        [
            *(3.182 * math.sqrt(46 / 3), 1.96 * math.sqrt(46 / 12)),
            *(math.sqrt(46 / 12), 3.182 * math.sqrt(46 / 16)),
        ],
    ),
    "12-3": (math.sqrt(42.41), [math.sqrt(35.66), 10.9, math.sqrt(17.41)]),
    "13-1": (1440.0, [36_000.0, 1200.0, 360 * PI]),
    "13-2": (
        100 * (15_876 / (4 * PI) / 1190 - 1),
        [
            100 * (1 - 1190 * 4 * PI / 15_876),
            100 * (126 / math.sqrt(4760 * PI) - 1),
            15_876 / (4 * PI) - 1190,
        ],
    ),
    "13-3": (
        100 * (1 - 3 / PI),
        [
            100 * (1 - 12 / PI * math.sin(PI / 12)),
            100 * (12 * (2 - math.sqrt(3)) / PI - 1),
            100 / 12,
        ],
    ),
}

#: Data that a question's text must state for its answer to follow.
STATED = {
    "01-1": ["126.0 cm", "round"],
    "01-2": ["126.0 cm", "m²"],
    "01-3": ["diameter", "girth", "per cent"],
    "01-4": ["2.0 cm", "90.0 cm", "zero"],
    "02-1": [f"{G2} cm"],
    "02-2": ["52 and 44 cm"],
    "02-3": ["52 and 44 cm", "product"],
    "02-4": ["right angles", "product"],
    "03-1": ["a = 25", "b = 22 cm", "classroom's formula"],
    "03-2": ["a = 25", "b = 22 cm", "at least", "bound from P ≥ π(a + b)"],
    "03-3": ["30 and 27 cm", "leading term"],
    "03-4": ["45°", "half-axes 30 and 20 cm"],
    "04-1": ["10°", "126 cm", "round"],
    "04-2": ["6 cm", "120 cm"],
    "04-3": ["40.0 cm", "2 cm thick", f"{CAUGHT4} cm"],
    "04-4": ["36.0 cm", "1.2 cm", "30 cm too high", "diameter falls"],
    "05-1": ["138.2 cm", "1.6 cm", "over bark"],
    "05-2": ["44.0 cm", "1.9 cm", "under bark over diameter over bark"],
    "05-3": ["1.84 m³", "0.92", "over bark"],
    "05-4": ["46.0 cm", "2.0 cm", "0.7 cm"],
    "06-1": ["70", "100 cm", "84.0 cm"],
    "06-2": ["5 cm", "4 per cent", "110 cm", "zero"],
    "06-3": ["41.5 cm", "41 cm", "down"],
    "06-4": ["20 °C", "11.6 millionths", "38 °C", "180.0 cm"],
    "07-1": ["0.4 cm", "36.2 and 33.0 cm", "arithmetic"],
    "07-2": ["20.0 cm", "36 cm", "19.4 cm"],
    "07-3": ["50 cm", "2°", "round", "against"],
    "07-4": ["12°", "51.1 cm"],
    "08-1": ["66.0 cm", "0.05 cm", "G²/4π", "two decimals"],
    "08-2": ["the girth for the diameter", "for the radius", "round"],
    "09-1": ["50 cm", "30°", "uphill side", "downhill side", "upright"],
    "09-2": ["20°", "level", "square to the stem"],
    "09-3": ["touch", "25 and 22 cm", "120.9 cm"],
    "09-4": ["0.5 cm", "10 cm above the mark", "1.2 cm", "diameter falls"],
    "10-1": ["nearest 1 cm", "each alike"],
    "10-2": ["0.3 mm", "0.2 mm", "2.4 m", "0.25 mm", "rounded up", "expanded"],
    "10-3": ["steps of 0.5 cm", "0.06 cm", "0.10 cm", "standard uncertainties"],
    "10-4": ["4 times", "0.3 cm", "0.1 cm", "brought back by the card"],
    "11-1": ["120 cm", "2 % too much", "stretched by 2.5 %"],
    "11-2": ["0.8 cm too much", "20 cm", "area"],
    "11-3": ["0.20 cm", "0.40 cm", "Two hands", "factor 2.8"],
    "12-1": ["6 m", "42, 35 and 30 cm", "Newton's"],
    "12-2": ["24, 31, 28 and 33 m²/ha", "one area", "3.182"],
    "12-3": ["d²·h·f", "1.5 %", "2.9 %", "5 %", "alike"],
    "13-1": ["30 cm", "750 px", "900 000 px²"],
    "13-2": ["1190 cm²", "126.0 cm", "taut"],
    "13-3": ["12 points", "evenly", "round"],
}


#: Modules whose chapters have no page yet: a row goes as soon as its chapter is declared.
TO_COME: dict[str, str] = {}


def all_questions() -> dict[str, Prediction | Exercise]:
    found: dict[str, Prediction | Exercise] = {}
    for one in CHAPTERS:
        found |= import_module(one.questions_home).QUESTIONS
    return found


def questions_to_come() -> dict[str, Prediction | Exercise]:
    found: dict[str, Prediction | Exercise] = {}
    for name in TO_COME.values():
        found |= import_module(f"mensura.teaching.lessons.questions.{name}").QUESTIONS
    return found


QUESTIONS = all_questions()
_BOTH = QUESTIONS | questions_to_come()
EXERCISES = {key: one for key, one in _BOTH.items() if isinstance(one, Exercise)}
PREDICTIONS = {key: one for key, one in _BOTH.items() if isinstance(one, Prediction)}


def test_what_is_to_come_has_no_page_yet() -> None:
    """Its keys begin with its number, and no chapter has it: else its row is left over."""
    assert not TO_COME.keys() & {one.number for one in CHAPTERS}
    assert {key.split("-")[0] for key in questions_to_come()} == set(TO_COME)


def test_none_is_left_out() -> None:
    """Each exercise is worked out below, and each workbook has a prediction and exercises."""
    assert set(BY_HAND) == set(STATED) == set(EXERCISES)
    for number in (one.number for one in CHAPTERS):
        assert f"{number}-predict" in PREDICTIONS
        assert f"{number}-1" in EXERCISES
        assert f"{number}-2" in EXERCISES
    for one in CHAPTERS:
        questions = import_module(one.questions_home).QUESTIONS
        assert all(key.startswith(f"{one.number}-") for key in questions)


@pytest.mark.parametrize("key", EXERCISES)
def test_the_answer_by_hand(key: str) -> None:
    """The stated answer is the one found here, far closer than its tolerance."""
    exercise, (answer, _) = EXERCISES[key], BY_HAND[key]
    assert exercise.answer == pytest.approx(answer, rel=1e-6)
    assert abs(exercise.answer - answer) < exercise.tolerance / 100
    for part in STATED[key]:
        assert part in exercise.text


@pytest.mark.parametrize("key", EXERCISES)
def test_the_slips_by_hand(key: str) -> None:
    """Each slip's value is what that wrong computation gives."""
    values = [slip.value for slip in EXERCISES[key].slips]
    assert values == pytest.approx(BY_HAND[key][1], rel=1e-6)
    assert len(values) >= 2


@pytest.mark.parametrize("key", EXERCISES)
def test_every_slip_can_be_reached(key: str) -> None:
    """Typing a slip's value brings its own sentence, not another slip's."""
    exercise = EXERCISES[key]
    for slip in exercise.slips:
        reply = exercise.reply(f"{slip.value:.5f}")
        assert not reply.right
        assert reply.message == slip.says


@pytest.mark.parametrize("key", EXERCISES)
def test_replies(key: str) -> None:
    """Point, comma and unit count; another unit, words and nothing do not."""
    exercise = EXERCISES[key]
    exact = f"{exercise.answer:.4f}"
    for typed in (exact, exact.replace(".", ","), f"{exact} {exercise.unit}", f"≈ {exact}"):
        reply = exercise.reply(typed)
        assert reply.right
        assert reply.message == f"Right. {exercise.because}"
    for typed in (f"{exact} furlongs", "no idea", "", f"{exact} or {exact}"):
        assert not exercise.reply(typed).right
    for way in (-1, 1):
        near = exercise.answer + way * exercise.tolerance
        assert exercise.reply(f"{near - way * exercise.tolerance * 0.02:.6f}").right
        assert not exercise.reply(f"{near + way * exercise.tolerance * 0.02:.6f}").right


@pytest.mark.parametrize(
    ("key", "rounded"),
    [
        *(("01-1", "40.1"), ("01-2", "0.126"), ("01-3", "10.1"), ("01-4", "4.6")),
        *(("03-1", "0.82"), ("03-2", "7.07"), ("03-3", "0.42"), ("03-4", "51.0")),
        *(("04-1", "0.97"), ("04-2", "0.15"), ("04-3", "1.8"), ("04-4", "2.0")),
        *(("05-1", "40.8"), ("05-2", "0.914"), ("05-3", "1.56"), ("05-4", "6.8")),
        *(("06-2", "109.2"), ("06-3", "2.40"), ("06-4", "0.38")),
        *(("07-1", "919"), ("07-2", "0.95"), ("07-3", "49.1"), ("07-4", "50.0")),
        *(("08-1", "0.15"), ("08-2", "2.47")),
        *(("10-1", "0.29"), ("10-2", "0.65"), ("10-3", "0.19"), ("10-4", "0.18")),
        *(("11-1", "119.41"), ("11-2", "8.2"), ("11-3", "1.25")),
        *(("12-1", "0.594"), ("12-2", "6.2"), ("12-3", "6.51")),
        *(("13-1", "1440"), ("13-2", "6.2"), ("13-3", "4.5")),
    ],
)
def test_a_rounded_answer_counts(key: str, rounded: str) -> None:
    """As many digits as the question asks for are enough, and they stand in the explanation."""
    assert EXERCISES[key].reply(rounded).right
    assert rounded in EXERCISES[key].because


@pytest.mark.parametrize("key", PREDICTIONS)
def test_predictions_answer_everyone(key: str) -> None:
    """Each choice has its own words, and they begin with whether it holds."""
    prediction = PREDICTIONS[key]
    replies = [prediction.reply(index) for index in range(len(prediction.choices))]
    assert len(set(replies)) == len(replies)
    assert sum(reply.startswith("Yes.") for reply in replies) == 1


def test_what_is_right_to_predict() -> None:
    """The right choices say the numbers found here."""
    right = {
        key: next(choice for choice in one.choices if choice.right)
        for key, one in PREDICTIONS.items()
    }
    assert "2 per cent" in right["01-predict"].text
    assert f"{100 * (1.01**2 - 1):.2f} per cent" in right["01-predict"].reply
    over = 100 * (girth_of_ellipse(60, 48) ** 2 / (4 * PI) / (PI / 4 * 60 * 48) - 1)
    assert f"{over:.2f} per cent" in right["02-predict"].reply
    others = [choice.reply for choice in PREDICTIONS["04-predict"].choices if not choice.right]
    for adds, reply in (
        (girth_with_climber(40, 2) - 40 * PI, right["04-predict"].reply),
        (tilted_girth(40 * PI, 5) - 40 * PI, others[0]),
        (math.hypot(40 * PI, 5) - 40 * PI, others[1]),
    ):
        assert f"{adds:.2f} cm" in reply
        assert f"{adds:.2f} cm" in others[2]
    assert f"{100 * (1 - 0.9**2):.0f} per cent" in right["05-predict"].text
    assert f"= {125 / 1.01:.2f}" in right["06-predict"].reply
    assert f"{125 / 1.01:.1f} cm" in right["06-predict"].text
    leaning = 20 + 20 * math.tan(math.radians(45 - 0.5))
    assert f"{leaning:.2f} cm" in right["07-predict"].reply
    assert f"{leaning:.1f} cm" in right["07-predict"].text
    assert f"{round(PI**2):d} times" in right["08-predict"].text
    assert f"π² = {PI**2:.2f}" in right["08-predict"].reply
    assert f"{1 / math.sqrt(12):.2f} cm stays" in right["10-predict"].reply


def test_the_judge_of_lines_answers_03_as_its_question_does() -> None:
    """The four lines to choose from: what the judge says to each, and that one alone is enough."""
    prediction = PREDICTIONS["03-predict"]
    said = [judge(choice.text, "a² + b² > 2ab") for choice in prediction.choices]
    assert [one.verdict for one in said] == ["false", "weaker", "equivalent", "false"]
    assert [one.backwards for one in said] == [choice.right for choice in prediction.choices]
    # the numbers that the replies give are the judge's own
    for one, choice in zip(said, prediction.choices, strict=True):
        if one.counterexample:
            a, b = one.counterexample["a"], one.counterexample["b"]
            assert f"a = {a:g} and b = {b:g}" in choice.reply


@pytest.mark.parametrize("key", ["", "02", "99-1", "01-99", "predict", None, 3])
def test_an_unknown_key_names_the_known(key: object) -> None:
    """What is not there is refused with a list of what is."""
    with pytest.raises(MeasureError, match="expected one of: "):
        question(key)  # type: ignore[arg-type]


@pytest.mark.parametrize("key", QUESTIONS)
def test_a_question_shows_without_a_kernel(key: str) -> None:
    """Its text stands in the stored page; the answer does not."""
    one = ask(key)
    text = repr(one)
    if isinstance(one.question, Exercise):
        assert one.question.text in text
        assert one.question.because not in text
        assert all(slip.says not in text for slip in one.question.slips)
    else:
        assert all(choice.text in text for choice in one.question.choices)
        assert all(choice.reply not in text for choice in one.question.choices)
