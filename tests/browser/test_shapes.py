"""Every picture both ways: as Agg paints it, and its shapes as the page paints them.

All panels at both ends of every control, every step of every proof, a problem of each family and
all stills are painted by both, and what one has and the other has not within a shown pixel is
counted. The damages at the end show that the comparison would notice.
"""

from __future__ import annotations

import hashlib
import importlib.util
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.font_manager import FontProperties

from mensura.views.chapters import panels
from mensura.views.kit import look
from mensura.views.kit.live import Live
from mensura.views.kit.record import (
    IMAGE,
    OPEN,
    PATH,
    TEXT,
    Drawn,
    Outline,
    Record,
    packed,
    places,
    unpacked,
)
from mensura.views.proof.panel import proof_panel

HERE = Path(__file__).parent

#: So many pictures are sent to the page at once.
AT_ONCE = 12
#: So many new words are worth a look at words alone; they are among all dots anyway.
MANY = 6
#: Farther than so many dots nothing may be from where Agg has it: a shown pixel.
REACH = look.DENSITY
#: By so much of 255 a dot is off that is seen at once.
PLAIN = 48
#: So many dots, fainter than they should be, nobody sees.
SPECK = 40
#: So many dots in a rim one dot wide, neither; a shade of less at a line's edge is the page's own,
#: which covers a dot by quarters.
SHADE = 32
RIM = 400
#: So many dots has a tick, with its rim.
TICK = 40
#: Ink of words, by how much darker than paper.
INK = 100


def beside(path: Path) -> ModuleType:
    """A module of these tests that is none of them, loaded once."""
    name = f"mensura_tests_{path.stem}"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec
        assert spec.loader
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


PANEL = panels()["calipers"]

replay = beside(HERE / "replay.py")
every_picture = beside(HERE.parent / "views" / "every_picture.py")


@pytest.fixture(scope="module")
def page(chromium: Any) -> Iterator[Any]:
    """The plain page that paints."""
    one = replay.Replay(chromium)
    yield one
    one.close()


class Words(RendererAgg):
    """Agg, with the words only."""

    def _update_methods(self) -> None:
        super()._update_methods()
        for name in ("draw_path", "draw_markers", "draw_path_collection", "draw_image"):
            setattr(self, name, lambda *told, **more: None)


def words_of(live: Live[Any]) -> Any:
    """The dots of the words alone, as the figure last stood."""
    wide, high = (look.DENSITY * side for side in live.size_px)
    renderer = Words(wide, high, live.figure.dpi)
    with look.house_style():
        live.figure.draw(renderer)
        for artist in live.picture.moving:
            if artist.get_visible():
                artist.draw(renderer)
    return np.asarray(renderer.buffer_rgba())


def on_paper(dots: Any) -> Any:
    """Dots on a ground that is not there, laid on paper."""
    laid = np.full_like(dots, 255)
    inked = dots[..., 3] > 0
    ink, thick = dots[inked][:, :3], dots[inked][:, 3:].astype(np.uint16)
    laid[inked, :3] = (ink * thick + 255 * (255 - thick)) // 255
    return laid


def extent(dots: Any, rows: slice, columns: slice) -> tuple[int, ...] | None:
    """Left, top, right and lower edge of the ink in a window, in dots."""
    ink = dots[rows, columns, :3].min(axis=-1) < 255 - INK
    if not ink.any():
        return None
    across, down = np.flatnonzero(ink.any(axis=0)), np.flatnonzero(ink.any(axis=1))
    return across[0], down[0], across[-1], down[-1]


@cache
def width_of(text: str, size_px: float, bold: bool) -> float:
    """How wide Agg has some words, in dots."""
    how = FontProperties(
        family="DejaVu Sans",
        size=size_px * 72 / look.SHOWN_DPI,
        weight="bold" if bold else "normal",
    )
    with look.house_style():
        renderer = RendererAgg(1, 1, look.SHOWN_DPI * look.DENSITY)
        return float(renderer.get_text_width_height_descent(text, how, False)[0])


def misplaced(texts: list[list[Any]], styles: Any, ours: Any, theirs: Any) -> list[str]:
    """Words whose ink begins or ends more than a shown pixel from where Agg has it.

    texts: operations; styles: of the record; ours, theirs: dots of all words, of the page and Agg.
    """
    wrong = []
    for _, style, text, left, foot, angle in texts:
        high = styles[style]["t"] * look.DENSITY
        long = width_of(text, styles[style]["t"], "bold" in styles[style])
        turn = np.radians(angle)
        along, up = (
            np.array([np.cos(turn), -np.sin(turn)]),
            np.array([-np.sin(turn), -np.cos(turn)]),
        )
        at = np.array([left, foot]) / 16 * look.DENSITY
        corners = [at + a * along + b * up for a in (-4, long + 4) for b in (-0.26 * high, high)]
        (x0, y0), (x1, y1) = np.min(corners, axis=0), np.max(corners, axis=0)
        rows = slice(max(0, int(y0)), max(0, int(y1) + 1))
        columns = slice(max(0, int(x0)), max(0, int(x1) + 1))
        a, b = extent(ours, rows, columns), extent(theirs, rows, columns)
        if (a is None) != (b is None):
            wrong.append(f"{text!r} is there only once")
        elif a is not None and b is not None and np.abs(np.subtract(a, b)).max() > REACH:
            wrong.append(f"{text!r} lies at {a}, by Agg at {b}")
    return wrong


def unlike(ours: Any, theirs: Any) -> int:
    """How many dots of either the other does not explain, in places two dots wide and high.

    A line is put on whole dots from places in sixteenths, by Agg from the exact one: a rim of one
    dot may come or go, and what blends with it be a shade off. So what is told apart at once (a
    fifth of black) counts by the dot, and what is fainter or thinner where there is more than a
    speck or a short rim of it.
    """
    faint = replay.apart(ours, theirs, reach=REACH)
    plain, rim = (faint[faint[:, 2] > one] for one in (PLAIN, SHADE))
    blocks = _blocks(faint)
    return _blocks(plain) or max(blocks if blocks > SPECK else 0, len(rim) if len(rim) > RIM else 0)


def _blocks(at: Any) -> int:
    if not len(at):
        return 0
    rows, columns = (at[:, k] - at[:, k].min() for k in (0, 1))
    mask = np.zeros((rows.max() + 1, columns.max() + 1), bool)
    mask[rows, columns] = True
    return int((mask[1:, 1:] & mask[:-1, 1:] & mask[1:, :-1] & mask[:-1, :-1]).sum())


def differences(page: Any, cases: Iterator[Any]) -> tuple[list[str], int, int]:
    """What is wrong in all of some pictures; how many pictures and how many words were compared.

    Each is first recorded whole and then changed, as a page is told it. What was compared before,
    the same picture in another road, is not compared again.
    """
    wrong, pictures, words, seen = [], 0, 0, set()
    for case in cases:
        live = Live(case.make())
        known: set[Any] = set()
        jobs, waiting = [], []
        for said, numbers in case.shown.items():
            change = live.changes(numbers)[0] if jobs else live.record(numbers)
            told = unpacked(live.whole())
            name = hashlib.sha256(live.whole()).digest()
            texts = {str(op): op for ops in told.artists.values() for op, _ in ops if op[0] == TEXT}
            new = [op for name, op in texts.items() if name not in known]
            jobs.append((change, "", not jobs))
            if name in seen:
                # the page is told, since later changes stand on it
                waiting.append(None)
                continue
            seen.add(name)
            waiting.append((said, live.paint(numbers).copy()))
            if not known or len(new) >= MANY:
                known |= set(texts)
                jobs.append((b"", "t", False))
                waiting.append((new, told.styles, on_paper(words_of(live))))
        for start in range(0, len(jobs), AT_ONCE):
            some = slice(start, start + AT_ONCE)
            for theirs, dots in zip(waiting[some], page.paint(jobs[some]), strict=True):
                if theirs is None:
                    continue
                if len(theirs) == 2:
                    pictures += 1
                    if dots.shape != theirs[1].shape:
                        wrong.append(f"{case.name}, {theirs[0]}: of another size")
                    elif count := unlike(dots, theirs[1]):
                        wrong.append(f"{case.name}, {theirs[0]}: {count} dots")
                else:
                    new, styles, plain = theirs
                    words += len(new)
                    wrong += [
                        f"{case.name}: {line}" for line in misplaced(new, styles, dots, plain)
                    ]
        live.close()
    return wrong, pictures, words


WALKS: dict[str, tuple[Callable[[], Iterator[Any]], int, int]] = {
    "panels": (every_picture.of_panels, 120, 200),
    "proofs": (every_picture.of_roads, 60, 200),
    "problems": (every_picture.of_problems, 60, 300),
    "stills": (every_picture.of_stills, 24, 200),
}


@pytest.mark.parametrize("name", WALKS)
def test_both_ways_show_the_same(name: str, page: Any) -> None:
    """No shape is missing or too many, edges lie within a shown pixel, words begin and end
    within one; as many pictures and words are compared as there must be."""
    cases, least, least_words = WALKS[name]
    wrong, pictures, words = differences(page, cases())
    assert wrong == []
    assert pictures >= least
    assert words >= least_words


# ---- the comparison itself -----------------------------------------------------------------------


def rebuilt(record: Record, left_out: Callable[[int, int, list[Any]], bool]) -> bytes:
    """A record packed again without some operations.

    left_out: of artist, place in it, and operation: whether it goes.
    """
    artists = {}
    for key, ops in record.artists.items():
        drawn = artists[key] = Drawn()
        for k, (op, told) in enumerate(ops):
            assert op[0] != IMAGE
            if not left_out(key, k, op):
                drawn.add(
                    op, told if told is None or isinstance(told, Outline) else Outline(told, 0)
                )
    return packed(record.size_px, record.styles, record.marks, artists)


@pytest.fixture(scope="module")
def whole(page: Any) -> tuple[Record, Any, Any, Live[Any]]:
    """A panel's record, the page's dots and Agg's, and the picture."""
    live = Live(PANEL.picture())
    numbers = PANEL.numbers(**PANEL.start())
    data = live.record(numbers)
    (dots,) = page.paint([(data, "", True)])
    return unpacked(data), dots, live.paint(numbers).copy(), live


def test_what_is_left_away_is_noticed(page: Any, whole: Any) -> None:
    """Any single operation that can be seen at all, be it a tick or a letter."""
    record, dots, theirs, _ = whole
    assert unlike(dots, theirs) == 0
    every = [(key, k, op) for key, ops in record.artists.items() for k, (op, _) in enumerate(ops)]
    some = every[:: max(1, len(every) // 36)]
    seen, missed = 0, []
    for start in range(0, len(some), AT_ONCE):
        part = some[start : start + AT_ONCE]
        jobs = [
            (rebuilt(record, lambda key, k, _, one=one: (key, k) == one[:2]), "", True)
            for one in part
        ]
        for one, damaged in zip(part, page.paint(jobs), strict=True):
            # what lies under something else, or is a dot wide, is not seen, and a tick hardly
            # between a line and a letter
            other = np.abs(damaged.astype(np.int16) - dots).max(axis=-1) > 16
            if _blocks(np.argwhere(other)) > TICK:
                seen += 1
                if not unlike(damaged, theirs):
                    missed.append(one)
    assert seen > 15
    assert missed == []


def restyled(record: Record, change: Callable[[dict[str, Any]], dict[str, Any]]) -> bytes:
    """A record packed again with its styles changed."""
    styles = {key: change(dict(one)) for key, one in record.styles.items()}
    return rebuilt(Record(record.size_px, styles, record.marks, record.artists), lambda *_: False)


@pytest.mark.parametrize(
    "change",
    [
        lambda one: {**one, "d": [3 * part for part in one["d"]]} if "d" in one else one,
        lambda one: {name: value for name, value in one.items() if name != "d"},
        lambda one: {**one, "s": "tape"} if one.get("s") == "calipers" else one,
        lambda one: {**one, "f": "ring"} if one.get("f") == "wood" else one,
        lambda one: {**one, "w": one["w"] + 5} if "w" in one else one,
        lambda one: {name: value for name, value in one.items() if name != "k"},
        lambda one: {**one, "t": 1.2 * one["t"]} if "t" in one else one,
        lambda one: {**one, "bold": 1} if "t" in one else one,
    ],
    ids=["longer dashes", "no dashes", "colour", "fill", "width", "clip", "size", "weight"],
)
def test_another_style_is_noticed(page: Any, change: Any) -> None:
    """Dashes, colours, widths, clipping and lettering that are not Agg's."""

    def found(panel: Any) -> int:
        live = Live(panel.picture())
        numbers = panel.numbers(**panel.start())
        record = unpacked(live.record(numbers))
        (dots,) = page.paint([(restyled(record, change), "", True)])
        return unlike(dots, live.paint(numbers))

    assert any(found(panel) for panel in (PANEL, proof_panel("classroom"), *panels().values()))


def test_a_hatch_that_is_left_away_is_noticed(page: Any) -> None:
    """Squares with hatching, without it."""
    case = next(one for one in every_picture.of_roads() if "squares" in one.name)
    live, numbers = Live(case.make()), next(iter(case.shown.values()))
    record = unpacked(live.record(numbers))
    assert any("h" in one for one in record.styles.values())
    bare = restyled(record, lambda one: {n: value for n, value in one.items() if n != "h"})
    (dots,) = page.paint([(bare, "", True)])
    assert unlike(dots, live.paint(numbers)) > 100


@pytest.mark.parametrize("by_px", [(3, 0), (0, 3), (-3, 0)])
def test_words_that_moved_are_noticed(page: Any, whole: Any, by_px: tuple[int, int]) -> None:
    """Every one of them, three pixels to any side; as they are, none."""
    record, _, _, live = whole
    texts = [op for ops in record.artists.values() for op, _ in ops if op[0] == TEXT]
    artists = {
        key: [
            ([*op[:3], op[3] + 16 * by_px[0], op[4] + 16 * by_px[1], op[5]], told)
            if op[0] == TEXT
            else (op, told)
            for op, told in ops
        ]
        for key, ops in record.artists.items()
    }
    moved = rebuilt(Record(record.size_px, record.styles, record.marks, artists), lambda *_: False)
    as_it_is, dots = page.paint(
        [(rebuilt(record, lambda *_: False), "t", True), (moved, "t", True)]
    )
    theirs = on_paper(words_of(live))
    assert misplaced(texts, record.styles, as_it_is, theirs) == []
    assert len(misplaced(texts, record.styles, dots, theirs)) == len(texts) > 10


@pytest.mark.parametrize("scale", [1, 1.5, 2, 3])
def test_upright_and_level_lines_are_sharp(page: Any, scale: float) -> None:
    """A line of whole dots has no grey beside it, wherever it lies and however dense the screen."""
    lines = np.array([[0.0, 5.0], [0.0, 35.0]])
    jobs = []
    for at in np.arange(20, 30, 0.37):
        drawn = Drawn()
        for line in (lines + np.array([at, 0]), lines[:, ::-1] + np.array([0, at + 0.2])):
            drawn.add([PATH, 0, 2, OPEN], Outline(places(line), OPEN))
        style = {"s": "truth", "w": round(1.4 * scale) / scale}
        jobs.append((packed((40, 40), {0: style}, {}, {0: drawn}), "", True))
    for dots in page.paint(jobs, scale):
        beyond = int(33 * scale)  # where only one of both goes
        for across in (dots[beyond, :, 0], dots[:, beyond, 0]):
            assert np.count_nonzero(across == 0) == round(1.4 * scale)
            assert np.count_nonzero(across == 255) == len(across) - round(1.4 * scale)
