"""The inks: seen on whatever they stand on in any picture, on every kind of page, by all eyes.

What stands on what is not said here: it is found in the pictures, as they are recorded.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from matplotlib.patches import Rectangle

import mensura.views.chapters as chapters
from mensura.teaching.controls import State, Stepper
from mensura.teaching.proof.roads import ROADS
from mensura.views.kit import inks, look
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.panel import Panel
from mensura.views.proof.panel import ProofPanel, new_picture, picture_key, proof_panel

every_mode = pytest.mark.parametrize("mode", inks.MODES)
MORE = ("contrast", "contrast-dark")

#: On these things stand; they are told from each other by the line between them.
GROUNDS = {"paper", "wood", "ground", "band-fill", "beam-fill", "bark-fill"}
#: These carry nothing, and may be faint.
FAINT = {"grid", "ring"}
FAINT_LEAST, FAINT_LEAST_MORE = 1.2, 2.0
#: Where a stem, its bark or the ground goes on beyond what is drawn, no line says that it ends.
OPEN_EDGES = {("paper", "wood"), ("ground", "paper"), ("bark-fill", "paper")}

#: What a picture compares.
COMPARED = ("truth", "tape", "calipers", "classroom")
#: Colour difference in CIELAB (1976) that is told at a glance; one that is just seen is 2.3. Our
#: own choice. What is always dashed may be nearer.
APART, APART_DASHED = 20.0, 10.0

#: Machado, Oliveira and Fernandes (2009), A physiologically-based model for simulation of color
#: vision deficiency, IEEE Trans. Vis. Comput. Graph. 15(6), 1291-1298: severity 1.0, for linear
#: RGB. The digits are from memory, compared with those in the sources of the library
#: colour-science.
EYES = {
    "most": np.eye(3),
    "protan": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deutan": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritan": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
#: Linear sRGB as CIE XYZ (IEC 61966-2-1).
XYZ = np.array(
    [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041],
    ]
)


def linear(colour: str) -> Any:
    """ "#RRGGBB" as linear RGB between 0 and 1."""
    parts = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2 defines it."""
    low, high = sorted(float(linear(colour) @ [0.2126, 0.7152, 0.0722]) for colour in (one, other))
    return (high + 0.05) / (low + 0.05)


def lab(rgb: Any) -> Any:
    """CIELAB of linear RGB, for the white of the screen."""
    share = XYZ @ np.clip(rgb, 0, 1) / XYZ.sum(axis=1)
    edge = 6 / 29
    f = np.where(share > edge**3, np.cbrt(share), share / (3 * edge**2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def apart(one: str, other: str, eyes: str = "most") -> float:
    """How different two colours look to some eyes: CIELAB, 1976."""
    first, second = (lab(EYES[eyes] @ linear(colour)) for colour in (one, other))
    return float(np.hypot(np.hypot(*(first - second)[:2]), (first - second)[2]))


# ---- what stands on what -------------------------------------------------------------------------


def ends(panel: Panel[Any]) -> Iterator[State]:
    """The start, and each control at its ends; a stepper at each step."""
    start = panel.start()
    yield start
    for name, one in panel.named.items():
        places = range(1, one.count + 1) if isinstance(one, Stepper) else one.ends
        yield from (start | {name: place} for place in places)


def figures(stills: Any) -> Iterator[tuple[str, Picture[Any], list[Any]]]:
    """Every picture of every chapter, road and still, with all that it is to show."""
    for name, (make, numbers) in stills.PICTURES.items():
        yield name, make(), [numbers]
    panels = {**chapters.panels(), **{f"proof, {name}": proof_panel(name) for name in ROADS}}
    for name, panel in panels.items():
        kept: dict[Any, tuple[Any, list[Any]]] = {}
        for state in ends(panel):
            numbers = panel.numbers(**state)
            key = picture_key(numbers) if isinstance(panel, ProofPanel) else None
            if key not in kept:
                kept[key] = new_picture(numbers) if key else panel.picture(), []
            kept[key][1].append(numbers)
        for key, (picture, shown) in kept.items():
            yield f"{name}, {key}" if key else name, picture, shown


def found_in(standing: Any, picture: Picture[Any], shown: list[Any]) -> Any:
    """What stands on what in a picture of several numbers."""
    live, found = Live(picture), standing.Standing()
    for one in standing.standings(live.record(numbers) for numbers in shown):
        found.add(one)
    live.close()
    return found


@pytest.fixture(scope="module")
def found(standing: Any, stills: Any) -> dict[str, Any]:
    """Name of a picture → what stands on what in it."""
    return {name: found_in(standing, picture, shown) for name, picture, shown in figures(stills)}


def unseen(found: Any, mode: str) -> list[str]:
    """What is not told from its ground in a picture, on one kind of page."""
    table = inks.tables()[mode]
    words, lines = (7.0, 4.5) if mode in MORE else (4.5, 3.0)
    wrong = []
    for (ink, ground), dots in found.texts.items():
        if (ratio := contrast(table[ink], table[ground])) < words:
            wrong.append(f"words in {ink} on {ground}: {ratio:.2f}, {dots} dots")
    for (both, ground), dots in found.things.items():
        least = lines
        if set(both) <= GROUNDS:
            continue  # a gap in what lies below
        if set(both) <= FAINT:
            least = FAINT_LEAST_MORE if mode in MORE else FAINT_LEAST
        ratio = max(contrast(table[ink], table[ground]) for ink in both)
        if ratio < least:
            wrong.append(f"{' and '.join(both)} on {ground}: {ratio:.2f}, {dots} dots")
    return wrong


def unparted(found: Any, mode: str) -> list[str]:
    """Fills that meet in a picture with nothing between them that tells them apart."""
    table = inks.tables()[mode]
    met: Counter[tuple[str, str]] = Counter()
    bare: Counter[tuple[str, str]] = Counter()
    for (one, other, line), dots in found.beside.items():
        met[one, other] += dots
        seen = [contrast(table[one], table[other])]
        if line:
            seen = [max(*seen, *(contrast(table[line], table[side]) for side in (one, other)))]
        if seen[0] < 3:
            bare[one, other] += dots
    return [
        f"{one} beside {other}: {dots} of {met[one, other]} dots"
        for (one, other), dots in bare.items()
        # the ends of a line are softer than it
        if (one, other) not in OPEN_EDGES and dots > 0.05 * met[one, other]
    ]


@every_mode
def test_all_is_told_from_what_it_stands_on(found: dict[str, Any], mode: str) -> None:
    """Words have 4.5 to 1, lines and marks 3 to 1, more where more was asked for; wherever any
    control of any panel stands at an end, and in every still."""
    assert {name: wrong for name, one in found.items() if (wrong := unseen(one, mode))} == {}


@every_mode
def test_fills_are_parted(found: dict[str, Any], mode: str) -> None:
    """Of two fills that meet a line tells where, unless they themselves do."""
    assert {name: wrong for name, one in found.items() if (wrong := unparted(one, mode))} == {}


def test_much_was_found(found: dict[str, Any]) -> None:
    """The walk itself: every ink stands somewhere, words on five grounds, the tape on as many."""
    texts = {pair for one in found.values() for pair in one.texts}
    things = {(i, ground) for one in found.values() for both, ground in one.things for i in both}
    fills = {ink for one in found.values() for beside in one.beside for ink in beside[:2]}
    assert {ink for ink, _ in texts | things} | fills == set(look.INKS)
    assert {ground for ink, ground in texts if ink == "truth"} == GROUNDS - {"bark-fill"}
    assert {ground for ink, ground in things if ink == "tape"} >= GROUNDS - {"beam-fill"}
    assert {ink for ink, _ in texts} == {"truth", "quiet", "tape-word", "calipers"}


class Wrong(Picture[None]):
    """A picture in which much is too faint: what the checks must find."""

    width_px, height_px = 300, 200

    def draw(self, figure: Any) -> None:
        axes = look.place(figure, 0, 0, 300, 200)
        axes.set(xlim=(0, 300), ylim=(0, 200))
        axes.axis("off")
        axes.text(20, 180, "orange", color=look.TAPE)
        for left, fill in ((20, look.WOOD), (100, look.BAND_FILL)):
            axes.add_patch(Rectangle((left, 20), 80, 80, fc=fill, ec="none"))
        axes.plot([20, 280], [140, 140], color=look.TAPE, lw=3)
        axes.plot([20, 280], [60, 60], color=look.GRID, lw=3)
        axes.plot([30, 60], [80, 80], color=look.RING, lw=3)
        axes.plot([30, 60], [30, 30], color=look.BARK, lw=3)

    def show(self, numbers: None) -> None:
        pass

    def describe(self, numbers: None) -> str:
        return "Too faint."


def test_what_is_too_faint_is_found(standing: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """The checks themselves: words, a line, fills without a line between them; and no more."""
    found = found_in(standing, Wrong(), [None])
    assert [re.sub(r", \d+ dots", "", line) for line in unseen(found, "light")] == [
        "words in tape on paper: 3.87",
        "grid on wood: 1.11",
        "grid on band-fill: 1.10",
    ]
    assert [line.split(":")[0] for line in unparted(found, "light")] == [
        "band-fill beside wood",
        "band-fill beside paper",
    ]
    monkeypatch.setattr(inks, "tables", lambda: {"light": dict(look.INKS) | {"bark": look.WOOD}})
    assert "bark on wood: 1.00" in " ".join(unseen(found, "light"))


# ---- the table -----------------------------------------------------------------------------------


def test_every_ink_has_a_colour_everywhere() -> None:
    """The light page has the look's own; no two inks of it are one, since a name is found by it."""
    tables = inks.tables()
    assert tuple(tables) == inks.MODES
    assert tables["light"] == look.INKS
    assert len(set(look.INKS.values())) == len(look.INKS)
    for table in tables.values():
        assert list(table) == list(look.INKS)
        assert all(re.fullmatch(r"#[0-9A-F]{6}", colour) for colour in table.values())


def test_the_dark_page_is_the_sheet_s() -> None:
    """A picture's paper, tape and calipers are those of what stands round it, light and dark."""
    for side, mode in enumerate(("light", "dark")):
        for name in ("paper", "quiet", "tape", "calipers"):
            assert inks.tables()[mode][name] == look.THEMES[name][side]


def test_print_has_no_colour() -> None:
    """White paper, black truth, greys."""
    table = inks.tables()["print"]
    assert (table["paper"], table["truth"]) == ("#FFFFFF", "#000000")
    assert [c for c in table.values() if len({c[1:3], c[3:5], c[5:7]}) > 1] == []


def test_the_page_takes_the_table() -> None:
    """What is put into the module is the table, once, and says the same when it is read."""
    text = inks.inks_js()
    (told,) = re.findall(r"^const INKS = (.*);$", text, flags=re.M)
    assert json.loads(told) == {mode: dict(table) for mode, table in inks.tables().items()}
    assert inks.PLACE not in text
    assert "export" not in text


# ---- eyes ----------------------------------------------------------------------------------------


def test_the_eyes_are_as_published() -> None:
    """Greys stay greys; what each kind of eye confuses comes close, what it tells stays apart."""
    for matrix in EYES.values():
        assert matrix.sum(axis=1) == pytest.approx(1, abs=2e-6)
    red, green = "#C04000", "#607000"
    assert apart(red, green) > 50
    assert apart(red, green, "deutan") < apart(red, green) / 2
    assert apart("#000000", "#FFFFFF", "tritan") == pytest.approx(100, abs=0.1)
    assert lab(linear("#FF0000")) == pytest.approx([53.24, 80.09, 67.20], abs=0.02)


@every_mode
@pytest.mark.parametrize("eyes", EYES)
def test_what_is_compared_stays_apart(found: dict[str, Any], mode: str, eyes: str) -> None:
    """Truth, tape, calipers and classroom, by colour or lightness; nearer only what the pictures
    always dash."""
    table = inks.tables()[mode]
    solid = set().union(*(one.solid for one in found.values()))
    near = {}
    for one, other in combinations(COMPARED, 2):
        least = APART if {one, other} <= solid else APART_DASHED
        if (far := apart(table[one], table[other], eyes)) < least:
            near[one, other] = far
    assert near == {}
    assert solid & set(COMPARED) == {"truth", "tape", "calipers"}
