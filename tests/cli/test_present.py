"""`mensura present`, with the start of JupyterLab itself left out (see browser/test_lesson.py)."""

from __future__ import annotations

import hashlib
import os
import socket
import webbrowser
from pathlib import Path
from typing import Any

import pytest

from mensura.disk import lab
from mensura.disk.lab_server import ASKED
from mensura.disk.lesson_book import LESSON
from mensura.places import plan_file, plan_names

PLAN = """\
title = "Two instruments"
minutes = 10

[[step]]
workbook = "02"
section = "02-predict"
minutes = 4
"""


@pytest.fixture(autouse=True)
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A plan in the current folder, and a browser, whether or not this machine has one."""
    monkeypatch.setattr(webbrowser, "get", lambda: webbrowser.GenericBrowser("none"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my plan.toml").write_text(PLAN)
    return tmp_path


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[tuple[list[str], dict[str, str]]]:
    """The commands that were started, with their environment; each ends with exit code 7."""
    commands: list[tuple[list[str], dict[str, str]]] = []

    def start(command: list[str], environment: dict[str, str]) -> int:
        commands.append((command, environment))
        return 7

    monkeypatch.setattr(lab, "start", start)
    return commands


def test_it_lays_the_lesson_out_says_so_and_starts(run: Any, started: Any, desk: Path) -> None:
    result = run("present", "my plan.toml", "--no-browser", "--port", "0")
    folder = desk / "my plan-lesson"
    assert result.exit_code == 7
    assert result.stdout.splitlines() == [
        "Lesson: Two instruments, 1 step, 4 of 10 minutes.",
        f"What is done in it is kept in {folder}.",
        "Page Down goes on, Page Up back; ? tells the other keys.",
        "To stop it, press Ctrl-C here and answer y.",
        "No browser is opened: open the address with token= that JupyterLab prints below.",
    ]
    ((command, environment),) = started
    assert f"--ServerApp.root_dir={folder}" in command
    assert f"--LabApp.default_url=/doc/tree/{LESSON}" in command
    assert {"--ServerApp.port=0", "--ServerApp.open_browser=False"} < set(command)
    # the server signs the very notebook that was laid, and no other
    lies = (folder / LESSON).read_bytes()
    assert environment[ASKED] == hashlib.sha256(lies).hexdigest()


@pytest.mark.parametrize("name", plan_names())
def test_the_shipped_plans_can_be_given(run: Any, started: Any, desk: Path, name: str) -> None:
    (desk / "theirs.toml").write_bytes(plan_file(name).read_bytes())
    assert run("present", "theirs.toml").exit_code == 7
    assert (desk / "theirs-lesson" / LESSON).is_file()


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ('section = "02-predict"', 'section = "02-predct"', ("line 6", "02-predict")),
        ("minutes = 4", "minutes = 0", ("line 7", "above 0")),
        ("minutes = 4", "minutes = 4\npicture = 'a.png'", ("line", "one of")),
        ("minutes = 10", "minutes = = 10", ("line 2",)),
        ("minutes = 4", "minutes = 4\nstart = { turn = 3 }", ("line 8",)),
    ],
)
def test_a_wrong_plan_opens_nothing(
    run: Any, started: Any, desk: Path, before: str, after: str, said: tuple[str, ...]
) -> None:
    """One sentence, with the line; neither a folder nor a server is begun."""
    (desk / "my plan.toml").write_text(PLAN.replace(before, after))
    result = run("present", "my plan.toml")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert len(result.stderr.strip().splitlines()) == 1
    assert all(words in result.stderr for words in said)
    assert os.listdir(desk) == ["my plan.toml"]
    assert started == []


def test_a_taken_port_is_refused_and_a_free_one_named(run: Any, started: Any, desk: Path) -> None:
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        sock.listen()
        port = sock.getsockname()[1]
        result = run("present", "my plan.toml", "--port", str(port))
    assert result.exit_code == 2
    assert f"--port {port} is in use; expected a free one" in result.stderr
    assert os.listdir(desk) == ["my plan.toml"]
    assert started == []


def test_a_folder_that_cannot_be_used_is_refused(run: Any, started: Any, desk: Path) -> None:
    (desk / "my plan-lesson").write_text("mine")
    result = run("present", "my plan.toml")
    assert result.exit_code == 2
    assert "my plan-lesson" in result.stderr
    assert "expected a folder that can be written to" in result.stderr
    assert (desk / "my plan-lesson").read_text() == "mine"
    assert started == []


def test_no_plan_at_all(run: Any, started: Any) -> None:
    for words in (["nowhere.toml"], [""], ["."], []):
        result = run("present", *words)
        assert result.exit_code == 2
        assert len(result.stderr.strip().splitlines()) == 1
    assert started == []


def test_a_name_in_two_words(run: Any, started: Any) -> None:
    result = run("present", "my", "plan.toml")
    assert result.exit_code == 2
    assert '"my plan.toml" as one word' in result.stderr
    assert started == []
