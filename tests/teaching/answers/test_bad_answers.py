"""Whatever is typed is answered in one sentence, at once, and is never run.

Fifty thousand random strings a run, of several kinds, crash nothing.
"""

from __future__ import annotations

import builtins
import math
import random
import runpy
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.teaching.answers.answers import UNITS, AnswerError, Typed, read_answer

ACCEPTED = sorted(
    runpy.run_path(str(Path(__file__).with_name("test_answers.py")))["ACCEPTED"], key=str
)
#: Processor time in seconds for one string. A try takes less than a thousandth of it.
LONGEST_S = 0.05

#: What was typed, where the refusal points (first character 1, None for nowhere), and its words.
BAD: dict[str, tuple[str, int | None, str]] = {
    "empty": ("", None, "Nothing was typed"),
    "blank": (" \t\u00a0\n", None, "Nothing was typed"),
    "word": ("hello", 1, "‘hello’ is no number"),
    "sentence": ("the stem is 3", 1, "‘the’ is no number"),
    "nan": ("nan", 1, "‘nan’ is no number"),
    "inf": ("inf", 1, "‘inf’ is no number"),
    "minus infinity": ("-Infinity", 2, "‘Infinity’ is no number"),
    "true": ("True", 1, "‘True’ is no number"),
    "unit alone": ("m²", 1, "‘m’ is no number"),
    "unit first": ("cm 31", 1, "‘cm’ is no number"),
    "sign alone": ("-", 2, "A sign alone"),
    "equals alone": ("=", 2, "No number was typed"),
    "point alone": (".", 1, "‘.’ is no number"),
    "letter O": ("O.785", 1, "‘O’ is a letter; the digit is 0"),
    "letter l": ("l.5", 1, "‘l’ is a letter; the digit is 1"),
    "400 digits": ("7" * 400, 101, "400 characters; expected at most 100"),
    "60 digits": ("7" * 60, 1, "60 digits; expected at most 24"),
    "60 decimals": ("0." + "7" * 60, 1, "61 digits; expected at most 24"),
    "33 grouped digits": ("1" + ",234" * 11, 1, "34 digits; expected at most 24"),
    "huge exponent": ("1e400", 2, "power of ten is out of reach"),
    "tiny exponent": ("1e-400", 2, "power of ten is out of reach"),
    "huge power of ten": ("1 x 10^999999999", 2, "power of ten is out of reach"),
    "raised power of ten": ("1 × 10⁹⁹⁹⁹", 2, "power of ten is out of reach"),
    "too large": ("2e12", 1, "too large; expected at most 10^12"),
    "too large by its power": ("1,234e12", 1, "too large"),
    "too small": ("1e-13", 1, "too small"),
    "minus zero": ("-0", 1, "Zero has no sign"),
    "minus zero point zero": ("−0.0 %", 1, "Zero has no sign"),
    "over zero": ("1/0", 1, "‘1/0’ divides by 0"),
    "mixed over zero": ("3 1/0 in", 3, "‘1/0’ divides by 0"),
    "22/7": ("22/7", 1, "‘22/7’ is a calculation"),
    "top-heavy part": ("31 3/2 in", 4, "‘3/2’ is a calculation"),
    "pi over four": ("π/4", 1, "calculation; work it out"),
    "pi": ("pi", 1, "calculation"),
    "times pi": ("0.25π", 5, "calculation"),
    "times pi, spelt": ("0.25 pi", 6, "calculation"),
    "product": ("2*3", 2, "calculation"),
    "sum": ("2 + 3", 3, "calculation"),
    "difference": ("10-2", 3, "calculation"),
    "lost power": ("78.5 x 10-2", 6, "calculation"),
    "power of five": ("5^2", 2, "calculation"),
    "raised five": ("5²", 2, "calculation"),
    "tower": ("9^9^9^9", 2, "calculation"),
    "stars": ("9**9**9", 2, "calculation"),
    "root": ("sqrt(2)", 1, "calculation"),
    "root sign": ("√2", 1, "calculation"),
    "brackets": ("(3)(4)", 1, "calculation"),
    "quotient of brackets": ("(3)/4", 1, "calculation"),
    "minus a bracket": ("-(3)", 2, "calculation"),
    "hexadecimal": ("0x10", 2, "calculation"),
    "hyphened part": ("31-1/2", 3, "A hyphen before a fraction"),
    "uncertainty": ("0.79 ± 0.01", 6, "without ±"),
    "import": ("__import__('os')", 1, "‘__import__’ is no number"),
    "import behind": ("1 __import__('os')", 3, "The unit ‘__import__('os')’ is not known"),
    "name and import": ("x = __import__('os').system('true')", 5, "‘__import__’ is no number"),
    "call": ("exit()", 1, "‘exit’ is no number"),
    "lambda": ("lambda x: x", 11, "‘x’ is no number"),
    "walrus": ("(x := 3)", 5, "More than one answer"),
    "formatted": ("{0.__class__}", 1, "‘{’ is no number"),
    "percent format": ("%s%n", 1, "‘%’ is no number"),
    "markup": ("<b>3</b>", 1, "‘<’ is no number"),
    "markup behind": ("3 <img src=x onerror=alert(1)>", 11, "More than one answer"),
    "shell": ("$(reboot)", 1, "‘$’ is no number"),
    "imaginary": ("1j", 2, "The unit ‘j’ is not known"),
    "underscore": ("1_00", 2, "‘_’ at place 2 does not fit"),
    "list": ("[1]", 1, "‘[’ is no number"),
    "two numbers": ("0.7 0.8", 5, "A second number stands at place 5"),
    "one or the other": ("3 or 4", 6, "A second number"),
    "list of two": ("3; 4", 4, "A second number"),
    "two with units": ("3 m 4 m", 5, "A second number"),
    "metres and a number": ("12 m 5", 6, "A second number"),
    "feet and centimetres": ("2 ft 7 cm", 6, "A second number"),
    "feet and too many": ("5 ft 17", 5, "inches behind feet must be below 12"),
    "cubic or centimetres": ("12 m 3", 6, "A second number"),
    "a length less another": ("3 m - 5 cm", 3, "calculation"),
    "two raised points": ("2·3·4", 2, "calculation"),
    "degrees and minutes": ("12° 30'", 5, "A second number"),
    "no equation": ("50 = 53.7", 5, "The two sides do not agree"),
    "no equation of units": ("53.7 cm = 0.547 m", 10, "The two sides do not agree"),
    "no equation of kinds": ("53.7 cm = 53.7 cm2", 10, "The two sides do not agree"),
    "either is": ("2 or 3 = 3", 8, "More than one answer"),
    "five sides": ("1=1=1=1=1", 2, "More than one answer"),
    "nothing behind": ("53.7 cm =", 9, "Nothing stands behind ‘=’"),
    "13 inches": ("2' 13\"", 3, "inches behind feet must be below 12"),
    "234 inches": ("1'234\"", 3, "inches behind feet must be below 12"),
    "120 centimetres": ("2 m 120 cm", 4, "centimetres behind metres must be below 100"),
    "half a foot and inches": ("2.5 ft 7 in", 5, "feet must be a whole number"),
    "two signs": ("--5", 2, "Two signs stand at place 2"),
    "three points": ("1.2.3", 4, "‘.’ at place 4 does not fit"),
    "groups of two": ("1,23,45", 5, "‘,’ at place 5 does not fit"),
    "two commas": ("1,,2", 2, "‘,’ at place 2 does not fit"),
    "0 and a group": ("0 123", 1, "begins with 0"),
    "unknown unit": ("3 furlongs", 3, "The unit ‘furlongs’ is not known; known are mm, cm"),
    "unknown area": ("3 sq furlong", 3, "known are mm², cm²"),
    "unknown on ground": ("3 kg/ha", 3, "known are m²/ha"),
    "money": ("$5", 1, "‘$’ is no number"),
    "shouted": ("5!", 2, "‘!’ behind a number may be a factorial"),
    "kelvin": ("322 K", 5, "Temperatures are in °C here"),
    "Fahrenheit": ("120 °F", 5, "Temperatures are in °C here"),
    "c for what": ("53.7 c", 6, "The unit ‘c’ is not known"),
    "Hebrew": ("3 מטר", 3, "right to left (U+05DE)"),
    "Arabic digit": ("٣", 1, "right to left (U+0663)"),
    "Persian digit": ("۳", 1, "extended arabic-indic digit three"),
    "Devanagari digit": ("३", 1, "devanagari digit three"),
    "mathematical digit": ("𝟕", 1, "mathematical bold digit seven"),
    "Cyrillic a": ("0.7 hа", 6, "cyrillic small letter a) may look right"),
    "Greek omicron": ("ο.7", 1, "greek small letter omicron"),
    "Arabic decimal mark": ("3٫5", 2, "right to left (U+066B)"),
    "low comma": ("3‚5", 2, "single low-9 quotation mark) is not known"),
    "picture": ("3 🌲", 3, "evergreen tree) is not known"),
    "right-to-left mark": ("3\u200f", 2, "U+200F"),
    "right-to-left override": ("\u202e3", 1, "U+202E"),
    "zero width space": ("3\u200b5", 2, "U+200B"),
    "zero width joiner": ("3\u200d", 2, "U+200D"),
    "soft hyphen": ("3\u00ad5", 2, "U+00AD"),
    "byte order mark": ("\ufeff3", 1, "U+FEFF"),
    "combining": ("3\u0338", 2, "U+0338"),
    "NUL": ("3\x00", 2, "U+0000"),
    "two lines": ("1\n2", 2, "U+000A"),
    "lone surrogate": ("3\ud800", 2, "U+D800"),
    "private": ("3\ue000", 2, "U+E000"),
}  # fmt: skip

ANSWER_LIKE = [
    *"0123456789", *"0123456789", *".,'’′\"″ \u2009\u00a0+-−–eExX×*·/⁄^()²³⁻⁰¹½⅞°%≈~=π±",
    " cm", " m²", " m2", " ft ", " in", "' ", " per ", " ha", "10^", "×10⁻", "**", " sq ", "about ",
    "G = ", " x 10^-", "1/2", ",000", ".000", "'000", " 000", "nan", "inf", "__", "(", ")",
    "approx", "=", "minus ", " more", "; ", " too small", "_000", "—", "０", "‰", "Ø", "ha-1",
]  # fmt: skip


def read(text):
    """The answer or the refusal of a string, and the processor time it took."""
    start = time.process_time()
    try:
        found = read_answer(text)
    except AnswerError as error:
        found = error
    return found, time.process_time() - start


def read_in_time(text):
    """The answer or the refusal of a string, after the checks that hold for every one."""
    found, taken = read(text)
    if isinstance(found, AnswerError):
        said = str(found)
        assert said.isprintable(), repr((text, said))
        assert said.strip().endswith("."), repr((text, said))
        assert len(said) <= 320, repr((text, said))
        assert found.place is None or 1 <= found.place <= len(text) + 1, repr((text, said))
    else:
        assert isinstance(found, Typed)
        assert abs(found.value) <= 1e12, repr(text)
        assert math.copysign(1, found.value) == 1 or found.value < 0, repr(text)
        assert found.unit is None or found.unit in UNITS, repr(text)
        assert 1 <= found.digits <= 40, repr(text)
        assert 0 < found.half_step < math.inf, repr(text)
        assert found.other is None or math.isfinite(found.other), repr(text)
        assert found.text == text
    # once more if it was slow, lest the machine's own pause count
    assert taken < LONGEST_S or read(text)[1] < LONGEST_S, repr(text)
    return found


@pytest.mark.parametrize("name", BAD)
def test_refused(name):
    """One plain sentence, and the place where it went wrong."""
    text, place, says = BAD[name]
    error = read_in_time(text)
    assert isinstance(error, AnswerError), error
    assert isinstance(error, MeasureError)
    assert says in str(error)
    assert error.place == place
    assert str(error)[0].isupper() or str(error)[0] == "‘"


@pytest.mark.parametrize("thing", [None, 3, 0.785, b"0.785", ["0.785"], math.nan])
def test_only_text_is_read(thing):
    """Anything else is refused the same way."""
    with pytest.raises(AnswerError, match="text"):
        read_answer(thing)


@pytest.mark.parametrize("length", [101, 10_000, 1_000_000])
@pytest.mark.parametrize("piece", ["7", " ", "-", "(", "1,234", "≈", "m ", "\u200b", "½", "1 "])
def test_long_strings(piece, length):
    """The length is refused before anything else is looked at."""
    error = read_in_time((piece * length)[:length])
    assert isinstance(error, AnswerError)
    assert f"{length} characters" in str(error)


@pytest.mark.parametrize(
    "piece",
    [
        "7",
        "-",
        "(",
        "1 234",
        "≈",
        "m ",
        "½",
        "1 ",
        "a ",
        "x10^",
        "^2",
        "' ",
        "per ",
        " 234",
        ",234",
        "/",
        "= ",
        "m2 ",
        "1/2 ",
    ],
)
@pytest.mark.parametrize("lead", ["", "1", "G", "1 m"])
def test_repeats_of_the_greatest_length(piece, lead):  # fmt: skip
    """A hundred characters of one kind, where a pattern that tries again and again would show."""
    read_in_time((lead + piece * 100)[:100])


def test_nothing_is_evaluated(monkeypatch):
    """Neither eval, exec, compile, open nor import is called, whatever is typed."""
    read_answer("1 m²")

    def called(*_args, **_named):
        raise AssertionError("something typed was run")

    with monkeypatch.context() as patch:
        for name in ("eval", "exec", "compile", "open", "__import__"):
            patch.setattr(builtins, name, called)
        results = []
        for text, _, _ in BAD.values():
            try:
                results.append(read_answer(text))
            except AnswerError as error:
                results.append(error)
    assert len(results) == len(BAD)


@settings(max_examples=2500, deadline=None)
@given(st.text(max_size=110))
def test_any_text(text):
    """2,500 strings of any Unicode, a shortest failing one told."""
    read_in_time(text)


@settings(max_examples=2500, deadline=None)
@given(st.lists(st.sampled_from(ANSWER_LIKE), max_size=14).map("".join))
def test_answer_like_text(text):
    """2,500 strings of pieces of answers, a shortest failing one told."""
    read_in_time(text)


def _anything(rng):
    return "".join(
        chr(rng.choice((rng.randrange(0x110000), rng.randrange(0x3000), rng.randrange(0x80))))
        for _ in range(rng.randrange(25))
    )


def _answer_like(rng):
    return "".join(rng.choices(ANSWER_LIKE, k=rng.randrange(1, 16)))


def _mutated(rng):
    """A valid answer with up to three places taken out, put in, doubled or exchanged."""
    letters = list(rng.choice(ACCEPTED))
    for _ in range(rng.randint(1, 3)):
        at = rng.randrange(len(letters) + 1)
        pieces = rng.choice(([], [rng.choice(ANSWER_LIKE)], letters[at : at + 4] * 2))
        letters[at : at + rng.randrange(3)] = pieces
    return "".join(letters)


def _joined(rng):
    return rng.choice(("", " ", " = ", ", ", "/")).join(rng.choices(ACCEPTED, k=rng.randint(2, 4)))


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.integers(0, 2**63), st.sampled_from([_anything, _answer_like, _mutated, _joined]))
def test_forty_eight_thousand_more(seed, kind):
    """120 times 400: any Unicode, pieces of answers, valid answers damaged, and joined."""
    rng = random.Random(seed)
    for _ in range(400):
        read_in_time(kind(rng))


def test_the_random_strings_meet_both_fates():
    """The strings above are no idle test: each kind is refused at times, and damaged ones read."""
    rng = random.Random(5)
    fates = {
        kind: [isinstance(read_in_time(kind(rng)), Typed) for _ in range(1000)]
        for kind in (_anything, _answer_like, _mutated, _joined)
    }
    assert all(not all(fate) for fate in fates.values())
    assert 200 < sum(fates[_mutated]) < 900
    assert sum(fates[_answer_like]) > 20
