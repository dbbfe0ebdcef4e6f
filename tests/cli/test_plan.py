"""`mensura plan`: what can be named, a plan to start from, and how long one takes."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from mensura.cli import main
from mensura.disk.plan_file import add_step, read_plan
from mensura.disk.sections import KINDS, all_sections
from mensura.places import plan_file, plan_names
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.plan import Step
from mensura.teaching.proof.roads import road
from mensura.views.lessons.check import checked_plan, controls_of


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.fixture
def said(run):
    """What is printed, of a command that does its work."""

    def say(*words: str) -> str:
        result = run("plan", *words)
        assert result.exit_code == 0, result.output
        assert result.stderr == ""
        return result.stdout

    return say


# ---- the list ----------------------------------------------------------------------------------


def test_every_section_can_be_found_in_the_list(said) -> None:
    """By workbook, then by kind, each on a line with what it is; a proof's step with its line."""
    text = said()
    for chapter, part in zip(CHAPTERS, text.split("\n\n"), strict=False):
        lines = part.split("\n")
        assert lines[0] == chapter.heading
        named = [line.split()[0] for line in lines if re.match(r" {4}\S", line)]
        there = [one for one in all_sections() if one.workbook == chapter.number]
        assert sorted(named) == sorted(one.name for one in there)
        kinds = [line.strip() for line in lines if re.match(r" {2}\S", line)]
        assert kinds == [one for one in KINDS if one in {each.kind for each in there}]
    assert re.search(r"classroom-road-7 +\(a − b\)² > 0\n", text)
    assert text.strip().endswith('workbook = "01" and section = "girth-panel".')


def test_a_panel_lists_its_controls(said) -> None:
    """Each by its name in a plan, with what it is called, how far it goes and its unit."""
    text = said("--workbook", "2", "--kind", "panel")
    assert re.search(r"first_cm +first diameter: a number from 35 to 70 cm\n", text)
    assert re.search(r"marked +mark where the tape wins: true or false\n", text)
    for one in all_sections():
        if one.kind in ("panel", "proof"):
            part = said("--workbook", one.workbook, "--kind", one.kind)
            assert all(
                re.search(rf"^ +{name} +\S", part, re.MULTILINE) for name in controls_of(one)
            )


@pytest.mark.parametrize("kind", KINDS)
def test_one_kind_or_one_workbook(said, kind: str) -> None:
    """Kinds as one would type them; nothing else is listed."""
    for spelt in {kind, kind.replace(" ", "-"), f"{kind}s"}:
        text = said("--kind", spelt)
        named = re.findall(r"^ {4}(\S+)", text, re.MULTILINE)
        assert named == [one.name for one in all_sections() if one.kind == kind]


def test_filters_that_find_nothing_are_refused(refused) -> None:
    assert refused("plan", "--kind", "pannel").endswith("did you mean panel?")
    assert "one of: text, picture" in refused("plan", "--kind", "oak")
    assert "one of: 01, 02" in refused("plan", "--workbook", "99")
    assert "expected another kind" in refused("plan", "--workbook", "08", "--kind", "panel")


# ---- a new plan --------------------------------------------------------------------------------


def test_a_new_plan_can_be_given_as_it_is(said) -> None:
    """It says what each line is for, names the commands, and shows each kind of step."""
    told = said("--new", "oval stems.toml")
    assert 'mensura plan "oval stems.toml" checks it' in told
    plan = checked_plan("oval stems.toml")
    assert {one.shows for one in plan.steps} == {"section", "text"}
    text = Path("oval stems.toml").read_text("utf-8")
    assert text.isascii()
    for word in ("start", "controls", "note", "spare", "title", "text", "picture", "notebook"):
        assert re.search(rf"^(# )?{word} = ", text, re.MULTILINE), word
    # what stands there to be uncommented is good as well
    tail = text[text.rindex("one.\n") if "one.\n" in text else text.index("# [[step]]") :]
    Path("pictures").mkdir()
    Path("pictures/disc.jpg").write_bytes(b"\xff\xd8\xff")
    Path("my-own.ipynb").write_text('{"cells": [{}, {}, {"cell_type": "code", "source": "1"}]}')
    bare = re.sub(r"(?m)^# ?(?=\[\[|\w+ = )", "", tail)
    Path("more.toml").write_text(text.replace(tail, bare), "utf-8")
    assert [one.shows for one in checked_plan("more.toml").steps][-2:] == ["picture", "notebook"]
    add_step("oval stems.toml", Step(1, text="More."))
    assert len(read_plan("oval stems.toml").steps) == len(plan.steps) + 1


@pytest.mark.parametrize("name", plan_names())
def test_a_new_plan_like_one_of_ours(said, name: str) -> None:
    said("--new", "mine.toml", "--like", name)
    assert Path("mine.toml").read_bytes() == plan_file(name).read_bytes()


def test_nothing_is_overwritten(said, refused) -> None:
    """Not a file, not a link, not a folder; and nothing is left of the attempt."""
    Path("mine.toml").write_text("mine")
    os.symlink("nowhere.toml", "link.toml")
    Path("folder.toml").mkdir()
    for name in ("mine.toml", "link.toml", "folder.toml"):
        assert "a name that is free" in refused("plan", "--new", name)
    assert Path("mine.toml").read_text() == "mine"
    assert sorted(os.listdir()) == ["folder.toml", "link.toml", "mine.toml"]
    assert "a folder that can be written to" in refused("plan", "--new", "none/mine.toml")
    assert refused("plan", "--new", "lesson").endswith("did you mean lesson.toml?")
    assert "ends in .toml" in refused("plan", "--new", "what?")
    assert refused("plan", "--new", "b.toml", "--like", "falts").endswith("did you mean faults?")
    assert "expected --new FILE" in refused("plan", "--like", "faults")
    assert sorted(os.listdir()) == ["folder.toml", "link.toml", "mine.toml"]


# ---- how long a plan takes ---------------------------------------------------------------------


def test_the_steps_with_their_minutes(said) -> None:
    """Each with the time at which it ends; the sum against the plan's minutes; what is spare."""
    for one in (
        Step(4, "02", "02-predict"),
        Step(2.5, text="## *Go* out", spare=True),
        Step(1.5, "02", "out-of-round-panel", title="Turn it"),
        Step(2, "03", "classroom-road-7", spare=True),
    ):
        add_step("two-stems.toml", one)
    text = said("two-stems.toml")
    rows = [line.split(None, 4) for line in text.split("\n") if re.match(r" +\d+ ", line)]
    assert [row[:3] for row in rows] == [
        ["1", "4", "4"],
        ["2", "2.5", "6.5"],
        ["3", "1.5", "8"],
        ["4", "2", "10"],
    ]
    assert rows[1][3:] == ["spare", "Go out"]
    assert text.split("\n")[0] == "Two stems"
    assert "4 steps take 10 of 50 minutes: 40 left." in text
    assert "May be left out: steps 2 and 4, 4.5 minutes; then it takes 5.5." in text


@pytest.mark.parametrize(
    ("minutes", "says"),
    [(3, "3 of 3 minutes: just right"), (2.5, "3 of 2.5 minutes: 0.5 too many")],
)
def test_the_sum_against_the_minutes_there_are(said, minutes: float, says: str) -> None:
    step = '[[step]]\ntext = "a"\nminutes = 3\n'
    Path("p.toml").write_text(f'title = "P"\nminutes = {minutes}\n{step}')
    assert f"1 step takes {says}." in said("p.toml")
    assert "Nothing may be left out" in said("p.toml")
    tenths = step.replace("3", "0.1") + step.replace("3", "0.2")
    Path("p.toml").write_text(f'title = "P"\nminutes = 0.3\n{tenths}')
    assert "2 steps take 0.3 of 0.3 minutes: just right." in said("p.toml")


def test_a_lesson_too_long_says_whether_leaving_out_helps(said) -> None:
    add_step("p.toml", Step(45, text="a"))
    add_step("p.toml", Step(10, text="b", spare=True))
    text = said("p.toml")
    assert "55 of 50 minutes: 5 too many" in text
    assert "May be left out: step 2, 10 minutes; then it takes 45." in text


@pytest.mark.parametrize("name", plan_names())
def test_ours_take_fifty_minutes(said, name: str) -> None:
    assert "50 of 50 minutes: just right" in said(str(plan_file(name)))


def test_a_wrong_plan_is_refused_in_one_sentence(refused) -> None:
    """With its line; nothing is printed of the rest."""
    add_step("lesson.toml", Step(4, "02", "02-predict"))
    add_step("lesson.toml", Step(4, "02", "out-of-round-pannel"))
    line = Path("lesson.toml").read_text().split("\n").index('section = "out-of-round-pannel"') + 1
    told = refused("plan", "lesson.toml")
    wrong = "section is 'out-of-round-pannel'"
    assert told == f"lesson.toml, line {line}: {wrong}; did you mean out-of-round-panel?"
    assert refused("plan", "leson.toml").endswith("did you mean lesson.toml?")
    assert "FILE is empty" in refused("plan", "")
    assert refused("plan", "my", "lesson.toml").endswith(
        'did you mean "my lesson.toml" as one word?'
    )


def test_two_things_at_once_are_refused(refused) -> None:
    add_step("lesson.toml", Step(4, text="a"))
    for words in (
        ["lesson.toml", "--kind", "panel"],
        ["lesson.toml", "--new", "b.toml"],
        ["--workbook", "02", "--new", "b.toml"],
    ):
        assert "expected one of them" in refused("plan", *words)
    assert not Path("b.toml").exists()


def test_a_console_of_few_letters_shows_a_plan_all_the_same(run) -> None:
    """Words that steer a terminal are spelt out."""
    add_step("p.toml", Step(1, text="\x1b[2J\u202eabc"))
    text = run("plan", "p.toml").stdout
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert r"\x1b[2J\u202eabc" in text
    assert main.get_command(None, "plan") is not None  # type: ignore[arg-type]
    assert road("classroom").steps[6].line in run("plan", "--kind", "proof-step").stdout
