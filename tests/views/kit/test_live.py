"""Live pictures: no residue of an earlier frame, the same shapes and bytes every time."""

from __future__ import annotations

import base64
import io
import subprocess
import sys
from dataclasses import replace
from typing import Any

import matplotlib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from mensura.teaching.controls import Control
from mensura.views.chapters import girth, out_of_round
from mensura.views.kit.live import Live, Picture, draw_still, encode_small, image_tag
from mensura.views.kit.panel import Panel
from mensura.views.kit.record import plainly, unpacked

PANELS = {"girth": girth.GIRTH_PANEL, "out of round": out_of_round.PANEL}
KEPT: dict[str, Live[Any]] = {}


def kept(name: str) -> Live[Any]:
    """One picture of each panel that lives through all tests here."""
    if name not in KEPT:
        KEPT[name] = Live(PANELS[name].picture())
    return KEPT[name]


def values(control: Control) -> st.SearchStrategy[float]:
    """Anything a control's slider can stand at, its ends more often."""
    last = round((control.greatest - control.least) / control.step)
    steps = st.integers(0, last) | st.sampled_from([0, last])
    return steps.map(lambda step: round(control.least + step * control.step, 9))


def states(panel: Panel[Any]) -> st.SearchStrategy[dict[str, Any]]:
    parts: dict[str, Any] = {control.name: values(control) for control in panel.controls}
    return st.fixed_dictionaries(parts | {one.name: st.booleans() for one in panel.switches})


@pytest.mark.parametrize("name", PANELS)
@settings(max_examples=12)
@given(data=st.data())
def test_no_residue_of_earlier_frames(name: str, data: st.DataObject) -> None:
    """After any sequence of states a picture is, dot by dot, that of the last state alone."""
    panel = PANELS[name]
    shown = data.draw(st.lists(states(panel), min_size=2, max_size=4))
    for state in shown:
        last = kept(name).paint(panel.numbers(**state))
        shapes = kept(name).record(panel.numbers(**state))
    fresh = Live(panel.picture())
    assert np.array_equal(last, fresh.paint(panel.numbers(**shown[-1])))
    anew = fresh.record(panel.numbers(**shown[-1]))
    assert plainly(unpacked(shapes)) == plainly(unpacked(anew))


@pytest.mark.parametrize("name", PANELS)
def test_a_frame_is_not_the_next_one(name: str) -> None:
    """The comparison itself: another state gives other dots, and the first state the first."""
    panel, live = PANELS[name], kept(name)
    start = panel.start()
    first = live.paint(panel.numbers(**start)).copy()
    control = panel.controls[0]
    other = live.paint(panel.numbers(**start | {control.name: control.greatest})).copy()
    assert not np.array_equal(first, other)
    assert np.array_equal(live.paint(panel.numbers(**start)), first)


@pytest.mark.parametrize("name", PANELS)
def test_a_change_never_draws_the_ground_anew(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The still parts are drawn once: a frame neither draws the figure nor adds to it."""
    panel, live = PANELS[name], kept(name)
    count = len(live.figure.findobj())

    def refuse(*_: object) -> None:
        raise AssertionError("the whole figure was drawn again")

    monkeypatch.setattr(live.figure, "draw", refuse)
    monkeypatch.setattr(live.figure.canvas, "draw", refuse)
    for value in (panel.controls[0].least, panel.controls[0].greatest):
        live.changes(panel.numbers(**panel.start() | {panel.controls[0].name: value}))
    assert len(live.figure.findobj()) == count


def buffer_of(colours: Any) -> Any:
    """A buffer, as a canvas gives it, of rows of colours, each four dots wide and high."""
    rows = np.asarray(colours, dtype=np.uint8)
    blocks = np.repeat(np.repeat(rows, 4, axis=0), 4, axis=1)
    return np.ascontiguousarray(np.dstack([blocks, np.full(blocks.shape[:2], 255, np.uint8)]))


def decoded(png: bytes) -> Any:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(int)


@pytest.mark.parametrize("name", PANELS)
def test_a_still_is_exact_and_always_the_same(name: str) -> None:
    """Two pictures made apart give the same bytes, and the PNG's hold the true colours."""
    panel = PANELS[name]
    numbers = panel.numbers(**panel.start())
    first, second = draw_still(panel.picture(), numbers), kept(name).still(numbers)
    assert first.png == second.png
    assert first == second
    assert np.array_equal(decoded(first.png), kept(name).paint(numbers)[..., :3])
    assert first.alt == panel.picture().describe(numbers)


@settings(max_examples=20)
@given(st.integers(1, 9), st.integers(1, 9), st.randoms(use_true_random=False))
def test_encode_small_loses_nothing(height: int, width: int, random: Any) -> None:
    """Whatever the dots are, they come back."""
    dots = [
        [[random.randrange(256) for _ in range(3)] for _ in range(width)] for _ in range(height)
    ]
    buffer = buffer_of(dots)
    assert np.array_equal(decoded(encode_small(buffer)), buffer[..., :3])


def test_what_a_notebook_is_given() -> None:
    """PNG, HTML and words in one; the words stand in the HTML and beside the PNG. What a page at
    work is shown is the same without the PNG."""
    panel = PANELS["girth"]
    still = panel.still()
    data, metadata = still._repr_mimebundle_()
    assert set(data) == {"image/png", "text/html", "text/plain"}
    assert data["text/plain"] == still.alt
    assert metadata == {"image/png": {"alt": still.alt, "width": 860, "height": 530}}
    assert f'<img alt="{still.alt}" width="860" height="530"' in data["text/html"]
    stored = data["text/html"].partition("base64,")[2].partition('"')[0]
    assert base64.b64decode(stored).decode() == still.svg
    assert data["image/png"] == still.png
    view = kept("girth").view(panel.numbers(**panel.start()))
    assert view == replace(still, png=b"")
    assert view._repr_mimebundle_() == (
        {"text/html": data["text/html"], "text/plain": still.alt},
        {},
    )
    assert kept("girth").tag(panel.numbers(**panel.start())) == data["text/html"]


def test_image_tag_keeps_words_apart_from_markup() -> None:
    """Quotes and brackets in the words end neither the attribute nor the tag."""
    from html.parser import HTMLParser

    met: list[Any] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: Any) -> None:
            met.append((tag, dict(attrs)))

    words = 'a "b" <c> & d\'s'
    Reader().feed(image_tag("<svg>²</svg>", words, 10, 5))
    ((tag, attributes),) = met
    assert tag == "img"
    assert attributes["alt"] == words
    assert base64.b64decode(attributes["src"].partition("base64,")[2]).decode() == "<svg>²</svg>"


def test_stills_give_their_memory_back() -> None:
    """Thirty pictures drawn without ever going through the heap take no more than two do."""
    pytest.importorskip("resource")
    code = (
        "import gc, resource\n"
        "from mensura.views.kit.live import draw_still, draw_view\n"
        "from mensura.views.kit.live import Picture\n"
        "class Line(Picture):\n"
        "    def draw(self, figure): figure.add_axes((0, 0, 1, 1)).plot([0, 1], color='black')\n"
        "    def show(self, numbers): pass\n"
        "    def describe(self, numbers): return 'A line.'\n"
        "gc.disable()\n"
        "most = lambda: resource.getrusage(resource.RUSAGE_SELF).ru_maxrss\n"
        "for draw in (draw_still, draw_view): draw(Line(), None)\n"
        "first = most()\n"
        "for _ in range(15):\n"
        "    for draw in (draw_still, draw_view): draw(Line(), None)\n"
        "print(most() - first)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout) < 40_000


def test_settings_of_the_drawing_library_are_left_alone() -> None:
    """Whatever a reader has set for own figures stands after ours were drawn."""
    panel = PANELS["girth"]
    with matplotlib.rc_context({"font.size": 23.0, "axes.grid": True}):
        before = dict(matplotlib.rcParams)
        live = Live(panel.picture())
        live.record(panel.numbers(**panel.start()))
        live.still(panel.numbers(**panel.start()))
        assert dict(matplotlib.rcParams) == before
        # and the reader's settings do not reach into our picture
        assert live.still(panel.numbers(**panel.start())) == panel.still()
    assert panel.still() == kept("girth").still(panel.numbers(**panel.start()))


def test_nothing_is_opened_for_pyplot() -> None:
    """Drawing a panel does not even load pyplot, so no figure of it can stay open."""
    code = (
        "import sys; from mensura.views.chapters.out_of_round import PANEL; PANEL.still(); "
        "print('matplotlib' in sys.modules, 'matplotlib.pyplot' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["True", "False"]
    assert done.stderr == ""


def test_moving_parts_leave_no_trace_in_the_ground() -> None:
    """A moving artist that is drawn from the outset is not part of the background."""

    class Bar(Picture[float]):
        width_px, height_px = 60, 40

        def draw(self, figure: Any) -> None:
            axes = figure.add_axes((0, 0, 1, 1))
            axes.set(xlim=(0, 10), ylim=(0, 10))
            axes.axis("off")
            (self.bar,) = axes.plot([1, 1], [1, 9], color="black", lw=4)
            self.moving.append(self.bar)

        def show(self, numbers: float) -> None:
            self.bar.set_xdata([numbers, numbers])

        def describe(self, numbers: float) -> str:
            return f"A bar at {numbers:g}."

    dots = Live(Bar()).paint(8.0)[..., 0]
    assert (dots[:, :60] == 255).all()
    assert (dots[:, 60:] == 0).any()
