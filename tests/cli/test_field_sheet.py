"""`mensura field-sheet`: what it says, what it saves, that it reads back, and refusals."""

from __future__ import annotations

import csv
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from mensura.cli import progress
from mensura.disk.readings_file import read_readings
from mensura.estimates.detectable import Detectable

WORDS = ("--stems", "6", "--key", "alder", "--no-simulation")
TOOLS = ("--instruments", "T1,T2,K1,B7=diameter")


@pytest.fixture
def roster(tmp_path: Path) -> str:
    file = tmp_path / "roster.csv"
    file.write_text("\ufeffhand;group\nQ01;a\nQ02;a\n\n# away: Q03\nQ04;b\n", "utf-8")
    return str(file)


def test_what_it_says(run, roster: str) -> None:
    """How much there is to read, how long it takes, how many stems fit, what cannot be told."""
    said = run("field-sheet", roster, *TOOLS, *WORDS, "--minutes", "15").stdout
    assert "3 hands, 6 stems (height and directions marked), T1, T2, K1, B7, 2 rounds: 108" in said
    assert "Each hand reads 36 times: 24 min at 40 s a reading, an assumption." in said
    assert re.search(r"In 15 min [1-5] stems fit; 6 are planned\.", said)
    quick = run("field-sheet", roster, *TOOLS, *WORDS, "--seconds-a-reading", "20").stdout
    assert "12 min at 20 s" in quick
    bare = run("field-sheet", roster, "--instruments", "T1", *WORDS, "--unmarked").stdout
    assert "each hand finds the height" in bare
    assert "T1 is the only tape" in bare


@pytest.mark.parametrize("marked", ["--marked", "--unmarked"])
def test_files_to_type_into_read_back(run, roster: str, tmp_path: Path, marked: str) -> None:
    """Typed in full, every reading comes home; half typed, the rest is told row by row."""
    out = tmp_path / "out"
    words = ("field-sheet", roster, *TOOLS, *WORDS, marked, "--excel", "--out", str(out))
    said = run(*words)
    assert said.exit_code == 0
    assert sorted(one.name for one in out.iterdir()) == [
        "field-sheets.html", "readings.csv", "readings.xlsx"
    ]  # fmt: skip
    with (out / "readings.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    typed = tmp_path / "typed.csv"
    with typed.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([rows[0], *([*row[:6], "99.5", *row[7:]] for row in rows[1:])])
    book = openpyxl.load_workbook(out / "readings.xlsx")
    sheet = book.worksheets[0]
    for row in range(2, sheet.max_row + 1):
        sheet.cell(row, 7).value = 99.5
    book.save(tmp_path / "typed.xlsx")
    found = [read_readings(typed), read_readings(tmp_path / "typed.xlsx")]
    for one in found:
        assert one.problems == ()
        assert len(one.readings) == 108
        assert one.readings.hands == ("Q01", "Q02", "Q04")
        assert one.readings.stems[0] == "01"
        assert one.readings.instruments == ("B7", "K1", "T1", "T2")
    columns = ("stem", "hand", "instrument", "girth", "repeat", "row")
    for column in columns:
        pair = [getattr(one.readings, column).tolist() for one in found]
        assert pair[0] == pair[1]


def test_nothing_is_overwritten(run, roster: str, tmp_path: Path) -> None:
    """What was typed into the first file stays there."""
    words = ("field-sheet", roster, *TOOLS, *WORDS, "--out", str(tmp_path))
    run(*words)
    (tmp_path / "readings.csv").write_text("mine", "utf-8")
    said = run(*words).stdout
    assert (tmp_path / "readings.csv").read_text("utf-8") == "mine"
    assert "readings-new.csv" in said
    assert (tmp_path / "readings-new.csv").exists()


def test_what_will_be_found_is_told_with_its_assumptions(
    run, roster: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The simulation's answers as a table; its progress on stderr."""
    from mensura.estimates import detectable

    def simulated(design, of, progress: Callable[[float], None]) -> tuple[Detectable, ...]:
        progress(0.5)
        return (
            Detectable("hand", "girth", "share", 1.2345, (1.1, 1.3), "%", 80),
            Detectable("hand", "girth", "constant", 0.987, (0.9, 1.1), "cm", 80),
            Detectable("instrument", "girth", "share", None, None, "%", 40),
            Detectable("instrument", "girth", "constant", 1.5, (1.4, 1.6), "cm", 80),
        )

    monkeypatch.setattr(detectable, "detectable", simulated)
    monkeypatch.setattr(progress.time, "monotonic", iter((0.0, 3.0)).__next__)
    words = ("--stems", "6", "--key", "alder", "--instruments", "T1,T2")
    done = run("field-sheet", roster, *words, "--lay-percent", "0.7")
    assert re.search(r"a hand with tapes +1\.23 % +0\.987 cm of girth", done.stdout)
    assert re.search(r"a tape +not found +1\.50 cm of girth", done.stdout)
    assert "By 80 simulated practicals" in done.stdout
    assert "by 0.7 %" in done.stdout
    assert done.stderr == "simulating: 50 %\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "roster.csv is empty; expected a CSV file with one code of a hand a row"),
        ("hand\n", "roster.csv has no hand under its header; expected"),
        ("name,age\nA,1\n", "roster.csv, row 1, has no column hand: it has 'name', 'age';"),
        ("hand\nQ01\nq01\n", "roster.csv, row 3, column hand, is 'q01', which stands in row 2 alr"),
        ("hand\n=cmd()\n", "roster.csv, row 2, column hand, is '=cmd()'; expected a code of let"),
        ("hand\n<script>\n", "roster.csv, row 2, column hand, is '<script>'; expected a code"),
        ("hand,x\n,1\n", "roster.csv, row 2, column hand, is empty; expected a code"),
    ],
)
def test_refused_rosters(refused, tmp_path: Path, text: str, said: str) -> None:
    """With row and column."""
    file = tmp_path / "roster.csv"
    file.write_text(text, "utf-8")
    assert refused("field-sheet", str(file), *TOOLS, *WORDS).startswith(said)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--stems", "0"], "--stems is 0; expected a whole number"),
        (["--instruments", "B7"], "--instruments is 'B7'; expected a code that begins with T"),
        (["--instruments", "T1,T1"], "--instruments is 'T1,T1'; expected a code of an instrum"),
        (["--instruments", "../T1"], "--instruments is '../T1'; expected a code of letters"),
        (["--instruments", ""], "--instruments is empty; expected a code of an instrument"),
        (["--repeats", "99"], "--repeats is 99; expected a whole number"),
        (["--minutes", "0"], "--minutes is 0 min; expected"),
        (["--seconds-a-reading", "0"], "--seconds-a-reading is 0 s; expected"),
        (["--breast-height-m", "130"], "--breast-height-m is 130 m; expected"),
        (["--most-cm", "10"], "--most-cm is 10 cm; expected"),
        (["--key", ""], "--key is empty; expected a word"),
        (["--out", ""], "--out is empty; expected a folder"),
    ],
)
def test_refusals(refused, roster: str, words: list[str], said: str) -> None:
    """Each option under its own name."""
    assert refused("field-sheet", roster, *TOOLS, *WORDS, *words).startswith(said)


def test_a_missing_roster(refused) -> None:
    assert refused("field-sheet", "none.csv", *TOOLS, *WORDS) == (
        "none.csv was not read, no such file or directory; expected a CSV file of hands."
    )
    said = refused("field-sheet", "none.csv")
    assert said == "--stems is missing; expected it, as --help shows."


def test_small_matrices_take_one_thread_and_nothing_else_is_bound() -> None:
    """Said before numpy loads, taken back after; what was said before stays."""
    code = (
        "import os, sys; from mensura.cli import _one_thread; "
        "print('numpy' in sys.modules, os.environ.get('OPENBLAS_NUM_THREADS'), "
        "len(os.listdir('/proc/self/task')) if os.path.isdir('/proc/self/task') else 1)"
    )
    plain = {k: v for k, v in os.environ.items() if k != "OPENBLAS_NUM_THREADS"}
    said = []
    for env in (plain, {**plain, "OPENBLAS_NUM_THREADS": "2"}):
        done = subprocess.run(
            [sys.executable, "-c", code], env=env, capture_output=True, text=True,
            timeout=60, check=True,
        )  # fmt: skip
        said.append(done.stdout.split())
    assert said[0] == ["True", "None", "1"]
    assert said[1][:2] == ["True", "2"]
