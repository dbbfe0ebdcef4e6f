"""The frame that everything of ours in a notebook stands in: its keys, its names, its looks.

JupyterLab takes a plain a, b or dd on a tick, a button or a slider for a command that adds or
deletes a cell, arrow keys on a choice for a step to another cell, and Shift Enter in a box for
running the cell, which would drop what stands there. In a frame such keys stay; Ctrl, Alt and Cmd
still go through. The frame is a widget of its own, the first in each box, and what it does on the
page is plain JavaScript beside this file: `frame.js`, and behind it the other SCRIPTS, one part
each. The same widget brings the one style sheet, and carries what page and kernel tell each other:
what is typed and not sent, what is to be forgotten, whose page it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

from mensura.views.kit import collecting, inks
from mensura.views.kit.heard import stands_in
from mensura.views.kit.keeping import Keeper, Keeping, checked_drafts, keeping
from mensura.views.kit.style import SHEET

#: Class of the outermost box, and of one in which a letter typed on a tick or a choice goes to the
#: text box.
FRAME = "mensura-frame"
LETTERS_TO_BOX = "mensura-letters-to-box"

#: What the module on the page is made of, in this order; `frame.js` says how a part is written.
SCRIPTS = (
    "frame.js",
    "keys.js",
    "names.js",
    "drafts.js",
    "state.js",
    "stage.js",
    "inks.js",
    "fonts.js",
    "shapes.js",
    "pointing.js",
    "pictures.js",
)


@lru_cache(maxsize=1)
def module_text() -> str:
    """The JavaScript module of a frame: its files, one behind the other; a lecturer's has one more.

    >>> module_text().count("export default")
    1
    """
    here = files("mensura.views.kit")
    names = [*SCRIPTS, *([collecting.SCRIPT] if collecting.collects() else [])]
    text = "\n".join(here.joinpath(name).read_text("utf-8") for name in names)
    # the painter is a module of its own elsewhere; here it is a part of this one
    text = re.sub(r"^export (?=class|function)", "", text, flags=re.M)
    return text.replace(inks.PLACE, inks.inks_json())


@cache
def waiting_text(what: str) -> str:
    """The module that waits for another one, which the page has from elsewhere.

    what: name under which the page has it.

    >>> "document.mensuraFrame" in waiting_text("mensuraFrame")
    True
    """
    text = files("mensura.views.kit").joinpath("waiting.js").read_text("utf-8")
    return text.replace("document.WHAT", f"document.{what}")


@lru_cache(maxsize=1)
def frame_class() -> Any:
    """The frame's widget class; made when the first is needed, since its library is heavy."""
    from anywidget import AnyWidget
    from traitlets import Dict, Unicode

    class Frame(AnyWidget):
        """What a frame is on the page.

        note: one sentence of the frame's own, or ""; drafts: what is typed and not sent, by box;
        student, student_note: whose page it is, "" if nobody's, and what is to be said of that.
        Module and sheet are sent once: a page of twenty frames would have them twenty times.
        """

        sent = False

        _esm = Unicode(module_text()).tag(sync=True)
        _css = Unicode(SHEET).tag(sync=True)
        note = Unicode("").tag(sync=True)
        drafts = Dict().tag(sync=True)
        student = Unicode("").tag(sync=True)
        student_note = Unicode("").tag(sync=True)

        def __init__(self) -> None:
            short = {"_esm": waiting_text("mensuraFrame"), "_css": ""} if Frame.sent else {}
            Frame.sent = True
            super().__init__(**short)

    return Frame


def framed(
    box: Any,
    kind: str,
    letters_to_box: bool = False,
    *,
    name: str = "",
    keeper: Keeper | None = None,
    kept_by: Keeping | None = None,
) -> Any:
    """A box of widgets in its frame; the same box.

    box: the outermost one; kind: its class, as the style sheet calls it; letters_to_box: whether a
    letter typed on a tick or a choice goes to the text box; name: of the frame, one on its page;
    keeper: says what is to be kept of it, and puts it back, which happens here and now; kept_by:
    where it is kept, with the kernel's own page unless another is named.
    """
    for one in (FRAME, kind, *([LETTERS_TO_BOX] if letters_to_box else [])):
        box.add_class(one)
    frame = frame_class()()
    box.children = (frame, *box.children)
    stands_in(frame, box)
    page = kept_by or keeping()
    page.greet(frame)
    frame.on_msg(lambda _, told, __: hear(page, frame, told))
    if collecting.collects():
        frame.on_msg(lambda _, told, __: collect(page, frame, told, keeper))
    if name and keeper is not None:
        page.join(name, frame, box, keeper)
    return box


def hear(page: Keeping, frame: Any, told: object) -> None:
    """Do what a frame's page asks for; what is none of its requests is passed over.

    page: what is kept; frame: its widget; told: the message. `{kind: "drafts", drafts}`: what is
    typed and not sent; `{kind: "forget"}`: nothing is kept of the page any more, answered by the
    same; `{kind: "code", code}`: another student, "" for none; `{kind: "look"}`: another page may
    have been told another.
    """
    if not isinstance(told, Mapping):
        return
    match told.get("kind"):
        case "drafts":
            frame.drafts = checked_drafts(told.get("drafts"))
        case "forget":
            page.forget()
            frame.send({"kind": "forgotten"})
        case "code" if isinstance(code := told.get("code"), str):
            page.seat.take(code) if code.strip() else page.seat.leave()
        case "look":
            page.seat.look()


def collect(page: Keeping, frame: Any, told: object, keeper: Keeper | None) -> None:
    """Answer what a lecturer's page says of the lesson; what is none of that is passed over.

    page: what is kept, which knows its name; frame: its widget; told: the message; keeper: who has
    something to keep in this frame.
    """
    answer = collecting.hear(told, page.page, keeper)
    if answer is not None:
        frame.send(answer)
