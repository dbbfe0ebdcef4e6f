"""The frame that everything of ours in a notebook stands in: its keys, its names, its looks.

JupyterLab takes a plain a, b or dd on a tick, a button or a slider for a command that adds or
deletes a cell, arrow keys on a choice for a step to another cell, and Shift Enter in a box for
running the cell, which would drop what stands there. In a frame such keys stay; Ctrl, Alt and Cmd
still go through. The frame is a widget of its own, the first in each box, and what it does on the
page is plain JavaScript beside this file: `frame.js`, and behind it the other SCRIPTS, one part
each. The same widget brings the one style sheet.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from typing import Any

from mensura.views.kit.style import SHEET

#: Class of the outermost box, and of one in which a letter typed on a tick or a choice goes to the
#: text box.
FRAME = "mensura-frame"
LETTERS_TO_BOX = "mensura-letters-to-box"

#: What the module on the page is made of, in this order; `frame.js` says how a part is written.
SCRIPTS = ("frame.js", "keys.js", "names.js")


@lru_cache(maxsize=1)
def module_text() -> str:
    """The JavaScript module of a frame: its files, one behind the other.

    >>> module_text().count("export default")
    1
    """
    here = files("mensura.views.kit")
    return "\n".join(here.joinpath(name).read_text("utf-8") for name in SCRIPTS)


@lru_cache(maxsize=1)
def frame_class() -> Any:
    """The frame's widget class; made when the first is needed, since its library is heavy."""
    from anywidget import AnyWidget

    class Frame(AnyWidget):
        """What a frame is on the page."""

        _esm = module_text()
        _css = SHEET

    return Frame


def framed(box: Any, kind: str, letters_to_box: bool = False) -> Any:
    """A box of widgets in its frame; the same box.

    box: the outermost one; kind: its class, as the style sheet calls it; letters_to_box: whether a
    letter typed on a tick or a choice goes to the text box.
    """
    for name in (FRAME, kind, *([LETTERS_TO_BOX] if letters_to_box else [])):
        box.add_class(name)
    box.children = (frame_class()(), *box.children)
    return box
