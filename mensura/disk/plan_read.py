"""A plan read from its file, with the line of whatever is wrong in it, in one sentence.

tomllib says what the file says; the scan (`plan_text.py`) says where. A name that is not known is
refused with the nearest that is, since a slip of the pen must not pass for a wish.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from mensura.checks import MeasureError, alike, shown
from mensura.disk import plan_text
from mensura.disk.plan_text import Statement, statements
from mensura.disk.writing import reason
from mensura.teaching.lessons.plan import Plan, Step

#: Where a plan lies, as words or as a path.
Where = str | Path

#: A plan that is larger is none.
MOST_BYTES = 1_000_000

#: No lesson is longer.
MOST_MINUTES = 1000

_WORDS, _NUMBER = "words between quotation marks", f"a number above 0 and at most {MOST_MINUTES}"
_PLAN_KEYS = ("title", "minutes", "step")

#: Keys of a step, in the order in which they are written: what each may be, and how that is said.
STEP_KEYS: dict[str, tuple[type | tuple[type, ...], str]] = {
    "title": (str, _WORDS),
    "workbook": (str, 'a workbook\'s number between quotation marks, as in "02"'),
    "section": (str, _WORDS),
    "text": (str, _WORDS),
    "picture": (str, _WORDS),
    "alt": (str, _WORDS),
    "notebook": (str, _WORDS),
    "cell": (int, "a cell's number, from 1"),
    "minutes": ((int, float), _NUMBER),
    "spare": (bool, "true or false"),
    "controls": (list, 'names of controls, as in ["tilt_deg"]'),
    "start": (dict, "values of controls, as in { tilt_deg = 3 }"),
    "note": (str, _WORDS),
}

#: What stands beside what, and what for.
_BESIDE = (
    ("workbook", "section", "the name of a section beside workbook"),
    ("section", "workbook", 'a workbook beside section, as in workbook = "02"'),
    ("notebook", "cell", "the number of a cell beside notebook"),
    ("cell", "notebook", "a notebook beside cell"),
    ("alt", "picture", "a picture beside alt"),
    ("start", "section", "workbook and section beside start"),
    ("controls", "section", "workbook and section beside controls"),
)


class PlanError(MeasureError):
    """A plan that cannot be used, told in one sentence with the place in its file.

    file: the file's name; line: in it, from 1, or 0 for the whole file; wrong: what is wrong there;
    expectation: what would do; near: names that there are, to ask back; field: the key; value: what
    it was set to.

    >>> print(PlanError("bark.toml", 7, "section is 'brak'", near=["bark"]))
    bark.toml, line 7: section is 'brak'; did you mean bark?
    """

    def __init__(
        self,
        file: str,
        line: int,
        wrong: str,
        expectation: str = "",
        near: Sequence[str] = (),
        field: str = "plan",
        value: object = None,
    ) -> None:
        self.file, self.line, self.wrong = file, line, wrong
        self.near, self.field, self.value = tuple(near), field, value
        self.expectation, self.unit = expectation, ""
        self.where = f"line {line}" if line else ""
        place = f"{file}, line {line}" if line else file
        asked = f"did you mean {' or '.join(self.near)}?" if self.near else ""
        self.says = f"{place}: {wrong}; {asked or f'expected {expectation}.'}"
        ValueError.__init__(self, self.says)

    def sentence(self, field_name: str) -> str:
        """The sentence; the file and the line in it say more than a field's name.

        field_name: not used.
        """
        return self.says


@dataclass(frozen=True)
class Block:
    """A step's place in the text; what lies between two of them is nobody's.

    start: of the remarks right above it; heading: of its [[step]]; end: past its last line; own:
    its statements.
    """

    start: int
    heading: int
    end: int
    own: tuple[Statement, ...]

    def line_of(self, *names: str) -> int:
        """The line on which a name stands, or its table, or the step itself.

        names: of a key, and of one inside it.
        """
        for count in range(len(names), 0, -1):
            for one in self.own:
                if one.path[1 : count + 1] == names[:count]:
                    return one.line
        return self.own[0].line


@dataclass
class Told:
    """What a file says: a plan, perhaps without steps.

    title, minutes, steps: as a Plan has them.
    """

    title: str
    minutes: float
    steps: list[Step]

    @property
    def says(self) -> tuple[object, ...]:
        """All of it, wherever it stands in the file."""
        return self.title, self.minutes, bare(self.steps)


def read_plan(path: Where) -> Plan:
    """The plan that a file holds, each step with its line.

    path: of the file. Raises PlanError, one sentence with the line. Whether the sections, pictures
    and cells exist is asked by mensura.views.lessons.check.
    """
    return read_with_places(path)[0]


def read_with_places(path: Where) -> tuple[Plan, list[Block]]:
    """The same, and where each of its steps stands.

    path: of the file. Raises PlanError.
    """
    name = Path(path).name
    text = text_of(bytes_of(Path(path)), name)
    told = parsed(text, name)
    if not told.steps:
        raise PlanError(name, 0, "there is no step", "at least one [[step]]", field="step")
    return Plan(told.title, told.minutes, tuple(told.steps)), blocks_of(text)


def bare(steps: Sequence[Step]) -> list[Step]:
    """Steps without their lines, so that those of two files can be compared.

    steps: of a plan.
    """
    return [replace(one, line=0) for one in steps]


def bytes_of(path: Path) -> bytes:
    """What a plan's file holds. Raises PlanError.

    path: of the file.
    """
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as error:
        near: tuple[str, ...] = ()
        with suppress(OSError):
            near = alike(path.name, [one.name for one in path.parent.glob("*.toml")])[:1]
        near = () if near == (path.name,) else near
        raise PlanError(path.name, 0, reason(error), "a plan that can be read", near) from None
    if len(content) > MOST_BYTES:
        raise PlanError(path.name, 0, "the file is larger than 1 MB", "a plan")
    return content


def text_of(content: bytes, name: str) -> str:
    """That as text. Raises PlanError, with the line, for what is not UTF-8.

    content: all of a file; name: of it.
    """
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise PlanError(name, line, "letters that are not UTF-8", "a file saved as UTF-8") from None


def parsed(text: str, name: str) -> Told:
    """What a text says, perhaps no steps. Raises PlanError.

    text: of a plan; name: of its file.
    """
    said = plan_text.read(text)
    if said is None:
        line, wrong, expected = plan_text.fault(text)
        raise PlanError(name, line, wrong, expected)
    found = statements(text.removeprefix("\ufeff"))
    lines = {one.path[0]: one.line for one in reversed(found)}
    for unknown in [one for one in said if one not in _PLAN_KEYS]:
        raise _unknown(name, lines.get(unknown, 1), unknown, _PLAN_KEYS, "a plan")
    for needed, like in (("title", 'title = "Bark"'), ("minutes", "minutes = 50")):
        if needed not in said:
            raise PlanError(name, 0, f"{needed} is missing", f"a line like {like}", field=needed)
    title = _checked(said["title"], "title", name, lines.get("title", 0))
    minutes = _checked(said["minutes"], "minutes", name, lines.get("minutes", 0))
    steps = said.get("step", [])
    blocks = blocks_of(text)
    if not isinstance(steps, list) or len(blocks) != len(steps):
        raise PlanError(name, lines["step"], "steps are written otherwise", "[[step]] above each")
    made = [_step(one, block, name) for one, block in zip(steps, blocks, strict=True)]
    return Told(title, minutes, made)


def _step(told: Mapping[str, Any], block: Block, name: str) -> Step:
    for unknown in [one for one in told if one not in STEP_KEYS]:
        raise _unknown(name, block.line_of(unknown), unknown, tuple(STEP_KEYS), "a step")
    fields = {one: _checked(told[one], one, name, block.line_of(one)) for one in told}
    for one, other, expected in _BESIDE:
        if one in told and other not in told:
            wrong = f"{one} stands without {other}"
            raise PlanError(name, block.line_of(one), wrong, expected, field=one)
    if "minutes" not in told:
        wrong = "a step without minutes"
        raise PlanError(name, block.line_of(), wrong, "a line like minutes = 4", field="minutes")
    for one, value in fields.get("start", {}).items():
        if not isinstance(value, int | float | str):
            wrong = f"start of {one} is {shown(value)}"
            expected = "a number, true, false or words"
            raise PlanError(name, block.line_of("start", one), wrong, expected, field=one)
    try:
        return Step(**fields, line=block.line_of())
    except MeasureError as error:
        what = "shows nothing" if error.value is None else f"shows {error.value} at once"
        wrong, line = f"the step {what}", block.line_of()
        raise PlanError(name, line, wrong, error.expectation, field="step") from None


def _checked(value: Any, key: str, name: str, line: int) -> Any:
    """A value of the kind that its key takes. Raises PlanError."""
    kind, expected = STEP_KEYS[key]
    good = isinstance(value, kind) and (kind is bool or not isinstance(value, bool))
    if good and key == "minutes":
        good = 0 < value <= MOST_MINUTES
    elif good and key == "cell":
        good = value >= 1
    elif good and key == "controls":
        good = all(isinstance(one, str) and one for one in value)
    elif good and kind is str and key != "note":
        good = bool(value.strip())
    if not good:
        wrong = f"{key} is {'empty' if value in ('', [], {}) else shown(value)}"
        raise PlanError(name, line, wrong, expected, field=key, value=value)
    return tuple(value) if key == "controls" else value


def _unknown(name: str, line: int, key: str, known: Sequence[str], of: str) -> PlanError:
    expected = "one of: " + ", ".join(known)
    wrong = f"{shown(key)} is no name in {of}"
    return PlanError(name, line, wrong, expected, alike(key, known)[:1], field=key)


def blocks_of(text: str) -> list[Block]:
    """The places of all steps, in their order.

    text: of a plan that can be read.
    """
    lead = len(text) - len(text.removeprefix("\ufeff"))
    groups: list[list[Statement]] = []
    for one in statements(text[lead:]):
        if one.path == ("step",) and one.kind == "array":
            groups.append([])
        if groups:
            groups[-1].append(one)
    starts = [group[0].start + lead for group in groups]
    blocks: list[Block] = []
    for group, after in zip(groups, [*starts, len(text)][1:], strict=True):
        heading, end = group[0].start + lead, group[-1].end + lead
        first = _above(text, heading, blocks[-1].end if blocks else 0)
        own = tuple(
            replace(
                one,
                start=one.start + lead,
                end=one.end + lead,
                value_start=one.value_start + lead,
                value_end=one.value_end + lead,
            )
            for one in group
        )
        blocks.append(Block(first, heading, _below(text, end, after), own))
    return blocks


def _above(text: str, heading: int, bound: int) -> int:
    """Where the remarks begin that stand right above a heading."""
    start = text.rfind("\n", 0, heading) + 1
    while start > bound:
        above = text.rfind("\n", 0, start - 1) + 1
        if above < bound or not text[above:start].lstrip().startswith("#"):
            break
        start = above
    return start


def _below(text: str, end: int, after: int) -> int:
    """Past the line that a place ends, and past remarks below it that a blank line ends."""
    past = text.find("\n", end)
    past = len(text) if past < 0 else past + 1
    low = past
    while low < after:
        line = text[low:].partition("\n")[0]
        if not line.strip():
            return low
        low = min(low + len(line) + 1, len(text))
    # those that reach the next heading are its own
    return past if after < len(text) else low
