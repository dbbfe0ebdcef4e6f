"""Whatever lives stands on a screen: opened as planned, kept by its place, or refused."""

from __future__ import annotations

import json
from typing import Any

import pytest

from mensura.checks import MeasureError
from mensura.disk.sections import all_sections
from mensura.views.kit import keeping
from mensura.views.lessons import on_screen
from mensura.views.lessons.own import own_cell
from mensura.views.lessons.problem import ProblemScreen, pages_of, unfolded
from mensura.views.lessons.showing import LIVING, PanelScreen
from mensura.views.problems.practice import problems_here
from mensura.views.proof.panel import proof_panel

SECTIONS = all_sections()
PANELS = [one for one in SECTIONS if one.kind in ("panel", "proof")]


def screen_of(box: Any) -> Any:
    """The screen's widget in a box."""
    found = []

    def walk(one: Any) -> None:
        if hasattr(one, "told") and hasattr(one, "last"):
            found.append(one)
        for child in getattr(one, "children", ()):
            walk(child)

    walk(box)
    (screen,) = found
    return screen


@pytest.mark.parametrize(
    "one",
    [one for one in SECTIONS if one.kind in LIVING and one.step < 2],
    ids=lambda one: one.name,
)
def test_every_section_that_lives_is_shown(one):
    """Its box is a frame and a screen, says its words without a kernel, and runs no code."""
    shown = on_screen(one.workbook, one.name, place=1)
    box = shown.build()
    assert {"mensura-frame", "mensura-screen"} <= set(box._dom_classes)
    assert screen_of(box).kind == {
        "panel": "panel", "proof": "proof", "proof step": "proof", "question": "hands",
        "problem": "unfolding", "game": "plain",
    }[one.kind]  # fmt: skip
    assert one.workbook in repr(shown)
    json.dumps(screen_of(box).told)


@pytest.mark.parametrize("one", PANELS, ids=lambda one: one.name)
def test_a_panel_opens_as_the_plan_says(one):
    """Every control at its least value: picture, boxes and the way back to the start have it."""
    from mensura.views.chapters import panels

    panel = panels()[one.thing] if one.kind == "panel" else proof_panel(one.thing)
    start = {control.name: control.least for control in panel.controls}
    live = PanelScreen(panel, start, (), "test", one.kind).at_work()
    expected = panel.state(start)
    assert live.state == expected
    for control in panel.controls:
        assert live.sliders[control.name].value == pytest.approx(control.least)
        assert f"mensura-is-{control.name}" in live.handles[control.name].widget._dom_classes
    live.set(**{panel.controls[0].name: panel.controls[0].start})
    live.buttons["As at the start"].click()
    assert live.state == expected
    assert panel.status(panel.numbers(**expected))[:20] in live.said.value.replace("&#x27;", "'")


def test_two_screens_of_one_panel_keep_their_own_values(monkeypatch):
    """By their places; a workbook's own panel has another name than both."""
    met = {}
    monkeypatch.setattr(
        keeping.Keeping, "join", lambda self, name, frame, box, keeper: met.update({name: keeper})
    )
    for place in (1, 2):
        on_screen("02", "out-of-round-panel", place=place).build()
    names = list(met)
    assert names == ["out-of-round-panel 1", "out-of-round-panel 2"]
    met[names[0]].set(tilt_deg=7.5)
    assert met[names[1]].kept()["at"]["tilt_deg"] != 7.5
    other = on_screen("02", "out-of-round-panel", start={"tilt_deg": 1}, place=3).build()
    met["out-of-round-panel 3"].restore(met[names[0]].kept())
    assert met["out-of-round-panel 3"].state["tilt_deg"] == 7.5
    assert other is not None


def test_a_road_unfolds_by_either_way(monkeypatch):
    """The page counts on: the lines follow; the buttons go on: the count follows."""
    met = {}
    monkeypatch.setattr(
        keeping.Keeping, "join", lambda self, name, frame, box, keeper: met.update({name: keeper})
    )
    box = on_screen("03", "classroom-road-3", start={"a_cm": 40}, place=1).build()
    live, screen = met["classroom-road-3 1"], screen_of(box)
    assert (screen.at, screen.last, live.state["step"]) == (3, 9, 3)
    assert live.lines.value.count("<li") == 3
    screen.at = 5
    assert live.state["step"] == 5
    assert live.lines.value.count("<li") == 5
    live.steps.next.click()
    assert screen.at == 6
    live.restore({"at": {"step": 2}})
    assert (screen.at, live.state["a_cm"]) == (2, 40)


def test_a_problem_unfolds_hints_and_then_its_solution():
    """All of every hint and of the solution, in their order, in pages that a screen holds."""
    for one in SECTIONS:
        if one.kind != "problem":
            continue
        problem = problems_here(one.thing).problem
        pages = unfolded(problem)
        assert (
            " ".join(page["text"] for page in pages).split()
            == " ".join([*problem.hints, problem.solution]).split()
        )
        assert pages[0]["name"] == "Hint 1"
        assert pages[-1]["name"].startswith("Worked solution")


def test_a_long_text_is_parted_between_sentences():
    """No page is longer than said, but for a sentence that is."""
    text = "A first one, 3.25 cm long. " * 9 + "x" * 300 + ". The end?"
    pages = pages_of(text, 100)
    assert " ".join(pages).split() == text.split()
    assert [len(page) <= 100 for page in pages].count(False) == 1


def test_how_much_of_a_problem_is_unfolded_is_kept():
    """It comes back as far as it was; what cannot be is refused."""
    first = ProblemScreen("02", "tape-on-an-oval", 1, True, 1)
    first.screen.at = 3
    again = ProblemScreen("02", "tape-on-an-oval", 1, True, 1)
    again.restore(first.kept())
    assert again.screen.at == 3
    with pytest.raises(MeasureError):
        again.restore({"at": 99})


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"section_name": "out-of-round-panl"}, "like out-of-round-panel"),
        ({"section_name": "predict"}, "what lives: one of panel"),
        ({"section_name": "out-of-round-panel", "start": {"tilt": 3}}, "one of: first_cm"),
        ({"section_name": "out-of-round-panel", "start": {"tilt_deg": 300}}, "at most 20"),
        ({"section_name": "out-of-round-panel", "controls": ["tilt"]}, "one of: first_cm"),
        ({"section_name": "02-predict", "start": {"tilt_deg": 3}}, "a question has no values"),
        ({"section_name": "tape-on-an-oval", "controls": ["a"]}, "a problem has no values"),
        ({"section_name": "out-of-round-panel", "place": -1}, "from 0 to 9999"),
    ],
)
def test_what_cannot_be_shown_is_refused_in_one_sentence(told, words):
    """Before anything is made: what was wrong, and what is expected."""
    with pytest.raises(MeasureError) as met:
        on_screen("02", **told)
    assert words in str(met.value), str(met.value)
    assert "\n" not in str(met.value)


def test_an_own_cell_shows_what_it_shows(run_in_kernel):
    """Prints, keeps its names for later cells, and magics work."""
    said = run_in_kernel(
        "from mensura.views.lessons import own_cell",
        "own_cell('girth = 126\\nprint(girth)\\n%precision 2')",
        "own_cell('print(girth + 1)')",
        "print('after', girth)",
    )
    assert said.split() == ["126", "127", "after", "126"]


@pytest.mark.parametrize(
    ("code", "sentence"),
    [
        ("1 / 0", "The lecturer's cell of step 4 stopped: ZeroDivisionError, 'division by zero'."),
        ("1 +", "The lecturer's cell of step 4 stopped: SyntaxError"),
        ("raise ValueError", "The lecturer's cell of step 4 stopped: ValueError."),
        ("  x = 1\n y = 2", "The lecturer's cell of step 4 stopped: IndentationError"),
    ],
)
def test_an_own_cell_that_fails_says_one_sentence(code, sentence, run_in_kernel):
    """No traceback, the lesson goes on, and errors elsewhere are told as ever."""
    said = run_in_kernel(
        "from mensura.views.lessons import own_cell",
        f"own_cell({code!r}, place=4)",
        "print('on', 'showtraceback' in vars(get_ipython()))",
    )
    first, last = said.strip().splitlines()
    assert first.startswith(sentence)
    assert last == "on False"


def test_no_kernel_no_own_cell():
    """A script has none."""
    with pytest.raises(MeasureError, match="a notebook's kernel"):
        own_cell("1")
