"""What is typed into a box and sent by the Enter key, or by a button beside it.

The key may overtake the box's last letters on their way to the kernel: so what it asks for is done
a moment later.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

#: Long enough for the last letters to come, too short to be felt.
SOON_S = 0.08


def soon(deed: Callable[[], None]) -> None:
    """Do something once the box's last letters have come; at once where no loop runs.

    deed: what is done.

    >>> soon(lambda: print("done"))
    done
    """
    try:
        loop = asyncio.get_running_loop()
    except RuntimeError:
        deed()
        return
    loop.call_later(SOON_S, deed)


def on_enter(box: Any, deed: Callable[[], None]) -> None:
    """Do something, soon, whenever the Enter key is pressed in a text box.

    box: of ipywidgets; deed: what is done.
    """

    def heard(_: Any, content: dict[str, Any], __: Any) -> None:
        if content.get("event") == "submit":
            soon(deed)

    box.on_msg(heard)
