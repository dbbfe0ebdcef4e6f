"""`mensura leaflet`: which workbooks are meant, where it saves, what it refuses in one sentence."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from mensura.cli.leaflet import _numbers
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.views.leaflets import moving


@pytest.fixture(autouse=True)
def few_positions(monkeypatch):
    monkeypatch.setattr(moving, "POSITIONS", 3)


PLAN = """title = "One question"
minutes = 5

[[step]]
workbook = "02"
section = "{}"
minutes = 5
"""


@pytest.mark.parametrize(
    "words",
    [
        ["02"],
        ["2"],
        ["02-out-of-round"],
        ["02-out-of-round.ipynb"],
        ["workbooks/02-out-of-round.ipynb"],
        ["workbooks/02*.ipynb"],
        ["workbooks\\02*.ipynb"],
        ["*round*"],
        ["02", "2", "02-out-of-round.ipynb"],
    ],
)
def test_a_workbook_is_meant_by_number_file_path_or_pattern(words):
    assert _numbers(words) == ["02"]


def test_a_pattern_may_mean_several_and_the_order_is_as_given():
    assert _numbers(["08", "0[12]*.ipynb"]) == ["08", "01", "02"]
    assert _numbers(["*"]) == [one.number for one in CHAPTERS]


def test_it_saves_under_a_free_name_and_says_where(run, tmp_path):
    """The folder is made; a second leaflet goes beside the first, which stays as it was."""
    out = tmp_path / "wall" / "of the hut"
    for name in ("08-problems-leaflet.html", "08-problems-leaflet-2.html"):
        result = run("leaflet", "08", "--out", str(out))
        assert result.exit_code == 0, result.output
        assert result.stdout == f"Saved: {out / name}\n"
        if name.endswith("-2.html"):
            assert (out / "08-problems-leaflet.html").read_text("utf-8") == "mine"
        assert (out / name).read_text("utf-8").startswith("<!DOCTYPE html>")
        (out / name).write_text("mine", "utf-8")
    assert sorted(one.name for one in out.iterdir()) == [
        "08-problems-leaflet-2.html",
        "08-problems-leaflet.html",
    ]


def test_recording_is_told_on_stderr(run, tmp_path):
    result = run("leaflet", "01", "--out", str(tmp_path))
    assert result.exit_code == 0
    assert result.stderr.startswith("01: recording Girth, diameter, area, ")
    assert result.stdout.startswith("Saved: ")
    assert result.stdout.count("\n") == 1


def test_a_lesson_is_named_after_its_plan_and_stands_beside_workbooks(run, tmp_path):
    plan = tmp_path / "oval stems.toml"
    plan.write_text(PLAN.format("02-predict"), "utf-8")
    result = run("leaflet", "08", "--plan", str(plan), "--out", str(tmp_path))
    assert result.exit_code == 0, result.output
    assert (tmp_path / "oval stems-leaflet.html").is_file()
    assert (tmp_path / "08-problems-leaflet.html").is_file()


def test_problems_of_the_bank_come_along_if_asked_for(run, tmp_path):
    plan = tmp_path / "one.toml"
    plan.write_text(PLAN.format("02-predict"), "utf-8")
    result = run("leaflet", "--plan", str(plan), "--problems", "--out", str(tmp_path))
    assert result.exit_code == 0, result.output
    assert "Numbers of Q01" in (tmp_path / "one-leaflet.html").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "WORKBOOK is missing; expected a number like 02"),
        (["14"], "WORKBOOK is '14'; expected a number from 01 to 13"),
        (["02-out-of-rund"], "WORKBOOK is '02-out-of-rund'; did you mean 02-out-of-round?"),
        (["mine/05-brk.ipynb"], "did you mean 05-bark.ipynb?"),
        ([""], "WORKBOOK is empty; expected a number from 01 to 13"),
        (["../../etc/passwd"], "WORKBOOK is '../../etc/passwd'; expected a number"),
        (["02", "--plan", ""], "--plan is empty; expected a plan's file"),
        (["02", "--plan", "no-such.toml"], "no-such.toml"),
        (["02", "--problem"], "did you mean --problems?"),
    ],
)
def test_refusals(refused, words, said):
    assert said in refused("leaflet", *words)


def test_a_wrong_plan_makes_no_leaflet_at_all(refused, tmp_path):
    plan = tmp_path / "p.toml"
    plan.write_text(PLAN.format("02-predikt"), "utf-8")
    said = refused("leaflet", "08", "--plan", str(plan), "--out", str(tmp_path / "out"))
    assert said == "p.toml, line 6: section is '02-predikt'; did you mean 02-predict?"
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_written_is_refused_before_anything_is_made(
    refused, tmp_path, monkeypatch
):
    file = tmp_path / "file"
    file.write_text("mine", "utf-8")
    assert "folder that can be written to" in refused("leaflet", "08", "--out", str(file))
    assert "folder that can be written to" in refused("leaflet", "08", "--out", str(file / "x"))
    assert "--out" in refused("leaflet", "08", "--out", "a\0b")
    assert file.read_text("utf-8") == "mine"

    def barred(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", barred)
    assert "permission denied" in refused("leaflet", "08", "--out", str(tmp_path))
    assert [one.name for one in Path(tmp_path).iterdir()] == ["file"]
