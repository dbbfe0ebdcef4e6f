"""A line is read as it is written on a blackboard, or refused at its place."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.proof.examples import holds, values
from mensura.teaching.proof.notation import LONGEST, Unreadable, read_line, written


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("a^2 + b^2 >= 2ab", "a² + b² ≥ 2ab"),
        ("2 ab<=a²+b²", "2ab ≤ a² + b²"),
        ("(a-b)**2 > 0", "(a − b)² > 0"),
        ("pi*a*b < A_{tape}", "πab < A_tape"),
        ("A_cal × 2 > 0", "A_cal·2 > 0"),
        ("sqrt(ab) < (a + b) ÷ 2", "√(ab) < (a + b)/2"),
        ("|a - b||a + b| ≠ 0", "|a − b||a + b| ≠ 0"),
        ("||a-b| - a| > 0", "||a − b| − a| > 0"),
        ("abs(a-b) > 0", "|a − b| > 0"),
        ("0,5a > ¼a", "0.5a > 0.25a"),
        ("1/2(a²+b²) > ab", "1/2·(a² + b²) > ab"),
        ("π/2 (a²+b²) > πab", "π/2·(a² + b²) > πab"),
        ("G²/4π > πab", "G²/(4π) > πab"),
        ("(ab)^(1/2) < a^-1", "(ab)^(1/2) < a⁻¹"),
        ("√a·b > √2·ab", "√a·b > √2·ab"),
        ("-a^2 < 0", "−a² < 0"),
        ("a - (b - a) > [a + {b}]", "a − (b − a) > a + b"),
        ("a/(b/2) > a/b/2", "a/(b/2) > a/b/2"),
    ],
)
def test_lines_are_read(typed, read):
    """Keyboard and blackboard notation come to the same line, told in one notation."""
    assert read_line(typed).read_as == read


@pytest.mark.parametrize(
    ("typed", "place", "word"),
    [
        ("(a+b > 0", 1, "never closed"),
        ("a+b) > 0", 4, "never opened"),
        ("(a+b] > 0", 5, "opened as"),
        ("|a-b > 0", 1, "never closed"),
        ("a > x", 5, "‘x’ is not known"),
        ("a > b > 0", 7, "second relation"),
        ("a^2 + b^2", 10, "no relation sign"),
        ("a => b", 3, "no relation sign"),
        ("a2 > b", 2, "behind a factor"),
        ("√ab > 0", 1, "two ways"),
        ("(a-b)^2/2ab > 0", 9, "two ways"),
        ("9^9^9 > a", 4, "power of a power"),
        ("a^99 > b", 2, "up to 12"),
        ("a^b > 0", 3, "must be a number"),
        ("a.b > 0", 2, "stands in no number"),
        ("a > ", 5, "missing here"),
        ("", 1, "empty"),
        ("а > b", 1, "U+0430"),
        ("a\u202e> b", 2, "U+202E"),
        ("A > B", 1, "‘A’"),
        ("2½ > a", 2, "two numbers"),
        ("1" * 14 + " > a", 1, "12 digits"),
    ],
)
def test_what_cannot_be_read_is_refused_at_its_place(typed, place, word):
    """The refusal points at the character and says what is wrong."""
    with pytest.raises(Unreadable) as refused:
        read_line(typed)
    assert refused.value.place == place
    assert word in refused.value.says


def test_a_line_has_a_longest_length():
    """A line of the greatest length is read, a longer one is refused."""
    filler = "a" + "+a" * ((LONGEST - 5) // 2)
    line = f"{filler} > 0".ljust(LONGEST)
    assert read_line(line).sign == ">"
    with pytest.raises(Unreadable, match="201 characters"):
        read_line(line + " ")


_PIECES = st.recursive(
    st.sampled_from(["a", "b", "2", "π", "0.5", "A_tape", "A_cal"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from(["+", "-", "*", "/"]), inner).map(
            lambda t: f"({t[0]}) {t[1]} ({t[2]})"
        ),
        inner.map(lambda t: f"({t})^2"),
        inner.map(lambda t: f"√(({t})^2)"),
        inner.map(lambda t: f"|{t}|"),
        inner.map(lambda t: f"-({t})"),
    ),
    max_leaves=6,
)


@given(_PIECES, _PIECES)
def test_what_is_told_reads_back_as_the_same_line(left, right):
    """The house's notation of a line is read as the same line with the same values."""
    line = read_line(f"{left} > {right}")
    again = read_line(line.read_as)
    assert again.read_as == line.read_as
    first, second = (values(one, Fraction(7, 3), Fraction(2)) for one in (line, again))
    if first is None:
        assert second is None
    else:
        assert float(first[0]) == pytest.approx(float(second[0]), rel=1e-12)
        assert float(first[1]) == pytest.approx(float(second[1]), rel=1e-12)


@given(st.integers(1, 60), st.integers(1, 60))
def test_values_agree_with_plain_arithmetic(a, b):
    """A line plugged in gives what Python's own numbers give."""
    import math

    line = read_line("√(ab)(a - b)^2/(2ab) - |a-b| < A_tape + G/3 - a^(3/2)")
    left, right, _ = values(line, Fraction(a), Fraction(b))
    assert float(left) == pytest.approx(
        math.sqrt(a * b) * (a - b) ** 2 / (2 * a * b) - abs(a - b), abs=1e-9
    )
    girth = 2 * math.pi * math.sqrt((a * a + b * b) / 2)
    area = math.pi * (a * a + b * b) / 2
    assert float(right) == pytest.approx(area + girth / 3 - a**1.5, rel=1e-9, abs=1e-9)


def test_a_side_without_a_value_is_told_apart():
    """A root of something negative and a division by zero have no value."""
    for text in ("√(a - b) > 0", "1/(a - b) > 0", "(a-b)^-2 > 0"):
        line = read_line(text)
        equal = Fraction(2) if text[0] != "√" else Fraction(1)
        assert holds(line, equal, Fraction(2)) is None


def test_brackets_are_written_only_where_they_matter():
    """Sums inside products keep their brackets; a single letter has none."""
    assert written(read_line("((a)) * (b + (a)) > 0").left) == "a(b + a)"
