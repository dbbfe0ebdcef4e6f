"""In front of a class: what a lesson's screens are, and the check that a plan's steps can be shown.

The names below load when they are first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

_HOME_OF = {
    "on_screen": "showing",
    "own_cell": "own",
}

__all__ = sorted(_HOME_OF)

if TYPE_CHECKING:
    from mensura.views.lessons.own import own_cell as own_cell
    from mensura.views.lessons.showing import on_screen as on_screen


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'mensura.views.lessons' has no attribute {name!r}")
    value = getattr(import_module(f"mensura.views.lessons.{_HOME_OF[name]}"), name)
    globals()[name] = value
    return value
