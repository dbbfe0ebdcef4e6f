"""What is typed or chosen, and sent by the Enter key or by a button beside it.

The press may overtake the choice on its way to the kernel: a page that still waits for an answer
holds back what is changed meanwhile, and sends a press at once. So what a press asks for is done
when its frame on the page has said that all before it is under way: its answer comes behind that.
"""

from __future__ import annotations

import asyncio
import itertools
import weakref
from collections.abc import Callable, Iterator
from typing import Any

#: Where no page can be asked: long enough for the last letters to come, too short to be felt.
SOON_S = 0.08
#: The longest wait for a page that does not answer.
LATEST_S = 3.0

#: Frame → the box that it stands in; neither is kept alive by it.
_BOXES: weakref.WeakKeyDictionary[Any, weakref.ref[Any]] = weakref.WeakKeyDictionary()
_TURNS = itertools.count(1)


def stands_in(frame: Any, box: Any) -> None:
    """Remember which box a frame stands in, so that whoever is pressed there can ask it.

    frame: its widget; box: the outermost one.
    """
    _BOXES[frame] = weakref.ref(box)


def soon(deed: Callable[[], None], pressed: Any = None) -> None:
    """Do something once all that was typed and chosen before has come; at once where no loop runs.

    deed: what is done, once; pressed: the widget that asks for it.

    >>> soon(lambda: print("done"))
    done
    """
    try:
        loop = asyncio.get_running_loop()
    except RuntimeError:
        deed()
        return
    frame = _frame_round(pressed)
    if frame is None:
        loop.call_later(SOON_S, deed)
        return
    turn = next(_TURNS)

    def do() -> None:
        frame.on_msg(heard, remove=True)
        late.cancel()
        deed()

    def heard(_: Any, told: Any, __: Any) -> None:
        if told == {"kind": "settled", "turn": turn}:
            do()

    late = loop.call_later(LATEST_S, do)
    frame.on_msg(heard)
    frame.send({"kind": "settle", "turn": turn})


def on_enter(box: Any, deed: Callable[[], None]) -> None:
    """Do something, soon, whenever the Enter key is pressed in a text box.

    box: of ipywidgets; deed: what is done.
    """

    def heard(_: Any, content: dict[str, Any], __: Any) -> None:
        if content.get("event") == "submit":
            soon(deed, box)

    box.on_msg(heard)


def _frame_round(widget: Any) -> Any:
    """The frame of the box in which a widget stands, None if it stands in none that is open."""
    for frame, box in list(_BOXES.items()):
        if frame.comm is not None and any(one is widget for one in _all_in(box())):
            return frame
    return None


def _all_in(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", ()):
        yield from _all_in(child)
