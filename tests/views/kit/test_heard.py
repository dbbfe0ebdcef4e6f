"""The Enter key and its letters: a deed is done soon, once, and only for that key."""

from __future__ import annotations

import asyncio

import ipywidgets as w

from mensura.views.kit import heard
from mensura.views.kit.frame import framed
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


def asked_of(frame, told: list[dict]) -> None:
    """Notes what a frame asks its page."""
    frame.send = lambda content, buffers=None: told.append(content)


def test_a_press_waits_for_what_was_changed_before_it() -> None:
    """What the page sent before it answered counts, and the deed is done once."""
    done: list[str] = []
    told: list[dict] = []

    async def pressing() -> None:
        choice, button = w.RadioButtons(options=["a", "b"]), w.Button()
        box = framed(w.VBox([w.HBox([choice, button])]), "mensura-ask")
        frame = box.children[0]
        asked_of(frame, told)
        button.on_click(lambda pressed: soon(lambda: done.append(choice.value), pressed))
        button.click()
        button.click()
        await asyncio.sleep(2 * SOON_S)
        assert done == []
        choice.value = "b"
        for wrong in ({"kind": "settled"}, {"kind": "settled", "turn": 0}, "settled"):
            frame._handle_custom_msg(wrong, [])
        assert done == []
        for _ in range(2):
            frame._handle_custom_msg({"kind": "settled", "turn": told[0]["turn"]}, [])
        assert done == ["b"]
        frame._handle_custom_msg({"kind": "settled", "turn": told[1]["turn"]}, [])

    asyncio.run(pressing())
    assert done == ["b", "b"]
    assert [one["kind"] for one in told] == ["settle", "settle"]


def test_a_page_that_does_not_answer_is_not_waited_for_long(monkeypatch) -> None:
    """A closed page's frame is not asked; an open one that keeps silent is given its time."""
    monkeypatch.setattr(heard, "LATEST_S", 0.15)
    done: list[str] = []
    told: list[dict] = []

    async def pressing() -> None:
        button = w.Button()
        box = framed(w.VBox([button]), "mensura-ask")
        asked_of(box.children[0], told)
        soon(lambda: done.append("late"), button)
        await asyncio.sleep(0.1)
        assert done == []
        await asyncio.sleep(0.2)
        assert done == ["late"]
        box.children[0].close()
        soon(lambda: done.append("closed"), button)
        assert len(told) == 1
        await asyncio.sleep(2 * SOON_S)

    asyncio.run(pressing())
    assert done == ["late", "closed"]
