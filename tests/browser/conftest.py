"""A panel and a question as a reader meets them in the browser, shared by the browser tests."""

from __future__ import annotations

import base64
import html
import importlib.util
import io
import json
import re
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from PIL import Image

from mensura.teaching.controls import State
from mensura.views.kit.live import Live
from mensura.views.kit.look import INKS
from mensura.views.kit.panel import Panel

# tests that several files take in lie beside them, and say what failed as tests do
pytest.register_assert_rewrite(
    "by_keyboard", "declared_page", "every_page", "games", "on_a_phone", "themes"
)
sys.path.append(str(Path(__file__).parent))


def cells_of(text: str) -> list[str]:
    """What stands in the cells of an HTML table, in order."""
    found = re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", text, re.S)
    return [html.unescape(re.sub(r"<[^>]+>", "", cell)) for cell in found]


def until(page: Any, holds: Callable[[], bool], seconds: float = 15) -> bool:
    """Waits until something holds; returns whether it did."""
    end = time.monotonic() + seconds
    while not holds():
        if time.monotonic() > end:
            return False
        page.wait_for_timeout(25)
    return True


#: A canvas with shapes at double density: those of the page, or, if they are given, others.
PAINT = """(root, record) => {
  const there = root.querySelector('.mensura-shapes').shapes;
  const shapes = record ? new there.constructor() : there;
  if (record) { shapes.apply(Uint8Array.from(atob(record), (one) => one.charCodeAt(0))); }
  const [width, height] = shapes.size;
  const canvas = document.createElement('canvas');
  Object.assign(canvas, { width: 2 * width, height: 2 * height });
  const light = INKS;
  shapes.paint(
    canvas.getContext('2d', { willReadFrequently: true }), [0, 0, width, height], 2, light);
  return canvas;
}""".replace("INKS", json.dumps(INKS))
#: What a canvas shows, in a few letters; nothing of it leaves the page, which takes much longer.
DIGEST = """async canvas => {
  const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', data));
  return `${canvas.width} by ${canvas.height}: ${sum.toHex?.() ?? [...sum].join()}`;
}"""
PAINTED = f"root => ({PAINT})(root).toDataURL()"
PAINTED_DIGEST = f"(root, record) => ({DIGEST})(({PAINT})(root, record))"


def painted(root: Any) -> Any:
    """The shapes of a panel in the page, painted: uint8, shape (height, width, 3)."""
    data = base64.b64decode(root.evaluate(PAINTED).partition("base64,")[2])
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"))


def shows(root: Any, live: Live[Any], numbers: Any) -> bool:
    """Whether a panel's canvas shows, dot for dot, what the model draws of some numbers."""
    record = base64.b64encode(live.record(numbers)).decode()
    return root.evaluate(PAINTED_DIGEST) == root.evaluate(PAINTED_DIGEST, record)


class ShownPanel:
    """A panel in the page, with its declaration beside it."""

    def __init__(self, page: Any, panel: Panel[Any]) -> None:
        self.page, self.panel = page, panel
        self.root = page.locator(".mensura-panel")
        self.live: Live[Any] = Live(panel.picture())
        self.label = {
            control.name: f"{control.label}, {control.unit}" if control.unit else control.label
            for control in panel.controls
        }

    # ---- what is there ---------------------------------------------------------------------

    def handle(self, name: str) -> Any:
        """A slider's handle, found as an assistive tool finds it: by role and name."""
        return self.root.get_by_role("slider", name=self.label[name], exact=True)

    def box(self, name: str) -> Any:
        return self.root.get_by_label(self.label[name], exact=True).and_(self.page.locator("input"))

    def button(self, name: str) -> Any:
        return self.root.get_by_role("button", name=name, exact=True)

    @property
    def note(self) -> str:
        notes = self.root.locator(".mensura-note")
        return notes.inner_text() if notes.count() else ""

    def seen(self) -> dict[str, Any]:
        """Alternative text, picture, table and status, all at one moment."""
        return self.root.evaluate(
            """root => ({
              alt: root.querySelector('.mensura-shapes').ariaLabel,
              cells: [...root.querySelectorAll('.mensura-table th, .mensura-table td')]
                .map(cell => cell.textContent),
              status: root.querySelector('[role=status]').textContent,
              text: [...root.querySelectorAll('.mensura-table ~ p')].map(p => p.textContent),
            })"""
        )

    def pixels(self) -> Any:
        """The shapes in the page, painted at double density."""
        return painted(self.root)

    def digest(self) -> str:
        """The same in a few letters: whether a picture is another one."""
        return str(self.root.evaluate(PAINTED_DIGEST))

    # ---- what must be there ----------------------------------------------------------------

    def expect(self, **changes: Any) -> None:
        """Holds that all the page shows is what the model says of a state.

        changes: what differs from the panel's start.
        """
        state: State = self.panel.start() | changes
        numbers = self.panel.numbers(**state)
        readout = self.panel.readout(numbers)
        sentences = [
            html.unescape(re.sub(r"<[^>]+>", "", p)) for p in re.findall(r"<p>(.*?)</p>", readout)
        ]
        wanted = {
            "alt": self.live.picture.describe(numbers),
            "cells": cells_of(readout),
            "status": self.panel.status(numbers),
            "text": sentences,
        }
        assert len(wanted["cells"]) > 3  # the place panel begins with one reading
        until(self.page, lambda: wanted.items() <= self.seen().items())
        seen = self.seen()
        assert {key: seen[key] for key in wanted} == wanted
        assert shows(self.root, self.live, numbers)

    def reset(self) -> None:
        """Back to the start, by its button."""
        self.button("As at the start").click()
        self.expect()


def good_messages(messages: list[str]) -> list[str]:
    """Errors of the browser's console."""
    return list(messages)


@pytest.fixture(scope="module")
def shows_picture() -> Callable[..., bool]:
    """The function that holds a panel's picture against the model's."""
    return shows


@pytest.fixture(scope="module")
def dots() -> Callable[[Any], str]:
    """Function that says in a few letters what a canvas of the page shows."""
    return lambda canvas: str(canvas.evaluate(DIGEST))


@pytest.fixture(scope="module")
def show() -> type[ShownPanel]:
    """The class that meets a panel in a page."""
    return ShownPanel


@pytest.fixture(scope="module")
def faults() -> Callable[[list[str]], list[str]]:
    """Function that leaves JupyterLab's own messages away."""
    return good_messages


@pytest.fixture(scope="module")
def wait_until() -> Callable[..., bool]:
    """Function that waits until something holds."""
    return until


@pytest.fixture(scope="module")
def book(request, open_once):
    """The workbook that a file of tests names, run to its end."""
    opened = open_once(request.module.NAME, height=1400)
    opened.run_all()
    return opened


@pytest.fixture(scope="module")
def shown(request, book):
    """The panel that a file of tests names, in its workbook, in view."""
    panel = ShownPanel(book.page, request.module.SHOWN)
    panel.root.scroll_into_view_if_needed()
    return panel


@pytest.fixture(scope="class")
def answered(book):
    """The page of a workbook with something said on it, for what is held of every page."""
    from every_page import say_something

    say_something(book.page, until)
    return book.page


@pytest.fixture(scope="module")
def nth_panel(request, book):
    """Function: one of a chapter's panels, which its file of tests names in SHOWN, in view."""

    def found(name: str) -> ShownPanel:
        from mensura.views.chapters import panels

        one = ShownPanel(book.page, panels()[name])
        one.root = one.root.nth(request.module.SHOWN.index(name))
        one.root.scroll_into_view_if_needed()
        return one

    return found


def keys_and_buttons(one: ShownPanel) -> None:
    """At first sight, by a key, by buttons: words, table and picture are the model's."""
    one.expect()
    control = one.panel.controls[0]
    one.handle(control.name).focus()
    one.page.keyboard.press("ArrowRight")
    one.expect(**{control.name: round(control.start + control.step, 9)})
    # it sets everything, whatever was moved or pressed before: what each sets is held elsewhere
    first, *_, last = one.panel.presets
    for name in (first, last):
        one.button(name).click()
    one.expect(**one.panel.presets[last])
    one.button("As at the start").click()


@pytest.fixture(scope="module")
def follows() -> Callable[[ShownPanel], None]:
    """Function that tries a panel by key and buttons."""
    return keys_and_buttons


@pytest.fixture
def panel(shown):
    """The same as it opens."""
    shown.reset()
    return shown


#: One of everything that a notebook shows, in one notebook: opened once, looked at in many sizes.
OURS = (
    "from mensura.views import ask, table\n"
    "from mensura.views.chapters import panels\n"
    "from mensura.views.chapters.games import picture_game, wrong_reading_game\n"
    "from mensura.views.chapters.place_game import place_game\n"
    "from mensura.views.problems.practice import practice, problems_here\n"
    "from mensura.views.proof.own_line import own_line\n"
    "from mensura.views.proof.panel import proof_panel",
    *(
        f"panels()[{name!r}]"
        for name in (
            "girth", "out_of_round", "laying", "bark", "condition", "calipers", "all_faults",
            "tape_card", "budget", "which_instrument", "hands_and_instruments", "differences",
            "place", "detectable", "log", "plots", "timber_budget", "cut_end",
        )
    ),
    "proof_panel('classroom')",
    "proof_panel('calipers')",
    "ask('02-predict')",
    "ask('02-1')",
    "picture_game()",
    "place_game('Q07', seed=4)",
    "wrong_reading_game()",
    "own_line()",
    "problems_here('girth-to-diameter')",
    "practice()",
    "table(stem=['oak', 'pine'], girth_cm=[126.5, 98.0])",
    "table(where_it_lies=['in a furrow of the bark', 'on a ridge'], first_cm=[126.5, 98.0],"
    " second_cm=[1126.5, 98.0], area_cm2=[1273.4, 764.2], off_percent=[42.44, -1.5],"
    " tilt_deg=[2, 3], volume_m3=[1.234, 12.3])",
    "print('a plain reply, both sides times something, ' * 9)",
)  # fmt: skip


@pytest.fixture(scope="module")
def ours(request, lab, open_once):
    """A notebook with one of everything, run to its end."""
    import nbformat.v4 as v4
    from nbformat import write

    # a page that is opened again would be taken up as it stands, not run
    name = f"everything-for-{request.module.__name__.rpartition('.')[2]}.ipynb"
    cells = [v4.new_code_cell(text) for text in OURS]
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    write(v4.new_notebook(cells=cells, metadata={"kernelspec": kernel}), lab.folder / name)
    opened = open_once(name, width=1366, height=640)
    opened.run_all()
    assert opened.page.locator('[data-mime-type="application/vnd.jupyter.error"]').count() == 0
    return opened


def beside(name: str) -> ModuleType:
    """A module of these tests that is none of them, loaded once."""
    path = Path(__file__).with_name(f"{name}.py")
    whole = f"mensura_tests_{name}"
    if whole not in sys.modules:
        spec = importlib.util.spec_from_file_location(whole, path)
        assert spec
        assert spec.loader
        sys.modules[whole] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[whole])
    return sys.modules[whole]


@pytest.fixture(scope="module")
def present(tmp_path_factory, tools):
    """Function that presents a plan, given as text, with files beside it; ends with the tests.

    The lesson is served and not yet looked at: see lesson_given.py.
    """
    begun = []

    def presented(plan: str, **files: bytes):
        place = tmp_path_factory.mktemp("lesson")
        (place / "plan.toml").write_text(plan, "utf-8", newline="\n")
        for name, content in files.items():
            (place / name.replace("__", ".")).write_bytes(content)
        home = tools.quiet_home(place / "home")
        given = beside("lesson_given").Given(
            place / "plan.toml", home, tools.free_port(), tools.wait_for_server
        )
        begun.append(given)
        given.present()
        return given

    yield presented
    for given in begun:
        given.stop()
