"""A workbook of readings: read like text; formulas, passwords, macros, damage and bombs refused.

The workbooks are made here of the parts that the open standard names (ECMA-376, Office Open XML,
from memory), once in the plain way and once in the ways in which programs write them otherwise.
"""

from __future__ import annotations

import io
import random
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape

import openpyxl
import pytest
from openpyxl.worksheet.formula import ArrayFormula

from mensura.disk import readings_excel
from mensura.disk.check_file import FileError
from mensura.disk.readings_excel import excel_table
from mensura.disk.readings_file import read_readings, readings_of
from mensura.disk.readings_table import NEEDED

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
ROWS = (
    NEEDED,
    ("S1", "Q02", "T1", "girth", None, 1, 99.5, "cm"),
    ("7", "Q01", "K1", "diameter", 90, 1, 31.5, "cm"),
    ("S2", "Q01", "K1", "diameter", 0, 1, 27.25, "cm"),
)


def letters(place):
    return "ABCDEFGHIJ"[place]


def cell(place, row, value):
    """A cell as text in place, or as a number; a piece of XML stands for itself."""
    at = f'r="{letters(place)}{row}"'
    if value is None:
        return ""
    if isinstance(value, bytes):
        return value.decode().replace("AT", at)
    if isinstance(value, str):
        return f'<c {at} t="inlineStr"><is><t xml:space="preserve">{escape(value)}</t></is></c>'
    return f"<c {at}><v>{value!r}</v></c>"


def sheet(rows, first=1):
    lines = [
        f'<row r="{n}">' + "".join(cell(at, n, value) for at, value in enumerate(row)) + "</row>"
        for n, row in enumerate(rows, first)
    ]
    return f'<worksheet xmlns="{MAIN}"><sheetData>{"".join(lines)}</sheetData></worksheet>'


def book(*sheets, **others):
    """The parts of a workbook by name."""
    named = "".join(f'<sheet name="s{n}" sheetId="{n}" r:id="r{n}"/>' for n in range(len(sheets)))
    links = "".join(
        f'<Relationship Id="r{n}" Type="{OFFICE}/worksheet" Target="worksheets/sheet{n}.xml"/>'
        for n in range(len(sheets))
    )
    links += f'<Relationship Id="x" Type="{OFFICE}/sharedStrings" Target="sharedStrings.xml"/>'
    links += f'<Relationship Id="y" Type="{OFFICE}/styles" Target="/xl/styles.xml"/>'
    kinds = "".join(
        f'<Override PartName="/xl/{part}.xml" ContentType="{KIND}.{kind}+xml"/>'
        for part, kind in (
            ("workbook", "sheet.main"),
            ("sharedStrings", "sharedStrings"),
            ("styles", "styles"),
            *((f"worksheets/sheet{n}", "worksheet") for n in range(len(sheets))),
        )
        if f"xl/{part}.xml" in others or part[0] == "w"
    )
    parts = {
        "[Content_Types].xml": f'<Types xmlns="{TYPES}">{kinds}</Types>',
        "_rels/.rels": f'<Relationships xmlns="{PACKAGE}"><Relationship Id="a" '
        f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>{named}</sheets>'
        "</workbook>",
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{PACKAGE}">{links}</Relationships>',
    }
    parts |= {f"xl/worksheets/sheet{n}.xml": text for n, text in enumerate(sheets)}
    return parts | {name.replace("__", "/"): text for name, text in others.items()}


def packed(parts):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for name, text in parts.items():
            file.writestr(name, text)
    return out.getvalue()


def read(*sheets, name="f.xlsx", **others):
    return readings_of(excel_table(packed(book(*sheets, **others)), name))


def with_row(*values):
    return sheet((*ROWS, values))


def test_read_like_text():
    """Codes, numbers, empty cells, rows as the sheet counts them."""
    found = read(sheet(ROWS))
    assert found.problems == ()
    assert found.readings.stems == ("7", "S1", "S2")
    assert found.readings.reading_cm.tolist() == [99.5, 31.5, 27.25]
    assert found.readings.row.tolist() == [2, 3, 4]
    assert found.figures == ("99.5", "31.5", "27.25")


def test_ways_in_which_programs_write_them():
    """Shared words, runs of letters, sounds beside them, prefixes, no places, blank rows, escapes.

    And a number with the dust of binary fractions, which a spreadsheet shows with fifteen figures.
    """
    words = (
        f'<sst xmlns="{MAIN}">'
        + "".join(f"<si><t>{one}</t></si>" for one in NEEDED)
        + '<si><r><t>S</t></r><r><t xml:space="preserve">1</t></r><rPh sb="0" eb="1">'
        "<t>es</t></rPh></si><si><t>Q_x0030_1</t></si></sst>"
    )
    shared = "".join(f'<x:c t="s"><x:v>{n}</x:v></x:c>' for n in range(8))
    row = (
        '<x:c r="A9" t="s"><x:v>8</x:v></x:c><x:c r="B9" t="s"><x:v>9</x:v></x:c>'
        '<x:c r="C9" t="str"><x:v>T1</x:v></x:c><x:c t="inlineStr"><x:is><x:t>girth</x:t></x:is>'
        '</x:c><x:c r="E9" s="0"/><x:c r="F9"><x:v>1</x:v></x:c>'
        '<x:c r="G9"><x:v>124.49999999999999</x:v></x:c>'
        '<x:c r="H9" t="inlineStr"><x:is><x:t>cm</x:t></x:is></x:c>'
    )
    text = (
        f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?><x:worksheet xmlns:x="{MAIN}">'
        f'<x:dimension ref="A1:H9"/><x:sheetData><x:row spans="1:8">{shared}</x:row>'
        f'<x:row/><x:row r="9" spans="1:8">{row}</x:row></x:sheetData></x:worksheet>'
    )
    found = read(text, xl__sharedStrings_xml="", **{"xl/sharedStrings.xml": words})
    assert found.sentences() == []
    assert (found.readings.stems, found.readings.hands) == (("S1",), ("Q01",))
    assert found.readings.row.tolist() == [9]
    assert found.figures == ("124.5",)


def test_formulas_are_named_by_cell_and_the_rest_is_read():
    """Also one whose result is stored beside it, one that is shared, and one in a code."""
    formula = b"<c AT><f>F2*2</f><v>200</v></c>"
    found = readings_of(
        excel_table(
            packed(
                book(
                    sheet(
                        (
                            *ROWS,
                            ("S3", "Q1", "T1", "girth", None, 1, formula, "cm"),
                            (b'<c AT t="str"><f t="shared" si="0"/><v>S4</v></c>', "Q1", "T1"),
                        )
                    )
                )
            ),
            "f.xlsx",
        )
    )
    assert found.sentences()[:2] == [
        "f.xlsx, row 5, column reading (cell G5), holds the formula ‘=F2*2’; expected the figure "
        "itself, typed as a value.",
        "f.xlsx, row 6, column stem (cell A6), holds the formula ‘=’; expected the figure itself, "
        "typed as a value.",
    ]
    assert [p.cell for p in found.problems[2:]] == ["D6", "H6", "F6", "G6"]
    assert len(found.readings) == 3
    assert found.left_out == 2


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (b'<c AT t="e"><v>#N/A</v></c>', "holds the error ‘#N/A’; expected the figure itself"),
        (b'<c AT t="b"><v>1</v></c>', "holds the truth value ‘TRUE’; expected"),
        (b'<c AT s="1"><v>46154</v></c>', "was taken for a date by the spreadsheet; expected the"),
        (b'<c AT s="2"><v>46154</v></c>', "was taken for a date by the spreadsheet; expected the"),
        (b'<c AT t="d"><v>2026-05-12</v></c>', "was taken for a date by the spreadsheet; expected"),
    ],
)
def test_cells_that_hold_no_figure(value, said):
    """An error, a truth value, and 12.5 that became the twelfth of May."""
    styles = (
        f'<styleSheet xmlns="{MAIN}"><numFmts><numFmt numFmtId="164" formatCode="d/m;@"/>'
        '<numFmt numFmtId="165" formatCode="0.0&quot; d&quot;;[Red]0.0"/></numFmts><cellStyleXfs>'
        '<xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/>'
        '<xf numFmtId="164"/><xf numFmtId="165"/></cellXfs></styleSheet>'
    )
    row = ("S3", "Q1", "T1", "girth", None, 1, value, "cm")
    found = read(with_row(*row), **{"xl/styles.xml": styles})
    assert found.sentences()[0].startswith(f"f.xlsx, row 5, column reading (cell G5), {said}")
    assert len(found.readings) == 3
    plain = ("S3", "Q1", "T1", "girth", None, 1, b'<c AT s="3"><v>99.5</v></c>', "cm")
    assert len(read(with_row(*plain), **{"xl/styles.xml": styles}).readings) == 4


def refusal(raw, name="f.xlsx"):
    with pytest.raises(FileError) as refused:
        excel_table(raw, name)
    said = str(refused.value)
    assert said.startswith(f"{name} ") or said.startswith(f"{name},")
    assert said.count("; expected ") == 1
    assert said.endswith(".")
    return said


def test_macros_are_refused():
    """By the name, and by what is inside."""
    assert "is a workbook for macros" in refusal(packed(book(sheet(ROWS))), "f.xlsm")
    inside = packed(book(sheet(ROWS), **{"xl/vbaProject.bin": "x"}))
    assert "carries macros" in refusal(inside)


def test_passwords_are_refused():
    """A protected workbook is no zip: it is wrapped in an older kind of file."""
    wrapped = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504)
    locked = wrapped + "EncryptedPackage".encode("utf-16-le")
    assert "is protected by a password" in refusal(locked)
    assert "is a workbook of the old kind (.xls)" in refusal(wrapped, "f.xls")
    raw = bytearray(packed(book(sheet(ROWS))))
    at = raw.index(b"PK\x01\x02")
    raw[at + 8] |= 1  # the mark of a part with a password
    assert "is protected by a password" in refusal(bytes(raw))


def test_damage_is_refused():
    """Cut short at any place, a part missing, XML broken, a word that is not there."""
    whole = packed(book(sheet(ROWS)))
    for cut in range(0, len(whole) - 1, 97):
        refusal(whole[:cut])
    parts = book(sheet(ROWS))
    for name in ("xl/workbook.xml", "xl/worksheets/sheet0.xml", "xl/_rels/workbook.xml.rels"):
        assert "is a damaged workbook" in refusal(
            packed({k: v for k, v in parts.items() if k != name})
        )
    assert "its XML is broken" in refusal(packed(book(sheet(ROWS)[:-30])))
    lost = with_row(b'<c AT t="s"><v>99</v></c>')
    assert "a cell points at a text that is not there" in refusal(packed(book(lost)))
    assert "is named as a workbook and is none" in refusal(b"stem,hand")
    assert "it is a zip without a sheet in it" in refusal(packed({"a.txt": "a"}))


def test_a_bit_that_is_turned_is_refused_or_harmless():
    """No damage raises anything but a refusal."""
    whole = packed(book(sheet(ROWS)))
    draw = random.Random(7)
    refused = 0
    for _ in range(150):
        raw = bytearray(whole)
        raw[draw.randrange(4, len(raw))] ^= 1 << draw.randrange(8)
        try:
            readings_of(excel_table(bytes(raw), "f.xlsx"))
        except FileError:
            refused += 1
    assert refused > 50


def test_bombs_are_refused_before_they_are_unpacked(monkeypatch):
    """By what the parts say of themselves, unused ones too; entities and long rows swell nothing.

    The bound is lowered for the test, which would take seconds to make what it makes.
    """
    monkeypatch.setattr(readings_excel, "MOST_UNPACKED_BYTES", 1_000_000)
    bomb = packed(book(sheet(ROWS), **{"xl/media/a.bin": b"\0" * 1_000_001}))
    assert len(bomb) < 10_000
    with monkeypatch.context() as none:
        none.setattr(zipfile.ZipFile, "open", lambda *_: pytest.fail("it was unpacked"))
        assert "would unpack to 1 MB in" in refusal(bomb)
    many = packed(book(sheet(ROWS)) | {f"a{n}": "" for n in range(2001)})
    assert "parts; expected at most" in refusal(many)
    lol = '<!DOCTYPE w [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>'
    assert "it declares a document type" in refusal(packed(book(lol + sheet(ROWS))))
    wide = "".join("<c><v>1</v></c>" for _ in range(17_000))
    wide = f'<worksheet xmlns="{MAIN}"><sheetData><row>{wide}</row></sheetData></worksheet>'
    assert "beyond the last column" in refusal(packed(book(wide)))


def test_what_a_reader_of_workbooks_would_pass_over_or_swell_on():
    """Rows out of order, which it drops; a size that is a lie; gaps; formulas without end."""
    good = sheet(ROWS)
    assert "its rows are out of order" in refusal(packed(book(good.replace('r="4"', 'r="2"'))))
    far = good.replace("<sheetData>", '<dimension ref="A1:XFD1048576"/><sheetData>')
    assert len(read(far).readings) == 3
    far = good.replace("<sheetData>", '<dimension ref="A1:B2"/><sheetData>')
    assert len(read(far).readings) == 3
    assert read(good.replace('<row r="4">', '<row r="90000">')).readings.row.tolist()[-1] == 90_000
    assert "its rows are out of order" in refusal(
        packed(book(good.replace('<row r="4">', '<row r="1048577">')))
    )
    first = f'<c AT><f t="shared" si="0" ref="G5:G9999">{"1+" * 4000}1</f></c>'.encode()
    rest = b'<c AT><f t="shared" si="0"/></c>'
    some = ("S3", "Q1", "T1", "girth", None)
    few = read(sheet((*ROWS, (*some, 1, first, "cm"), (*some, 2, rest, "cm"))))
    assert [one.cell for one in few.problems] == ["G5", "G6"]
    many = sheet((*ROWS, (*some, 1, first, "cm"), *((*some, n, rest, "cm") for n in range(999))))
    assert "has formulas without end" in refusal(packed(book(many)))
    strict = good.replace(MAIN, "http://purl.oclc.org/ooxml/spreadsheetml/main")
    assert "is a workbook of the strict kind" in refusal(packed(book(strict)))


def test_as_a_library_writes_it(tmp_path: Path):
    """A whole file with styles, a second sheet, a formula of several cells, a note beside."""
    made = openpyxl.Workbook()
    page = made.active
    for row in ROWS:
        page.append(row)
    page["G5"] = ArrayFormula("G5:G6", "=F5:F6*2")
    page["L3"] = "wet"
    page["G2"].number_format = '0.0" cm"'
    made.create_sheet("remarks")["A1"] = "none"
    path = tmp_path / "class.xlsx"
    made.save(path)
    found = read_readings(path)
    assert found.readings.reading_cm.tolist() == [99.5, 31.5, 27.25]
    assert found.problems[0].cell == "G5"
    assert found.problems[0].wrong == "holds the formula ‘=F5:F6*2’"
    assert found.left_out == 1


def test_sheets():
    """The one with a header of readings counts, wherever it stands; two of them are refused."""
    other = sheet((("remarks",), ("wet",)))
    assert len(read(other, sheet(ROWS)).readings) == 3
    assert "has readings on 2 sheets, ‘s0’ and ‘s1’; expected one sheet" in refusal(
        packed(book(sheet(ROWS), sheet(ROWS)))
    )
    assert "is no header of readings: it has 'remarks'" in refusal(packed(book(other)))
    assert "f.xlsx is empty; expected the columns" in refusal(packed(book(sheet(()))))
    assert "has no reading; expected a row" in refusal(packed(book(sheet(ROWS[:1]))))
    assert "f.xlsx is empty" in refusal(b"")


def test_remarks_and_other_columns():
    """As in text: a row that opens with # is passed over, and told if it holds a reading."""
    head = ("note", *NEEDED)
    rows = [("#", "a"), head, ("x", *ROWS[1]), ("#", *ROWS[2]), (None, *ROWS[3])]
    found = readings_of(excel_table(packed(book(sheet(rows))), "f.xlsx"))
    assert found.readings.row.tolist() == [3, 5]
    assert found.set_aside == (4,)
    assert found.problems == ()


def test_by_the_file_itself(tmp_path: Path):
    """The way in is the same as for text, whatever the name says of a workbook."""
    for name in ("class.xlsx", "class.csv", "class"):
        path = tmp_path / name
        path.write_bytes(packed(book(sheet(ROWS))))
        assert len(read_readings(path).readings) == 3
