"""The Enter key and its letters: a deed is done soon, once, and only for that key."""

from __future__ import annotations

import asyncio

import ipywidgets as w

from mensura.views.kit.heard import SOON_S, on_enter, soon


def test_the_enter_key_is_heard_and_nothing_else() -> None:
    """A box says "submit" for the Enter key; any other message does nothing."""
    done: list[str] = []

    async def typing() -> None:
        box = w.Text()
        on_enter(box, lambda: done.append(box.value))
        for event in ({"event": "submit"}, {"event": "focus"}, {}):
            box._handle_custom_msg(event, [])
        # the last letters come after the key
        assert done == []
        box.value = "all of it"
        await asyncio.sleep(2 * SOON_S)

    asyncio.run(typing())
    assert done == ["all of it"]


def test_without_a_loop_it_is_done_at_once() -> None:
    """A test or a script has no loop to wait in."""
    done: list[int] = []
    soon(lambda: done.append(1))
    assert done == [1]
