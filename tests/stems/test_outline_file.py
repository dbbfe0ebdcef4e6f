"""Outline files: two layouts, three separators, and one sentence for whatever cannot be used."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import OutlineError
from mensura.places import data_file
from mensura.stems import outline_file, parse_outline, read_outline, widths_cm

SQUARE = "x_cm,y_cm\n0,0\n40,0\n40,40\n0,40\n"


def refused(text):
    """The one sentence in which a text is refused."""
    with pytest.raises(OutlineError) as caught:
        parse_outline(text)
    return one_sentence(caught.value)


def one_sentence(error):
    """The message, after a look that it is one line and ends like a sentence."""
    message = str(error)
    assert isinstance(error, ValueError)
    assert message.endswith(".")
    assert message.isprintable()
    assert len(message) < 250
    return message


@pytest.mark.parametrize(
    "text",
    [
        SQUARE,
        SQUARE.replace(",", ";"),
        SQUARE.replace(",", "\t"),
        SQUARE.replace("\n", "\r\n"),
        SQUARE.replace("\n", "\r"),
        SQUARE.upper(),
        "\ufeff" + SQUARE,
        "# invented\n\n" + SQUARE.replace("40,0\n", "40,0\n\n# half way\n", 1),
        SQUARE.replace("40", " 40.0 "),
        SQUARE.replace("40", '"40"'),
        SQUARE.replace("40", "+4.e1"),
        "y_cm,note,x_cm\n0,a,0\n0,b,40\n40,c,40\n40,,0\n",
        "angle_deg,radius_cm\n180,28.284271247461902\n0,28.284271247461902\n"
        "270,28.284271247461902\n90,28.284271247461902\n",
    ],
)
def test_layouts_that_are_read(text):
    """Commas, semicolons, tabs, any line end, a byte order mark, quotes, notes, further columns."""
    assert parse_outline(text).area_cm2 == pytest.approx(1600, rel=1e-12)


@pytest.mark.parametrize("separator", [";", "\t"])
def test_decimal_commas_where_they_cannot_be_mistaken(separator):
    """Beside semicolons or tabs a comma is a decimal comma."""
    rows = [["x_cm", "y_cm"], ["0", "0"], ["40,5", "0"], ["0", "40"]]
    text = "\n".join(separator.join(row) for row in rows)
    assert parse_outline(text).area_cm2 == 810


@given(
    st.lists(st.floats(1, 900), min_size=3, max_size=40),
    st.sampled_from([",", ";", "\t"]),
    st.randoms(use_true_random=False),
)
def test_written_and_read_again(radii, separator, shuffler):
    """Radii written with all their digits, in any order, come back as the same outline."""
    angles = np.arange(len(radii)) * 360 / len(radii)
    rows = [f"{a!r}{separator}{r!r}" for a, r in zip(angles.tolist(), radii, strict=True)]
    shuffler.shuffle(rows)
    read = parse_outline("\n".join([f"angle_deg{separator}radius_cm", *rows]))
    assert np.hypot(*read.points_cm.T) == pytest.approx(radii, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "the file is empty; expected a header x_cm,y_cm or angle_deg,radius_cm."),
        (" \n\n# nothing\n", "the file is empty; expected a header"),
        ("x_cm,y_cm", "the file has 0 points; expected at least 3."),
        ("x_cm,y_cm\n0,0\n1,1", "the file has 2 points; expected at least 3."),
        ("angle_deg,radius_cm\n0,9\n90,9", "the file has 2 points; expected at least 3."),
        ("1,2\n3,4\n5,6", "row 1 is not a header that can be used: it has '1', '2'; expected"),
        ("x_cm\n1", "row 1 is not a header that can be used: it has 'x_cm'; expected the columns"),
        ("x,y\n1,2", "it has 'x', 'y'; expected the columns x_cm,y_cm or angle_deg,radius_cm."),
        ("x_cm y_cm\n1 2", "it has 'x_cm y_cm'; expected the columns"),
        ("x_cm,x_cm,y_cm\n1,2,3", "row 1 names the column x_cm twice; expected it once."),
        ("#\nx_cm,radius_cm\n1,2", "row 2 mixes the columns radius_cm, x_cm; expected"),
        ("x_cm,y_cm,radius_cm\n1,2,3", "row 1 mixes the columns radius_cm, x_cm, y_cm; expected"),
        ("angle_deg,radius_cm,x_cm,y_cm\n", "row 1 mixes the columns angle_deg, radius_cm"),
        ("x_cm,y_cm\n0,0\n10", "row 3 has 1 cells; expected 2 as in the header"),
        ("x_cm,y_cm\n0,0,0", "row 2 has 3 cells; expected 2 as in the header"),
        ("x_cm,y_cm\n10,5,0\n", "a decimal comma needs semicolons between the columns"),
        ("x_cm,y_cm\n0,5,1,5\n", "a decimal comma needs semicolons between the columns"),
        ("x_cm,y_cm\n0,0\n,1\n2,3", "row 3, column x_cm is empty; expected a number like 24.5."),
        ("x_cm,y_cm\n0,ten", "row 2, column y_cm is 'ten'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,nan", "row 2, column y_cm is 'nan'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,inf", "row 2, column y_cm is 'inf'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,1_0", "row 2, column y_cm is '1_0'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,0x1F", "row 2, column y_cm is '0x1F'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,=1+1", "row 2, column y_cm is '=1+1'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,24 cm", "row 2, column y_cm is '24 cm'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,\u0661\u0662", "row 2, column y_cm is '\u0661\u0662'; expected a number"),
        ("x_cm,y_cm\n0,\u22125", "row 2, column y_cm is '\u22125'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,1\0", "row 2, column y_cm is '1\\x00'; expected a number like 24.5."),
        ("x_cm;y_cm\n0;1.000,5", "row 2, column y_cm is '1.000,5'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,1e999", "row 2, column y_cm is inf; expected at most 2000 cm."),
        ("x_cm,y_cm\n0,1e9999", "row 2, column y_cm is '1e9999'; expected a number like 24.5."),
        ("x_cm,y_cm\n0,-1e7", "row 2, column y_cm is -1e+07; expected at most 2000 cm."),
        ('x_cm,y_cm\n"0,0\n1,1', "row 2 has 1 cells; expected 2 as in the header"),
        ('x_cm,y_cm\n0,"1\n2",3', "row 2, column y_cm is '1'|row 3"),
        ("x_cm,y_cm\n0," + "7" * 200_000, "row 2 has a cell of over 131072 characters; expected"),
        ("x_cm,y_cm\n0," + "z" * 90, "row 2, column y_cm is '" + "z" * 39 + "\u2026'; expected"),
        ("x_cm,y_cm\n0,0\n3000,0\n0,40", "the outline is 3000 cm wide; expected at most 2000 cm"),
        ("x_cm,y_cm\n0,0\n9,0\n18,0", "encloses no area; expected one closed edge in order."),
        ("angle_deg,radius_cm\n0,9\n120,0\n240,9", "row 3, column radius_cm is 0; expected"),
        ("angle_deg,radius_cm\n0,9\n120,-2\n240,9", "row 3, column radius_cm is -2; expected"),
        ("angle_deg,radius_cm\n0,9\n120,2001\n240,9", "row 3, column radius_cm is 2001; expected"),
        ("angle_deg,radius_cm\n0,9\n1e8,9\n240,9", "row 3, column angle_deg is 1e+08; expected an"),
        ("angle_deg,radius_cm\n0,9\n360,8\n180,9", "the angle 0 deg stands twice; expected each"),
        ("angle_deg,radius_cm\n0,9\n90,9\n140,9", "no radius lies between 140 and 0 deg; expected"),
    ],
)
def test_texts_that_are_refused(text, said):
    """One sentence names the row, the column, what stands there and what was expected."""
    message = refused(text)
    assert any(part in message for part in said.split("|")), message


def test_crossing_outline_says_where_its_points_stand():
    """The sentence names the rows of the points."""
    message = refused("# a note\n\nx_cm,y_cm\n0,0\n10,10\n10,0\n0,10")
    assert "the edge from row 4 to row 5 meets the edge from row 6 to row 7" in message


def test_a_cell_that_speaks_of_a_point_is_quoted_as_it_is():
    """Only the places that a fault names are told as rows; words of the file are left alone."""
    assert "has 'point 1', 'y'" in refused("point 1,y\n1,2")
    message = refused("# a note\n\nx_cm,y_cm\n0,0\n10,0\n10,0\n5,0")
    assert "the same point twice, (10, 0), as row 5 and row 6; expected" in message


def test_too_many_points_are_refused(monkeypatch):
    """The bound on points is kept; here it is set to 3 to keep the test short."""
    monkeypatch.setattr(outline_file, "MOST_POINTS", 3)
    assert refused(SQUARE) == "the file has over 3 points; expected fewer."


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_in_one_sentence(text):
    """Whatever is typed, the answer is an outline or an OutlineError."""
    for candidate in (text, "x_cm,y_cm\n" + text, "angle_deg;radius_cm\n" + text):
        try:
            assert parse_outline(candidate).area_cm2 > 0
        except OutlineError as error:
            one_sentence(error)


@given(st.lists(st.lists(st.sampled_from(["0", "9", "-4", "1e2", "", "x", "2,5"]), max_size=3)))
def test_any_table_is_read_or_refused_in_one_sentence(rows):
    """Tables with holes and words in them end the same way."""
    for separator in (",", ";"):
        text = "\n".join(["x_cm,y_cm".replace(",", separator), *map(separator.join, rows)])
        try:
            assert parse_outline(text).area_cm2 > 0
        except OutlineError as error:
            one_sentence(error)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "ascii"])
def test_encodings_that_are_read(tmp_path, encoding):
    """Files with a byte order mark and UTF-16 from a spreadsheet are read."""
    file = tmp_path / "disc.csv"
    file.write_bytes(SQUARE.encode(encoding))
    assert read_outline(file).area_cm2 == 1600


def test_utf16_of_the_other_byte_order_is_read(tmp_path):
    """UTF-16 is read in both byte orders if its mark says which."""
    file = tmp_path / "disc.csv"
    file.write_bytes(b"\xfe\xff" + SQUARE.encode("utf-16-be"))
    assert read_outline(str(file)).area_cm2 == 1600


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "the file is empty; expected a header"),
        (b"  \n\n", "the file is empty; expected a header"),
        (b"\xef\xbb\xbf", "the file is empty; expected a header"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "the file is not text; expected a CSV table"),
        (b"PK\x03\x04\x14\x00\x06\x00", "the file is not text; expected a CSV table"),
        ("x_cm,y_cm\n0,Stra\u00dfe".encode("latin-1"), "the file is not text; expected a CSV"),
        (SQUARE.encode("utf-16-le"), "the file is not text; expected a CSV table saved as UTF-8."),
        (b"\xff\xfex", "the file is not text; expected a CSV table saved as UTF-8."),
        (SQUARE.encode("utf-32"), "the file is not text; expected a CSV table saved as UTF-8."),
        (SQUARE.encode() + b"1,\x002\n", "the file is not text; expected a CSV table"),
        (b"x" * 5_000_001, "the file is over 5 MB; expected a CSV table."),
    ],
)
def test_files_that_are_no_table(tmp_path, raw, said):
    """Empty, binary, wrongly encoded and huge files are refused in one sentence."""
    file = tmp_path / "disc.csv"
    file.write_bytes(raw)
    with pytest.raises(OutlineError) as caught:
        read_outline(file)
    assert said in one_sentence(caught.value)


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(tmp_path_factory, raw):
    """No bytes make the reader fail in another way."""
    file = tmp_path_factory.mktemp("bytes") / "disc.csv"
    file.write_bytes(raw)
    with pytest.raises(OutlineError) as caught:
        read_outline(file)
    one_sentence(caught.value)


@pytest.mark.parametrize("name", ["missing.csv", ".", "nul\0byte.csv"])
def test_files_that_are_not_there(tmp_path, name):
    """A missing file, a folder and an impossible name are refused in one sentence."""
    with pytest.raises(OutlineError, match=r"^the file '") as caught:
        read_outline(f"{tmp_path}/{name}")
    assert "was not read: " in str(caught.value)
    assert caught.value.file.endswith(name.strip("."))
    assert str(caught.value).endswith(".")


def test_invented_disc_has_its_lesson_in_it():
    """The invented disc: near 46 cm, clearly oval, with a hollow that the tape bridges."""
    disc = read_outline(data_file("quillmere-disc-07.csv"))
    widths = widths_cm(disc, np.arange(180))
    assert len(disc.points_cm) == 72
    assert widths.max() == pytest.approx(46, abs=0.5)
    assert widths.min() < 0.85 * widths.max()
    assert disc.hull_area_cm2 > 1.005 * disc.area_cm2
    assert "invented" in data_file("quillmere-disc-07.csv").read_text("utf-8").splitlines()[0]
