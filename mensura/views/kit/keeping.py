"""What is kept of a page while one works on it: whatever is seen to change lies on the disk soon.

Each frame has a keeper, which says what there is to keep and puts it back. Widgets are watched,
nothing is asked of those that use them: what changes is seen to change. It is written about once a
second, and when the kernel ends. Only a kernel that works for a notebook keeps anything: not one
that a test or a script runs.
"""

from __future__ import annotations

import asyncio
import atexit
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from typing import Any, Protocol

from mensura.disk.kept_pages import KeptError, KeptPages, session_page
from mensura.views.kit.seat import Seat, seat

#: How long after a change it is written, with all that changed meanwhile.
LATER_S = 1.0

#: How long after another page had the file.
AGAIN_S = 5.0

#: What is typed and not sent, at most: boxes of a frame, letters of a box.
MOST_DRAFTS, LONGEST_DRAFT = 40, 4000


class Keeper(Protocol):
    """Whoever has something to keep.

    One that sees to it itself when another student sits down says so: `follows_the_seat`.
    """

    def kept(self) -> dict[str, Any]:
        """What there is to keep now, as JSON has it; the start, if nothing was done."""
        ...

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Puts back what was kept; may raise for what no longer fits.

        kept: as :meth:`kept` gave it once, or what became of it on the disk.
        """
        ...


class Keeping:
    """All that is kept of one page, in one kernel.

    pages: the file, None if nothing is kept; page: file name of the notebook; sits: whose page.
    """

    def __init__(self, pages: KeptPages | None, page: str, sits: Seat) -> None:
        self.pages, self.page, self.seat = pages, page, sits
        self.student = sits.code or ""
        self._frames: dict[str, _Kept] = {}
        self._first: Any = None
        self._timer: Any = None
        self._putting = False
        sits.watch(self._seated)

    # ---- frames ------------------------------------------------------------------------------

    def greet(self, frame: Any) -> None:
        """A frame comes to the page: it is told whose page it is, now and when that changes.

        frame: its widget. The first of a page says what all are to hear.
        """
        if self._first is None:
            self._first = frame

        def tell() -> None:
            frame.student, frame.student_note = self.seat.code or "", self.seat.note

        tell()
        self.seat.watch(tell)

    def join(self, name: str, frame: Any, box: Any, keeper: Keeper) -> None:
        """What was kept of a frame is put back, and from now on its changes are kept.

        name: of the frame, one on its page; frame: its widget; box: its box; keeper: its keeper. A
        frame that comes again, since its cell was run again, takes the place of the one before.
        """
        if self.pages is None:
            return
        self.flush()
        one = _Kept(keeper, frame)
        self._frames[name] = one
        self._put_back({name: one})
        for widget in _all_in(box):
            if widget.has_trait("value"):
                widget.observe(lambda _: self.touch(), "value")
        frame.observe(lambda _: self.touch(), "drafts")

    def touch(self) -> None:
        """Something changed: it is written soon; at once where no loop runs."""
        if self._timer is not None or self._putting or self.pages is None:
            return
        try:
            self._later(LATER_S)
        except RuntimeError:
            self.flush()

    def _later(self, seconds: float) -> None:
        self._timer = asyncio.get_running_loop().call_later(seconds, self.flush)

    def flush(self) -> None:
        """Write what changed since it was last written."""
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None
        if self.pages is None:
            return
        changed = {name: now for name, one in self._frames.items() if (now := one.changed())}
        if not changed:
            return
        try:
            self.pages.put(self.student, self.page, changed)
        except KeptError as error:
            self._tell(str(error))
            if error.passes:
                with suppress(RuntimeError):
                    self._later(AGAIN_S)
            return
        for name, now in changed.items():
            self._frames[name].last = now
        self._tell("")

    def forget(self) -> None:
        """Nothing is kept of this page any more, and nothing of it is kept by this kernel."""
        if self.pages is None:
            return
        try:
            self.pages.forget(self.student, self.page)
        except KeptError as error:
            self._tell(str(error))
            return
        if self._timer is not None:
            self._timer.cancel()
        self.pages = self._timer = None

    # ---- whose page ----------------------------------------------------------------------------

    def _seated(self) -> None:
        """Another student works here now: her page is put back, or the page is as at its start.

        What was done while no code was known goes with the first code that is given.
        """
        code, before = self.seat.code or "", self.student
        if code == before:
            return
        self.flush()
        self.student = code
        if self.pages is None:
            return
        if not before and not self._quietly(lambda pages: pages.read(code, self.page)):
            for one in self._frames.values():
                one.last = {"state": one.start, "drafts": {}}
            self.flush()
            self._quietly(lambda pages: pages.forget("", self.page))
            return
        # what follows the seat by itself begins anew first, and asks for hers then
        own = {name: one for name, one in self._frames.items() if not one.follows_the_seat}
        self._put_back(own, afresh=True)

    def begin_anew(self, keeper: Keeper, begin: Callable[[], None]) -> None:
        """A frame that follows the seat by itself begins anew, and what was kept of it is put back.

        keeper: the frame's; begin: what it does first, of which nothing is written over what is
        kept.
        """
        own = {name: one for name, one in self._frames.items() if one.keeper is keeper}
        self._put_back(own, afresh=True, begin=begin)

    # ---- putting back ------------------------------------------------------------------------

    def _put_back(
        self,
        frames: Mapping[str, _Kept],
        afresh: bool = False,
        begin: Callable[[], None] = lambda: None,
    ) -> None:
        known = self._quietly(lambda pages: pages.read(self.student, self.page)) or {}
        self._putting = True
        try:
            begin()
            for name, one in frames.items():
                one.put_back(known.get(name), afresh)
        finally:
            self._putting = False
        if self.pages is not None and self.pages.note:
            self._tell("")

    def _quietly(self, deed: Callable[[KeptPages], Any]) -> Any:
        if self.pages is None:
            return None
        try:
            return deed(self.pages)
        except KeptError as error:
            self._tell(str(error))
            return None

    def _tell(self, sentence: str) -> None:
        """Said once on the page, in its first frame; it goes once all is kept again."""
        aside = self.pages.note if self.pages else ""
        if self._first is not None:
            self._first.note = f"{aside} {sentence}".strip()


class _Kept:
    """A frame with what was last known to be kept of it.

    keeper, frame: as in :meth:`Keeping.join`. `start` is what there is to keep before anything was
    done.
    """

    def __init__(self, keeper: Keeper, frame: Any) -> None:
        self.keeper, self.frame = keeper, frame
        self.follows_the_seat = getattr(keeper, "follows_the_seat", False)
        self.start = keeper.kept()
        self.last: dict[str, Any] | None = self._now()

    def _now(self) -> dict[str, Any]:
        return {"state": self.keeper.kept(), "drafts": dict(self.frame.drafts)}

    def changed(self) -> dict[str, Any] | None:
        """What there is to keep, if it is not what was last kept."""
        now = self._now()
        return now if now != self.last else None

    def put_back(self, entry: Mapping[str, Any] | None, afresh: bool) -> None:
        """Put back what was kept, as far as it fits.

        entry: from the disk, None if nothing is; afresh: whether something was done since the
        start.
        """
        state = entry.get("state") if entry else None
        if afresh:
            self._restore(self.start)
        if isinstance(state, dict):
            self._restore(state)
        self.frame.drafts = checked_drafts(entry.get("drafts") if entry else None)
        if afresh:
            self.frame.send({"kind": "placed"})
        # what did not fit is written away with the next change, not before
        self.last = self._now()

    def _restore(self, state: Mapping[str, Any]) -> None:
        try:
            self.keeper.restore(state)
        except Exception:  # whatever stood in the file: the page is as good without it
            return


def checked_drafts(told: object) -> dict[str, str]:
    """What is typed and not sent, by box; whatever is none is dropped.

    told: by the page, or by the disk.

    >>> checked_drafts({"Answer": "12,5", "Your line": 3}), checked_drafts([1])
    ({'Answer': '12,5'}, {})
    """
    if not isinstance(told, Mapping):
        return {}
    fitting = [
        (name, text)
        for name, text in told.items()
        if isinstance(name, str) and isinstance(text, str) and len(text) <= LONGEST_DRAFT
    ]
    return {name[:200]: text for name, text in fitting[:MOST_DRAFTS]}


def _all_in(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", ()):
        yield from _all_in(child)


def in_a_kernel() -> bool:
    """Whether a notebook's kernel runs this."""
    try:
        from IPython import get_ipython
    except ImportError:
        return False
    return hasattr(get_ipython(), "kernel")


_PAGES: dict[str, Keeping] = {}


def keeping() -> Keeping:
    """What is kept of this kernel's page; the same at every call."""
    page = session_page() if in_a_kernel() else ""
    if page not in _PAGES:
        _PAGES[page] = Keeping(KeptPages() if page else None, page, seat() if page else Seat())
        atexit.register(_PAGES[page].flush)
    return _PAGES[page]
