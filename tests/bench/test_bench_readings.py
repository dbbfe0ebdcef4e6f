"""A hundred thousand readings: at most twelve times the time of ten thousand, and memory by rows.

Whole programs that read a file and look for slips, less the same on a file of one reading; text and
a workbook. Times are of the processor, so that another program does not count.
"""

from __future__ import annotations

import json
import runpy
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parents[1]
drawn = runpy.run_path(str(TESTS / "estimates" / "test_suspicious.py"))
excel = runpy.run_path(str(TESTS / "disk" / "test_readings_excel.py"))

MOST_TIMES, MOST_S = 12.0, 60.0
PROGRAM = """
import json, sys, time, tracemalloc
from mensura.disk.readings_file import read_readings
from mensura.estimates.suspicious import suspicious
import scipy.spatial
started = time.process_time()
if sys.argv[2] == "memory":
    tracemalloc.start()
found = read_readings(sys.argv[1])
flags = suspicious(found.readings, found.figures)
peak = tracemalloc.get_traced_memory()[1] / 1e6 if sys.argv[2] == "memory" else 0
print(json.dumps([len(found.readings), len(flags), time.process_time() - started, peak]))
"""


@cache
def rows_of(count):
    """A header and so many rows of a drawn practical with slips in it."""
    sound, draw = drawn["practical"](3, stems=max(3, count // 180), hands=40)
    typed, _ = drawn["slipped"](sound, draw, count // 800)
    rows = [excel["NEEDED"]]
    for at in range(min(count, len(typed))):
        girth = bool(typed.girth[at])
        codes = (typed.stems[typed.stem[at]], typed.hands[typed.hand[at]])
        tool = typed.instruments[typed.instrument[at]]
        where = None if girth else int(typed.direction_deg[at])
        figure = round(float(typed.reading_cm[at]), 2)
        kind = "girth" if girth else "diameter"
        rows.append((*codes, tool, kind, where, int(typed.repeat[at]), figure, "cm"))
    return rows


def written(folder, count, ending):
    path = folder / f"{count}.{ending}"
    rows = rows_of(count)
    if ending == "xlsx":
        path.write_bytes(excel["packed"](excel["book"](excel["sheet"](rows))))
    else:
        lines = (",".join("" if one is None else str(one) for one in row) for row in rows)
        path.write_text("\n".join(lines), encoding="utf-8", newline="\n")
    return path


def seen(path, what="time"):
    """Readings, flags, seconds and MB of one program."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(path), what],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    return json.loads(done.stdout)


@pytest.mark.parametrize(("ending", "most"), [("csv", 100_000), ("xlsx", 50_000)])
def test_ten_times_the_readings(tmp_path, ending, most):
    """At most twelve times as long, and under a minute; of a workbook half as many."""
    paths = {count: written(tmp_path, count, ending) for count in (1, most // 10, most)}
    for _ in range(3):  # what runs beside it may spoil one run
        told = {count: seen(path) for count, path in paths.items()}
        small, large = (told[count][2] - told[1][2] for count in (most // 10, most))
        read, flags, _, _ = told[most]
        print(
            f"\n{read:,} readings as {ending}: {large:.2f} s, {large / small:.1f} times those of "
            f"a tenth; {flags} flags"
        )
        assert read == most
        assert flags > most // 1000
        if large < MOST_TIMES * small:
            break
    assert large < MOST_TIMES * small
    assert large < MOST_S


def test_memory_grows_as_the_rows_do(tmp_path):
    """Of a text, at most elevenfold."""
    small_mb, large_mb = (
        seen(written(tmp_path, count, "csv"), "memory")[3] for count in (10_000, 100_000)
    )
    print(f"\n100,000 readings: {large_mb:.0f} MB, {large_mb / small_mb:.1f} times")
    assert large_mb < 11 * small_mb
