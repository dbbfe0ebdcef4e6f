"""A corrected copy stands beside its original, safe to open, with a log; none is written over."""

from __future__ import annotations

import csv
import runpy
from pathlib import Path

import pytest

from mensura.disk.check_file import FileError
from mensura.disk.readings_copy import corrected_copy, safe_cell
from mensura.disk.readings_file import read_readings
from mensura.disk.readings_table import NEEDED
from mensura.estimates.suspicious import suspicious

HEAD = ",".join(NEEDED)
excel = runpy.run_path(str(Path(__file__).with_name("test_readings_excel.py")))


def practical(extra=""):
    """Three hands with two instruments on five stems, each row with a word in a further column."""
    rows = [f"# invented, =1+1,@x\n{HEAD},note\n"]
    for stem, cm in enumerate((30.0, 34.5, 41.2, 47.9, 55.1)):
        for hand in range(3):
            girth = cm * 3.14159265 + 0.1 * hand
            rows.append(f"S{stem},Q{hand},T1,girth,,1,{girth:.1f},cm,fine\n")
            rows.append(f"S{stem},Q{hand},K1,diameter,0,1,{cm + 0.1 * hand:.1f},cm,fine\n")
    return "".join(rows) + extra


def planted(text, row, figure, note="fine"):
    """The text with another figure in a line, counted from 1."""
    lines = text.split("\n")
    cells = lines[row - 1].split(",")
    cells[6], cells[8] = figure, note
    lines[row - 1] = ",".join(cells)
    return "\n".join(lines)


@pytest.fixture
def slips(tmp_path: Path):
    """A file with a slipped point in row 9 and a diameter for a girth in row 21."""
    text = planted(practical("# dry, -x\n"), 9, "1081.0", "=cmd()")
    text = planted(text, 21, "47.9", '"said ""=no"", and\nleft"')
    path = tmp_path / "class.csv"
    path.write_bytes(text.encode())
    found = read_readings(path)
    flags = suspicious(found.readings, found.figures)
    assert [(one.row, one.slip) for one in flags] == [
        (9, "slipped-point"),
        (21, "diameter-for-girth"),
    ]
    return path, found, flags


def test_the_copy_and_its_log(slips):
    """Every reading as it was but the two, each with its row, from, to and slip."""
    path, found, flags = slips
    before = path.read_bytes()
    made = corrected_copy(path, found, flags)
    assert path.read_bytes() == before
    assert made.path == path.with_name("class-corrected.csv")
    again = read_readings(made.path)
    assert again.problems == ()
    assert again.readings.row.tolist() == found.readings.row.tolist()
    changed = {
        int(row): (old, new)
        for row, old, new in zip(found.readings.row, found.figures, again.figures, strict=True)
        if old != new
    }
    assert changed == {9: ("1081.0", "108.1"), 21: ("47.9", "150.5")}
    with open(made.log_path, encoding="utf-8-sig", newline="") as file:
        log = list(csv.DictReader(file))
    assert [(one["row"], one["from"], one["to"], one["unit"], one["slip"]) for one in log] == [
        ("9", "1081.0", "108.1", "cm", "slipped-point"),
        ("21", "47.9", "150.5", "cm", "diameter-for-girth"),
    ]
    assert (log[0]["stem"], log[0]["hand"], log[0]["instrument"]) == ("S1", "Q0", "T1")


def test_no_cell_of_the_copy_begins_a_formula(slips):
    """Remarks, notes and the header are parted like any row; what is no formula stays as it is."""
    path, found, flags = slips
    made = corrected_copy(path, found, flags)
    with open(made.path, encoding="utf-8-sig", newline="") as file:
        cells = [cell for row in csv.reader(file) for cell in row]
    assert [cell for cell in cells if cell.lstrip()[:1] in tuple("=+-@")] == []
    assert {"'@x", "'=cmd()", 'said "=no", and\nleft'} <= set(cells)
    original = path.read_text(encoding="utf-8").split("\n")
    copied = made.path.read_text(encoding="utf-8-sig").split("\n")
    same = [old == new for old, new in zip(original, copied, strict=True)]
    assert [n for n, one in enumerate(same, 1) if not one] == [1, 9, 21, 34]


def test_nothing_is_ever_written_over(slips):
    """A second copy gets a number, and so does one whose log's name is taken."""
    path, found, flags = slips
    first = corrected_copy(path, found, flags)
    kept = first.path.read_bytes()
    second = corrected_copy(path, found, flags)
    assert second.path.name == "class-corrected-2.csv"
    assert second.log_path.name == "class-corrected-2-log.csv"
    path.with_name("class-corrected-3-log.csv").write_bytes(b"mine")
    assert corrected_copy(path, found, flags).path.name == "class-corrected-4.csv"
    assert first.path.read_bytes() == kept
    assert path.with_name("class-corrected-3-log.csv").read_bytes() == b"mine"
    assert not path.with_name("class-corrected-3.csv").exists()


def test_a_file_that_changed_meanwhile_is_not_corrected(slips):
    """The row that is another one now is named, and nothing is written."""
    path, found, flags = slips
    text = path.read_bytes().decode()
    path.write_bytes(planted(text, 9, "108.4").encode())
    with pytest.raises(
        FileError, match=r"row 9, column reading, is '108.4' now; expected '1081.0'"
    ):
        corrected_copy(path, found, flags)
    path.write_bytes("\n".join(text.split("\n")[:12]).encode())
    with pytest.raises(FileError, match=r"row 21, column reading, is no reading now; expected '47"):
        corrected_copy(path, found, flags)
    assert [one.name for one in path.parent.iterdir()] == ["class.csv"]


def test_semicolons_decimal_commas_and_inches(tmp_path: Path):
    """The copy keeps the file's own way of writing, and its unit."""
    lines = planted(practical(), 9, "10.85").split("\n")
    for n in range(2, len(lines) - 1):
        cells = lines[n].split(",")
        if n != 8:
            cells[6] = f"{float(cells[6]) / 2.54:.2f}"
        else:
            cells[6] = "4.256"
        cells[7] = "inches"
        lines[n] = ",".join(cells)
    path = tmp_path / "class.csv"
    text = "\r\n".join(lines).replace(",", ";").replace(".", ",")
    path.write_bytes(text.encode())
    found = read_readings(path)
    made = corrected_copy(path, found, suspicious(found.readings, found.figures))
    copied = made.path.read_bytes().decode("utf-8-sig").split("\r\n")
    assert copied[8] == "S1;Q0;T1;girth;;1;42,56;inches;fine"
    assert [(one.before, one.after, one.unit) for one in made.changes] == [
        ("4,256", "42,56", "inches")
    ]


def test_readings_on_each_others_stems(tmp_path: Path):
    """Both rows are exchanged."""
    text = practical()
    first, second = (text.split("\n")[row - 1].split(",")[6] for row in (5, 23))
    path = tmp_path / "class.csv"
    path.write_bytes(planted(planted(text, 5, second), 23, first).encode())
    found = read_readings(path)
    made = corrected_copy(path, found, suspicious(found.readings, found.figures))
    assert [(one.row, one.after, one.slip) for one in made.changes] == [
        (5, first, "wrong-stem"),
        (23, second, "wrong-stem"),
    ]
    assert made.path.read_text(encoding="utf-8-sig").split("\n")[2:] == text.split("\n")[2:]


def test_of_a_workbook(tmp_path: Path):
    """A CSV file of the columns of readings, each row in the line of its number; formulas inert."""
    lines = [line.split(",") for line in planted(practical(), 9, "1081.0").split("\n")[1:-1]]
    rows = [
        [float(cell) if row and at in (4, 5, 6) and cell else cell for at, cell in enumerate(line)]
        for row, line in enumerate(lines)
    ]
    rows.append(["S9", "Q0", "T1", "girth", None, 1, b"<c AT><f>A1</f></c>", "cm"])
    path = tmp_path / "class.xlsx"
    path.write_bytes(excel["packed"](excel["book"](excel["sheet"](rows, first=2))))
    before = path.read_bytes()
    found = read_readings(path)
    made = corrected_copy(path, found, suspicious(found.readings, found.figures))
    assert path.read_bytes() == before
    assert made.path.name == "class-corrected.csv"
    assert made.path.read_text(encoding="utf-8-sig").split("\n")[1] == HEAD
    again = read_readings(made.path)
    assert again.readings.row.tolist() == found.readings.row.tolist()
    changed = [
        (int(row), new)
        for row, old, new in zip(found.readings.row, found.figures, again.figures, strict=True)
        if float(old) != float(new)
    ]
    assert changed == [(9, "108.1")]
    assert [(p.row, p.column, p.value) for p in again.problems] == [(33, "reading", "'=A1")]


@pytest.mark.parametrize(
    ("cell", "safe"),
    [
        *(("=1", "'=1"), ("+1+1", "'+1+1"), ("-a", "'-a"), ("@a", "'@a"), (" =1", "' =1")),
        *(("\t=1", "'\t=1"), ("\rx", "'\rx"), ("＝1", "'＝1"), ("-", "'-")),
        *(("-3.5", "-3.5"), ("+3,5", "+3,5"), ("-1e3", "-1e3"), ("a=1", "a=1"), ("", "")),
    ],
)
def test_safe_cells(cell, safe):
    """What begins a formula, in any width and behind blanks; numbers do not."""
    assert safe_cell(cell) == safe
