"""Files of logs: read as people write them, refused with every problem at once."""

import pytest

from mensura.disk.check_file import FileError
from mensura.disk.log_file import LogFileError, parse_logs, read_logs
from mensura.places import data_file

HEAD = "log,at_m,girth_cm\n"
GOOD = HEAD + "L1,0,140\nL1,2.5,130\nL1,5,120\n"


def refused(text):
    """The sentence with which a text is refused."""
    with pytest.raises(FileError) as error:
        parse_logs(text, "oak.csv")
    return str(error.value)


def test_the_invented_logs():
    """Eight, with bark, in the order of the file."""
    found = read_logs(data_file("quillmere-logs.csv"))
    assert [one.log for one in found.logs] == [f"L{k}" for k in range(1, 9)]
    assert (found.column, found.rows, found.with_bark) == ("girth_cm", 37, True)
    assert found.logs[2].length_m == 6.0
    assert [one.log for one in found.logs if one.middle is None] == ["L5", "L6", "L8"]
    assert found.logs[7].reading_cm[-1] == 0


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        GOOD.replace("\n", "\r\n"),
        "\ufeff" + GOOD,
        "# felled today\n\n" + GOOD + "\n\n",
        GOOD.replace(",", ";").replace(".", ","),
        GOOD.replace(",", "\t"),
        GOOD.replace("log,at_m,girth_cm", "Log, AT_M ,Girth_cm"),
        "note,girth_cm,log,at_m\nx,140,L1,0\n,130,l1,2.5\n=1+1,120,L1 ,5\n",
        HEAD + "L1,0,140\nL1,2.5,1.3e2\nL1,5,+120\n",
    ],
)
def test_one_file_in_many_spellings(text):
    """Marks between columns, ends of lines, remarks, capitals, order of columns."""
    (log,) = parse_logs(text).logs
    assert (log.log, log.at_m, log.reading_cm) == ("L1", (0, 2.5, 5), (140, 130, 120))
    assert log.girth


def test_logs_may_take_turns_and_bark_may_be_told_of_some():
    """Each keeps its own order."""
    text = "log,at_m,diameter_cm,bark_cm\nA,0,40,1\nB,1,30,\nA,3,36,0.9\nB,4,28,\n"
    first, second = parse_logs(text).logs
    assert (first.log, first.at_m, first.bark_cm) == ("A", (0, 3), (1, 0.9))
    assert (second.log, second.at_m, second.bark_cm) == ("B", (1, 4), None)
    assert not first.girth


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "oak.csv is empty; expected the columns log,at_m,girth_cm or log,at_m,diameter_cm."),
        (HEAD, "oak.csv has no point of a log; expected two rows a log or more."),
        (
            "log,girth_cm\nL1,140\n",
            "oak.csv, row 1, lacks the column at_m: it has 'log', 'girth_cm'; expected the columns "
            "log,at_m,girth_cm or log,at_m,diameter_cm.",
        ),
        (
            "log,at_m,girth_cm,diameter_cm\nL1,0,140,44\n",
            "oak.csv, row 1, has both columns, girth_cm and diameter_cm; expected one of them, "
            "whichever was read.",
        ),
        (
            "log,at_m,girth_cm,at_m\nL1,0,140,44\n",
            "oak.csv, row 1, names the column at_m twice; expected it once.",
        ),
        (
            GOOD + "L2,0,140\n",
            "oak.csv, row 5, column log, is 'L2', which has one point only; expected two points "
            "along each log or more.",
        ),
        (
            GOOD.replace("L1,5", "L1,2"),
            "oak.csv, row 4, column at_m, is '2'; expected more than 2.5 m, where row 3 of the "
            "same log lies.",
        ),
        (
            GOOD.replace("L1,5", "L1,2.5"),
            "oak.csv, row 4, column at_m, is '2.5'; expected more than 2.5 m, where row 3 of the "
            "same log lies.",
        ),
        (
            GOOD.replace("130", "wide"),
            "oak.csv, row 3, column girth_cm, is 'wide'; expected a number from 0 to 6283 cm.",
        ),
        (
            GOOD.replace("130", ""),
            "oak.csv, row 3, column girth_cm, is empty; expected a number from 0 to 6283 cm.",
        ),
        (
            GOOD.replace("130", "0"),
            "oak.csv, row 3, column girth_cm, is '0'; expected a number above 0 cm, but at the "
            "tip of a stem.",
        ),
        (
            GOOD.replace("L1,2.5", "=L1(),2.5"),
            "oak.csv, row 3, column log, is '=L1()'; expected a code of letters and figures like "
            "L1, of at most 40.",
        ),
        (
            GOOD.replace("2.5,130", "2,5,130"),
            "oak.csv, row 3, has 4 cells; expected 3 as in the header (a decimal comma needs "
            "semicolons between columns).",
        ),
        (
            "log,at_m,girth_cm,bark_cm\nL1,0,140,1\nL1,3,130,\n",
            "oak.csv, row 3, column bark_cm, is empty; expected its thickness at every point of a "
            "log, or at none.",
        ),
        (
            "log,at_m,girth_cm,bark_cm\nL1,0,140,1\nL1,3,130,21\n",
            "oak.csv, row 3, column bark_cm, is '21'; expected less than half the diameter there, "
            "20.69 cm.",
        ),
        (
            GOOD.replace("2.5", "200"),
            "oak.csv, row 3, column at_m, is '200'; expected a number from 0 to 150 m.",
        ),
    ],
)
def test_one_sentence_with_row_and_column(text, sentence):
    """Where, what, and what would do."""
    assert refused(text) == sentence


def test_all_problems_at_once():
    """Each is a field of the error; the sentence tells those that are alike together."""
    text = HEAD + "L1,0,140\nL1,x,130\nL1,5,wide\nL2,3,120\nL2,1,110\nL3,0,100\n=x,1,1\n"
    with pytest.raises(LogFileError) as error:
        parse_logs(text, "oak.csv")
    assert [(one.row, one.column) for one in error.value.problems] == [
        *((3, "at_m"), (4, "girth_cm"), (6, "at_m"), (7, "log"), (8, "log")),
    ]
    said = str(error.value)
    assert said.count("; expected ") == 5
    assert said.startswith("oak.csv, row 3, column at_m, is 'x'; expected a number")
    assert "; and row 8, column log, is '=x'; expected a code" in said


def test_many_problems_are_counted():
    """A sentence of a terminal has an end; nothing is dropped without being told."""
    rows = "".join(f"L{k},{k},{'x' * k}\nL{k},0,{k}0000\n" for k in range(1, 300))
    with pytest.raises(LogFileError) as error:
        parse_logs(HEAD + rows, "oak.csv")
    assert len(error.value.problems) == 299 * 3
    assert len(str(error.value)) < 600
    bark = "log,at_m,girth_cm,bark_cm\n" + "".join(
        f"L{k},{k},{50 + k},{90 + k}\nL{k},{k - 0.5},{50 + k},1\n" for k in range(40)
    )
    assert "2 and 39 more, column bark_cm" in refused(bark)


def test_what_is_no_table(tmp_path):
    """A picture, a folder, nothing there."""
    place = tmp_path / "oak.csv"
    place.write_bytes(b"\x89PNG\x00\xff")
    for path, words in (
        (place, "is not text"),
        (tmp_path, "was not read"),
        (tmp_path / "none.csv", "was not read, no such file"),
    ):
        with pytest.raises(FileError) as error:
            read_logs(path)
        assert words in str(error.value)
        assert str(tmp_path) not in str(error.value)


@pytest.mark.parametrize(
    ("text", "notes"),
    [
        (GOOD, []),
        (
            HEAD + "L1,0,145\nL1,2.5,1393\nL1,5,124\n",
            [
                "Row 3 of 'oak.csv', column girth_cm: far more than the readings beside it (log "
                "L1: 1,393 cm, 10.4 times as much). Is it in mm, or a figure too long? Nothing "
                "was changed."
            ],
        ),
        (
            "# turns\n" + HEAD + "L1,0,100\nL2,0,145\nL1,5,180\nL2,5,124\n",
            [
                "Row 5 of 'oak.csv', column girth_cm: the log gets thicker along its length (log "
                "L1: 180 cm at the end, 100 cm in row 3). Was it measured from its top, which is "
                "as good, or is a reading mistyped? Nothing was changed."
            ],
        ),
        (
            HEAD + "L1,0,145\nL1,2,110\nL1,4,124\n",
            [
                "Row 4 of 'oak.csv', column girth_cm: thicker than the point before it (log L1: "
                "124 cm after 110 cm in row 3). Is one of the two mistyped? Nothing was changed."
            ],
        ),
        (
            HEAD + "A,0,1450\nA,5,1240\nB,0,1400\nB,5,1200\n",
            [
                "Rows 2, 4 of 'oak.csv', column girth_cm: the whole log is thicker than nearly "
                "any (log A: 1,450 cm). Are its readings in mm? Nothing was changed."
            ],
        ),
        (
            "log,at_m,diameter_cm,bark_cm\nA,0,46,19\nA,3,44,18\n",
            [
                "Rows 2, 3 of 'oak.csv', column bark_cm: nearly a third of the diameter or more "
                "is bark (log A: 19 cm on each side). Is it in mm? Nothing was changed."
            ],
        ),
    ],
)
def test_what_looks_like_a_slip_is_told_and_kept(text, notes):
    """By file, row, column; the readings stay as they were typed."""
    found = parse_logs(text, "oak.csv")
    assert found.odd_notes() == notes
    typed = [float(row.split(",")[2]) for row in text.splitlines() if row[0] in "ABL"]
    assert sorted(read for one in found.logs for read in one.reading_cm) == sorted(typed)


def test_every_kind_of_slip_has_its_words():
    """One file with all of them, in as many sentences."""
    rows = "a,0,145\na,2.5,1393\na,5,124\nb,0,145\nb,2.5,13.3\nb,5,124\nc,0,145\nc,2,110\nc,4,124\n"
    rows += "d,0,100\nd,5,180\ne,0,1450\ne,5,1240\nf,0,1.4\nf,5,1.2\ng,0,450\ng,5,240\n"
    found = parse_logs(HEAD + rows, "oak.csv").odd_notes()
    assert [one.split(" of ")[0] for one in found] == [
        *("Row 3", "Row 6", "Row 10", "Row 12", "Row 13", "Row 15", "Row 17"),
    ]
    assert "they are 10.1 times as much" in found[1]
