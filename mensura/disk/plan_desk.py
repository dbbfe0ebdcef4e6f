"""A plan while it is being made: as it stands, even without a step; its head; what was dropped.

What `plan_file.py` does to steps is done there. Here is what a page needs beside it, by the same
rules: only the characters that must change do, what comes out is read before it is written, and a
file that changed in the meantime is left alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from mensura.disk import plan_text
from mensura.disk.locks import held
from mensura.disk.plan_file import (
    LOCK_NAME,
    NOTHING,
    USUAL_MINUTES,
    opening,
    usual_title,
    write_plan,
)
from mensura.disk.plan_read import (
    MOST_MINUTES,
    PlanError,
    Told,
    bare,
    blocks_of,
    bytes_of,
    parsed,
    text_of,
)
from mensura.disk.plan_text import statements
from mensura.disk.writing import reason
from mensura.teaching.lessons.plan import Plan, Step

#: What a file is like of which nothing is known.
Stamp = tuple[int, int, int] | None


@dataclass(frozen=True)
class Begun:
    """A plan that may have no step yet.

    title, minutes: as in a Plan; steps: perhaps none; there: whether there is such a file.
    """

    title: str
    minutes: float
    steps: tuple[Step, ...] = ()
    there: bool = False

    @property
    def plan(self) -> Plan | None:
        """The plan, for whoever changes it only as it was seen; None without a step."""
        return Plan(self.title, self.minutes, self.steps) if self.steps else None


def stamp(path: Path) -> Stamp:
    """What tells of a change without reading; None if no file is there.

    path: of the plan.
    """
    try:
        state = path.stat()
    except OSError:
        return None
    return state.st_mtime_ns, state.st_size, state.st_ino


def begun(path: Path) -> Begun:
    """The plan as it stands; one that is missing or empty has the usual minutes and no step.

    path: of the plan. Raises PlanError, one sentence with the line, for what cannot be read.

    >>> begun(Path("no such folder", "beech-bark.toml"))
    Begun(title='Beech bark', minutes=50, steps=(), there=False)
    """
    usual = usual_title(path)
    try:
        path.lstat()
    except FileNotFoundError:
        return Begun(usual, USUAL_MINUTES)
    except OSError as error:
        raise PlanError(path.name, 0, reason(error), "a plan that can be read") from None
    text = text_of(bytes_of(path), path.name)
    if not text.strip(NOTHING):
        return Begun(usual, USUAL_MINUTES, there=True)
    told = parsed(text, path.name)
    return Begun(told.title, told.minutes, tuple(told.steps), there=True)


def change_head(
    path: Path, *, title: str | None = None, minutes: float | None = None, seen: Begun
) -> None:
    """Changes a lesson's title or its minutes; a file that is missing is made.

    path: of the plan; title, minutes: as in a Plan, None leaves one alone; seen: the plan as it was
    shown. Raises PlanError, and then nothing was changed.
    """
    changes: dict[str, Any] = {}
    if title is not None:
        changes["title"] = title
    if minutes is not None:
        changes["minutes"] = minutes
    if minutes is not None and not 0 < minutes <= MOST_MINUTES:
        wanted = f"a number above 0 and at most {MOST_MINUTES}"
        raise PlanError(path.name, 0, f"minutes are {minutes:g}", wanted, field="minutes")

    def change(text: str) -> str:
        for name, told in changes.items():
            own = [one for one in statements(text.removeprefix("\ufeff")) if one.path == (name,)]
            lead = len(text) - len(text.removeprefix("\ufeff"))
            start, end = own[0].value_start + lead, own[0].value_end + lead
            text = text[:start] + plan_text.value(told) + text[end:]
        return text

    def expect(told: Told) -> None:
        told.title = changes.get("title", told.title)
        told.minutes = changes.get("minutes", told.minutes)

    _edit(path, change, expect, seen)


def written_step(path: Path, place: int) -> str:
    """The text of a step, remarks and all, for putting it back as it was.

    path: of the plan; place: from 0. Raises PlanError.
    """
    text = text_of(bytes_of(path), path.name)
    blocks = blocks_of(text)
    if not 0 <= place < len(blocks):
        raise PlanError(path.name, 0, f"place {place} has no step", f"one of {len(blocks)}")
    return text[blocks[place].start : blocks[place].end]


def put_back(path: Path, written: str, place: int, seen: Begun) -> int:
    """Puts a step back that was taken out; returns its place, from 0.

    path: of the plan; written: as :func:`written_step` gave it; the remarks above it stayed, and
    where they still stand at that place it comes below them; place: where it was, from 0, or the
    end if there are fewer now; seen: the plan as it was shown. Raises PlanError.
    """
    plain = written.replace("\r\n", "\n").rstrip("\n") + "\n"
    head = f'title = "-"\nminutes = 1\n\n{plain}'
    steps, blocks = parsed(head, path.name).steps, blocks_of(head)
    if len(steps) != 1:
        raise PlanError(path.name, 0, "this is not one step", "one [[step]]")
    remarks, step = head[blocks[0].start : blocks[0].heading], head[blocks[0].heading :]
    at = min(max(place, 0), len(seen.steps))

    def insert(text: str) -> str:
        ends = "\r\n" if text.partition("\n")[0].endswith("\r") else "\n"
        above, own = remarks.replace("\n", ends), step.replace("\n", ends)
        there = blocks_of(text)
        if at < len(there):
            cut = there[at].start
            cut += len(above) if text.startswith(above, cut) else 0
            return text[:cut] + own + ends + text[cut:]
        text = text if text.endswith("\n") else text + ends
        if text.endswith(ends * 2) or (above and text.endswith(above)):
            return text + own
        return text + ends + own

    def expect(told: Told) -> None:
        told.steps.insert(at, steps[0])

    _edit(path, insert, expect, seen)
    return at


def _edit(
    path: Path, edit: Callable[[str], str], expect: Callable[[Told], None], seen: Begun
) -> None:
    """Reads, edits, sees that the plan then says what it should, and writes."""
    name = path.name
    with held(path.with_name(LOCK_NAME)) as ours:
        if not ours:
            raise PlanError(name, 0, "it is just being changed", "another try in a moment")
        now = begun(path)
        if _says(now) != _says(seen):
            raise PlanError(name, 0, "the plan was changed in the meantime", "a look at it first")
        before = bytes_of(path) if now.there else None
        text = text_of(before or b"", name)
        if not text.strip(NOTHING):
            text += opening(path)
        told = parsed(text, name)
        expect(told)
        after = edit(text)
        if parsed(after, name).says != told.says:
            raise PlanError(name, 0, "this cannot be written by itself", "a change made by hand")
        write_plan(path, before, after)


def _says(plan: Begun) -> tuple[str, float, list[Step]]:
    """All that a plan says, wherever it stands in the file."""
    return plan.title, plan.minutes, bare(plan.steps)
