"""A road as a live panel: lines that unfold, sides as numbers, buttons and keys, pictures kept."""

from __future__ import annotations

import html
import re
from typing import Any

import ipywidgets as w
import pytest

from mensura.checks import MeasureError
from mensura.teaching.controls import Choice, Stepper
from mensura.teaching.panels.proof import CONTROLS, OUTLINES, SQUARE
from mensura.teaching.proof import ROADS, road
from mensura.views.kit.frame import module_text
from mensura.views.kit.stepping import StepButtons
from mensura.views.proof.panel import (
    LiveProof,
    lines_html,
    proof_panel,
    readout,
    sides_words,
    sign_words,
    status,
)


def words(markup: str) -> str:
    """What is read, without the markup."""
    whole = re.sub(r"</?sub>|</?small[^>]*>", "", markup)  # a name with its subscript is one word
    return html.unescape(re.sub(r"<[^>]+>", " ", whole)).replace("\u00a0", " ")


def cells(markup: str) -> list[list[str]]:
    """The rows of a table's body, cell by cell."""
    body = markup.split("<tbody>")[1].split("</tbody>")[0]
    return [
        [words(cell).strip() for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)]
        for row in re.findall(r"<tr>(.*?)</tr>", body)
    ]


@pytest.fixture(scope="module")
def live() -> LiveProof:
    """The classroom's road at work."""
    return proof_panel("classroom").at_work()


# ---- controls ------------------------------------------------------------------------------------


def test_controls_state_their_range() -> None:
    """Half-axes from 10 to 40 cm, opening at 30 and 24; the turn and the ripples likewise."""
    ranges = {
        one.name: (one.least, one.greatest, one.step, one.start, one.unit)
        for one in CONTROLS.values()
    }
    assert ranges == {
        "a_cm": (10, 40, 0.5, 30, "cm"),
        "b_cm": (10, 40, 0.5, 24, "cm"),
        "turn_deg": (0, 90, 0.5, 30, "°"),
        "terms": (2, 24, 1, 12, ""),
    }
    moved = {name: [one.name for one in proof_panel(name).controls] for name in ROADS}
    assert moved == {
        "classroom": ["a_cm", "b_cm"],
        "ellipse": ["a_cm", "b_cm"],
        "outline": ["terms", "turn_deg"],
        "calipers": ["a_cm", "b_cm", "turn_deg"],
    }


def test_an_unknown_road() -> None:
    """A road that is not there is answered with those that are."""
    with pytest.raises(MeasureError, match="classroom, ellipse, outline, calipers"):
        proof_panel("shortcut")


@pytest.mark.parametrize("value", [0, 10, 2.5, "3", True, None])
def test_a_step_that_is_not_there(value: Any) -> None:
    """Only whole steps from the first to the last can be asked for."""
    with pytest.raises(MeasureError, match="a whole number from 1 to 9"):
        proof_panel("classroom").still(step=value)


def test_a_choice_that_is_not_there() -> None:
    """An outline of another name is refused, and those that are there are named."""
    with pytest.raises(MeasureError, match="a square"):
        proof_panel("outline").still(outline="a star")
    assert Choice("x", "x", "x", ("one", "two")).check("two") == "two"


# ---- lines ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ROADS)
def test_lines_unfold_one_by_one(name: str) -> None:
    """At each step the lines so far are there, with sign, reason, assumption; none of the rest."""
    panel = proof_panel(name)
    steps = road(name).steps
    for place in range(1, len(steps) + 1):
        shown = panel.numbers(**panel.start() | {"step": place})
        markup = lines_html(shown)
        items = re.findall(r"<li[^>]*>(.*?)</li>", markup)
        assert len(items) == place
        for number, (item, step) in enumerate(zip(items, steps, strict=False), 1):
            text = words(item)
            assert f"{number}. {sign_words(step)}" in text
            assert step.line in text
            assert step.reason in text
            assert (f"Uses: {step.assumption}." in text) == bool(step.assumption)
        seen = [words(line) for line in re.findall(r"mensura-line'>(.*?)</span>", markup)]
        assert seen == [one.line for one in steps[:place]]
        # the present line is told to those who do not see its mark
        assert markup.count("aria-current='step'") == 1
        assert "aria-current='step'" in markup.split("<li")[place]


def test_the_signs_in_words() -> None:
    """To be shown, given, enough to show, therefore: what stands before the classroom's lines."""
    said = [sign_words(step) for step in road("classroom").steps]
    assert said[0] == "to be shown"
    assert said[1:3] == ["given", "given"]
    assert set(said[3:8]) == {"⇐ it is enough to show"}
    assert said[8] == "⇒ therefore"


@pytest.mark.parametrize("name", ROADS)
def test_the_table_has_both_sides(name: str) -> None:
    """Every unfolded line has its two sides as the road gives them, and their difference."""
    panel = proof_panel(name)
    steps = road(name).steps
    for changes in ({}, {panel.controls[0].name: panel.controls[0].greatest}):
        shown = panel.numbers(**panel.start() | changes | {"step": len(steps)})
        rows = cells(readout(shown))
        assert len(rows) == len(steps)
        for row, step in zip(rows, steps, strict=True):
            assert row[0].endswith(step.line)
            sides = shown.sides(step)
            if sides is None:
                assert row[1:] == ["–"] * 3
                continue
            left, right, apart = (float(cell.split()[0].replace("−", "-")) for cell in row[1:])
            assert left == pytest.approx(sides[0], rel=1e-3, abs=0.06)
            assert right == pytest.approx(sides[1], rel=1e-3, abs=0.06)
            assert apart == pytest.approx(sides[0] - sides[1], rel=1e-3, abs=0.06)
            assert all(cell.endswith(step.unit) for cell in row[1:])
        assert [row[0].startswith("▶") for row in rows] == [False] * (len(rows) - 1) + [True]


def test_the_numbers_of_the_classroom() -> None:
    """With 30 and 24 cm the tape claims 2318.5 cm², calipers 2261.9 cm²: 56.5 apart, by hand."""
    panel = proof_panel("classroom")
    shown = panel.numbers(**panel.start() | {"step": 4})
    assert sides_words(shown, shown.present) == ("2318.5 cm²", "2261.9 cm²", "56.5 cm²")
    assert "Left 2318.5 cm², right 2261.9 cm², difference 56.5 cm²." in status(shown)


def test_a_circle_shows_what_is_needed() -> None:
    """At a = b the two sides are the same, and the status says that > needs a ≠ b."""
    panel = proof_panel("classroom")
    state = panel.start() | {"a_cm": 30.0, "b_cm": 30.0}
    notes = [
        "it needs a ≠ b" in status(panel.numbers(**state | {"step": step})) for step in range(1, 10)
    ]
    # given lines and the line about the size say =, which holds for a circle too
    assert notes == [True, False, False, True, True, True, True, True, False]
    assert not any(
        "it needs" in status(panel.numbers(**panel.start() | {"step": step}))
        for step in range(1, 10)
    )


@pytest.mark.parametrize("name", ROADS)
def test_a_line_without_a_value_has_a_dash(name: str) -> None:
    """At a = b a quotient of nothing by nothing is not written as a number."""
    panel = proof_panel(name)
    ends = {one.name: 30.0 for one in panel.controls if one.name in ("a_cm", "b_cm")}
    shown = panel.numbers(**panel.start() | ends | {"step": len(road(name).steps)})
    assert "nan" not in readout(shown)
    assert "inf" not in readout(shown)


def test_small_differences_are_seen() -> None:
    """Digits enough to tell the sides apart, and no negative zero."""
    panel = proof_panel("classroom")
    near = panel.numbers(**panel.start() | {"step": 5, "a_cm": 30.0, "b_cm": 29.5})
    assert sides_words(near, near.present) == ("1770.2500 cm²", "1770.0000 cm²", "0.2500 cm²")
    same = panel.numbers(**panel.start() | {"step": 5, "a_cm": 30.0, "b_cm": 30.0})
    assert sides_words(same, same.present) == ("1800.0 cm²", "1800.0 cm²", "0.0 cm²")
    panel = proof_panel("ellipse")
    above = panel.numbers(**panel.start() | {"step": 5})
    assert sides_words(above, above.present) == ("170.17 cm", "170.69 cm", "−0.52 cm")


def test_the_conclusion_comes_last() -> None:
    """What a class takes home stands under the last line only."""
    for name in ROADS:
        panel, count = proof_panel(name), len(road(name).steps)
        told = [
            road(name).says in words(readout(panel.numbers(**panel.start() | {"step": step})))
            for step in (1, count - 1, count)
        ]
        assert told == [False, False, True]


# ---- at work -------------------------------------------------------------------------------------


def test_next_and_back(live: LiveProof) -> None:
    """Two real buttons go through the lines; at either end nothing moves and it is said so."""
    live.set(step=1)
    steps = live.steps
    assert steps is not None
    assert isinstance(steps.next, w.Button)
    assert "Next" in steps.next.description
    assert "Back" in steps.back.description
    steps.back.click()
    assert live.state["step"] == 1
    assert "Line 1 of 9, the first" in steps.where.value
    seen = []
    for _ in range(11):
        seen.append(len(re.findall("<li", live.lines.value)))
        steps.next.click()
    assert seen == [1, 2, 3, 4, 5, 6, 7, 8, 9, 9, 9]
    assert "Line 9 of 9, the last" in steps.where.value
    assert "Line 9 of 9, the last" in live.said.value
    steps.back.click()
    assert live.state["step"] == 8
    # neither button is ever switched off: the keyboard would lose its place
    assert not steps.next.disabled
    assert not steps.back.disabled


def test_arrow_keys_press_the_buttons() -> None:
    """The frame's script finds both buttons by their classes."""
    buttons = StepButtons(Stepper("step", "line", 3), lambda by: None)
    assert "mensura-back" in buttons.back._dom_classes
    assert "mensura-next" in buttons.next._dom_classes
    script = module_text()
    assert "ArrowLeft: '.mensura-back', ArrowRight: '.mensura-next'" in script
    assert "closest('input,select,textarea,[role=slider]')" in script


def test_a_slider_rebuilds_nothing(live: LiveProof) -> None:
    """Moving a control keeps figure, picture and lines; another kind of picture is made anew."""
    live.set(step=5)
    kept, lines, source = live.live, live.lines.value, live.image.whole()
    live.sliders["a_cm"].value = 33.0
    live.sliders["b_cm"].value = 12.0
    assert live.live is kept
    assert live.lines.value == lines
    assert live.image.whole() != source
    live.set(step=6)
    assert live.live is kept
    live.set(step=9)
    assert live.live is not kept
    live.buttons["As at the start"].click()
    assert live.state == live.panel.start()


def test_what_a_step_shows_is_what_a_still_shows() -> None:
    """The picture at work and the one for a page are the same, with the same words."""
    panel = proof_panel("ellipse")
    live = panel.at_work()
    live.set(step=3, a_cm=35.0)
    still = panel.still(step=3, a_cm=35.0)
    assert live.still() == still
    assert "π(a + b) = 185.35 cm" in still.alt
    assert live.image.alt == still.alt


def test_an_outline_is_chosen_from_a_list() -> None:
    """The list has a name and all outlines; a choice redraws the picture for that outline."""
    live = proof_panel("outline").at_work()
    box = live.lists["outline"]
    assert isinstance(box, w.Dropdown)
    assert box.options == OUTLINES
    assert box.description
    live.set(step=2)
    box.value = SQUARE
    assert live.state["outline"] == SQUARE
    assert "The outline of a square: 1600.0 cm²" in live.image.alt
    kept = live.live
    live.set(step=1)
    spectrum = live.live
    assert spectrum is not kept
    live.sliders["terms"].value = 20
    assert live.live is spectrum
    assert "Ripples 1 to 20 sum" in live.image.alt


@pytest.mark.parametrize("name", ROADS)
def test_what_a_notebook_is_given(name: str) -> None:
    """A live view; without a kernel the first line and its picture, with its words."""
    data, metadata = proof_panel(name)._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in data
    first = road(name).steps[0]
    assert road(name).title in data["text/plain"]
    assert first.line in data["text/plain"]
    assert road(name).steps[1].line not in data["text/plain"]
    assert metadata["image/png"]["alt"] in data["text/plain"]
