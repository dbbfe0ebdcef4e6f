"""What was done on a page lies on the disk: whole, beside others', never over what is not ours."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import given
from hypothesis import strategies as st

from mensura.disk import kept_pages, locks
from mensura.disk.kept_pages import (
    FORMAT,
    KEPT_NAME,
    LOCK_NAME,
    KeptError,
    KeptPages,
    session_page,
)

PAGE = "02-out-of-round.ipynb"

#: Anything that JSON can say, as a frame might keep it.
JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.text(max_size=20)
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner),
    max_leaves=12,
)  # fmt: skip
ENTRIES = st.dictionaries(
    st.text(max_size=30), st.dictionaries(st.text(max_size=9), JSON), max_size=4
)


@given(first=ENTRIES, second=ENTRIES, student=st.sampled_from(["", "Q07", "Ü1"]))
def test_what_is_kept_comes_back(tmp_path_factory, first, second, student) -> None:
    """Two writings of a page are one in the file; of a frame the later counts; no other sees it."""
    pages = KeptPages(tmp_path_factory.mktemp("kept"))
    pages.put(student, PAGE, first)
    pages.put(student, PAGE, second)
    assert pages.read(student, PAGE) == first | second
    assert pages.read("Q08", PAGE) == {}
    assert pages.read(student, "01.ipynb") == {}
    pages.forget(student, PAGE)
    assert pages.read(student, PAGE) == {}
    assert pages.note == ""


def test_forgetting_leaves_other_pages(tmp_path: Path) -> None:
    """Only this student's page goes."""
    pages = KeptPages(tmp_path)
    for student, page in (("Q07", PAGE), ("Q07", "01.ipynb"), ("Q08", PAGE)):
        pages.put(student, page, {"a": {"state": 1}})
    pages.forget("Q07", PAGE)
    assert pages.read("Q07", PAGE) == {}
    assert pages.read("Q07", "01.ipynb") == pages.read("Q08", PAGE) == {"a": {"state": 1}}


def test_nothing_is_made_by_looking(tmp_path: Path) -> None:
    """A folder in which nothing was done holds no file of ours."""
    pages = KeptPages(tmp_path)
    assert pages.read("", PAGE) == {}
    pages.forget("", PAGE)
    assert list(tmp_path.iterdir()) == []


DAMAGED = {
    "half": b'{"mensura": "mensura kept pages 1", "stud',
    "no text": b"\xff\xfe\x00",
    "empty": b"",
    "a list": b"[1, 2]",
    "another version": json.dumps({"mensura": "mensura kept pages 2", "students": {}}).encode(),
    "another program's": b'{"pages": {}}',
    "students are none": json.dumps({"mensura": FORMAT, "students": 3}).encode(),
    "deep": b"[" * 100_000,
    "large": b" " * 5000,
}


@pytest.mark.parametrize("name", DAMAGED)
def test_what_is_not_ours_is_put_aside(tmp_path: Path, name: str, monkeypatch) -> None:
    """It stays under another name, byte for byte; one sentence tells; the page goes on."""
    monkeypatch.setattr(kept_pages, "MOST_BYTES", 4000 if name == "large" else 16_000_000)
    for taken in ("my-pages-old.json", KEPT_NAME):
        (tmp_path / taken).write_bytes(DAMAGED[name])
    pages = KeptPages(tmp_path)
    assert pages.read("Q07", PAGE) == {}
    assert pages.note.startswith("my-pages.json is ")
    assert "put aside as my-pages-old-2.json" in pages.note
    pages.put("Q07", PAGE, {"a": {"state": 1}})
    assert pages.read("Q07", PAGE) == {"a": {"state": 1}}
    for kept in ("my-pages-old.json", "my-pages-old-2.json"):
        assert (tmp_path / kept).read_bytes() == DAMAGED[name]


def test_parts_that_do_not_fit_are_passed_over(tmp_path: Path) -> None:
    """A page that is no page, or a frame that is no frame, does not spoil the others."""
    students = {"Q07": {PAGE: {"a": 3, "b": {"state": 1}}, "01.ipynb": []}, "Q08": "x"}
    (tmp_path / KEPT_NAME).write_text(json.dumps({"mensura": FORMAT, "students": students}))
    pages = KeptPages(tmp_path)
    assert pages.read("Q07", PAGE) == {"b": {"state": 1}}
    assert pages.read("Q07", "01.ipynb") == pages.read("Q08", PAGE) == {}
    pages.put("Q08", PAGE, {"c": {"state": 2}})
    assert pages.read("Q08", PAGE) == {"c": {"state": 2}}
    assert pages.read("Q07", PAGE) == {"b": {"state": 1}}


@pytest.mark.parametrize("kind", ["link", "folder"])
def test_no_plain_file(tmp_path: Path, kind: str) -> None:
    """A link is neither followed nor replaced; nor is a folder."""
    target = tmp_path / "elsewhere.json"
    if kind == "link":
        target.write_text("mine")
        (tmp_path / KEPT_NAME).symlink_to(target)
    else:
        (tmp_path / KEPT_NAME).mkdir()
    pages = KeptPages(tmp_path)
    for deed in (lambda: pages.read("", PAGE), lambda: pages.put("", PAGE, {"a": {}})):
        with pytest.raises(KeptError, match="link or a folder here, no plain file"):
            deed()
    if kind == "link":
        assert target.read_text() == "mine"
        assert (tmp_path / KEPT_NAME).is_symlink()


def test_in_use(tmp_path: Path, monkeypatch) -> None:
    """While another has the file nothing is written, and it is said that this passes."""
    monkeypatch.setattr(locks, "WAIT_S", 0.05)
    pages = KeptPages(tmp_path)
    pages.put("", PAGE, {"a": {"state": 1}})
    with FileLock(tmp_path / LOCK_NAME):
        code = (
            "import sys; from mensura.disk.kept_pages import *\n"
            "try: KeptPages(sys.argv[1]).put('', 'x.ipynb', {'a': {}})\n"
            "except KeptError as error: print(error.passes, error)"
        )
        told = subprocess.run(
            [sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True
        )
    assert told.stdout.startswith("True my-pages.json is in use by another page")
    assert pages.read("", "x.ipynb") == {}


def test_the_disk_refuses(tmp_path: Path, monkeypatch) -> None:
    """One sentence with the reason, and what was kept before is as it was."""
    pages = KeptPages(tmp_path)
    pages.put("", PAGE, {"a": {"state": 1}})

    def full(path: Path, content: bytes) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(kept_pages, "write_whole", full)
    with pytest.raises(KeptError) as told:
        pages.put("", PAGE, {"a": {"state": 2}})
    assert "cannot be written: no space left on device; what is done on this page is not kept." in (
        str(told.value)
    )
    assert pages.read("", PAGE) == {"a": {"state": 1}}


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    """Nothing is there; what is to be kept is refused in one sentence."""
    pages = KeptPages(tmp_path / "gone")
    assert pages.read("", PAGE) == {}
    with pytest.raises(KeptError, match=r"cannot be written: no such folder"):
        pages.put("", PAGE, {"a": {}})


def test_bounds(tmp_path: Path, monkeypatch) -> None:
    """A frame that would keep a book is refused, and so is a file without end."""
    pages = KeptPages(tmp_path)
    with pytest.raises(KeptError, match="'Own proof' is too long for my-pages"):
        pages.put("", PAGE, {"Own proof": {"state": "x" * 70_000}})
    monkeypatch.setattr(kept_pages, "MOST_BYTES", 1_000_000)
    for k in range(19):
        pages.put("", f"{k}.ipynb", {"a": {"state": "x" * 50_000}})
    with pytest.raises(KeptError, match="would be larger than 1 MB"):
        pages.put("", "a.ipynb", {name: {"state": "x" * 50_000} for name in "ab"})
    assert pages.read("", "0.ipynb")
    assert pages.read("", "a.ipynb") == {}


def test_two_kernels_lose_nothing(tmp_path: Path) -> None:
    """Two that write at once, each its own page: all is there afterwards."""
    code = (
        "import sys; from mensura.disk.kept_pages import *\n"
        "for k in range(25):\n"
        "    while True:\n"
        "        try: KeptPages(sys.argv[1]).put('Q07', sys.argv[2], {str(k): {'state': k}})\n"
        "        except KeptError as error: assert error.passes, error\n"
        "        else: break"
    )
    both = [
        subprocess.Popen([sys.executable, "-c", code, str(tmp_path), page])
        for page in ("1.ipynb", "2.ipynb")
    ]
    assert [one.wait(60) for one in both] == [0, 0]
    for page in ("1.ipynb", "2.ipynb"):
        kept = KeptPages(tmp_path).read("Q07", page)
        assert kept == {str(k): {"state": k} for k in range(25)}
    assert {one.name for one in tmp_path.iterdir()} <= {KEPT_NAME, LOCK_NAME}


def test_which_page_a_kernel_works_for() -> None:
    """The notebook's own name, wherever it lies; a kernel of something else works for none."""
    told = {"JPY_SESSION_NAME": os.path.join("class", "a", PAGE)}
    assert session_page(told) == PAGE
    assert session_page({"JPY_SESSION_NAME": "notes.txt"}) == ""
    assert session_page({}) == ""
