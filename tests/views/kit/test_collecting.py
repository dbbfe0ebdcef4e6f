"""Into the lesson: what a page asks for becomes a step; a class is heard by nobody."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from mensura.disk.plan_place import PLAN_VARIABLE
from mensura.disk.plan_read import read_plan
from mensura.disk.sections import KINDS, all_sections
from mensura.teaching.lessons.minutes import MINUTES
from mensura.views.chapters import panels
from mensura.views.chapters.asking import Predicted, ask
from mensura.views.kit import collecting, frame
from mensura.views.kit.collecting import hear, into, places
from mensura.views.proof.panel import proof_panel

BARK = "05-bark.ipynb"


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A lecturer's plan, not there yet."""
    path = tmp_path / "lesson.toml"
    monkeypatch.setenv(PLAN_VARIABLE, str(path))
    return path


def test_every_kind_has_its_minutes() -> None:
    assert set(MINUTES) == set(KINDS)


def test_a_page_knows_its_sections(plan: Path) -> None:
    """All but the lines of a road, whose road has them; a copy's too, and no other page's."""
    told = [one["name"] for one in places("03-the-proof-fresh-2.ipynb")]
    assert told == [
        one.name for one in all_sections() if one.workbook == "03" and one.kind != "proof step"
    ]
    assert places("my-03-notes.ipynb") == places("") == places("99-x.ipynb") == []
    names = [one["words"] for one in places("02-out-of-round.ipynb")]
    assert len(set(names)) == len(names)


def test_sections_of_all_kinds_go_in(plan: Path) -> None:
    """Each with the minutes of its kind, in the order in which they were asked for."""
    wanted = {one.kind: one for one in all_sections() if one.kind != "proof step"}
    for place, one in enumerate(wanted.values(), 1):
        minutes = f"{MINUTES[one.kind]:g} minutes"
        said = into(f"{one.workbook}-x.ipynb", one.name)
        assert said == (f"Into lesson.toml: step {place}, {minutes}.", True)
    steps = read_plan(plan).steps
    assert [(one.workbook, one.section) for one in steps] == [
        (one.workbook, one.name) for one in wanted.values()
    ]
    assert not any(one.start for one in steps)


def test_a_panel_goes_in_as_it_stands(plan: Path) -> None:
    """What was moved, and nothing else; a preset's values, switches and all."""
    panel = panels()["bark"]
    live = panel.at_work()
    name = next(iter(panel.presets))
    live.set(**panel.presets[name])
    first = panel.controls[0]
    live.set(**{first.name: first.least})
    said, done = into(BARK, "bark-panel", live)
    assert (said, done) == ("Into lesson.toml: step 1, 5 minutes, as it stands now.", True)
    (step,) = read_plan(plan).steps
    assert panel.state(step.start) == live.state
    assert all(value != panel.start()[key] for key, value in step.start.items())
    live.set(**panel.start())
    assert into(BARK, "bark-panel", live)[0] == "Into lesson.toml: step 2, 5 minutes."
    assert read_plan(plan).steps[1].start == {}


def test_a_road_goes_in_whole_or_by_its_present_line(plan: Path) -> None:
    """Where one is in it is no value of the road; the line is a section of its own."""
    live = proof_panel("classroom").at_work()
    for _ in range(3):
        live.step(1)
    live.set(a_cm=35.0)
    page = "03-the-proof.ipynb"
    assert into(page, "classroom-road", live, True) == (
        "Into lesson.toml: step 1, 1 minute, as it stands now.",
        True,
    )
    into(page, "classroom-road", live)
    steps = read_plan(plan).steps
    assert [(one.section, dict(one.start)) for one in steps] == [
        ("classroom-road-4", {"a_cm": 35.0}),
        ("classroom-road", {"a_cm": 35.0}),
    ]


def test_why_something_does_not_go_in(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence; the plan stays as it is."""
    said, done = into(BARK, "brak-panel")
    assert said.startswith("Not added: section is 'brak-panel'; ")
    assert not done
    assert not into("notes.ipynb", "bark-panel")[1]
    assert not into(BARK, "predict", Predicted(ask("05-predict")), True)[1]
    assert not plan.exists()
    plan.write_text('title = "Bark"\nminutes = 2,5\n')
    said, done = into(BARK, "predict")
    assert said == "Not added: lesson.toml, line 2: a decimal comma; expected a point, as in 2.5."
    assert plan.read_text() == 'title = "Bark"\nminutes = 2,5\n'
    monkeypatch.delenv(PLAN_VARIABLE)
    assert into(BARK, "predict") == (
        "Not added: this page was not opened with mensura open --lecturer.",
        False,
    )


@pytest.mark.parametrize(
    "told",
    [None, 3, [], {}, {"kind": 3}, {"kind": "into"}, {"kind": "into", "section": 4}, {"kind": "x"}],
)
def test_what_is_no_message_of_ours_is_passed_over(plan: Path, told: object) -> None:
    assert hear(told, BARK, None) is None
    assert not plan.exists()


def test_the_answer_says_which_button_it_is_for(plan: Path) -> None:
    """And only a frame's own button adds what stands in that frame."""
    live = panels()["bark"].at_work()
    first = live.panel.controls[0]
    live.set(**{first.name: first.least})
    told = {"kind": "into", "section": "predict", "token": "7", "own": False}
    answer = hear(told, BARK, live)
    assert answer == {
        "kind": "into",
        "token": "7",
        "said": "Into lesson.toml: step 1, 3 minutes.",
        "done": True,
    }
    assert read_plan(plan).steps[0].start == {}


def test_a_class_is_sent_nothing_of_it(
    run_in_kernel: Callable[..., str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Neither the part of the frame's module nor an ear: a kernel with a plan has both."""
    cell = (
        "from mensura.views import ask\n"
        "from mensura.views.kit.frame import module_text\n"
        "frame = ask('05-predict').build().children[0]\n"
        "sent = []; frame.send = lambda told: sent.append(told['kind'])\n"
        "frame._handle_custom_msg({'kind': 'places'}, [])\n"
        "print('mensura:into' in module_text(), 'mensura:into' in frame._esm, sent)"
    )
    monkeypatch.delenv(PLAN_VARIABLE, raising=False)
    assert run_in_kernel(cell) == "False False []\n"
    monkeypatch.setenv(PLAN_VARIABLE, str(tmp_path / "lesson.toml"))
    assert run_in_kernel(cell) == "True True ['places']\n"


def test_the_part_is_written_as_the_others_are() -> None:
    """A comment first, one part, no export: it stands behind them in one module."""
    here = Path(frame.__file__).with_name(collecting.SCRIPT)
    text: Any = here.read_text("utf-8")
    assert text.startswith("// ")
    assert text.count("parts.push(") == 1
    assert "export" not in text
