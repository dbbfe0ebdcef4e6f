"""The stem of a command: two diameters in any spelling, an outline's file, and bark."""

from __future__ import annotations

import math
import os
from pathlib import Path

import pytest

from mensura.places import data_file


@pytest.mark.parametrize(
    "axes", ["60x48", "60X48", "60×48", " 60 x 48 ", "60.0x4.8e1", "60,0x48", "+60x048"]
)
def test_every_spelling_of_the_axes(compared, axes: str) -> None:
    assert compared("--axes", axes) == compared("--axes", "60x48")


@pytest.mark.parametrize("axes", ["60;48", "60 48", "60*48", "60/48", "60 by 48 cm"])
def test_two_numbers_with_something_else_between_them(refused, axes: str) -> None:
    """The form that is meant is named."""
    assert refused("compare", "--axes", axes) == f"--axes is '{axes}'; did you mean 60x48?"


def test_a_comma_between_the_axes_may_be_a_decimal_mark(refused) -> None:
    """60,48 may be 60.48: so it is not read, and why is said."""
    assert refused("compare", "--axes", "60,48") == (
        "--axes is '60,48', where a comma is a decimal mark; did you mean 60x48?"
    )
    assert refused("compare", "--axes", "60,4,8").endswith(
        "expected two diameters in cm like 60x48."
    )


def test_a_stem_that_stands_alone(refused) -> None:
    """Two diameters or a file without their option, and a blank that parted them."""
    for words, meant in (
        (["60x48"], "--axes 60x48"),
        (["60", "48"], "--axes 60x48"),
        (["--axes", "60", "48"], "--axes 60x48"),
        (["disc.csv"], "--outline disc.csv"),
    ):
        assert refused("compare", *words).endswith(f" was not understood; did you mean {meant}?")


def test_a_unit_behind_a_number(compared, refused) -> None:
    """The option's own is read; another is refused in English."""
    plain = compared("--axes", "60x48", "--tilt-deg", "5", "--slack-cm", "1.5")
    assert plain == compared("--axes", "60cm x 48 cm", "--tilt-deg", "5°", "--slack-cm", "1.5 cm")
    assert refused("compare", "--axes", "60x48", "--slack-cm", "15 mm") == (
        "--slack-cm is '15 mm'; did you mean 1.5 cm?"
    )
    assert refused("compare", "--axes", "60x48", "--slack-cm", "cm").startswith(
        "--slack-cm is 'cm'"
    )


def test_a_decimal_comma_is_read(compared) -> None:
    comma = compared("--axes", "60,5x48", "--tilt-deg", "-2,5")
    assert comma == compared("--axes", "60.5x48", "--tilt-deg", "-2.5")
    assert comma["true_area_cm2"] == pytest.approx(math.pi / 4 * 60.5 * 48, rel=1e-12)


def test_rough_bark_leaves_girth_and_takes_area(compared) -> None:
    words = ("--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "1")
    rough, smooth = compared(*words, "--seed", "7"), compared("--axes", "60x48")
    assert rough["true_area_cm2"] < smooth["true_area_cm2"]
    assert rough["classroom_over_percent"] is None
    assert rough["true_area_cm2"] != compared(*words, "--seed", "8")["true_area_cm2"]
    assert rough == compared(*words, "--seed", "7")


def test_an_outline_is_read_from_a_file(run, compared, tmp_path: Path) -> None:
    square = tmp_path / "square.csv"
    square.write_text("x_cm;y_cm\n0;0\n40,0;0\n40;40\n0;40\n")
    answer = compared("--outline", str(square))
    assert (answer["true_area_cm2"], answer["taut_girth_cm"]) == (1600.0, 160.0)
    assert answer["classroom_over_percent"] is None
    assert run("compare", "--outline", str(square)).stdout.startswith("Stem: outline '")


def test_the_shipped_disc_compares(compared) -> None:
    answer = compared("--outline", str(data_file("quillmere-disc-07.csv")))
    assert answer["tape_over_percent"] > 0


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("x_cm,y_cm\n0,0\n40,0\n40,wide\n", "row 4, column y_cm is 'wide'; expected a number"),
        ("x_cm,y_cm\n0,0\n40,40\n40,0\n0,40\n", "the outline crosses or touches itself"),
        ("angle_deg,radius_cm\n0,20\n90,-3\n200,4\n", "row 3, column radius_cm is -3; expected"),
        ("", "the file is empty; expected a header"),
    ],
)
def test_an_outline_is_refused_with_file_row_and_column(
    refused, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, sentence: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("disc.csv").write_text(text)
    assert refused("compare", "--outline", "disc.csv").startswith(
        f"--outline 'disc.csv': {sentence}"
    )


def test_an_outline_file_that_is_none(
    refused, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    missing = (
        "--outline: the file 'no.csv' was not read: no such file or directory; expected a CSV file."
    )
    assert refused("compare", "--outline", "no.csv") == missing
    assert refused("compare", "--outline", ".").endswith(
        "was not read: is a directory; expected a CSV file."
    )
    assert refused("compare", "--outline", "\x1b[2J") == (
        r"--outline: the file '\x1b[2J' was not read: no such file or directory; "
        "expected a CSV file."
    )
    os.mkfifo("pipe")  # would be waited for, for ever
    assert refused("compare", "--outline", "pipe") == (
        "--outline is 'pipe', no file; expected a CSV file."
    )
