"""Files of stems that were taped twice: read as people write them, refused with all problems."""

import pytest

from mensura.disk.check_file import FileError
from mensura.disk.taped_file import TapedFileError, parse_taped, read_taped
from mensura.places import data_file

HEAD = "stem,first_girth_cm,second_girth_cm\n"
GOOD = HEAD + "7,98.2,101\nB2,64.5,64\n"


def refused(text):
    """The sentence with which a text is refused."""
    with pytest.raises(FileError) as error:
        parse_taped(text, "oak.csv")
    return str(error.value)


def test_the_invented_stems():
    """Twelve; one is smaller than before."""
    found = read_taped(data_file("quillmere-taped-twice.csv"))
    assert [one.stem for one in found] == [str(k) for k in range(1, 13)]
    smaller = [one for one in found if one.second_girth_cm < one.first_girth_cm]
    assert [(one.stem, one.first_girth_cm) for one in smaller] == [("5", 125.0)]


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        GOOD.replace("\n", "\r\n"),
        "\ufeff# by us\n" + GOOD + "\n",
        GOOD.replace(",", ";").replace(".", ","),
        GOOD.replace(",", "\t"),
        "note,Second_girth_cm, stem ,first_girth_cm\n=1+1,101,7,98.2\n,6.4e1,B2,64.5\n",
    ],
)
def test_one_file_in_many_spellings(text):
    """Marks between columns, ends of lines, remarks, capitals, order of columns."""
    first, second = parse_taped(text)
    assert (first.stem, first.first_girth_cm, first.second_girth_cm) == ("7", 98.2, 101)
    assert (second.stem, second.first_girth_cm, second.second_girth_cm) == ("B2", 64.5, 64)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "oak.csv is empty; expected the columns stem,first_girth_cm,second_girth_cm."),
        (HEAD, "oak.csv has no stem; expected a row a stem."),
        ("stem,girth_cm\n1,2\n", "lacks the column first_girth_cm and the column second_girth_cm"),
        ("stem,stem,first_girth_cm,second_girth_cm\n", "row 1, names the column stem twice"),
        (HEAD + "1,98.2\n", "row 2, has 2 cells; expected 3 as in the header"),
        (
            HEAD + "1,98.2,wide\n",
            "row 2, column second_girth_cm, is 'wide'; expected a girth above",
        ),
        (HEAD + "1,0,9\n", "row 2, column first_girth_cm, is '0'; expected a girth above 0 cm"),
        (HEAD + "1,-3,9\n", "column first_girth_cm, is '-3'"),
        (HEAD + "1,nan,9\n", "column first_girth_cm, is 'nan'"),
        (HEAD + "1,,9\n", "column first_girth_cm, is empty"),
        (HEAD + "1,99999,9\n", "column first_girth_cm, is '99999'"),
        (HEAD + "b,9,9\nB,8,8\n", "row 3, column stem, is 'B'; expected each stem once; row 2 has"),
        (HEAD + "<b>,9,9\n", "row 2, column stem, is '<b>'; expected a code"),
        (HEAD + '"' + "x" * 140_000 + ",9,9\n", "row 2, has a cell that never ends"),
    ],
)
def test_refusals(text, said):
    """One sentence, with row and column."""
    told = refused(text)
    assert said in told
    assert told.endswith(".")
    assert "\n" not in told


def test_every_problem_is_told_at_once():
    """No stem is taken from a file with a problem; those that are alike are one part."""
    text = HEAD + "1,9,9\n2,x,9\n3,y,9\n4,9,z\n"
    with pytest.raises(TapedFileError) as error:
        parse_taped(text, "oak.csv")
    assert [one.row for one in error.value.problems] == [3, 4, 5]
    assert "row 3 and 1 more" in str(error.value)
