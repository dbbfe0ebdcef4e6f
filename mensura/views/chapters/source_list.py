"""Lists that a page shows as text: the sources it cites."""

from __future__ import annotations

import html
from typing import Any

from mensura.sources import cite


class SourceList:
    """Full references of the keys that a page cites, as a list.

    keys: of :data:`mensura.sources.SOURCES`, one by one or several parted by blanks. Raises
    KeyError for an unknown one.

    >>> str(SourceList("Berger2010"))[:42]
    '[Berger2010] M. Berger, 2010: Geometry Rev'
    """

    def __init__(self, *keys: str) -> None:
        self.rows = [(key, cite(key)) for several in keys for key in several.split()]

    def __repr__(self) -> str:
        return "\n".join(f"[{key}] {text}" for key, text in self.rows)

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        items = "".join(
            f"<li>[{html.escape(key)}] {html.escape(text)}</li>" for key, text in self.rows
        )
        return {"text/plain": repr(self), "text/html": f"<ul>{items}</ul>"}
