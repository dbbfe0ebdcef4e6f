"""Where a live picture stands on a page: a widget that sends shapes, and a canvas that paints them.

A change goes out as one message: the shapes that changed, the picture's words, the sentence and
the table beside it, and the part of it that the moved control changes most. The whole of the
picture is the widget's state, put together only when it is asked for: as long as nobody sees the
picture, and for whoever opens a view later (another tab, a reload). What paints is `shapes.js` and
`pictures.js`, which come with the frame.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from mensura.views.kit.frame import waiting_text
from mensura.views.kit.letters import letters
from mensura.views.kit.live import Live
from mensura.views.kit.record import slim

NO_TEXTS: Mapping[Any, str] = MappingProxyType({})


@lru_cache(maxsize=1)
def canvas_class() -> Any:
    """The canvas's widget class; made when the first is needed, since its library is heavy."""
    from anywidget import AnyWidget
    from traitlets import Bytes, Dict, Unicode

    class Canvas(AnyWidget):
        """A live picture on the page.

        about: size, words and parts of the present picture; shapes: all of it, packed. Both are
        made when they are asked for, and not sent on a change once somebody sees the picture.
        pointed: is told where on the picture somebody presses or drags, in its pixels from the
        upper left, whether a press begins there, and whether it ends; None for a picture that
        does not answer. A drag comes in a burst: what it moves on the page besides the picture is
        to follow at its end, or a slider's own answer to the last place but one undoes the last.
        """

        _esm = Unicode(waiting_text("mensuraPaint")).tag(sync=True)
        about = Dict().tag(sync=True, to_json=lambda _, one: one.told())
        shapes = Bytes().tag(sync=True, to_json=lambda _, one: one.whole())

        def __init__(self) -> None:
            self.live: Live[Any] | None = None
            self.alt, self._seen = "", False
            self.pointed: Callable[[float, float, bool, bool], None] | None = None
            self._texts: Mapping[Any, str] = NO_TEXTS
            super().__init__()
            self.on_msg(lambda _, told, __: self.hear(told))

        def hear(self, told: object) -> None:
            """A view has come: what it missed meanwhile is sent once more; or its letters are.

            told: its message, `{kind: "here"}` or `{kind: "letters"}`, or where somebody points,
            `{kind: "pointed", x, y, first, last}`; what is none is passed over.
            """
            kind = told.get("kind") if isinstance(told, Mapping) else None
            if kind == "pointed" and isinstance(told, Mapping):
                self._point(told)
            if kind == "letters":
                self.send({"kind": "letters"}, list(letters()))
            if kind == "here" and self.live is not None:
                self._seen = True
                self._all()

        def _point(self, told: Mapping[str, Any]) -> None:
            x, y = told.get("x"), told.get("y")
            if self.live is None or self.pointed is None:
                return
            if isinstance(x, int | float) and isinstance(y, int | float):
                wide, high = self.live.size_px
                if 0 <= x <= wide and 0 <= y <= high:
                    self.pointed(
                        float(x), float(y), told.get("first") is True, told.get("last") is True
                    )

        def show(
            self, live: Live[Any], numbers: Any, by: str = "", texts: Mapping[Any, str] = NO_TEXTS
        ) -> None:
            """Show a picture of numbers, and what is written beside it.

            live: the picture; if it is another one than before, all of it is sent; numbers: what
            it shows; by: control that was just moved, if it was one; texts: widgets of
            :func:`written_class` with what they are to say.
            """
            anew = live is not self.live
            self.live, self._texts = live, texts
            shapes, part = live.changes(numbers, by)
            self.alt = live.picture.describe(numbers)
            if not self._seen:
                self.send_state(("about", "shapes"))
            elif anew:
                self._all()
            else:
                told = {"kind": "moved", "alt": self.alt, "by": by, "part": part}
                new = {one.place: text for one, text in texts.items() if one.value != text}
                self.send(told | {"texts": new}, [slim(shapes)])
            for one, text in texts.items():
                # what goes along with the picture is not sent once more
                one.quiet = self._seen and not anew
                one.value = text

        def _all(self) -> None:
            """Send all of the present picture, and what is written beside it."""
            # a page that shows what is written anew has it as it was when the page opened
            texts = {one.place: text for one, text in self._texts.items()}
            self.send({"kind": "anew", **self.told(), "texts": texts}, [self.whole()])

        def told(self) -> dict[str, Any]:
            """Size, words and parts of the present picture."""
            if self.live is None:
                return {}
            told = {"size": list(self.live.size_px), "parts": self.live.parts, "alt": self.alt}
            return told if self.pointed is None else told | {"pointed": True}

        def whole(self) -> bytes:
            """All shapes of the present picture, packed."""
            return b"" if self.live is None else self.live.whole()

    return Canvas


@lru_cache(maxsize=1)
def written_class() -> Any:
    """The class of what is written beside a picture; made when the first is needed."""
    from ipywidgets import HTML

    class Written(HTML):
        """HTML that comes to the page in its picture's message.

        place: class of its box, by which the page finds it in the frame; quiet: whether what it is
        to say has gone out already. Whoever asks for its state gets it as it is.
        """

        def __init__(self, place: str) -> None:
            self.place, self.quiet = place, False
            super().__init__()
            self.add_class(place)

        def _should_send_property(self, key: str, value: Any) -> bool:
            quiet = self.quiet and key == "value"
            return not quiet and bool(super()._should_send_property(key, value))

    return Written
