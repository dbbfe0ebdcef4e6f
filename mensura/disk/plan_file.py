"""A lecturer's plan on the disk: read with the line of whatever is wrong, and edited as text.

An edit changes the characters it must and no others, so that remarks, blank lines and the order of
everything else stay as the lecturer wrote them. What would come out is read before it is written:
an edit after which the plan said anything else than was asked for is not made. A file is written
whole, under a lock, and never over one that has changed since it was read.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

from mensura.checks import MeasureError, shown
from mensura.disk import plan_text
from mensura.disk.locks import held
from mensura.disk.plan_read import (
    MOST_BYTES,
    STEP_KEYS,
    Block,
    PlanError,
    bare,
    blocks_of,
    bytes_of,
    parsed,
    read_plan,
    text_of,
)
from mensura.disk.writing import reason, write_new, write_whole
from mensura.teaching.lessons.plan import Plan, Step

__all__ = ["PlanError", "add_step", "change_step", "drop_step", "move_step", "read_plan"]

#: Held while a plan is changed; of no content, and it may be deleted.
LOCK_NAME = ".mensura-plan.lock"

#: How long a lesson is whose plan is made by its first step.
USUAL_MINUTES = 50

#: Signs of which an empty file consists.
NOTHING = "\ufeff \t\r\n"


def add_step(path: str | Path, step: Step) -> int:
    """Appends a step; a file that is missing or empty is made. Returns the step's place, from 0.

    path: of the plan; step: its line does not count. Raises PlanError.
    """
    path = Path(path)
    written = _written(step, path.name)

    def append(text: str) -> str:
        if not text.strip(NOTHING):
            text += opening(path)
        ended = text if text.endswith("\n") else text + _break_of(text)
        return ended + _break_of(text) + written.replace("\n", _break_of(text))

    return _edit(path, append, lambda steps: steps.append(step), missing=True) - 1


def move_step(path: str | Path, place: int, to: int, seen: Plan | None = None) -> None:
    """Moves a step; the others keep their order.

    path: of the plan; place, to: where it is and where it will be, from 0; seen: the plan as it was
    shown, if a file that says something else now is to be left alone. Raises PlanError.
    """

    def move(text: str) -> str:
        blocks = blocks_of(text)
        cores = [text[one.start : one.end] for one in blocks]
        gaps = [text[one.end : after.start] for one, after in pairwise(blocks)]
        gaps.append(text[blocks[-1].end :])
        cores.insert(to, cores.pop(place))
        head = text[: blocks[0].start]
        return head + "".join(core + gap for core, gap in zip(cores, gaps, strict=True))

    def expect(steps: list[Step]) -> None:
        steps.insert(to, steps.pop(place))

    _edit(Path(path), move, expect, (place, to), seen)


def drop_step(path: str | Path, place: int, seen: Plan | None = None) -> Step:
    """Takes a step out; remarks above it stay. Returns the step, so that it can be put back.

    path: of the plan; place: from 0; seen: as for move_step. Raises PlanError. A plan without its
    last step is a file to which steps can be added, and cannot be read as a plan.
    """
    dropped: list[Step] = []

    def drop(text: str) -> str:
        one = blocks_of(text)[place]
        after = text[one.end :]
        lines = after.removeprefix("\r").removeprefix("\n")
        next_line = lines.partition("\n")[0]
        # the blank line behind it goes with it
        if lines and not next_line.strip():
            lines = lines[len(next_line) + 1 :]
        return text[: one.heading] + lines

    _edit(Path(path), drop, lambda steps: dropped.append(steps.pop(place)), (place,), seen)
    return dropped[0]


def change_step(
    path: str | Path,
    place: int,
    *,
    minutes: float | None = None,
    spare: bool | None = None,
    note: str | None = None,
    seen: Plan | None = None,
) -> None:
    """Changes a step's minutes, whether it may be left out, or its note; None leaves one alone.

    path: of the plan; place: from 0; minutes, spare, note: as a Step has them; seen: as for
    move_step. Raises PlanError.
    """
    asked = {"minutes": minutes, "spare": spare, "note": note}
    changes: dict[str, Any] = {name: told for name, told in asked.items() if told is not None}

    def change(text: str) -> str:
        for name, told in changes.items():
            text = _with_value(text, blocks_of(text)[place], name, told)
        return text

    def expect(steps: list[Step]) -> None:
        try:
            steps[place] = replace(steps[place], **changes)
            plan_text.value(changes).encode("utf-8")
        except (MeasureError, TypeError, UnicodeEncodeError) as error:
            said = error.expectation if isinstance(error, MeasureError) else "plain values"
            raise PlanError(Path(path).name, 0, "this cannot be written", said) from None

    _edit(Path(path), change, expect, (place,), seen)


def _with_value(text: str, block: Block, name: str, told: Any) -> str:
    """A text with one value of a step set: where it stands, or below the step's other lines."""
    written = plan_text.string(told) if isinstance(told, str) else plan_text.value(told)
    written = written.replace("\n", _break_of(text))
    own = [one for one in block.own if one.path == ("step", name)]
    if own:
        return text[: own[0].value_start] + written + text[own[0].value_end :]
    if not told:
        return text
    first = [one for one in block.own if one.kind == "array"]
    for one in block.own[1:]:
        if one.kind != "value":
            break
        first.append(one)
    end = first[-1].end
    return f"{text[:end]}{_break_of(text)}{name} = {written}{text[end:]}"


def _edit(
    path: Path,
    edit: Callable[[str], str],
    expect: Callable[[list[Step]], object],
    places: Sequence[int] = (),
    seen: Plan | None = None,
    missing: bool = False,
) -> int:
    """Reads, edits, sees that the plan then says what it should, and writes; returns how many steps
    there are then.
    """
    name = path.name
    if not path.parent.is_dir():  # a lock would make it
        raise PlanError(name, 0, "its folder is not there", "a folder that can be written to")
    with held(path.with_name(LOCK_NAME)) as ours:
        if not ours:
            raise PlanError(name, 0, "it is just being changed", "another try in a moment")
        there = path.exists() or not missing
        before = bytes_of(path) if there else b""
        text = text_of(before, name)
        fresh = missing and not text.strip(NOTHING)
        told = parsed(opening(path) if fresh else text, name)
        if seen is not None and (seen.title, seen.minutes, bare(seen.steps)) != told.says:
            raise PlanError(name, 0, "the plan was changed in the meantime", "a look at it first")
        for one in places:
            if isinstance(one, bool) or not isinstance(one, int) or not 0 <= one < len(told.steps):
                there_are = f"one of {len(told.steps)}, counted from 0"
                raise PlanError(name, 0, f"place {shown(one)} has no step", there_are)
        expect(told.steps)
        after = edit(text if text.endswith("\n") or not text else text + _break_of(text))
        result = parsed(after, name)
        if result.says != told.says:
            raise PlanError(name, 0, "this cannot be written by itself", "a change made by hand")
        write_plan(path, before if there else None, after)
        return len(result.steps)


def write_plan(path: Path, before: bytes | None, after: str) -> None:
    """Writes a plan, unless something else than was read stands there now.

    path: of the plan; before: what was read, None if no file was there; after: all of it. Raises
    PlanError.
    """
    try:
        content = after.encode("utf-8")
    except UnicodeEncodeError:
        raise PlanError(path.name, 0, "this cannot be written", "plain letters") from None
    if len(content) > MOST_BYTES:
        raise PlanError(path.name, 0, "the plan would be too large", "less than 1 MB")
    try:
        if before is None:
            made = write_new(path, content)
        else:
            made = path.read_bytes() == before
            if made and content != before:
                write_whole(path, content)
    except OSError as error:
        raise PlanError(path.name, 0, reason(error), "a folder that can be written to") from None
    if not made:
        wrong = "the plan was changed by another program just now"
        raise PlanError(path.name, 0, wrong, "a look at it first")


def _break_of(text: str) -> str:
    """How the file's first line ends."""
    return "\r\n" if text.partition("\n")[0].endswith("\r") else "\n"


def usual_title(path: Path) -> str:
    """What a lesson is called by its file's name.

    path: of the plan.

    >>> usual_title(Path("beech-bark.toml"))
    'Beech bark'
    """
    words = " ".join(path.stem.replace("-", " ").replace("_", " ").split())
    return words.capitalize() or "Lesson"


def opening(path: Path) -> str:
    """How a plan begins that is made by its first step.

    path: of the plan.
    """
    return (
        "# The plan of a lesson: mensura plan checks it, mensura present shows it.\n"
        f"title = {plan_text.string(usual_title(path))}\nminutes = {USUAL_MINUTES}\n"
    )


def _written(step: Step, file: str) -> str:
    """A step as it is written. Raises PlanError for one that no plan can hold."""
    lines = ["[[step]]"]
    table: list[str] = []
    usual = Step(1, text="-")
    for name in STEP_KEYS:
        told = getattr(step, name)
        empty = () if name == "controls" else {} if name == "start" else getattr(usual, name)
        if name == "text":
            empty = ""
        if told == empty and name != "minutes":
            continue
        if name == "start":
            told = dict(told)
        try:
            written = (
                plan_text.string(told)
                if name in ("text", "note") and isinstance(told, str)
                else plan_text.value(told)
            )
            written.encode("utf-8")
        except (TypeError, UnicodeEncodeError):
            expected = "words, numbers, true or false"
            raise PlanError(file, 0, f"{name} cannot be written", expected, field=name) from None
        line = f"{name} = {written}"
        if name == "start" and len(line) > 100:
            table = ["", "[step.start]"]
            table += [f"{plan_text.key(one)} = {plan_text.value(at)}" for one, at in told.items()]
        else:
            lines.append(line)
    return "\n".join([*lines, *table]) + "\n"
