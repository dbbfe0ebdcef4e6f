"""One module a panel or a kind of question; none of them knows another.

A chapter's panel is the one :class:`~mensura.views.kit.panel.Panel` that its module holds.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping

    from mensura.views.kit.panel import Panel


@lru_cache(maxsize=1)
def panels() -> Mapping[str, Panel[Any]]:
    """Every panel of the chapters by the name of its module, found where it lies.

    >>> sorted(panels())[:3]
    ['all_faults', 'bark', 'budget']
    """
    from mensura.views.kit.panel import Panel

    found = {}
    for info in iter_modules(__path__):
        things = vars(import_module(f"{__name__}.{info.name}")).values()
        for one in things:
            if isinstance(one, Panel):
                if info.name in found:
                    raise TypeError(f"two panels in {info.name}; each has a module of its own")
                found[info.name] = one
    return MappingProxyType(found)
