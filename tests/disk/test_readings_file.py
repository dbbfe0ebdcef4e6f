"""A file of readings: however it was saved it is read, and every problem of it is told at once."""

from __future__ import annotations

import math
import time
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.disk.check_file import FileError
from mensura.disk.readings_file import MOST_BYTES, parse_readings, read_readings
from mensura.disk.readings_table import NEEDED, alike_problems, alike_words

HEAD = ",".join(NEEDED)
ROWS = (
    "S1,Q02,T1,girth,,1,99.5,cm",
    "S1,Q01,K1,diameter,90,1,31.5,cm",
    "S2,Q01,K1,diameter,0,1,27.25,cm",
)
PLAIN = "\n".join((HEAD, *ROWS, ""))


def one(text: str):
    """What is read of one row."""
    return parse_readings(f"{HEAD}\n{text}\n", "f.csv")


def told(text: str) -> list[str]:
    """Column, value and expectation of every problem."""
    problems = one(f"{text}\n{ROWS[1]}").problems
    return [f"{p.row} {p.column} {p.value!r}: {p.expectation}" for p in problems]


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        "\ufeff" + PLAIN,
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace(",", ";"),
        "sep=;\n" + PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace("99.5", '"99,5"').replace("S1,Q02", ' S1 ,"Q02"'),
        PLAIN.replace("stem", "Stem").replace("girth", "Girth").replace("cm\n", "CM\n"),
        "# wet, cold\n\n" + PLAIN.replace("\nS1,Q01", "\n,,,,\n# the rain began, at ten\nS1,Q01"),
        PLAIN.replace("\n", ",,\n").replace(HEAD + ",,", HEAD),
        "\n".join(f"{n},x,{line}" for n, line in enumerate(PLAIN.strip().split("\n"))),
    ],
)
def test_however_it_was_saved(text):
    """Marks between columns, decimal commas, ends of lines, remarks, blanks, further columns."""
    found = parse_readings(text)
    assert found.problems == ()
    assert found.left_out == 0
    read = found.readings
    assert read.reading_cm.tolist() == [99.5, 31.5, 27.25]
    assert (read.stems, read.hands, read.instruments) == (
        ("S1", "S2"),
        ("Q01", "Q02"),
        ("K1", "T1"),
    )
    assert read.clerks == ("",)
    assert [read.stems[at] for at in read.stem] == ["S1", "S1", "S2"]
    assert [read.hands[at] for at in read.hand] == ["Q02", "Q01", "Q01"]
    assert [read.instruments[at] for at in read.instrument] == ["T1", "K1", "K1"]
    assert read.girth.tolist() == [True, False, False]
    assert math.isnan(read.direction_deg[0])
    assert read.direction_deg[1:].tolist() == [90.0, 0.0]
    assert read.repeat.tolist() == [1, 1, 1]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings(tmp_path: Path, encoding):
    """As spreadsheets save text, on old desks too."""
    path = tmp_path / "class.csv"
    path.write_bytes(PLAIN.replace("Q02", "Börje").encode(encoding))
    assert read_readings(path).readings.hands == ("Börje", "Q01")


def test_rows_are_lines_of_the_file():
    """Blank lines, remarks and cells that run over lines are counted."""
    text = f'# first\n{HEAD},note\n\n{ROWS[0]},"wet\nday"\n{ROWS[1]},\n'
    found = parse_readings(text)
    assert found.problems == ()
    assert found.readings.row.tolist() == [4, 6]


@pytest.mark.parametrize(
    ("unit", "cm"),
    [("cm", 30), ("mm", 3), ("m", 3000 / math.pi), ("inches", 76.2), ("feet", 914.4), ("in", 76.2)],
)
def test_units(unit, cm):
    """Each brings a reading to cm: an inch has 2.54 cm and a foot twelve inches, by definition."""
    figure = 30 if unit != "m" else 30 / math.pi
    found = one(f"S1,Q1,K1,diameter,0,1,{figure!r},{unit}")
    assert found.readings.reading_cm.tolist() == pytest.approx([cm], rel=1e-12)
    assert found.figures == (repr(figure),)


@pytest.mark.parametrize(
    ("row", "problems"),
    [
        (",Q1,T1,girth,,1,99,cm", ["stem '': a code"]),
        ("=cmd(),Q1,T1,girth,,1,99,cm", ["stem '=cmd()': a code"]),
        ("S1,<script>,T1,girth,,1,99,cm", ["hand '<script>': a code"]),
        ("S1,../Q1,T1,girth,,1,99,cm", ["hand '../Q1': a code"]),
        ("S1,Q1,@T1,girth,,1,99,cm", ["instrument '@T1': a code"]),
        ("S1,Q1,T/1,girth,,1,99,cm", ["instrument 'T/1': a code"]),
        (f"S1,{'Q' * 41},T1,girth,,1,99,cm", [f"hand '{'Q' * 41}': a code"]),
        ("S1,Q1,T1,round,,1,99,cm", ["kind 'round': girth or diameter"]),
        ("S1,Q1,T1,girth,north,1,99,cm", ["direction_deg 'north': degrees from 0 to 360"]),
        ("S1,Q1,T1,girth,-1,1,99,cm", ["direction_deg '-1': degrees"]),
        ("S1,Q1,T1,girth,361,1,99,cm", ["direction_deg '361': degrees"]),
        ("S1,Q1,T1,girth,,0,99,cm", ["repeat '0': a whole number from 1 to 1000"]),
        ("S1,Q1,T1,girth,,1.5,99,cm", ["repeat '1.5': a whole number"]),
        ("S1,Q1,T1,girth,,,99,cm", ["repeat '': a whole number"]),
        (
            "S1,,T1,girth,,1,,cm",
            ["hand '': a code of letters", "reading '': a number above 0"],
        ),
        ("S1,Q1,T1,girth,,1,0,cm", ["reading '0': a number above 0"]),
        ("S1,Q1,T1,girth,,1,-9,cm", ["reading '-9': a number above 0"]),
        ("S1,Q1,T1,girth,,1,=1+1,cm", ["reading '=1+1': a number above 0"]),
        ("S1,Q1,T1,girth,,1,nan,cm", ["reading 'nan': a number above 0"]),
        ("S1,Q1,T1,girth,,1,1e999,cm", ["reading '1e999': a stem of at most 20 m through"]),
        ("S1,Q1,T1,girth,,1,99,", ["unit '': cm, mm, m, inches or feet"]),
        ("S1,Q1,T1,girth,,1,99,yards", ["unit 'yards': cm, mm"]),
        ("S1,Q1,K1,diameter,,1,20.1,m", ["reading '20.1': a stem of at most 20 m through"]),
        (
            "-,,!,x,y,z,w,v",
            [
                *("stem '-': a code", "hand '': a code", "instrument '!': a code"),
                *("kind 'x': girth", "unit 'v': cm", "direction_deg 'y': degrees"),
                *("repeat 'z': a whole", "reading 'w': a number"),
            ],
        ),
    ],
)
def test_every_problem_of_a_row(row, problems):
    """Row, column, value and expectation; the row is left out and the next one read."""
    found = one(f"{row}\n{ROWS[1]}")
    assert len(found.problems) == len(problems)
    for problem, start in zip(told(row), problems, strict=True):
        assert problem.startswith(f"2 {start}")
    assert found.left_out == 1
    assert found.rows == 2
    assert found.readings.reading_cm.tolist() == [31.5]
    for sentence in found.sentences():
        assert sentence.startswith("f.csv, row 2, column ")
        assert sentence.count("; expected ") == 1
        assert sentence.endswith(".")


def test_all_at_once():
    """Problems of all rows, in the file's order."""
    text = f"{HEAD}\n{ROWS[0]}\nS1,Q1,T1,girth,,1,x,cm\nS1,Q1\n{ROWS[1]},9\n{ROWS[2]}\n=,Q1,T1"
    found = parse_readings(text, "f.csv")
    assert found.sentences() == [
        "f.csv, row 3, column reading, is 'x'; expected a number above 0, like 124.5.",
        "f.csv, row 4, has 2 cells; expected 8 cells as in the header (a decimal comma needs "
        "semicolons between columns).",
        "f.csv, row 5, has 9 cells; expected 8 cells as in the header (a decimal comma needs "
        "semicolons between columns).",
        "f.csv, row 7, has 3 cells; expected 8 cells as in the header (a decimal comma needs "
        "semicolons between columns).",
    ]
    assert (found.rows, found.left_out, len(found.readings)) == (6, 4, 2)


@pytest.mark.parametrize(
    ("head", "end"), [(HEAD, ""), (HEAD + ",clerk", ","), (HEAD + ",clerk", "")]
)
def test_a_decimal_comma_between_commas_is_named(head, end):
    """Also in the empty file of a field sheet, whose last column is the clerk, filled or not."""
    rows = [f"S1,Q01,T1,girth,,{n},39,{n},cm{end}" for n in (1, 2)]
    found = parse_readings(
        "\n".join(
            (head, *rows, f"S2,Q01,T1,girth,,1,99.5,cm{end or ','}")
            if "clerk" in head
            else (head, *rows, ROWS[0])
        ),
        "f.csv",
    )
    assert [(p.row, p.column, p.value) for p in found.problems] == [
        (2, "reading", "39,1"),
        (3, "reading", "39,2"),
    ]
    assert (found.left_out, len(found.readings), found.not_yet) == (2, 1, 0)
    assert found.sentences()[1] == (
        "f.csv, row 3: '39,2' has a decimal comma where commas part the columns; expected 39.2, or "
        'semicolons between the columns, or "39,2" in quotation marks.'
    )
    (group,) = alike_problems(found.problems)
    assert alike_words(group).startswith("row 2 and 1 more: '39,1' has a decimal comma where")


@pytest.mark.parametrize(
    "row", ["S1,Q1,T1,girth,,1,39,3,4,cm", "S1,Q1,T1,girth,,1,39,x,cm", "S1,Q1,T1,girth,,1,39,3,yd"]
)
def test_other_rows_with_too_many_cells_are_no_decimal_comma(row):
    (problem,) = one(f"{row}\n{ROWS[1]}").problems
    assert "cells" in problem.wrong
    assert problem.column == ""


def test_readings_that_nobody_typed_yet_are_counted_and_no_problems():
    """A stem is unread where all its rows are; one that a fault costs is told apart."""
    blank = [
        "S1,Q03,T1,girth,,1,,cm",
        "S8,Q03,T1,girth,,1, ,cm",
        ",,,,,,,",
        "S8,Q4,T1,girth,,1,,cm",
    ]
    found = one("\n".join((*ROWS, *blank, "S9,Q03,T1,girth,,1,9,yd", "S9,Q03,T1,girth,,2,,cm")))
    assert [(p.row, p.column) for p in found.problems] == [(9, "unit")]
    assert (found.rows, found.left_out, found.not_yet) == (8, 1, 4)
    assert (found.not_yet_stems, found.unread_stems) == (("S8",), ("S9",))


def test_alike_problems_are_told_together():
    """By column and expectation; the values that differ are named, and what is another stays."""
    found = one(
        "\n".join(
            (*ROWS, *(f"S1,Q1,T1,girth,,{n},9,{'yd' if n % 2 else ''}" for n in (1, 2, 3)),
             "S1,Q1,T1,width,,9,9,cm", ROWS[0], ROWS[1])
        )
    )  # fmt: skip
    told = [alike_words(group) for group in alike_problems(found.problems)]
    assert told[0] == (
        "row 5 and 2 more, column unit, is 'yd' or empty; expected cm, mm, m, inches or feet"
    )
    assert told[1].startswith("row 8, column kind, is 'width'")
    assert told[2].startswith("row 9 and 1 more, column repeat, is '1'; expected another stem")
    assert len(told) == 3


def test_a_quotation_mark_that_is_not_closed_costs_its_own_row():
    """The rows after it are read."""
    found = one(f'"S9,Q1,T1,girth,,1,99,cm\n{ROWS[1]}\n{ROWS[2]}')
    assert len(found.readings) == 2
    assert found.sentences() == [
        "f.csv, row 2, has a quotation mark that opens and is not closed; expected 8 cells as in "
        "the header (a decimal comma needs semicolons between columns)."
    ]


def test_the_same_reading_twice():
    """The first stands, each later one is named with the first's row; other keys are others."""
    first = "S1,Q1,K1,diameter,0,1,30,cm"
    others = [
        first.replace("S1", "S2"),
        first.replace("Q1", "Q2"),
        first.replace("K1", "K2"),
        first.replace(",0,", ",90,"),
        first.replace(",0,", ",,"),
        first.replace(",1,", ",2,"),
        first.replace("diameter", "girth"),
    ]
    again = [first.replace("30", "31"), first.replace(",0,", ",360,"), first.lower()]
    found = one("\n".join((first, *others, *again)))
    doubles = [problem for problem in found.problems if problem.left_out]
    assert [(p.row, p.column) for p in doubles] == [(10, "repeat"), (11, "repeat"), (12, "repeat")]
    assert all("than row 2 has" in p.expectation for p in doubles)
    assert len(found.readings) == 8
    assert found.readings.reading_cm[0] == 30


def test_one_code_in_two_spellings():
    """Capitals, blanks and wide letters do not make another hand; it is told, and nothing lost."""
    rows = [
        f"S{n},{hand},T1,girth,,1,99,cm" for n, hand in enumerate(("Q01", "q01", "Ｑ01", "Q01"))
    ]
    found = one("\n".join(rows))
    assert found.readings.hands == ("Q01",)
    assert len(found.readings) == 4
    assert found.sentences()[0] == (
        "f.csv, row 3, column hand, is 'q01'; expected Q01, as in most rows; the reading is kept."
    )


def test_clerks():
    """Who wrote is an extra; an odd code is told and costs no reading."""
    text = f"{HEAD},clerk\n{ROWS[0]},Q09\n{ROWS[1]},\n{ROWS[2]},=x"
    found = parse_readings(text)
    assert found.readings.clerks == ("", "Q09")
    assert found.readings.clerk.tolist() == [1, 0, 0]
    assert [p.column for p in found.problems] == ["clerk"]
    assert found.left_out == 0
    only = parse_readings(f"{HEAD},clerk\n{ROWS[0]},Q09\n{ROWS[1]},Q09")
    assert only.readings.clerks == ("Q09",)


def test_readings_behind_a_remark_are_told():
    """A # takes a reading out; which ones is known."""
    found = one(f"{ROWS[0]}\n#{ROWS[1]}\n# a remark, of four, words, girth")
    assert found.set_aside == (3,)
    assert found.rows == 1


def test_codes_of_readings_that_are_left_out_are_no_codes():
    """A stem whose every row is unreadable is not in the list."""
    assert one(f"{ROWS[0]}\nS9,Q9,T9,girth,,1,x,cm").readings.stems == ("S1",)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "f.csv is empty; expected the columns stem,hand,instrument,kind,direction_deg,"),
        ("# only\n\n", "f.csv is empty; expected the columns stem,"),
        (HEAD, "f.csv has no reading; expected a row or more under its header."),
        ("a,b\n1,2", "f.csv, row 1, is no header of readings: it has 'a', 'b'; expected the col"),
        (
            HEAD.replace(",unit", "").replace(",kind", ""),
            "f.csv, row 1, lacks the columns kind, unit; expected the columns stem,",
        ),
        (
            f"{HEAD}\nS1,Q1,T1,girth,,1,,cm\nS2,Q1,T1,girth,,1, ,cm",
            "f.csv has an empty column reading in all its 2 rows; expected a reading in one of",
        ),
        (HEAD + ",hand", "f.csv, row 1, names the column hand twice; expected it once."),
    ],
)
def test_what_is_no_file_of_readings(text, said):
    """One sentence, and nothing is read."""
    with pytest.raises(FileError) as refused:
        parse_readings(text, "f.csv")
    assert str(refused.value).startswith(said)
    assert str(refused.value).endswith(".")


def test_files_that_are_none(tmp_path: Path):
    """Not there, a folder, bytes, 200 MB: told without reading it."""
    with pytest.raises(FileError, match=r"none.csv was not read, no such file"):
        read_readings(tmp_path / "none.csv")
    with pytest.raises(FileError, match="was not read"):
        read_readings(tmp_path)
    (tmp_path / "b.csv").write_bytes(b"stem\0hand")
    with pytest.raises(FileError, match=r"b.csv is not text; expected a CSV table saved as UTF-8"):
        read_readings(tmp_path / "b.csv")
    with open(tmp_path / "large.csv", "wb") as file:
        file.truncate(200_000_000)
    began = time.perf_counter()
    with pytest.raises(FileError, match=rf"large.csv is over {MOST_BYTES // 1_000_000} MB; expect"):
        read_readings(tmp_path / "large.csv")
    assert time.perf_counter() - began < 0.5


def test_progress_rises_to_the_end(tmp_path: Path):
    """Shares from 0 to 1, never falling."""
    path = tmp_path / "class.csv"
    rows = [f"S{n},Q1,T1,girth,,1,99,cm" for n in range(12_000)]
    path.write_text("\n".join((HEAD, *rows)), encoding="utf-8", newline="\n")
    shares: list[float] = []
    read_readings(path, shares.append)
    assert len(shares) > 8
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


_CELLS = st.one_of(
    st.sampled_from(["S1", "Q1", "T1", "girth", "0", "1", "99,5", "cm", "=1", "\0", '"']),
    st.text(max_size=6),
)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(_CELLS, max_size=9), max_size=5), st.sampled_from(",;\t"))
def test_whatever_stands_in_the_rows(rows, part):
    """No row breaks the reader; each is among the readings or counted."""
    text = "\n".join((part.join(NEEDED), ROWS[0].replace(",", part), *map(part.join, rows)))
    found = parse_readings(text, "f.csv")  # its first row is a reading
    read = found.readings
    assert len(read) + found.left_out == found.rows
    assert found.left_out <= sum(1 for p in found.problems if p.left_out)
    assert np.all(np.isfinite(read.reading_cm) & (read.reading_cm > 0))
    assert np.all(np.diff(read.row) > 0)
    for code in (*read.stems, *read.hands, *read.instruments):
        assert code[0].isalnum()
        assert not set(code) & set("<>=@/\\\"'&")
    for sentence in found.sentences():
        assert sentence.isprintable()


@settings(max_examples=150, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=200),
        st.binary(max_size=60).map(lambda raw: HEAD.encode() + b"\n" + raw),
        st.binary(max_size=60).map(lambda raw: b"PK\x03\x04" + raw),
        st.binary(max_size=60).map(lambda raw: b"\xff\xfe" + raw),
    ),
    st.sampled_from(["f.csv", "f.xlsx"]),
)
def test_whatever_bytes(tmp_path_factory, raw, name):
    """Read, or refused in one sentence; nothing else is raised."""
    path = tmp_path_factory.mktemp("any") / name
    path.write_bytes(raw)
    try:
        found = read_readings(path)
    except FileError as error:
        said = str(error)
        assert said.startswith(name)
        assert said.endswith(".")
        assert "; expected " in said
        assert said.isprintable()
    else:
        assert len(found.readings) + found.left_out == found.rows
