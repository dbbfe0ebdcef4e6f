"""Counts of hands beside a plan: appended, found again, and nothing of anybody's lost."""

from __future__ import annotations

import csv
import os
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.disk.hands_file import (
    COLUMNS,
    MOST_BYTES,
    Asking,
    HandsError,
    HandsFile,
    lesson_hands,
)

HEAD = ",".join(COLUMNS)


def asking(date="2026-11-28", time="09:15:02", number=1, question="02-predict", **counts):
    told = tuple(counts.items()) or (("the tape", 12), ("the calipers", 7))
    return Asking(date, time, "tapes", "02", question, number, told)


@pytest.fixture
def file(tmp_path):
    return HandsFile(tmp_path / "tapes-hands.csv", "tapes")


def lines(file: HandsFile) -> list[bytes]:
    return file.path.read_bytes().splitlines(keepends=True)


def test_a_spreadsheet_reads_it(file):
    """One row an answer, a head, UTF-8 with its mark; and no cell that is taken for a formula."""
    told = (("1817 cm²", 3), ("=1+1", 2), ('a "quoted", long one', 0), ("−5 %", 1))
    one = Asking("2026-11-28", "09:15:02", "=plan", "02", "02-1", 1, told)
    file.keep(one)
    assert file.path.read_bytes().startswith(b"\xef\xbb\xbf")
    with file.path.open(encoding="utf-8-sig", newline="") as text:
        rows = list(csv.DictReader(text))
    assert [(row["option"].removeprefix("'"), int(row["count"])) for row in rows] == list(told)
    assert all(not cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())
    assert file.read().askings == (one,)


def test_counting_on_replaces_its_own_lines_only(file):
    """The same asking counted further is there once; another class of the same day stays."""
    file.keep(asking(a=1, b=0))
    file.keep(asking(time="11:00:00", a=5, b=6))
    file.keep(asking(a=2, b=3))
    kept = {one.time: dict(one.counts) for one in file.read().askings}
    assert kept == {"09:15:02": {"a": 2, "b": 3}, "11:00:00": {"a": 5, "b": 6}}


def test_the_class_before_is_the_newest_day_that_is_not_today(file):
    """By question; both its askings; of two classes on one day the later; never today's."""
    assert file.before("02-predict", "2026-11-28") == ()
    file.keep(asking("2024-11-20", a=1))
    file.keep(asking("2025-11-21", a=2))
    file.keep(asking("2025-11-21", "14:00:00", a=3))
    file.keep(asking("2025-11-21", "14:20:00", 2, a=4))
    file.keep(asking("2026-11-28", a=9))
    file.keep(asking("2026-02-02", question="02-turn", a=7))
    found = file.before("02-predict", "2026-11-28")
    assert [(one.date, one.time, dict(one.counts)["a"]) for one in found] == [
        ("2025-11-21", "14:00:00", 3),
        ("2025-11-21", "14:20:00", 4),
    ]


def test_what_others_wrote_survives(file):
    """A note, a line of nonsense and a torn line are told, passed over, and stay byte for byte."""
    file.keep(asking(a=1))
    mine = b"my note: the room was half empty\n,,,\n2026-13-40,x,tapes,2,question 02-1,1,a,3\r\n"
    torn = b'2026-11-28,09:15:02,tapes,02,question 02-predict,1,"a'
    file.path.write_bytes(file.path.read_bytes() + mine + torn)
    log = file.read()
    assert log.damaged == (3, 5, 6)
    assert log.note == (
        "Lines 3, 5, 6 of tapes-hands.csv are no counts and were passed over; they stay in the "
        "file."
    )
    file.keep(asking(a=4))
    kept = file.path.read_bytes()
    assert mine in kept
    assert torn in kept
    assert dict(file.read().askings[-1].counts) == {"a": 4}


def test_what_a_spreadsheet_saved_is_read(file):
    """Semicolons, other columns first, dotted dates, no nought, the desk's own letters."""
    file.path.write_bytes(
        "room;count;option;asking;question;workbook;plan;time;date\r\n"
        "B2;12;zwölf cm²;1;question 02-1;2;tapes;09:15:02;28.11.2025\r\n".encode("latin-1")
    )
    before = lines(file)
    (one,) = file.before("02-1", "2026-11-28")
    assert (one.date, one.workbook, one.counts) == ("2025-11-28", "02", (("zwölf cm²", 12),))
    file.keep(asking(question="02-1", a=3))
    assert lines(file)[:2] == before
    assert lines(file)[2] == b";3;a;1;question 02-1;02;tapes;09:15:02;2026-11-28\r\n"
    assert len(file.read().askings) == 2


def test_a_file_of_another_kind_is_left_alone(file):
    """What has another head, is too large, a link or a folder is refused in one sentence."""
    file.path.write_text("name,marks\nQ01,3\n")
    with pytest.raises(HandsError, match=r"Line 1 of tapes-hands\.csv has no column date"):
        file.keep(asking())
    assert file.path.read_text() == "name,marks\nQ01,3\n"
    file.path.write_bytes(b"x" * (MOST_BYTES + 1))
    with pytest.raises(HandsError, match="larger than 16 MB"):
        file.read()
    file.path.unlink()
    other = file.path.with_name("other.csv")
    other.write_text(HEAD + "\n")
    file.path.symlink_to(other)
    with pytest.raises(HandsError, match="is a link or a folder"):
        file.keep(asking())
    assert other.read_text() == HEAD + "\n"
    file.path.unlink()
    file.path.mkdir()
    with pytest.raises(HandsError, match="is a link or a folder"):
        file.read()


def test_a_folder_that_is_gone(tmp_path):
    """One sentence, and no folder is made."""
    file = HandsFile(tmp_path / "gone" / "tapes-hands.csv", "tapes")
    with pytest.raises(HandsError, match="cannot be written: no such folder"):
        file.keep(asking())
    assert not (tmp_path / "gone").exists()


def test_two_at_once_lose_nothing(file):
    """Sixteen askings kept from four threads are all there."""
    many = [asking(time=f"09:00:{k:02}", a=k) for k in range(16)]

    def keep(one):
        for _ in range(40):
            try:
                HandsFile(file.path, "tapes").keep(one)
                return
            except HandsError as error:
                if not error.passes:
                    raise

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(keep, many))
    assert sorted(one.time for one in file.read().askings) == [one.time for one in many]


def test_which_lesson_a_folder_is(tmp_path):
    """The file lies beside the plan, outside the lesson's folder; other folders have none."""
    folder = tmp_path / "tapes-lesson"
    folder.mkdir()
    found = lesson_hands(folder)
    assert found is not None
    assert (found.path, found.plan) == (tmp_path / "tapes-hands.csv", "tapes")
    assert lesson_hands(tmp_path) is None
    assert lesson_hands(tmp_path / "-lesson") is None


TEXT = (
    st.text(
        st.characters(exclude_categories=["Cs", "Cc"], exclude_characters="\x85\u2028\u2029"),
        min_size=1,
        max_size=30,
    )
    .map(lambda text: " ".join(text.split()).lstrip("'"))
    .filter(bool)
)
COUNTS = st.dictionaries(TEXT, st.integers(0, 9999), min_size=1, max_size=6)


@settings(max_examples=60, deadline=None)
@given(
    counts=st.lists(COUNTS, min_size=1, max_size=4),
    noise=st.lists(st.binary(max_size=40).filter(lambda raw: b"\n" not in raw), max_size=4),
    part=st.sampled_from(",;\t"),
)
def test_whatever_is_kept_comes_back_and_whatever_lay_there_stays(counts, noise, part):
    """Any answers and numbers; any bytes between them, in any of the three kinds of table."""
    with tempfile.TemporaryDirectory() as place:
        file = HandsFile(Path(place, "tapes-hands.csv"), "tapes")
        file.path.write_bytes(
            part.join(COLUMNS).encode() + b"\n" + b"".join(n + b"\n" for n in noise)
        )
        for k, told in enumerate(counts):
            file.keep(
                asking(time=f"10:00:{k:02}", **{"x": 1})
                if not told
                else Asking(
                    "2026-11-28", f"10:00:{k:02}", "tapes", "02", "02-1", 1, tuple(told.items())
                )
            )
        kept = {one.time: dict(one.counts) for one in file.read().askings}
        for k, told in enumerate(counts):
            assert kept[f"10:00:{k:02}"] == told
        raw = file.path.read_bytes()
        assert all(one in raw for one in noise)
        assert os.listdir(place)
        assert "tapes-hands.csv" in os.listdir(place)
