"""What the views say alike: tables and words as HTML."""

from __future__ import annotations

import html
from collections.abc import Sequence


def table_html(names: Sequence[str], body: str, also: str = "") -> str:
    """A panel's table: its column heads and the rows that are given.

    names: of the columns; body: the rows as HTML; also: a further class, a blank before it.

    >>> "<th scope='col'>Girth, cm</th>" in table_html(["Girth, cm"], "")
    True
    """
    head = "".join(f"<th scope='col'>{html.escape(name)}</th>" for name in names)
    return (
        f"<table class='mensura-table{also}'><thead><tr>{head}</tr></thead>"
        f"<tbody>{body}</tbody></table>"
    )
