"""A check's file: however it was saved it is read, and a slip in it is told with row and column."""

from __future__ import annotations

from pathlib import Path

import pytest

from mensura.disk.card_file import FileError, parse_check, read_check
from mensura.places import data_file

PLAIN = "reference_cm,reading_cm\n50,51.3\n100,100.7\n150,150.2\n"


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        "\ufeff" + PLAIN,
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", ";").replace(".", ","),
        "# a remark, with a comma\n" + PLAIN.replace("50,51.3", " 50 , 51.3 "),
        PLAIN.replace("reading_cm", "Reading_CM").replace("\n100", "\n\n,\n100"),
        '"reading_cm","who","reference_cm"\n51.3,Q01,50\n100.7,Q02,100\n150.2,"Q03, again",150',
    ],
)
def test_however_it_was_saved(text):
    """Commas, semicolons, tabs, decimal commas, line ends, remarks, further columns."""
    found = parse_check(text)
    assert found.reference_cm == (50, 100, 150)
    assert found.reading_cm == (51.3, 100.7, 150.2)
    assert found.temperature_c is found.pull_n is None


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_encodings(tmp_path: Path, encoding):
    """As spreadsheets save text."""
    path = tmp_path / "t3.csv"
    path.write_bytes(("# °C\n" + PLAIN).encode(encoding))
    assert read_check(path).reading_cm == (51.3, 100.7, 150.2)


def test_temperature_pull_and_marks():
    """Optional columns, and rows as the file counts them."""
    text = "mark,reference_cm,reading_cm,temperature_c,pull_n\n# r\nA,50,51,8,20\nB,99,99,-3.5,25"
    found = parse_check(text + "\nA,50,51.2,9,20", "t3.csv")
    assert found.temperature_c == (8, -3.5, 9)
    assert found.pull_n == (20, 25, 20)
    assert found.rows == (3, 4, 5)


def test_the_invented_tape():
    """Three rounds at six marks."""
    found = read_check(data_file("quillmere-tape-t5.csv"))
    assert len(found.reading_cm) == 18
    assert len(set(found.reference_cm)) == 6


SEVERAL = (
    "instrument,reference_cm,reading_cm\nT3,50,51\nK1,50,50.1\nt3,99,98\nK1,90,x\n# r\nT3,70,71\n"
)


def test_one_of_several_instruments():
    """Its rows alone, in whatever case; what stands in the others' rows is none of its business."""
    found = parse_check(SEVERAL, "t.csv", "t3")
    assert (found.reading_cm, found.rows) == ((51, 98, 71), (2, 4, 7))
    assert found.instrument == "T3"
    one = parse_check(SEVERAL.replace("K1,50,50.1\n", "").replace("K1,90,x\n", ""), "t.csv")
    assert one.reading_cm == found.reading_cm
    for code, said in (
        ("", "t.csv has readings of 2 instruments; expected --instrument with one of 'T3', 'K1'."),
        ("T9", "t.csv has no reading of 'T9'; expected --instrument with one of 'T3', 'K1'."),
        ("K1", "t.csv, row 5, column reading_cm, is 'x'; expected a number above 0 and"),
    ):
        with pytest.raises(FileError) as refused:
            parse_check(SEVERAL, "t.csv", code)
        assert str(refused.value).startswith(said)
    with pytest.raises(FileError, match=r"t.csv, row 2, column instrument, is empty; expected a c"):
        parse_check("instrument,reference_cm,reading_cm\n,50,51", "t.csv")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "t.csv is empty; expected the columns reference_cm,reading_cm."),
        ("# only\n", "t.csv is empty; expected the columns reference_cm,reading_cm."),
        (
            "a,b\n1,2",
            "t.csv, row 1, lacks the column reference_cm and the column reading_cm: it has",
        ),
        (
            "reference_cm,read\n1,2",
            "t.csv, row 1, lacks the column reading_cm: it has 'reference_cm', 'read'; expected",
        ),
        ("reference_cm,reading_cm\n50,51", "t.csv has one mark only; expected readings at two"),
        ("reference_cm,reading_cm\n50,51\n50,52", "t.csv has its reference at 50 cm in every row;"),
        ("reference_cm,reading_cm\n", "t.csv has a header and no reading; expected readings"),
        (
            "reference_cm,reading_cm\n50,51\n100,0",
            "t.csv, row 3, column reading_cm, is 0 cm; expected a number above 0 and at most 20000",
        ),
        ("reference_cm,reading_cm\n-50,51\n100,5", "t.csv, row 2, column reference_cm, is -50 cm;"),
        ("reference_cm,reading_cm\n50,\n100,5", "t.csv, row 2, column reading_cm, is empty;"),
        ("reference_cm,reading_cm\n50,=1+1\n100,5", "t.csv, row 2, column reading_cm, is '=1+1';"),
        ("reference_cm,reading_cm\n50,51,3\n100,5", "t.csv, row 2, has 3 cells; expected 2 as in"),
        (
            "reference_cm,reading_cm,temperature_c\n50,51,99\n100,5,1",
            "t.csv, row 2, column temperature_c, is 99 °C; expected a number from -60 to 80 °C.",
        ),
        (
            "reference_cm,reading_cm,pull_n\n50,51,-1\n100,5,1",
            "t.csv, row 2, column pull_n, is -1 N; expected a number from 0 to 10000 N.",
        ),
        (
            "reference_cm,reading_cm,mark\n50,51,A\n100,99,B\n55,51,A",
            "t.csv, row 4, column reference_cm, is 55 cm at mark 'A'; expected 50 cm, as in row 2.",
        ),
        ("reading_cm,reading_cm\n1,2", "t.csv, row 1, names the column reading_cm twice; expected"),
    ],
)
def test_what_cannot_be_used(text, said):
    """One sentence: the file, the row, the column, and what is expected."""
    with pytest.raises(FileError) as refused:
        parse_check(text, "t.csv")
    assert str(refused.value).startswith(said)
    assert str(refused.value).endswith(".")


def test_files_that_are_none(tmp_path: Path):
    """Nothing there, a folder, bytes, too much of it."""
    with pytest.raises(FileError, match=r"none.csv was not read, no such file"):
        read_check(tmp_path / "none.csv")
    with pytest.raises(FileError, match="was not read"):
        read_check(tmp_path)
    (tmp_path / "b.csv").write_bytes(b"\xff\x00\x80")
    with pytest.raises(FileError, match=r"b.csv is not text; expected a CSV table saved as UTF-8"):
        read_check(tmp_path / "b.csv")
    (tmp_path / "c.csv").write_bytes(b"1" * 2_000_001)
    with pytest.raises(FileError, match=r"c.csv is over 2 MB; expected a CSV file"):
        read_check(tmp_path / "c.csv")
    with pytest.raises(FileError, match="is no name of a file"):
        read_check("a\0b")
    rows = "\n".join(f"{50 + one % 2},{50 + one % 2}" for one in range(10_001))
    with pytest.raises(FileError, match="row 10002, is one row too many; expected at most 10000"):
        parse_check("reference_cm,reading_cm\n" + rows)
