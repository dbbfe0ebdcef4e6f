"""A plan's file: whatever is written reads back, every edit leaves all else byte for byte, and what
cannot be read is told with its line."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.disk import plan_file, plan_read
from mensura.disk.plan_file import (
    LOCK_NAME,
    PlanError,
    add_step,
    change_step,
    drop_step,
    move_step,
    read_plan,
)
from mensura.disk.plan_text import fault, read, statements, string, value
from mensura.teaching.lessons.plan import Plan, Step

HEAD = 'title = "Bark"\nminutes = 50\n'

WORDS = st.text(max_size=40).filter(str.strip)
MINUTES = st.integers(1, 60) | st.floats(0.01, 1000)
VALUES = st.booleans() | st.integers(-(2**40), 2**40) | st.floats(-1e9, 1e9) | st.text(max_size=9)

OF_SECTION = st.builds(
    Step,
    MINUTES,
    workbook=WORDS,
    section=WORDS,
    start=st.dictionaries(st.text(max_size=8), VALUES, max_size=5),
    controls=st.lists(st.text(min_size=1, max_size=8), max_size=3).map(tuple),
)
OTHERS = st.one_of(
    st.builds(Step, MINUTES, text=WORDS),
    st.builds(Step, MINUTES, picture=WORDS, alt=WORDS | st.just("")),
    st.builds(Step, MINUTES, notebook=WORDS, cell=st.integers(1, 900)),
)
STEPS = st.builds(
    lambda step, note, spare, title: replace(step, note=note, spare=spare, title=title),
    OF_SECTION | OTHERS,
    st.text(max_size=60),
    st.booleans(),
    WORDS | st.just(""),
)


def without_lines(steps: Any) -> list[Step]:
    return [replace(one, line=0) for one in steps]


# ---- what is written reads back ----------------------------------------------------------------


@given(st.lists(STEPS, min_size=1, max_size=4))
def test_any_steps_are_read_as_they_were_added(tmp_path_factory: Any, steps: list[Step]) -> None:
    """Quotation marks, backslashes, line breaks, signs that steer: all of it comes back."""
    file = tmp_path_factory.mktemp("plan") / "a plan.toml"
    assert [add_step(file, one) for one in steps] == list(range(len(steps)))
    assert without_lines(read_plan(file).steps) == steps
    assert read_plan(file).title == "A plan"


@pytest.mark.parametrize(
    "text",
    [
        *[
            '"',
            '""',
            '"""',
            'a"""b""""',
            "\\",
            "\\\\n",
            "a\r\nb\rc",
            "\n",
            "\n\n x \n",
            "\t",
            "\x00\x7f",
        ],
        *["end\\\n", "'''", "[[step]]\n", "# no\nremark", "\u202e\u2028\x85", "🌲\n\ufeff", '"\n"'],
    ],
)
def test_awkward_words_read_back(text: str) -> None:
    """Written over several lines and on one."""
    for written in (string(text), string(text, lines=False), value(text)):
        assert tomllib.loads(f"a = {written}") == {"a": text}
    assert "\n" not in value(text)


def test_what_is_made_begins_as_a_plan_does(tmp_path: Path) -> None:
    """A missing file and an empty one get a title from the file's name."""
    for name in ("two-stems.toml", "empty.toml"):
        file = tmp_path / name
        if name == "empty.toml":
            file.write_bytes(b"\xef\xbb\xbf\n")
        add_step(file, Step(4, "02", "02-predict"))
        assert read_plan(file).minutes == 50
        assert file.read_bytes().count(b"[[step]]") == 1
    assert read_plan(tmp_path / "two-stems.toml").title == "Two stems"
    assert set(os.listdir(tmp_path)) <= {"two-stems.toml", "empty.toml", LOCK_NAME}


# ---- edits leave all else alone ----------------------------------------------------------------

#: A step each, written as people write: the step, and its lines behind [[step]].
BLOCKS: list[tuple[Step, str]] = [
    (Step(4, "02", "02-predict"), 'workbook = "02"\nsection = "02-predict" # ask\nminutes = 4\n'),
    (Step(2.5, text='a # "b"'), "minutes=2.5\ntext = 'a # \"b\"'\n"),
    (
        Step(3, text="Look:\n[[step]]\nminutes = 9\n", spare=True),
        'text = """\nLook:\n[[step]]\nminutes = 9\n"""\n# inside\nspare = true\nminutes = 3\n',
    ),
    (
        Step(1, "02", "p", start={"a": 1, "b c": "]#"}, controls=("a", "b")),
        'start = { a = 1, "b c" = "]#" }\nminutes = 1\ncontrols = [\n  "a", # one\n  "b",\n]\n'
        'workbook = "02"\nsection = "p"\n',
    ),
    (
        Step(7, "01", "g", start={"x": True, "y": -2}, note="''"),
        'minutes = 7\nworkbook = "01"\nsection = "g"\nnote = "\'\'"\n'
        "[step.start]\nx = true\ny = -2\n",
    ),
    (
        Step(8, text='say "so"', note="it's ''"),
        "minutes = 8\ntext = \"\"\"say \"so\"\"\"\"\nnote = '''it's '''''\n",
    ),
    (
        Step(9, text='a "# b\\', note='"""\n"'),
        'minutes = 9\ntext = "a \\"# b\\\\" # "c\nnote = """\\""\\"\n\\""""\n',
    ),
    (
        Step(6, "03", "q", start={"t": 0.5}),
        "'minutes' = 6\nworkbook = '03'\nsection = '''q'''\nstart.t = 5e-1 # dotted\n",
    ),
]
REMARKS = st.sampled_from(["", "# a remark\n", "\n# alone\n\n", "  # [[step]]\n# minutes = 3\n"])


@st.composite
def plans(draw: Any) -> tuple[str, list[Step], list[str]]:
    """A plan's text, its steps, and the lines of each."""
    chosen = draw(st.lists(st.sampled_from(BLOCKS), min_size=1, max_size=5))
    text, lines = draw(REMARKS) + HEAD + draw(st.sampled_from(["\n", ""])), []
    for _, body in chosen:
        note = f"# step {len(lines)}\n"
        text += draw(REMARKS) + "[[step]]" + draw(st.sampled_from(["\n", " # one\n"])) + note + body
        text += draw(st.sampled_from(["", "\n", "\n\n"]))
        lines.append(note + body)
    text += draw(REMARKS)
    if draw(st.booleans()):
        text = text.rstrip("\n")
    if draw(st.booleans()):
        text = text.replace("\n", "\r\n")
    mark = draw(st.sampled_from(["", "\ufeff"]))
    steps = [replace(step, text=step.text) for step, _ in chosen]
    return mark + text, steps, lines


def remarks_outside(text: str, lines: list[str]) -> list[str]:
    """Every remark that stands in no step's own lines."""
    text = text.replace("\r\n", "\n")
    for one in lines:
        text = text.replace(one, "").replace(one.rstrip("\n"), "")
    return sorted(line.strip() for line in text.split("\n") if line.strip().startswith("#"))


def edited(text: str, edit: Callable[[Path], Any], folder: Path) -> str:
    file = folder / "plan.toml"
    file.write_bytes(text.encode())
    edit(file)
    return file.read_bytes().decode()


@given(plans(), st.data())
def test_every_edit_leaves_all_else_as_it_was(
    tmp_path_factory: Any, plan: tuple[str, list[Step], list[str]], data: Any
) -> None:
    """Moved, dropped, changed or added: remarks and the other steps' lines stay byte for byte, and
    the plan says what was asked for."""
    text, steps, lines = plan
    folder = tmp_path_factory.mktemp("plan")
    place = data.draw(st.integers(0, len(steps) - 1))
    what = data.draw(st.sampled_from(["move", "drop", "change", "add"]))
    added = Step(2, text="More.")
    if what == "move":
        to = data.draw(st.integers(0, len(steps) - 1))
        after = edited(text, lambda file: move_step(file, place, to), folder)
        steps.insert(to, steps.pop(place))
        whole = lines
        assert sorted(after) == sorted(text if text.endswith("\n") else text + after[len(text) :])
    elif what == "drop":
        dropped: list[Step] = []
        after = edited(text, lambda file: dropped.append(drop_step(file, place)), folder)
        assert without_lines(dropped) == [steps.pop(place)]
        whole = lines[:place] + lines[place + 1 :]
    elif what == "change":
        changes = data.draw(
            st.fixed_dictionaries(
                {}, optional={"minutes": MINUTES, "spare": st.booleans(), "note": st.text()}
            )
        )
        after = edited(text, lambda file: change_step(file, place, **changes), folder)
        steps[place] = replace(steps[place], **changes)
        whole = lines[:place] + lines[place + 1 :]
    else:
        after = edited(text, lambda file: add_step(file, added), folder)
        steps.append(added)
        whole = lines
        assert after.startswith(text)
    plain = after.replace("\r\n", "\n")
    for one in whole:
        assert one.rstrip("\n") in plain
    assert "\r" not in after.replace("\r\n", "")
    assert ("\r\n" in text) == ("\r\n" in after)
    if "\r\n" in text:
        assert "\n" not in after.replace("\r\n", "")
    before_remarks = remarks_outside(text, lines)
    after_remarks = remarks_outside(after, lines)
    if what != "drop":
        assert [one for one in before_remarks if one not in after_remarks] == []
    if steps:
        assert without_lines(read_plan(folder / "plan.toml").steps) == steps
    else:
        with pytest.raises(PlanError, match="there is no step"):
            read_plan(folder / "plan.toml")


def test_a_drop_keeps_the_remarks_around_it(tmp_path: Path) -> None:
    """What stands above the heading stays, and so does what stands by itself."""
    step = '[[step]]\ntext = "a"\nminutes = 1\n'
    other = step.replace('"a"', '"b"')
    text = f"# head\n{HEAD}\n# of a\n{step}\n# alone\n\n# of b\n{other}# end\n"
    after = edited(text, lambda file: drop_step(file, 0), tmp_path)
    assert after == text.replace(f"{step}\n", "", 1)


def test_a_move_takes_the_remark_above_along(tmp_path: Path) -> None:
    """A heading of several steps, set off by blank lines, stays where it is."""
    one, two = (f'# of {name}\n[[step]]\ntext = "{name}"\nminutes = 1\n' for name in "ab")
    text = f"{HEAD}\n# ---- first half ----\n\n{one}\n# ---- second half ----\n\n{two}"
    after = edited(text, lambda file: move_step(file, 1, 0), tmp_path)
    assert after == text.replace(one, "?").replace(two, one).replace("?", two)


def test_a_remark_between_two_steps_is_the_later_ones(tmp_path: Path) -> None:
    """Without a blank line it stands right below the one and right above the other."""
    one, two = (f'[[step]]\ntext = "{name}"\nminutes = 1\n' for name in "ab")
    after = edited(f"{HEAD}{one}# of b\n{two}", lambda file: move_step(file, 1, 0), tmp_path)
    assert after == f"{HEAD}# of b\n{two}{one}"
    after = edited(f"{HEAD}{one}# of a\n\n{two}", lambda file: move_step(file, 1, 0), tmp_path)
    assert after == f"{HEAD}{two}\n{one}# of a\n"


def test_a_change_keeps_the_remark_behind_it(tmp_path: Path) -> None:
    """Only the value's own characters change; what is missing is put below the step's lines."""
    text = HEAD + '[[step]]\nminutes = 4 # long\nworkbook="02"\nsection="p"\n[step.start]\na = 1\n'
    after = edited(text, lambda file: change_step(file, 0, minutes=5.5, spare=True), tmp_path)
    wanted = text.replace("= 4 #", "= 5.5 #").replace('"p"\n', '"p"\nspare = true\n')
    assert after == wanted


def test_a_step_that_is_dropped_can_be_put_back(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    for step in ("a", "b", "c"):
        add_step(file, Step(1, text=step))
    before = without_lines(read_plan(file).steps)
    move_step(file, add_step(file, drop_step(file, 1)), 1)
    assert without_lines(read_plan(file).steps) == before


# ---- nothing is lost ---------------------------------------------------------------------------


def test_a_plan_that_changed_meanwhile_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between the reading and the writing, and since it was shown."""
    file = tmp_path / "p.toml"
    file.write_text(HEAD + '[[step]]\ntext = "a"\nminutes = 1\n')
    shown = read_plan(file)
    other = HEAD + '[[step]]\ntext = "theirs"\nminutes = 1\n'
    parsed = plan_file.parsed

    def slow(text: str, name: str) -> Any:
        file.write_text(other)
        return parsed(text, name)

    with monkeypatch.context() as patched:
        patched.setattr(plan_file, "parsed", slow)
        for edit in (
            lambda: add_step(file, Step(1, text="b")),
            lambda: change_step(file, 0, minutes=2),
        ):
            file.write_text(HEAD + '[[step]]\ntext = "a"\nminutes = 1\n')
            with pytest.raises(PlanError, match="changed by another program"):
                edit()
            assert file.read_text() == other
    for late in (
        lambda: drop_step(file, 0, seen=shown),
        lambda: move_step(file, 0, 0, seen=shown),
        lambda: change_step(file, 0, minutes=9, seen=shown),
    ):
        with pytest.raises(PlanError, match="changed in the meantime"):
            late()
        assert file.read_text() == other
    change_step(file, 0, minutes=9, seen=read_plan(file))
    assert read_plan(file).steps[0].minutes == 9


def test_a_plan_with_a_fault_is_not_added_to(tmp_path: Path) -> None:
    """One sentence, and the file stays as it is; so does one with a step that no plan can hold."""
    file = tmp_path / "p.toml"
    for text in ("minutes = 4\nhello", HEAD + "[[step]]\nminutes = 1\n", "title = 1"):
        file.write_text(text)
        with pytest.raises(PlanError):
            add_step(file, Step(1, text="b"))
        assert file.read_text() == text
    file.unlink()
    for step in (
        Step(1, text="\ud800"),
        Step(5000, text="long"),
        Step(1, "02", "p", start={"a": [1]}),
        Step(1, "02", "p", start={"a": object()}),
        Step(1, text=" "),
        Step(1, workbook="02"),
    ):
        with pytest.raises(PlanError):
            add_step(file, step)
    assert not file.exists()


@pytest.mark.parametrize("place", [-1, 2, True, 0.0, None])
def test_a_place_that_is_none(tmp_path: Path, place: Any) -> None:
    file = tmp_path / "p.toml"
    for text in ("a", "b"):
        add_step(file, Step(1, text=text))
    before = file.read_bytes()
    for edit in (
        lambda: move_step(file, 0, place),
        lambda: drop_step(file, place),
        lambda: change_step(file, place, minutes=3),
    ):
        with pytest.raises(PlanError, match="has no step; expected one of 2, counted from 0"):
            edit()
    assert file.read_bytes() == before


def test_values_that_no_step_takes(tmp_path: Path) -> None:
    """Refused before the file is touched."""
    file = tmp_path / "p.toml"
    add_step(file, Step(1, text="a"))
    before = file.read_bytes()
    for bad in ({"minutes": 0}, {"minutes": 1e9}, {"minutes": float("nan")}, {"note": "\ud800"}):
        with pytest.raises(PlanError):
            change_step(file, 0, **bad)
        assert file.read_bytes() == before


def test_a_folder_that_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence with the system's reason, for a new plan and an old one."""
    with pytest.raises(PlanError, match=r"expected a folder that can be written to\.$"):
        add_step(tmp_path / "none" / "p.toml", Step(1, text="a"))
    file = tmp_path / "p.toml"
    add_step(file, Step(1, text="a"))

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(plan_file, "write_whole", full)
    with pytest.raises(PlanError, match="no space left on device"):
        drop_step(file, 0)
    assert len(read_plan(file).steps) == 1


# ---- the scan against tomllib ------------------------------------------------------------------


@given(plans())
def test_the_scan_finds_what_tomllib_reads(plan: tuple[str, list[Step], list[str]]) -> None:
    """Every value, cut out where the scan says it stands, is what tomllib has under that name."""
    text = plan[0].removeprefix("\ufeff")
    told: Any = tomllib.loads(text)
    step = -1
    found = statements(text)
    for one in found:
        if one.kind == "array":
            step += 1
        if one.kind != "value":
            continue
        at = told
        for name in one.path:
            at = at[name][step] if name == "step" else at[name]
        cut = text[one.value_start : one.value_end]
        assert tomllib.loads(f"a = {cut}")["a"] == at
        assert one.line == text.count("\n", 0, one.start) + 1
    assert step + 1 == len(told["step"])


@given(st.text(st.sampled_from("ab=[]{}\"'\\#\n\r\t ,.1-"), max_size=60) | st.text(max_size=60))
def test_the_scan_takes_any_text(text: str) -> None:
    """It ends, its places lie in the text, and the fault it finds is on one of the lines."""
    found = statements(text)
    assert all(0 <= one.start <= one.value_end <= one.end or one.kind != "value" for one in found)
    assert all(one.end <= len(text) for one in found)
    assert [one.start for one in found] == sorted({one.start for one in found})
    if read(text) is None:
        line, wrong, expected = fault(text)
        assert 1 <= line <= text.count("\n") + 1
        assert wrong
        assert expected


@pytest.mark.parametrize("block", BLOCKS, ids=lambda one: one[0].shows)
@pytest.mark.parametrize("spoilt", ["minutes = 2,5", "title = “x”", "spare = True", "nothing"])
def test_the_line_at_fault_is_found_between_others(block: tuple[Step, str], spoilt: str) -> None:
    """Above it and below it stand steps of all kinds."""
    before = HEAD + "".join(f"[[step]]\n{body}" for _, body in BLOCKS) + "[[step]]\n"
    text = f"{before}{spoilt}\n[[step]]\n{block[1]}"
    assert fault(text)[0] == before.count("\n") + 1


# ---- what is wrong, and where ------------------------------------------------------------------

WRONG = [
    ("minutes = 5", 0, "title is missing; expected"),
    ('title = "a"', 0, "minutes is missing; expected"),
    (HEAD, 0, "there is no step; expected at least one [[step]]."),
    (HEAD + "minuts = 3\n", 3, "'minuts' is no name in a plan; did you mean minutes?"),
    (HEAD.replace("50", "0"), 2, "minutes is 0; expected a number above 0"),
    (HEAD.replace("50", '"50"'), 2, "minutes is '50'; expected"),
    (HEAD.replace("50", "true"), 2, "minutes is True; expected"),
    (HEAD.replace("50", "nan"), 2, "minutes is nan; expected"),
    (HEAD.replace("50", "1e9"), 2, "minutes is 1000000000; expected"),
    (HEAD.replace("50", "2,5"), 2, "a decimal comma; expected a point"),
    (HEAD.replace('"Bark"', "Bark"), 1, "words without quotation marks; expected"),
    (HEAD.replace('"Bark"', "“Bark”"), 1, "curly quotation marks; expected"),
    (HEAD.replace('"Bark"', '"Bark'), 1, "words that no quotation mark ends; expected"),
    (HEAD.replace('"Bark"', r'"C:\Users"'), 1, "a backslash that stands for no sign; expected"),
    (HEAD.replace('"Bark"', '""'), 1, "title is empty; expected"),
    (HEAD + 'title = "b"\n', 3, "title a second time; expected"),
    (HEAD + "[step]\nminutes = 3\n", 3, "steps are written otherwise; expected [[step]]"),
    (HEAD + "step = 3\n", 3, "steps are written otherwise; expected [[step]]"),
    (HEAD + "[[step]\n", 3, "a heading that cannot be read; expected [[step]]"),
    (HEAD + "\n[[step]]\nminutes = 1\n", 4, "the step shows nothing; expected one of"),
    (HEAD + "\n[[step]]\ntext = 'a'\n", 4, "a step without minutes; expected"),
    (HEAD + "[[step]]\ntext = 'a'\nminutes = -1\n", 5, "minutes is -1; expected"),
    (HEAD + "[[step]]\ntext = 'a'\nminutes = 1\nspar = true\n", 6, "did you mean spare?"),
    (HEAD + "[[step]]\ntext = 'a'\nminutes = 1\nspare = 1\n", 6, "spare is 1; expected true"),
    (HEAD + "[[step]]\nminutes = 1\nworkbook = 2\nsection = 'a'\n", 5, "workbook is 2; expected"),
    (HEAD + "[[step]]\nminutes = 1\nworkbook = '02'\n", 5, "workbook stands without section;"),
    (HEAD + "[[step]]\nminutes = 1\nsection = 'a'\n", 5, "section stands without workbook;"),
    (HEAD + "[[step]]\nminutes = 1\nnotebook = 'a'\n", 5, "notebook stands without cell;"),
    (HEAD + "[[step]]\nminutes = 1\nnotebook = 'a'\ncell = 0\n", 6, "cell is 0; expected"),
    (HEAD + "[[step]]\nminutes = 1\ntext = 'a'\nalt = 'b'\n", 6, "alt stands without picture;"),
    (HEAD + "[[step]]\nminutes = 1\ntext = 'a'\nstart = {b = 1}\n", 6, "start stands without"),
    (HEAD + "[[step]]\nminutes = 1\ntext = 'a'\ncontrols = ['b']\n", 6, "controls stands without"),
    (
        HEAD
        + "[[step]]\nminutes = 1\nworkbook = 'a'\nsection = 'b'\n[step.start]\nc = 1\nd = []\n",
        9,
        "start of d is []; expected",
    ),
    (
        HEAD + "[[step]]\nminutes = 1\nworkbook = 'a'\nsection = 'b'\ncontrols = 'c'\n",
        7,
        "controls is 'c'; expected names of controls",
    ),
    (
        HEAD + "[[step]]\nminutes = 1\ntext = 'a'\npicture = 'b'\n",
        3,
        "shows text, picture at once;",
    ),
]


@pytest.mark.parametrize(("text", "line", "says"), WRONG, ids=[one[2][:40] for one in WRONG])
def test_what_is_wrong_is_told_with_its_line(
    tmp_path: Path, text: str, line: int, says: str
) -> None:
    """One sentence; with other line ends, and with an editor's mark before the first letter, the
    same."""
    file = tmp_path / "p.toml"
    for written in (text, text.replace("\n", "\r\n"), "\ufeff" + text):
        file.write_bytes(written.encode())
        with pytest.raises(PlanError) as caught:
            read_plan(file)
        said = str(caught.value)
        assert said.startswith(f"p.toml, line {line}: " if line else "p.toml: ")
        assert says in said
        assert caught.value.line == line
        assert said.count(". ") == 0
        assert said[-1] in ".?"


def test_files_that_are_no_plans(tmp_path: Path) -> None:
    """Missing (with the nearest name), a folder, other letters, endless nesting, too large."""
    (tmp_path / "lesson.toml").write_text(HEAD)
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "utf16.toml").write_bytes(HEAD.encode("utf-16"))
    (tmp_path / "latin.toml").write_bytes(b'title = "a"\n# \xe9\n')
    (tmp_path / "deep.toml").write_text("a = " + "[" * 100_000)
    (tmp_path / "large.toml").write_bytes(b"#" * (plan_read.MOST_BYTES + 1))
    for name, says in {
        "leson.toml": "did you mean lesson.toml?",
        "folder.toml": "expected a plan that can be read",
        "utf16.toml": "line 1: letters that are not UTF-8",
        "latin.toml": "line 2: letters that are not UTF-8",
        "deep.toml": "line 1: a value between",
        "large.toml": "larger than 1 MB",
    }.items():
        with pytest.raises(PlanError) as caught:
            read_plan(tmp_path / name)
        assert says in str(caught.value)


def test_a_good_plan_keeps_its_lines(tmp_path: Path) -> None:
    """Each step knows the line of its [[step]]."""
    file = tmp_path / "p.toml"
    file.write_text(HEAD + "".join(f"\n[[step]]\n{body}" for _, body in BLOCKS))
    plan = read_plan(file)
    assert without_lines(plan.steps) == [step for step, _ in BLOCKS]
    lines = file.read_text().split("\n")
    starts = [number for number, line in enumerate(lines, 1) if line == "[[step]]"]
    starts.remove(lines.index("Look:") + 2)  # that one stands in words
    assert [one.line for one in plan.steps] == starts
    assert isinstance(plan, Plan)
