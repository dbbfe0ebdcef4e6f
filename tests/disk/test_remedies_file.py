"""Remedies beside the errors in one file: written, read back, refused with line and key."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.disk.check_file import FileError
from mensura.disk.errors_file import parse_errors, scopes_of, written_errors
from mensura.disk.remedies_file import parse_remedies, written_remedies
from mensura.estimates.input_errors import DEFAULTS, INPUTS
from mensura.estimates.remedies import REMEDIES, Effect, Remedy

GOOD = (
    '[[remedy]]\nname = "levels"\nwords = "Buy one."\nhours = 2\n'
    'lessens = [{ of = "height", for = "all", times = 0.5 }]\n'
)

words = st.text(min_size=1, max_size=40).filter(lambda text: text.isprintable() and text.strip())
effects = st.sampled_from(list(INPUTS)).flatmap(
    lambda name: st.builds(
        Effect, st.just(name), st.sampled_from(scopes_of(name)), st.floats(0.0, 1.0)
    )
)
remedies = st.builds(
    Remedy, words, words, st.lists(effects, min_size=1, max_size=3).map(tuple),
    st.integers(0, 1000), st.floats(0.01, 1e4), st.floats(0.0, 1e4), st.floats(0.0, 1e4), words,
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(remedies, min_size=1, max_size=4, unique_by=lambda one: one.name))
def test_what_is_written_reads_back(some):
    """Every figure and word, and the errors above them are none the worse."""
    both = f"{written_errors()}\n{written_remedies(some)}"
    assert parse_remedies(both) == tuple(some)
    assert parse_errors(both) == DEFAULTS


def test_a_file_without_remedies_has_ours():
    """Whose figures say that they are invented."""
    assert parse_remedies(written_errors()) == REMEDIES


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (GOOD.replace("hours = 2", "hours = -2"), "line 4, key hours, is -2; expected a number"),
        (GOOD.replace("hours = 2", "ours = 2"), "line 4, has the key 'ours'; expected hours"),
        (GOOD.replace("hours = 2\n", ""), "key hours, is missing; expected some time"),
        (GOOD.replace("height", "hight"), "line 5, key lessens"),
        (GOOD.replace('"all"', '"none"'), "expected for as all or plot or tree, for height"),
        (GOOD.replace("0.5", "1.5"), "expected times as a number from 0 to 1"),
        (GOOD.replace("times", "time"), "expected of, for and times in each"),
        (GOOD.replace("[{", "{").replace("}]", "}"), "expected a list like"),
        (GOOD.replace("hours = 2", "hours = 2\nmore_plots = 2.5"), "expected a whole number"),
        (GOOD.replace('"levels"', '" "'), "line 2, key name, is ' '"),
        (GOOD.partition("lessens")[0], "key lessens, is missing; expected an error"),
        (GOOD + GOOD, "line 7, key name, is 'levels'; expected another than in line 1"),
        ("remedy = 1", "line 1, has remedy, but not as blocks"),
        ("a = 1", "line 1, has 'a' outside of a block"),
    ],
)
def test_problems_are_told_with_line_and_key(text, says):
    """In one sentence."""
    with pytest.raises(FileError) as caught:
        parse_remedies(text, "e.toml")
    assert says in str(caught.value)
