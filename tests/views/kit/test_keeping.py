"""What is kept of a page while one works on it: when it is written, and for whom."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

import ipywidgets as w
import pytest

from mensura.disk.kept_pages import KEPT_NAME, KeptError, KeptPages
from mensura.disk.own_code import OwnCodeFile
from mensura.views.kit import keeping as module
from mensura.views.kit.frame import framed, hear
from mensura.views.kit.keeping import Keeping, in_a_kernel, keeping
from mensura.views.kit.seat import Seat

PAGE = "02.ipynb"


class Box:
    """A text box that is kept as it stands; it cannot stand at "never"."""

    def __init__(self) -> None:
        self.text = w.Text()

    def kept(self) -> dict[str, Any]:
        return {"text": self.text.value}

    def restore(self, kept: dict[str, Any]) -> None:
        if kept["text"] == "never":
            raise ValueError
        self.text.value = kept["text"]


class Sheet:
    """A page of one kernel: boxes by name, all kept in one folder."""

    def __init__(self, folder: Path, code: str | None = None) -> None:
        self.folder = folder
        self.seat = Seat(OwnCodeFile(folder), code)
        self.keeping = Keeping(KeptPages(folder), PAGE, self.seat)
        self.boxes: dict[str, Box] = {}
        self.frames: dict[str, Any] = {}

    def show(self, name: str) -> Box:
        box = self.boxes[name] = Box()
        root = framed(
            w.VBox([box.text]), "mensura-ask", name=name, keeper=box, kept_by=self.keeping
        )
        self.frames[name] = root.children[0]
        return box

    def on_disk(self, student: str = "") -> dict[str, Any]:
        return {
            name: one["state"]["text"]
            for name, one in KeptPages(self.folder).read(student, PAGE).items()
        }


def test_what_was_done_is_there_again(tmp_path: Path) -> None:
    """Without a loop it is written at once; a frame made anew stands where the old one stood."""
    first = Sheet(tmp_path)
    first.show("one").text.value = "12,5"
    first.show("two")
    assert first.on_disk() == {"one": "12,5"}  # nothing is kept of what was not touched
    second = Sheet(tmp_path)
    assert second.show("one").text.value == "12,5"
    assert second.show("two").text.value == ""


def test_a_cell_that_is_run_again_keeps_what_was_done(tmp_path: Path) -> None:
    """The new frame of a name takes over; the old one is not kept any more."""
    sheet = Sheet(tmp_path)
    old = sheet.show("one")
    old.text.value = "a"
    new = sheet.show("one")
    assert new.text.value == "a"
    new.text.value = "b"
    old.text.value = "stale"
    assert sheet.on_disk() == {"one": "b"}


def test_it_is_written_about_once_a_second(tmp_path: Path, monkeypatch) -> None:
    """On a loop many changes are one writing, a while after the first; the end writes the rest."""
    monkeypatch.setattr(module, "LATER_S", 0.05)
    sheet = Sheet(tmp_path)
    box = sheet.show("one")
    count = 0
    put = KeptPages.put

    def counted(self: KeptPages, *given: Any) -> None:
        nonlocal count
        count += 1
        put(self, *given)

    monkeypatch.setattr(KeptPages, "put", counted)

    async def work() -> None:
        for k in range(50):
            box.text.value = str(k)
        assert count == 0
        await asyncio.sleep(0.15)
        assert (count, sheet.on_disk()) == (1, {"one": "49"})
        box.text.value = "last"

    asyncio.run(work())
    sheet.keeping.flush()  # as at the kernel's end
    assert (count, sheet.on_disk()) == (2, {"one": "last"})


def test_what_does_not_fit_is_left_out(tmp_path: Path) -> None:
    """A keeper that raises, a state that is none: the frame stands at its start, others as kept."""
    KeptPages(tmp_path).put(
        "",
        PAGE,
        {
            "one": {"state": {"text": "never"}, "drafts": []},
            "two": {"state": [1]},
            "three": {"state": {}},
            "four": {"state": {"text": "kept"}, "drafts": {"Answer": "1", "x": 2}},
        },
    )
    sheet = Sheet(tmp_path)
    shown = {name: sheet.show(name).text.value for name in ("one", "two", "three", "four")}
    assert shown == {"one": "", "two": "", "three": "", "four": "kept"}
    assert [frame.drafts for frame in sheet.frames.values()] == [{}, {}, {}, {"Answer": "1"}]


def test_what_the_disk_refuses_is_told_in_the_first_frame(tmp_path: Path, monkeypatch) -> None:
    """One sentence, once on the page; the next writing that succeeds takes it away."""
    sheet = Sheet(tmp_path)
    box = sheet.show("one")
    sheet.show("two")

    def refuse(*_: Any) -> None:
        raise KeptError("The disk is full.")

    with monkeypatch.context() as patched:
        patched.setattr(KeptPages, "put", refuse)
        box.text.value = "a"
        assert [frame.note for frame in sheet.frames.values()] == ["The disk is full.", ""]
        assert box.text.value == "a"
    box.text.value = "b"
    assert [frame.note for frame in sheet.frames.values()] == ["", ""]
    assert sheet.on_disk() == {"one": "b"}


def test_a_damaged_file_is_told_and_stays_told(tmp_path: Path) -> None:
    """It is put aside; the sentence stays although all is kept again."""
    (tmp_path / KEPT_NAME).write_text("{half")
    sheet = Sheet(tmp_path)
    box = sheet.show("one")
    box.text.value = "a"
    assert "was put aside as my-pages-old.json" in sheet.frames["one"].note
    assert (tmp_path / "my-pages-old.json").read_text() == "{half"
    assert sheet.on_disk() == {"one": "a"}


# ---- what the page says --------------------------------------------------------------------------


def test_drafts_are_kept_with_the_state(tmp_path: Path) -> None:
    """What is typed and not sent is checked, kept, and given to the frame that comes after."""
    sheet = Sheet(tmp_path)
    sheet.show("one")
    hear(sheet.keeping, sheet.frames["one"], {"kind": "drafts", "drafts": {"Answer": "12"}})
    again = Sheet(tmp_path)
    again.show("one")
    assert again.frames["one"].drafts == {"Answer": "12"}
    hear(again.keeping, again.frames["one"], {"kind": "drafts", "drafts": {}})
    assert Sheet(tmp_path).show("one").text.value == ""
    assert KeptPages(tmp_path).read("", PAGE)["one"]["drafts"] == {}


@pytest.mark.parametrize(
    "told", [None, 3, [], {}, {"kind": "run"}, {"kind": "drafts"}, {"kind": "drafts", "drafts": 4}]
)
def test_what_is_no_request_is_passed_over(tmp_path: Path, told: object) -> None:
    """Whatever comes, nothing raises and nothing is kept."""
    sheet = Sheet(tmp_path)
    sheet.show("one")
    hear(sheet.keeping, sheet.frames["one"], told)
    assert sheet.on_disk() == {}


def test_forgotten_is_forgotten(tmp_path: Path) -> None:
    """Start afresh: the file forgets the page, and this kernel's end does not write it again."""
    sheet = Sheet(tmp_path)
    box = sheet.show("one")
    box.text.value = "a"
    sent: list[Any] = []
    sheet.frames["one"].send = sent.append
    hear(sheet.keeping, sheet.frames["one"], {"kind": "forget"})
    assert sent == [{"kind": "forgotten"}]
    box.text.value = "b"
    sheet.keeping.flush()
    assert sheet.on_disk() == {}
    assert Sheet(tmp_path).show("one").text.value == ""


# ---- whose page ----------------------------------------------------------------------------------


def test_the_first_code_takes_along_what_was_done(tmp_path: Path) -> None:
    """What was done before anybody gave a code is hers who gives the first."""
    sheet = Sheet(tmp_path)
    box = sheet.show("one")
    box.text.value = "a"
    hear(sheet.keeping, sheet.frames["one"], {"kind": "code", "code": "Q07"})
    assert (sheet.frames["one"].student, box.text.value) == ("Q07", "a")
    assert (sheet.on_disk("Q07"), sheet.on_disk("")) == ({"one": "a"}, {})


def test_another_student_finds_her_own_page(tmp_path: Path) -> None:
    """On a shared machine each finds what she did, and nothing of the other's."""
    sheet = Sheet(tmp_path, "Q07")
    box, other = sheet.show("one"), sheet.show("two")
    box.text.value = "of Q07"
    hear(sheet.keeping, sheet.frames["one"], {"kind": "code", "code": "Q08"})
    assert (box.text.value, other.text.value) == ("", "")
    other.text.value = "of Q08"
    hear(sheet.keeping, sheet.frames["two"], {"kind": "code", "code": "Q07"})
    assert (box.text.value, other.text.value) == ("of Q07", "")
    assert sheet.on_disk("Q08")["two"] == "of Q08"


def test_what_follows_the_seat_by_itself_is_left_to_it(tmp_path: Path) -> None:
    """Its page is put back when it comes to the page, and not when a student does."""
    KeptPages(tmp_path).put("Q08", PAGE, {"one": {"state": {"text": "of Q08"}}})
    sheet = Sheet(tmp_path, "Q07")
    box = sheet.show("one")
    sheet.keeping._frames["one"].follows_the_seat = True
    box.text.value = "its own way"
    assert sheet.seat.take("Q08")
    assert box.text.value == "its own way"
    assert sheet.on_disk("Q07") == {"one": "its own way"}
    assert Sheet(tmp_path).show("one").text.value == "of Q08"


def test_a_known_code_leaves_what_nobody_did_where_it_is(tmp_path: Path) -> None:
    """Who comes back finds her page; what was done without a code is not lost."""
    Sheet(tmp_path, "Q07").show("one").text.value = "before"
    (tmp_path / "my-code.txt").unlink(missing_ok=True)
    sheet = Sheet(tmp_path)
    box = sheet.show("one")
    box.text.value = "nobody's"
    assert sheet.seat.take("Q07")
    assert box.text.value == "before"
    assert sheet.on_disk("") == {"one": "nobody's"}


def test_a_code_that_is_none_is_told(tmp_path: Path) -> None:
    """The frame says why, and stays whose it was."""
    sheet = Sheet(tmp_path, "Q07")
    sheet.show("one")
    hear(sheet.keeping, sheet.frames["one"], {"kind": "code", "code": "Anna Smith !"})
    assert sheet.frames["one"].student == "Q07"
    assert "student code" in sheet.frames["one"].student_note


# ---- when ----------------------------------------------------------------------------------------


def test_nothing_is_kept_outside_a_notebook(tmp_path: Path, monkeypatch) -> None:
    """A test, a script, and a kernel without a page keep nothing, whatever the environment says."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("JPY_SESSION_NAME", PAGE)
    assert not in_a_kernel()
    assert keeping().pages is None
    box = Box()
    framed(w.VBox([box.text]), "mensura-ask", name="one", keeper=box)
    box.text.value = "a"
    keeping().flush()
    assert list(tmp_path.iterdir()) == []


def test_a_kernel_keeps_its_page(tmp_path: Path, run_in_kernel, monkeypatch) -> None:
    """With a page it keeps, also by its end; without one it does not."""
    monkeypatch.chdir(tmp_path)
    cells = (
        "from mensura.views.chapters.asking import ask, Predicted",
        "one = Predicted(ask('02-predict')); one.answer.index = 2",
        "print(one.answer.index)",
    )
    monkeypatch.delenv("JPY_SESSION_NAME", raising=False)
    assert run_in_kernel(*cells).split() == ["2"]
    assert list(tmp_path.iterdir()) == []
    monkeypatch.setenv("JPY_SESSION_NAME", str(tmp_path / PAGE))
    run_in_kernel(
        *cells, "import time; time.sleep(0.1)", "import asyncio; await asyncio.sleep(1.5)"
    )
    assert (tmp_path / KEPT_NAME).is_file()
    again = run_in_kernel(cells[0], "print(Predicted(ask('02-predict')).answer.index)")
    assert again.split() == ["2"]
