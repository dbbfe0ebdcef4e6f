"""A plan while it is made: it may be missing or empty; what was dropped comes back as it was."""

from __future__ import annotations

from pathlib import Path

import pytest

from mensura.disk import plan_desk
from mensura.disk.plan_desk import begun, change_head, put_back, stamp, written_step
from mensura.disk.plan_file import add_step, drop_step
from mensura.disk.plan_read import PlanError
from mensura.teaching.lessons.plan import Step

TEXT = """# for the second year
title = "Bark"  # a working title
minutes = 50

# r0
[[step]]
workbook = "05"
section = "predict"
minutes = 3

# r1
# r1, too
[[step]]
workbook = "05"
section = "bark-panel"
minutes = 4 # or five
start = { bark_cm = 2 }

# r2
[[step]]
text = '''
[[step]] is no step here
'''
minutes = 5
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "my-lesson.toml"
    path.write_bytes(TEXT.encode())
    return path


@pytest.mark.parametrize("content", [None, b"", b"\xef\xbb\xbf\r\n \n"])
def test_a_plan_that_is_missing_or_empty_has_no_step(plan: Path, content: bytes | None) -> None:
    """It is called as its file is, and the first step or title makes it."""
    plan.unlink() if content is None else plan.write_bytes(content)
    seen = begun(plan)
    assert (seen.title, seen.minutes, seen.steps, seen.plan) == ("My lesson", 50, (), None)
    assert seen.there == (content is not None)
    change_head(plan, title="Bark", seen=seen)
    add_step(plan, Step(3, "05", "predict"))
    made = begun(plan)
    assert (made.title, made.minutes, len(made.steps)) == ("Bark", 50, 1)


def test_a_head_is_changed_where_it_stands(plan: Path) -> None:
    change_head(plan, title='Bark, "the" coat\\', seen=begun(plan))
    change_head(plan, minutes=42.5, seen=begun(plan))
    expected = TEXT.replace('"Bark"', r'"Bark, \"the\" coat\\"').replace("= 50", "= 42.5")
    assert plan.read_text() == expected


@pytest.mark.parametrize("minutes", [0, -3, 1000.5, float("nan"), float("inf")])
def test_minutes_that_no_lesson_has_change_nothing(plan: Path, minutes: float) -> None:
    with pytest.raises(PlanError, match="expected a number above 0 and at most 1000"):
        change_head(plan, minutes=minutes, seen=begun(plan))
    assert plan.read_text() == TEXT


@pytest.mark.parametrize("place", [0, 1, 2])
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_what_was_dropped_comes_back_to_the_letter(plan: Path, place: int, ends: str) -> None:
    """With its remarks, wherever it stood and however the lines end."""
    plan.write_bytes(TEXT.replace("\n", ends).encode())
    before = plan.read_bytes()
    written = written_step(plan, place)
    drop_step(plan, place)
    assert len(begun(plan).steps) == 2
    assert put_back(plan, written, place, begun(plan)) == place
    assert plan.read_bytes() == before


def test_all_may_be_dropped_and_come_back(plan: Path) -> None:
    """In any order; a plan with fewer steps than there were takes one at its end."""
    steps = begun(plan).steps
    kept = []
    for _ in steps:
        kept.append(written_step(plan, 0))
        drop_step(plan, 0)
    assert begun(plan).steps == ()
    for written in reversed(kept):
        put_back(plan, written, 0, begun(plan))
    assert [(one.shows, one.minutes) for one in begun(plan).steps] == [
        (one.shows, one.minutes) for one in steps
    ]
    drop_step(plan, 0)
    assert put_back(plan, kept[0], 40, begun(plan)) == 2


@pytest.mark.parametrize("written", ["", "# nothing", "minutes = 3", "[[step]]\n[[step]]\n", "[x]"])
def test_only_one_step_is_put_back(plan: Path, written: str) -> None:
    """What is kept lies in a file that anybody may write in."""
    with pytest.raises(PlanError):
        put_back(plan, written, 0, begun(plan))
    assert plan.read_text() == TEXT


def test_a_plan_that_changed_since_it_was_seen_is_left_alone(plan: Path) -> None:
    seen, written = begun(plan), written_step(plan, 0)
    changed = TEXT.replace("minutes = 3", "minutes = 4")
    plan.write_text(changed)
    for change in (
        lambda: change_head(plan, title="Mine", seen=seen),
        lambda: put_back(plan, written, 0, seen),
    ):
        with pytest.raises(PlanError, match="the plan was changed in the meantime"):
            change()
    assert plan.read_text() == changed


def test_a_change_while_it_is_written_is_not_overwritten(
    plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between reading and writing an editor may save."""
    real = plan_desk.parsed

    def slow(text: str, name: str) -> object:
        if "Mine" in text:
            plan.write_text(TEXT + "# saved meanwhile\n")
        return real(text, name)

    monkeypatch.setattr(plan_desk, "parsed", slow)
    with pytest.raises(PlanError, match="changed by another program just now"):
        change_head(plan, title="Mine", seen=begun(plan))
    assert plan.read_text() == TEXT + "# saved meanwhile\n"


def test_a_plan_that_cannot_be_read_is_told_with_its_line(plan: Path) -> None:
    plan.write_text(TEXT.replace("minutes = 5\n", "minutes = 2,5\n"))
    with pytest.raises(PlanError) as caught:
        begun(plan)
    assert caught.value.line == TEXT.splitlines().index("minutes = 5") + 1


def test_a_stamp_tells_of_a_change(plan: Path) -> None:
    first = stamp(plan)
    assert first == stamp(plan)
    plan.write_text(TEXT + "#")
    assert stamp(plan) != first
    plan.unlink()
    assert stamp(plan) is None
