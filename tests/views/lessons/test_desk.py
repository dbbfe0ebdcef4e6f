"""The lecturer's desk: what it shows stands in the file, and what it changes is changed there."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from ipywidgets.widgets.widget import _instances

from mensura.disk.plan_place import PLAN_VARIABLE
from mensura.views.kit.frame import FRAME
from mensura.views.lessons import desk as module
from mensura.views.lessons.desk import CLOSED, Desk, lesson_desk
from mensura.views.lessons.trying import is_there, plain, tried, what, words_of

TEXT = """title = "Oval stems"
minutes = 20

# ask first
[[step]]
workbook = "02"
section = "predict"
minutes = 3
note = "Wait."

[[step]]
workbook = "02"
section = "out-of-round-panel"
minutes = 14  # long
spare = true
start = { tilt_deg = 7.5 }

[[step]]
workbook = "03"
section = "classroom-road-7"
minutes = 4
"""

NAMES = ["Predict", "Out of round", "The classroom's road, line 7"]


class Page:
    """The desk's page, as the browser plays it: what it asks for, and what it is answered."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.desk = Desk(path)
        self.answers: list[dict[str, Any]] = []
        self.desk.table.send = self.answers.append

    def ask(self, kind: str, place: int | None = None, value: Any = None) -> dict[str, Any]:
        told = {"kind": kind, "value": value, "id": len(self.answers)}
        key = {} if place is None else {"key": self.shown["steps"][place]["key"]}
        self.desk.hear(told | key)
        answer = self.answers[-1]
        assert (answer["kind"], answer["id"]) == ("done", told["id"])
        return answer

    @property
    def shown(self) -> dict[str, Any]:
        return dict(self.desk.table.shown)

    def column(self, name: str) -> list[Any]:
        return [one[name] for one in self.shown["steps"]]


@pytest.fixture
def page(tmp_path: Path) -> Iterator[Page]:
    path = tmp_path / "lesson.toml"
    path.write_text(TEXT)
    made = Page(path)
    yield made
    made.desk.away()


def test_without_a_lecturer_it_says_how_one_comes_to_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words only: no widget, and nothing of the machine."""
    monkeypatch.delenv(PLAN_VARIABLE, raising=False)
    assert lesson_desk()._repr_mimebundle_() == {"text/plain": CLOSED}
    assert "mensura open --lecturer" in CLOSED


def test_the_table_stands_in_a_frame_and_the_screen_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A screen has a frame of its own, and one frame in another would hear its keys twice."""
    monkeypatch.setenv(PLAN_VARIABLE, str(tmp_path / "lesson.toml"))
    (tmp_path / "lesson.toml").write_text(TEXT)
    data = lesson_desk()._repr_mimebundle_()
    root = _instances[data["application/vnd.jupyter.widget-view+json"]["model_id"]]
    framed, beside = root.children
    assert {FRAME, "mensura-desk"} <= set(framed._dom_classes)
    assert not {FRAME} & {*root._dom_classes, *beside._dom_classes}
    assert data["text/plain"] == CLOSED


def test_it_shows_the_plan(page: Page) -> None:
    assert page.column("title") == NAMES
    assert page.column("what") == [
        "text, workbook 02",
        "panel out-of-round-panel, workbook 02, with tilt_deg 7.5",
        "line 7 of classroom-road, workbook 03",
    ]
    assert page.column("over") == ["3", "17", "21"]
    assert page.column("spare") == [False, True, False]
    assert page.column("note") == ["Wait.", "", ""]
    assert page.shown["total"] == ("21 of 20 minutes: 1 too many. Leave out step 2 and it fits.")
    assert page.shown["give"] == "mensura present lesson.toml"
    assert (page.shown["title"], page.shown["length"]) == ("Oval stems", "20")


def test_steps_move_and_keep_their_keys(page: Page) -> None:
    """By the key a page follows its row; remarks and their step stay together in the file."""
    keys = page.column("key")
    page.ask("move", 0, 1)
    page.ask("move", 1, 1)
    assert page.column("title") == [NAMES[1], NAMES[2], NAMES[0]]
    assert page.column("key") == [keys[1], keys[2], keys[0]]
    assert page.shown["said"] == "Predict is step 3 now."
    text = page.path.read_text()
    assert text.index("# ask first") > text.index("classroom-road-7")
    assert "minutes = 14  # long" in text


@pytest.mark.parametrize(("place", "by"), [(0, -1), (2, 1), (1, 2), (1, "up"), (1, None)])
def test_beyond_the_ends_nothing_moves(page: Page, place: int, by: Any) -> None:
    assert page.ask("move", place, by)["wrong"] == ""
    assert page.path.read_text() == TEXT


def test_minutes_spare_note_and_head(page: Page) -> None:
    """Changed where they stand, commas and all; all else stays to the letter."""
    page.ask("minutes", 1, " 12,5 ")
    page.ask("spare", 1, False)
    page.ask("note", 0, "Wait.\nThen ask.")
    page.ask("title", value="  Ovals,\n and tapes ")
    page.ask("length", value="25")
    expected = TEXT.replace("= 14", "= 12.5").replace("= true", "= false").replace("= 20", "= 25")
    expected = expected.replace("Oval stems", "Ovals, and tapes")
    expected = expected.replace('"Wait."', '"""\nWait.\nThen ask."""')
    assert page.path.read_text() == expected
    assert page.shown["total"] == "19.5 of 25 minutes: 5.5 to spare."


@pytest.mark.parametrize("typed", ["", "x", "0", "-3", "1001", "nan", "1e400", "__import__('os')"])
def test_what_are_no_minutes_is_told_and_changes_nothing(page: Page, typed: str) -> None:
    for kind, place in (("minutes", 1), ("length", None)):
        wrong = page.ask(kind, place, typed)["wrong"]
        assert wrong.startswith("minutes is ")
        assert wrong.endswith("expected a number above 0 and at most 1000, like 2.5.")
        assert page.shown["said"] == wrong
    assert page.ask("title", value=" ")["wrong"].startswith("title is empty; ")
    assert page.path.read_text() == TEXT


def test_what_is_dropped_comes_back_to_the_letter(page: Page) -> None:
    answer = page.ask("drop", 0)
    assert answer["on"] == "back"
    assert page.column("title") == NAMES[1:]
    assert page.shown["dropped"] == ["Predict"]
    page.ask("drop", 1)
    page.ask("drop", 0)
    assert page.shown["steps"] == []
    for _ in NAMES:
        page.ask("back", value=len(page.shown["dropped"]) - 1)
    assert page.column("title") == NAMES
    assert page.path.read_text() == TEXT
    assert page.shown["dropped"] == []


def test_what_is_dropped_outlives_the_kernel(page: Page) -> None:
    """It is kept with the page; what stands in that file is looked at before it is used."""
    page.ask("drop", 1)
    kept = page.desk.kept()
    again = Page(page.path)
    again.desk.restore(kept)
    again.desk.show()
    assert again.shown["dropped"] == ["Out of round"]
    again.ask("back", value=0)
    assert page.path.read_text() == TEXT
    again.desk.restore({"dropped": [{"title": "x", "place": 0, "written": "os.remove"}]})
    assert again.ask("back", value=0)["wrong"]
    assert page.path.read_text() == TEXT


def test_what_an_editor_changes_is_seen_and_not_overwritten(page: Page) -> None:
    """A change is asked for by the row that was seen, and meets the file as it is."""
    page.path.write_text(
        TEXT.replace("minutes = 3\n", "minutes = 6\n").replace('"Wait."', '"Now."')
    )
    page.ask("minutes", 2, "5")
    expected = TEXT.replace("minutes = 3\n", "minutes = 6\n").replace('"Wait."', '"Now."')
    assert page.path.read_text() == expected.replace("= 4\n", "= 5\n")
    assert page.column("note")[0] == "Now."
    gone = page.shown["steps"][2]["key"]
    text = page.path.read_text()
    page.path.write_text(text[: text.rindex("[[step]]")])
    page.desk.hear({"kind": "minutes", "key": gone, "value": "1", "id": 9})
    assert page.path.read_text() == text[: text.rindex("[[step]]")]
    assert len(page.shown["steps"]) == 2


def test_it_looks_by_itself_and_a_newer_desk_takes_over(
    page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "LOOK_S", 0.01)
    other = Page(page.path)

    async def sitting() -> None:
        page.desk.watch()
        page.path.write_text(TEXT.replace("Oval", "Round"))
        await asyncio.sleep(0.1)
        assert page.shown["title"] == "Round stems"
        other.desk.watch()
        await asyncio.sleep(0.1)
        page.path.write_text(TEXT)
        await asyncio.sleep(0.1)

    asyncio.run(sitting())
    assert (page.shown["title"], other.shown["title"]) == ("Round stems", "Oval stems")


@pytest.mark.parametrize("deed", ["move", "drop", "minutes", "spare", "note", "title", "length"])
def test_a_broken_plan_is_told_with_its_line_and_changes_nothing(page: Page, deed: str) -> None:
    broken = TEXT.replace("minutes = 14", "minutes = 1,4")
    page.path.write_text(broken)
    value = {"move": 1, "spare": True}.get(deed, "7")
    for _ in range(2):
        wrong = page.ask(deed, None if deed in ("title", "length") else 0, value)["wrong"]
    assert wrong == "lesson.toml, line 14: a decimal comma; expected a point, as in 2.5."
    assert page.shown["error"] == wrong
    assert page.path.read_text() == broken
    page.path.write_text(TEXT)
    page.desk.look()
    page.desk.show()
    assert page.shown["error"] == ""
    assert page.column("title") == NAMES


def test_a_missing_plan_has_a_title_that_makes_it(tmp_path: Path) -> None:
    page = Page(tmp_path / "my lesson.toml")
    assert page.shown["steps"] == []
    assert not page.shown["there"]
    assert page.shown["give"] == 'mensura present "my lesson.toml"'
    page.ask("title", value="Bark")
    assert 'title = "Bark"' in page.path.read_text()
    assert page.shown["there"]


@pytest.mark.parametrize("place", [0, 1, 2])
def test_a_screen_is_tried_and_put_away(page: Page, place: int) -> None:
    key = page.shown["steps"][place]["key"]
    assert page.ask("try", place) == {"kind": "done", "id": 0, "wrong": "", "on": "away"}
    assert page.shown["trying"] == key
    (screen,) = page.desk.screen.children
    assert page.ask("away") == {"kind": "done", "id": 1, "wrong": "", "focus": key, "on": "try"}
    assert page.shown["trying"] is None
    assert page.desk.screen.children == ()
    assert screen.comm is None


def test_a_tried_step_that_goes_takes_its_screen_along(page: Page) -> None:
    page.ask("try", 0)
    page.ask("move", 0, 1)
    assert page.shown["trying"] == page.shown["steps"][1]["key"]
    page.ask("drop", 1)
    assert page.shown["trying"] is None
    assert page.desk.screen.children == ()


def test_a_screen_that_cannot_be_is_told(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    """A section that is gone has its sentence in the row; what breaks leaves the desk at work."""
    page.path.write_text(TEXT.replace("out-of-round-panel", "out-of-rund"))
    page.desk.look()
    page.desk.show()
    wrong = page.column("wrong")
    assert wrong[0] == wrong[2] == ""
    assert "section is 'out-of-rund'" in wrong[1]
    assert page.ask("try", 1)["wrong"] == wrong[1]

    def breaks(*_: object) -> None:
        raise RuntimeError("no ink")

    monkeypatch.setattr(module, "tried", breaks)
    assert "step 1 cannot be shown: no ink" in page.ask("try", 0)["wrong"]
    assert page.ask("move", 0, 1)["wrong"] == ""


@pytest.mark.parametrize("told", [None, 3, {}, {"kind": 3}, {"kind": "x"}, {"kind": "back"}])
def test_what_is_no_message_changes_nothing(page: Page, told: object) -> None:
    page.desk.hear(told)
    page.desk.hear({"kind": "drop", "key": "1", "value": None})
    page.desk.hear({"kind": "back", "value": 7})
    assert page.path.read_text() == TEXT


def test_own_words_pictures_and_cells(tmp_path: Path) -> None:
    """Named, tried and missed; nothing outside of the plan's folder is shown."""
    import nbformat.v4 as v4
    from nbformat import write

    png = b"\x89PNG\r\n\x1a\n" + b"\0" * 40
    (tmp_path / "stem.png").write_bytes(png)
    cells = [v4.new_markdown_cell("*my words*"), v4.new_code_cell("1/0")]
    write(v4.new_notebook(cells=cells), tmp_path / "own.ipynb")
    path = tmp_path / "plan" / "lesson.toml"
    path.parent.mkdir()
    inside = tmp_path / "lesson.toml"
    page = [
        'text = "## Go *out*\\n<script>"',
        'picture = "stem.png"\nalt = "<b>"',
        'notebook = "own.ipynb"\ncell = 1',
        'notebook = "own.ipynb"\ncell = 2',
    ]
    steps = "".join(f"[[step]]\nminutes = 1\n{one}\n" for one in page)
    for place in (inside, path):
        place.write_text(f'title = "Mine"\nminutes = 5\n{steps}')
    made = Page(inside)
    assert made.column("title") == ["Go out", "stem.png", "own.ipynb, cell 1", "own.ipynb, cell 2"]
    assert made.column("wrong") == [""] * 4
    shown = [tried(one, 1, inside)[0].outputs[0]["data"] for one in made.desk.begun.steps]
    assert shown[0] == {"text/markdown": "## Go *out*\n<script>"}
    assert 'alt="&lt;b&gt;" src="data:image/png;base64,' in shown[1]["text/html"]
    assert shown[2] == {"text/markdown": "*my words*"}
    assert shown[3]["text/plain"].endswith("it runs when the lesson is given.")
    missing = Page(path).column("wrong")
    assert missing[0] == ""
    assert all("lesson.toml, line " in one for one in missing[1:])


def test_words_of_a_step() -> None:
    from mensura.teaching.lessons.plan import Step

    assert words_of(Step(1, "02", "predict", title="Ask *first*"), None) == "Ask first"
    assert words_of(Step(1, "99", "nowhere"), None) == "nowhere"
    assert what(Step(1, "99", "nowhere")) == "section nowhere, workbook 99"
    assert is_there(Step(1, "99", "nowhere"), None)
    assert len(words_of(Step(1, text="word " * 40), None)) == 60
    assert plain("# a $b$ *c* `d`") == "a b c d"


def test_module_and_sheet_are_ours() -> None:
    """Plain modules: a comment first, no markup made of words, colours by the look's names."""
    here = Path(module.__file__).parent
    script, sheet = (here / name for name in ("desk.js", "desk.css"))
    assert script.read_text("utf-8").startswith("// ")
    assert "innerHTML" not in script.read_text("utf-8")
    assert "#" not in sheet.read_text("utf-8").partition("*/")[2]


def test_the_desk_costs_a_class_nothing(run_in_kernel: Callable[..., str]) -> None:
    """Who imports the workbooks' views does not load it."""
    cell = (
        "import sys; import mensura.views; from mensura.views import ask; ask('02-predict').build()"
    )
    loaded = run_in_kernel(f"{cell}; print('mensura.views.lessons.desk' in sys.modules)")
    assert loaded == "False\n"
