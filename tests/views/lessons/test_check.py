"""A plan that is checked can be given: whatever it names is there, and what is not is told with its
line and the nearest name that exists."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.checks import MeasureError
from mensura.disk import plan_things
from mensura.disk.plan_file import PlanError, add_step
from mensura.disk.plan_start import start_plan
from mensura.disk.plan_things import cell_of, kind_of, picture_of
from mensura.disk.sections import all_sections, section
from mensura.places import plan_file, plan_names
from mensura.teaching.controls import Choice, Control, Stepper, Switch
from mensura.teaching.lessons.plan import Plan, Step
from mensura.views.lessons.check import WITH_CONTROLS, checked_plan, controls_of, reach

HEAD = 'title = "Bark"\nminutes = 50\n\n[[step]]\nminutes = 4\n'
PANEL = 'workbook = "02"\nsection = "out-of-round-panel"\n'

PNG = b"\x89PNG\r\n\x1a\n" + b"\0" * 20


@pytest.fixture
def checked(tmp_path: Path) -> Any:
    """What is said of a plan with this one step: the plan, or the refusal."""

    def check(step: str) -> Plan:
        (tmp_path / "plan.toml").write_text(HEAD + step, "utf-8")
        return checked_plan(tmp_path / "plan.toml")

    return check


@pytest.fixture
def refused(checked: Any) -> Any:
    """One sentence, as the commands say it; its line is the one of the words that are marked."""

    def refuse(step: str) -> str:
        with pytest.raises(PlanError) as caught:
            checked(step.replace("«", "").replace("»", ""))
        said = str(caught.value)
        if "«" in step:
            line = (HEAD + step.partition("«")[0]).count("\n") + 1
            assert said.startswith(f"plan.toml, line {line}: "), said
        assert re.fullmatch(r"[^;]+; (expected [^;]+\.|did you mean [^;?]+\?)", said), said
        return said

    return refuse


# ---- what is good ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["", *plan_names()])
def test_the_plans_that_come_with_the_project_can_be_given(tmp_path: Path, name: str) -> None:
    """Both stand for fifty minutes, with something to spare; the short one for fifteen."""
    plan = checked_plan(start_plan(tmp_path / "p.toml", name))
    assert plan.takes_min == plan.minutes == (50 if name else 15)
    assert 0 < plan.spare_min <= plan.minutes / 4
    assert all(one.note for one in plan.steps) or not name


@pytest.mark.parametrize("name", plan_names())
def test_a_lesson_asks_moves_and_asks_again(name: str) -> None:
    """Twelve to eighteen screens; questions are asked twice, a panel between them; a problem, care
    in the field, and the proof where it is promised."""
    plan = checked_plan(plan_file(name))
    assert 12 <= len(plan.steps) <= 18
    shown = [(one.workbook, one.section) for one in plan.steps if one.section]
    kinds = [section(*one).kind for one in shown]
    twice = {one for one in shown if shown.count(one) > 1 and section(*one).kind == "question"}
    assert len(twice) == 2
    for one in twice:
        first = shown.index(one)
        again = shown.index(one, first + 1)
        assert "panel" in kinds[first:again]
    assert "problem" in kinds
    care = next(one for one in plan.steps if "Look up" in one.text)
    assert not care.spare
    assert ("proof" in kinds) == (name == "tapes-or-calipers")
    head = plan_file(name).read_text("utf-8").partition("title")[0]
    assert "Invented" in head
    assert "Quillmere" in head
    # what a class sees of words is little
    assert all(len(one.text.split()) <= 60 for one in plan.steps)


def test_what_the_notes_say_of_the_panels_is_so() -> None:
    """The figures in the lecturer's notes are the panels' own, at the plans' values."""
    from mensura.views.chapters import panels

    def said(name: str, start: Any, **moved: Any) -> str:
        panel = panels()[name]
        status: str = panel.status(panel.numbers(**panel.state({**start, **moved})))
        return status

    steps = [one for name in plan_names() for one in checked_plan(plan_file(name)).steps]
    by_title = {one.title: one for one in steps}
    turned = by_title["Turn the calipers"].start
    assert "calipers are nearer" in said("out_of_round", turned, caliper_direction_deg=22.0)
    assert "tape is nearer" in said("out_of_round", turned, caliper_direction_deg=23.0)
    flat = by_title["Make the stem rounder, and flatter"].start
    assert "Tape: 0.00 %" in said("out_of_round", flat, second_cm=60.0)
    lean = by_title["A jaw that leans"].start
    read = re.search(r"read (\d+\.\d+)", said("calipers", lean, jaw_lean_deg=1.0))
    assert read
    assert float(read[1]) < 40
    sound = by_title["One fault at a time"].start
    assert "Laid without a fault" in said("laying", sound)
    both = by_title["Two faults that cancel"].start
    assert "125.70 cm for a taut girth of 125.74 cm" in said("all_faults", both)


@given(data=st.data())
def test_any_value_that_a_control_takes_is_allowed(tmp_path_factory: Any, data: Any) -> None:
    """For every panel and road: at its steps and ends good, beyond them refused with the reach."""
    one = data.draw(
        st.sampled_from([each for each in all_sections() if each.kind in WITH_CONTROLS])
    )
    movers = controls_of(one)
    name = data.draw(st.sampled_from(sorted(movers)))
    mover = movers[name]
    good: Any
    bad: Any
    if isinstance(mover, Control):
        steps = round((mover.greatest - mover.least) / mover.step)
        good = mover.nearest(mover.least + mover.step * data.draw(st.integers(0, steps)))
        bad = data.draw(st.sampled_from([mover.greatest + 1, mover.least - 1, "wide", True]))
    else:
        good = data.draw(st.sampled_from(mover.ends))
        bad = data.draw(st.sampled_from([2.5, "nothing of the kind", -1]))
    folder = tmp_path_factory.mktemp("plan")
    add_step(folder / "p.toml", Step(1, one.workbook, one.name, {name: good}, (name,)))
    assert checked_plan(folder / "p.toml").steps[0].start == {name: good}
    add_step(folder / "q.toml", Step(1, one.workbook, one.name, {name: bad}))
    with pytest.raises(PlanError) as caught:
        checked_plan(folder / "q.toml")
    assert f"start of {name} is" in str(caught.value)
    assert reach(mover) in str(caught.value) or "did you mean" in str(caught.value)


@pytest.mark.parametrize(
    ("mover", "words"),
    [
        (Control("a", "a", "cm", -5, 5, 0.5, 0, "A"), "a number from −5 to 5 cm"),
        (Control("a", "a", "", 3, 60, 1, 28, "A", whole=True), "a whole number from 3 to 60"),
        (Switch("a", "a", "A"), "true or false"),
        (Choice("a", "a", "A", ("b", "c")), "one of: b, c"),
        (Stepper("a", "line", 7), "a whole number from 1 to 7"),
    ],
)
def test_the_reach_of_a_control_in_words(mover: Any, words: str) -> None:
    assert reach(mover) == words


# ---- sections and controls ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("step", "says"),
    [
        ('«workbook = "2"»\nsection = "predict"', "did you mean 02?"),
        ('«workbook = "02-out-of-round"»\nsection = "predict"', "did you mean 02?"),
        ('«workbook = "77"»\nsection = "predict"', "one of: 01, 02"),
        ('«workbook = "oak"»\nsection = "predict"', "one of: 01, 02"),
        ('workbook = "02"\n«section = "out-of-round-pannel"»', "did you mean out-of-round-panel?"),
        ('workbook = "02"\n«section = "Out of round panel"»', "did you mean out-of-round-panel?"),
        ('workbook = "02"\n«section = "zzz"»', "one that mensura plan --workbook 02 lists"),
        ('«workbook = "02"»\nsection = "bark-panel"', 'workbook 05; expected workbook = "05"'),
        (PANEL + "«start = { tilt_dg = 3 }»", "did you mean tilt_deg?"),
        (PANEL + '«start = { "first diameter" = 50 }»', "did you mean first_cm?"),
        (PANEL + "«start = { zzz = 3 }»", "one of: first_cm, second_cm"),
        (PANEL + "«start = { tilt_deg = 93 }»", "is 93 °; expected a number from 0 to 20 °"),
        (PANEL + "«start = { tilt_deg = nan }»", "is nan °; expected a number from 0 to 20 °"),
        (PANEL + '«start = { tilt_deg = "3" }»', "is '3'; expected a number from 0 to 20 °"),
        (PANEL + "«start = { tilt_deg = true }»", "is True; expected a number"),
        (PANEL + "«start = { marked = 1 }»", "is 1; expected true or false"),
        (PANEL + "«start = { ridges = 3.5 }»", "is 3.5; expected a whole number from 3 to 60"),
        (PANEL + "[step.start]\ntilt_deg = 3\n«ridges = 99»", "start of ridges is 99"),
        (PANEL + "start.tilt_deg = 3\n«start.ridges = 99»", "start of ridges is 99"),
        (PANEL + '«controls = ["tilt"]»', "did you mean tilt_deg?"),
        (
            'workbook = "03"\nsection = "outline-road"\n«start = { outline = "a sqare" }»',
            "did you mean a square?",
        ),
        (
            'workbook = "02"\nsection = "02-predict"\n«start = { tilt_deg = 3 }»',
            "a question, which has no controls; expected no start, or a panel",
        ),
        (
            'workbook = "02"\nsection = "predict"\n«controls = ["a"]»',
            "a text, which has no controls",
        ),
    ],
)
def test_what_is_not_there_is_told_with_what_is(refused: Any, step: str, says: str) -> None:
    assert says in refused(step)


@given(st.text(max_size=30), st.text(max_size=30))
def test_no_name_gets_through_that_is_not_there(
    tmp_path_factory: Any, workbook: str, name: str
) -> None:
    """Any words: a refusal, and never another error."""
    file = tmp_path_factory.mktemp("plan") / "p.toml"
    for one in (Step(1, workbook or "x", name or "x"), Step(1, "02", name or "x")):
        file.unlink(missing_ok=True)
        if any(
            (one.workbook, one.section) == (each.workbook, each.name) for each in all_sections()
        ):
            continue
        with pytest.raises(PlanError) as caught:
            checked_plan(add_step(file, one) or file)
        assert str(caught.value)[-1] in ".?"


def test_the_first_wrong_step_is_told(tmp_path: Path) -> None:
    """Two good ones stand before it, of the same section."""
    file = tmp_path / "p.toml"
    for tilt in (0, 20, 21, 22):
        add_step(file, Step(1, "02", "out-of-round-panel", {"tilt_deg": tilt}))
    with pytest.raises(PlanError, match="start of tilt_deg is 21") as caught:
        checked_plan(file)
    lines = file.read_text().split("\n")
    assert "21" in lines[caught.value.line - 1]


def test_what_cannot_be_read_is_no_plan_either(tmp_path: Path) -> None:
    with pytest.raises(MeasureError, match="no such file"):
        checked_plan(tmp_path / "none.toml")


# ---- pictures ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (PNG, "image/png"),
        (b"\xff\xd8\xff\xe0....", "image/jpeg"),
        (b"GIF89a....", "image/gif"),
        (b"GIF87a....", "image/gif"),
        (b"RIFF\x10\0\0\0WEBPVP8 ", "image/webp"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "image/svg+xml"),
        (
            b'\xef\xbb\xbf<?xml version="1.0"?>\n<!-- made -->\n<!DOCTYPE svg [<!ENTITY a "b">]>\n'
            b"<svg>",
            "image/svg+xml",
        ),
        (b"<svgx>", ""),
        (b"<html><svg>", ""),
        (b"RIFF\x10\0\0\0WAVE", ""),
        (b"\x89PNG", ""),
        (b"BM....", ""),
        (b"%PDF-1.7", ""),
        (b"", ""),
        (b"<!--" * 50_000, ""),
        (b"<!-- a -->" * 5_000 + b"x", ""),
        (b"<?a?>" * 5_000 + b"<svg>", "image/svg+xml"),
    ],
    ids=lambda one: str(one[:12]),
)
def test_a_picture_is_known_by_its_bytes(tmp_path: Path, content: bytes, kind: str) -> None:
    """Whatever the file is called."""
    assert kind_of(content) == kind
    (tmp_path / "disc.txt").write_bytes(content)
    step = Step(1, picture="disc.txt", alt="A disc", line=7)
    if kind:
        assert picture_of(tmp_path / "p.toml", step) == (kind, content)
    else:
        with pytest.raises(PlanError, match=r"line 7: .* is no picture; expected one of PNG"):
            picture_of(tmp_path / "p.toml", step)


@given(st.binary(max_size=200))
def test_any_bytes_are_looked_at(content: bytes) -> None:
    assert kind_of(content) == "" or content[:1] in b"\x89\xffGR<\xef \n\r\t\f\v"


def test_pictures_in_the_plans_folder_only(checked: Any, refused: Any, tmp_path: Path) -> None:
    """No way out by dots, from the root, by a drive or by a link; below the folder is good."""
    inside = tmp_path / "pictures"
    inside.mkdir()
    (inside / "disc.png").write_bytes(PNG)
    outside = tmp_path.parent / f"{tmp_path.name}-outside.png"
    outside.write_bytes(PNG)
    os.symlink(outside, tmp_path / "link.png")
    os.symlink(inside / "disc.png", tmp_path / "within.png")
    os.symlink(tmp_path.parent, tmp_path / "up")
    for name in ("pictures/disc.png", "./pictures/disc.png", "within.png", r"pictures\\disc.png"):
        assert checked(f'picture = "{name}"\nalt = "A disc"').steps[0].shows == "picture"
    for name in (
        f"../{outside.name}",
        str(outside),
        f"pictures/../../{outside.name}",
        "link.png",
        f"up/{outside.name}",
        r"C:\\disc.png",
        r"..\\disc.png",
        r"\\\\host\\share\\disc.png",
        r"a\u0000.png",
    ):
        said = refused(f'«picture = "{name}"»\nalt = "A disc"')
        assert "expected a path inside the plan's folder" in said, name


def test_pictures_that_cannot_be_shown(
    refused: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Missing, with the nearest name; a folder; too large; without words for who cannot see it."""
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "disc.png").write_bytes(PNG)
    alt = 'alt = "A disc"'
    assert "did you mean pictures/disc.png?" in refused(f'«picture = "pictures/disk.png"»\n{alt}')
    assert "a file in the plan's folder" in refused(f'«picture = "zzz.jpg"»\n{alt}')
    assert "is no file" in refused(f'«picture = "pictures"»\n{alt}')
    assert "without alt" in refused('«picture = "pictures/disc.png"»')
    with (tmp_path / "large.png").open("wb") as file:
        file.write(PNG)
        file.truncate(plan_things.MOST_PICTURE_MB * 1_000_000 + 1)
    assert "is larger than 20 MB" in refused(f'«picture = "large.png"»\n{alt}')
    with (tmp_path / "large.png").open("rb+") as file:
        file.truncate(plan_things.MOST_PICTURE_MB * 1_000_000)
    assert picture_of(tmp_path / "plan.toml", Step(1, picture="large.png", alt="a"))[0]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no such files on this system")
def test_a_pipe_is_not_waited_for(refused: Any, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.png")
    assert "is no file" in refused('«picture = "pipe.png"»\nalt = "A disc"')


# ---- notebooks ---------------------------------------------------------------------------------


def test_cells_of_ones_own(checked: Any, refused: Any, tmp_path: Path) -> None:
    """Text and code are good; what is missing, unreadable or not to be shown is refused."""
    cells = [
        {"cell_type": "markdown", "source": ["# a\n", "b"], "metadata": {}},
        {"cell_type": "code", "source": "1 + 1", "metadata": {}, "outputs": []},
        {"cell_type": "raw", "source": "x", "metadata": {}},
        {"cell_type": "code", "source": 7},
        "no cell",
    ]
    book = tmp_path / "own.ipynb"
    book.write_text(json.dumps({"cells": cells, "nbformat": 4}), "utf-8-sig")
    for place in (1, 2):
        checked(f'notebook = "own.ipynb"\ncell = {place}')
    assert cell_of(tmp_path / "p.toml", Step(1, notebook="own.ipynb", cell=1))["source"] == "# a\nb"
    for place in (3, 4, 5):
        said = refused(f'notebook = "own.ipynb"\n«cell = {place}»')
        assert "holds nothing to show; expected a cell of text or of code" in said
    assert "expected one from 1 to 5" in refused('notebook = "own.ipynb"\n«cell = 6»')
    assert "did you mean own.ipynb?" in refused('notebook = "ow.ipynb"\n«cell = 6»')
    for content in (b"", b"{}", b"[]", b'{"cells": 3}', b"\xff", b"[" * 100_000, b"print(1)"):
        book.write_bytes(content)
        said = refused('notebook = "own.ipynb"\n«cell = 1»')
        assert "cannot be read; expected a notebook" in said
    book.write_text('{"cells": []}')
    assert "expected a notebook that has one" in refused('notebook = "own.ipynb"\n«cell = 1»')
    assert "inside the plan's folder" in refused('notebook = "../own.ipynb"\n«cell = 1»')
