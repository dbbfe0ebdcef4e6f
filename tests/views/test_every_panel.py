"""Every panel, walked: whatever is declared among the chapters, and each road of the proof.

A new panel is held to all this from its first day: it is found where it lies.
"""

from __future__ import annotations

import html
import re
import textwrap
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import mensura.views.chapters as chapters
from mensura.checks import MeasureError
from mensura.draws import uniforms
from mensura.teaching.controls import Control, State, Stepper
from mensura.teaching.proof.roads import ROADS
from mensura.views.kit.live import Live
from mensura.views.kit.panel import Panel
from mensura.views.proof.panel import ProofPanel, new_picture, picture_key, proof_panel

PANELS: dict[str, Panel[Any]] = {
    **chapters.panels(),
    **{f"proof, {name}": proof_panel(name) for name in ROADS},
}

every = pytest.mark.parametrize("name", PANELS)

#: States in which several controls stand at an end at once, drawn once for all.
CORNERS = 24
#: So many dots at least change with a step: fewer would not be seen.
LEAST_DOTS = 40
#: A longer label is cut short in its column.
LONGEST_LABEL = 22


def picture_of(name: str, panel: Panel[Any], numbers: Any) -> Live[Any]:
    """The figure that serves some numbers, and many others."""
    key = picture_key(numbers) if isinstance(panel, ProofPanel) else None
    place = KEPT.setdefault((name, key), [])
    if not place:
        place.append(Live(new_picture(numbers) if key else panel.picture()))
    return place[0]


def paint(name: str, panel: Panel[Any], state: State) -> tuple[Live[Any], Any]:
    """The picture of a state, with its dots."""
    numbers = panel.numbers(**state)
    live = picture_of(name, panel, numbers)
    return live, live.paint(numbers)


KEPT: dict[Any, list[Live[Any]]] = {}


def states(panel: Panel[Any]) -> list[State]:
    """All states that are looked at, each once: with all others least, the least is many an end."""
    return list({tuple(state.items()): state for state in _states(panel)}.values())


def _states(panel: Panel[Any]) -> Iterator[State]:
    """The start; each control at each end with the others at the start, least, most; corners."""
    start = panel.start()
    ends = {name: one.ends for name, one in panel.named.items()}
    least = {name: place[0] for name, place in ends.items()}
    most = {name: place[-1] for name, place in ends.items()}
    yield start
    for name, one in panel.named.items():
        # a stepper has a picture of its own at every step
        places = range(1, one.count + 1) if isinstance(one, Stepper) else one.ends
        for place in places:
            for others in (start, least, most):
                yield others | {name: place}
    for corner in range(CORNERS):
        share = uniforms(len(ends), "corner", panel.title, corner)
        yield {n: p[int(x * len(p))] for (n, p), x in zip(ends.items(), share, strict=True)}


def other_values(panel: Panel[Any], name: str) -> list[Any]:
    """Where else a control can stand, near its start."""
    one = panel.named[name]
    if isinstance(one, Control):
        return [panel.named[name].check(round(one.start + way * one.step, 9)) for way in (-1, 1)]
    return [place for place in one.ends if place != one.start]


def changed_dots(before: Any, after: Any) -> int:
    """How many dots differ; all of them where a step has a picture of another size."""
    if before.shape != after.shape:
        return int(after.size)
    # four bytes a dot
    whole = (np.ascontiguousarray(one).view(np.uint32) for one in (before, after))
    return int(np.count_nonzero(np.not_equal(*whole)))


def places(one: Any) -> list[Any]:
    """The ends of a control, and some places between them."""
    if not isinstance(one, Control):
        return list(one.ends)
    steps = round((one.greatest - one.least) / one.step)
    at = [one.least + round(steps * k / 8) * one.step for k in range(9)]
    return [one.check(round(place, 9)) for place in at]


class Table(HTMLParser):
    """Reads a panel's readout: heads, cells, and whatever is opened and not closed."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.met: list[tuple[str, dict[str, Any]]] = []
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.met.append((tag, dict(attrs)))
        if tag not in ("br", "img"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)


def state_faults(name: str, panel: Panel[Any], letters: Any, pieces: Any) -> list[str]:
    """What is wrong with a panel's lettering, parts, words or table, in any of its states."""
    wrong = set()
    met: dict[Any, list[Any]] = {}
    for state in states(panel):
        live, dots = paint(name, panel, state)
        texts = met[live] = met.get(live) or letters.texts(live.figure)
        wrong |= set(pieces.badly_declared(live.picture))
        written = letters.lettering(live.figure)
        parted = pieces.parted_letters(live, written)
        wrong |= {f"{line}: {state}" for line in parted}
        if stray := pieces.stray_dots(live, dots):
            wrong.add(f"{stray} dots in no part: {state}")
        wrong |= {
            f"{a!r} lies on {b!r}: {state}" for a, b in letters.overlaps(live.figure, written)
        }
        cut_off = letters.cut_off(live.figure, written)
        wrong |= {f"{text!r} is cut off: {state}" for text in cut_off}
        wrong |= {f"{text!r} is too small" for text in letters.too_small(None, among=texts)}
        wrong |= {f"{line}: {state}" for line in word_faults(*said_of(name, panel, state))}
    for live in met:  # ticks that came meanwhile
        wrong |= {f"{text!r} is too small" for text in letters.too_small(live.figure)}
    return sorted(wrong)


def word_faults(alt: str, status: str, readout: str) -> list[str]:
    """What is wrong with words: none, a number that is none, a hyphen for a minus, a bad table."""
    plain = html.unescape(re.sub(r"<[^>]+>", " ", readout))
    wrong = [
        f"{what} {text!r}"
        for what, text in (("words", alt), ("status", status), ("readout", plain))
        if not text.strip() or re.search(r"\b(nan|inf)\b|None (cm|%|°)|[{}]|-\d", text)
    ]
    table = Table()
    table.feed(readout)
    heads = {attrs.get("scope") for tag, attrs in table.met if tag == "th"}
    cells = sum(tag == "td" for tag, _ in table.met)
    if table.open or table.wrong or not cells or heads != {"col", "row"}:
        wrong.append(f"table {readout!r}")
    return wrong


def said_of(name: str, panel: Panel[Any], state: State) -> tuple[str, str, str]:
    """All that a panel says of a state."""
    numbers = panel.numbers(**state)
    live = picture_of(name, panel, numbers)
    return live.picture.describe(numbers), panel.status(numbers), panel.readout(numbers)


# ---- the walk ------------------------------------------------------------------------------------


@every
def test_every_state_is_legible_and_said(name: str, letters: Any, pieces: Any) -> None:
    """Wherever the controls stand no text lies on another, is cut off or small, every text lies
    whole in a part that a narrow page can show, nothing lies in none, and words, status and table
    are whole and hold no number that is none."""
    assert state_faults(name, PANELS[name], letters, pieces) == []


@every
def test_every_control_moves_picture_and_words(name: str) -> None:
    """A step either way changes dots, and words, status or table say another thing elsewhere."""
    panel = PANELS[name]
    start, steps = panel.start(), panel.stepper
    resting = []
    for control, one in panel.named.items():
        bases = [start]
        if steps and one is not steps:
            # a road's control may move a later line than the first
            bases = [start | {steps.name: step} for step in range(1, steps.count + 1)]
        moved = said = False
        for base in bases:
            if not moved:
                before = paint(name, panel, base)[1].copy()
                moved = all(
                    changed_dots(before, paint(name, panel, base | {control: at})[1]) > LEAST_DOTS
                    for at in other_values(panel, control)
                )
            told = said_of(name, panel, base)
            said = said or any(
                said_of(name, panel, base | {control: place}) != told for place in places(one)
            )
        if not (moved and said):
            resting.append((control, moved, said))
    assert resting == []


@every
def test_controls_are_labelled(name: str) -> None:
    """Each has a label that fits its column, no two the same; a step either way leads somewhere."""
    panel = PANELS[name]
    labels = [one.label for one in panel.named.values()]
    assert all(labels)
    assert len(set(labels)) == len(labels)
    for one in panel.controls:
        assert len(f"{one.label}, {one.unit}" if one.unit else one.label) <= LONGEST_LABEL
        assert one.group
        assert one.least + one.step <= one.start + 1e-9
        assert one.start <= one.greatest - one.step + 1e-9


@every
def test_presets_lead_somewhere(name: str) -> None:
    """Each button's values change what is shown, and none has the start's own name."""
    panel = PANELS[name]
    assert "As at the start" not in panel.presets
    told = said_of(name, panel, panel.start())
    for values in panel.presets.values():
        assert said_of(name, panel, panel.state(values)) != told


@every
def test_what_is_not_there_is_refused(name: str) -> None:
    """A still and the panel at work answer a misspelt name and a value beyond an end."""
    panel = PANELS[name]
    live = panel.at_work()
    before = dict(live.state), live.image.whole()
    one = panel.controls[0]
    for give in (panel.still, live.set):
        with pytest.raises(MeasureError, match=f"is '{one.name}s'; expected one of: .*{one.name}"):
            give(**{f"{one.name}s": one.start})
        with pytest.raises(MeasureError, match=re.escape(f"{one.label} is")):
            give(**{one.name: one.greatest + one.step})
    assert (live.state, live.image.whole()) == before


@every
def test_without_a_kernel_a_page_has_picture_and_words(name: str) -> None:
    """What a stored notebook keeps: the picture of the start, its words, and the title."""
    panel = PANELS[name]
    data, metadata = panel._repr_mimebundle_()
    still = panel.still()
    assert data["image/png"] == still.png
    assert data["text/html"] == still.html
    assert data["text/plain"].startswith(f"{panel.title}. {still.alt}")
    assert metadata["image/png"] == still.metadata
    assert len(still.alt) > 40


# ---- the walk itself -----------------------------------------------------------------------------

MADE_UP = """
    from mensura.teaching.controls import Control
    from mensura.views.kit.live import Picture
    from mensura.views.kit.panel import Panel
    from mensura.views.kit.parts import Box, Part

    class Lines(Picture):
        width_px, height_px = 400, 200
        def parts(self):
            left, right = Box(0, 0, 400, 106).cut_x(210)
            return Part("left", (left,)), Part("right", (right,))
        def draw(self, figure):
            figure.text(0.5, 0.5, "one", fontsize=11)
            self.word = figure.text(0.9, 0.5, "", fontsize=11)
            self.moving.append(self.word)
        def show(self, numbers):
            self.word.set_x(numbers / 10)
            self.word.set_text("two")
        def describe(self, numbers):
            return f"Two words, one at {numbers:g} tenths of the way across, nothing besides."

    MADE_UP_PANEL = Panel(
        title="Made up",
        controls=(Control("at_cm", "where", "cm", 0, 10, 1, 5, "Word"),),
        numbers=lambda at_cm: at_cm,
        picture=Lines,
        readout=lambda at: f"<table><tr><th scope='row'>at</th><td>{at}</td></table>",
        status=lambda at: f"Now at {at - 20}.",
    )
"""


def test_a_new_panel_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, letters: Any, pieces: Any
) -> None:
    """A module laid among the chapters is walked, and what is wrong with it is found."""
    (tmp_path / "made_up.py").write_text(textwrap.dedent(MADE_UP), "utf-8")
    monkeypatch.setattr(chapters, "__path__", [*chapters.__path__, str(tmp_path)])
    chapters.panels.cache_clear()
    try:
        found = chapters.panels()
    finally:
        chapters.panels.cache_clear()
    assert set(found) - set(PANELS) == {"made_up"}
    assert len(found) > 7
    wrong = state_faults("made up", found["made_up"], letters, pieces)
    assert any("lies on" in line for line in wrong)
    assert any("'two' is cut off" in line for line in wrong)
    assert any("'one' is cut by" in line for line in wrong)
    assert any("'two' is in no part" in line for line in wrong)
    assert any("dots in no part" in line for line in wrong)
    assert any(line.startswith("table") for line in wrong)
    assert any(line.startswith("status 'Now at -") for line in wrong)
