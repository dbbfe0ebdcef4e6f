"""A chapter is declared in one place: a made-up one, in a copy, is found everywhere."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

import mensura
from mensura.places import shipped
from mensura.teaching.lessons.chapters import CHAPTERS

PACKAGE = Path(mensura.__file__).resolve().parent
ROOT = Path(__file__).resolve().parents[3]

ROW = 'Chapter("99", "made-up", "Made up", questions="made_up", topics=("choosing",)),'
LAST = CHAPTERS[-1]
FRONT = "| 99 Made up | a chapter of this test's own, which says what it does in a line |\n"

ASK = """
import json, sys
from pathlib import Path
import mensura
from mensura.disk.lab import first_workbook
from mensura.teaching.lessons.chapters import CHAPTERS, chapter_of_topic, neighbours
from mensura.teaching.lessons.questions import question
from mensura.views import ask

print(json.dumps({
    "package": mensura.__file__,
    "files": [one.file for one in CHAPTERS],
    "question": question("99-predict").question,
    "asked": repr(ask("99-1")),
    "after the last": neighbours(CHAPTERS[-2].number)[1].heading,
    "logs": chapter_of_topic("choosing").number,
}))
"""


def change(path: Path, *pairs: tuple[str, str]) -> None:
    text = path.read_text("utf-8")
    for old, new in pairs:
        assert text.count(old) >= 1, old
        text = text.replace(old, new)
    path.write_text(text, "utf-8")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package, the pages and their tests, with one row more and what it names."""
    place = tmp_path_factory.mktemp("copy")
    leave = shutil.ignore_patterns("__pycache__")
    shutil.copytree(PACKAGE, place / "mensura", ignore=leave)
    shutil.copytree(shipped("workbooks"), place / "workbooks")
    shutil.copytree(shipped("data"), place / "data")
    (place / "tests").mkdir()
    for name in ("test_workbooks.py", "execute_workbooks.py"):
        shutil.copy(ROOT / "tests" / name, place / "tests" / name)
    shutil.copy(ROOT / "README.md", place)
    lessons = place / "mensura" / "teaching" / "lessons"
    end = "\n)\n\n\ndef chapter("
    change(lessons / "chapters.py", (end, f"\n    {ROW}{end}"))
    questions = lessons / "questions"
    shutil.copy(questions / "problems.py", questions / "made_up.py")
    change(questions / "made_up.py", ('"08-', '"99-'))
    book = nbformat.read(place / "workbooks" / "08-problems.ipynb", as_version=4)
    for cell in book.cells:
        cell.source = cell.source.replace("# 08 Problems", "# 99 Made up").replace("08-", "99-")
    last = f"Before: [{LAST.heading}]({LAST.file})"
    linked = re.sub(r" Next: \[.*?\)\.?", "", book.cells[-1].source)
    book.cells[-1].source = re.sub(r"Before: \[.*?\)", last, linked)
    nbformat.write(book, place / "workbooks" / "99-made-up.ipynb")
    return place


def run(place: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    # only the copy is on the path, whatever the installation names
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=place,
        env={**os.environ, "PYTHONPATH": str(place)},
        capture_output=True,
        text=True,
        check=False,
    )


def held(place: Path, chosen: str) -> dict[str, set[str]]:
    """Which of the chosen tests of the copy passed and which failed, by name."""
    done = run(
        *(
            place,
            "-m",
            "pytest",
            "-q",
            "-rA",
            "--assert=plain",
            "--tb=no",
            "-p",
            "no:cacheprovider",
        ),
        *(
            "--rootdir",
            str(place),
            "--import-mode=importlib",
            "-k",
            chosen,
            "tests/test_workbooks.py",
        ),
    )
    found: dict[str, set[str]] = {}
    for outcome, name in re.findall(r"^(PASSED|FAILED|ERROR) \S+?::(\S+)", done.stdout, re.M):
        found.setdefault(outcome, set()).add(name)
    assert found, done.stdout + done.stderr
    return found


def test_it_is_looked_up_everywhere(copy: Path) -> None:
    """Its questions, its place among the chapters, the topic that is now its own."""
    code = f"import sys; sys.path.insert(0, {str(copy)!r})\n{ASK}"
    done = run(copy, "-c", code)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert Path(told["package"]).is_relative_to(copy)
    assert told["files"][-1] == "99-made-up.ipynb"
    assert told["question"].startswith("A tape reads a girth.")
    assert told["asked"].startswith("Check yourself 1:")
    assert told["after the last"] == "99 Made up"
    assert told["logs"] == "99"


def test_its_page_is_held_to_the_rules_and_asked_for_on_the_front_page(copy: Path) -> None:
    """Every rule for a page walks it too; what is missing round it is missed, until it is there."""
    found = held(copy, "99 or front_page or lead_to_each")
    walked = {name for names in found.values() for name in names if name.endswith("[99-made-up]")}
    rules = set(
        re.findall(
            r"^def (test_\w+)\((?=[^)]*\b(?:any_)?(?:path|book)\b)",
            (ROOT / "tests" / "test_workbooks.py").read_text("utf-8"),
            re.MULTILINE,
        )
    )
    assert {name.partition("[")[0] for name in walked} == rules
    missed = {name.partition("[")[0] for name in found["FAILED"]}
    assert "test_the_front_page_lists_the_chapters" in missed
    assert "test_chapters_lead_to_each_other" in missed
    last = next(
        row
        for row in (copy / "README.md").read_text("utf-8").splitlines(True)
        if row.startswith(f"| {LAST.number} ")
    )
    change(copy / "README.md", (last, last + FRONT))
    one = CHAPTERS[-2]
    before = f"Before: [{one.heading}]({one.file})."
    change(
        copy / "workbooks" / LAST.file,
        (before, f"{before} Next: [99 Made up](99-made-up.ipynb)."),
    )
    left = {
        name.partition("[")[0]
        for name in held(copy, "front_page or lead_to_each").get("FAILED", ())
    }
    assert left == set()
