"""Every picture there is, with what it shows: panels at their controls' ends, and all stills.

For tests that draw them all: `cases()` is the walk, and a new panel, step, family of problems or
still is in it without being named here.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

from mensura.teaching.controls import State, Stepper
from mensura.teaching.problems import bank
from mensura.teaching.proof.roads import ROADS
from mensura.views import chapters
from mensura.views.kit.panel import Panel
from mensura.views.problems.pictures import ProblemPicture
from mensura.views.proof.panel import ProofPanel, new_picture, picture_key, proof_panel


@dataclass
class Case:
    """One figure, and all that it is to show.

    name: what it is; make: makes its picture; shown: name → numbers.
    """

    name: str
    make: Callable[[], Any]
    shown: dict[str, Any] = field(default_factory=dict)


def ends(panel: Panel[Any]) -> Iterator[tuple[str, State]]:
    """The start, and each control at each end, the others as they start; a stepper at each step.

    panel: whose states; with each its name.
    """
    start = panel.start()
    yield "start", start
    for name, one in panel.named.items():
        places = range(1, one.count + 1) if isinstance(one, Stepper) else one.ends
        for place in places:
            if place != start[name]:
                yield f"{name} {place}", start | {name: place}


def of_panels() -> Iterator[Case]:
    """The chapters' panels, one figure each."""
    for name, panel in chapters.panels().items():
        shown = {said: panel.numbers(**state) for said, state in ends(panel)}
        yield Case(name, panel.picture, shown)


def of_roads() -> Iterator[Case]:
    """The proof's pictures: every step of a road, and every kind of picture at the ends."""
    for name in ROADS:
        panel = proof_panel(name)
        found: dict[Any, Case] = {}
        for said, numbers in _road(panel):
            key = picture_key(numbers)
            if key not in found:
                found[key] = Case(f"{name}, {key[0]} {key[1]}", lambda n=numbers: new_picture(n))
            found[key].shown[said] = numbers
        yield from found.values()


def _road(panel: ProofPanel) -> Iterator[tuple[str, Any]]:
    start, kinds = panel.start(), set()
    assert panel.stepper
    for step in range(1, panel.stepper.count + 1):
        numbers = panel.numbers(**start | {"step": step})
        yield f"step {step}", numbers
        if numbers.present.picture in kinds:
            continue
        kinds.add(numbers.present.picture)
        for said, state in ends(panel):
            if state["step"] == start["step"]:
                yield f"step {step}, {said}", panel.numbers(**state | {"step": step})


def of_problems() -> Iterator[Case]:
    """One problem of each family."""
    for key in bank.all_families():
        one = bank.problem(key, "Q07", "quillmere")
        yield Case(f"problem {key}", lambda one=one: ProblemPicture(one), {"": None})


def of_stills() -> Iterator[Case]:
    """What the walk of all stills lists."""
    for name, (make, numbers) in _beside("test_every_still").PICTURES.items():
        yield Case(f"still {name}", make, {"": numbers})


def _beside(stem: str) -> ModuleType:
    path = Path(__file__).with_name(f"{stem}.py")
    spec = importlib.util.spec_from_file_location(f"mensura_tests_{stem}", path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def cases() -> Iterator[Case]:
    """All of them."""
    yield from of_panels()
    yield from of_roads()
    yield from of_problems()
    yield from of_stills()
