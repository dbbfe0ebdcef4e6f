"""Everything of ours says what is to be kept of it, and takes it back: walked once over all."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mensura.teaching.proof.steps import ENOUGH, THEREFORE
from mensura.views.chapters import panels
from mensura.views.chapters.asking import Exercised, Predicted, ask
from mensura.views.chapters.games import PlayedGame, picture_game, wrong_reading_game
from mensura.views.chapters.place_game import PlayedPlace, place_game
from mensura.views.kit import keeping as module
from mensura.views.kit.panel import LivePanel
from mensura.views.problems.practice import Practice, problems_here
from mensura.views.proof.own_line import own_line
from mensura.views.proof.panel import proof_panel

PANELS = panels()


class Joined(Exception):
    """Ends a build at the moment at which a frame's keeper is known."""


def joined(monkeypatch: pytest.MonkeyPatch, make: Callable[[], Any]) -> list[tuple[str, Any]]:
    """(name, keeper) of every frame that something makes."""
    met = []
    monkeypatch.setattr(
        module.Keeping, "join", lambda self, name, frame, box, keeper: met.append((name, keeper))
    )
    make()
    return met


def built(one: Any) -> Any:
    one.build()
    return one


#: One of each kind, made anew at each call, and something to do with it.
KINDS: dict[str, tuple[Callable[[Path], Any], Callable[[Any], None]]] = {
    "prediction": (
        lambda _: Predicted(ask("02-predict")),
        lambda one: (setattr(one.answer, "index", 2), one.button.click()),
    ),
    "prediction, not replied to": (
        lambda _: Predicted(ask("02-turn")),
        lambda one: setattr(one.answer, "index", 1),
    ),
    "exercise": (
        lambda _: Exercised(ask("02-1")),
        lambda one: setattr(one.answer, "value", "1817 cm2"),
    ),
    "exercise, nonsense": (
        lambda _: Exercised(ask("02-1")),
        lambda one: setattr(one.answer, "value", "<b>a lot</b>"),
    ),
    "reading game": (
        lambda _: PlayedGame(wrong_reading_game()),
        lambda one: (one.go_on(), choose_right(one), one.button.click()),
    ),
    "picture game": (
        lambda _: PlayedGame(picture_game()),
        lambda one: (choose_right(one), one.button.click(), one.go_on(), one.go_on()),
    ),
    "place game": (
        lambda _: PlayedPlace(place_game("Q07")),
        lambda one: (one.go_on(), put(one), one.button.click()),
    ),
    "road": (
        lambda _: proof_panel("classroom").at_work(),
        lambda one: (one.step(1), one.step(1), one.set(a_cm=35.0)),
    ),
    "own proof": (
        lambda at: built(own_line(at)),
        lambda one: write_lines(one),
    ),
    "problem": (
        lambda _: problem_keeper(),
        lambda one: (one.hint(), setattr(one.box, "value", "12 cm"), one.check()),
    ),
    "problem, solved and read": (
        lambda _: problem_keeper(),
        lambda one: (setattr(one.box, "value", "40,11 cm"), one.check(), one.solution()),
    ),
    "practice": (
        lambda at: built(Practice("girth", "Q07", "quillmere", "1", at)),
        lambda one: (one.next_problem(), one.next_numbers(), one.desk.hint(), typed(one)),
    ),
    **{
        f"panel, {name}": (lambda _, panel=panel: panel.at_work(), lambda one: move(one))
        for name, panel in PANELS.items()
    },
}


def choose_right(game: PlayedGame) -> None:
    keys = [key for _, key in game.game.choices(game.seed)]
    game.answer.value = next(key for key in keys if game.game.reply(game.seed, key).right)


def put(one: PlayedPlace) -> None:
    one.rows["scale_m"].slider.value = 1.5
    one.bands.value = "mean"
    one.rows["second_m"].box.value = "1.25"


def write_lines(one: Any) -> None:
    one.longer.value = True
    for text, way in (
        ("(a-b)^2 > 0", THEREFORE),
        ("a^2 + b^2 > 2ab", ENOUGH),
        ("no line", ENOUGH),
    ):
        one.box.value, one.way.value = text, way
        one.write()
    assert len(one.chain.written) == 2


def problem_keeper() -> Any:
    """The desk of a problem on a page, as its frame knows it."""
    with pytest.MonkeyPatch.context() as patched:
        ((_, keeper),) = joined(patched, problems_here("girth-to-diameter").build)
    return keeper


def typed(one: Practice) -> None:
    one.desk.box.value = "3 cm"
    one.desk.check()


def move(one: LivePanel[Any]) -> None:
    """Every control away from its start, and a box that was refused."""
    for control in one.panel.controls:
        one.set(**{control.name: control.least})
    for switch in one.panel.switches:
        one.set(**{switch.name: not switch.start})
    for choice in one.panel.choices:
        one.set(**{choice.name: choice.options[-1]})
    next(iter(one.boxes.values())).value = "9999 <b>"


def seen(root: Any) -> list[Any]:
    """What is to be seen of it: every value in its box; which control was moved last is none."""
    value = getattr(root, "value", None)
    found = [re.sub(r' data-(?:by|moved)="[^"]*"', "", value) if isinstance(value, str) else value]
    for child in getattr(root, "children", ()):
        found += seen(child)
    return found


def root_of(one: Any) -> Any:
    return getattr(one, "widget", None) or getattr(one, "_widget", None)


@pytest.mark.parametrize("kind", KINDS)
def test_it_comes_back_as_it_was_left(kind: str, tmp_path: Path) -> None:
    """What is kept goes through JSON into a new one: the same is kept of it, the same is seen."""
    make, do = KINDS[kind]
    one = make(tmp_path)
    start = json.loads(json.dumps(one.kept()))
    do(one)
    kept = json.loads(json.dumps(one.kept()))
    assert kept != start
    again = make(tmp_path)
    again.restore(kept)
    assert json.loads(json.dumps(again.kept())) == kept
    if root_of(one) is not None and kind not in ("own proof", "practice", "picture game"):
        assert seen(root_of(again)) == seen(root_of(one))


@pytest.mark.parametrize("kind", KINDS)
def test_it_goes_back_to_its_start(kind: str, tmp_path: Path) -> None:
    """Another student's page begins as pages begin, whatever the last one did."""
    make, do = KINDS[kind]
    one = make(tmp_path)
    start = one.kept()
    do(one)
    one.restore(start)
    now = one.kept()
    if kind == "practice":  # what was read of a problem is read, and told by the progress
        now["desk"] |= {"hints": start["desk"]["hints"], "tried": start["desk"]["tried"]}
    assert now == start


#: Anything that could stand in a file.
ANY = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**12), 10**12) | st.floats() | st.text(max_size=9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=6,
)
#: What one frame of each kind is spoiled in; each made once.
SPOILED = ("prediction", "exercise", "reading game", "own proof", "problem", "practice")


@pytest.mark.parametrize("kind", SPOILED)
def test_a_spoiled_file_spoils_no_page(kind: str, tmp_path: Path) -> None:
    """One value of what is kept is replaced by anything: nothing raises, the frame works on."""
    make, do = KINDS[kind]
    one = make(tmp_path)
    do(one)
    kept = json.loads(json.dumps(one.kept()))
    frame = type("Frame", (), {"drafts": {}, "send": lambda *_: None})()
    place = module._Kept(one, frame)

    @settings(max_examples=25)
    @given(name=st.sampled_from(sorted(kept)), value=ANY)
    def spoil(name: str, value: Any) -> None:
        place.put_back({"state": kept | {name: value}, "drafts": value}, afresh=False)
        json.dumps(one.kept(), allow_nan=False)

    spoil()
    place.put_back({"state": kept}, afresh=True)
    assert json.loads(json.dumps(one.kept())) == kept


def test_a_panel_takes_what_fits() -> None:
    """Names that are not there and values out of range are left out; the rest is taken."""
    panel = next(iter(PANELS.values()))
    control, other = panel.controls[0], panel.controls[-1]
    live = panel.at_work()
    live.restore(
        {"at": {control.name: 1e9, other.name: other.greatest, "none": 3, "x": [1]}, "typed": {}}
    )
    assert live.state == panel.start() | {other.name: other.greatest}


def test_a_problem_is_no_attempt_when_it_comes_back(tmp_path: Path) -> None:
    """Restored, an answer that was given is not written into the progress a second time."""
    one = built(Practice("girth", "Q07", "quillmere", "1", tmp_path))
    typed(one)
    count = len(one.progress.attempts)
    assert count == 1
    kept = one.kept()
    again = built(Practice("girth", "Q07", "quillmere", "1", tmp_path))
    again.restore(kept)
    again.desk.check()
    assert len(Practice("girth", "Q07", "quillmere", "1", tmp_path).progress.attempts) == count
    other = built(Practice("girth", "Q08", "quillmere", "1", tmp_path))
    before = other.kept()
    other.restore(kept)
    assert other.kept() == before


def test_a_line_that_does_not_stand_is_left_out(tmp_path: Path) -> None:
    """Lines of a spoiled file are judged as any other line is."""
    one = built(own_line(tmp_path))
    lines = [["(a-b)^2 > 0", THEREFORE, False], ["a < b", THEREFORE, False]]
    one.restore({"longer_axis": False, "lines": lines, "box": "b", "way": "up", "cites": 1})
    assert [line.text for line in one.chain.written] == ["(a-b)^2 > 0"]
    assert (one.box.value, one.cites.value) == ("b", False)


def test_every_frame_has_a_keeper(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Whatever a notebook shows joins under a name of its own."""
    names = []
    for make in (
        *(panel.at_work for panel in PANELS.values()),
        lambda: proof_panel("ellipse").at_work(),
        ask("02-predict").build,
        ask("02-1").build,
        lambda: PlayedGame(picture_game()),
        lambda: PlayedGame(wrong_reading_game()),
        lambda: PlayedPlace(place_game("Q07")),
        own_line(tmp_path).build,
        Practice(None, "Q07", "quillmere", "1", tmp_path).build,
        problems_here("girth-to-diameter").build,
        problems_here("girth-to-diameter", 2).build,
    ):
        with monkeypatch.context() as patched:
            ((name, _),) = joined(patched, make)
        names.append(name)
    assert len(set(names)) == len(names)
    assert all(names)
