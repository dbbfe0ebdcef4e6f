"""`mensura tape-card`: twenty drawn tapes, the keys, the words, what is saved, and refusals."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.stats import linregress

from mensura.disk.card_file import card_in, read_card
from mensura.places import data_file

T5 = str(data_file("quillmere-tape-t5.csv"))
MARKS = np.array([30.0, 65.0, 100.0, 135.0, 170.0, 205.0])


def written(folder: Path, rows: Any, head: str = "reference_cm,reading_cm") -> str:
    path = folder / "check.csv"
    lines = [head, *(",".join(map(str, row)) for row in rows)]
    path.write_text("\n".join(lines), "utf-8")
    return str(path)


@pytest.mark.parametrize("digits", [15, 1])
def test_twenty_drawn_tapes(answered, tmp_path: Path, digits: int) -> None:
    """Planted stretch and worn start lie within 2.2 u in at least 16 of 20, each of them.

    u is that of the least-squares line, by scipy.stats.linregress and the derivative of 1/slope.
    """
    rng = np.random.default_rng(15)
    hits = np.zeros(2, dtype=int)
    for _ in range(20):
        stretch, worn = rng.uniform(-0.5, 2.0), rng.uniform(-0.3, 2.0)
        true = np.tile(MARKS, 2)
        read = true / (1 + stretch / 100) + worn + 0.15 * rng.standard_normal(true.size)
        read = np.round(read, digits)
        rows = zip(true, read.tolist(), strict=True)
        found = answered("tape-card", written(tmp_path, rows))
        line = linregress(true, read)
        u_stretch = 100 * line.stderr / line.slope**2
        assert found["stretch_percent"] == pytest.approx(100 * (1 / line.slope - 1))
        assert found["stretch_u_percent"] == pytest.approx(u_stretch, rel=1e-3)
        assert found["worn_start_cm"] == pytest.approx(line.intercept)
        assert found["worn_start_u_cm"] == pytest.approx(line.intercept_stderr, rel=1e-3)
        hits += [
            abs(found["stretch_percent"] - stretch) <= 2.2 * u_stretch,
            abs(found["worn_start_cm"] - worn) <= 2.2 * line.intercept_stderr,
        ]
    assert min(hits) >= 16


def test_the_keys_of_a_tape(answered) -> None:
    """Those that other programs rely on, and what they hold."""
    found = answered("tape-card", T5, "--instrument", "T5", "--class", "ii")
    for key in (
        *("stretch_percent", "stretch_u_percent", "worn_start_cm", "worn_start_u_cm"),
        *("degrees_of_freedom", "residual_sd_cm"),
    ):
        assert isinstance(found[key], float | int), key
    assert found["correlation"] > 0
    assert found["stretch_degrees_of_freedom"] == found["worn_start_degrees_of_freedom"] == 16
    surer = answered("tape-card", T5, "--reference-u-cm", "0.1")
    assert surer["worn_start_degrees_of_freedom"] > surer["stretch_degrees_of_freedom"] == 16
    assert "effective degrees of freedom" in " ".join(surer["notes"])
    for name in ("stretch_interval_percent", "worn_start_interval_cm"):
        low, high = found[name]
        assert low < found[name.replace("_interval", "")] < high
    assert found["degrees_of_freedom"] == 16
    assert [one["reference_cm"] for one in found["marks"]] == [40, 70, 100, 130, 160, 190]
    assert [one["permissible_cm"] for one in found["marks"]] == pytest.approx(
        [0.05] * 3 + [0.07] * 3
    )
    assert [one["within"] for one in found["marks"]] == [False, None, False, False, False, False]
    assert found["marks"][0]["error_cm"] == pytest.approx((40.2 + 40.3 + 40.2) / 3 - 40)
    assert (found["temperature_c"], found["pull_n"]) == (20, 20)
    assert found["inputs"]["file"]["file"] == "quillmere-tape-t5.csv"
    assert len(found["inputs"]["file"]["sha256"]) == 64
    assert found["resolution_cm"] == 0.1


def test_the_keys_of_calipers(answered, tmp_path: Path) -> None:
    """Scale and zero error; no limits without a class."""
    rows = [(one, one * 1.01 - 0.2) for one in MARKS.tolist()]
    found = answered("tape-card", written(tmp_path, rows), "--kind", "calipers")
    assert found["scale_percent"] == pytest.approx(1)
    assert found["zero_error_cm"] == pytest.approx(-0.2)
    for key in ("scale_u_percent", "zero_error_u_cm"):
        assert found[key] == pytest.approx(0, abs=1e-9)
    assert len(found["scale_interval_percent"]) == len(found["zero_error_interval_cm"]) == 2
    assert "stretch_percent" not in found
    assert {one["permissible_cm"] for one in found["marks"]} == {None}


def test_two_marks_say_that_they_tell_no_uncertainty(run, answered, tmp_path: Path) -> None:
    """null in JSON, words in text."""
    file = written(tmp_path, [(50, 50.5), (150, 149.8)])
    found = answered("tape-card", file)
    for key in ("stretch_u", "stretch_interval", "worn_start_u", "worn_start_interval"):
        assert found[f"{key}_{'percent' if 'stretch' in key else 'cm'}"] is None
    assert found["residual_sd_cm"] is None
    assert "Two marks always lie on a line" in " ".join(found["notes"])
    assert "u not known: two marks" in run("tape-card", file).stdout


def test_temperatures_that_differ(run, answered, refused, tmp_path: Path) -> None:
    """Refused with the row, or brought to 20 °C with the steel's own expansion, by hand."""
    rows = [
        (one, one * (1 - 11.6e-6 * (at - 20)), at)
        for one, at in zip(MARKS, range(0, 30, 5), strict=True)
    ]
    file = written(tmp_path, rows, "reference_cm,reading_cm,temperature_c")
    assert refused("tape-card", file) == (
        "check.csv, row 3, column temperature_c, is 5 °C, and 0 °C in row 2; expected one "
        "temperature, or --material or --expansion-per-c to bring all to one."
    )
    for words in (("--material", "steel"), ("--expansion-per-c", "11.6e-6")):
        found = answered("tape-card", file, *words)
        assert found["temperature_c"] == 20
        assert found["stretch_percent"] == pytest.approx(0, abs=1e-5)
        assert max(abs(one["error_cm"]) for one in found["marks"]) < 1e-5
    assert "brought to 20 °C" in " ".join(
        run("tape-card", file, "--material", "steel").stdout.split()
    )


def test_the_text(run) -> None:
    """Stretch, worn start, a row of corrections, the class check, and for what it holds."""
    text = run("tape-card", T5, "--instrument", "T5", "--class", "II").stdout
    assert text.startswith("Card of tape T5: 18 readings at 6 marks, 40 to 190 cm\n")
    words = " ".join(text.split())
    assert "Stretch 0.813 % u 0.040 %; 95 % interval 0.727 to 0.898 %" in words
    assert "Worn start 0.605 cm u 0.050 cm; 95 % interval 0.499 to 0.711 cm" in words
    assert "200 201.016 +1.016" in words
    assert "drawn on" in words
    assert "cannot be decided with this reading" in words
    assert "It holds at 20 °C, at a pull of 20 N." in words
    assert max(map(len, text.splitlines())) <= 110


def test_a_likely_slip_is_told_and_nothing_changed(run, answered, tmp_path: Path) -> None:
    """Row, column, value, slip and what it would be: in JSON, first in the text, on the page."""
    rows = [line.split(",")[1:3] for line in Path(T5).read_text("utf-8").splitlines()[2:]]
    assert answered("tape-card", T5)["warnings"] == []
    rows[8][1] = "998"
    file = written(tmp_path, rows)
    found = answered("tape-card", file, "--out", str(tmp_path))
    (one,) = found["warnings"]
    assert (one["row"], one["column"], one["value_cm"]) == (10, "reading_cm", 998.0)
    assert one["likely_slip"] == "mm typed as cm, or a point left out"
    assert one["would_be_cm"] == 99.8
    assert found["marks"][2]["readings_cm"][1] == 998.0
    said = "Row 10, reading_cm: 998 cm and the figure beside it differ about tenfold."
    text = run("tape-card", file).stdout
    assert text.splitlines()[2].startswith(f"LOOK AGAIN  {said[:60]}")
    assert said in (tmp_path / "check.html").read_text("utf-8")
    rows[8][1] = "109.8"
    (one,) = answered("tape-card", written(tmp_path, rows))["warnings"]
    assert (one["likely_slip"], one["would_be_cm"]) == ("10 cm miscounted", 99.8)
    assert "Row 10, reading_cm: 109.8 cm lies far off the line of all other readings" in one["says"]
    tens = [(true, 10 * float(read)) for true, read in rows]
    for many, said in (
        (tens, "All readings are about ten times their references. Likely: mm typed as cm"),
        ([(one, 0.9 * one) for one in MARKS], "A stretch of +11.1 % is beyond ±5 %. Likely: ano"),
    ):
        (one,) = answered("tape-card", written(tmp_path, many))["warnings"]
        assert one["row"] is None
        assert one["says"].startswith(said)


def test_a_slip_that_bends_the_line_down_is_refused_by_its_row(refused, tmp_path: Path) -> None:
    """No card has a line that falls: the row that makes it fall is named."""
    rows = [(40, 402), (70, 70.1), (100, 99.9), (130, 129.6), (160, 159.4), (190, 189)]
    assert refused("tape-card", written(tmp_path, rows)).startswith(
        "check.csv, row 2, column reading_cm, is 402 cm, so that the line of all rows falls; "
        "expected readings that rise with the reference; likely 40.2 cm: mm typed as cm"
    )


def test_one_of_several_instruments(answered, refused, tmp_path: Path) -> None:
    """--instrument picks; without it the codes are named; one alone needs none."""
    rows = [(code, one, one + 0.1) for code in ("T3", "T4") for one in MARKS.tolist()]
    file = written(tmp_path, rows, "instrument,reference_cm,reading_cm")
    assert refused("tape-card", file) == (
        "check.csv has readings of 2 instruments; expected --instrument with one of 'T3', 'T4'."
    )
    found = answered("tape-card", file, "--instrument", "T4")
    assert (found["instrument"], found["degrees_of_freedom"]) == ("T4", 4)
    file = written(tmp_path, rows[:6], "instrument,reference_cm,reading_cm")
    assert answered("tape-card", file)["instrument"] == "T3"


def test_what_is_saved(run, answered, tmp_path: Path) -> None:
    """T5.json beside T5.html; the file is the card; what was there is put aside."""
    out = tmp_path / "cards"
    words = ("tape-card", T5, "--instrument", "T5", "--out", str(out))
    text = run(*words, "--class", "II").stdout
    assert f"Saved: {out / 'T5.json'}\nSaved: {out / 'T5.html'}\n" in text
    assert sorted(one.name for one in out.iterdir()) == ["T5.html", "T5.json"]
    found = answered(*words, "--class", "II")
    assert sorted(one.name for one in out.iterdir()) == ["T5.html", "T5.json"]
    kept = json.loads((out / "T5.json").read_text("utf-8"))
    assert {key: found[key] for key in kept} == kept
    card = card_in(out, "T5")
    assert card.u_start_cm == found["worn_start_u_cm"]
    (out / "T5.json").write_text("mine", "utf-8")
    text = run(*words).stdout
    assert "(what was there is T5-old.json now)" in text
    assert (out / "T5-old.json").read_text("utf-8") == "mine"
    assert read_card(out / "T5.json").instrument == "T5"


def test_json_is_a_card_too(run, tmp_path: Path) -> None:
    """What --json prints, saved as a file, is read as a card."""
    path = tmp_path / "t3.json"
    path.write_text(run("tape-card", T5, "--json").stdout, "utf-8")
    assert read_card(path).start_cm == pytest.approx(0.605, abs=1e-3)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--instrument", "a/b"], "--instrument is 'a/b'; expected a code of letters, digits and"),
        (["--kind", "rod"], "--kind is 'rod'; expected one of: tape, calipers."),
        (["--class", "IV"], "--class is 'IV'; expected one of: I, II, III."),
        (["--kind", "calipers", "--class", "II"], "--class is 'II'; expected none: calipers have"),
        (["--resolution-cm", "-1"], "--resolution-cm is -1 cm; expected a finite number at least"),
        (["--reference-u-cm", "-1"], "--reference-u-cm is -1 cm; expected a finite number at lea"),
        (["--reference-u-percent", "-1"], "--reference-u-percent is -1 %; expected a finite num"),
        (["--material", "stel"], "--material is 'stel'; did you mean steel?"),
        (["--material", "cloth"], "--expansion-per-c is missing; expected a number: no source"),
        (["--expansion-per-c", "3"], "--expansion-per-c is 3; expected a finite number above"),
        (["--out", ""], "--out is empty; expected a folder that can be written to."),
    ],
)
def test_refusals(refused, words: list[str], said: str) -> None:
    """Each option under its own name."""
    assert refused("tape-card", T5, *words).startswith(said)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([(50, 51)], "check.csv has one mark only; expected readings at two different references"),
        ([(50, 51), (50, 52)], "check.csv has its reference at 50 cm in every row; expected"),
        ([(50, 51), (90, 0)], "check.csv, row 3, column reading_cm, is 0 cm; expected a number"),
        ([(50, 90), (90, 50), (99, 40)], "check.csv, column reading_cm, falls where reference_cm"),
    ],
)
def test_refused_files(refused, tmp_path: Path, rows: Any, said: str) -> None:
    """With the place in the file."""
    assert refused("tape-card", written(tmp_path, rows)).startswith(said)


def test_a_missing_file(refused) -> None:
    """By its name."""
    assert refused("tape-card", "none.csv") == (
        "none.csv was not read, no such file or directory; expected a CSV file."
    )
    assert refused("tape-card") == "FILE.csv is missing; expected it, as --help shows."


def test_a_folder_that_cannot_be_written(refused, tmp_path: Path) -> None:
    """A file in its place."""
    (tmp_path / "taken").write_text("mine", "utf-8")
    said = refused("tape-card", T5, "--out", str(tmp_path / "taken"))
    assert said.startswith("--out is '")
    assert said.endswith(", file exists; expected a folder that can be written to.")
