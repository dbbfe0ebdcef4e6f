"""A screen of a lesson: something that lives, in its frame, as large as its room.

The widget here stands in the frame beside what is shown. On the page it gives the frame its size
and its enlargement (`screen.js`), and answers what whoever presents asks for: the next thing to
unfold, a key, a hand. What can be unfolded is counted: `at` of `last`. The page counts by itself,
so that two quick clicks go two steps, and tells the kernel, which follows.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from typing import Any

from mensura.views.kit.frame import waiting_text

#: What the module on the page is made of, in this order; `screen.js` says how a kind is written.
SCRIPTS = ("screen.js", "numbers.js", "panel.js", "hands.js", "unfolding.js")

#: Class of a frame that is a screen.
SCREEN = "mensura-screen"


@lru_cache(maxsize=1)
def module_text() -> str:
    """The JavaScript module of a screen: its files, one behind the other.

    >>> module_text().count("export default")
    1
    """
    here = files("mensura.views.lessons")
    return "\n".join(here.joinpath(name).read_text("utf-8") for name in SCRIPTS)


@lru_cache(maxsize=1)
def sheet_text() -> str:
    """The screens' style sheet; it holds in a screen's frame only.

    >>> ".mensura-screen" in sheet_text()
    True
    """
    return files("mensura.views.lessons").joinpath("screen.css").read_text("utf-8")


@lru_cache(maxsize=1)
def screen_class() -> Any:
    """The screen's widget class; made when the first is needed, since its library is heavy."""
    from anywidget import AnyWidget
    from traitlets import Dict, Int, Unicode

    class Screen(AnyWidget):
        """What a screen is on the page.

        kind: what is to be done there, by name; told: words that stay; value: what changes, set
        by the kernel alone; at, last: how much is unfolded, of how much; note: one sentence of the
        screen's own, or "". Module and sheet are sent once.
        """

        sent = False

        _esm = Unicode(module_text()).tag(sync=True)
        _css = Unicode(sheet_text()).tag(sync=True)
        kind = Unicode("plain").tag(sync=True)
        told = Dict().tag(sync=True)
        value = Dict().tag(sync=True)
        at = Int(0).tag(sync=True)
        last = Int(0).tag(sync=True)
        note = Unicode("").tag(sync=True)

        def __init__(self, kind: str, **state: Any) -> None:
            short = {"_esm": waiting_text("mensuraScreen"), "_css": ""} if Screen.sent else {}
            Screen.sent = True
            super().__init__(kind=kind, **state, **short)

    return Screen


def new_screen(kind: str, **state: Any) -> Any:
    """A screen's widget.

    kind: what is to be done on the page; state: told, value, at, last, as the class has them.
    """
    return screen_class()(kind, **state)
