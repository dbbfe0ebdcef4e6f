"""The inks on a page: which kind of page it is, and that it is told when it becomes another.

A plain page with the module as a frame has it; the machine's wishes are those of the browser's own
emulation.
"""

from __future__ import annotations

import base64
import io
from importlib.resources import files

import numpy as np
import pytest
from PIL import Image

from mensura.views.chapters import panels
from mensura.views.kit import inks
from mensura.views.kit.live import Live

PAGE = "<!doctype html><body><div id=here></div></body>"
FOLLOWS = "document.body.setAttribute('data-mensura-follows-system', '')"
MODE = "() => inkMode(document.querySelector('#here'))"
PAPER = "() => inksOf(document.querySelector('#here')).paper"

COUNT = """() => {
  window.calls = 0;
  window.leave = new AbortController();
  whenInksChange(() => { window.calls += 1; }, window.leave.signal);
}"""

PAINT = """data => {
  const bytes = Uint8Array.from(atob(data), sign => sign.charCodeAt(0));
  const shapes = new Shapes();
  shapes.apply(bytes);
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = shapes.size;
  shapes.paint(canvas.getContext('2d'), [0, 0, ...shapes.size], 1,
    inksOf(document.querySelector('#here')));
  return canvas.toDataURL().split(',')[1];
}"""


class Desk:
    """A page, and what its reader's machine asks for."""

    def __init__(self, page) -> None:
        self.page = page
        self._tool = page.context.new_cdp_session(page)

    def wishes(self, medium: str = "", **wishes: str) -> None:
        """The machine's wishes, all others gone; medium: "print" or ""."""
        features = [
            {"name": name.replace("_", "-"), "value": value} for name, value in wishes.items()
        ]
        self._tool.send("Emulation.setEmulatedMedia", {"media": medium, "features": features})

    def theme(self, light: bool) -> None:
        """JupyterLab's theme, as it says it on its page."""
        told = "true" if light else "false"
        self.page.evaluate("told => { document.body.dataset.jpThemeLight = told; }", told)

    @property
    def mode(self) -> str:
        return self.page.evaluate(MODE)

    def calls(self) -> int:
        """How often it was told, once all that waits was done."""
        self.page.evaluate("() => new Promise(done => setTimeout(done, 50))")
        return self.page.evaluate("() => window.calls")


@pytest.fixture
def desk(chromium):
    context = chromium.new_context()
    page = context.new_page()
    page.set_content(PAGE)
    shapes = files("mensura.views.kit").joinpath("shapes.js").read_text("utf-8")
    shown = "Object.assign(window, { Shapes, inkMode, inksOf, whenInksChange });"
    page.add_script_tag(type="module", content=f"{shapes}\n{inks.inks_js()}\n{shown}")
    page.wait_for_function("() => Boolean(window.whenInksChange)")
    yield Desk(page)
    context.close()


def test_outside_jupyterlab_a_page_is_light(desk):
    """Unless it says that it follows the machine, itself or round the picture."""
    assert desk.mode == "light"
    desk.wishes(prefers_color_scheme="dark")
    assert desk.mode == "light"
    desk.page.evaluate(FOLLOWS)
    assert desk.mode == "dark"
    desk.wishes(prefers_color_scheme="light")
    assert desk.mode == "light"


def test_in_jupyterlab_its_theme_says(desk):
    """Whatever the machine would like, and whatever the page says of following it."""
    desk.page.evaluate(FOLLOWS)
    for machine in ("light", "dark"):
        desk.wishes(prefers_color_scheme=machine)
        for light in (True, False):
            desk.theme(light)
            assert desk.mode == ("light" if light else "dark")
            wanted = inks.tables()["light" if light else "dark"]["paper"]
            assert desk.page.evaluate(PAPER) == wanted


def test_more_contrast_is_given(desk):
    """On the theme's ground; with forced colours on the machine's, which then is the page's."""
    desk.wishes(prefers_contrast="more")
    assert desk.mode == "contrast"
    desk.theme(False)
    assert desk.mode == "contrast-dark"
    desk.wishes(forced_colors="active", prefers_color_scheme="light")
    assert desk.mode == "contrast"
    desk.theme(True)
    desk.wishes(forced_colors="active", prefers_color_scheme="dark")
    assert desk.mode == "contrast-dark"
    desk.wishes(prefers_contrast="less")
    assert desk.mode == "light"


def test_what_is_printed_is_black_and_white(desk):
    """In any theme and with any wishes; afterwards all is as before."""
    desk.theme(False)
    desk.wishes("print", prefers_contrast="more")
    assert desk.mode == "print"
    desk.wishes()
    assert desk.mode == "dark"


def test_the_page_is_painted_anew_before_it_is_printed(desk):
    """Who is told before printing finds the inks of print, and those of the page after it."""
    desk.theme(False)
    desk.page.evaluate(
        """() => {
      window.seen = [];
      const here = document.querySelector('#here');
      whenInksChange(() => window.seen.push(inkMode(here)), new AbortController().signal);
      window.printed = new Promise(done => addEventListener('afterprint', () => setTimeout(done)));
    }"""
    )
    desk.page.pdf()
    desk.page.evaluate("() => window.printed")
    seen = desk.page.evaluate("() => window.seen")
    assert seen[0] == "print"
    assert seen[-1] == "dark"
    assert desk.page.evaluate("() => document.mensuraPrinting") is False


def test_printing_is_told_by_its_events_too(desk):
    """A browser that asks for the page before the medium is print is given the inks of print."""
    desk.page.evaluate(COUNT)
    for event, mode in (("beforeprint", "print"), ("afterprint", "light")):
        told = desk.calls()
        desk.page.evaluate("kind => dispatchEvent(new Event(kind))", event)
        assert desk.calls() == told + 1
        assert desk.mode == mode


def test_every_change_is_told(desk):
    """Theme, dark, contrast, forced colours, print; nothing else, and nothing after leaving."""
    desk.page.evaluate(COUNT)
    assert desk.calls() == 0
    desk.theme(False)
    assert (told := desk.calls()) >= 1
    desk.page.evaluate("document.body.className = 'busy'")
    desk.page.evaluate("document.body.dataset.jpThemeName = 'Other'")
    assert desk.calls() == told
    for wishes in (
        {"prefers_color_scheme": "dark"},
        {"prefers_contrast": "more"},
        {"forced_colors": "active"},
        {"medium": "print"},
        {},
    ):
        desk.wishes(**wishes)
        assert desk.calls() > told, wishes
        told = desk.calls()
    desk.page.evaluate(FOLLOWS)
    assert desk.calls() > told
    told = desk.calls()
    desk.page.evaluate("() => window.leave.abort()")
    desk.theme(True)
    desk.wishes("print", prefers_color_scheme="dark", prefers_contrast="more")
    assert desk.calls() == told


def test_a_picture_has_the_page_s_inks(desk):
    """A panel as painted: paper and lines are the table's, and print has greys only."""
    panel = panels()["girth"]
    live = Live(panel.picture())
    data = base64.b64encode(live.record(panel.numbers(**panel.start()))).decode("ascii")
    seen = {}
    for mode, light, wishes in (
        ("light", True, {}),
        ("dark", False, {}),
        ("print", False, {"medium": "print"}),
        ("contrast", True, {"prefers_contrast": "more"}),
        ("contrast-dark", False, {"prefers_contrast": "more"}),
    ):
        desk.theme(light)
        desk.wishes(**wishes)
        assert desk.mode == mode
        painted = base64.b64decode(desk.page.evaluate(PAINT, data))
        seen[mode] = np.asarray(Image.open(io.BytesIO(painted)).convert("RGB")).astype(int)
    assert set(seen) == set(inks.MODES)
    for mode, dots in seen.items():
        table = inks.tables()[mode]
        for name, least in (("paper", 100_000), ("wood", 3000), ("tape", 100), ("truth", 50)):
            colour = [int(table[name][at : at + 2], 16) for at in (1, 3, 5)]
            assert (dots == colour).all(axis=-1).sum() > least, (mode, name)
    greys = np.ptp(seen["print"], axis=-1)
    assert greys.max() == 0
    assert np.ptp(seen["light"], axis=-1).max() > 100
