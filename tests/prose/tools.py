"""The names in which the figures of the prose are worked out: mathematics and the package's own.

What a row needs besides is written here as a function, with the reason of its name.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

import mensura
from mensura.estimates import areas

NAMES: dict[str, Any] = {
    **{name: getattr(mensura, name) for name in dir(mensura) if not name.startswith("_")},
    **{name: one for name, one in vars(areas).items() if not name.startswith("_")},
    **{name: one for name, one in vars(math).items() if not name.startswith("_")},
    "abs": abs,
    "len": len,
    "math": math,
    "max": max,
    "mean": lambda values: sum(values) / len(values),
    "min": min,
    "np": np,
    "round": round,
    "sum": sum,
}


def name(tool: Any) -> Any:
    """Lets rows use a function by its name."""
    NAMES[tool.__name__] = tool
    return tool


@name
def panel(which: str) -> Any:
    """A chapter's panel, for its presets and controls. which: "laying", as its module is called."""
    from importlib import import_module

    home = import_module(f"mensura.views.chapters.{which}")
    return next(one for called, one in vars(home).items() if called.endswith("_PANEL"))
