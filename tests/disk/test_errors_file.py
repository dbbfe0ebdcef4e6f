"""A file of errors: what is written reads back, and whatever is wrong is told with line and key."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.disk.check_file import FileError
from mensura.disk.errors_file import (
    MOST_U,
    parse_errors,
    read_errors,
    scopes_of,
    write_errors,
    written_errors,
)
from mensura.disk.toml_blocks import BlocksError
from mensura.estimates.input_errors import DEFAULTS, INPUTS, InputError

GOOD = '[[error]]\nof = "height"\nu = 0.5\nunit = "m"\nfor = "tree"\norigin = "ours"\n'


@st.composite
def any_errors(draw):
    """Errors of inputs as a file may hold them, none twice."""
    name = draw(st.sampled_from(list(INPUTS)))
    unit = draw(st.sampled_from(INPUTS[name][1]))
    u = draw(st.floats(0.0, MOST_U[unit]))
    scope = draw(st.sampled_from(scopes_of(name)))
    origin = draw(st.text(max_size=60).filter(str.isprintable))
    return InputError(name, u, unit, scope, origin)


@settings(max_examples=80, deadline=None)
@given(st.lists(any_errors(), min_size=1, max_size=6, unique=True))
def test_what_is_written_reads_back(errors):
    """Every figure to its last digit, every origin whatever stands in it."""
    assert parse_errors(written_errors(errors, ["a note\nof two lines"])) == tuple(errors)


def refusal(text):
    """What is said of a text, or nothing where it can be read."""
    try:
        parse_errors(text, "e.toml")
    except FileError as error:
        return str(error)
    return ""


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet=st.sampled_from(list("[]{}=\"#\n.,0123eorufitn%- \\'")), max_size=80))
def test_any_text_is_read_or_refused_in_one_sentence(text):
    """Nothing but FileError, and that on one line."""
    for whole in (text, GOOD + text, f"[[error]]\n{text}"):
        said = refusal(whole)
        assert "\n" not in said
        assert not said or said.startswith("e.toml")


def test_every_line_has_a_remark():
    """But empty ones: a figure that nobody explains is not changed by anybody."""
    lines = [one for one in written_errors().splitlines() if one]
    assert all("# " in one or one == "#" for one in lines)
    assert sum(one.startswith("[[error]]") for one in lines) == len(DEFAULTS)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "has no [[error]]"),
        (GOOD.replace("height", "hieght"), "line 2, key of, is 'hieght'; expected height"),
        (GOOD.replace("0.5", "0,5"), "line 3, has a decimal comma"),
        (GOOD.replace("0.5", "-1"), "line 3, key u, is -1; expected a number from 0 to 50 m"),
        (GOOD.replace("0.5", "nan"), "line 3, key u, is nan"),
        (GOOD.replace("0.5", "true"), "line 3, key u, is True"),
        (GOOD.replace("0.5", '"0.5"'), "line 3, key u, is '0.5'"),
        (GOOD.replace("0.5", "9" * 400), "line 3, key u, is a number too large"),
        (GOOD.replace('"m"', '"ft"'), "line 4, key unit, is 'ft'; expected % or m, for height"),
        (GOOD.replace('"tree"', '"trees"'), "line 5, key for, is 'trees'; expected tree"),
        (GOOD.replace("u = 0.5\n", ""), "line 1, key u, is missing"),
        (GOOD.replace("origin", "orign"), "line 6, has the key 'orign'; expected origin"),
        (GOOD.replace('"ours"', "3"), "line 6, key origin, is 3"),
        (GOOD + GOOD, "line 7, says the same as the block in line 1"),
        ("a = 1\n" + GOOD, "line 1, has 'a' outside of a block"),
        ("[error]\nof = 1", "line 1, has error, but not as blocks"),
        (
            GOOD.replace("height", "plot area").replace('"m"', '"%"'),
            "line 5, key for, is 'tree'; expected all or plot, for plot area",
        ),
        (GOOD * 1 + "".join(GOOD.replace("ours", str(n)) for n in range(200)), "at most 200"),
    ],
)
def test_problems_are_told_with_line_and_key(text, says):
    """One sentence; a byte order mark and Windows' line ends move no line."""
    for one in (text, "\ufeff" + text.replace("\n", "\r\n")):
        with pytest.raises(FileError) as caught:
            parse_errors(one, "e.toml")
        assert says in str(caught.value)


def test_all_problems_at_once():
    """The first in a sentence, the others by their lines, all of them kept."""
    bad = GOOD.replace("0.5", "-1") + GOOD.replace("height", "length").replace("tree", "stem")
    with pytest.raises(BlocksError) as caught:
        parse_errors(bad, "e.toml")
    assert "(1 more problem, in line 11)" in str(caught.value)
    assert [one.place for one in caught.value.problems] == ["line 3, key u", "line 11, key for"]


def test_what_is_there_is_never_overwritten(tmp_path):
    """A second time it refuses, and the lecturer's figures stay."""
    path = write_errors(tmp_path / "e.toml", DEFAULTS[:2])
    assert read_errors(path) == DEFAULTS[:2]
    with pytest.raises(FileError, match=r"e\.toml is there already"):
        write_errors(path)
    assert read_errors(path) == DEFAULTS[:2]
    with pytest.raises(FileError, match="was not written"):
        write_errors(tmp_path / "none" / "e.toml")


def test_files_that_are_none(tmp_path):
    """Not there, no text, far too large."""
    with pytest.raises(FileError, match="was not read"):
        read_errors(tmp_path / "none.toml")
    (tmp_path / "b.toml").write_bytes(b"\xff\x00\x01")
    with pytest.raises(FileError, match="is not text"):
        read_errors(tmp_path / "b.toml")
    (tmp_path / "l.toml").write_bytes(b"#" * 1_000_001)
    with pytest.raises(FileError, match="is over 1 MB"):
        read_errors(tmp_path / "l.toml")
