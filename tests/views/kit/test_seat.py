"""The seat: one code for all that a page shows, taken, left, and followed."""

from __future__ import annotations

from pathlib import Path

import pytest

from mensura.disk import own_code
from mensura.disk.own_code import OWN_CODE_NAME, OwnCodeFile
from mensura.disk.progress_file import ProgressFile
from mensura.teaching.problems.standing import Attempt
from mensura.views.kit import seat as seats
from mensura.views.kit.seat import Seat, seat


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty current folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_one_seat_for_all(here: Path) -> None:
    """The same at every call, empty at first; nothing is kept by looking."""
    assert seat() is seat()
    assert (seat().code, seat().note) == (None, "")
    assert list(here.iterdir()) == []


def test_taken_once_it_is_known_in_the_next_kernel(here: Path) -> None:
    """What a kernel of another chapter finds is the file."""
    assert seat().take(" Q07 ")
    assert (seat().code, seat().note) == ("Q07", "")
    assert Seat(OwnCodeFile()).code == "Q07"
    seat().leave()
    assert seat().code is None
    assert Seat(OwnCodeFile()).code is None
    assert list(here.iterdir()) == []


@pytest.mark.parametrize("typed", ["", "Q 7", "<b>", "x" * 21])
def test_what_is_no_code_changes_nothing(here: Path, typed: str) -> None:
    """The reason is the note; code and file stay."""
    seat().take("Q07")
    assert not seat().take(typed)
    assert seat().note.startswith("The student code is ")
    assert seat().code == "Q07"
    assert (here / OWN_CODE_NAME).read_text() == "Q07\n"


def test_another_case_is_asked_back(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The present code's, and one's that has answered in this folder."""
    ProgressFile(here).append(
        Attempt("K3", "k", "1", "girth-to-area", 1, "9", False, None, 0, False, "t")
    )
    seat().take("Q07")
    for typed, meant in (("q07", "Q07"), ("k3", "K3")):
        assert not seat().take(typed)
        assert seat().note == f"Did you mean {meant}? If {typed} is meant, give it once more."
    assert seat().code == "Q07"
    assert not seat().take("q07")  # something else was typed meanwhile
    assert not seat().take("q07")  # a double click
    monkeypatch.setattr(seats, "AGAIN_S", -1.0)
    assert seat().take("q07")
    assert (seat().code, seat().note) == ("q07", "")
    assert not seat().take("Q07")
    assert seat().take("Q07")
    seat().leave()
    assert seat().take("q07")  # nobody of that code is known any more


def test_who_watches_is_told_of_every_change(here: Path) -> None:
    """Taken, refused and left; not once it has ended."""
    heard: list[tuple[str | None, str]] = []
    end = seat().watch(lambda: heard.append((seat().code, seat().note)))
    seat().take("Q07")
    seat().take("")
    seat().leave()
    end()
    end()
    seat().take("Q12")
    assert [code for code, _ in heard] == ["Q07", "Q07", None]
    assert [bool(note) for _, note in heard] == [False, True, False]


def test_another_page_of_the_folder_is_followed(here: Path) -> None:
    """One look at the file: changed there it is changed here, unchanged it is left alone."""
    mine, other = seat(), Seat(OwnCodeFile())
    mine.take("Q07")
    assert not mine.look()
    assert other.look()
    assert other.code == "Q07"
    other.take("Q12")
    heard: list[str | None] = []
    mine.watch(lambda: heard.append(mine.code))
    assert mine.look()
    assert not mine.look()
    assert heard == ["Q12"]
    other.leave()
    assert mine.look()
    assert mine.code is None


def test_a_folder_that_cannot_be_written_keeps_the_sitting(
    here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The code holds while the kernel lives, and that it is so is said."""

    def forbid(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(own_code, "write_whole", forbid)
    assert seat().take("Q07")
    assert seat().note.endswith("The code is known for this sitting only.")
    assert not seat().look()
    assert seat().code == "Q07"


def test_a_damaged_file_is_told_at_the_start(here: Path) -> None:
    """And no code is taken from it."""
    (here / OWN_CODE_NAME).write_text("Q 7")
    assert seat().code is None
    assert "expected a code like Q07" in seat().note


def test_a_seat_of_its_own_keeps_nothing(here: Path) -> None:
    """As a lecturer's page has one for each student."""
    own = Seat(code="Q07")
    assert own.take("Q12")
    own.leave()
    assert not own.look()
    assert (own.code, list(here.iterdir())) == (None, [])
