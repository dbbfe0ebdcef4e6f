"""Progress on the disk: what was acknowledged is there, whatever is killed, torn or in the way."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

import filelock
import pytest
from filelock import FileLock
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.checks import shown
from mensura.disk import locks, progress_file
from mensura.disk.progress_file import (
    LOCK_NAME,
    PROGRESS_NAME,
    Progress,
    ProgressError,
    ProgressFile,
    line_of,
)
from mensura.teaching.problems.standing import Attempt

ONE = Attempt("Q07", "k", "1", "girth-to-area", 1, "78 cm2", False, None, 0, False, "then")

posix = pytest.mark.skipif(
    os.name != "posix", reason="needs the signals and modes of a POSIX system"
)

#: Starts once, then forks a writer for each line it reads; the writer adds as fast as it can and
#: says each number once it was acknowledged.
NURSERY = """
import os, sys
from dataclasses import replace
from mensura.teaching.problems.standing import Attempt
from mensura.disk.progress_file import ProgressFile
one = Attempt("Q07", "k", "1", "girth-to-area", 1, "", False, None, 0, False, "")
for asked in sys.stdin:
    child = os.fork()
    if not child:
        os.write(1, f"pid {os.getpid()}\\n".encode())
        file = ProgressFile(sys.argv[1])
        for number in range(10_000):
            file.append(replace(one, text="9" * (number % 90), when=f"{asked.strip()}-{number}"))
            os.write(1, f"{number}\\n".encode())
        os._exit(1)
    os.waitpid(child, 0)
    os.write(1, b"over\\n")
"""

WRITER = """
import sys
from dataclasses import replace
from mensura.teaching.problems.standing import Attempt
from mensura.disk.progress_file import ProgressFile
one = Attempt("Q07", "k", "1", "girth-to-area", 1, "", False, None, 0, False, "")
file = ProgressFile(sys.argv[1])
print("ready", flush=True)
sys.stdin.readline()
for number in range(1000):
    text = sys.argv[2] * (number % 60)
    file.append(replace(one, student=sys.argv[2], when=str(number), text=text))
"""


def lines(folder: Path) -> bytes:
    """The file as it lies there."""
    return (folder / PROGRESS_NAME).read_bytes()


# ---- killed, and two at once ---------------------------------------------------------------------


@posix
def test_200_kills_lose_nothing_acknowledged(tmp_path: Path) -> None:
    """A writer killed at any moment: each number it was told is on the disk, and can be read."""
    rng = random.Random(5)
    nursery = subprocess.Popen(
        [sys.executable, "-c", NURSERY, str(tmp_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    assert nursery.stdin
    assert nursery.stdout
    acknowledged: list[str] = []
    killed_after: list[int] = []
    try:
        for turn in range(200):
            nursery.stdin.write(f"{turn}\n".encode())
            nursery.stdin.flush()
            pid = int(nursery.stdout.readline().split()[1])
            # by what was told and not by the clock alone, so that a busy machine kills as late
            told = [nursery.stdout.readline().strip() for _ in range(rng.randrange(7))]
            time.sleep(rng.uniform(0, 0.006))
            os.kill(pid, signal.SIGKILL)
            told += [line.strip() for line in iter(nursery.stdout.readline, b"over\n")]
            acknowledged += [f"{turn}-{number.decode()}" for number in told]
            killed_after.append(len(told))
    finally:
        nursery.stdin.close()
        nursery.wait(10)
        nursery.stdout.close()
    assert len(acknowledged) > 500
    assert len(set(killed_after)) > 5
    log = ProgressFile(tmp_path).read()
    kept = [attempt.when for attempt in log.attempts]
    assert len(kept) == len(set(kept))
    assert set(acknowledged) <= set(kept)
    # of each writer at most one line more: the one that it was killed in
    assert len(kept) + len(log.damaged) <= len(acknowledged) + 200


def test_two_workbooks_at_once(tmp_path: Path) -> None:
    """1000 lines each, as fast as they can: all are there, each whole, each writer's in order."""
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", WRITER, str(tmp_path), student],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        for student in ("Q07", "Q08")
    ]
    for writer in writers:
        assert writer.stdout
        assert writer.stdout.readline() == b"ready\n"
    for writer in writers:
        writer.communicate(b"go\n", timeout=60)
        assert writer.returncode == 0
    log = ProgressFile(tmp_path).read()
    assert log.damaged == ()
    for student in ("Q07", "Q08"):
        mine = [attempt for attempt in log.attempts if attempt.student == student]
        assert [attempt.when for attempt in mine] == [str(number) for number in range(1000)]
        assert all(attempt.text == student * (int(attempt.when) % 60) for attempt in mine)


def test_two_workbooks_without_a_lock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is no lock to be had, or another holds it, lines are added all the same."""
    monkeypatch.setattr(locks, "WAIT_S", 0.05)
    with FileLock(tmp_path / LOCK_NAME):
        ProgressFile(tmp_path).append(ONE)
    for none in (OSError(37, "No locks available"), NotImplementedError()):

        def refuse(*_: object, none: Exception = none) -> None:
            raise none

        monkeypatch.setattr(filelock.FileLock, "acquire", refuse)
        ProgressFile(tmp_path).append(ONE)
    assert ProgressFile(tmp_path).read().attempts == (ONE, ONE, ONE)


def test_a_line_waits_for_its_neighbour(tmp_path: Path) -> None:
    """While another holds the lock nothing is added, for as long as half a second."""
    lock = FileLock(tmp_path / LOCK_NAME, thread_local=False)
    lock.acquire()
    sizes: list[int] = []

    def look_and_let_go() -> None:
        sizes.append(len(lines(tmp_path)) if (tmp_path / PROGRESS_NAME).exists() else 0)
        lock.release()

    soon = threading.Timer(0.15, look_and_let_go)
    soon.start()
    ProgressFile(tmp_path).append(ONE)
    soon.join()
    assert sizes == [0]
    assert lines(tmp_path) == line_of(ONE).encode()


@posix
def test_a_link_in_the_locks_place(tmp_path: Path) -> None:
    """It is not followed: what it leads to is not made, and the line is added."""
    (tmp_path / LOCK_NAME).symlink_to(tmp_path / "elsewhere.txt")
    ProgressFile(tmp_path).append(ONE)
    assert not (tmp_path / "elsewhere.txt").exists()
    assert ProgressFile(tmp_path).read().attempts == (ONE,)


def test_a_neighbour_torn_just_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another's half line that comes between the look and the write costs one line more."""
    path = tmp_path / PROGRESS_NAME
    file = ProgressFile(tmp_path)
    file.append(ONE)
    write, torn = os.write, [b'{"student": "Q0']

    def late(handle: int, data: bytes) -> int:
        if torn:
            with path.open("ab") as other:
                other.write(torn.pop())
        return write(handle, data)

    monkeypatch.setattr(progress_file.os, "write", late)
    mine = replace(ONE, when="mine")
    file.append(mine)
    log = file.read()
    assert log.attempts == (ONE, mine)
    assert log.damaged == (2,)


# ---- damage --------------------------------------------------------------------------------------


def test_an_empty_folder(tmp_path: Path) -> None:
    """Reading makes no file; a file of nothing holds nothing."""
    assert ProgressFile(tmp_path).read() == progress_file.Log()
    assert list(tmp_path.iterdir()) == []
    (tmp_path / PROGRESS_NAME).touch()
    assert ProgressFile(tmp_path).read() == progress_file.Log()


@given(st.integers(0, len(line_of(ONE).encode())))
@settings(max_examples=40)
def test_a_torn_last_line(tmp_path_factory: pytest.TempPathFactory, cut: int) -> None:
    """Wherever the last line was torn, it is told, kept, and the next one stands by itself."""
    folder = tmp_path_factory.mktemp("torn")
    whole, torn = line_of(ONE).encode(), line_of(replace(ONE, when="torn")).encode()[: cut + 1]
    (folder / PROGRESS_NAME).write_bytes(whole + torn)
    log = ProgressFile(folder).read()
    readable = torn.strip().endswith(b"}")
    assert len(log.attempts) == 1 + readable
    assert log.damaged == (() if readable else (2,))
    assert bool(log.note) == (not readable)
    after = replace(ONE, when="after")
    ProgressFile(folder).append(after)
    again = ProgressFile(folder).read()
    assert again.attempts == (*log.attempts, after)
    assert again.damaged == log.damaged
    end = b"" if torn.endswith(b"\n") else b"\n"
    assert lines(folder) == whole + torn + end + line_of(after).encode()


@pytest.mark.parametrize(
    "junk",
    [
        b"shopping: milk",
        b"\xff\xfe\x00\x00",
        b"\0" * 5000,
        b"[" * 3000,
        b"x" * 3_000_000,
        b"9" * 4002,
        b'{"student": "Q07"}',
        "\u2028".encode(),
    ],
)
def test_junk_in_the_middle(tmp_path: Path, junk: bytes) -> None:
    """It is passed over with the number of its line; what stands round it is read."""
    before, after = replace(ONE, when="1"), replace(ONE, when="3")
    text = line_of(before).encode() + junk + b"\n" + line_of(after).encode()
    (tmp_path / PROGRESS_NAME).write_bytes(text)
    log = ProgressFile(tmp_path).read()
    assert log.attempts == (before, after)
    assert log.note == (
        "Line 2 of my-progress.jsonl is damaged and was passed over; it stays in the file."
    )
    ProgressFile(tmp_path).append(ONE)
    assert lines(tmp_path) == text + line_of(ONE).encode()


def test_many_damaged_lines(tmp_path: Path) -> None:
    """One sentence names the first five, however many there are."""
    (tmp_path / PROGRESS_NAME).write_bytes(b"?\n" * 9 + line_of(ONE).encode())
    log = ProgressFile(tmp_path).read()
    assert log.attempts == (ONE,)
    assert log.note == (
        "Lines 1, 2, 3, 4, 5 and 4 more of my-progress.jsonl are damaged and were passed over; "
        "they stay in the file."
    )


def test_as_an_editor_may_leave_it(tmp_path: Path) -> None:
    """A mark at the start, line breaks of two characters and empty lines do no harm."""
    line = line_of(ONE).encode().strip()
    (tmp_path / PROGRESS_NAME).write_bytes(b"\xef\xbb\xbf" + line + b"\r\n\r\n" + line)
    log = ProgressFile(tmp_path).read()
    assert log.attempts == (ONE, ONE)
    assert log.note == ""


# ---- what stands in the way ----------------------------------------------------------------------


def refused(folder: Path) -> list[str]:
    """What reading and appending say, one sentence each."""
    said = []
    for deed in (ProgressFile(folder).read, lambda: ProgressFile(folder).append(ONE)):
        with pytest.raises(ProgressError) as caught:
            deed()
        said.append(str(caught.value))
    assert all(one.endswith(".") and "\n" not in one for one in said)
    return said


def test_a_folder_in_its_place(tmp_path: Path) -> None:
    """It is told and left alone."""
    (tmp_path / PROGRESS_NAME).mkdir()
    assert all("no plain file" in one for one in refused(tmp_path))
    assert (tmp_path / PROGRESS_NAME).is_dir()


@posix
@pytest.mark.parametrize("there", [True, False])
def test_a_link_in_its_place(tmp_path: Path, there: bool) -> None:
    """Neither written through nor replaced, whether it leads somewhere or nowhere."""
    target = tmp_path / "elsewhere.txt"
    if there:
        target.write_bytes(line_of(ONE).encode())
    (tmp_path / PROGRESS_NAME).symlink_to(target)
    assert all("no plain file" in one for one in refused(tmp_path))
    assert target.exists() == there
    assert not there or target.read_bytes() == line_of(ONE).encode()


@posix
def test_a_pipe_in_its_place(tmp_path: Path) -> None:
    """It does not wait for the pipe's other end."""
    os.mkfifo(tmp_path / PROGRESS_NAME)
    assert all("no plain file" in one for one in refused(tmp_path))


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system's own reason is told."""
    (tmp_path / PROGRESS_NAME).touch()

    def forbid(path: Path, flags: int, mode: int = 0) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(progress_file.os, "open", forbid)
    assert all("permission denied" in one for one in refused(tmp_path))


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    """Nothing to read; nowhere to write, told in one sentence."""
    file = ProgressFile(tmp_path / "gone")
    assert file.read().attempts == ()
    with pytest.raises(ProgressError, match="cannot be written: no such file or directory"):
        file.append(ONE)


def test_a_file_too_large(tmp_path: Path) -> None:
    """A file that no class can have written is not read to its end."""
    with open(tmp_path / PROGRESS_NAME, "wb") as file:
        file.truncate(progress_file.MOST_BYTES + 1)
    with pytest.raises(ProgressError, match="larger than 64 MB"):
        ProgressFile(tmp_path).read()


def test_an_answer_too_long(tmp_path: Path) -> None:
    """A line that could not be read again is not written."""
    with pytest.raises(ProgressError, match="too long"):
        ProgressFile(tmp_path).append(replace(ONE, text="9" * 5000))
    assert not (tmp_path / PROGRESS_NAME).exists()


# ---- a full disk, and going on -------------------------------------------------------------------


class Disk:
    """A disk that takes so many bytes more."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, room_bytes: int) -> None:
        self.room, self._write = room_bytes, os.write
        monkeypatch.setattr(progress_file.os, "write", self)

    def __call__(self, handle: int, data: bytes) -> int:
        if not self.room:
            raise OSError(28, "No space left on device")
        taken = self._write(handle, data[: self.room])
        self.room -= taken
        return taken


@pytest.mark.parametrize("room_bytes", [0, 1, 50, len(line_of(replace(ONE, when="2"))) - 1])
def test_a_full_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, room_bytes: int) -> None:
    """Nothing acknowledged is lost; the rest waits, is told, and is kept once there is room."""
    progress = Progress(ProgressFile(tmp_path))
    assert progress.note == ""
    assert progress.add(ONE) == ""
    second, third = replace(ONE, when="2"), replace(ONE, when="3")
    disk = Disk(monkeypatch, room_bytes)
    said = progress.add(second)
    assert "cannot be written" in said
    assert said.endswith("The last answer is kept only while this workbook is open.")
    assert progress.attempts == (ONE, second)
    assert ProgressFile(tmp_path).read().attempts[0] == ONE
    disk.room = 10**6
    assert progress.add(third) == ""
    assert progress.waiting == []
    # the line that lacked nothing but its end was whole after all, and stands there twice
    assert tuple(dict.fromkeys(ProgressFile(tmp_path).read().attempts)) == (ONE, second, third)


def test_a_device_that_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What could not be brought to the disk is not acknowledged."""

    def fail(handle: int) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(progress_file.os, "fsync", fail)
    with pytest.raises(ProgressError, match="input/output error"):
        ProgressFile(tmp_path).append(ONE)


def test_it_is_on_the_disk_before_it_is_acknowledged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One write that holds the whole line, then fsync of the same file."""
    ProgressFile(tmp_path).append(ONE)
    calls: list[tuple[str, Any]] = []
    write, sync = os.write, os.fsync

    def note_write(handle: int, data: bytes) -> int:
        calls.append(("write", data))
        return write(handle, data)

    def note_sync(handle: int) -> None:
        calls.append(("fsync", os.fstat(handle).st_ino))
        sync(handle)

    monkeypatch.setattr(progress_file.os, "write", note_write)
    monkeypatch.setattr(progress_file.os, "fsync", note_sync)
    ProgressFile(tmp_path).append(ONE)
    inode = (tmp_path / PROGRESS_NAME).stat().st_ino
    assert calls == [("write", line_of(ONE).encode()), ("fsync", inode)]


def test_another_workbooks_answers_are_seen(tmp_path: Path) -> None:
    """After an answer of one's own, those that another workbook added are known too."""
    mine, other = Progress(ProgressFile(tmp_path)), Progress(ProgressFile(tmp_path))
    theirs = replace(ONE, when="theirs")
    other.add(theirs)
    assert mine.attempts == ()
    mine.add(ONE)
    assert mine.attempts == (theirs, ONE)
    assert other.refresh() == ""
    assert other.attempts == (theirs, ONE)


def test_progress_goes_on_without_a_disk(tmp_path: Path) -> None:
    """With a folder in the file's place all is told and nothing raised."""
    (tmp_path / PROGRESS_NAME).mkdir()
    progress = Progress(ProgressFile(tmp_path))
    assert "no plain file" in progress.note
    assert "The last answer is" in progress.add(ONE)
    assert "The last 2 answers are" in progress.add(replace(ONE, when="2"))
    assert len(progress.attempts) == 2
    (tmp_path / PROGRESS_NAME).rmdir()
    assert progress.add(replace(ONE, when="3")) == ""
    assert len(ProgressFile(tmp_path).read().attempts) == 3


NO_ROOM = OSError(30, "Read-only file system")


@pytest.mark.parametrize("there", [True, False])
def test_a_folder_that_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool
) -> None:
    """It is told before the first answer, and answers are kept for this sitting."""
    if there:
        ProgressFile(tmp_path).append(ONE)
    opened = os.open

    def only_read(path: Any, flags: int, *more: Any, **named: Any) -> int:
        if flags & (os.O_WRONLY | os.O_RDWR):
            raise NO_ROOM
        return opened(path, flags, *more, **named)

    with monkeypatch.context() as patch:
        patch.setattr(os, "open", only_read)
        progress = Progress(ProgressFile(tmp_path))
        assert progress.this_sitting_only
        assert progress.note == (
            f"{PROGRESS_NAME} in {shown(str(tmp_path))} cannot be written: read-only file system. "
            "Progress is kept for this sitting only."
        )
        assert "The last answer is kept only while" in progress.add(replace(ONE, when="2"))
        assert len(progress.attempts) == 1 + there
    assert progress.add(replace(ONE, when="3")) == ""
    assert not progress.this_sitting_only
    assert len(ProgressFile(tmp_path).read().attempts) == 2 + there


def test_looking_whether_it_can_be_written_leaves_nothing(tmp_path: Path) -> None:
    """Neither in an empty folder nor in a file that is there."""
    progress = Progress(ProgressFile(tmp_path))
    assert (progress.note, progress.this_sitting_only) == ("", False)
    assert list(tmp_path.iterdir()) == []
    progress.add(ONE)
    before = lines(tmp_path)
    Progress(ProgressFile(tmp_path))
    assert lines(tmp_path) == before


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="needs a folder nobody can write to")
def test_a_folder_that_nobody_can_write_to() -> None:
    """A real one, which refuses the administrator too."""
    progress = Progress(ProgressFile("/proc/self"))
    assert progress.this_sitting_only
    assert progress.note.endswith("Progress is kept for this sitting only.")


def test_it_imports_little() -> None:
    """A progress file loads no drawing and no widgets."""
    code = (
        "import sys, mensura.disk.progress_file; "
        "print(*{'sympy', 'pandas', 'shapely', 'matplotlib', 'ipywidgets', 'scipy'}"
        " & set(sys.modules))"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert loaded.stdout.strip() == ""
