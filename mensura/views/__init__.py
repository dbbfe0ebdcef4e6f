"""Where people look: figures, live panels, questions, and the workbooks on the user's disk.

The names below load when they are first used: `mensura open` needs no drawing library.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

_HOME_OF = {
    "Ask": "chapters.asking",
    "Live": "kit.live",
    "Panel": "kit.panel",
    "Picture": "kit.live",
    "Still": "kit.live",
    "ask": "chapters.asking",
    "draw_still": "kit.live",
    "table": "kit.table",
}

__all__ = sorted(_HOME_OF)

if TYPE_CHECKING:
    from mensura.views.chapters.asking import Ask as Ask
    from mensura.views.chapters.asking import ask as ask
    from mensura.views.kit.live import Live as Live
    from mensura.views.kit.live import Picture as Picture
    from mensura.views.kit.live import Still as Still
    from mensura.views.kit.live import draw_still as draw_still
    from mensura.views.kit.panel import Panel as Panel
    from mensura.views.kit.table import table as table


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'mensura.views' has no attribute {name!r}")
    value = getattr(import_module(f"mensura.views.{_HOME_OF[name]}"), name)
    globals()[name] = value
    return value
